"""Plans as text for a terminal: plain columns, no colour, so that they read the same in a file."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import assert_never

from matplan.faults import MESSAGE, printable
from matplan.job.records import Cutter, Group, MatSupply
from matplan.lengths import Printer, plain_decimal
from matplan.mats.records import Finding, Layer, SolvedAperture, SolvedPiece
from matplan.orders.at_hand import frames_at_hand
from matplan.orders.money import Currency
from matplan.planning import Plan
from matplan.walls.records import SolvedWall, Wire
from matplan.weights import force, mass


def plan_text(plan: Plan) -> str:
    """Return every piece with its sizes and findings, every wall with its frames and hooks, then what sums up."""
    ready = frames_at_hand(plan.job.pieces)
    blocks = [_piece_text(piece, plan.job.printer, plan.job.cutter, ready[piece.name]) for piece in plan.pieces]
    blocks.extend(_wall_text(wall, plan.job.printer) for wall in plan.walls)
    if plan.findings:
        blocks.append("\n".join(["The job", *_columns([*map(_finding, plan.findings)])]))
    count = sum(piece.ask.quantity for piece in plan.pieces)
    found = [plan.findings, *(piece.findings for piece in plan.pieces), *(wall.findings for wall in plan.walls)]
    warnings = sum(finding.level == "warning" for findings in found for finding in findings)
    counts = [(len(plan.pieces), "piece"), (count, "frame"), (warnings, "warning")]
    closing = ", ".join(f"{number} {what}" if number == 1 else f"{number} {what}s" for number, what in counts)
    return "\n\n".join([*blocks, "\n".join([closing, *_cost(plan)])])


def _cost(plan: Plan) -> Iterator[str]:
    """Yield the job's cost, if anything has a price, and what is left of a budget."""
    if plan.costs.total is not None:
        lacking = ", without what has no price" if plan.costs.unpriced else ""
        currency = Currency.of(plan.job.currency)
        yield f"costs {currency.named(plan.costs.total)}{lacking}"
        if plan.costs.left is not None and plan.costs.budget is not None:
            over = plan.costs.left < 0
            left = (
                f"over by {currency.written(-plan.costs.left)}" if over else f"{currency.written(plan.costs.left)} left"
            )
            yield f"budget {currency.named(plan.costs.budget)}: {left}"


def _piece_text(piece: SolvedPiece, printer: Printer, cutter: Cutter, ready: int) -> str:
    frame = piece.frame
    size = printer.size
    name = frame.ask.name or "made to measure"
    rows = [
        (
            "frame",
            f"{name}: rabbet {size(frame.rabbet)}, sight {size(frame.sight)}"
            + (f", outer {size(frame.outer)}" if frame.outer else "")
            + (f"; {ready} of {piece.ask.quantity} at hand" if ready else ""),
        ),
        ("blank", size(piece.blank)),
    ]
    if piece.layers:
        rows.append(("mat", _supplied(piece)))
    for layer in piece.layers:
        about = f"{layer.board.name}, {printer.fine(layer.board.thickness)}, {layer.cut} cut"
        rows.append((f"layer {layer.number}", f"{about}{_by_hand(piece, layer, cutter)}"))
    for aperture in piece.apertures:
        rows.extend(_aperture_rows(piece, aperture, printer))
    if piece.ask.mount is not None:
        raised = f", the work {printer.fine(piece.ask.lift)} in front of it" if piece.ask.lift else ""
        rows.append(("mount", f"{piece.ask.mount.name}{raised}"))
    depth = "" if piece.stack.depth is None else f" in a rabbet {printer.fine(piece.stack.depth)} deep"
    weight = mass(piece.mass + (piece.frame_mass or 0), printer.units)
    parts = ", ".join(f"{part.part} {printer.fine(part.thickness)}" for part in piece.stack.parts)
    rows.append(("stack", f"{printer.fine(piece.stack.thickness)}{depth}: {parts}"))
    rows.append(("weight", weight))
    for finding in piece.findings:
        where = f"{finding.where}: " if finding.where and finding.where != piece.name else ""
        rows.append((str(finding.level), f"{where}{finding.text}"))
    quantity = f" × {piece.ask.quantity}" if piece.ask.quantity != 1 else ""
    return "\n".join([f"{printable(piece.name)}{quantity}", *_columns(rows)])


def _supplied(piece: SolvedPiece) -> str:
    """Return where a piece's mat comes from."""
    match piece.ask.mat_supply:
        case MatSupply.SHEETS:
            return "cut here from sheets"
        case MatSupply.TO_SIZE:
            return "ordered to size"
        case MatSupply.READY_CUT:
            return "ready-cut" if piece.ready_cut is None else f"ready-cut {piece.ready_cut.name}"
        case MatSupply.OWN:
            own = piece.frame.ask.mat_opening
            return "there already" if own is None or own != piece.apertures[0].ask.opening else "the frame's own"
        case _:
            assert_never(piece.ask.mat_supply)


