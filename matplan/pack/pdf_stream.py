"""A PDF written piece by piece, so that a photo passes from its file into the document without being held in memory.

The few parts of ISO 32000-1 that a page with a picture needs: objects, streams, the table of where each object begins.
The same input gives the same bytes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final

_BLOCK: Final = 1 << 20
_HEAD: Final = b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """A part of a file: from that byte on, so many."""

    path: Path
    start: int
    length: int


class Packed:
    """Bytes that are made as they are written, and counted: only then is it known how many they are."""

    def __init__(self, parts: Callable[[], Iterator[bytes]]) -> None:
        self._parts = parts
        self.length = 0

    def read(self) -> Iterator[bytes]:
        """Yield the bytes in parts."""
        self.length = 0
        for part in self._parts():
            self.length += len(part)
            yield part


type Source = bytes | Span | Packed


@dataclass(frozen=True, slots=True, kw_only=True)
class Ref:
    """A reference to an object by its number."""

    number: int


@dataclass(frozen=True, slots=True)
class Name:
    """A PDF name, without its slash."""

    text: str


type Value = bool | int | float | str | bytes | Name | Ref | list[Value] | dict[str, Value] | None


def written(value: Value) -> bytes:
    """A value as it stands in a PDF; a `str` is a text for people, `bytes` are written in hexadecimal.

    >>> written({"Type": Name("Page"), "MediaBox": [0, 0, 595.275591, 842.0]})
    b'<< /Type /Page /MediaBox [0 0 595.275591 842] >>'
    """
    match value:
        case None:
            return b"null"
        case bool():
            return b"true" if value else b"false"
        case int():
            return str(value).encode()
        case float():
            return number(value).encode()
        case str():
            return b"<" + b"\xfe\xff".hex().encode() + value.encode("utf-16-be").hex().encode() + b">"
        case bytes():
            return b"<" + value.hex().encode() + b">"
        case Name():
            return b"/" + value.text.encode()
        case Ref():
            return f"{value.number} 0 R".encode()
        case list():
            return b"[" + b" ".join(map(written, value)) + b"]"
        case dict():
            return (
                b"<< " + b" ".join(b"/" + key.encode() + b" " + written(part) for key, part in value.items()) + b" >>"
            )


def number(value: float) -> str:
    """A number to six places, without needless ones.

    >>> number(2.50), number(-0.0000001), number(12.3456789)
    ('2.5', '0', '12.345679')
    """
    text = f"{value:.6f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """One object: a value, or a dictionary with a stream, whose parts are read when it is written. `length` is the
    object behind it that tells the stream's length, where that is not known before.
    """

    number: int
    value: Value
    stream: tuple[Source, ...] | None = None
    length: Ref | None = None


def document(bodies: Iterable[Body], *, root: int, info: Mapping[str, Value]) -> Iterator[bytes]:
    """The file in parts. The objects may come in any order; their numbers run from 1 without a gap. `info` is written
    last.
    """
    at: dict[int, int] = {}
    place = len(_HEAD)
    yield _HEAD
    for body in bodies:
        at[body.number] = place
        for part in _object(body):
            place += len(part)
            yield part
    last = len(at) + 1
    at[last] = place
    closing = b"".join(_object(Body(number=last, value=dict(info))))
    yield closing
    place += len(closing)
    rows = b"".join(f"{at[number]:010d} 00000 n \n".encode() for number in range(1, last + 1))
    yield f"xref\n0 {last + 1}\n0000000000 65535 f \n".encode() + rows
    trailer: dict[str, Value] = {"Size": last + 1, "Root": Ref(number=root), "Info": Ref(number=last)}
    yield b"trailer\n" + written(trailer) + f"\nstartxref\n{place}\n%%EOF\n".encode()


def _object(body: Body) -> Iterator[bytes]:
    head = f"{body.number} 0 obj\n".encode()
    if body.stream is None:
        yield head + written(body.value) + b"\nendobj\n"
        return
    length: Value = body.length
    if length is None:
        length = sum(len(part) if isinstance(part, bytes) else part.length for part in body.stream)
    about: dict[str, Value] = {**(body.value if isinstance(body.value, dict) else {}), "Length": length}
    yield head + written(about) + b"\nstream\n"
    for part in body.stream:
        yield from (part,) if isinstance(part, bytes) else _read(part) if isinstance(part, Span) else part.read()
    yield b"\nendstream\nendobj\n"


def _read(span: Span) -> Iterator[bytes]:
    """The bytes of a span. Raises `OSError` where the file has become shorter."""
    left = span.length
    with span.path.open("rb") as stream:
        stream.seek(span.start)
        while left:
            block = stream.read(min(left, _BLOCK))
            if not block:
                raise OSError(f"{span.path.name} has changed while it was read")
            left -= len(block)
            yield block
