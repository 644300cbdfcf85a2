"""The clean view of a wall: what the eye will see, to scale, without a figure: frames with their pictures, wall labels,
and furniture as quiet silhouettes.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from matplan.documents.parts.folio import Folio
from matplan.documents.parts.page import further_scales, papers, title_block
from matplan.documents.parts.paper import Laid
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
from matplan.drawing.frame import drawing_area, frame
from matplan.drawing.items import Item
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import NoScaleFits, View, fit
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
    """Return the view on the paper that shows it largest, on the smaller one where both do."""
    size = wall.ask.size
    model = (ZERO, ZERO, size.width, size.height)
    found: list[Laid[View]] = []
    for number, upright in enumerate(papers(job.units)):
        if found and number > 1:
            break
        for lying in (upright[::-1], upright):
            try:
                view = fit(model, drawing_area(lying), further_scales(job.units), upward=True)
            except NoScaleFits:
                continue
            found.append(Laid(size=lying, scale=view.scale, made=view))
    return max(found, key=lambda laid: laid.scale)


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
