"""All boards of a piece on one page: in line, at the scale and on the paper that each has alone, with all figures."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

import pytest

from matplan.documents.book import workbook
from matplan.documents.cutting.all_layers import drawn
from matplan.documents.cutting.diagram import cutting_diagram
from matplan.documents.parts.folio import BoardsOf, Folio
from matplan.drawing import clashes
from matplan.drawing.items import Group, Item, Rect
from matplan.drawing.items import Size as Height
from matplan.drawing.sheet import Sheet
from matplan.lengths import Units
from matplan.mats.gauge import gauge_cuts
from matplan.pack import choice, pack_files
from matplan.pack.contents import Contents
from matplan.planning import Plan
from tests.making import double_mat, frame, piece, planned, window

STACKED = planned(
    piece(apertures=(window(image="241 x 340"),), frame=frame("400 x 500 mm"), mat=double_mat()), units=Units.CM
)
ABREAST = planned(
    piece(apertures=(window(image="270 x 185"),), frame=frame("356 x 279 mm"), mat=double_mat()), units=Units.CM
)
LARGE = planned(piece(apertures=(window(image="300 x 340"),), frame=frame("600 x 500 mm"), mat=double_mat()))


def page_of(plan: Plan) -> Sheet:
    (solved,) = plan.pieces
    (sheet,) = drawn(Folio(job=plan.job, pieces=plan.pieces, plan=plan), BoardsOf(piece=solved))
    return sheet


def named(items: Sequence[Item], name: str) -> Iterator[Item]:
    for item in items:
        if name in item.classes:
            yield item
        elif isinstance(item, Group):
            yield from named(item.items, name)


def texts(items: Sequence[Item], name: str) -> Counter[str]:
    found = tuple(named(items, name))
    return Counter(text.text for text in Sheet(name="", title="", size=(1, 1), items=found).texts())


@pytest.mark.parametrize("plan", [STACKED, ABREAST], ids=["stacked", "abreast"])
def test_boards_lie_in_line_at_the_scale_and_on_the_paper_that_they_have_alone(plan: Plan) -> None:
    page, (solved,) = page_of(plan), plan.pieces
    for layer in solved.layers:
        (alone,) = cutting_diagram(plan.job, solved, layer)
        assert page.scale == alone.scale
        assert sorted(page.size) == sorted(alone.size)
    first, second = (item for item in named(page.items, "blank") if isinstance(item, Rect))
    assert (first.width, first.height) == pytest.approx((second.width, second.height))
    if plan is STACKED:
        assert first.x == pytest.approx(second.x)
        assert first.y + first.height < second.y
    else:
        assert first.y == pytest.approx(second.y)
        assert first.x + first.width < second.x


@pytest.mark.parametrize("plan", [STACKED, ABREAST], ids=["stacked", "abreast"])
def test_each_board_has_all_its_figures_and_nothing_meets(plan: Plan) -> None:
    page, (solved,), printer = page_of(plan), plan.pieces, plan.job.printer
    cuts = [gauge_cuts(layer, solved.blank, solved.ask.rows, plan.job.cutter) for layer in solved.layers]
    assert texts(page.items, "cut-number") == Counter(str(cut.number) for own in cuts for cut in own)
    listed = texts(page.items, "gauge-table")
    for mark in (mark for own in cuts for cut in own for mark in (cut.near, cut.far)):
        assert listed[printer.number(mark)]
    settings = texts(page.items, "gauge")
    for cut in (cut for own in cuts for cut in own):
        assert settings[printer.number(cut.setting)]
    assert clashes.check(page) == ()
    assert min(text.size for text in page.texts()) >= Height.LEAST


def test_what_the_boards_share_stands_once_and_what_is_one_board_s_beside_it() -> None:
    page = page_of(STACKED)
    words = " ".join(text.text for text in page.texts())
    for once in ("face down", "40 × 50 cm", "Free hand out of the blade's path;", "Top mat", "Second mat", "charcoal"):
        assert words.count(once) == 1, once
    assert texts(page.items, "whole") == Counter({"50": 2, "40": 1})


def test_a_remark_on_one_board_stands_beside_it() -> None:
    page = page_of(STACKED)
    boards = [item for item in named(page.items, "blank") if isinstance(item, Rect)]
    odd = [text for text in page.texts() if "odd step" in text.text or "odd" in text.text.split()[-1:]]
    assert len(odd) == len(boards)
    said = " ".join(text.text for text in page.texts())
    for board, text, layer in zip(boards, odd, STACKED.pieces[0].layers, strict=True):
        assert board.y < text.at[1] < board.y + board.height
        box = layer.openings[0].back.box
        wider = max(box.x, STACKED.pieces[0].blank.width - box.right)
        assert f"{STACKED.job.printer.number(wider)}, " in said


def test_no_two_items_have_one_id() -> None:
    def ids(items: Sequence[Item]) -> Iterator[str]:
        for item in items:
            if item.id is not None:
                yield item.id
            if isinstance(item, Group):
                yield from ids(item.items)

    assert max(Counter(ids(page_of(STACKED).items)).values(), default=1) == 1


def test_boards_that_do_not_fit_have_no_page() -> None:
    (solved,) = LARGE.pieces
    assert drawn(Folio(job=LARGE.job, pieces=LARGE.pieces, plan=LARGE), BoardsOf(piece=solved)) == ()


@pytest.mark.parametrize(("plan", "bound"), [(STACKED, 1), (LARGE, 2)], ids=["one page", "a page each"])
def test_the_workbook_binds_the_page_in_the_place_of_the_boards_own(plan: Plan, bound: int) -> None:
    book = workbook.drawn(Contents(plan, choice(plan.job, None), lambda _: {}).folio, plan)
    names = [sheet.name for sheet in book.sheets if sheet.name.startswith("cut ")]
    assert len(names) == bound
    assert (names == ["cut slipway all layers"]) == (bound == 1)


def test_the_pack_keeps_a_file_for_each_board() -> None:
    names = dict(pack_files(STACKED, choice(STACKED.job, None))).keys()
    assert {name for name in names if name.startswith("cut/")} == {"cut/slipway-layer1.svg", "cut/slipway-layer2.svg"}
