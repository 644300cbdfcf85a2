"""Small invented pictures, drawn by code, for the starter job: the same bytes on every run. No place or person is
meant.

Each is drawn at a quarter of its size and enlarged, so that its edges are soft.
"""

from __future__ import annotations

from collections.abc import Callable
from math import cos, pi, sin
from random import Random
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PIL.Image import Image
    from PIL.ImageDraw import ImageDraw

type Colour = tuple[int, int, int]

_ENLARGED = 4


def _sheet(width: int, height: int, upper: Colour, lower: Colour) -> Image:
    """Return a picture that runs from one colour at the top to another at the bottom."""
    from PIL import Image

    ramp = Image.linear_gradient("L").resize((width, height))
    return Image.composite(Image.new("RGB", (width, height), lower), Image.new("RGB", (width, height), upper), ramp)


def _finished(picture: Image) -> Image:
    from PIL import Image, ImageFilter

    large = picture.resize((picture.width * _ENLARGED, picture.height * _ENLARGED), Image.Resampling.BICUBIC)
    return large.filter(ImageFilter.GaussianBlur(1))


def _pen(picture: Image) -> ImageDraw:
    from PIL import ImageDraw as Drawing

    return Drawing.Draw(picture, "RGBA")


def _ridge(pen: ImageDraw, width: int, base: int, rise: int, colour: Colour, seed: int, floor: int) -> None:
    """Draw a line of hills, filled down to `floor`."""
    random = Random(seed)
    waves = [(random.uniform(0.5, 3.5), random.uniform(0, 2 * pi), random.uniform(0.2, 1)) for _ in range(5)]
    points = [
        (x, base - rise * sum(size * sin(count * 2 * pi * x / width + turn) for count, turn, size in waves) / 2.5)
        for x in range(0, width + 4, 4)
    ]
    pen.polygon([*points, (width, floor), (0, floor)], fill=colour)


