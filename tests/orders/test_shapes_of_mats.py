"""What an order line says of a mat's shapes: a supplier must know which opening is which."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from matplan.job.records import Shape
from matplan.orders.records import Item, OrderLine
from matplan.planning import Plan
from tests.making import frame, mm, piece, planned, window


def mats(plan: Plan) -> list[OrderLine]:
    return [line for line in plan.order if line.item is Item.MAT]


def pair(left: Shape, right: Shape) -> dict[str, Any]:
    """Two windows of one size side by side, in those shapes."""
    windows = (window("left", image="100x100 mm", shape=left), window("right", image="100x100 mm", shape=right))
    return {"frame": frame("30x40 cm", turned=True), "apertures": windows, "rows": ((0, 1),), "gutter": mm("20 mm")}


def test_each_opening_that_is_no_rectangle_has_its_shape_told_by_its_name() -> None:
    (line,) = mats(planned(piece(**pair(Shape.RECTANGLE, Shape.CIRCLE))))
    assert line.note == "layer 1, bevel cut, right: circle"


def test_one_shape_for_all_is_said_once() -> None:
    (line,) = mats(planned(piece(**pair(Shape.OVAL, Shape.OVAL))))
    assert line.note == "layer 1, bevel cut, oval"


def test_rectangles_go_without_saying() -> None:
    (line,) = mats(planned(piece(**pair(Shape.RECTANGLE, Shape.RECTANGLE))))
    assert line.note == "layer 1, bevel cut"


def test_mats_whose_shapes_have_changed_places_are_not_the_same_mat() -> None:
    one, other = mats(
        planned(piece("One", **pair(Shape.SQUARE, Shape.CIRCLE)), piece("Other", **pair(Shape.CIRCLE, Shape.SQUARE)))
    )
    assert one.openings == other.openings
    assert (one.quantity, other.quantity) == (1, 1)


def test_equal_mats_of_two_pieces_are_one_line() -> None:
    (line,) = mats(
        planned(piece("One", **pair(Shape.SQUARE, Shape.CIRCLE)), piece("Other", **pair(Shape.SQUARE, Shape.CIRCLE)))
    )
    assert line.quantity == 2


def test_equal_mats_are_one_line_whatever_their_windows_are_called() -> None:
    pair_of = pair(Shape.SQUARE, Shape.CIRCLE)
    renamed = tuple(replace(one, name=name) for one, name in zip(pair_of["apertures"], ("dawn", "dusk"), strict=True))
    (line,) = mats(planned(piece("One", **pair_of), piece("Other", **{**pair_of, "apertures": renamed})))
    assert line.pieces == ("One", "Other")
    assert line.note == "layer 1, bevel cut, left: square, right: circle"
