"""Pieces made by hand for tests: small builders over the job's records, with the defaults of a metric job."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

from matplan.job.records import (
    ApertureAsk,
    BorderAsk,
    Frame,
    ImageAsk,
    Job,
    LayerAsk,
    Material,
    MaterialKind,
    Paper,
    Photo,
    Piece,
    Shape,
)
from matplan.lengths import Printer, Sides, Size, Step, Units, parse_length, parse_size
from matplan.mats.records import SolvedPiece
from matplan.mats.solve import solve
from matplan.planning import Plan, plan


def mm(text: object) -> Fraction:
    """A length as people write it; a bare number is in millimetres."""
    return parse_length(text, Units.MM)


def size(text: str) -> Size:
    """A size as people write it."""
    return parse_size(text, Units.MM)


WHITE = Material(
    kind=MaterialKind.BOARD,
    name="white",
    thickness=Fraction(7, 5),
    density=Fraction(654),
    colour="#f6f2e8",
    ply=4,
    substance="board",
)
CHARCOAL = Material(
    kind=MaterialKind.BOARD,
    name="charcoal",
    thickness=Fraction(7, 5),
    density=Fraction(654),
    colour="#3a3d40",
    ply=4,
    substance="board",
)
GLASS = Material(
    kind=MaterialKind.GLAZING, name="glass-2mm", thickness=Fraction(2), density=Fraction(2500), substance="glass"
)
FOAM = Material(
    kind=MaterialKind.BACKING, name="foam-5mm", thickness=Fraction(5), density=Fraction(130), substance="foam"
)
WHITE_SIXTEENTH = replace(WHITE, thickness=mm("1/16 in"))
ACRYLIC_EIGHTH = replace(GLASS, name="acrylic", thickness=mm("1/8 in"), density=Fraction(1190), substance="acrylic")
FOAM_3_16 = replace(FOAM, thickness=mm("3/16 in"))
RAG = Paper(
    name="rag", size=Size(Fraction(329), Fraction(483)), printer_margin=Sides.all(Fraction(5)), ppi=Fraction(320)
)

FREE: dict[str, Any] = {
    "mat": (LayerAsk(board=replace(WHITE, price_per_m2=Decimal(0)), reveal=Fraction(0)),),
    "glazing": replace(GLASS, price_per_m2=Decimal(0)),
    "backing": replace(FOAM, price_per_m2=Decimal(0)),
}
"""Parts of a piece that have a price and add nothing."""
SMALL: dict[str, Any] = dict.fromkeys(("hinge", "tape_per_m", "hanger", "wire_per_m", "hook"), Decimal(0))
"""Rates of small things that add nothing."""


def frame(takes: str | None = None, rabbet: str | None = None, **changes: Any) -> Frame:
    """A frame called ash, 20 mm rails, lip 6 mm, clearance 3 mm; with neither size a moulding."""
    given: dict[str, Any] = {
        "name": "ash",
        "clearance": Fraction(3),
        "lip": Fraction(6),
        "depth": Fraction(18),
        "rail": Fraction(20),
        "takes": None if takes is None else size(takes),
        "rabbet": None if rabbet is None else size(rabbet),
    }
    return Frame(**(given | changes))


def photo(width: int, height: int) -> Photo:
    """A photo of that many pixels that no file holds."""
    return Photo(written="photo.jpg", path=Path("photo.jpg"), pixels=(width, height))


def window(
    name: str = "Slipway", *, image: str | None = None, aspect: str | None = None, **changes: Any
) -> ApertureAsk:
    """One window; `image` is a size or `"250 mm wide"`, `aspect` like `"3:2"`."""
    ask: ImageAsk | None = None
    if image is not None and image.endswith(" wide"):
        ask = ImageAsk(width=mm(image.removesuffix(" wide")))
    elif image is not None:
        ask = ImageAsk(width=size(image).width, height=size(image).height)
    ratio = None
    if aspect is not None:
        across, down = aspect.split(":")
        ratio = (Fraction(across), Fraction(down))
    given: dict[str, Any] = {
        "name": name,
        "image": ask,
        "aspect": ratio,
        "overlap": Fraction(3),
        "reveal": Fraction(10),
        "gap": Fraction(6),
        "shape": Shape.RECTANGLE,
    }
    return ApertureAsk(**(given | changes))


def border(
    everywhere: str | None = None, *, top: str = "0", right: str = "0", bottom: str | None = None, left: str = "0"
) -> BorderAsk:
    """The same border on every side, or side by side."""
    if everywhere is not None:
        return BorderAsk(top=mm(everywhere), right=mm(everywhere), bottom=None, left=mm(everywhere))
    return BorderAsk(top=mm(top), right=mm(right), bottom=None if bottom is None else mm(bottom), left=mm(left))


def double_mat(reveal: str = "6 mm") -> tuple[LayerAsk, ...]:
    """White in front of charcoal."""
    return LayerAsk(board=WHITE, reveal=Fraction(0)), LayerAsk(board=CHARCOAL, reveal=mm(reveal))


def piece(name: str = "Slipway", **changes: Any) -> Piece:
    """One piece with a single white mat, glass and foam board."""
    given: dict[str, Any] = {
        "name": name,
        "file": name.lower(),
        "line": 1,
        "place": "piece[1]",
        "frame": frame(),
        "apertures": (window(name),),
        "mat": (LayerAsk(board=WHITE, reveal=Fraction(0)),),
        "glazing": GLASS,
        "backing": FOAM,
    }
    return Piece(**(given | changes))


def job(*pieces: Piece, units: Units = Units.MM, step: Fraction | None = None, **changes: Any) -> Job:
    """A job of those pieces in millimetres, or in the units given."""
    given: dict[str, Any] = {
        "title": "Ferry steps",
        "file": "job.toml",
        "folder": Path(),
        "units": units,
        "step": Step.usual(units) if step is None else Step(step),
        "currency": "EUR",
        "pieces": pieces,
    }
    return Job(**(given | changes))


def planned(*pieces: Piece, **changes: Any) -> Plan:
    """The plan of a job of those pieces."""
    return plan(job(*pieces, **changes))


def solved(*, units: Units = Units.MM, step: Fraction | None = None, **changes: Any) -> SolvedPiece:
    """One piece solved."""
    return solve(piece(**changes), printer=Printer(units, Step.usual(units) if step is None else Step(step)))
