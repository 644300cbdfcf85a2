"""The clean view of a wall: what the eye will see, to scale, without a figure: frames with their pictures, wall labels,
and furniture as quiet silhouettes.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from matplan.documents.parts.folio import Folio
from matplan.documents.parts.page import further_scales, title_block
from matplan.documents.parts.paper import Laid, best_paper
from matplan.documents.parts.pictures import PictureKey, Pictures
from matplan.documents.wall.hung_frames import (
    bare_thing,
    floor_line,
    hung_frame,
    image_sizes,
    label_box,
    silhouette,
    wall_edge,
)
from matplan.drawing.frame import frame
from matplan.drawing.items import Area, Item
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import View, fit
from matplan.job.records import Job
from matplan.lengths import ZERO
from matplan.walls.records import SolvedWall


def drawn(folio: Folio, wall: SolvedWall) -> tuple[Sheet, ...]:
    """Return the clean view of a wall."""
    laid = _laid(folio.job, wall)
    return (_sheet(folio.job, wall, folio.smaller(image_sizes(wall, laid.made)), laid),)


def picture_sizes(folio: Folio, wall: SolvedWall) -> Mapping[PictureKey, tuple[float, float]]:
    """Return how large the view shows the pictures, in mm of paper."""
    return image_sizes(wall, _laid(folio.job, wall).made)


def _laid(job: Job, wall: SolvedWall) -> Laid[View]:
    def lay(area: Area) -> tuple[Fraction, View]:
        size = wall.ask.size
        view = fit((ZERO, ZERO, size.width, size.height), area, further_scales(job.units), upward=True)
        return view.scale, view

    return best_paper(job.units, wall.ask.size, lay, any_paper=True)


def _sheet(job: Job, wall: SolvedWall, pictures: Pictures, laid: Laid[View]) -> Sheet:
    block = title_block(job, document="Wall, clean view", title=wall.name, view="seen from the front", scale=laid.scale)
    items = (*frame(laid.size, block).items, *_items(wall, pictures, laid.made))
    return Sheet(name=f"clean wall {wall.ask.file}", title=wall.name, size=laid.size, items=items, scale=laid.scale)


def _items(wall: SolvedWall, pictures: Pictures, view: View) -> Iterator[Item]:
    ask = wall.ask
    yield from floor_line(ask, view)
    for furniture in ask.furniture:
        yield silhouette(furniture, view)
    for kept in ask.keep_clear:
        yield bare_thing(kept, view)
    for hung in wall.frames:
        yield hung_frame(hung, pictures, view)
        yield from label_box(hung, view)
    yield wall_edge(ask, view)
