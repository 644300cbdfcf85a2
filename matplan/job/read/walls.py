"""A wall of the job file into a wall as asked for: pieces looked up and counted. It does not know where frames hang."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import MISSING
from fractions import Fraction
from itertools import pairwise
from typing import Any

from matplan.job.file.lines import Place, place_text
from matplan.job.file.table import Opened, Told
from matplan.job.file.wrong import got, near_names, quoted
from matplan.job.records import Arrange, Pin, Wall, Zone
from matplan.lengths import Size


def read_wall(wall: Opened[Wall], file: str, pieces: Sequence[Opened[Any]], *, lost: bool) -> Wall | None:
    """Return the wall with everything resolved; `None` if it is faulty. `lost`: some pieces could not be opened."""
    return _WallReader(wall, pieces, lost=lost).wall(file)


class _WallReader:
    def __init__(self, wall: Opened[Wall], pieces: Sequence[Opened[Any]], *, lost: bool) -> None:
        self.table = wall
        self.faults = wall.reader.faults
        self.shown = wall.reader.shown
        self.pieces = pieces
        self.names = [None if (name := piece.value("name")) is MISSING else str(name) for piece in pieces]
        self.lost = lost or None in self.names
        self.by_name: dict[str, int] = {}
        for number, name in enumerate(self.names):
            if name is not None:
                self.by_name.setdefault(name, number)

    def wall(self, file: str) -> Wall | None:
        table = self.table
        name = table.value("name")
        size = None if (found := table.value("size")) is MISSING else found
        arrange = table.value("arrange")
        hung = self._hung()
        if arrange is Arrange.STEPPED and not table.says("rise") and not table.faulty("rise"):
            text = 'rise is missing; a stepped wall needs it, like rise = "180 mm"'
            table.wrong("rise", text=text, line_of=table.place)
        zone = self._zone(size) if size else None
        outline = self._outline(size) if size else ()
        eye = table.value("eye")
        if size and table.says("eye") and not table.faulty("eye") and eye > size.height:
            text = f"got {self.shown(eye)}, which is above the wall, {self.shown(size.height)} high; write less"
            table.wrong("eye", text=text, sized=True)
        try:
            wall = table.make(
                name=name,
                file=file,
                line=self.faults.lines.of(table.place),
                place=place_text(table.place),
                zone=zone,
                hung=hung,
                at=self._at(arrange, hung),
                outline=outline,
                key_lines=tuple(self._key_lines()),
            )
        except Told:
            return None
        return wall if table.sound and zone is not None else None

    def _key_lines(self) -> Iterator[tuple[str, int]]:
        """Yield the line of each key, and of what within a wall can be refused for."""
        lines, place = self.faults.lines, self.table.place
        places: list[Place] = [(key,) for key in sorted(self.table.table)]
        for key in ("at", "keep_clear", "hang"):
            within = self.table.table.get(key)
            parts: Any = range(len(within)) if isinstance(within, list) else within if isinstance(within, dict) else ()
            places += [(key, part) for part in parts]
        for within_wall in places:
            yield place_text(within_wall), lines.of((*place, *within_wall))

    def _zone(self, size: Size) -> Zone | None:
        nothing = Fraction(0)
        if not self.table.says("zone"):
            if self.table.faulty("zone"):
                return None
            return Zone(left=nothing, right=size.width, bottom=nothing, top=size.height)
        try:
            asked = self.table.reader.open(Zone, self.table.table["zone"], (*self.table.place, "zone"))
        except ValueError as error:
            self.table.wrong("zone", text=str(error))
            return None
        whole = {"right": size.width, "top": size.height}
        zone = asked.make(**{side: length for side, length in whole.items() if asked.value(side) is MISSING})
        if self.table.faulty("zone"):
            return None
        for low, high, most, below, edge in (
            ("left", "right", size.width, "wide", "left edge"),
            ("bottom", "top", size.height, "high", "floor"),
        ):
            start, end = getattr(zone, low), getattr(zone, high)
            if end > most:
                text = (
                    f"got {self.shown(end)}, which is outside the wall, {self.shown(most)} {below}; {high} counts from"
                    f" the {edge}"
                )
                asked.wrong(high, text=text, sized=True)
            elif start >= end:
                text = (
                    f"{low} ({self.shown(start)}) is not below {high} ({self.shown(end)}), so nothing can hang between;"
                    f" both count from the wall's {edge}"
                )
                asked.wrong(low if asked.says(low) else high, text=text)
        return zone

    def _outline(self, size: Size) -> tuple[tuple[Fraction, Fraction], ...]:
        outline: tuple[tuple[Fraction, Fraction], ...] = self.table.value("outline")
        if not self.table.says("outline") or self.table.faulty("outline"):
            return ()
        text = ""
        if len(outline) < 2:
            text = f"got {len(outline)} points; a top edge has at least two, like [[0, 2400], [3600, 1800]]"
        elif any(after[0] < before[0] for before, after in pairwise(outline)):
            text = "the points of the top edge do not run from left to right; write them in order"
        elif outline[0][0] != 0 or outline[-1][0] != size.width:
            width = self.shown(size.width)
            text = (
                f"the top edge does not run from 0 to the wall's width ({width}); write its first and last point there"
            )
        elif any(height > size.height for _, height in outline):
            text = f"the top edge lies above the wall, which is {self.shown(size.height)} high; write less"
        if text:
            self.table.wrong("outline", text=text, sized=True)
        return outline

    # --- what hangs --------------------------------------------------------------------------------------------------

    def _known_piece(self, name: str, *within: str | int) -> int | None:
        if name in self.by_name:
            return self.by_name[name]
        if not self.lost:  # else it may be the one that could not be read
            near = near_names(name, self.by_name, kind="pieces")
            self.table.wrong(*within, text=f"{got(name)}, but there is no [[piece]] of that name; {near}")
        return None

    def _hung(self) -> tuple[tuple[int, int], ...]:
        """Return an index into the pieces and a copy's number, from 1, for each frame."""
        if not self.table.says("pieces"):
            every = [(number, piece.value("quantity")) for number, piece in enumerate(self.pieces)]
            return tuple((number, copy) for number, quantity in every for copy in range(1, quantity + 1))
        names = self.table.value("hung")
        if names is MISSING:
            return ()
        if not names:
            text = "got an empty list; write the names of pieces, or leave it out to hang all"
            self.table.wrong("pieces", text=text)
        copies: Counter[int] = Counter()
        hung: list[tuple[int, int]] = []
        for position, name in enumerate(names):
            number = self._known_piece(name, "pieces", position)
            if number is not None:
                copies[number] += 1
                hung.append((number, copies[number]))
        return tuple(hung)

    def _at(self, arrange: Arrange, hung: tuple[tuple[int, int], ...]) -> tuple[tuple[str, Pin], ...]:
        counts = Counter(number for number, _ in hung)
        pinned: Counter[int] = Counter()
        at: list[tuple[str, Pin]] = []
        for name, pins in self.table.value("at"):
            number = self._known_piece(name, "at", name)
            at += [(name, pin) for pin in pins or ()]
            if number is None or pins is None or self.table.faulty("pieces"):
                continue
            pinned[number] = len(pins)
            if not counts[number]:
                self.table.wrong("at", name, text="does not hang on this wall; name it in pieces, or leave it out here")
            elif len(pins) > counts[number]:
                text = f"pins {len(pins)} copies, but {counts[number]} hang on this wall; write one pin a copy"
                self.table.wrong("at", name, text=text)
        if arrange is Arrange.PLACED and not self.table.faulty("at", "pieces"):
            for number in counts:
                name_of = self.names[number]
                if pinned[number] < counts[number] and name_of is not None:
                    told = "has no place" if not pinned[number] else f"has {pinned[number]} of {counts[number]} places"
                    text = (
                        f"{quoted(name_of)} {told} on this wall, whose frames are placed; write one like "
                        '{ left = "900 mm", bottom = "1200 mm" } for each copy'
                    )
                    here = (*self.table.place, "at") if self.table.table.get("at") else self.table.place
                    self.table.wrong("at", text=text, line_of=here)
        return tuple(at)
