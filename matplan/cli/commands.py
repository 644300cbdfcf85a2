"""The commands, each a few lines over its use case. Heavy rooms are entered inside the command that needs them."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from matplan import __version__
from matplan.cli.saying import say, say_json

if TYPE_CHECKING:
    from collections.abc import Callable

    from matplan.job.records import Job
    from matplan.planning import Plan

JOB = click.argument("job", type=click.Path(path_type=str), metavar="JOB.toml")
AS_JSON = click.option("--json", "as_json", is_flag=True, help="Print one JSON document and nothing else.")


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="matplan", message="%(prog)s %(version)s")
def matplan() -> None:
    """Plan framed pictures backwards from the frame: mats, prints, drawings to cut by and lists to order by."""


def _plan(job: str, sound: Callable[[Job], None] = lambda _job: None) -> Plan:
    """Return a job's plan. `sound` is asked about a job that is read without a fault, before anything is solved."""
    from matplan.cli.progress import steps
    from matplan.planning import Workshop

    workshop = Workshop()
    reading = workshop.read(job)
    if not reading.faults:
        sound(reading.job)
    with steps("cutting sheets, materials") as tick:
        return workshop.plan(reading, tick)


@matplan.command()
@click.argument("folder", type=click.Path(path_type=Path), metavar="DIR")
@click.option(
    "--photos", type=click.Path(path_type=Path), metavar="DIR", help="Make one piece for each photo found there."
)
@click.option("--units", type=click.Choice(["mm", "cm", "in"]), default="mm", help="What the job is written in.")
def new(folder: Path, photos: Path | None, units: str) -> None:
    """Write a commented starter job into DIR; nothing is overwritten."""
    from matplan.job.starter import starter
    from matplan.lengths import Units

    for line in starter(folder, photos, Units(units)):
        say(line)


@matplan.command()
@JOB
@AS_JSON
def check(job: str, as_json: bool) -> None:
    """Solve a job and print each piece's sizes and what to mind; nothing is written."""
    solved = _plan(job)
    if as_json:
        from matplan.planning import plan_json

        say_json(plan_json(solved))
        return
    from matplan.cli.tables import plan_text

    say(plan_text(solved))


@matplan.command()
@JOB
@click.argument("piece", required=False)
@AS_JSON
def explain(job: str, piece: str | None, as_json: bool) -> None:
    """Print every size with the sum that made it."""
    from matplan.cli.explained import chosen, sums_document, sums_text

    solved = _plan(job)
    pieces = chosen(solved, piece)
    if as_json:
        say_json(sums_document(solved, pieces))
    else:
        say(sums_text(solved, pieces))


@matplan.command()
@JOB
@click.option(
    "--out",
    "folder",
    required=True,
    type=click.Path(path_type=Path),
    metavar="DIR",
    help="The folder that takes the pack.",
)
@click.option(
    "--only",
    multiple=True,
    metavar="NAME,...",
    help="Only these documents (plan, order, mats, print, sheets, sticks, leftovers, bench-card, cut, template, "
    "front, assembly, labels, wall, workshop), "
    "what one person needs (shop, bench, saw, print, wall), pieces or walls; may repeat.",
)
@click.option(
    "--machine",
    multiple=True,
    metavar="KIND,...",
    help="Besides, each board that is cut here for a computerised cutter, at 1:1 in mm: dxf, svg or both.",
)
@click.option("--force", is_flag=True, help="Replace the pack that DIR holds; other files in it are kept.")
def make(job: str, folder: Path, only: tuple[str, ...], machine: tuple[str, ...], force: bool) -> None:
    """Write the workshop pack into DIR, whole or not at all."""
    from matplan.cli.progress import steps
    from matplan.pack import MachineError, OnlyError, choice, machine_forms, write_pack

    try:
        forms = machine_forms(machine)
    except MachineError as error:
        raise click.BadParameter(str(error), param_hint="--machine") from error

    def named(read: Job) -> None:
        try:
            choice(read, only or None)
        except OnlyError as error:
            raise click.BadParameter(str(error), param_hint="--only") from error

    solved = _plan(job, named)
    chosen_parts = replace(choice(solved.job, only or None), machine=forms)
    for note in chosen_parts.notes:
        click.echo(f"note: {note}", err=True)
    with steps(f"making {folder}") as progress:
        paths = write_pack(solved, folder, chosen_parts, force=force, progress=progress)
    say(f"{folder}: {len(paths)} files")


