"""The shelf, the names of `--only` and the workbook agree; each document's module draws."""

from __future__ import annotations

import inspect
from importlib import import_module

import pytest

from matplan.documents.document import Chapter, Document, Form
from matplan.documents.shelf import PARTS, SHELF
from matplan.pack.back_ends import BACK_ENDS


@pytest.mark.parametrize("document", SHELF, ids=lambda document: document.module)
def test_a_document_is_a_module_that_draws(document: Document) -> None:
    module = import_module(f"matplan.documents.{document.module}")
    assert next(iter(inspect.signature(module.drawn).parameters)).lstrip("_") == "folio"
    assert hasattr(module, "picture_sizes") >= document.pictured
    assert document.path or document.chapter
    assert bool(document.path) == bool(document.forms) == bool(document.what)


def test_no_two_documents_share_a_file() -> None:
    files = [
        (document.path, form.ending)
        for document in SHELF
        for form in document.forms
        if document.module not in ("prints.caption_insert", "prints.photo_pages")  # a window has one or the other
    ]
    assert len(set(files)) == len(files)


def test_every_form_has_its_back_end() -> None:
    assert set(BACK_ENDS) == set(Form)


def test_the_command_line_s_help_names_every_document() -> None:
    from matplan.cli.commands import make

    (only,) = (option for option in make.params if option.name == "only")
    text = str(getattr(only, "help", ""))
    assert f"({', '.join(PARTS)})" in text


def test_every_chapter_has_a_place_in_the_order_of_work() -> None:
    bound = [document.chapter for document in SHELF if document.chapter is not None]
    assert sorted(bound, key=list(Chapter).index) == bound
