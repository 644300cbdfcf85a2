"""What the signs of a wall view mean, and the cautions, at the bottom of its page."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from matplan.documents.parts import wording
from matplan.documents.parts.cautions import Work, brief, cautions, is_heavy, needs_ladder
from matplan.documents.wall.stretches import Stretch
from matplan.drawing import blocks
from matplan.drawing.items import Area, Item
from matplan.drawing.pens import SECONDARY
from matplan.job.records import Job
from matplan.lengths import Printer
from matplan.walls.cables import zones
from matplan.walls.limits import listed
from matplan.walls.records import SolvedWall

_SIZE: Final = 2.0


def note_of(job: Job, part: Stretch, area: Area, *, plain: bool) -> tuple[tuple[Item, ...], float]:
    """Return what the drawing's signs mean and the cautions, at the bottom of the page, and their height."""
    care = (*cautions(Work.WALL, Work.FIXINGS, units=job.units), *brief(*_works(part.wall), units=job.units))
    texts = (" ".join(_signs(job.printer, part, plain=plain)), " ".join(care))

    def made(y: float) -> tuple[list[Item], float]:
        items = list[Item]()
        for text, colour in zip(texts, (SECONDARY, None), strict=True):
            block = blocks.paragraph(text, x=area.x, y=y, width=area.width, size=_SIZE, colour=colour or SECONDARY)
            items.extend(block.items)
            y = block.bottom + 1.0
        return items, y

    _, high = made(0.0)
    items, _ = made(area.bottom - high)
    return tuple(items), high


def _signs(printer: Printer, part: Stretch, *, plain: bool) -> Iterator[str]:
    units, ask = wording.UNITS[printer.units], part.wall.ask
    if part.count > 1:
        yield (
            f"Stretch {part.place} of {part.count}, from {printer.number(part.left)} to {printer.length(part.right)} "
            "of the wall; at a line with zigzags it goes on on the page before or after."
        )
    ends = "from the wall's left edge and from the floor"
    if ask.floor:
        ends = "from the wall's left edge, and straight up from the step or floor below each hook"
    yield f"Ring with cross: hook. Tape figures run {ends}, in {units}; the table has both for every frame."
    if plain:
        yield "Frames stand close together, so that their pictures are left out."
    if ask.labels is not None:
        yield "Small box beside a frame: its label, whose place is in the hanging list."
    if ask.zones:
        yield "Dashes and dots: the zone where frames may hang."
    if ask.keep_clear:
        yield f"Kept clear: {listed([wording.short(kept.name) for kept in ask.keep_clear])}."
    if any(zones(ask, kept) for kept in ask.keep_clear):
        yield "Hatched: cables may run here; use a detector, local rules decide."


def _works(wall: SolvedWall) -> Iterator[Work]:
    """Yield what this wall asks for besides the care that every wall does."""
    if wall.ask.floor or any(needs_ladder(hook.height) for hung in wall.frames for hook in hung.hooks):
        yield Work.LADDER
    if any(is_heavy(hung.frame.mass) for hung in wall.frames):
        yield Work.HEAVY
