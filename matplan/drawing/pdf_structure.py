"""The structure of a tagged PDF (ISO 32000-1, 14.7 and 14.8): what programs that read aloud find on its pages.

Each sheet is a section with its title. Its words are one paragraph in the order of drawing, a picture is a figure, and
lines are left out as artifacts. Cells of tables are not told apart, and a drawing has no words for its lines: a reader
has the figures at them, and the lists that the pack gives besides.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

WORDS: Final = "P"
PICTURE: Final = "Figure"
ARTIFACT: Final = "Artifact"


class Marks:
    """The marked content of one page: what is drawn goes under the kind that was last begun."""

    def __init__(self, write: Callable[[str], object]) -> None:
        self._write = write
        self._open = ""
        self.kinds: list[str] = []
        """The kind of each marked content of the page, by its number (MCID)."""

    def begin(self, kind: str) -> None:
        """Put what is drawn next under that kind; each picture is one of its own."""
        if kind == self._open and kind != PICTURE:
            return
        self.end()
        if kind == ARTIFACT:
            self._write("/Artifact BMC")
        else:
            self._write(f"/{kind} <</MCID {len(self.kinds)}>> BDC")
            self.kinds.append(kind)
        self._open = kind

    def end(self) -> None:
        """End what is open, as before a change of clips or the page's end."""
        if self._open:
            self._write("EMC")
            self._open = ""


class Structure:
    """The tree of a document's sections, gathered page by page."""

    def __init__(self, document: Any, title: str) -> None:
        from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName, PDFString

        self._document = document
        self._array, self._table, self._name, self._text = PDFArray, PDFDictionary, PDFName, PDFString
        self._sections: list[Any] = []
        self._parents: list[Any] = []
        self._root = self._table({"Type": self._name("StructTreeRoot")})
        self._whole = self._element("Document", self._made(self._root), T=self._text(title))

    def page(self, title: str, kinds: list[str]) -> None:
        """Add the section of the page that is being drawn: what was marked on it, by number."""
        section = self._element("Sect", self._made(self._whole), T=self._text(title))
        here = self._document.thisPageRef()
        words = [number for number, kind in enumerate(kinds) if kind == WORDS]
        parts: list[Any] = []
        of: dict[int, Any] = {}
        if words:
            paragraph = self._made(self._element("P", self._made(section), Pg=here, K=self._array(words)))
            parts.append(paragraph)
            of |= dict.fromkeys(words, paragraph)
        for number, kind in enumerate(kinds):
            if kind == PICTURE:
                told = self._text(f"picture in: {title}")
                of[number] = self._made(self._element("Figure", self._made(section), Pg=here, K=number, Alt=told))
                parts.append(of[number])
        section.dict["K"] = self._array(parts)
        self._sections.append(self._made(section))
        self._parents.append(self._array([of[number] for number in range(len(kinds))]))

    def finish(self) -> None:
        """Put the tree into the document, after its last page."""
        from reportlab.pdfbase.pdfdoc import PDFPage

        for number, page in enumerate(self._document.Pages.pages):
            page.__NoDefault__ = [*PDFPage.__NoDefault__, "StructParents", "Tabs"]
            page.StructParents, page.Tabs = number, self._name("S")
        numbered = [part for number, made in enumerate(self._parents) for part in (number, self._made(made))]
        self._whole.dict["K"] = self._array(self._sections)
        self._root.dict |= {
            "K": self._made(self._whole),
            "ParentTree": self._made(self._table({"Nums": self._array(numbered)})),
            "ParentTreeNextKey": len(self._parents),
        }
        catalogue = self._document.Catalog
        catalogue.MarkInfo, catalogue.StructTreeRoot = self._table({"Marked": "true"}), self._root

    def _element(self, kind: str, parent: Any, **about: Any) -> Any:
        return self._table({"Type": self._name("StructElem"), "S": self._name(kind), "P": parent, **about})

    def _made(self, thing: Any) -> Any:
        """Return a reference to the object, which is written once."""
        return self._document.Reference(thing)
