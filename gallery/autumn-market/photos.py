"""Makes the invented pictures of this scenario: `python photos.py [FOLDER]`, by default into `photos/` beside this
file.
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))  # the darkroom and the studies lie beside the scenarios

from studies import make

PICTURES = {
    "quay": (101, 800, 1200, "noon"),
    "gate": (109, 1200, 800, "dusk"),
}

if __name__ == "__main__":
    make(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parent / "photos", PICTURES)
