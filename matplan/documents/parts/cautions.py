"""The short cautions, each printed where the work is that it is about.

They remind and defer: local codes, the makers' instructions and licensed practice decide. A source stands beside each;
"common practice" means that several plain articles agree and no single authority could be named.
"""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum
from fractions import Fraction
from typing import Final

from matplan.lengths import Units
from matplan.mats.findings import LIFTING_LIMIT_KG


class Work(StrEnum):
    """A kind of work that can hurt someone or something."""

    CUTTING = "cutting"
    GLASS = "glass"
    ACRYLIC = "acrylic"
    HEAVY = "heavy"
    WALL = "wall"
    FIXINGS = "fixings"
    ADHESIVES = "adhesives"
    PUBLIC = "public places"
    CONSERVATION = "conservation"


_WORDS: Final[dict[Work, tuple[str, ...]]] = {
    Work.CUTTING: (
        # common practice in makers' and schools' instructions for craft knives and mat cutters
        "Keep the free hand out of the blade's path.",
        # common practice
        "A bevel is one firm pass with a fresh blade; shallow passes are for a knife along a straight-edge.",
        # common practice
        "Straight-edge on the mat's side of the line, so that a slip lands in the waste.",
        # common practice; used blades are sharps
        "Wear eye protection; used blades go into a closed box.",
    ),
    Work.GLASS: (
        # common practice in glaziers' handling instructions
        "Glass: wear gloves and eye protection, carry sheets on edge.",
        # common practice
        "If a sheet breaks or slips, step back and let it fall.",
    ),
    Work.ACRYLIC: (
        # common practice: sheet makers' handling notes
        "Acrylic: edges are sharp when freshly cut; leave the film on until the piece is closed.",
    ),
    Work.HEAVY: (
        # published: the limit of the revised NIOSH lifting equation, ideal conditions
        "Heavy: above {limit} two people lift, carry and hang it.",
        # published: a conservation training text (two wall points to two frame points, never one, for heavy work)
        "Hang heavy work from two wall points to two points on the frame.",
    ),
    Work.WALL: (
        # UK prescribed zones for cables (published in secondary sources only)
        (
            "Cables run straight up, down and sideways from every fitting and within {zone} of corners and ceiling; "
            "pipes may be anywhere."
        ),
        # common practice
        "Check with a detector before you drill; switch the circuit off where in doubt.",
    ),
    Work.FIXINGS: (
        # common practice: load depends on wall and fixing, and only their maker can state it
        "Choose fixings by their maker's rating for the wall at hand.",
    ),
    Work.ADHESIVES: (
        # common practice: spray adhesives' safety data sheets ask for it
        "Spray adhesives: work under extraction, with a respirator, away from flames.",
    ),
    Work.PUBLIC: (
        # common practice: codes differ from place to place
        "In public places local codes and a licensed installer decide.",
    ),
    Work.CONSERVATION: (
        # common practice among museums and libraries
        "Valuable or old work: a conservator decides on materials and hinging.",
    ),
}


def cautions(*work: Work, units: Units = Units.MM) -> tuple[str, ...]:
    """Return the cautions of the kinds of work, in the order, each once; figures in the units of the job."""
    return tuple(dict.fromkeys(line.format(**_FIGURES[units is Units.IN]) for kind in work for line in _WORDS[kind]))


_FIGURES: Final[dict[bool, dict[str, str]]] = {
    False: {"limit": f"{LIFTING_LIMIT_KG} kg", "zone": "150 mm"},
    True: {"limit": "51 lb", "zone": "6 in"},
}
"""The figures named in cautions, in metric and in inch jobs; 150 mm is 5.9 in."""


def is_heavy(mass_kg: Fraction) -> bool:
    """Return whether the mass is above what one person may lift."""
    return mass_kg > LIFTING_LIMIT_KG


def work_with(substances: Iterable[str]) -> tuple[Work, ...]:
    """Return the kinds of work that materials of the substances (`glass`, `acrylic` …) bring."""
    return tuple(dict.fromkeys(_SUBSTANCES[name] for name in substances if name in _SUBSTANCES))


_SUBSTANCES: Final = {"glass": Work.GLASS, "acrylic": Work.ACRYLIC}
