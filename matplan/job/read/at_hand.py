"""What a frame comes with and how many lie ready: whether that goes with the rest that is said of the frame."""

from __future__ import annotations

from collections.abc import Iterator

from matplan.job.file.table import Opened
from matplan.job.records import Frame
from matplan.lengths import Printer, Step


def check_at_hand(frame: Frame, table: Opened[Frame]) -> None:
    """Take up what does not go with a frame that is sawn or made to measure, and a mat that its frame does not show."""
    for key, text in (*_faults_of_sticks(frame), *_only_ready_made(frame), *_faults_of_mat(frame, table)):
        table.wrong(key, text=text, line_of=None if table.says(key) else table.place, sized=key == "mat_opening")


def _faults_of_sticks(frame: Frame) -> Iterator[tuple[str, str]]:
    if frame.sticks and frame.rail is None:
        yield "rail", 'rail is missing; rails are sawn from sticks by their face width, so write it like rail = "20 mm"'
    if frame.sticks and frame.price is not None:
        yield "price", "a frame that is sawn from sticks costs what the sticks cost; write price on each of the sticks"


def _only_ready_made(frame: Frame) -> Iterator[tuple[str, str]]:
    if frame.ready_made:
        return
    why = "is sawn from sticks" if frame.sticks else "is made to measure"
    what = {"have": frame.have, "includes": frame.includes, "mat_opening": frame.mat_opening}
    for key in (key for key, value in what.items() if value):
        if key == "have" and frame.sticks:
            right = "write have on each of the sticks"
        else:
            right = f"leave {key} out" if frame.sticks else f"write takes or rabbet, or leave {key} out"
        yield key, f"{key} goes with a ready-made frame, and this one {why}; {right}"


def _faults_of_mat(frame: Frame, table: Opened[Frame]) -> Iterator[tuple[str, str]]:
    opening, rabbet = frame.mat_opening, frame.rabbet_size
    if opening is None or rabbet is None or frame.sticks:
        return
    sight = rabbet.grown(-frame.lip)
    if not sight.holds(opening):
        units = table.reader.units
        size = Printer(units, Step.usual(units)).size
        right = "write its two sides the other way round" if sight.turned.holds(opening) else "measure both again"
        yield (
            "mat_opening",
            f"an opening of {size(opening)} is larger than what the frame shows, {size(sight)}; {right}",
        )
