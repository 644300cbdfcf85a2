"""Blocks that flow over pages: they stand closer together where that saves a page, and only there."""

from __future__ import annotations

import pytest

from matplan.documents.parts.running import Running, flowed
from matplan.drawing.blocks import Block
from matplan.drawing.items import Area, Text

AREA = Area(x=10.0, y=10.0, width=100.0, height=100.0)


def pages(count: int, high: float) -> list[list[float]]:
    """The tops of so many blocks of that height, page by page; 4 mm lie between two."""

    def fill(running: Running) -> None:
        for _ in range(count):
            running.add(lambda x, y, width: Block(
                items=(Text(at=(x, y), text="block"),), area=Area(x=x, y=y, width=width, height=high)
            ))  # fmt: skip

    return [[item.at[1] for item in page if isinstance(item, Text)] for page in flowed(AREA, fill)]


@pytest.mark.parametrize(
    ("count", "high", "gap", "on"),
    [
        (7, 10.0, 4.0, [7]),  # 7 × 10 + 6 × 4 = 94 ≤ 100
        (8, 10.0, 2.0, [8]),  # 8 × 10 + 7 × 4 = 108, closer 94
        (9, 10.0, 4.0, [7, 2]),  # 9 × 10 + 8 × 2 = 106: closer saves no page
        (16, 10.0, 2.0, [8, 8]),
    ],
)
def test_blocks_stand_closer_only_where_that_saves_a_page(count: int, high: float, gap: float, on: list[int]) -> None:
    made = pages(count, high)
    assert [len(page) for page in made] == on
    assert made[0][1] - made[0][0] == high + gap
