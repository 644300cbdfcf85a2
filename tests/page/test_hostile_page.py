"""A page of another origin, in the same browser, tries the planning page's addresses: it reads and writes nothing."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread

import pytest
from playwright.sync_api import Browser

from tests.page.conftest import Served

HOSTILE = b"<!doctype html><title>another page</title><body>"
WRITES = ("/api/save", "/api/draft", "/api/photo?name=stolen.png")
READS = ("/", "/api/job", "/api/pack", "/api/plan", "/static/page.js", "/api/thumbnail?photo=gull.jpg")
TRIES = """async ({ to, token, reads, writes }) => {
  const got = {};
  const tried = async (name, does) => {
    try { got[name] = await does(); } catch (error) { got[name] = `refused: ${error.name}`; }
  };
  const body = JSON.stringify({ text: "stolen", mark: "" });
  for (const [kind, heads] of [["bare", {}], ["token", { "matplan-token": token }]]) {
    for (const path of reads) {
      await tried(`fetch ${kind} ${path}`, async () => (await fetch(to + path, { headers: heads })).status);
    }
    for (const path of writes) {
      const post = { method: "POST", body, headers: heads };
      await tried(`post ${kind} ${path}`, async () => (await fetch(to + path, post)).status);
    }
  }
  for (const path of [...reads, ...writes]) {
    await tried(`no-cors ${path}`, async () => {
      const method = writes.includes(path) ? "POST" : "GET";
      const answer = await fetch(to + path, { mode: "no-cors", method, body: method === "POST" ? body : undefined });
      return `${answer.type} ${answer.status} ${(await answer.text()).length}`;
    });
  }
  const loaded = (name, part) => tried(name, () => new Promise((is) => {
    part.onload = () => is("loaded");
    part.onerror = () => is("refused");
    setTimeout(() => is("nothing"), 3000);
    document.body.append(part);
  }));
  await loaded("image", Object.assign(new Image(), { src: to + "/api/thumbnail?photo=gull.jpg" }));
  await loaded("script", Object.assign(document.createElement("script"), { src: to + "/static/lengths.js" }));
  const frame = Object.assign(document.createElement("iframe"), { src: to + "/", name: "within" });
  await loaded("iframe", frame);
  await tried("iframe's text", () => frame.contentWindow.document.body.innerText);
  for (const path of writes) {
    const form = Object.assign(document.createElement("form"), { method: "post", action: to + path, target: "within" });
    form.enctype = "text/plain";
    form.append(Object.assign(document.createElement("input"), { name: '{"text":"stolen","mark":"', value: '"}' }));
    document.body.append(form);
    form.submit();
    await new Promise((rested) => setTimeout(rested, 300));
  }
  return got;
}"""


class _Other(BaseHTTPRequestHandler):
    def do_GET(self) -> None:
        self.send_response(200)
        self.send_header("content-type", "text/html")
        self.end_headers()
        self.wfile.write(HOSTILE)

    def log_message(self, *_arguments: object) -> None:
        """Say nothing."""


@pytest.fixture
def other() -> Iterator[str]:
    """The address of another server on this machine."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), _Other)
    Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    server.server_close()


@pytest.mark.parametrize("host", ["127.0.0.1", "localhost"])
def test_another_page_reads_and_writes_nothing(
    host: str, other: str, chromium: Browser, serve: Callable[..., Served], job: Path
) -> None:
    address = serve(str(job)).address.rstrip("/").replace("127.0.0.1", host)
    before = {path.name: path.read_bytes() for path in job.parent.iterdir() if path.is_file()}
    context = chromium.new_context()
    page = context.new_page()
    answered: list[tuple[str, str, int]] = []
    page.on(
        "response",
        lambda answer: (
            answered.append((answer.request.method, answer.url.removeprefix(address), answer.status))
            if answer.url.startswith(address)
            else None
        ),
    )
    page.goto(other)
    told = {"to": address, "token": "0" * 43, "reads": list(READS), "writes": list(WRITES)}
    got = page.evaluate(TRIES, told)
    page.wait_for_timeout(500)
    context.close()
    assert {path.name: path.read_bytes() for path in job.parent.iterdir() if path.is_file()} == before
    for name, result in got.items():
        if name == "iframe":  # a frame loads, if only a refusal: its text stays closed
            continue
        assert str(result).startswith("refused"), f"{name}: {result}"
    assert "iframe" in got
    writes = [status for method, path, status in answered if method == "POST" and path in WRITES]
    assert set(writes) == {403}, answered
