"""The PDF back end: sheets as the pages of one book, each page as large as its sheet.

Text is set in embedded subsets of the same instances that the SVG embeds. The same book gives the same bytes.
"""

from collections.abc import Sequence
from functools import cache
from typing import TYPE_CHECKING, Any, assert_never

from matplan.drawing import fonts, lettering
from matplan.drawing.arcs import beziers
from matplan.drawing.book import Book, Chapter
from matplan.drawing.items import (
    ArcTo,
    Compound,
    Ellipse,
    Group,
    Image,
    Item,
    Line,
    Link,
    Outline,
    Path,
    Point,
    Polyline,
    Rect,
    Text,
    To,
)
from matplan.drawing.pens import PAPER, STROKES, Pen
from matplan.drawing.sheet import Sheet

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas
    from reportlab.pdfgen.pathobject import PDFPathObject

_PT = 72 / 25.4


def render(book: Book | Sheet | Sequence[Sheet]) -> bytes:
    """The book (or single sheets, each with its own bookmark) as the bytes of a PDF."""
    match book:
        case Book():
            return _Writer(book).written()
        case Sheet():
            return render((book,))
        case _:
            sheets = tuple(book)
            chapters = tuple(Chapter(title=sheet.title, sheets=(sheet,)) for sheet in sheets)
            return _Writer(Book(title=sheets[0].title if sheets else "", chapters=chapters)).written()


