"""A book of sheets: what a back end for several pages binds, under one bookmark a chapter."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from matplan.drawing.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class Chapter:
    """Sheets under one bookmark, and the chapters below it.

    Several sheets are bookmarked below their chapter by their titles.
    """

    title: str
    sheets: tuple[Sheet, ...] = ()
    below: tuple[Chapter, ...] = ()

    def all_sheets(self) -> Iterator[Sheet]:
        """Yield the chapter's own sheets and those of the chapters below it."""
        yield from self.sheets
        for chapter in self.below:
            yield from chapter.all_sheets()


@dataclass(frozen=True, slots=True, kw_only=True)
class Book:
    """A title, and chapters in order. `full_size`: a viewer is asked to print at 100 % unless told otherwise."""

    title: str
    chapters: tuple[Chapter, ...]
    full_size: bool = False

    @property
    def sheets(self) -> Iterator[Sheet]:
        """Every sheet, in order."""
        return (sheet for chapter in self.chapters for sheet in chapter.all_sheets())


def book_of(sheets: tuple[Sheet, ...], title: str = "", *, full_size: bool = False) -> Book:
    """Return a book of sheets without chapters: a bookmark each where there are several sheets."""
    named = title or (sheets[0].title if sheets else "")
    return Book(title=named, chapters=(Chapter(title=named, sheets=sheets),), full_size=full_size)
