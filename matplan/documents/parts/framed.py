"""A piece as it hangs, seen from the front, in colours: photo, mats with their bevels, rails with their mitres.

The picture alone, in any view; the front view puts dimensions and figures round it, the workbook shows it small. Parts
are drawn from the backing outwards, each over what it covers, and carry their boxes in the plan's coordinates: from the
blank's top left corner, so that the frame's own begins left of and above zero.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from typing import Final, Literal

from matplan.documents.parts.free_places import Taken
from matplan.documents.parts.outline_path import outline_on_paper
from matplan.documents.parts.pictures import Picture, Pictures
from matplan.drawing import lettering
from matplan.drawing.items import (
    Anchor,
    Area,
    Compound,
    Group,
    Image,
    Item,
    Level,
    Line,
    ModelBox,
    Point,
    Polyline,
    Rect,
    Size,
    Text,
)
from matplan.drawing.items import Outline as Drawn
from matplan.drawing.pens import SECONDARY, Pen
from matplan.drawing.views import View
from matplan.job.records import Shape, Show
from matplan.lengths import Box
from matplan.mats.outlines import Outline
from matplan.mats.records import Layer, SolvedAperture, SolvedPiece

RAIL: Final = "#c8a982"
"""A rail whose colour the job does not tell: a neutral wood."""
BOARD: Final = "#f3efe6"
"""A board whose colour the job does not tell: a warm white."""
CORE: Final = "#fdfcf9"
"""A board's core, which the bevel lays bare."""
_DARK: Final = 100.0
"""A colour of less luma, of 255, is dark."""
SHEET: Final = "#ffffff"
"""The white of the printing paper."""
GROUND: Final = "#e2ddd2"
"""What lies behind a floated sheet."""
FIELD: Final = "#d9dee2"
"""Where an image goes of which there is no picture."""


def model_box(box: Box) -> ModelBox:
    """The box as drawings take it."""
    return (box.x, box.y, box.width, box.height)


def outer_box(piece: SolvedPiece) -> Box | None:
    """The frame's outer edge, None where the rail is not known."""
    rail = piece.frame.ask.rail
    return None if rail is None else piece.sight_box.grown(rail)


def extent(piece: SolvedPiece) -> Box:
    """All that is drawn: the frame, and the blank where that reaches further or no rail is known."""
    blank = Box.of(piece.blank)
    outer = outer_box(piece)
    if outer is None:
        return blank
    x, y = min(blank.x, outer.x), min(blank.y, outer.y)
    return Box(x, y, max(blank.right, outer.right) - x, max(blank.bottom, outer.bottom) - y)


def paper_box(aperture: SolvedAperture) -> Box | None:
    """The sheet behind the window, None where no paper is named."""
    made = aperture.print
    if made is None:
        return None
    return Box.of(made.size, aperture.image.x - made.margins.left, aperture.image.y - made.margins.top)


def framed(piece: SolvedPiece, pictures: Pictures, view: View, *, small: bool = False) -> tuple[Item, ...]:
    """The piece in that view, whose model is its `extent`.

    A `small` picture has thin lines, no hidden ones and no words, and no part of it carries an id, so that it may stand
    on a sheet twice.
    """
    return tuple(_Framed(piece, pictures, view, small).items())


