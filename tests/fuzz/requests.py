"""Requests that no page sends: paths, methods, heads, bodies, tokens. Nothing is ever a 5xx,
nothing is read from beside
the job's folder, and what writes needs the token.
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from random import Random
from typing import Final

from httpx2 import InvalidURL
from starlette.testclient import TestClient

from matplan.job.schema import schema
from matplan.page.desk import Desk
from tests.fuzz.jobs import mutated, scenario
from tests.fuzz.law import SECONDS, computing
from tests.fuzz.photos import sound
from tests.fuzz.trial import Tried
from tests.fuzz.values import WORDS, value
from tests.page.client import PORT, TOKEN, browser

_PATHS: Final = (
    "/", "/api/plan", "/api/edit", "/api/stock", "/api/job", "/api/save", "/api/draft", "/api/photo", "/api/disk",
    "/api/choices",
    "/api/thumbnail", "/api/progress", "/api/schema", "/api/tables", "/api/words", "/api/documents", "/api/document",
    "/api/pack", "/static/page.js", "/static/../app.py", "/static/..%2f..%2fstart.py", "/static/%2e%2e/app.py",
    "/static//",
    "/static/%00", "/%", "/api/plan/", "//api/plan", "/api/%70lan", "/nothing", "/..;/", "/api/plan%0d%0aX: y",
)  # fmt: skip
_QUERIES: Final = (
    "revision", "since", "show", "file", "photo", "name", "mark", "x",
)  # fmt: skip
_FILES: Final = (
    "../secret.toml", "..%2fsecret.toml", "%2e%2e/secret.toml", "/etc/passwd", "....//secret.toml",
    "secret.toml%00.jpg", "job.toml",
    "photos", ".", "", "photos/../../secret.toml", "~", "\\\\host\\x", "front/../../secret.toml", "cut/x-layer1.svg",
    "plan.json",
    "front/ferry-steps.svg", "order.pdf", "workshop.pdf", "a" * 3000,
)  # fmt: skip
_METHODS: Final = (
    "GET",
    "GET",
    "POST",
    "POST",
    "POST",
    "PUT",
    "DELETE",
    "HEAD",
    "OPTIONS",
    "PATCH",
    "TRACE",
    "BREW",
    "get",
)
SECRET: Final = "what lies beside the folder"


@cache
def _page(there: Path) -> TestClient:
    return browser(Desk(there / "job.toml"))


def requests(chance: Random, folder: Path) -> Tried:
    """One request, of a page that is kept for the scenario."""
    there, data = scenario(chance, folder)
    path = there / "job.toml"
    path.write_bytes(data)
    (folder / "secret.toml").write_text(f'title = "{SECRET}"\n')
    before = {each: each.stat().st_mtime_ns for each in there.rglob("*") if each.is_file()}
    method = chance.choice(_METHODS)
    address = chance.choice(_PATHS)
    if chance.random() < 0.6:
        address += "?" + "&".join(
            f"{chance.choice(_QUERIES)}={_query(chance)}" for _ in range(chance.choice([1, 1, 2, 30]))
        )
    heads = _heads(chance)
    body = _body(chance, data)
    command = [method, address, json.dumps(heads)[:300]]
    with computing() as took:
        try:
            answer = _page(there).request(method, address, content=body, headers=heads)
        except (InvalidURL, ValueError) as error:  # the client itself sends no such thing
            return Tried(input=body, command=[*command, f"not sent: {error}"], refused=True)
    found = ""
    if answer.status_code >= 500:
        found = f"{answer.status_code}: {answer.text[:500]}"
    elif "not your job's fault" in answer.text or "Traceback" in answer.text:
        found = answer.text[:1500]
    elif SECRET in answer.text:
        found = "reads beside the job's folder"
    elif answer.status_code >= 400 and method != "HEAD" and not _is_told(answer.text):
        found = f"{answer.status_code} and says nothing: {answer.text[:200]}"
    elif took() > SECONDS:
        found = f"took {took():.1f} s"
    after = {each: each.stat().st_mtime_ns for each in there.rglob("*") if each.is_file()}
    if not found and after != before and heads.get("matplan-token") != TOKEN:
        found = f"writes without the token: {set(after.items()) ^ set(before.items())}"
    for each in set(after) - set(before):
        each.unlink()
    return Tried(input=body, command=command, breach=found, refused=answer.status_code >= 400)


def _is_told(text: str) -> bool:
    try:
        errors = json.loads(text)["errors"]
    except (ValueError, KeyError, TypeError):
        return False
    return bool(errors) and all(isinstance(error["text"], str) and error["text"] for error in errors)


def _query(chance: Random) -> str:
    draw = chance.random()
    if draw < 0.4:
        return chance.choice(("0", "1", "2", "-1", "999999999999999", "9" * 30, "1e3", "٣", "", "%00", "%ff"))
    if draw < 0.8:
        return chance.choice(_FILES)
    return chance.choice(WORDS).encode("utf-8", "replace").hex("%") if draw < 0.85 else "front/first"


def _heads(chance: Random) -> dict[str, str]:
    heads: dict[str, str] = {}
    if chance.random() < 0.5:
        heads["matplan-token"] = chance.choice((TOKEN, TOKEN, "", "x", TOKEN.upper(), TOKEN + " ", "x" * 5000))
    if chance.random() < 0.1:
        heads["host"] = chance.choice(("evil.example", f"127.0.0.1:{PORT}", "", "127.0.0.1:0", "[::1]"))
    if chance.random() < 0.1:
        heads["origin"] = chance.choice(("null", "https://evil.example", f"http://127.0.0.1:{PORT}", ""))
    if chance.random() < 0.2:
        heads["content-type"] = chance.choice(("text/plain", "application/json", "multipart/form-data", "x" * 2000))
    if chance.random() < 0.1:
        heads[chance.choice(("range", "if-none-match", "accept-encoding", "x-forwarded-host", "content-encoding"))] = (
            chance.choice(("bytes=0-", "bytes=5-1", "bytes=-1", "gzip", "*", "x" * 20_000))
        )
    return heads


def _body(chance: Random, data: bytes) -> bytes:
    draw = chance.random()
    if draw < 0.1:
        return b""
    if draw < 0.15:
        return chance.choice(
            (b"[" * 100_000, b'{"a":' * 100_000, b'{"text": "", "edits": ' + b"[" * 900 + b"]" * 900 + b"}")
        )
    if draw < 0.3:
        return data
    if draw < 0.45:
        return mutated(chance, data, (b"\x00", b"\xff", b"[[", b'"""', b"[" * 3000))
    if draw < 0.55:
        return mutated(chance, chance.choice(tuple(sound().values())) or b"x", (b"\x00" * 9, b"\xff\xd9"))
    text = data.decode()
    if chance.random() < 0.3:
        text = chance.choice((text[: chance.randrange(len(text))], "", "= =", "\x00", "\ud800", "[[piece]]\n" * 300))
    asked: dict[str, object] = {"text": text, "mark": "", "photo": chance.choice(_FILES)}
    asked["edits"] = [_edit(chance) for _ in range(chance.choice([0, 1, 1, 1, 3, 200]))]
    if chance.random() < 0.3:
        asked[chance.choice(("text", "mark", "photo", "edits"))] = value(chance)
    whole = json.dumps(asked, default=str).encode()
    return mutated(chance, whole, (b"\x00", b"{", b"]", b"[" * 5000, b'"')) if chance.random() < 0.2 else whole


@cache
def _keys() -> tuple[str, ...]:
    kinds = schema()["$defs"]
    top = (
        "title",
        "units",
        "step",
        "piece",
        "wall",
        "paper.rag",
        "frame.x.y",
        "",
        ".",
        "piece[0]",
        "piece[1]",
        "piece[99999]",
    )
    within = (
        f"{at}.{key}" for at, kind in (("piece[1]", "Piece"), ("wall[1]", "Wall")) for key in kinds[kind]["properties"]
    )
    return (*top, "piece[-1].name", "piece[1", "piece]1[.name", "a" * 5000, "\x00", *within)


def _edit(chance: Random) -> object:
    edit: dict[str, object] = {"key": chance.choice(_keys()), "value": value(chance)}
    if chance.random() < 0.1:
        edit[chance.choice(("key", "value", "more", "remove", "add"))] = value(chance)
    if chance.random() < 0.05:
        del edit[chance.choice(("key", "value"))]
    return edit if chance.random() < 0.97 else value(chance)
