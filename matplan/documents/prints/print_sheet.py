"""The print sheet: the paper with the image at its place, and what is typed into a print dialog.

Boxes are in the sheet's own frame of reference: from the paper's top left corner, as it is fed.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from matplan.documents.parts import wording
from matplan.documents.parts.facts import facts_beside
from matplan.documents.parts.folio import Folio, WindowOf
from matplan.documents.parts.framed import FIELD, blank_field, model_box, pictured
from matplan.documents.parts.page import further_scales, paper, title_block
from matplan.documents.parts.pictures import Picture, PictureKey, Pictures
from matplan.documents.parts.ticks import tick_list
from matplan.documents.parts.words import texts_of, words_used
from matplan.documents.prints.marks import shape_on_sheet
from matplan.drawing import blocks
from matplan.drawing.blocks import Block
from matplan.drawing.dimensions import Arranged, Dimension, ModelPoint, Side, arrange, united
from matplan.drawing.frame import drawing_area, frame
from matplan.drawing.items import Area, Item
from matplan.drawing.pens import PAPER, Pen
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import View
from matplan.habits import habits_of
from matplan.job.records import Job, Show
from matplan.lengths import INCH, ZERO, Box, Printer, plain_decimal
from matplan.mats.records import Print, SolvedAperture, SolvedPiece

_GAP: Final = 5.0


def is_printed(aperture: SolvedAperture) -> bool:
    """Whether the window has a sheet of its own to print; one whose paper nobody named has none."""
    return aperture.print is not None and aperture.ask.text is None


def drawn(folio: Folio, window: WindowOf) -> tuple[Sheet, ...]:
    """Return the print sheet of a window; empty where nothing is printed for it."""
    if not is_printed(window.aperture):
        return ()
    return (print_sheet(folio.job, window.piece, window.aperture, folio.pictures),)


def picture_sizes(folio: Folio, window: WindowOf) -> dict[PictureKey, tuple[float, float]]:
    """Return how large the window's picture is drawn, in mm of paper."""
    if not is_printed(window.aperture):
        return {}
    key = (window.piece.ask.file, window.aperture.name)
    return {key: picture_size(folio.job, window.piece, window.aperture)}


def print_sheet(job: Job, piece: SolvedPiece, aperture: SolvedAperture, pictures: Pictures) -> Sheet:
    """The sheet for one window of a piece. Raises `ValueError` where it has no print (see `is_printed`)."""
    made = _print_of(aperture)
    drawn, figures = _laid(job, piece, aperture, made, pictures.get((piece.ask.file, aperture.name)))
    name = piece.name if len(piece.apertures) == 1 else f"{piece.name}: {aperture.name}"
    scale = drawn.view.scale
    size = paper(job.units).portrait
    block = title_block(job, document="Print sheet", title=name, view="seen from the printed side", scale=scale)
    items = (
        *frame(size, block).items,
        *_paper(piece, aperture, made, pictures, drawn.view),
        *drawn.items,
        *figures.items,
    )
    return Sheet(name=f"print {piece.ask.file} {aperture.name}", title=name, size=size, items=items, scale=scale)


def picture_size(job: Job, piece: SolvedPiece, aperture: SolvedAperture) -> tuple[float, float]:
    """How large the window's picture is drawn on its print sheet, in mm of paper."""
    view = _laid(job, piece, aperture, _print_of(aperture))[0].view
    return (view.length(aperture.image.width), view.length(aperture.image.height))


def _print_of(aperture: SolvedAperture) -> Print:
    if aperture.print is None or not is_printed(aperture):
        raise ValueError(f"the window {aperture.name} has no sheet to print; name a paper for it")
    return aperture.print


def _whole(aperture: SolvedAperture, made: Print) -> Box:
    """The sheet, and the image where that is larger."""
    image, sheet = made.image_box(aperture.image.size), Box.of(made.size)
    x, y = min(image.x, ZERO), min(image.y, ZERO)
    return Box(x, y, max(image.right, sheet.right) - x, max(image.bottom, sheet.bottom) - y)


def _laid(
    job: Job, piece: SolvedPiece, aperture: SolvedAperture, made: Print, picture: Picture | None = None
) -> tuple[Arranged, Block]:
    area = drawing_area(paper(job.units).portrait)
    printer = job.printer
    height = _figures(piece, aperture, made, printer, area, area.y, picture).area.height
    figures = _figures(piece, aperture, made, printer, area, area.bottom - height, picture)
    room = area.inset(0, 0, 0, height + _GAP)
    drawn = arrange(
        model_box(_whole(aperture, made)), _dimensions(aperture, made, printer), room, further_scales(job.units)
    )
    return drawn, figures


