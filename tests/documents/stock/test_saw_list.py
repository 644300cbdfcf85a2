"""Saw lists: every rail lies on its stick as it is cut, once, with the number of its row, its piece and its side."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from typing import Any

import pytest

from matplan.documents.stock.saw_list import saw_list
from matplan.drawing import clashes, svg
from matplan.drawing.items import Group, Text
from matplan.drawing.sheet import Sheet
from matplan.job.records import Stick
from matplan.lengths import Units
from matplan.orders.sawing import SawnStick, sawn
from matplan.pack import choice, pack_files
from matplan.planning import Plan
from matplan.stock.sticks import ROOT_TWO
from tests.documents.reading import bounds_of, scale_of
from tests.making import border, frame, mm, piece, planned, window
from tests.readback import Reading, Shape, read_svg

LONG = "Slipway below the old customs house, seen from the ferry at six in the morning"


def plan_of(
    *asked: tuple[str, str, int],
    length: str = "3 m",
    have: int = 0,
    margin: str = "20",
    units: Units = Units.MM,
    **changes: Any,
) -> Plan:
    """A plan of pieces with a name, an image and a quantity, all of one moulding sold in one length."""
    sticks = (Stick(length=mm(length), have=have),)
    moulding = frame(sticks=sticks, kerf=mm("3 mm"), spare=mm("10 mm"), **changes)
    pieces = [
        piece(
            name,
            file=f"p{n}",
            apertures=(window(name, image=image),),
            border=border(margin),
            frame=moulding,
            quantity=quantity,
        )
        for n, (name, image, quantity) in enumerate(asked)
    ]
    return planned(*pieces, units=units)


def listed(plan: Plan) -> tuple[tuple[SawnStick, ...], tuple[Sheet, ...]]:
    (rack,) = plan.racks
    sticks = sawn(rack, plan.pieces)
    return sticks, saw_list(plan.job, rack, sticks)


JOBS = {
    "one stick": plan_of(("Gull", "200 x 150", 1)),
    "alike": plan_of((LONG, "400 x 300", 25)),
    "thirty sticks": plan_of(*((f"{LONG} {n}", f"{300 + 17 * n} x {200 + 11 * n}", 2) for n in range(12))),
    "inches": plan_of(*((f"Pier {n}", f"{300 + 17 * n} x {200 + 11 * n}", 3) for n in range(8)), units=Units.IN),
    "at hand": plan_of(("Gull", "400 x 300", 9), have=2),
    "tiny rails": plan_of(*((f"Stamp {n}", f"{30 + n} x {20 + n}", 4) for n in range(12)), length="2.4 m"),
    "numbers above": plan_of(("Stamp", "9 x 9", 30), length="6 m", rail=Fraction(8)),
    "no room for numbers": plan_of(("Stamp", "9 x 9", 60), length="12 m", rail=Fraction(8)),
}


@pytest.mark.parametrize(("units", "kerf", "along"), [(Units.CM, "3 mm", "4.2 mm"), (Units.MM, "3 mm", "4.2 mm")])
def test_the_kerf_stands_in_one_unit(units: Units, kerf: str, along: str) -> None:
    _, sheets = listed(plan_of(("Gull", "200 x 150", 1), units=units))
    said = " ".join(text.text for text in sheets[0].texts()).replace("\u00a0", " ")
    assert f"Kerf {kerf}: a mitred cut takes {along} along the stick" in said
    assert "Take 10 mm off each end first." in said


@pytest.fixture(params=JOBS, ids=str)
def plan(request: pytest.FixtureRequest) -> Plan:
    return JOBS[request.param]


def test_each_frame_gets_its_four_rails_and_each_stick_what_was_cut_from_it(plan: Plan) -> None:
    sticks, _ = listed(plan)
    counted = Counter((rail.piece, rail.side) for one in sticks for rail in one.rails for _ in range(one.count))
    wanted = {(one.name, side): one.ask.quantity for one in plan.pieces for side in ("top", "bottom", "left", "right")}
    assert counted == wanted
    told = Counter((one.stick, one.ready) for one in sticks for _ in range(one.count))
    assert told == Counter(plan.racks[0].sticks.told())
    named = {one.name: one for one in plan.pieces}
    for rail in (rail for one in sticks for rail in one.rails):
        made = named[rail.piece].frame
        assert made.long_edges is not None
        edges = (
            (made.long_edges.width, made.rabbet.width)
            if rail.side in ("top", "bottom")
            else (made.long_edges.height, made.rabbet.height)
        )
        assert (rail.long_edge, rail.rabbet) == edges


def test_sticks_that_are_alike_stand_once_with_their_count() -> None:
    sticks, _ = listed(JOBS["alike"])
    assert len(sticks) < sum(one.count for one in sticks) / 4
    assert len({(one.stick, one.rails) for one in sticks}) == len(sticks)


def test_rails_are_drawn_to_scale_where_they_are_cut_and_carry_their_boxes(plan: Plan) -> None:
    (rack,) = plan.racks
    sticks, sheets = listed(plan)
    bars, rails = list[tuple[Shape, Fraction]](), list[Shape]()
    for sheet in sheets:
        reading = read_svg(svg.render(sheet))
        bars += [(shape, scale_of(reading)) for shape in shapes(reading, "stick")]
        rails += shapes(reading, "rail")
    assert len(bars) == len(sticks)
    drawn = iter(rails)
    cut, face = rack.frame.kerf * ROOT_TWO, rack.frame.rail
    assert face is not None
    for (bar, scale), one in zip(bars, sticks, strict=True):
        x, y, width, height = bounds_of(bar)
        assert bar.box == (Fraction(0), Fraction(0), one.stick.kind.length, face)
        assert width == pytest.approx(float(one.stick.kind.length * scale), abs=0.01)
        at = one.stick.kind.spare
        for rail in one.rails:
            shape = next(drawn)
            length, inset = float(rail.long_edge * scale), float(face * scale)
            left = x + float(at * scale)
            assert bounds_of(shape) == pytest.approx((left, y, length, height), abs=0.01)
            assert sorted(px for px, py in shape.points if abs(py - y) < 0.01)[0] == pytest.approx(
                left + inset, abs=0.01
            )
            assert shape.box is not None
            assert [float(v) for v in shape.box] == pytest.approx([float(v) for v in (at, 0, rail.long_edge, face)])
            assert (shape.data["piece"], shape.data["side"]) == (rail.piece, rail.side)
            at += rail.long_edge + cut
        assert at - cut <= one.stick.kind.length - one.stick.kind.spare


def shapes(reading: Reading, name: str) -> list[Shape]:
    return [part for part in reading.named(name) if isinstance(part, Shape)]


def test_every_number_of_the_table_is_on_the_drawing_once_at_one_size(plan: Plan) -> None:
    sticks, sheets = listed(plan)
    rails = [rail for one in sticks for rail in one.rails]
    printer, row_by_row = plan.job.printer, list[tuple[str, ...]]()
    for row in (row for sheet in sheets for row in table_rows(sheet)):
        first, _, last = row["Rail"].partition("–")
        assert int(first) == len(row_by_row) + 1
        for said in row["Side"].split(", "):
            count, _, side = said.rpartition(" ")
            row_by_row += [(side, row["Long edge"], row["Rabbet"])] * int(count or 1)
        assert int(last or first) == len(row_by_row)
    assert row_by_row == [(rail.side, printer.length(rail.long_edge), printer.length(rail.rabbet)) for rail in rails]
    numbers = [text for sheet in sheets for text in numbered(sheet.items)]
    if plan is JOBS["no room for numbers"]:
        assert not numbers
        assert any("from left to right" in text.text for text in sheets[0].texts())
        return
    assert [text.text for text in numbers] == [str(n) for n in range(1, len(rails) + 1)]
    assert len({text.size for text in numbers}) == 1


def numbered(items: tuple[Any, ...]) -> Iterator[Text]:
    for item in items:
        if isinstance(item, Group):
            if "rail-number" in item.classes:
                yield next(text for text in item.items if isinstance(text, Text))
            else:
                yield from numbered(item.items)


def table_rows(sheet: Sheet) -> Iterator[dict[str, str]]:
    """The rows of each table on the sheet, by the heads of their columns."""
    for table in (item for item in sheet.items if isinstance(item, Group) and "table" in item.classes):
        texts = [item for item in table.items if isinstance(item, Text)]
        heads = {text.at[0]: text.text for text in texts if text.at[1] == texts[0].at[1]}
        for number in (text for text in texts if heads[text.at[0]] == "Rail" and text.text != "Rail"):
            below = [text for text in texts if text.at[1] > number.at[1] and heads[text.at[0]] == "Rail"]
            end = min((text.at[1] for text in below), default=1e9)
            row: dict[str, str] = {}
            for text in sorted(texts, key=lambda text: text.at[1]):
                if number.at[1] <= text.at[1] < end:
                    head = heads[text.at[0]]
                    row[head] = f"{row[head]} {text.text}" if head in row else text.text
            yield row


def test_the_table_is_lettered_larger_where_that_takes_no_more_pages(
    plan: Plan, monkeypatch: pytest.MonkeyPatch
) -> None:
    _, sheets = listed(plan)
    large = {row.size for sheet in sheets for row in sheet.texts() if row.text in ("Gull", "Pier 7", "Stamp")}
    monkeypatch.setattr("matplan.documents.stock.saw_list._LARGE", ())
    _, plain = listed(plan)
    assert len(sheets) == len(plain)
    if plan in (JOBS["one stick"], JOBS["inches"], JOBS["at hand"]):
        assert large == {5.0}
    if plan in (JOBS["alike"], JOBS["thirty sticks"]):  # names that fill lines as it is
        assert [svg.render(sheet) for sheet in sheets] == [svg.render(sheet) for sheet in plain]


def test_nothing_meets_and_nothing_is_cut_short(plan: Plan) -> None:
    _, sheets = listed(plan)
    assert len({sheet.name for sheet in sheets}) == len(sheets)
    for sheet in sheets:
        assert clashes.check(sheet) == ()
        assert min(text.size for text in sheet.texts()) >= 1.8


def test_each_stick_says_what_is_left_of_it(plan: Plan) -> None:
    (rack,) = plan.racks
    sticks, sheets = listed(plan)
    words = [text.text for sheet in sheets for text in sheet.texts() if text.text.startswith("Stick")]
    headings = [text for text in words if "offcut after kerf" in text]
    assert len(headings) == len(sticks)
    for heading, one in zip(headings, sticks, strict=True):
        assert plan.job.printer.length(rack.offcut(one.stick)) in heading
        assert (", at hand" in heading) == one.ready
        assert (f"cut {one.count} like this" in heading) == (one.count > 1)
    assert sum(one.count for one in sticks if one.ready) == (2 if plan is JOBS["at hand"] else 0)
    assert any("guard in place, work clamped, hands clear" in text.text for text in sheets[0].texts())


def test_a_stick_by_hand() -> None:
    """Blank 504 × 304, rabbet 507 × 307; rails 507 + 2 × (20 − 6) = 535 and 335.

    3000 − 2 × 10 − 2 × (535 + 335) = 1240; four mitred cuts of 3 × √2 = 16.97: 1223.03, to the step 1223.
    """
    _, (sheet,) = listed(plan_of(("Gull", "400 x 200", 1), margin="50 mm"))
    assert list(table_rows(sheet)) == [
        {"Rail": "1–2", "Piece": "Gull", "Side": "top, bottom", "Long edge": "535 mm", "Rabbet": "507 mm"},
        {"Rail": "3–4", "Piece": "Gull", "Side": "left, right", "Long edge": "335 mm", "Rabbet": "307 mm"},
    ]
    assert any(text.text == "Stick 1: 3000 mm; offcut after kerf 1223 mm" for text in sheet.texts())


def test_files_have_safe_names_and_no_two_share_one() -> None:
    frames = [frame(name=name, sticks=(Stick(length=mm("3 m")),)) for name in ("Oak / wide", "oak: wide", "con")]
    pieces = [
        piece(f"P{n}", apertures=(window(image="200 x 150"),), border=border("20"), frame=one)
        for n, one in enumerate(frames)
    ]
    plan = planned(*pieces, piece("Bought", apertures=(window(image="200 x 150"),), frame=frame("40 x 50 cm")))
    files = [name for name, _ in pack_files(plan, choice(plan.job, "sticks"))]
    assert files == ["plan.json", "sticks/oak-wide.svg", "sticks/oak-wide-2.svg", "sticks/frame-con.svg"]