def _by_hand(piece: SolvedPiece, layer: Layer, cutter: Cutter) -> str:
    """Return the numbers of the cuts that the cutter's guide or track does not reach, "" if it reaches all."""
    if piece.cut_elsewhere or (cutter.widest_border is None and cutter.longest_cut is None):
        return ""
    from matplan.mats.gauge import By, gauge_cuts

    cuts = gauge_cuts(layer, piece.blank, piece.ask.rows, cutter)
    numbers = [str(cut.number) for cut in cuts if cut.by is By.HAND]
    return f"; beyond the cutter's reach, by hand: {', '.join(numbers)}" if numbers else ""


def _wall_text(wall: SolvedWall, printer: Printer) -> str:
    """Return the wall, then each frame in hanging order: corner, size and hooks, from the left edge and the floor."""
    flows = wall.ask.flows
    rows = [
        (
            "wall",
            ", ".join([printer.size(wall.ask.size), *(_flow_text(one, printer) for one in flows if not one.place)]),
        ),
        *((one.place, _flow_text(one, printer)) for one in flows if one.place),
    ]
    for hung in wall.frames:
        hooks = "; ".join(
            f"hook {printer.number(h.left)} from the left, {printer.number(h.height)} up, {mass(h.load, printer.units)}"
            for h in hung.hooks
        )
        wire = "" if hung.wire is None else f"; wire {hung.wire.angle_deg:.1f}°, {_pull(hung.wire, printer)}"
        spot = f"left {printer.number(hung.spot.left)}, bottom {printer.number(hung.spot.bottom)}"
        name = f"{hung.name} {hung.copy}" if hung.frame.copies > 1 else hung.name
        rows.append((name, f"{printer.size(hung.frame.size)}: {spot}; {hooks}{wire}"))
    rows.extend(map(_finding, wall.findings))
    return "\n".join([printable(wall.name), *_columns(rows)])


def _flow_text(flow: Group, printer: Printer) -> str:
    """Return how frames are lined up: `centre-line, eye line at 1450 mm, gap 60 mm`."""
    key, height = flow.level
    level = {"top": "upper edge", "base": "lower edge"}.get(key, "eye line")
    return f"{flow.arrange}, {level} at {printer.length(height)}, gap {printer.length(flow.gap)}"


def _finding(finding: Finding) -> tuple[str, str]:
    """Return a finding of a wall or a job with its place, where its text does not name that."""
    unsaid = finding.where and finding.where not in finding.text
    return str(finding.level), f"{finding.where}: {finding.text}" if unsaid else finding.text


def _pull(wire: Wire, printer: Printer) -> str:
    return force(Fraction(wire.tension_n), printer.units)


def _aperture_rows(piece: SolvedPiece, aperture: SolvedAperture, printer: Printer) -> list[tuple[str, str]]:
    prefix = f"{aperture.name} " if len(piece.apertures) > 1 else ""
    rows = [
        (f"{prefix}image", printer.size(aperture.image.size)),
        (
            f"{prefix}{'opening' if aperture.matted else 'work'}",
            f"{printer.size(aperture.opening.size)}, {_true_edge(aperture, printer)}",
        ),
        (f"{prefix}borders", _borders(aperture, printer, "cut" if piece.layers else "to the edge")),
    ]
    made = aperture.print
    if made is not None and made.paper is not None:
        rows.append(
            (
                f"{prefix}print",
                f"on {made.paper.name}, {printer.size(made.size)} {made.orientation}, margins "
                f"{printer.sides(made.margins)}",
            )
        )
    pixels = aperture.pixels
    have = (
        ""
        if pixels.have is None or pixels.ppi is None
        else (f"; the photo has {pixels.have[0]} × {pixels.have[1]}, {plain_decimal(pixels.ppi, 0)} ppi")
    )
    rows.append(
        (f"{prefix}pixels", f"{pixels.want[0]} × {pixels.want[1]} at {plain_decimal(pixels.wanted_ppi, 0)} ppi{have}")
    )
    return rows


def _true_edge(aperture: SolvedAperture, printer: Printer) -> str:
    for word, sides in (("overlap", aperture.overlap), ("reveal", aperture.reveal), ("gap", aperture.gap)):
        if sides is not None:
            return f"{word} {printer.sides(sides)}"
    return "no mat"


def _borders(aperture: SolvedAperture, printer: Printer, whole: str) -> str:
    """Return what is seen of the borders and all of them, with the names of the sides if these differ."""
    named = "" if aperture.visible.even and aperture.cut.even else " (top / right / bottom / left)"
    return f"{printer.sides(aperture.visible)} seen; {printer.sides(aperture.cut)} {whole}{named}"


def _columns(rows: Sequence[tuple[str, str]]) -> list[str]:
    wide = max(_width(label) for label, _ in rows)
    return [f"  {printable(label)}{' ' * (wide - _width(label))}  {printable(text, MESSAGE)}" for label, text in rows]


def _width(text: str) -> int:
    """Return how many columns a terminal gives a text."""
    return sum(
        0 if unicodedata.combining(c) else 2 if unicodedata.east_asian_width(c) in "WF" else 1 for c in printable(text)
    )
