"""The command line from the outside: exit codes, streams, and what each command prints."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

JOB = """title = "Ferry steps"
[frame.ash]
takes = "40x50 cm"
rail = "20 mm"
[[piece]]
name = "Slipway"
frame = "ash"
aspect = "3:2"
image = { width = "26 cm" }
[[piece]]
name = "Gull"
frame = "ash"
aspect = "2:3"
border = "60 mm"
"""


def run(*arguments: str | Path, cwd: Path | None = None, **environment: str) -> subprocess.CompletedProcess[str]:
    """matplan in a process of its own."""
    command = [sys.executable, "-m", "matplan", *map(str, arguments)]
    return subprocess.run(
        command, capture_output=True, text=True, encoding="utf-8", cwd=cwd, env=os.environ | environment, check=False
    )


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "job.toml"
    path.write_text(JOB, encoding="utf-8")
    return path


def test_version() -> None:
    assert run("--version").stdout.startswith("matplan ")


def test_check_prints_sizes_and_writes_nothing(job: Path) -> None:
    made = run("check", job)
    assert made.returncode == 0
    assert "opening  254 × 167 mm" in made.stdout
    assert made.stderr == ""
    assert [path.name for path in job.parent.iterdir()] == ["job.toml"]


def test_check_tells_where_a_size_looks_like_another_units(job: Path) -> None:
    job.write_text(JOB.replace('"26 cm"', "26"), encoding="utf-8")
    assert (
        "  warning  piece[1].image.width: 26 is far from usual here; is 26 cm or 26 in meant?"
        in run("check", job).stdout
    )


def test_check_json_is_the_plan_and_nothing_else(job: Path) -> None:
    made = run("check", job, "--json")
    plan = json.loads(made.stdout)
    assert plan["schema"] == "matplan-plan/1"
    assert plan["pieces"][0]["blank"] == [400, 500]
    assert plan["pieces"][0]["apertures"][0]["opening"] == [73, 166, 254, 167]


def test_a_refused_job_prints_every_fault_on_stderr_and_nothing_on_stdout(tmp_path: Path) -> None:
    job = tmp_path / "broken.toml"
    job.write_text(JOB.replace('"40x50 cm"', '"40x50 miles"').replace('"2:3"', '"two to three"'), encoding="utf-8")
    made = run("check", job, "--json")
    assert made.returncode == 1
    assert made.stdout == ""
    lines = made.stderr.splitlines()
    assert len(lines) == 2
    assert lines[0].startswith(f"{job}:3: frame.ash.takes: ")
    assert lines[1].startswith(f"{job}:13: piece[2].aspect: ")


def test_what_only_solving_finds_has_its_line_and_place(tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_text(JOB.replace('width = "26 cm"', 'width = "45 cm"').replace('"60 mm"', '"300 mm"'), encoding="utf-8")
    made = run("check", job)
    assert made.returncode == 1
    first, second = made.stderr.splitlines()
    assert first.startswith(f"{job}:7: piece[1].frame: Slipway: the opening reaches under the lip")
    assert second.startswith(f"{job}:14: piece[2].border: Gull: ")


def test_explain_prints_the_sums(job: Path) -> None:
    made = run("explain", job, "Slipway")
    assert "  opening width 254 mm = image 260 − 2 × overlap 3\n" in made.stdout
    assert "Gull" not in made.stdout
    document = json.loads(run("explain", job, "--json").stdout)
    assert [piece["name"] for piece in document["pieces"]] == ["Slipway", "Gull"]
    blank = {"what": "blank width", "value": 400, "text": "blank width 400 mm = the frame takes 400"}
    taken = {"name": "the frame takes", "value": 400, "kind": "length"}
    assert blank | {"tree": {"operation": "down", "terms": [taken], "step": 1}} in document["pieces"][0]["sums"]


def test_explain_of_a_piece_that_is_not_there_names_the_near_ones(job: Path) -> None:
    made = run("explain", job, "Slipwya")
    assert made.returncode == 1
    assert "Slipway" in made.stderr


def test_make_writes_the_pack(job: Path, tmp_path: Path) -> None:
    made = run("make", job, "--out", tmp_path / "pack")
    assert made.returncode == 0
    assert {path.relative_to(tmp_path / "pack").as_posix() for path in (tmp_path / "pack").rglob("*.*")} >= {
        "plan.json",
        "workshop.pdf",
        "order.csv",
        "order.pdf",
        "cut/slipway-layer1.svg",
        "cut/gull-layer1.svg",
        "front/slipway.svg",
        "front/gull.svg",
    }
    assert json.loads((tmp_path / "pack/plan.json").read_text(encoding="utf-8")) == json.loads(
        run("check", job, "--json").stdout
    )


def test_make_writes_nothing_for_a_job_with_an_error(job: Path, tmp_path: Path) -> None:
    job.write_text(JOB.replace("3:2", "3"), encoding="utf-8")
    made = run("make", job, "--out", tmp_path / "pack")
    assert made.returncode == 1
    assert not (tmp_path / "pack").exists()


def test_make_only_what_is_named(job: Path, tmp_path: Path) -> None:
    assert run("make", job, "--out", tmp_path / "pack", "--only", "cut,Gull").returncode == 0
    names = sorted(p.name for p in (tmp_path / "pack").rglob("*.*"))
    assert names == ["gull-layer1.svg", "pack.json", "plan.json"]
    refused = run("make", job, "--out", tmp_path / "other", "--only", "cuts")
    assert refused.returncode == 2
    assert "the documents are plan, order" in refused.stderr.replace("\n", " ")
    assert not (tmp_path / "other").exists()


def test_make_refuses_a_folder_that_holds_something_else(job: Path, tmp_path: Path) -> None:
    (tmp_path / "pack").mkdir()
    (tmp_path / "pack/letter.txt").write_text("mine")
    made = run("make", job, "--out", tmp_path / "pack", "--force")
    assert made.returncode == 1
    assert "holds no pack" in made.stderr


def test_the_same_job_gives_the_same_bytes_in_other_surroundings(job: Path, tmp_path: Path) -> None:
    packs = []
    for number, (seed, zone) in enumerate((("1", "UTC"), ("77", "Pacific/Kiritimati"))):
        folder = tmp_path / f"pack{number}"
        assert run("make", job, "--out", folder, PYTHONHASHSEED=seed, TZ=zone).returncode == 0
        packs.append(
            {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
        )
    assert packs[0].keys() == packs[1].keys()
    assert [name for name in packs[0] if packs[0][name] != packs[1][name]] == []


@pytest.mark.parametrize("kind", ["papers", "frames", "ready-cut", "boards", "glazing", "backing"])
def test_sizes_prints_a_table_with_sources(kind: str) -> None:
    made = run("sizes", kind)
    assert made.returncode == 0
    assert "ource" in made.stdout
    document = json.loads(run("sizes", kind, "--json").stdout)
    assert all(row["source"] and row["status"] for table in document["tables"] for row in table["rows"])


def test_schema_is_json() -> None:
    assert json.loads(run("schema").stdout)["type"] == "object"


def test_new_writes_a_job_that_checks_and_never_overwrites(tmp_path: Path) -> None:
    folder = tmp_path / "start"
    assert run("new", folder).returncode == 0
    (job,) = folder.glob("*.toml")
    before = job.read_bytes()
    assert run("check", job).returncode == 0
    again = run("new", folder)
    assert again.returncode == 1
    assert again.stderr
    assert job.read_bytes() == before


@pytest.mark.parametrize(
    "arguments",
    [
        ["nonsense"],
        ["check"],
        ["check", "a.toml", "b.toml"],
        ["make", "a.toml"],
        ["sizes", "socks"],
        ["check", "a.toml", "--jsno"],
    ],
)
def test_wrong_usage_exits_2(arguments: list[str]) -> None:
    made = run(*arguments)
    assert made.returncode == 2
    assert made.stderr
    assert "Traceback" not in made.stderr


@pytest.mark.parametrize(
    "arguments",
    [["check", "a", "\x07"], ["\x07"], ["sizes", "\x07"], ["new", "a", "--units", "\x07"]],
    ids=repr,
)
def test_no_control_character_that_was_typed_comes_back(arguments: list[str]) -> None:
    made = run(*arguments)
    assert made.returncode == 2
    assert "\x07" not in made.stderr
    assert "\\x07" in made.stderr


def test_a_job_that_is_not_there_is_one_kind_line(tmp_path: Path) -> None:
    made = run("check", tmp_path / "nowhere.toml")
    assert made.returncode == 1
    assert len(made.stderr.splitlines()) == 1
    assert "nowhere.toml" in made.stderr


def test_a_terminal_without_unicode_gets_the_text_all_the_same(job: Path) -> None:
    made = run("check", job, PYTHONIOENCODING="ascii")
    assert made.returncode == 0
    assert "254 ? 167 mm" in made.stdout
    assert json.loads(run("check", job, "--json", PYTHONIOENCODING="ascii").stdout)["title"] == "Ferry steps"


def test_our_own_fault_is_one_line(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], job: Path
) -> None:
    from matplan import cli
    from matplan.cli import tables

    def broken(_plan: object) -> str:
        raise KeyError("a slip of ours")

    monkeypatch.setattr(tables, "plan_text", broken)
    assert cli.run(["check", str(job)]) == 1
    assert len(capsys.readouterr().err.splitlines()) == 1


INCHES = """units = "in"
[frame.birch]
takes = "16 x 20 in"
rail = "3/4 in"
depth = "5/8 in"
height = "1 in"
density = 600
[[piece]]
name = "Gull"
frame = "birch"
aspect = "4:5"
image = { width = "8 in" }
[[wall]]
name = "Hall"
size = "120 x 96 in"
"""


def test_an_inch_job_is_told_in_inches_and_pounds(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text(INCHES, encoding="utf-8")
    told = run("check", str(path)).stdout
    assert (
        "about 21/64 in in a rabbet 5/8 in deep: glazing about 5/64 in, mat about 1/16 in, backing about 13/64 in"
        in told
    )
    assert "weight   3.84 lb" in told
    assert "64 1/16 up, 3.84 lb; wire 23.3°, 4.9 lbf" in told
    assert not re.search(r"\d (mm|kg|N)\b", told)


def test_check_names_the_cuts_beyond_the_cutters_reach(tmp_path: Path) -> None:
    """Blank 400 × 500, opening 194 × 294: left and right are set to 103, top and bottom to the same."""
    path = tmp_path / "job.toml"
    text = '[frame.birch]\ntakes = "40 x 50 cm"\n[[piece]]\nname = "Gull"\nframe = "birch"\nimage = "200 x 300 mm"\n'
    path.write_text(text + '[cutter]\nlongest_cut = "250 mm"\n', encoding="utf-8")
    assert "bevel cut; beyond the cutter's reach, by hand: 2, 4" in run("check", str(path)).stdout
    path.write_text(text + '[cutter]\nlongest_cut = "600 mm"\n', encoding="utf-8")
    assert "by hand" not in run("check", str(path)).stdout


def test_check_names_the_sides_of_uneven_borders_and_ends_with_the_cost(tmp_path: Path) -> None:
    """Blank 400 × 500; opening 194 × 294 leaves 103 on all sides, 12 wider below 97 and 109; hidden 4.5 on each."""
    path = tmp_path / "job.toml"
    text = (
        'currency = "EUR"\n[frame.birch]\ntakes = "40 x 50 cm"\nprice = 34\n[[piece]]\nname = "Gull"\nframe = "birch"\n'
        'image = "200 x 300 mm"\nquantity = 2\n'
    )
    path.write_text(text, encoding="utf-8")
    even = run("check", str(path)).stdout
    assert "98.5 mm seen; 103 mm cut\n" in even
    assert even.endswith("1 piece, 2 frames, 0 warnings\ncosts 68.00 EUR, without what has no price\n")
    path.write_text(text + 'weight = "12 mm"\n', encoding="utf-8")
    uneven = run("check", str(path)).stdout
    assert "92.5 / 98.5 / 104.5 / 98.5 seen; 97 / 103 / 109 / 103 cut (top / right / bottom / left)" in uneven


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ('mat_supply = "own"\n', "mat      there already"),
        ('mat_supply = "to size"\n', "mat      ordered to size"),
        (
            'mat = ["chalk"]\n[board.chalk]\nply = 4\nsheets = [{ size = "90x120 cm" }]\n',
            "mat      cut here from sheets",
        ),
    ],
)
def test_check_says_where_a_mat_comes_from(tmp_path: Path, more: str, words: str) -> None:
    path = tmp_path / "job.toml"
    text = '[[piece]]\nname = "Gull"\nframe = "40x50 cm"\nopening = "190 x 290 mm"\n'
    path.write_text(text + more, encoding="utf-8")
    assert words in run("check", str(path)).stdout


def test_check_tells_a_floated_works_mount_and_what_lies_in_the_rabbet(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    text = (
        '[frame.deep]\ntakes = "40x50 cm"\ndepth = "20 mm"\n[[piece]]\nname = "Gull"\nframe = "deep"\nmat = []\n'
        'show = "sheet"\nmount = "white"\nlift = "3 mm"\nspacer = "8 mm"\nimage = "200 x 300 mm"\n'
    )
    path.write_text(text, encoding="utf-8")
    told = run("check", str(path)).stdout
    assert "mount    white, the work 3 mm in front of it" in told
    assert "95.5 mm seen; 100 mm to the edge" in told  # 400 − 200 and 500 − 300, halved; 4.5 hidden
    assert "16.4 mm in a rabbet 20 mm deep: glazing 2 mm, spacer 8 mm, mount 1.4 mm, backing 5 mm" in told
    written = json.loads(run("check", str(path), "--json").stdout)["pieces"][0]
    assert (written["mount"], written["lift"], written["spacer"]) == ("white", 3, 8)


def test_a_stock_sheet_may_be_named_from_the_tables(tmp_path: Path) -> None:
    (tmp_path / "list.csv").write_text("name,width,height,quantity\na,100,100,2\n")
    cut = run("sheets", tmp_path / "list.csv", "--sheet", "A4", "--json")
    assert cut.returncode == 0, cut.stderr
    assert json.loads(cut.stdout)["sheets"][0]["size"] == [210, 297]


@pytest.mark.parametrize("size", ["", " ", "\u200b", "\x1b[2J", "@1", "32x40 in@"])
def test_a_stock_sheet_that_is_no_size_is_wrong_usage(size: str, tmp_path: Path) -> None:
    (tmp_path / "list.csv").write_text("name,width,height,quantity\na,100,200,2\n")
    result = run("sheets", str(tmp_path / "list.csv"), "--sheet", size)
    assert result.returncode == 2
    assert "--sheet" in result.stderr
    assert "\x1b" not in result.stderr


def test_thousands_of_parts_on_one_sheet_are_told_in_one_line(tmp_path: Path) -> None:
    (tmp_path / "list.csv").write_text("name,width,height,quantity\na,1/3 in,204 mm,99999\n")
    options = ("--sheet", "100 x 100 in", "--limit", "1", "--seconds", "0.1", "--json")
    made = run("sheets", tmp_path / "list.csv", *options)
    assert made.returncode == 1
    assert made.stderr.startswith("one sheet would hold thousands of parts")
    assert made.stderr.count("\n") == 1


def test_an_answer_is_not_lost_for_a_drawing(tmp_path: Path) -> None:
    (tmp_path / "list.csv").write_text("name,width,height,quantity\na,145,68,650\n")
    more = ("--sheet", "100 x 100 in", "--seconds", "0.1", "--json", "--svg", tmp_path / "drawn")
    made = run("sheets", tmp_path / "list.csv", *more)
    assert made.returncode == 1
    assert sum(sheet["count"] * len(sheet["pieces"]) for sheet in json.loads(made.stdout)["sheets"]) == 650
    assert "the sheet 100 x 100 in has " in made.stderr
    assert "no page has room for their numbers; cut from smaller sheets" in made.stderr
    assert not (tmp_path / "drawn").exists()


@pytest.mark.skipif(sys.platform == "win32", reason="limits as a shell sets them")
def test_drawings_are_all_there_or_none(tmp_path: Path) -> None:
    (tmp_path / "list.csv").write_text("name,width,height,quantity\na,700,700,1\nb,300,200,30\n")
    line = f"trap '' XFSZ; ulimit -f 40; exec {sys.executable} -m matplan sheets {tmp_path}/list.csv --seconds 0.1"
    shell = ["bash", "-c", f"{line} --sheet '800 x 800 mm' --svg {tmp_path}/drawn"]
    made = subprocess.run(shell, capture_output=True, text=True, check=False)
    assert made.returncode == 1
    assert "the drawings cannot be written: File too large" in made.stderr
    assert not list((tmp_path / "drawn").iterdir())


def test_fit_refuses_a_size_with_a_sign() -> None:
    refused = run("fit", "3:2", "--frames", "40x-50 cm")
    assert refused.returncode == 1
    assert "a length has no sign" in refused.stderr


def test_words_tells_one_word_or_all_and_the_near_ones_of_an_unknown_one() -> None:
    one = run("words", "Rebates")
    assert (one.returncode, one.stderr) == (0, "")
    assert one.stdout.startswith("rabbet (also rebate)\n    The step")
    assert run("words").stdout.count("\n    ") >= 40
    unknown = run("words", "rabet")
    assert (unknown.returncode, unknown.stdout) == (1, "")
    assert "did you mean rabbet" in unknown.stderr


def test_measure_writes_a_sheet_and_overwrites_nothing(tmp_path: Path) -> None:
    path = tmp_path / "sheet.pdf"
    first = run("measure", "--out", str(path))
    assert (first.returncode, first.stdout, first.stderr) == (0, f"wrote {path}\n", "")
    again = run("measure", "--out", str(path), "--units", "in")
    assert (again.returncode, again.stdout) == (1, "")
    assert "nothing is overwritten" in again.stderr


def test_sizes_colours_lists_every_plain_name() -> None:
    from matplan.job.file.colours import COLOURS

    told = run("sizes", "colours")
    assert (told.returncode, told.stderr) == (0, "")
    assert [line.rsplit(maxsplit=1) for line in told.stdout.splitlines()] == [[n, c] for n, c in COLOURS.items()]
    rows = json.loads(run("sizes", "colours", "--json").stdout)["tables"][0]["rows"]
    assert {row["name"]: row["code"] for row in rows} == COLOURS
