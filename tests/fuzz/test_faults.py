"""A make that dies, a disk that is full, folders that may not be written, two makes at once, and streams that are no
streams: nothing of the user's is lost, and nothing is left half written.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.fuzz.dying import JOB, OWN, contents

LINUX = pytest.mark.skipif(sys.platform != "linux", reason="forks, limits and devices as Linux has them")


def matplan(*arguments: str, before: str = "", **more: str) -> subprocess.CompletedProcess[str]:
    """Run a command in a shell line, such as `ulimit -f 8; exec …`."""
    quoted = " ".join(f"'{word}'" for word in (sys.executable, "-m", "matplan", *arguments))
    line = f"{before} {quoted} {more.pop('after', '')}"
    return subprocess.run(["bash", "-c", line], capture_output=True, text=True, check=False, env={**os.environ, **more})


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A small job."""
    path = tmp_path / "job.toml"
    path.write_text(JOB.format(title="Pier", name="Gull"), encoding="utf-8")
    return path


@LINUX
@pytest.mark.parametrize(("how", "every"), [([], "4"), (["--plain"], "7")], ids=["exchanged", "one after the other"])
def test_a_make_that_dies_leaves_a_whole_pack_and_the_next_one_clears(
    how: list[str], every: str, tmp_path: Path
) -> None:
    command = [sys.executable, "-m", "tests.fuzz.dying", str(tmp_path), "--every", every, *how]
    done = subprocess.run(command, capture_output=True, text=True, check=False, cwd=Path(__file__).parents[2])
    assert done.returncode == 0, done.stderr
    told = done.stderr.splitlines()
    points = {row.split(":")[0]: int(row.split()[-4]) for row in told if row.endswith("0 wrong")}
    assert points.keys() == {"killed", "disk full", "interrupted"}
    assert min(points.values()) >= 2


@LINUX
def test_a_file_that_grows_beyond_its_limit_is_told_and_leaves_nothing(job: Path) -> None:
    pack = job.parent / "pack"
    for blocks in (0, 8, 40):
        done = matplan("make", str(job), "--out", str(pack), before=f"trap '' XFSZ; ulimit -f {blocks};")
        assert done.returncode == 1, done.stderr
        assert "pack: the pack cannot be written: File too large" in done.stderr
        assert [path.name for path in job.parent.iterdir()] == ["job.toml"]


@LINUX
@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() != 0, reason="root alone mounts a small disk")
def test_a_full_disk_leaves_the_old_pack(job: Path, tmp_path: Path) -> None:
    disk = tmp_path / "disk"
    disk.mkdir()
    if subprocess.run(["mount", "-t", "tmpfs", "-o", "size=260k", "tmpfs", str(disk)], check=False).returncode:
        pytest.skip("nothing can be mounted here")
    try:
        done = matplan("make", str(job), "--out", str(disk / "pack"), "--only", "cut")
        assert done.returncode == 0, done.stderr
        (disk / "pack" / "notes.txt").write_text("keep")
        before = contents(disk)
        done = matplan("make", str(job), "--out", str(disk / "pack"), "--force")
        assert done.returncode == 1
        assert "cannot be written: No space left on device" in done.stderr
        assert contents(disk) == before
        for command in (["new", str(disk / "job")], ["measure", "--out", str(disk / "sheet.pdf")]):
            with pytest.raises(OSError, match="space"):
                (disk / "filling").write_bytes(b"x" * 1_000_000)
            done = matplan(*command)
            assert done.returncode == 1, command
            assert "cannot be written: No space left" in done.stderr
            assert contents(disk).keys() == before.keys() | {"filling"}
    finally:
        subprocess.run(["umount", str(disk)], check=True)


