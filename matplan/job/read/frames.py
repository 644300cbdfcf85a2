"""A frame of the job file: whether its own figures agree, and the lip or rabbet that its sight tells."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from matplan.job.file.table import Opened, Told
from matplan.job.read.at_hand import check_at_hand
from matplan.job.records import Frame
from matplan.lengths import Size


def make_frame(table: Opened[Frame]) -> Frame:
    if table.says("takes") and table.says("rabbet"):
        text = "takes and rabbet exclude each other; keep rabbet where it was measured, else takes"
        table.wrong("rabbet", text=text)
        raise Told
    frame = table.make(name=table.place[-1])
    if table.sound and frame.sight is not None:
        frame = _seen(frame, frame.sight, table)
    if not table.sound:
        return frame
    for key, text in _faults_of_frame(frame, table):
        table.wrong(key, text=text, sized=True)
        break
    if table.sound:
        check_at_hand(frame, table)
    return frame


def _seen(frame: Frame, sight: Size, table: Opened[Frame]) -> Frame:
    """Return the frame with the lip that its sight leaves of its rabbet, or with the rabbet round its sight."""
    rabbet = frame.rabbet_size
    if rabbet is None:
        return replace(frame, rabbet=sight.grown(frame.lip))
    if table.says("lip"):
        table.wrong("sight", text="lip and sight both say what the lip covers; leave one of them out")
        return frame
    across, down = (rabbet.width - sight.width) / 2, (rabbet.height - sight.height) / 2
    if across != down or across < 0:
        shown = table.reader.shown
        text = (
            f"leaves a lip of {shown(across)} at the sides and {shown(down)} at top and bottom of a rabbet of"
            f" {shown(rabbet.width)} × {shown(rabbet.height)}, and a lip is the same all round; measure both again"
        )
        table.wrong("sight", text=text, sized=True)
        return frame
    return replace(frame, lip=across)


def _faults_of_frame(frame: Frame, table: Opened[Frame]) -> Iterable[tuple[str, str]]:
    """Yield what does not agree between the frame's own figures."""
    shown = table.reader.shown
    if (rabbet := frame.rabbet_size) is not None:
        within, least = rabbet.grown(-frame.lip), min(rabbet.width, rabbet.height)
        if within.width <= 0 or within.height <= 0:
            key = "lip" if table.says("lip") else "takes" if frame.takes else "rabbet"
            yield (
                key,
                (
                    f"the lip of {shown(frame.lip)} covers the whole rabbet, which is {shown(least)} at its narrowest,"
                    " so nothing would be seen; write a smaller lip or a larger frame"
                ),
            )
    if frame.rabbet and frame.clearance >= min(frame.rabbet.width, frame.rabbet.height):
        yield (
            "clearance",
            (
                f"the clearance of {shown(frame.clearance)} is as wide as the rabbet, so no blank is left; write a few"
                " millimetres"
            ),
        )
    if frame.rail is not None and frame.rail < frame.lip:
        yield (
            "rail",
            (
                f"the rail's face of {shown(frame.rail)} is narrower than its lip of {shown(frame.lip)}, which is a"
                " part of it; measure the face with the lip"
            ),
        )
