"""What documents run over: the subjects of a folio, each with the names that its file is made of."""

from __future__ import annotations

from collections.abc import Iterator

from matplan.documents.document import Subject
from matplan.documents.parts.folio import BoardsOf, Folio, LayerOf, SheetOf, WindowOf, cut_here
from matplan.job.names import file_names, print_files


def job(folio: Folio) -> Iterator[Subject]:
    """Yield the job, where it is planned as a whole."""
    if folio.plan is not None:
        yield Subject(record=folio.plan)


def piece(folio: Folio) -> Iterator[Subject]:
    """Yield each piece."""
    for one in folio.pieces:
        yield Subject(about=one.name, names={"piece": one.ask.file}, record=one)


def layer(folio: Folio) -> Iterator[Subject]:
    """Yield each board that is cut here."""
    for one in folio.pieces:
        for board in cut_here(one):
            names = {"piece": one.ask.file, "layer": str(board.number)}
            record = LayerOf(piece=one, layer=board)
            yield Subject(about=one.name, which=f"layer {board.number}", names=names, record=record)


def boards(folio: Folio) -> Iterator[Subject]:
    """Yield all boards of each piece that has several and whose boards are cut here."""
    for one in folio.pieces:
        if len(cut_here(one)) > 1:
            yield Subject(about=one.name, which=f"{len(one.layers)} layers", record=BoardsOf(piece=one))


def window(folio: Folio) -> Iterator[Subject]:
    """Yield each window."""
    asked = folio.job.pieces if folio.plan is not None else tuple(one.ask for one in folio.pieces)
    files = dict(zip((ask.file for ask in asked), print_files(asked), strict=True))
    for one in folio.pieces:
        for name, aperture in zip(files[one.ask.file], one.apertures, strict=True):
            which = aperture.name if len(one.apertures) > 1 else ""
            record = WindowOf(piece=one, aperture=aperture)
            yield Subject(about=one.name, which=which, names={"print": name}, record=record)


def shared_print(folio: Folio) -> Iterator[Subject]:
    """Yield each sheet that holds several prints."""
    from matplan.orders.gangs import gangs

    for gang in gangs(folio.pieces):
        yield Subject(which=gang.file.removeprefix("gang-").replace("-", " "), names={"gang": gang.file}, record=gang)


def stock_sheet(folio: Folio) -> Iterator[Subject]:
    """Yield each sheet of each material that is cut."""
    files = file_names((cutting.material.name for cutting in folio.cuttings), "sheet")
    for cutting, file in zip(folio.cuttings, files, strict=True):
        for number in range(1, len(cutting.layout.sheets) + 1):
            names = {"material": file, "number": str(number)}
            record = SheetOf(cutting=cutting, number=number)
            yield Subject(about=cutting.material.name, which=str(number), names=names, record=record)


def rack(folio: Folio) -> Iterator[Subject]:
    """Yield each moulding that is sawn from sticks."""
    racks = () if folio.plan is None else folio.plan.racks
    files = file_names((one.frame.name for one in racks), "frame")
    for one, file in zip(racks, files, strict=True):
        yield Subject(about=one.frame.name, names={"frame": file}, record=one)


def wall(folio: Folio) -> Iterator[Subject]:
    """Yield each wall."""
    for one in folio.walls:
        yield Subject(about=one.name, names={"wall": one.ask.file}, record=one)
