"""What a question is put together from: the subject, and the frames and papers by name, of the tables or of a job.

The job's own come first; a name that it has not is one of the tables, else a size. Errors name what is near.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

from matplan import catalogue
from matplan.catalogue import USUAL_PPI, Kind
from matplan.faults import LengthError, PackError, printable
from matplan.fit.records import FitError, FrameChoice, Sheet, Subject
from matplan.habits import IMPERIAL, habits_of
from matplan.job.file.table import usual
from matplan.job.file.written import is_signed
from matplan.job.records import Frame, Paper
from matplan.lengths import Printer, Sides, Size, Step, Units, parse_number, parse_size

if TYPE_CHECKING:
    from matplan.job.records import Job

USUAL_PAPERS = (
    "10x15 cm", "13x18 cm", "A5", "A4", "A3", "A3+", "A2",
    "4x6 in", "5x7 in", "8x10 in", "Letter", "11x14 in", "Tabloid", "13x19 in", "ANSI C",
)  # fmt: skip
"""The papers that are tried where none are named: cut sheets that desktop inkjet printers take (common practice)."""

INCH_SERIES = frozenset({"inch", "inch photo", "North American", "ANSI", "Arch"})
"""The series of the tables that are sold where people measure in inches; all others are metric."""

_OF_ASPECTS = frozenset("0123456789.,:+- \t")
"""The characters that a mistaken aspect has, too; a text of others is a file's name."""


def read_subject(text: str) -> Subject:
    """Return the subject written there: an aspect such as `3:2`, or a photo file, whose header alone is read. Raises
    `FitError`.
    """
    return _aspect(text) if ":" in text and _OF_ASPECTS.issuperset(text) else _photo(text)


def read_subjects(texts: Sequence[str], skipped: list[str]) -> tuple[Subject, ...]:
    """Return the subjects written there; a folder stands for the photos in it, and its other files join `skipped`.
    Raises one `FitError` with all faults.
    """
    from matplan.job.read.photo_folder import photos_in

    found: list[Subject] = []
    faults: list[str] = []
    for text in texts:
        try:
            if Path(text).is_dir():
                found.extend(_seen(photo.pixels, str(photo.path)) for photo in photos_in(Path(text), skipped))
            else:
                found.append(read_subject(text))
        except (FitError, PackError) as error:
            faults.extend(str(part) for part in error.args)
        except OSError as error:  # a name too long for any file
            faults.append(f"{_got(text)}, which names no file ({error.strerror}); name a photo, or an aspect like 3:2")
    if faults:
        raise FitError(*faults)
    return tuple(found)


def _seen(pixels: tuple[int, int], file: str) -> Subject:
    return Subject(aspect=_lowest(Fraction(*pixels)), pixels=pixels, file=file)


def _got(text: str) -> str:
    return f'got "{printable(text, 60)}"'


def _aspect(text: str) -> Subject:
    form = "write width and height like 3:2"
    try:
        across, down = (parse_number(half) for half in text.split(":"))
    except ValueError:  # too few halves or too many, or one that is no number
        raise FitError(f"{_got(text)}, which is no aspect; {form}") from None
    if not across or not down:
        raise FitError(f"{_got(text)}, where a side is 0; {form}")
    if max(across / down, down / across) > 100:
        raise FitError(f"{_got(text)}, which is more than a hundred times as long as wide; {form}")
    return Subject(aspect=_lowest(across / down), file=text)


def _photo(text: str) -> Subject:
    path = Path(text)
    if not path.exists():
        raise FitError(f"{_got(text)}, but there is no such file; name a photo, or an aspect like 3:2")
    from matplan.job.read.photos import PhotoFault, read_photo

    try:
        photo = read_photo(path, _got(text))
    except PhotoFault as fault:
        raise FitError(str(fault)) from None
    return _seen(photo.pixels, text)


def _lowest(ratio: Fraction) -> tuple[Fraction, Fraction]:
    """Width : height as whole numbers in the lowest terms."""
    return Fraction(ratio.numerator), Fraction(ratio.denominator)


