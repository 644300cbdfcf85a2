"""What all documents share: the paper and the scales that a job's units ask for, and the fields of its title blocks."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from matplan.drawing.frame import Page, TitleBlock
from matplan.habits import habits_of
from matplan.job.records import Job
from matplan.lengths import Printer, Units


def paper(units: Units) -> Page:
    """Return the paper of a job's documents: Letter in an inch job, else A4."""
    return next(page for page in Page if page.portrait == papers(units)[0])


def papers(units: Units) -> tuple[tuple[float, float], ...]:
    """Return the paper and the next larger ones of its series, upright, for what the first cannot hold."""
    return habits_of(units).papers


def scales(units: Units) -> Sequence[Fraction]:
    """Return the series of a job's drawings."""
    return habits_of(units).scales


def further_scales(units: Units) -> Sequence[Fraction]:
    """Return the scales of a job's drawings, the usual ones first, then those for what no paper takes at these."""
    habits = habits_of(units)
    return (*habits.scales, *habits.further_scales)


def title_block(
    job: Job,
    *,
    title: str,
    document: str,
    view: str = "",
    scale: Fraction | None = None,
    sheet: tuple[int, int] | None = None,
    further: tuple[tuple[str, str], ...] = (),
) -> TitleBlock:
    """Return the title block of one of the job's sheets."""
    return TitleBlock(
        title=title,
        document=document,
        job=job.title,
        view=view,
        units=job.units.value,
        scale=scale,
        sheet=sheet,
        further=further,
    )


def printed(length: Fraction, printer: Printer) -> str:
    """Return the length with its unit, as the job prints it; as finely as a board is measured where that would be 0
    (1.4 mm in steps of an inch).
    """
    text = printer.length(length)
    return printer.fine(length) if length and text.startswith("0 ") else text
