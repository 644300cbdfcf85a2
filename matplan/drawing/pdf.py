"""The PDF back end: sheets as the pages of one book, each page as large as its sheet.

Text is set in embedded subsets of the same instances that the SVG embeds. The same book gives the same bytes.
"""

from collections.abc import Sequence
from functools import cache
from typing import TYPE_CHECKING, Any, Final, assert_never

from matplan.drawing import fonts, lettering
from matplan.drawing.book import Book, Chapter
from matplan.drawing.items import Compound, Ellipse, Group, Image, Item, Line, Link, Path, Polyline, Rect, Text
from matplan.drawing.pdf_content import PT, Content, Shown
from matplan.drawing.pdf_structure import PICTURE, Marks, Structure
from matplan.drawing.pens import PAPER
from matplan.drawing.sheet import Sheet

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

VERSION: Final = (1, 7)
"""ISO 32000-1: the first version whose viewers know all that is asked of them here."""


def render(book: Book | Sheet | Sequence[Sheet]) -> bytes:
    """Return the book (or single sheets, each with its own bookmark) as the bytes of a PDF."""
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
        self._content: Content
        self._marks: Marks
        self._structure: Structure
        self._readers: dict[bytes, Any] = {}
        self._codes: dict[tuple[str, str], Shown] = {}
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
            first: Any = self._fonts[False]  # else every page names a font that is not embedded
            self._canvas = Canvas(
                out, invariant=1, pageCompression=1, lang="en", pdfVersion=VERSION, initialFontName=first
            )
            self._document.info = _about(lettering.clean(self._book.title))
            self._structure = Structure(self._document, lettering.clean(self._book.title))
            self._canvas.setViewerPreference("DisplayDocTitle", "true")
            if self._book.full_size:
                self._canvas.setViewerPreference("PrintScaling", "None")
            self._chapters(self._book.chapters, "chapter", 0)
            self._structure.finish()
            self._canvas.save()
        finally:
            rl_config.useA85 = packed
        return out.getvalue()

    @property
    def _document(self) -> Any:
        """The library's document behind its canvas."""
        canvas: Any = self._canvas
        return canvas._doc

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
        self._canvas.setPageSize((width * PT, height * PT))
        self._canvas.bookmarkPage(_place(sheet.name), fit="Fit")
        self._marks = Marks(self._canvas.addLiteral)
        self._content = Content(height, self._canvas.addLiteral, self._marks)
        for item in sheet.items:
            self._item(item)
        self._marks.end()
        self._structure.page(lettering.clean(sheet.title), self._marks.kinds)

    def _item(self, item: Item) -> None:
        match item:
            case Line():
                self._content.line(item.start, item.end, item.pen)
            case Polyline() | Rect() | Ellipse() | Path():
                self._content.shape((item,), item.pen, item.fill)
            case Compound():
                self._content.shape(item.outlines, item.pen, item.fill)
            case Text():
                self._text(item)
            case Image():
                with self._content.clipped(item.clip):
                    self._image(item)
            case Group():
                with self._content.clipped(item.clip):
                    for part in item.items:
                        self._item(part)
            case Link():
                if item.target in self._names:
                    (x1, y1), (x2, y2) = map(
                        self._content.at, ((item.x, item.y), (item.x + item.width, item.y + item.height))
                    )
                    self._canvas.linkRect("", _place(item.target), (x1, y2, x2, y1), thickness=0)
            case _:
                assert_never(item)

    def _image(self, item: Image) -> None:
        self._marks.begin(PICTURE)
        x, y = self._content.at((item.x, item.y + item.height))
        self._canvas.drawImage(self._reader(item.content), x, y, item.width * PT, item.height * PT, mask="auto")

    def _reader(self, content: bytes) -> Any:
        import io

        from reportlab.lib.utils import ImageReader

        if content not in self._readers:
            self._readers[content] = ImageReader(io.BytesIO(content))
        return self._readers[content]

    def _text(self, item: Text) -> None:
        setting = lettering.setting(item)
        if not setting.text:
            return
        if item.halo:
            self._content.shape((Polyline(points=setting.corners(lettering.HALO_MM), closed=True),), None, PAPER)
        if lettering.is_set(setting.text):
            shown = [self._shown(self._fonts[item.bold], run.text) for run in setting.runs]
            self._content.text(setting, shown, item.colour)
            return
        from matplan.drawing import outlines

        steps = outlines.placed(setting.text, item.bold, start=setting.start, em=setting.em)
        self._content.outlines(steps, setting, item.colour)
        # blank glyphs as wide together as the outlines, so that programs still read the text
        readable = outlines.readable(setting.text)
        stretch = setting.width / setting.em / len(readable)
        self._content.text(setting, [self._shown(self._blank, readable)], item.colour, stretch)

    def _shown(self, font: str, text: str) -> Shown:
        """Return the text in the codes of the document's subsets of the font."""
        found = self._codes.get((font, text))
        if found is None:
            from reportlab.pdfbase import pdfmetrics

            face: Any = pdfmetrics.getFont(font)
            found = tuple(
                (face.getSubsetInternalName(subset, self._document), codes.hex())
                for subset, codes in face.splitString(text, self._document)
            )
            self._codes[font, text] = found
        return found


def _about(title: str) -> Any:
    """Return what the file says of itself: its title and the program, and no day, person or place."""
    from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFInfo, PDFString

    class About(PDFInfo):
        def format(self, document: Any) -> Any:
            return PDFDictionary({"Title": PDFString(title), "Creator": PDFString("matplan")}).format(document)

    return About()


def _place(name: str) -> str:
    return f"sheet {name}"


def _drawn_characters(texts: list[str]) -> frozenset[str]:
    """Return the characters of texts that are drawn in outlines; blank glyphs stand for them."""
    drawn = [text for text in texts if not lettering.is_set(text)]
    if not drawn:
        return frozenset()
    from matplan.drawing import outlines

    return frozenset(c for text in drawn for c in outlines.readable(text))


@cache
def _registered_font(content: bytes) -> str:
    """Return the name under which reportlab knows that font file."""
    import hashlib
    import io

    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    name = hashlib.sha256(content).hexdigest()[:16]
    pdfmetrics.registerFont(TTFont(name, io.BytesIO(content), shapable=False))
    return name
