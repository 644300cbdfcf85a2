"""Which documents a plan's pack holds, what each is called, and in which order they are bound into workshop.pdf.

It must not know how a document looks, nor where the files go.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from typing import TYPE_CHECKING

from matplan.documents.parts.pictures import Pictures
from matplan.faults import MatplanError
from matplan.job.names import file_names, print_files
from matplan.job.records import Job
from matplan.mats.records import Layer, SolvedPiece
from matplan.orders.cutting import Cutting
from matplan.pack.beside import beside
from matplan.planning import Plan, plan_json
from matplan.walls.records import SolvedWall

if TYPE_CHECKING:
    from matplan.drawing.pdf import Chapter
    from matplan.drawing.sheet import Sheet
    from matplan.orders.gangs import Gang
    from matplan.pack.folder import Content


BESIDE_FROM = 10
"""With fewer pieces the workbook is bound before another process has started."""


class Part(StrEnum):
    """The parts of a pack, as `--only` names them. plan.json is always there: a folder without it is no pack."""

    PLAN = "plan"
    WORKSHOP = "workshop"
    CUT = "cut"
    FRONT = "front"
    ORDER = "order"
    TEMPLATE = "template"
    PRINT = "print"
    SHEETS = "sheets"
    WALL = "wall"


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """What of a pack is wanted: the parts, and the pieces and walls whose drawings they hold."""

    parts: frozenset[Part]
    pieces: tuple[SolvedPiece, ...]
    walls: tuple[SolvedWall, ...] = ()

    @property
    def _drawn_walls(self) -> tuple[SolvedWall, ...]:
        return self.walls if self.parts & {Part.WALL, Part.WORKSHOP} else ()

    @property
    def pictured(self) -> tuple[SolvedPiece, ...]:
        """The pieces whose pictures are needed: those chosen, and those that hang on a chosen wall."""
        hung = {one.frame.piece.ask.file: one.frame.piece for wall in self._drawn_walls for one in wall.frames}
        return (
            *self.pieces,
            *(piece for file, piece in hung.items() if file not in {chosen.ask.file for chosen in self.pieces}),
        )


class OnlyError(MatplanError, ValueError):
    """`--only` names something that is neither a part of a pack nor a piece or wall."""


def choice(plan: Plan, only: str | Iterable[str] | None) -> Choice:
    """What the names ask for: document names choose documents, names of pieces and walls choose these; nothing named
    means all.

    Where pieces are named and walls are not, the walls are those that hang no other pieces.
    """
    if only is None:
        return Choice(parts=frozenset(Part), pieces=plan.pieces, walls=plan.walls)
    names = [name.strip() for name in (only.split(",") if isinstance(only, str) else only)]
    parts = frozenset(Part(name) for name in names if name in frozenset(Part))
    wanted = {name for name in names if name and name not in frozenset(Part)}
    pieces = tuple(piece for piece in plan.pieces if piece.name in wanted or piece.ask.file in wanted)
    walls = tuple(wall for wall in plan.walls if wall.name in wanted or wall.ask.file in wanted)
    unknown = sorted(
        wanted
        - {p.name for p in pieces}
        - {p.ask.file for p in pieces}
        - {w.name for w in walls}
        - {w.ask.file for w in walls}
    )
    if unknown or not any(names):
        got = ", ".join(repr(name) for name in unknown) or "nothing"
        pieces_known = ", ".join(piece.name for piece in plan.pieces[:12]) + (", …" if len(plan.pieces) > 12 else "")
        walls_known = f", the walls {', '.join(wall.name for wall in plan.walls[:12])}" if plan.walls else ""
        raise OnlyError(f"got {got}; the documents are {', '.join(Part)}, the pieces {pieces_known}{walls_known}")
    if walls and not pieces and not parts:
        parts = frozenset({Part.WALL})
    if not walls and pieces:
        files = {piece.ask.file for piece in pieces}
        walls = tuple(wall for wall in plan.walls if all(one.frame.piece.ask.file in files for one in wall.frames))
    return Choice(
        parts=parts or frozenset(Part), pieces=pieces or plan.pieces, walls=walls or (() if pieces else plan.walls)
    )


class Contents:
    """The documents of a plan, drawn once and used for the single files and the workbook alike."""

    def __init__(self, plan: Plan, chosen: Choice, pictures: Pictures) -> None:
        self.plan, self.chosen, self.pictures = plan, chosen, pictures
        self._printed = dict(
            zip((piece.ask.file for piece in plan.pieces), print_files([p.ask for p in plan.pieces]), strict=True)
        )

    @cached_property
    def fronts(self) -> dict[str, Sheet]:
        from matplan.documents.front_view import front_view

        return {piece.ask.file: front_view(self.plan.job, piece, self.pictures) for piece in self.chosen.pieces}

    @cached_property
    def cuts(self) -> dict[str, tuple[Sheet, ...]]:
        from matplan.documents.cutting.diagram import cutting_diagram

        job = self.plan.job
        return {
            piece.ask.file: tuple(cutting_diagram(job, piece, layer) for layer in cut_here(piece))
            for piece in self.chosen.pieces
        }

    @cached_property
    def prints(self) -> dict[str, tuple[tuple[str, Sheet], ...]]:
        """For each piece, its print sheets with their file names; a caption window's slip is one."""
        from matplan.documents.prints.caption_insert import caption_slip, is_slip
        from matplan.documents.prints.print_sheet import is_printed, print_sheet

        def drawn(piece: SolvedPiece) -> Iterator[tuple[str, Sheet]]:
            for name, aperture in zip(self._printed[piece.ask.file], piece.apertures, strict=True):
                if is_slip(aperture):
                    yield name, caption_slip(self.plan.job, piece, aperture)
                elif is_printed(aperture):
                    yield name, print_sheet(self.plan.job, piece, aperture, self.pictures)

        return {piece.ask.file: tuple(drawn(piece)) for piece in self.chosen.pieces}

    def _slips(self, piece: SolvedPiece) -> Iterator[tuple[str, bytes]]:
        """The slips of a piece's caption windows as PDF, to print at full size."""
        from matplan.documents.prints.caption_insert import is_slip
        from matplan.drawing import pdf

        slips = {name for name, a in zip(self._printed[piece.ask.file], piece.apertures, strict=True) if is_slip(a)}
        for name, sheet in self.prints[piece.ask.file]:
            if name in slips:
                chapter = pdf.Chapter(title=sheet.title, sheets=(sheet,))
                yield f"print/{name}.pdf", pdf.render(pdf.Book(title=sheet.title, chapters=(chapter,), full_size=True))

    @cached_property
    def gangs(self) -> tuple[tuple[Gang, Sheet], ...]:
        """The sheets that hold several of the chosen pieces' prints, with their drawings."""
        from matplan.documents.prints.gang_sheet import gang_sheet
        from matplan.orders.gangs import gangs
        from matplan.pack.pictures import turned

        found = gangs(self.chosen.pieces)
        keys = {(lying.piece.ask.file, lying.aperture.name) for gang in found for lying in gang.prints if lying.turned}
        lying = {key: turned(self.pictures[key]) for key in sorted(keys & self.pictures.keys())}
        return tuple((gang, gang_sheet(self.plan.job, gang, self.pictures, lying)) for gang in found)

    @cached_property
    def templates(self) -> dict[str, Chapter]:
        from matplan.documents.tiled.mat_template import template
        from matplan.drawing.pdf import Chapter

        return {
            piece.ask.file: Chapter(title="template", sheets=template(self.plan.job, piece))
            for piece in self.chosen.pieces
            if piece.ready_cut is None
        }

    @cached_property
    def hang_templates(self) -> dict[str, Chapter]:
        """By the piece's file; none for a piece that hangs nowhere."""
        from matplan.documents.tiled.hang_template import hang_template
        from matplan.drawing.pdf import Chapter

        made = {
            piece.ask.file: hang_template(self.plan.job, piece, self.plan.walls)
            for piece in self.chosen.pieces
            if self.plan.walls
        }
        return {file: Chapter(title="hang template", sheets=sheets) for file, sheets in made.items() if sheets}

    @cached_property
    def walls(self) -> dict[str, Sheet]:
        from matplan.documents.wall.view import picture_sizes, wall_view
        from matplan.pack.pictures import smaller

        made: dict[str, Sheet] = {}
        for wall in self.chosen.walls:
            sizes = picture_sizes(self.plan.job, wall)
            small = {
                key: smaller(self.pictures[key], sizes[key]) for key in sorted(sizes.keys() & self.pictures.keys())
            }
            made[wall.ask.file] = wall_view(self.plan.job, wall, small)
        return made

    @cached_property
    def orders(self) -> tuple[Sheet, ...]:
        from matplan.documents.ordering.order_list import order_sheet

        return order_sheet(self.plan)

    @cached_property
    def layouts(self) -> tuple[tuple[str, tuple[tuple[str, Sheet], ...]], ...]:
        """For each material that is cut from sheets its drawings with their file names, `<material>-<N>`."""
        from matplan.documents.stock.sheet_layout import sheet_layout

        def drawn(cutting: Cutting, file: str) -> Iterator[tuple[str, Sheet]]:
            sheets = cutting.layout.sheets
            name, kind = cutting.material.name, cutting.material.kind
            for number, sheet in enumerate(sheets, 1):
                drawing = sheet_layout(
                    self.plan.job,
                    sheet,
                    material=name,
                    number=number,
                    of=len(sheets),
                    title=f"{name} {number}",
                    kind=kind,
                )
                yield f"{file}-{number}", drawing

        cuttings = self.plan.cuttings
        files = file_names((cutting.material.name for cutting in cuttings), "sheet")
        return tuple(
            (cutting.material.name, tuple(drawn(cutting, file))) for cutting, file in zip(cuttings, files, strict=True)
        )

    def files(self, tick: Callable[[], None] = lambda: None) -> Iterator[tuple[str, Content]]:
        """Every file of the pack: its relative name and its contents."""
        from matplan.drawing import pdf, svg
        from matplan.pack.print_pdf import gang_page, pages_of, print_pdf

        parts = self.chosen.parts
        workshop = (
            self._workshop_beside()
            if Part.WORKSHOP in parts and len(self.chosen.pieces) >= BESIDE_FROM
            else self._workshop
        )
        yield "plan.json", (json.dumps(plan_json(self.plan), ensure_ascii=False, indent=1) + "\n").encode()
        if Part.ORDER in parts:
            yield "order.csv", self._order_csv()
            yield "order.pdf", pdf.render(self.orders)
        for piece in self.chosen.pieces:
            file = piece.ask.file
            if Part.FRONT in parts:
                yield f"front/{file}.svg", svg.render(self.fronts[file])
            if Part.PRINT in parts:
                yield from ((f"print/{name}.svg", svg.render(sheet)) for name, sheet in self.prints[file])
                pages = pages_of(piece)
                if pages:
                    yield f"print/{file}.pdf", print_pdf(f"{piece.name}: print", pages)
                yield from self._slips(piece)
            if Part.CUT in parts:
                for layer, sheet in zip(cut_here(piece), self.cuts[file], strict=True):
                    yield f"cut/{file}-layer{layer.number}.svg", svg.render(sheet)
            if Part.TEMPLATE in parts and file in self.templates:
                book = pdf.Book(title=f"{piece.name}: template", chapters=(self.templates[file],), full_size=True)
                yield f"template/{file}.pdf", pdf.render(book)
            tick()
        if Part.TEMPLATE in parts:
            for piece in self.chosen.pieces:
                chapter = self.hang_templates.get(piece.ask.file)
                if chapter is not None:  # no piece's own file begins with hang-
                    book = pdf.Book(title=f"{piece.name}: hang template", chapters=(chapter,), full_size=True)
                    yield f"template/hang-{piece.ask.file}.pdf", pdf.render(book)
        if Part.PRINT in parts:
            for gang, sheet in self.gangs:
                yield f"print/{gang.file}.svg", svg.render(sheet)
                page = gang_page(gang)
                if page is not None:
                    yield f"print/{gang.file}.pdf", print_pdf(sheet.title, (page,))
        if Part.SHEETS in parts:
            yield from (
                (f"sheets/{file}.svg", svg.render(sheet)) for _, sheets in self.layouts for file, sheet in sheets
            )
        if Part.WALL in parts:
            yield from ((f"wall/{file}.svg", svg.render(sheet)) for file, sheet in self.walls.items())
        if Part.WORKSHOP in parts:
            yield "workshop.pdf", workshop()
            tick()

    def _order_csv(self) -> bytes:
        from matplan.documents.ordering.order_list import order_rows

        text = io.StringIO()
        csv.writer(text, lineterminator="\n").writerows(order_rows(self.plan))
        return text.getvalue().encode()

    def _workshop_beside(self) -> Callable[[], bytes]:
        """The workbook, bound while the single files are written; its sheets are drawn before, for both."""
        for _drawn in (self.fronts, self.cuts, self.prints, self.templates, self.orders):
            pass
        return beside(self._workshop)

    def _workshop(self) -> bytes:
        from matplan.documents.book.workbook import PieceSheets, workbook
        from matplan.drawing import pdf

        chapters = tuple(
            PieceSheets(
                piece=piece,
                front=self.fronts[piece.ask.file],
                prints=tuple(sheet for _, sheet in self.prints[piece.ask.file]),
                cuts=self.cuts[piece.ask.file],
                further=tuple(
                    c for c in (self.templates.get(piece.ask.file), self.hang_templates.get(piece.ask.file)) if c
                ),
            )
            for piece in self.chosen.pieces
        )
        shared = tuple(sheet for _, sheet in self.gangs)
        further = [pdf.Chapter(title="Several prints on one sheet", sheets=shared)] if shared else []
        further += [
            pdf.Chapter(title=f"Sheets of {name}", sheets=tuple(sheet for _, sheet in sheets))
            for name, sheets in self.layouts
            if sheets
        ]
        further += self._wall_chapters()
        return pdf.render(
            workbook(self.plan, order=self.orders, pieces=chapters, further=further, pictures=self.pictures)
        )

    def _wall_chapters(self) -> Iterator[Chapter]:
        from matplan.documents.wall.hanging_list import hanging_list
        from matplan.drawing.pdf import Chapter

        for wall in self.chosen.walls:
            yield Chapter(title=f"{wall.name}: wall view", sheets=(self.walls[wall.ask.file],))
            yield Chapter(title=f"{wall.name}: hanging list", sheets=hanging_list(self.plan.job, wall))


def cut_here(piece: SolvedPiece) -> tuple[Layer, ...]:
    """The boards that somebody cuts by a drawing: none of a piece whose mat is bought ready-cut."""
    return () if piece.ready_cut is not None else piece.layers


def drawn(job: Job, piece: SolvedPiece) -> dict[str, tuple[float, float]]:
    """How large the pack's drawings show each window's image at most, in mm of paper, by the window's name."""
    from matplan.documents.front_view import picture_sizes
    from matplan.documents.prints.print_sheet import is_printed, picture_size

    largest = {name: size for (_, name), size in picture_sizes(job, piece).items()}
    for aperture in piece.apertures:
        if is_printed(aperture):
            front, sheet = largest.get(aperture.name, (0.0, 0.0)), picture_size(job, piece, aperture)
            largest[aperture.name] = max(front[0], sheet[0]), max(front[1], sheet[1])
    return largest
