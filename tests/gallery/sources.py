"""The page of sources: every figure of the program with its status, and the published checks with both answers."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from html import escape

from matplan.catalogue import Kind
from tests.gallery.html import code, page, table
from tests.published.checks import CHECKS, Number, cut_lists
from tests.published.figures import Figure, of_catalogue, of_cautions, of_constants, of_defaults, of_habits, written
from tests.published.works import WORKS

_MEANS = (
    ("published", "the work named was read; a reader finds it by the section or table"),
    ("derived", "arithmetic or geometry that anybody can repeat"),
    ("common practice", "several plain articles, makers' notes or shops' habits agree; no single authority"),
    ("memory", "believed, and found in no source"),
    ("own choice", "a threshold or default of this program, where the trade has no figure"),
)


def sources() -> str:
    """Return the page."""
    parts = list(_parts())
    links = " ".join(f'<a href="#{mark}">{escape(head)}</a>' for mark, head, _ in parts)
    return page(
        "matplan: sources of every figure",
        "<h1>Where every figure comes from</h1>",
        "<p>What matplan takes for true that is not geometry, as it stands in its tables, its rules and its tests. A "
        "status says how far to trust it.</p>",
        table(("Status", "It means"), ((escape(a), escape(b)) for a, b in _MEANS), widths=(20, 80)),
        f'<nav aria-label="Parts">{links}</nav>',
        *(f'<h2 id="{mark}">{escape(head)}</h2>\n{body}' for mark, head, body in parts),
        '<footer><p>Made from the program and its tests. <a href="index.html">Gallery</a></p></footer>',
    )


def _parts() -> Iterator[tuple[str, str, str]]:
    """Each part's mark, heading and body."""
    yield "checks", "What works say, and what matplan answers", _checks()
    yield "lists", "Published cut lists", _lists()
    yield "rules", "Rules and thresholds", _rules()
    yield "habits", "What differs with a job's units", _figures(of_habits())
    yield "defaults", "What the job file means where it says nothing", _figures(of_defaults())
    yield "cautions", "Cautions", _figures(of_cautions())
    for kind in Kind:
        yield kind.value, kind.heading, _figures(of_catalogue(kind))
    works = ((escape(f"{full}."),) for full in WORKS.values())
    yield "works", "The works", table(("Work",), works, widths=(100,))


def _checks() -> str:
    rows = (
        (
            escape(check.what),
            f"{_answers(check.there)} {escape(check.unit)}".strip(),
            f"{_answers(check.here())} {escape(check.unit)}".strip(),
            escape(check.status),
            escape(check.source),
            _place(check.test),
        )
        for check in CHECKS
    )
    heads = ("Question", "The work says", "matplan", "Status", "Source", "Test")
    return table(heads, rows, widths=(27, 13, 13, 10, 17, 20))


def _answers(numbers: Iterable[Number]) -> str:
    return escape(", ".join(written(number) if isinstance(number, int) else _decimal(number) for number in numbers))


def _decimal(number: Number) -> str:
    """A number to six figures, without needless noughts."""
    return f"{float(number):.6g}".replace("e-0", "e-")


def _place(text: str) -> str:
    """A file and what is in it, as code that may be broken at its joints."""
    return re.sub(r"(/(?!code)|::|\.|_)", r"\1<wbr>", code(text))


def _rules() -> str:
    rows = (
        (escape(one.what), escape(one.here), escape(one.status), escape(one.source), _place(module))
        for module, one in of_constants()
    )
    return table(("What", "Figure here", "Status", "Source", "Module"), rows, widths=(33, 17, 12, 21, 17))


def _lists() -> str:
    rows = (
        (escape(one.name), str(one.bound), str(one.fewest), f"{one.fewest} to {one.fewest + 1}", escape(one.source))
        for one in cut_lists()
    )
    heads = ("List", "Proven bound", "Fewest found", "Here, by test", "Source")
    return table(heads, rows, widths=(14, 11, 11, 11, 53))


def _figures(figures: Iterable[Figure]) -> str:
    rows = [(one.what, one.here, one.status, one.source) for one in figures]
    if not any(here for _, here, _, _ in rows):
        return table(
            ("What", "Status", "Source"),
            ((escape(a), escape(c), escape(d)) for a, _, c, d in rows),
            widths=(50, 14, 36),
        )
    cells = (tuple(map(escape, row)) for row in rows)
    return table(("What", "Figure here", "Status", "Source"), cells, widths=(32, 24, 12, 32))