def ferry_morning() -> Image:
    """3:2, landscape: hills behind a bay in the early light, a small ferry on the water."""
    width, height, shore = 750, 500, 300
    picture = _sheet(width, height, (244, 205, 160), (250, 232, 205))
    pen = _pen(picture)
    pen.ellipse((500, 130, 580, 210), fill=(255, 244, 214))
    for number, (base, rise, colour) in enumerate(
        ((240, 46, (197, 176, 176)), (266, 36, (150, 146, 162)), (288, 22, (98, 110, 132))),
    ):
        _ridge(pen, width, base, rise, colour, 7 + number, shore)
    picture.paste(_sheet(width, height - shore, (146, 168, 182), (52, 82, 104)), (0, shore))
    pen = _pen(picture)
    random = Random(3)
    for _ in range(260):
        y = shore + int((height - shore) * random.random() ** 1.6)
        reach = 6 + (y - shore) * random.uniform(0.1, 0.5)
        x = random.uniform(0, width)
        light = (255, 236, 200, 120) if abs(x - 540) < 26 + (y - shore) * 0.5 else (210, 224, 230, 60)
        pen.line((x - reach, y, x + reach, y), fill=light, width=1 + (y - shore) // 90)
    pen.polygon([(210, 322), (330, 322), (318, 340), (222, 340)], fill=(42, 52, 66))
    pen.rectangle((232, 306, 306, 322), fill=(236, 232, 222))
    pen.rectangle((262, 294, 296, 306), fill=(236, 232, 222))
    pen.rectangle((280, 278, 290, 294), fill=(180, 70, 52))
    for window in range(238, 302, 10):
        pen.rectangle((window, 310, window + 5, 316), fill=(70, 88, 104))
    pen.polygon([(196, 341), (344, 341), (318, 362), (228, 362)], fill=(32, 44, 58, 110))
    return _finished(picture)


def harbour_light() -> Image:
    """4:5, portrait: a light on the end of a mole, at dusk."""
    width, height, shore = 600, 750, 560
    picture = _sheet(width, height, (38, 58, 92), (228, 168, 138))
    pen = _pen(picture)
    random = Random(11)
    for _ in range(70):
        left, top, size = random.uniform(0, width), random.uniform(0, 300), random.uniform(0.4, 1.3)
        pen.ellipse((left - size, top - size, left + size, top + size), fill=(240, 240, 246, 150))
    for glow, strength in ((150, 20), (100, 30), (60, 60), (34, 110)):
        pen.ellipse((330 - glow, 226 - glow, 330 + glow, 226 + glow), fill=(255, 226, 160, strength))
    picture.paste(_sheet(width, height - shore, (150, 128, 140), (30, 42, 66)), (0, shore))
    pen = _pen(picture)
    for _ in range(220):
        y = shore + int((height - shore) * random.random() ** 1.4)
        reach = 5 + (y - shore) * random.uniform(0.1, 0.6)
        x = random.uniform(0, width)
        warm = abs(x - 330) < 16 + (y - shore) * 0.2
        pen.line(
            (x - reach, y, x + reach, y),
            fill=(255, 220, 160, 130) if warm else (200, 190, 210, 46),
            width=1 + (y - shore) // 80,
        )
    pen.polygon([(0, 540), (420, 540), (450, 574), (0, 590)], fill=(34, 36, 48))
    pen.polygon([(296, 262), (364, 262), (382, 540), (278, 540)], fill=(232, 226, 218))
    pen.polygon([(336, 262), (364, 262), (382, 540), (340, 540)], fill=(190, 182, 182))
    for top in (330, 430):
        inset = (540 - top) / 278 * 18
        pen.polygon(
            [(278 + inset, top), (382 - inset, top), (382 - inset + 3, top + 46), (278 + inset - 3, top + 46)],
            fill=(170, 62, 52),
        )
    pen.rectangle((288, 250, 372, 264), fill=(48, 50, 62))
    pen.rectangle((306, 208, 354, 250), fill=(255, 236, 180))
    for bar in (306, 322, 338, 354):
        pen.line((bar, 208, bar, 250), fill=(48, 50, 62), width=3)
    pen.polygon([(300, 208), (360, 208), (330, 178)], fill=(48, 50, 62))
    return _finished(picture)


def pebbles() -> Image:
    """1:1: round stones on sand, seen from above."""
    side = 600
    picture = _sheet(side, side, (222, 206, 178), (204, 184, 152))
    pen = _pen(picture)
    random = Random(29)
    placed: list[tuple[float, float, float]] = []
    tones: tuple[Colour, ...] = (
        (92, 98, 104),
        (134, 132, 126),
        (176, 168, 156),
        (72, 78, 92),
        (198, 190, 178),
        (148, 116, 98),
    )
    for size in map(float, (78, 70, 62, 56, 50, 46, 42, 38, 36, 34, 32, 30, 28, 26, 24, 22, 20, 18, 16, 14)):
        for _ in range(40):
            x, y = random.uniform(size, side - size), random.uniform(size, side - size)
            if all(
                (x - other_x) ** 2 + (y - other_y) ** 2 > (size + other + 6) ** 2 for other_x, other_y, other in placed
            ):
                placed.append((x, y, size))
                break
    for x, y, size in placed:
        red, green, blue = random.choice(tones)
        turn, squash = random.uniform(0, pi), random.uniform(0.78, 0.98)
        for shift, grown, colour in (
            (6.0, 1.0, (96, 78, 56, 90)),
            (0.0, 1.0, (red, green, blue, 255)),
            (-0.16 * size, 0.62, (min(255, red + 22), min(255, green + 22), min(255, blue + 22), 120)),
        ):
            outline = []
            for step in range(48):
                angle = 2 * pi * step / 48
                across, along = size * grown * cos(angle), size * grown * squash * sin(angle)
                outline.append(
                    (
                        x + shift + across * cos(turn) - along * sin(turn),
                        y + shift + across * sin(turn) + along * cos(turn),
                    )
                )
            pen.polygon(outline, fill=colour)
    return _finished(picture)


INVENTED: dict[str, Callable[[], Image]] = {
    "ferry-morning.jpg": ferry_morning,
    "harbour-light.jpg": harbour_light,
    "pebbles.jpg": pebbles,
}
"""Every invented picture by the name of its file."""


def jpeg(picture: Image) -> bytes:
    """Return a picture as a JPEG."""
    from io import BytesIO

    stream = BytesIO()
    picture.save(stream, "JPEG", quality=88)
    return stream.getvalue()
