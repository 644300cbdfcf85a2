"""What `fit` reads from its options, and its answers as text for a terminal."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

import click

from matplan.faults import MESSAGE, LengthError, printable
from matplan.fit.giving import Answers, Shared
from matplan.fit.records import FitError, Option, OwnMat, Question, Show
from matplan.fit.sources import Shelf, both, names_in, read_subjects
from matplan.fit.words import nothing, why
from matplan.lengths import Printer, Size, Units, parse_length, parse_number, parse_size

if TYPE_CHECKING:
    from matplan.job.records import Weight


def questions_of(
    subjects: Sequence[str],
    skipped: list[str],
    *,
    frames: str | None,
    papers: str | None,
    job: str | None,
    image: str | None,
    border: str | None,
    weight: str | None,
    show: Show,
    overlap: str | None,
    ppi: str | None,
    units: str | None,
) -> tuple[Question, ...]:
    """Return the question that the options ask of each picture; what of a folder is no photo joins `skipped`. Raises
    `click.BadParameter` for what cannot be read, `FitError` for what is not known.
    """
    from matplan.job.file.table import usual
    from matplan.job.records import Window

    chosen = Units(units) if units else None
    if job is None:
        shelf = Shelf.bare(chosen or Units.MM)
    else:
        from matplan.job import read_job

        shelf = Shelf.of(read_job(job, may_be_bare=True), chosen)
    asked_papers = names_in(papers)
    pictures, (offered, sheets) = both(
        lambda: read_subjects(subjects, skipped),
        lambda: both(lambda: shelf.frames(names_in(frames)), lambda: shelf.papers(asked_papers)),
    )
    question = Question(
        subject=pictures[0],
        frames=offered,
        sheets=sheets,
        any_sheet=not asked_papers and not shelf.sheets,
        printer=shelf.printer,
        border=None if border is None else _length(border, shelf.units, "--border"),
        weight=None if weight is None else _weight(weight, shelf.units),
        show=show,
        overlap=usual(Window, "overlap", shelf.units)
        if overlap is None
        else _length(overlap, shelf.units, "--overlap"),
        reveal=usual(Window, "reveal", shelf.units),
        gap=usual(Window, "gap", shelf.units),
        ppi=None if ppi is None else _ppi(ppi),
    )
    return tuple(
        replace(question, subject=picture, image=_image(image, picture.aspect, shelf.units)) for picture in pictures
    )


def _length(text: str, units: Units, option: str) -> Fraction:
    try:
        return parse_length(text, units)
    except LengthError as error:
        raise click.BadParameter(str(error), param_hint=option) from error


def _ppi(text: str) -> Fraction:
    try:
        number = parse_number(text)
    except LengthError as error:
        raise click.BadParameter(str(error), param_hint="--ppi") from error
    if not 1 <= number <= 10_000:
        raise click.BadParameter(
            f"got {printable(text, 40)}; write pixels per inch, from 1 to 10,000", param_hint="--ppi"
        )
    return number


def _weight(text: str, units: Units) -> Weight:
    from matplan.job.records.weights import read_weight

    try:
        return read_weight(text, units)
    except ValueError as error:
        raise click.BadParameter(str(error), param_hint="--weight") from error


def _image(text: str | None, aspect: tuple[Fraction, Fraction], units: Units) -> Size | None:
    """Return the print's size: width × height, or that of a standard name, which lies as the picture does."""
    if text is None:
        return None
    wide = aspect[0] >= aspect[1]
    from matplan.catalogue import paper

    row = paper(text)
    if row is not None:
        return row.size.turned if wide != (row.size.width >= row.size.height) else row.size
    try:
        size = parse_size(text, units)
    except LengthError as error:
        raise click.BadParameter(str(error), param_hint="--image") from error
    if aspect[0] != aspect[1] and size.width != size.height and wide != (size.width > size.height):
        picture, print_ = ("wide", "upright") if wide else ("upright", "wide")
        raise FitError(
            f'got --image "{printable(text, 60)}", which is {print_}, for a picture that is {picture}; swap its sides'
        )
    return size


# --- text ------------------------------------------------------------------------------------------------------------


def fit_text(question: Question, options: Sequence[Option]) -> str:
    """Return the subject, then two lines an answer: its sizes, and why."""
    printer = question.printer
    across, down = question.subject.aspect
    pixels = question.subject.pixels
    head = f"{across}:{down}" + (f", {pixels[0]} × {pixels[1]} pixels" if pixels else "")
    lines = [head, ""]
    heads = [_head(option, printer) for option in options]
    wide = max(len(named) for named, _ in heads)
    for rank, (option, (named, sizes)) in enumerate(zip(options, heads, strict=True), 1):
        lines.append(f"{rank:>3}  {option.score:.2f}  {named:<{wide}}  {sizes}")
        lines.append(f"           {printable(why(option, printer), MESSAGE)}")
    return "\n".join(lines)


def many_text(questions: Sequence[Question], found: Sequence[Answers], shared: Shared, skipped: Sequence[str]) -> str:
    """Return each picture with its best answers, then who gets which frame that lies ready, and what is left over."""
    parts = []
    for question, options in zip(questions, found, strict=True):
        said = fit_text(question, options) if options else f"nothing suits: {nothing(question)}"
        parts.append(f"{printable(question.subject.file, 200)}\n{said}")
    if shared.given or shared.frames:
        parts.append("\n".join(("Frames that lie ready", *_given_lines(shared))))
    parts += [printable(line, MESSAGE) for line in skipped]
    return "\n\n".join(parts)


def _given_lines(shared: Shared) -> Iterator[str]:
    for given in shared.given:
        own = ", with its own mat" if isinstance(given.option.mat, OwnMat) else ""
        sizes = f"{given.option.score:.2f}  {printable(given.option.named, 80)}{own}"
        yield f"     {sizes}  {printable(given.subject.file, 200)}"
    if shared.photos:
        yield f"  without one: {printable(', '.join(subject.file for subject in shared.photos), 2000)}"
    if shared.frames:
        counts = (f"{shared.frames.count(name)} × {name}" for name in dict.fromkeys(shared.frames))
        yield f"  stay empty: {printable(', '.join(counts), 2000)}"


def _head(option: Option, printer: Printer) -> tuple[str, str]:
    """Return the frame, and the sizes that follow."""
    named = printable(option.named, 80)
    paper = f" on {printable(option.printed_on, 80)}" if option.sheet else ""
    opening = f"opening {printer.size(option.opening)}"
    return (
        named,
        f"image {printer.size(option.image)}{paper}, {opening}, borders {printer.sides(option.visible)} seen",
    )
