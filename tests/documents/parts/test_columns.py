"""Tables in columns and over pages: every row once, none cut off, each page as large as its own area."""

from __future__ import annotations

from itertools import chain, repeat

from hypothesis import given
from hypothesis import strategies as st

from matplan.documents.parts.columns import least_height, set_in, width_of
from matplan.drawing.blocks import Column, Table
from matplan.drawing.dimensions import united
from matplan.drawing.items import Area, Group, Item, Rect, Text


def table(rows: int, name: str) -> Table:
    return Table((Column(head="No."), Column(head="What")), [(f"{name}{n}", "so and so") for n in range(rows)])


def texts(items: tuple[Item, ...]) -> list[Text]:
    found: list[Text] = []
    for item in items:
        if isinstance(item, Group):
            found += texts(item.items)
        elif isinstance(item, Text):
            found.append(item)
    return found


def bounds(items: tuple[Item, ...]) -> Area:
    """The heads' grounds and the texts of a page."""
    areas = [Area(x=t.at[0], y=t.at[1], width=0.0, height=t.size) for t in texts(items)]
    for group in (item for item in items if isinstance(item, Group)):
        areas += [Area(x=r.x, y=r.y, width=r.width, height=r.height) for r in group.items if isinstance(r, Rect)]
    return united(areas)


def rows_of(pages: list[tuple[Item, ...]]) -> list[str]:
    return [t.text for page in pages for t in texts(page) if t.text[0] in "abc" and t.text[1:].isdigit()]


@given(st.lists(st.integers(1, 40), min_size=1, max_size=3), st.floats(60, 300), st.floats(30, 200))
def test_every_row_is_set_once_and_in_order(counts: list[int], width: float, height: float) -> None:
    tables = [table(count, "abc"[n]) for n, count in enumerate(counts)]
    pages = list(set_in(tables, repeat(Area(x=10.0, y=20.0, width=width, height=height))))
    assert rows_of(pages) == [f"{'abc'[n]}{row}" for n, count in enumerate(counts) for row in range(count)]
    for page in pages:
        area = bounds(page)
        assert area.x >= 10 - 1e-6
        assert area.right <= 10 + width + 1e-6
        assert area.bottom <= 20 + height + 1e-6


def test_each_page_is_as_large_as_its_own_area() -> None:
    """A strip below a drawing first, then whole pages."""
    strip, page = Area(x=0.0, y=200.0, width=60.0, height=40.0), Area(x=0.0, y=0.0, width=60.0, height=240.0)
    pages = list(set_in([table(60, "a")], chain([strip], repeat(page))))
    heights = [bounds(items).height for items in pages]
    assert heights[0] <= 40
    assert max(heights[1:]) > 200
    assert rows_of(pages) == [f"a{n}" for n in range(60)]


def test_the_least_height_shares_the_rows_among_the_columns() -> None:
    made = table(8, "a")
    one = least_height([made], sum(made.widths) + 1, 500.0)
    two = least_height([made], 2 * sum(made.widths) + 8, 500.0)
    assert one == made.head_height + sum(made.heights)
    assert two is not None
    assert abs(two - made.head_height - sum(made.heights[:4])) < 3.0
    assert least_height([made], sum(made.widths) + 1, 20.0) is None
    assert width_of([made], 500.0) == sum(made.widths)
