"""The shelf of documents: one record a document, in the order of work.

`pack/` draws what stands here and knows no document by name; the names of `--only`, the workbook's chapters and the
reference's table of files come from here. A document is a module with `drawn(folio, record)`, which returns what its
form asks for, nothing where it does not apply; a module that shows photos tells by `picture_sizes(folio, record)` how
large. To add a document, write its module and one record below. It must not know back ends, files and the terminal.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from matplan.documents.document import Chapter, Document, Form, Kit
from matplan.documents.subjects import boards, job, layer, piece, rack, shared_print, stock_sheet, wall, window

S, P, F = Form.SVG, Form.PDF, Form.FULL_SIZE

SHELF: Final = (
    Document(
        part="plan",
        title="plan",
        over=job,
        module="book.numbers",
        path="plan",
        forms=(Form.JSON,),
        what="every number, lengths in mm",
    ),
    Document(
        part="order",
        kit=Kit.SHOP,
        title="order list",
        over=job,
        module="ordering.order_list",
        path="order",
        forms=(P,),
        chapter=Chapter.BUY,
        what="what to buy, what each piece costs, what rails take and what drop-outs save",
    ),
    Document(
        part="order",
        kit=Kit.SHOP,
        title="order list",
        over=job,
        module="ordering.order_rows",
        path="order",
        forms=(Form.CSV,),
        what="what to buy, as rows: the eight columns of the order, then `units,currency,openings,note,supplier`",
    ),
    Document(
        part="mats",
        kit=Kit.SHOP,
        title="mats to be cut",
        over=job,
        module="ordering.mat_cards",
        path="mats",
        forms=(P,),
        bound=False,
        chapter=Chapter.BUY,
        what="one card for each mat that is bought cut, four a page, for the shop that cuts it: outer size, each clear "
        "opening from the edges, seen from the front, board, cut, layers, quantity",
    ),
    Document(
        part="mats",
        kit=Kit.SHOP,
        title="mats to be cut",
        over=job,
        module="ordering.mat_rows",
        path="mats",
        forms=(Form.CSV,),
        what="the same as rows, one for each opening of each mat",
    ),
    Document(
        part="print",
        kit=Kit.PRINT,
        title="print sheet",
        over=window,
        module="prints.print_sheet",
        path="print/{print}",
        forms=(S,),
        chapter=Chapter.PRINTS,
        pictured=True,
        what="the card to hold beside the print dialog: the sheet with the image on it, and every setting as a line to "
        "tick; with several windows `<piece>-<window>`",
    ),
    Document(
        part="print",
        kit=Kit.PRINT,
        title="caption insert",
        over=window,
        module="prints.caption_insert",
        path="print/{print}",
        forms=(S, F),
        chapter=Chapter.PRINTS,
        what="the insert of a caption window at full size, with its words and cut marks",
    ),
    Document(
        part="print",
        kit=Kit.PRINT,
        title="several prints on one sheet",
        over=shared_print,
        module="prints.gang_sheet",
        path="print/{gang}",
        forms=(S,),
        chapter=Chapter.PRINTS,
        bound=False,
        what="several prints on one sheet, where that saves sheets: a proposal beside the single ones",
    ),
    Document(
        part="print",
        kit=Kit.PRINT,
        title="test strip",
        over=window,
        module="prints.test_strip",
        path="print/{print}-strip",
        forms=(Form.PHOTOS,),
        what="where the paper names a small sheet for it: a part of the print at final size, to judge sharpness and "
        "tone before the large sheet is printed",
    ),
    Document(
        part="print",
        kit=Kit.PRINT,
        title="prints",
        over=piece,
        module="prints.photo_pages",
        path="print/{piece}",
        forms=(Form.PHOTOS,),
        what="the prints to send to the printer: pages as large as the sheets, the photos in place with their own "
        "pixels and colour profiles, crop marks where the mat hides them",
    ),
    Document(
        part="print",
        kit=Kit.PRINT,
        title="several prints on one sheet",
        over=shared_print,
        module="prints.shared_pages",
        path="print/{gang}",
        forms=(Form.PHOTOS,),
        what="the same for several prints on one sheet",
    ),
    Document(
        part="sheets",
        kit=Kit.BENCH,
        title="sheet",
        over=stock_sheet,
        module="stock.sheet_layout",
        path="sheets/{material}-{number}",
        forms=(S,),
        chapter=Chapter.SHEETS,
        what="a stock sheet or drop-out with its parts, numbered cuts and fence settings; lists that find no room "
        "go on in `-2`",
    ),
    Document(
        part="sticks",
        kit=Kit.SAW,
        title="saw list",
        over=rack,
        module="stock.saw_list",
        path="sticks/{frame}",
        forms=(S,),
        chapter=Chapter.STICKS,
        what="a moulding's sticks with their rails in order, each with its piece and side, its long edge and rabbet; "
        "sticks that are sawn alike stand once with their quantity; the list goes on in `-2`",
    ),
    Document(
        part="leftovers",
        kit=Kit.BENCH,
        title="leftovers",
        over=job,
        module="stock.leftovers",
        path="leftovers",
        forms=(Form.TOML,),
        what="what lies on the shelf when the job is done, as a supplies file that the next job names",
    ),
    Document(
        part="bench-card",
        kit=Kit.BENCH,
        title="bench card",
        over=job,
        module="cutting.bench_card",
        path="bench-card",
        forms=(S,),
        chapter=Chapter.WINDOWS,
        what="once for the whole pack, what holds for every board: how it lies, how the cutter is set, the signs and "
        "words of the diagrams, sketches of the cuts, cautions",
    ),
    Document(
        part="cut",
        kit=Kit.BENCH,
        title="cutting diagram",
        over=layer,
        module="cutting.diagram",
        path="cut/{piece}-layer{layer}",
        forms=(S,),
        chapter=Chapter.WINDOWS,
        what="cutting diagram of one board, from the back, mirrored: gauge settings, cut lines in order, start and "
        "stop marks",
    ),
    Document(
        part="cut",
        kit=Kit.BENCH,
        title="cutting diagrams",
        over=boards,
        module="cutting.all_layers",
        chapter=Chapter.WINDOWS,
        instead="cutting diagram",
    ),
    Document(
        part="machine",
        title="machine file",
        over=layer,
        module="cutting.machine_board",
        path="machine/{piece}-layer{layer}",
        forms=(Form.DXF, Form.MACHINE_SVG),
        machine=True,
        what="with `--machine dxf,svg`: one board for a computerised cutter, at 1:1 in mm, seen from `[cutter] "
        "machine_side`: its edge and its openings on the layers `blank` and `cut` (`score` stays empty)",
    ),
    Document(
        part="template",
        kit=Kit.BENCH,
        title="template",
        over=piece,
        module="tiled.mat_template",
        path="template/{piece}",
        forms=(F,),
        bound=False,
        chapter=Chapter.WINDOWS,
        what="the mat at full size, seen from the front, on sheets of A4 (Letter in inch jobs) with join marks and "
        "a check ruler; sheets that would show an opening's waste alone are left out",
    ),
    Document(
        part="front",
        kit=Kit.BENCH,
        title="front view",
        over=piece,
        module="front.view",
        path="front/{piece}",
        forms=(S,),
        chapter=Chapter.ASSEMBLY,
        pictured=True,
        what="as framed, with the photo: what is seen is dimensioned, each window has the letter of its row "
        "in the table",
    ),
    Document(
        part="assembly",
        kit=Kit.BENCH,
        title="assembly list",
        over=job,
        module="book.assembly_list",
        path="assembly",
        forms=(P,),
        chapter=Chapter.ASSEMBLY,
        what="what is set, filled and closed piece by piece, with each board's borders as cut, and the cautions",
    ),
    Document(
        part="labels",
        kit=Kit.BENCH,
        title="labels",
        over=job,
        module="prints.back_labels",
        path="labels",
        forms=(F,),
        bound=False,
        chapter=Chapter.ASSEMBLY,
        what="a label for the back of each copy at full size, with cut marks: title, maker, edition, sizes, what it is "
        "made of, how to take it apart, a line for the date; then the wall labels that hang beside frames",
    ),
    Document(
        part="wall",
        kit=Kit.WALL,
        title="wall view",
        over=wall,
        module="wall.view",
        path="wall/{wall}",
        forms=(S,),
        chapter=Chapter.WALLS,
        pictured=True,
        what="a wall to scale with its frames, every hook's distance from the left edge and height above the "
        "floor; a table that finds no room, and a wall too long for one page, go on in `-2`",
    ),
    Document(
        part="wall",
        kit=Kit.WALL,
        title="clean view",
        over=wall,
        module="wall.clean_view",
        path="wall/{wall}-clean",
        forms=(S,),
        pictured=True,
        what="the same wall as the eye sees it, without a figure; a wall too long for one page goes on in `-2`",
    ),
    Document(
        part="wall",
        kit=Kit.WALL,
        title="on its photograph",
        over=wall,
        module="wall.on_photo",
        path="wall/{wall}-photo",
        forms=(S,),
        chapter=Chapter.WALLS,
        bound=False,
        what="where a wall has a photograph, the frames with their pictures in its perspective: to see, in the "
        "photograph's pixels; light and shadow are not imitated",
    ),
    Document(
        part="wall",
        kit=Kit.WALL,
        title="wall, for those who hang it",
        over=wall,
        module="wall.for_hanging",
        path="wall/{wall}",
        forms=(P,),
        what="the view of the wall, and its hanging list with a box to tick for each hook and the places of labels",
    ),
    Document(
        part="wall",
        kit=Kit.WALL,
        title="hanging list",
        over=wall,
        module="wall.hanging_list",
        chapter=Chapter.WALLS,
    ),
    Document(
        part="template",
        kit=Kit.WALL,
        title="hang template",
        over=piece,
        module="tiled.hang_template",
        path="template/hang-{piece}",
        forms=(F,),
        bound=False,
        chapter=Chapter.WALLS,
        what="a frame's upper edge at full size with its hook holes",
    ),
    Document(
        part="workshop",
        title="workshop",
        over=job,
        module="book.workbook",
        path="workshop",
        forms=(P,),
        what="every document in working order, with contents and bookmarks; with more than 12 pieces tick lists of "
        "prints, windows, assembly and walls, and never 300 pages for 60 pieces: beyond, assembly list and front views "
        "are listed with their files",
    ),
)
"""Every document of a pack, in the order of work; the workbook last, since it binds the others."""

PARTS: Final = tuple(dict.fromkeys(document.part for document in SHELF if not document.machine))
"""The names of documents that `--only` takes."""
KITS: Final = tuple(str(kit) for kit in Kit)
"""The names of what one person needs, which `--only` takes too."""


_SAID: Final = {
    "piece": "<piece>",
    "print": "<piece>",
    "layer": "<N>",
    "number": "<N>",
    "gang": "gang-<paper>-<N>",
    "material": "<material>",
    "wall": "<wall>",
    "frame": "<frame>",
}
"""What stands for the parts of a file's name."""


def table() -> Iterator[tuple[str, str]]:
    """Yield each file of a pack and what it is, as the reference says it."""
    for document in SHELF:
        if document.path:
            path = document.path.format(**_SAID)
            paths = [f"`{path}.{form.ending}`" for form in document.forms]
            yield ", ".join(dict.fromkeys(paths)), document.what
