"""The cautions as they are printed: small packs of each substance, their drawings and books read back as text.

For each caution a job names the only files that carry it; the workbook carries what its bound documents do.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

import pypdfium2
import pytest
from lxml import etree

import matplan

CAUTIONS: Final = {
    "blades": "used blades go into a closed box",
    "at the cutter": "Free hand out of the blade's path",
    "slip": "so that a slip lands in the waste; wear eye protection",
    "one pass": "Cut a bevel in one firm pass with a fresh blade",
    "glass": "Glass: wear gloves and eye protection, carry sheets on edge; let a breaking sheet fall",
    "scoring": "Score glass once and break it away from you; shards go into a hard box",
    "acrylic": "Acrylic: edges are sharp",
    "wood fibre": "Wood-fibre board: wear a dust mask and eye protection, saw under extraction",
    "saw": "Mitre saw: guard in place, work clamped, hands clear",
    "spray": "Spray adhesive, where you use one to mount: work under extraction and wear a respirator",
    "valuable": "Valuable or old work: a conservator decides",
    "heavy": "two people lift, carry and hang it",
    "two points": "from two wall points to two points on the frame",
    "rated": "rated for several times the load",
    "secured": "nothing that lifts off hangs above a bed or cot",
    "detector": "look for cables and pipes with a detector; they may be anywhere",
    "zones": "Cables usually run straight up, down and sideways from fittings",
    "drilling": "may hold lead or asbestos; have them tested",
    "fixings": "Choose fixings for the wall at hand",
    "ladder": "a ladder on firm ground, with someone at its foot; over stairs, scaffolding",
    "public": "In public places local codes and a licensed installer decide",
}

HEAD = 'title = "Trial"\nunits = "{units}"\ncurrency = "EUR"\n'
PIECE = '[[piece]]\nname = "Slip"\nimage = "200 x 300 mm"\nborder = "50 mm"\n'
SHEETS = 'sheets = [{ size = "1200 x 900 mm", price = 9 }]\n'
FRAME = '[frame.ash]\ntakes = "30x40 cm"\nrail = "20 mm"\n'
FRAMED = '[[piece]]\nname = "Slip"\nborder = "50 mm"\nframe = "ash"\n'
ASPECT = 'aspect = "2:3"\n'
WALL = '[[wall]]\nname = "Hall"\nsize = "4 x 2.6 m"\n'
PANE = '[glazing.pane]\nthickness = "2 mm"\n'


@cache
def printed(job: str, units: str = "mm") -> Mapping[str, str]:
    """The words on each drawing and in each book of the job's pack, by its name there."""
    with TemporaryDirectory() as folder:
        path = Path(folder, "job.toml")
        path.write_text(HEAD.format(units=units) + job, encoding="utf-8")
        matplan.make(matplan.plan(matplan.read_job(path)), Path(folder, "pack"))
        files = sorted(file for file in Path(folder, "pack").rglob("*") if file.suffix in (".pdf", ".svg"))
        return {file.relative_to(Path(folder, "pack")).as_posix(): words(file) for file in files}


def words(file: Path) -> str:
    if file.suffix == ".svg":
        root = etree.fromstring(file.read_bytes())
        texts = ["".join(map(str, text.itertext())) for text in root.iter("{http://www.w3.org/2000/svg}text")]
    else:
        with pypdfium2.PdfDocument(file) as document:
            texts = [page.get_textpage().get_text_range() for page in document]
    return " ".join(" ".join(texts).split())


def carriers(job: str, units: str = "mm") -> dict[str, set[str]]:
    """Of each caution that is printed the files that carry it, the workbook apart."""
    texts = printed(job, units)
    found = {
        what: {name for name, text in texts.items() if line in text and name != "workshop.pdf"}
        for what, line in CAUTIONS.items()
    }
    return {what: names for what, names in found.items() if names}


