"""Machine files: read back by ezdxf and from SVG, at true size, from the side that the machine cuts."""

from __future__ import annotations

import importlib.util
import os
import re
import subprocess
import sys
from math import cos, isclose, radians, sin
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from ezdxf import bbox
from ezdxf.filemanagement import readfile
from lxml import etree

import matplan
from matplan.cli.commands import make as make_command
from matplan.faults import PackError
from matplan.mats.records import SolvedPiece
from matplan.mats.shapes.segments import Parallel
from matplan.pack import MachineError, machine_forms
from matplan.planning import Plan

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


def made(folder: Path, side: str = "") -> Plan:
    plan = matplan.plan(matplan.read_job(job(folder, side)))
    matplan.make(plan, folder / "pack", only=["order"], machine="dxf,svg")
    return plan


def dxf_points(document: Any, layer: str) -> list[tuple[float, float]]:
    """The ends, corners and outermost points of a layer's lines."""
    found: list[tuple[float, float]] = []
    for one in document.modelspace().query(f'*[layer=="{layer}"]'):
        match one.dxftype():
            case "LWPOLYLINE":
                assert one.closed
                found += [(x, y) for x, y, *_ in one.get_points()]
            case "LINE":
                found += [(one.dxf.start.x, one.dxf.start.y), (one.dxf.end.x, one.dxf.end.y)]
            case "ARC":
                found += [(one.start_point.x, one.start_point.y), (one.end_point.x, one.end_point.y)]
                x, y, r = one.dxf.center.x, one.dxf.center.y, one.dxf.radius
                middle = radians((one.dxf.start_angle + (one.dxf.end_angle - one.dxf.start_angle) % 360 / 2) % 360)
                found.append((x + r * cos(middle), y + r * sin(middle)))
            case "CIRCLE":
                x, y, r = one.dxf.center.x, one.dxf.center.y, one.dxf.radius
                found += [(x - r, y), (x + r, y), (x, y - r), (x, y + r)]
            case "ELLIPSE":
                found += [
                    (p.x, p.y) for p in one.vertices((0, 1.5707963267948966, 3.141592653589793, 4.71238898038469))
                ]
            case kind:
                raise AssertionError(kind)
    return found


def bounds(points: list[tuple[float, float]]) -> tuple[float, float, float, float]:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def expected(piece: SolvedPiece, number: int, side: str) -> tuple[float, float, float, float]:
    """The opening's bounds on that side as the machine sees them: from the lower left corner, y up."""
    opening = piece.layers[number].openings[0]
    box = opening.back.box if side == "back" else opening.face.box
    width, height = piece.blank.width, piece.blank.height
    left, right = (width - box.right, width - box.x) if side == "back" else (box.x, box.right)
    return float(left), float(height - box.bottom), float(right), float(height - box.y)


@pytest.mark.parametrize("side", ["", "face", "back"])
def test_dxf_has_blank_and_opening_in_place_and_passes_the_audit(side: str, tmp_path: Path) -> None:
    for piece in made(tmp_path, side).pieces:
        for layer in piece.layers:
            path = tmp_path / f"pack/machine/{piece.ask.file}-layer{layer.number}.dxf"
            document = readfile(path)
            auditor = document.audit()
            assert not auditor.errors
            assert not auditor.fixes
            assert document.units == 4  # mm
            assert {one.dxf.layer for one in document.modelspace()} == {"blank", "cut"}
            assert {"blank", "cut", "score"} <= {one.dxf.name for one in document.layers}
            width, height = float(piece.blank.width), float(piece.blank.height)
            assert sorted(dxf_points(document, "blank")) == sorted([(0, 0), (width, 0), (width, height), (0, height)])
            wanted = expected(piece, layer.number - 1, side)
            assert bounds(dxf_points(document, "cut")) == pytest.approx(wanted, abs=1e-6)
            whole = bbox.extents(document.modelspace(), fast=False)
            assert (whole.size.x, whole.size.y) == pytest.approx((width, height), abs=1e-9)
            comment = path.read_text(encoding="utf-8").splitlines()[:6]
            assert comment[5] == f"seen from the {side or 'face'}, which the machine cuts" + ": mirrored" * (
                side == "back"
            )


def test_rounds_are_circles_ellipses_and_arcs_and_corners_exact(tmp_path: Path) -> None:
    plan = made(tmp_path, "back")
    kinds = {}
    for piece in plan.pieces:
        document = readfile(tmp_path / f"pack/machine/{piece.ask.file}-layer1.dxf")
        kinds[piece.name] = sorted(one.dxftype() for one in document.modelspace().query('*[layer=="cut"]'))
        line = piece.layers[0].openings[0].back
        if line.straight:
            width, height = piece.blank.width, piece.blank.height
            corners = {(float(width - x), float(height - y)) for x, y in line.points()}
            assert set(dxf_points(document, "cut")) == corners
    assert kinds == {
        "rectangle": ["LWPOLYLINE"],
        "square": ["LWPOLYLINE"],
        "circle": ["CIRCLE"],
        "oval": ["ELLIPSE"],
        "arch": ["ARC", "LINE", "LINE", "LINE"],
        "octagon": ["LWPOLYLINE"],
        "polygon": ["LWPOLYLINE"],
    }


