"""Every file of a pack stands before a stranger's programs: a job of every kind of document, with hostile names."""

from __future__ import annotations

import csv
import io
import re
from pathlib import Path

import pikepdf
import pytest
from PIL import Image

import matplan
from matplan.documents.document import Form
from matplan.documents.shelf import SHELF
from matplan.drawing import pdf, svg
from matplan.lengths import Units
from matplan.pack.back_ends import BACK_ENDS
from matplan.pack.measuring import write_measuring_sheet
from tests.drawing.samples import SAMPLE
from tests.pack.trusted import csv_faults, pdf_faults, read_by_numpy, svg_faults
from tests.photographs import halves, turned_jpeg

SCRIPT = "<script>alert(1)</script>"
SAYING = 'Fish & "chips" ]]> --> \\u0026amp;'
JOB = f"""
title = 'Trial & {SCRIPT} "quoted"'
units = "UNITS"
currency = "EUR"
maker = "=Maker & <b>"
[paper.rag]
size = "A4"
test_strip = "A6"
price = 1.5
[paper.sheet]
size = "A3"
[board."=white, cream"]
ply = 4
sheets = [{{ size = "32x40 in", price = 18.5 }}]
[board."@bought"]
ply = 4
[glazing."+clear"]
thickness = "2 mm"
[frame."-ash; kept"]
sticks = [{{ length = "3 m", price = 21.0 }}]
kerf = "3 mm"
lip = "6 mm"
depth = "18 mm"
rail = "20 mm"
[frame.ready]
takes = "40x50 cm"
rail = "20 mm"
[[piece]]
name = "{SCRIPT}"
photo = "wide.jpg"
image = {{ width = "150 mm" }}
border = "60 mm"
frame = "-ash; kept"
paper = "rag"
label = '<b>Label</b> & "words"'
mat = ["=white, cream", {{ board = "=white, cream", reveal = "6 mm" }}]
[[piece]]
name = '=1+1, {SAYING}'
photo = "turned.jpg"
image = {{ width = "90 mm" }}
border = "50 mm"
frame = "-ash; kept"
glazing = "+clear"
paper = "rag"
quantity = 2
mat = ["@bought"]
[[piece]]
name = "港の光 ميناء Ναύπλιο"
frame = "ready"
border = "50 mm"
gutter = "20 mm"
justify = true
rows = [["a<&>", "b"], ["title"]]
paper = "sheet"
mat = ["=white, cream"]
[[piece.aperture]]
name = "a<&>"
photo = "wide.jpg"
[[piece.aperture]]
name = "b"
photo = "wide.jpg"
shape = "oval"
[[piece.aperture]]
name = "title"
text = "Words & <more> 港"
aspect = "14:1"
overlap = "1 mm"
[[wall]]
name = "Hall & {SCRIPT}"
size = "5000 x 2600 mm"
gap = "130 mm"
labels = {{ size = "80 x 50 mm" }}
furniture = [{{ name = "<bench> & co", left = "800 mm", width = "1800 mm", height = "450 mm" }}]
photo = {{ file = "wall.jpg", corners = [[10, 10], [790, 20], [780, 390], [20, 380]] }}
[[wall.keep_clear]]
name = "<switch>"
kind = "switch"
left = "200 mm"
bottom = "1050 mm"
width = "80 mm"
height = "80 mm"
"""
A4, A3, A6 = (210.0, 297.0), (297.0, 420.0), (105.0, 148.0)
LETTER, TABLOID = (215.9, 279.4), (279.4, 431.8)


