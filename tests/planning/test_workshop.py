"""What a workshop keeps: after an edit only the changed parts are done again."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from matplan.job.read import photos
from matplan.job.records import Photo
from matplan.planning import Workshop
from matplan.stock import dropouts
from matplan.walls import cluster
from tests.planning.jobs import HEAD, job, piece

WALL = '[[wall]]\nname = "Landing"\nsize = "4000 x 2600 mm"\n'


@pytest.fixture
def searches(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, ...]]:
    """Return the names of the parts of each search for sheets, as searches are made."""
    made: list[tuple[str, ...]] = []
    cut = dropouts.cut_mats

    def counted(parts: Any, *arguments: Any, **named: Any) -> Any:
        made.append(tuple(part.name for part in parts))
        return cut(parts, *arguments, **named)

    monkeypatch.setattr(dropouts, "cut_mats", counted)
    return made


def test_pieces_that_an_edit_leaves_are_the_very_same_objects() -> None:
    workshop = Workshop()
    before = workshop.plan(job(piece("Gull"), piece("Coil"), piece("Tern")))
    after = workshop.plan(job(piece("Gull"), piece("Coil", width=281), piece("Tern")))
    assert after.pieces[0] is before.pieces[0]
    assert after.pieces[2] is before.pieces[2]
    assert after.pieces[1].apertures[0].image.width == 281


def test_a_line_more_above_a_piece_changes_nothing_but_where_its_faults_are_told() -> None:
    workshop = Workshop()
    before, after = job(piece("Gull"), piece("Coil")), job(piece("Gull", more="minutes = 20\n"), piece("Coil"))
    assert after.pieces[1].line == (before.pieces[1].line or 0) + 1
    assert workshop.solve(after, after.pieces[1]) is workshop.solve(before, before.pieces[1])
    assert workshop.solve(after, after.pieces[0]) is not workshop.solve(before, before.pieces[0])


def test_the_step_and_the_cutter_go_into_a_piece() -> None:
    workshop = Workshop()
    plain, fine = job(piece("Gull")), job('[cutter]\nsetback = "1 mm"\n', piece("Gull"))
    assert (
        workshop.solve(fine, fine.pieces[0]).layers[0].overcut
        == 1 + workshop.solve(plain, plain.pieces[0]).layers[0].overcut
    )


def test_a_changed_piece_searches_its_own_material_alone(searches: list[tuple[str, ...]]) -> None:
    workshop = Workshop()
    first = workshop.plan(job(piece("Gull"), piece("Coil", board="slate")))
    assert searches == [("Gull layer 1",), ("Coil layer 1",)]
    after = workshop.plan(job(piece("Gull"), piece("Coil", board="slate", width=200)))
    assert searches[2:] == [("Coil layer 1",)]
    assert after.cuttings[0].layout is first.cuttings[0].layout


def test_another_workshop_remembers_nothing(searches: list[tuple[str, ...]]) -> None:
    one = job(piece("Gull"))
    assert Workshop().plan(one).pieces[0] is not Workshop().plan(one).pieces[0]
    assert len(searches) == 2


def test_a_small_workshop_lets_the_oldest_go() -> None:
    small, asked = Workshop(keep=1), job(piece("Gull"), piece("Coil"))
    gull = small.solve(asked, asked.pieces[0])
    assert small.solve(asked, asked.pieces[0]) is gull
    small.solve(asked, asked.pieces[1])
    assert small.solve(asked, asked.pieces[0]) is not gull


def test_a_wall_is_kept_by_its_frames(monkeypatch: pytest.MonkeyPatch) -> None:
    """Another border hangs the frames anew, and yet a cluster of equal sizes is not searched again."""
    made: list[Any] = []
    arranged = cluster.arranged

    def counted(*asked: Any) -> Any:
        made.append(asked)
        return arranged(*asked)

    monkeypatch.setattr(cluster, "arranged", counted)
    workshop, wall = Workshop(), WALL + 'arrange = "cluster"\n'
    first = workshop.plan(job(piece("Gull"), piece("Coil"), wall))
    assert workshop.plan(job(piece("Gull"), piece("Coil"), wall)).walls[0] is first.walls[0]
    other = workshop.plan(job(piece("Gull", width=270), piece("Coil"), wall)).walls[0]
    assert other is not first.walls[0]
    assert other.frames[0].frame.piece.apertures[0].image.width == 270
    assert len(made) == 1
    workshop.plan(job(piece("Gull"), piece("Coil"), wall.replace("4000", "4100")))
    assert len(made) == 2


def test_a_photo_is_read_once_and_again_when_it_was_saved_anew(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    made: list[Path] = []
    read = photos.read_photo

    def counted(path: Path, called: str) -> Photo:
        made.append(path)
        return read(path, called)

    monkeypatch.setattr(photos, "read_photo", counted)
    photo, workshop = tmp_path / "gull.png", Workshop()
    Image.new("RGB", (90, 60)).save(photo)
    text = HEAD + piece("Gull").replace('aspect = "4:3"', 'photo = "gull.png"')
    first = workshop.plan(workshop.parse(text, tmp_path))
    again = workshop.plan(workshop.parse(text + "minutes = 30\n", tmp_path))
    assert len(made) == 1
    assert first.pieces[0].apertures[0].pixels == again.pieces[0].apertures[0].pixels
    Image.new("RGB", (600, 300)).save(photo)
    saved = workshop.plan(workshop.parse(text, tmp_path))
    assert len(made) == 2
    assert saved.pieces[0].apertures[0].pixels.have == (600, 300)
