"""What concerns a job as a whole, and no piece or wall alone."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from matplan.job.file.wrong import quoted
from matplan.job.records import Job, Wall
from matplan.mats.records import Finding, Level
from matplan.orders.costs import Costs
from matplan.orders.money import Currency
from matplan.walls.limits import listed


def findings_of(job: Job, costs: Costs) -> Iterator[Finding]:
    """Yield all findings of a job as a whole."""
    yield from _slips_of_the_unit(job)
    yield from _idle_keys(job)
    yield from _hung_nowhere(job)
    yield from _hung_too_often(job)
    yield from _walls_alike(job)
    yield from _work_without_minutes(job)
    yield from _without_selling_price(job, costs)
    yield from _over_budget(job, costs)


def _work_without_minutes(job: Job) -> Iterator[Finding]:
    """Yield the note that an hour of work has a price while no piece says how long it takes."""
    if not job.rates.labour_per_hour or any(piece.minutes is not None for piece in job.pieces):
        return
    text = "labour_per_hour is written, but no piece has minutes, so no cost holds work; write minutes = 30 on a piece"
    yield Finding(level=Level.NOTE, code="no-minutes", where="", text=text)


def _without_selling_price(job: Job, costs: Costs) -> Iterator[Finding]:
    """Yield the pieces that have no selling price for want of another; those that lack the same together."""
    if not job.rates.sells:
        return
    lacking: dict[tuple[str, ...], list[str]] = {}
    for cost in costs.pieces:
        if cost.unpriced:
            lacking.setdefault(cost.unpriced, []).append(cost.name)
    for parts, names in lacking.items():
        have, no = ("has", "have")[len(names) > 1], ("has", "have")[len(parts) > 1]
        text = (
            f"{listed([quoted(name) for name in names])} {have} no selling price, because {listed(parts)} "
            f"{no} no price in the job"
        )
        yield Finding(
            level=Level.WARNING,
            code="no-selling-price",
            where=names[0] if len(names) == 1 else "",
            text=text,
        )


def _over_budget(job: Job, costs: Costs) -> Iterator[Finding]:
    """Yield the warning that a job costs more than its budget."""
    if costs.total is None or costs.budget is None or costs.left is None or costs.left >= 0:
        return
    currency = Currency.of(job.currency)
    text = (
        f"the job costs {currency.named(costs.total)}, over the budget of {currency.written(costs.budget)} by"
        f" {currency.written(-costs.left)}"
    )
    yield Finding(level=Level.WARNING, code="over-budget", where="", text=text)


def _slips_of_the_unit(job: Job) -> Iterator[Finding]:
    """Yield the sizes that look like another unit's."""
    for slip in job.slips:
        yield Finding(level=Level.WARNING, code="unit-slip", where=slip.where, text=slip.text)


def _idle_keys(job: Job) -> Iterator[Finding]:
    """Yield the keys that change nothing where they stand."""
    for one in job.idle:
        yield Finding(level=Level.WARNING, code="idle-key", where=one.where, text=one.text)


def _hung_nowhere(job: Job) -> Iterator[Finding]:
    """Yield the pieces that no wall names while a wall names others."""
    hung = {index for wall in job.walls for index, _ in wall.hung}
    if not hung:
        return
    for index, piece in enumerate(job.pieces):
        if index not in hung:
            text = f'"{piece.name}" hangs on no wall, while others do; name it in a wall\'s pieces'
            yield Finding(level=Level.NOTE, code="hung-nowhere", where=piece.name, text=text)


def _walls_alike(job: Job) -> Iterator[Finding]:
    """Yield the walls that differ in nothing but their names, those alike together."""
    alike: dict[Wall, list[str]] = {}
    for wall in job.walls:
        alike.setdefault(replace(wall, name="", file=""), []).append(wall.name)
    for names in alike.values():
        if len(names) > 1:
            text = (
                f"the walls {listed([quoted(name) for name in names])} are alike but for their names: the same "
                "size, pieces and places; leave out what was copied by mistake"
            )
            yield Finding(level=Level.NOTE, code="walls-alike", where=names[0], text=text)


def _hung_too_often(job: Job) -> Iterator[Finding]:
    """Yield the pieces of which the walls together hang more than are made."""
    hung = Counter(index for wall in job.walls for index, _ in wall.hung)
    for index, count in sorted(hung.items()):
        piece = job.pieces[index]
        if count > piece.quantity:
            made = f"{piece.quantity} {'is' if piece.quantity == 1 else 'are'} made"
            text = (
                f'the walls hang {count} of "{piece.name}", and {made}; write quantity = {count} or name it less often'
            )
            yield Finding(level=Level.WARNING, code="more-than-made", where=piece.name, text=text)
