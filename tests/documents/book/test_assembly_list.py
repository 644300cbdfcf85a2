"""The assembly list: each piece whole on a sheet, its rabbet from the front, each board's borders as cut."""

from __future__ import annotations

from fractions import Fraction

import pytest

from matplan.documents.book.assembly_list import assembly_list
from matplan.drawing import clashes
from matplan.drawing.sheet import Sheet
from matplan.lengths import Units
from matplan.planning import Plan
from tests.making import border, double_mat, frame, piece, planned, window


def several(count: int, units: Units = Units.MM) -> Plan:
    return planned(
        *(
            piece(
                f"Piece {n}",
                apertures=(window(f"Piece {n}", image=f"{200 + n} x 167"),),
                frame=frame("40 x 50 cm"),
                mat=double_mat(),
            )
            for n in range(count)
        ),
        units=units,
    )


def listed(plan: Plan) -> tuple[Sheet, ...]:
    return assembly_list(plan.job, plan.pieces)


def words(sheet: Sheet) -> list[str]:
    return [text.text for text in sheet.texts()]


@pytest.mark.parametrize("units", list(Units))
@pytest.mark.parametrize("count", [1, 7])
def test_a_piece_is_never_parted_and_nothing_clashes(count: int, units: Units) -> None:
    plan = several(count, units)
    found = listed(plan)
    assert len({sheet.name for sheet in found}) == len(found)
    for one in plan.pieces:
        (sheet,) = (sheet for sheet in found if one.name in words(sheet))
        assert clashes.check(sheet) == ()
        for layer in one.layers:
            assert plan.job.printer.size(layer.openings[0].back.box.size) in words(sheet)


def test_the_cautions_stand_once() -> None:
    found = [word for sheet in listed(several(7)) for word in words(sheet)]
    assert found.count("Caution") == 1


def test_the_rabbet_is_listed_from_the_front_with_each_thickness() -> None:
    (sheet,) = listed(several(1))
    found = words(sheet)
    # parts of the builder: glass 2 mm, two boards of 1.4 mm, foam 5 mm
    places = [found.index(word) for word in ("glass-2mm, 2 mm", "white, 1.4 mm", "charcoal, 1.4 mm", "foam-5mm, 5 mm")]
    assert places == sorted(places)


def test_a_piece_of_many_windows_goes_on_with_every_window() -> None:
    windows = tuple(window(f"Window {n}", image="60 x 40") for n in range(50))
    rows = tuple(tuple(range(n, n + 10)) for n in range(0, 50, 10))
    plan = planned(piece(apertures=windows, rows=rows, gutter=Fraction(20), border=border("50"), frame=frame()))
    found = listed(plan)
    assert len(found) > 1
    said = [word for sheet in found for word in words(sheet)]
    assert all(said.count(f"Window {n}") == 1 for n in range(50))
    assert all(clashes.check(sheet) == () for sheet in found)


def test_without_pieces_there_is_no_sheet() -> None:
    assert assembly_list(several(1).job, ()) == ()
