"""What the invented photographs are made with: noise, masks, light, water and film, in floating point.

All noise comes from seeded generators whose bytes never change, so the same pictures come out everywhere.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFilter

type Plane = NDArray[Any]
"""Rows × columns."""
type Picture = NDArray[Any]
"""Rows × columns × red, green, blue, each 0 to 1."""
type Point = tuple[float, float]
type Stops = Sequence[tuple[float, tuple[int, int, int]]]
"""Places from 0 to 1 with their colours."""


# --- Light and texture
# -------------------------------------------------------------------------------------------------


def noise(seed: int, width: int, height: int, across: int, down: int) -> Plane:
    """Smooth noise between about -1 and 1, with so many cells across and down."""
    cells = np.frombuffer(random.Random(seed).randbytes(across * down), np.uint8).reshape(down, across)
    image = Image.fromarray(cells.astype(np.float32) / 127.5 - 1)
    return np.asarray(image.resize((width, height), Image.Resampling.BICUBIC), np.float32)


def clouded(seed: int, width: int, height: int, across: int, down: int, octaves: int = 4) -> Plane:
    """Noise on noise, each half as strong and twice as fine."""
    total = np.zeros((height, width), np.float32)
    for octave in range(octaves):
        total += noise(seed + octave, width, height, across << octave, down << octave) / 2**octave
    return total / 1.6


def softened(plane: Plane, reach: int) -> Plane:
    """Each pixel the mean of the square that reaches so far round it; beyond the edges the edge goes on."""
    side = 2 * reach + 1
    for axis in (0, 1):
        length = plane.shape[axis]
        padded = np.pad(plane, [(reach + 1, reach) if n == axis else (0, 0) for n in (0, 1)], mode="edge")
        sums = np.cumsum(padded, axis=axis, dtype=np.float64)
        plane = ((np.take(sums, range(side, side + length), axis) - np.take(sums, range(length), axis)) / side).astype(
            np.float32
        )
    return plane


def shifted(plane: Plane, right: int, down: int) -> Plane:
    """The same moved to the right and down; what comes in over the edge is the edge gone on."""
    height, width = plane.shape
    return np.pad(plane, ((down, 0), (right, 0)), mode="edge")[:height, :width]


def shaded(where: Plane, stops: Stops) -> Picture:
    """The colours at those places between the stops."""
    at = [place for place, _ in stops]
    shades = np.linspace(at[0], at[-1], 4096)
    table = np.stack(
        [np.interp(shades, at, [colour[n] / 255 for _, colour in stops]) for n in range(3)], axis=-1
    ).astype(np.float32)
    return table[np.clip((where - at[0]) * (4095 / (at[-1] - at[0])) + 0.5, 0, 4095).astype(np.int16)]


def laid(over: Picture, colour: tuple[int, int, int] | Picture, mask: Plane) -> Picture:
    """The colour laid over the picture as far as the mask covers."""
    rows, columns = np.flatnonzero(mask.any(axis=1)), np.flatnonzero(mask.any(axis=0))
    laid_over = over.copy()
    if len(rows) and len(columns):
        block = (slice(rows[0], rows[-1] + 1), slice(columns[0], columns[-1] + 1))
        top = np.asarray(colour, np.float32) / 255 if isinstance(colour, tuple) else colour[block]
        laid_over[block] += (top - over[block]) * mask[block][..., None]
    return laid_over


def drawn(width: int, height: int, draw: Callable[[ImageDraw.ImageDraw, float], object], *, blur: float = 0) -> Plane:
    """A mask drawn with smooth edges; `draw` gets the scale from picture pixels to those it draws in."""
    image = Image.new("L", (width * 2, height * 2))
    draw(ImageDraw.Draw(image), 2)
    image = image.resize((width, height), Image.Resampling.BOX)
    if blur:
        image = image.filter(ImageFilter.GaussianBlur(blur))
    return np.asarray(image, np.float32) / 255


def polygons(width: int, height: int, *outlines: Sequence[Point], blur: float = 0) -> Plane:
    """A mask of those outlines."""

    def draw(pen: ImageDraw.ImageDraw, scale: float) -> None:
        for outline in outlines:
            pen.polygon([(x * scale, y * scale) for x, y in outline], fill=255)

    return drawn(width, height, draw, blur=blur)


def curve(*controls: Point, steps: int = 40) -> list[Point]:
    """Points on the Bézier curve of those controls."""
    places = list(controls)
    points: list[Point] = []
    for n in range(steps + 1):
        t, row = n / steps, places
        while len(row) > 1:
            row = [(ax + (bx - ax) * t, ay + (by - ay) * t) for (ax, ay), (bx, by) in pairwise(row)]
        points.append(row[0])
    return points


def across_and_down(width: int, height: int) -> tuple[Plane, Plane]:
    """Each pixel's column and row."""
    x, y = np.arange(width, dtype=np.float32), np.arange(height, dtype=np.float32)[:, None]
    return np.broadcast_to(x, (height, width)), np.broadcast_to(y, (height, width))


