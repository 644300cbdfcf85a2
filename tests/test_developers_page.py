"""DEVELOPERS.md names what there is: files, names in the code, commands, rooms and findings."""

from __future__ import annotations

import re
import subprocess
from itertools import chain
from pathlib import Path

import pytest

from matplan.cli.commands import matplan

ROOT = Path(__file__).parent.parent
TEXT = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
QUOTED = sorted(set(re.findall(r"`([^`\n]+)`", TEXT)))
BASES = [
    ROOT / base for base in ("", "matplan", "matplan/documents", "matplan/page", "matplan/job", "matplan/planning")
]
SOURCES = [*(ROOT / "matplan").rglob("*.py"), *(ROOT / "matplan").rglob("*.js"), *(ROOT / "tests").rglob("*.py")]
CODE = "\n".join(path.read_text(encoding="utf-8") for path in SOURCES if path != Path(__file__))
WORDS = {*re.findall(r"\w+", CODE), *(path.stem for path in SOURCES)}
FINDINGS = {
    code
    for room in ("mats", "walls", "planning")
    for path in (ROOT / "matplan" / room).rglob("*.py")
    for code in re.findall(
        r'(?:\b(?:warning|note)\(|code=|Bound\.\w+: \()\s*"([a-z]+(?:-[a-z]+)*)"', path.read_text(encoding="utf-8")
    )
}


def there(path: str) -> bool:
    """Whether a path, with or without its ending, or with a name in the module behind it, exists."""
    for base in BASES:
        if any((base / named).exists() for named in (path, f"{path}.py")) or ("*" in path and any(base.glob(path))):
            return True
        module, _, name = path.rpartition(".")
        if module and (base / f"{module}.py").exists():
            return re.search(rf"\b{name}\b", (base / f"{module}.py").read_text(encoding="utf-8")) is not None
    return False


@pytest.mark.parametrize("path", [one for one in QUOTED if re.fullmatch(r"(?!\.venv)[\w.*-]*/[\w./*-]*", one)])
def test_a_path_exists(path: str) -> None:
    assert there(path)


@pytest.mark.parametrize("name", [one for one in QUOTED if re.fullmatch(r"[A-Za-z_]\w*(\.\w+)*", one)])
def test_a_name_stands_in_the_code(name: str) -> None:
    if name.endswith((".py", ".js", ".md")):
        assert any(chain(ROOT.glob(name), (ROOT / "matplan").rglob(name)))
    elif name.endswith((".json", ".toml", ".csv")):  # a file of the pack
        assert name in CODE or (ROOT / name).exists()
    else:
        assert [part for part in name.split(".") if part not in WORDS] == []


@pytest.mark.parametrize("name", [one for one in QUOTED if one.startswith("python -m ")])
def test_a_program_of_the_tests_exists(name: str) -> None:
    assert (ROOT / f"{name.split()[2].replace('.', '/')}.py").exists() or (
        ROOT / name.split()[2].replace(".", "/") / "__main__.py"
    ).exists()


def test_commands_exist() -> None:
    named = set(re.findall(r"`matplan ([a-z]+)", TEXT))
    assert named <= set(matplan.commands)
    assert named


def test_every_room_has_its_place_in_the_house() -> None:
    house = TEXT[TEXT.index("## The house") : TEXT.index("## The walk of one length")]
    rooms = {
        f"{path.name}/" if path.is_dir() else path.name
        for path in (ROOT / "matplan").iterdir()
        if not path.name.startswith("__") and (path.is_dir() or path.suffix == ".py")
    }
    assert {room for room in rooms if f"`{room}`" not in house} == set()


def test_every_finding_is_listed_and_every_listed_one_exists() -> None:
    listed = TEXT[TEXT.index("## Findings") : TEXT.index("## Money")]
    assert len(FINDINGS) > 30
    assert FINDINGS - set(re.findall(r"`([a-z-]+)`", listed)) == set()
    assert {code for code in re.findall(r"`([a-z]+(?:-[a-z]+)+)`", listed) if f'"{code}"' not in CODE} == set()


def test_the_top_level_holds_what_belongs_there_alone() -> None:
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, check=True, capture_output=True, text=True).stdout
    top = {path.partition("/")[0] for path in listed.splitlines()}
    named = {"README.md", "DEVELOPERS.md", "pyproject.toml", "matplan", "tests", "gallery"}
    assert {name for name in top if not name.startswith(".")} == named
