"""A wall as written into a wall as asked for: pieces looked up and counted, defaults filled in. Where frames hang is
not its matter.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from matplan.faults import LengthError
from matplan.job.file.lines import Place, place_text
from matplan.job.file.written import got, listed, nearest, quoted
from matplan.job.model import HangTable, PieceTable, WallTable
from matplan.job.names import file_names
from matplan.job.read.bench import Bench, check_names
from matplan.job.read.complaints import near_names
from matplan.job.read.supplies import read_size
from matplan.job.records import (
    Arrange,
    ByCleat,
    BySawtooth,
    ByTwoHooks,
    ByWire,
    Furniture,
    Hang,
    KeepClear,
    Pin,
    Wall,
    Zone,
)
from matplan.lengths import Size

_WAYS = {
    "wire": ("anchors", "drop"),
    "two hooks": ("in", "down"),
    "sawtooth": ("down",),
    "cleat": ("down", "width"),
}
"""The ways of hanging, each with its own keys; `rating` goes with all."""

_NEEDED = {"wire": (), "two hooks": ("in", "down"), "sawtooth": ("down",), "cleat": ("down",)}
_EXAMPLES = {"in": 'in = "40 mm"', "down": 'down = "30 mm"'}


def read_walls(tables: Sequence[WallTable], pieces: Sequence[PieceTable], bench: Bench) -> tuple[Wall, ...]:
    """Those walls with everything resolved; one that is faulty is left out."""
    places: list[Place] = [("wall", number) for number in range(len(tables))]
    check_names([table.name for table in tables], places, bench.faults, "the wall")
    files = file_names((table.name or "" for table in tables), "wall")
    read = (
        _WallReader(table, place, pieces, bench).wall(file)
        for table, place, file in zip(tables, places, files, strict=True)
    )
    return tuple(wall for wall in read if wall)


class _WallReader:
    def __init__(self, table: WallTable, place: Place, pieces: Sequence[PieceTable], bench: Bench) -> None:
        self.table = table
        self.place = place
        self.bench = bench
        self.faults = bench.faults
        self.pieces = pieces
        self.by_name: dict[str, int] = {}
        for number, piece in enumerate(pieces):
            if piece.name is not None:
                self.by_name.setdefault(piece.name, number)

    def wall(self, file: str) -> Wall | None:
        table, place, faults = self.table, self.place, self.faults
        faults.needs(table, place)
        size = self._size()
        arrange = table.arrange or Arrange.CENTRE_LINE
        hung = self._hung()
        at = self._at(arrange, hung)
        hang = self._hang()
        keep_clear, furniture = self._keep_clear(), self._furniture()
        if arrange is Arrange.STEPPED and table.rise is None and not faults.touches((*place, "rise")):
            faults.add(
                (*place, "rise"), 'rise is missing; a stepped wall needs it, like rise = "180 mm"', line_of=place
            )
        zone = self._zone(size) if size else None
        outline = self._outline(size) if size else ()
        eye = self.bench.defaults.eye if table.eye is None else table.eye
        if size and table.eye is not None and eye > size.height:
            faults.add(
                (*place, "eye"),
                f"the eye line lies above the wall, which is {self._shown(size.height)} high; write less",
            )
        if size is None or zone is None or table.name is None or hang is None or faults.touches(place):
            return None
        return Wall(
            name=table.name,
            file=file,
            line=faults.lines.of(place),
            place=place_text(place),
            size=size,
            eye=eye,
            gap=self.bench.defaults.wall_gap if table.gap is None else table.gap,
            arrange=arrange,
            zone=zone,
            hung=hung,
            at=at,
            keep_clear=keep_clear,
            furniture=furniture,
            hang=hang,
            columns=table.columns,
            rise=table.rise,
            outline=outline,
            variant=table.variant or 1,
            path=bool(table.path),
            key_lines=tuple(self._key_lines()),
        )

    def _key_lines(self) -> Iterator[tuple[str, int]]:
        """The line of each key, and of those within that a wall can be refused for."""
        lines, table = self.faults.lines, self.table
        places: list[Place] = [(key,) for key in sorted(table.model_fields_set)]
        places += [("at", name) for name in table.at or {}]
        places += [("keep_clear", number) for number in range(len(table.keep_clear or ()))]
        if table.hang is not None:
            places += [
                ("hang", key) for key in ("drop", "in", "down", "width") if lines.has((*self.place, "hang", key))
            ]
        for place in places:
            yield place_text(place), lines.of((*self.place, *place))

    def _shown(self, length: Fraction) -> str:
        from matplan.lengths import Printer, Step

        units = self.bench.units
        return Printer(units, Step.usual(units)).length(length)

    def _size(self) -> Size | None:
        if self.table.size is None:
            return None
        try:
            return read_size(self.table.size, self.bench.units)[0]
        except LengthError as error:
            self.faults.add((*self.place, "size"), str(error))
            return None

    def _zone(self, size: Size) -> Zone | None:
        asked, place = self.table.zone, (*self.place, "zone")
        if self.faults.touches(place):
            return None
        nought = Fraction(0)
        if asked is None:
            return Zone(left=nought, right=size.width, bottom=nought, top=size.height)
        zone = Zone(
            left=asked.left or nought,
            right=size.width if asked.right is None else asked.right,
            bottom=asked.bottom or nought,
            top=size.height if asked.top is None else asked.top,
        )
        for low, high, most, below, edge in (
            ("left", "right", size.width, "wide", "left edge"),
            ("bottom", "top", size.height, "high", "floor"),
        ):
            start, end = getattr(zone, low), getattr(zone, high)
            if end > most:
                self.faults.add(
                    (*place, high),
                    f"lies outside the wall, which is {self._shown(most)} {below}; {high} counts from the {edge}",
                )
            elif start >= end:
                key = low if getattr(asked, low) is not None else high
                self.faults.add(
                    (*place, key),
                    f"{low} ({self._shown(start)}) is not below {high} ({self._shown(end)}), so nothing can hang between;"
                    f" both count from the wall's {edge}",
                )
        return None if self.faults.touches(place) else zone

    def _outline(self, size: Size) -> tuple[tuple[Fraction, Fraction], ...]:
        points, place = self.table.outline, (*self.place, "outline")
        if points is None or self.faults.touches(place):
            return ()
        if len(points) < 2:
            self.faults.add(
                place, f"got {len(points)} points; a top edge has at least two, like [[0, 2400], [3600, 1800]]"
            )
            return ()
        outline = tuple((left or Fraction(0), height or Fraction(0)) for left, height in points)
        if any(after[0] < before[0] for before, after in pairwise(outline)):
            self.faults.add(place, "the points of the top edge do not run from left to right; write them in order")
        elif outline[0][0] != 0 or outline[-1][0] != size.width:
            self.faults.add(
                place,
                f"the top edge does not run from 0 to the wall's width ({self._shown(size.width)}); write its first and last point there",
            )
        elif any(height > size.height for _, height in outline):
            self.faults.add(
                place, f"the top edge lies above the wall, which is {self._shown(size.height)} high; write less"
            )
        return outline

    # --- what hangs --------------------------------------------------------------------------------------------------

    def _known_piece(self, name: str, place: Place) -> int | None:
        if name in self.by_name:
            return self.by_name[name]
        lost = any(piece.name is None for piece in self.pieces) or (not self.pieces and self.faults.touches(("piece",)))
        if not lost:  # else it may be the one that could not be read
            self.faults.add(
                place,
                f"{got(name)}, but there is no [[piece]] of that name; {near_names(name, self.by_name, kind='pieces')}",
            )
        return None

    def _hung(self) -> tuple[tuple[int, int], ...]:
        """An index into the pieces and a copy's number, from 1, for each frame."""
        if self.table.pieces is None:
            return tuple(
                (number, copy)
                for number, piece in enumerate(self.pieces)
                for copy in range(1, (piece.quantity or 1) + 1)
            )
        if not self.table.pieces:
            self.faults.add(
                (*self.place, "pieces"), "got an empty list; write the names of pieces, or leave it out to hang all"
            )
        copies: Counter[int] = Counter()
        hung: list[tuple[int, int]] = []
        for position, name in enumerate(self.table.pieces):
            number = None if name is None else self._known_piece(name, (*self.place, "pieces", position))
            if number is not None:
                copies[number] += 1
                hung.append((number, copies[number]))
        return tuple(hung)

    def _at(self, arrange: Arrange, hung: tuple[tuple[int, int], ...]) -> tuple[tuple[str, Pin], ...]:
        place = (*self.place, "at")
        counts = Counter(number for number, _ in hung)
        pinned: Counter[int] = Counter()
        at: list[tuple[str, Pin]] = []
        for pinned_name, pins in (self.table.at or {}).items():
            here = (*place, pinned_name)
            number = self._known_piece(pinned_name, here)
            for position, pin in enumerate(pins):
                where: Place = (*here, position) if self.faults.lines.has((*here, position)) else here
                if self.faults.needs(pin, where) and pin.left is not None and pin.bottom is not None:
                    at.append((pinned_name, Pin(left=pin.left, bottom=pin.bottom)))
            if number is None or self.faults.touches((*self.place, "pieces")):
                continue
            pinned[number] = len(pins)
            if not counts[number]:
                self.faults.add(here, "does not hang on this wall; name it in pieces, or leave it out here")
            elif len(pins) > counts[number]:
                self.faults.add(
                    here, f"pins {len(pins)} copies, but {counts[number]} hang on this wall; write one pin a copy"
                )
        if (
            arrange is Arrange.PLACED
            and not self.faults.touches(place)
            and not self.faults.touches((*self.place, "pieces"))
        ):
            for number in counts:
                if pinned[number] < counts[number] and (name := self.pieces[number].name) is not None:
                    told = "has no place" if not pinned[number] else f"has {pinned[number]} of {counts[number]} places"
                    self.faults.add(
                        place,
                        f"{quoted(name)} {told} on this wall, whose frames are placed; write one like "
                        '{ left = "900 mm", bottom = "1200 mm" } for each copy',
                        line_of=place if self.table.at else self.place,
                    )
        return tuple(at)

    def _keep_clear(self) -> tuple[KeepClear, ...]:
        things: list[KeepClear] = []
        for number, thing in enumerate(self.table.keep_clear or ()):
            if not self.faults.needs(thing, (*self.place, "keep_clear", number)):
                continue
            if (
                thing.name is None
                or thing.left is None
                or thing.bottom is None
                or thing.width is None
                or thing.height is None
            ):
                continue
            things.append(
                KeepClear(
                    name=thing.name,
                    left=thing.left,
                    bottom=thing.bottom,
                    width=thing.width,
                    height=thing.height,
                    margin=thing.margin or Fraction(0),
                    kind=thing.kind or "",
                )
            )
        return tuple(things)

    def _furniture(self) -> tuple[Furniture, ...]:
        things: list[Furniture] = []
        for number, thing in enumerate(self.table.furniture or ()):
            if not self.faults.needs(thing, (*self.place, "furniture", number)):
                continue
            if thing.name is None or thing.left is None or thing.width is None or thing.height is None:
                continue
            things.append(Furniture(name=thing.name, left=thing.left, width=thing.width, height=thing.height))
        return tuple(things)

    # --- how it hangs ------------------------------------------------------------------------------------------------

    def _hang(self) -> Hang | None:
        asked, place = self.table.hang, (*self.place, "hang")
        if asked is None:
            return None if self.faults.touches(place) else ByWire()
        by = asked.by or "wire"
        if by not in _WAYS:
            near = nearest(by, _WAYS)
            self.faults.add(
                (*place, "by"),
                f"{got(by)}; {f'did you mean {listed(near[:1])}?' if near else f'write {listed(_WAYS)}'}",
            )
            return None
        if self.faults.touches((*place, "by")):
            return None
        written = {
            field.alias or name for name, field in HangTable.model_fields.items() if getattr(asked, name) is not None
        }
        for key in sorted(written - {"by", "rating", *_WAYS[by]}):
            homes = [way for way, keys in _WAYS.items() if key in keys]
            self.faults.add(
                (*place, key),
                f'{key} goes with by = {listed(homes)}, but these hang by "{by}"; change by, or leave {key} out',
            )
        for key in _NEEDED[by]:
            if key not in written and not self.faults.touches((*place, key)):
                self.faults.add(
                    (*place, key), f'{key} is missing; by = "{by}" needs it, like {_EXAMPLES[key]}', line_of=place
                )
        if self.faults.touches(place):
            return None
        down = asked.down or Fraction(0)
        match by:
            case "two hooks":
                return ByTwoHooks(inset=asked.inset or Fraction(0), down=down, rating=asked.rating)
            case "sawtooth":
                return BySawtooth(down=down, rating=asked.rating)
            case "cleat":
                return ByCleat(down=down, width=asked.width, rating=asked.rating)
        return ByWire(anchors=asked.anchors or Fraction(1, 3), drop=asked.drop, rating=asked.rating)
