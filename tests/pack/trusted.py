"""What a stranger's program finds in the files of a pack: the faults of a PDF, an SVG and a CSV, each in words.

A PDF is read by two programs that share no code: qpdf (by `pikepdf`) and PDFium (by `pypdfium2`).
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator
from typing import Any, Final

import numpy
import pikepdf
import pypdfium2
from lxml import etree

POINT: Final = 25.4 / 72
FORMULA: Final = ("=", "+", "-", "@", "\t", "\r")
_SVG: Final = "{http://www.w3.org/2000/svg}"
_ALLOWED: Final = {
    "svg", "title", "desc", "defs", "style", "clipPath", "g", "line", "polyline", "polygon", "rect", "ellipse",
    "circle", "path", "image", "text", "tspan",
}  # fmt: skip
"""The elements that drawings are made of: none runs, and none fetches but `image`."""
_SUBSET: Final = re.compile(r"/[A-Z]{6}\+.+")


# --- PDF -------------------------------------------------------------------------------------------------------------


def pdf_faults(content: bytes, papers: set[tuple[float, float]], *, full_size: bool, tagged: bool) -> list[str]:
    """What is wrong with a PDF whose pages should have one of these sizes, upright or lying, in mm."""
    return [*_pdf_faults(content, papers, full_size, tagged)]


def _pdf_faults(content: bytes, papers: set[tuple[float, float]], full_size: bool, tagged: bool) -> Iterator[str]:
    with pikepdf.open(io.BytesIO(content), attempt_recovery=False) as document:
        yield from (f"qpdf: {problem}" for problem in (*document.check_pdf_syntax(), *document.get_warnings()))
        root, info = document.Root, document.docinfo
        title = str(info.get("/Title", ""))
        if not title.strip():
            yield "no title"
        if str(info.get("/Creator", "")) != "matplan" or set(info.keys()) - {"/Title", "/Creator"}:
            yield f"it tells of itself {sorted(info.keys())}"
        if root.get("/Lang") != "en":
            yield "no language"
        preferences: Any = root.get("/ViewerPreferences", {})
        if preferences.get("/DisplayDocTitle") is not True:
            yield "a viewer would show its file's name for its title"
        if (preferences.get("/PrintScaling") == "/None") != full_size:
            yield f"printing at 100 % is {'not ' if full_size else ''}asked for"
        if forbidden := {"/OpenAction", "/AA", "/AcroForm", "/Names"} & set(root.keys()):
            yield f"it may act by {sorted(forbidden)}"
        yield from _font_faults(document)
        sizes = [tuple(float(side) for side in page.mediabox) for page in document.pages]
        for number, page in enumerate(document.pages, 1):
            yield from (f"page {number}: {fault}" for fault in _page_faults(page, papers))
        yield from _structure_faults(document) if tagged else ()
    with pypdfium2.PdfDocument(content) as other:
        pages = [other[number] for number in range(len(other))]
        if [page.get_size() for page in pages] != [(w, h) for _x, _y, w, h in map(_rounded, sizes)]:
            yield "the two readers find pages of other sizes"
        if other.get_metadata_dict()["Title"] != title:
            yield "the two readers find other titles"
        if bool(other.is_tagged()) != tagged:
            yield "the second reader finds no tags" if tagged else "the second reader finds tags"
        if tagged and not any(page.get_textpage().get_text_range().strip() for page in pages):
            yield "no text is found in it"


def _rounded(box: tuple[float, ...]) -> tuple[float, ...]:
    """A box in the single precision that PDFium reads."""
    return tuple(float(numpy.float32(side)) for side in box)


def _font_faults(document: pikepdf.Pdf) -> Iterator[str]:
    for thing in document.objects:
        if isinstance(thing, pikepdf.Dictionary) and thing.get("/Type") == "/Font":
            name = str(thing.get("/BaseFont"))
            about: Any = thing.get("/FontDescriptor", {})
            if not {"/FontFile2", "/FontFile3"} & set(about.keys()):
                yield f"font {name} is not embedded"
            elif not _SUBSET.fullmatch(name):
                yield f"font {name} is no subset"
            if "/ToUnicode" not in thing:
                yield f"font {name} does not tell its letters"


def _page_faults(page: pikepdf.Page, papers: set[tuple[float, float]]) -> Iterator[str]:
    left, bottom, width, height = map(float, page.mediabox)
    shown = width * POINT, height * POINT
    alike = {size for paper in papers for size in (paper, paper[::-1])}
    if (left, bottom) != (0, 0) or not any(
        max(abs(a - b) for a, b in zip(shown, p, strict=True)) < 0.01 for p in alike
    ):
        yield f"its size is {shown[0]:.3f} × {shown[1]:.3f} mm"
    if page.cropbox != page.mediabox or page.obj.get("/Rotate", 0) != 0:
        yield "a viewer would show a part of it, or turn it"
    if "/UserUnit" in page.obj:
        yield "it counts in units of its own"


def _structure_faults(document: pikepdf.Pdf) -> Iterator[str]:
    """Whether every mark on the page is tagged or an artifact, and every tag leads to its page and back."""
    root = document.Root
    info: Any = root.get("/MarkInfo", {})
    if info.get("/Marked") is not True or "/StructTreeRoot" not in root:
        yield "not tagged"
        return
    tree = root.StructTreeRoot
    numbers = list(tree.ParentTree.Nums)
    parents = dict(zip(map(int, numbers[::2]), numbers[1::2], strict=True))
    sections = list(tree.K.K)
    if len(sections) != len(document.pages):
        yield "not every page is a section"
    for number, (page, section) in enumerate(zip(document.pages, sections, strict=False), 1):
        owners = list(parents[int(page.obj.StructParents)])
        marked = [*_marked(page)]
        yield from (f"page {number}: {mark}" for mark in marked if isinstance(mark, str))
        kinds = [mark for mark in marked if isinstance(mark, tuple)]
        if [mcid for mcid, _ in kinds] != list(range(len(owners))):
            yield f"page {number}: the tags are not those that it draws"
            continue
        for mcid, kind in kinds:
            owner = owners[mcid]
            held = owner.K if isinstance(owner.K, pikepdf.Array) else [owner.K]
            if kind != owner.S or owner.Pg.objgen != page.obj.objgen or mcid not in map(int, held):
                yield f"page {number}: tag {mcid} leads elsewhere"
            if owner.P.objgen != section.objgen or section.P.objgen != tree.K.objgen:
                yield f"page {number}: tag {mcid} stands in no section of its page"
            if kind == "/Figure" and not str(owner.get("/Alt", "")):
                yield f"page {number}: a figure without words"


def _marked(page: pikepdf.Page) -> Iterator[tuple[int, str] | str]:
    """The number and kind of each marked content of a page; a text for what is drawn outside, or ends elsewhere."""
    open_at: list[int] = []
    kind = ""
    saved = 0
    for step in pikepdf.parse_content_stream(page):
        operands, operator = step.operands, step.operator
        match str(operator):
            case "BMC" | "BDC":
                open_at.append(saved)
                kind = str(operands[0])
                if kind != "/Artifact":
                    yield int(operands[1].MCID), kind
            case "EMC":
                if not open_at or open_at.pop() != saved:
                    yield "a tag ends elsewhere than it begins"
                kind = ""
            case "q":
                saved += 1
            case "Q":
                saved -= 1
                if open_at and saved < open_at[-1]:
                    yield "a tag reaches over a change of clips"
            case "Tj" | "TJ" if kind != "/P":
                yield f"words lie under {kind or 'no tag'}"
            case "Do" if kind != "/Figure":
                yield f"a picture lies under {kind or 'no tag'}"
            case "S" | "f" | "f*" | "B*" if kind != "/Artifact":
                yield f"a line lies under {kind or 'no tag'}"
    if open_at:
        yield "a tag is left open"


# --- SVG -------------------------------------------------------------------------------------------------------------


def svg_faults(content: bytes) -> list[str]:
    """What is wrong with an SVG: what may run, what it fetches, what does not say what it is."""
    return [*_svg_faults(content)]


def _svg_faults(content: bytes) -> Iterator[str]:
    content.decode("utf-8")
    if re.search(rb"<!(?!\[CDATA\[)|<\?(?!xml )", content):
        yield "it declares or hides something"
    root = etree.fromstring(content, etree.XMLParser(resolve_entities=False, no_network=True))
    named = [child.text or "" for tag in ("title", "desc") for child in root.findall(f"{_SVG}{tag}")]
    if len(named) != 2 or not all(text.strip() for text in named) or root[0].tag != f"{_SVG}title":
        yield f"title and description are {named}"
    if root.get("{http://www.w3.org/XML/1998/namespace}lang") != "en":
        yield "no language"
    ids = [element.get("id") for element in root.iter() if element.get("id") is not None]
    if len(ids) != len(set(ids)):
        yield "two parts with one id"
    for element in root.iter():
        if not isinstance(element.tag, str) or element.tag.removeprefix(_SVG) not in _ALLOWED:
            yield f"it holds {element.tag}"
            continue
        for key, value in ((str(key), str(value)) for key, value in element.items()):
            name = etree.QName(key).localname
            if name.startswith("on"):
                yield f"{name} would run"
            if name == "href" and not value.startswith(("data:image/", "#")):
                yield f"it fetches {value[:40]}"
            yield from _reference_faults(value)
        if element.tag == f"{_SVG}style":
            yield from _reference_faults(element.text or "")
            if "@import" in (element.text or ""):
                yield "it imports a style"


def _reference_faults(text: str) -> Iterator[str]:
    for target in re.findall(r"url\(\s*[\"']?([^)\"']{0,40})", text):
        if not target.startswith(("#", "data:font/", "data:application/font")):
            yield f"it refers to {target}"


# --- CSV -------------------------------------------------------------------------------------------------------------


def csv_faults(content: bytes) -> list[str]:
    """What is wrong with a CSV for a spreadsheet; it is read by Python's reader and by numpy's."""
    text = content.decode("utf-8")
    rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    faults = [f"row {n} has {len(row)} cells" for n, row in enumerate(rows, 1) if len(row) != len(rows[0])]
    faults += [f"{cell!r} may run" for row in rows for cell in row if cell.lstrip(" ").startswith(FORMULA)]
    if text.startswith("\ufeff") or not text.endswith("\n"):
        faults.append("it begins or ends unlike its rows")
    if not faults and read_by_numpy(content) != rows:
        faults.append("the two readers find other cells")
    return faults


def read_by_numpy(content: bytes) -> list[list[str]]:
    """The cells as numpy's own reader finds them."""
    table: Any = numpy.loadtxt(
        io.StringIO(content.decode("utf-8"), newline=""),
        dtype=str,
        delimiter=",",
        quotechar='"',
        comments=None,
        ndmin=2,
    )
    found: list[list[str]] = table.tolist()
    return found
