"""Machine files, read back by programs of others: ezdxf reads and audits the DXF (DXF reference, release 2010), its own
flattening measures it, resvg paints the SVG at true size; both against the plan's outlines.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from fractions import Fraction
from math import isclose, pi

import numpy as np
import pytest
import resvg_py
from ezdxf.document import Drawing
from ezdxf.entities.circle import Circle
from ezdxf.entities.ellipse import Ellipse
from ezdxf.entities.line import Line
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.filemanagement import read
from ezdxf.path import make_path
from lxml import etree
from PIL import Image
from shapely import LineString, Polygon, polygonize
from shapely.geometry.base import BaseGeometry

from matplan.documents.cutting import machine_board
from matplan.documents.parts.folio import Folio, LayerOf
from matplan.documents.parts.traces import MachineBoard
from matplan.job.records import Cutter, MachineSide
from matplan.mats.outlines import Outline
from matplan.mats.records import SolvedPiece
from matplan.pack.machine import dxf, svg
from tests.documents.cutting.test_shaped_outlines import CASES
from tests.making import frame, piece, planned, window

NAMES = {**CASES, "plain": piece(frame=frame("40 x 50 cm"), apertures=(window(image="246 x 306"),))}
each_case = pytest.mark.parametrize("case", NAMES)
each_side = pytest.mark.parametrize("side", MachineSide)


def boards(case: str, side: MachineSide) -> Iterator[tuple[SolvedPiece, MachineBoard, tuple[Outline, ...]]]:
    """Each board of a case: its piece, its board and the lines that the plan has at its back."""
    plan = planned(NAMES[case], cutter=Cutter(machine_side=side))
    (solved,) = plan.pieces
    for layer in solved.layers:
        board = machine_board.drawn(Folio(job=plan.job, pieces=(solved,)), LayerOf(piece=solved, layer=layer))
        yield solved, board, tuple(opening.back for opening in layer.openings)


def opened(board: MachineBoard) -> Drawing:
    return read(io.StringIO(dxf(board).decode()))


def true_shape(outline: Outline, solved: SolvedPiece, side: MachineSide) -> Polygon:
    """The plan's outline as it lies in the machine: right and up from the lower left corner that is seen."""
    wide, high = map(float, (solved.blank.width, solved.blank.height))
    points = [(float(x), float(y)) for x, y in outline.points(Fraction(1, 2000))]
    return Polygon([(wide - x if side is MachineSide.BACK else x, high - y) for x, y in points])


def openings(drawing: Drawing) -> list[BaseGeometry]:
    """The areas that the lines of the layer `cut` close, by ezdxf's own flattening and shapely's."""
    lines = []
    for entity in drawing.modelspace().query('*[layer=="cut"]'):
        if isinstance(entity, Circle | Ellipse):  # an arc is a circle to ezdxf
            points = list(entity.flattening(0.0005))
        else:
            assert isinstance(entity, Line | LWPolyline)
            points = list(make_path(entity).flattening(0.0005))
        lines.append(LineString([(round(p.x, 6), round(p.y, 6)) for p in points]))
    return list(polygonize(lines).geoms)


@each_side
@each_case
def test_a_dxf_is_sound_and_its_openings_are_the_plans(case: str, side: MachineSide) -> None:
    for solved, board, lines in boards(case, side):
        drawing = opened(board)
        assert not drawing.audit().has_errors
        assert not drawing.audit().has_fixes
        assert drawing.units == 4  # millimetres, by the DXF reference's $INSUNITS
        assert {layer.dxf.name for layer in drawing.layers} >= {"blank", "cut", "score"}
        (blank,) = drawing.modelspace().query('LWPOLYLINE[layer=="blank"]')
        wide, high = map(float, (solved.blank.width, solved.blank.height))
        assert {(x, y) for x, y, *_ in blank.get_points()} == {(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)}  # type: ignore[attr-defined]
        found = openings(drawing)
        assert len(found) == len(lines)
        for line in lines:
            shape = true_shape(line, solved, side)
            nearest = min(found, key=lambda one, shape=shape: one.symmetric_difference(shape).area)  # type: ignore[misc]
            assert nearest.hausdorff_distance(shape) < 0.005, case


