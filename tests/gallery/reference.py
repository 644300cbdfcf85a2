"""The reference: every key of the job file from its schema, every command from the command line's own parser, every
file of a pack from the shelf.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from html import escape
from typing import Any

import click

from matplan.cli.commands import matplan
from matplan.documents.shelf import table as shelf_table
from matplan.job.schema import schema
from tests.gallery.html import code, link, nav, page, table, words

type Schema = dict[str, Any]

HEADED = {"aperture": "[[piece.aperture]]", "group": "[[wall.group]]"}
"""Tables within others that are written with a head of their own."""
LINKS = (
    ("index.html", "Gallery"), ("#job-file", "The job file"), ("#commands", "Commands"), ("#pack", "The pack"),
    ("manual.md", "Manual"), ("sources.html", "Sources"), ("../README.md", "README"),
)  # fmt: skip
_DEFAULT = re.compile(r"\s*(?:Default:?|Left out:) (.+?)\.?$")


@dataclass(slots=True)
class Section:
    """One table of the job file: what it is, its keys, how it is written at each place where it stands."""

    about: Schema
    heads: list[str]
    place: tuple[int, ...] = ()
    """Its place among the tables, a number for each table that it stands in."""

    @property
    def anchor(self) -> str:
        """The name by which it is linked to."""
        return re.sub(r"[^a-z0-9]+", "-", self.heads[0].lower()).strip("-")


# --- what stands in the schema ---------------------------------------------------------------------------------------


def forms(part: Schema) -> list[Schema]:
    """Return what may be written for a key, one schema a form."""
    many = part.get("anyOf", ()) if "title" not in part else ()
    return [inner for each in many for inner in forms(each)] or [part]


def table_of(form: Schema, job: Schema, name: str) -> tuple[str, Schema] | None:
    """Return the table that a form is, with the name that it has in the schema; one of a single key is none."""
    if "$ref" in form:
        ref = form["$ref"].rsplit("/", 1)[1]
        return ref, job["$defs"][ref]
    return (name, form) if len(form.get("properties", ())) > 1 else None


def within(form: Schema) -> list[Schema]:
    """Return the forms of what a list or a table with names of the user's own holds."""
    inner = form.get("items") or form.get("additionalProperties")
    return forms(inner) if isinstance(inner, dict) else []


def sections(job: Schema) -> dict[str, Section]:
    """Return the tables of the job file, each after the one that it stands in."""
    found = {"": Section(job, ["The job"])}

    def visit(keys: Schema, outer: str, place: tuple[int, ...]) -> None:
        new: list[tuple[Schema, str, tuple[int, ...]]] = []
        for number, (name, part) in enumerate(keys.items()):
            met = [(form, "") for form in forms(part)]
            while met:
                form, way = met.pop(0)
                held = table_of(form, job, name)
                if held is None:
                    way = way or ("list" if form.get("type") == "array" else "names")
                    met += [(inner, way) for inner in within(form)]
                    continue
                known, about = held
                head = heading(outer, name, way)
                if known not in found:
                    here = (*place, number)
                    found[known] = Section({"description": part["description"], **about}, [head], here)
                    new.append((about["properties"], f"{outer}{name} → ", here))
                elif head not in found[known].heads:
                    found[known].heads.append(head)
        for inner in new:  # what stands in two tables belongs to the outer one
            visit(*inner)

    visit(job["properties"], "", ())
    return dict(sorted(found.items(), key=lambda each: each[1].place))


def heading(outer: str, name: str, way: str) -> str:
    """Return how a table is written in the file.

    >>> heading("", "paper", "names"), heading("", "piece", "list"), heading("wall → ", "zone", "")
    ('[paper.NAME]', '[[piece]]', 'wall → zone')
    """
    if outer:
        return HEADED.get(name, f"{outer}{name}")
    return {"list": f"[[{name}]]", "names": f"[{name}.NAME]", "": f"[{name}]"}[way]


# --- what is told of it ----------------------------------------------------------------------------------------------


def written(value: object) -> str:
    """Return a value as TOML has it.

    >>> written({"board": "white", "reveal": 5, "turn": True})
    '{ board = "white", reveal = 5, turn = true }'
    """
    match value:
        case bool():
            return "true" if value else "false"
        case str():
            return f"'{value}'" if '"' in value else f'"{value}"'
        case list():
            return f"[{', '.join(map(written, value))}]"
        case dict():
            return "{ " + ", ".join(f"{key} = {written(inner)}" for key, inner in value.items()) + " }"
        case _:
            return str(value)


