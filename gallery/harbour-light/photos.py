"""Makes the photographs of Harbour light, an invented harbour: `python photos.py [FOLDER]`, by default into `photos/`
beside this file.

No camera and no place stands behind them: each is layers of shaded noise, a few silhouettes, and water that mirrors
what stands above it. The same pixels come out everywhere, up to what JPEG coders differ by.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))  # the darkroom and the studies lie beside the scenarios

from darkroom import (
    Picture,
    Plane,
    Point,
    across_and_down,
    clouded,
    curve,
    developed,
    drawn,
    glow,
    laid,
    mirrored,
    noise,
    polygons,
    ridge,
    ripples,
    shaded,
    shifted,
    softened,
)
from PIL import Image, ImageDraw

QUALITY = 75
TURNED = 6
"""Exif orientation of a picture taken with the camera on its side (Exif 2.32, tag 0x0112)."""


def harbour_light() -> Image.Image:
    """Dusk: the light on its point has just been lit. 3:2."""
    width, height, horizon = 2700, 1800, 1130
    x, y = across_and_down(width, height)
    sky = shaded(
        y / horizon + 0.05 * clouded(11, width, height, 3, 2, 3),
        [
            (0, (44, 62, 96)),
            (0.35, (92, 108, 142)),
            (0.62, (168, 152, 164)),
            (0.82, (232, 182, 150)),
            (0.95, (250, 208, 160)),
            (1.05, (244, 196, 158)),
        ],
    )
    scene = laid(sky, (255, 214, 160), 0.55 * glow(width, height, (720, horizon), 620, squeeze=1.9))
    bands = np.clip(clouded(31, width, height, 4, 26, 5) + 0.9 * np.exp(-(((y - 640) / 210) ** 2)) - 0.62, 0, 1)
    below = np.clip((y - 420) / 480, 0, 1)
    scene = laid(
        scene,
        shaded(below, [(0, (86, 92, 122)), (0.5, (176, 132, 140)), (1, (246, 176, 140))]),
        np.clip(bands * 1.5, 0, 0.75),
    )
    for seed, level, swing, cells, colour, strength in (
        (51, horizon - 46, 34, 4, (176, 150, 158), 0.85),
        (61, horizon - 22, 30, 5, (118, 112, 134), 0.95),
    ):
        scene = laid(scene, colour, strength * ridge(seed, width, height, level, swing, cells) * (x < width))
    point = [
        (1500, horizon + 2),
        *curve((1500, horizon), (1640, horizon - 8), (1720, horizon - 66), (1830, horizon - 92)),
        *curve((1830, horizon - 92), (2020, horizon - 128), (2240, horizon - 96), (2700, horizon - 190)),
        (2700, horizon + 2),
    ]
    land = polygons(width, height, point)
    rough = np.clip(0.5 + 0.5 * clouded(71, width, height, 60, 40, 4), 0, 1)
    scene = laid(scene, shaded(rough, [(0, (24, 28, 42)), (1, (58, 56, 68))]), land)
    foot, top, middle = horizon - 106, horizon - 468, 1960.0
    tower = polygons(width, height, [(middle - 54, foot), (middle - 34, top), (middle + 34, top), (middle + 54, foot)])
    across = np.clip((x - middle + 50) / 100, 0, 1)
    scene = laid(scene, shaded(across, [(0, (232, 202, 186)), (0.35, (176, 158, 164)), (1, (72, 76, 98))]), tower)
    for low, high in ((foot - 128, foot - 214), (foot - 300, foot - 352)):
        band = tower * np.clip(low - y, 0, 1) * np.clip(y - high, 0, 1)
        scene = laid(scene, shaded(across, [(0, (158, 74, 66)), (0.4, (112, 54, 56)), (1, (48, 32, 44))]), band)
    dark = polygons(
        width,
        height,
        [(middle - 52, top), (middle - 52, top - 9), (middle + 52, top - 9), (middle + 52, top)],
        [(middle - 30, top - 66), (middle, top - 102), (middle + 30, top - 66)],
        [(middle - 2, top - 100), (middle - 2, top - 126), (middle + 2, top - 126), (middle + 2, top - 100)],
        *(
            [(middle + s, top - 9), (middle + s, top - 32), (middle + s + 2.5, top - 32), (middle + s + 2.5, top - 9)]
            for s in range(-50, 52, 14)
        ),
        [(middle - 50, top - 30), (middle - 50, top - 33), (middle + 52, top - 33), (middle + 52, top - 30)],
        [
            (2090, foot + 14),
            (2090, foot - 52),
            (2128, foot - 84),
            (2190, foot - 84),
            (2228, foot - 52),
            (2228, foot + 14),
        ],
    )
    scene = laid(scene, (34, 36, 52), dark)
    lantern = polygons(
        width,
        height,
        [(middle - 23, top - 9), (middle - 23, top - 66), (middle + 23, top - 66), (middle + 23, top - 9)],
    )
    scene = laid(scene, (255, 232, 178), lantern)
    window = polygons(width, height, [(2120, foot - 8), (2120, foot - 30), (2136, foot - 30), (2136, foot - 8)])
    scene = laid(scene, (255, 206, 130), window)
    scene += (
        np.asarray((1.0, 0.8, 0.5), np.float32)
        * (0.42 * glow(width, height, (middle, top - 38), 46) + 0.16 * glow(width, height, (middle, top - 38), 240))[
            ..., None
        ]
    )
    sea = scene.copy()
    waves = ripples(81, width, height - horizon, wave=1.0, lying=2.6)
    water = mirrored(sea, horizon, waves, far=16, near=240, squeeze=1.25)
    depth = np.broadcast_to(np.linspace(0, 1, height - horizon, dtype=np.float32)[:, None], waves.shape)
    water = laid(water, shaded(depth, [(0, (150, 138, 150)), (1, (26, 40, 66))]), 0.16 + 0.48 * depth)
    path = (
        np.exp(-(((x[horizon:] - middle - waves * (8 + 60 * depth)) / (16 + 74 * depth)) ** 2))
        * np.clip(waves + 0.35, 0, 1)
        * (1 - 0.75 * depth)
    )
    water = laid(water, (255, 214, 150), np.clip(path, 0, 0.8))
    scene[horizon:] = water
    rocks = [
        (0, height),
        (0, 1588),
        *curve((0, 1588), (90, 1540), (150, 1590), (230, 1612)),
        *curve((230, 1612), (300, 1600), (360, 1640), (430, 1690)),
        *curve((430, 1690), (520, 1690), (570, 1740), (690, height)),
    ]
    stone = shaded(
        np.clip(0.5 + 0.6 * clouded(91, width, height, 90, 110, 3), 0, 1),
        [(0, (12, 16, 26)), (0.7, (30, 34, 46)), (1, (56, 56, 66))],
    )
    scene = laid(scene, stone, polygons(width, height, rocks, blur=1.5))
    return developed(scene, 1, grain=0.034)


def ferry_steps() -> Image.Image:
    """Stone steps that go down into still water, in fog, and the ferry waiting. Black and white, 4:5."""
    width, height, horizon = 2304, 2880, 1500
    x, y = across_and_down(width, height)
    fog = shaded(
        y / horizon + 0.04 * clouded(12, width, height, 2, 2, 3),
        [(0, (172,) * 3), (0.55, (206,) * 3), (1, (232,) * 3), (1.2, (236,) * 3)],
    )
    open_air = laid(fog, (190,) * 3, 0.3 * ridge(22, width, height, horizon - 130, 70, 3))
    ferry = polygons(
        width,
        height,
        [(1420, horizon), (1380, horizon - 72), (2080, horizon - 72), (2040, horizon)],
        [(1500, horizon - 70), (1520, horizon - 132), (1960, horizon - 132), (1980, horizon - 70)],
        [(1560, horizon - 130), (1572, horizon - 178), (1760, horizon - 178), (1772, horizon - 130)],
        [(1828, horizon - 130), (1834, horizon - 216), (1880, horizon - 216), (1886, horizon - 130)],
        [(1618, horizon - 176), (1618, horizon - 290), (1623, horizon - 290), (1623, horizon - 176)],
        blur=5,
    )
    open_air = laid(open_air, (150,) * 3, 0.55 * ferry)
    smoke = (
        np.exp(-(((y - horizon + 270 + (x - 1860) * 0.12) / (26 + np.clip(x - 1850, 0, 900) * 0.05)) ** 2))
        * np.clip((x - 1850) / 60, 0, 1)
        * np.clip((2500 - x) / 600, 0, 1)
    )
    open_air = laid(open_air, (176,) * 3, 0.25 * smoke * np.clip(0.7 + 0.5 * clouded(42, width, height, 9, 9, 3), 0, 1))
    water_line, tread, riser, flight = 2210, 142.0, 96.0, 10
    left = -20.0
    first = water_line - 9 * riser + 30
    outline: list[Point] = [(-10, height), (-10, first)]
    corner = left + 520
    steps: list[tuple[float, float]] = []
    outline.append((corner, first))
    for n in range(flight + 3):
        steps.append((corner, first + n * riser))
        outline.append((corner, first + (n + 1) * riser))
        corner += tread
        outline.append((corner, first + (n + 1) * riser))
    outline.append((corner, height))
    wall = polygons(width, height, outline)
    grit = 0.6 * clouded(52, width, height, 160, 200, 3) + 0.4 * clouded(57, width, height, 12, 16, 3)
    course = (y - first) / riser
    stagger = np.where(np.floor(course).astype(np.intp) % 2 == 0, 0.0, 0.5)
    block = x / (tread * 1.9) + stagger
    joint = np.minimum(np.abs(course - np.round(course)) * riser, np.abs(block - np.round(block)) * tread * 1.9)
    each = np.sin(np.floor(course) * 12.9 + np.floor(block) * 78.2) * 0.5 + 0.5
    wet = np.clip((y - water_line + 420) / 260, 0, 1)
    tone = 0.42 + 0.10 * (each - 0.5) + 0.14 * grit - 0.24 * wet + 0.10 * np.clip(1 - (y - first) / 500, 0, 1)
    tone -= 0.20 * np.exp(-((joint / 3.2) ** 2))
    stone = np.repeat(np.clip(tone, 0.05, 0.9)[..., None], 3, axis=-1)
    scene = laid(open_air, stone, wall)

    def slabs(pen: ImageDraw.ImageDraw, scale: float) -> None:
        pen.rectangle([0, first * scale, (left + 529) * scale, (first + 22) * scale], fill=255)
        for a, b in steps[1:]:
            pen.rectangle([(a - tread - 4) * scale, b * scale, (a + 9) * scale, (b + 22) * scale], fill=255)

    lit = drawn(width, height, slabs, blur=1.2)
    slab = np.clip(0.80 + 0.14 * grit - 0.46 * wet, 0, 1)
    scene = laid(scene, np.repeat(slab[..., None], 3, axis=-1), lit)
    under_slab = shifted(lit, 0, 24) * (1 - lit) * wall
    scene = laid(scene, (24,) * 3, 0.5 * softened(under_slab, 5))

    def rail(pen: ImageDraw.ImageDraw, scale: float) -> None:
        slope = riser / tread
        start, end = left + 380, left + 520 + 9.4 * tread
        ends = [(0, first - 262), (start, first - 262), (end, first - 262 + (end - start) * slope)]
        pen.line([(a * scale, b * scale) for a, b in ends], fill=255, width=round(13 * scale), joint="curve")
        pen.line([(a * scale, (b + 110) * scale) for a, b in ends], fill=255, width=round(7 * scale), joint="curve")
        for n in (-3, 0, 3, 6, 9):
            a = left + 520 + n * tread - tread / 2
            top = first - 262 + max(0.0, a - start) * slope
            pen.rectangle(
                [(a - 6) * scale, top * scale, (a + 6) * scale, (first + max(0, n) * riser) * scale], fill=255
            )

    scene = laid(scene, (38,) * 3, drawn(width, height, rail, blur=0.8))
    shore = scene[:water_line].copy()
    rows = height - water_line
    waves = ripples(62, width, height - horizon, wave=0.7, lying=3.2)
    open_water = mirrored(open_air, horizon, waves, far=5, near=120, squeeze=0.9)
    depth = np.broadcast_to(np.linspace(0, 1, height - horizon, dtype=np.float32)[:, None], waves.shape)
    open_water = laid(
        open_water, shaded(depth, [(0, (232,) * 3), (0.5, (206,) * 3), (1, (150,) * 3)]), 0.45 + 0.25 * depth
    )
    solid = np.clip(wall + drawn(width, height, rail, blur=0.8), 0, 1)
    under = np.zeros_like(solid)
    under[water_line:] = 1
    sea = np.zeros_like(solid)
    sea[horizon:] = 1
    base = scene.copy()
    base[horizon:] = open_water
    scene = laid(base, scene, np.clip(solid * (1 - under) + (1 - sea), 0, 1))
    near = waves[water_line - horizon :]
    likeness = mirrored(shore, water_line, near, far=3, near=70)
    stands = mirrored(solid, water_line, near, far=3, near=70)
    deep = np.broadcast_to(np.linspace(0, 1, rows, dtype=np.float32)[:, None], near.shape)
    dim = likeness * (0.86 - 0.2 * deep[..., None])
    scene[water_line:] = laid(scene[water_line:], dim, stands * (0.92 - 0.25 * deep))
    edge = np.exp(-(((y - water_line) / 3.0) ** 2)) * (x < corner)
    scene = laid(scene, (190,) * 3, 0.14 * edge * solid)
    haze = np.exp(-(((y - horizon) / 420) ** 2)) * np.clip((x - 700) / 900, 0, 1)
    scene = laid(scene, (232,) * 3, 0.30 * haze)
    return developed(scene, 2, grain=0.04, contrast=0.45).convert("L")


def gull() -> Image.Image:
    """One gull over the bar, late in the afternoon. Square."""
    side, horizon = 2400, 2020
    x, y = across_and_down(side, side)
    sky = shaded(
        y / horizon + 0.06 * clouded(13, side, side, 2, 3, 3),
        [(0, (150, 174, 192)), (0.45, (188, 200, 206)), (0.8, (226, 218, 208)), (1, (240, 224, 206))],
    )
    cloud = np.clip(clouded(23, side, side, 3, 5, 5) - 0.25, 0, 1) * np.exp(-(((y - 1450) / 420) ** 2))
    scene = laid(sky, (250, 240, 228), np.clip(cloud * 1.3, 0, 0.6))
    scene = laid(scene, (178, 186, 192), 0.7 * ridge(33, side, side, horizon - 22, 18, 4))
    waves = ripples(43, side, side - horizon, wave=1.2, lying=2.4)
    depth = np.broadcast_to(np.linspace(0, 1, side - horizon, dtype=np.float32)[:, None], waves.shape)
    water = laid(mirrored(scene, horizon, waves, far=12, near=240, squeeze=1.6), (120, 150, 164), 0.3 + 0.35 * depth)
    scene[horizon:] = water + (0.07 * waves * (0.4 + depth))[..., None]
    cx, cy = 1300.0, 800.0

    def at(*points: Point) -> list[Point]:
        turn = np.deg2rad(-9)
        c, s = float(np.cos(turn)), float(np.sin(turn))
        return [(cx + 0.86 * (a * c - b * s), cy + 0.86 * (a * s + b * c)) for a, b in points]

    left_wing = at(
        *curve((-60, -10), (-150, -150), (-250, -205), (-360, -190)),
        *curve((-360, -190), (-450, -178), (-520, -140), (-610, -66)),
        *curve((-610, -66), (-520, -96), (-430, -120), (-370, -116)),
        *curve((-370, -116), (-260, -96), (-90, -20), (70, 40)),
    )
    right_wing = at(
        *curve((0, -14), (90, -190), (190, -270), (290, -280)),
        *curve((290, -280), (380, -284), (450, -262), (560, -196)),
        *curve((560, -196), (460, -226), (380, -226), (316, -204)),
        *curve((316, -204), (230, -170), (190, -50), (130, 30)),
    )
    body = at(
        *curve((-120, -2), (-104, -36), (-66, -32), (-30, -24)),
        *curve((-30, -24), (60, -26), (150, -4), (276, 32)),
        *curve((276, 32), (180, 56), (60, 70), (-20, 52)),
        *curve((-20, 52), (-70, 36), (-122, 26), (-120, -2)),
    )
    tail = at((150, 6), (346, 14), (352, 40), (338, 66), (150, 48))
    beak = at(
        *curve((-116, -2), (-134, 0), (-150, 6), (-152, 18)), *curve((-152, 18), (-136, 14), (-124, 16), (-114, 16))
    )
    lit = np.clip((y - cy + 330) / 480, 0, 1)
    feather = 0.05 * noise(53, side, side, 420, 30)
    for wing, cold in ((right_wing, 0.05), (left_wing, 0.0)):
        mask = polygons(side, side, wing, blur=1.4)
        tone = shaded(
            lit + feather + cold,
            [(0, (232, 230, 226)), (0.45, (176, 180, 186)), (0.8, (206, 202, 198)), (1, (222, 214, 206))],
        )
        scene = laid(scene, tone, mask)
        out = np.clip((np.abs(x - cx) - 350) / 70, 0, 1)
        scene = laid(scene, (44, 46, 54), mask * out * 0.92)
        rim = mask * (1 - polygons(side, side, [(a, b + 16) for a, b in wing], blur=7))
        scene = laid(scene, (250, 244, 234), 0.55 * rim * (1 - out))
    scene = laid(scene, (224, 220, 214), polygons(side, side, tail, blur=1.6))
    shape = polygons(side, side, body, blur=1.4)
    belly = np.clip((y - cy + 40 - (x - cx) * -0.16) / 110, 0, 1)
    scene = laid(scene, shaded(belly, [(0, (252, 248, 242)), (0.5, (232, 228, 224)), (1, (158, 162, 170))]), shape)
    scene = laid(scene, (214, 158, 72), polygons(side, side, beak, blur=1.2))
    eye = at((-88, -10))[0]
    dot = drawn(
        side,
        side,
        lambda pen, s: pen.ellipse([(eye[0] - 4) * s, (eye[1] - 4) * s, (eye[0] + 4) * s, (eye[1] + 4) * s], fill=255),
        blur=1,
    )
    scene = laid(scene, (36, 34, 36), dot)
    return developed(scene, 3, grain=0.032, contrast=0.2)


def coil() -> Image.Image:
    """A rope coiled down on the foredeck, taken upright with the camera on its side. 2:3."""
    width, height = 1800, 2700
    x, y = across_and_down(width, height)
    plank = 236.0
    tilt = x + y * 0.06
    number = np.floor(tilt / plank)
    seam = np.abs(tilt / plank - np.round(tilt / plank)) * plank
    fibres = noise(14, width * 2, height, 700, 9) * 0.5 + noise(24, width * 2, height, 260, 5)
    grain = np.take_along_axis(fibres, np.clip(tilt + number * 37, 0, 2 * width - 1).astype(np.intp), axis=1)
    tone = 0.5 + 0.13 * np.sin(number * 5.1) + 0.11 * grain + 0.09 * clouded(34, width, height, 4, 6, 4)
    deck = shaded(tone, [(0, (46, 62, 66)), (0.5, (96, 116, 116)), (1, (158, 170, 164))])
    deck = laid(deck, (20, 28, 32), np.exp(-((seam / 5) ** 2)))
    light = 1.12 - 0.5 * np.clip((x + y * 0.7) / (width + height * 0.7), 0, 1)
    cx, cy, pitch, turns = 930.0, 1560.0, 104.0, 6.0
    dx, dy = x - cx, (y - cy) * 1.04
    radius, angle = np.hypot(dx, dy), np.arctan2(dy, dx) / (2 * np.pi)
    winding = radius / pitch - angle
    lap = np.floor(winding)
    place = (winding - lap - 0.5) * 2
    length = (lap + angle + 0.5) ** 2 * pitch * np.pi
    inside = (lap >= 0) & (lap + angle < turns - 0.5) & (radius > pitch * 0.22)
    over = inside.astype(np.float32)
    ex, ey = cx - turns * pitch, cy
    tail = curve((ex, ey), (ex, ey - 380), (ex + 90, ey - 760), (ex + 760, ey - 1020), (ex + 700, ey - 1720), steps=160)

    along = np.full((height, width), 1e9, np.float32)
    beside, run = along.copy(), np.zeros_like(along)
    walked = turns**2 * pitch * np.pi
    for (ax, ay), (bx, by) in pairwise(tail):
        span = float(np.hypot(bx - ax, by - ay))
        tx, ty = (bx - ax) / span, (by - ay) / span
        top, low = max(0, int(min(ay, by) - 90)), max(0, min(height, int(max(ay, by) + 90)))
        block = (slice(top, low), slice(None))
        forward = (x[block] - ax) * tx + (y[block] - ay) * ty
        side = (x[block] - ax) * ty - (y[block] - ay) * tx
        far = np.hypot(side, np.clip(np.maximum(-forward, forward - span), 0, None))
        nearer = far < along[block]
        along[block] = np.where(nearer, far, along[block])
        beside[block] = np.where(nearer, side, beside[block])
        run[block] = np.where(nearer, walked + forward, run[block])
        walked += span
    loose = np.clip(pitch * 0.5 - along + 0.5, 0, 1) * (y < ey + 4)

    def rope(place: Plane, length: Plane, facing: Plane) -> Picture:
        """A laid rope's shade: `place` from edge to edge -1 to 1, `facing` how far its side looks into the light."""
        round_up = np.sqrt(np.clip(1 - place**2, 0, 1))
        strand = (length / 92 + place * 0.55) % 1
        bulge = np.sin(strand * np.pi)
        yarn = np.sin((strand * 7 + place * 1.4) * 2 * np.pi) * 0.5 + 0.5
        value = (
            0.16 + 0.34 * round_up + 0.30 * bulge**0.6 * (0.35 + 0.65 * round_up) + 0.06 * yarn + 0.20 * facing * place
        )
        value += 0.03 * noise(44, width, height, 300, 450)
        return shaded(
            np.clip(value, 0, 1),
            [(0, (38, 28, 20)), (0.35, (116, 88, 60)), (0.7, (196, 162, 116)), (1, (246, 226, 186))],
        )

    around = angle * 2 * np.pi
    coil_rope = rope(place, length, np.cos(around - np.deg2rad(215)))
    tail_rope = rope(np.clip(beside / (pitch * 0.5), -1, 1), run, np.full_like(beside, 0.8))
    both = np.clip(over + loose, 0, 1)
    shadow = shifted(softened(softened(both, 34), 34), 46, 52)
    picture = deck * (1 - 0.72 * shadow[..., None])
    smooth = softened(over, 1)
    picture = laid(picture, coil_rope, smooth)
    picture = (
        picture
        * (
            1
            - 0.4
            * shifted(softened(softened(loose, 20), 20), 30, 26)
            * smooth
            * (1 - loose)
            * np.clip((ey - 60 - y) / 260, 0, 1)
        )[..., None]
    )
    picture = laid(picture, tail_rope, loose)
    return developed(picture * light[..., None], 4, grain=0.034, contrast=0.3)


