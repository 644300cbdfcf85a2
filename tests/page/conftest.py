"""A real browser with the page of a job of its own; skipped where no browser is installed."""

from __future__ import annotations

import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from tests.page.client import JOB
from tests.photographs import turned_jpeg

CHROMIUM = Path("/usr/bin/chromium")
ARGUMENTS = [
    "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--no-first-run",
]  # fmt: skip

type Opened = Callable[..., Page]


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    """Debian's Chromium."""
    if not CHROMIUM.exists():
        pytest.skip("no Chromium is installed here: apt-get install chromium")
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=str(CHROMIUM), args=ARGUMENTS)
        yield browser
        browser.close()


class Served:
    """A running `matplan serve`; `address` is the page's."""

    def __init__(self, *arguments: str, folder: Path) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "matplan", "serve", *arguments, "--port", "0", "--no-open"],
            stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=folder,
        )  # fmt: skip
        assert self.process.stdout is not None
        self.said = self.process.stdout.readline()
        self.address = next((word for word in self.said.split() if word.startswith("http")), "")

    def stop(self) -> int:
        self.process.send_signal(signal.SIGINT)
        code = self.process.wait(10)
        for stream in (self.process.stdout, self.process.stderr):
            if stream is not None:
                stream.close()
        return code


@pytest.fixture
def serve(tmp_path: Path) -> Iterator[Callable[..., Served]]:
    """Start servers; each is stopped at the end."""
    running: list[Served] = []

    def start(*arguments: str) -> Served:
        running.append(Served(*arguments, folder=tmp_path))
        return running[-1]

    yield start
    for each in running:
        if each.process.poll() is None:
            each.stop()


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A job of two pieces, one with a photo, on a wall."""
    turned_jpeg(tmp_path / "gull.jpg", 900, 600)  # stored on its side, seen upright
    path = tmp_path / "job.toml"
    written = 'photo = "gull.jpg"\nimage = { width = "20 cm" }  # upright'
    path.write_text(JOB.replace('image = "200 x 300 mm"      # upright', written), encoding="utf-8")
    return path


@pytest.fixture
def page(chromium: Browser, serve: Callable[..., Served], job: Path) -> Iterator[Page]:
    """The page of the job, with its first picture there; the console stays without errors."""
    yield from shown(chromium, serve(str(job)).address)


def shown(chromium: Browser, address: str) -> Iterator[Page]:
    """The page at an address, at rest; the console stays without errors."""
    context = chromium.new_context(viewport={"width": 1400, "height": 1000}, accept_downloads=True)
    page = context.new_page()
    told: list[str] = []
    page.on("console", lambda message: told.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: told.append(str(error)))
    page.goto(address)
    page.locator("[data-role=front] svg").first.wait_for()
    page.locator("#files a").first.wait_for(state="attached")  # walls are drawn and sheets are found: it is at rest
    yield page
    context.close()
    assert [text for text in told if "422" not in text and "409" not in text] == []
