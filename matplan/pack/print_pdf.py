"""The prints of a piece as a PDF to send to the printer: each page as large as its sheet is fed, the photo in place
with its own pixels.

Nothing is resampled and no colour is changed: a photo is turned and scaled by the page, its crop is a clip. What is
drawn besides are crop marks. The file is made in parts, each photo read from its own file as it is written.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from fractions import Fraction
from pathlib import Path
from typing import Final

from matplan.documents.prints.photo_pages import Page, Placed
from matplan.drawing.items import Point
from matplan.drawing.pdf_content import PT, lettered, traces
from matplan.lengths import Box
from matplan.pack.embedding import Embedded, embedded
from matplan.pack.pdf_stream import Body, Name, Packed, Ref, Value, document, number

_HAIR: Final = 0.25
"""Width of a crop mark, in points."""


def print_pdf(title: str, pages: Sequence[Page]) -> Iterator[bytes]:
    """The file in parts. A photo that stands on several pages is written once."""
    pages = tuple(pages)
    first = _FIRST + 2 * len(pages)
    photos: dict[Path, int] = {}
    for placed in (placed for page in pages for placed in page.prints):
        photos.setdefault(placed.photo.path, first + 2 * len(photos))
    info: dict[str, Value] = {"Title": title, "Creator": "matplan"}
    return document(_bodies(pages, photos), root=1, info=info)


_FIRST: Final = 3
"""Number of the first page's object: the catalogue and the list of pages come before."""


def _bodies(pages: Sequence[Page], photos: dict[Path, int]) -> Iterator[Body]:
    kids: list[Value] = [Ref(number=_FIRST + 2 * index) for index in range(len(pages))]
    preferences: Value = {"PrintScaling": Name("None"), "DisplayDocTitle": True}  # 100 %, unless somebody asks
    catalogue: dict[str, Value] = {"Type": Name("Catalog"), "Pages": Ref(number=2), "Lang": "en"}
    yield Body(number=1, value={**catalogue, "ViewerPreferences": preferences})
    yield Body(number=2, value={"Type": Name("Pages"), "Kids": kids, "Count": len(pages)})
    names = {path: f"Photo{index}" for index, path in enumerate(photos, 1)}
    made: dict[Path, int] = {}
    spare = itertools.count(_FIRST + 2 * len(pages) + 2 * len(photos))
    for path, at in photos.items():
        photo = next(placed.photo for page in pages for placed in page.prints if placed.photo.path == path)
        picture = embedded(photo)
        made[path] = picture.orientation
        yield from _photo(picture, at, spare)
        del picture  # before the next is decoded
    for index, page in enumerate(pages):
        at = _FIRST + 2 * index
        shown: dict[str, Value] = {
            names[placed.photo.path]: Ref(number=photos[placed.photo.path]) for placed in page.prints
        }
        about: dict[str, Value] = {
            "Type": Name("Page"),
            "Parent": Ref(number=2),
            "MediaBox": [0, 0, float(page.size.width) * PT, float(page.size.height) * PT],
            "Resources": {"XObject": shown},
            "Contents": Ref(number=at + 1),
        }
        yield Body(number=at, value=about)
        lines = [
            line
            for placed in page.prints
            for line in _drawn(placed, page, names[placed.photo.path], made[placed.photo.path])
        ]
        lines += lettered(page.words, float(page.size.height))
        yield Body(number=at + 1, value={}, stream=("\n".join(lines).encode(),))


