"""Makes the invented pictures of this scenario, the empty wall among them: `python photos.py [FOLDER]`, by default into
`photos/` beside this file.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))  # the darkroom and the studies lie beside the scenarios

from darkroom import Picture, Plane, across_and_down, clouded, developed, glow, laid, polygons
from studies import QUALITY, make

PICTURES = {
    "shore": (142, 3000, 2000, "dusk"),
    "first-summer": (151, 1800, 1800, "noon"),
    "moon-walk": (163, 1800, 1800, "night"),
    "grandmothers-hill": (178, 1800, 1800, "dawn"),
    "fog-day": (185, 1800, 1800, "fog"),
}

type Place = tuple[float, float, float]
"""In the room, in mm: from the wall's left edge, up from the floor, out from the wall."""

WIDTH, HEIGHT = 2400, 1680
WALL = (3600.0, 2500.0)
EYE: Place = (2350.0, 1480.0, 4300.0)
"""Where the camera stands …"""
AIM: Place = (1770.0, 1190.0, 0.0)
"""… and what it looks at."""
FOCAL = 2150.0
"""Its focal length in pixels."""


def _axes() -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return the camera's directions: to the right, up, ahead."""
    ahead = np.subtract(AIM, EYE)
    ahead /= np.linalg.norm(ahead)
    right = np.cross(ahead, (0, 1, 0))
    right /= np.linalg.norm(right)
    return right, np.cross(right, ahead), ahead


def seen(place: Place) -> tuple[float, float]:
    """Return the pixel where a place of the room is seen."""
    right, up, ahead = _axes()
    way = np.subtract(place, EYE)
    depth = way @ ahead
    return float(WIDTH / 2 + FOCAL * (way @ right) / depth), float(HEIGHT / 2 - FOCAL * (way @ up) / depth)


def corners() -> list[tuple[float, float]]:
    """Return where the wall's corners are seen, clockwise from the upper left."""
    wide, high = WALL
    return [seen((x, y, 0)) for x, y in ((0, high), (wide, high), (wide, 0), (0, 0))]


def _patch(*places: Place, blur: float = 0) -> Plane:
    return polygons(WIDTH, HEIGHT, [seen(place) for place in places], blur=blur)


def _level(y: float, left: float, right: float, back: float, front: float) -> list[Place]:
    return [(left, y, back), (right, y, back), (right, y, front), (left, y, front)]


def _upright(out: float, left: float, right: float, low: float, high: float) -> list[Place]:
    return [(left, high, out), (right, high, out), (right, low, out), (left, low, out)]


def room() -> Picture:
    """Return the empty room: wall, side walls, ceiling, floor with its boards, skirting."""
    wide, high = WALL
    near = EYE[2] - 900  # what lies nearer is out of sight
    x, y = across_and_down(WIDTH, HEIGHT)
    light = 0.5 + 0.5 * np.clip(1 - np.hypot((x - 700) / 2300, (y - 500) / 1900), 0, 1)
    picture = np.ones((HEIGHT, WIDTH, 3), np.float32) * np.array((0.80, 0.80, 0.76), np.float32)
    picture = laid(picture, (196, 203, 196), _patch(*_upright(0, 0, wide, 0, high)))
    picture = laid(picture, (172, 180, 174), _patch((0, high, 0), (0, high, near), (0, 0, near), (0, 0, 0)))
    picture = laid(picture, (186, 192, 186), _patch((wide, high, 0), (wide, high, near), (wide, 0, near), (wide, 0, 0)))
    picture = laid(picture, (236, 235, 230), _patch(*_level(high, 0, wide, 0, near)))
    picture = laid(picture, (166, 132, 98), _patch(*_level(0, 0, wide, 0, near)))
    for number in range(1, 20):  # the gaps between the floor's boards
        across = number * wide / 20
        picture = laid(picture, (122, 94, 68), 0.7 * _patch(*_level(0, across - 2, across + 2, 0, near)))
    for low, up, colour in ((0, 90, (238, 237, 232)), (90, 97, (206, 206, 200))):
        picture = laid(picture, colour, _patch(*_upright(0, 0, wide, low, up)))
        for side in (0.0, wide):
            picture = laid(picture, colour, _patch((side, up, 0), (side, up, near), (side, low, near), (side, low, 0)))
    for ends in (((0, 0, 0), (0, high, 0)), ((wide, 0, 0), (wide, high, 0))):  # dim corners
        picture = laid(picture, (120, 126, 122), 0.5 * _soft(ends))
    tone = clouded(7, WIDTH, HEIGHT, 4, 3, 5)
    return picture * (0.72 + 0.34 * light + 0.012 * tone)[..., None]


