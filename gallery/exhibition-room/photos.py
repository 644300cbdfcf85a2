"""Makes the invented pictures of this scenario: `python photos.py [FOLDER]`, by default into `photos/` beside this
file.
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))  # the darkroom and the studies lie beside the scenarios

from studies import make

PORTRAIT, SQUARE, LANDSCAPE = (1400, 2100), (1700, 1700), (2880, 1920)
PICTURES = {
    "reed-bed": (204, *PORTRAIT, "dawn"),
    "lock-gate": (211, *PORTRAIT, "noon"),
    "towpath": (226, *PORTRAIT, "dusk"),
    "flood-meadow": (233, *LANDSCAPE, "noon"),
    "estuary": (240, *LANDSCAPE, "dusk"),
    "first-hour": (251, *SQUARE, "dawn"),
    "second-hour": (263, *SQUARE, "noon"),
    "third-hour": (272, *SQUARE, "dusk"),
    "fourth-hour": (285, *SQUARE, "night"),
    "first-ice": (290, *PORTRAIT, "noon"),
    "low-water": (302, *PORTRAIT, "dawn"),
    "still-pool": (317, *PORTRAIT, "night"),
    "long-rain": (323, *PORTRAIT, "fog"),
    "open-water": (338, *LANDSCAPE, "dawn"),
    "far-bank": (344, *PORTRAIT, "night"),
    "spring-tide": (359, *PORTRAIT, "noon"),
}

if __name__ == "__main__":
    make(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parent / "photos", PICTURES)
