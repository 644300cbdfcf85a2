"""Images with their openings in one block: as asked for, or the largest that a frame and its borders leave room for."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from matplan.job.records import ApertureAsk, MatSupply, Paper, Show
from matplan.lengths import ZERO, Size
from matplan.mats.blank import rule_for
from matplan.mats.block import Scaled, arranged, largest_factor
from matplan.mats.evening import justified_windows
from matplan.mats.explained_windows import explain_block, explain_factor
from matplan.mats.task import NO_STRIP, Task, Windows
from matplan.mats.weighting import least_borders
from matplan.mats.windows import Unsolvable, asked_image, aspect, given_opening, opening_size, sheet_of, shown_in
from matplan.sums import Sums, least, length


def asked_images(task: Task) -> tuple[Size, ...] | None:
    """Return the images where they, or the openings, were asked for: of all windows or of none.

    A caption window always has one.
    """
    sizes = [_asked(task, ask) for ask in task.piece.apertures]
    asked = [size for size, ask in zip(sizes, task.piece.apertures, strict=True) if ask.text is None or not task.many]
    if any(size is None for size in asked):
        if any(size is not None for size in asked):
            raise Unsolvable(
                "aperture", "some windows have an image and some have none: give every window one, or none of them"
            )
        return None
    return tuple(size for size in sizes if size is not None)


def _asked(task: Task, ask: ApertureAsk) -> Size | None:
    sums = task.sums_of(ask)
    if ask.opening is None and ask.image is None and task.piece.floats and ask.paper is not None:
        return _on_sheet(ask, ask.paper, sums)
    if ask.opening is None:
        return asked_image(ask, sums)
    return shown_in(ask, _given(task, ask), sums, task.inset)


def _given(task: Task, ask: ApertureAsk, sums: Sums | None = None) -> Size:
    """Return the opening that is given: as measured, but a mat that is cut here is cut on steps."""
    step = task.step if task.piece.mat_supply is MatSupply.SHEETS else None
    return given_opening(ask, step, task.sums_of(ask) if sums is None else sums, task.inset)


def _opening(task: Task, ask: ApertureAsk, image: Size) -> Size:
    """Return the clear opening; without a mat the image itself, or the sheet that floats."""
    if ask.opening is not None:
        return _given(task, ask, Sums())
    if task.piece.mat:
        return opening_size(ask, image, task.step, task.sums_of(ask), task.inset)
    return sheet_of(ask, image) if task.piece.floats else image


def _on_sheet(ask: ApertureAsk, paper: Paper, sums: Sums) -> Size:
    """Return the image of a sheet that floats without a mat: the photo on it, or a work that is the sheet itself."""
    told = ask.photo is not None or ask.aspect is not None
    return largest_on_paper(ask, sums) if told else paper.size


def windows_of(task: Task, images: Sequence[Size]) -> Windows:
    """Return the images with their openings in one block."""
    piece = task.piece
    if piece.justify and task.many:
        return justified_windows(task, images)
    openings = [_opening(task, ask, image) for ask, image in zip(piece.apertures, images, strict=True)]
    block = arranged(openings, piece.rows, task.gutter, piece.row_align, task.step)
    if task.many:
        explain_block(task, openings, block)
    return Windows(images=tuple(images), block=block, front=task.front)


def filling(task: Task, blank: Size) -> Windows:
    """Return the window of a frame alone, without a mat: the image fills the sheet."""
    block = arranged([blank], task.piece.rows, ZERO, task.piece.row_align, task.step)
    return Windows(images=(blank,), block=block, front=ZERO)


def fitted(task: Task, blank: Size, strip: Size) -> Windows:
    """Return the largest images whose openings leave the least borders: one factor scales the block."""
    border = task.piece.border
    if border is None:
        raise Unsolvable("border", "no border is asked for")
    borders = least_borders(border, rule_for(task, strip), task.sums)
    room = Size(blank.width - borders.across - 2 * task.front, blank.height - borders.down - 2 * task.front)
    if room.width <= 0 or room.height <= 0:
        show = task.printer.length
        taken = [
            f"{sides} take {show(whole - left)} of its {name} of {show(whole)}"
            for sides, name, whole, left in (
                ("left and right", "width", blank.width, room.width),
                ("top and bottom", "height", blank.height, room.height),
            )
            if left <= 0
        ]
        raise Unsolvable(
            "border",
            f"the borders leave no opening in the blank: {' and '.join(taken)}; use narrower borders or a larger frame",
        )
    for side, whole, first, second in (
        ("width", blank.width, length("left", borders.left), length("right", borders.right)),
        ("height", blank.height, length("top", borders.top), length("bottom", borders.bottom)),
    ):
        left = length("blank", whole) - first - second
        task.sums.add(f"room {side}", left - 2 * length("front reveal", task.front) if task.front else left)
    if task.piece.justify and task.many:
        return justified_windows(task, None, room)
    return _scaled(task, room)


def _scaled(task: Task, room: Size) -> Windows:
    """Return the block scaled into `room` by one factor.

    Where openings snap upwards the room is tightened until they fit.
    """
    piece, target = task.piece, room
    windows = [_scalable(task, ask) for ask in piece.apertures]
    for _ in range(2 * len(windows) + 2):
        factor = largest_factor(windows, piece.rows, task.gutter, target)
        images = _images_at(task, factor, windows, target)
        made = _quietly(task, images)
        over = Size(made.block.size.width - room.width, made.block.size.height - room.height)
        if over.width <= 0 and over.height <= 0:
            if factor is not None:
                explain_factor(task, room, images)
            for ask, window in zip(piece.apertures, windows, strict=True):
                if not window.image.height and ask.text is None:  # a sheet whose size is fixed
                    largest_on_paper(ask, task.sums_of(ask))
            return windows_of(task, images)
        if factor is None:
            break
        target = Size(target.width - max(over.width, ZERO), target.height - max(over.height, ZERO))
    raise Unsolvable(
        "border",
        f"the openings need {task.printer.size(made.block.size)} and the borders leave {task.printer.size(room)}; "
        "use narrower borders, a larger frame or a smaller paper",
    )


def _quietly(task: Task, images: Sequence[Size]) -> Windows:
    """Return the windows of a trial, without its sums."""
    kept = len(task.sums.found)
    made = windows_of(task, images)
    del task.sums.found[kept:]
    return made


def _scalable(task: Task, ask: ApertureAsk) -> Scaled:
    """Return how the opening grows with the image: its aspect as the image of factor 1, as high as 1 mm."""
    if ask.text is not None and task.many:
        size = asked_image(ask, Sums())
        return Scaled(image=NO_STRIP, fixed=(size or NO_STRIP).grown(task.edge(ask)))
    by = task.edge(ask)
    if ask.show is Show.SHEET and ask.paper is not None and task.piece.mat:
        return Scaled(image=NO_STRIP, fixed=ask.paper.size.grown(by))
    across, down = aspect(ask)
    return Scaled(image=Size(across / down, Fraction(1)), fixed=Size(2 * by, 2 * by))


def _images_at(task: Task, factor: Fraction | None, windows: Sequence[Scaled], room: Size) -> tuple[Size, ...]:
    images = []
    for ask, window in zip(task.piece.apertures, windows, strict=True):
        if window.image.height and factor is not None:
            image = Size(factor * window.image.width, factor * window.image.height)
            if image.width <= 0 or image.height <= 0:
                raise Unsolvable(
                    "border",
                    f"the borders leave {task.printer.size(room)} for the openings, too little for any image; "
                    "use narrower borders or a larger frame",
                )
        elif ask.text is not None and task.many:
            image = asked_image(ask, Sums()) or NO_STRIP
        else:
            image = largest_on_paper(ask, Sums())
        images.append(image)
    return tuple(images)


def largest_on_paper(ask: ApertureAsk, sums: Sums) -> Size:
    """Return a floated sheet's image: the largest of its aspect within what the printer reaches."""
    if ask.paper is None:
        raise Unsolvable("paper", "no paper is named")
    paper, free = ask.paper.size, ask.paper.printer_margin
    across, upright = aspect(ask)
    margins = max(free.left, free.right), max(free.top, free.bottom)  # it stays in the middle of its sheet
    wide, high = (
        length("paper", whole) - 2 * length("the printer's margin", margin)
        for whole, margin in zip((paper.width, paper.height), margins, strict=True)
    )
    if min(wide.value, high.value) <= 0:
        raise Unsolvable("paper", "the printer's margins leave nothing of the paper")
    width = sums.add("image width", least(wide, high * across / upright))
    return Size(width, sums.add("image height", length("image width", width) * upright / across))
