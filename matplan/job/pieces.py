"""A piece as written into a piece as asked for: names looked up, defaults filled in, and whether enough is said to solve it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from matplan.faults import LengthError
from matplan.job.complaints import Faults, near_names
from matplan.job.defaults import BOARD, Defaults
from matplan.job.lines import Place, place_text
from matplan.job.model import MOST_LAYERS, ApertureTable, ImageTable, PieceTable, WindowTable
from matplan.job.photos import PhotoFault, Photos
from matplan.job.polygon import fault_of_polygon
from matplan.job.records import (
    AddedWeight,
    ApertureAsk,
    BorderAsk,
    BorderAt,
    BorderTo,
    Cut,
    Frame,
    ImageAsk,
    LayerAsk,
    MaterialKind,
    MatSupply,
    Photo,
    Piece,
    RowAlign,
    Shape,
    Show,
)  # fmt: skip
from matplan.job.supplies import Supplies, read_size, sides_of
from matplan.job.written import got, quoted
from matplan.lengths import Units


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """What the pieces of one job are read with."""

    units: Units
    faults: Faults
    supplies: Supplies
    photos: Photos

    @property
    def defaults(self) -> Defaults:
        """What is taken where a piece says nothing."""
        return Defaults.of(self.units)


def check_names(names: Sequence[str | None], places: Sequence[Place], faults: Faults, what: str) -> None:
    """A fault for each name that an earlier one has already."""
    seen: dict[str, Place] = {}
    for name, place in zip(names, places, strict=True):
        if name is None:
            continue
        if name in seen:
            faults.add(
                (*place, "name"),
                f"{got(name)}, which is the name of {what} on line {faults.lines.of((*seen[name], 'name'))} too; write another",
            )
        seen.setdefault(name, place)


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
        windows = self._windows()
        rows = self._rows()
        glazing = self.bench.supplies.material(MaterialKind.GLAZING, table.glazing or "glass-2mm", (*place, "glazing"))
        backing = self.bench.supplies.material(MaterialKind.BACKING, table.backing or "foam-5mm", (*place, "backing"))
        supply = self._supply(mat)
        self._check_enough(frame)
        self._check_shapes(frame)
        if faults.touches(place) or frame is None or table.name is None:
            return None
        return Piece(
            name=table.name,
            file=file,
            line=faults.lines.of(place),
            place=place_text(place),
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
        )

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
                place, f"says neither {', nor '.join(pair.replace(' or ', ' nor ') for pair in unsaid)}; write {' and '.join(unsaid)}"
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
                    (*here, "reveal"), "the first layer has none in front that could leave a reveal of it; write reveal on the layer behind"
                )
            board = self.bench.supplies.material(MaterialKind.BOARD, layer.board, self._name_place((*here, "board")))
            reveal = Fraction(0) if number == 0 else self.defaults.layer_reveal if layer.reveal is None else layer.reveal
            if board is not None:
                layers.append(LayerAsk(board=board, reveal=reveal, cut=layer.cut or Cut.BEVEL))
        return tuple(layers)

    def _name_place(self, place: Place) -> Place:
        """That place, or the one of the short form that it is written in."""
        while place and not self.faults.lines.has(place):
            place = place[:-1]
        return place

    def _supply(self, mat: tuple[LayerAsk, ...]) -> MatSupply:
        asked = self.table.mat_supply
        if asked is None:
            return MatSupply.SHEETS if mat and mat[0].board.sheets else MatSupply.TO_SIZE
        if asked is MatSupply.SHEETS and mat and not any(layer.board.sheets for layer in mat) and not self._faulty_board(mat):
            board = quoted(mat[0].board.name)
            self.faults.add(
                (*self.place, "mat_supply"),
                f'got "sheets", but the board {board} has none to cut from; write sheets = [{{ size = "32x40 in" }}] on it, or'
                ' "to size" here',
            )
        return asked

    def _faulty_board(self, mat: tuple[LayerAsk, ...]) -> bool:
        return any(self.faults.touches(("board", layer.board.name)) for layer in mat)

    # --- windows -----------------------------------------------------------------------------------------------------

    def _windows(self) -> tuple[ApertureAsk, ...]:
        table = self.table
        if self.faults.touches((*self.place, "aperture")) and table.aperture is None:
            return ()
        if table.aperture is None:
            return (self._window(table, self.place, table.name or ""),)
        if not table.aperture:
            self.faults.add((*self.place, "aperture"), "got an empty list; write a [[piece.aperture]] for each window, or leave it out")
            return ()
        for key in ("photo", "aspect"):
            if getattr(table, key) is not None:
                self.faults.add(
                    (*self.place, key), f"the piece has several windows, so {key} stands on each [[piece.aperture]]; move it there"
                )
        places = [(*self.place, "aperture", number) for number in range(len(table.aperture))]
        check_names([window.name for window in table.aperture], places, self.faults, "the window")
        return tuple(self._window(window, place, window.name or "") for window, place in zip(table.aperture, places, strict=True))

    def _window(self, own: WindowTable, place: Place, name: str) -> ApertureAsk:
        """One window; what it does not say itself, its piece says for all."""
        piece, defaults = self.table, self.defaults
        if own is not piece:
            self.faults.needs(own, place)
        paper = own.paper or piece.paper
        shape = own.shape or piece.shape or Shape.RECTANGLE
        text = own.text if isinstance(own, ApertureTable) else None
        if text is not None and own.photo is not None:
            self.faults.add((*place, "text"), "a caption window holds words and no photo; leave one of the two out")
        paper_place = (*place, "paper") if own.paper else (*self.place, "paper")
        return ApertureAsk(
            name=name,
            photo=self._photo(own, place),
            aspect=own.aspect,
            image=self._image(own, place) or (self._image(piece, self.place) if own is not piece else None),
            show=own.show or piece.show or Show.IMAGE,
            overlap=_length(own.overlap, piece.overlap, defaults.overlap),
            reveal=_length(own.reveal, piece.reveal, defaults.reveal),
            gap=_length(own.gap, piece.gap, defaults.gap),
            paper=self.bench.supplies.paper(paper, paper_place) if paper else None,
            shape=shape,
            points=self._points(own, place, shape),
            rise=self._rise(own, place, shape),
            text=text,
        )

    def _photo(self, own: WindowTable, place: Place) -> Photo | None:
        if own.photo is None:
            return None
        try:
            return self.bench.photos.photo(own.photo)
        except PhotoFault as fault:
            self.faults.add((*place, "photo"), str(fault))
            return None

    def _image(self, own: WindowTable, place: Place) -> ImageAsk | None:
        asked, place = own.image, (*place, "image")
        if asked is None or self.faults.touches(place):
            return None
        return self._image_asked(asked, place)

    def _image_asked(self, asked: ImageTable, place: Place) -> ImageAsk | None:
        if asked.size is not None:
            if asked.width is not None or asked.height is not None:
                self.faults.add((*place, "size"), "size says both sides already; leave width and height out")
                return None
            try:
                size, _ = read_size(asked.size, self.bench.units)
            except LengthError as error:
                self.faults.add(self._name_place((*place, "size")), str(error))
                return None
            return ImageAsk(width=size.width, height=size.height)
        if asked.width is None and asked.height is None:
            self.faults.add(place, 'says neither side; write one like { width = "25 cm" }, or both')
            return None
        return ImageAsk(width=asked.width, height=asked.height)

    def _points(self, own: WindowTable, place: Place, shape: Shape) -> tuple[tuple[Fraction, Fraction], ...]:
        points = own.points if own.points is not None or own is self.table else self.table.points
        where = (*place, "points") if own.points is not None else (*self.place, "points")
        if self.faults.touches(where) or self.faults.touches((*place, "shape")):
            return ()
        if shape is not Shape.POLYGON:
            if own.points is not None:
                self.faults.add(where, f'points go with shape = "polygon", but the shape is "{shape}"; change it, or leave points out')
            return ()
        if points is None:
            self.faults.add(
                (*place, "points"),
                "a polygon needs points; write them like points = [[0.5, 0], [1, 1], [0, 1]]",
                line_of=(*place, "shape"),
            )
            return ()
        if wrong := fault_of_polygon(points):
            self.faults.add(where, wrong)
        return points

    def _rise(self, own: WindowTable, place: Place, shape: Shape) -> Fraction | None:
        if own.rise is not None and shape is not Shape.ARCH and not self.faults.touches((*place, "shape")):
            self.faults.add((*place, "rise"), f'rise goes with shape = "arch", but the shape is "{shape}"; change it, or leave rise out')
        return (own.rise or self.table.rise) if shape is Shape.ARCH else None

    def _rows(self) -> tuple[tuple[int, ...], ...]:
        place = (*self.place, "rows")
        windows = self.table.aperture
        if self.table.rows is None:
            return (tuple(range(len(windows))),) if windows else ((0,),)
        if windows is None:
            if not self.faults.touches((*self.place, "aperture")):
                self.faults.add(
                    place, "rows line up several windows, but the piece has no [[piece.aperture]]; write those, or leave rows out"
                )
            return ((0,),)
        at = {window.name: number for number, window in enumerate(windows) if window.name is not None}
        if self.faults.touches((*self.place, "aperture")) and len(at) < len(windows):
            return ((0,),)  # a window without its name cannot be told from a wrong name
        rows: list[tuple[int, ...]] = []
        placed: Counter[str] = Counter()
        for number, row in enumerate(self.table.rows):
            if not row:
                self.faults.add((*place, number), "a row is empty; write the names of its windows, or leave it out")
            found: list[int] = []
            for position, name in enumerate(row):
                here = (*place, number, position)
                if name is None:
                    continue
                if name not in at:
                    self.faults.add(here, f"{got(name)}, but the piece has no window of that name; {near_names(name, at, kind='windows')}")
                    continue
                placed[name] += 1
                if placed[name] == 2:
                    self.faults.add(here, f"{got(name)} a second time; a window stands in exactly one row")
                found.append(at[name])
            rows.append(tuple(found))
        if left := [name for name in at if not placed[name]]:
            verb = "stands" if len(left) == 1 else "stand"
            self.faults.add(place, f"{', '.join(map(quoted, left))} {verb} in no row; a window stands in exactly one")
        return tuple(rows)

    # --- whether it can be solved ------------------------------------------------------------------------------------

    def _own_windows(self) -> list[tuple[WindowTable, Place]]:
        if self.table.aperture is None:
            return [(self.table, self.place)]
        return [(window, (*self.place, "aperture", number)) for number, window in enumerate(self.table.aperture)]

    def _unsure(self, *keys: str) -> bool:
        """Whether one of those keys of the piece is faulty, so that nothing follows from its being missing."""
        return any(self.faults.touches((*self.place, key)) for key in keys)

    def _check_enough(self, frame: Frame | None) -> None:
        """Of frame, image and border two must be there; without a mat a frame is enough."""
        table = self.table
        if self._unsure("image", "aperture") or (table.aperture is None and self.faults.touches((*self.place, "aperture"))):
            return
        windows = self._own_windows()
        pictures = [(own, place) for own, place in windows if not _is_caption(own)] or windows
        bare = [place for own, place in pictures if own.image is None and table.image is None]
        if bare and len(bare) < len(pictures):
            some = f"{len(pictures) - len(bare)} of {len(pictures)}"
            for place in bare:
                self.faults.add(
                    (*place, "image"), f"image is missing, while {some} windows have one; write it on all or on none", line_of=place
                )
            return
        if frame is None or self._unsure("frame", "turn", "border", "mat"):
            return
        said = [word for word, there in (("frame", frame.has_size), ("image", not bare), ("border", table.border is not None)) if there]
        if len(said) < 2 and not (table.mat == () and frame.has_size):
            self.faults.add(self.place, self._too_little(said, frame))

    def _check_shapes(self, frame: Frame | None) -> None:
        """What tells each picture's shape must be there; a frame alone without a mat tells it too."""
        table = self.table
        if self._unsure("image", "mat", "border", "shape") or (frame is None and table.mat == ()):
            return
        fills = table.mat == () and frame is not None and frame.has_size and table.border is None
        for own, place in self._own_windows():
            image = own.image or table.image
            told = own.photo is not None or own.aspect is not None or (own.shape or table.shape) in {Shape.SQUARE, Shape.CIRCLE}
            sized = image is not None and (image.size is not None or (image.width is not None and image.height is not None))
            faulty = any(self.faults.touches((*place, key)) for key in ("photo", "aspect", "image", "shape", "text"))
            if told or sized or faulty or (fills and image is None):
                continue
            what, right = (
                ("slip", 'image = "120 x 30 mm"')
                if _is_caption(own)
                else ("picture", 'photo = "…", aspect = "3:2" or an image with both sides')
            )
            self.faults.add((*place, "aspect"), f"nothing tells the {what}'s shape; write {right}", line_of=place)

    def _too_little(self, said: list[str], frame: Frame | None) -> str:
        examples = {"frame": 'frame = "40x50 cm"', "image": 'image = { width = "25 cm" }', "border": 'border = "60 mm"'}
        more = [example for word, example in examples.items() if word not in said]
        name = quoted(self.table.name) if self.table.name else "this piece"
        moulding = ""
        if self.table.frame is not None and frame is not None and not frame.has_size:
            moulding = f" (frame {quoted(self.table.frame)} is a moulding without a size of its own)"
            more = [example for example in more if not example.startswith("frame")]
        has = f"has only {said[0]}" if said else "has none"
        right = " or ".join(more) if said else " and ".join(more[:2])
        return f"{name} {has} of frame, image and border{moulding}, and any two settle the third; write {right}"


def _is_caption(window: WindowTable) -> bool:
    return isinstance(window, ApertureTable) and window.text is not None


def _length(own: Fraction | None, shared: Fraction | None, default: Fraction) -> Fraction:
    """The window's own, else its piece's, else the default."""
    return own if own is not None else default if shared is None else shared
