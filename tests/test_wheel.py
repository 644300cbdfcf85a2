"""The wheel that users install: what is in it, and that it works with what it declares, with and without each extra.

It is installed into a folder of its own, and whatever its declared dependencies do not bring is hidden from it, so that
nothing is downloaded.
"""

from __future__ import annotations

import email
import json
import os
import re
import shutil
import signal
import subprocess
import sys
import urllib.request
import zipfile
from email.message import Message
from importlib import metadata
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

import matplan

ROOT = Path(__file__).parent.parent
CURTAIN = """import os, sys
for name in os.environ.get("HIDDEN", "").split():
    sys.modules[name] = None
"""
NAMES = "Ferry · Öl · Лодка · Βάρκα · 舟 · 배 · मछली · قارب · סירה · เรือ"
JOB = f"""[board.white]
sheets = [{{ size = "70x100 cm", price = 9 }}]
[frame.ash]
takes = "30x40 cm"
rail = "20 mm"
[[piece]]
name = "{NAMES}"
frame = "ash"
aspect = "3:2"
image = {{ width = "24 cm" }}
mat = ["white"]
"""


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel of this tree, as `pip` builds it."""
    pytest.importorskip(
        "hatchling", reason="hatchling, which builds the wheel, is not installed: pip install -e '.[test]'"
    )
    folder = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)]
    subprocess.run(command, cwd=ROOT, check=True, capture_output=True)
    (made,) = folder.glob("*.whl")
    return made


@pytest.fixture(scope="module")
def told(wheel: Path) -> Message:
    """What the wheel says of itself."""
    with zipfile.ZipFile(wheel) as packed:
        (name,) = (name for name in packed.namelist() if name.endswith(".dist-info/METADATA"))
        return email.message_from_bytes(packed.read(name))


class Installed:
    """The wheel in a folder of its own; `run` hides whatever its dependencies and the extra's do not bring."""

    def __init__(self, wheel: Path, told: Message, folder: Path) -> None:
        self.folder, self._told = folder / "installed", told
        command = [sys.executable, "-m", "pip", "install", "-q", "--no-deps", "--no-index", "--target"]
        subprocess.run([*command, str(self.folder), str(wheel)], check=True, capture_output=True)
        (folder / "curtain").mkdir()
        (folder / "curtain/sitecustomize.py").write_text(CURTAIN, encoding="utf-8")
        self._path = os.pathsep.join((str(self.folder), str(folder / "curtain")))

    def environment(self, extra: str = "", without: tuple[str, ...] = ()) -> dict[str, str]:
        brought = {"matplan"} | _brought(self._told.get_all("Requires-Dist", []), extra)
        found = metadata.packages_distributions()
        hidden = [name for name, by in found.items() if not brought & {canonicalize_name(one) for one in by}]
        own = {name: value for name, value in os.environ.items() if not name.startswith("COV_")}
        return own | {"PYTHONPATH": self._path, "HIDDEN": " ".join([*hidden, *without])}

    def run(
        self, *arguments: str, cwd: Path, extra: str = "", without: tuple[str, ...] = ()
    ) -> subprocess.CompletedProcess[str]:
        """The installed console script."""
        return subprocess.run(
            [sys.executable, str(self.folder / "bin/matplan"), *arguments],
            cwd=cwd, env=self.environment(extra, without), capture_output=True, text=True, encoding="utf-8",
            check=False,
        )  # fmt: skip


def _brought(lines: list[str], extra: str = "", known: frozenset[str] = frozenset()) -> set[str]:
    """Return every distribution that these requirements bring, their own requirements included."""
    brought: set[str] = set()
    for line in lines:
        required = Requirement(line)
        name = canonicalize_name(required.name)
        if name in brought | known or (required.marker and not required.marker.evaluate({"extra": extra})):
            continue
        brought |= {name} | _brought(metadata.requires(name) or [], "", known | brought | {name})
    return brought


@pytest.fixture(scope="module")
def installed(wheel: Path, told: Message, tmp_path_factory: pytest.TempPathFactory) -> Installed:
    return Installed(wheel, told, tmp_path_factory.mktemp("installation"))


@pytest.fixture
def job(tmp_path: Path) -> Path:
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    return tmp_path


