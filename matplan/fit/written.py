"""The answers as plain values for a JSON document (schema matplan-fit/1): lengths in mm as numbers, best first."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from matplan.fit.giving import Answers, Shared
from matplan.fit.records import Option, OwnMat, Question
from matplan.fit.words import nothing, why
from matplan.lengths import Sides, Size, json_number

SCHEMA = "matplan-fit/1"

type Plain = bool | int | float | str | list[Plain] | dict[str, Plain] | None


def document(question: Question, options: Sequence[Option]) -> dict[str, Plain]:
    """Return the subject and the options, with the keys that other programs read; every score with its parts."""
    return {**_head(question), **_answer(question, options)}


def documents(
    questions: Sequence[Question], found: Sequence[Answers], shared: Shared, skipped: Sequence[str]
) -> dict[str, Plain]:
    """Return each subject with its options, who gets which frame that lies ready, and what is left over."""
    given: list[Plain] = [
        {
            "file": each.subject.file,
            "frame": each.option.frame.name,
            "score": each.option.score,
            "option": _option(1, each.option, questions[0]),
        }
        for each in shared.given
    ]
    return {
        **_head(questions[0]),
        "subjects": [_of_several(question, options) for question, options in zip(questions, found, strict=True)],
        "given": given,
        "left": {"photos": [subject.file for subject in shared.photos], "frames": list(shared.frames)},
        "skipped": list(skipped),
    }


def _of_several(question: Question, options: Sequence[Option]) -> Plain:
    """Return the answers to one of several questions, with the file of its photo."""
    subject: dict[str, Plain] = {**_subject(question), "file": question.subject.file}
    return {**_answer(question, options), "subject": subject}


def _head(question: Question) -> dict[str, Plain]:
    return {
        "schema": SCHEMA,
        "units": str(question.printer.units),
        "step": json_number(question.printer.step.size),
        "show": question.show,
    }


def _subject(question: Question) -> dict[str, Plain]:
    pixels = question.subject.pixels
    return {
        "aspect": [json_number(side) for side in question.subject.aspect],
        "pixels": None if pixels is None else list(pixels),
    }


def _answer(question: Question, options: Sequence[Option]) -> dict[str, Plain]:
    ranked: list[Plain] = [_option(rank, each, question) for rank, each in enumerate(options, 1)]
    said: dict[str, Plain] = {} if options else {"why": nothing(question)}
    return {"subject": _subject(question), "options": ranked, **said}


def _option(rank: int, option: Option, question: Question) -> Plain:
    return {
        "rank": rank,
        "frame": option.frame.name,
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
        "ready_cut": None if option.mat is None else option.mat.name or None,
        "own_mat": isinstance(option.mat, OwnMat),
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
