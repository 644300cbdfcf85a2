"""What a frame hangs by, as asked for: a wire, two hooks, a sawtooth hanger or a cleat."""

from __future__ import annotations

from dataclasses import MISSING, dataclass
from fractions import Fraction

from matplan.job.file.kinds import OneOf
from matplan.job.file.table import Key, key
from matplan.job.file.written import LENGTH, MASS, NAME, SHARE, SOME_LENGTH


@dataclass(frozen=True, slots=True, kw_only=True)
class _Hung:
    """What every way of hanging has."""

    rating: Fraction | None = key(
        MASS, "What one hook is rated for: in kg, or with its unit like 30 lb. A load above it is a warning.", None
    )
    hook_rise: Fraction = key(LENGTH, "How far the hook's nail hole is above its seat.", Fraction(0), like="15 mm")


@dataclass(frozen=True, slots=True, kw_only=True)
class ByWire(_Hung):
    """A wire between two anchors; `drop` None: half the anchors' depth."""

    anchors: Fraction = key(
        SHARE,
        "By wire: how far below the top its anchors sit, as a part of the frame's height.",
        Fraction(1, 3),
        unsaid="1/3",
    )
    drop: Fraction | None = key(
        LENGTH,
        "By wire: from the frame's top down to the tightened wire. Default: half the anchors' depth.",
        None,
        like="60 mm",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class ByTwoHooks(_Hung):
    """Two hooks, `inset` from each side and `down` below the top."""

    inset: Fraction = key(
        LENGTH, "By two hooks: how far each is from the frame's side.", needs='in = "40 mm"', name="in"
    )
    down: Fraction = key(
        LENGTH, "By two hooks, sawtooth or cleat: how far below the frame's top.", needs='down = "30 mm"'
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class BySawtooth(_Hung):
    """A toothed hanger in the middle, its teeth `down` below the top."""

    down: Fraction = key(
        LENGTH, "By two hooks, sawtooth or cleat: how far below the frame's top.", needs='down = "30 mm"'
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class ByCleat(_Hung):
    """A bevelled cleat `down` below the top, `width` long, screwed at its ends."""

    down: Fraction = key(
        LENGTH, "By two hooks, sawtooth or cleat: how far below the frame's top.", needs='down = "30 mm"'
    )
    width: Fraction | None = key(SOME_LENGTH, "By cleat: how long it is.", None, like="300 mm")


type Hang = ByWire | ByTwoHooks | BySawtooth | ByCleat

_BY = Key(
    name="by", field="by", kind=NAME, says="What frames hang by: wire, two hooks, sawtooth or cleat.", needs="",
    unsaid="wire", inches=MISSING, default=MISSING, like="two hooks",
)  # fmt: skip
HANG = OneOf(
    by=_BY,
    ways={"wire": ByWire, "two hooks": ByTwoHooks, "sawtooth": BySawtooth, "cleat": ByCleat},
    what="these hang",
)
