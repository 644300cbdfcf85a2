'''Drawings on paper: frozen items, pens, views, dimensions, lettering, and the back ends `svg` and `pdf`.

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

`svg.render(sheet)` gives the bytes of one file; `pdf.render(Book(title=..., chapters=(Chapter(title=..., sheets=...),)))`
a PDF with one page a sheet and a bookmark a chapter. Modules: `items`, `pens`, `sheet`, `views`; `dimensions` (rows of
dimensions round a part), `frame` (paper sizes, border and title block), `blocks` (tables, notes), `lettering` (measuring
and wrapping text), `fonts`, `outlines`; `clashes` (the checker over a finished sheet).
'''
