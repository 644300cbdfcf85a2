"""What the trade sells and what it weighs: papers, frames, ready-cut mats, boards, glazing and backing.

Each table is a TOML file beside this one, and each row names its source and how far to trust it. Nothing here knows a
job, a price or how a mat is solved. `paper`, `frame`, `glazing` and their like return None for a name that is in no
table; `near` then gives the names that were perhaps meant.
"""

from fractions import Fraction

from matplan.catalogue.lookup import (
    backing,
    board,
    board_of_ply,
    board_sheet,
    decimals,
    figure,
    figures,
    frame,
    frame_of,
    frames,
    glazing,
    hardware,
    is_iso_216,
    paper,
    papers,
    ready_cut,
    ready_cuts,
    rows,
)
from matplan.catalogue.records import (
    Blank,
    Currencies,
    Entry,
    Figure,
    Frame,
    Hardware,
    Kind,
    Material,
    Paper,
    Quantity,
    ReadyCut,
    Row,
    Status,
)
from matplan.catalogue.tables import NONE, names, near
from matplan.catalogue.tolerance import iso_216_tolerance

DEFAULT_BOARD = "4-ply"
DEFAULT_GLAZING = "glass-2mm"
DEFAULT_BACKING = "foam-5mm"
USUAL_PPI = Fraction(300)
"""Pixels per inch that prints are usually wanted with: 300 or 360 (common practice)."""

__all__ = [
    "DEFAULT_BACKING",
    "DEFAULT_BOARD",
    "DEFAULT_GLAZING",
    "NONE",
    "USUAL_PPI",
    "Blank",
    "Currencies",
    "Entry",
    "Figure",
    "Frame",
    "Hardware",
    "Kind",
    "Material",
    "Paper",
    "Quantity",
    "ReadyCut",
    "Row",
    "Status",
    "backing",
    "board",
    "board_of_ply",
    "board_sheet",
    "decimals",
    "figure",
    "figures",
    "frame",
    "frame_of",
    "frames",
    "glazing",
    "hardware",
    "is_iso_216",
    "iso_216_tolerance",
    "names",
    "near",
    "paper",
    "papers",
    "ready_cut",
    "ready_cuts",
    "rows",
]