@pytest.fixture(scope="module", params=["mm", "in"])
def pack(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The pack of a job that has every document of the shelf."""
    folder = tmp_path_factory.mktemp(f"trusted-{request.param}")
    halves(1200, 800).save(folder / "wide.jpg", quality=90)
    turned_jpeg(folder / "turned.jpg")
    Image.new("RGB", (800, 400), "#998877").save(folder / "wall.jpg")
    job = folder / "job.toml"
    job.write_text(JOB.replace("UNITS", request.param), encoding="utf-8")
    matplan.make(matplan.plan(matplan.read_job(job)), folder / "pack", machine=("dxf", "svg"))
    return folder / "pack"


def files(pack: Path, ending: str) -> dict[str, bytes]:
    found = {path.relative_to(pack).as_posix(): path.read_bytes() for path in sorted(pack.rglob(f"*.{ending}"))}
    assert found
    return found


def pattern(document_path: str, ending: str) -> re.Pattern[str]:
    return re.compile(re.sub(r"\{\w+\}", ".+", document_path) + re.escape(f".{ending}"))


def test_the_job_has_every_document_of_the_shelf(pack: Path) -> None:
    made = [path.relative_to(pack).as_posix() for path in pack.rglob("*.*")]
    forms = [(document.path, form.ending) for document in SHELF if document.path for form in document.forms]
    assert [form for form in forms if not any(pattern(*form).fullmatch(name) for name in made)] == []


def full_size(name: str) -> bool:
    return name.startswith(("print/", "template/", "labels"))


def test_every_pdf_is_sound_to_two_readers(pack: Path) -> None:
    inches = "trusted-in" in pack.parent.name
    usual = {LETTER, TABLOID} if inches else {A4, A3}
    told = {}
    for name, content in files(pack, "pdf").items():
        photos = name.startswith("print/") and "title" not in name
        papers = {A4, A3, A6, *usual} if name.startswith("print/") else usual
        told[name] = pdf_faults(content, papers, full_size=full_size(name), tagged=not photos)
    assert {name: faults for name, faults in told.items() if faults} == {}


def test_no_file_tells_of_the_machine_or_the_day(pack: Path) -> None:
    for name, content in (files(pack, "pdf") | files(pack, "svg") | files(pack, "dxf")).items():
        assert str(pack.parent).encode() not in content, name
        assert not re.search(rb"/(?:CreationDate|ModDate|Author)\b", content), name


def test_a_pdf_s_title_names_the_job_or_the_piece(pack: Path) -> None:
    titles = {}
    for name, content in files(pack, "pdf").items():
        with pikepdf.open(io.BytesIO(content)) as document:
            titles[name] = str(document.docinfo["/Title"])
    job = f'Trial & {SCRIPT} "quoted"'
    assert (titles["workshop.pdf"], titles["order.pdf"]) == (job, f"{job}: order list")
    assert len(set(titles.values())) == len(titles)


def test_every_svg_runs_nothing_and_fetches_nothing(pack: Path) -> None:
    told = {name: svg_faults(content) for name, content in files(pack, "svg").items()}
    assert {name: faults for name, faults in told.items() if faults} == {}


def test_names_are_read_back_from_an_svg_as_they_are_written(pack: Path) -> None:
    from lxml import etree

    title = etree.fromstring((pack / "front" / "script-alert-1-script.svg").read_bytes())[0].text
    assert title is not None
    assert title.startswith(SCRIPT)
    said = "".join(map(str, etree.fromstring((pack / "bench-card.svg").read_bytes()).itertext()))
    assert SCRIPT in said


def test_every_csv_is_safe_in_a_spreadsheet(pack: Path) -> None:
    told = {name: csv_faults(content) for name, content in files(pack, "csv").items()}
    assert {name: faults for name, faults in told.items() if faults} == {}
    rows = list(csv.reader(io.StringIO((pack / "order.csv").read_text(encoding="utf-8"), newline="")))
    cells = {cell for row in rows for cell in row}
    assert {"'=white, cream", "'-ash; kept", "'@bought", "'+clear"} <= cells
    assert any(cell.startswith('\'=1+1, Fish & "chips"') for cell in cells)


def test_what_the_terminal_writes_alone_is_as_sound(tmp_path: Path) -> None:
    from click.testing import CliRunner

    from matplan.cli.commands import sheets

    (tmp_path / "list.csv").write_text(f'name,width,height,quantity\n"{SCRIPT}",200,300,2\n', encoding="utf-8")
    run = CliRunner().invoke(sheets, [str(tmp_path / "list.csv"), "--sheet", "A1", "--svg", str(tmp_path)])
    assert run.exit_code == 0, run.output
    for path in tmp_path.glob("*.svg"):
        assert svg_faults(path.read_bytes()) == []
    write_measuring_sheet(tmp_path / "measure.pdf", Units.MM)
    assert pdf_faults((tmp_path / "measure.pdf").read_bytes(), {A4}, full_size=False, tagged=True) == []


# --- each fault is found ----------------------------------------------------------------------------------------------


def changed(*, text: bytes = b"", by: bytes = b"", **entries: object) -> list[str]:
    """The faults of the sample's PDF with other entries in its catalogue, or other content on its page."""
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(pdf.render(SAMPLE))) as document:
        for key, value in entries.items():
            document.Root[f"/{key}"] = value
        stream = document.pages[0].Contents.read_bytes()
        assert text in stream
        document.pages[0].Contents = document.make_stream(stream.replace(text, by, 1))
        document.save(out)
    return pdf_faults(out.getvalue(), {A4}, full_size=False, tagged=True)


