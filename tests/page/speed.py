"""From a keystroke to the new picture, in a real browser: `python -m tests.page.speed --pieces 30 --edits 100`.

Prints the median, the 95th percentile and the slowest, the weight of the page without photos, drawings and data as the
browser has decoded it, the time to the first picture, how much the server's memory has grown, and the processor time
of an edit on the server and in the page's main thread, which a busy machine does not change.
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
from pathlib import Path
from statistics import median, quantiles

from playwright.sync_api import CDPSession, sync_playwright

from tests.page.conftest import ARGUMENTS, CHROMIUM, Served
from tests.photographs import turned_jpeg

EDIT = """async ([key, text]) => {
  const input = document.querySelector(`[data-role=field][data-key="${key}"]`);
  const front = document.querySelector("[data-role=front]");
  const before = front.dataset.revision;
  const start = performance.now();
  input.focus();
  input.value = text;
  input.dispatchEvent(new Event("input", { bubbles: true }));
  while (front.dataset.revision === before) await new Promise(requestAnimationFrame);
  await new Promise(requestAnimationFrame);
  return performance.now() - start;
}"""
WEIGHT = """() => [...performance.getEntriesByType("navigation"), ...performance.getEntriesByType("resource")]
  .filter(({ name }) => name.endsWith("/") || name.includes("/static/"))
  .reduce((sum, { decodedBodySize }) => sum + decodedBodySize, 0)"""


def job_of(pieces: int, folder: Path) -> Path:
    """A job of so many pieces, each with a photo of its own, on one wall."""
    parts = ['units = "mm"\n[frame.ash]\ntakes = "40x50 cm"\nrail = "20 mm"\ndepth = "18 mm"\n']
    for number in range(1, pieces + 1):
        turned_jpeg(folder / f"p{number}.jpg", 1500 + number, 1000)
        piece = f'[[piece]]\nname = "Piece {number}"\nframe = "ash"\nphoto = "p{number}.jpg"\n'
        parts.append(piece + 'image = { width = "20 cm" }\n')
    path = folder / "job.toml"
    path.write_text("\n".join(parts), encoding="utf-8")
    return path


def memory_of(process: int) -> float:
    """Megabytes that a process holds."""
    status = Path(f"/proc/{process}/status").read_text()
    return int(next(line for line in status.splitlines() if line.startswith("VmRSS")).split()[1]) / 1024


def busy_of(process: int) -> float:
    """Milliseconds that a process has kept processors busy."""
    fields = Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) * 1000 / os.sysconf("SC_CLK_TCK")


def tasks_of(watch: CDPSession) -> float:
    """Milliseconds of work of the page's main thread."""
    metrics = watch.send("Performance.getMetrics")["metrics"]
    return 1000 * float(next(one["value"] for one in metrics if one["name"] == "TaskDuration"))


def main() -> None:
    """Measure once."""
    arguments = argparse.ArgumentParser()
    arguments.add_argument("--pieces", type=int, default=30)
    arguments.add_argument("--edits", type=int, default=100)
    asked = arguments.parse_args()
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as play:
        served = Served(str(job_of(asked.pieces, Path(folder))), folder=Path(folder))
        page = play.chromium.launch(executable_path=str(CHROMIUM), args=ARGUMENTS).new_page()
        page.goto(served.address)
        page.locator("[data-role=front] svg").wait_for()
        first = page.evaluate("performance.now()")
        page.wait_for_timeout(3000)
        weight = page.evaluate(WEIGHT)
        held = memory_of(served.process.pid)
        widths = [f"{180 + number % 40} mm" for number in range(asked.edits)]
        watch = page.context.new_cdp_session(page)
        watch.send("Performance.enable", {"timeDomain": "threadTicks"})
        before = busy_of(served.process.pid), tasks_of(watch)
        took = [page.evaluate(EDIT, ["piece[1].image.width", width]) for width in widths]
        after = busy_of(served.process.pid), tasks_of(watch)
        grown = memory_of(served.process.pid) - held
        served.stop()
    say = sys.stdout.write
    say(f"{asked.pieces} pieces, {asked.edits} edits: median {median(took):.0f} ms, ")
    say(f"95 % under {quantiles(took, n=20)[-1]:.0f} ms, slowest {max(took):.0f} ms\n")
    server, browser = ((end - start) / asked.edits for start, end in zip(before, after, strict=True))
    say(f"processor time of an edit: server {server:.0f} ms, page {browser:.0f} ms\n")
    say(f"page {weight / 1000:.0f} kB decoded, first picture after {first:.0f} ms, ")
    say(f"memory {held:.0f} MB, grown by {grown:.0f} MB\n")


if __name__ == "__main__":
    main()
