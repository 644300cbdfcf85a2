"""The desk: the job in view, what its text says now, and what has changed since an earlier text.

A desk keeps a workshop and a darkroom, so that after an edit only what changed is solved and drawn again. Each text
that it is given has a revision, a whole number that grows; an answer that names an earlier revision holds only what
differs from it. Planning writes nothing. Photos come from the job's folder alone.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from io import BytesIO
from pathlib import Path, PurePosixPath
from threading import Lock
from typing import Any, Final
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from matplan.documents import document as documents
from matplan.documents.shelf import SHELF
from matplan.faults import Fault, JobError
from matplan.job.file.document import Document
from matplan.job.file.lines import place_text
from matplan.job.names import file_names
from matplan.job.read.photos import Photos
from matplan.job.records import Reading
from matplan.mats.records import SolvedPiece
from matplan.orders.at_hand import frames_at_hand
from matplan.pack import choice, pack_files
from matplan.pack.contents import Contents
from matplan.pack.darkroom import Darkroom
from matplan.pack.single import drawings, wall_drawings
from matplan.page.choices import choices
from matplan.page.disk import Disk
from matplan.page.editing import edited, placed_values
from matplan.page.naming import elsewhere
from matplan.page.searching import Search
from matplan.page.telling import Body, Teller, Told, mark_of
from matplan.planning import Plan, Workshop, plan_json
from matplan.planning.record import Drafted
from matplan.planning.written.document import draft_json

KEPT: Final = 256
"""Revisions that a later one is compared with; an older one gets everything."""

FIRST: Final = "front/first"
"""The front view of the first piece, for who knows no piece yet."""
STARTER: Final = """title = ""
units = "mm"                      # mm, cm or in
currency = ""

# Drop photos on the page: each becomes a [[piece]]. Frames and papers of your own stand in tables like these:
# [frame.oak]
# takes = "30x40 cm"
# have = 2
# [paper.rag]
# size = "A4"
"""
"""The text of a job that is begun on the page."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What a text comes to: the body, and whether the text is refused."""

    body: Body
    refused: bool


@dataclass(slots=True, kw_only=True)
class _Seen:
    """A text as it was answered: its reading until its sheets are searched, and a mark of each part of the answer."""

    text: str
    reading: Reading | None
    marks: dict[str, str] = field(default_factory=dict)


