"""The workshop's documents, one module each: what a plan looks like on paper.

The only room that knows both a plan and a drawing. A document takes solved records and prepared pictures and returns
sheets; it must not know files, SVG or PDF.
"""
