"""Values that no key expects: of wrong types, huge, tiny, negative, in odd units and other scripts, very long."""

from __future__ import annotations

import datetime
from random import Random
from typing import Any, Final

NUMBERS: Final[tuple[Any, ...]] = (
    0, 1, -1, 2, 3, 7, 0.0, -0.0, 0.001, 1e-9, 1e-300, 5e-324, 0.5, 1.2, 99.99, 10_000, 10_001, 1e6, 1e15, 1e300, 1e308,
    2**31, 2**63, -(2**63), 10**18, 10**30, 10**400, float("nan"), float("inf"), float("-inf"), True, False,
)  # fmt: skip
LENGTHS: Final = (
    "0", "0 mm", "1 mm", "0.001 mm", "0.01 mm", "1/16 in", "1/0 in", "0/0", "3/0", "16 3/8 in", "16⅜ in", "1' 4\"",
    "1 ft 4 in", "-5 mm", "+5 mm", "−5 mm", "5", "5.", ".5", "5,5 mm", "1e3 mm", "1e9999 mm", "99.9 m", "100 m",
    "101 m",
    "1000000000000000000000 mm", "9" * 400 + " mm", "0." + "0" * 400 + "1 mm", "1/" + "9" * 400 + " in", "5 parsec",
    "5 mm mm",
    "mm", "mm 5", "5 MM", "5 µm", "5 km", "5 px", "5 pt", "٣ cm", "५ cm", "五 cm", "５ mm", "½ in", "²  mm", "nan",
    "nan mm",
    "inf", "inf mm", "NaN cm", "Infinity", "0x10 mm", "1_000 mm", "1 000 mm", "5\u00a0mm", "5\u202fmm", " 5 mm ",
    "5mm;", "1/3 in",
    "63/64 in", "12' 11 15/16\"", "20 cm", "250 mm", "1.5 m", "3000 mm",
)  # fmt: skip
SIZES: Final = (
    "0x0", "0 x 10 mm", "1x1 mm", "1 x 9999 mm", "99 x 99 m", "100 x 100 m", "101 x 1 m", "40x50 cm", "50x40 cm",
    "A4", "a4",
    "A3+", "A99", "A-1", "Letter", "16x20 in", "8 1/2 x 11 in", "8½×11 in", "40×50 cm", "40 х 50 cm", "x", "10x", "x10",
    "10 x 10 x 10 mm", "10 mm x 10 in", "-1x-1 mm", "nanxnan", "1/0x1 in", "3x5", "300 x 200 mm", "10x10000 mm",
)  # fmt: skip
RATIOS: Final = (
    "3:2", "2:3", "0:0", "1:0", "0:1", "1:1", "99999999:1", "1:99999999", "1:1e9", ":", "a:b", "3:2:1", "-3:2",
    "3 : 2", "√2:1",
    "1.414:1", "0.0001:1", "16:9",
)  # fmt: skip
WORDS: Final = (
    "", " ", "\t", "\n", "\x00", "\x1b[2J", "\u2028", "\ufeff", "\u202e", "\u200b", "e" + "\u0301" * 300, "Möwe",
    "Πρωί", "ميناء",
    "船着場", "🖼️", "\U000e0001", "\ud7ff", "\ufffe", "'", '"', "\\", "../../x", "/dev/zero", "/dev/null", ".", "..",
    "~", "%s", "{}",
    "CON", "a" * 120, "a" * 121, "ａ" * 1000, "W" * 1000, "x" * 100_000, "=1+1", "@SUM(1)", "</svg><script>", "&amp;",
    "]]>", "1",
    "white", "image", "margin", "sheet", "optical", "bevel", "reverse", "straight", "own", "ready-cut", "sheets",
    "to size",
    "circle", "oval", "arch", "octagon", "polygon", "square", "cluster", "grid", "stepped", "placed", "flush-top",
    "wire",
    "two hooks", "in", "cm", "mm", "#000", "#zzzzzz", "#12345678", "red", "landscape", "glazing", "mat", "1.2",
    "2026-01-01",
)  # fmt: skip
OTHERS: Final[tuple[Any, ...]] = (
    [], {}, [[]], [{}], {"": ""}, {"a": 1}, [0], [1, 2], [[0.5, 0], [1, 1], [0, 1]], [[0, 0], [1, 1], [1, 0], [0, 1]],
    [["a"]],
    ["a", "a"], [None], {"top": "1 mm"}, {"top": 1, "right": 2, "bottom": 3, "left": 4}, {"width": "20 cm"},
    {"height": 20},
    {"width": "1 mm", "height": "99 m"}, {"size": "A4"}, {"by": "wire"}, {"by": "two hooks", "in": "40 mm",
    "down": "30 mm"},
    {"board": "white"}, {"board": "white", "reveal": "6 mm"}, {"left": "0 mm", "width": "1 mm"}, [1e308] * 4,
    ["1 mm"] * 4,
    [{"size": "1x1 mm", "price": 0}], [{"size": "32x40 in", "price": 18.5, "have": 10_000}], [{"length": "3 m",
    "price": 21}],
    [[0, 0], [1e9, 0], [1e9, 1e9], [0, 1e9]], datetime.date(2026, 1, 1), datetime.time(12), datetime.datetime(2026, 1,
    1),
    [list(range(500))], ["white"] * 500, [[[[[[[[1]]]]]]]],
)  # fmt: skip
ALL: Final[tuple[Any, ...]] = (*NUMBERS, *LENGTHS, *SIZES, *RATIOS, *WORDS, *OTHERS)


def value(chance: Random) -> Any:
    """Return one of them, or a few together."""
    draw = chance.random()
    if draw < 0.85:
        return chance.choice(chance.choice([NUMBERS, LENGTHS, SIZES, RATIOS, WORDS, OTHERS]))
    if draw < 0.9:
        return [value(chance) for _ in range(chance.randrange(1, 6))]
    if draw < 0.95:
        keys = ("top", "right", "bottom", "left", "width", "height", "size", "price", "have", "name", "board", "reveal")
        return {chance.choice(keys): value(chance) for _ in range(chance.randrange(1, 4))}
    return f"{chance.uniform(0, 1000):.{chance.randrange(6)}f} {chance.choice(['mm', 'cm', 'm', 'in', 'ft', ''])}"