class Desk:
    """One job on the page: `path` is its file, which may not be there yet."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.folder = path.parent
        self.disk = Disk(path)
        self.workshop = Workshop()
        self.darkroom = Darkroom()
        self.search = Search(self.workshop)
        self._seen: OrderedDict[int, _Seen] = OrderedDict()
        self._revision = 0
        self._lock = Lock()
        self._made = (0, 0)
        self._teller = Teller()

    def answer(self, text: str, *, since: int | None = None, show: Iterable[str] = ()) -> Answer:
        """Return the plan of a text, its faults, and its drawings.

        Without `since` everything is there: the whole plan with its sheets, which are searched before the answer, and
        each front view and wall. With it only what has changed since that revision; sheets are searched meanwhile and
        asked for by `stock`. `show` are further drawings by their names in the pack; where any is named, of the
        pieces only these are drawn.
        """
        with self._lock:
            self._revision += 1
            revision = self._revision
            before = self._seen.get(since) if since is not None else None
            seen = _Seen(text=text, reading=None)
            told: dict[str, Told] = {}
            body = self._body(text, seen, tuple(show), told, whole=since is None)
            refused = bool(body["errors"])
            _keep_changed(body, told, seen, before)
            body["revision"] = revision
            self._seen[revision] = seen
            while len(self._seen) > KEPT:
                self._seen.popitem(last=False)
            if since is not None and not refused and seen.reading is not None:
                self.search.begin(revision, seen.reading)
            seen.reading = None  # so many readings of large jobs would fill the memory
            return Answer(body=body, refused=refused)

    def served(self) -> Body:
        """Return the job as it lies on the disk, and a draft of it. Raises `JobError` where it cannot be read."""
        now = self.disk.job()
        return {
            "file": str(self.path),
            "there": now.there,
            "text": now.text,
            "mark": now.mark,
            "draft": self.disk.draft(),
            "starter": STARTER,
        }

    def choices(self, text: str, photo: str) -> Body:
        """Return what suits a photo of the job. Raises `JobError`, `PhotoFault`."""
        job = self.reading(text).job
        return {"choices": choices(job, Photos.of(self.folder, confined=True).photo(photo))}

    def thumbnail(self, photo: str, pixels: int) -> tuple[bytes, str]:
        """Return a small picture of a photo of the job's folder, and its type. Raises `PhotoFault`, `Undecodable`."""
        found = Photos.of(self.folder, confined=True).photo(photo)
        shown = self.darkroom.picture(found, None, (pixels, pixels))
        return shown.data, shown.media

    def stock(self, revision: int, seconds: float = 10.0) -> Body:
        """Return the whole plan of a revision, or its faults; neither where its sheets are not found yet."""
        found = self.search.found(revision, seconds)
        if found is None:
            return {"plan": None, "errors": [], "revision": revision}
        if isinstance(found, JobError):
            return {"plan": None, "errors": said(found.faults), "revision": revision}
        return {"plan": plan_json(found), "errors": [], "revision": revision}

    def documents(self, revision: int) -> Body:
        """Return the files of a revision's pack, each with its title and whose it is."""
        plan = self._plan_of(revision)
        found = Contents(plan, choice(plan.job, None), lambda _contents: {}).names()
        return {"documents": [{"file": file, "title": title, "about": about} for file, title, about in found]}

    def document(self, revision: int, file: str) -> bytes | None:
        """Return one file of a revision's pack, `None` where it has none of that name. Raises `JobError`."""
        plan = self._plan_of(revision)
        whole = choice(plan.job, None)
        names = Contents(plan, whole, lambda _contents: {}).names()
        part = next((document.part for document in SHELF if document.path and _is_file_of(document, file)), None)
        if part is None or not any(_same(name, file) for name, _, _ in names):
            return None
        chosen = replace(whole, parts=frozenset({part}))
        return next((content for name, content in pack_files(plan, chosen) if name == file), None)

    def _plan_of(self, revision: int) -> Plan:
        """Return the plan of a revision with its sheets. Raises `JobError`."""
        found = self.search.found(revision, 0)
        if isinstance(found, Plan):
            return found
        text = self.text_of(revision)
        return self.workshop.plan(self.reading(self.served()["text"] if text is None else text))

    def progress(self) -> Body:
        """Return how far the pack is that is being made: what is done, of how much."""
        done, total = self._made
        return {"done": done, "total": total}

    def _count(self, done: int, total: int) -> None:
        self._made = done, total

    def pack(self, revision: int | None) -> tuple[str, bytes]:
        """Return the pack of a revision's text, or of the job on the disk, as a zip with its name.

        Raises `JobError`.
        """
        plan = self._plan_of(revision or 0)
        content = BytesIO()
        with ZipFile(content, "w", ZIP_DEFLATED) as folder:
            for name, part in pack_files(plan, choice(plan.job, None), self._count):
                folder.writestr(ZipInfo(name), part, ZIP_DEFLATED)
        return f"{file_names([plan.job.title or 'pack'], 'pack')[0]}.zip", content.getvalue()

    def text_of(self, revision: int) -> str | None:
        """Return the text of a revision, `None` where it is not known any more."""
        seen = self._seen.get(revision)
        return None if seen is None else seen.text

    def edited(self, text: str, edits: Sequence[Mapping[str, Any]]) -> str:
        """Return the text with each edit made in turn. Raises `EditFault`, `NamingFault`."""
        return edited(text, edits, partial(elsewhere, self.path, text))

    def reading(self, text: str) -> Reading:
        """Return what can be read of a text. Raises `JobError` where it is no TOML."""
        return self.workshop.parse(text, self.folder, self.path.name, confined=True)

    def _body(self, text: str, seen: _Seen, show: tuple[str, ...], told: dict[str, Told], *, whole: bool) -> Body:
        """Return what a text comes to, and put what is told of its pieces into `told`."""
        try:
            written = Document(text, file=self.path.name)
            seen.reading = self.workshop.parse(written, self.folder, self.path.name, confined=True)
        except JobError as error:
            return {"plan": None, "errors": said(error.faults), "pictures": {}}
        drafted = self.workshop.draft(seen.reading)
        job, faults, values = drafted.job, list(drafted.faults), list(placed_values(written.data))
        pictures = self._pictures(drafted, show, faults)
        ready = frames_at_hand(job.pieces)
        for piece in drafted.pieces:
            told[piece.ask.file] = self._teller.told(job, piece, ready[piece.name])
        body: Body = {
            "plan": draft_json(drafted),
            "errors": said(faults),
            "pictures": pictures,
            "values": {place_text(place): value for place, value in values},
            "lines": {place_text(place): written.lines.of(place) for place, _ in values},
        }
        if whole and not faults:
            try:
                body["plan"] = plan_json(self.workshop.plan(job))
            except JobError as error:
                body["errors"] = said(error.faults)
        return body

    def _pictures(self, drafted: Drafted, show: tuple[str, ...], faults: list[Fault]) -> dict[str, str]:
        """Return the drawings that are wanted by their names; the faults of photos join `faults`."""
        found: dict[str, str] = {}
        if FIRST in show and drafted.pieces:
            show = (f"front/{drafted.pieces[0].ask.file}.svg", *show)
        for piece in drafted.pieces:
            parts = _parts(piece, show)
            if not parts:
                continue
            try:
                found |= drawings(drafted.job, piece, self.darkroom, parts=parts)
            except JobError as error:
                faults.extend(error.faults)
        for wall in drafted.walls:
            if not show or f"wall/{wall.ask.file}.svg" in show:
                try:
                    found |= wall_drawings(drafted.job, wall, self.darkroom)
                except JobError as error:
                    faults.extend(fault for fault in error.faults if fault not in faults)
        return found


