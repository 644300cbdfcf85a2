"""Choices of frame, paper and image for a photo: the one that the piece has is the one that is marked."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import Browser, expect

from tests.page.conftest import Served, shown
from tests.photographs import turned_jpeg

KIT = """[frame.kit]
takes = "30x40 cm"
rail = 20
includes = ["glazing", "backing", "mat", "hangers"]
mat_opening = "190 x 280 mm"

[[piece]]
name = "Sea"
frame = "kit"
photo = "sea.jpg"
"""


def test_a_frames_own_mat_and_another_in_it_are_two_choices(
    chromium: Browser, serve: Callable[..., Served], tmp_path: Path
) -> None:
    turned_jpeg(tmp_path / "sea.jpg", 900, 600)
    path = tmp_path / "job.toml"
    path.write_text(KIT, encoding="utf-8")
    for page in shown(chromium, serve(str(path)).address):
        with_mat = page.locator("[data-role=choice]", has_text="kit, your own, with its mat").first
        other = page.locator("[data-role=choice][data-frame=kit][data-turned=false][data-own-mat=false]")
        expect(with_mat).to_have_attribute("aria-pressed", "true")
        expect(other).to_have_attribute("aria-pressed", "false")
        other.click()
        expect(other).to_have_attribute("aria-pressed", "true")
        expect(with_mat).to_have_attribute("aria-pressed", "false")
        with_mat.click()
        expect(with_mat).to_have_attribute("aria-pressed", "true")
        assert "image" not in page.locator("[data-role=job-text]").input_value()
