"""Lists on the form: layers of a mat, pieces of a wall; and what is added or taken away, by hand and by keys."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from shutil import copytree
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.page.conftest import Served, shown
from tests.page.test_in_browser import field, text_of

GALLERY = Path(__file__).parents[2] / "gallery" / "two-walls"


def press(page: Page, act: str) -> None:
    """Press a button of the form by the keys."""
    button = page.locator(f'[data-act="{act}"]')
    button.focus()
    page.keyboard.press("Enter")


def says(page: Page, wanted: Callable[[dict[str, Any]], bool]) -> None:
    """Wait until the text says what is wanted."""
    for _ in range(100):
        if wanted(text_of(page)):
            return
        page.wait_for_timeout(50)
    raise AssertionError(page.locator("[data-role=job-text]").input_value())


def test_a_mat_gets_layers_that_are_moved_and_taken_away(page: Page) -> None:
    press(page, "add piece[1].mat")
    says(page, lambda job: job["piece"][0].get("mat") == ["white", {"board": "white", "reveal": "6 mm"}])
    expect(field(page, "piece[1].mat[2].board")).to_be_focused()
    field(page, "piece[1].mat[2].board").fill("8-ply")
    says(page, lambda job: job["piece"][0]["mat"][1]["board"] == "8-ply")
    field(page, "piece[1].mat[1].cut").select_option("reverse")
    says(page, lambda job: job["piece"][0]["mat"][0] == {"board": "white", "cut": "reverse"})
    press(page, "up piece[1].mat[2]")
    upper, lower = "8-ply", {"board": "white", "cut": "reverse", "reveal": "6 mm"}
    says(page, lambda job: job["piece"][0]["mat"] == [upper, lower])
    press(page, "away piece[1].mat[1]")
    says(page, lambda job: job["piece"][0]["mat"] == [lower])
    expect(page.locator('[data-act="add piece[1].mat"]')).to_be_focused()
    assert page.locator("#names-board option").count() > 3


def test_a_slip_in_a_layer_is_told_beside_it_and_the_form_stays(page: Page) -> None:
    press(page, "add piece[1].mat")
    board = field(page, "piece[1].mat[2].board")
    board.fill("no such board")
    expect(page.locator(".field:focus-within .wrong")).to_contain_text("no such board")
    expect(board).to_be_focused()
    expect(field(page, "piece[1].name")).to_have_value("Gull")
    board.fill("white")
    expect(page.locator("[data-level=error]")).to_have_count(0)


def test_pieces_frames_papers_and_walls_are_added_and_a_piece_is_taken_away(page: Page) -> None:
    press(page, "add piece")
    expect(page.locator("#pieces [role=tab][aria-selected=true]")).to_have_text("Piece 3")
    press(page, "add frame")
    page.keyboard.type("oak")
    page.keyboard.press("Enter")
    says(page, lambda job: job["frame"].get("oak") == {"takes": "30x40 cm"})
    expect(field(page, "frame.oak.takes")).to_be_focused()
    press(page, "add board")
    page.keyboard.type("fog")
    page.keyboard.press("Enter")
    says(page, lambda job: job.get("board") == {"fog": {"ply": 4}})
    page.locator('[data-act="away board.fog"]').click()
    page.get_by_role("button", name="Take it away").click()
    says(page, lambda job: "board" not in job)
    press(page, "add paper")
    page.keyboard.type("my rag")
    page.keyboard.press("Enter")
    says(page, lambda job: job.get("paper", {}).get("my rag") == {"size": "A4"})
    press(page, "add wall")
    says(page, lambda job: [wall["name"] for wall in job["wall"]] == ["Hall", "Wall 2"])
    expect(field(page, "wall[2].size")).to_be_focused()
    expect(field(page, "wall[2].size")).to_be_in_viewport()
    press(page, "away piece")
    page.keyboard.press("Escape")
    assert len(text_of(page)["piece"]) == 3
    press(page, "away piece")
    page.get_by_role("button", name="Take it away").click()
    says(page, lambda job: [piece["name"] for piece in job["piece"]] == ["Gull", "Tern"])
    page.locator("#undo").click()
    says(page, lambda job: len(job["piece"]) == 3)


@pytest.fixture
def two_walls(chromium: Browser, serve: Callable[..., Served], tmp_path: Path) -> Iterator[Page]:
    """The page of the gallery's job with two walls, in a folder of its own."""
    copytree(GALLERY, tmp_path / "walls", ignore=lambda _folder, names: [name for name in names if name == "pack"])
    job = tmp_path / "walls" / "job.toml"
    wide, narrow = 'left = "900 mm", right = "3900 mm"', 'left = "1500 mm", right = "3300 mm"'
    text = job.read_text(encoding="utf-8")
    assert narrow in text
    job.write_text(text.replace(narrow, wide), encoding="utf-8")  # so that the frames hang in one row
    yield from shown(chromium, serve(str(job)).address)


def test_a_walls_pieces_are_moved_and_taken_off(two_walls: Page) -> None:
    page = two_walls
    page.locator('details[data-title="wall[1]"] > summary').click()
    expect(field(page, "wall[1].pieces[1]")).to_have_value("One")
    press(page, "down wall[1].pieces[1]")
    says(page, lambda job: job["wall"][0]["pieces"] == ["Three", "One", "Four", "Three", "One"])
    expect(field(page, "wall[1].pieces[1]")).to_have_value("Three")
    press(page, "away wall[1].pieces[3]")
    says(page, lambda job: job["wall"][0]["pieces"] == ["Three", "One", "Three", "One"])


def test_a_piece_that_is_taken_away_leaves_its_walls(two_walls: Page) -> None:
    press(two_walls, "away piece")
    two_walls.get_by_role("button", name="Take it away").click()
    says(two_walls, lambda job: all("One" not in wall["pieces"] for wall in job["wall"]))
    expect(two_walls.locator("[data-level=error]")).to_have_count(0)


def test_walls_have_tabs_and_an_overlap_is_told_and_undone(two_walls: Page) -> None:
    page = two_walls
    page.locator("#walls [role=tab]", has_text="Long wall").click()
    expect(page.locator("#wall svg")).to_have_attribute("aria-label", "Long wall")
    frames = page.locator("#wall [data-role=frame]")
    expect(frames).to_have_count(6)
    frames.first.scroll_into_view_if_needed()
    expect(page.locator("#undo")).to_be_in_viewport()
    expect(page.locator("[data-role=job-text]")).to_be_in_viewport()
    first, second = frames.nth(4).bounding_box(), frames.nth(0).bounding_box()  # two copies of one piece
    assert first is not None
    assert second is not None
    before = page.locator("[data-role=job-text]").input_value()
    page.mouse.move(first["x"] + 5, first["y"] + 5)
    page.mouse.down()
    page.mouse.move(second["x"] + 20, second["y"] + 20, steps=4)
    page.mouse.up()
    error = page.locator("#errors [data-level=error]")
    expect(error.first).to_contain_text("overlap")
    expect(frames).to_have_count(6)  # the last good drawing stays
    expect(page.locator("#wall-wrong")).to_contain_text("Undo takes the last step back")
    page.locator("#undo").click()
    expect(error).to_have_count(0)
    expect(page.locator("#wall-wrong")).to_be_empty()
    assert page.locator("[data-role=job-text]").input_value() == before
    expect(page.locator("#walls [aria-selected=true]")).to_have_text("Long wall")