def _photo(picture: Embedded, at: int, spare: Iterator[int]) -> Iterator[Body]:
    """The picture's object, and after it its colour profile's, or an empty one; one that is packed as it is written has
    its length in a `spare` one.
    """
    space: Value = picture.device
    if picture.profile is not None:
        space = [Name("ICCBased"), Ref(number=at + 1)]
    if picture.palette is not None:
        space = [Name("Indexed"), space, len(picture.palette) // 3 - 1, picture.palette]
    about: dict[str, Value] = {
        "Type": Name("XObject"),
        "Subtype": Name("Image"),
        "Width": picture.pixels[0],
        "Height": picture.pixels[1],
        "BitsPerComponent": picture.bits,
        "ColorSpace": space,
        **picture.about,
    }
    packed = next((part for part in picture.stream if isinstance(part, Packed)), None)
    if packed is None:
        yield Body(number=at, value=about, stream=picture.stream)
    else:
        length = Ref(number=next(spare))
        yield Body(number=at, value=about, stream=picture.stream, length=length)
        yield Body(number=length.number, value=packed.length)
    if picture.profile is None:
        yield Body(number=at + 1, value=None)
    else:
        yield Body(number=at + 1, value={"N": picture.colours, "Alternate": picture.device}, stream=(picture.profile,))


# --- what a page draws -----------------------------------------------------------------------------------------------

_TURNS: Final[dict[int, tuple[int, int, int, int, int, int]]] = {
    1: (1, 0, 0, 1, 0, 0),
    2: (-1, 0, 0, 1, 1, 0),
    3: (-1, 0, 0, -1, 1, 1),
    4: (1, 0, 0, -1, 0, 1),
    5: (0, -1, -1, 0, 1, 1),
    6: (0, -1, 1, 0, 0, 1),
    7: (0, 1, 1, 0, 0, 0),
    8: (0, 1, -1, 0, 1, 0),
}
"""From the unit square of the pixels as stored to that of the picture as seen, y up, for each Exif orientation (Exif
2.32, tag 0x0112).
"""


def _drawn(placed: Placed, page: Page, name: str, orientation: int) -> Iterator[str]:
    yield "q"
    if placed.onto is not None:
        yield _moved(placed, page)
    whole = _whole(placed.image, placed.crop)
    yield "q"
    yield from _clip(placed)
    x, y = _at((float(whole.x), float(whole.bottom)), placed.sheet.height)
    wide, high = float(whole.width) * PT, float(whole.height) * PT
    a, b, c, d, e, f = _TURNS[orientation]
    yield f"{_numbers(a * wide, b * high, c * wide, d * high, x + e * wide, y + f * high)} cm"
    yield f"/{name} Do"
    yield "Q"
    if placed.marks:
        yield f"{number(_HAIR)} w 0 G"
        for start, end in placed.marks:
            (x1, y1), (x2, y2) = (_at((float(px), float(py)), placed.sheet.height) for px, py in (start, end))
            yield f"{_numbers(x1, y1)} m {_numbers(x2, y2)} l S"
    yield "Q"


def _moved(placed: Placed, page: Page) -> str:
    """Brings a sheet's own coordinates to their place on a page that holds several."""
    if placed.onto is None:
        return ""
    x, y, turned = placed.onto
    left, top = float(x) * PT, float(page.size.height - y) * PT
    wide, high = float(placed.sheet.width) * PT, float(placed.sheet.height) * PT
    if turned:  # its top lies on the left
        return f"{_numbers(0, 1, -1, 0, left + high, top - wide)} cm"
    return f"{_numbers(1, 0, 0, 1, left, top - high)} cm"


def _whole(image: Box, crop: Box | None) -> Box:
    """Where the whole photo would lie, so that its crop lies in the image."""
    if crop is None:
        return image
    width, height = image.width / crop.width, image.height / crop.height
    return Box(image.x - crop.x * width, image.y - crop.y * height, width, height)


def _at(point: Point, height: Fraction) -> Point:
    """Points from the sheet's lower left corner."""
    return point[0] * PT, (float(height) - point[1]) * PT


def _clip(placed: Placed) -> Iterator[str]:
    image = placed.image
    x, y = _at((float(image.x), float(image.bottom)), placed.sheet.height)
    if placed.crop is not None:
        yield f"{_numbers(x, y, float(image.width) * PT, float(image.height) * PT)} re W n"
    if placed.shape is not None:
        yield from traces(placed.shape, float(placed.sheet.height) * PT)
        yield "W n"


def _numbers(*values: float) -> str:
    return " ".join(number(value) for value in values)
