"""Machine files in a pack: names, where they are written, what is refused; `test_machine_boards` measures them."""

from __future__ import annotations

import importlib.util
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

import matplan
from matplan.cli.commands import make as make_command
from matplan.faults import PackError
from matplan.pack import MachineError, machine_forms

SHAPES = ("rectangle", "square", "circle", "oval", "arch", "octagon")
HEAD = '[board.white]\ncolour = "#f6f2e8"\n[board.grey]\ncolour = "#808080"\n'
PIECE = """
[[piece]]
name = "{0}"
image = {{ width = "{1}", height = "{2}" }}
border = {{ top = "50 mm", left = "60 mm", right = "75 mm", bottom = "90 mm" }}
mat = ["white", {{ board = "grey", reveal = "6 mm" }}]
shape = "{0}"
"""
SVG = "{http://www.w3.org/2000/svg}"


def job(folder: Path, side: str = "") -> Path:
    """A job with a piece of each shape, whose four borders differ."""
    pieces = (PIECE.format(s, "200 mm", "200 mm" if s in ("square", "circle") else "260 mm") for s in SHAPES)
    path = folder / "job.toml"
    cutter = f'[cutter]\nmachine_side = "{side}"\n' if side else ""
    path.write_text(HEAD + cutter + "".join(pieces) + POLYGON, encoding="utf-8")
    return path


POLYGON = """
[[piece]]
name = "polygon"
image = { width = "200 mm", height = "260 mm" }
border = { top = "50 mm", left = "60 mm", right = "75 mm", bottom = "90 mm" }
mat = ["white"]
shape = "polygon"
points = [[0, 0], [1, 0], [1, 1], [0.5, 0.8], [0, 1]]
"""


def test_the_same_job_gives_the_same_bytes_in_another_process(tmp_path: Path) -> None:
    path = job(tmp_path)
    for seed in ("1", "4"):
        command = [sys.executable, "-m", "matplan", "make", str(path), "--out", str(tmp_path / seed), "--only", "order"]
        environment = {**os.environ, "PYTHONHASHSEED": seed, "TZ": f"UTC-{seed}"}
        subprocess.run([*command, "--machine", "dxf,svg"], check=True, env=environment, capture_output=True)
    files = sorted((tmp_path / "1/machine").iterdir())
    assert len(files) == 2 * (2 * len(SHAPES) + 1)
    for file in files:
        assert file.read_bytes() == (tmp_path / "4/machine" / file.name).read_bytes()


def test_machine_files_are_written_where_they_are_asked_for_alone(tmp_path: Path) -> None:
    plan = matplan.plan(matplan.read_job(job(tmp_path)))
    names = [path.relative_to(tmp_path / "pack").as_posix() for path in matplan.make(plan, tmp_path / "pack")]
    assert not [name for name in names if name.startswith("machine/")]
    one = matplan.make(plan, tmp_path / "one", only=["circle"], machine=["svg"])
    machine = [path.relative_to(tmp_path / "one").as_posix() for path in one if path.parent.name == "machine"]
    assert machine == ["machine/circle-layer1.svg", "machine/circle-layer2.svg"]


def test_unknown_kinds_and_a_missing_package_are_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(MachineError, match=r"got 'gcode', which is no kind of machine file; the kinds are dxf, svg"):
        machine_forms(["dxf,gcode"])
    with pytest.raises(MachineError, match="got ''"):
        machine_forms("")
    result = CliRunner().invoke(make_command, [str(job(tmp_path)), "--out", str(tmp_path / "p"), "--machine", "plt"])
    assert result.exit_code == 2
    assert "--machine: got 'plt'" in result.output
    found = importlib.util.find_spec
    monkeypatch.setattr("matplan.pack.machine.find_spec", lambda name: None if name == "ezdxf" else found(name))
    assert machine_forms("svg")
    with pytest.raises(PackError, match=re.escape("pip install 'matplan[machine]'")):
        machine_forms("DXF, svg")