def glow(width: int, height: int, centre: Point, radius: float, *, squeeze: float = 1) -> Plane:
    """Light round a point: 1 there, about a third at the radius; `squeeze` above 1 flattens it."""
    x, y = across_and_down(width, height)
    light: Plane = np.exp(-np.hypot(x - centre[0], (y - centre[1]) * squeeze) / radius)
    return light


def ridge(seed: int, width: int, height: int, level: float, swing: float, cells: int) -> Plane:
    """A mask of the land below a skyline that swings round a level."""
    line = level - swing * clouded(seed, width, 1, cells, 1, 5)[0]
    y = np.arange(height, dtype=np.float32)[:, None]
    land: Plane = np.clip(y - line[None, :] + 0.5, 0, 1)
    return land


# --- Water -----------------------------------------------------------------------------------------------------------


def ripples(seed: int, width: int, rows: int, *, wave: float, lying: float) -> Plane:
    """Waves on a plane that runs to the horizon at the first row: fine and thin there, broad at the last row; about -1
    to 1.
    """
    side = 512
    table = noise(seed, side, side, 64, 64)
    depth = ((np.arange(rows, dtype=np.float32) + 3) / rows)[:, None]
    across = np.arange(width, dtype=np.float32)[None, :] / width - 0.5
    total = np.zeros((rows, width), np.float32)
    for octave, strength in ((1.0, 1.0), (2.3, 0.55), (5.1, 0.3)):
        column = (across / depth * (90 / lying * octave) + 311 * octave).astype(np.int32) % side
        row = (wave * 40 / depth * octave + 47 * octave).astype(np.int32) % side
        total += table[row, column] * strength
    return softened(total, 1) / 1.5


def mirrored(scene: Picture, horizon: int, waves: Plane, *, far: float, near: float, squeeze: float = 1) -> Picture:
    """The water below the horizon: the scene above it, upside down, its rows moved by the waves from `far` to `near`
    pixels.

    A mask serves as a scene too.
    """
    rows, width = waves.shape
    x, y = across_and_down(width, rows)
    depth = y / rows
    up = horizon - 1 - y * squeeze + waves * (far + (near - far) * depth)
    aside = x + waves * (far + (near - far) * depth) * 0.12
    seen: Picture = scene[np.clip(up, 0, horizon - 1).astype(np.intp), np.clip(aside, 0, width - 1).astype(np.intp)]
    return seen


# --- Film ------------------------------------------------------------------------------------------------------------


def developed(
    picture: Picture, seed: int, *, grain: float, contrast: float = 0.25, vignette: float = 0.12
) -> Image.Image:
    """The picture on film: a soft S for its tones, corners a little darker, grain strongest in the middle tones."""
    height, width = picture.shape[:2]
    tones = np.clip(picture, 0, 1)
    tones = tones + contrast * (tones * tones * (3 - 2 * tones) - tones)
    x, y = across_and_down(width, height)
    reach = ((x / width - 0.5) ** 2 + (y / height - 0.5) ** 2) * 2
    tones *= (1 - vignette * reach**1.5)[..., None]
    clumps = noise(seed, width, height, width * 2 // 3, height * 2 // 3)
    light = tones.mean(axis=-1)
    tones += (clumps * 0.36 * grain * (0.4 + 2.4 * light * (1 - light)))[..., None]
    return Image.fromarray((np.clip(tones, 0, 1) * 255 + 0.5).astype(np.uint8))
