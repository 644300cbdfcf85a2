"""Pictures in perspective: each pixel shows the part of the picture that lies there."""

from __future__ import annotations

import io
from fractions import Fraction

import numpy as np
import pytest
from PIL import Image

from matplan.pack.perspective import in_perspective
from matplan.walls.perspective import Perspective

CORNERS = ((20, 10), (170, 40), (160, 130), (30, 150))


def chequered(size: tuple[int, int] = (400, 300)) -> bytes:
    """Return a picture whose red grows to the right and whose green grows downwards."""
    across, down = np.meshgrid(np.linspace(0, 255, size[0]), np.linspace(0, 255, size[1]))
    out = io.BytesIO()
    Image.fromarray(np.dstack((across, down, np.full_like(across, 90))).round().astype(np.uint8)).save(out, "PNG")
    return out.getvalue()


def exact(corners: tuple[tuple[float, float], ...]) -> tuple[tuple[Fraction, Fraction], ...]:
    return tuple((Fraction(x), Fraction(y)) for x, y in corners)


def back(corners: tuple[tuple[float, float], ...]) -> np.ndarray:
    """Return the matrix from pixels to the unit square: eight equations, solved by elimination."""
    rows, right = [], []
    for (u, v), (x, y) in zip(((0, 0), (1, 0), (1, 1), (0, 1)), corners, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        right += [u, v]
    return np.append(np.linalg.solve(rows, right), 1).reshape(3, 3)


@pytest.mark.parametrize("part", [1.0, 0.5, 2.0])
def test_each_pixel_shows_what_lies_there(part: float) -> None:
    content, (left, top, width, height) = in_perspective(chequered(), exact(CORNERS), (200, 200), part)
    assert (left, top, width, height) == (20, 10, 150, 140)
    with Image.open(io.BytesIO(content)) as opened:
        seen = np.asarray(opened, float)
    assert seen.shape[:2] == (round(height * part), round(width * part))
    matrix, off = back(CORNERS), list[np.ndarray]()
    for row in range(0, seen.shape[0], 5):
        for column in range(0, seen.shape[1], 5):
            place = np.array((left + (column + 0.5) / part, top + (row + 0.5) / part, 1))
            u, v, w = matrix @ place
            if 0.02 < u / w < 0.98 and 0.02 < v / w < 0.98:
                off.append(seen[row, column, :2] - (255 * u / w, 255 * v / w))
    assert len(off) > 100
    assert np.abs(off).max() < 9  # JPEG and filters
    assert np.abs(np.mean(off, axis=0)).max() < 0.6 / part  # half a pixel is 0.8


def test_nothing_dark_comes_in_over_the_edges() -> None:
    out = io.BytesIO()
    Image.new("RGB", (300, 300), "#f0e8d8").save(out, "PNG")
    content, (left, top, _, _) = in_perspective(out.getvalue(), exact(CORNERS), (200, 200), 1.0)
    matrix = back(CORNERS)
    with Image.open(io.BytesIO(content)) as opened:
        for row in range(opened.height):
            for column in range(opened.width):
                u, v, w = matrix @ np.array((left + column + 0.5, top + row + 0.5, 1))
                if 0 < u / w < 1 and 0 < v / w < 1:
                    assert min(opened.getpixel((column, row))) > 190  # type: ignore[arg-type]


def test_of_a_picture_that_reaches_beyond_the_photograph_what_lies_in_it_is_made() -> None:
    beyond = ((-90_000, -40_000), (150, 40), (150, 130), (-90_000, 70_000))
    content, box = in_perspective(chequered(), exact(beyond), (200, 180), 1.0)
    assert box == (0, 0, 150, 180)
    with Image.open(io.BytesIO(content)) as opened:
        assert opened.size == (150, 180)


def test_a_box_whose_first_corner_lies_on_the_horizon_is_no_hindrance() -> None:
    """Two sides of the picture meet in the upper left corner of its box."""
    corners = ((200, 0), (0, 500), (0, 100), (100, 0))
    content, box = in_perspective(chequered(), exact(corners), (600, 600), 1.0)
    assert box == (0, 0, 200, 500)
    u, v = Perspective.onto(exact(corners)).inverse.at(Fraction(141, 2), Fraction(341, 2))
    with Image.open(io.BytesIO(content)) as opened:
        red, green, _ = opened.getpixel((70, 170))  # type: ignore[misc]
    assert (red, green) == pytest.approx((float(255 * u), float(255 * v)), abs=9)
