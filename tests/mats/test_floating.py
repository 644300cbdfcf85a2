"""Works that float on a mount without a mat, and what keeps them off the glazing."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from matplan.job import parse_job
from matplan.job.records import AddedWeight, ImageAsk, Show, StockSheet
from matplan.lengths import Box, Printer, Step, Units
from matplan.mats.records import SolvedPiece
from matplan.mats.solve import solve
from matplan.mats.windows import Unsolvable
from matplan.orders.cutting import parts_of
from matplan.orders.lines import own_lines
from matplan.orders.records import Item
from tests.laws.strategies import STEPS, frames, lengths, weights
from tests.laws.test_laws_of_a_piece import relaxed, solved_or_not
from tests.making import CHARCOAL, RAG, WHITE, border, frame, mm, photo, piece, size, solved, window

FLOATS: dict[str, Any] = {"mat": (), "mount": WHITE, "spacer": mm(5), "lift": mm(3)}


def floated(image: str | None = "300x200 mm", *, paper: Any = None, **changes: Any) -> SolvedPiece:
    asked = window(image=image, show=Show.SHEET, paper=paper, **changes.pop("window", {}))
    given: dict[str, Any] = {"frame": frame("50x40 cm"), "apertures": (asked,)}
    return solved(**(given | FLOATS | changes))


def test_a_work_lies_in_the_middle_of_its_mount() -> None:
    """The mount is the blank, 500 × 400; the work of 300 × 200 leaves 100 at each side, of which 4.5 are hidden."""
    made = floated()
    (shown,) = made.apertures
    assert made.layers == ()
    assert shown.opening == Box(mm(100), mm(100), mm(300), mm(200))
    assert shown.work.box == shown.opening
    assert shown.visible.left == shown.visible.bottom == mm("95.5")
    assert shown.gap is None


def test_a_weighted_work_lies_higher() -> None:
    assert floated(weight=AddedWeight(extra=mm(20))).apertures[0].cut.top == 90


def test_the_sheet_is_the_work_and_is_not_cut_to_its_image() -> None:
    """A3+ holds the image of 300 × 200 as it is named, 329 × 483, with the image in its middle."""
    (shown,) = floated("300x200 mm", paper=RAG, frame=frame("60x50 cm")).apertures
    assert shown.print is not None
    assert shown.opening.size == shown.work.box.size == shown.print.size == RAG.size
    assert shown.image.size == size("300x200 mm")


def test_a_sheet_lies_as_its_image_does() -> None:
    """450 × 300 does not lie on 329 × 483, and does on 483 × 329; behind a mat with 6 mm of gap, too."""
    (shown,) = floated("450x300 mm", paper=RAG, frame=frame("60x50 cm")).apertures
    assert shown.opening.size == RAG.size.turned
    asked = window(image="450x300 mm", show=Show.SHEET, paper=RAG)
    (shown,) = solved(frame=frame("60x50 cm"), apertures=(asked,)).apertures
    assert shown.opening.size == size("495x341 mm")


def test_a_photo_on_a_named_paper_needs_no_image() -> None:
    """The largest of 3:2 within 5 mm of 329 × 483: 319 × 212.7."""
    (shown,) = floated(None, paper=RAG, frame=frame("50x70 cm"), window={"photo": photo(3000, 2000)}).apertures
    assert shown.opening.size == RAG.size
    assert shown.image.width == 319


def test_a_work_that_is_its_sheet_needs_no_image_either() -> None:
    (shown,) = floated(None, paper=RAG, frame=frame("50x70 cm")).apertures
    assert shown.image.size == shown.opening.size == RAG.size


def test_a_work_and_borders_make_the_frame() -> None:
    made = floated(frame=frame(), border=border("40 mm"))
    assert made.blank == size("390x290 mm")  # 45 + 300 + 45: 40 seen and 4.5 under the lip, up to 45


def test_a_frame_and_borders_leave_the_largest_work() -> None:
    made = floated(None, border=border("50 mm"), window={"aspect": "3:2"})
    assert made.apertures[0].opening.width == 390  # 500 − 2 × 55
    assert made.apertures[0].visible.least >= 50


def test_a_work_under_the_lip_is_refused() -> None:
    with pytest.raises(Unsolvable, match=r"the work reaches under the lip or past the blank: left by 3.5 mm"):
        floated("498x200 mm")


def test_the_stack_has_mount_and_spacer_and_a_lift_only_without_a_spacer() -> None:
    """2 + 5 + 1.4 + 5; without the spacer the lift of 3 takes room of its own."""
    made = floated()
    assert [part.part for part in made.stack.parts] == ["glazing", "spacer", "mount", "backing"]
    assert made.stack.thickness == mm("13.4")
    bare = floated(spacer=None)
    assert [part.part for part in bare.stack.parts] == ["glazing", "lift", "mount", "backing"]
    assert bare.stack.thickness == mm("11.4")
    (mount,) = [part for part in made.stack.parts if part.part == "mount"]
    assert mount.mass == Fraction("0.0014") * Fraction("0.2") * 654  # 1.4 mm × 0.5 m × 0.4 m × 654 kg/m³


def codes(made: SolvedPiece) -> set[str]:
    return {finding.code for finding in made.findings}


def test_a_work_that_touches_the_glazing_is_told() -> None:
    assert "touches-glazing" in codes(floated(spacer=None))
    assert "touches-glazing" not in codes(floated())
    assert "touches-glazing" not in codes(floated(spacer=None, glazing=None))
    assert "touches-glazing" in codes(solved(mat=(), frame=frame("40x50 cm")))
    assert "touches-glazing" not in codes(solved(frame=frame("40x50 cm"), apertures=(window(image="200x300 mm"),)))


def test_mount_and_spacer_are_ordered() -> None:
    lines = {line.item: line for line in own_lines([floated()])}
    assert (lines[Item.MOUNT].material, lines[Item.MOUNT].size) == ("white", size("500x400 mm"))
    spacer = lines[Item.SPACER]
    assert (spacer.quantity, spacer.unit) == (Decimal("1.8"), "m")  # 2 × 900
    assert (spacer.material, spacer.note) == ("spacers, 5 mm high", "under the lip")
    assert "T-hinges" in {line.material for line in own_lines([floated()])}


def test_a_mount_of_a_board_with_sheets_is_cut_from_them() -> None:
    board = replace(CHARCOAL, sheets=(StockSheet(written="32x40 in", size=size("32x40 in")),))
    made = floated(mount=board)
    ((material, parts),) = parts_of([made], None)
    assert material == board
    assert [(owner, part.name, part.size) for owner, part in parts] == [
        ("Slipway", "Slipway mount", size("500x400 mm"))
    ]
    assert Item.MOUNT not in {line.item for line in own_lines([made])}


def test_a_mount_behind_a_mat_is_a_part_as_well() -> None:
    made = solved(frame=frame("40x50 cm"), apertures=(window(image="200x300 mm"),), mount=CHARCOAL)
    assert [part.part for part in made.stack.parts] == ["glazing", "mat", "mount", "backing"]


@given(data=st.data(), step=STEPS)
@relaxed
def test_a_floated_work_keeps_its_size_and_its_borders_close(data: st.DataObject, step: Fraction) -> None:
    wide, high = data.draw(lengths(40, 400)), data.draw(lengths(40, 400))
    asked = replace(window(show=Show.SHEET), image=ImageAsk(width=wide, height=high))
    ask = piece(apertures=(asked,), frame=data.draw(frames(sized=True)), weight=data.draw(weights), **FLOATS)
    made = solved_or_not(ask, step)
    (shown,) = made.apertures
    assert (shown.opening.width, shown.opening.height) == (wide, high) == (shown.image.width, shown.image.height)
    assert shown.cut.left + wide + shown.cut.right == made.blank.width
    assert shown.cut.top + high + shown.cut.bottom == made.blank.height
    assert shown.visible.least >= 0
    assert solve(ask, printer=Printer(Units.MM, Step(step))) == made


JOB = """
[[piece]]
name = "Gull"
frame = "50x70 cm"
paper = "A3"
mat = []
show = "sheet"
mount = "white"
lift = "3 mm"
spacer = "5 mm"
"""


def test_the_keys_are_read(tmp_path: Path) -> None:
    (read,) = parse_job(JOB, tmp_path).pieces
    assert read.floats
    assert read.mount is not None
    assert read.mount.name == "white"
    assert (read.lift, read.spacer) == (mm(3), mm(5))
