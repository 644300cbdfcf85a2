"""The short cautions, each printed where the work is that it is about.

They remind and defer: local codes, the makers' instructions and licensed practice decide. A source stands beside each;
"common practice" means that several plain articles agree and no single authority could be named. The first line of a
kind of work is the one that a drawing carries alone.
"""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction
from typing import Final

from matplan.habits import IMPERIAL, METRIC, Habits, habits_of
from matplan.job.records import Material, MaterialKind
from matplan.lengths import Units
from matplan.mats.findings import LIFTING_LIMIT_KG


class Work(StrEnum):
    """A kind of work that can hurt someone or something."""

    CUTTING = "cutting"
    GLASS = "glass"
    SCORING = "scoring glass"
    ACRYLIC = "acrylic"
    HARD_BOARD = "hard board"
    SAW = "saw"
    HEAVY = "heavy"
    SECURED = "secured"
    WALL = "wall"
    FIXINGS = "fixings"
    LADDER = "ladder"
    PUBLIC = "public places"
    SPRAY = "spray adhesive"
    CONSERVATION = "conservation"


LADDER_FROM: Final = Fraction(2000)
"""Millimetres: hooks above this are out of reach from the floor (common practice)."""

_WORDS: Final[dict[Work, tuple[str, ...]]] = {
    Work.CUTTING: (
        # common practice in makers' and schools' instructions for craft knives and mat cutters; blades are sharps
        "Blades: keep the free hand out of the cutting path; used blades go into a closed box.",
        # common practice
        "Straight-edge on the mat's side of the line, so that a slip lands in the waste; wear eye protection.",
        # common practice
        "Cut a bevel in one firm pass with a fresh blade; shallow passes are for a knife along a straight-edge.",
    ),
    Work.GLASS: (
        # common practice in glaziers' handling instructions
        "Glass: wear gloves and eye protection, carry sheets on edge; let a breaking sheet fall.",
    ),
    Work.SCORING: (
        # common practice
        "Score glass once and break it away from you; shards go into a hard box.",
    ),
    Work.ACRYLIC: (
        # common practice: sheet makers' handling notes
        "Acrylic: edges are sharp when freshly cut; leave the film on until the piece is closed.",
    ),
    Work.HARD_BOARD: (
        # common practice in makers' notes on wood-fibre board
        "Wood-fibre board: wear a dust mask and eye protection, saw under extraction, clamp the sheet.",
    ),
    Work.SAW: (
        # common practice in makers' instructions for mitre saws
        "Mitre saw: guard in place, work clamped, hands clear of the blade; wear eye protection.",
    ),
    Work.HEAVY: (
        # published: NIOSH 94-110, the load constant of the lifting equation, ideal conditions
        "Heavy: above {limit} two people lift, carry and hang it.",
        # common practice in the training of conservators: two wall points to two frame points, never one
        "Hang heavy work from two wall points to two points on the frame.",
        # memory: a factor of about four
        "Take wire and fixings that are rated for several times the load.",
    ),
    Work.SECURED: (
        # common practice
        "Safety hooks where people pass or the ground may shake; nothing that lifts off hangs above a bed or cot.",
    ),
    Work.WALL: (
        # common practice
        "Before you drill, look for cables and pipes with a detector; they may be anywhere.",
        # memory: UK, BS 7671, 522.6.202, prescribed zones
        "Cables usually run straight up, down and sideways from fittings and, in some countries, within {zone} of "
        "corners and ceiling.",
        # common practice
        "Drilling: wear eye protection. Old paint and old boards may hold lead or asbestos; have them tested.",
    ),
    Work.FIXINGS: (
        # common practice: load depends on wall and fixing, and only their maker can state it
        "Choose fixings for the wall at hand (masonry, plasterboard on studs) by their maker's rating.",
    ),
    Work.LADDER: (
        # common practice
        "Hooks above {reach}: a ladder on firm ground, with someone at its foot; over stairs, scaffolding.",
    ),
    Work.PUBLIC: (
        # common practice: codes differ from place to place
        "In public places local codes and a licensed installer decide.",
    ),
    Work.SPRAY: (
        # common practice in the makers' own instructions
        "Spray adhesive, where you use one to mount: work under extraction and wear a respirator.",
    ),
    Work.CONSERVATION: (
        # common practice among museums and libraries
        "Valuable or old work: a conservator decides on materials and hinging.",
    ),
}

_FIGURES: Final[dict[Habits, dict[str, str]]] = {
    METRIC: {"limit": f"{LIFTING_LIMIT_KG} kg", "zone": "150 mm", "reach": "2 m"},
    IMPERIAL: {"limit": "51 lb", "zone": "6 in", "reach": "6 1/2 ft"},
}
"""The figures named in cautions, in metric and in inch jobs; 150 mm is 5.9 in, 2 m 6.6 ft."""


def cautions(*work: Work, units: Units = Units.MM) -> tuple[str, ...]:
    """Return the cautions of the kinds of work, in their order, each once; figures in the units of the job."""
    return tuple(dict.fromkeys(line.format(**_FIGURES[habits_of(units)]) for kind in work for line in _WORDS[kind]))


def brief(*work: Work, units: Units = Units.MM) -> tuple[str, ...]:
    """Return the one line of each kind of work that a drawing carries."""
    return tuple(_WORDS[kind][0].format(**_FIGURES[habits_of(units)]) for kind in dict.fromkeys(work))


def is_heavy(mass_kg: Fraction) -> bool:
    """Return whether the mass is above what one person may lift."""
    return mass_kg > LIFTING_LIMIT_KG


def needs_ladder(height: Fraction) -> bool:
    """Return whether a hook so high above the floor is out of reach from it."""
    return height > LADDER_FROM


def handling_of(material: Material) -> tuple[Work, ...]:
    """Return the kinds of work that handling a sheet of the material brings, whoever cuts it."""
    return tuple(work for work in (_work_of(material),) if work in (Work.GLASS, Work.ACRYLIC))


def cutting_of(material: Material) -> tuple[Work, ...]:
    """Return the work of cutting a sheet of the material."""
    work = _work_of(material)
    return (work, Work.SCORING) if work is Work.GLASS else (work,)


def _work_of(material: Material) -> Work:
    """Return the work that the material brings by what it is made of, else by what it is for: a pane may be glass."""
    unknown = Work.GLASS if material.kind is MaterialKind.GLAZING else Work.CUTTING
    return _SUBSTANCES.get(material.substance, unknown)


_SUBSTANCES: Final = {
    "glass": Work.GLASS,
    "acrylic": Work.ACRYLIC,
    "wood": Work.HARD_BOARD,
    "board": Work.CUTTING,
    "foam": Work.CUTTING,
}