class Shelf:
    """The frames and papers at hand: a job's own by name, its mouldings' names, and the tables behind them."""

    def __init__(
        self,
        units: Units,
        step: Step,
        frames: Iterable[FrameChoice] = (),
        sheets: Iterable[Sheet] = (),
        mouldings: Iterable[str] = (),
    ) -> None:
        self.units = units
        self.step = step
        self.own_frames = {frame.name: frame for frame in frames}
        self.sheets = {sheet.name: sheet for sheet in sheets}
        self.mouldings = frozenset(mouldings)

    @classmethod
    def bare(cls, units: Units) -> Shelf:
        """Return nothing but the tables."""
        return cls(units, Step.usual(units))

    @classmethod
    def of(cls, job: Job, units: Units | None = None) -> Shelf:
        """Return a job's frames with a size, and its papers; its units and step, unless others are asked for."""
        frames = [
            FrameChoice(
                name=frame.name,
                takes=frame.takes,
                rabbet=frame.rabbet,
                clearance=frame.clearance,
                lip=frame.lip,
                rail=frame.rail,
                have=frame.have,
                mat_opening=frame.mat_opening,
            )
            for frame in job.frames
            if frame.has_size
        ]
        sheets = [Sheet(name=own.name, size=own.size, bare=own.printer_margin, ppi=own.ppi) for own in job.papers]
        step = job.step if units is None or units is job.units else Step.usual(units)
        return cls(units or job.units, step, frames, sheets, (frame.name for frame in job.frames if not frame.has_size))

    @property
    def printer(self) -> Printer:
        return Printer(self.units, self.step)

    # --- frames
    # --------------------------------------------------------------------------------------------------------

    def frames(self, names: Sequence[str]) -> tuple[FrameChoice, ...]:
        """Return the frames of the names; without any the job's own, or where it has none all of the tables. Raises
        `FitError`.
        """
        if names:
            return _each(names, self._frame)
        return tuple(self.own_frames.values()) or tuple(
            replace(self._sold_for(frame.name, frame.size), usual=self._sold(frame)) for frame in catalogue.frames()
        )

    def _sold(self, row: catalogue.Frame | catalogue.Paper) -> bool:
        """Return whether a size of the tables is sold where the shelf's units are used."""
        return (row.series in INCH_SERIES) == (habits_of(self.units) is IMPERIAL)

    def _frame(self, name: str) -> FrameChoice:
        if name in self.own_frames:
            return self.own_frames[name]
        if name in self.mouldings:
            raise FitError(
                f"{_got(name)}, which is a moulding without a size of its own; name a frame that has takes or rabbet"
            )
        row = _row(name, lambda: catalogue.frame(name) or catalogue.paper(name))
        if row is not None:
            return self._sold_for(row.name, row.size)
        return self._sold_for(name, self._size(name, "frame", self.own_frames, Kind.FRAMES, "40x50 cm"))

    def _sold_for(self, name: str, takes: Size) -> FrameChoice:
        return FrameChoice(
            name=name, takes=takes, clearance=usual(Frame, "clearance", self.units), lip=usual(Frame, "lip", self.units)
        )

    # --- papers
    # --------------------------------------------------------------------------------------------------------

    def papers(self, names: Sequence[str]) -> tuple[Sheet, ...]:
        """Return the papers of the names; without any the job's own, or where it has none the usual ones. Raises
        `FitError`.
        """
        if names:
            return _each(names, self._paper)
        return tuple(self.sheets.values()) or tuple(
            replace(self._paper(row.name), usual=self._sold(row)) for row in map(catalogue.paper, USUAL_PAPERS) if row
        )

    def _paper(self, name: str) -> Sheet:
        if name in self.sheets:
            return self.sheets[name]
        row = _row(name, lambda: catalogue.paper(name))
        size = row.size if row else self._size(name, "paper", self.sheets, Kind.PAPERS, "A4")
        bare: Sides = usual(Paper, "printer_margin", self.units)
        return Sheet(name=row.name if row else name, size=size, bare=bare, ppi=USUAL_PPI)

    # --- both
    # ----------------------------------------------------------------------------------------------------------

    def _size(self, name: str, what: str, own: Iterable[str], kind: Kind, example: str) -> Size:
        """Return the size that the name is. Raises `FitError` with the names that are near."""
        try:
            return parse_size(name, self.units)
        except LengthError as error:
            if name[:1].isdigit() and not catalogue.near(name, kind):
                raise FitError(str(error)) from None
            from difflib import get_close_matches

            close = (*get_close_matches(name[:60], list(own), n=3), *catalogue.near(name, kind))[:3]
            near = f"did you mean {', '.join(close)}?" if close else f"write one like {example}"
            whose = "in the job or the tables" if self.own_frames or self.sheets else "in the tables"
            raise FitError(
                f"{_got(name)}, but there is no {what} of that name {whose}, and it is no size; {near}"
            ) from None


def _each[T: (FrameChoice, Sheet)](names: Sequence[str], find: Callable[[str], T]) -> tuple[T, ...]:
    """Return what each name stands for, once. Raises one `FitError` with a text for each that stands for nothing."""
    found: dict[str, T] = {}
    faults: list[str] = []
    for name in names:
        try:
            known = find(name)
            found[known.name] = known
        except FitError as error:
            faults.append(str(error))
    if faults:
        raise FitError(*faults)
    return tuple(found.values())


def both[A, B](first: Callable[[], A], second: Callable[[], B]) -> tuple[A, B]:
    """Return what both give. Raises one `FitError` with the faults of both."""
    try:
        one = first()
    except FitError as error:
        try:
            second()
        except FitError as other:
            raise FitError(*error.args, *other.args) from None
        raise
    return one, second()


def names_in(text: str | None) -> tuple[str, ...]:
    """Return the names in a list with commas."""
    return tuple(name for name in (part.strip() for part in (text or "").split(",")) if name)


def _row[R](name: str, found: Callable[[], R]) -> R:
    """Return a row of the tables; the search for a name would pass over a sign. Raises `FitError`."""
    if is_signed(name):
        raise FitError(f"{_got(name)}, which is no size; a length has no sign")
    return found()
