"""The answers: every frame either way up, with every paper and print size, the best of them solved exactly and ranked.

The same question has the same answers in the same order.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from heapq import nsmallest

from matplan.catalogue import USUAL_PPI
from matplan.fit.drafts import USUALLY_COVERED, Draft, Drafts
from matplan.fit.paper import factors_on, lies_turned, reach_of
from matplan.fit.records import FrameChoice, Mat, Option, Question, Sheet
from matplan.fit.score import WEIGHTS, look_of, parts_of, score_of, usual_of
from matplan.fit.window import Blank, blank_and_strip, blank_of, borders_of, centred, opening_of, seen
from matplan.lengths import INCH, Size

SUITING_SHARE = Fraction(1, 7)
"""The border that suits, of the blank's shorter side: ready-cut mats as sold leave 9 to 22 % (common practice)."""
SUITING_LEAST, SUITING_MOST = INCH, 3 * INCH
"""Millimetres: the bounds of that rule (own choice: the widest margins of Wikibooks, How to Frame a Picture, are 75 mm
and 90 below).
"""
FACES = 2
"""A border is at least twice the rail's face (common practice)."""
SPARE_DRAFTS = 2
"""Times as many drafts are solved as answers are wanted, since a draft is rough."""


def suiting_border(frame: FrameChoice, blank: Size, question: Question) -> Fraction:
    """Return the border that suits a frame, in whole steps: a seventh of its shorter side within bounds, and twice the
    rail's face.
    """
    step = question.printer.step
    share = min(max(SUITING_SHARE * min(blank.width, blank.height), SUITING_LEAST), SUITING_MOST)
    return max(step.nearest(share), step.up(FACES * (frame.rail or Fraction(0))))


def blanks_of(question: Question) -> Iterator[tuple[Blank, Fraction]]:
    """Yield each frame as named and turned, where that differs, with the border that suits it.

    Where no border is asked for, the least is the one that suits; with an image asked for, none, so that narrow ones
    are only ranked lower.
    """
    for frame in question.frames:
        blank, strip = blank_and_strip(frame, question.printer.step)
        if min(blank.width, blank.height, blank.width - 2 * strip.width, blank.height - 2 * strip.height) <= 0:
            continue
        if question.border is not None:
            least, suiting = (
                question.border,
                max(question.border, FACES * (frame.rail or Fraction(0)), question.printer.step.size),
            )
        else:
            suiting = suiting_border(frame, blank, question)
            least = suiting if question.image is None else Fraction(0)
        yield blank_of(frame, blank, strip, least, question, turned=False), suiting
        if blank.width != blank.height:
            yield blank_of(frame, blank.turned, strip.turned, least, question, turned=True), suiting


def answers(question: Question, most: int) -> tuple[Option, ...]:
    """Return the best answers, best first, at most so many, or nothing where nothing suits."""
    blanks = list(blanks_of(question))
    drafts = Drafts(question, blanks)
    found: dict[tuple[object, ...], Option] = {}
    for draft in nsmallest(SPARE_DRAFTS * most, drafts):
        blank, suiting = blanks[draft.blank]
        option = _solved(draft, blank, suiting, question, drafts.standards)
        if option is not None:
            found.setdefault((draft.blank, draft.sheet, option.image, option.opening), option)
    return tuple(
        sorted(found.values(), key=lambda option: -option.score)[:most]
    )  # stable: equals stay as they were drafted