def breakwater() -> Image.Image:
    """First light over the breakwater, the hills one behind the other in the mist. Panorama, 2:1."""
    width, height, horizon = 4000, 2000, 1180
    x, y = across_and_down(width, height)
    sky = shaded(
        y / horizon + 0.04 * clouded(15, width, height, 4, 2, 3),
        [(0, (140, 160, 186)), (0.4, (190, 190, 200)), (0.75, (242, 208, 186)), (1, (252, 224, 190))],
    )
    sun = (2610.0, 690.0)
    scene = laid(sky, (255, 232, 190), 0.75 * glow(width, height, sun, 520))
    disc = drawn(
        width,
        height,
        lambda pen, s: pen.ellipse(
            [(sun[0] - 92) * s, (sun[1] - 92) * s, (sun[0] + 92) * s, (sun[1] + 92) * s], fill=255
        ),
        blur=3,
    )
    scene = laid(scene, (255, 246, 222), 0.92 * disc)
    hills = (
        (25, 860, 130, 5, (206, 190, 194)),
        (35, 950, 120, 5, (180, 174, 188)),
        (45, 1030, 105, 6, (150, 154, 176)),
        (55, 1105, 80, 7, (112, 124, 152)),
    )
    for seed, level, swing, cells, colour in hills:
        mist = np.clip((y - level + 40) / 230, 0, 1)
        tone = laid(
            np.broadcast_to(np.asarray(colour, np.float32) / 255, scene.shape).copy(), (246, 218, 194), 0.75 * mist
        )
        tone = laid(tone, (255, 232, 194), 0.35 * glow(width, height, sun, 620))
        scene = laid(scene, tone, ridge(seed, width, height, level, swing, cells))
    waves = ripples(65, width, height - horizon, wave=0.8, lying=3.0)
    depth = np.broadcast_to(np.linspace(0, 1, height - horizon, dtype=np.float32)[:, None], waves.shape)
    wall = [(-10, 1246), (-10, 1150), (1500, 1160), (1536, 1176), (1560, 1246)]
    beacon = [(1440, 1162), (1450, 1010), (1490, 1010), (1500, 1162)]
    cap = [
        (1438, 1012),
        (1438, 1002),
        (1458, 1000),
        (1458, 962),
        (1470, 944),
        (1482, 962),
        (1482, 1000),
        (1502, 1002),
        (1502, 1012),
    ]
    stone = polygons(width, height, wall, blur=1)
    marks = polygons(width, height, beacon, cap, blur=1)
    water = mirrored(scene, horizon, waves, far=8, near=170, squeeze=1.1)
    water = laid(
        water, shaded(depth, [(0, (240, 214, 194)), (0.35, (190, 184, 194)), (1, (96, 116, 146))]), 0.3 + 0.35 * depth
    )
    path = np.exp(-(((x[horizon:] - sun[0] - waves * (10 + 90 * depth)) / (70 + 130 * depth)) ** 2)) * np.clip(
        waves + 0.45, 0, 1
    )
    scene[horizon:] = laid(water, (255, 236, 196), np.clip(0.8 * path * (1 - 0.5 * depth), 0, 0.85))
    rough = np.clip(0.45 + 0.3 * clouded(75, width, height, 300, 200, 2), 0, 1)
    rocks = shaded(rough - np.clip((y - 1190) / 120, 0, 1) * 0.4, [(0, (44, 52, 70)), (1, (122, 116, 126))])
    scene = laid(scene, rocks, stone)
    scene = laid(scene, shaded(np.clip((x - 1440) / 60, 0, 1), [(0, (92, 98, 116)), (1, (224, 190, 168))]), marks)
    boat = [
        *curve((2080, 1392), (2110, 1432), (2270, 1440), (2330, 1384)),
        *curve((2330, 1384), (2260, 1402), (2150, 1404), (2080, 1392)),
    ]
    rower = [
        *curve((2180, 1404), (2186, 1350), (2190, 1322), (2216, 1316)),
        *curve((2216, 1316), (2250, 1322), (2244, 1366), (2246, 1404)),
    ]

    def head_and_oars(pen: ImageDraw.ImageDraw, s: float) -> None:
        pen.ellipse([2206 * s, 1294 * s, 2232 * s, 1324 * s], fill=255)
        pen.line(
            [2236 * s, 1338 * s, 2276 * s, 1366 * s, 2312 * s, 1360 * s], fill=255, width=round(9 * s), joint="curve"
        )
        pen.line([2312 * s, 1358 * s, 2036 * s, 1428 * s], fill=255, width=round(4 * s))

    dark = np.clip(polygons(width, height, boat, rower, blur=1) + drawn(width, height, head_and_oars, blur=1), 0, 1)
    for line, mask, shade in ((1246, np.clip(stone + marks, 0, 1), (66, 74, 96)), (1434, dark, (40, 48, 66))):
        rows = waves[line - horizon :]
        held = mirrored(mask, line, rows, far=4, near=120, squeeze=1.15)
        deep = np.linspace(0, 1, height - line, dtype=np.float32)[:, None]
        scene[line:] = laid(scene[line:], shade, held * (0.62 - 0.4 * deep))
    scene = laid(scene, (32, 38, 54), dark)
    veil = np.exp(-(((y - horizon) / 120) ** 2)) * np.clip(0.7 + 0.4 * clouded(85, width, height, 5, 14, 4), 0, 1)
    scene = laid(scene, (252, 226, 200), 0.34 * veil)
    return developed(scene, 5, grain=0.028, contrast=0.2, vignette=0.08)


PHOTOS: dict[str, Callable[[], Image.Image]] = {
    "harbour-light": harbour_light,
    "ferry-steps": ferry_steps,
    "gull": gull,
    "coil": coil,
    "breakwater": breakwater,
}
ON_ITS_SIDE = frozenset({"coil"})
"""Pictures whose pixels lie on their side in the file, with an Exif turn to set them upright."""


def make(folder: Path) -> list[Path]:
    """Writes every photo into the folder and returns their paths."""
    folder.mkdir(parents=True, exist_ok=True)
    paths: list[Path] = []
    for name, taken in PHOTOS.items():
        picture, exif = taken(), Image.Exif()
        if name in ON_ITS_SIDE:
            picture = picture.transpose(Image.Transpose.ROTATE_90)
            exif[0x0112] = TURNED
        path = folder / f"{name}.jpg"
        picture.save(
            path, "JPEG", quality=QUALITY, optimize=True, exif=exif if name in ON_ITS_SIDE else b"", dpi=(300, 300)
        )
        paths.append(path)
    return paths


if __name__ == "__main__":
    for made in make(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parent / "photos"):
        sys.stdout.write(f"{made.name}: {made.stat().st_size // 1024} KB\n")
