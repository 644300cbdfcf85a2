"""Seeded pieces for measuring drawings: units, sizes from 6 × 6 cm to 150 × 100 cm, panoramas, one to three layers, one
to 40 windows, all shapes, names in eight scripts.

    python -m tests.documents.seeded [--jobs 200] [--seed 1]

measures the drawings of that many pieces: numbers, starts and stops that are missing, the smallest letter, the board's
share of the page, clashes by the checker, papers.
"""

from __future__ import annotations

import argparse
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from random import Random
from statistics import median

from matplan.documents.cutting import all_layers
from matplan.documents.cutting.diagram import cutting_diagram
from matplan.documents.front.view import front_view
from matplan.documents.parts.folio import BoardsOf, Folio
from matplan.drawing import clashes
from matplan.drawing.items import Group, Item
from matplan.drawing.sheet import Sheet
from matplan.faults import MatplanError
from matplan.job.records import LayerAsk, Piece, Shape
from matplan.lengths import Units
from matplan.mats.gauge import gauge_cuts, reading_order
from matplan.mats.outline_cuts import outline_cuts
from matplan.mats.records import Layer, SolvedPiece
from matplan.planning import Plan
from tests.making import CHARCOAL, WHITE, border, frame, mm, piece, planned, window

LARGEST = 1500
"""No board is longer, in mm."""
NAMES = ("Slipway", "Möwe", "Πρωί", "Причал", "ميناء", "נמל", "船着場", "항구")
_SIZES = (
    (60, 60), (90, 60), (100, 150), (130, 180), (180, 240), (200, 250), (240, 300), (279, 356), (300, 400), (400, 400),
    (400, 500), (406, 508), (500, 600), (500, 700), (600, 800), (700, 1000), (1000, 1500), (900, 300), (1200, 300),
)  # fmt: skip
_POINTS = ((Fraction(1, 2), Fraction(0)), (Fraction(1), Fraction(1)), (Fraction(0), Fraction(1)))


def pieces(count: int, seed: int = 1) -> Iterator[tuple[Piece, Units]]:
    """Yield so many pieces; with one seed they are the same on every run."""
    chance = Random(seed)
    for number in range(count):
        units = chance.choice([Units.MM, Units.CM, Units.IN])
        yield (_single(chance, number) if chance.random() < 0.6 else _several(chance, number)), units


def _mat(chance: Random) -> tuple[LayerAsk, ...]:
    boards = (WHITE, CHARCOAL, WHITE)
    layers = chance.choice([1, 1, 1, 2, 2, 3])
    return tuple(LayerAsk(board=boards[n], reveal=Fraction(6 if n else 0)) for n in range(layers))


def _single(chance: Random, number: int) -> Piece:
    """Return a piece with one window in a frame of a usual size."""
    width, height = chance.choice(_SIZES)
    if chance.random() < 0.4:
        width, height = height, width
    edge = max(8.0, min(width, height) * chance.uniform(0.12, 0.25))
    shape = chance.choice([Shape.RECTANGLE] * 6 + list(Shape)[1:])
    across, down = round(width - 2 * edge), round(height - 2.2 * edge)
    if shape in (Shape.CIRCLE, Shape.SQUARE):
        across = down = min(across, down)
    name = NAMES[number % len(NAMES)]
    points = _POINTS if shape is Shape.POLYGON else ()
    return piece(
        name,
        apertures=(window(name, image=f"{across} x {down}", shape=shape, points=points),),
        frame=frame(f"{width} x {height} mm", lip=mm(3)),
        mat=_mat(chance),
    )


