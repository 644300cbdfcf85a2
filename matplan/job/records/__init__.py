"""The job as frozen records: every name resolved, every length exact in millimetres, every default filled in.

A field that the job file has is declared here, once, with its words and its default (`file.table.key`); `read` fills
the records in, the solver takes them. They know no lines and no files' contents.
"""

from __future__ import annotations

from matplan.job.records.edition import Edition
from matplan.job.records.hanging import ByCleat, BySawtooth, ByTwoHooks, ByWire, Hang
from matplan.job.records.job import Job, Reading, Slip
from matplan.job.records.piece import ApertureAsk, BorderAsk, ImageAsk, LayerAsk, Photo, Piece, Window
from matplan.job.records.supplies import Frame, Hardware, Material, Paper, Stick, StockSheet
from matplan.job.records.walls import (
    Furniture,
    Group,
    KeepClear,
    Labels,
    Patch,
    Pin,
    Tree,
    Wall,
    WallPhoto,
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
from matplan.job.records.workshop import Climate, Cutter, Rates

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
    "Climate",
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
    "Patch",
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
    "WallPhoto",
    "Weight",
    "Window",
    "Zone",
]
