"""Distances between frames and to furniture: as long as the plan has them, in gaps with room, and never on a frame."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from typing import Any

import pytest

from matplan.documents.wall.view import wall_view
from matplan.drawing import clashes, lettering, svg
from matplan.drawing.items import Text
from matplan.planning import Plan
from tests.documents.reading import bounds_of, check_dimensions
from tests.documents.wall.test_wall_view import groups, planned
from tests.readback import Bundle, Lettering, read_svg
from tests.walls.building import furniture, keep, pin

SOFA = furniture("sofa", 900, 1800, 800)


def distances(made: Plan) -> list[tuple[tuple[Fraction, ...], str]]:
    """The box and the figure of each; all lie where they measure, and nothing on the sheet clashes."""
    sheet, *_ = wall_view(made.job, made.walls[0], {})
    assert clashes.check(sheet) == ()
    reading = read_svg(svg.render(sheet))
    check_dimensions(reading, made.job.printer)
    found = []
    for part in reading.named("distance"):
        assert isinstance(part, Bundle)
        assert part.box is not None
        (text,) = (inner.text for inner in part.parts if isinstance(inner, Lettering))
        found.append((part.box, text))
    return found


def test_neighbours_in_a_row_have_their_gap_between_them_and_no_other_pair_has() -> None:
    made = planned()
    first, second, third = (hung.spot for hung in made.walls[0].frames)
    found = distances(made)
    assert [text for _, text in found] == ["60", "60"]
    assert [(box[0], box[0] + box[2]) for box, _ in found] == [(first.right, second.left), (second.right, third.left)]
    for box, _ in found:
        assert second.bottom < box[1] < second.top
        assert box[3] == 0


def test_two_frames_with_a_lower_one_between_have_no_distance() -> None:
    made = planned(hung=((0, 1), (2, 1), (1, 1)), arrange="flush-base")  # the middle one is lower than its neighbours
    assert [text for _, text in distances(made)] == ["60", "60"]


def test_the_lowest_frame_above_a_sofa_has_its_distance_from_it() -> None:
    hung = tuple((0, copy) for copy in range(1, 5))
    made = planned(hung=hung, arrange="grid", columns=2, gap="200 mm", furniture=(SOFA,), eye="1600 mm")
    bottom = min(hung.spot.bottom for hung in made.walls[0].frames)
    found = distances(made)
    texts = Counter(text for _, text in found)
    assert texts.pop("200") == 2  # the eye line runs where the upright ones would stand
    (to_sofa,) = ((box, text) for box, text in found if text != "200")
    assert to_sofa[0][1] == 800
    assert to_sofa[0][3] == bottom - 800
    assert to_sofa[1] == made.job.printer.number(bottom - 800)


@pytest.mark.parametrize(
    "changes",
    [
        {"count": 6, "size": "5x2.4 m", "arrange": "flush-base"},
        {"count": 12, "size": "4x2.6 m", "arrange": "grid", "furniture": (SOFA,)},
        {"count": 40, "size": "9x3 m", "arrange": "grid", "columns": 13, "gap": "100 mm"},
        {"count": 9, "arrange": "cluster", "keep_clear": (keep("light switch", 200, 1050, 80, 80, margin=50),)},
        {"count": 5, "arrange": "stepped", "rise": 120, "keep_clear": (keep("socket", 1700, 300, 80, 80),)},
    ],
)
def test_every_gap_of_a_wall_is_measured_where_it_finds_room_and_nothing_lies_on_a_frame(
    changes: dict[str, Any],
) -> None:
    made = planned(**changes)
    found = distances(made)
    assert len(found) >= 2
    page = wall_view(made.job, made.walls[0], {})[0]
    frames = [bounds_of(part) for part in read_svg(svg.render(page)).named("frame-outer")]
    texts = [item for group in groups(page.items, "distance") for item in group.items if isinstance(item, Text)]
    assert min(text.size for text in texts) >= 1.8
    for text in texts:
        corners = lettering.setting(text).corners()
        (left, right), (top, bottom) = ((min(c), max(c)) for c in zip(*corners, strict=True))
        assert not [1 for x, y, wide, high in frames if left < x + wide and x < right and top < y + high and y < bottom]


def test_frames_above_one_another_have_the_distance_between_them() -> None:
    made = planned(
        arrange="placed", at=(pin("Slipway", 100, 900), pin("Gull", 150, 1600), pin("Coil", 1200, 900)), eye="2000 mm"
    )
    lower, upper, _ = (hung.spot for hung in made.walls[0].frames)
    ((box, text),) = (one for one in distances(made) if not one[0][2])
    assert (box[1], box[3]) == (lower.top, upper.bottom - lower.top)
    assert text == made.job.printer.number(upper.bottom - lower.top)


def test_a_gap_narrower_than_a_figure_has_none() -> None:
    assert distances(planned(gap="20 mm", size="9x3 m")) == []
