"""Drawings on paper: frozen items, pens, views, dimensions, lettering, and the back ends `svg` and `pdf`.

This room knows paper, pens and scales, and nothing of the trade that draws. Everything on a sheet is in mm of paper,
x to the right and y down from its top left corner; what is measured is in exact model mm (`Fraction`), and a `View` is
the only way from one to the other. Lettering sizes are heights of capitals (`Size.NORMAL` = 3.5 mm).

>>> from fractions import Fraction as F
>>> from matplan.drawing import pdf, svg
>>> from matplan.drawing.items import Area, Rect, Text, Size
>>> from matplan.drawing.pens import Pen
>>> from matplan.drawing.sheet import Sheet
>>> from matplan.drawing.views import METRIC, fit
>>> board = (F(0), F(0), F(400), F(500))
>>> view = fit(board, Area(x=30, y=30, width=150, height=200), METRIC, mirrored=True)
>>> view.scale
Fraction(1, 5)
>>> place = view.whole
>>> outline = Rect(
...     x=place.x, y=place.y, width=place.width, height=place.height, pen=Pen.OUTLINE, classes=("blank",), box=board
... )
>>> title = Text(at=(30, 20), text="Board", size=Size.TITLE, bold=True)
>>> sheet = Sheet(name="board", title="Board", size=(210, 297), items=(outline, title), scale=view.scale)
>>> b'data-box="0 0 400 500"' in svg.render(sheet)
True
>>> pdf.render(sheet)[:5]
b'%PDF-'

A whole drawing sheet: frame, a part with its dimensions at the largest scale that fits, a table, a check.

>>> from matplan.drawing import blocks, clashes
>>> from matplan.drawing.dimensions import Dimension, Side, arrange, chain
>>> from matplan.drawing.frame import Page, TitleBlock, frame
>>> running = chain([(F(x), F(0)) for x in (0, 58, 342, 400)], ["58", "284", "58"], Side.ABOVE)
>>> height = Dimension(start=(F(0), F(0)), end=(F(0), F(500)), side=Side.LEFT, label="500")
>>> sheet_frame = frame(Page.A4.portrait, TitleBlock(title="Board", document="Diagram", units="mm"))
>>> upper = sheet_frame.area.inset(0, 0, 0, 40)
>>> drawn = arrange(board, (*running, height), upper, METRIC, mirrored=True)
>>> drawn.view.scale, [placed.row for placed in drawn.placed]
(Fraction(1, 5), [0, 0, 0, 0])
>>> columns = (blocks.Column(head="Side", share=1), blocks.Column(head="Gauge", align=blocks.Align.RIGHT))
>>> figures = blocks.table(columns, [("left", "58 mm")], x=upper.x, y=upper.bottom + 5, width=80)
>>> items = (*sheet_frame.items, *drawn.items, *figures.items)
>>> sheet = Sheet(name="board", title="Board", size=Page.A4.portrait, items=items, scale=drawn.view.scale)
>>> clashes.check(sheet)
()

`svg.render(sheet)` gives the bytes of one file; `pdf.render(Book(title=..., chapters=(Chapter(title=...,
sheets=...),)))` a PDF with one page a sheet and a bookmark a chapter. Modules: `items`, `pens`, `sheet`, `views`;
`dimensions` (rows of dimensions round a part; their look is in `measure`), `frame` (paper sizes and title block),
`blocks` (tables, notes), `lettering` (measuring and wrapping text), `fonts`, `outlines`, `arcs`, `pdf_content` (the
operators of a page), `clashes` (the checker over a finished sheet).
"""
