"""Laws that hold for every answer: it is what the engine makes of it, its chains close, and the best comes first."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from matplan import catalogue
from matplan.fit.choices import answers
from matplan.fit.records import FrameChoice, Option, Question, Sheet, Subject
from matplan.fit.score import WEIGHTS
from matplan.job.records import AddedWeight, OpticalWeight, RatioWeight, Weight
from matplan.lengths import INCH, Printer, Sides, Size, Step, Units
from matplan.mats.solve import solve
from tests.fit.questions import as_piece

relaxed = settings(max_examples=80, suppress_health_check=[HealthCheck.too_slow], deadline=None)
ALL = 10_000


def lengths(least: int, most: int) -> st.SearchStrategy[Fraction]:
    return st.integers(least * 4, most * 4).map(lambda quarters: Fraction(quarters, 4))


def sizes(least: int, most: int) -> st.SearchStrategy[Size]:
    return st.builds(Size, lengths(least, most), lengths(least, most))


@st.composite
def frames(draw: st.DrawFn) -> FrameChoice:
    known = draw(st.sampled_from([*catalogue.frames(), None, None]))
    size = known.size if known else draw(sizes(100, 900))
    measured = draw(st.booleans())
    return FrameChoice(
        name=draw(st.sampled_from(["ash", "oak", "beech", "pine", "lime"])),
        takes=None if measured else size,
        rabbet=size if measured else None,
        clearance=draw(lengths(0, 5)),
        lip=draw(lengths(3, 9)),
        rail=draw(st.one_of(st.none(), lengths(9, 45))),
    )


@st.composite
def sheets(draw: st.DrawFn) -> Sheet:
    bare = Sides(**{side: draw(lengths(0, 12)) for side in ("top", "right", "bottom", "left")})
    name = draw(st.sampled_from(["rag", "baryta", "plain"]))
    return Sheet(
        name=name,
        size=draw(sizes(90, 600)),
        bare=bare,
        ppi=Fraction(draw(st.integers(150, 400))),
    )


weights: st.SearchStrategy[Weight | None] = st.one_of(
    st.none(),
    st.none(),
    lengths(0, 20).map(lambda extra: AddedWeight(extra=extra)),
    st.integers(10, 16).map(lambda tenths: RatioWeight(ratio=Fraction(tenths, 10))),
    st.just(OpticalWeight()),
)


@st.composite
def questions(draw: st.DrawFn) -> Question:
    pixels = draw(st.one_of(st.none(), st.tuples(st.integers(300, 9000), st.integers(300, 9000))))
    ratio = Fraction(*pixels) if pixels else Fraction(draw(st.integers(2, 9)), draw(st.integers(2, 9)))
    step = draw(st.sampled_from([Fraction(1), Fraction(1, 2), INCH / 16]))
    image = draw(st.one_of(st.none(), st.none(), sizes(60, 400)))
    return Question(
        subject=Subject(aspect=(Fraction(ratio.numerator), Fraction(ratio.denominator)), pixels=pixels),
        frames=tuple(draw(st.lists(frames(), min_size=1, max_size=3))),
        sheets=tuple(draw(st.lists(sheets(), min_size=1, max_size=3))),
        any_sheet=draw(st.booleans()),
        printer=Printer(Units.MM, Step(step)),
        image=image,
        border=draw(st.one_of(st.none(), lengths(0, 60))),
        weight=draw(weights),
        show=draw(st.sampled_from(["image", "image", "margin", "sheet"])),
        overlap=draw(lengths(1, 8)),
        reveal=draw(lengths(3, 20)),
        gap=draw(lengths(3, 15)),
        ppi=draw(st.one_of(st.none(), st.just(Fraction(240)))),
    )


@given(asked=questions())
@relaxed
def test_every_answer_is_what_the_engine_makes_of_it(asked: Question) -> None:
    for option in answers(asked, 12):
        made = solve(as_piece(option, asked), printer=asked.printer)
        (shown,) = made.apertures
        assert made.blank == option.blank
        assert shown.image.size == option.image
        if option.mat is not None and made.ready_cut is not None and made.ready_cut.opening != option.mat.opening:
            # the engine takes the mat that suits best where two do; the other is an answer of its own
            worse = made.ready_cut.opening.area - option.mat.opening.area
            assert worse > 0 if asked.show == "image" else worse < 0
            continue
        assert (made.ready_cut is None) == (option.mat is None)
        assert shown.opening.size == option.opening
        assert shown.cut == option.cut
        assert shown.visible == option.visible
        assert shown.pixels.ppi == option.ppi
        assert option.sheet is None or shown.pixels.wanted_ppi == option.wanted_ppi
        assert (shown.crop is None) == (option.kept == 1 or asked.subject.pixels is None)
        if shown.crop is not None:
            assert shown.crop.size.area == option.kept
        if option.sheet is not None:
            assert shown.print is not None
            assert shown.print.turned == option.sheet_turned
            assert shown.print.margins.least >= 0
            assert not {finding.code for finding in made.findings} & {"paper-too-small", "printer-margin"}


@given(asked=questions())
@relaxed
def test_the_largest_print_is_the_one_that_frame_and_border_settle(asked: Question) -> None:
    """With a sheet that is large enough, the engine left alone with frame and border finds the same image."""
    huge = replace(asked.sheets[0], name="huge", size=Size(Fraction(3000), Fraction(3000)))
    asked = replace(asked, sheets=(huge,), image=None, show="image" if asked.show == "sheet" else asked.show)
    for option in answers(asked, ALL):
        if option.mat is not None or option.standard:
            continue
        ask = as_piece(option, asked)
        alone = replace(ask, apertures=(replace(ask.apertures[0], image=None, photo=None),))
        (shown,) = solve(alone, printer=asked.printer).apertures
        assert (shown.image.size, shown.opening.size, shown.cut) == (option.image, option.opening, option.cut)


@given(asked=questions())
@relaxed
def test_chains_close_and_no_border_is_less_than_asked(asked: Question) -> None:
    for option in answers(asked, 12):
        assert option.cut.left + option.opening.width + option.cut.right == option.blank.width
        assert option.cut.top + option.opening.height + option.cut.bottom == option.blank.height
        assert option.visible.least >= option.border
        assert asked.border is None or option.border == asked.border
        assert asked.image is None or option.image == asked.image


@given(asked=questions())
@relaxed
def test_the_best_comes_first_and_each_score_is_the_mean_of_its_parts(asked: Question) -> None:
    found = answers(asked, 12)
    assert [option.score for option in found] == sorted((option.score for option in found), reverse=True)
    weights_of = {name: weight for name, weight, _ in WEIGHTS}
    for option in found:
        parts = dict(option.parts)
        assert all(0 <= part <= 1 for part in parts.values())
        assert ("resolution" in parts) == (asked.subject.pixels is not None)
        assert ("paper" in parts) == (option.sheet is not None)
        total = sum(weights_of[name] for name in parts)
        assert abs(option.score - sum(weights_of[name] * part for name, part in parts.items()) / total) < 2e-4


@given(asked=questions())
@relaxed
def test_the_same_question_has_the_same_answers(asked: Question) -> None:
    assert answers(asked, 12) == answers(asked, 12)


def mirrored(option: Option) -> tuple[object, ...]:
    """What the answer is for the picture on its side: frame, image, opening and borders turned."""
    seen = option.visible
    return (
        option.frame, option.blank.turned, option.image.turned, option.opening.turned, option.sheet,
        (seen.left, seen.top, seen.right, seen.bottom), option.mat and option.mat.name, option.score,
    )  # fmt: skip


def plain(option: Option) -> tuple[object, ...]:
    seen = option.visible
    return (
        option.frame, option.blank, option.image, option.opening, option.sheet,
        (seen.top, seen.left, seen.bottom, seen.right), option.mat and option.mat.name, option.score,
    )  # fmt: skip


@given(asked=questions(), bare=lengths(0, 10))
@relaxed
def test_a_picture_on_its_side_has_the_same_answers_on_their_sides(asked: Question, bare: Fraction) -> None:
    """Nothing but the weight and the printer's edge know which way is up."""
    even = tuple(replace(sheet, bare=Sides.all(bare)) for sheet in asked.sheets)
    asked = replace(asked, weight=None, show="image", sheets=even)
    across, down = asked.subject.aspect
    pixels = asked.subject.pixels
    turned = replace(
        asked,
        subject=Subject(aspect=(down, across), pixels=pixels and (pixels[1], pixels[0])),
        image=asked.image and asked.image.turned,
    )
    one, other = (
        [plain(option) for option in answers(asked, ALL)],
        [mirrored(option) for option in answers(turned, ALL)],
    )
    if not asked.any_sheet:
        assert sorted(one, key=repr) == sorted(other, key=repr)
    assert [entry[-1] for entry in one] == [entry[-1] for entry in other]