@pytest.mark.parametrize(
    ("case", "kinds"),
    [
        ("plain", {"LWPOLYLINE"}),
        ("circle", {"CIRCLE"}),
        ("oval", {"ELLIPSE"}),
        ("half-round arch", {"ARC", "LINE"}),
        ("octagon", {"LWPOLYLINE"}),
    ],
)
def test_rounds_stay_rounds(case: str, kinds: set[str]) -> None:
    for _, board, _ in boards(case, MachineSide.FACE):
        assert {one.dxftype() for one in opened(board).modelspace().query('*[layer=="cut"]')} == kinds


def test_corners_are_exact() -> None:
    """Without a rounding: the same doubles as the plan's fractions."""
    for solved, board, (line,) in boards("plain", MachineSide.FACE):
        (cut,) = opened(board).modelspace().query('LWPOLYLINE[layer=="cut"]')
        box, high = line.box, solved.blank.height
        xs, ys = (box.x, box.right), (high - box.y, high - box.bottom)
        assert {(x, y) for x, y, *_ in cut.get_points()} == {(float(x), float(y)) for x in xs for y in ys}  # type: ignore[attr-defined]


@each_side
@each_case
def test_an_svg_is_the_board_at_true_size(case: str, side: MachineSide) -> None:
    """Painted at two dots a millimetre, the openings cover what the plan's do."""
    for solved, board, lines in boards(case, side):
        content = svg("Machine file", board)
        root = etree.fromstring(content)
        wide, high = map(float, (solved.blank.width, solved.blank.height))
        assert (root.get("width"), root.get("height")) == (f"{wide:g}mm", f"{high:g}mm")
        assert [float(n) for n in root.get("viewBox", "").split()] == [0.0, 0.0, wide, high]
        filled = content.decode().replace('fill="none"', 'fill="black"').replace('id="blank"', 'visibility="hidden"')
        filled = filled.replace("stroke-width", "data-width").replace("stroke=", "data-stroke=")
        png = bytes(resvg_py.svg_to_bytes(svg_string=filled, width=round(2 * wide), dpi=96, background="white"))
        grey = np.asarray(Image.open(io.BytesIO(png)).convert("L"))
        dots = (2 * wide / grey.shape[1]) / 2
        covered = float((255 - grey).sum()) / 255 * dots**2
        shapes = [true_shape(line, solved, side) for line in lines]
        assert isclose(covered, sum(shape.area for shape in shapes), rel_tol=0.003)
        middle = float(((255.0 - grey) * np.arange(grey.shape[1])).sum() / (255.0 - grey).sum() + 0.5) * dots
        true_middle = sum(shape.centroid.x * shape.area for shape in shapes) / sum(shape.area for shape in shapes)
        assert abs(middle - true_middle) < 0.2


@each_side
def test_a_file_tells_its_side_and_what_the_cut_does(side: MachineSide) -> None:
    ((_, board, _),) = list(boards("reverse oval", side))
    text = dxf(board).decode()
    assert text.startswith("999\nSlipway, layer 1: ")
    assert (f"seen from the {side}, which the machine cuts" + ": mirrored\n" * (side is MachineSide.BACK)) in text
    assert "on its face the cut leaves them 1.4 mm smaller all round" in text
    assert "try it on scrap" in text
    assert all(line in svg("Machine file", board).decode().replace("&apos;", "'") for line in board.comment)


def test_a_circle_has_the_area_of_a_circle() -> None:
    """Area of a circle, π r²: the measure of the openings itself."""
    for _, board, (line,) in boards("circle", MachineSide.FACE):
        (found,) = openings(opened(board))
        assert isclose(found.area, pi * float(line.box.width / 2) ** 2, rel_tol=1e-5)
