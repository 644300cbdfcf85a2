"""Cut lists as people keep them: a CSV with name, width, height, quantity and, where some must not, turn.

Every fault of a list is found at once, each with its line and column. It must not know how a list is cut.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path

from matplan.faults import CutListError, Fault, LengthError, printable
from matplan.lengths import Size, Units, parse_length
from matplan.stock.records import Part

COLUMNS = ("name", "width", "height", "quantity", "turn")
NEEDED = COLUMNS[:4]
MOST_BYTES = 50_000_000
MOST_PARTS = 100_000
"""Parts of a list in all, quantities counted."""
MOST_FAULTS = 100
"""So many are named; the rest are counted."""
TURNS = {"yes": True, "no": False}


def read_cut_list(path: Path, units: Units, *, file: str | None = None) -> tuple[Part, ...]:
    """Return the parts of the file; bare numbers are in `units`. Raises `CutListError` with all its faults."""
    name = str(path) if file is None else file
    try:
        if path.is_dir():
            raise CutListError([_whole("it is a folder; name the CSV in it")], file=name)
        with path.open("rb") as stream:  # a device may have no end
            data = stream.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise CutListError([_whole("there is no such file")], file=name) from None
    except OSError as error:
        raise CutListError([_whole(f"it cannot be read: {error.strerror or error}")], file=name) from None
    return parse_cut_list(data, units, file=name)


def parse_cut_list(data: bytes, units: Units, *, file: str = "cutlist.csv") -> tuple[Part, ...]:
    """Return the parts of a list in UTF-8, with or without a byte order mark, LF or CRLF. Raises `CutListError`."""
    if len(data) > MOST_BYTES:
        raise CutListError(
            [_whole(f"it has more than {MOST_BYTES:,} bytes, which no list of parts has; split it")], file=file
        )
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        fault = Fault(line=line, where="", text=f"byte 0x{data[error.start]:02x} is no UTF-8; save the list as UTF-8")
        raise CutListError([fault], file=file) from None
    reader = _Reader(units)
    parts = tuple(reader.parts(text))
    if reader.faults:
        raise CutListError(reader.shown(), file=file)
    return parts


def _whole(text: str) -> Fault:
    return Fault(line=None, where="", text=text)


@dataclass(slots=True)
class _Reader:
    units: Units
    faults: list[Fault] = field(default_factory=list)

    def fault(self, line: int, column: str, text: str) -> None:
        self.faults.append(Fault(line=line, where=column, text=text))

    def shown(self) -> list[Fault]:
        """Return the faults in line order; of very many the first ones and how many more there are."""
        found = sorted(self.faults, key=lambda fault: fault.line or 0)
        if len(found) <= MOST_FAULTS:
            return found
        return [*found[:MOST_FAULTS], _whole(f"and {len(found) - MOST_FAULTS:,} more faults")]

    def parts(self, text: str) -> Iterator[Part]:
        rows = csv.reader(io.StringIO(text, newline=""), strict=True)
        header: dict[str, int] | None = None
        total, line = 0, 1
        try:
            for row in rows:
                begins, line = line, rows.line_num + 1
                if not any(cell.strip() for cell in row):
                    continue
                if header is None:
                    header = self._header(row, begins)
                    if header is None:
                        return
                    continue
                part = self._part(row, header, begins)
                if part is None:
                    continue
                total += part.quantity
                yield part
        except csv.Error as error:
            self.fault(
                rows.line_num or 1,
                "",
                f"this is no CSV: {error}; a cell with a comma or a quote stands in double quotes",
            )
            return
        if header is None:
            self.fault(1, "", f"the list is empty; its first line is {','.join(COLUMNS)}")
        elif not total and not self.faults:
            self.fault(1, "", "the list has no parts; write one below its header")
        elif total > MOST_PARTS:
            self.fault(1, "quantity", f"the list has {total:,} parts; {MOST_PARTS:,} are the most")

    def _header(self, row: Sequence[str], line: int) -> dict[str, int] | None:
        found: dict[str, int] = {}
        before = len(self.faults)
        for number, cell in enumerate(row):
            name = cell.strip().lower()
            if name in found:
                self.fault(line, name, "this column stands twice")
            elif name in COLUMNS:
                found[name] = number
            else:
                self.fault(
                    line,
                    printable(cell.strip(), 40) or f"column {number + 1}",
                    f"is no column here; they are {', '.join(COLUMNS)}",
                )
        for name in NEEDED:
            if name not in found and len(self.faults) == before:
                self.fault(line, name, f"this column is missing; the first line is {','.join(COLUMNS)}")
        return found if len(self.faults) == before else None

    def _part(self, row: Sequence[str], header: dict[str, int], line: int) -> Part | None:
        before = len(self.faults)
        if len(row) > max(header.values()) + 1 and any(cell.strip() for cell in row[max(header.values()) + 1 :]):
            self.fault(line, "", f"has {len(row)} cells, and the header has {len(header)} columns")
        cells = {name: row[at].strip() if at < len(row) else "" for name, at in header.items()}
        name = cells["name"]
        if not name:
            self.fault(line, "name", "is empty; every part has a name")
        elif any(not character.isprintable() for character in name):
            self.fault(line, "name", f'got "{printable(name, 60)}"; a name holds no control characters')
        sides = [self._side(cells[side], side, line) for side in ("width", "height")]
        quantity = self._quantity(cells["quantity"], line)
        turn = TURNS.get(cells.get("turn", "").lower() or "yes")
        if turn is None:
            self.fault(line, "turn", f'got "{printable(cells["turn"], 40)}"; write yes or no')
        width, height = sides
        if len(self.faults) > before or width is None or height is None or quantity is None or turn is None:
            return None
        return Part(name=name, size=Size(width, height), quantity=quantity, turn=turn)

    def _side(self, cell: str, column: str, line: int) -> Fraction | None:
        try:
            length = parse_length(cell, self.units)
        except LengthError as error:
            self.fault(line, column, str(error))
            return None
        if not length:
            self.fault(line, column, "got 0; a side is longer than 0")
            return None
        return length

    def _quantity(self, cell: str, line: int) -> int | None:
        if cell.isascii() and cell.isdigit() and len(cell) <= 9 and 1 <= int(cell) <= MOST_PARTS:
            return int(cell)
        self.fault(line, "quantity", f'got "{printable(cell, 40)}"; write a whole number from 1 to {MOST_PARTS:,}')
        return None
