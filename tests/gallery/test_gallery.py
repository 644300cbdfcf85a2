"""The gallery's scenarios: each is rendered anew and compared with the pack that lies there; its photos are made anew
too.

After a change that is meant, look at the new drawings, then renew the packs with

    MATPLAN_RENEW_GALLERY=1 python -m pytest -q tests/gallery

which writes each scenario's pack over the old one before it is compared.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import matplan
from tests.gallery.packs import differences

GALLERY = Path(__file__).parents[2] / "gallery"
SCENARIOS = sorted(path.parent.name for path in GALLERY.glob("*/job.toml"))
PICTURE = re.compile(r"(?:\]\(|src=\"|href=\")(?!https?:|#)([^)\"\s]+)")


def test_the_gallery_has_scenarios() -> None:
    assert SCENARIOS


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_a_scenario_renders_as_its_pack_shows_it(scenario: str, tmp_path: Path) -> None:
    kept = GALLERY / scenario / "pack"
    plan = matplan.plan(matplan.read_job(GALLERY / scenario / "job.toml"))
    if os.environ.get("MATPLAN_RENEW_GALLERY") == "1":
        matplan.make(plan, kept, force=True)
    matplan.make(plan, tmp_path / "pack")
    told = differences(kept, tmp_path / "pack")
    assert not told, "\n\n".join(["the pack in the gallery is not what its job gives now:", *told])


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_the_photos_are_those_that_their_script_makes(scenario: str, tmp_path: Path) -> None:
    """The same pixels but for what JPEG coders round differently: small on the whole, and nowhere a place of another
    tone.
    """
    from PIL import Image, ImageChops, ImageStat

    folder = GALLERY / scenario
    subprocess.run([sys.executable, str(folder / "photos.py"), str(tmp_path)], check=True, capture_output=True)
    kept = sorted(path.name for path in (folder / "photos").iterdir())
    assert kept == sorted(path.name for path in tmp_path.iterdir())
    for name in kept:
        with Image.open(folder / "photos" / name) as old, Image.open(tmp_path / name) as new:
            assert (old.size, old.mode, old.getexif().get(0x0112)) == (new.size, new.mode, new.getexif().get(0x0112)), (
                name
            )
            apart = ImageChops.difference(old, new)
            assert max(ImageStat.Stat(apart).mean) < 1.0, f"{name}: the tones are others on the whole"
            coarse = ImageChops.difference(old.reduce(16), new.reduce(16)).convert("L")
            assert max(coarse.tobytes()) <= 4, f"{name}: a place in it has another tone"


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_photos_stay_small(scenario: str) -> None:
    for path in (GALLERY / scenario / "photos").iterdir():
        assert path.stat().st_size < 400_000, path.name


@pytest.mark.parametrize("page", ["README.md", "manual.md", *(f"{scenario}/README.md" for scenario in SCENARIOS)])
def test_a_page_links_to_files_that_are_there(page: str) -> None:
    links = PICTURE.findall((GALLERY / page).read_text(encoding="utf-8"))
    assert links
    gone = [link for link in links if not ((GALLERY / page).parent / link).exists()]
    assert not gone


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_a_scenario_s_page_shows_every_piece(scenario: str) -> None:
    text = (GALLERY / scenario / "README.md").read_text(encoding="utf-8")
    fronts = {
        f"pack/{path.relative_to(GALLERY / scenario / 'pack').as_posix()}"
        for path in (GALLERY / scenario / "pack/front").glob("*.svg")
    }
    assert fronts <= set(PICTURE.findall(text))


# --- The comparison itself -------------------------------------------------------------------------------------------


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """A pack of the gallery to spoil."""
    return shutil.copytree(GALLERY / "harbour-light" / "pack", tmp_path / "copy")


def told_of(copy: Path) -> list[str]:
    return differences(GALLERY / "harbour-light" / "pack", copy)


def test_an_untouched_copy_is_the_same(copy: Path) -> None:
    assert told_of(copy) == []


def test_a_changed_figure_in_a_drawing_is_told(copy: Path) -> None:
    drawing = min((copy / "cut").glob("*.svg"))
    text = drawing.read_text(encoding="utf-8")
    changed, times = re.subn(r">(\d\d)</text>", r">\g<1>9</text>", text, count=1)
    assert times == 1
    drawing.write_text(changed, encoding="utf-8")
    (told,) = told_of(copy)
    assert f"made cut/{drawing.name}" in told
    assert re.search(r"^\+ *<text .*> \d\d9$", told, re.MULTILINE)


def test_a_line_that_moved_by_a_hundredth_is_told(copy: Path) -> None:
    drawing = min((copy / "front").glob("*.svg"))
    text = drawing.read_text(encoding="utf-8")
    changed, times = re.subn(r' x1="(\d+)(?:\.\d+)?"', r' x1="\g<1>.37"', text, count=1)
    assert times == 1
    drawing.write_text(changed, encoding="utf-8")
    assert len(told_of(copy)) == 1


def test_other_bytes_of_the_same_picture_are_not_told_but_another_size_is(copy: Path) -> None:
    import base64
    import io

    from PIL import Image

    drawing = min((copy / "print").glob("*.svg"))
    text = drawing.read_text(encoding="utf-8")
    data = re.search(r"data:image/jpeg;base64,([\w+/=\s]+)", text)
    assert data is not None

    def with_picture(image: Image.Image) -> None:
        out = io.BytesIO()
        image.save(out, "JPEG", quality=50)
        drawing.write_text(text.replace(data[1], base64.b64encode(out.getvalue()).decode()), encoding="utf-8")

    with Image.open(io.BytesIO(base64.b64decode(data[1]))) as image:
        with_picture(image)
        assert told_of(copy) == []
        with_picture(image.resize((image.width // 2, image.height // 2)))
    assert len(told_of(copy)) == 1


def test_another_price_is_told(copy: Path) -> None:
    order = copy / "order.csv"
    changed = order.read_text(encoding="utf-8").replace("34.00", "35.00")
    order.write_text(changed, encoding="utf-8")
    (told,) = told_of(copy)
    assert "35.00" in told


def test_a_lost_page_is_told(copy: Path) -> None:
    import pypdfium2

    with pypdfium2.PdfDocument(copy / "workshop.pdf") as document:
        count = len(document)
        document.del_page(count - 1)
        document.save(copy / "shorter.pdf")
    (copy / "shorter.pdf").replace(copy / "workshop.pdf")
    (told,) = told_of(copy)
    assert f"-{count} pages" in told
    assert f"+{count - 1} pages" in told


def test_a_file_too_few_or_too_many_is_told(copy: Path) -> None:
    (copy / "order.csv").rename(copy / "orders.csv")
    assert told_of(copy) == ["order.csv: is not made any more", "orders.csv: is new"]


def test_the_second_job_is_cheaper_by_what_the_first_left() -> None:
    text = (GALLERY / "autumn-market" / "job.toml").read_text(encoding="utf-8")
    alone = "\n".join(line for line in text.splitlines() if not line.startswith("supplies"))
    costs = [matplan.plan(matplan.parse_job(each, GALLERY / "autumn-market")).costs.total for each in (text, alone)]
    assert costs[0] is not None
    assert costs[1] is not None
    assert costs[0] < costs[1]
