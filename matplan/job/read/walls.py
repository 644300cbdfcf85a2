"""A wall of the job file into a wall as asked for: pieces looked up and counted. It does not know where frames hang."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import MISSING
from fractions import Fraction
from typing import Any

from matplan.job.file.lines import Place, place_text
from matplan.job.file.table import Opened, Told
from matplan.job.file.wrong import got, near_names, quoted
from matplan.job.read.idle import tell_idle_keys_of_flow
from matplan.job.read.wall_edges import read_edge, read_zone
from matplan.job.read.wall_photo import read_wall_photo
from matplan.job.records import Arrange, Group, Labels, LabelSide, Pin, Tree, Wall, Zone
from matplan.lengths import Size

type Path = tuple[int, ...]

_FLOW = ("arrange", "eye", "top", "base", "gap", "over", "columns", "rise", "variant", "near", "apart")
_WISHES = ("near", "apart")
_HEIGHTS = ("eye", "top", "base")
_LARGEST_LABEL = (Fraction(180), Fraction(250))
"""Within the margins of A4 and of Letter."""
_ROWS = frozenset({Arrange.CENTRE_LINE, Arrange.FLUSH_TOP, Arrange.FLUSH_BASE})
"""Arrangements that take stacks."""


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
        groups = self._groups(size) if size else ()
        hung = self._hung(groups)
        zone = read_zone(table, size) if size else None
        outline = read_edge(table, "outline", "top edge", size) if size else ()
        floor = read_edge(table, "floor", "floor", size) if size else ()
        if size:
            self._check_flow(table, size)
        flows = self._flows(groups, zone, hung)
        tell_idle_keys_of_flow(table, [flow.arrange for flow in flows] or [table.value("arrange")])
        self._check_wishes(groups or (table,), flows, [self.names[index] for (index, _), _ in hung])
        self._check_labels(table.value("labels"))
        try:
            wall = table.make(
                name=name,
                file=file,
                line=self.faults.lines.of(table.place),
                place=place_text(table.place),
                zone=zone,
                hung=tuple(one for one, _ in hung),
                groups=flows,
                at=self._at(hung, flows),
                outline=outline,
                floor=floor,
                photo=read_wall_photo(table, size) if size else None,
                key_lines=tuple(self._key_lines()),
            )
        except Told:
            return None
        return wall if table.sound and zone is not None else None

    # --- groups ------------------------------------------------------------------------------------------------------

    def _groups(self, size: Size) -> tuple[Opened[Group], ...]:
        """Return the wall's groups as tables, or nothing where it has none."""
        table = self.table
        if not table.says("group"):
            return ()
        written = table.table["group"]
        if not isinstance(written, list):
            table.wrong("group", text=f"{got(written)}; write [[wall.group]] with double brackets for each group")
            return ()
        found = []
        for number, one in enumerate(written):
            try:
                found.append(table.reader.open(Group, one, (*table.place, "group", number)))
            except ValueError as error:
                table.wrong("group", number, text=str(error))
        if table.says("pieces"):
            table.wrong("pieces", text="with groups the pieces stand in the groups alone; leave pieces out here")
        for each in found:
            self._check_flow(each, size)
            tell_idle_keys_of_flow(each, [(each if each.says("arrange") else table).value("arrange")])
        return tuple(found)

    def _check_flow(self, table: Opened[Any], size: Size) -> None:
        """Take up what does not agree in how frames are lined up."""
        arrange = table.value("arrange") if table.says("arrange") else self.table.value("arrange")
        stepped = arrange is Arrange.STEPPED and not (table is self.table and self.table.says("group"))
        ruled = table.says("rise") or self.table.says("rise") or self.table.says("floor")
        if stepped and not ruled and not table.faulty("rise"):
            text = 'rise is missing; a stepped wall needs it, like rise = "180 mm", or the floor of a stair'
            table.wrong("rise", text=text, line_of=table.place)
        heights = [key for key in _HEIGHTS if table.says(key)]
        for key in heights[1:]:
            text = f"{heights[0]} and {key} both say how high they hang; leave one of them out"
            table.wrong(key, text=text)
        for key in heights[:1]:
            height = table.value(key)
            if not table.faulty(key) and height > size.height:
                text = f"got {self.shown(height)}, which is above the wall, {self.shown(size.height)} high; write less"
                table.wrong(key, text=text, sized=True)

    def _flows(
        self, groups: Sequence[Opened[Group]], zone: Zone | None, hung: Sequence[tuple[tuple[int, int], Any]]
    ) -> tuple[Group, ...]:
        """Return every group resolved; a wall without any is one group of its own."""
        if zone is None:
            return ()
        trees = _trees([path for _, path in hung])
        made = []
        tables: tuple[Opened[Any], ...] = tuple(groups) or (self.table,)
        for number, table in enumerate(tables):
            said = {key: table if table.says(key) else self.table for key in _FLOW}
            if any(table.says(key) for key in _HEIGHTS):  # one height of its own stands for all three of the wall's
                said |= dict.fromkeys(_HEIGHTS, table)
            values = {key: said[key].value(key) for key in _FLOW}
            own = read_zone(table, self.table.value("size"), zone) if groups else zone
            if own is None or MISSING in values.values():
                continue
            tree = trees.get(number, ())
            self._check_tree(table, values["arrange"], tree)
            made.append(
                Group(
                    **values,
                    zone=own,
                    tree=tree,
                    about=self._about(said["over"], values["over"]),
                    place=f"group[{number + 1}]" if groups else "",
                )
            )
        return tuple(made)

    def _check_labels(self, labels: Any) -> None:
        """Take up labels that no sheet holds, and a height that labels below their frames do not have."""
        if isinstance(labels, Labels):
            sides = sorted((labels.size.width, labels.size.height))
            if any(side > most for side, most in zip(sides, _LARGEST_LABEL, strict=True)):
                most = " × ".join(self.shown(length) for length in reversed(_LARGEST_LABEL))
                size = f"{self.shown(labels.size.width)} × {self.shown(labels.size.height)}"
                text = f"got {size}, which fits no sheet that labels are printed on; write at most {most}"
                self.table.wrong("labels", "size", text=text)
        if isinstance(labels, Labels) and labels.side is LabelSide.BELOW and labels.up:
            text = "a label below hangs gap under its frame; leave up out, or hang labels at the right or left"
            self.table.wrong("labels", "up", text=text)

    def _check_tree(self, table: Opened[Any], arrange: Arrange, tree: Tree) -> None:
        if arrange not in _ROWS and any(isinstance(entry, tuple) for entry in tree):
            rows = ", ".join(sorted(str(row) for row in _ROWS))
            text = f'frames stand above one another in a row alone; write arrange = one of {rows}, not "{arrange}"'
            table.wrong("pieces", text=text)
        for key in ("top", "base"):
            if arrange is Arrange.CLUSTER and table.says(key):
                table.wrong(key, text=f"a cluster hangs about its eye line; write eye in place of {key}")

    def _check_wishes(self, tables: Sequence[Opened[Any]], flows: Sequence[Group], hung: Sequence[str | None]) -> None:
        """Take up wishes that no cluster may grant. `hung` are the names of the frames in hanging order."""
        if len(flows) != len(tables):
            return  # a group is at fault and may be the one that they are about
        hold = {number: {hung[n] for _, n in _leaves(flow.tree)} for number, flow in enumerate(flows)}
        every = [self.table, *(own for own in tables if own is not self.table)]
        for table, key in ((table, key) for table in every for key in _WISHES if table.says(key)):
            pairs = table.value(key)
            about = [n for n, own in enumerate(tables) if own is table or (table is self.table and not own.says(key))]
            clusters = [n for n in about if flows[n].arrange is Arrange.CLUSTER]
            if pairs is MISSING or table.faulty("pieces"):
                continue
            if not clusters:
                text = f'no cluster hangs here that {key} may change; write arrange = "cluster", or leave {key} out'
                table.wrong(key, text=text)
                continue
            others = table.value("near") if key == "apart" and table.says("near") else ()
            for number, pair in enumerate(pairs):
                known = [self._known_piece(table, name, key, number, n) for n, name in enumerate(pair)]
                shown = " and ".join(quoted(name) for name in pair)
                text = ""
                if None in known:
                    continue
                if pair[0] == pair[1]:
                    text = f"got {shown}, which are one piece; write two different ones"
                elif others is not MISSING and {*pair} in [{*other} for other in others]:
                    text = f"{shown} are in near too; leave them out of one of the two"
                elif not any({*pair} <= hold[n] for n in clusters):
                    text = f"{shown} do not hang in one cluster; name both in its pieces, or leave them out here"
                if text:
                    table.wrong(key, number, text=text)

    def _about(self, table: Opened[Any], name: str) -> Fraction | None:
        """Return the middle of the thing that a group hangs over, from the wall's left edge."""
        if not name:
            return None
        things = [thing for key in ("furniture", "keep_clear") for thing in self.table.value(key) or ()]
        for thing in things:
            if thing.name == name:
                return Fraction(thing.left + thing.width / 2)
        if not self.table.faulty("furniture", "keep_clear"):
            near = near_names(name, [thing.name for thing in things], kind="things")
            text = f"{got(name)}, but no furniture and nothing kept clear has that name; {near}"
            table.wrong("over", text=text)
        return None

    def _key_lines(self) -> Iterator[tuple[str, int]]:
        """Yield the line of each key, and of what within a wall can be refused for."""
        lines, place = self.faults.lines, self.table.place
        places: list[Place] = [(key,) for key in sorted(self.table.table)]
        for key in ("at", "keep_clear", "hang", "group"):
            within = self.table.table.get(key)
            parts: Any = range(len(within)) if isinstance(within, list) else within if isinstance(within, dict) else ()
            places += [(key, part) for part in parts]
        for within_wall in places:
            yield place_text(within_wall), lines.of((*place, *within_wall))

    # --- what hangs --------------------------------------------------------------------------------------------------

    def _known_piece(self, table: Opened[Any], name: str, *within: str | int) -> int | None:
        if name in self.by_name:
            return self.by_name[name]
        if not self.lost:  # else it may be the one that could not be read
            near = near_names(name, self.by_name, kind="pieces")
            table.wrong(*within, text=f"{got(name)}, but there is no [[piece]] of that name; {near}")
        return None

    def _hung(self, groups: Sequence[Opened[Group]]) -> list[tuple[tuple[int, int], Path]]:
        """Return for each frame an index into the pieces with a copy's number, from 1, and the way to it: the number of
        its group, then positions in nested lists.
        """
        if not groups and not self.table.says("pieces"):
            every = [(number, piece.value("quantity")) for number, piece in enumerate(self.pieces)]
            each = [(number, copy) for number, quantity in every for copy in range(1, quantity + 1)]
            return [(one, (0, position)) for position, one in enumerate(each)]
        found: list[tuple[tuple[int, int], Path]] = []
        copies: Counter[int] = Counter()
        tables: tuple[Opened[Any], ...] = tuple(groups) or (self.table,)
        for number, table in enumerate(tables):
            if groups and not table.says("pieces"):
                table.wrong(
                    "pieces", text='pieces is missing; write it like pieces = ["Gull", "Coil"]', line_of=table.place
                )
                continue
            names = table.value("tree" if groups else "hung")
            if names is MISSING:
                continue
            if not names:
                text = "got an empty list; write the names of pieces, or leave it out to hang all"
                table.wrong("pieces", text=text)
            for path, name in _leaves(names):
                known = self._known_piece(table, name, "pieces", *path)
                if known is not None:
                    copies[known] += 1
                    found.append(((known, copies[known]), (number, *path)))
        return found

    def _at(self, hung: Sequence[tuple[tuple[int, int], Path]], flows: Sequence[Group]) -> tuple[tuple[str, Pin], ...]:
        counts = Counter(number for (number, _), _ in hung)
        pinned: Counter[int] = Counter()
        at: list[tuple[str, Pin]] = []
        for name, pins in self.table.value("at"):
            number = self._known_piece(self.table, name, "at", name)
            at += [(name, pin) for pin in pins or ()]
            if number is None or pins is None or self.table.faulty("pieces"):
                continue
            pinned[number] = len([pin for pin in pins if pin.whole])
            if any(pin.left is None and pin.bottom is None for pin in pins):
                text = 'write where it hangs, like { left = "900 mm", bottom = "1200 mm" } or one of the two'
                self.table.wrong("at", name, text=text)
            if not counts[number]:
                self.table.wrong("at", name, text="does not hang on this wall; name it in pieces, or leave it out here")
            elif len(pins) > counts[number]:
                text = f"pins {len(pins)} copies, but {counts[number]} hang on this wall; write one pin a copy"
                self.table.wrong("at", name, text=text)
        placed = {path[0] for path in (path for _, path in hung)} & {
            number for number, flow in enumerate(flows) if flow.arrange is Arrange.PLACED
        }
        here_hung = Counter(number for (number, _), path in hung if path[0] in placed)
        if placed and not self.table.faulty("at", "pieces"):
            for number in here_hung:
                name_of = self.names[number]
                if pinned[number] < here_hung[number] and name_of is not None:
                    many = here_hung[number]
                    told = "has no place" if not pinned[number] else f"has {pinned[number]} of {many} places"
                    text = (
                        f"{quoted(name_of)} {told} on this wall, whose frames are placed; write one like "
                        '{ left = "900 mm", bottom = "1200 mm" } for each copy'
                    )
                    here = (*self.table.place, "at") if self.table.table.get("at") else self.table.place
                    self.table.wrong("at", text=text, line_of=here)
        return tuple(at)


def _leaves(names: Any, path: Path = ()) -> Iterator[tuple[Path, Any]]:
    """Yield each entry of a nested list with the way to it."""
    for number, entry in enumerate(names):
        if isinstance(entry, tuple):
            yield from _leaves(entry, (*path, number))
        else:
            yield (*path, number), entry


def _trees(paths: Sequence[Path]) -> dict[int, Tree]:
    """Return the frames of each group as they are nested, by their numbers in hanging order."""
    nested: dict[int, Any] = {}
    for number, path in enumerate(paths):
        here = nested
        for part in path[:-1]:
            here = here.setdefault(part, {})
        here[path[-1]] = number
    return {group: _tree(entries) for group, entries in nested.items()}


def _tree(entries: Any) -> Any:
    if isinstance(entries, int):
        return entries
    return tuple(_tree(entries[position]) for position in sorted(entries))
