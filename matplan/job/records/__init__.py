"""The job as frozen records: every name resolved, every length exact in millimetres, every default filled in.

A field that the job file has is declared here, once, with its words and its default (`file.table.key`); `read` fills
the records in, the solver takes them. They know no lines and no files' contents.
"""

from __future__ import annotations

from matplan.job.records.job import Job, Reading, Slip
from matplan.job.records.piece import ApertureAsk, BorderAsk, Edition, ImageAsk, LayerAsk, Photo, Piece, Window
from matplan.job.records.supplies import Cutter, Frame, Hardware, Material, Paper, Rates, Stick, StockSheet
from matplan.job.records.walls import (
    ByCleat,
    BySawtooth,
    ByTwoHooks,
    ByWire,
    Furniture,
    Group,
    Hang,
    KeepClear,
    Labels,
    Pin,
    Tree,
    Wall,
    Zone,
)
from matplan.job.records.weights import AddedWeight, OpticalWeight, RatioWeight, Weight
from matplan.job.records.words import (
    Arrange,
    BorderAt,
    BorderTo,
    Cut,
    Hand,
    Included,
    LabelSide,
    MachineSide,
    MaterialKind,
    MatSupply,
    RowAlign,
    Shape,
    Show,
    Substance,
)

__all__ = [
    "AddedWeight",
    "ApertureAsk",
    "Arrange",
    "BorderAsk",
    "BorderAt",
    "BorderTo",
    "ByCleat",
    "BySawtooth",
    "ByTwoHooks",
    "ByWire",
    "Cut",
    "Cutter",
    "Edition",
    "Frame",
    "Furniture",
    "Group",
    "Hand",
    "Hang",
    "Hardware",
    "ImageAsk",
    "Included",
    "Job",
    "KeepClear",
    "LabelSide",
    "Labels",
    "LayerAsk",
    "MachineSide",
    "MatSupply",
    "Material",
    "MaterialKind",
    "OpticalWeight",
    "Paper",
    "Photo",
    "Piece",
    "Pin",
    "Rates",
    "RatioWeight",
    "Reading",
    "RowAlign",
    "Shape",
    "Show",
    "Slip",
    "Stick",
    "StockSheet",
    "Substance",
    "Tree",
    "Wall",
    "Weight",
    "Window",
    "Zone",
]
