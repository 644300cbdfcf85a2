"""What hangs on a wall and stands before it, in the wall's own coordinates: from its left edge and up from the floor.

A framed piece is drawn as everywhere (`framed`); its parts get the boxes that they have on the wall. Boxes are left,
bottom, width, height.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Final

from matplan.documents.parts.framed import extent, framed, model_box, outer_box
from matplan.documents.parts.pictures import PictureKey, Pictures
from matplan.drawing.items import Ellipse, Group, Item, Line, ModelBox, Point, Polyline, Rect
from matplan.drawing.pens import PAPER, TINT, Pen
from matplan.drawing.views import View
from matplan.job.records import Furniture, KeepClear, Wall
from matplan.lengths import ZERO, Box
from matplan.walls.limits import kept_clear
from matplan.walls.records import HungFrame, SolvedWall, Spot, levels_of, place_of
from matplan.walls.work import Mark

MARK: Final = 0.95
"""The radius of a hook's mark on paper."""
_HATCH: Final = 2.2
"""From line to line of a hatch on paper."""
_BEYOND: Final = 2.0
"""How far a break line reaches past the wall, on paper."""
_ZIGZAG: Final = 1.1
_LEG: Final = Fraction(1, 9)
"""How high a piece of furniture stands on its legs, as a part of its height."""


def spot_box(spot: Spot) -> ModelBox:
    """Return the spot as drawings of walls take it."""
    return (spot.left, spot.bottom, spot.width, spot.height)


def hung_frame(hung: HungFrame, pictures: Pictures, view: View) -> Group:
    """Return the framed piece in its place."""
    piece, spot = hung.frame.piece, hung.spot
    whole = extent(piece)
    outer = outer_box(piece) or whole
    x, y = view.point(spot.left, spot.top)
    at = (x + view.length(whole.x - outer.x), y + view.length(whole.y - outer.y))
    inner = View(scale=view.scale, at=at, model=model_box(whole))
    items = tuple(_placed(item, spot, outer) for item in framed(piece, pictures, inner, small=True))
    return Group(
        classes=("hung",), items=items, box=spot_box(spot), data=(("piece", hung.name), ("copy", str(hung.copy)))
    )


def plain_frame(hung: HungFrame, view: View) -> Group:
    """Return the frame alone, without what it shows."""
    outer = rect(hung.spot, view, pen=Pen.EDGE, fill=PAPER, classes=("frame-outer",))
    data = (("piece", hung.name), ("copy", str(hung.copy)))
    return Group(classes=("hung",), items=(outer,), box=spot_box(hung.spot), data=data)


def label_box(hung: HungFrame, view: View) -> Iterator[Rect]:
    """Yield the quiet box of a frame's wall label."""
    if hung.label is not None:
        box = rect(hung.label, view, pen=Pen.DIMENSION, fill=PAPER, classes=("wall-label",))
        yield replace(box, data=(("piece", hung.name), ("copy", str(hung.copy))))


def image_sizes(wall: SolvedWall, view: View) -> dict[PictureKey, tuple[float, float]]:
    """Return how large the pictures of a wall are on paper, in mm."""
    return {
        (piece.ask.file, aperture.name): (view.length(aperture.image.width), view.length(aperture.image.height))
        for piece in (hung.frame.piece for hung in wall.frames)
        for aperture in piece.apertures
    }


def _placed[Drawn: Item](item: Drawn, spot: Spot, outer: Box) -> Drawn:
    """Return the item with the boxes that it and its parts have on the wall."""
    box: ModelBox | None = None
    if item.box is not None:
        x, y, width, height = item.box
        box = (spot.left + x - outer.x, spot.top - (y - outer.y) - height, width, height)
    if isinstance(item, Group):
        return replace(item, box=box, items=tuple(_placed(part, spot, outer) for part in item.items))
    return replace(item, box=box)


def hook_mark(mark: Mark, view: View) -> Group:
    """Return a ring with a cross where the hook goes."""
    hook = mark.hook
    x, y = view.point(hook.left, hook.height)
    reach = MARK * 1.7
    items = (
        Ellipse(centre=(x, y), rx=MARK, ry=MARK, pen=Pen.EDGE, fill=PAPER),
        Line(start=(x - reach, y), end=(x + reach, y), pen=Pen.RULE),
        Line(start=(x, y - reach), end=(x, y + reach), pen=Pen.RULE),
    )
    data = (("piece", mark.hung.name), ("copy", str(mark.hung.copy)), ("number", mark.number))
    return Group(classes=("hook",), items=items, box=(hook.left, hook.height, ZERO, ZERO), data=data)


# --- the wall itself -------------------------------------------------------------------------------------------------


def wall_edge(wall: Wall, view: View) -> Polyline:
    """Return the wall's own edge, its top along the outline where it has one."""
    top = wall.outline or ((Fraction(0), wall.size.height), (wall.size.width, wall.size.height))
    corners = ((Fraction(0), Fraction(0)), *top, (wall.size.width, Fraction(0)))
    points = tuple(dict.fromkeys(view.point(x, y) for x, y in corners))
    box = (Fraction(0), Fraction(0), wall.size.width, wall.size.height)
    return Polyline(points=points, closed=True, pen=Pen.OUTLINE, id="wall", classes=("wall",), box=box)