BENCH = {
    "blades": {"bench-card.svg"},
    "slip": {"bench-card.svg"},
    "one pass": {"bench-card.svg"},
    "at the cutter": {"cut/slip-layer1.svg"},
}
"""What a pack says of the mat cutter, where it has a cutting diagram."""
CLOSED = {"valuable": {"assembly.pdf"}}
CUT = CLOSED | BENCH
GLASS = {"glass": {"assembly.pdf"}}
HANGING = {
    what: {"wall/hall.svg", "wall/hall.pdf", "template/hang-slip.pdf"}
    for what in ("detector", "zones", "drilling", "fixings")
} | {"public": {"wall/hall.pdf"}}
HEAVY = {
    "heavy": {"assembly.pdf", "wall/hall.svg", "wall/hall.pdf", "template/hang-slip.pdf"},
    "two points": {"assembly.pdf", "wall/hall.pdf", "template/hang-slip.pdf"},
    "rated": {"assembly.pdf", "wall/hall.pdf", "template/hang-slip.pdf"},
    "secured": {"wall/hall.pdf"},
}
JOBS: Final[dict[str, tuple[str, dict[str, set[str]]]]] = {
    "neither mat nor glazing": (
        FRAME + '[[piece]]\nname = "Slip"\nframe = "ash"\nmat = []\nglazing = "none"\n' + ASPECT,
        CLOSED,
    ),
    "a mat and no glazing": (PIECE + 'glazing = "none"\n', CUT),
    "glass that is bought to size": (PIECE, CUT | GLASS),
    "glass that the frame comes with": (
        FRAME + 'includes = ["glazing", "backing"]\n' + FRAMED + ASPECT + '[glazing."glass-2mm"]\n' + SHEETS,
        CUT | GLASS,
    ),
    "glass cut here": (
        '[glazing."glass-2mm"]\n' + SHEETS + PIECE,
        CUT | {what: {"assembly.pdf", "sheets/glass-2mm-1.svg"} for what in ("glass", "scoring")},
    ),
    "a pane that nobody names": (
        PANE + SHEETS + PIECE + 'glazing = "pane"\n',
        CUT | {what: {"assembly.pdf", "sheets/pane-1.svg"} for what in ("glass", "scoring")},
    ),
    "acrylic cut here": (
        PANE + 'substance = "acrylic"\n' + SHEETS + PIECE + 'glazing = "pane"\n',
        CUT | {"acrylic": {"assembly.pdf", "sheets/pane-1.svg"}},
    ),
    "wood-fibre board that is bought to size": (PIECE + 'glazing = "none"\nbacking = "mdf-3mm"\n', CUT),
    "wood-fibre board cut here": (
        '[backing."mdf-3mm"]\n' + SHEETS + PIECE + 'glazing = "none"\nbacking = "mdf-3mm"\n',
        CUT | {"wood fibre": {"sheets/mdf-3mm-1.svg"}},
    ),
    "foam board cut here": (
        '[backing."foam-5mm"]\n' + SHEETS + PIECE + 'glazing = "none"\n',
        CUT | {"blades": {"bench-card.svg", "sheets/foam-5mm-1.svg"}},
    ),
    "a mat cut here": (
        "[board.white]\n" + SHEETS + PIECE + 'glazing = "none"\n',
        CUT | {"blades": {"bench-card.svg", "sheets/white-1.svg"}},
    ),
    "a frame made of moulding": (
        '[frame.ash]\nrail = "20 mm"\nkerf = "3 mm"\nsticks = [{ length = "3 m", price = 9 }]\n'
        + PIECE
        + 'frame = "ash"\nglazing = "none"\n',
        CUT | {"saw": {"sticks/ash.svg"}},
    ),
    "a work on a mount": (
        "[board.ground]\nply = 4\n" + PIECE + 'glazing = "none"\nmount = "ground"\n',
        CUT | {"spray": {"assembly.pdf"}},
    ),
    "a wall": (FRAME + FRAMED + ASPECT + WALL, CUT | GLASS | HANGING),
    "a wall that people pass": (
        FRAME + FRAMED + ASPECT + WALL + "path = true\n",
        CUT | GLASS | HANGING | {"secured": {"wall/hall.pdf"}},
    ),
    "hooks out of reach": (
        FRAME + FRAMED + ASPECT + WALL + 'eye = "2 m"\n',
        CUT | GLASS | HANGING | {"ladder": {"wall/hall.svg", "wall/hall.pdf"}},
    ),
    "a stair": (
        FRAME + FRAMED + ASPECT + WALL + 'floor = [["0 mm", "0 mm"], ["4 m", "600 mm"]]\n',
        CUT | GLASS | HANGING | {"ladder": {"wall/hall.svg", "wall/hall.pdf"}},
    ),
    "a frame too heavy for one": (
        '[frame.ash]\ntakes = "1 x 1.4 m"\nrail = "20 mm"\n[glazing.thick]\nthickness = "8 mm"\nsubstance = "glass"\n'
        + FRAMED
        + ASPECT
        + 'glazing = "thick"\n'
        + WALL
        + 'eye = "1300 mm"\n',
        CUT | GLASS | HANGING | HEAVY,
    ),
}


@pytest.mark.parametrize("name", JOBS)
def test_each_caution_stands_where_the_work_is_and_nowhere_else(name: str) -> None:
    job, expected = JOBS[name]
    assert carriers(job) == expected


@pytest.mark.parametrize("name", JOBS)
def test_the_workbook_has_what_its_documents_have(name: str) -> None:
    """The documents for the wall alone apart: a template is not bound in."""
    job, expected = JOBS[name]
    said = printed(job)["workshop.pdf"]
    assert {what for what, line in CAUTIONS.items() if line in said} == expected.keys()


def test_every_caution_is_printed_by_some_job_and_kept_from_another() -> None:
    carried = [expected.keys() for _, expected in JOBS.values()]
    assert {what for each in carried for what in each} == CAUTIONS.keys()
    assert [what for what in CAUTIONS if what != "valuable" and all(what in each for each in carried)] == []


def test_figures_are_those_of_the_job_s_units() -> None:
    heavy = JOBS["a frame too heavy for one"][0]
    for units, limit, zone in (("mm", "above 23 kg", "within 150 mm of"), ("in", "above 51 lb", "within 6 in of")):
        for name in ("wall/hall.pdf", "template/hang-slip.pdf"):
            assert limit in printed(heavy, units)[name], (units, name)
            assert zone in printed(heavy, units)[name], (units, name)


def test_glass_above_the_size_that_it_is_sold_for_is_told_and_acrylic_is_not() -> None:
    large = '[[piece]]\nname = "Slip"\nimage = "700 x 900 mm"\nborder = "50 mm"\nglazing = "{}"\n'
    assert "acrylic" in printed(large.format("glass-2mm"))["workshop.pdf"]
    assert "Glass" not in printed(large.format("acrylic-2mm"))["workshop.pdf"]
