"""Glass that is larger than its thickness is sold for: a finding with what to take in its place."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import cache

from matplan.catalogue import Kind, Material, rows
from matplan.lengths import Printer, Size
from matplan.mats.records import Finding, SolvedPiece, warning


@cache
def sold() -> tuple[tuple[Fraction, Size], ...]:
    """Return the thicknesses of glass with the largest size that shops use each for, thinnest first."""
    glass = (row for row in rows(Kind.GLAZING) if isinstance(row, Material) and row.of == "glass")
    return tuple(sorted((row.thickness, row.largest) for row in glass if row.largest is not None))


def glass_findings(piece: SolvedPiece, printer: Printer) -> Iterator[Finding]:
    """Yield where a sheet of glass is too large. Of a thickness between two the thicker one's size counts."""
    glazing = piece.ask.glazing
    if glazing is None or glazing.substance != "glass":
        return
    blank = piece.blank
    limits = [(thickness, largest) for thickness, largest in sold() if thickness >= glazing.thickness]
    if not limits or limits[0][1].holds_either_way(blank):
        return
    thicker = next((thickness for thickness, largest in limits[1:] if largest.holds_either_way(blank)), None)
    cure = "take acrylic" + ("" if thicker is None else f", or glass of {printer.fine(thicker)}")
    text = (
        f"{printer.size(blank)} of {glazing.name}: glass of {printer.fine(limits[0][0])} is used up to "
        f"{printer.size(limits[0][1])} (common practice); {cure}"
    )
    yield warning("glass-too-large", "glazing", text)
