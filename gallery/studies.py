"""Quiet invented landscapes for the scenarios: sky, light, hills one behind another, water or fields. No place is
meant.

`study(seed, width, height, hour)` gives the same picture every time, up to what JPEG coders differ by.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from darkroom import across_and_down, clouded, developed, glow, laid, ridge, shaded
from PIL import Image

type Colour = tuple[int, int, int]
QUALITY = 72


@dataclass(frozen=True, slots=True, kw_only=True)
class Hour:
    """The colours of a time of day: the sky from above to the horizon, the light, the nearest and the farthest hill,
    the ground.
    """

    sky: tuple[Colour, Colour, Colour]
    light: Colour
    near: Colour
    far: Colour
    ground: tuple[Colour, Colour]


HOURS: Mapping[str, Hour] = {
    "dawn": Hour(sky=((112, 132, 168), (214, 184, 182), (250, 222, 190)), light=(255, 232, 196),
        near=(58, 66, 84), far=(176, 168, 182),
                 ground=((190, 176, 176), (92, 98, 116))),
    "noon": Hour(sky=((74, 124, 176), (148, 186, 214), (222, 232, 232)), light=(255, 252, 236),
        near=(52, 84, 66), far=(150, 176, 184),
                 ground=((168, 178, 118), (92, 112, 64))),
    "dusk": Hour(sky=((40, 48, 84), (142, 98, 120), (244, 168, 122)), light=(255, 206, 142),
        near=(30, 28, 46), far=(120, 92, 118),
                 ground=((206, 140, 116), (54, 46, 70))),
    "fog": Hour(sky=((186, 192, 194), (206, 208, 206), (224, 224, 218)), light=(250, 248, 240),
        near=(86, 94, 98), far=(196, 200, 200),
                ground=((200, 202, 198), (130, 136, 136))),
    "night": Hour(sky=((12, 18, 40), (26, 40, 74), (70, 92, 124)), light=(236, 240, 226),
        near=(8, 10, 20), far=(36, 50, 80),
                  ground=((48, 66, 98), (12, 16, 32))),
}  # fmt: skip


def study(seed: int, width: int, height: int, hour: str) -> Image.Image:
    """A landscape of that many pixels at one of `HOURS`."""
    colours = HOURS[hour]
    horizon = int(height * (0.52 + 0.02 * (seed % 7)))
    _, y = across_and_down(width, height)
    up = y / horizon + 0.06 * clouded(seed, width, height, 3, 3, 4)
    scene = shaded(up, [(0, colours.sky[0]), (0.55, colours.sky[1]), (1.05, colours.sky[2])])
    sun = (width * (0.22 + 0.09 * (seed % 6)), horizon * (0.45 + 0.06 * (seed % 5)))
    radius = min(width, height) * 0.05
    scene = laid(scene, colours.light, 0.5 * glow(width, height, sun, radius * 6))
    scene = laid(scene, colours.light, np.clip((glow(width, height, sun, radius) - 0.36) * 30, 0, 1))
    ground = shaded((y - horizon) / (height - horizon), [(0, colours.ground[0]), (1, colours.ground[1])])
    ripple = 0.5 + 0.5 * clouded(seed + 71, width, height, 3, 40, 3)
    ground = laid(ground, colours.light, np.clip(ripple - 0.72, 0, 1) * np.clip((y - horizon) / height, 0, 0.5))
    scene = laid(scene, ground, np.clip(y - horizon, 0, 1))
    layers = 4
    for layer in range(layers):
        near = layer / (layers - 1)
        shade = tuple(round(f + (n - f) * near**1.3) for f, n in zip(colours.far, colours.near, strict=True))
        level = horizon - height * (0.13 - 0.115 * near) + (height * 0.16 if layer == layers - 1 else 0)
        scene = laid(
            scene,
            (shade[0], shade[1], shade[2]),
            ridge(seed + 13 * layer, width, height, level, height * 0.09, 2 + layer),
        )
    return developed(scene, seed + 5, grain=0.02)


def make(folder: Path, pictures: Mapping[str, tuple[int, int, int, str]]) -> None:
    """Writes the pictures (seed, width, height, hour) by their names into that folder."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, (seed, width, height, hour) in pictures.items():
        path = folder / f"{name}.jpg"
        study(seed, width, height, hour).save(path, "JPEG", quality=QUALITY, optimize=True, dpi=(300, 300))
        sys.stdout.write(f"{path.name}: {path.stat().st_size // 1024} KB\n")