def _parts(piece: SolvedPiece, show: tuple[str, ...]) -> tuple[str, ...]:
    """Return which documents of a piece are wanted: its front view where none is named."""
    if not show:
        return ("front",)
    return tuple(dict.fromkeys(name.partition("/")[0] for name in show if _is_of(name, piece.ask.file)))


def _is_of(name: str, file: str) -> bool:
    """Return whether a drawing of that name is the piece's: `cut/gull-layer1.svg` of `gull`."""
    part, _, rest = name.removesuffix(".svg").partition("/")
    return part != "wall" and (rest == file or rest.startswith(f"{file}-"))


def _is_file_of(document: documents.Document, file: str) -> bool:
    """Return whether a file may be the document's: both stand in one folder and have one ending."""
    folder, ending = PurePosixPath(document.path).parent, file.rpartition(".")[2]
    return PurePosixPath(file).parent == folder and any(form.ending == ending for form in document.forms)


def _same(name: str, file: str) -> bool:
    """Return whether a file is one of a document's sheets: `a-2.svg` goes on from `a.svg`."""
    stem, _, ending = name.rpartition(".")
    return file == name or (file.startswith(f"{stem}-") and file.endswith(f".{ending}"))


def said(faults: Iterable[Fault]) -> list[Body]:
    """Return faults as the page has them."""
    return [{"line": fault.line, "where": fault.where, "text": fault.text, "file": fault.file} for fault in faults]


def _keep_changed(body: Body, told: Mapping[str, Told], seen: _Seen, before: _Seen | None) -> None:
    """Leave in the body what differs from the earlier answer, and mark all of it for later ones.

    Of pieces and drawings only those that changed stay; `order_of_pieces` names all pieces, so that one that has gone
    is known.
    """
    if body["plan"] is None:
        seen.marks = {} if before is None else dict(before.marks)
        return
    old = {} if before is None else before.marks
    body["order_of_pieces"] = list(told)
    changed = [one for file, one in told.items() if old.get(f"piece {file}") != one.mark]
    seen.marks.update((f"piece {file}", one.mark) for file, one in told.items())
    plan = {name: value for name, value in body["plan"].items() if name != "pieces"}
    pieces = body["plan"].get("pieces") or [one.plan for one in changed]
    body["plan"] = {**_changed("plan", plan, seen, old), "pieces": pieces}
    body["sums"] = {one.piece.ask.file: one.sums for one in changed}
    body["documents"] = {one.piece.ask.file: one.documents for one in changed}
    body["pictures"] = _changed("picture", body["pictures"], seen, old)


def _changed(kind: str, parts: Mapping[str, Any], seen: _Seen, old: Mapping[str, str]) -> dict[str, Any]:
    found = {}
    for name, value in parts.items():
        key, mark = f"{kind} {name}", mark_of(value)
        seen.marks[key] = mark
        if old.get(key) != mark:
            found[name] = value
    return found
