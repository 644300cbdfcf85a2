"""What a killed `make` leaves is cleared by the next one there; what a living one builds is spared."""

from __future__ import annotations

import signal
import subprocess
import sys
from pathlib import Path

import pytest

from matplan.pack.building import ASIDE, OLD, begin, clear_leavings
from matplan.pack.folder import write_whole

KILLED = """
import os, signal, sys
from pathlib import Path
from matplan.pack.folder import write_whole
def files():
    yield "plan.json", b"{}"
    os.kill(os.getpid(), signal.SIGKILL)
write_whole(Path(sys.argv[1]), files(), force=False)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="folders have no locks there")
def test_the_next_make_clears_what_a_killed_one_has_left(tmp_path: Path) -> None:
    target = tmp_path / "pack"
    done = subprocess.run([sys.executable, "-c", KILLED, str(target)], check=False)
    assert done.returncode == -signal.SIGKILL
    (left,) = tmp_path.iterdir()
    assert left.name.startswith(".pack.building-")
    write_whole(target, [("plan.json", b"{}")], force=False)
    assert [path.name for path in tmp_path.iterdir()] == ["pack"]


@pytest.mark.skipif(sys.platform == "win32", reason="folders have no locks there")
def test_a_living_one_is_spared(tmp_path: Path) -> None:
    building, hold = begin(tmp_path / "pack")
    clear_leavings(tmp_path / "pack")
    assert building.is_dir()
    hold.close()
    clear_leavings(tmp_path / "pack")
    assert not building.exists()


def test_other_folders_and_links_stay(tmp_path: Path) -> None:
    (tmp_path / ".pack.building").mkdir()
    (tmp_path / ".packs.building-1").mkdir()
    (tmp_path / "mine").mkdir()
    (tmp_path / ".pack.building-2").symlink_to(tmp_path / "mine")
    clear_leavings(tmp_path / "pack")
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        ".pack.building",
        ".pack.building-2",
        ".packs.building-1",
        "mine",
    ]


@pytest.mark.skipif(sys.platform == "win32", reason="folders have no locks there")
def test_a_pack_that_was_put_aside_comes_back(tmp_path: Path) -> None:
    aside, hold = begin(tmp_path / "pack", ASIDE)
    (aside / OLD).mkdir()
    (aside / OLD / "notes.txt").write_text("keep me")
    clear_leavings(tmp_path / "pack")
    assert not (tmp_path / "pack").exists()  # a living make is about to put its own there
    hold.close()
    clear_leavings(tmp_path / "pack")
    assert (tmp_path / "pack" / "notes.txt").read_text() == "keep me"
    assert [path.name for path in tmp_path.iterdir()] == ["pack"]
