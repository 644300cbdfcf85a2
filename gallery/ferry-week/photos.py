"""Makes the pictures of an invented week by an invented sea: `python photos.py [FOLDER]`, by default into `photos/`
beside this file.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))  # the darkroom and the studies lie beside the scenarios

from darkroom import (
    Picture,
    Plane,
    across_and_down,
    clouded,
    curve,
    developed,
    drawn,
    glow,
    laid,
    mirrored,
    polygons,
    ridge,
    ripples,
    shaded,
)
from PIL import Image, ImageDraw
from studies import HOURS, QUALITY, study

type Place = tuple[float, float]


def ferry(width: int, height: int, bow: Place, length: float) -> tuple[Plane, Plane]:
    """Two masks of a small ferry, bow to the left, on the waterline at `bow`: its hull, and all of it that is white."""
    x, y = bow

    def outline(*points: Place) -> list[Place]:
        return [(x + across * length, y - up * length) for across, up in points]

    hull = polygons(width, height, outline((0.04, 0), (0, 0.1), (0.12, 0.075), (0.97, 0.075), (0.95, 0)))
    white = polygons(
        width,
        height,
        outline((0.16, 0.075), (0.18, 0.15), (0.9, 0.15), (0.92, 0.075)),
        outline((0.2, 0.15), (0.22, 0.205), (0.74, 0.205), (0.76, 0.15)),
        outline((0.24, 0.205), (0.26, 0.265), (0.38, 0.265), (0.39, 0.205)),
        outline((0.31, 0.265), (0.31, 0.38), (0.316, 0.38), (0.316, 0.265)),
        outline((0.55, 0.205), (0.56, 0.3), (0.64, 0.3), (0.65, 0.205)),
    )
    return hull, white


def sea(
    seed: int, width: int, height: int, hour: str, *, level: float = 0.56, boat: tuple[float, float] | None = None
) -> Image.Image:
    """Open water with islands at one of the studies' hours; the horizon lies so far down, a ferry at that place is so
    long, in parts.
    """
    colours, horizon = HOURS[hour], int(height * level)
    _, y = across_and_down(width, height)
    scene: Picture = shaded(
        y / horizon + 0.06 * clouded(seed, width, height, 3, 4, 4),
        [(0, colours.sky[0]), (0.6, colours.sky[1]), (1.05, colours.sky[2])],
    )
    sun, radius = (width * (0.25 + 0.1 * (seed % 6)), horizon * (0.5 + 0.06 * (seed % 5))), min(width, height) * 0.042
    scene = laid(scene, colours.light, 0.55 * glow(width, height, sun, radius * 6))
    scene = laid(scene, colours.light, np.clip((glow(width, height, sun, radius) - 0.36) * 30, 0, 1))
    for nth, (nearness, rise) in enumerate(((0.15, 0.035), (0.45, 0.0), (0.8, -0.05))):
        shade = tuple(round(f + (n - f) * nearness) for f, n in zip(colours.far, colours.near, strict=True))
        line = horizon - height * rise
        scene = laid(
            scene, (shade[0], shade[1], shade[2]), ridge(seed + 17 * nth, width, height, line, height * 0.075, 3 + nth)
        )
    waves = ripples(seed + 5, width, height - horizon, wave=1.0, lying=2.4)
    if boat is not None:
        middle, part = boat
        hull, white = ferry(width, height, (width * (middle - part / 2), horizon + height * 0.004), width * part)
        scene = laid(scene, tuple(round(n * 0.7) for n in colours.near), hull)
        scene = laid(scene, tuple(round(0.35 * n + 165) for n in colours.sky[0]), white)
    water = mirrored(scene, horizon, waves, far=10, near=170, squeeze=1.15)
    depth = np.broadcast_to(np.linspace(0, 1, height - horizon, dtype=np.float32)[:, None], waves.shape)
    water = laid(water, shaded(depth, [(0, colours.ground[0]), (1, colours.near)]), 0.2 + 0.45 * depth)
    x, _ = across_and_down(width, height - horizon)
    path = np.exp(-(((x - sun[0] - waves * (6 + 50 * depth)) / (radius * (0.7 + 1.9 * depth))) ** 2)) * np.clip(
        waves + 0.4, 0, 1
    )
    scene[horizon:] = laid(water, colours.light, np.clip(path * (0.8 - 0.6 * depth), 0, 0.8))
    return developed(scene, seed + 9, grain=0.009)


def still_life(width: int, height: int) -> Image.Image:
    """A jug and three lemons on a table by a window, upright."""
    x, y = across_and_down(width, height)
    table = height * 0.72
    wall = shaded(
        np.hypot(x - width * 0.2, y - height * 0.25) / height + 0.05 * clouded(4, width, height, 4, 5, 4),
        [(0, (206, 204, 190)), (0.5, (150, 156, 150)), (1, (84, 92, 94))],
    )
    wood = shaded(
        x / width + 0.12 * clouded(9, width, height, 3, 90, 3),
        [(-0.2, (176, 138, 98)), (0.5, (146, 108, 74)), (1.2, (82, 58, 44))],
    )
    scene = laid(wall, wood, np.clip(y - table, 0, 1))

    def round_thing(
        scene: Picture, mask: Plane, middle: Place, reach: float, colours: tuple[tuple[int, int, int], ...]
    ) -> Picture:
        light = np.hypot(x - middle[0] + reach * 0.45, y - middle[1] + reach * 0.4) / reach
        return laid(scene, shaded(light, [(0, colours[0]), (0.7, colours[1]), (1.7, colours[2])]), mask)

    def oval(middle: Place, across: float, down: float, blur: float = 1) -> Plane:
        def draw(pen: ImageDraw.ImageDraw, scale: float) -> None:
            left, top = (middle[0] - across) * scale, (middle[1] - down) * scale
            pen.ellipse((left, top, left + 2 * across * scale, top + 2 * down * scale), fill=255)

        return drawn(width, height, draw, blur=blur)

    unit = width / 100
    foot = (width * 0.46, height * 0.8)
    for middle, across in (
        (foot, 24),
        ((width * 0.68, height * 0.845), 13),
        ((width * 0.34, height * 0.875), 13),
        ((width * 0.56, height * 0.9), 13),
    ):
        shadow = oval((middle[0] + unit * 10, middle[1] + unit * 1), unit * (across + 6), unit * 5, blur=unit * 2.5)
        scene = laid(scene, (40, 28, 24), 0.55 * shadow)
    right = [
        *curve((9, 0), (24, -4), (24, -36), (11, -50)),
        *curve((11, -50), (8, -56), (9, -62), (12, -66)),
    ]
    jug = [
        (foot[0] + across * unit, foot[1] + up * unit)
        for across, up in [*right, *((-across, up) for across, up in reversed(right))]
    ]
    spout = [(foot[0] + across * unit, foot[1] + up * unit) for across, up in ((-11, -66), (-18, -68.5), (-10, -57))]
    handle = curve((10, -60), (34, -62), (34, -26), (17, -22))
    inner = curve((11, -55), (27, -56), (28, -31), (18, -27))
    loop = [(foot[0] + across * unit, foot[1] + up * unit) for across, up in [*handle, *reversed(inner)]]
    body = polygons(width, height, jug, spout, loop, blur=1)
    scene = round_thing(
        scene, body, (foot[0], foot[1] - 28 * unit), unit * 27, ((244, 242, 232), (188, 198, 206), (62, 82, 108))
    )
    band = body * np.clip(
        1 - np.abs(y - (foot[1] - 30 * unit) - 0.0016 * (x - foot[0]) ** 2 / unit * 3) / (unit * 1.4), 0, 1
    )
    scene = laid(scene, (44, 84, 140), 0.8 * band)
    scene = laid(scene, (52, 56, 62), oval((foot[0], foot[1] - 66 * unit), unit * 11.4, unit * 1.8))
    for middle in ((width * 0.68, height * 0.83), (width * 0.34, height * 0.86), (width * 0.56, height * 0.885)):
        fruit = np.maximum(
            oval(middle, unit * 10.5, unit * 8.4),
            oval((middle[0] + unit * 9.6, middle[1] + unit * 0.6), unit * 2.6, unit * 2),
        )
        scene = round_thing(scene, fruit, middle, unit * 11, ((255, 244, 170), (240, 198, 60), (146, 96, 24)))
    return developed(scene, 77, grain=0.009)


PICTURES: Mapping[str, Callable[[], Image.Image]] = {
    "harbour": lambda: sea(3, 2160, 1440, "dawn", boat=(0.29, 0.32)),
    "crossing": lambda: sea(32, 1200, 1800, "noon", level=0.62, boat=(0.66, 0.34)),
    "islands": lambda: sea(14, 2200, 1100, "fog", level=0.6),
    "hills": lambda: study(27, 1200, 1500, "noon"),
    "kitchen": lambda: still_life(1200, 1500),
    "moor": lambda: study(21, 1500, 1500, "fog"),
    "evening": lambda: sea(35, 1800, 1200, "dusk", boat=(0.3, 0.2)),
    "dawn": lambda: sea(53, 1500, 1500, "dawn"),
    "noon": lambda: sea(62, 1200, 1800, "noon", level=0.66, boat=(0.55, 0.3)),
    "night": lambda: sea(70, 1500, 1500, "night"),
}


def make(folder: Path) -> None:
    """Writes every picture into that folder."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, taken in PICTURES.items():
        path = folder / f"{name}.jpg"
        taken().save(path, "JPEG", quality=QUALITY, optimize=True, dpi=(300, 300))
        sys.stdout.write(f"{path.name}: {path.stat().st_size // 1024} KB\n")


if __name__ == "__main__":
    make(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parent / "photos")
