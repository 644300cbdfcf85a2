"""Who may come in: the page itself, on this machine, with bodies of a fair size; and what a browser may load for it.

A page in another tab can send requests to this machine. It is told apart by its `Origin`, a name that only points here
by its `Host`; what writes needs the token that the page alone can read.
"""

from __future__ import annotations

import asyncio
import json
from typing import Final

from starlette.types import ASGIApp, Message, Receive, Scope, Send

MOST: Final = 2_000_000
"""Bytes of a body, but for photos."""
MOST_OF_A_PHOTO: Final = 250_000_000
PATIENCE: Final = 30.0
"""Seconds for a body to arrive."""
PHOTOS: Final = "/api/photo"
TOKEN: Final = "matplan-token"
"""The header that names the token."""
POLICY: Final = "; ".join(
    (
        "default-src 'none'", "script-src 'self'", "style-src 'self'", "img-src 'self' data: blob:",
        "font-src 'self' data:",
        "connect-src 'self'", "frame-src 'self'", "base-uri 'none'", "form-action 'none'", "frame-ancestors 'self'",
    )
)  # fmt: skip
HEADERS: Final = (
    (b"content-security-policy", POLICY.encode()),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"no-referrer"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cache-control", b"no-store"),
)


class Guard:
    """Lets requests of the page through to `app`, which listens at `port`; `token` is asked for what writes."""

    def __init__(self, app: ASGIApp, *, port: int, token: str, writes: frozenset[str]) -> None:
        self._app = app
        self._hosts = {f"127.0.0.1:{port}", f"localhost:{port}"}
        if port == 80:
            self._hosts |= {"127.0.0.1", "localhost"}
        self._token = token
        self._writes = writes

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self._app(scope, receive, send)
            return
        try:
            refusal = self._refusal(scope)
            if refusal is None:
                body = await asyncio.wait_for(self._body(scope, receive), PATIENCE)
                await self._app(scope, _given(body, receive), _with_headers(send))
                return
        except _TooLarge as error:
            refusal = 413, f"the body is larger than {error.most:,} bytes"
        except TimeoutError:
            refusal = 408, "the body did not arrive in time"
        except _Gone:
            return
        await _refuse(_with_headers(send), *refusal)

    def _refusal(self, scope: Scope) -> tuple[int, str] | None:
        heads = {name.decode("latin-1"): value.decode("latin-1") for name, value in scope["headers"]}
        host = heads.get("host", "")
        if host not in self._hosts:
            return 403, "this page answers at 127.0.0.1 alone"
        if heads.get("origin", f"http://{host}") != f"http://{host}":
            return 403, "another page has no business here"
        if scope["path"] in self._writes and scope["method"] == "POST" and heads.get(TOKEN) != self._token:
            return 403, "what writes needs the token of the page; load the page anew"
        return None

    async def _body(self, scope: Scope, receive: Receive) -> bytes:
        most = MOST_OF_A_PHOTO if scope["path"] == PHOTOS else MOST
        parts, size = [], 0
        while True:
            message = await receive()
            if message["type"] == "http.disconnect":
                raise _Gone
            parts.append(message.get("body", b""))
            size += len(parts[-1])
            if size > most:
                raise _TooLarge(most)
            if not message.get("more_body"):
                return b"".join(parts)


class _TooLarge(Exception):
    def __init__(self, most: int) -> None:
        self.most = most


class _Gone(Exception):
    """Whoever asked has gone."""


def _given(body: bytes, receive: Receive) -> Receive:
    """Return a receiver of a body that has arrived."""
    pending = [body]

    async def given() -> Message:
        if pending:
            return {"type": "http.request", "body": pending.pop(), "more_body": False}
        return await receive()

    return given


def _with_headers(send: Send) -> Send:
    async def sent(message: Message) -> None:
        if message["type"] == "http.response.start":
            message["headers"] = [*message.get("headers", ()), *HEADERS]
        await send(message)

    return sent


async def _refuse(send: Send, status: int, text: str) -> None:
    body = json.dumps({"errors": [{"line": None, "where": "", "text": text}]}).encode()
    heads = [(b"content-type", b"application/json"), (b"content-length", str(len(body)).encode())]
    await send({"type": "http.response.start", "status": status, "headers": heads})
    await send({"type": "http.response.body", "body": body})