def test_the_wheel_holds_the_package_as_a_clean_clone_has_it_and_nothing_else(wheel: Path) -> None:
    if shutil.which("git") is None or not (ROOT / ".git").exists():
        pytest.skip("this tree is no checkout: what a clean clone holds is not known")
    listed = subprocess.run(["git", "ls-files", "-z", "matplan"], cwd=ROOT, check=True, capture_output=True).stdout
    with zipfile.ZipFile(wheel) as packed:
        held = {name for name in packed.namelist() if ".dist-info/" not in name}
    assert held == set(listed.decode().strip("\0").split("\0"))
    assert {"matplan/py.typed", "matplan/catalogue/papers.toml", "matplan/page/static/index.html"} <= held
    assert not [name for name in held if not name.startswith("matplan/")], "tests and gallery stay at home"
    assert wheel.stat().st_size < 1_500_000


def test_the_version_stands_in_one_place(told: Message, installed: Installed, tmp_path: Path) -> None:
    assert told["Version"] == matplan.__version__
    assert installed.run("--version", cwd=tmp_path).stdout == f"matplan {told['Version']}\n"


def test_every_extra_for_users_is_tried_here(told: Message) -> None:
    assert set(told.get_all("Provides-Extra", [])) == {"machine", "page", "test"}


def test_without_extras_a_job_is_checked_and_its_pack_made(installed: Installed, job: Path) -> None:
    checked = installed.run("check", "job.toml", cwd=job)
    assert (checked.returncode, checked.stderr) == (0, "")
    assert NAMES in checked.stdout
    made = installed.run("make", "job.toml", "--out", "pack", cwd=job)
    assert (made.returncode, made.stderr) == (0, "")
    assert json.loads((job / "pack/plan.json").read_text(encoding="utf-8"))["pieces"][0]["name"] == NAMES
    assert (job / "pack/workshop.pdf").read_bytes().startswith(b"%PDF-")
    assert "[board.white]" in (job / "pack/leftovers.toml").read_text(encoding="utf-8")


def test_machine_files_need_their_extra_for_dxf_alone(installed: Installed, job: Path) -> None:
    make = ("make", "job.toml", "--only", "order", "--out", "pack", "--machine")
    refused = installed.run(*make, "dxf", cwd=job)
    assert (refused.returncode, refused.stdout) == (1, "")
    assert refused.stderr == "machine files as DXF need ezdxf: pip install 'matplan[machine]'\n"
    assert not (job / "pack").exists()
    assert installed.run(*make, "svg", cwd=job).returncode == 0
    assert [path.suffix for path in (job / "pack/machine").iterdir()] == [".svg"]
    made = installed.run(*make, "dxf", "--force", cwd=job, extra="machine")
    assert (made.returncode, made.stderr) == (0, "")
    assert [path.suffix for path in (job / "pack/machine").iterdir()] == [".dxf"]


def test_the_page_needs_its_extra(installed: Installed, job: Path) -> None:
    refused = installed.run("serve", "job.toml", "--no-open", "--port", "0", cwd=job)
    assert (refused.returncode, refused.stdout) == (1, "")
    assert refused.stderr == "the page needs starlette and uvicorn: pip install 'matplan[page]'\n"
    command = [sys.executable, str(installed.folder / "bin/matplan"), "serve", "job.toml", "--no-open", "--port", "0"]
    with subprocess.Popen(
        command, cwd=job, env=installed.environment("page"), stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as served:
        try:
            assert served.stdout is not None
            address = re.search(r"http://\S+", served.stdout.readline())
            assert address is not None, served.communicate(timeout=10)
            with urllib.request.urlopen(address[0]) as page:
                text = page.read().decode()
            for name in set(re.findall(r'(?:src|href)="(/?static/[^"]+)"', text)):
                with urllib.request.urlopen(f"{address[0]}{name.lstrip('/')}") as part:
                    assert part.status == 200
            assert 'data-role="job-text"' in text
        finally:
            served.send_signal(signal.SIGINT)
            assert served.wait(10) == 0


def test_names_are_drawn_in_ten_scripts_and_as_marks_where_their_fonts_are_taken_out(
    installed: Installed, job: Path
) -> None:
    outlines = []
    for without in ((), ("manimgx_fonts",), ("manimgx_fonts", "manimgx_fonts_cjk")):
        made = installed.run(
            "make", "job.toml", "--only", "front", "--out", "pack", "--force", cwd=job, without=without
        )
        assert (made.returncode, made.stderr) == (0, "")
        (drawing,) = (job / "pack/front").iterdir()
        outlines.append(max(re.findall(r'<path[^>]* d="([^"]*)"', drawing.read_text(encoding="utf-8")), key=len))
    assert len(set(outlines)) == 3
