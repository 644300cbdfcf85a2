"""A solved piece in `plan.json`: its frame, its boards with every cut, its windows, its stack."""

from __future__ import annotations

from fractions import Fraction

from matplan.job.records import Cutter
from matplan.mats.gauge import GaugeCut, gauge_cuts, reading_order, window_letters
from matplan.mats.outline_cuts import OutlineCut, outline_cuts
from matplan.mats.outlines import Outline
from matplan.mats.records import (
    Budget,
    Layer,
    LayerOpening,
    Pixels,
    Print,
    SolvedAperture,
    SolvedFrame,
    SolvedPiece,
    Stack,
)
from matplan.planning.written.values import Plain, box, findings, number, numbers, pair, sides, size


def piece_json(piece: SolvedPiece, cutter: Cutter, ready: int) -> dict[str, Plain]:
    """Return one piece, of whose frames so many lie `ready`; boxes lie in the blank's own frame of reference, seen from
    the front.
    """
    return {
        "name": piece.name,
        "file": piece.ask.file,
        "quantity": piece.ask.quantity,
        "frame": _frame(piece.frame, ready),
        "blank": size(piece.blank),
        "hidden": size(piece.hidden),
        "mat_supply": str(piece.ask.mat_supply),
        "layers": [_layer(piece, layer, cutter) for layer in piece.layers],
        "ready_cut": None if piece.ready_cut is None else piece.ready_cut.name,
        "web": number(piece.web),
        "mount": None if piece.ask.mount is None else piece.ask.mount.name,
        "lift": number(piece.ask.lift),
        "spacer": number(piece.ask.spacer),
        "odd_sides": list(piece.odd_sides),
        "apertures": [_aperture(aperture) for aperture in piece.apertures],
        "stack": _stack(piece.stack),
        "mass_kg": number(piece.mass + (piece.frame_mass or 0)),
        "frame_mass_kg": number(piece.frame_mass),
        "budgets": budgets_json(piece),
        "findings": findings(piece.findings),
    }


def _frame(frame: SolvedFrame, ready: int) -> Plain:
    return {
        "name": frame.ask.name or None,
        "made_to_measure": frame.made_to_measure,
        "turned": frame.ask.turned,
        "rabbet": size(frame.rabbet),
        "sight": size(frame.sight),
        "outer": size(frame.outer),
        "long_edges": size(frame.long_edges),
        "clearance": number(frame.ask.clearance),
        "lip": number(frame.ask.lip),
        "depth": number(frame.ask.depth),
        "rail": number(frame.ask.rail),
        "at_hand": ready,
        "includes": [str(part) for part in frame.ask.includes],
        "mat_opening": size(frame.ask.mat_opening),
    }


def budgets_json(piece: SolvedPiece) -> list[Plain]:
    """Return a piece's budgets, each with what spends it."""
    return [_budget(budget) for budget in piece.budgets]


def _budget(budget: Budget) -> Plain:
    spends: list[Plain] = [
        {"of": spend.of, "amount": number(spend.amount), "status": str(spend.status)} for spend in budget.spends
    ]
    return {
        "what": str(budget.what),
        "aperture": budget.aperture,
        "side": budget.side,
        "slack": number(budget.slack),
        "spends": spends,
        "worst": number(budget.worst),
        "likely": number(budget.likely),
    }


def _stack(stack: Stack) -> Plain:
    parts: list[Plain] = [
        {
            "part": part.part,
            "material": None if part.material is None else part.material.name,
            "thickness": number(part.thickness),
            "mass_kg": number(part.mass),
        }
        for part in stack.parts
    ]
    return {
        "parts": parts,
        "thickness": number(stack.thickness),
        "depth": number(stack.depth),
        "fits": stack.fits,
    }


# --- boards ----------------------------------------------------------------------------------------------------------


