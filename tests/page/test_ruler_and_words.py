"""The ruler measures what the drawing shows, and each word of the trade is told where it is used."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from matplan.catalogue.words import word, words
from tests.page.client import browser, desk


def test_every_word_is_served_and_no_key_has_the_word_of_another_thing(tmp_path: Path) -> None:
    with browser(desk(tmp_path)) as page:
        told = page.get("/api/words").json()
    assert [one["name"] for one in told["words"]] == [one.name for one in words()]
    keys = told["keys"]
    assert keys["rabbet"] == "rabbet"
    assert keys["printer_margin"] == "printer margin"
    assert keys["eye"] == "eye line"
    assert "points" not in keys, "the points of a shape are no glazier's points"
    assert set(keys.values()) <= {one.name for one in words()}


@pytest.mark.parametrize(
    ("drawing", "part", "figure", "within"),
    [
        (None, ".back-opening", "#front", 2),
        ("cut/gull-layer1.svg", "#blank", "#other", 3),
        (None, ".frame-outer", "#wall", -1),
    ],
)
def test_a_drag_with_the_ruler_measures_from_edge_to_edge(
    drawing: str | None, part: str, figure: str, within: int, page: Page
) -> None:
    if drawing:
        page.locator(f'[data-role=document][data-file="{drawing}"]').first.click()
    shape = page.locator(f"{figure} {part}").first
    shape.wait_for(state="attached")
    shape.scroll_into_view_if_needed()
    page.locator("#ruler").click()
    shape.scroll_into_view_if_needed()
    text = page.locator("[data-role=job-text]").input_value()
    box = shape.bounding_box()
    assert box is not None
    level = box["y"] + box["height"] * 0.4
    page.mouse.move(box["x"] + within, level)
    page.mouse.down()
    page.mouse.move(box["x"] + box["width"] / 2, level + 1)
    page.mouse.move(box["x"] + box["width"] - within, level + 2)
    page.mouse.up()
    wide = float(str(shape.get_attribute("data-box")).split()[2])
    expect(page.locator("#sum")).to_have_text(f"Ruler: {round(wide, 1):g} mm")
    expect(page.locator(f"{figure} .ruler text")).to_have_text(f"{round(wide, 1):g} mm")
    page.keyboard.press("Escape")
    expect(page.locator("#ruler")).to_have_attribute("aria-pressed", "false")
    expect(page.locator(".ruler")).to_have_count(0)
    assert page.locator("[data-role=job-text]").input_value() == text, "the ruler pulls no edge and drags no frame"


def test_the_ruler_goes_from_edge_to_edge_with_the_keys(page: Page) -> None:
    page.locator("#ruler").focus()
    page.keyboard.press("Enter")
    page.locator("#front").focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    length = re.fullmatch(r"Ruler: ([\d.]+) mm", page.locator("#sum").inner_text())
    assert length is not None
    assert float(length[1]) > 0
    page.keyboard.press("Escape")
    expect(page.locator(".ruler")).to_have_count(0)


def test_a_label_tells_its_word_and_the_panel_tells_all(page: Page) -> None:
    overlap = page.locator('[data-role=field][data-key="piece[1].overlap"]')
    page.get_by_text("More of picture").click()
    overlap.focus()
    expect(page.locator(".field:focus-within small.word")).to_have_text(word("overlap").told)
    page.locator("[data-role=choice] image").first.wait_for(state="attached")  # nothing moves any more
    page.get_by_text("Words of the trade").click()
    expect(page.locator("[data-role=words] dt")).to_have_count(len(words()))
    page.locator("#seek").fill("rebate")
    expect(page.locator("[data-role=words] dt").first).to_contain_text("rabbet")
