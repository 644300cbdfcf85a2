"""What lies on the shelf when a job is done: sheets and sticks that were not used, offcuts and drop-outs worth keeping,
frames, papers and small things that are left.

The job that names it as supplies uses it first, at no cost.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Final

from matplan.habits import habits_of
from matplan.job.records import Frame, Hardware, Job, Material, Paper
from matplan.lengths import Size
from matplan.orders.cutting import Cutting, Rack
from matplan.orders.records import OrderLine
from matplan.orders.store import Store

KEEP: Final = ((6, 4), (150, 100))
"""Inches, millimetres: the smallest offcut that is kept where the costs name none (common practice: a small print)."""
KEEP_STICK: Final = (12, 300)
"""Inches, millimetres: the shortest end of a stick that is kept."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Leftovers:
    """What is left, a count by size or length, in the order of the job."""

    sheets: tuple[tuple[Material, Mapping[Size, int]], ...]
    sticks: tuple[tuple[Frame, Mapping[Fraction, int]], ...]
    frames: tuple[tuple[Frame, int], ...]
    papers: tuple[tuple[Paper, int], ...]
    hardware: tuple[tuple[Hardware, Decimal], ...]
    """Pieces, or metres or feet of what is bought by its length."""


def leftovers(
    job: Job,
    cuttings: Sequence[Cutting],
    racks: Sequence[Rack],
    order: Sequence[OrderLine],
    at_hand: Sequence[OrderLine],
) -> Leftovers:
    """Return what lies on the shelf when a job is done; see `Leftovers`. `order` is bought and `at_hand` used."""
    used: defaultdict[str, Decimal] = defaultdict(Decimal)
    for line in at_hand:
        used[line.thing] += line.quantity
    return Leftovers(
        sheets=tuple((material, count) for material, count in _sheets(job, cuttings) if count),
        sticks=tuple((frame, count) for frame, count in _sticks(job, racks) if count),
        frames=tuple((one, left) for one in job.frames if (left := one.have - int(used[f"frame {one.name}"])) > 0),
        papers=tuple((one, left) for one in job.papers if (left := one.have - int(used[f"paper {one.name}"])) > 0),
        hardware=tuple((one, left) for one, left in _hardware(job, order, used) if left > 0),
    )


def keep_of(job: Job) -> Size:
    """Return the smallest offcut that a job keeps."""
    figure = habits_of(job.units).figure
    across, down = (figure(*sides) for sides in zip(*KEEP, strict=True))
    return job.rates.keep or Size(across, down)


def _sheets(job: Job, cuttings: Sequence[Cutting]) -> Iterator[tuple[Material, Counter[Size]]]:
    """Yield what is left of each material: whole sheets as named; offcuts and drop-outs, upright."""
    keep = keep_of(job)
    cut = {(cutting.material.kind, cutting.material.name): cutting for cutting in cuttings}
    for material in job.materials:
        left: Counter[Size] = Counter()
        cutting = cut.get((material.kind, material.name))
        for sheet in material.sheets:
            left[sheet.size] += sheet.have
        if cutting is not None:
            for kind in cutting.kinds:
                left[kind.size] -= min(cutting.layout.count(kind), kind.have)
            for laid in cutting.layout.sheets:
                for offcut in laid.offcuts:
                    if offcut.size.holds_either_way(keep):
                        left[offcut.size.upright] += laid.count
            for size, count in _drops(cutting).items():
                if size.holds_either_way(keep):
                    left[size.upright] += count
        yield material, +left


def _drops(cutting: Cutting) -> Counter[Size]:
    """Return the drop-outs of a material that nothing is cut from."""
    there: Counter[Size] = Counter()
    for part in cutting.parts:
        for size in part.drops:
            there[size] += part.quantity
    for sheet in cutting.layout.sheets:
        if sheet.stock.falls_from is not None:
            there[sheet.stock.size] -= sheet.count
    return there


def _sticks(job: Job, racks: Sequence[Rack]) -> Iterator[tuple[Frame, Counter[Fraction]]]:
    """Yield what is left of each moulding: whole sticks, and ends that are long enough."""
    keep = job.rates.keep_stick or habits_of(job.units).figure(*KEEP_STICK)
    cut = {rack.frame.name: rack for rack in racks}
    for frame in job.frames:
        left: Counter[Fraction] = Counter()
        for stick in frame.sticks:
            left[stick.length] += stick.have
        rack = cut.get(frame.name)
        if rack is not None:
            for kind, count in rack.used():
                left[kind.length] -= min(count, kind.have)
            for cut_one in rack.sticks.sticks:
                end = rack.offcut(cut_one)
                if end >= keep:
                    left[_down(end)] += 1
        yield frame, +left


def _down(length: Fraction) -> Fraction:
    """Return a length to a thousandth of a millimetre, never longer: an end behind mitred cuts is irrational."""
    return length * 1000 // 1 / Fraction(1000)


def _hardware(job: Job, order: Sequence[OrderLine], used: Mapping[str, Decimal]) -> Iterator[tuple[Hardware, Decimal]]:
    """Yield what is left of each small thing: of what lay ready, and of the last pack or roll.

    Rolls of several kinds by one name (spacers of two heights) leave none: their table could not tell them apart.
    """
    store = Store.of(job)
    for one in job.hardware:
        lines = [line for line in order if line.thing == one.name]
        spare = lines[0].spare if len({line.material for line in lines}) == 1 else Decimal(0)
        yield one, store.ready(one.name) - used.get(one.name, 0) + spare
