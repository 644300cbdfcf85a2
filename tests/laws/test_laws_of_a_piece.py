"""Laws that hold for every piece that can be solved."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from hypothesis import HealthCheck, assume, example, given, reject, settings
from hypothesis import strategies as st

from matplan.job.records import BorderAt, BorderTo, Cut, Piece, Show
from matplan.lengths import Box, Printer, Size, Step, Units
from matplan.mats.records import SolvedPiece
from matplan.mats.solve import solve
from matplan.mats.windows import Unsolvable, sheet_of
from matplan.sums import figures
from tests.laws.strategies import STEPS, pieces
from tests.making import frame, piece, window

relaxed = settings(
    max_examples=80, suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow], deadline=None
)
SLIPWAY = piece(frame=frame("40x50 cm"), apertures=(window(image="251 x 301 mm"),))


def solved_or_not(ask: Piece, step: Fraction) -> SolvedPiece:
    try:
        return solve(ask, printer=Printer(Units.MM, Step(step)))
    except Unsolvable:
        reject()


@given(ask=pieces(most=5), step=STEPS)
@example(ask=SLIPWAY, step=Fraction(1))
@relaxed
def test_every_chain_of_dimensions_closes(ask: Piece, step: Fraction) -> None:
    """left + opening + right = blank, top + opening + bottom = blank, for every layer and window."""
    made = solved_or_not(ask, step)
    whole = Box.of(made.blank)
    for shown in made.apertures:
        assert shown.cut.left + shown.opening.width + shown.cut.right == made.blank.width
        assert shown.cut.top + shown.opening.height + shown.cut.bottom == made.blank.height
        assert shown.visible.left + made.hidden.width == shown.seen.box.x
        assert shown.visible.bottom + made.hidden.height == made.blank.height - shown.seen.box.bottom
    for layer in made.layers:
        for opening in layer.openings:
            inset = opening.back.box.inset_in(whole)
            assert inset.across + opening.back.box.width == made.blank.width
            assert inset.down + opening.back.box.height == made.blank.height
    assert made.hidden.width * 2 + made.frame.sight.width == made.blank.width
    if made.frame.outer is not None and made.frame.ask.rail is not None:
        assert made.frame.outer.width == made.frame.sight.width + 2 * made.frame.ask.rail


@given(ask=pieces(most=5), step=STEPS)
@relaxed
def test_every_cut_dimension_is_a_whole_number_of_steps(ask: Piece, step: Fraction) -> None:
    made = solved_or_not(ask, step)
    whole = Step(step).is_whole
    assert whole(made.blank.width)
    assert whole(made.blank.height)
    for layer in made.layers:
        for opening in layer.openings:
            box = opening.back.box
            assert all(whole(length) for length in (box.x, box.y, box.width, box.height))


@given(ask=pieces(most=4), step=STEPS)
@relaxed
def test_covering_never_shows_an_edge_and_floating_never_covers(ask: Piece, step: Fraction) -> None:
    """The true overlap, reveal and gap are never less than asked for, save that a margin gives up less than half a
    step.
    """
    made = solved_or_not(ask, step)
    for shown in made.apertures:
        match shown.show:
            case Show.IMAGE:
                assert shown.overlap is not None
                assert shown.overlap.least >= shown.ask.overlap
                assert shown.seen.box.within(shown.image)
            case Show.MARGIN:
                assert shown.reveal is not None
                assert shown.reveal.least > shown.ask.reveal - step / 2
            case Show.SHEET:
                assert shown.gap is not None
                assert shown.gap.least >= shown.ask.gap
                assert Box.of(sheet_of(shown.ask, shown.image.size)).centred_in(shown.opening).within(shown.seen.box)


@given(ask=pieces(most=3), step=STEPS)
@relaxed
def test_the_eye_sees_the_smallest_edge_of_all_boards(ask: Piece, step: Fraction) -> None:
    """The back of a bevel or a straight cut, the face of a reverse cut, whichever lies furthest in."""
    made = solved_or_not(ask, step)
    for place, shown in enumerate(made.apertures):
        for layer in made.layers:
            opening = layer.openings[place]
            assert shown.seen.box.within(opening.back.box)
            if layer.cut is Cut.REVERSE:
                assert shown.seen.box.within(opening.face.box)
        edges = [line.box for layer in made.layers for line in (layer.openings[place].back, layer.openings[place].face)]
        assert shown.seen.box in edges


@given(ask=pieces(most=4), step=STEPS)
@relaxed
def test_no_border_is_less_than_the_least_that_was_asked_for(ask: Piece, step: Fraction) -> None:
    made = solved_or_not(ask, step)
    if ask.border is None:
        return
    cut = ask.border_at is BorderAt.CUT
    front = made.layers[0].openings if ask.border_to.value == "front layer" else None
    if front is not None:
        lines = [o.face if made.layers[0].cut is Cut.REVERSE and not cut else o.back for o in front]
    else:
        lines = [shown.outline if cut else shown.seen for shown in made.apertures]
    boxes = [line.box for line in lines]
    insets = [box.inset_in(Box.of(made.blank)) for box in boxes]
    strip = (Fraction(0), Fraction(0)) if cut else (made.hidden.width, made.hidden.height)
    assert min(i.left for i in insets) - strip[0] >= ask.border.left
    assert min(i.right for i in insets) - strip[0] >= ask.border.right
    assert min(i.top for i in insets) - strip[1] >= ask.border.top
    if ask.border.bottom is not None:
        assert min(i.bottom for i in insets) - strip[1] >= ask.border.bottom


@given(ask=pieces(most=4), step=STEPS)
@relaxed
def test_every_explained_size_is_the_result_of_its_own_sum(ask: Piece, step: Fraction) -> None:
    made = solved_or_not(ask, step)
    printer = Printer(Units.MM, Step(step))
    for explained in made.sums:
        assert explained.tree.value == explained.value, explained
        assert " = " in explained.in_words(printer)


@given(ask=pieces(), step=STEPS)
@relaxed
def test_a_sum_and_its_terms_bear_the_names_of_the_sizes_they_are(ask: Piece, step: Fraction) -> None:
    """The last sum of a name states that size of the piece, and a term of such a name has its value."""
    made = solved_or_not(ask, step)
    (shown,) = made.apertures
    stated = {one.title: one.value for one in made.sums}
    sizes = {
        "blank": made.blank,
        "rabbet": made.frame.rabbet,
        "sight": made.frame.sight,
        "outer": made.frame.outer,
        "opening": shown.opening.size,
        "seen": shown.seen.box.size,
        "image": shown.image.size,
    }
    known = {f"{name} {side}": getattr(one, side) for name, one in sizes.items() if one for side in ("width", "height")}
    for name, sides in (("visible border", shown.visible), ("cut border", shown.cut)):
        known |= {f"{name} {side}": getattr(sides, side) for side in ("top", "right", "bottom", "left")}
    if ask.border_to is not BorderTo.OPENING:  # a cut border then ends at the front layer's opening
        known = {name: value for name, value in known.items() if not name.startswith("cut border")}
        for name in ("opening width", "opening height", "seen width", "seen height"):
            known.pop(name)
    for name, value in known.items():
        assert stated.get(name, value) == value, name
    asked = {"overlap": shown.ask.overlap, "reveal": shown.ask.reveal, "gap": shown.ask.gap, "lip": ask.frame.lip}
    asked |= {"clearance": ask.frame.clearance, "stack thickness": made.stack.thickness}
    for one in made.sums:
        for term in figures(one.tree):
            assert (known | asked).get(term.name, term.value) == term.value, (one.title, term)
            if ask.border_at is BorderAt.CUT and one.title.startswith(("least cut border", "cut border")):
                assert not term.name.startswith(("visible", "sight", "seen")), (one.title, term)


@given(ask=pieces(most=3), step=STEPS)
@relaxed
def test_every_size_that_is_worked_out_has_its_sum(ask: Piece, step: Fraction) -> None:
    """Whatever was not given: openings, visible borders, blank, sight, stack, and images without both sides."""
    made = solved_or_not(ask, step)
    told = {one.title for one in made.sums}
    prefixes = {shown.name: f"{shown.name}: " if len(made.apertures) > 1 else "" for shown in made.apertures}
    wanted = {"blank width", "blank height", "sight width", "sight height", "stack thickness"}
    for shown in made.apertures:
        own = [f"visible border {side}" for side in ("top", "right", "bottom", "left")]
        own += ["opening width", "opening height"]
        image = shown.ask.image
        own += [f"image {side}" for side in ("width", "height") if image is None or getattr(image, side) is None]
        wanted |= {prefixes[shown.name] + name for name in own}
    assert wanted <= told, wanted - told


@given(ask=pieces(most=4), step=STEPS)
@relaxed
def test_windows_keep_their_gutters_and_never_overlap(ask: Piece, step: Fraction) -> None:
    made = solved_or_not(ask, step)
    gutter = Step(step).nearest(ask.gutter)
    for row in ask.rows:
        boxes = [made.apertures[i].opening for i in row]
        assert all(right.x - left.right == gutter for left, right in pairwise(boxes))
    for upper, lower in pairwise(ask.rows):
        highest = max(made.apertures[i].opening.bottom for i in upper)
        assert min(made.apertures[i].opening.y for i in lower) - highest >= gutter


@given(ask=pieces(), step=STEPS)
@relaxed
def test_swapping_the_axes_swaps_the_result(ask: Piece, step: Fraction) -> None:
    """Nothing but the weight knows which way is up: an unweighted piece laid on its side gives the same piece on its
    side.
    """
    border = ask.border
    sides = None
    if border is not None:
        bottom = border.top if border.bottom is None else border.bottom
        border = replace(border, bottom=bottom)
        sides = replace(border, top=border.left, left=border.top, bottom=border.right, right=bottom)
    (shown,) = ask.apertures
    assume(shown.paper is None)
    upright = replace(ask, border=border, weight=SLIPWAY.weight)
    turned_window = replace(
        shown,
        aspect=None if shown.aspect is None else shown.aspect[::-1],
        image=None if shown.image is None else replace(shown.image, width=shown.image.height, height=shown.image.width),
        photo=None if shown.photo is None else replace(shown.photo, pixels=shown.photo.pixels[::-1]),
    )
    sideways = replace(
        upright,
        border=sides,
        apertures=(turned_window,),
        frame=replace(
            ask.frame,
            takes=None if ask.frame.takes is None else ask.frame.takes.turned,
            rabbet=None if ask.frame.rabbet is None else ask.frame.rabbet.turned,
        ),
    )
    one, other = solved_or_not(upright, step), solved_or_not(sideways, step)
    assert one.blank == other.blank.turned
    assert one.apertures[0].opening.size == other.apertures[0].opening.size.turned
    assert one.apertures[0].image.size == other.apertures[0].image.size.turned
    assert one.apertures[0].cut.left == other.apertures[0].cut.top


@given(ask=pieces(), scale=st.sampled_from([Fraction(2), Fraction(254, 10), Fraction(1, 3)]))
@relaxed
def test_a_piece_in_other_units_is_the_same_piece(ask: Piece, scale: Fraction) -> None:
    """Every length and the step scaled by one factor: every result scaled by it."""
    ask = replace(ask, mat=tuple(replace(layer, cut=Cut.STRAIGHT) for layer in ask.mat))
    step = Fraction(1, 2)
    assume(step * scale <= Fraction(254, 10))
    one, other = solved_or_not(ask, step), solved_or_not(_scaled(ask, scale), step * scale)
    assert other.blank.width == one.blank.width * scale
    assert other.apertures[0].opening.x == one.apertures[0].opening.x * scale
    assert other.apertures[0].image.height == one.apertures[0].image.height * scale


def _scaled(ask: Piece, by: Fraction) -> Piece:
    from matplan.job.records import AddedWeight

    def size(value: Size | None) -> Size | None:
        return None if value is None else Size(value.width * by, value.height * by)

    def length(value: Fraction | None) -> Fraction | None:
        return None if value is None else value * by

    (shown,) = ask.apertures
    paper = (
        None
        if shown.paper is None
        else replace(
            shown.paper,
            size=shown.paper.size.each(lambda side: side * by),
            printer_margin=shown.paper.printer_margin.each(lambda side: side * by),
        )
    )
    image = (
        None
        if shown.image is None
        else replace(shown.image, width=length(shown.image.width), height=length(shown.image.height))
    )
    border = ask.border and replace(
        ask.border,
        top=ask.border.top * by,
        right=ask.border.right * by,
        left=ask.border.left * by,
        bottom=length(ask.border.bottom),
    )
    weight = replace(ask.weight, extra=ask.weight.extra * by) if isinstance(ask.weight, AddedWeight) else ask.weight
    window_ = replace(
        shown, paper=paper, image=image, overlap=shown.overlap * by, reveal=shown.reveal * by, gap=shown.gap * by
    )
    frame_ = replace(
        ask.frame,
        takes=size(ask.frame.takes),
        rabbet=size(ask.frame.rabbet),
        clearance=ask.frame.clearance * by,
        lip=ask.frame.lip * by,
    )
    mat = tuple(replace(layer, reveal=layer.reveal * by) for layer in ask.mat)
    return replace(ask, apertures=(window_,), border=border, weight=weight, frame=frame_, mat=mat)
