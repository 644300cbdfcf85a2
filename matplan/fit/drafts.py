"""Every choice weighed roughly, in floats, so that only the best need solving.

For each frame and paper three prints come into question: the largest that the borders and the sheet allow, the largest
of a standard size that is not much smaller, and the one for each ready-cut mat that is sold for the frame. Where an
image is asked for, it is that one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from matplan.catalogue import USUAL_PPI, Kind, ReadyCut, papers, rows
from matplan.fit.paper import factors_on, reach_of
from matplan.fit.records import Mat, OwnMat, Question, Sheet
from matplan.fit.score import Pair, look_of, parts_of, score_of, usual_of
from matplan.fit.window import Blank
from matplan.habits import IMPERIAL, METRIC, habits_of
from matplan.lengths import INCH, Size, Units

STANDARD_LEAST = 0.75
"""A standard print size that is smaller than so much of the largest print, side by side, is no choice beside it."""
STANDARD_ASPECT = 0.005
"""How far a standard print's aspect may be from the picture's."""
CROPPED_MOST = 0.125
"""A ready-cut mat for which more of the picture would be cropped is no choice, unless the image is asked for."""
USUALLY_COVERED = INCH / 4
"""Millimetres: what a ready-cut mat covers of its print on each side (common practice: the opening is 1/2 in under the
print in all).
"""
PHOTO_SERIES = {IMPERIAL: ("inch photo", "square"), METRIC: ("metric photo", "square")}
"""The papers of the tables whose sizes prints are ordered in, where people measure so."""
LARGEST, STANDARD, READY_CUT = 0, 1, 2
"""The kinds of print, in the order that equals are ranked in; each further ready-cut mat has the next number."""
_HAIR = 1e-6


class Draft(NamedTuple):
    """A choice: the numbers of its blank and sheet (−1: none), its print's exact size where that does not follow, and
    the ready-cut mat.

    Its first fields order drafts: best first, then as frames, kinds of print and papers come.
    """

    badness: float
    blank: int
    kind: int
    sheet: int
    image: Size | None
    mat: Mat | None


class _RoughSheet(NamedTuple):
    """A sheet: the reach of its printer, the factor of the largest print on it, and its sides as it then lies."""

    reach: Pair
    factor: float
    size: Pair
    ppi: float
    usual: bool | None


class _RoughBlank(NamedTuple):
    number: int
    room: Pair
    sight: Pair
    suiting: float
    mats: list[Mat]
    usual: bool | None


def standards_of(aspect: Pair, units: Units) -> dict[Size, str]:
    """Return the standard print sizes of the aspect with their names, largest first."""
    found = {}
    for paper in papers(*PHOTO_SERIES[habits_of(units)]):
        for size in (paper.size, paper.size.turned):
            if abs(float(size.width) * aspect[1] / (float(size.height) * aspect[0]) - 1) < STANDARD_ASPECT:
                found[size] = paper.name
    return dict(sorted(found.items(), key=lambda entry: -entry[0].width))


class Drafts:
    """The choices of one question; `blanks` are its frames either way up, each with the border that suits it."""

    def __init__(self, question: Question, blanks: Sequence[tuple[Blank, Fraction]]) -> None:
        self.question = question
        self.step = float(question.printer.step.size)
        self.aspect = float(question.subject.aspect[0]), float(question.subject.aspect[1])
        self.twice = 2 * float(question.edge)
        self.asked = question.image
        self.wanted = float(question.ppi or USUAL_PPI)
        self.floats = question.show == "sheet"
        self.standards = {} if self.floats else standards_of(self.aspect, question.printer.units)
        self.asked_standard = question.image in self.standards
        self._standards = [(float(size.width), float(size.height), size) for size in self.standards]
        self._sheets = [self._rough_sheet(sheet) for sheet in question.sheets]
        mats = self._mats()
        self._blanks = [
            self._rough_blank(number, blank, suiting, mats) for number, (blank, suiting) in enumerate(blanks)
        ]

    def __iter__(self) -> Iterator[Draft]:
        for blank in self._blanks:
            drafts = self._of_blank(blank)
            yield from self._best_of_each_kind(drafts) if self.question.any_sheet else drafts

    @staticmethod
    def _best_of_each_kind(drafts: Iterator[Draft]) -> Iterator[Draft]:
        best: dict[int, Draft] = {}
        for draft in drafts:
            if draft.kind not in best or draft < best[draft.kind]:
                best[draft.kind] = draft
        yield from best.values()

    # --- what there is
    # -------------------------------------------------------------------------------------------------

    def _mats(self) -> list[tuple[Pair, ReadyCut]]:
        """Return the standard mats either way up, with their blanks, or nothing where the window cannot be one of
        theirs.
        """
        if self.floats or self.question.weight is not None:
            return []
        mats = [mat for mat in rows(Kind.READY_CUT) if isinstance(mat, ReadyCut)]
        return [(_pair(way.blank), way) for mat in mats for way in (mat, mat.turned)]

    def _rough_sheet(self, sheet: Sheet) -> _RoughSheet:
        reach = reach_of(sheet, self.question)
        upright, lying = factors_on(reach, self.question.subject.aspect)
        size = sheet.size.turned if lying > upright else sheet.size
        ppi = self.question.ppi or sheet.ppi
        return _RoughSheet(_pair(reach), float(max(upright, lying)), _pair(size), float(ppi), sheet.usual)

    def _rough_blank(
        self, number: int, blank: Blank, suiting: Fraction, mats: Sequence[tuple[Pair, ReadyCut]]
    ) -> _RoughBlank:
        wide, high = _pair(blank.size)
        within = self.step + _HAIR
        sold = [mat for (across, down), mat in mats if abs(across - wide) <= within and abs(down - high) <= within]
        own, opening = [], blank.frame.mat_opening
        if opening is not None and not self.floats:
            own.append(OwnMat(blank=blank.size, opening=opening.turned if blank.turned else opening))
        usual = blank.frame.usual
        return _RoughBlank(number, _pair(blank.room), _pair(blank.sight), float(suiting), [*own, *sold], usual)

    # --- what is possible
    # ----------------------------------------------------------------------------------------------

    def _of_blank(self, blank: _RoughBlank) -> Iterator[Draft]:
        if self.floats:
            yield from self._floated(blank)
        elif self.asked is not None:
            yield from self._as_asked(blank, self.asked)
        else:
            yield from self._largest(blank)
        for kind, mat in enumerate(blank.mats, READY_CUT):
            image = self._for_mat(mat)
            if image is not None:
                yield from self._on_sheets(blank, kind, image, _pair(mat.opening), mat)

    def _largest(self, blank: _RoughBlank) -> Iterator[Draft]:
        """Yield the largest print on each sheet, and the largest standard one."""
        across, down = self.aspect
        most = min((blank.room[0] - self.twice) / across, (blank.room[1] - self.twice) / down)
        for number, sheet in enumerate(self._sheets):
            factor = min(most, sheet.factor)
            if factor <= 0:
                continue
            wide, high = factor * across, factor * down
            standard = next(
                (each for each in self._standards if each[0] <= wide + _HAIR and each[1] <= high + _HAIR), None
            )
            if standard is None or standard[0] < wide - _HAIR or standard[1] < high - _HAIR:
                yield self._draft(blank, LARGEST, number, (wide, high), self._opening(wide, high), None, None)
            if standard is not None and max(standard[:2]) >= STANDARD_LEAST * max(wide, high):
                image = standard[0], standard[1]
                yield self._draft(blank, STANDARD, number, image, self._opening(*image), standard[2], None)

    def _floated(self, blank: _RoughBlank) -> Iterator[Draft]:
        """Yield each sheet floated whole, with the largest print on it or the one asked for."""
        for number, sheet in enumerate(self._sheets):
            across, down = self.aspect
            image = _pair(self.asked) if self.asked else (sheet.factor * across, sheet.factor * down)
            size = (
                sheet.size
                if image[0] <= sheet.size[0] + _HAIR and image[1] <= sheet.size[1] + _HAIR
                else sheet.size[::-1]
            )
            opening = size[0] + self.twice, size[1] + self.twice
            if min(image) > 0 and _within(opening, blank.room, _HAIR) and _within(image, size, _HAIR):
                yield self._draft(blank, LARGEST, number, image, opening, self.asked, None)

    def _as_asked(self, blank: _RoughBlank, image: Size) -> Iterator[Draft]:
        opening = self._opening(*_pair(image))
        if min(opening) > 0 and _within(opening, blank.room, self.step):  # snapping takes up to a step off
            yield from self._on_sheets(blank, LARGEST, image, opening, None)

    def _for_mat(self, mat: Mat) -> Size | None:
        """Return the print for the standard mat, or `None` where it does not suit."""
        own = mat.opening.grown(-self.question.edge)
        asked = self.asked
        if asked is not None:
            covered = self.question.show == "image"
            return asked if (asked.holds(own) and mat.blank.holds(asked) if covered else own.holds(asked)) else None
        if min(own.width, own.height) <= 0:
            return None
        stretched = float(own.width / own.height) * self.aspect[1] / self.aspect[0]
        return own if min(stretched, 1 / stretched) >= 1 - CROPPED_MOST else None

    def _on_sheets(self, blank: _RoughBlank, kind: int, image: Size, opening: Pair, mat: Mat | None) -> Iterator[Draft]:
        """Yield the print on each sheet that takes it; on no sheet where it fits on none, none was named and it was
        asked for.
        """
        rough = _pair(image)
        taken = False
        needs = (
            rough
            if mat is None or self.question.show == "image"
            else (opening[0] - self.twice, opening[1] - self.twice)
        )
        for number, sheet in enumerate(self._sheets):
            if _within(needs, sheet.reach, _HAIR) or _within(needs[::-1], sheet.reach, _HAIR):
                taken = True
                yield self._draft(blank, kind, number, rough, opening, image, mat)
        if not taken and self.question.any_sheet and self.asked is not None:
            yield self._draft(blank, kind, -1, rough, opening, image, mat)

    def _opening(self, wide: float, high: float) -> Pair:
        return wide + self.twice, high + self.twice

    # --- what it is worth
    # ----------------------------------------------------------------------------------------------

    def _draft(
        self,
        blank: _RoughBlank,
        kind: int,
        number: int,
        image: Pair,
        opening: Pair,
        exact: Size | None,
        mat: Mat | None,
    ) -> Draft:
        side, level = (blank.sight[0] - opening[0]) / 2, (blank.sight[1] - opening[1]) / 2
        pixels, ppi, paper, usual = self.question.subject.pixels, None, None, None
        wanted = self.wanted
        if number >= 0:
            sheet = self._sheets[number]
            usual = sheet.usual
            wide, high = sheet.size
            wanted, paper = sheet.ppi, image[0] * image[1] / (wide * high)
        if pixels is not None:
            ppi = float(INCH) * min(pixels[0] / image[0], pixels[1] / image[1]) / wanted
        parts = parts_of(
            look_of(blank.sight, opening, min(side, level), side, level, blank.suiting),
            ppi=ppi,
            paper=paper,
            shown=self._shown(image, opening, mat) if exact is not None else 1.0,
            ready_cut=mat is not None,
            standard=kind == STANDARD or self.asked_standard,
            usual=usual_of(blank.usual, usual),
        )
        return Draft(-round(score_of(parts), 9), blank.number, kind, number, exact, mat)

    def _shown(self, image: Pair, opening: Pair, mat: Mat | None) -> float:
        """Return the part of the picture that is neither cropped nor covered by a ready-cut mat."""
        stretched = image[0] * self.aspect[1] / (image[1] * self.aspect[0])
        kept = min(stretched, 1 / stretched)
        if mat is None or self.question.show != "image":
            return kept
        strip = max(-self.twice, 2 * float(USUALLY_COVERED))
        return kept * min(opening[0] * opening[1] / (max(image[0] - strip, 1.0) * max(image[1] - strip, 1.0)), 1.0)


def _pair(size: Size) -> Pair:
    return float(size.width), float(size.height)


def _within(inner: Pair, outer: Pair, slack: float) -> bool:
    return inner[0] <= outer[0] + slack and inner[1] <= outer[1] + slack
