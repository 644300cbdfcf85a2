"""Keys that are written and change nothing where they stand: each is told, with what would give it work."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from matplan.job.file.table import Opened
from matplan.job.records import ApertureAsk, Arrange, Piece, Show

_SHOWS: Final = {
    "overlap": ((Show.IMAGE, Show.MARGIN), 'a mat that covers an edge; show = "sheet" floats the whole sheet'),
    "reveal": ((Show.MARGIN,), 'show = "margin", which leaves white paper round the image'),
    "gap": ((Show.SHEET,), 'show = "sheet", which floats the whole sheet'),
}
_SEVERAL: Final = ("gutter", "row_align", "justify")
_ARRANGED: Final = {
    "columns": (Arrange.GRID,),
    "rise": (Arrange.STEPPED,),
    "variant": (Arrange.CLUSTER,),
}


def tell_idle_keys(piece: Opened[Piece], windows: Sequence[ApertureAsk]) -> None:
    """Take up the keys of a piece and its windows that none of its windows uses."""
    if not windows or piece.faulty("aperture", "show"):
        return
    for key, (shows, use) in _SHOWS.items():
        if piece.says(key) and not any(window.show in shows for window in windows):
            _tell(piece, key, use)
    if len(windows) == 1:
        for key in _SEVERAL:
            if piece.says(key):
                _tell(piece, key, "several windows, each a [[piece.aperture]]")


def tell_idle_keys_of_window(window: Opened[Any], shown: Show) -> None:
    """Take up the keys of one window's own table that it does not use."""
    for key, (shows, use) in _SHOWS.items():
        if window.says(key) and shown not in shows:
            _tell(window, key, use)


def tell_idle_keys_of_flow(table: Opened[Any], arranged: Sequence[Arrange]) -> None:
    """Take up the keys of a wall or group that its arrangements do not use."""
    for key, needed in _ARRANGED.items():
        if table.says(key) and not set(needed) & set(arranged):
            _tell(table, key, f'arrange = "{needed[0]}"')


def _tell(table: Opened[Any], key: str, use: str) -> None:
    if not table.faulty(key):
        table.reader.idle.append(((*table.place, key), f"{key} changes nothing here: it goes with {use}"))
