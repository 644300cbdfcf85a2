"""Many clients at once, and one for long: `python -m tests.page.clients --clients 8 --seconds 60 --edits 1000`.

Prints how many edits were answered, how long they took, what failed, and how much memory the server holds before and
after. Each client edits as the page does: a key is changed, the text is planned, its drawing comes with the answer.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from http.client import HTTPConnection
from json import dumps, loads
from pathlib import Path
from statistics import median, quantiles
from typing import Any
from urllib.parse import urlsplit

from tests.page.conftest import Served
from tests.page.speed import job_of, memory_of


class Client:
    """One page: it knows its text and the revision that it has seen."""

    def __init__(self, address: str, text: str, number: int) -> None:
        self._to = HTTPConnection(urlsplit(address).netloc, timeout=60)
        self._text, self._number, self._revision = text, number, 0
        self.took: list[float] = []
        self.failed: list[str] = []

    def edit(self, at: int) -> None:
        """Change a key, and take the plan and the drawing of the new text."""
        start = time.perf_counter()
        edits = [{"key": "piece[1].image.width", "value": f"{150 + (at * 7 + self._number) % 90} mm"}]
        changed = self._post("/api/edit", dumps({"text": self._text, "edits": edits}))
        if changed is None:
            return
        self._text = changed["text"]
        answer = self._post(f"/api/plan?since={self._revision}&show=front/piece-1.svg", self._text)
        if answer is None:
            return
        if answer["errors"] or answer["revision"] <= self._revision:
            self.failed.append(str(answer["errors"] or "the revision has not grown"))
        self._revision = answer["revision"]
        self.took.append(time.perf_counter() - start)

    def _post(self, path: str, body: str) -> Any:
        try:
            self._to.request("POST", path, body.encode(), {"content-type": "application/json"})
            answer = self._to.getresponse()
            content = answer.read()
        except OSError as error:
            self.failed.append(repr(error))
            self._to.close()
            return None
        if answer.status != 200:
            self.failed.append(f"{answer.status} {content[:200]!r}")
            return None
        return loads(content)


def told(what: str, clients: list[Client], before: float, after: float) -> None:
    """Print what came of it."""
    took = [1000 * each for client in clients for each in client.took]
    failed = [each for client in clients for each in client.failed]
    say = sys.stdout.write
    say(f"{what}: {len(took)} edits, {len(failed)} failures, median {median(took):.0f} ms, ")
    say(f"95 % under {quantiles(took, n=20)[-1]:.0f} ms, slowest {max(took):.0f} ms, ")
    say(f"memory {before:.0f} MB, then {after:.0f} MB\n")
    for each in failed[:5]:
        say(f"  {each}\n")


def main() -> int:
    """Measure once; 1 where anything failed."""
    arguments = argparse.ArgumentParser()
    arguments.add_argument("--clients", type=int, default=8)
    arguments.add_argument("--seconds", type=float, default=60)
    arguments.add_argument("--edits", type=int, default=1000)
    arguments.add_argument("--pieces", type=int, default=30)
    asked = arguments.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        path = job_of(asked.pieces, Path(folder))
        text = path.read_text(encoding="utf-8")
        served = Served(str(path), folder=Path(folder))
        clients = [Client(served.address, text, number) for number in range(asked.clients)]
        until = time.monotonic() + asked.seconds

        def work(client: Client) -> None:
            at = 0
            while time.monotonic() < until:
                client.edit(at := at + 1)

        held = memory_of(served.process.pid)
        with ThreadPoolExecutor(asked.clients) as pool:
            list(pool.map(work, clients))
        told(f"{asked.clients} clients for {asked.seconds:.0f} s", clients, held, memory_of(served.process.pid))
        alone = Client(served.address, text, 0)
        for at in range(1, asked.edits + 1):
            alone.edit(at)
            if at == asked.edits // 2:
                held = memory_of(served.process.pid)
        told(
            f"one client, memory from the middle to the end of {asked.edits}",
            [alone],
            held,
            memory_of(served.process.pid),
        )
        code = served.stop()
    return int(bool(code) or any(client.failed for client in [*clients, alone]))


if __name__ == "__main__":
    sys.exit(main())