def _soft(ends: Sequence[Place]) -> Plane:
    (x1, y1), (x2, y2) = (seen(end) for end in ends)
    return polygons(WIDTH, HEIGHT, [(x1 - 8, y1), (x1 + 8, y1), (x2 + 8, y2), (x2 - 8, y2)], blur=14)


def furnished(picture: Picture) -> Picture:
    """Return the room with a rug, a sofa before the wall and a lamp beside it."""
    picture = laid(picture, (188, 178, 160), _patch(*_level(0, 500, 3100, 1000, 2600)))
    picture = laid(picture, (150, 96, 78), _patch(*_level(0, 560, 3040, 1060, 2540)))
    picture = laid(picture, (178, 128, 104), _patch(*_level(0, 640, 2960, 1140, 2460)))
    picture = laid(picture, (60, 56, 50), 0.55 * _patch(*_level(0, 760, 2840, 60, 960), blur=18))
    picture = laid(picture, (84, 90, 88), 0.35 * _patch(*_upright(0, 740, 2840, 40, 790), blur=22))
    for left in (840, 2700):
        for out in (110, 860):
            picture = laid(picture, (78, 58, 44), _patch(*_upright(out, left, left + 60, 0, 140)))
    cloth, lit, dim = (92, 112, 124), (122, 142, 152), (70, 86, 98)
    picture = laid(picture, dim, _patch(*_upright(220, 800, 2800, 120, 800)))
    picture = laid(picture, lit, _patch(*_level(830, 800, 2800, 40, 230)))
    picture = laid(picture, cloth, _patch(*_upright(230, 800, 2800, 400, 830)))
    picture = laid(picture, dim, _patch(*_upright(860, 985, 2615, 300, 460)))
    for left in (985, 1805):
        picture = laid(picture, lit, _patch(*_level(470, left, left + 810, 240, 870)))
        picture = laid(picture, cloth, _patch(*_upright(870, left, left + 810, 315, 470)))
        picture = laid(picture, dim, _patch(*_upright(872, left + 804, left + 810, 330, 470), blur=1))
    picture = laid(picture, dim, _patch(*_upright(880, 800, 2800, 120, 330)))
    for left in (800, 2620):
        inner = left + 180 if left < 2000 else left
        picture = laid(picture, dim, _patch((inner, 620, 60), (inner, 620, 900), (inner, 120, 900), (inner, 120, 60)))
        picture = laid(picture, lit, _patch(*_level(620, left, left + 180, 60, 900)))
        picture = laid(picture, cloth, _patch(*_upright(900, left, left + 180, 120, 620)))
    for middle, colour in ((1180, (196, 150, 92)), (2450, (214, 204, 186))):
        half = [(0, 492), (195, 478), (184, 640), (200, 838), (0, 822)]
        cushion = [*half, *((-across, up) for across, up in half[-2:0:-1])]
        places = [(middle + across, up, 520 - 0.32 * up) for across, up in cushion]
        picture = laid(picture, dim, 0.5 * _patch(*((x + 14, y - 14, out) for x, y, out in places), blur=8))
        picture = laid(picture, colour, _patch(*places, blur=1))
    picture = laid(picture, (255, 240, 212), 0.3 * glow(WIDTH, HEIGHT, seen((3205, 1640, 200)), 330))
    picture = laid(picture, (70, 66, 60), _patch(*_upright(420, 3195, 3213, 20, 1500)))
    picture = laid(picture, (70, 66, 60), _patch(*_level(15, 3080, 3330, 300, 540)))
    shade = [(3060, 1480), (3350, 1480), (3290, 1800), (3120, 1800)]
    return laid(picture, (250, 236, 208), _patch(*((x, y, 420) for x, y in shade), blur=1.5))


def wall(folder: Path) -> None:
    """Write the photograph of the wall, and say where its corners are seen."""
    path = folder / "wall.jpg"
    developed(furnished(room()), 11, grain=0.012).save(path, "JPEG", quality=QUALITY + 8, optimize=True)
    places = [[round(part) for part in corner] for corner in corners()]
    sys.stdout.write(f"{path.name}: {path.stat().st_size // 1024} KB, corners = {places}\n")


if __name__ == "__main__":
    target = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parent / "photos"
    target.mkdir(parents=True, exist_ok=True)
    wall(target)
    make(target, PICTURES)
