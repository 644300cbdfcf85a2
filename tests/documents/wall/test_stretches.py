"""A wall too long for a paper: stretches at one scale of the series, each frame whole on one page with its numbers."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from matplan.documents.parts.page import scales
from matplan.documents.wall import clean_view
from matplan.documents.wall.stretches import divided
from matplan.documents.wall.view import wall_view
from matplan.drawing import clashes, svg
from matplan.job.records import ByTwoHooks
from matplan.lengths import Units
from matplan.walls.work import in_order, marks
from tests.documents.wall.test_clean_view import folio
from tests.documents.wall.test_wall_view import SWITCH, frame_numbers, planned, table_rows
from tests.making import mm
from tests.readback import Bundle, Lettering, Reading, Shape, read_svg
from tests.walls.building import furniture, keep

STAIR = ((mm(0), mm(0)), (mm(24000), mm(6000)))
LONG: list[dict[str, Any]] = [
    {
        "count": 33,
        "size": "20x3 m",
        "gap": "100 mm",
        "keep_clear": (SWITCH, keep("low socket", 9700, 200, 900, 100)),
        "furniture": (furniture("bench", 14000, 1800, 450),),
        "zone": {"left": 1000, "right": 19000, "bottom": 500, "top": 2800},
    },
    {"units": Units.IN, "count": 12, "size": "60x9 ft", "eye": "57 in", "gap": "20 in"},
    {"count": 3, "size": "90x4 m", "hang": ByTwoHooks(inset=mm(40), down=mm(30))},
    {"count": 24, "size": "24x9 m", "arrange": "stepped", "gap": "300 mm", "floor": STAIR},
    {"count": 120, "size": "30x5 m", "arrange": "grid", "columns": 60, "eye": "2.5 m", "gap": "20 mm"},
]


def bundles(page: Reading, name: str) -> list[Bundle]:
    return [part for part in page.named(name) if isinstance(part, Bundle)]


def breaks(page: Reading) -> list[float]:
    """Where the wall is broken off, on paper."""
    lines = [part for part in page.named("break-line") if isinstance(part, Shape)]
    return [line.bounds[0] + line.bounds[2] / 2 for line in lines]


@pytest.mark.parametrize("case", LONG)
def test_each_frame_is_whole_on_one_page_with_its_numbers(case: dict[str, Any]) -> None:
    made = planned(**case)
    (wall,), printer = made.walls, made.job.printer
    sheets = wall_view(made.job, wall, {})
    assert not [clash for sheet in sheets for clash in clashes.check(sheet)]
    assert min(text.size for sheet in sheets for text in sheet.texts()) >= 1.8
    views = [sheet for sheet in sheets if sheet.scale is not None]
    assert len(views) > 1
    assert {sheet.scale for sheet in views} <= set(scales(made.job.units))
    assert len({(sheet.scale, sheet.size) for sheet in views}) == 1
    assert [sheet.name for sheet in sheets[:2]] == ["wall landing", "wall landing 2"]
    pages = [read_svg(svg.render(sheet)) for sheet in views]
    hung = [(b.data["piece"], int(b.data["copy"])) for page in pages for b in bundles(page, "hung")]
    assert sorted(hung) == sorted((one.name, one.copy) for one in wall.frames)
    order = [str(n) for n in range(1, len(wall.frames) + 1)]
    assert [text.text for sheet in views for text in frame_numbers(sheet)] == order
    rows = table_rows(sheets)
    assert [row[0] for row in rows] == order
    assert [row[2] for row in rows] == [
        " · ".join(printer.tape(hook.left) for hook in one.hooks) for one in in_order(wall)
    ]
    hooks = [b for page in pages for b in bundles(page, "hook")]
    assert [b.data["number"] for b in hooks] == [mark.number for mark in marks(wall)]
    for place, page in enumerate(pages, 1):
        assert len(breaks(page)) == (place > 1) + (place < len(pages))
        edges = [(-1.0, 1e4)[side] for side in (0, 1)]
        for x in breaks(page):
            edges[x > page.size[0] / 2] = x
        for bundle in (*bundles(page, "hung"), *bundles(page, "frame-number")):
            for part in bundle.parts:
                if isinstance(part, Shape):
                    assert edges[0] < part.bounds[0] <= part.bounds[0] + part.bounds[2] < edges[1]
        tape = {part.text for b in bundles(page, "running") for part in b.parts if isinstance(part, Lettering)}
        own = {b.data["number"] for b in bundles(page, "hook")}
        assert tape >= {printer.tape(mark.hook.left) for mark in marks(wall) if mark.number in own}
        assert any(text.text.startswith(f"Stretch {place} of {len(pages)}, from ") for text in page.texts)


@pytest.mark.parametrize("case", LONG)
def test_the_clean_view_is_divided_too(case: dict[str, Any]) -> None:
    made = planned(**case)
    sheets = clean_view.drawn(folio(made), made.walls[0])
    assert not [clash for sheet in sheets for clash in clashes.check(sheet)]
    assert {sheet.scale for sheet in sheets} <= set(scales(made.job.units))
    assert len(sheets) > 1
    pages = [read_svg(svg.render(sheet)) for sheet in sheets]
    hung = [b.data for page in pages for b in bundles(page, "hung")]
    assert len(hung) == len(made.walls[0].frames)
    assert sum(len(breaks(page)) for page in pages) == 2 * (len(pages) - 1)


def test_a_wall_is_divided_where_neither_a_frame_nor_a_thing_is() -> None:
    made = planned(count=33, size="20x3 m", gap="100 mm", keep_clear=(keep("socket", 9700, 200, 900, 100),))
    wall = made.walls[0]
    first, second = divided(wall, 2, made.job.step)
    cut = first.right
    assert (first.left, cut, second.right) == (mm(0), second.left, mm(20000))
    assert cut == round(cut)
    assert not any(hung.spot.left < cut < hung.spot.right for hung in wall.frames)
    assert not 9700 < cut < 10600
    assert second.first == len(first.wall.frames) + 1


def test_a_wall_full_of_frames_is_not_divided_but_drawn_smaller() -> None:
    made = planned(count=100, size="33x3 m", gap="0 mm")
    # there is room at the row's ends alone
    assert [len(one.wall.frames) for one in divided(made.walls[0], 2, made.job.step)] == [0, 100]
    view, *_ = wall_view(made.job, made.walls[0], {})
    assert view.scale == Fraction(1, 100)
    assert len(bundles(read_svg(svg.render(view)), "hung")) == 100
