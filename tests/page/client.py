"""A page without a socket: requests as a browser on this machine sends them."""

from __future__ import annotations

from pathlib import Path

from starlette.testclient import TestClient

from matplan.page.app import made
from matplan.page.desk import Desk

PORT = 8417
TOKEN = "token-of-the-page"
JOB = """title = "Pier"
units = "mm"

[frame.ash]                 # ready-made
takes = "40x50 cm"
rail = "20 mm"

[[piece]]
name = "Gull"
frame = "ash"
image = "200 x 300 mm"      # upright

[[piece]]
name = "Tern"
frame = "ash"
image = "240 x 180 mm"

[[wall]]
name = "Hall"
size = "3000 x 2400 mm"
"""


def desk(folder: Path, text: str | None = JOB) -> Desk:
    """A desk over a job file in a folder; without a text there is no file yet."""
    path = folder / "job.toml"
    if text is not None:
        path.write_text(text, encoding="utf-8")
    return Desk(path)


def browser(on: Desk, **changes: str) -> TestClient:
    """A browser that shows the page; `changes` are headers."""
    app = made(on, port=PORT, token=TOKEN)
    return TestClient(app, base_url=f"http://127.0.0.1:{PORT}", headers=changes)
