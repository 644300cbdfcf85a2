"""Other words that people write for a key: each with the keys that may be meant, the first that the table has."""

from __future__ import annotations

from collections.abc import Mapping

_WORDS = {
    "photo": "file image_file path picture photograph img",
    "image": "print print_size image_size picture_size width height size",
    "aspect": "ratio aspect_ratio proportion",
    "quantity": "copies count number amount pieces edition_size",
    "name": "title label id",
    "turn": "rotate rotated orientation landscape turned",
    "border": "margin margins borders border_width mat_width",
    "weight": "bottom_weight weighting",
    "mat": "passepartout passe_partout mats layers matboard mat_board board",
    "frame": "moulding molding frames",
    "glazing": "glass acrylic glas",
    "backing": "back backboard backing_board",
    "aperture": "window windows openings apertures",
    "gutter": "spacing space between",
    "gap": "spacing space distance",
    "paper": "sheet media_size",
    "printer_margin": "margin margins border borders unprintable",
    "ppi": "dpi resolution",
    "size": "dimensions width height format",
    "price": "cost",
    "colour": "color hue",
    "ply": "plies",
    "have": "stock in_stock quantity count number",
    "rabbet": "rebate opening",
    "takes": "fits size for sheet",
    "rail": "face face_width width profile_width",
    "lip": "overlap cover",
    "clearance": "play",
    "depth": "rabbet_depth rebate_depth",
    "eye": "eye_level eyeline eye_height centre_line center_line",
    "arrange": "arrangement layout",
    "keep_clear": "obstacles obstacle clear avoid",
    "setback": "overcut over_cut",
    "widest_border": "max_border widest guide",
    "longest_cut": "max_cut longest",
}
OTHER_WORDS: Mapping[str, tuple[str, ...]] = {
    word: tuple(key for key, words in _WORDS.items() if word in words.split())
    for word in sorted({word for words in _WORDS.values() for word in words.split()})
}
"""For each other word the keys that may be meant by it."""

EXAMPLES: Mapping[str, str] = {
    "photo": 'photo = "slipway.jpg"',
    "image": 'image = { width = "24 cm" } or image = "30 x 20 cm"',
    "aspect": 'aspect = "3:2"',
    "turn": "turn = true",
    "border": 'border = "60 mm"',
    "mat": 'mat = ["white"]',
    "frame": 'frame = "40x50 cm"',
    "printer_margin": 'printer_margin = "5 mm"',
    "rabbet": 'rabbet = "403 x 503 mm"',
    "takes": 'takes = "40x50 cm"',
}
"""How such a key is written, where it is not written as the other word was."""
