"""Exact lengths: how the trade writes them, the step a workshop cuts to, sizes, boxes and sides.

A length is a `Fraction` of a millimetre from the moment it is read until it is drawn or written to JSON. `reading`
reads what people write (`16 3/8 in`, `1' 4"`, `25 cm`), `steps` snaps, `printing` prints lengths back, `planes` has
sizes, sides and boxes; the units are those of `units.txt`. It knows nothing of frames, jobs or paper names.
"""

from matplan.lengths.decimals import json_number, plain_decimal
from matplan.lengths.planes import Box, Sides, Size, turns
from matplan.lengths.printing import Printer
from matplan.lengths.reading import bare_number, parse_length, parse_number, parse_size, shown_number
from matplan.lengths.steps import LARGEST_STEP, SMALLEST_STEP, Multiple, Step
from matplan.lengths.units import INCH, LONGEST, ZERO, Number, Units, exact, unit_factor

__all__ = [
    "INCH",
    "LARGEST_STEP",
    "LONGEST",
    "SMALLEST_STEP",
    "ZERO",
    "Box",
    "Multiple",
    "Number",
    "Printer",
    "Sides",
    "Size",
    "Step",
    "Units",
    "bare_number",
    "exact",
    "json_number",
    "parse_length",
    "parse_number",
    "parse_size",
    "plain_decimal",
    "shown_number",
    "turns",
    "unit_factor",
]
