"""Makes the invented pictures of this scenario: `python photos.py [FOLDER]`, by default into `photos/` beside this
file.
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))  # the darkroom and the studies lie beside the scenarios

from studies import make

PICTURES = {
    "one": (101, 1800, 2700, "dawn"),
    "two": (112, 2700, 1800, "noon"),
    "three": (120, 2000, 2000, "dusk"),
    "four": (131, 1800, 2700, "fog"),
}

if __name__ == "__main__":
    make(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parent / "photos", PICTURES)