def stretch_edge(view: View, begins: bool, ends: bool) -> Rect:
    """Return what a view shows of a divided wall, for items to be cut to; its own edges have room for their lines."""
    whole = view.whole
    return whole.inset(-_BEYOND * begins, -_BEYOND, -_BEYOND * ends, -_BEYOND).rect()


def break_line(view: View, *, right: bool) -> Polyline:
    """Return the thin line with zigzags at which a divided wall is broken off (ISO 128)."""
    whole = view.whole
    x, (top, low) = whole.right if right else whole.x, (whole.y - _BEYOND, whole.bottom + _BEYOND)
    points: list[Point] = [(x, top)]
    for part in (Fraction(1, 3), Fraction(2, 3)):
        y = top + (low - top) * float(part)
        points += [(x, y - _ZIGZAG), (x + _ZIGZAG, y - _ZIGZAG / 3), (x - _ZIGZAG, y + _ZIGZAG / 3), (x, y + _ZIGZAG)]
    return Polyline(points=(*points, (x, low)), pen=Pen.DIMENSION, classes=("break-line",))


def zone_edge(wall: Wall, view: View) -> Iterator[Rect]:
    """Yield the zones, where they are not the whole wall."""
    for number, zone in enumerate(wall.zones, 1):
        spot = Spot(left=zone.left, bottom=zone.bottom, width=zone.right - zone.left, height=zone.top - zone.bottom)
        name = "zone" if number == 1 else f"zone-{number}"
        yield rect(spot, view, pen=Pen.NEIGHBOUR, classes=("zone",), name=name)


def eye_lines(wall: Wall, view: View) -> Iterator[Line]:
    """Yield the centre line of each group, over all that the view has of the wall."""
    for number, level in enumerate(levels_of(wall), 1):
        left, _, width, _ = view.model
        start, end = view.point(left, level), view.point(left + width, level)
        box = (left, level, width, Fraction(0))
        name = "eye-line" if number == 1 else f"eye-line-{number}"
        yield Line(start=start, end=end, pen=Pen.CENTRE, id=name, classes=("eye-line",), box=box)


def floor_line(wall: Wall, view: View) -> Iterator[Polyline]:
    """Yield the floor of a stair."""
    if wall.floor:
        points = tuple(view.point(x, y) for x, y in wall.floor)
        high = max(y for _, y in wall.floor)
        box = (Fraction(0), Fraction(0), wall.size.width, high)
        yield Polyline(points=points, pen=Pen.OUTLINE, id="floor", classes=("floor",), box=box)


def rect(
    spot: Spot,
    view: View,
    *,
    pen: Pen | None = None,
    fill: str | None = None,
    classes: tuple[str, ...],
    name: str | None = None,
) -> Rect:
    """Return a spot on paper."""
    area = view.area(spot_box(spot))
    return Rect(
        x=area.x,
        y=area.y,
        width=area.width,
        height=area.height,
        pen=pen,
        fill=fill,
        classes=classes,
        box=spot_box(spot),
        id=name,
    )


def thing(kept: KeepClear, view: View) -> Iterator[Item]:
    """Yield what is kept clear, with its margin dashed round it."""
    if kept.margin:
        yield rect(kept_clear(kept), view, pen=Pen.HIDDEN, classes=("margin",))
    yield bare_thing(kept, view)


def bare_thing(kept: KeepClear, view: View) -> Rect:
    """Return a thing that is kept clear, without its margin."""
    shape = rect(place_of(kept), view, pen=Pen.DIMENSION, fill=TINT, classes=("keep-clear",))
    return replace(shape, data=(("name", kept.name),))


def silhouette(furniture: Furniture, view: View) -> Group:
    """Return a piece of furniture as a plain body on its legs."""
    whole = place_of(furniture)
    legs = furniture.height * _LEG
    thick = min(furniture.width / 12, legs)
    body = view.area((whole.left, legs, whole.width, whole.height - legs))
    items: list[Item] = [Rect(x=body.x, y=body.y, width=body.width, height=body.height, pen=Pen.DIMENSION, fill=TINT)]
    for left in (whole.left + thick, whole.right - 2 * thick):
        leg = view.area((left, Fraction(0), thick, legs))
        items.append(Rect(x=leg.x, y=leg.y, width=leg.width, height=leg.height, pen=Pen.DIMENSION, fill=TINT))
    return Group(classes=("furniture",), items=tuple(items), box=spot_box(whole), data=(("name", furniture.name),))


def hatched(spot: Spot, view: View) -> Group:
    """Return a strip of the wall under slanting lines."""
    area = view.area(spot_box(spot))
    lines = []
    count = int((area.width + area.height) / _HATCH)
    for number in range(1, count + 1):
        reach = number * _HATCH
        start: Point = (area.x + min(reach, area.width), area.y + max(reach - area.width, 0.0))
        end: Point = (area.x + max(reach - area.height, 0.0), area.y + min(reach, area.height))
        lines.append(Line(start=start, end=end, pen=Pen.WASTE))
    return Group(classes=("cable-zone",), items=tuple(lines), box=spot_box(spot))
