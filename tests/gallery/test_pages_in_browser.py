"""The gallery's pages in a browser, from disk: all pictures appear, nothing runs over the side, all can read them."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, sync_playwright

from tests.gallery.front_page import GALLERY
from tests.page.conftest import ARGUMENTS, CHROMIUM

FILES = sorted(path.name for path in GALLERY.glob("*.html"))


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    if not CHROMIUM.exists():
        pytest.skip("no Chromium is installed here: apt-get install chromium")
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=str(CHROMIUM), args=ARGUMENTS)
        yield browser
        browser.close()


@pytest.mark.parametrize("width", [390, 1300])
@pytest.mark.parametrize("name", FILES)
def test_a_page_shows_all_its_pictures_and_fits(browser: Browser, name: str, width: int) -> None:
    context = browser.new_context(viewport={"width": width, "height": 900})
    page = context.new_page()
    page.goto((GALLERY / name).as_uri())
    page.evaluate("document.querySelectorAll('img').forEach((each) => { each.loading = 'eager'; })")
    page.wait_for_function("[...document.images].every((each) => each.complete)")
    assert page.evaluate("[...document.images].filter((each) => !each.naturalWidth).map((each) => each.src)") == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    context.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("name", FILES)
def test_a_page_can_be_read_by_all(browser: Browser, name: str, scheme: str) -> None:
    page = browser.new_page(color_scheme="dark" if scheme == "dark" else "light")
    page.goto((GALLERY / name).as_uri())
    assert [each["id"] for each in Axe().run(page).response["violations"]] == []
    page.close()
