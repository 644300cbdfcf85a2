"""The typeface of the house, IBM Plex Sans (OFL, from its font package): metrics, and files to embed.

Metrics come from the very font that is drawn. Both weights have a static instance made of the standard characters
and those further ones that a document needs; it is made once in a process for each set of characters and holds neither
kerning nor ligatures, so that every program sets a text as wide as it is measured here.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from fontTools.ttLib import TTFont

FAMILY: Final = "Sheet Sans"
"""What the embedded instance is called in a drawing."""
FALLBACK_FAMILIES: Final = ("IBM Plex Sans", "DejaVu Sans", "sans-serif")
REPLACEMENT: Final = "\N{REPLACEMENT CHARACTER}"

_STANDARD: Final = frozenset(
    [*map(chr, range(0x20, 0x7F)), *map(chr, range(0xA0, 0x180)), *"–—‘’“”„…•−×÷⁄⅛⅜⅝⅞⅓⅔′″≤≥≈→←↑↓€"]
)
_WEIGHTS: Final = {False: 400, True: 700}
_UNUSED: Final = {"GSUB", "GPOS", "GDEF", "BASE", "DSIG", "STAT"}
"""Tables of ligatures, kerning, styles and signatures."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Metrics:
    """Vertical measures as parts of the em; the height of capitals is what lettering sizes speak of."""

    capital: float
    ascent: float
    descent: float
    """Below the baseline, as a positive number."""


@cache
def _file() -> bytes:
    from importlib import resources

    return (resources.files("fontpkg_ibm_plex_sans") / "files" / "IBMPlexSans[wdth,wght].ttf").read_bytes()


@cache
def _source() -> "TTFont":
    import io

    from fontTools.ttLib import TTFont

    return TTFont(io.BytesIO(_file()), lazy=True)


@cache
def metrics() -> Metrics:
    """Return the vertical measures of both weights."""
    font = _source()
    em = font["head"].unitsPerEm
    return Metrics(
        capital=font["OS/2"].sCapHeight / em, ascent=font["hhea"].ascent / em, descent=-font["hhea"].descent / em
    )


@cache
def _cmap() -> dict[int, str]:
    found: dict[int, str] = _source().getBestCmap()
    return found


@cache
def advances(bold: bool) -> dict[str, float]:
    """Return each character's width as a part of the em, for every character that the typeface has."""
    font = _source()
    em, table = font["head"].unitsPerEm, font["hmtx"].metrics
    change = _bold_changes() if bold else {}
    return {chr(code): (table[glyph][0] + change.get(glyph, 0)) / em for code, glyph in _cmap().items()}


def _bold_changes() -> dict[str, int]:
    """By how many units each glyph of the bold weight is wider than the regular one's."""
    from fontTools.misc.roundTools import otRound
    from fontTools.varLib.varStore import VarStoreInstancer

    font = _source()
    variations: Any = font["HVAR"].table
    # the bold end of the axis is 1 in normalised coordinates whatever the axis map says
    instancer = VarStoreInstancer(variations.VarStore, font["fvar"].axes, {"wght": 1.0})
    mapping = variations.AdvWidthMap.mapping if variations.AdvWidthMap else None
    return {
        glyph: otRound(instancer[mapping[glyph] if mapping else font.getGlyphID(glyph)]) for glyph in _cmap().values()
    }


def extra(texts: Iterable[str]) -> frozenset[str]:
    """Return the characters of the texts that the standard instance lacks and the typeface has."""
    return frozenset(c for text in texts for c in set(text) - _STANDARD if ord(c) in _cmap())


@cache
def instance(bold: bool, further: frozenset[str] = frozenset()) -> bytes:
    """Return a TrueType file of one weight with the standard characters and those further ones.

    The layout tables go first, then the other characters: instancing what is left is the quickest order by far.
    """
    import io

    from fontTools import subset
    from fontTools.ttLib import TTFont
    from fontTools.varLib import instancer

    font = TTFont(io.BytesIO(_file()), recalcTimestamp=False, lazy=True)
    for table in _UNUSED & set(font.keys()):
        del font[table]
    options = subset.Options(hinting=False, layout_features=[], notdef_outline=True, name_IDs=[0, 1, 2, 6, 13, 14])
    pruner = subset.Subsetter(options)
    pruner.populate(unicodes=sorted(map(ord, _STANDARD | further)))
    pruner.subset(font)
    instancer.instantiateVariableFont(font, {"wght": _WEIGHTS[bold], "wdth": 100}, inplace=True)
    for record in font["name"].names:
        if record.nameID == 6:  # programs that write and read a PDF tell its fonts apart by this name
            record.string = f"SheetSans-{'Bold' if bold else 'Regular'}{_tag(further)}"
    out = io.BytesIO()
    font.save(out)
    return out.getvalue()


def _tag(characters: frozenset[str]) -> str:
    """Return a short name of a set of characters, empty for none."""
    import hashlib

    return (
        "-" + hashlib.sha256("".join(sorted(characters)).encode("utf-16-le", "surrogatepass")).hexdigest()[:8]
        if characters
        else ""
    )


@cache
def web_font(bold: bool, further: frozenset[str] = frozenset()) -> str:
    """Return the instance as a data address of a WOFF file, for a style sheet."""
    import base64
    import io

    from fontTools.ttLib import TTFont

    font = TTFont(io.BytesIO(instance(bold, further)), recalcTimestamp=False)
    font.flavor = "woff"
    out = io.BytesIO()
    font.save(out)
    return "data:font/woff;base64," + base64.b64encode(out.getvalue()).decode("ascii")


@cache
def blank(characters: frozenset[str]) -> bytes:
    """Return a TrueType file of empty glyphs, each one em wide: it lets a PDF be read where outlines are drawn."""
    import io

    from fontTools.fontBuilder import FontBuilder
    from fontTools.pens.ttGlyphPen import TTGlyphPen

    names = {ord(character): f"u{ord(character):04X}" for character in sorted(characters)}
    order = [".notdef", *names.values()]
    builder = FontBuilder(1000, isTTF=True)
    builder.setupGlyphOrder(order)
    builder.setupCharacterMap(names)
    empty = TTGlyphPen(None).glyph()
    builder.setupGlyf(dict.fromkeys(order, empty))
    builder.setupHorizontalMetrics(dict.fromkeys(order, (1000, 0)))
    builder.setupHorizontalHeader(ascent=1000, descent=-250)
    builder.setupNameTable({"familyName": "Blank", "styleName": "Regular", "psName": f"Blank{_tag(characters)}"})
    builder.setupOS2(sTypoAscender=1000, sTypoDescender=-250, usWinAscent=1000, usWinDescent=250)
    builder.setupPost()
    builder.updateHead(created=0, modified=0)
    builder.font.recalcTimestamp = False
    out = io.BytesIO()
    builder.save(out)
    return out.getvalue()