def kind(part: Schema, job: Schema, found: dict[str, Section], name: str) -> str:
    """Return what may be written for a key, as HTML."""
    told = []
    for form in forms(part):
        held = table_of(form, job, name)
        inner = ", or ".join(dict.fromkeys(kind(each, job, found, name) for each in within(form)))
        if held is not None:
            told.append(f"a {link(f'#{found[held[0]].anchor}', 'table')}")
        elif "enum" in form:
            told.append("one of " + ", ".join(code(written(each)) for each in form["enum"]))
        elif form.get("type") == "array":
            many = f"a list of {form['minItems']}" if "minItems" in form else "a list"
            told.append(f"{many}, each {inner}" if inner else many)
        elif "title" in form:
            told.append(escape(form["title"], quote=False))
        else:
            told.append(f"names of your own, each {inner}" if inner else code("{ size = … }"))
    return ", or ".join(dict.fromkeys(told))


def example(name: str, part: Schema) -> str:
    """Return how a key may be written, "" where its kind tells enough."""
    known = [each for form in (part, *forms(part)) for each in form.get("examples", ())]
    return f"{name} = {written(known[0])}" if known else ""


def rows(section: Section, job: Schema, found: dict[str, Section]) -> Iterator[tuple[str, ...]]:
    """Yield a row for each key: its name, what it says, what may be written, its default, an example."""
    for name, part in section.about["properties"].items():
        says, default = part["description"], code(written(part["default"])) if "default" in part else ""
        if told := _DEFAULT.search(says):
            says, default = says[: told.start()], words(told[1])
        if name in section.about.get("required", ()):
            default = "must be said"
        shown = example(name, part)
        yield (
            f'<span id="{section.anchor}.{name}">{code(name)}</span>',
            words(says),
            kind(part, job, found, name),
            default,
            code(shown) if shown else "",
        )


def commands() -> Iterator[str]:
    """Yield a heading, a line and a table of options for each command."""
    for name, command in matplan.commands.items():
        context = click.Context(command, info_name=name)
        usage = " ".join(["matplan", name, *command.collect_usage_pieces(context)])
        yield f'<h3 id="command-{name}">{code(usage)}</h3>\n<p>{words(" ".join((command.help or "").split()))}</p>'
        told = [each.get_help_record(context) for each in command.params if isinstance(each, click.Option)]
        if told:
            yield table(
                ["Option", "What it does"], ([code(each[0]), words(each[1])] for each in told if each), widths=(30, 70)
            )


def reference() -> str:
    """Return the reference as a page."""
    job = schema()
    found = sections(job)
    files = [*shelf_table(), ("`pack.json`", "which files are the pack's, so that `--force` keeps yours")]
    keys, contents = [], []
    for section in found.values():
        head = " · ".join(section.heads)
        shown = head if section.heads[0] == "The job" else code(head)
        keys.append(f'<h3 id="{section.anchor}">{shown}</h3>\n<p>{words(section.about["description"])}</p>')
        contents.append(link(f"#{section.anchor}", escape(section.heads[0], quote=False)))
        keys.append(
            table(
                ["Key", "What it says", "Written as", "Default", "Example"],
                rows(section, job, found),
                widths=(14, 32, 21, 12, 21),
            )
        )
    return page(
        "matplan: reference",
        "<h1>Reference</h1>",
        "<p>Every key of the job file, every command, every file of a pack.</p>",
        nav("To read", *(link(to, name) for to, name in LINKS)),
        '<h2 id="job-file">The job file</h2>',
        '<p>A job is a TOML file. Lengths are written as people write them, <code>"24 cm"</code>, <code>"16 3/8 '
        'in"</code>; a bare number is in the job\'s units. A size is two lengths, <code>"403 x 503 mm"</code>, or a '
        'name such as <code>"A4"</code>. <code>matplan schema</code> prints the same for editors.</p>',
        nav("Tables of the job file", *contents),
        *keys,
        '<h2 id="commands">Commands</h2>',
        "<p>Exit codes: 0 done, 1 the job or list has an error, 2 wrong usage. Every command takes "
        "<code>--help</code>.</p>",
        *commands(),
        '<h2 id="pack">The pack</h2>',
        "<p>What <code>matplan make</code> writes; what a job has no use for is not there.</p>",
        table(["File", "What it is"], ([words(path), words(what)] for path, what in files), widths=(30, 70)),
    )
