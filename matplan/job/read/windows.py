"""A piece's windows as written into windows as asked for, and the rows that they stand in."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

from matplan.faults import LengthError
from matplan.job.file.lines import Place
from matplan.job.file.written import got, quoted
from matplan.job.model import ApertureTable, ImageTable, PieceTable, WindowTable
from matplan.job.read.bench import Bench, check_names
from matplan.job.read.complaints import near_names
from matplan.job.read.photos import PhotoFault
from matplan.job.read.polygon import fault_of_polygon
from matplan.job.read.supplies import read_size
from matplan.job.records import ApertureAsk, ImageAsk, Photo, Shape, Show


class WindowReader:
    """Reads one piece's windows; what is faulty in them goes to the job's faults."""

    def __init__(self, table: PieceTable, place: Place, bench: Bench) -> None:
        self.table = table
        self.place = place
        self.bench = bench
        self.faults = bench.faults
        self.defaults = bench.defaults

    def windows(self) -> tuple[ApertureAsk, ...]:
        """Its windows; one without a table of its own is the piece itself."""
        table = self.table
        if self.faults.touches((*self.place, "aperture")) and table.aperture is None:
            return ()
        if table.aperture is None:
            return (self._window(table, self.place, table.name or ""),)
        if not table.aperture:
            self.faults.add(
                (*self.place, "aperture"),
                "got an empty list; write a [[piece.aperture]] for each window, or leave it out",
            )
            return ()
        for key in ("photo", "aspect"):
            if getattr(table, key) is not None:
                self.faults.add(
                    (*self.place, key),
                    f"the piece has several windows, so {key} stands on each [[piece.aperture]]; move it there",
                )
        places = [(*self.place, "aperture", number) for number in range(len(table.aperture))]
        check_names([window.name for window in table.aperture], places, self.faults, "the window")
        return tuple(
            self._window(window, place, window.name or "") for window, place in zip(table.aperture, places, strict=True)
        )

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
                self.faults.add(self.faults.lines.nearest((*place, "size")), str(error))
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
                self.faults.add(
                    where,
                    f'points go with shape = "polygon", but the shape is "{shape}"; change it, or leave points out',
                )
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
            self.faults.add(
                (*place, "rise"),
                f'rise goes with shape = "arch", but the shape is "{shape}"; change it, or leave rise out',
            )
        return (own.rise or self.table.rise) if shape is Shape.ARCH else None

    def rows(self) -> tuple[tuple[int, ...], ...]:
        """The windows' numbers, row by row."""
        place = (*self.place, "rows")
        windows = self.table.aperture
        if self.table.rows is None:
            return (tuple(range(len(windows))),) if windows else ((0,),)
        if not windows:
            if windows is None and not self.faults.touches((*self.place, "aperture")):
                self.faults.add(
                    place,
                    "rows line up several windows, but the piece has no [[piece.aperture]]; write those, or leave rows out",
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
                    self.faults.add(
                        here,
                        f"{got(name)}, but the piece has no window of that name; {near_names(name, at, kind='windows')}",
                    )
                    continue
                placed[name] += 1
                if placed[name] == 2:
                    self.faults.add(here, f"{got(name)} a second time; a window stands in exactly one row")
                found.append(at[name])
            rows.append(tuple(found))
        if not self.faults.touches(place) and (left := [name for name in at if not placed[name]]):
            verb = "stands" if len(left) == 1 else "stand"
            self.faults.add(place, f"{', '.join(map(quoted, left))} {verb} in no row; a window stands in exactly one")
        return tuple(rows)


def _length(own: Fraction | None, shared: Fraction | None, default: Fraction) -> Fraction:
    """The window's own, else its piece's, else the default."""
    return own if own is not None else default if shared is None else shared
