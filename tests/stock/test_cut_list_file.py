"""Cut lists as written: every fault with its line and column, all at once."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from matplan.faults import CutListError
from matplan.lengths import Size, Units
from matplan.stock.cutlist import parse_cut_list, read_cut_list

HEADER = "name,width,height,quantity,turn\n"


def faults(text: str | bytes) -> list[str]:
    data = text.encode() if isinstance(text, str) else text
    with pytest.raises(CutListError) as refused:
        parse_cut_list(data, Units.MM, file="list.csv")
    return [fault.shown("list.csv") for fault in refused.value.faults]


def test_a_list_is_read_in_its_units() -> None:
    (mat, slip) = parse_cut_list(
        b'name,width,height,quantity\r\nmat,"16 3/8 in",20,2\r\n\r\n"slip, small",3,.5,1\r\n', Units.CM
    )
    assert (mat.name, mat.size, mat.quantity, mat.turn) == ("mat", Size(Fraction(16637, 40), Fraction(200)), 2, True)
    assert (slip.name, slip.size) == ("slip, small", Size(Fraction(30), Fraction(5)))


def test_one_name_may_stand_for_several_sizes() -> None:
    parts = parse_cut_list((HEADER + "mat,10,20,1\nmat,5,5,1\n").encode(), Units.MM)
    assert [part.size.width for part in parts] == [10, 5]


def test_columns_stand_in_any_order_and_a_mark_before_them_is_no_fault() -> None:
    (part,) = parse_cut_list(b"\xef\xbb\xbfturn,quantity,height,width,name\nno,3,20,10,a\n", Units.MM)
    assert (part.size, part.quantity, part.turn) == (Size(Fraction(10), Fraction(20)), 3, False)


@pytest.mark.parametrize(
    ("rows", "messages"),
    [
        ("a,10,20,1,maybe\n", ['list.csv:2: turn: got "maybe"; write yes or no']),
        ("a,10,20,0\n", ['list.csv:2: quantity: got "0"; write a whole number from 1 to 100,000']),
        ("a,10,20,1.5\n", ['list.csv:2: quantity: got "1.5"; write a whole number from 1 to 100,000']),
        ("a,0,20,1\n", ["list.csv:2: width: got 0; a side is longer than 0"]),
        (",10,20,1\n", ["list.csv:2: name: is empty; every part has a name"]),
    ],
)
def test_a_wrong_cell_names_its_line_and_column(rows: str, messages: list[str]) -> None:
    assert faults(HEADER + rows) == messages


def test_all_faults_come_at_once_in_line_order() -> None:
    found = faults(HEADER + "a,wide,20,1,yes\n\nb,10,-3,many,yes\n")
    assert [fault.split(": ")[:2] for fault in found] == [
        ["list.csv:2", "width"],
        ["list.csv:4", "height"],
        ["list.csv:4", "quantity"],
    ]


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "the list is empty"),
        (HEADER, "the list has no parts"),
        ("name,width,height\na,1,2\n", "list.csv:1: quantity: this column is missing"),
        ("name,width,height,quantity,grain\na,1,2,1,x\n", "list.csv:1: grain: is no column here"),
        ("name,width,height,quantity,width\na,1,2,1,3\n", "list.csv:1: width: this column stands twice"),
        (HEADER + "a,1,2,1,yes,more\n", "has 6 cells"),
        (HEADER.encode() + b"caf\xe9,1,2,1\n", "list.csv:2: byte 0xe9 is no UTF-8"),
        (HEADER + 'a,"1,2,1\n', "this is no CSV"),
        (HEADER + "a,1,2,60000\nb,1,2,60000\n", "the list has 120,000 parts"),
    ],
)
def test_a_list_that_is_none_says_so(text: str | bytes, says: str) -> None:
    assert any(says in fault for fault in faults(text))


def test_a_hundred_thousand_wrong_rows_are_counted_not_listed() -> None:
    found = faults(HEADER + "a,1,2,none\n" * 100_000)
    assert len(found) == 101
    assert "more faults" in found[-1]


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    for path, says in ((tmp_path / "no.csv", "no such file"), (tmp_path, "is a folder")):
        with pytest.raises(CutListError, match=says):
            read_cut_list(path, Units.MM)


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="no device without an end is there")
def test_a_device_without_an_end_is_no_list() -> None:
    with pytest.raises(CutListError, match="it has more than 50,000,000 bytes"):
        read_cut_list(Path("/dev/zero"), Units.MM)
