"""The addresses of the page. Each is a few lines over the desk; errors are data, and nothing is ever a 500."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, Final

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import BaseRoute, Mount, Route
from starlette.staticfiles import StaticFiles
from starlette.types import ASGIApp

from matplan.catalogue import Kind, names
from matplan.faults import JobError, MatplanError, printable
from matplan.job.schema import schema
from matplan.page.desk import Desk, said
from matplan.page.disk import Changed
from matplan.page.guard import PHOTOS, Guard
from matplan.page.words import words_of_the_page

STATIC: Final = Path(__file__).with_name("static")
NAMED: Final = (Kind.FRAMES, Kind.PAPERS, Kind.BOARDS, Kind.GLAZING, Kind.BACKING)
TYPES: Final = {
    "svg": "image/svg+xml", "pdf": "application/pdf", "csv": "text/csv", "json": "application/json",
    "toml": "text/plain"
}  # fmt: skip
WRITES: Final = frozenset({"/api/save", "/api/draft", PHOTOS})
"""Addresses that write, which need the token."""


def made(desk: Desk, *, port: int, token: str) -> ASGIApp:
    """Return the server of a desk, for a port of this machine."""
    addresses = _Addresses(desk, token)
    routes: list[BaseRoute] = [
        Route("/", addresses.page),
        Route("/api/plan", addresses.plan, methods=["POST"]),
        Route("/api/edit", addresses.edit, methods=["POST"]),
        Route("/api/stock", addresses.stock),
        Route("/api/job", addresses.job),
        Route("/api/save", addresses.save, methods=["POST"]),
        Route("/api/draft", addresses.draft, methods=["POST"]),
        Route(PHOTOS, addresses.photo, methods=["POST"]),
        Route("/api/disk", addresses.disk),
        Route("/api/choices", addresses.choices, methods=["POST"]),
        Route("/api/thumbnail", addresses.thumbnail),
        Route("/api/progress", addresses.progress),
        Route("/api/schema", addresses.schema),
        Route("/api/tables", addresses.tables),
        Route("/api/words", addresses.words),
        Route("/api/documents", addresses.documents),
        Route("/api/document", addresses.document),
        Route("/api/pack", addresses.pack),
        Mount("/static", StaticFiles(directory=STATIC)),
    ]
    handlers: dict[Any, Callable[..., Any]] = {HTTPException: _refused, MatplanError: _faulty, Exception: _own_fault}
    inner = Starlette(routes=routes, exception_handlers=handlers)
    return Guard(_never_500(inner), port=port, token=token, writes=WRITES)


class _Addresses:
    def __init__(self, desk: Desk, token: str) -> None:
        self._desk = desk
        self._token = token

    async def page(self, _request: Request) -> Response:
        """The page itself, with the token for what writes."""
        text = (STATIC / "index.html").read_text(encoding="utf-8").replace("$TOKEN", self._token)
        return Response(text, media_type="text/html")

    async def job(self, _request: Request) -> Response:
        """The job as it lies on the disk: its name, its text, and whether it is there yet."""
        return JSONResponse(await run_in_threadpool(self._desk.served))

    async def disk(self, _request: Request) -> Response:
        """The mark of what lies on the disk now, with its text where the mark that the page knows is another."""
        now = await run_in_threadpool(self._desk.disk.job)
        known = _request.query_params.get("mark")
        return JSONResponse({"mark": now.mark, "there": now.there, **({} if known == now.mark else {"text": now.text})})

    async def save(self, request: Request) -> Response:
        """The job is written, unless somebody else has written it since: 409 with what is there."""
        asked = _asked(await request.body())
        text, seen = _said(asked, "text"), _said(asked, "mark")
        try:
            now = await run_in_threadpool(self._desk.disk.save, text, seen)
        except Changed as changed:
            now = changed.now
            told = [{"line": None, "where": "", "text": "the file has changed on the disk since it was read"}]
            return JSONResponse({"errors": told, "text": now.text, "mark": now.mark}, status_code=409)
        return JSONResponse({"mark": now.mark})

    async def draft(self, request: Request) -> Response:
        """A draft is kept beside the job, or cleared."""
        text = _asked(await request.body()).get("text")
        if text is not None and not isinstance(text, str):
            raise HTTPException(422, 'send {"text": "…"}, or null to clear the draft')
        await run_in_threadpool(self._desk.disk.keep_draft, text)
        return JSONResponse({})

    async def photo(self, request: Request) -> Response:
        """A photo is copied into the job's folder, never over another file."""
        name = request.query_params.get("name", "photo")
        written, photo = await run_in_threadpool(self._desk.disk.add_photo, name, await request.body())
        return JSONResponse({"photo": written, "pixels": list(photo.pixels)})

    async def choices(self, request: Request) -> Response:
        """What suits a photo of the job."""
        asked = _asked(await request.body())
        text, photo = _said(asked, "text"), _said(asked, "photo")
        return JSONResponse(await run_in_threadpool(self._desk.choices, text, photo))

    async def thumbnail(self, request: Request) -> Response:
        """A small picture of a photo of the job's folder."""
        photo = request.query_params.get("photo", "")
        data, media = await run_in_threadpool(self._desk.thumbnail, photo, 480)
        return Response(data, media_type=media)

    async def progress(self, _request: Request) -> Response:
        """How far the pack is that is being made."""
        return JSONResponse(self._desk.progress())

    async def schema(self, _request: Request) -> Response:
        """The job's JSON Schema, which the form is made from."""
        return JSONResponse(schema())

    async def tables(self, _request: Request) -> Response:
        """The names in the built-in tables, which fields complete from."""
        return JSONResponse({str(kind): list(names(kind)) for kind in NAMED})

    async def words(self, _request: Request) -> Response:
        """The words of the trade, and which one stands behind each key of the form."""
        return JSONResponse(words_of_the_page())

    async def plan(self, request: Request) -> Response:
        """What the text of a job comes to; with `since` what has changed, with `show` the drawings wanted."""
        text = _text(await request.body())
        answer = await run_in_threadpool(
            self._desk.answer,
            text,
            since=_revision(request, "since"),
            show=request.query_params.getlist("show"),
        )
        return JSONResponse(answer.body, status_code=422 if answer.refused else 200)

    async def edit(self, request: Request) -> Response:
        """The text with some keys changed; nothing is written."""
        asked = _asked(await request.body())
        text, edits = asked.get("text"), asked.get("edits")
        if not isinstance(text, str) or not isinstance(edits, list) or not all(isinstance(one, dict) for one in edits):
            raise HTTPException(422, 'send {"text": "…", "edits": [{"key": "piece[1].border", "value": "60 mm"}]}')
        return JSONResponse({"text": await run_in_threadpool(self._desk.edited, text, edits)})

    async def stock(self, request: Request) -> Response:
        """The whole plan of a revision once its sheets are found; 202 while they are searched."""
        found = await run_in_threadpool(self._desk.stock, _revision(request) or 0)
        return JSONResponse(found, status_code=200 if found.get("plan") or found.get("errors") else 202)

    async def documents(self, request: Request) -> Response:
        """The files of a revision's pack."""
        return JSONResponse(await run_in_threadpool(self._desk.documents, _revision(request) or 0))

    async def document(self, request: Request) -> Response:
        """One file of a revision's pack, as it is there."""
        file = request.query_params.get("file", "")
        content = await run_in_threadpool(self._desk.document, _revision(request) or 0, file)
        if content is None:
            raise HTTPException(404, f"the pack has no file {printable(file)}")
        kind = TYPES.get(file.rpartition(".")[2], "application/octet-stream")
        return Response(content, media_type=kind)

    async def pack(self, request: Request) -> Response:
        """The pack as a zip: of the job on the disk, or of the text of a revision."""
        name, content = await run_in_threadpool(self._desk.pack, _revision(request))
        heads = {"content-disposition": f'attachment; filename="{name}"'}
        return Response(content, media_type="application/zip", headers=heads)


