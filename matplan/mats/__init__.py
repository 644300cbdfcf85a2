"""The geometry engine: borders and weighting, rows of apertures, layers and bevels, the stack in the rabbet.

`solve.solve(piece, step=…, setback=…)` turns one piece as asked for into a `SolvedPiece`, exact and closed. It must not
know files, prices or drawings.
"""