def _several(chance: Random, number: int) -> Piece:
    """Return a piece with two to 40 windows in rows, alike or not."""
    count = chance.choice([2, 3, 4, 4, 6, 9, 12, 20, 30, 40])
    columns, rows, at = max(1, round(count**0.5 * chance.uniform(0.7, 1.4))), [], 0
    while at < count:
        here = columns if chance.random() < 0.7 else max(1, columns - 1)
        rows.append(tuple(range(at, min(count, at + here))))
        at += here
    base, alike = chance.choice([40, 60, 90, 130, 180]), chance.random() < 0.6
    windows = []
    for n in range(count):
        across, down = (base, base * 7 // 10) if alike else (chance.randint(base // 2, base), chance.randint(30, base))
        shape = chance.choice([Shape.OVAL, Shape.CIRCLE, Shape.ARCH]) if chance.random() < 0.2 else Shape.RECTANGLE
        down = across if shape is Shape.CIRCLE else down
        windows.append(window(f"{NAMES[n % len(NAMES)]} {n}", image=f"{across} x {down}", shape=shape))
    return piece(
        NAMES[number % len(NAMES)],
        apertures=tuple(windows),
        rows=tuple(rows),
        gutter=Fraction(chance.choice([20, 30, 40])),
        border=border(f"{chance.choice([40, 60, 80])} mm"),
        mat=_mat(chance),
    )


# --- measured --------------------------------------------------------------------------------------------------------


@dataclass(slots=True)
class Measured:
    """What was found on the drawings of some pieces."""

    diagrams: int = 0
    sheets: int = 0
    cuts: int = 0
    missing: list[str] = field(default_factory=list)
    """Cuts whose number stands on no drawing, or not once, or whose start and stop stand in no table."""
    clashes: list[str] = field(default_factory=list)
    shares: list[float] = field(default_factory=list)
    single: list[float] = field(default_factory=list)
    smallest: float = 100.0
    layered: int = 0
    """Pieces with several boards, and those of them whose boards stand on one page together."""
    together: int = 0
    papers: Counter[tuple[float, float]] = field(default_factory=Counter)

    def take(self, plan: Plan) -> None:
        """Measure the drawings of a plan's only piece."""
        (solved,) = plan.pieces
        for sheet in front_view(plan.job, solved, {}):
            self._look(sheet)
        for layer in solved.layers:
            sheets = cutting_diagram(plan.job, solved, layer)
            for sheet in sheets:
                self._look(sheet)
            self._count(plan, solved, layer, sheets)
        if len(solved.layers) > 1:
            self._count_together(plan, solved)

    def _look(self, sheet: Sheet) -> None:
        self.sheets += 1
        self.papers[sheet.size] += 1
        self.smallest = min(self.smallest, *(text.size for text in sheet.texts()))
        self.clashes += [f"{sheet.name}: {clash}" for clash in clashes.check(sheet)]

    def _count(self, plan: Plan, solved: SolvedPiece, layer: Layer, sheets: tuple[Sheet, ...]) -> None:
        cuts = gauge_cuts(layer, solved.blank, solved.ask.rows, plan.job.cutter)
        shaped = outline_cuts(layer, reading_order(solved.ask.rows), len(cuts), plan.job.cutter)
        self.diagrams += 1
        self.cuts += len(cuts) + len(shaped)
        numbers = Counter(number for sheet in sheets for number in _named(sheet.items, "cut-number"))
        for number in (*(cut.number for cut in cuts), *(cut.number for cut in shaped)):
            if numbers[str(number)] != 1:
                self.missing.append(f"{sheets[0].name}: number {number} stands {numbers[str(number)]} times")
        listed = Counter(text for sheet in sheets for text in _named(sheet.items, "gauge-table"))
        marks = Counter(plan.job.printer.number(mark) for cut in cuts for mark in (cut.near, cut.far))
        self.missing += [f"{sheets[0].name}: start or stop {mark}" for mark in marks - listed]
        scale, (width, height) = sheets[0].scale or Fraction(0), sheets[0].size
        share = float(solved.blank.width * solved.blank.height * scale**2) / (width * height)
        (self.shares if len(layer.openings) > 1 else self.single).append(share)

    def _count_together(self, plan: Plan, solved: SolvedPiece) -> None:
        """Count what stands on the page of all boards of a piece, where it has one."""
        self.layered += 1
        folio = Folio(job=plan.job, pieces=plan.pieces, plan=plan)
        for sheet in all_layers.drawn(folio, BoardsOf(piece=solved)):
            self.together += 1
            self._look(sheet)
            expected: Counter[str] = Counter()
            for layer in solved.layers:
                cuts = gauge_cuts(layer, solved.blank, solved.ask.rows, plan.job.cutter)
                shaped = outline_cuts(layer, reading_order(solved.ask.rows), len(cuts), plan.job.cutter)
                expected.update(str(number) for number in range(1, len(cuts) + len(shaped) + 1))
            numbers = Counter(_named(sheet.items, "cut-number"))
            if numbers != expected:
                self.missing.append(
                    f"{sheet.name}: numbers {numbers - expected} too many, {expected - numbers} too few"
                )

    def report(self) -> Iterator[str]:
        """Yield what was found, a line each."""
        yield f"{self.diagrams} diagrams with {self.cuts} cuts, {self.sheets} sheets in all"
        yield f"pieces with several boards: {self.layered}, all on one page: {self.together}"
        yield f"missing: {len(self.missing)} {self.missing[:3] or ''}"
        yield f"clashes: {len(self.clashes)} {self.clashes[:3] or ''}"
        yield f"smallest letter: {self.smallest} mm"
        for what, shares in (("one window", self.single), ("several", self.shares)):
            if shares:
                yield f"board's share of the page, {what}: median {median(shares):.1%}"
        yield "papers: " + ", ".join(f"{w:g} × {h:g}: {n}" for (w, h), n in sorted(self.papers.items()))


def _named(items: tuple[Item, ...], name: str) -> Iterator[str]:
    """Yield the texts of all groups of a class."""
    for item in items:
        if isinstance(item, Group):
            if name in item.classes:
                yield from (text.text for text in Sheet(name="", title="", size=(1, 1), items=item.items).texts())
            else:
                yield from _named(item.items, name)


def measured(count: int, seed: int = 1) -> Measured:
    """Return what is found on the drawings of so many seeded pieces; one that cannot be solved counts for none."""
    found = Measured()
    for ask, units in pieces(count, seed):
        try:
            plan = planned(ask, units=units)
        except MatplanError:
            continue
        if max(plan.pieces[0].blank.width, plan.pieces[0].blank.height) <= LARGEST:
            found.take(plan)
    return found


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--jobs", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    print("\n".join(measured(asked.jobs, asked.seed).report()))  # noqa: T201