def test_the_sample_is_sound() -> None:
    assert changed() == []
    assert svg_faults(svg.render(SAMPLE)) == []


@pytest.mark.parametrize(
    ("text", "by", "fault"),
    [
        (b"/P <</MCID 2>> BDC", b"/P <</MCID 7>> BDC", "page 1: the tags are not those that it draws"),
        (b"/P <</MCID 2>> BDC", b"/Artifact BMC", "page 1: words lie under /Artifact"),
        (b"/Figure <</MCID", b"/P <</MCID", "page 1: a picture lies under /P"),
        (b"EMC", b"", "page 1: a tag is left open"),
    ],
)
def test_a_page_whose_tags_are_wrong_is_found(text: bytes, by: bytes, fault: str) -> None:
    assert fault in changed(text=text, by=by)


def test_a_pdf_without_its_words_is_found() -> None:
    assert changed(Lang="de") == ["no language"]
    assert changed(OpenAction=pikepdf.Dictionary()) == ["it may act by ['/OpenAction']"]
    assert "not tagged" in changed(MarkInfo=pikepdf.Dictionary())
    bare = pdf_faults(pdf.render(SAMPLE), {A3}, full_size=True, tagged=True)
    assert bare == ["printing at 100 % is not asked for", "page 1: its size is 210.000 × 297.000 mm"]
    assert any(fault.startswith("qpdf") for fault in pdf_faults(broken(), {A4}, full_size=False, tagged=True))


def broken() -> bytes:
    """A PDF whose table of objects points a byte too far."""
    content = pdf.render(SAMPLE)
    start = content.rindex(b" 00000 n") - 1
    return content[:start] + b"%d" % ((content[start] - 47) % 10) + content[start + 1 :]


@pytest.mark.parametrize(
    ("text", "by", "fault"),
    [
        ("</svg>", "<script/></svg>", "it holds {http://www.w3.org/2000/svg}script"),
        ("<rect ", '<rect onload="x()" ', "onload would run"),
        ("data:image/", "https://example.invalid/", "it fetches https://example.invalid/"),
        ("url(#", "url(https://example.invalid/#", "it refers to https://example.invalid/#clip-1"),
        ("@font-face", "@import 'x';@font-face", "it imports a style"),
        ("<desc>", "<desc/><desc>", "title and description are"),
        ('xml:lang="en"', "", "no language"),
        ("<svg", "<!DOCTYPE svg><svg", "it declares or hides something"),
    ],
)
def test_an_svg_that_is_not_safe_is_found(text: str, by: str, fault: str) -> None:
    drawn = svg.render(SAMPLE).decode()
    assert text in drawn
    assert any(told.startswith(fault) for told in svg_faults(drawn.replace(text, by, 1).encode()))


@pytest.mark.parametrize("cell", ["=1", "+1", "-1", "@x", "\t1", "\r1", " =1"])
def test_a_cell_that_would_run_is_found(cell: str) -> None:
    assert f"{cell!r} may run" in csv_faults(rows([["a", "b"], [cell, "c"]]))


def rows(cells: list[list[str]]) -> bytes:
    ((_, content),) = BACK_ENDS[Form.CSV]("", cells)
    assert isinstance(content, bytes)
    return content


def test_any_cell_comes_back_from_both_readers() -> None:
    """A line's end in a name, quotes, separators and letters of any script."""
    cells = [["a", "b"], ["two\nlines", 'q"u"o,t;e'], ["car\rriage", " edge "], ["港", "ÄÖ"], ["", "#5"]]
    assert list(csv.reader(io.StringIO(rows(cells).decode(), newline=""), strict=True)) == cells
    assert read_by_numpy(rows(cells)) == cells