def test_an_arch_is_closed_and_bulges_upwards_from_either_side(tmp_path: Path) -> None:
    for side in ("face", "back"):
        (tmp_path / side).mkdir()
        arch = next(piece for piece in made(tmp_path / side, side).pieces if piece.name == "arch")
        document = readfile(tmp_path / side / "pack/machine/arch-layer1.dxf")
        arc: Any = document.modelspace().query("ARC").first
        ends = [(arc.start_point.x, arc.start_point.y), (arc.end_point.x, arc.end_point.y)]
        lines = [(p.x, p.y) for one in document.modelspace().query("LINE") for p in (one.dxf.start, one.dxf.end)]
        assert all(any(isclose(x, a) and isclose(y, b) for a, b in lines) for x, y in ends)
        top = expected(arch, 0, side)[3]
        assert max(y for _, y in dxf_points(document, "cut")) == pytest.approx(top)
        path = etree.parse(tmp_path / side / "pack/machine/arch-layer1.svg").find(f".//{SVG}g[@id='cut']/{SVG}path")
        assert path is not None
        x1, _, x2 = _ends(path.get("d", ""))
        assert x1 > x2  # from right to left, against the clock: over the top


def _ends(d: str) -> tuple[float, float, float]:
    """The x of a bow's start, its radius and the x of its end; its sweep must be against the clock."""
    numbers = re.fullmatch(r"M (\S+) \S+ A (\S+) \S+ 0 0 0 (\S+) \S+", d)
    assert numbers is not None
    return float(numbers[1]), float(numbers[2]), float(numbers[3])


def test_svg_is_the_blank_at_full_size_with_the_same_lines(tmp_path: Path) -> None:
    for side in ("face", "back"):
        (tmp_path / side).mkdir()
        for piece in made(tmp_path / side, side).pieces:
            root = etree.parse(tmp_path / side / f"pack/machine/{piece.ask.file}-layer1.svg").getroot()
            width, height = float(piece.blank.width), float(piece.blank.height)
            assert (root.get("width"), root.get("height")) == (f"{width:g}mm", f"{height:g}mm")
            assert root.get("viewBox") == f"0 0 {width:g} {height:g}"
            assert [group.get("id") for group in root.iter(f"{SVG}g")] == ["blank", "cut", "score"]
            assert f"seen from the {side}" in str(root.findtext(f"{SVG}desc"))
            (cut,) = (group for group in root.iter(f"{SVG}g") if group.get("id") == "cut")
            left, low, right, high = expected(piece, 0, side)
            assert _svg_bounds(cut) == pytest.approx((left, height - high, right, height - low), abs=1e-6)


def _svg_bounds(group: Any) -> tuple[float, float, float, float]:
    points: list[tuple[float, float]] = []
    for one in group:
        match etree.QName(one).localname:
            case "circle" | "ellipse":
                x, y = float(one.get("cx")), float(one.get("cy"))
                rx, ry = float(one.get("rx") or one.get("r")), float(one.get("ry") or one.get("r"))
                points += [(x - rx, y - ry), (x + rx, y + ry)]
            case "path":
                d = one.get("d")
                points += [(float(a), float(b)) for a, b in re.findall(r"[ML] (\S+) (\S+)", d)]
                if "A" in d:
                    start, radius, end = _ends(d)
                    assert start - end == pytest.approx(2 * radius)  # half-round
                    points.append(((start + end) / 2, points[-1][1] - radius))
            case name:
                raise AssertionError(name)
    return bounds(points)


def test_a_bevelled_oval_s_face_has_points_and_says_so(tmp_path: Path) -> None:
    plan = made(tmp_path)
    oval = next(piece for piece in plan.pieces if piece.name == "oval")
    assert all(isinstance(piece, Parallel) for piece in oval.layers[0].openings[0].face.line)
    text = (tmp_path / "pack/machine/oval-layer1.dxf").read_text(encoding="utf-8")
    assert "no ellipse on the face: its line has points, within 0.01 mm" in text
    assert "points" not in (tmp_path / "pack/machine/circle-layer1.dxf").read_text(encoding="utf-8")[:400]


def test_the_same_job_gives_the_same_bytes_in_another_process(tmp_path: Path) -> None:
    path = job(tmp_path)
    for seed in ("1", "2"):
        command = [sys.executable, "-m", "matplan", "make", str(path), "--out", str(tmp_path / seed), "--only", "order"]
        environment = {**os.environ, "PYTHONHASHSEED": seed, "TZ": f"UTC-{seed}"}
        subprocess.run([*command, "--machine", "dxf,svg"], check=True, env=environment, capture_output=True)
    files = sorted((tmp_path / "1/machine").iterdir())
    assert len(files) == 2 * (2 * len(SHAPES) + 1)
    for file in files:
        assert file.read_bytes() == (tmp_path / "2/machine" / file.name).read_bytes()


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
