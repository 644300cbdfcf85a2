"""Pieces at random: every pair of frame, image and border, every weight, show mode and mat, metric and inch steps."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from hypothesis import reject
from hypothesis import strategies as st

from matplan.faults import JobError
from matplan.job.records import (
    AddedWeight,
    ApertureAsk,
    BorderAsk,
    BorderAt,
    BorderTo,
    Cut,
    Frame,
    ImageAsk,
    LayerAsk,
    OpticalWeight,
    Paper,
    Piece,
    RatioWeight,
    RowAlign,
    Show,
    Weight,
)
from matplan.lengths import Sides, Size
from matplan.planning import Plan
from tests.making import CHARCOAL, FOAM, GLASS, WHITE, photo, planned

STEPS = st.sampled_from([Fraction(1), Fraction(1, 2), Fraction(127, 80), Fraction(127, 160)])


def lengths(low: int, high: int) -> st.SearchStrategy[Fraction]:
    """Millimetres to a tenth, or sixteenths of an inch."""
    return st.one_of(
        st.integers(low * 10, high * 10).map(lambda tenths: Fraction(tenths, 10)),
        st.integers(max(1, low * 16 // 26), high * 16 // 26).map(lambda parts: parts * Fraction(127, 80)),
    )


@st.composite
def sizes(draw: st.DrawFn, low: int, high: int) -> Size:
    return Size(draw(lengths(low, high)), draw(lengths(low, high)))


@st.composite
def frames(draw: st.DrawFn, *, sized: bool) -> Frame:
    takes = draw(sizes(200, 900)) if sized else None
    rabbet = None
    if takes is not None and draw(st.booleans()):
        takes, rabbet = None, takes
    return Frame(
        name="ash",
        takes=takes,
        rabbet=rabbet,
        clearance=draw(lengths(0, 5)),
        lip=draw(lengths(4, 10)),
        depth=draw(st.none() | lengths(5, 30)),
        rail=draw(st.none() | lengths(11, 60)),
    )


weights: st.SearchStrategy[Weight] = st.one_of(
    lengths(0, 30).map(lambda extra: AddedWeight(extra=extra)),
    st.sampled_from([Fraction(1), Fraction(6, 5), Fraction(4, 3), Fraction("1.618")]).map(
        lambda ratio: RatioWeight(ratio=ratio)
    ),
    st.just(OpticalWeight()),
)


@st.composite
def borders(draw: st.DrawFn) -> BorderAsk:
    bottom = draw(st.none() | lengths(5, 90))
    return BorderAsk(top=draw(lengths(5, 80)), right=draw(lengths(5, 80)), bottom=bottom, left=draw(lengths(5, 80)))


@st.composite
def mats(draw: st.DrawFn) -> tuple[LayerAsk, ...]:
    count = draw(st.integers(1, 3))
    cuts = st.sampled_from(list(Cut))
    front = LayerAsk(board=WHITE, reveal=Fraction(0), cut=draw(cuts))
    return (front, *(LayerAsk(board=CHARCOAL, reveal=draw(lengths(2, 9)), cut=draw(cuts)) for _ in range(count - 1)))


papers = sizes(80, 700).map(lambda size: Paper(name="rag", size=size, printer_margin=Sides.all(Fraction(5))))


@st.composite
def windows(draw: st.DrawFn, name: str, *, image: bool) -> ApertureAsk:
    shows = st.sampled_from(list(Show))
    ask = ImageAsk(width=draw(lengths(40, 400)), height=draw(st.none() | lengths(40, 400))) if image else None
    return ApertureAsk(
        name=name,
        photo=draw(st.none() | st.builds(photo, st.integers(600, 9000), st.integers(600, 9000))),
        aspect=draw(
            st.sampled_from([(Fraction(3), Fraction(2)), (Fraction(2), Fraction(3)), (Fraction(1), Fraction(1))])
        ),
        image=ask,
        show=draw(shows),
        overlap=draw(lengths(0, 6)),
        reveal=draw(lengths(1, 15)),
        gap=draw(lengths(1, 12)),
        paper=draw(st.none() | papers),
    )


@st.composite
def pieces(draw: st.DrawFn, most: int = 1) -> Piece:
    """A piece with any two of frame, image and border; it may well not be solvable."""
    sized, image, border = draw(
        st.sampled_from([(True, True, False), (True, False, True), (False, True, True), (True, True, True)])
    )
    count = draw(st.integers(1, most))
    asks = tuple(draw(windows(f"w{i}", image=image)) for i in range(count))
    rows: list[tuple[int, ...]] = []
    at = 0
    while at < count:
        wide = draw(st.integers(1, count - at))
        rows.append(tuple(range(at, at + wide)))
        at += wide
    given: dict[str, Any] = {
        "name": "Slipway",
        "file": "slipway",
        "line": 1,
        "place": "piece[1]",
        "frame": draw(frames(sized=sized)),
        "apertures": asks,
        "rows": tuple(rows),
        "gutter": draw(lengths(5, 40)),
        "row_align": draw(st.sampled_from(list(RowAlign))),
        "justify": count > 1 and draw(st.booleans()),
        "border": draw(borders()) if border else None,
        "border_to": draw(st.sampled_from(list(BorderTo))),
        "border_at": draw(st.sampled_from(list(BorderAt))),
        "weight": draw(weights),
        "even": draw(st.booleans()),
        "mat": draw(mats()),
        "glazing": GLASS,
        "backing": FOAM,
    }
    return Piece(**given)


def plan_of(ask: Piece, **changes: Any) -> Plan:
    """The plan of a job of that piece; an example whose piece cannot be solved is passed over."""
    try:
        return planned(ask, **changes)
    except JobError:
        reject()
