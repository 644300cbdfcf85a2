"""A pack is made in somebody's process: what that process has set for Pillow and reportlab is as before."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

PROGRAM = """
import sys
from pathlib import Path
import warnings
from PIL import Image, ImageFile
from reportlab import rl_config
Image.MAX_IMAGE_PIXELS = 123_456
rl_config.useA85 = 1
rl_config.pageCompression = 0
rl_config.invariant = 0
def settings():
    ours = {name: value for name, value in vars(rl_config).items() if not name.startswith("_") and not callable(value)}
    return Image.MAX_IMAGE_PIXELS, ImageFile.LOAD_TRUNCATED_IMAGES, list(warnings.filters), repr(sorted(ours.items()))
before = settings()
import matplan
folder = Path(sys.argv[1])
matplan.make(matplan.plan(matplan.read_job(folder / "job.toml")), folder / "pack")
assert settings() == before, (settings(), before)
print("as before")
"""


def test_settings_of_pillow_and_reportlab_are_as_before(tmp_path: Path) -> None:
    from PIL import Image

    Image.new("RGB", (600, 400), "teal").save(tmp_path / "gull.jpg")
    (tmp_path / "job.toml").write_text(
        '[paper.rag]\nsize = "A4"\n[[piece]]\nname = "Gull"\nphoto = "gull.jpg"\nframe = "30x40 cm"\n'
        'image = { width = "180 mm" }\npaper = "rag"\nturn = true\n'
    )
    made = subprocess.run([sys.executable, "-c", PROGRAM, str(tmp_path)], capture_output=True, text=True, check=False)
    assert made.stdout.strip() == "as before", made.stderr
