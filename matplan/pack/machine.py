"""Machine files: a board for a computerised cutter as DXF and as SVG, at full size in mm.

Circles, ellipses and arcs stay what they are. The same board gives the same bytes.
"""

from __future__ import annotations

import io
from collections.abc import Iterable
from fractions import Fraction
from importlib.util import find_spec
from math import atan2, degrees
from typing import TYPE_CHECKING, Any, Final

from matplan.documents.document import Form
from matplan.documents.parts.traces import Bow, Chain, Corners, Line, MachineBoard, Trace, Whole
from matplan.faults import MatplanError, PackError
from matplan.lengths import plain_decimal

if TYPE_CHECKING:
    from ezdxf.layouts.layout import Modelspace

KINDS: Final = {"dxf": Form.DXF, "svg": Form.MACHINE_SVG}
"""The kinds of machine files, as `--machine` names them."""
_COLOURS: Final = {"blank": (7, "#000000"), "cut": (1, "#ff0000"), "score": (5, "#0000ff")}
"""Each layer's colour: its index in DXF, and in SVG."""


class MachineError(MatplanError, ValueError):
    """`--machine` names something that is no kind of machine file."""


def machine_forms(kinds: str | Iterable[str]) -> frozenset[Form]:
    """Return the forms that texts such as "dxf,svg" name.

    Raises `MachineError` for an unknown kind, and `PackError` where the package that writes it is missing.
    """
    texts = (kinds,) if isinstance(kinds, str) else tuple(kinds)
    names = [name.strip().lower() for text in texts for name in text.split(",")]
    unknown = sorted({name for name in names if name not in KINDS})
    if unknown:
        got = ", ".join(map(repr, unknown))
        raise MachineError(f"got {got}, which is no kind of machine file; the kinds are {', '.join(KINDS)}")
    forms = frozenset(KINDS[name] for name in names)
    if Form.DXF in forms and find_spec("ezdxf") is None:
        raise PackError("machine files as DXF need ezdxf: pip install 'matplan[machine]'")
    return forms


def dxf(board: MachineBoard) -> bytes:
    """Return the board as DXF of the release 2010, in mm."""
    from ezdxf import units
    from ezdxf._options import options
    from ezdxf.filemanagement import new
    from ezdxf.lldxf.const import DXF2010

    fixed = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        document = new(DXF2010, units=units.MM)
        for name in ("ACDBPLACEHOLDER", "LAYOUT"):  # ezdxf itself adds both in the order of their hashes
            document.classes.add_class(name)
        space = document.modelspace()
        for layer, traces in board.layers:
            document.layers.add(layer, color=_COLOURS[layer][0])
            for trace in traces:
                _add(space, trace, {"layer": layer})
        text = io.StringIO()
        document.write(text)
    finally:
        options.write_fixed_meta_data_for_testing = fixed
    comment = "".join(f"999\n{line}\n" for line in board.comment)
    return (comment + text.getvalue()).encode("utf-8", "replace")


def _add(space: Modelspace, trace: Trace, layer: dict[str, str]) -> None:
    match trace:
        case Corners(points=points):
            space.add_lwpolyline([(float(x), float(y)) for x, y in points], close=True, dxfattribs=layer)
        case Whole(centre=(x, y), rx=rx, ry=ry) if rx == ry:
            space.add_circle((float(x), float(y)), float(rx), dxfattribs=layer)
        case Whole(centre=(x, y), rx=rx, ry=ry):
            axis = (float(rx), 0.0) if rx > ry else (0.0, float(ry))
            space.add_ellipse((float(x), float(y)), axis, float(min(rx, ry) / max(rx, ry)), dxfattribs=layer)
        case Chain(pieces=pieces):
            for piece in pieces:
                _add_piece(space, piece, layer)


def _add_piece(space: Modelspace, piece: Line | Bow, layer: dict[str, str]) -> None:
    """Add a line, or an arc: counter-clockwise, as DXF has it."""
    start, end = ((float(x), float(y)) for x, y in (piece.start, piece.end))
    if isinstance(piece, Line):
        space.add_line(start, end, dxfattribs=layer)
        return
    x, y = map(float, piece.centre)
    ends = (end, start) if piece.clockwise else (start, end)
    first, last = (degrees(atan2(b - y, a - x)) for a, b in ends)
    space.add_arc((x, y), float(piece.radius), first, last, dxfattribs=layer)


def svg(title: str, board: MachineBoard) -> bytes:
    """Return the board as SVG: its page is the blank, one unit a mm."""
    from svgwrite.drawing import Drawing

    width, height = board.blank.width, board.blank.height
    drawing = Drawing(size=(f"{_n(width)}mm", f"{_n(height)}mm"), viewBox=f"0 0 {_n(width)} {_n(height)}", debug=False)
    drawing.set_desc(title=title, desc="; ".join(board.comment))
    drawing.attribs["xml:lang"] = "en"
    for layer, traces in board.layers:
        group = drawing.g(id=layer, fill="none", stroke=_COLOURS[layer][1], stroke_width="0.1")
        for trace in traces:
            group.add(_shape(drawing, trace, height))
        drawing.add(group)
    return f'<?xml version="1.0" encoding="utf-8"?>\n{drawing.tostring()}\n'.encode("utf-8", "replace")


def _shape(drawing: Any, trace: Trace, height: Fraction) -> Any:
    """Return the shape of SVG, whose y runs down from the page's upper edge."""

    def at(point: tuple[Fraction, Fraction]) -> str:
        return f"{_n(point[0])} {_n(height - point[1])}"

    def step(piece: Line | Bow) -> str:
        if isinstance(piece, Line):
            return f"L {at(piece.end)}"
        radius = _n(piece.radius)
        return f"A {radius} {radius} 0 {int(piece.large)} {int(piece.clockwise)} {at(piece.end)}"

    match trace:
        case Corners(points=points):
            return drawing.path(f"M {' L '.join(map(at, points))} Z")
        case Whole(centre=(x, y), rx=rx, ry=ry) if rx == ry:
            return drawing.circle((_n(x), _n(height - y)), _n(rx))
        case Whole(centre=(x, y), rx=rx, ry=ry):
            return drawing.ellipse((_n(x), _n(height - y)), (_n(rx), _n(ry)))
        case Chain(pieces=pieces):
            return drawing.path(" ".join((f"M {at(pieces[0].start)}", *(step(piece) for piece in pieces), "Z")))


def _n(value: Fraction) -> str:
    """Return a number as text: up to nine decimals."""
    return plain_decimal(value, 9)