@LINUX
@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() != 0, reason="root alone becomes somebody else")
def test_a_folder_that_may_not_be_written_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from tests.fuzz.law import asked

    path = tmp_path / "job.toml"
    path.write_text(JOB.format(title="Pier", name="Gull"), encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    for command in (["make", "job.toml", "--out", "pack", "--only", "cut"], ["measure", "--out", "sheet.pdf"]):
        assert asked(*command).code == 0  # and the rooms are entered
    for each in (tmp_path, *tmp_path.parents[:3]):
        each.chmod(0o755)
    before = contents(tmp_path)
    os.seteuid(65534)
    try:
        for command in (
            ["make", "job.toml", "--out", "pack", "--force"],
            ["make", "job.toml", "--out", "other"],
            ["make", "job.toml", "--out", "deep/er"],
            ["new", "fresh"],
            ["measure"],
        ):
            told = asked(*command)
            assert told.code == 1, command
            assert "cannot be written: Permission denied" in told.err, command
    finally:
        os.seteuid(0)
    assert contents(tmp_path) == before


def test_two_makes_at_once_leave_one_whole_pack(job: Path) -> None:
    pack = job.parent / "pack"
    command = [sys.executable, "-m", "matplan", "make", str(job), "--out", str(pack), "--only", "cut,order"]
    for force in ([], ["--force"]):
        both = [subprocess.Popen([*command, *force], stderr=subprocess.PIPE, text=True) for _ in range(2)]
        told = [each.communicate(timeout=60)[1] for each in both]
        codes = sorted(each.returncode for each in both)
        assert codes == [0, 0] if force else codes in ([0, 1], [0, 0]), told
        assert all(not text or "holds a pack already" in text or "cannot be written" in text for text in told)
        assert [path.name for path in job.parent.iterdir() if path != job] == ["pack"]
        for name, data in OWN.items():
            assert not force or contents(pack)[name] == data
            (pack / name).parent.mkdir(parents=True, exist_ok=True)
            (pack / name).write_bytes(data)


def test_ctrl_c_ends_a_make_without_a_trace(job: Path) -> None:
    command = [sys.executable, "-m", "matplan", "make", str(job), "--out", str(job.parent / "pack")]
    for delay in (0.3, 0.6, 0.9):
        running = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        try:
            running.communicate(timeout=delay)
        except subprocess.TimeoutExpired:
            running.send_signal(signal.SIGINT)
        _, told = running.communicate(timeout=30)
        assert "Traceback" not in told or "matplan" not in told  # Python itself was still starting
        assert not list(job.parent.glob(".*"))


# --- streams ---------------------------------------------------------------------------------------------------------

ASCII = {"PYTHONIOENCODING": "ascii"}
BARE = {"LANG": "C", "LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}
OURS = ("Traceback", "not your job's fault", "Exception ignored")


@LINUX
@pytest.mark.parametrize(
    ("arguments", "after", "code"),
    [
        (["check"], "| head -1", 0), (["sizes"], "| head -1", 0), (["check"], ">&-", 0), (["--version"], ">&-", 0),
        (["check"], "2>&-", 0), (["check"], "<&-", 0), (["sizes"], ">/dev/full", 1), (["explain", "--json"],
        ">/dev/full", 1),
        (["--version"], ">/dev/full", 1),
    ],
    ids=str,
)  # fmt: skip
def test_streams_that_are_closed_or_full(job: Path, arguments: list[str], after: str, code: int) -> None:
    named = [*arguments, str(job)] if arguments[0] in ("check", "explain") else arguments
    done = matplan(*named, after=after)
    assert done.returncode == code, done.stderr
    assert not any(words in done.stderr for words in OURS), done.stderr
    assert after != ">/dev/full" or "cannot be written: No space left" in done.stderr


@pytest.mark.parametrize("spoken", [ASCII, BARE], ids=["ascii", "no language"])
@pytest.mark.parametrize("arguments", [["sizes", "papers"], ["explain"], ["check", "--json"]], ids=str)
def test_a_terminal_that_speaks_ascii(job: Path, arguments: list[str], spoken: dict[str, str]) -> None:
    job.write_text(job.read_text(encoding="utf-8").replace("Gull", "Möwe"), encoding="utf-8")
    named = [*arguments, str(job)] if arguments[0] in ("check", "explain") else arguments
    done = matplan(*named, **spoken)
    assert done.returncode == 0, done.stderr
    assert done.stdout.isascii()


def test_a_folder_that_is_gone(tmp_path: Path) -> None:
    done = matplan("measure", before=f"mkdir {tmp_path}/gone; cd {tmp_path}/gone; rmdir {tmp_path}/gone;")
    assert done.returncode == 1
    assert "the folder that you are in is gone" in done.stderr
    assert not any(words in done.stderr for words in OURS)
