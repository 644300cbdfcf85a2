"""The pieces side by side: one scale, in rows that the page holds, every name whole below its piece."""

from __future__ import annotations

from fractions import Fraction

import pytest

from matplan.documents.book.side_by_side import side_by_side
from matplan.documents.parts.framed import extent
from matplan.documents.parts.running import Running
from matplan.drawing import clashes
from matplan.drawing.items import Area, Group, Rect, Text
from matplan.drawing.sheet import Sheet
from matplan.planning import Plan
from tests.making import border, frame, piece, planned, window

AREA = Area(x=12.0, y=12.0, width=186.0, height=246.0)


def plan_of(*names: str, image: str = "200 x 150") -> Plan:
    return planned(
        *(piece(name, apertures=(window(name, image=image),), border=border("60"), frame=frame()) for name in names)
    )


def sheets(plan: Plan) -> list[Sheet]:
    running = Running(AREA)
    side_by_side(running, plan.job, plan.pieces, {})
    return [Sheet(name=str(n), title="", size=(210.0, 297.0), items=items) for n, items in enumerate(running.pages)]


def small(sheet: Sheet) -> list[Group]:
    return [item for item in sheet.items if isinstance(item, Group) and "small-front" in item.classes]


def words(sheet: Sheet) -> list[Text]:
    return list(sheet.texts())


@pytest.mark.parametrize("count", [1, 3, 12, 60, 130])
def test_every_piece_is_there_with_its_name_and_nothing_clashes(count: int) -> None:
    names = [f"Piece {n}" for n in range(count)]
    found = sheets(plan_of(*names))
    assert sum(len(small(sheet)) for sheet in found) == count
    said = [text.text for sheet in found for text in words(sheet)]
    assert all(said.count(name) == 1 for name in names)
    for sheet in found:
        assert clashes.check(sheet) == ()
        assert all(AREA.y <= text.at[1] <= AREA.bottom for text in words(sheet))


def test_a_long_name_is_wrapped_below_its_piece() -> None:
    name = "Ferry waiting below the lighthouse in the first snow"
    (sheet,) = sheets(plan_of(name, "Gull"))
    lines = [text.text for text in words(sheet) if text.text in name]
    assert len(lines) > 1
    assert " ".join(lines) == name


def test_names_of_several_lines_end_above_the_next_row() -> None:
    name = "Ferry {} waiting below the lighthouse in the first snow of the whole long year"
    found = sheets(plan_of(*(name.format(n) for n in range(30))))
    assert len(small(found[0])) > 10  # so that rows stand over one another
    for sheet in found:
        outers = [item for item in sheet.flat() if isinstance(item, Rect) and "frame-outer" in item.classes]
        rows = sorted({round(outer.y, 3) for outer in outers})
        for text in words(sheet):
            below = [y for y in rows if y > text.at[1]]
            assert not below or min(below) - text.at[1] > text.size + 2
            assert text.at[1] + text.size <= AREA.bottom


def test_a_piece_that_is_made_twice_says_so() -> None:
    plan = planned(
        piece("Gull", quantity=2, apertures=(window(image="200 x 150"),), border=border("60"), frame=frame())
    )
    assert "2 × Gull" in [text.text for text in words(sheets(plan)[0])]


def test_sizes_compare_since_the_scale_is_one() -> None:
    plan = planned(
        piece("Small", apertures=(window("Small", image="100 x 100"),), border=border("50"), frame=frame()),
        piece("Large", apertures=(window("Large", image="400 x 300"),), border=border("50"), frame=frame()),
    )
    (sheet,) = sheets(plan)
    (scale,) = (text.text.partition("1:")[2] for text in words(sheet) if text.text.startswith("The pieces, "))
    outers = [item for item in sheet.flat() if isinstance(item, Rect) and "frame-outer" in item.classes]
    for one, outer in zip(plan.pieces, outers, strict=True):
        assert outer.width == pytest.approx(float(extent(one).width * Fraction(1, int(scale))))


def test_no_pieces_no_heading() -> None:
    running = Running(AREA)
    side_by_side(running, plan_of("Gull").job, (), {})
    assert running.pages == ((),)
