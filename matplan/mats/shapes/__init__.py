"""What outlines are made of: straight lines, arcs and parallel curves, and the figures of arch, oval, octagon and
polygon.

Frame of reference as everywhere: millimetres, x to the right and y down, so that clockwise as seen is the way of
growing angles.
"""