class _Writer:
    def __init__(self, book: Book) -> None:
        self._book = book
        self._canvas: Canvas
        self._height = 0.0
        self._readers: dict[bytes, Any] = {}
        self._taken: list[tuple[Pen | None, str | None]] = [(None, None)]
        """The pen and the fill colour that the page has taken up, in each saved state: what stays the same is not said
        again.
        """
        self._names = {sheet.name for sheet in book.sheets}
        texts = [lettering.clean(text.text) for sheet in book.sheets for text in sheet.texts()]
        further = fonts.extra(texts)
        self._fonts = {bold: _registered_font(fonts.instance(bold, further)) for bold in (False, True)}
        drawn = _drawn_characters(texts)
        self._blank = _registered_font(fonts.blank(drawn)) if drawn else ""

    def written(self) -> bytes:
        import io

        from reportlab import rl_config
        from reportlab.pdfgen.canvas import Canvas

        out = io.BytesIO()
        packed = rl_config.useA85
        rl_config.useA85 = 0  # packed bytes as they are: text around them makes a page a quarter longer
        try:
            self._canvas = Canvas(out, invariant=1, pageCompression=1, lang="en")
            self._canvas.setTitle(lettering.clean(self._book.title))
            self._canvas.setAuthor("")
            self._canvas.setSubject("")
            self._canvas.setCreator("matplan")
            if self._book.full_size:
                self._canvas.setViewerPreference("PrintScaling", "None")
            self._chapters(self._book.chapters, "chapter", 0)
            self._canvas.save()
        finally:
            rl_config.useA85 = packed
        return out.getvalue()

    def _chapters(
        self, chapters: Sequence[Chapter], key: str, level: int, due: tuple[tuple[str, str, int], ...] = ()
    ) -> None:
        """Draw the chapters' pages. `due` are bookmarks of chapters above that point to the next page."""
        for number, chapter in enumerate(chapters, 1):
            own = f"{key} {number}"
            due = (*due, (own, chapter.title, level))
            for index, sheet in enumerate(chapter.sheets):
                self._page(sheet)
                for mark in due:
                    self._mark(*mark)
                due = ()
                if len(chapter.sheets) > 1:
                    self._mark(f"{own} sheet {index + 1}", sheet.title, level + 1)
                self._canvas.showPage()
            self._chapters(chapter.below, own, level + 1, due)
            due = ()

    def _mark(self, key: str, title: str, level: int) -> None:
        self._canvas.bookmarkPage(key, fit="Fit")
        self._canvas.addOutlineEntry(lettering.clean(title), key, level, closed=level == 0)

    def _page(self, sheet: Sheet) -> None:
        width, height = sheet.size
        self._height = height * _PT
        self._taken = [(None, None)]
        self._canvas.setPageSize((width * _PT, height * _PT))
        self._canvas.bookmarkPage(_place(sheet.name), fit="Fit")
        for item in sheet.items:
            self._item(item)

    def _at(self, point: Point) -> Point:
        """Page units (points, y up) of a paper point."""
        return (point[0] * _PT, self._height - point[1] * _PT)

    def _item(self, item: Item) -> None:
        match item:
            case Line():
                (x1, y1), (x2, y2) = self._at(item.start), self._at(item.end)
                if self._ready(item.pen):
                    self._canvas.line(x1, y1, x2, y2)
            case Polyline() | Rect() | Ellipse() | Path():
                self._shape((item,), item.pen, item.fill)
            case Compound():
                self._shape(item.outlines, item.pen, item.fill)
            case Text():
                self._text(item)
            case Image():
                self._image(item)
            case Group():
                if item.clip is not None:
                    self._save()
                    self._clip(item.clip)
                for part in item.items:
                    self._item(part)
                if item.clip is not None:
                    self._restore()
            case Link():
                if item.target in self._names:
                    x1, y1 = self._at((item.x, item.y))
                    x2, y2 = self._at((item.x + item.width, item.y + item.height))
                    self._canvas.linkRect("", _place(item.target), (x1, y2, x2, y1), thickness=0)
            case _:
                assert_never(item)

    def _ready(self, pen: Pen | None) -> bool:
        """Takes up the pen; whether there is one."""
        if pen is None:
            return False
        taken, colour = self._taken[-1]
        if taken is pen:
            return True
        self._taken[-1] = (pen, colour)
        stroke, canvas = STROKES[pen], self._canvas
        canvas.setStrokeColor(_colour(stroke.colour))
        canvas.setLineWidth(stroke.width * _PT)
        canvas.setDash([d * _PT for d in stroke.dashes])
        return True

    def _fill(self, colour: str) -> None:
        """Takes up the fill colour."""
        pen, taken = self._taken[-1]
        if taken != colour:
            self._taken[-1] = (pen, colour)
            self._canvas.setFillColor(_colour(colour))

    def _save(self) -> None:
        self._taken.append(self._taken[-1])
        self._canvas.saveState()

    def _restore(self) -> None:
        self._taken.pop()
        self._canvas.restoreState()

    def _shape(self, outlines: Sequence[Outline], pen: Pen | None, fill: str | None) -> None:
        path = self._canvas.beginPath()
        for outline in outlines:
            self._trace(path, outline)
        stroked = self._ready(pen)
        if fill is not None:
            self._fill(fill)
        if stroked or fill is not None:
            self._canvas.drawPath(path, stroke=int(stroked), fill=int(fill is not None), fillMode=0)

    def _clip(self, outline: Outline) -> None:
        path = self._canvas.beginPath()
        self._trace(path, outline)
        self._canvas.clipPath(path, stroke=0, fill=0)

    def _trace(self, path: "PDFPathObject", outline: Outline) -> None:
        match outline:
            case Polyline():
                first, *rest = outline.points
                path.moveTo(*self._at(first))
                for point in rest:
                    path.lineTo(*self._at(point))
                if outline.closed:
                    path.close()
            case Rect():
                x, y = self._at((outline.x, outline.y + outline.height))
                path.rect(x, y, outline.width * _PT, outline.height * _PT)
            case Ellipse(centre=(x, y), rx=rx, ry=ry):
                path.moveTo(*self._at((x - rx, y)))
                for end in ((x + rx, y), (x - rx, y)):
                    here = (x - rx if end[0] > x else x + rx, y)
                    self._arc(path, here, ArcTo(end=end, rx=rx, ry=ry))
                path.close()
            case Path():
                path.moveTo(*self._at(outline.start))
                here = outline.start
                for step in outline.steps:
                    match step:
                        case To():
                            path.lineTo(*self._at(step.end))
                        case ArcTo():
                            self._arc(path, here, step)
                        case _:
                            assert_never(step)
                    here = step.end
                if outline.closed:
                    path.close()
            case _:
                assert_never(outline)

    def _arc(self, path: "PDFPathObject", start: Point, arc: ArcTo) -> None:
        for first, second, end in beziers(start, arc):
            path.curveTo(*self._at(first), *self._at(second), *self._at(end))

    def _image(self, item: Image) -> None:
        canvas = self._canvas
        x, y = self._at((item.x, item.y + item.height))
        if item.clip is not None:
            self._save()
            self._clip(item.clip)
        canvas.drawImage(self._reader(item.content), x, y, item.width * _PT, item.height * _PT, mask="auto")
        if item.clip is not None:
            self._restore()

    def _reader(self, content: bytes) -> Any:
        import io

        from reportlab.lib.utils import ImageReader

        if content not in self._readers:
            self._readers[content] = ImageReader(io.BytesIO(content))
        return self._readers[content]

    def _text(self, item: Text) -> None:
        setting = lettering.setting(item)
        if item.halo:
            self._shape((Polyline(points=setting.corners(lettering.HALO_MM), closed=True),), None, PAPER)
        canvas = self._canvas
        x, y = self._at(setting.start)
        self._fill(item.colour)
        set_in_type = lettering.is_set(setting.text)
        turned = bool(item.turn)
        if turned:
            self._save()
            ax, ay = self._at(item.at)
            canvas.translate(ax, ay)
            canvas.rotate(-item.turn)
            canvas.translate(-ax, -ay)
        if not set_in_type:
            self._outlines(item, setting)
        text = canvas.beginText(x, y)
        if set_in_type:
            text.setFont(self._fonts[item.bold], setting.em * _PT)
            shown, stretch = setting.text, setting.stretch
        else:
            from matplan.drawing import outlines

            # blank glyphs as wide together as the outlines, so that programs still read the text
            text.setFont(self._blank, setting.em * _PT)
            shown = outlines.readable(setting.text)
            stretch = setting.width / setting.em / len(shown)
        if stretch != 1.0:
            text.setHorizScale(stretch * 100)
        text.textOut(shown)
        if stretch != 1.0:  # the state outlives the text object
            text.setHorizScale(100)
        canvas.drawText(text)
        if turned:
            self._restore()

    def _outlines(self, item: Text, setting: lettering.Setting) -> None:
        from matplan.drawing import outlines

        path = self._canvas.beginPath()
        here = setting.start
        for step in outlines.placed(
            setting.text, item.bold, start=setting.start, em=setting.em, stretch=setting.stretch
        ):
            points = step.points
            match step.verb:
                case "move":
                    path.moveTo(*self._at(points[0]))
                case "line":
                    path.lineTo(*self._at(points[0]))
                case "quad":
                    control, end = points
                    first, second = _raised(here, control), _raised(end, control)
                    path.curveTo(*self._at(first), *self._at(second), *self._at(end))
                case "curve":
                    path.curveTo(*(v for p in points for v in self._at(p)))
                case "close":
                    path.close()
                case _:
                    assert_never(step.verb)
            if points:
                here = points[-1]
        self._canvas.drawPath(path, stroke=0, fill=1, fillMode=1)


def _raised(end: Point, control: Point) -> Point:
    """The cubic's control point beside `end` for a quadratic's."""
    return (end[0] + (control[0] - end[0]) * 2 / 3, end[1] + (control[1] - end[1]) * 2 / 3)


def _place(name: str) -> str:
    return f"sheet {name}"


def _colour(text: str) -> Any:
    from reportlab.lib.colors import HexColor

    colour = _COLOURS.get(text)
    if colour is None:
        colour = _COLOURS[text] = HexColor(text)
    return colour


_COLOURS: dict[str, Any] = {}


def _drawn_characters(texts: list[str]) -> frozenset[str]:
    """What blank glyphs stand for in those of the texts that are drawn in outlines."""
    drawn = [text for text in texts if not lettering.is_set(text)]
    if not drawn:
        return frozenset()
    from matplan.drawing import outlines

    return frozenset(c for text in drawn for c in outlines.readable(text) + lettering.ELLIPSIS)


@cache
def _registered_font(content: bytes) -> str:
    """The name under which reportlab knows that font file."""
    import hashlib
    import io

    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    name = hashlib.sha256(content).hexdigest()[:16]
    pdfmetrics.registerFont(TTFont(name, io.BytesIO(content), shapable=False))
    return name
