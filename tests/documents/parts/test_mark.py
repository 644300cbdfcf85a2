"""The issue mark: the same job keeps it, also in another process; whatever the sheet shows otherwise changes it."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace

import pytest

from matplan.documents.parts.folio import Folio
from matplan.documents.parts.mark import LENGTH, content_mark, has_title_block, marked
from matplan.documents.shelf import SHELF
from matplan.drawing import clashes
from matplan.drawing.items import Group, Image, Item, Rect, Text
from matplan.drawing.sheet import Sheet
from matplan.planning import Plan
from tests.making import RAG, frame, photo, piece, planned, window

FIELD = Rect(x=20.0, y=20.0, width=30.0, height=40.0)
WORD = Text(at=(20.0, 90.0), text="Slipway")
PICTURE = Image(x=20.0, y=20.0, width=30.0, height=40.0, content=b"one", kind="jpeg")
BLOCK = Group(classes=("title-block",), items=())


def sheet(*items: Item) -> Sheet:
    return Sheet(name="one", title="One", size=(210.0, 297.0), items=items)


def slipway(image: str = "250 x 167") -> Plan:
    return planned(
        piece(apertures=(window(image=image, photo=photo(3000, 2000), paper=RAG),), frame=frame("40 x 50 cm"))
    )


def drawn(plan: Plan) -> Iterator[Sheet]:
    """Every sheet of a plan's documents, by itself."""
    folio = Folio(job=plan.job, pieces=plan.pieces, walls=plan.walls, plan=plan)
    for document in SHELF:
        for subject in document.over(folio):
            found = document.draw(folio, subject)
            if isinstance(found, tuple):
                yield from (one for one in found if isinstance(one, Sheet))


def marks(plan: Plan) -> dict[str, str]:
    """The mark of each sheet, by the sheet's name."""
    found = {}
    for one in filter(has_title_block, drawn(plan)):
        assert clashes.check(one) == ()
        (text,) = (text for text in one.texts() if "issue-mark" in text.classes)
        found[one.name] = text.text
    return found


def test_every_sheet_with_a_title_block_has_one_mark_and_the_same_job_keeps_it() -> None:
    found = marks(slipway())
    assert found == marks(slipway())
    assert len(set(found.values())) == len(found) >= 6


def test_another_size_changes_the_marks_of_the_sheets_that_show_it() -> None:
    before, after = marks(slipway()), marks(slipway("249 x 167"))
    assert before["front slipway"] != after["front slipway"]
    assert before["cut slipway layer 1"] != after["cut slipway layer 1"]


@pytest.mark.parametrize(
    "other",
    [
        (FIELD, replace(WORD, text="Slipways"), PICTURE, BLOCK),
        (replace(FIELD, x=20.01), WORD, PICTURE, BLOCK),
        (FIELD, WORD, replace(PICTURE, content=b"two"), BLOCK),
        (Group(items=(FIELD,), classes=("board",)), WORD, PICTURE, BLOCK),
        (Group(items=(FIELD, WORD)), PICTURE, BLOCK),
    ],
)
def test_all_that_a_sheet_shows_has_a_part_in_the_mark(other: tuple[Item, ...]) -> None:
    assert content_mark(sheet(*other)) != content_mark(sheet(FIELD, WORD, PICTURE, BLOCK))


def test_groups_end_where_they_end() -> None:
    one, other = (Group(items=(FIELD,)), WORD), (Group(items=(FIELD, WORD)),)
    assert content_mark(sheet(*one)) != content_mark(sheet(*other))


def test_a_sheet_without_a_title_block_stays_as_it_is() -> None:
    bare = sheet(FIELD)
    assert marked(bare) is bare


def test_another_process_gives_the_same_mark() -> None:
    program = (
        "from tests.documents.parts.test_mark import BLOCK, FIELD, PICTURE, WORD, sheet\n"
        "from matplan.documents.parts.mark import content_mark\n"
        "print(content_mark(sheet(FIELD, WORD, PICTURE, BLOCK)))"
    )
    found = {
        subprocess.run(
            [sys.executable, "-c", program],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout.strip()
        for seed in ("1", "2")
    }
    assert found == {content_mark(sheet(FIELD, WORD, PICTURE, BLOCK))}
    assert all(len(mark) == LENGTH for mark in found)
