"""The planning page: a small server on this machine, and the page that it serves.

`desk` answers each edit from what it has kept, `guard` lets in only the page itself, `app` ties addresses to them,
`serving` opens the page and ends it. It must not decide a size, a price or a look of a drawing.
"""
