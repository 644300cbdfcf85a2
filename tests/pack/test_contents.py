"""Files of a pack: every sheet of a document has a file, and no file has another's name."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from matplan.documents.document import Document, Form, Subject
from matplan.documents.parts.folio import Folio
from matplan.drawing.sheet import Sheet
from matplan.pack.contents import files_of


@pytest.fixture
def two_sheets() -> tuple[Sheet, Sheet]:
    return (
        Sheet(name="a", title="a", size=(210, 297), items=()),
        Sheet(name="b", title="b", size=(210, 297), items=()),
    )


def over(_folio: Folio) -> Iterator[Subject]:
    yield Subject(names={"piece": "gull"}, record=None)


FRONT = Document(
    part="front", title="front view", over=over, module="front.view", path="front/{piece}", forms=(Form.SVG,)
)


def test_a_second_sheet_has_a_file_of_its_own(two_sheets: tuple[Sheet, Sheet]) -> None:
    (subject,) = over(Folio.__new__(Folio))
    names = [name for name, _ in files_of(FRONT, subject, two_sheets)]
    assert names == ["front/gull.svg", "front/gull-2.svg"]


def test_a_second_sheet_never_takes_the_name_of_another_piece(two_sheets: tuple[Sheet, Sheet]) -> None:
    """Two pieces whose names differ in case alone have the files gull and gull-2."""
    (subject,) = over(Folio.__new__(Folio))
    names = [name for name, _ in files_of(FRONT, subject, two_sheets, {"front/gull", "front/gull-2"})]
    assert names == ["front/gull.svg", "front/gull-sheet-2.svg"]
