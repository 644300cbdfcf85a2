"""The whole piece from its windows, borders and blank: layers, prints, stack and findings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import NamedTuple

from matplan.job.records import ApertureAsk, Shape
from matplan.lengths import ZERO, Box, Sides, Size
from matplan.mats.budgets import budgets_of
from matplan.mats.even import odd_sides
from matplan.mats.explained_shapes import explain
from matplan.mats.findings import findings
from matplan.mats.layers import check_apart, layers_of, least_web, seen
from matplan.mats.outlines import Outline, most_rise, outline
from matplan.mats.prints import crop_of, pixels_of, print_of
from matplan.mats.records import Print, SolvedAperture, SolvedFrame, SolvedPiece
from matplan.mats.stack import frame_mass, stack_of
from matplan.mats.task import Task, Windows
from matplan.mats.windows import Unsolvable, true_edges, work_of
from matplan.sums import Sums, length


def finished(task: Task, windows: Windows, borders: Sides, blank: Size, rabbet: Size, strip: Size) -> SolvedPiece:
    piece, lip, rail = task.piece, task.piece.frame.lip, task.piece.frame.rail
    sight = rabbet.grown(-lip)
    if sight.width <= 0 or sight.height <= 0:
        raise Unsolvable(
            "frame", f"the lip of {task.printer.length(lip)} covers the whole rabbet of {task.printer.size(rabbet)}"
        )
    origin = Size(borders.left + windows.front, borders.top + windows.front)
    boxes = tuple(box.moved(origin.width, origin.height) for box in windows.block.boxes)
    lines = tuple(_outline(task, ask, box) for ask, box in zip(piece.apertures, boxes, strict=True))
    _check_sight(task, boxes, blank, strip)
    clear = [(ask.name, line) for ask, line in zip(piece.apertures, lines, strict=True)]
    layers = layers_of(piece.mat, clear, task.grows, task.setback, task.step, task.sums)
    if layers and not all(line.upright for line in lines):  # a mitred corner may reach further than the nominal opening
        _check_sight(task, [opening.back.box.grown(-task.grows[0]) for opening in layers[0].openings], blank, strip)
    check_apart(layers, piece.rows, task.printer)
    for side, outer, inner in (("width", rabbet.width, sight.width), ("height", rabbet.height, sight.height)):
        task.sums.told(f"sight {side}", inner, length("rabbet", outer) - 2 * length("lip", lip))
    sight_box = Box(strip.width, strip.height, sight.width, sight.height)
    faces = [opening.face for opening in layers[0].openings] if layers else []
    whole = Box.of(blank)
    frame = SolvedFrame(
        ask=piece.frame,
        rabbet=rabbet,
        sight=sight,
        outer=None if rail is None else sight.grown(rail),
        long_edges=None if rail is None else rabbet.grown(rail - lip),
    )
    if frame.outer is not None and frame.long_edges is not None and rail is not None:
        for side, out, inner, edge_, hold in (
            ("width", frame.outer.width, sight.width, frame.long_edges.width, rabbet.width),
            ("height", frame.outer.height, sight.height, frame.long_edges.height, rabbet.height),
        ):
            face = length("rail", rail)
            task.sums.told(f"outer {side}", out, length("sight", inner) + 2 * face)
            task.sums.told(f"rail's long edge, {side}", edge_, length("rabbet", hold) + 2 * (face - length("lip", lip)))
    shown = [seen(layers, place) if layers else line for place, line in enumerate(lines)]
    apertures = tuple(
        _aperture(task, Window(*found), whole, strip)
        for found in zip(piece.apertures, windows.images, boxes, lines, shown, strict=True)
    )
    stack = stack_of(piece, blank, layers, task.sums)
    solved = SolvedPiece(
        ask=piece,
        frame=frame,
        blank=blank,
        hidden=strip,
        layers=layers,
        ready_cut=windows.standard,
        apertures=apertures,
        web=least_web(faces, piece.rows, sight_box) if faces else None,
        stack=stack,
        mass=sum((part.mass for part in stack.parts if part.mass is not None), ZERO),
        frame_mass=frame_mass(piece.frame, rabbet),
        odd_sides=odd_sides(piece, borders),
        findings=(),
        sums=tuple(task.sums.found),
    )
    solved = replace(solved, budgets=budgets_of(solved, task.printer, task.climate))
    return replace(solved, findings=tuple(findings(solved, task.printer)))


def _outline(task: Task, ask: ApertureAsk, box: Box) -> Outline:
    """Return the window's outline.

    Raises `Unsolvable` where an arch's rise or a polygon's points do not go with the opening.
    """
    if not task.piece.mat:
        return outline(Shape.RECTANGLE, box)
    if ask.shape is Shape.ARCH and ask.rise is not None and ask.rise > (most := most_rise(box)):
        show = task.printer.length
        limit = "half its width" if most < box.height else "its height"
        raise Unsolvable(
            "rise",
            f"the arch rises {show(ask.rise)}; in an opening of {task.printer.size(box.size)} it is at most {limit}, "
            f"{show(most)}",
        )
    try:
        made = outline(ask.shape, box, points=ask.points, rise=ask.rise, step=task.step)
        explain(made, task.sums_of(ask), task.step)
        return made
    except ValueError:
        raise Unsolvable(
            "points",
            f"in an opening of {task.printer.size(box.size)} points fall together on steps of "
            f"{task.printer.length(task.step.size)}; use a finer step, a larger opening or fewer points",
        ) from None


def _check_sight(task: Task, boxes: Sequence[Box], blank: Size, strip: Size) -> None:
    """Raise `Unsolvable` where an opening of any layer reaches under the lip or past the blank.

    Without a mat the image must stay on the sheet.
    """
    front = task.grows[0] if task.grows else ZERO
    edge_of = Box.of(blank)
    if task.piece.mat or task.piece.floats:
        shown = Box(max(strip.width, ZERO), max(strip.height, ZERO), ZERO, ZERO)
        edge_of = Box(shown.x, shown.y, blank.width - 2 * shown.x, blank.height - 2 * shown.y)
    least = [box.grown(front).inset_in(edge_of) for box in boxes]
    over = {
        side: -min(getattr(sides, side) for sides in least)
        for side in ("left", "right", "top", "bottom")
        if min(getattr(sides, side) for sides in least) < 0
    }
    if not over:
        return
    by = ", ".join(f"{side} by {task.printer.length(length)}" for side, length in over.items())
    if task.piece.mat or task.piece.floats:
        sight, what = task.printer.size(edge_of.size), "opening" if task.piece.mat else "work"
        raise Unsolvable(
            "frame",
            f"the {what} reaches under the lip or past the blank: {by}; the sight is {sight}. "
            f"Make the image smaller, the weight less or the frame larger{_turned_hint(task, boxes, edge_of.size)}",
        )
    raise Unsolvable("image", f"the image reaches past the sheet of {task.printer.size(blank)}: {by}; make it smaller")


class Window(NamedTuple):
    """One window on its way: what is asked of it, its image, its nominal box, its outline and what is seen of it."""

    ask: ApertureAsk
    image: Size
    box: Box
    line: Outline
    seen: Outline


def _turned_hint(task: Task, boxes: Sequence[Box], sight: Size) -> str:
    """Return what to write if the frame holds the openings when it is turned by a quarter."""
    front = task.grows[0] if task.grows else ZERO
    needed = Box.around(boxes).size.grown(front)
    if not task.piece.frame.has_size or not sight.turned.holds(needed):
        return ""
    return ", or leave out turn" if task.piece.frame.turned else ", or turn the frame: turn = true"


def _aperture(task: Task, window: Window, blank: Box, strip: Size) -> SolvedAperture:
    ask, image, box, line, shown = window
    cut = line.box.inset_in(blank)
    lies = Box.of(image).centred_in(box)
    crop = crop_of(ask.photo, image, task.step)
    bare = Outline(shape=Shape.RECTANGLE, box=box if task.piece.floats else lies)
    work = work_of(ask, box, line, lies) if task.piece.mat else bare
    true = true_edges(ask, shown, work) if task.piece.mat else None
    visible = _visible(task.sums_of(ask), cut, shown.box.inset_in(line.box), strip)
    return SolvedAperture(
        ask=ask,
        opening=line.box,
        outline=line,
        seen=shown,
        work=work,
        visible=visible,
        cut=cut,
        overlap=true.overlap if true else None,
        reveal=true.reveal if true else None,
        gap=true.gap if true else None,
        image=lies,
        crop=crop,
        print=_print(task, ask, lies, blank.size, cut, shown.box),
        pixels=pixels_of(ask, image, crop),
    )


def _visible(sums: Sums, cut: Sides, inset: Sides, strip: Size) -> Sides:
    """Return the borders that the eye sees, from the sight edge to the clear opening or a reverse cut's face."""

    def shown(side: str, whole: Fraction, face: Fraction, hidden: Fraction) -> Fraction:
        border = length("cut border", whole) + length("reverse cut", face) if face else length("cut border", whole)
        return sums.add(f"visible border {side}", border - length("under the lip", hidden))

    return Sides(
        top=shown("top", cut.top, inset.top, strip.height),
        right=shown("right", cut.right, inset.right, strip.width),
        bottom=shown("bottom", cut.bottom, inset.bottom, strip.height),
        left=shown("left", cut.left, inset.left, strip.width),
    )


def _print(task: Task, ask: ApertureAsk, lies: Box, blank: Size, cut: Sides, seen: Box) -> Print | None:
    if not task.piece.mat and ask.paper is None and not task.many and not task.piece.floats:
        return Print(paper=None, size=blank, turned=False, margins=cut, unreachable=Sides.all(ZERO))
    return print_of(task, ask, lies, seen)