# --- what is drawn ---------------------------------------------------------------------------------------------------


def _paper(piece: SolvedPiece, aperture: SolvedAperture, made: Print, pictures: Pictures, view: View) -> list[Item]:
    image = made.image_box(aperture.image.size)
    items: list[Item] = [
        view.rect(model_box(Box.of(made.size)), pen=Pen.OUTLINE, fill=PAPER, name="paper", classes=("paper",))
    ]
    picture = pictures.get((piece.ask.file, aperture.name))
    area = view.area(model_box(image))
    facts = (("aperture", aperture.name),)
    if picture is None:
        items.append(area.rect(fill=FIELD))
        items.extend(blank_field(area, room=view.area(model_box(_reach(made)))))
    else:
        shape = shape_on_sheet(piece, aperture, made, view.scale, view.point(ZERO, ZERO))
        items.append(pictured(picture, area, shape))
    items.append(view.rect(model_box(image), pen=Pen.EDGE, name="image", classes=("image",), data=facts))
    bare = made.unreachable
    if max(bare.top, bare.right, bare.bottom, bare.left) > 0:
        items.append(view.rect(model_box(_reach(made)), pen=Pen.HIDDEN, name="printable", classes=("printable",)))
    return items


def _reach(made: Print) -> Box:
    """What the printer can print on."""
    bare = made.unreachable
    return Box(bare.left, bare.top, max(made.size.width - bare.across, ZERO), max(made.size.height - bare.down, ZERO))


def _dimensions(aperture: SolvedAperture, made: Print, printer: Printer) -> tuple[Dimension, ...]:
    """The margins and the image above and on the left, the sheet below and on the right."""
    image, whole = made.image_box(aperture.image.size), _whole(aperture, made)
    found: list[Dimension] = []
    across = (("left", ZERO, image.x), ("width", image.x, image.right), ("right", image.right, made.size.width))
    down = (("top", ZERO, image.y), ("height", image.y, image.bottom), ("bottom", image.bottom, made.size.height))
    sheet = (("paper-width", ZERO, made.size.width), ("paper-height", ZERO, made.size.height))
    for side, level, spans in (
        (Side.ABOVE, whole.y, across),
        (Side.LEFT, whole.x, down),
        (Side.BELOW, whole.bottom, sheet[:1]),
        (Side.RIGHT, whole.right, sheet[1:]),
    ):
        for name, low, high in spans:
            if low == high:
                continue
            start: ModelPoint = (low, level) if side.across else (level, low)
            end: ModelPoint = (high, level) if side.across else (level, high)
            kind = "margin" if name in ("left", "right", "top", "bottom") else "size"
            label = printer.number(abs(high - low))  # a margin that the image runs over is negative in the table alone
            found.append(Dimension(start=start, end=end, side=side, label=label, id=f"{kind}-{name}", classes=(kind,)))
    return tuple(found)


# --- figures ---------------------------------------------------------------------------------------------------------


def _figures(
    piece: SolvedPiece,
    aperture: SolvedAperture,
    made: Print,
    printer: Printer,
    area: Area,
    y: float,
    picture: Picture | None,
) -> Block:
    """Return the settings to tick off in the print dialog; the photo and its pixels, notes and words below."""
    settings = list(_settings(piece, aperture, made, printer))
    ticks = tick_list("To set in the print dialog, and tick off", settings, x=area.x, y=y, width=area.width)
    photo: list[wording.Fact] = []
    pixels = aperture.pixels
    counted = [("Needed", f"{pixels.want[0]} × {pixels.want[1]}")]
    if aperture.ask.photo is not None:
        photo.append(("File", wording.short(aperture.ask.photo.written)))
        if aperture.ask.photo.profile:
            photo.append(("Its colour profile", wording.short(aperture.ask.photo.profile)))
        if aperture.crop is not None and aperture.pixels.have is not None:
            photo.append(("Whole photo", f"{aperture.pixels.have[0]} × {aperture.pixels.have[1]}"))
            photo.append(("Cropped to", _crop_in_words(aperture)))
    if pixels.used is not None and pixels.ppi is not None:
        what = "Its pixels" if aperture.crop is None else "Pixels used"
        photo.append((what, f"{pixels.used[0]} × {pixels.used[1]}"))
        counted.append(("Per inch", plain_decimal(pixels.ppi, 0)))
    columns = (("Photo", photo), ("Pixels", counted))
    laid = [ticks, facts_beside(columns, x=area.x, y=ticks.bottom + 4, width=area.width)]
    lines = list(_notes(piece, aperture, made, printer, picture))
    if lines:
        laid.append(blocks.notes(lines, x=area.x, y=laid[1].bottom + 4, width=area.width, title="Notes"))
    facts = (*settings, *(fact for _, listed in columns for fact in listed))
    for words in words_used((*texts_of(facts), *lines)):
        laid.append(words(area.x, laid[-1].bottom + 4, area.width))
    return Block(items=tuple(i for b in laid for i in b.items), area=united([b.area for b in laid]))


