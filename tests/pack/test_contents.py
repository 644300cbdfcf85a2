"""Files of a pack: every sheet of a document has a file, and no file has another's name."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from matplan.documents.document import Document, Form, Subject
from matplan.documents.parts.folio import Folio
from matplan.drawing.sheet import Sheet
from matplan.pack import choice, pack_files
from matplan.pack.contents import files_of
from tests.making import double_mat, frame, piece, planned, window


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


@pytest.mark.parametrize("only", [None, "cut", "workshop"])
def test_progress_ends_where_it_said(only: str | None) -> None:
    """Two boards have a page of their own in the workbook, which is no file."""
    made = planned(piece(apertures=(window(image="250 x 167"),), frame=frame("40 x 50 cm"), mat=double_mat()))
    told: list[tuple[int, int]] = []
    pack_files(made, choice(made.job, only), lambda done, total: told.append((done, total)))
    assert told[-1][0] == told[-1][1] == len(told)