class _Framed:
    def __init__(self, piece: SolvedPiece, pictures: Pictures, view: View, small: bool) -> None:
        self._piece, self._pictures, self._view, self._small = piece, pictures, view, small

    def items(self) -> Iterator[Item]:
        blank = Box.of(self._piece.blank)
        sight = self._piece.sight_box
        mount = self._piece.ask.mount
        if mount is not None:
            yield self._rect(blank, fill=mount.colour or BOARD, classes=("mount",))
        elif self._piece.layers and any(a.show is Show.SHEET for a in self._piece.apertures):
            yield self._rect(blank, fill=GROUND)
        for aperture in self._piece.apertures:
            yield self._work(aperture)
        for layer in reversed(self._piece.layers):
            yield from self._board(layer)
        for aperture in self._piece.apertures:
            yield from self._marks(aperture)
        yield from self._rails()
        if not self._small:
            yield self._rect(blank, pen=Pen.LIGHT_HIDDEN if self._dark_rail else Pen.HIDDEN, name="blank")
        yield self._rect(sight, pen=Pen.LIGHT if self._dark_rail else self._thin, name="sight")

    @property
    def _dark_rail(self) -> bool:
        """Whether ink would not be seen on the frame."""
        piece = self._piece
        return outer_box(piece) is not None and is_dark(piece.frame.ask.colour or RAIL)

    @property
    def _thin(self) -> Pen:
        return Pen.RULE if self._small else Pen.EDGE

    # --- windows and what they show ----------------------------------------------------------------------------------

    def _work(self, aperture: SolvedAperture) -> Group:
        """The sheet and the image of a window; boards and rails are drawn over them."""
        parts: list[Item] = []
        paper = paper_box(aperture)
        if aperture.ask.text is not None:
            parts.append(self._rect(aperture.opening, fill=SHEET))
        else:
            shaped = aperture.show is not Show.IMAGE and not aperture.work.upright
            if shaped and aperture.show is Show.SHEET:
                parts.append(self._cut_sheet(aperture))
            elif paper is not None:
                parts.append(self._rect(paper, pen=Pen.RULE, fill=SHEET, classes=("paper",), aperture=aperture))
            elif aperture.show is Show.MARGIN:
                parts.append(self._rect(aperture.opening, fill=SHEET))
            image = self._image(aperture)
            parts.append(Group(items=(image,), clip=self._traced(aperture.work)) if shaped else image)
        return Group(classes=("work",), items=tuple(parts), clip=self._clip(aperture))

    def _cut_sheet(self, aperture: SolvedAperture) -> Drawn:
        """A floated sheet that is cut to the window's shape."""
        box, facts = model_box(aperture.work.box), (("aperture", aperture.name),)
        return replace(self._traced(aperture.work), pen=Pen.RULE, fill=SHEET, classes=("paper",), box=box, data=facts)

    def _clip(self, aperture: SolvedAperture) -> Drawn:
        """What keeps a sheet inside its window, or without a mat inside the sight, however large the sheet is."""
        if self._piece.layers:
            return self._traced(aperture.outline)
        return self._traced(Outline(shape=Shape.RECTANGLE, box=self._piece.sight_box))

    def _image(self, aperture: SolvedAperture) -> Image | Rect:
        picture = self._picture(aperture)
        if picture is None:
            return self._rect(aperture.image, fill=FIELD, classes=("image",), aperture=aperture)
        return replace(
            pictured(picture, self._view.area(model_box(aperture.image))),
            classes=("image",),
            box=model_box(aperture.image),
            data=(("aperture", aperture.name),),
        )

    def _picture(self, aperture: SolvedAperture) -> Picture | None:
        return self._pictures.get((self._piece.ask.file, aperture.name))

    def _marks(self, aperture: SolvedAperture) -> Iterator[Item]:
        """What stands in a window without a picture: a caption's words, or the sign for an image."""
        if aperture.ask.text is not None:
            yield from self._words(aperture.ask.text, aperture.opening)
        elif self._picture(aperture) is None:
            seen = self._view.area(model_box(_common(aperture.image, aperture.seen.box, self._piece.sight_box)))
            field = blank_field(seen, word="image" if not self._small and self._is_clear(aperture, seen) else "")
            if aperture.outline.upright:
                yield from field
            else:
                yield Group(
                    items=tuple(field),
                    clip=self._traced(aperture.outline if aperture.show is Show.IMAGE else aperture.work),
                )

    def _is_clear(self, aperture: SolvedAperture, seen: Area) -> bool:
        """Return whether no edge of a shaped opening runs through its middle, where a word would stand."""
        if aperture.outline.upright:
            return True
        taken = Taken()
        for opening in (one for layer in self._piece.layers for one in layer.openings):
            if opening.aperture == aperture.name:
                points = [self._view.point(*point) for point in opening.face.points()]
                taken.lines.extend(pairwise((*points, points[0])))
        (x, y), half = seen.centre, lettering.width("image", Size.SMALL) / 2
        return taken.is_free(Area(x=x - half, y=y - Size.SMALL, width=2 * half, height=2 * Size.SMALL))

    def _words(self, text: str, opening: Box) -> Iterator[Item]:
        area = self._view.area(model_box(opening))
        most = area.width * 0.9
        found = lettering.fitted(text, most, area.height * 0.8, Size.NORMAL)
        if found is None:  # the insert's own sheet has the words
            return
        x, middle = area.centre
        pitch = found.size * lettering.LINE_PITCH
        top = middle - (len(found.lines) - 1) * pitch / 2
        for number, line in enumerate(found.lines):
            yield Text(
                at=(x, top + number * pitch),
                text=line,
                size=found.size,
                anchor=Anchor.MIDDLE,
                level=Level.MIDDLE,
                classes=("caption-text",),
            )

    # --- boards ------------------------------------------------------------------------------------------------------

    def _board(self, layer: Layer) -> Iterator[Item]:
        """A board over what lies behind it: first its core, seen where the bevel leans to the front, then its face."""
        blank = self._traced(Outline(shape=Shape.RECTANGLE, box=Box.of(self._piece.blank)))
        colour = layer.board.colour or BOARD
        backs = [(o, self._traced(o.back)) for o in layer.openings]
        faces = [(o, self._traced(o.face)) for o in layer.openings]
        leans = any(o.face.box.width > o.back.box.width for o in layer.openings)
        if leans:
            yield Compound(outlines=(blank, *(d for _, d in backs)), fill=CORE)
        yield Compound(
            outlines=(blank, *(d for _, d in faces)),
            fill=colour,
            classes=("board",),
            data=(("layer", str(layer.number)), ("board", layer.board.name)),
        )
        for opening, drawn in backs:
            if leans:
                yield self._edge(drawn, Pen.RULE, ("back-opening",), opening.back.box, layer, opening.aperture)
        upper = Pen.LIGHT if is_dark(colour) else self._thin
        pen = upper if layer.number == 1 else Pen.RULE
        for opening, drawn in faces:
            yield self._edge(drawn, pen, ("face-opening",), opening.face.box, layer, opening.aperture)

    def _edge(self, drawn: Drawn, pen: Pen, classes: tuple[str, ...], box: Box, layer: Layer, aperture: str) -> Item:
        facts = (("layer", str(layer.number)), ("aperture", aperture))
        return replace(drawn, pen=pen, fill=None, classes=classes, box=model_box(box), data=facts)

    # --- the frame ---------------------------------------------------------------------------------------------------

    def _rails(self) -> Iterator[Item]:
        outer = outer_box(self._piece)
        if outer is None:
            return
        colour = self._piece.frame.ask.colour or RAIL
        a, b = self._view.area(model_box(outer)), self._view.area(model_box(self._piece.sight_box))
        o, i = a.corners, b.corners
        rails: list[Item] = []
        for number, light in enumerate((0.10, -0.04, -0.10, 0.03)):  # lit from above and from the left
            after = (number + 1) % 4
            points: tuple[Point, ...] = (o[number], o[after], i[after], i[number])
            rails.append(Polyline(points=points, closed=True, fill=shaded(colour, light)))
        mitre = Pen.LIGHT if self._dark_rail else Pen.RULE
        rails.extend(Line(start=i[n], end=o[n], pen=mitre, classes=("mitre",)) for n in range(4))
        yield Group(classes=("rails",), items=tuple(rails))
        yield self._rect(outer, pen=Pen.EDGE if self._small else Pen.OUTLINE, name="frame-outer")

    # --- shared ------------------------------------------------------------------------------------------------------

    def _rect(
        self,
        box: Box,
        *,
        pen: Pen | None = None,
        fill: str | None = None,
        name: str | None = None,
        classes: tuple[str, ...] = (),
        aperture: SolvedAperture | None = None,
    ) -> Rect:
        return self._view.rect(
            model_box(box),
            pen=pen,
            fill=fill,
            name=None if self._small else name,
            classes=classes if name is None else (name, *classes),
            data=() if aperture is None else (("aperture", aperture.name),),
        )

    def _traced(self, line: Outline) -> Drawn:
        return traced(line, self._view)


