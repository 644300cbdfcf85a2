"""A sheet with every kind of item, and what the tests of this room draw with."""

import io
from fractions import Fraction
from functools import cache

from matplan.drawing.items import (
    Anchor,
    ArcTo,
    Compound,
    Ellipse,
    Group,
    Image,
    Item,
    Level,
    Line,
    Link,
    Path,
    Polyline,
    Rect,
    Size,
    Text,
    To,
)
from matplan.drawing.pens import ACCENT, TINT, Pen
from matplan.drawing.sheet import Sheet

A4 = (210.0, 297.0)


@cache
def picture(kind: str) -> bytes:
    """A small invented picture: two colours, parted by a diagonal."""
    from PIL import Image as Pictures

    image = Pictures.new("RGB", (24, 16), "#335577")
    for x in range(24):
        for y in range(16):
            if x * 16 > y * 24:
                image.putpixel((x, y), (220, 200, 160))
    out = io.BytesIO()
    image.save(out, kind)
    return out.getvalue()


def sheet_of(*items: Item, name: str = "sample", size: tuple[float, float] = A4) -> Sheet:
    return Sheet(name=name, title="Sample & <proof>", size=size, items=items, scale=Fraction(1, 5))


ITEMS: tuple[Item, ...] = (
    Rect(
        x=20,
        y=20,
        width=80,
        height=100,
        pen=Pen.OUTLINE,
        id="board",
        classes=("blank",),
        box=(Fraction(0), Fraction(0), Fraction(400), Fraction(500)),
    ),
    Rect(
        x=31.6,
        y=32,
        width=56.8,
        height=72.4,
        pen=Pen.CUT,
        classes=("back-opening", "cut"),
        box=(Fraction(58), Fraction(60), Fraction(284), Fraction(362)),
    ),
    Line(start=(20, 130), end=(100, 130.5), pen=Pen.CENTRE, data=(("start", "yes"), ("note", "a < b"))),
    Polyline(points=((20, 140), (30, 150), (40, 140)), pen=Pen.HIDDEN),
    Polyline(points=((50, 140), (60, 150), (70, 140)), pen=Pen.EDGE, closed=True, fill=TINT),
    Ellipse(centre=(150, 40), rx=25, ry=15, pen=Pen.SCORE, fill=TINT),
    Path(
        start=(130, 90),
        steps=(ArcTo(end=(170, 90), rx=20, ry=20), To(end=(170, 120)), To(end=(130, 120))),
        closed=True,
        pen=Pen.CUT,
    ),
    Path(start=(130, 130), steps=(ArcTo(end=(160, 140), rx=20, ry=30, large=True, clockwise=False),), pen=Pen.OUTLINE),
    Compound(
        outlines=(
            Rect(x=20, y=160, width=40, height=30),
            Ellipse(centre=(40, 175), rx=12, ry=8),
            Path(start=(22, 162), steps=(To(end=(26, 162)), To(end=(24, 166))), closed=True),
            Polyline(points=((54, 162), (58, 162), (56, 166)), closed=True),
        ),
        fill="#d8cfae",
        pen=Pen.EDGE,
    ),
    Image(x=80, y=160, width=36, height=24, content=picture("jpeg"), kind="jpeg", id="photo", classes=("image",)),
    Image(
        x=130,
        y=160,
        width=36,
        height=24,
        content=picture("png"),
        kind="png",
        clip=Ellipse(centre=(148, 172), rx=18, ry=12),
    ),
    Group(
        id="waste",
        items=(
            Line(start=(20, 200), end=(80, 230), pen=Pen.WASTE),
            Line(start=(20, 230), end=(80, 200), pen=Pen.WASTE),
        ),
        clip=Path(start=(20, 200), steps=(To(end=(80, 200)), To(end=(80, 230))), closed=True),
    ),
    Text(at=(20, 240), text="Ferry steps ½ × ⅜ in", size=Size.NORMAL),
    Text(at=(105, 250), text="middle", anchor=Anchor.MIDDLE, level=Level.MIDDLE, bold=True, colour=ACCENT),
    Text(at=(190, 260), text="at the end, on top", anchor=Anchor.END, level=Level.TOP, size=Size.SMALL),
    Text(at=(180, 150), text="turned", turn=-90.0),
    Text(at=(20, 270), text="A title on white: 14 3/16 in", halo=True),
    Link(x=20, y=265, width=80, height=10, target="other"),
)
SAMPLE = sheet_of(*ITEMS)
