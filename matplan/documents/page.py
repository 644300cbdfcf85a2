"""What all documents share: the paper and the scales that a job's units ask for, and the frame of a sheet."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from matplan.drawing.frame import Frame, Page, TitleBlock, frame
from matplan.drawing.views import INCH, INCH_BEYOND, METRIC, METRIC_BEYOND
from matplan.job.records import Job
from matplan.lengths import Printer, Units, plain_decimal

type PaperSize = tuple[float, float]
"""Width and height in mm."""

_METRIC_PAPERS: Final[tuple[PaperSize, ...]] = (Page.A4.portrait, Page.A3.portrait, (420.0, 594.0), (594.0, 841.0), (841.0, 1189.0))
"""A4 to A0 (ISO 216), upright."""
_INCH_PAPERS: Final[tuple[PaperSize, ...]] = (Page.LETTER.portrait, Page.TABLOID.portrait, (431.8, 558.8), (558.8, 863.6), (863.6, 1117.6))
"""Letter to 34 × 44 in (the ANSI series), upright."""


def page_size(job: Job) -> PaperSize:
    """The paper of the job's documents, upright: Letter in an inch job, else A4."""
    return page_sizes(job)[0]


def page_sizes(job: Job) -> tuple[PaperSize, ...]:
    """That paper and the next larger ones of its series, upright, for what the first cannot hold."""
    return _INCH_PAPERS if job.units is Units.IN else _METRIC_PAPERS


def series(job: Job) -> Sequence[Fraction]:
    """The scales of the job's drawings, largest first."""
    return INCH if job.units is Units.IN else METRIC


def series_beyond(job: Job) -> Sequence[Fraction]:
    """The same scales continued, for what no paper takes at the smallest of them."""
    return INCH_BEYOND if job.units is Units.IN else METRIC_BEYOND


def sheet_frame(
    job: Job,
    *,
    document: str,
    title: str,
    size: PaperSize,
    view: str = "",
    scale: Fraction | None = None,
    sheet: tuple[int, int] | None = None,
    further: tuple[tuple[str, str], ...] = (),
) -> Frame:
    """The frame of one of the job's sheets. `view` says how the thing is seen; `further` are more fields, captioned."""
    block = TitleBlock(
        title=title,
        document=document,
        job=job.title,
        view=view,
        units=job.units.value,
        scale=scale,
        sheet=sheet,
        further=further,
    )
    return frame(size, block)


def printed(length: Fraction, printer: Printer) -> str:
    """The length with its unit, as the job prints it; in millimetres where that would be nought (1.4 mm in steps of an inch)."""
    text = printer.length(length)
    return f"{plain_decimal(length, 1)} mm" if length and text.startswith("0 ") else text
