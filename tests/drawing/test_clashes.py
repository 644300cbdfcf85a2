"""The checker finds what it is for, and nothing in a clean sheet."""

import pytest

from matplan.drawing import clashes
from matplan.drawing.clashes import Kind
from matplan.drawing.items import ArcTo, Compound, Ellipse, Group, Image, Item, Line, Path, Polyline, Rect, Text
from matplan.drawing.pens import Pen
from tests.drawing.samples import picture, sheet_of

WORD = Text(at=(50, 50), text="284", size=3.5)


def kinds(*items: Item) -> list[Kind]:
    return [c.kind for c in clashes.check(sheet_of(*items))]


def test_clean_sheet_has_none() -> None:
    assert (
        kinds(WORD, Text(at=(50, 60), text="284", size=3.5), Line(start=(40, 52), end=(80, 52), pen=Pen.OUTLINE)) == []
    )


def test_text_on_text() -> None:
    assert kinds(WORD, Text(at=(54, 51), text="58")) == [Kind.TEXT_ON_TEXT]


def test_turned_texts_are_compared_as_they_stand() -> None:
    # turned up from its start, the text leaves the place to the right of it free
    assert kinds(Text(at=(50, 50), text="a long text", turn=-90), Text(at=(52, 48), text="284")) == []
    assert kinds(Text(at=(50, 50), text="a long text", turn=-45), Text(at=(55, 48), text="284")) == [Kind.TEXT_ON_TEXT]


@pytest.mark.parametrize(
    "item",
    [
        Line(start=(40, 48), end=(80, 48), pen=Pen.DIMENSION),
        Polyline(points=((52, 40), (52, 60), (90, 60)), pen=Pen.EDGE),
        Polyline(points=((52, 40), (90, 60), (52, 60)), pen=Pen.EDGE, closed=True),
        Rect(x=52, y=30, width=60, height=60, pen=Pen.OUTLINE),
        Ellipse(centre=(72, 48), rx=20, ry=20, pen=Pen.CUT),
        Path(start=(52, 30), steps=(ArcTo(end=(52, 68), rx=19, ry=19, clockwise=False),), pen=Pen.CUT, closed=True),
        Compound(outlines=(Rect(x=52, y=30, width=60, height=60),), pen=Pen.OUTLINE),
        Group(items=(Line(start=(40, 48), end=(80, 48), pen=Pen.CENTRE),)),
    ],
)
def test_text_on_line(item: Item) -> None:
    assert set(kinds(WORD, item)) == {Kind.TEXT_ON_LINE}


def test_quiet_lines_and_halos_are_allowed() -> None:
    assert kinds(WORD, Line(start=(40, 48), end=(80, 48), pen=Pen.WASTE)) == []
    assert kinds(Line(start=(40, 48), end=(80, 48), pen=Pen.CUT), Text(at=(50, 50), text="284", halo=True)) == []


def test_text_inside_an_outline_is_no_clash() -> None:
    assert kinds(WORD, Rect(x=40, y=40, width=40, height=20, pen=Pen.OUTLINE)) == []
    assert kinds(WORD, Ellipse(centre=(54, 48), rx=20, ry=12, pen=Pen.OUTLINE)) == []


def test_text_covered_by_a_later_fill_or_picture() -> None:
    fill = Rect(x=40, y=40, width=40, height=20, fill="#ffffff")
    photo = Image(x=40, y=40, width=40, height=20, content=picture("png"), kind="png")
    assert kinds(WORD, fill) == kinds(WORD, photo) == [Kind.TEXT_COVERED]
    assert kinds(fill, photo, WORD) == []


def test_text_off_the_page() -> None:
    assert kinds(Text(at=(203, 50), text="284")) == [Kind.TEXT_OFF_PAGE]
    assert kinds(Text(at=(50, 296), text="284")) == [Kind.TEXT_OFF_PAGE]


def test_id_used_twice() -> None:
    line = Line(start=(40, 48), end=(80, 48), pen=Pen.CUT, id="a")
    assert kinds(line, Group(items=(line,))) == [Kind.ID_TWICE]


def test_clash_says_what_and_where() -> None:
    (clash,) = clashes.check(sheet_of(WORD, Text(at=(54, 51), text="58")))
    assert str(clash) == "text on text: '284' and '58' at 50.0, 46.5 mm"


def test_what_a_clip_cuts_away_covers_nothing() -> None:
    under = Text(at=(20, 20), text="under")
    cover = Rect(x=10, y=10, width=60, height=60, fill="#ffffff")
    away, over = (Rect(x=x, y=10, width=10, height=60) for x in (50, 18))
    for clip, count in ((away, 0), (over, 1), (None, 1)):
        assert len(clashes.check(sheet_of(under, Group(items=(cover,), clip=clip)))) == count
