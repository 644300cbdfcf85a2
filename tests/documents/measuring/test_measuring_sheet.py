"""The measuring sheet: keys that a job file has, letters that its sketches show, room to write, no text on a line."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from matplan.documents.measuring.sheet import FRAME, REST, Thing, measuring_sheets
from matplan.drawing import clashes
from matplan.drawing.frame import drawing_area
from matplan.drawing.items import Line
from matplan.drawing.sheet import Sheet
from matplan.faults import PackError
from matplan.job.schema import schema
from matplan.lengths import Units
from matplan.pack.measuring import write_measuring_sheet


def keys(node: object) -> set[str]:
    """Every key that a job file may hold, by its schema."""
    if isinstance(node, dict):
        found = set(node.get("properties", ()))
        return found.union(*(keys(value) for value in node.values()))
    return set().union(*(keys(value) for value in node)) if isinstance(node, list) else set()


@pytest.mark.parametrize("units", Units)
def test_no_text_meets_a_line_and_all_stands_within_the_page(units: Units) -> None:
    for page in measuring_sheets(units):
        assert clashes.check(page) == ()
        area = drawing_area(page.size)
        blanks = [item for item in page.flat() if isinstance(item, Line) and "blank" in item.classes]
        assert len(blanks) >= 9
        for blank in blanks:
            assert area.x <= blank.start[0] < blank.end[0] <= area.right + 0.01
            assert blank.end[0] - blank.start[0] >= 10
            assert area.y < blank.start[1] <= area.bottom


@pytest.mark.parametrize("units", Units)
def test_every_key_is_a_key_of_the_job_file(units: Units) -> None:
    known = keys(schema())
    for page in measuring_sheets(units):
        named = [text.text for text in page.texts() if "key" in text.classes]
        assert len(named) >= 9
        bare = {re.sub(r"^\d ", "", name) for name in named} - {"What it is"}
        assert bare <= known
    assert {asked.key for thing in (*FRAME, *REST) for asked in thing.asked} >= {
        "takes", "rabbet", "sight", "depth", "rail", "lip", "mat_opening", "image", "size", "includes",
    }  # fmt: skip


@pytest.mark.parametrize("thing", [*FRAME, *REST], ids=lambda thing: thing.title)
def test_every_letter_of_the_list_stands_on_the_sketch(thing: Thing) -> None:
    sketch = Sheet(name="s", title="s", size=(210, 297), items=(thing.sketch(20, 20),))
    shown = {text.text for text in sketch.texts() if "letter" in text.classes}
    assert {asked.letter for asked in thing.asked if asked.letter} <= shown
    assert shown <= {asked.letter for one in (*FRAME, *REST) for asked in one.asked} | {"1", "2", "3"}


def test_the_file_is_written_once_and_never_over_another(tmp_path: Path) -> None:
    path = tmp_path / "measure.pdf"
    write_measuring_sheet(path, Units.IN)
    first = path.read_bytes()
    assert first.startswith(b"%PDF")
    with pytest.raises(PackError, match="is there already, and nothing is overwritten; name another file with --out"):
        write_measuring_sheet(path, Units.MM)
    assert path.read_bytes() == first
    with pytest.raises(PackError, match="cannot be written"):
        write_measuring_sheet(tmp_path / "nowhere" / "measure.pdf", Units.MM)
