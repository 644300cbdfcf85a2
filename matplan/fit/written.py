"""The answers as plain values for a JSON document (schema matplan-fit/1): lengths in mm as numbers, best first."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from matplan.fit.records import Option, Question
from matplan.fit.words import why
from matplan.lengths import Sides, Size, json_number

SCHEMA = "matplan-fit/1"

type Plain = bool | int | float | str | list[Plain] | dict[str, Plain] | None


def document(question: Question, options: Sequence[Option]) -> dict[str, Plain]:
    """Return the subject and the options, with the keys that other programs read; every score with its parts."""
    pixels = question.subject.pixels
    return {
        "schema": SCHEMA,
        "units": str(question.printer.units),
        "step": json_number(question.printer.step.size),
        "subject": {
            "aspect": [json_number(side) for side in question.subject.aspect],
            "pixels": None if pixels is None else list(pixels),
        },
        "show": question.show,
        "options": [_option(rank, option, question) for rank, option in enumerate(options, 1)],
    }


def _option(rank: int, option: Option, question: Question) -> Plain:
    return {
        "rank": rank,
        "frame": option.rim.name,
        "turned": option.turned,
        "blank": _size(option.blank),
        "image": _size(option.image),
        "opening": _size(option.opening),
        "border": json_number(option.border),
        "visible_borders": _sides(option.visible),
        "cut_borders": _sides(option.cut),
        "paper": None if option.sheet is None else option.sheet.name,
        "paper_turned": option.sheet_turned,
        "spare": _number(option.spare),
        "ppi": None if option.ppi is None else round(float(option.ppi), 3),
        "ready_cut": None if option.mat is None else option.mat.name,
        "print_size": option.standard or None,
        "kept": _number(option.kept),
        "covered": _number(option.covered),
        "score": option.score,
        "parts": dict(option.parts),
        "why": why(option, question.printer),
    }


def _number(value: Fraction | None) -> Plain:
    return None if value is None else json_number(value)


def _size(value: Size) -> Plain:
    return [json_number(value.width), json_number(value.height)]


def _sides(value: Sides) -> Plain:
    return {side: json_number(getattr(value, side)) for side in ("top", "right", "bottom", "left")}
