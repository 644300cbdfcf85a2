"""A job file's bytes as a TOML document: its data, and on which line each part stands. It knows nothing of jobs."""

from __future__ import annotations

import codecs
import re
import tomllib
from pathlib import Path
from typing import Any

from matplan.faults import Fault, JobError, printable
from matplan.job.file.lines import Lines, key_text
from matplan.job.file.wrong import BACKSLASH, read_float

LARGEST_FILE = 32_000_000
"""Bytes; twenty thousand pieces take a third of it."""


class Document:
    """Valid TOML. `data` holds its values, floats as `Decimal` or `Unplain`; `lines` where each stands."""

    def __init__(self, text: str, *, file: str) -> None:
        """Raises `JobError` where the text is no TOML."""
        self.text = text.removeprefix("\ufeff").replace("\r\n", "\n")
        self.data: dict[str, Any] = _data(self.text, file)
        try:
            self.lines = Lines(self.text)
        except RecursionError:
            raise _too_deep(self.text, file) from None


def read_text(path: Path, *, file: str) -> str:
    """Return the text of a file. Raises `JobError` if it cannot be read or is no UTF-8."""
    try:
        with path.open("rb") as stream:
            raw = stream.read(LARGEST_FILE + 1)
    except (FileNotFoundError, NotADirectoryError):
        raise _refused(file, None, "there is no such file; write one, or begin with `matplan new`") from None
    except IsADirectoryError:
        raise _refused(file, None, "this is a folder; name the job file in it") from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise _refused(file, None, f"the file cannot be read: {reason}") from None
    if len(raw) > LARGEST_FILE:
        raise _refused(file, None, f"the file is larger than {LARGEST_FILE // 1_000_000} MB, which no job is; split it")
    return decoded(raw, file=file)


def decoded(raw: bytes, *, file: str) -> str:
    """Return the bytes as UTF-8 text. Raises `JobError` with the line of the first byte that is no UTF-8."""
    if raw.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        raise _refused(file, 1, "the file is UTF-16; save it as UTF-8")
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise _refused(file, line, f"the byte 0x{raw[error.start]:02x} is no UTF-8; save the file as UTF-8") from None


def _refused(file: str, line: int | None, text: str) -> JobError:
    return JobError((Fault(line=line, where="", text=text),), file=file)


def _data(text: str, file: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text, parse_float=read_float)
    except tomllib.TOMLDecodeError as error:
        line, what = _syntax(str(error), text)
        raise _refused(file, line, what) from None
    except RecursionError:
        raise _too_deep(text, file) from None
    except ValueError:  # int() refuses more than 4,300 digits
        raise _refused(file, *_bad_value(text)) from None


_WHERE = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")
_HEAD = re.compile(r"(?P<open>\[{1,2})\s*(?P<names>[^\[\]]+?)\s*(?P<close>\]{1,2})")
_SAYINGS = (
    (r"Expected newline or end of document after a statement", "something is left over behind the value; texts and"
     " lengths with a unit stand in quotes, and decimals have a digit on both sides of the point"),
    (r"Invalid value", "this value is none that TOML knows; texts and lengths with a unit stand in quotes"),
    (r"Unterminated string", "a text is not closed; put a quote behind it"),
    (r"Expected '=' after a key in a key/value pair", 'a key needs = and a value behind it, like border = "60 mm"'),
    (r"Expected '\]' at the end of a table declaration", "a table's head is not closed; write it like [frame.ash]"),
    (r"Expected '\]\]' at the end of an array declaration", "a table's head is not closed; write it like [[piece]]"),
    (r"Cannot declare (.+) twice",
     "this table is there already; join the two, or write [[piece]] in double brackets for a further one"),
    (r"Cannot overwrite a value", "this key is there already; keep one of the two"),
    (r"Duplicate inline table key (.+)", "this key is there already in the same braces; keep one of the two"),
    (r"Cannot mutate immutable namespace (.+)", "this table was closed with its braces; write the key within them"),
    (r"Unclosed inline table|Unclosed array",
     "a list or table in braces is not closed; tables in braces stand on one line"),
    (r"Unescaped '\\' in a string|Invalid hex value|Escaped character is not a Unicode scalar value", BACKSLASH),
    (r"Illegal character '\\n'", "a text is not closed on its line; put a quote behind it"),
    (r"Invalid date or datetime", "this is no date, and a job holds none; texts stand in quotes"),
    (r"Illegal character (.+)", "a control character stands where none may"),
    (r"Invalid initial character for a key part",
     "a key is missing here; keys are letters, digits, - and _, others stand in quotes"),
    (r"Invalid statement",
     'no line begins like this; write a key like units = "mm" or a table\'s head like [[piece]]'),
)  # fmt: skip


def _syntax(message: str, text: str) -> tuple[int, str]:
    """Return the line that the parser's message names, and what is wrong there in our words."""
    found = _WHERE.search(message)
    what = _WHERE.sub("", message)
    last = text.rstrip().count("\n") + 1
    line = int(found[1]) if found and found[1] else last
    for pattern, words in _SAYINGS:
        if re.match(pattern, what):
            what = words
            break
    if line > last:
        line = last
    row = text.split("\n")[line - 1].strip()
    head = _HEAD.match(row)
    if head and len(head["open"]) == len(head["close"]) and "a table's head is not closed" in what:
        what = f"a name other than letters from a to z, digits, - and _ stands in quotes; write {_quoted_head(head)}"
    return line, f"this is no TOML: {what}; got: {printable(row, 80)}" if row else f"this is no TOML: {what}"


def _quoted_head(head: re.Match[str]) -> str:
    """Return a table's head with quotes round the names that need them: `[frame."weiß"]`."""
    names = (name.strip().strip("\"'") for name in head["names"].split("."))
    return printable(f"{head['open']}{'.'.join(map(key_text, names))}{head['close']}", 80)


def _bad_value(text: str) -> tuple[int | None, str]:
    """Return the line of a value that TOML's grammar allows and Python's types refuse, and what is wrong with it."""
    for number, row in enumerate(text.split("\n"), 1):
        plain = row.replace("_", "")
        if re.search(r"\d{4000}", plain):
            return number, "a number of thousands of digits stands here; nothing in a job is so large"
    return None, "a value is out of range"


def _too_deep(text: str, file: str) -> JobError:
    """Return the error of lists or tables that stand in one another too deeply, on the line where they are deepest."""
    depth = deepest = 0
    line = 1
    for number, row in enumerate(text.split("\n"), 1):
        for character in re.sub(r"\"[^\"]*\"|'[^']*'|#.*", "", row):
            depth += (character in "[{") - (character in "]}")
            if depth > deepest:
                deepest, line = depth, number
    return _refused(
        file, line, "lists or tables stand in one another too deeply; a job never needs more than four levels"
    )
