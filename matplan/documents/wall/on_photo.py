"""A wall's photograph with the planned frames in it, in the perspective of its four corners.

The drawing counts the photograph's pixels. Each framed piece is drawn flat at full size, as everywhere, and every
point of it goes through the exact map of the wall; its lines are thin. Light, shadow and lens are not imitated.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from typing import Final

from matplan.documents.parts.folio import Album, Folio
from matplan.documents.parts.framed import pictured
from matplan.documents.parts.pictures import photo_of_wall
from matplan.documents.wall.hung_frames import hung_frame, label_box
from matplan.drawing import lettering, outlines
from matplan.drawing.clashes import chain
from matplan.drawing.items import (
    Area,
    Compound,
    Ellipse,
    Group,
    Image,
    Item,
    Line,
    Link,
    Outline,
    Path,
    Point,
    Polyline,
    Rect,
    Text,
)
from matplan.drawing.pens import Pen
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import View
from matplan.job.records import WallPhoto
from matplan.lengths import ZERO
from matplan.walls.perspective import Shown, of_photo, shown
from matplan.walls.records import SolvedWall

_PAPER: Final = (277.0, 190.0)
"""What the drawing fits into: a sheet of A4 with 10 mm round it."""
_CURVE: Final = 6
"""Chords for each curve of a letter."""


def drawn(folio: Folio, wall: SolvedWall) -> tuple[Sheet, ...]:
    """Return the photograph of the wall with the frames in it, nothing where there is none at hand."""
    photo, picture = wall.ask.photo, folio.pictures.get(photo_of_wall(wall.ask.file))
    if photo is None or picture is None or folio.album is None:
        return ()
    width, height = photo.file.pixels
    part = picture.pixels[0] / width
    ground = pictured(picture, Area(x=0, y=0, width=width, height=height))
    seen = _Seen(wall, photo, folio.album, part)
    frames: list[Item] = []
    for hung in wall.frames:
        if shown(photo, hung.spot) is not Shown.NOT:
            frames.append(seen.item(hung_frame(hung, folio.pictures, seen.flat)))
        if hung.label is not None and shown(photo, hung.label) is not Shown.NOT:
            frames.extend(map(seen.item, label_box(hung, seen.flat)))
    shrink = min(_PAPER[0] / width, _PAPER[1] / height)
    return (
        Sheet(
            name=f"wall {wall.ask.file} photo",
            title=f"{wall.name}, on its photograph",
            size=(width * shrink, height * shrink),
            items=(replace(ground, classes=("photograph",)), *frames),
            pixels=photo.file.pixels,
        ),
    )


class _Seen:
    """Takes what is drawn flat, with the wall's upper left corner at zero, into the photograph."""

    def __init__(self, wall: SolvedWall, photo: WallPhoto, album: Album, part: float) -> None:
        size = wall.ask.size
        self.flat = View(scale=Fraction(1), at=(0, 0), model=(ZERO, ZERO, size.width, size.height), upward=True)
        self._top, self._map = size.height, of_photo(photo)
        self._album, self._within, self._part = album, photo.file.pixels, part

    def item(self, item: Item) -> Item:
        """Return the same in perspective; straight lines stay straight."""
        match item:
            case Line():
                return replace(item, start=self._point(item.start), end=self._point(item.end), pen=Pen.RULE)
            case Polyline() | Rect() | Ellipse() | Path():
                return self._outline(item)
            case Compound():
                return replace(item, outlines=tuple(map(self._outline, item.outlines)))
            case Group():
                clip = None if item.clip is None else self._outline(item.clip)
                return replace(item, items=tuple(map(self.item, item.items)), clip=clip)
            case Image():
                return self._image(item)
            case Text():
                return self._text(item)
            case Link():
                return item

    def _exact(self, point: Point) -> tuple[Fraction, Fraction]:
        return self._map.at(Fraction(point[0]), self._top - Fraction(point[1]))

    def _point(self, point: Point) -> Point:
        x, y = self._exact(point)
        return float(x), float(y)

    def _outline(self, outline: Outline) -> Polyline:
        closed = not isinstance(outline, Polyline | Path) or outline.closed
        points = chain(outline)
        return Polyline(
            points=tuple(map(self._point, points[:-1] if closed else points)),
            pen=None if outline.pen is None else Pen.RULE,
            closed=closed,
            fill=outline.fill,
            id=outline.id,
            classes=outline.classes,
            box=outline.box,
            data=outline.data,
        )

    def _image(self, item: Image) -> Image:
        area = Area(x=item.x, y=item.y, width=item.width, height=item.height)
        corners = [self._exact(point) for point in area.corners]
        content, (x, y, width, height) = self._album.in_perspective(item.content, corners, self._within, self._part)
        clip = self._outline(area.rect() if item.clip is None else item.clip)
        return replace(item, x=x, y=y, width=width, height=height, content=content, kind="jpeg", clip=clip)

    def _text(self, item: Text) -> Item:
        """Return the letters of a caption as figures."""
        setting = lettering.setting(item)
        letters: list[Polyline] = []
        points: list[Point] = []
        for step in outlines.placed(setting.text, item.bold, start=setting.start, em=setting.em):
            if step.verb == "close" and len(points) > 2:
                letters.append(Polyline(points=tuple(map(self._point, points)), closed=True))
            points = [] if step.verb in ("close", "move") else points
            points += _chords(points[-1], step.points) if len(step.points) > 1 else step.points
        if not letters:
            return Group(items=())
        return Compound(outlines=tuple(letters), fill=item.colour, classes=item.classes, data=(("text", item.text),))


def _chords(start: Point, controls: tuple[Point, ...]) -> Iterator[Point]:
    """Yield points along a Bézier curve after its start."""
    for number in range(1, _CURVE + 1):
        row, part = [start, *controls], number / _CURVE
        while len(row) > 1:
            row = [(ax + (bx - ax) * part, ay + (by - ay) * part) for (ax, ay), (bx, by) in pairwise(row)]
        yield row[0]