def _layer(piece: SolvedPiece, layer: Layer, cutter: Cutter) -> Plain:
    """A board with its cuts as its diagram numbers them; a mat that is bought ready-cut has no cuts."""
    rows = piece.ask.rows
    letters = window_letters(rows)
    cuts = () if piece.comes_cut else gauge_cuts(layer, piece.blank, rows, cutter)
    shaped = () if piece.comes_cut else outline_cuts(layer, reading_order(rows), len(cuts), cutter)
    return {
        "board": layer.board.name,
        "thickness": number(layer.board.thickness),
        "cut": str(layer.cut),
        "openings": [
            _opening(opening, letter, layer.overcut) for opening, letter in zip(layer.openings, letters, strict=True)
        ],
        "gauge": [_gauge_cut(cut, layer) for cut in cuts],
        "shaped_cuts": [_shaped_cut(cut, layer) for cut in shaped],
    }


def _opening(opening: LayerOpening, letter: str, overcut: Fraction) -> Plain:
    written: dict[str, Plain] = {
        "aperture": opening.aperture,
        "letter": letter or None,
        "shape": str(opening.shape),
        "back": box(opening.back.box),
        "face": box(opening.face.box),
        "overcut": number(overcut),
    }
    if not opening.back.upright:
        written["outline"] = {"back": _points(opening.back), "face": _points(opening.face)}
    return written


def _points(line: Outline) -> Plain:
    return [numbers(point) for point in line.points()]


def _gauge_cut(cut: GaugeCut, layer: Layer) -> Plain:
    return {
        "cut": cut.number,
        "aperture": layer.openings[cut.window].aperture,
        "edge": cut.edge.framed.value,
        "lies": cut.edge.value,
        "set": number(cut.setting),
        "start": number(cut.near),
        "stop": number(cut.far),
        "by": cut.by.value,
    }


def _shaped_cut(cut: OutlineCut, layer: Layer) -> Plain:
    """A cut that no gauge guides: a whole round, an arc or a slope; points lie in the blank."""
    written: dict[str, Plain] = {
        "cut": cut.number,
        "aperture": layer.openings[cut.window].aperture,
        "kind": "slope" if cut.round is None else "round" if cut.whole else "arc",
        "marks": [numbers(mark) for mark in cut.marks],
        "start": numbers(cut.start),
        "stop": numbers(cut.stop),
    }
    if cut.round is not None:
        written |= {"centre": numbers(cut.round.centre), "axes": numbers((2 * cut.round.rx, 2 * cut.round.ry))}
    return written


# --- windows ---------------------------------------------------------------------------------------------------------


def _aperture(aperture: SolvedAperture) -> Plain:
    return {
        "name": aperture.name,
        "show": str(aperture.show),
        "opening": box(aperture.opening),
        "seen": box(aperture.seen.box),
        "visible_borders": sides(aperture.visible),
        "cut_borders": sides(aperture.cut),
        "overlap": sides(aperture.overlap),
        "reveal": sides(aperture.reveal),
        "gap": sides(aperture.gap),
        "image": size(aperture.image.size),
        "image_box": box(aperture.image),
        "crop": box(aperture.crop),
        "photo": None if aperture.ask.photo is None else aperture.ask.photo.written,
        "text": aperture.ask.text,
        "paper": _print(aperture.print),
        "pixels": _pixels(aperture.pixels),
    }


def _print(made: Print | None) -> Plain:
    if made is None:
        return None
    return {
        "name": None if made.paper is None else made.paper.name,
        "size": size(made.size),
        "turned": made.turned,
        "orientation": made.orientation,
        "margin_assumed": made.paper is not None and made.paper.margin_assumed,
        "margins": sides(made.margins),
        "unreachable": sides(made.unreachable),
    }


def _pixels(pixels: Pixels) -> Plain:
    return {
        "have": pair(pixels.have),
        "used": pair(pixels.used),
        "want": pair(pixels.want),
        "wanted_ppi": number(pixels.wanted_ppi),
        "ppi": None if pixels.ppi is None else round(float(pixels.ppi), 3),
    }
