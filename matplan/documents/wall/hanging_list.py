"""The hanging list: a wall's hooks in the order in which they are marked, with what each frame weighs and how its wire
is cut.

Every hook is measured from the wall's left edge and from the floor, so that errors do not add up; the steps between are
to check by.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final, assert_never

from matplan.documents.parts import wording
from matplan.documents.parts.cautions import Work, cautions, is_heavy, needs_ladder
from matplan.documents.parts.folio import Folio
from matplan.documents.parts.page import paper, title_block
from matplan.documents.parts.running import Running
from matplan.documents.wall.figures import named
from matplan.drawing import blocks, lettering
from matplan.drawing.blocks import Align, Column
from matplan.drawing.frame import drawing_area, frame
from matplan.drawing.items import Size
from matplan.drawing.sheet import Sheet
from matplan.job.records import ByCleat, BySawtooth, ByTwoHooks, ByWire, Job
from matplan.lengths import Printer, Units, plain_decimal
from matplan.mats.records import Level
from matplan.walls.hanging import anchor_depth, cleat_width, drop_of, wire_to_cut
from matplan.walls.records import HungFrame, SolvedWall
from matplan.walls.work import Mark, in_order, marks
from matplan.weights import force, mass

_LONGEST_NAME: Final = 60.0
"""In mm: what is longer would take more than about three lines of the table of frames."""


def drawn(folio: Folio, wall: SolvedWall) -> tuple[Sheet, ...]:
    """Return the hanging list of a wall."""
    return hanging_list(folio.job, wall)


def hanging_list(job: Job, wall: SolvedWall) -> tuple[Sheet, ...]:
    """Return the list on as many sheets as it needs."""
    size = paper(job.units).portrait
    running = Running(drawing_area(size))
    running.add(
        lambda x, y, width: blocks.notes(_steps(wall, job.printer), x=x, y=y, width=width, title="Order of work")
    )
    _hooks(running, wall, job.printer)
    _frames(running, wall, job.printer)
    _labels(running, wall, job.printer)
    _findings(running, wall)
    _cautions(running, wall, job.units)
    pages = running.pages
    sheets = []
    for number, items in enumerate(pages, 1):
        block = title_block(job, title=wall.name, document="Hanging list", sheet=(number, len(pages)))
        title = f"{wall.name}: hanging list" if len(pages) == 1 else f"{wall.name}: hanging list, sheet {number}"
        sheets.append(
            Sheet(
                name=f"hanging {wall.ask.file} {number}",
                title=title,
                size=size,
                items=(*frame(size, block).items, *items),
            )
        )
    return tuple(sheets)


def _steps(wall: SolvedWall, printer: Printer) -> list[str]:
    """Common practice."""
    first = in_order(wall)[0]
    hooks = first.hooks
    return [
        (
            "Hook the tape at the wall's left edge and mark every hook's distance in one run, the first at "
            f"{printer.length(printer.step.nearest(hooks[0].left))}."
        ),
        (
            "Measure each height straight up from the step or floor below its hook."
            if wall.ask.floor
            else "Measure heights from the floor; where it slopes, level them from the first hook's."
        ),
        "Tick each hook when it is set.",
        "Check with the offsets from hook to hook, but never measure by them: errors would add up.",
        _way(wall),
    ]


def _way(wall: SolvedWall) -> str:
    hang = wall.ask.hang
    match hang:
        case ByWire():
            return (
                "The height is that of the tightened wire on the hook: pull the wire up with a finger to the "
                "drop given, then hang."
            )
        case ByTwoHooks():
            return "Set both hooks of a frame level with each other before the frame goes up."
        case BySawtooth():
            return "The height is that of the hook under the hanger's teeth."
        case ByCleat():
            return "The height is that of the cleat's line on the wall; its two screws are listed, set them level."
        case _:
            assert_never(hang)


# --- tables ----------------------------------------------------------------------------------------------------------


def _hooks(running: Running, wall: SolvedWall, printer: Printer) -> None:
    right = Align.RIGHT
    columns = [
        Column(head="", tick=True),
        Column(head="Hook", align=right, bold=True),
        Column(head="Piece", share=1.0),
        Column(head="From left", align=right, bold=True),
        Column(head="Above floor", align=right, bold=True),
        *([Column(head="Hole", align=right)] if wall.ask.hang.hook_rise else []),
        Column(head="From right", align=right),
        Column(head="Offset", align=right),
        Column(head="Offset up", align=right),
        Column(head="Load", align=right),
    ]
    order = marks(wall)
    pairs = zip(order, (None, *order[:-1]), strict=True)
    rows = [_hook_row(mark, before, wall, printer) for mark, before in pairs]
    running.table(columns, rows, title=f"Hooks, {wording.UNITS[printer.units]}", zebra=True, classes=("hooks",))


def _hook_row(mark: Mark, before: Mark | None, wall: SolvedWall, printer: Printer) -> tuple[str, ...]:
    """Return a hook's figures, on the tape's steps so that its offsets add up."""
    snap = printer.step.nearest
    left, height = snap(mark.hook.left), snap(mark.hook.height)
    above = snap(wall.above_floor(mark.hook.left, mark.hook.height))

    def signed(now: Fraction, then: Fraction | None) -> str:
        if then is None:
            return ""
        return f"{'+' if now > then else '−' if now < then else ''}{printer.number(abs(now - then))}"

    return (
        "",
        mark.number,
        named(mark.hung),
        printer.number(left),
        printer.number(above),
        *((printer.number(snap(above + wall.ask.hang.hook_rise)),) if wall.ask.hang.hook_rise else ()),
        printer.tape(wall.ask.size.width - left),
        signed(left, None if before is None else snap(before.hook.left)),
        signed(height, None if before is None else snap(before.hook.height)),
        mass(mark.hook.load, printer.units),
    )


def _frames(running: Running, wall: SolvedWall, printer: Printer) -> None:
    """Where each frame ends up, to check by, and how it is strung; long names stand at the hooks alone, by number."""
    right = Align.RIGHT
    hang = wall.ask.hang
    short = all(lettering.width(named(hung), Size.SMALL) <= _LONGEST_NAME for hung in wall.frames)
    columns = [
        Column(head="Frame", align=right, bold=True),
        *((Column(head="Piece", share=1.0),) if short else ()),
        Column(head="Width × height", align=right),
        Column(head="Left", align=right),
        Column(head="Bottom", align=right),
        Column(head="Top", align=right),
        *(Column(head=head, align=right) for head in _strung_heads(wall)),
    ]
    rows = [
        (
            str(number),
            *((named(hung),) if short else ()),
            f"{printer.number(hung.spot.width)} × {printer.number(hung.spot.height)}",
            printer.tape(hung.spot.left),
            *(printer.tape(wall.above_floor(_middle(hung), height)) for height in (hung.spot.bottom, hung.spot.top)),
            *_strung(hung, wall, printer),
        )
        for number, hung in enumerate(in_order(wall), 1)
    ]
    title = f"Frames and their {'wires' if isinstance(hang, ByWire) else 'hangers'}, {wording.UNITS[printer.units]}"
    if wall.ask.floor:
        title += "; heights above the floor below each frame's middle"
    running.table(columns, rows, title=title, zebra=True, classes=("frames",))


def _middle(hung: HungFrame) -> Fraction:
    return hung.spot.left + hung.spot.width / 2


def _labels(running: Running, wall: SolvedWall, printer: Printer) -> None:
    """Where each wall label hangs, and its words."""
    right, labels = Align.RIGHT, wall.ask.labels
    if labels is None or all(hung.label is None for hung in wall.frames):
        return
    columns = [
        Column(head="Frame", align=right, bold=True),
        Column(head="From left", align=right, bold=True),
        Column(head="Bottom above floor", align=right, bold=True),
        Column(head="Words", share=1.0),
    ]
    rows = [
        (
            str(number),
            printer.tape(hung.label.left),
            printer.tape(wall.above_floor(hung.label.left, hung.label.bottom)),
            lettering.isolated(hung.frame.piece.ask.label),
        )
        for number, hung in enumerate(in_order(wall), 1)
        if hung.label is not None
    ]
    title = f"Wall labels, {printer.size(labels.size)}: their left lower corners, {wording.UNITS[printer.units]}"
    running.table(columns, rows, title=title, zebra=True, classes=("labels",))


def _strung_heads(wall: SolvedWall) -> tuple[str, ...]:
    hang = wall.ask.hang
    match hang:
        case ByWire():
            return ("Anchors", "Drop", "Angle", "Tension", "Wire length")
        case ByTwoHooks():
            return ("In", "Down")
        case BySawtooth():
            return ("Down",)
        case ByCleat():
            return ("Down", "Cleat")
        case _:
            assert_never(hang)


def _strung(hung: HungFrame, wall: SolvedWall, printer: Printer) -> tuple[str, ...]:
    """Anchors and drops are below the frame's top, on the tape's steps."""
    hang, frame_ = wall.ask.hang, hung.frame
    down = printer.tape(drop_of(hang, frame_))
    match hang:
        case ByWire():
            if hung.wire is None:
                return ("", down, "", "", "")
            angle = f"{plain_decimal(Fraction(hung.wire.angle_deg), 1)}°"
            pull = force(Fraction(hung.wire.tension_n), printer.units)
            return (
                printer.tape(anchor_depth(hang, frame_)),
                down,
                angle,
                pull,
                printer.number(wire_to_cut(hung.wire, printer.units)),
            )
        case ByTwoHooks():
            return (printer.tape(hang.inset), down)
        case BySawtooth():
            return (down,)
        case ByCleat():
            return (down, printer.tape(cleat_width(hang, frame_)))
        case _:
            assert_never(hang)


# --- findings and cautions -------------------------------------------------------------------------------------------


def _findings(running: Running, wall: SolvedWall) -> None:
    lines = [f"{'Warning' if f.level is Level.WARNING else 'Note'}: {f.text}" for f in wall.findings]
    if lines:
        running.add(lambda x, y, width: blocks.notes(lines, x=x, y=y, width=width, title="Findings"))


def _cautions(running: Running, wall: SolvedWall, units: Units) -> None:
    lines: Sequence[str] = cautions(*_works(wall), units=units)
    running.add(lambda x, y, width: blocks.cautions(lines, x=x, y=y, width=width))


def _works(wall: SolvedWall) -> Iterator[Work]:
    yield Work.WALL
    yield Work.FIXINGS
    if wall.ask.floor or any(needs_ladder(hook.height) for hung in wall.frames for hook in hung.hooks):
        yield Work.LADDER
    heavy = any(is_heavy(hung.frame.mass) for hung in wall.frames)
    if heavy:
        yield Work.HEAVY
    if heavy or wall.ask.path:
        yield Work.SECURED
    yield Work.PUBLIC
