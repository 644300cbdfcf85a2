"""Whether a piece says enough to be solved: two of frame, image and border, and what tells each picture's shape."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from matplan.job.file.table import Opened
from matplan.job.file.wrong import quoted
from matplan.job.records import ApertureAsk, Frame, MatSupply, Piece, Shape, Show

_EXAMPLES = {"frame": 'frame = "40x50 cm"', "image": 'image = { width = "24 cm" }', "border": 'border = "60 mm"'}


def check_enough(piece: Opened[Piece], windows: Sequence[ApertureAsk], frame: Frame | None) -> None:
    """Take up what is missing, where nothing faulty explains it. `frame` is `None` if it could not be read."""
    tables = piece.table.get("aperture", ())
    lost = not windows or (isinstance(tables, list) and len(windows) < len(tables))
    if piece.faulty("aperture") and lost:
        return
    _two_of_three(piece, windows, frame)
    _shapes(piece, windows, frame)


def _wrong(piece: Opened[Piece], number: int, key: str, text: str) -> None:
    """Take up a key that is missing from a window."""
    within: tuple[Any, ...] = ("aperture", number) if piece.says("aperture") else ()
    piece.wrong(*within, key, text=text, line_of=(*piece.place, *within))


def _two_of_three(piece: Opened[Piece], windows: Sequence[ApertureAsk], frame: Frame | None) -> None:
    """Take up a piece with fewer than two of frame, image, border; without a mat, or a ready-cut one, a frame does."""
    if piece.faulty("image", "opening", "aperture"):
        return
    pictures = [number for number, window in enumerate(windows) if window.text is None] or range(len(windows))
    bare = [number for number in pictures if not _has_size(piece, windows[number])]
    if bare and len(bare) < len(pictures):
        some = f"{len(pictures) - len(bare)} of {len(pictures)}"
        for number in bare:
            text = f"image is missing, while {some} windows have one or an opening; write one on all or on none"
            _wrong(piece, number, "image", text)
        return
    if frame is None or piece.faulty("frame", "turn", "border", "mat", "mat_supply"):
        return
    given = any(windows[number].opening is not None for number in pictures)
    there = {
        "frame": frame.has_size,
        "opening" if given else "image": not bare,
        "border": piece.says("border"),
    }
    said = [word for word in there if there[word]]
    if len(said) < 2 and not (_settled_by_mat(piece) and frame.has_size):
        piece.wrong(text=_too_little(piece, said, frame))


def _has_size(piece: Opened[Piece], window: ApertureAsk) -> bool:
    """Whether the window's size follows from its image, its opening, or the sheet that floats without a mat."""
    return window.image is not None or window.opening is not None or _is_bare_sheet(piece, window)


def _is_bare_sheet(piece: Opened[Piece], window: ApertureAsk) -> bool:
    """Whether the window shows a whole sheet of a named paper, without a mat."""
    return piece.value("mat") == () and window.show is Show.SHEET and window.paper is not None


def _settled_by_mat(piece: Opened[Piece]) -> bool:
    """Return whether a frame alone settles the piece: the image fills the sheet, or a standard mat has a window."""
    if piece.value("mat") == ():
        return piece.value("show") is not Show.SHEET
    return piece.says("mat_supply") and piece.value("mat_supply") is MatSupply.READY_CUT


def _shapes(piece: Opened[Piece], windows: Sequence[ApertureAsk], frame: Frame | None) -> None:
    """Take up each picture whose shape nothing tells; a frame alone without a mat, or a ready-cut mat, tells it too."""
    bare_mat = piece.value("mat") == ()
    if piece.faulty("image", "opening", "mat", "mat_supply", "border", "shape"):
        return
    if frame is None and (bare_mat or not any(map(piece.says, ("mat", "image", "border", "aperture")))):
        return  # without a mat, or with one that the frame comes with, the frame tells the shape
    if not piece.says("aperture") and piece.faulty("aperture", "rows"):
        return
    has_size = frame is not None and frame.has_size
    fills = _settled_by_mat(piece) and has_size and (not piece.says("border") or not bare_mat)
    for number, window in enumerate(windows):
        place = (*piece.place, "aperture", number) if piece.says("aperture") else piece.place
        image = window.image
        told = (
            window.opening is not None
            or _is_bare_sheet(piece, window)
            or window.photo is not None
            or window.aspect is not None
            or window.shape in {Shape.SQUARE, Shape.CIRCLE}
        )
        sized = image is not None and image.width is not None and image.height is not None
        keys = ("photo", "aspect", "image", "opening", "shape", "text")
        faulty = any(piece.reader.faults.touches((*place, key)) for key in keys)
        if told or sized or faulty or (fills and image is None):
            continue
        what, right = (
            ("caption", 'image = "120 x 30 mm"')
            if window.text is not None
            else ("picture", 'photo = "…", aspect = "3:2" or an image with both sides')
        )
        _wrong(piece, number, "aspect", f"nothing tells the {what}'s shape; write {right}")


def _too_little(piece: Opened[Piece], said: list[str], frame: Frame) -> str:
    known = {"image" if word == "opening" else word for word in said}
    more = [example for word, example in _EXAMPLES.items() if word not in known]
    name = quoted(piece.value("name")) if piece.says("name") and not piece.faulty("name") else "this piece"
    moulding = ""
    if piece.says("frame") and not frame.has_size:
        moulding = f" (frame {quoted(frame.name)} is a moulding without a size of its own)"
        more = [example for example in more if not example.startswith("frame")]
    has = f"has only {said[0]}" if said else "has none"
    right = " or ".join(more) if said else " and ".join(more[:2])
    return f"{name} {has} of frame, image and border{moulding}, and any two settle the third; write {right}"
