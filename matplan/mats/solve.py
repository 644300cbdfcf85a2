"""One piece, solved: of frame, image and border any two settle the third, and all three are checked against each other.

The walk: images and openings → the block of rows → least borders → the blank → where the block lies in it → layers, prints, stack
and findings. Everything is exact; every cut dimension is a whole number of steps before anything is drawn.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from matplan.catalogue import ReadyCut
from matplan.job.records import ApertureAsk, BorderAt, BorderTo, Frame, MatSupply, Piece, Shape, Show
from matplan.lengths import Box, Printer, Sides, Size, Step
from matplan.mats.block import Block, Scaled, arranged, evened, justified, justified_width, largest_factor, row_width
from matplan.mats.explained_shapes import explain
from matplan.mats.findings import findings
from matplan.mats.layers import layers_of, least_web, reveals
from matplan.mats.outlines import Outline, most_rise, outline
from matplan.mats.prints import crop_of, pixels_of, print_of
from matplan.mats.ready_cut import borders_of, check_border, check_plain, image_for, standard_mat
from matplan.mats.records import Print, SolvedAperture, SolvedFrame, SolvedPiece
from matplan.mats.stack import frame_mass, stack_of
from matplan.mats.sums import Count, Sums
from matplan.mats.weighting import Rule, least_borders, placed
from matplan.mats.windows import EVEN_SIDED, Unsolvable, asked_image, aspect, edge, opening_size, true_edges, work_of

NOUGHT = Fraction(0)
NO_STRIP = Size(NOUGHT, NOUGHT)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Windows:
    """The images with their clear openings, arranged in one block; `front` is what the front layer's opening adds on each side."""

    images: tuple[Size, ...]
    block: Block
    front: Fraction

    @property
    def bordered(self) -> Size:
        """What borders are measured to."""
        return self.block.size.grown(self.front)


def solve(piece: Piece, *, printer: Printer, setback: Fraction = NOUGHT) -> SolvedPiece:
    """That piece with every dimension closed.

    `printer` carries the job's step and how lengths print in findings, `setback` the cutter's own. Raises `Unsolvable`.
    """
    return _Solver(piece, printer, setback).solved()


