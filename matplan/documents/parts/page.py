"""What all documents share: the paper and the scales that a job's units ask for, and the fields of its title blocks."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from matplan.drawing.frame import Page, TitleBlock
from matplan.drawing.views import INCH_BEYOND, METRIC_BEYOND
from matplan.job.records import Job
from matplan.lengths import Printer, Units, plain_decimal

_METRIC_PAPERS: Final = (Page.A4.portrait, Page.A3.portrait, (420.0, 594.0), (594.0, 841.0), (841.0, 1189.0))
"""A4 to A0 (ISO 216), upright."""
_INCH_PAPERS: Final = (Page.LETTER.portrait, Page.TABLOID.portrait, (431.8, 558.8), (558.8, 863.6), (863.6, 1117.6))
"""Letter to 34 × 44 in (the ANSI series), upright."""


def paper(units: Units) -> Page:
    """Return the paper of a job's documents: Letter in an inch job, else A4."""
    return Page.LETTER if units is Units.IN else Page.A4


def papers(units: Units) -> tuple[tuple[float, float], ...]:
    """Return the paper and the next larger ones of its series, upright, for what the first cannot hold."""
    return _INCH_PAPERS if units is Units.IN else _METRIC_PAPERS


def further_scales(units: Units) -> Sequence[Fraction]:
    """Return the scales of a job's drawings, the usual ones first, then those for what no paper takes at these."""
    return INCH_BEYOND if units is Units.IN else METRIC_BEYOND


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
    """Return the length with its unit, as the job prints it; in millimetres where that would be 0 (1.4 mm in steps of
    an inch).
    """
    text = printer.length(length)
    return f"{plain_decimal(length, 1)} mm" if length and text.startswith("0 ") else text
