"""How good an answer is: nine parts from 0 to 1, and one weight each.

The score is the weighted mean of the parts that apply, so that it lies between 0 and 1 too. A part that nothing is
known of is left out: `resolution` without a photo, `paper` without a sheet, `usual` where frame and paper were named.
Everything here is a habit of the trade put into numbers, no law; figures without a source beside them are our own
choice. Plain floats: nothing is cut by a score.
"""

from __future__ import annotations

type Pair = tuple[float, float]
type Parts = tuple[float | None, ...]
"""In the order of `WEIGHTS`; None for a part that does not apply."""

WEIGHTS = (
    ("border", 0.17, "how near the narrowest border comes to what suits the frame: what is seen first"),
    ("picture", 0.15, "how much of the sight is picture: a frame is bought for it"),
    (
        "evenness",
        0.12,
        "whether the borders at the sides and above and below are alike: the frame follows the picture's shape",
    ),
    ("resolution", 0.10, "the print's pixels per inch against those wanted"),
    ("paper", 0.09, "how much of the sheet is printed on"),
    ("whole", 0.13, "how much of the picture is neither cropped nor covered"),
    ("ready_cut", 0.04, "a ready-cut mat does, so that nothing is cut"),
    ("print_size", 0.04, "the print is of a standard size, which any lab makes"),
    ("usual", 0.16, "frame and paper are sold where these units are used: a frame of the other kind is hard to find"),
)
"""Each part with its weight and the reason for it. The weights add up to 1."""

_SHARES = tuple(weight for _, weight, _ in WEIGHTS)

WIDE_ENOUGH = 2.0
"""Times the suiting border up to which a border is as good; it falls to nothing at twice that."""
TOO_NARROW = 0.5
"""Times the suiting border at which it is good for nothing."""
PICTURE_ENOUGH = 0.45
"""Of the sight: ready-cut mats as sold show 37 to 67 % of their frame's sheet (common practice)."""
CROP_ALLOWED = 0.25
"""Of the picture: where as much is cropped or covered, nothing is left of that part."""


def look_of(
    sight: Pair, opening: Pair, narrowest: float, across: float, upright: float, suiting: float
) -> tuple[float, float, float]:
    """Return the parts that the eye judges: border, picture and evenness. All in millimetres.

    `narrowest` is the least visible border, `across` what the sides have on average and `upright` what is above and
    below; `suiting` is the border that suits.
    """
    times = narrowest / suiting
    border = (times - TOO_NARROW) / (1 - TOO_NARROW) if times < 1 else (2 * WIDE_ENOUGH - times) / WIDE_ENOUGH
    widest = max(across, upright)
    return (
        min(max(border, 0.0), 1.0),
        min(opening[0] * opening[1] / (sight[0] * sight[1]) / PICTURE_ENOUGH, 1.0),
        max(min(across, upright) / widest, 0.0) if widest > 0 else 1.0,
    )


def parts_of(
    look: tuple[float, float, float],
    *,
    ppi: float | None,
    paper: float | None,
    shown: float,
    ready_cut: bool,
    standard: bool,
    usual: float | None,
) -> Parts:
    """Return all parts. `ppi`, `paper` and `shown` are shares: of the pixels wanted, of the sheet and of the picture;
    None where unknown.
    """
    return (
        *look,
        None if ppi is None else min(ppi, 1.0),
        None if paper is None else min(paper, 1.0),
        max(1 - (1 - shown) / CROP_ALLOWED, 0.0),
        1.0 if ready_cut else 0.0,
        1.0 if standard else 0.0,
        usual,
    )


def usual_of(frame: bool | None, paper: bool | None) -> float | None:
    """Return how far frame and paper are sold where the asker's units are used; the frame counts twice. `None` where
    both were named.
    """
    known = [(share, weight) for share, weight in ((frame, 2), (paper, 1)) if share is not None]
    return sum(share * weight for share, weight in known) / sum(weight for _, weight in known) if known else None


def score_of(parts: Parts) -> float:
    """Return the weighted mean of the parts that apply."""
    total = reached = 0.0
    for part, weight in zip(parts, _SHARES, strict=True):
        if part is not None:
            total += weight
            reached += weight * part
    return reached / total
