"""The gallery's pages are what their makers make now, open from disk and lead to files that are there.

After a change that is meant, write them anew with `python -m tests.gallery.pages` (or with the packs, see
`test_gallery`).
"""

from __future__ import annotations

import os
import re
import tomllib
from dataclasses import MISSING
from typing import Any

import pytest
from lxml import html

from matplan.cli.commands import matplan
from matplan.documents.shelf import SHELF
from matplan.job.file.complaints import Faults
from matplan.job.file.kinds import OneOf
from matplan.job.file.lines import Lines
from matplan.job.file.table import Reader, keys_of
from matplan.job.file.wrong import read_float
from matplan.job.read.supplies import MAKERS
from matplan.job.records import Job
from matplan.job.schema import schema
from matplan.lengths import Units
from tests.gallery.front_page import GALLERY, scenarios
from tests.gallery.pages import PAGES, write
from tests.gallery.reference import example, forms, sections
from tests.gallery.reference import written as toml

FILES = sorted(path.name for path in GALLERY.glob("*.html"))


def read(name: str) -> Any:
    """A page as a tree."""
    return html.fromstring((GALLERY / name).read_bytes())


REFERENCE = read("reference.html")


@pytest.mark.parametrize("name", PAGES)
def test_a_page_is_what_its_maker_makes_now(name: str) -> None:
    if os.environ.get("MATPLAN_RENEW_GALLERY") == "1":
        write(name)
    kept = (GALLERY / name).read_bytes()
    assert kept == PAGES[name]().encode(), f"{name} is old: write it with `python -m tests.gallery.pages`"


@pytest.mark.parametrize("name", FILES)
def test_a_page_opens_from_disk_and_all_its_links_are_there(name: str) -> None:
    document = read(name)
    assert not document.xpath("//script | //link | //iframe | //@onclick | //base")
    marks = set(document.xpath("//@id"))
    assert len(marks) == len(document.xpath("//@id"))
    for place in document.xpath("//@href | //@src"):
        file, _, mark = str(place).partition("#")
        assert not re.match(r"[a-z]+:|/|\\", file), place
        assert not file or (GALLERY / file).resolve().is_relative_to(GALLERY.parent), place
        assert not file or (GALLERY / file).is_file(), place
        assert file or mark in marks, place


def test_the_front_page_shows_every_scenario_by_its_pictures() -> None:
    document = read("index.html")
    folders = sorted(path.parent.name for path in GALLERY.glob("*/job.toml"))
    assert sorted(folder for _, folder, _ in scenarios()) == folders
    shown = set(map(str, document.xpath("//img/@src")))
    for folder in folders:
        pack = GALLERY / folder / "pack"
        wanted = [*pack.glob("front/*.svg"), *pack.glob("wall/*-clean.svg"), *pack.glob("wall/*-photo.svg")]
        assert {path.relative_to(GALLERY).as_posix() for path in wanted} <= shown
        for part in ("cut", "sheets", "sticks"):
            assert any(each.startswith(f"{folder}/pack/{part}/") for each in shown) == (pack / part).exists()
        assert f"{folder}/pack/workshop.pdf" in document.xpath("//a/@href")
    assert all(document.xpath("//img/@alt"))


# --- the reference ---------------------------------------------------------------------------------------------------

SECTIONS = sections(schema())
KEYS = [(section, name, part) for section in SECTIONS.values() for name, part in section.about["properties"].items()]


def test_every_table_of_the_schema_has_its_section() -> None:
    held = {about["description"] for about in schema()["$defs"].values()}
    assert held <= {section.about["description"] for section in SECTIONS.values()}
    heads = [head for section in SECTIONS.values() for head in section.heads]
    assert {"[paper.NAME]", "[glazing.NAME]", "[[piece.aperture]]", "[[wall.group]]", "wall → hang"} <= set(heads)
    assert len(heads) == len(set(heads))


@pytest.mark.parametrize(("section", "name", "part"), KEYS, ids=[f"{s.anchor}-{n}" for s, n, _ in KEYS])
def test_every_key_has_its_words_its_kind_and_an_example(section: Any, name: str, part: dict[str, Any]) -> None:
    (row,) = REFERENCE.xpath(f"//span[@id='{section.anchor}.{name}']/ancestor::tr")
    _, says, written, _, shown = (cell.text_content() for cell in row)
    assert len(says) >= 10
    assert says.endswith((".", "…"))
    assert written
    chosen = any("enum" in form or form.get("type") == "boolean" for form in forms(part))
    named = section.anchor == "the-job" and not any("title" in form for form in forms(part))
    headed = name in ("aperture", "group", "temperature", "humidity")
    assert shown or chosen or named or headed or name == "supplies"
    assert shown == example(name, part)


def records(of: type) -> list[type]:
    """A record and all records of the tables within it."""
    found: list[type] = []

    def tables(record: type, _without: tuple[str, ...]) -> dict[str, Any]:
        if record not in found:
            found.append(record)
            for key in keys_of(record).values():
                key.kind.schema(tables)
                for way in key.kind.ways.values() if isinstance(key.kind, OneOf) else ():
                    tables(way, ())
        return {}

    tables(of, ())
    return found


@pytest.mark.parametrize("units", [Units.MM, Units.IN])
def test_every_example_can_be_read(units: Units) -> None:
    tried = 0
    for key in {id(key): key for record in records(Job) for key in keys_of(record).values()}.values():
        if key.example is MISSING:
            continue
        faults = Faults(Lines(""))
        reader = Reader(units=units, faults=faults, currency="EUR", makers=MAKERS, find=lambda kind, name: (kind, name))
        line = f"example = {toml(key.example)}"
        value = tomllib.loads(line, parse_float=read_float)["example"]
        held = reader.value(key.kind, value, (key.name,))
        assert not faults, f"{key.name}: {line}"
        assert held is not MISSING or isinstance(value, dict), f"{key.name}: {line}"  # a wall fills its tables in
        tried += 1
    assert tried > 180


def test_every_command_and_option_and_every_file_of_a_pack_is_there() -> None:
    text = REFERENCE.text_content()
    for name, command in matplan.commands.items():
        (head,) = REFERENCE.xpath(f"//h3[@id='command-{name}']")
        assert f"matplan {name}" in head.text_content()
        options = [each for option in command.params for each in option.opts if each.startswith("--")]
        assert [option for option in options if option not in text] == []
    assert [document.what for document in SHELF if document.what.replace("`", "") not in text] == []