def _settings(piece: SolvedPiece, aperture: SolvedAperture, made: Print, printer: Printer) -> Iterator[tuple[str, str]]:
    """Yield what is set for the print, worded for any program and any printer."""
    paper = made.paper
    size = printer.size(made.size)
    yield "Paper", f"{wording.short(paper.name)}, {size}" if paper is not None else f"any larger than {size}"
    yield "Orientation", made.orientation
    bare = made.unreachable
    reached = max(bare.top, bare.right, bare.bottom, bare.left) == 0
    yield "Borderless", "yes" if reached and paper is not None else "no"
    yield "Scale", "100 %, not fitted to the page"
    yield "Image size", printer.size(aperture.image.size)
    if paper is None:
        yield "Margins", "as that paper leaves them"
    for side in ("top", "bottom", "left", "right") if paper is not None else ():
        yield f"Margin {side}", _typed(getattr(made.margins, side), printer)
    yield "Pixels per inch", plain_decimal(aperture.pixels.wanted_ppi, 0)
    yield "Colour profile", (paper.profile if paper is not None else "") or "the one for this paper and printer"
    yield "Paper type", (paper.media if paper is not None else "") or "as the paper's maker says"
    yield "Colours", "managed by one program only"
    yield "Quantity", str(piece.ask.quantity)


def _typed(margin: Fraction, printer: Printer) -> str:
    """Return a margin as one types it: with the image and its opposite it gives the paper. Off the step an inch job
    has a decimal, because a fraction to the nearest step would not.
    """
    if not habits_of(printer.units).whole_steps or printer.step.is_whole(margin):
        return printer.length(margin)
    return f"{plain_decimal(margin / INCH, 3)} in"


def _crop_in_words(aperture: SolvedAperture) -> str:
    crop = aperture.crop
    if crop is None:
        return "all of it"
    return f"{plain_decimal(crop.width * 100, 1)} × {plain_decimal(crop.height * 100, 1)} %, about its centre"


def _notes(
    piece: SolvedPiece, aperture: SolvedAperture, made: Print, printer: Printer, picture: Picture | None
) -> list[str]:
    notes: list[str] = []
    photo = aperture.ask.photo
    if photo is not None:
        profile = " and its colour profile" if photo.profile else ""
        if picture is not None and picture.profile_lost:
            profile = (
                ", but without its colour profile, which does not fit its colours; export it anew with "
                "one where colours matter"
            )
        notes.append(
            f"print/{piece.ask.file}.pdf has the photo at this place and size, with its own pixels{profile}. "
            "Print it at 100 %."
        )
    if photo is not None and made.paper is not None and made.paper.test_strip is not None:
        notes.append(
            f"Print the test strip first, on {printer.size(made.paper.test_strip)} of the same paper and with the same "
            "settings, and judge it before the large sheet."
        )
    bare = made.unreachable
    if max(bare.top, bare.right, bare.bottom, bare.left) > 0:
        assumed = ", as is assumed" if made.paper is not None and made.paper.margin_assumed else ""
        reach = wording.sides_in_words(bare, printer)
        notes.append(f"Dashed: the printer reaches no nearer to the edge than {reach}{assumed}.")
    if aperture.show is Show.SHEET and made.paper is None:
        notes.append("The sheet is cut to the image after printing.")
    about = [f for f in piece.findings if f.where == aperture.name and f.code in _PRINT_FINDINGS]
    notes.extend(wording.finding_in_words(f, piece) for f in about)
    return notes


_PRINT_FINDINGS: Final = frozenset(
    {"photo-cropped", "low-resolution", "soft-at-distance", "printer-margin", "edge-may-show"}
)
