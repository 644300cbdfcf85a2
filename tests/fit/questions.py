"""Questions made by hand for the tests of what fits what, and the pieces that their answers stand for."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Any

from matplan.fit.records import FrameChoice, Option, Question, Sheet, Subject
from matplan.job.records import (
    AddedWeight,
    ApertureAsk,
    BorderAsk,
    Frame,
    ImageAsk,
    LayerAsk,
    MatSupply,
    Paper,
    Photo,
    Piece,
    Show,
)
from matplan.lengths import Printer, Sides, Step, Units
from tests.making import WHITE, mm, size

METRIC = Printer(Units.MM, Step.usual(Units.MM))


def frame(takes: str | None = None, rabbet: str | None = None, **changes: Any) -> FrameChoice:
    """A frame with a lip of 6 mm and 3 mm of clearance, whose face nobody knows."""
    given: dict[str, Any] = {
        "name": takes or rabbet,
        "takes": None if takes is None else size(takes),
        "rabbet": None if rabbet is None else size(rabbet),
        "clearance": mm(3),
        "lip": mm(6),
    }
    return FrameChoice(**(given | changes))


def sheet(dimensions: str, **changes: Any) -> Sheet:
    """A paper that the printer prints to the edge, 300 ppi wanted."""
    given: dict[str, Any] = {
        "name": dimensions, "size": size(dimensions), "bare": Sides.all(Fraction(0)), "ppi": Fraction(300)
    }  # fmt: skip
    return Sheet(**(given | changes))


A4 = sheet("210x297 mm", name="A4")
A3_PLUS = sheet("329x483 mm", name="A3+", bare=Sides.all(mm(5)))


def question(
    *frames: FrameChoice, sheets: tuple[Sheet, ...] = (A3_PLUS,), aspect: str = "3:2", **changes: Any
) -> Question:
    """Which of these suits; the defaults of a metric job."""
    across, down = aspect.split(":")
    given: dict[str, Any] = {
        "subject": Subject(aspect=(Fraction(across), Fraction(down))),
        "frames": frames,
        "sheets": sheets,
        "any_sheet": False,
        "printer": METRIC,
        "overlap": mm(3),
        "reveal": mm(10),
        "gap": mm(6),
    }
    return Question(**(given | changes))


def as_piece(option: Option, asked: Question) -> Piece:
    """The piece that a job would ask for to get that answer."""
    frame, paper = option.frame, option.sheet
    turn = option.turned
    across, down = asked.subject.aspect
    pixels = asked.subject.pixels
    return Piece(
        name="Slipway",
        file="slipway",
        frame=Frame(
            name=frame.name,
            takes=frame.takes.turned if frame.takes and turn else frame.takes,
            rabbet=frame.rabbet.turned if frame.rabbet and turn else frame.rabbet,
            clearance=frame.clearance,
            lip=frame.lip,
            rail=frame.rail,
            turned=turn,
        ),
        apertures=(
            ApertureAsk(
                name="Slipway",
                photo=None if pixels is None else Photo(written="photo.jpg", path=Path("photo.jpg"), pixels=pixels),
                aspect=(across, down),
                image=ImageAsk(width=option.image.width, height=option.image.height),
                show=Show(asked.show),
                overlap=asked.overlap,
                reveal=asked.reveal,
                gap=asked.gap,
                paper=None
                if paper is None
                else Paper(name=paper.name, size=paper.size, printer_margin=paper.bare, ppi=asked.ppi or paper.ppi),
            ),
        ),
        border=BorderAsk(top=option.border, right=option.border, bottom=None, left=option.border),
        weight=asked.weight or AddedWeight(extra=Fraction(0)),
        mat=(LayerAsk(board=WHITE, reveal=Fraction(0)),),
        mat_supply=MatSupply.TO_SIZE if option.mat is None else MatSupply.READY_CUT,
    )
