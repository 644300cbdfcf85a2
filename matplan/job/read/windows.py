"""A piece's windows as asked for, and the rows that they stand in."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import MISSING, fields
from typing import Any

from matplan.job.file.table import LISTS, Opened, check_names
from matplan.job.file.wrong import got, near_names, quoted
from matplan.job.read.idle import tell_idle_keys_of_window
from matplan.job.read.polygon import fault_of_polygon
from matplan.job.records import ApertureAsk, Piece, Shape, Window

_OWN = ("photo", "aspect")
"""Keys that each window has for itself."""
_SHARED = tuple(field.name for field in fields(Window) if field.name not in _OWN)


def read_windows(piece: Opened[Piece]) -> tuple[ApertureAsk, ...]:
    """Return the piece's windows; a piece without a table for one is its only window itself."""
    if not piece.says("aperture"):
        if piece.faulty("aperture"):  # misspelt, perhaps
            return ()
        _check_shape(piece, piece)
        _check_opening(piece, piece)
        name = piece.value("name")
        values = {field.name: piece.value(field.name) for field in fields(Window)}
        return (ApertureAsk(name="" if name is MISSING else name, **values),)
    for key in _SHARED:
        piece.value(key)
    for key in _OWN:
        if piece.says(key):
            text = f"the piece has several windows, so {key} stands on each [[piece.aperture]]; move it there"
            piece.wrong(key, text=text)
    return tuple(_apertures(piece))


def _apertures(piece: Opened[Piece]) -> Iterator[ApertureAsk]:
    tables = piece.table["aperture"]
    if not isinstance(tables, list):
        piece.wrong("aperture", text=f"{got(tables)}; write {LISTS['aperture']} with double brackets for each aperture")
        return
    if not tables:
        text = "got an empty list; write a [[piece.aperture]] for each window, or leave it out"
        piece.wrong("aperture", text=text)
    opened: list[Opened[ApertureAsk]] = []
    for number, table in enumerate(tables):
        place = (*piece.place, "aperture", number)
        try:
            opened.append(piece.reader.open(ApertureAsk, table, place))
        except ValueError as error:
            piece.wrong("aperture", number, text=str(error))
    check_names([_named(own) for own in opened], [own.place for own in opened], piece.reader.faults, "the window")
    for own in opened:
        yield _aperture(own, piece)


def _named(own: Opened[ApertureAsk]) -> str:
    name = own.value("name")
    return "" if name is MISSING else str(name)


def _aperture(own: Opened[ApertureAsk], piece: Opened[Piece]) -> ApertureAsk:
    """Return one window; what it does not say itself, its piece says for all."""
    if own.says("text") and own.says("photo"):
        own.wrong("text", text="a caption window holds words and no photo; leave one of the two out")
    _check_shape(own, piece)
    _check_opening(own, piece)
    given = {key: piece.value(key) for key in _SHARED if not own.says(own.keys[key].name)}
    if own.says("opening") or own.says("image"):  # either settles the print: the piece's other one is not meant
        given |= {key: None for key in ("opening", "image") if not own.says(key)}
    tell_idle_keys_of_window(own, (own if own.says("show") else piece).value("show"))
    return own.make(**given | {"name": _named(own)})


def _check_shape(own: Opened[Any], piece: Opened[Piece]) -> None:
    """Take up what is wrong between a window's shape and its points or rise."""
    shape: Shape = (own if own.says("shape") else piece).value("shape")
    if own.faulty("shape") or piece.faulty("shape"):
        return
    if own.says("rise") and shape is not Shape.ARCH:
        text = f'rise goes with shape = "arch", but the shape is "{shape}"; change it, or leave rise out'
        own.wrong("rise", text=text)
    if own.says("points") and shape is not Shape.POLYGON:
        text = f'points go with shape = "polygon", but the shape is "{shape}"; change it, or leave points out'
        own.wrong("points", text=text)
    if shape is not Shape.POLYGON:
        return
    said = own if own.says("points") else piece
    points = said.value("points")
    if said.faulty("points"):
        return
    if not said.says("points"):
        text = "a polygon needs points; write them like points = [[0.5, 0], [1, 1], [0, 1]]"
        own.wrong("points", text=text, line_of=(*own.place, "shape"))
    elif wrong := fault_of_polygon(points):
        said.wrong("points", text=wrong)


def _check_opening(own: Opened[Any], piece: Opened[Piece]) -> None:
    """Take up what does not go with an opening that is given."""
    said = own if own.says("opening") else piece
    opening = said.value("opening")
    if opening is None or said.faulty("opening"):
        return
    if said.says("image"):
        said.wrong("opening", text="image and opening both settle the print; leave one of them out")
    if piece.says("mat") and piece.value("mat") == () and not piece.faulty("mat"):
        said.wrong("opening", text="without a mat there is no opening; write image, or name a mat")
    shape: Shape = (own if own.says("shape") else piece).value("shape")
    if shape in {Shape.SQUARE, Shape.CIRCLE} and opening.width != opening.height:
        text = f'got "{said.table["opening"]}", but the sides of a {shape} are equal; write them so'
        said.wrong("opening", text=text)


def read_rows(piece: Opened[Piece], windows: tuple[ApertureAsk, ...]) -> tuple[tuple[int, ...], ...]:
    """Return the windows' numbers, row by row."""
    if not piece.says("rows"):
        return (tuple(range(len(windows))),)
    names = piece.value("rows")
    if not piece.says("aperture"):
        if not piece.faulty("aperture", "rows"):
            text = (
                "rows line up several windows, but the piece has no [[piece.aperture]]; write those, or leave rows out"
            )
            piece.wrong("rows", text=text)
        return ((0,),)
    at = {window.name: number for number, window in enumerate(windows) if window.name}
    tables = piece.table["aperture"]
    if piece.faulty("rows") or (piece.faulty("aperture") and isinstance(tables, list) and len(at) < len(tables)):
        return ((0,),)  # a window without its name cannot be told from a wrong name
    if not at:
        return ((0,),)
    rows: list[tuple[int, ...]] = []
    placed: Counter[str] = Counter()
    for number, row in enumerate(names):
        if not row:
            piece.wrong("rows", number, text="a row is empty; write the names of its windows, or leave it out")
        found: list[int] = []
        for position, name in enumerate(row):
            if name not in at:
                near = near_names(name, at, kind="windows")
                text = f"{got(name)}, but the piece has no window of that name; {near}"
                piece.wrong("rows", number, position, text=text)
                continue
            placed[name] += 1
            if placed[name] == 2:
                text = f"{got(name)} a second time; a window stands in exactly one row"
                piece.wrong("rows", number, position, text=text)
            found.append(at[name])
        rows.append(tuple(found))
    if not piece.faulty("rows") and (left := [name for name in at if not placed[name]]):
        verb = "stands" if len(left) == 1 else "stand"
        text = f"{', '.join(map(quoted, left))} {verb} in no row; a window stands in exactly one"
        piece.wrong("rows", text=text)
    return tuple(rows)