def _revision(request: Request, name: str = "revision") -> int | None:
    """Return the revision that a request names."""
    text = request.query_params.get(name, "")
    return int(text) if text.isascii() and text.isdigit() and len(text) < 16 else None


def _said(asked: Mapping[str, Any], name: str) -> str:
    value = asked.get(name)
    if not isinstance(value, str):
        raise HTTPException(422, f'"{name}" is missing, or no text')
    return value


def _asked(body: bytes) -> dict[str, Any]:
    try:
        asked = json.loads(_text(body))
    except (ValueError, RecursionError):
        raise HTTPException(422, "the body is no JSON, or nested too deeply") from None
    if not isinstance(asked, dict):
        raise HTTPException(422, "the body is no JSON object")
    return asked


def _text(body: bytes) -> str:
    try:
        return body.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise HTTPException(422, "the text is not UTF-8; save it as UTF-8") from None


def _error(status: int, text: str, heads: Mapping[str, str] | None = None) -> Response:
    return JSONResponse({"errors": [{"line": None, "where": "", "text": text}]}, status_code=status, headers=heads)


async def _refused(_request: Request, error: HTTPException) -> Response:
    return _error(error.status_code, error.detail, error.headers)


async def _faulty(_request: Request, error: MatplanError) -> Response:
    if isinstance(error, JobError):
        return JSONResponse({"errors": said(error.faults)}, status_code=422)
    return _error(422, str(error))


async def _own_fault(_request: Request, error: Exception) -> Response:
    return _error(422, f"matplan failed, and it is not your job's fault: {type(error).__name__}: {error}")


def _never_500(app: ASGIApp) -> ASGIApp:
    """Return the app with what it raises after its answer kept silent: the answer has told it."""

    async def guarded(scope: Any, receive: Any, send: Any) -> None:
        started = False

        async def sent(message: Any) -> None:
            nonlocal started
            if message["type"] == "http.response.start":
                started = True
                message["status"] = 422 if message["status"] == 500 else message["status"]
            await send(message)

        try:
            await app(scope, receive, sent)
        except Exception as error:
            if scope["type"] == "lifespan":
                raise
            if not started:
                body = json.dumps({"errors": [{"line": None, "where": "", "text": type(error).__name__}]}).encode()
                heads = [(b"content-type", b"application/json")]
                await send({"type": "http.response.start", "status": 422, "headers": heads})
                await send({"type": "http.response.body", "body": body})

    return guarded
