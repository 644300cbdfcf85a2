"""Laws of reading: whatever stands at whatever place, the job is read or its faults are told, and one fault gives one
message.
"""

from __future__ import annotations

import copy
import datetime
import tomllib
from pathlib import Path
from typing import Any

import pytest
import tomlkit
from hypothesis import given, settings
from hypothesis import strategies as st

from matplan.faults import Fault, JobError
from matplan.job import parse_job
from matplan.job.file.lines import Place, place_text
from tests.job.places import places

FULL = """
title = "Ferry steps"
units = "mm"
step = "1 mm"
currency = "EUR"
dropout_trim = 2
cutter = { setback = 1, widest_border = 220, longest_cut = 1200, window_side = "right" }
costs = { labour_per_hour = 40, ink_per_ft2 = 1, markup = 2, tape_per_m = 0.2, wire_per_ft = "0.10" }
[paper.rag]
size = "A3+"
printer_margin = { top = 5, left = 5 }
ppi = 240
price = 1.20
profile = "rag matt"
media = "heavy fine art"
test_strip = "A6"
strip_at = [0.5, 0.4]
[board.white]
ply = 4
colour = "#f6f2e8"
sheets = [{ size = "32x40 in", price = 18.50, have = 2, trim = "3 mm" }]
[glazing.own]
thickness = 2
price_per_m2 = 30
substance = "glass"
[backing.own]
thickness = 3
[frame.ash]
takes = "40x50 cm"
clearance = "3 mm"
lip = "6 mm"
depth = "18 mm"
rail = "20 mm"
sticks = [{ length = "3 m", price = 21.0, have = 1 }]
kerf = 3
[frame.oak]
rabbet = "403 x 503 mm"
sight = "389 x 489 mm"
price = 34.00
have = 2
includes = ["glazing", "mat"]
mat_opening = "190 x 280 mm"
[[piece]]
name = "Slipway"
quantity = 2
frame = "ash"
turn = false
aspect = "3:2"
image = { width = "24 cm" }
border = { top = 1, left = 3 }
border_to = "opening"
weight = "12 mm"
show = "image"
overlap = "3 mm"
paper = "rag"
mat = ["white", { board = "white", reveal = "6 mm", cut = "bevel" }]
glazing = "own"
backing = "own"
mat_supply = "sheets"
shape = "polygon"
points = [[0.5, 0], [1, 1], [0, 1]]
[[piece]]
name = "Gull"
frame = "ash"
border = 50
rows = [["a"], ["b"]]
gutter = 5
[[piece.aperture]]
name = "a"
aspect = "3:2"
shape = "arch"
rise = 5
[[piece.aperture]]
name = "b"
aspect = "1:1"
[[piece]]
name = "Tern"
image = "A4"
border = 5
[[piece]]
name = "Coil"
frame = "oak"
opening = "190 x 280 mm"
even = true
[[piece]]
name = "Skiff"
frame = "oak"
[[wall]]
name = "Stair landing"
size = "3600 x 2400 mm"
eye = "1450 mm"
arrange = "placed"
zone = { left = "600 mm", right = "3000 mm", bottom = "900 mm", top = "2200 mm" }
pieces = ["Slipway", "Slipway", "Gull"]
at = { Slipway = [{ left = 900, bottom = 1200 }, { left = 90, bottom = 1200 }], Gull = { left = 1, bottom = 2 } }
keep_clear = [{ name = "switch", left = 200, bottom = 1050, width = 80, height = 80, margin = 50 }]
furniture = [{ name = "bench", left = 800, width = 1800, height = 450 }]
hang = { by = "wire", anchors = "1/3", drop = "60 mm", rating = "30 lb" }
columns = 3
rise = 5
outline = [[0, 2000], [3600, 1500]]
"""
DATA = tomllib.loads(FULL)


PLACES = list(places(DATA))
ODD = st.one_of(
    st.sampled_from(
        ["", " ", "x", "none", "5 mm", "3:2", "A4", "white", "ash", "a", "\x1b", "1e9 mm", "9" * 100, "../x", "-1", "½"]
    ),
    st.sampled_from(
        [
            -1,
            0,
            1,
            10**40,
            1.5,
            True,
            False,
            float("inf"),
            float("nan"),
            1e300,
            datetime.date(2020, 1, 1),
            datetime.time(1),
        ]
    ),
    st.sampled_from([[], {}, [[]], [{}], ["x"], [["x"]], {"x": 1}, {"x": {}}, [[0, 0]], [[1, 2, 3]]]),
    st.text(max_size=8),
)


def changed(place: Place, value: Any) -> str:
    """The full job with that value at that place."""
    data = copy.deepcopy(DATA)
    table: Any = data
    for part in place[:-1]:
        table = table[part]
    table[place[-1]] = value
    return tomlkit.dumps(data)


def test_full_job_is_sound(tmp_path: Path) -> None:
    assert len(parse_job(FULL, tmp_path).pieces) == 5


@settings(max_examples=100, deadline=None)
@given(st.sampled_from(PLACES), ODD)
def test_whatever_stands_there_is_read_or_told(place: Place, value: Any) -> None:
    told: tuple[Fault, ...] = ()
    try:
        parse_job(changed(place, value), Path(__file__).parent)
    except JobError as error:
        told = error.faults
    assert all(fault.line and fault.text and len(fault.shown("job.toml").splitlines()) == 1 for fault in told)


@pytest.mark.parametrize("place", PLACES, ids=place_text)
def test_one_fault_gives_one_message(place: Place, tmp_path: Path) -> None:
    """A date is right nowhere in a job."""
    text = changed(place, datetime.date(2020, 1, 1))
    with pytest.raises(JobError) as caught:
        parse_job(text, tmp_path)
    (fault,) = caught.value.faults
    assert fault.where == place_text(place)
    assert fault.line is not None
    assert "2020-01-01" in text.split("\n")[fault.line - 1]


NAMED = {"paper", "board", "glazing", "backing", "frame", "at"}
"""Tables whose keys are names of the user's own."""
KEYS = [place for place in PLACES if isinstance(place[-1], str) and (len(place) == 1 or place[-2] not in NAMED)]


@pytest.mark.parametrize("place", KEYS, ids=place_text)
def test_misspelt_key_gives_one_message_that_names_the_right_one(place: Place, tmp_path: Path) -> None:
    data = copy.deepcopy(DATA)
    table: Any = data
    for part in place[:-1]:
        table = table[part]
    key = str(place[-1])
    wrong = key[:-1] + key[-1] * 2
    rows = {wrong if name == key else name: value for name, value in table.items()}
    table.clear()
    table.update(rows)
    with pytest.raises(JobError) as caught:
        parse_job(tomlkit.dumps(data), tmp_path)
    (fault,) = caught.value.faults
    assert (fault.where, fault.text) == (
        place_text((*place[:-1], wrong)),
        f'there is no key "{wrong}" here; did you mean "{key}"?',
    )
