"""Labels along a line: pushed apart so that they do not meet, and each as near to its wanted place as may be."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate, pairwise


def spread(wanted: Sequence[float], widths: Sequence[float], low: float, high: float) -> list[float] | None:
    """Return the labels' middles in their order, or `None` if there is no room between `low` and `high`.

    `wanted` are the middles that the labels would have, in rising order; `widths` are what the labels take with the
    gap that they keep.

    >>> spread([1.0, 1.5, 9.0], [1.0, 1.0, 1.0], -0.5, 10.5)
    [0.75, 1.75, 9.0]
    >>> spread([0.0, 0.0], [2.0, 4.0], 0.0, 10.0)
    [1.0, 4.0]
    >>> spread([0.0, 0.0], [2.0, 4.0], 0.0, 5.0)
    """
    if not wanted:
        return []
    if sum(widths) > high - low + 1e-9:
        return None
    # less the labels before it, each middle may stand anywhere above the one before: rising means of what is wanted
    offsets = [0.0, *accumulate((a + b) / 2 for a, b in pairwise(widths))]
    groups: list[tuple[float, int]] = []
    for place, offset in zip(wanted, offsets, strict=True):
        mean, count = place - offset, 1
        while groups and groups[-1][0] > mean:
            before, many = groups.pop()
            mean, count = (before * many + mean * count) / (many + count), many + count
        groups.append((mean, count))
    least, most = low + widths[0] / 2, high - widths[-1] / 2 - offsets[-1]
    means = [min(max(mean, least), most) for mean, count in groups for _ in range(count)]
    return [mean + offset for mean, offset in zip(means, offsets, strict=True)]
