"""What a job of photos has around its pieces: the mats' board, the frames at hand, a wall that holds all of them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from matplan.catalogue.records import Frame
from matplan.job.file.written import read_size
from matplan.job.starter.sizes import Sizes
from matplan.lengths import Size

MOULDING: Final = "moulding"
"""The frame that is made to measure."""
_IN_A_ROW: Final = 4
"""More frames hang in a grid."""
_MOST_ROWS: Final = 3
_COLUMN: Final = 33
"""Where comments begin."""


def frame_name(frame: Frame) -> str:
    """Return what the job calls a frame of the tables.

    >>> from matplan import catalogue
    >>> frame_name(catalogue.frames()[0])
    'ready-4x6'
    """
    return "ready-" + re.sub(r"[^\w-]+", "-", frame.name.removesuffix(" in").removesuffix(" cm"))


def at_hand(frames: Sequence[Frame | None], sizes: Sizes) -> Iterator[str]:
    """Yield the tables of the board and of each frame that the pictures hang in, the smallest first."""
    words = sizes.words
    yield _table("[board.white]", "what the mats are cut from", ("ply = 4", ""), ('colour = "warm white"', ""))
    for frame in sorted({one for one in frames if one is not None}, key=lambda one: (one.size.area, one.name)):
        yield _table(
            f"[frame.{frame_name(frame)}]",
            "ready-made; measure yours and write what you find",
            (f'takes = "{frame.name}"', "the sheet that it is sold for"),
            (f'depth = "{words["depth"]}"', "of the step that glass, mat and print lie in"),
            (f'rail = "{words["rail"]}"', "how wide one side looks from the front"),
            ('includes = ["glazing", "backing"]', "comes with it and is not ordered again"),
        )
    if None in frames:
        yield _table(
            f"[frame.{MOULDING}]",
            "sticks to make frames of, where no usual frame suits",
            (f'depth = "{words["moulding_depth"]}"', ""),
            (f'rail = "{words["moulding_rail"]}"', ""),
            (f'sticks = [{{ length = "{words["stick"]}" }}]', "as they are sold"),
            (f'kerf = "{words["kerf"]}"', "what the saw takes away with each cut"),
        )


def _table(head: str, about: str, *lines: tuple[str, str]) -> str:
    """Return a table with a comment behind each line that has one."""
    return "".join(f"{commented(*line)}\n" for line in ((head, about), *lines))


def commented(line: str, why: str) -> str:
    """Return a line with its comment, which begins where all begin."""
    return f"{line:<{_COLUMN}} # {why}" if why else line


def wall_of(framed: Sequence[Size], sizes: Sizes) -> str:
    """Return a wall that holds all frames: in one row where they are few, else in rows of a grid."""
    usual, eye, gap = read_size(sizes.words["wall"], sizes.units), sizes.read("eye"), sizes.read("gap")
    widest, highest = max(size.width for size in framed), max(size.height for size in framed)
    rows = 1
    if len(framed) > _IN_A_ROW:
        rows = int((2 * (usual.height - eye) - gap) / (highest + gap))
        rows = max(1, min(_MOST_ROWS, rows))
    columns = -(-len(framed) // rows)
    eye = max(eye, _up(highest / 2 + gap, sizes))
    size = Size(
        max(usual.width, _up(columns * (widest + gap) + gap, sizes)),
        max(usual.height, _up(eye + (rows * (highest + gap) + gap) / 2, sizes)),
    )
    lines = [
        ('name = "Wall"', ""),
        (f'size = "{sizes.length(size.width)} x {sizes.length(size.height)}"', "measure yours: width, height"),
        (f'eye = "{sizes.length(eye)}"', "how high above the floor the pictures have their middle"),
        (f'gap = "{sizes.words["gap"]}"', "between neighbouring frames"),
        (f'arrange = "{"centre-line" if rows == 1 else "grid"}"', "how the frames are lined up"),
    ]
    if rows > 1:
        lines.append((f"columns = {columns}", "so many frames hang in a row"))
    head = "# --- The wall ".ljust(78, "-") + "\n\n"
    return head + _table("[[wall]]", "all pieces hang here, in the order above", *lines)


def _up(length: Fraction, sizes: Sizes) -> Fraction:
    """Return the next round length."""
    return -(-length // sizes.grain) * sizes.grain
