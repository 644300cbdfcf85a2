"""What a command says on stdout, whatever the terminal's encoding."""

from __future__ import annotations

import sys


def say(text: str) -> None:
    """Write a text and end its line; what the encoding lacks becomes a question mark."""
    stream = sys.stdout
    encoding = stream.encoding or "utf-8"
    stream.write(text.encode(encoding, "replace").decode(encoding) + "\n")


def say_json(document: object) -> None:
    """Write one JSON document; what the encoding may lack is escaped."""
    import json

    say(json.dumps(document, ensure_ascii=sys.stdout.encoding.lower() != "utf-8", indent=1))
