"""Two packs side by side: what differs between them, as a person would read it.

What coders and font tools write differently from version to version is left out: the bytes of embedded fonts and
pictures in an SVG (a picture's kind and pixels stay), and how a PDF is packed (its pages' sizes, texts and pictures'
places stay). All else must be the same.
"""

from __future__ import annotations

import base64
import io
import re
from collections.abc import Iterator
from difflib import unified_diff
from pathlib import Path

from lxml import etree

LONGEST = 40
"""Lines of a difference that are shown of one file."""
_DATA = re.compile(r"data:([\w/+.-]+)(?:;[\w=-]+)*;base64,([\w+/=\s]*)")


def differences(kept: Path, made: Path) -> list[str]:
    """One text for each file of the two packs that is missing, too many or not the same."""
    old, new = _files(kept), _files(made)
    told = [f"{name}: is not made any more" for name in sorted(old - new)]
    told += [f"{name}: is new" for name in sorted(new - old)]
    for name in sorted(old & new):
        lines = list(
            unified_diff(readable(kept / name), readable(made / name), f"kept {name}", f"made {name}", n=1, lineterm="")
        )
        if lines:
            rest = len(lines) - LONGEST
            told.append("\n".join(lines[:LONGEST] + ([f"... and {rest} lines more"] if rest > 0 else [])))
    return told


def readable(path: Path) -> list[str]:
    """The file's content in lines that are the same where nothing that a person can see has changed."""
    content = path.read_bytes()
    match path.suffix:
        case ".svg":
            return list(_svg_lines(content))
        case ".pdf":
            return list(_pdf_lines(content))
        case ".csv" | ".json" | ".toml":
            return content.decode().splitlines()
        case other:
            raise ValueError(f"{path.name}: how two files of the kind {other!r} are compared is not settled")


def _files(pack: Path) -> set[str]:
    return {path.relative_to(pack).as_posix() for path in pack.rglob("*") if path.is_file()}


def _svg_lines(content: bytes) -> Iterator[str]:
    """An element a line: its attributes sorted, its text; data URIs as what they hold."""
    for element in etree.fromstring(content).iter(etree.Element):
        tag = etree.QName(element).localname
        given = " ".join(
            f'{etree.QName(str(key)).localname}="{_DATA.sub(_held, str(value))}"'
            for key, value in sorted(element.items())
        )
        text = _DATA.sub(_held, element.text or "").strip()
        depth = sum(1 for _ in element.iterancestors())
        yield f"{' ' * depth}<{tag} {given}> {text}".rstrip()


def _held(data: re.Match[str]) -> str:
    if not data[1].startswith("image/"):
        return f"[{data[1]}]"
    from PIL import Image

    with Image.open(io.BytesIO(base64.b64decode(data[2]))) as image:
        return f"[{data[1]}, {image.width} × {image.height} pixels]"


def _pdf_lines(content: bytes) -> Iterator[str]:
    """Each page's number and size in points, its texts in the order of drawing, and its pictures, in points from its
    lower left.
    """
    import pypdfium2

    with pypdfium2.PdfDocument(content) as document:
        yield f"{len(document)} pages"
        for number in range(len(document)):
            page = document[number]
            width, height = page.get_size()
            yield f"page {number + 1}, {width:.2f} × {height:.2f}"
            texts = page.get_textpage()
            yield from (f"  {line.strip()}" for line in texts.get_text_range().splitlines() if line.strip())
            texts.close()
            for thing in page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_IMAGE]):
                across, down = thing.get_px_size()
                left, bottom, right, top = thing.get_bounds()
                yield (
                    f"  picture of {across} × {down} pixels, {right - left:.1f} × {top - bottom:.1f} at "
                    f"{left:.1f}, {bottom:.1f}"
                )
            page.close()
