"""The gallery's pages, each made from what it tells of. To write them anew:

.venv/bin/python -m tests.gallery.pages
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from tests.gallery.front_page import GALLERY, front_page
from tests.gallery.reference import reference
from tests.gallery.sources import sources

PAGES: Mapping[str, Callable[[], str]] = {
    "reference.html": reference,
    "sources.html": sources,
    "index.html": front_page,
}
"""Each page by its file's name."""


def write(name: str) -> None:
    """Write one page."""
    (GALLERY / name).write_text(PAGES[name](), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    for each in PAGES:
        write(each)
