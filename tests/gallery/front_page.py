"""The gallery's front page: each scenario by its pictures. Titles and sentences are those of the gallery's README."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

from lxml import etree

from tests.gallery.html import Crop, figure, link, nav, page, words

GALLERY = Path(__file__).parents[2] / "gallery"
_ROW = re.compile(r"^\| \[([^\]]+)\]\(([^/)]+)/README\.md\) \| (.+) \|$", re.MULTILINE)
AROUND = 0.5
"""Millimetres of paper left round a frame or a wall that is shown alone."""
WIDEST = 15
"""How wide the widest frame of a scenario is shown, in rem."""
DOCUMENTS = (
    ("pack/workshop.pdf", "Workbook"), ("pack/order.pdf", "Order"), ("pack/mats.pdf", "Mats to be cut"),
    ("pack/assembly.pdf", "Assembly list"), ("pack/labels.pdf", "Labels"), ("pack/plan.json", "Every number"),
    ("job.toml", "The job file"), ("README.md", "More"),
)  # fmt: skip


def scenarios() -> list[tuple[str, str, str]]:
    """Return each scenario's title, folder and sentence, in the order of the gallery's README."""
    return _ROW.findall((GALLERY / "README.md").read_text(encoding="utf-8"))


def crop_to(drawing: Path, *parts: str) -> tuple[Crop, float]:
    """Return where the first of those parts that it has stands on a drawing, with a little paper round it, and how wide
    all that is in millimetres of the part.
    """
    root = etree.parse(drawing).getroot()
    found = next(each for part in parts for each in root.iterfind(f".//*[@id='{part}']"))
    if points := found.get("points"):
        across, down = zip(*(map(float, point.split(",")) for point in points.split()), strict=True)
        left, top, right, bottom = min(across), min(down), max(across), max(down)
    else:
        left, top, wide, high = (float(found.get(name, "")) for name in ("x", "y", "width", "height"))
        right, bottom = left + wide, top + high
    crop = Crop(
        left=left - AROUND, top=top - AROUND, width=right - left + 2 * AROUND, height=bottom - top + 2 * AROUND,
        of=float(root.get("viewBox", "").split()[2]),
    )  # fmt: skip
    return crop, float(found.get("data-box", "").split()[2]) * crop.width / (right - left)


def title_of(drawing: Path) -> str:
    """Return a drawing's own title."""
    return etree.parse(drawing).getroot().findtext("{http://www.w3.org/2000/svg}title", "")


def fullest(drawings: Iterator[Path]) -> Path | None:
    """Return the drawing that measures most things, the first by name of several."""
    every = sorted(drawings)
    return max(every, key=lambda each: each.read_bytes().count(b"data-box")) if every else None


def story() -> str:
    """Return one photo's way to the wall, in four pictures, and the page that it can be planned on."""
    way = (
        ("family-wall/photos/shore.jpg", "1. The photo"),
        ("family-wall/pack/front/shore.svg", "2. Framed: every size, and the print that follows from them"),
        ("family-wall/pack/cut/shore-layer1.svg", "3. Its mat from the back: the cutter's settings, cut by cut"),
        ("family-wall/pack/wall/living-room-photo.svg", "4. On the wall, before a nail is in it"),
    )
    steps = "\n".join(figure(picture, picture, says) for picture, says in way)
    shown = figure(
        "page.png", "page.png", "The page, opened by matplan serve on your own machine: form, picture and text"
    )
    return f'<div class="sheets">\n{steps}\n</div>\n<div class="page">\n{shown}\n</div>'


def scenario(title: str, folder: str, sentence: str) -> str:
    """Return what the page shows of one scenario."""
    place = GALLERY / folder
    pack = place / "pack"

    def at(path: Path) -> str:
        return path.relative_to(GALLERY).as_posix()

    parts = [f'<h2 id="{folder}">{words(title)}</h2>', f"<p>{words(sentence)}.</p>"]
    parts += [
        figure(at(photo), at(photo), f"{title_of(photo)}: the frames in the perspective of the wall")
        for photo in sorted(pack.glob("wall/*-photo.svg"))
    ]
    walls = sorted(pack.glob("wall/*-clean.svg"))
    fronts = sorted(pack.glob("front/*.svg"))
    shown = [
        figure(at(wall), at(measured(wall)), title_of(wall), crop=crop_to(wall, "wall")[0]) for wall in walls
    ]  # a click leads to the wall with its measures
    if shown:
        parts.append(f'<div class="wall">\n{"\n".join(shown)}\n</div>')
    crops = {front: crop_to(front, "frame-outer", "blank") for front in fronts}
    widest = max(wide for _, wide in crops.values())
    framed = [
        figure(at(front), at(front), title_of(front), crop=crop, wide=f"{WIDEST * wide / widest:.2f}rem")
        for front, (crop, wide) in crops.items()
    ]  # all to one scale
    parts.append(f'<div class="fronts">\n{"\n".join(framed)}\n</div>')
    sheets = [
        figure(at(drawing), at(drawing), f"{what}{title_of(drawing)}")
        for what, drawing in (
            ("", fullest(pack.glob("cut/*.svg"))),
            ("Sheet layout: ", fullest(pack.glob("sheets/*.svg"))),
            ("Wall with its measures: ", measured(walls[0]) if walls else None),
            ("", fullest(pack.glob("sticks/*.svg"))),
            ("Print sheet: ", fullest(pack.glob("print/*.svg"))),
        )
        if drawing is not None
    ]
    parts.append(f'<div class="sheets">\n{"\n".join(sheets)}\n</div>')
    known = [(f"{folder}/{path}", name) for path, name in DOCUMENTS if (place / path).exists()]
    hung = [(at(wall), f"{title_of(wall.with_suffix('.svg'))}, to hang by") for wall in sorted(pack.glob("wall/*.pdf"))]
    known[1:1] = hung
    parts.append(nav(f"Documents of {title}", *(link(path, words(name)) for path, name in known)))
    return "\n".join(parts)


def measured(clean: Path) -> Path:
    """Return the view of a wall with its measures."""
    return clean.with_name(clean.name.replace("-clean.svg", ".svg"))


def front_page() -> str:
    """Return the gallery's front page."""
    every = scenarios()
    known = (("manual.md", "Manual"), ("reference.html", "Reference"), ("sources.html", "Sources of every figure"))
    return page(
        "matplan: gallery",
        "<h1>Framed, cut and hung by matplan</h1>",
        "<p>From a photo file to the wall: matplan plans mats, prints, sheets, sticks and walls backwards from the "
        "frame and draws what you cut and hang by. These are whole jobs of our own invention: no such people, places "
        "or photographs exist. Every picture leads to its drawing.</p>",
        nav("Scenarios", *(link(f"#{folder}", words(title)) for title, folder, _ in every)),
        nav("To read", *(link(path, words(name)) for path, name in known), link("../README.md", "README")),
        story(),
        *(scenario(*each) for each in every),
        "<footer><p>Blades, glass, heavy frames and walls with cables can hurt: the drawings carry short cautions "
        "where the work is; local codes and licensed practice decide.</p></footer>",
    )
