"""What suits a picture of the job: frame, paper and image to choose from, the job's own frames first."""

from __future__ import annotations

from fractions import Fraction
from typing import Any, Final

from matplan.fit.choices import answers
from matplan.fit.records import Option, OwnMat, Question, Subject
from matplan.fit.sources import Shelf
from matplan.fit.words import why
from matplan.job.file.table import usual
from matplan.job.records import Job, Photo, Window
from matplan.lengths import Printer, json_number

MOST: Final = 6
"""Choices that are shown."""

type Choice = dict[str, Any]


def choices(job: Job, photo: Photo) -> list[Choice]:
    """Return the best choices for a photo: what is drawn of each, why, and the keys of the piece that make it so.

    Frames that the job has come first, those of the tables behind them.
    """
    shelf = Shelf.of(job)
    across, down = photo.pixels
    lowest = Fraction(across, down)
    subject = Subject(aspect=(Fraction(lowest.numerator), Fraction(lowest.denominator)), pixels=photo.pixels)
    own = Shelf(job.units, job.step, shelf.own_frames.values(), shelf.sheets.values())
    bare = Shelf(job.units, job.step, (), shelf.sheets.values())
    found: list[Option] = []
    for each in (own, bare) if shelf.own_frames else (bare,):
        question = Question(
            subject=subject,
            frames=each.frames(()),
            sheets=each.papers(()),
            any_sheet=not each.sheets,
            printer=each.printer,
            overlap=usual(Window, "overlap", job.units),
            reveal=usual(Window, "reveal", job.units),
            gap=usual(Window, "gap", job.units),
        )
        found += _varied(answers(question, 4 * MOST))
    return [_choice(option, shelf.printer) for option in found[:MOST]]


def _varied(options: tuple[Option, ...]) -> list[Option]:
    """Return the best of each frame, with its own mat and with another, before the second best of any."""
    first: dict[tuple[str, bool, bool], Option] = {}
    for option in options:
        first.setdefault((option.frame.name, option.turned, isinstance(option.mat, OwnMat)), option)
    return list(first.values())


def _choice(option: Option, printer: Printer) -> Choice:
    size = [json_number(option.blank.width), json_number(option.blank.height)]
    opening = [json_number(option.opening.width), json_number(option.opening.height)]
    keys: dict[str, Any] = {"frame": option.frame.name}
    if option.turned:
        keys["turn"] = True
    if isinstance(option.mat, OwnMat):
        pass
    elif option.mat is not None:
        keys |= {"mat_supply": "ready-cut"}
    else:
        keys |= {"image": {"width": printer.exact(option.image.width, unit=True)}}
    if option.sheet is not None:
        keys |= {"paper": option.sheet.name}
    return {
        "title": option.named,
        "why": why(option, printer),
        "print": f"{printer.size(option.image)}" + (f" on {option.printed_on}" if option.sheet else ""),
        "blank": size,
        "opening": opening,
        "left": json_number(option.cut.left),
        "top": json_number(option.cut.top),
        "own": option.frame.usual is None,
        "own_mat": isinstance(option.mat, OwnMat),
        "keys": keys,
    }
