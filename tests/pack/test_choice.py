"""What `--only` picks: what one person needs, documents, pieces and walls; a whole name goes first."""

from __future__ import annotations

from pathlib import Path

import pytest

from matplan.documents.document import Kit
from matplan.documents.shelf import SHELF
from matplan.job import read_job
from matplan.pack import OnlyError, choice, pack_files
from matplan.planning import Plan, plan
from tests.readback import read_pdf

JOB = """
title = "Two people"
[board.white]
colour = "#f6f2e8"
sheets = [{ size = "815 x 1120 mm", price = 9.80 }]
[paper.rag]
size = "A4"
[frame.ash]
rail = "20 mm"
sticks = [{ length = "3 m", price = 12.00 }]
kerf = "3 mm"
"""
PIECE = """
[[piece]]
name = "{}"
paper = "rag"
image = "200 x 150 mm"
border = "60 mm"
frame = "ash"
mat = ["white"]
mat_supply = "sheets"
"""
WALL = """
[[wall]]
name = "Hall"
pieces = ["{}"]
size = "3 x 2.5 m"
"""


def made(folder: Path, *names: str, wall: str = "") -> Plan:
    path = folder / "job.toml"
    text = JOB + "".join(map(PIECE.format, names)) + (WALL.format(wall) if wall else "")
    path.write_text(text, encoding="utf-8")
    return plan(read_job(path))


def names_of(job: Plan, *only: str) -> set[str]:
    return {name for name, _ in pack_files(job, choice(job.job, only))} - {"plan.json"}


def test_each_person_gets_what_the_work_needs(tmp_path: Path) -> None:
    job = made(tmp_path, "Gull", "Pier", wall="Pier")
    cuts = {f"cut/{name}-layer1.svg" for name in ("gull", "pier")}
    whole = {f"{room}/{name}" for name in ("gull", "pier") for room in ("front", "template")}
    bench = {*cuts, *(f"{name}.svg" if name.startswith("front") else f"{name}.pdf" for name in whole)}
    assert {"order.csv", "order.pdf"} <= names_of(job, "shop")
    assert names_of(job, "bench") >= {*bench, "bench-card.svg", "assembly.pdf", "sheets/white-1.svg"}
    assert names_of(job, "saw") == {"sticks/ash.svg"}
    assert names_of(job, "print") == {"print/gull.svg", "print/pier.svg"}
    assert names_of(job, "wall") >= {"wall/hall.svg", "template/hang-pier.pdf"}


def test_no_two_persons_get_the_same_and_together_they_get_all(tmp_path: Path) -> None:
    job = made(tmp_path, "Gull", "Pier", wall="Pier")
    kits = [names_of(job, kit) for kit in Kit]
    assert sum(map(len, kits)) == len(set.union(*kits))
    assert set.union(*kits) | {"workshop.pdf"} == {name for name, _ in pack_files(job, choice(job.job, None))} - {
        "plan.json"
    }
    assert {document.part for document in SHELF if document.kit is None} == {"plan", "machine", "workshop"}


def test_a_person_s_piece(tmp_path: Path) -> None:
    job = made(tmp_path, "Gull", "Pier")
    assert names_of(job, "print", "Gull") == {"print/gull.svg"}


def test_a_wall_brings_its_own_pieces_templates(tmp_path: Path) -> None:
    job = made(tmp_path, "Gull", "Pier", wall="Pier")
    found = names_of(job, "Hall")
    assert "template/hang-pier.pdf" in found
    assert all(name.startswith(("wall/hall", "template/hang-pier")) for name in found)


def test_a_whole_name_goes_before_documents_and_says_so(tmp_path: Path) -> None:
    job = made(tmp_path, "shop", "cut, front", "Pier")
    taken = choice(job.job, "shop")
    assert taken.pieces == {"shop"}
    assert "order" in taken.parts
    assert taken.notes == ("shop is taken as the piece or wall of that name; for the documents write documents:shop",)
    documents = choice(job.job, ["documents:shop"])
    assert documents.parts == {"shop"}
    assert documents.pieces == {"shop", "cut-front", "pier"}
    both = choice(job.job, ["shop", "documents:shop"])
    assert both.parts == both.pieces == {"shop"}
    assert choice(job.job, "shop, Pier").pieces == {"shop", "pier"}


def test_a_name_with_a_comma_counts_as_one_and_may_repeat(tmp_path: Path) -> None:
    job = made(tmp_path, "cut, front", "One, two", "Pier")
    taken = choice(job.job, ["cut, front", "order"])
    assert taken.parts == {"order"}
    assert taken.pieces == {"cut-front"}
    assert taken.notes == ("cut, front is taken as one name; for its parts write --only once for each",)
    assert choice(job.job, ["cut", "front"]).parts == {"cut", "front"}
    assert choice(job.job, "One, two, Pier, order").pieces == {"one-two", "pier"}
    assert not choice(job.job, "One, two, Pier").notes
    with pytest.raises(OnlyError, match="several at once shop, bench, saw, the pieces"):
        choice(job.job, "shops")


def test_the_workbook_binds_what_is_chosen_beside_it(tmp_path: Path) -> None:
    job = made(tmp_path, "Gull", "Pier", wall="Pier")

    def chapters(*only: str) -> list[str]:
        files = dict(pack_files(job, choice(job.job, only)))
        reading = read_pdf(files["workshop.pdf"])
        count = len(reading.pages)
        assert any(text.text == f"page {count} of {count}" for text in reading.pages[-1].texts)
        return [title for level, title, _ in reading.bookmarks if level == 0]

    everything = ["Contents", "To buy", "Prints", "Sheets", "Sticks", "Windows", "Assembly", "Walls"]
    assert chapters("workshop") == everything
    assert chapters("saw", "workshop") == ["Contents", "Sticks"]
    assert chapters("bench", "workshop") == ["Contents", "Sheets", "Windows", "Assembly"]
    assert chapters("workshop", "wall", "order") == ["Contents", "To buy", "Walls"]
    assert names_of(job, "saw", "workshop") == {"sticks/ash.svg", "workshop.pdf"}