def _solved(
    draft: Draft, blank: Blank, suiting: Fraction, question: Question, standards: dict[Size, str]
) -> Option | None:
    """Return the choice with every dimension closed, or `None` where it proves impossible."""
    sheet = question.sheets[draft.sheet] if draft.sheet >= 0 else None
    image = draft.image or (_largest(blank, sheet, question) if sheet else None)
    if image is None:
        return None
    turned = lies_turned(sheet, image, question) if sheet else False
    if turned is None or (sheet and draft.mat and not _reaches_behind(draft.mat, sheet, question, turned=turned)):
        return None
    lying = None if sheet is None else sheet.size.turned if turned else sheet.size
    if draft.mat is not None:
        opening, cut = draft.mat.opening, centred(blank, draft.mat.opening)
    else:
        opening = opening_of(lying if question.show == "sheet" and lying else image, question)
        cut = borders_of(blank, opening, question)
    if cut is None:
        return None
    spare = None if lying is None else min(lying.width - image.width, lying.height - image.height)
    pixels = question.subject.pixels
    option = Option(
        frame=blank.frame,
        turned=blank.turned,
        blank=blank.size,
        image=image,
        opening=opening,
        border=blank.border,
        cut=cut,
        visible=seen(cut, blank),
        sheet=sheet,
        sheet_turned=turned,
        spare=spare,
        ppi=None if pixels is None else INCH * min(pixels[0] / image.width, pixels[1] / image.height),
        wanted_ppi=question.ppi or (sheet.ppi if sheet else USUAL_PPI),
        mat=draft.mat,
        standard=standards.get(image, ""),
        kept=_kept(image, question),
        covered=_covered(image, draft.mat, question),
        score=0.0,
        parts=(),
    )
    return _scored(option, blank, suiting)


def _reaches_behind(mat: Mat, sheet: Sheet, question: Question, *, turned: bool) -> bool:
    """Return whether white paper reaches behind a standard mat whose window is larger than the image
    with its reveal.
    """
    reach = reach_of(sheet, question)
    return question.show == "image" or (reach.turned if turned else reach).holds(mat.opening.grown(-question.edge))


def _largest(blank: Blank, sheet: Sheet, question: Question) -> Size | None:
    """Return the largest image of the picture's aspect that both the borders and the sheet allow, or `None` where there
    is none.
    """
    aspect = across, down = question.subject.aspect
    upright, lying = factors_on(reach_of(sheet, question), aspect)
    most = min((blank.room.width - 2 * question.edge) / across, (blank.room.height - 2 * question.edge) / down)
    for factor in (max(upright, lying), upright):
        if question.show != "sheet":
            factor = min(factor, most)
        image = Size(across * factor, down * factor)
        if factor > 0 and lies_turned(sheet, image, question) is not None:
            return image
    return None


def _kept(image: Size, question: Question) -> Fraction:
    """Return the part of the picture that fills the image; all of it where the aspects are the same to
    within a step.
    """
    across, down = question.subject.aspect
    scale = max(image.width / across, image.height / down)
    over = max(across * scale - image.width, down * scale - image.height)
    return Fraction(1) if over <= question.printer.step.size else image.area / (across * down * scale * scale)


def _covered(image: Size, mat: Mat | None, question: Question) -> Fraction:
    """Return the part of the print, less the strip that is usual, that a standard mat covers besides."""
    if mat is None or question.show != "image":
        return Fraction(0)
    strip = max(question.overlap, USUALLY_COVERED)
    usual = Size(*(max(side - 2 * strip, Fraction(1)) for side in (image.width, image.height)))
    return max(1 - mat.opening.area / usual.area, Fraction(0))


def _scored(option: Option, blank: Blank, suiting: Fraction) -> Option:
    """Return the option with its score and the parts of that."""
    borders, sheet = option.visible, option.sheet
    look = look_of(
        sight=(float(blank.sight.width), float(blank.sight.height)),
        opening=(float(option.opening.width), float(option.opening.height)),
        narrowest=float(borders.least),
        across=float(borders.across / 2),
        upright=float(borders.down / 2),
        suiting=float(suiting),
    )
    parts = parts_of(
        look,
        ppi=None if option.ppi is None else float(option.ppi / option.wanted_ppi),
        paper=None if sheet is None else float(option.image.area / sheet.size.area),
        shown=float(option.kept * (1 - option.covered)),
        ready_cut=option.mat is not None,
        standard=bool(option.standard),
        usual=usual_of(option.frame.usual, None if sheet is None else sheet.usual),
    )
    named = tuple((name, round(part, 4)) for part, (name, _, _) in zip(parts, WEIGHTS, strict=True) if part is not None)
    return replace(option, score=round(score_of(parts), 4), parts=named)
