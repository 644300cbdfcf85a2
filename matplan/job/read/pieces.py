"""A piece as written into a piece as asked for: names looked up, defaults filled in, and whether enough is said to
solve it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from matplan.job.defaults import BOARD
from matplan.job.file.lines import Place, place_text
from matplan.job.file.written import quoted
from matplan.job.model import MOST_LAYERS, PieceTable
from matplan.job.read.bench import Bench
from matplan.job.read.enough import check_enough
from matplan.job.read.supplies import sides_of
from matplan.job.read.windows import WindowReader
from matplan.job.records import (
    AddedWeight,
    BorderAsk,
    BorderAt,
    BorderTo,
    Cut,
    Frame,
    LayerAsk,
    MaterialKind,
    MatSupply,
    Piece,
    RowAlign,
)


def read_piece(table: PieceTable, place: Place, file: str, bench: Bench) -> Piece | None:
    """That piece with everything resolved; None where it is faulty."""
    return _PieceReader(table, place, bench).piece(file)


class _PieceReader:
    def __init__(self, table: PieceTable, place: Place, bench: Bench) -> None:
        self.table = table
        self.place = place
        self.bench = bench
        self.faults = bench.faults
        self.defaults = bench.defaults

    def piece(self, file: str) -> Piece | None:
        table, place, faults = self.table, self.place, self.faults
        faults.needs(table, place)
        frame = self._frame()
        border = self._border()
        mat = self._mat()
        reader = WindowReader(table, place, self.bench)
        windows, rows = reader.windows(), reader.rows()
        glazing = self.bench.supplies.material(MaterialKind.GLAZING, table.glazing or "glass-2mm", (*place, "glazing"))
        backing = self.bench.supplies.material(MaterialKind.BACKING, table.backing or "foam-5mm", (*place, "backing"))
        supply = self._supply(mat)
        check_enough(table, place, frame, faults)
        if faults.leaves(place) or frame is None or table.name is None:
            return None
        return Piece(
            name=table.name,
            file=file,
            line=faults.lines.of(place),
            place=place_text(place),
            key_lines=tuple(self._key_lines()),
            quantity=table.quantity or 1,
            frame=frame,
            apertures=windows,
            rows=rows,
            gutter=self.defaults.gutter if table.gutter is None else table.gutter,
            row_align=table.row_align or RowAlign.CENTRE,
            justify=bool(table.justify),
            border=border,
            border_to=table.border_to or BorderTo.OPENING,
            border_at=table.border_at or BorderAt.VISIBLE,
            weight=table.weight or AddedWeight(extra=Fraction(0)),
            mat=mat,
            glazing=glazing,
            backing=backing,
            mat_supply=supply,
            viewing_distance=table.viewing_distance,
            minutes=table.minutes,
        )

    def _key_lines(self) -> Iterator[tuple[str, int]]:
        lines = self.faults.lines
        for key in sorted(self.table.model_fields_set):
            yield key, lines.of((*self.place, key))
        for number, window in enumerate(self.table.aperture or ()):
            here = (*self.place, "aperture", number)
            yield f"aperture[{number + 1}]", lines.of(here)
            for key in sorted(window.model_fields_set):
                yield f"aperture[{number + 1}].{key}", lines.of((*here, key))

    # --- the frame, its border and the mat ---------------------------------------------------------------------------

    def _frame(self) -> Frame | None:
        table = self.table
        if table.frame is None:
            frame: Frame | None = self.bench.supplies.made_to_measure()
        else:
            frame = self.bench.supplies.frame(table.frame, (*self.place, "frame"))
        if frame is None or not table.turn:
            return frame
        if not frame.has_size:
            self.faults.add(
                (*self.place, "turn"),
                "only a frame with a size of its own can be turned; name one that has takes or rabbet, or leave turn out",
            )
            return None
        return replace(
            frame,
            takes=frame.takes.turned if frame.takes else None,
            rabbet=frame.rabbet.turned if frame.rabbet else None,
            turned=True,
        )

    def _border(self) -> BorderAsk | None:
        asked, place = self.table.border, (*self.place, "border")
        if asked is None or self.faults.touches(place):
            return None
        across, down = (asked.left is None and asked.right is None), (asked.top is None and asked.bottom is None)
        if across or down:
            unsaid = [pair for pair, missing in (("top or bottom", down), ("left or right", across)) if missing]
            self.faults.add(
                place,
                f"says neither {', nor '.join(pair.replace(' or ', ' nor ') for pair in unsaid)}; write {' and '.join(unsaid)}",
            )
            return None
        if asked.bottom is not None and self.table.weight is not None:
            self.faults.add((*place, "bottom"), "bottom and weight both set the bottom border; leave one of them out")
            return None
        sides = sides_of(asked)
        return BorderAsk(top=sides.top, right=sides.right, bottom=asked.bottom, left=sides.left)

    def _mat(self) -> tuple[LayerAsk, ...]:
        place = (*self.place, "mat")
        if self.faults.touches(place):
            return ()
        if self.table.mat is None:
            board = self.bench.supplies.material(MaterialKind.BOARD, BOARD, place)
            return (LayerAsk(board=board, reveal=Fraction(0)),) if board else ()
        if len(self.table.mat) > MOST_LAYERS:
            self.faults.add(place, f"{len(self.table.mat)} boards lie on each other; write at most {MOST_LAYERS}")
            return ()
        layers: list[LayerAsk] = []
        for number, layer in enumerate(self.table.mat):
            here = (*place, number)
            if not self.faults.needs(layer, here) or layer.board is None:
                continue
            if number == 0 and layer.reveal is not None:
                self.faults.add(
                    (*here, "reveal"),
                    "the first layer has none in front that could leave a reveal of it; write reveal on the layer behind",
                )
            board = self.bench.supplies.material(
                MaterialKind.BOARD, layer.board, self.faults.lines.nearest((*here, "board"))
            )
            reveal = (
                Fraction(0) if number == 0 else self.defaults.layer_reveal if layer.reveal is None else layer.reveal
            )
            if board is not None:
                layers.append(LayerAsk(board=board, reveal=reveal, cut=layer.cut or Cut.BEVEL))
        return tuple(layers)

    def _supply(self, mat: tuple[LayerAsk, ...]) -> MatSupply:
        asked = self.table.mat_supply
        if asked is None:
            return MatSupply.SHEETS if mat and mat[0].board.sheets else MatSupply.TO_SIZE
        if (
            asked is MatSupply.SHEETS
            and mat
            and not any(layer.board.sheets for layer in mat)
            and not self._faulty_board(mat)
        ):
            board = quoted(mat[0].board.name)
            self.faults.add(
                (*self.place, "mat_supply"),
                f'got "sheets", but the board {board} has none to cut from; write sheets = [{{ size = "32x40 in" }}] on it, or'
                ' "to size" here',
            )
        return asked

    def _faulty_board(self, mat: tuple[LayerAsk, ...]) -> bool:
        return any(self.faults.touches(("board", layer.board.name)) for layer in mat) or self.bench.supplies.lost(
            MaterialKind.BOARD
        )