@matplan.command()
@click.argument("subjects", metavar="SUBJECT...", nargs=-1, required=True)
@click.option(
    "--frames", metavar="NAME,...", help="Frames to choose from: names or sizes. Default: the job's, else the tables'."
)
@click.option(
    "--papers",
    metavar="NAME,...",
    help="Papers to choose from: names or sizes. Default: the job's, else the usual ones.",
)
@click.option(
    "--job", type=click.Path(path_type=str), metavar="JOB.toml", help="Take frames, papers and units from this job."
)
@click.option("--image", metavar="SIZE", help='The print\'s size, such as "30 x 20 cm": asks which frames suit it.')
@click.option("--border", metavar="LENGTH", help="The least border that is seen. Default: what suits each frame.")
@click.option("--weight", metavar="WEIGHT", help="The bottom border: a length more than the top, a factor, or optical.")
@click.option(
    "--show", type=click.Choice(["image", "margin", "sheet"]), default="image", help="What the opening shows."
)
@click.option(
    "--overlap", metavar="LENGTH", help="How far the mat covers the image's edge. Default 3 mm, 1/8 in with inches."
)
@click.option("--ppi", metavar="NUMBER", help="Pixels per inch wanted. Default: the paper's, else 300.")
@click.option(
    "--top", type=click.IntRange(1, 1000), metavar="N", help="How many answers. Default 10, of several photos 3 each."
)
@click.option(
    "--units", type=click.Choice(["mm", "cm", "in"]), help="Units of bare numbers and of what is printed. Default mm."
)
@AS_JSON
def fit(subjects: tuple[str, ...], top: int | None, as_json: bool, **asked: Any) -> None:
    """Rank frames, print sizes and ready-cut mats for a photo, or for an aspect such as 3:2. Of several photos or a
    folder: for each, and who gets which of the job's frames that lie ready.
    """
    from matplan.cli.fitting import fit_text, many_text, questions_of
    from matplan.fit.giving import shared, suited
    from matplan.fit.records import FitError
    from matplan.fit.words import nothing
    from matplan.fit.written import document, documents

    skipped: list[str] = []
    questions = questions_of(subjects, skipped, **asked)
    if len(subjects) > 1 or Path(subjects[0]).is_dir():
        found = suited(questions, top or 3)
        if not any(found):
            raise FitError(*dict.fromkeys(map(nothing, questions)))
        given = shared(questions)
        if as_json:
            say_json(documents(questions, found, given, skipped))
        else:
            say(many_text(questions, found, given, skipped))
        return
    ((options,), (question,)) = suited(questions, top or 10), questions
    if not options:
        raise FitError(nothing(question))
    if as_json:
        say_json(document(question, options))
    else:
        say(fit_text(question, options))


@matplan.command()
@click.argument("kind", required=False)
@AS_JSON
def sizes(kind: str | None, as_json: bool) -> None:
    """Print the built-in tables, each row with its source."""
    from matplan.catalogue import Kind
    from matplan.catalogue.listing import document

    if kind == "colours":
        from matplan.cli.listings import colours_document, colours_text

        if as_json:
            say_json(colours_document())
        else:
            say(colours_text())
        return
    try:
        kinds = tuple(Kind) if kind is None else (Kind(kind),)
    except ValueError as error:
        raise click.BadParameter(
            f"{kind!r} is no table; there are {', '.join(Kind)} and colours", param_hint="KIND"
        ) from error
    if as_json:
        say_json(document(kinds))
        return
    from matplan.cli.listings import print_tables

    print_tables(kinds)


@matplan.command()
@click.option(
    "--out",
    "path",
    type=click.Path(path_type=Path),
    default=Path("measure.pdf"),
    metavar="FILE.pdf",
    show_default=True,
    help="The file to write.",
)
@click.option(
    "--units", type=click.Choice(["mm", "cm", "in"]), default="mm", show_default=True, help="What is measured in."
)
def measure(path: Path, units: str) -> None:
    """Write a sheet to print and fill in with a pencil: what to measure on a frame, its mat, a picture and a wall."""
    from matplan.lengths import Units
    from matplan.pack.measuring import write_measuring_sheet

    write_measuring_sheet(path, Units(units))
    say(f"wrote {path}")


