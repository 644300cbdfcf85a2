"""The words that a job file chooses among."""

from __future__ import annotations

from enum import StrEnum


class Show(StrEnum):
    """What the opening shows of a work."""

    IMAGE = "image"
    """The mat covers the image's edge by `overlap`."""
    MARGIN = "margin"
    """The mat leaves `reveal` of white paper round the image."""
    SHEET = "sheet"
    """Floated: the whole sheet in view with `gap` round it."""


class Cut(StrEnum):
    """How a board's edge is cut: `bevel` leans to the front, `reverse` to the back."""

    BEVEL = "bevel"
    REVERSE = "reverse"
    STRAIGHT = "straight"


class Shape(StrEnum):
    """The outline of an opening."""

    RECTANGLE = "rectangle"
    SQUARE = "square"
    CIRCLE = "circle"
    OVAL = "oval"
    ARCH = "arch"
    OCTAGON = "octagon"
    POLYGON = "polygon"


class MatSupply(StrEnum):
    """Where the mat comes from."""

    SHEETS = "sheets"
    TO_SIZE = "to size"
    READY_CUT = "ready-cut"
    OWN = "own"


class Included(StrEnum):
    """What a ready-made frame may come with."""

    GLAZING = "glazing"
    BACKING = "backing"
    MAT = "mat"
    HANGERS = "hangers"


class BorderTo(StrEnum):
    """Where a border ends."""

    OPENING = "opening"
    FRONT_LAYER = "front layer"


class BorderAt(StrEnum):
    """Where a border begins: at the sight edge (what the eye sees) or at the blank's edge (where the cutter is set)."""

    VISIBLE = "visible"
    CUT = "cut"


class RowAlign(StrEnum):
    """How the openings of one row line up."""

    CENTRE = "centre"
    TOP = "top"
    BOTTOM = "bottom"


class Hand(StrEnum):
    """A side of the cutter's travel, seen along it."""

    LEFT = "left"
    RIGHT = "right"


class MachineSide(StrEnum):
    """The side of a board that a computerised cutter cuts from."""

    FACE = "face"
    BACK = "back"


class MaterialKind(StrEnum):
    """The three sheet materials of a stack."""

    BOARD = "board"
    GLAZING = "glazing"
    BACKING = "backing"


class Arrange(StrEnum):
    """How frames are lined up on a wall."""

    CENTRE_LINE = "centre-line"
    FLUSH_TOP = "flush-top"
    FLUSH_BASE = "flush-base"
    GRID = "grid"
    STEPPED = "stepped"
    CLUSTER = "cluster"
    PLACED = "placed"


class LabelSide(StrEnum):
    """Where the label of a work hangs, seen from its frame."""

    RIGHT = "right"
    LEFT = "left"
    BELOW = "below"


class Substance(StrEnum):
    """What a material is made of: its density, its movement and the cautions follow from it."""

    GLASS = "glass"
    ACRYLIC = "acrylic"
    FOAM = "foam"
    WOOD = "wood"
    BOARD = "board"
