"""A piece of the job file into a piece as asked for, and whether enough is said to solve it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import MISSING, replace
from fractions import Fraction

from matplan.job.file.lines import place_text
from matplan.job.file.table import Opened, Told
from matplan.job.file.wrong import quoted
from matplan.job.read.enough import check_enough
from matplan.job.read.idle import tell_idle_keys
from matplan.job.read.supplies import Supplies, made_to_measure
from matplan.job.read.windows import read_rows, read_windows
from matplan.job.records import ApertureAsk, BorderAsk, Frame, LayerAsk, MaterialKind, MatSupply, Piece, Shape, Show
from matplan.job.records.piece import MOST_LAYERS
from matplan.job.records.sides import FourSides


def read_piece(piece: Opened[Piece], file: str, supplies: Supplies) -> Piece | None:
    """Return the piece with everything resolved; `None` if it is faulty."""
    name = piece.value("name")
    frame = _frame(piece)
    border = _border(piece)
    mat = _mat(piece)
    windows = read_windows(piece)
    rows = read_rows(piece, windows)
    supply = _supply(piece, mat, frame, supplies)
    windows = _behind_own_mat(piece, windows, frame, supply)
    measured = piece.value("border") if supply is MatSupply.OWN else None
    _check_given(piece, windows, frame, supply)
    _check_mount(piece, windows)
    _check_edition(piece)
    tell_idle_keys(piece, windows)
    check_enough(piece, windows, None if piece.faulty("frame", "turn") else frame)
    try:
        read = piece.make(
            name="" if name is MISSING else name,
            file=file,
            line=piece.reader.faults.lines.of(piece.place),
            place=place_text(piece.place),
            key_lines=tuple(_key_lines(piece)),
            frame=frame,
            border=None if supply is MatSupply.OWN else border,
            measured=measured,
            mat=mat,
            apertures=windows,
            rows=rows,
            mat_supply=supply,
        )
    except Told:
        return None
    return read if piece.sound else None


def _check_edition(piece: Opened[Piece]) -> None:
    """Take up an edition that has fewer numbers than the piece has copies."""
    edition, many = piece.value("edition"), piece.value("quantity")
    if edition is None or not edition.of or piece.faulty("edition", "quantity"):
        return
    last = edition.first + many - 1
    if last > edition.of:
        text = (
            f'got "{edition.written}" with a quantity of {many}, so that the last copy would be {last}/{edition.of};'
            f" write a larger edition or a smaller quantity"
        )
        piece.wrong("edition", text=text)


def _key_lines(piece: Opened[Piece]) -> Iterator[tuple[str, int]]:
    lines = piece.reader.faults.lines
    for key in sorted(piece.table):
        yield key, lines.of((*piece.place, key))
    tables = piece.table.get("aperture")
    for number, table in enumerate(tables if isinstance(tables, list) else ()):
        here = (*piece.place, "aperture", number)
        yield f"aperture[{number + 1}]", lines.of(here)
        for key in sorted(table if isinstance(table, dict) else ()):
            yield f"aperture[{number + 1}].{key}", lines.of((*here, key))


def _frame(piece: Opened[Piece]) -> Frame:
    named = piece.value("frame")
    frame: Frame = made_to_measure(piece.reader) if named is MISSING else named
    if not piece.value("turn"):
        return frame
    if not frame.has_size and piece.faulty("frame"):
        return frame
    if not frame.has_size:
        text = "only a frame with a size of its own can be turned; name one that has takes or rabbet, or leave turn out"
        piece.wrong("turn", text=text)
        return frame
    sizes = {key: getattr(frame, key) for key in ("takes", "rabbet", "sight", "mat_opening")}
    return replace(frame, turned=True, **{key: size and size.turned for key, size in sizes.items()})


def _border(piece: Opened[Piece]) -> BorderAsk | None:
    asked: FourSides | None = piece.value("border")
    if asked is None or piece.faulty("border") or piece.value("mat_supply") is MatSupply.OWN:
        return None
    down, across = (asked.top, asked.bottom), (asked.left, asked.right)
    unsaid = [sides for sides, pair in (("top or bottom", down), ("left or right", across)) if pair == (None, None)]
    if unsaid:
        neither = ", nor ".join(sides.replace(" or ", " nor ") for sides in unsaid)
        piece.wrong("border", text=f"says neither {neither}; write {' and '.join(unsaid)}")
    elif asked.bottom is not None and piece.says("weight"):
        text = "bottom and weight both set the bottom border; leave one of them out"
        piece.wrong("border", "bottom", text=text)
    sides = asked.sides
    return BorderAsk(top=sides.top, right=sides.right, bottom=asked.bottom, left=sides.left)


def _mat(piece: Opened[Piece]) -> tuple[LayerAsk, ...]:
    mat: tuple[LayerAsk, ...] = piece.value("mat")
    if piece.faulty("mat") or not mat:
        return ()
    if len(mat) > MOST_LAYERS:
        piece.wrong("mat", text=f"{len(mat)} boards lie on each other; write at most {MOST_LAYERS}")
    written = piece.table.get("mat")
    first = written[0] if isinstance(written, list) else written
    if isinstance(first, dict) and "reveal" in first:
        text = "the first layer has none in front that could leave a reveal of it; write reveal on the layer behind"
        piece.wrong("mat", 0, "reveal", text=text)
    return (replace(mat[0], reveal=Fraction(0)), *mat[1:])


def _behind_own_mat(
    piece: Opened[Piece], windows: tuple[ApertureAsk, ...], frame: Frame, supply: MatSupply
) -> tuple[ApertureAsk, ...]:
    """Return the windows; the only one has the opening of the mat that the frame comes with, where no other is said."""
    opening = frame.mat_opening
    if supply is not MatSupply.OWN or opening is None or piece.says("aperture"):
        return windows
    if any(window.opening is not None or window.image is not None for window in windows):
        return windows
    for window in windows:
        if window.shape in {Shape.SQUARE, Shape.CIRCLE} and opening.width != opening.height:
            text = f"the sides of a {window.shape} are equal, and those of the frame's mat opening are not"
            piece.wrong("shape", text=f"{text}; leave shape out")
    return tuple(replace(window, opening=opening) for window in windows)


def _check_given(piece: Opened[Piece], windows: tuple[ApertureAsk, ...], frame: Frame, supply: MatSupply) -> None:
    """Take up what an opening that is given, or a mat that is there already, does not go with."""
    if piece.faulty("aperture", "opening", "mat_supply", "frame", "justify"):
        return
    given = [window for window in windows if window.opening is not None]
    if given and piece.value("justify"):
        piece.wrong("justify", text="justify evens openings out, and opening says them; leave one of the two out")
    if given and supply is MatSupply.READY_CUT:
        text = 'a ready-cut mat has its own opening; leave opening out, or write mat_supply = "own" or "to size"'
        piece.wrong("mat_supply", text=text)
    if supply is not MatSupply.OWN:
        return
    if len(given) < len(windows):
        text = "a mat that is there already has openings; measure them and write each as opening"
        if frame.mat_opening is not None and not piece.says("aperture"):
            text = "the opening of the frame's mat settles the print; leave image out, or mat_supply for another mat"
        elif frame.has_mat and not piece.says("aperture"):
            text = f"nothing tells the opening of the mat that the frame {quoted(frame.name)} comes with; measure it"
            text += f" and write mat_opening on [frame.{frame.name}]"
        piece.wrong("mat_supply", text=text, line_of=None if piece.says("mat_supply") else (*piece.place, "frame"))
    elif not frame.has_size:
        text = "a mat that is there already has its frame's size; name the frame, or the mat's size as frame"
        piece.wrong("mat_supply", text=text)


def _check_mount(piece: Opened[Piece], windows: tuple[ApertureAsk, ...]) -> None:
    """Take up what is missing or too much where works float on a mount."""
    if piece.faulty("mount", "lift", "spacer", "show", "mat", "aperture"):
        return
    lift, spacer, mount = piece.value("lift"), piece.value("spacer"), piece.value("mount")
    floated = [window for window in windows if window.show is Show.SHEET]
    if floated and piece.value("mat") == () and mount is None:
        text = 'a work that floats without a mat lies on a mount; write mount = "white"'
        piece.wrong("mount", text=text, line_of=(*piece.place, "show") if piece.says("show") else piece.place)
    if floated and piece.value("mat") == () and len(floated) < len(windows):
        piece.wrong("show", text="without a mat all works float or none does; write show alike on all windows")
    if floated and piece.value("mat") == () and piece.value("justify"):
        piece.wrong("justify", text="justify changes openings, and works that float have none; leave it out")
    if lift and mount is None:
        piece.wrong("lift", text='lift raises a work off its mount, and none is named; write mount = "white"')
    elif lift and not floated:
        piece.wrong("lift", text='lift goes with show = "sheet"; a work behind a mat lies flat, so leave it out')
    elif lift and spacer is not None and lift >= spacer:
        shown = piece.reader.shown
        text = (
            f"a work raised by {shown(lift)} touches the glazing, which the spacer keeps {shown(spacer)} off its mount;"
            " write a lower lift or a higher spacer"
        )
        piece.wrong("lift", text=text)


def _supply(piece: Opened[Piece], mat: tuple[LayerAsk, ...], frame: Frame, supplies: Supplies) -> MatSupply:
    """Return where the mat comes from: the frame's own serves where nothing of another mat or print is said."""
    if not piece.says("mat_supply"):
        others = ("mat", "image", "border", "aperture") + (("opening",) if frame.mat_opening else ())
        if frame.has_mat and not any(map(piece.says, others)):
            return MatSupply.OWN
        return MatSupply.SHEETS if mat and mat[0].board.sheets else MatSupply.TO_SIZE
    asked: MatSupply = piece.value("mat_supply")
    boards = [layer.board for layer in mat]
    bare = asked is MatSupply.SHEETS and boards and not any(board.sheets for board in boards)
    if bare and not any(supplies.faulty(MaterialKind.BOARD, board.name) for board in boards):
        text = (
            f'got "sheets", but the board {quoted(boards[0].name)} has none to cut from; write sheets ='
            ' [{ size = "32x40 in" }] on it, or "to size" here'
        )
        piece.wrong("mat_supply", text=text)
    return asked
