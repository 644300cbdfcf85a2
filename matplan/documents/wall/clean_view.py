"""The clean view of a wall: what the eye will see, to scale, without a figure: frames with their pictures, wall labels,
and furniture as quiet silhouettes.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from matplan.documents.parts.folio import Folio
from matplan.documents.parts.page import further_scales, papers, scales, title_block
from matplan.documents.parts.paper import Laid, PaperSize
from matplan.documents.parts.pictures import PictureKey, Pictures
from matplan.documents.wall.hung_frames import (
    bare_thing,
    break_line,
    floor_line,
    hung_frame,
    image_sizes,
    label_box,
    silhouette,
    stretch_edge,
    wall_edge,
)
from matplan.documents.wall.stretches import Stretch, divisions, whole
from matplan.drawing.frame import drawing_area, frame
from matplan.drawing.items import Group, Item
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import NoScaleFits, View, fit
from matplan.job.records import Job
from matplan.walls.records import SolvedWall


def drawn(folio: Folio, wall: SolvedWall) -> tuple[Sheet, ...]:
    """Return the clean view of a wall, on several pages where it is too long for one."""
    laid = _laid(folio.job, wall)
    pictures = folio.smaller(image_sizes(wall, laid.made[0][1]))
    count = len(laid.made)
    return tuple(
        _sheet(folio.job, stretch, pictures, laid, view, (page, count))
        for page, (stretch, view) in enumerate(laid.made, 1)
    )


def picture_sizes(folio: Folio, wall: SolvedWall) -> Mapping[PictureKey, tuple[float, float]]:
    """Return how large the view shows the pictures, in mm of paper."""
    return image_sizes(wall, _laid(folio.job, wall).made[0][1])


type _Views = tuple[tuple[Stretch, View], ...]


def _laid(job: Job, wall: SolvedWall) -> Laid[_Views]:
    """Return the view on the paper that shows it largest, on the smaller one where both do; a wall that neither holds
    is divided, or drawn at a further scale where it cannot be.
    """
    everything = whole(wall)
    found = list(_alone(everything, papers(job.units)[:2], scales(job.units)))
    if not found:
        for parts, size, scale in divisions(wall, job):
            views = tuple((part, fit(part.box, drawing_area(size), (scale,), upward=True)) for part in parts)
            return Laid(size=size, scale=scale, made=views)
        for upright in papers(job.units):
            found = found or list(_alone(everything, (upright,), further_scales(job.units)))
    return max(found, key=lambda laid: laid.scale)


def _alone(part: Stretch, sizes: Sequence[PaperSize], series: Sequence[Fraction]) -> Iterator[Laid[_Views]]:
    for upright in sizes:
        for lying in (upright[::-1], upright):
            try:
                view = fit(part.box, drawing_area(lying), series, upward=True)
            except NoScaleFits:
                continue
            yield Laid(size=lying, scale=view.scale, made=((part, view),))


def _sheet(
    job: Job, part: Stretch, pictures: Pictures, laid: Laid[_Views], view: View, sheet: tuple[int, int]
) -> Sheet:
    ask, (page, count) = part.wall.ask, sheet
    block = title_block(
        job,
        document="Wall, clean view",
        title=ask.name,
        view="seen from the front",
        scale=laid.scale,
        sheet=sheet if count > 1 else None,
    )
    return Sheet(
        name=f"clean wall {ask.file}" + ("" if page == 1 else f" {page}"),
        title=ask.name if page == 1 else f"{ask.name}, page {page}",
        size=laid.size,
        items=(*frame(laid.size, block).items, *_whole_or_cut(part, pictures, view)),
        scale=laid.scale,
    )


def _whole_or_cut(part: Stretch, pictures: Pictures, view: View) -> Iterator[Item]:
    """Yield the items; those of a divided wall are cut to its stretch."""
    items = _items(part.wall, pictures, view)
    if part.count == 1:
        yield from items
        return
    yield Group(items=tuple(items), clip=stretch_edge(view, part.begins, part.ends))
    yield from (break_line(view, right=right) for right in (False, True) if not (part.begins, part.ends)[right])


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
