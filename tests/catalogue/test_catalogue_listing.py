"""The tables as text and as JSON."""

from __future__ import annotations

import json

import pytest

from matplan import catalogue
from matplan.catalogue import Kind
from matplan.catalogue.listing import document, listing
from matplan.lengths import Units


@pytest.mark.parametrize("units", Units)
@pytest.mark.parametrize("kind", Kind)
def test_each_row_has_a_cell_for_each_header_and_ends_in_its_source(kind: Kind, units: Units) -> None:
    table = listing(kind, units)
    assert table.headers[-2:] == ("Status", "Source")
    assert len(table.rows) == len(catalogue.rows(kind))
    for cells, row in zip(table.rows, catalogue.rows(kind), strict=True):
        assert len(cells) == len(table.headers)
        assert cells[-2:] == (row.status.value, row.source)


@pytest.mark.parametrize(
    ("kind", "units", "name", "size"),
    [
        (Kind.PAPERS, Units.MM, "A4", "210 × 297"),
        (Kind.PAPERS, Units.CM, "A4", "21 × 29.7"),
        (Kind.PAPERS, Units.IN, "A4", "8.27 × 11.69"),
        (Kind.PAPERS, Units.IN, "Letter", "8 1/2 × 11"),
        (Kind.PAPERS, Units.MM, "Letter", "215.9 × 279.4"),
        (Kind.PAPERS, Units.CM, "Letter", "21.59 × 27.94"),
        (Kind.FRAMES, Units.MM, "16x20 in", "406.4 × 508"),
        (Kind.GLAZING, Units.MM, "glass-2.5mm", "2.5"),
        (Kind.BACKING, Units.IN, "foam-3/16in", "3/16"),
        (Kind.BACKING, Units.IN, "foam-5mm", "0.197"),
    ],
)
def test_sizes_print_in_the_units_asked_for(kind: Kind, units: Units, name: str, size: str) -> None:
    assert [cells[1] for cells in listing(kind, units).rows if cells[0] == name] == [size]


def test_document_is_json_and_holds_every_table() -> None:
    read = json.loads(json.dumps(document(), allow_nan=False))
    assert read["schema"] == "matplan-sizes/1"
    assert [table["kind"] for table in read["tables"]] == [kind.value for kind in Kind]
    for table in read["tables"]:
        for row in table["rows"]:
            assert row["name"]
            assert row["source"]
            assert row["status"] in {"published", "derived", "common practice", "memory"}


def test_document_holds_exact_sizes_densities_and_openings() -> None:
    tables = {
        table["kind"]: {row["name"]: row for row in table["rows"]}
        for table in json.loads(json.dumps(document()))["tables"]
    }
    assert tables["papers"]["Letter"]["size"] == [215.9, 279.4]
    assert tables["frames"]["40x50 cm"]["size"] == [400, 500]
    assert tables["ready-cut"]["16x20 in for 11x14 in"]["opening"] == [266.7, 342.9]
    assert tables["ready-cut"]["16x20 in for 11x14 in"]["size"] == [406.4, 508]
    assert (tables["glazing"]["glass-2mm"]["thickness"], tables["glazing"]["glass-2mm"]["density"]) == (2, 2500)
    assert (tables["boards"]["4-ply"]["thickness"], tables["boards"]["4-ply"]["ply"]) == (1.4, 4)
    assert tables["backing"]["foam-5mm"]["mass"] == 0.65


def test_one_table_alone() -> None:
    assert [table["kind"] for table in json.loads(json.dumps(document([Kind.GLAZING])))["tables"]] == ["glazing"]
