"""The figures of a front view: lists of facts, the table of windows, the findings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from matplan.documents.parts import wording
from matplan.documents.parts.facts import fact_list
from matplan.documents.parts.running import GAP, Made, Running
from matplan.documents.parts.words import words_used
from matplan.drawing import blocks
from matplan.drawing.blocks import Align, Column
from matplan.drawing.items import Area, Item
from matplan.job.records import Job, Show
from matplan.lengths import Printer, plain_decimal
from matplan.mats.budgets import tightest
from matplan.mats.gauge import reading_order, window_letters
from matplan.mats.records import SolvedAperture, SolvedPiece
from matplan.orders.at_hand import frames_at_hand

_SEEN: Final = ("Sight", "Frame, outside")
"""The sizes of the frame that the eye sees."""
_COLUMNS: Final = (
    Column(head="Window", bold=True),
    Column(head="Name", share=1.0),
    Column(head="Opening"),
    Column(head="Image"),
    *(Column(head=head, align=Align.RIGHT) for head in ("Top", "Right", "Bottom", "Left", "ppi")),
)


def fact_lists(piece: SolvedPiece, job: Job) -> Iterator[tuple[str, list[wording.Fact]]]:
    """Yield what the eye sees, what lies behind the mat and the lip, and what the piece is made of."""
    printer, ready = job.printer, frames_at_hand(job.pieces).get(piece.name, 0)
    sizes = [(what, printer.size(size), what in _SEEN) for what, size in wording.frame_sizes(piece)]
    if len(piece.apertures) == 1:
        aperture = piece.apertures[0]
        seen_too = {"Opening"}
        if aperture.overlap is None:
            seen_too |= {"Image", "Sheet"} if aperture.show is Show.SHEET else {"Image"}
        window = [(what, printer.size(size), what in seen_too) for what, size in wording.window_sizes(aperture)]
        if aperture.seen.box.size != aperture.opening.size:  # a reverse cut: the eye sees the face
            window = [(what, size, seen) for what, size, seen in window if what != "Opening"]
            window.insert(1, ("Opening", printer.size(aperture.seen.box.size), True))
            window.append(("Opening, back", printer.size(aperture.opening.size), False))
        sizes = [*window, *sizes]
        covered = wording.shown_in_words(aperture, printer)
        sizes += [] if covered is None else [(*covered, aperture.overlap is None)]
    seen = [(what, figure) for what, figure, is_seen in sizes if is_seen]
    hidden = [(what, figure) for what, figure, is_seen in sizes if not is_seen]
    yield "Seen, width × height", seen
    least = tightest(piece.budgets)
    if least is not None:
        whose = least.what.partition(" ")[0]
        figure = printer.length if printer.step.is_whole(least.slack) else printer.fine
        hidden.append(("Least slack", f"{figure(least.slack)}, {whose}"))
    yield "Behind mat and lip", hidden
    yield "Made of", [*wording.materials(piece, printer, ready), *wording.weights(piece, printer.units)]


def list_of(head: str, lines: Sequence[wording.Fact]) -> Made:
    """Return what makes a list of facts."""
    return lambda x, y, width: fact_list(head, lines, x=x, y=y, width=width)


def windows_and_findings(piece: SolvedPiece, printer: Printer) -> Iterator[Made]:
    """Yield the windows of a piece that has several, and the findings."""
    if len(piece.apertures) > 1:
        yield lambda x, y, width: blocks.table(*_windows(piece, printer), x=x, y=y, width=width, classes=("windows",))
    if piece.findings:
        yield lambda x, y, width: blocks.notes(_findings(piece), x=x, y=y, width=width, title="Findings")


def further_tables(piece: SolvedPiece, printer: Printer, area: Area) -> tuple[tuple[Item, ...], ...]:
    """Return the tables on as many sheets as they need, at the foot of each the words that the tables use."""
    words = words_used(table_texts(piece, printer))
    high = sum(make(area.x, area.y, area.width).area.height + GAP for make in words)
    running = Running(area.inset(0, 0, 0, high))
    if len(piece.apertures) > 1:
        running.table(*_windows(piece, printer), classes=("windows",))
    columns = (Column(head="Findings", share=1.0),)
    running.table(columns, [(line,) for line in _findings(piece)], classes=("findings",))
    foot = [item for make in words for item in make(area.x, area.bottom - high + GAP, area.width).items]
    return tuple((*page, *foot) for page in running.pages)


def table_texts(piece: SolvedPiece, printer: Printer) -> Iterator[str]:
    """Yield what the tables have in words."""
    if len(piece.apertures) > 1:
        columns, rows = _windows(piece, printer)
        yield from (column.head for column in columns)
        yield from (text for row in rows for text in row)
    yield from _findings(piece)


def _windows(piece: SolvedPiece, printer: Printer) -> tuple[Sequence[Column], list[tuple[str, ...]]]:
    """Return the columns and rows of the windows by their letters, which are those of the cutting diagram: in reading
    order on the boards' backs. Without a photo there is no resolution.
    """
    letters = window_letters(piece.ask.rows)
    rows = [_row(letters[n], piece.apertures[n], printer) for n in reading_order(piece.ask.rows)]
    return (_COLUMNS, rows) if any(row[-1] for row in rows) else (_COLUMNS[:-1], [row[:-1] for row in rows])


def _row(letter: str, a: SolvedAperture, printer: Printer) -> tuple[str, ...]:
    image = printer.size(a.image.size) if a.ask.text is None else f"caption: {a.ask.text}"
    borders = map(printer.number, (a.visible.top, a.visible.right, a.visible.bottom, a.visible.left))
    ppi = "" if a.pixels.ppi is None else plain_decimal(a.pixels.ppi, 0)
    return (letter, wording.short(a.name), printer.size(a.seen.box.size), image, *borders, ppi)


def _findings(piece: SolvedPiece) -> list[str]:
    return [wording.finding_in_words(finding, piece) for finding in piece.findings]