class _Solver:
    """Solves one piece; keeps what every stage needs to know."""

    def __init__(self, piece: Piece, printer: Printer, setback: Fraction) -> None:
        self.piece, self.printer, self.setback = piece, printer, setback
        self.step: Step = printer.step
        self.sums = Sums()
        self.many = len(piece.apertures) > 1
        self.grows = reveals(piece.mat, self.step, self.sums)
        self.front = self.grows[0] if self.grows and piece.border_to is BorderTo.FRONT_LAYER else NOUGHT
        self.gutter = self.step.nearest(piece.gutter) if self.many else NOUGHT
        self.standard: ReadyCut | None = None

    def sums_of(self, ask: ApertureAsk) -> Sums:
        return self.sums.named(f"{ask.name}: ") if self.many else self.sums

    # --- the three pairs ---------------------------------------------------------------------------------------------

    def solved(self) -> SolvedPiece:
        piece = self.piece
        if ready_made := piece.mat_supply is MatSupply.READY_CUT:
            check_plain(piece)
        images = self._asked_images()
        if piece.frame.has_size:
            blank, rabbet = self._blank_of(piece.frame)
            strip = self._strip(rabbet, blank)
            if ready_made:
                windows, borders = self._ready_cut(images, blank, strip)
            elif images is not None:
                windows = self._windows(images)
                borders = self._placed(windows, blank, strip)
            elif piece.border is not None:
                windows = self._fitted(blank, strip)
                borders = self._placed(windows, blank, strip)
            elif not piece.mat and not self.many:
                windows = self._filling(blank)
                borders = self._placed(windows, blank, strip)
            else:
                raise Unsolvable("", "a frame alone settles nothing: add an image or a border")
        elif images is not None and piece.border is not None:
            windows = self._windows(images)
            strip = self._made_strip(piece.frame)
            borders, blank = self._made(windows, strip)
            rabbet = blank.grown(piece.frame.clearance / 2)
            for side, made, play in (("width", rabbet.width, blank.width), ("height", rabbet.height, blank.height)):
                self.sums.add(f"rabbet {side}", made, "blank {} + clearance {}", play, piece.frame.clearance)
        else:
            have = "the image" if images is not None else "the border" if piece.border is not None else "none of them"
            raise Unsolvable("", f"of frame, image and border two settle the third; got {have} alone: add another")
        return self._finished(windows, borders, blank, rabbet, strip)

    def _ready_cut(self, images: Sequence[Size] | None, blank: Size, strip: Size) -> tuple[_Windows, Sides]:
        """The window of the standard mat that suits, in the middle of the blank; what was not asked for follows from it."""
        piece, (ask,) = self.piece, self.piece.apertures
        self.standard = mat = standard_mat(ask, images[0] if images else None, blank, self.printer)
        borders = borders_of(mat, blank, self.sums)
        if images is None:
            floats = ask.show is Show.SHEET and ask.paper is not None
            images = (self._largest_on_paper(ask) if floats else image_for(ask, mat, self.sums),)
        if piece.border is not None:
            check_border(borders, least_borders(piece.border, self._rule(strip), Sums()), mat, self.printer)
        block = arranged([mat.opening], piece.rows, NOUGHT, piece.row_align, self.step)
        return _Windows(images=tuple(images), block=block, front=NOUGHT), borders

    def _asked_images(self) -> tuple[Size, ...] | None:
        """The images' sizes where they were asked for, of all windows or of none; a caption window always has one."""
        sizes = [asked_image(ask, self.sums_of(ask)) for ask in self.piece.apertures]
        asked = [size for size, ask in zip(sizes, self.piece.apertures, strict=True) if ask.text is None or not self.many]
        if any(size is None for size in asked):
            if any(size is not None for size in asked):
                raise Unsolvable("aperture", "some windows have an image and some have none: give every window one, or none of them")
            return None
        return tuple(size for size in sizes if size is not None)

    def _blank_of(self, frame: Frame) -> tuple[Size, Size]:
        """Blank and rabbet of a frame with a size."""
        add, step = self.sums.add, self.step
        if frame.takes is not None:
            blank = Size(
                *(
                    add(f"blank {side}", step.down(length), "the frame takes {}", length, raw=length, snap="down to a step")
                    for side, length in (("width", frame.takes.width), ("height", frame.takes.height))
                )
            )
            rabbet = Size(
                *(
                    add(f"rabbet {side}", length + frame.clearance, "the frame takes {} + clearance {}", length, frame.clearance)
                    for side, length in (("width", frame.takes.width), ("height", frame.takes.height))
                )
            )
            return self._held(blank, rabbet), rabbet
        if frame.rabbet is None:
            raise Unsolvable("frame", "the frame has no size")
        rabbet = frame.rabbet
        sides = (("width", rabbet.width), ("height", rabbet.height))
        blank = Size(
            *(
                add(
                    f"blank {side}",
                    step.down(length - frame.clearance),
                    "rabbet {} − clearance {}",
                    length,
                    frame.clearance,
                    raw=length - frame.clearance,
                    snap="down to a step",
                )
                for side, length in sides
            )
        )
        return self._held(blank, rabbet), rabbet

    def _held(self, blank: Size, rabbet: Size) -> Size:
        if blank.width <= 0 or blank.height <= 0:
            show = self.printer.size
            raise Unsolvable(
                "frame",
                f"the rabbet of {show(rabbet)} leaves no blank after a clearance of "
                f"{self.printer.length(self.piece.frame.clearance)}; use a larger frame or less clearance",
            )
        return blank

    def _strip(self, rabbet: Size, blank: Size) -> Size:
        """The hidden strip on each side: lip − (rabbet − blank) / 2."""
        lip = self.piece.frame.lip
        words = "lip {} − (rabbet {} − blank {}) ÷ 2"
        across, down = lip - (rabbet.width - blank.width) / 2, lip - (rabbet.height - blank.height) / 2
        if across == down:
            self.sums.add("under the lip", across, words, lip, rabbet.width, blank.width)
        else:
            self.sums.add("under the lip left and right", across, words, lip, rabbet.width, blank.width)
            self.sums.add("under the lip top and bottom", down, words, lip, rabbet.height, blank.height)
        return Size(across, down)

    def _made_strip(self, frame: Frame) -> Size:
        """The strip of a frame made to measure: lip − clearance / 2."""
        strip = frame.lip - frame.clearance / 2
        self.sums.add("under the lip", strip, "lip {} − clearance {} ÷ 2", frame.lip, frame.clearance)
        return Size(strip, strip)

    def _rule(self, strip: Size) -> Rule:
        counted = NO_STRIP if self.piece.border_at is BorderAt.CUT else strip
        return Rule(strip=counted, weight=self.piece.weight, step=self.step)

    # --- windows -----------------------------------------------------------------------------------------------------

    def _opening(self, ask: ApertureAsk, image: Size) -> Size:
        """The clear opening; without a mat the image itself."""
        return opening_size(ask, image, self.step, self.sums_of(ask)) if self.piece.mat else image

    def _windows(self, images: Sequence[Size]) -> _Windows:
        piece = self.piece
        if piece.justify and self.many:
            return self._justified(images)
        openings = [self._opening(ask, image) for ask, image in zip(piece.apertures, images, strict=True)]
        block = arranged(openings, piece.rows, self.gutter, piece.row_align, self.step)
        if self.many:
            self._explain_block(openings, block)
        return _Windows(images=tuple(images), block=block, front=self.front)

    def _explain_block(self, openings: Sequence[Size], block: Block) -> None:
        widest = max(self.piece.rows, key=lambda row: row_width(openings, row, self.gutter))
        gutters = len(widest) - 1
        words = " + ".join(["opening {}"] * len(widest)) + (f" + {gutters} × gutter {{}}" if gutters else "")
        terms = [openings[i].width for i in widest] + ([self.gutter] if gutters else [])
        self.sums.add("block width", block.size.width, words, *terms)
        rows = len(self.piece.rows)
        words = " + ".join(["row {}"] * rows) + (f" + {rows - 1} × gutter {{}}" if rows > 1 else "")
        heights = [max(openings[i].height for i in row) for row in self.piece.rows]
        self.sums.add("block height", block.size.height, words, *heights, *([self.gutter] if rows > 1 else []))

    def _filling(self, blank: Size) -> _Windows:
        """Without a mat and with a frame alone the image fills the sheet."""
        block = arranged([blank], self.piece.rows, NOUGHT, self.piece.row_align, self.step)
        return _Windows(images=(blank,), block=block, front=NOUGHT)

    def _fitted(self, blank: Size, strip: Size) -> _Windows:
        """The largest images whose openings leave the least borders: one factor scales the block."""
        border = self.piece.border
        if border is None:
            raise Unsolvable("border", "no border is asked for")
        least = least_borders(border, self._rule(strip), self.sums)
        room = Size(blank.width - least.across - 2 * self.front, blank.height - least.down - 2 * self.front)
        if room.width <= 0 or room.height <= 0:
            over = max(-room.width, -room.height)
            raise Unsolvable(
                "border",
                f"the borders leave no opening: they and the blank of {self.printer.size(blank)} differ by "
                f"{self.printer.length(over)} the wrong way; use narrower borders or a larger frame",
            )
        self.sums.add(
            "room width",
            room.width,
            "blank {} − left {} − right {} − 2 × front reveal {}",
            blank.width,
            least.left,
            least.right,
            self.front,
        )
        self.sums.add(
            "room height",
            room.height,
            "blank {} − top {} − bottom {} − 2 × front reveal {}",
            blank.height,
            least.top,
            least.bottom,
            self.front,
        )
        if self.piece.justify and self.many:
            return self._justified(None, room)
        return self._scaled(room)

    def _scaled(self, room: Size) -> _Windows:
        """The block scaled into `room` by one factor; where openings snap upwards the room is tightened until they fit."""
        piece, target = self.piece, room
        windows = [self._scalable(ask) for ask in piece.apertures]
        for _ in range(2 * len(windows) + 2):
            factor = largest_factor(windows, piece.rows, self.gutter, target)
            images = self._images_at(factor, windows, target)
            made = self._quietly(images)
            over = Size(made.block.size.width - room.width, made.block.size.height - room.height)
            if over.width <= 0 and over.height <= 0:
                if factor is not None:
                    self._explain_factor(room, images)
                return self._windows(images)
            if factor is None:
                break
            target = Size(target.width - max(over.width, NOUGHT), target.height - max(over.height, NOUGHT))
        raise Unsolvable(
            "border",
            f"the openings need {self.printer.size(made.block.size)} and the borders leave {self.printer.size(room)}; "
            "use narrower borders, a larger frame or a smaller paper",
        )

    def _quietly(self, images: Sequence[Size]) -> _Windows:
        """The windows of a trial, without its sums."""
        kept = len(self.sums.found)
        made = self._windows(images)
        del self.sums.found[kept:]
        return made

    def _scalable(self, ask: ApertureAsk) -> Scaled:
        """How the opening grows with the image: its aspect as the image of factor 1, as high as 1 mm."""
        if ask.text is not None and self.many:
            size = asked_image(ask, Sums())
            return Scaled(image=NO_STRIP, fixed=(size or NO_STRIP).grown(edge(ask)))
        by = edge(ask) if self.piece.mat else NOUGHT
        if ask.show is Show.SHEET and ask.paper is not None and self.piece.mat:
            return Scaled(image=NO_STRIP, fixed=ask.paper.size.grown(by))
        across, down = aspect(ask)
        return Scaled(image=Size(across / down, Fraction(1)), fixed=Size(2 * by, 2 * by))

    def _images_at(self, factor: Fraction | None, windows: Sequence[Scaled], room: Size) -> tuple[Size, ...]:
        images = []
        for ask, window in zip(self.piece.apertures, windows, strict=True):
            if window.image.height and factor is not None:
                image = Size(factor * window.image.width, factor * window.image.height)
                if image.width <= 0 or image.height <= 0:
                    raise Unsolvable(
                        "border",
                        f"the borders leave {self.printer.size(room)} for the openings, too little for any image; "
                        "use narrower borders or a larger frame",
                    )
            elif ask.text is not None and self.many:
                image = asked_image(ask, Sums()) or NO_STRIP
            else:
                image = self._largest_on_paper(ask)
            images.append(image)
        return tuple(images)

    @staticmethod
    def _largest_on_paper(ask: ApertureAsk) -> Size:
        """A floated sheet's image: the largest of its aspect within what the printer reaches."""
        if ask.paper is None:
            raise Unsolvable("paper", "no paper is named")
        paper, free = ask.paper.size, ask.paper.printer_margin
        across, down = aspect(ask)
        least = Size(2 * max(free.left, free.right), 2 * max(free.top, free.bottom))  # it stays in the middle of its sheet
        factor = min((paper.width - least.width) / across, (paper.height - least.height) / down)
        if factor <= 0:
            raise Unsolvable("paper", "the printer's margins leave nothing of the paper")
        return Size(across * factor, down * factor)

    def _explain_factor(self, room: Size, images: Sequence[Size]) -> None:
        for ask, image in zip(self.piece.apertures, images, strict=True):
            sums = self.sums_of(ask)
            if self.many:
                across, down = aspect(ask)
                sums.add("image height", image.height, "the one factor for all {}", image.height)
                sums.add("image width", image.width, "image height {} × aspect {}", image.height, Count(across / down))
                continue
            by = edge(ask) if self.piece.mat else NOUGHT
            word = {Show.IMAGE: "+ 2 × overlap {}", Show.MARGIN: "− 2 × reveal {}", Show.SHEET: "− 2 × gap {}"}[ask.show]
            across, down = aspect(ask)
            if image.width == room.width - 2 * by:
                sums.add("image width", image.width, f"room {{}} {word}", room.width, abs(by))
                sums.add("image height", image.height, "image width {} ÷ aspect {}", image.width, Count(across / down))
            else:
                sums.add("image height", image.height, f"room {{}} {word}", room.height, abs(by), raw=image.height)
                sums.add("image width", image.width, "image height {} × aspect {}", image.height, Count(across / down))

    # --- justified rows ----------------------------------------------------------------------------------------------

    def _justified(self, images: Sequence[Size] | None, room: Size | None = None) -> _Windows:
        """Rows of one width: that of the widest row as asked for, or the largest that the room allows."""
        piece = self.piece
        asks = piece.apertures
        fixed = [ask.name for ask in asks if ask.show is Show.SHEET and ask.paper is not None and piece.mat]
        if fixed:
            raise Unsolvable(
                "justify",
                f"{', '.join(fixed)} floats on a paper whose size is fixed, so the rows cannot be evened out; leave out `paper` "
                "(a sheet cut to the image) or `justify`",
            )
        ratios = [Fraction(1) if a.shape in EVEN_SIDED else aspect(a)[0] / aspect(a)[1] for a in asks]
        edges = [edge(a) if piece.mat else NOUGHT for a in asks]
        if images is not None:
            openings = [self._quiet_opening(ask, image) for ask, image in zip(asks, images, strict=True)]
            width = max(row_width(openings, row, self.gutter) for row in piece.rows)
        else:
            width = self.step.down(justified_width(ratios, edges, piece.rows, self.gutter, room or NO_STRIP))
        openings = justified(ratios, edges, piece.rows, self.gutter, self.step, width)
        openings = evened(openings, piece.rows, [ask.shape in EVEN_SIDED for ask in asks])
        if any(min(o.width, o.height, o.width - 2 * by, o.height - 2 * by) <= 0 for o, by in zip(openings, edges, strict=True)):
            raise Unsolvable(
                "justify",
                "rows of one width leave nothing of some images; use narrower borders, a larger frame or fewer windows in a row",
            )
        block = arranged(openings, piece.rows, self.gutter, piece.row_align, self.step)
        self._explain_block(openings, block)
        covering = [self._covering(a, ratio, by, o) for a, ratio, by, o in zip(asks, ratios, edges, openings, strict=True)]
        return _Windows(images=tuple(covering), block=block, front=self.front)

    def _quiet_opening(self, ask: ApertureAsk, image: Size) -> Size:
        return opening_size(ask, image, self.step, Sums()) if self.piece.mat else image

    def _covering(self, ask: ApertureAsk, ratio: Fraction, by: Fraction, opening: Size) -> Size:
        """The image of its own aspect for an opening that is given: no overlap, reveal or gap comes out less than asked for."""
        asked = opening.grown(-by)
        fits_width = asked.width / ratio >= asked.height
        if ask.show is not Show.IMAGE:
            fits_width = not fits_width
        height = asked.width / ratio if fits_width else asked.height
        sums = self.sums_of(ask)
        if fits_width:
            width = sums.add("image width", asked.width, f"opening {{}} {'−' if by > 0 else '+'} 2 × edge {{}}", opening.width, abs(by))
            sums.add("image height", height, "image width {} ÷ aspect {}", width, Count(ratio))
        else:
            sums.add("image height", height, f"opening {{}} {'−' if by > 0 else '+'} 2 × edge {{}}", opening.height, abs(by))
            width = sums.add("image width", height * ratio, "image height {} × aspect {}", height, Count(ratio))
        return Size(width, height)

    # --- borders -----------------------------------------------------------------------------------------------------

    def _placed(self, windows: _Windows, blank: Size, strip: Size) -> Sides:
        """The cut borders of the block in a blank that is given, checked against the least that were asked for."""
        rule, border = self._rule(strip), self.piece.border
        opening = windows.bordered
        least = None
        if border is not None:
            least = least_borders(border, rule, Sums())
            short = [
                f"{name} by {self.printer.length(missing)}"
                for name, missing in (
                    ("width", opening.width + least.across - blank.width),
                    ("height", opening.height + least.down - blank.height),
                )
                if missing > 0
            ]
            if short:
                raise Unsolvable(
                    "border",
                    f"frame, image and border do not go together: opening and borders exceed the blank of {self.printer.size(blank)} in "
                    + " and in ".join(short)
                    + "; leave one of the three out, or make the image or the borders smaller",
                )
        return placed(blank, opening, rule, self.sums, least=least, named=border is not None and border.bottom is not None)

    def _made(self, windows: _Windows, strip: Size) -> tuple[Sides, Size]:
        """Borders and blank of a frame made to measure."""
        border = self.piece.border
        if border is None:
            raise Unsolvable("border", "no border is asked for")
        opening = windows.bordered
        least = least_borders(border, self._rule(strip), self.sums, opening_width=opening.width)
        across, down = least.left + opening.width + least.right, least.top + opening.height + least.bottom
        words = "{} {{}} + opening {{}} + {} {{}}"
        blank = Size(
            self.sums.add(
                "blank width",
                self.step.up(across),
                words.format("left", "right"),
                least.left,
                opening.width,
                least.right,
                raw=across,
                snap="up to a step",
            ),
            self.sums.add(
                "blank height",
                self.step.up(down),
                words.format("top", "bottom"),
                least.top,
                opening.height,
                least.bottom,
                raw=down,
                snap="up to a step",
            ),
        )
        borders = replace(least, right=blank.width - opening.width - least.left, bottom=blank.height - opening.height - least.top)
        return borders, blank

    # --- the whole piece ---------------------------------------------------------------------------------------------

    def _finished(self, windows: _Windows, borders: Sides, blank: Size, rabbet: Size, strip: Size) -> SolvedPiece:
        piece, lip, rail = self.piece, self.piece.frame.lip, self.piece.frame.rail
        sight = rabbet.grown(-lip)
        if sight.width <= 0 or sight.height <= 0:
            raise Unsolvable("frame", f"the lip of {self.printer.length(lip)} covers the whole rabbet of {self.printer.size(rabbet)}")
        origin = Size(borders.left + windows.front, borders.top + windows.front)
        boxes = tuple(box.moved(origin.width, origin.height) for box in windows.block.boxes)
        lines = tuple(self._outline(ask, box) for ask, box in zip(piece.apertures, boxes, strict=True))
        self._check_sight(boxes, blank, strip)
        clear = [(ask.name, line) for ask, line in zip(piece.apertures, lines, strict=True)]
        layers = layers_of(piece.mat, clear, self.grows, self.setback, self.step, self.sums)
        if layers and not all(line.upright for line in lines):  # a mitred corner may reach further than the nominal opening
            self._check_sight([opening.back.box.grown(-self.grows[0]) for opening in layers[0].openings], blank, strip)
        for side, outer, inner in (("width", rabbet.width, sight.width), ("height", rabbet.height, sight.height)):
            self.sums.add(f"sight {side}", inner, "rabbet {} − 2 × lip {}", outer, lip)
        sight_box = Box(strip.width, strip.height, sight.width, sight.height)
        faces = [opening.face for opening in layers[0].openings] if layers else []
        whole = Box.of(blank)
        frame = SolvedFrame(
            ask=piece.frame,
            rabbet=rabbet,
            sight=sight,
            outer=None if rail is None else sight.grown(rail),
            long_edges=None if rail is None else rabbet.grown(rail - lip),
        )
        if frame.outer is not None and frame.long_edges is not None and rail is not None:
            for side, out, inner, edge_, hold in (
                ("width", frame.outer.width, sight.width, frame.long_edges.width, rabbet.width),
                ("height", frame.outer.height, sight.height, frame.long_edges.height, rabbet.height),
            ):
                self.sums.add(f"outer {side}", out, "sight {} + 2 × rail {}", inner, rail)
                self.sums.add(f"rail's long edge, {side}", edge_, "rabbet {} + 2 × (rail {} − lip {})", hold, rail, lip)
        apertures = tuple(
            self._aperture(ask, image, box, line, whole, strip)
            for ask, image, box, line in zip(piece.apertures, windows.images, boxes, lines, strict=True)
        )
        stack = stack_of(blank, piece.glazing, layers, piece.backing, piece.frame.depth, self.sums)
        solved = SolvedPiece(
            ask=piece,
            frame=frame,
            blank=blank,
            hidden=strip,
            layers=layers,
            ready_cut=self.standard,
            apertures=apertures,
            web=least_web(faces, piece.rows, sight_box) if faces else None,
            stack=stack,
            mass=sum((part.mass for part in stack.parts if part.mass is not None), NOUGHT),
            frame_mass=frame_mass(piece.frame, rabbet),
            findings=(),
            sums=tuple(self.sums.found),
        )
        return replace(solved, findings=tuple(findings(solved, self.printer)))

    def _outline(self, ask: ApertureAsk, box: Box) -> Outline:
        """The window's outline. Raises `Unsolvable` where an arch's rise or a polygon's points do not go with the opening."""
        if not self.piece.mat:
            return outline(Shape.RECTANGLE, box)
        if ask.shape is Shape.ARCH and ask.rise is not None and ask.rise > (most := most_rise(box)):
            show = self.printer.length
            limit = "half its width" if most < box.height else "its height"
            raise Unsolvable(
                "rise",
                f"the arch rises {show(ask.rise)}; in an opening of {self.printer.size(box.size)} it is at most {limit}, {show(most)}",
            )
        try:
            made = outline(ask.shape, box, points=ask.points, rise=ask.rise, step=self.step)
            explain(made, self.sums_of(ask))
            return made
        except ValueError:
            raise Unsolvable(
                "points",
                f"in an opening of {self.printer.size(box.size)} points fall together on steps of {self.printer.length(self.step.size)}; "
                "use a finer step, a larger opening or fewer points",
            ) from None

    def _check_sight(self, boxes: Sequence[Box], blank: Size, strip: Size) -> None:
        """No opening of any layer reaches under the lip or past the blank; without a mat the image stays on the sheet."""
        front = self.grows[0] if self.grows else NOUGHT
        edge_of = Box.of(blank)
        if self.piece.mat:
            shown = Box(max(strip.width, NOUGHT), max(strip.height, NOUGHT), NOUGHT, NOUGHT)
            edge_of = Box(shown.x, shown.y, blank.width - 2 * shown.x, blank.height - 2 * shown.y)
        least = [box.grown(front).inset_in(edge_of) for box in boxes]
        over = {
            side: -min(getattr(sides, side) for sides in least)
            for side in ("left", "right", "top", "bottom")
            if min(getattr(sides, side) for sides in least) < 0
        }
        if not over:
            return
        by = ", ".join(f"{side} by {self.printer.length(length)}" for side, length in over.items())
        if self.piece.mat:
            sight = self.printer.size(edge_of.size)
            raise Unsolvable(
                "frame",
                f"the opening reaches under the lip or past the blank: {by}; the sight is {sight}. "
                "Make the image smaller, the weight less or the frame larger",
            )
        raise Unsolvable("image", f"the image reaches past the sheet of {self.printer.size(blank)}: {by}; make it smaller")

    def _aperture(self, ask: ApertureAsk, image: Size, box: Box, line: Outline, blank: Box, strip: Size) -> SolvedAperture:
        cut = line.box.inset_in(blank)
        lies = Box.of(image).centred_in(box)
        crop = crop_of(ask.photo, image, self.step)
        work = work_of(ask, box, line, lies) if self.piece.mat else Outline(shape=Shape.RECTANGLE, box=lies)
        true = true_edges(ask, line, work) if self.piece.mat else None
        sums = self.sums_of(ask)
        visible = Sides(
            top=cut.top - strip.height, bottom=cut.bottom - strip.height, left=cut.left - strip.width, right=cut.right - strip.width
        )
        for side, shown, whole, hidden in (
            ("top", visible.top, cut.top, strip.height),
            ("right", visible.right, cut.right, strip.width),
            ("bottom", visible.bottom, cut.bottom, strip.height),
            ("left", visible.left, cut.left, strip.width),
        ):
            sums.add(f"visible border {side}", shown, "cut border {} − under the lip {}", whole, hidden)
        return SolvedAperture(
            ask=ask,
            opening=line.box,
            outline=line,
            work=work,
            visible=visible,
            cut=cut,
            overlap=true.overlap if true else None,
            reveal=true.reveal if true else None,
            gap=true.gap if true else None,
            image=lies,
            crop=crop,
            print=self._print(ask, image, blank.size, cut),
            pixels=pixels_of(ask, image, crop),
        )

    def _print(self, ask: ApertureAsk, image: Size, blank: Size, cut: Sides) -> Print | None:
        if not self.piece.mat and ask.paper is None and not self.many:
            return Print(paper=None, size=blank, turned=False, margins=cut, unreachable=Sides.all(NOUGHT))
        return print_of(ask, image, self.sums_of(ask))