@matplan.command()
@click.argument("word", required=False)
def words(word: str | None) -> None:
    """Tell the words of the trade in plain ones: one, by any name of it, or all."""
    from matplan.catalogue import words as known
    from matplan.cli.listings import words_text

    say(words_text(known.words() if word is None else (known.word(word),)))


@matplan.command()
@click.argument("cut_list", type=click.Path(path_type=str), metavar="CUTLIST.csv")
@click.option(
    "--sheet", "sheets_", multiple=True, required=True, metavar="SIZE[@PRICE]", help="A stock sheet; may repeat."
)
@click.option(
    "--units", type=click.Choice(["mm", "cm", "in"]), default="mm", show_default=True, help="What bare numbers are in."
)
@click.option("--kerf", metavar="LENGTH", help="What a cut takes away.")
@click.option("--trim", metavar="LENGTH", help="Taken off all four edges of a sheet; includes its kerf.")
@click.option("--limit", type=click.IntRange(0, 1_000_000), metavar="N", help="At most so many sheets of each kind.")
@click.option(
    "--seconds", type=click.FloatRange(0.1, 3600), default=10.0, show_default=True, help="How long to search."
)
@click.option(
    "--svg",
    "drawings",
    type=click.Path(path_type=Path),
    metavar="DIR",
    help="Draw each sheet into DIR, a new or empty folder.",
)
@AS_JSON
def sheets(
    cut_list: str,
    sheets_: tuple[str, ...],
    units: str,
    kerf: str | None,
    trim: str | None,
    limit: int | None,
    seconds: float,
    drawings: Path | None,
    as_json: bool,
) -> int:
    """Cut any list of rectangles from stock sheets, edge to edge; Ctrl-C gives the best answer so far."""
    from matplan.cli import cutlists
    from matplan.cli.progress import found_so_far
    from matplan.lengths import Units
    from matplan.stock.cutlist import read_cut_list
    from matplan.stock.search import Budget
    from matplan.stock.solver import cut_sheets
    from matplan.stock.written import layout_json

    chosen = Units(units)
    kinds = cutlists.read_kinds(sheets_, chosen, cutlists.read_length(trim, "--trim", chosen), limit)
    saw = cutlists.read_length(kerf, "--kerf", chosen)
    parts = read_cut_list(Path(cut_list), chosen, file=cut_list)
    with found_so_far() as progress:
        layout = cut_sheets(parts, kinds, kerf=saw, budget=Budget(seconds=seconds, thorough=True), progress=progress)
    if as_json:
        say_json(layout_json(layout))
    else:
        say(cutlists.layout_text(layout, chosen))
    if drawings is not None:  # the last: an answer that was searched for is not lost for a drawing
        from matplan.pack.sheets import write_drawings

        write_drawings(layout, drawings, title=Path(cut_list).stem, units=chosen)
    return 1 if layout.unplaced else 0


@matplan.command()
def schema() -> None:
    """Print the job file's JSON Schema."""
    from matplan.job.schema import schema as job_schema

    say_json(job_schema())


@matplan.command()
@click.argument("job", required=False, type=click.Path(path_type=Path), metavar="[JOB.toml]")
@click.option("--port", type=click.IntRange(0, 65535), default=8417, show_default=True, help="0 takes a free one.")
@click.option("--no-open", is_flag=True, help="Do not open the page in a browser.")
def serve(job: Path | None, port: int, no_open: bool) -> None:
    """Open the planning page, on this machine only; without a job it begins one in framing/."""
    from importlib.util import find_spec

    missing = [name for name in ("starlette", "uvicorn") if find_spec(name) is None]
    if missing:
        from matplan.faults import PackError

        raise PackError(f"the page needs {' and '.join(missing)}: pip install 'matplan[page]'")
    from matplan.page.serving import serve as serve_page

    serve_page(job, port=port, browser=not no_open)
