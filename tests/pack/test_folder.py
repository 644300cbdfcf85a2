"""A pack is written whole or not at all, and nothing of the user's is overwritten or lost."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from matplan.faults import PackError
from matplan.pack import folder as room
from matplan.pack.folder import MANIFEST, write_whole

PLAN = ("plan.json", b'{"schema": "matplan-plan/1"}\n')
CUT = ("cut/slipway-layer1.svg", b"<svg/>")


def contents(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_a_new_folder_takes_the_pack_with_its_parents(tmp_path: Path) -> None:
    paths = write_whole(tmp_path / "new" / "pack", [PLAN, CUT], force=False)
    assert [path.relative_to(tmp_path).as_posix() for path in paths] == [
        "new/pack/plan.json",
        "new/pack/" + CUT[0],
        "new/pack/" + MANIFEST,
    ]
    assert json.loads((tmp_path / "new/pack" / MANIFEST).read_text())["files"] == [CUT[0], MANIFEST, "plan.json"]
    assert [p.name for p in (tmp_path / "new").iterdir()] == ["pack"]


def test_an_empty_folder_takes_it(tmp_path: Path) -> None:
    (tmp_path / "pack").mkdir()
    write_whole(tmp_path / "pack", [PLAN], force=False)
    assert contents(tmp_path / "pack")["plan.json"] == PLAN[1]


@pytest.mark.parametrize("force", [False, True])
def test_a_folder_with_other_things_is_refused(tmp_path: Path, force: bool) -> None:
    (tmp_path / "letters").mkdir()
    (tmp_path / "letters" / "dear.txt").write_text("keep me")
    with pytest.raises(PackError, match="holds no pack"):
        write_whole(tmp_path / "letters", [PLAN], force=force)
    assert contents(tmp_path / "letters") == {"dear.txt": b"keep me"}


def test_a_file_in_the_way_is_refused(tmp_path: Path) -> None:
    (tmp_path / "pack").write_text("a file")
    with pytest.raises(PackError, match="no folder"):
        write_whole(tmp_path / "pack", [PLAN], force=True)
    assert (tmp_path / "pack").read_text() == "a file"


def test_a_pack_is_replaced_with_force_only(tmp_path: Path) -> None:
    pack = tmp_path / "pack"
    write_whole(pack, [PLAN, CUT], force=False)
    with pytest.raises(PackError, match="--force"):
        write_whole(pack, [PLAN], force=False)
    assert CUT[0] in contents(pack)
    write_whole(pack, [PLAN, ("front/gull.svg", b"<svg/>")], force=True)
    assert set(contents(pack)) == {"plan.json", "front/gull.svg", MANIFEST}
    assert not (pack / "cut").exists()


def test_other_files_and_empty_folders_are_kept(tmp_path: Path) -> None:
    pack = tmp_path / "pack"
    write_whole(pack, [PLAN, CUT], force=False)
    (pack / "notes.txt").write_text("ask about the glass")
    (pack / "cut" / "marks.txt").write_text("sharpen")
    (pack / "empty").mkdir()
    write_whole(pack, [PLAN], force=True)
    assert contents(pack)["notes.txt"] == b"ask about the glass"
    assert contents(pack)["cut/marks.txt"] == b"sharpen"
    assert (pack / "empty").is_dir()
    assert CUT[0] not in contents(pack)


def test_a_users_file_where_the_pack_wants_one_is_not_overwritten(tmp_path: Path) -> None:
    pack = tmp_path / "pack"
    write_whole(pack, [PLAN], force=False)
    (pack / "order.csv").write_text("mine")
    with pytest.raises(PackError, match=r"order\.csv is not the pack's"):
        write_whole(pack, [PLAN, ("order.csv", b"theirs")], force=True)
    assert (pack / "order.csv").read_text() == "mine"


def test_a_users_file_where_the_pack_wants_a_folder_is_not_overwritten(tmp_path: Path) -> None:
    pack = tmp_path / "pack"
    write_whole(pack, [PLAN], force=False)
    (pack / "cut").write_text("mine")
    with pytest.raises(PackError, match="not the pack's"):
        write_whole(pack, [PLAN, CUT], force=True)
    assert (pack / "cut").read_text() == "mine"


def test_links_are_kept_and_never_followed(tmp_path: Path) -> None:
    pack, outside = tmp_path / "pack", tmp_path / "outside"
    outside.mkdir()
    (outside / "negative.tif").write_text("precious")
    write_whole(pack, [PLAN], force=False)
    (pack / "album").symlink_to(outside)
    (pack / "cut").symlink_to(outside)
    (pack / "dead").symlink_to(tmp_path / "nowhere")
    write_whole(pack, [PLAN, CUT], force=True)
    assert (pack / "album").is_symlink()
    assert (pack / "dead").readlink() == tmp_path / "nowhere"
    assert not (pack / "cut").is_symlink()
    assert contents(outside) == {"negative.tif": b"precious"}


def test_the_folder_may_be_named_through_a_link(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "real")
    write_whole(tmp_path / "link", [PLAN], force=False)
    assert (tmp_path / "link").is_symlink()
    assert (tmp_path / "real" / "plan.json").exists()


@pytest.mark.parametrize("at", ["_build", "_keep", "_take_place"])
def test_a_crash_leaves_the_old_pack_and_no_litter(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, at: str) -> None:
    pack = tmp_path / "pack"
    write_whole(pack, [PLAN, CUT], force=False)
    before = contents(pack)

    def crash(*_args: object, **_more: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(room, at, crash)
    with pytest.raises(PackError, match="No space left"):
        write_whole(pack, [PLAN], force=True)
    assert contents(pack) == before
    assert [p.name for p in tmp_path.iterdir()] == ["pack"]


def test_without_an_exchange_the_pack_is_replaced_all_the_same(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    pack = tmp_path / "pack"
    write_whole(pack, [PLAN, CUT], force=False)
    (pack / "notes.txt").write_text("keep")
    monkeypatch.setattr(room, "_exchange", lambda _one, _other: False)
    write_whole(pack, [PLAN], force=True)
    assert set(contents(pack)) == {"plan.json", "notes.txt", MANIFEST}
    assert [p.name for p in tmp_path.iterdir()] == ["pack"]


def test_a_folder_that_cannot_be_written_is_an_error_with_its_name(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(PackError, match="cannot be written"):
        write_whole(tmp_path / "file" / "pack", [PLAN], force=False)


# --- what happens while a pack is made ------------------------------------------------------------------------------


def test_what_is_put_into_the_folder_meanwhile_is_kept(tmp_path: Path) -> None:
    pack = tmp_path / "pack"
    write_whole(pack, [PLAN, CUT], force=False)
    (pack / "notes.txt").write_text("first")

    def files() -> Iterator[tuple[str, bytes]]:
        yield PLAN
        (pack / "late.txt").write_text("saved while the pack was made")
        (pack / "mine").mkdir()
        (pack / "mine" / "letter.txt").write_text("too")
        (pack / "notes.txt").write_text("second")

    write_whole(pack, files(), force=True)
    assert contents(pack).keys() == {"plan.json", MANIFEST, "late.txt", "mine/letter.txt", "notes.txt"}
    assert (pack / "notes.txt").read_text() == "second"


@pytest.mark.parametrize("exchange", [True, False])
def test_what_is_put_there_at_the_last_moment_is_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, exchange: bool
) -> None:
    pack = tmp_path / "pack"
    write_whole(pack, [PLAN, CUT], force=False)
    (pack / "notes.txt").write_text("first")
    real = room._exchange

    def late(one: Path, other: Path) -> bool:
        (pack / "late").mkdir()
        (pack / "late" / "notes.txt").write_text("new")
        (pack / "fresh.txt").write_text("second")
        (pack / "fresh.txt").replace(pack / "notes.txt")  # as an editor saves
        return exchange and real(one, other)

    monkeypatch.setattr(room, "_exchange", late)
    write_whole(pack, [PLAN], force=True)
    assert contents(pack).keys() == {"plan.json", MANIFEST, "notes.txt", "late/notes.txt"}
    assert (pack / "notes.txt").read_text() == "second"
    assert [path.name for path in tmp_path.iterdir()] == ["pack"]


@pytest.mark.parametrize("there", [False, True])
def test_a_folder_that_is_filled_meanwhile_is_refused(tmp_path: Path, there: bool) -> None:
    pack = tmp_path / "pack"
    if there:
        pack.mkdir()

    def files() -> Iterator[tuple[str, bytes]]:
        yield PLAN
        write_whole(pack, [PLAN, CUT], force=False)

    with pytest.raises(PackError, match="holds a pack already"):
        write_whole(pack, files(), force=False)
    assert CUT[0] in contents(pack)
    assert [path.name for path in tmp_path.iterdir()] == ["pack"]


@pytest.mark.parametrize("there", [False, True])
def test_a_folder_that_is_filled_at_the_last_moment_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, there: bool
) -> None:
    pack = tmp_path / "pack"
    if there:
        pack.mkdir()
    real = Path.rename

    def late(self: Path, to: Path) -> Path:
        pack.mkdir(exist_ok=True)
        (pack / "letter.txt").write_text("keep me")
        return real(self, to)

    monkeypatch.setattr(Path, "rename", late)
    with pytest.raises(PackError, match="cannot be written: Directory not empty"):
        write_whole(pack, [PLAN], force=False)
    assert contents(pack) == {"letter.txt": b"keep me"}


def test_new_parents_go_again_where_no_pack_comes(tmp_path: Path) -> None:
    def files() -> Iterator[tuple[str, bytes]]:
        yield PLAN
        raise ValueError("no photo")

    with pytest.raises(ValueError, match="no photo"):
        write_whole(tmp_path / "new" / "deep" / "pack", files(), force=False)
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("name", ["ü" * 120, "a" * 255])
def test_a_folder_may_have_as_long_a_name_as_the_disk_takes(tmp_path: Path, name: str) -> None:
    for force in (False, True):
        write_whole(tmp_path / name, [PLAN], force=force)
    assert [path.name for path in tmp_path.iterdir()] == [name]


def test_folders_keep_their_rights(tmp_path: Path) -> None:
    pack = tmp_path / "pack"
    write_whole(pack, [PLAN], force=False)
    (pack / "mine" / "deep").mkdir(parents=True)
    (pack / "mine" / "deep" / "letter.txt").write_text("private")
    for folder, mode in ((pack, 0o750), (pack / "mine", 0o700), (pack / "mine" / "deep", 0o711)):
        folder.chmod(mode)
    write_whole(pack, [PLAN], force=True)
    modes = [folder.stat().st_mode & 0o777 for folder in (pack, pack / "mine", pack / "mine" / "deep")]
    assert modes == [0o750, 0o700, 0o711]
