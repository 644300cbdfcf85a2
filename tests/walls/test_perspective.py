"""The map from a wall to its photograph, against cameras that are worked out by themselves (school geometry: a point
of space is seen where the line from the lens through it meets the plane of the picture).
"""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest
from numpy.typing import NDArray

from matplan.lengths import Size, turns
from matplan.walls.perspective import NotConvex, Perspective, Shown, shown
from matplan.walls.records import Spot
from tests.walls.photographed import photographed

WALL = Spot(left=Fraction(0), bottom=Fraction(0), width=Fraction(3600), height=Fraction(2400))


class Camera:
    """A camera somewhere before the wall that looks at some of it."""

    def __init__(self, seed: int) -> None:
        random = np.random.default_rng(seed)
        self.eye = np.array((random.uniform(-1500, 5000), random.uniform(300, 2200), random.uniform(2500, 7000)))
        aim = np.array((random.uniform(1200, 2400), random.uniform(900, 1500), 0.0))
        self.ahead = (aim - self.eye) / np.linalg.norm(aim - self.eye)
        level = np.cross(self.ahead, (0, 1, 0))
        level /= np.linalg.norm(level)
        roll = random.uniform(-0.1, 0.1)
        self.right = np.cos(roll) * level + np.sin(roll) * np.cross(level, self.ahead)
        self.focal = random.uniform(1500, 4000)

    def sees(self, x: float, y: float) -> tuple[float, float]:
        """Return the pixel where a point of the wall is seen."""
        way = np.array((x, y, 0.0)) - self.eye
        up = np.cross(self.right, self.ahead)
        depth = way @ self.ahead
        return 3000 + self.focal * (way @ self.right) / depth, 2000 - self.focal * (way @ up) / depth


def corners_of(camera: Camera, of: Spot) -> list[tuple[Fraction, Fraction]]:
    """Return where the corners of a rectangle are seen, clockwise from the upper left."""
    places = ((of.left, of.top), (of.right, of.top), (of.right, of.bottom), (of.left, of.bottom))
    return [tuple(map(Fraction, camera.sees(float(x), float(y)))) for x, y in places]  # type: ignore[misc]


@pytest.mark.parametrize("seed", range(60))
def test_every_point_of_the_wall_is_seen_where_the_camera_sees_it(seed: int) -> None:
    camera, random = Camera(seed), np.random.default_rng(1000 + seed)
    left, bottom = random.uniform(0, 1200), random.uniform(0, 900)
    of = Spot(
        left=Fraction(left),
        bottom=Fraction(bottom),
        width=Fraction(random.uniform(900, 2000)),
        height=Fraction(random.uniform(700, 1400)),
    )
    seen = Perspective.of(of, corners_of(camera, of))
    for x, y in random.uniform((0, 0), (3600, 2400), (20, 2)):
        there = seen.at(Fraction(x), Fraction(y))
        assert tuple(map(float, there)) == pytest.approx(camera.sees(x, y), abs=1e-5)
        assert seen.inverse.at(*there) == (Fraction(x), Fraction(y))  # exact both ways


@pytest.mark.parametrize("seed", range(10))
def test_the_map_is_that_of_eight_equations(seed: int) -> None:
    """The usual way to it: two equations for each corner, solved together."""
    corners = corners_of(Camera(seed), WALL)
    square = ((0, 0), (1, 0), (1, 1), (0, 1))
    rows, right = [], []
    for (u, v), (x, y) in zip(square, corners, strict=True):
        rows += [[u, v, 1, 0, 0, 0, -u * x, -v * x], [0, 0, 0, u, v, 1, -u * y, -v * y]]
        right += [x, y]
    solved: NDArray[np.float64] = np.linalg.solve(np.array(rows, float), np.array(right, float))
    made = Perspective.onto(corners)
    assert [float(part) for row in (made.across, made.down, made.depth) for part in row] == pytest.approx(
        [*solved, 1.0], rel=1e-6, abs=1e-6
    )


def test_corners_are_met_exactly_and_straight_lines_stay_straight() -> None:
    corners = [(Fraction(x), Fraction(y)) for x, y in ((412, 300), (3210, 355), (3180, 2400), (440, 2380))]
    seen = Perspective.of(WALL, corners)
    assert [seen.at(x, y) for x, y in ((0, 2400), (3600, 2400), (3600, 0), (0, 0))] == corners  # type: ignore[arg-type]
    a, b, c = (seen.at(Fraction(x), Fraction(2 * x + 100)) for x in (200, 500, 900))
    assert (b[0] - a[0]) * (c[1] - a[1]) == (b[1] - a[1]) * (c[0] - a[0])


@pytest.mark.parametrize(
    "corners",
    [
        ((0, 0), (0, 9), (9, 9), (9, 0)),  # the other way round
        ((0, 0), (9, 9), (9, 0), (0, 9)),  # crossing
        ((0, 0), (9, 0), (2, 2), (0, 9)),  # one within the others
        ((0, 0), (5, 0), (9, 0), (0, 9)),  # three in a line
        ((0, 0), (0, 0), (9, 9), (0, 9)),  # one twice
    ],
)
def test_corners_of_no_rectangle_are_refused(corners: tuple[tuple[int, int], ...]) -> None:
    with pytest.raises(NotConvex):
        Perspective.onto([(Fraction(x), Fraction(y)) for x, y in corners])


def test_turns_tell_clockwise_corners() -> None:
    square = [(Fraction(x), Fraction(y)) for x, y in ((0, 0), (4, 0), (4, 4), (0, 4))]
    assert turns(square) == (Fraction(16),) * 4
    assert all(turn < 0 for turn in turns(square[::-1]))


@pytest.mark.parametrize(
    ("left", "much"),
    [(1000, Shown.WHOLE), (3100, Shown.PART), (-100, Shown.PART), (3700, Shown.NOT), (-40_000, Shown.NOT)],
)
def test_a_photograph_shows_a_frame_whole_in_part_or_not(left: int, much: Shown) -> None:
    """A point x mm from the wall's left edge is seen at x ÷ (1 + x/32 400) pixels; the photograph ends at 3000, and
    what lies at -40 000 mm is behind the camera (derived).
    """
    photo = photographed(Size(Fraction(3600), Fraction(2400)), pixels=(3000, 2400))
    frame = Spot(left=Fraction(left), bottom=Fraction(1000), width=Fraction(300), height=Fraction(400))
    assert shown(photo, frame) is much