def traced(line: Outline, view: View) -> Drawn:
    """An opening's outline on paper, without a pen."""
    return outline_on_paper(line, view)


def blank_field(area: Area, word: str = "image", room: Area | None = None) -> Iterator[Item]:
    """The diagonal and the word that stand where an image goes of which there is no picture; the word is no larger than
    `room` takes.
    """
    room = room or area
    size = min(Size.SMALL, area.height * 0.25, area.width * 0.16, room.height * 0.25, room.width * 0.16)
    corners = ((area.x, area.bottom), (area.right, area.y))
    if size < Size.LEAST or not word:
        yield Line(start=corners[0], end=corners[1], pen=Pen.RULE)
        return
    # the diagonal leaves the word free
    half_width, half_height = lettering.width(word, size) / 2 + size * 0.8, size * 1.3
    part = min(half_width / area.width, half_height / area.height, 0.5)
    (x1, y1), (x2, y2) = corners
    for start, end in ((0.0, 0.5 - part), (0.5 + part, 1.0)):
        if end - start > 1e-6:
            a = (x1 + (x2 - x1) * start, y1 + (y2 - y1) * start)
            b = (x1 + (x2 - x1) * end, y1 + (y2 - y1) * end)
            yield Line(start=a, end=b, pen=Pen.RULE)
    yield Text(at=area.centre, text=word, size=size, anchor=Anchor.MIDDLE, level=Level.MIDDLE, colour=SECONDARY)


def pictured(picture: Picture, area: Area, clip: Drawn | None = None) -> Image:
    """Return a prepared picture in that area of a drawing, cut to `clip` where that is given."""
    kind: Literal["jpeg", "png"] = "png" if picture.media == "image/png" else "jpeg"
    return Image(x=area.x, y=area.y, width=area.width, height=area.height, content=picture.data, kind=kind, clip=clip)


def shaded(colour: str, light: float) -> str:
    """The colour `#rrggbb` moved towards white (0 to 1) or towards black (0 to −1)."""
    goal, part = (255, light) if light > 0 else (0, -light)
    channels = (int(colour[n : n + 2], 16) for n in (1, 3, 5))
    return "#" + "".join(f"{round(c + (goal - c) * part):02x}" for c in channels)


def is_dark(colour: str) -> bool:
    """Return whether ink is hard to see on the colour `#rrggbb`.

    >>> is_dark("#1a1a1a"), is_dark("#c8a982")
    (True, False)
    """
    red, green, blue = (int(colour[n : n + 2], 16) for n in (1, 3, 5))
    return 0.299 * red + 0.587 * green + 0.114 * blue < _DARK  # luma as ITU-R BT.601 weighs it


def _common(*boxes: Box) -> Box:
    """What all of the boxes share; of no size where they do not meet."""
    x, y = max(b.x for b in boxes), max(b.y for b in boxes)
    width, height = min(b.right for b in boxes) - x, min(b.bottom for b in boxes) - y
    return Box(x, y, max(width, Fraction(0)), max(height, Fraction(0)))
