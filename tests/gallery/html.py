"""HTML for the pages of the gallery: one quiet look, light and dark, without a script, readable from disk."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape


@dataclass(frozen=True, slots=True, kw_only=True)
class Crop:
    """A part of a picture: its box and the whole picture's width, in one unit."""

    left: float
    top: float
    width: float
    height: float
    of: float


STYLE = """
:root { color-scheme: light dark; --paper: #f5f2ea; --sheet: #fffdf8; --ink: #2b2a27; --soft: #5d5a52;
  --line: #d8d2c4; --mark: #2f5d62; }
@media (prefers-color-scheme: dark) { :root { --paper: #22211e; --sheet: #2c2b27; --ink: #ece7db;
  --soft: #b4ad9e; --line: #48453d; --mark: #8cc0c4; } }
* { box-sizing: border-box; }
html { scroll-padding-top: 1rem; }
body { margin: 0 auto; max-width: 76rem; padding: 0 1.25rem 4rem; background: var(--paper); color: var(--ink);
  font: 1rem/1.55 "IBM Plex Sans", system-ui, sans-serif; }
h1 { font-size: 2rem; margin: 2.5rem 0 0.5rem; font-weight: 500; }
h2 { font-size: 1.4rem; margin: 3.5rem 0 0.25rem; font-weight: 500; border-top: 1px solid var(--line);
  padding-top: 1.5rem; }
h3 { font-size: 1.05rem; margin: 2rem 0 0.25rem; }
p { max-width: 46rem; margin: 0.5rem 0; }
a { color: var(--mark); }
a:focus-visible { outline: 3px solid var(--mark); outline-offset: 2px; }
nav { display: flex; flex-wrap: wrap; gap: 0.25rem 1.25rem; margin: 1rem 0; }
code { font: 0.92em ui-monospace, monospace; overflow-wrap: anywhere; }
pre { background: var(--sheet); border: 1px solid var(--line); padding: 0.75rem 1rem; overflow-x: auto; }
.table { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; min-width: 60rem; table-layout: fixed;
  background: var(--sheet); font-size: 0.94rem; }
th, td { text-align: left; vertical-align: top; padding: 0.4rem 0.7rem; border-bottom: 1px solid var(--line); }
th { color: var(--soft); font-weight: 500; white-space: nowrap; }
.wall, .sheets { display: grid; gap: 1rem; margin: 1rem 0; }
.fronts { display: flex; flex-wrap: wrap; align-items: end; gap: 1.25rem; margin: 1.5rem 0; }
.fronts figure { max-width: 100%; }
.wall { grid-template-columns: repeat(auto-fit, minmax(min(26rem, 100%), 1fr)); }
.sheets { grid-template-columns: repeat(auto-fill, minmax(min(16rem, 100%), 1fr)); }
figure { margin: 0; }
figure img { display: block; width: 100%; background: #fff; }
figure > a { display: block; }
figure span { display: block; overflow: hidden; background: #fff; }
.page { max-width: 52rem; margin: 1.5rem 0; }
.sheets img, .page img { border: 1px solid var(--line); }
figcaption { color: var(--soft); font-size: 0.88rem; margin-top: 0.25rem; }
footer { margin-top: 4rem; border-top: 1px solid var(--line); padding-top: 1rem; color: var(--soft); }
"""


def page(title: str, *parts: str) -> str:
    """Return a whole page; `parts` are HTML already."""
    head = (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escape(title)}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n<main>\n"
    )
    return head + "\n".join(parts) + "\n</main>\n</body>\n</html>\n"


def words(text: str) -> str:
    """Return a text as HTML: what stands between backticks as code.

    >>> words("`a < b` & c")
    '<code>a &lt; b</code> &amp; c'
    """
    return re.sub(r"`([^`]+)`", r"<code>\1</code>", escape(text, quote=False))


def code(text: str) -> str:
    """Return a text as code."""
    return f"<code>{escape(text, quote=False)}</code>"


def link(to: str, inner: str) -> str:
    """Return a link; `inner` is HTML already."""
    return f'<a href="{escape(to)}">{inner}</a>'


def nav(name: str, *links: str) -> str:
    """Return a row of links; its name is for those who hear the page."""
    return f'<nav aria-label="{escape(name)}">{" ".join(links)}</nav>'


def table(heads: Sequence[str], rows: Iterable[Sequence[str]], *, widths: Sequence[int]) -> str:
    """Return a table; its cells are HTML already, `widths` are of its columns in percent."""
    columns = "".join(f'<col style="width: {width}%">' for width in widths)
    head = "".join(f'<th scope="col">{escape(each)}</th>' for each in heads)
    body = "\n".join("<tr>" + "".join(f"<td>{cell}</td>" for cell in row) + "</tr>" for row in rows)
    return (
        f'<div class="table" tabindex="0"><table>\n<colgroup>{columns}</colgroup>\n<thead><tr>{head}</tr></thead>\n'
        f"<tbody>\n{body}\n</tbody>\n</table></div>"
    )


def figure(picture: str, to: str, says: str, *, crop: Crop | None = None, wide: str = "") -> str:
    """Return a picture that leads to a file, with its words; `crop` shows a part of it alone."""
    image = f'<img src="{escape(picture)}" alt="{escape(says)}" loading="lazy"'
    shown = f"{image}>"
    if crop is not None:
        place = (
            f"width: {crop.of / crop.width:.2%}; margin: {-crop.top / crop.width:.2%} 0 0 {-crop.left / crop.width:.2%}"
        )
        shown = f'<span style="aspect-ratio: {crop.width:.2f} / {crop.height:.2f}">{image} style="{place}"></span>'
    style = f' style="width: {wide}"' if wide else ""
    return f"<figure{style}>{link(to, shown)}<figcaption>{escape(says, quote=False)}</figcaption></figure>"
