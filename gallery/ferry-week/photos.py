"""Makes the invented pictures of this scenario: `python photos.py [FOLDER]`, by default into `photos/` beside this file."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))  # the darkroom and the studies lie beside the scenarios

from studies import make

PICTURES = {
    "monday": (3, 2250, 1500, "fog"),
    "tuesday": (8, 1500, 2250, "dawn"),
    "wednesday": (14, 2250, 1500, "noon"),
    "thursday": (21, 1800, 1800, "dusk"),
    "friday": (27, 1500, 2250, "noon"),
    "saturday": (35, 2250, 1500, "dusk"),
    "sunday": (44, 2250, 1500, "night"),
}

if __name__ == "__main__":
    make(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parent / "photos", PICTURES)
