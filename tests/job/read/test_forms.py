"""The written forms of a job and the defaults behind them: what is written, what is read."""

# mypy: disable-error-code="comparison-overlap"
# whole numbers stand for fractions here, as they are equal

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from matplan.job import parse_job
from matplan.job.records import (
    AddedWeight,
    BorderAsk,
    BorderAt,
    BorderTo,
    Cut,
    ImageAsk,
    Job,
    MatSupply,
    OpticalWeight,
    Piece,
    RatioWeight,
    RowAlign,
    Shape,
    Show,
    Weight,
)
from matplan.lengths import Sides, Size, Step, Units

IN = Fraction(254, 10)
HERE = Path(__file__).parent


def job(text: str, head: str = "") -> Job:
    """A job of one piece, a frame and an image, with those keys more."""
    frame = "" if "frame =" in text else 'frame = "40x50 cm"\n'
    image = "" if "image =" in text else 'image = "300 x 200 mm"\n'
    return parse_job(f'{head}\n[[piece]]\nname = "Gull"\n{frame}{image}{text}\n', HERE)


def piece(text: str, head: str = "") -> Piece:
    return job(text, head).pieces[0]


def mm(*lengths: int | str) -> tuple[Fraction, ...]:
    return tuple(Fraction(length) for length in lengths)


def test_a_job_with_most_keys_is_read(tmp_path: Path) -> None:
    from PIL import Image

    Image.new("RGB", (30, 20)).save(tmp_path / "slipway.jpg")
    read = parse_job(
        """
title = "Ferry steps"
units = "mm"
step = "1 mm"
currency = "EUR"
[paper.rag]
size = "A3+"
printer_margin = "5 mm"
ppi = 240
[board.white]
ply = 4
colour = "#f6f2e8"
sheets = [{ size = "32x40 in", price = 18.50, have = 2, trim = "3 mm" }]
[frame.ash]
takes = "40x50 cm"
clearance = "3 mm"
lip = "6 mm"
depth = "18 mm"
rail = "20 mm"
price = 34.00
[[piece]]
name = "Slipway"
quantity = 1
frame = "ash"
turn = false
photo = "slipway.jpg"
image = { width = "24 cm" }
border = "60 mm"
border_to = "opening"
weight = "12 mm"
show = "image"
overlap = "3 mm"
paper = "rag"
mat = ["white", { board = "white", reveal = "6 mm", cut = "bevel" }]
glazing = "glass-2mm"
backing = "foam-5mm"
mat_supply = "to size"
[[wall]]
name = "Stair landing"
size = "3600 x 2400 mm"
eye = "1450 mm"
gap = "60 mm"
arrange = "centre-line"
zone = { left = "600 mm", right = "3000 mm", bottom = "900 mm", top = "2200 mm" }
pieces = ["Slipway", "Slipway"]
at = { Slipway = { left = "900 mm", bottom = "1200 mm" } }
keep_clear = [
  { name = "switch", left = "200 mm", bottom = "1050 mm", width = "80 mm", height = "80 mm", margin = "50 mm" },
]
furniture = [{ name = "bench", left = "800 mm", width = "1800 mm", height = "450 mm" }]
hang = { by = "wire", anchors = "1/3", drop = "60 mm" }
""",
        tmp_path,
    )
    (slipway,), (wall,) = read.pieces, read.walls
    assert (read.title, read.units, read.step, read.currency) == ("Ferry steps", Units.MM, Step(Fraction(1)), "EUR")
    assert read.papers[0].size == Size(*mm(329, 483))
    assert (read.papers[0].printer_margin, read.papers[0].ppi) == (Sides.all(Fraction(5)), 240)
    sheet = read.materials[0].sheets[0]
    assert (sheet.written, sheet.size, sheet.price, sheet.have, sheet.trim) == (
        "32x40 in",
        Size(32 * IN, 40 * IN),
        Decimal("18.50"),
        2,
        3,
    )
    assert slipway.frame is read.frames[0]
    assert (slipway.name, slipway.file, slipway.line, slipway.place) == ("Slipway", "slipway", 21, "piece[1]")
    assert (slipway.frame.takes, slipway.frame.price) == (Size(*mm(400, 500)), Decimal("34.00"))
    assert slipway.border == BorderAsk(top=Fraction(60), right=Fraction(60), bottom=None, left=Fraction(60))
    assert slipway.apertures[0].photo is not None
    assert slipway.apertures[0].photo.pixels == (30, 20)
    assert [(layer.board.name, layer.reveal, layer.cut) for layer in slipway.mat] == [
        ("white", 0, Cut.BEVEL),
        ("white", 6, Cut.BEVEL),
    ]
    assert (wall.size, wall.hung, wall.at[0][0]) == (Size(*mm(3600, 2400)), ((0, 1), (0, 2)), "Slipway")
    assert wall.line == 38


def test_defaults_of_a_metric_job() -> None:
    read = piece("")
    (window,) = read.apertures
    assert (read.frame.clearance, read.frame.lip, read.gutter) == mm(3, 6, 20)
    assert (window.name, window.overlap, window.reveal, window.gap) == ("Gull", *mm(3, 10, 6))
    assert (read.quantity, window.show, window.shape) == (1, Show.IMAGE, Shape.RECTANGLE)
    assert (read.border_to, read.border_at, read.row_align, read.justify) == (
        BorderTo.OPENING,
        BorderAt.VISIBLE,
        RowAlign.CENTRE,
        False,
    )
    assert (read.weight, read.rows, read.mat_supply) == (AddedWeight(extra=Fraction(0)), ((0,),), MatSupply.TO_SIZE)
    assert [(layer.board.name, layer.board.ply, layer.board.thickness) for layer in read.mat] == [
        ("white", 4, Fraction("1.4"))
    ]
    assert read.glazing is not None
    assert read.backing is not None
    assert (read.glazing.name, read.glazing.thickness, read.backing.name, read.backing.thickness) == (
        "glass-2mm",
        2,
        "foam-5mm",
        5,
    )


def test_defaults_of_an_inch_job() -> None:
    read = job('mat = ["white", "white"]', 'units = "in"\n[[wall]]\nname = "w"\nsize = "12 x 8 ft"')
    gull = read.pieces[0]
    (window,) = gull.apertures
    assert read.step == Step(IN / 16)
    assert (gull.frame.clearance, gull.frame.lip, gull.gutter) == (IN / 8, IN / 4, IN * 3 / 4)
    assert (window.overlap, window.reveal, window.gap, gull.mat[1].reveal) == (IN / 8, IN * 3 / 8, IN / 4, IN / 4)
    assert (read.walls[0].eye, read.walls[0].gap) == (57 * IN, IN * 5 / 2)


@pytest.mark.parametrize(
    ("units", "factor"), [("mm", Fraction(1)), ("cm", Fraction(10)), ("in", IN), ("MM", Fraction(1))]
)
def test_bare_numbers_are_in_the_units_of_the_job(units: str, factor: Fraction) -> None:
    for number in ("2.25", '"2.25"'):
        border = piece(f"border = {number}", f'units = "{units}"').border
        assert border is not None
        assert border.top == Fraction(225, 100) * factor


@pytest.mark.parametrize(
    ("written", "read"),
    [
        ("60", (60, 60, None, 60)),
        ('"6 cm"', (60, 60, None, 60)),
        ("{ top = 10, right = 20, bottom = 30, left = 40 }", (10, 20, 30, 40)),
        ("{ top = 10, left = 40 }", (10, 40, None, 40)),
        ("{ bottom = 30, right = 20 }", (30, 20, 30, 20)),
        ("{ top = 0, left = 0 }", (0, 0, None, 0)),
    ],
)
def test_side_left_out_takes_its_opposite_s(written: str, read: tuple[int | None, ...]) -> None:
    border = piece(f"border = {written}").border
    assert border is not None
    assert (border.top, border.right, border.bottom, border.left) == read


@pytest.mark.parametrize(
    ("written", "read"),
    [
        ("0", AddedWeight(extra=Fraction(0))),
        ('"0"', AddedWeight(extra=Fraction(0))),
        ("1.2", RatioWeight(ratio=Fraction(6, 5))),
        ('"1.2"', RatioWeight(ratio=Fraction(6, 5))),
        ("12", RatioWeight(ratio=Fraction(12))),
        ('"12 mm"', AddedWeight(extra=Fraction(12))),
        ('"1/2 in"', AddedWeight(extra=IN / 2)),
        ('"optical"', OpticalWeight()),
    ],
)
def test_weight_is_a_length_a_bare_factor_or_optical(written: str, read: Weight) -> None:
    assert piece(f"weight = {written}").weight == read


@pytest.mark.parametrize(
    ("written", "read"),
    [
        ('"300 x 200 mm"', ImageAsk(width=Fraction(300), height=Fraction(200))),
        ('"A4"', ImageAsk(width=Fraction(210), height=Fraction(297))),
        ('{ width = "24 cm" }', ImageAsk(width=Fraction(240))),
        ("{ height = 250 }", ImageAsk(height=Fraction(250))),
        ("{ width = 250, height = 100 }", ImageAsk(width=Fraction(250), height=Fraction(100))),
    ],
)
def test_image_is_a_size_or_its_sides(written: str, read: ImageAsk) -> None:
    assert piece(f'image = {written}\naspect = "3:2"').apertures[0].image == read


@pytest.mark.parametrize(
    ("written", "names"),
    [
        ('["white"]', ["white"]),
        ('"white"', ["white"]),
        ('{ board = "8-ply" }', ["8-ply"]),
        ('["white", { board = "own", cut = "reverse" }]', ["white", "own"]),
        ("[]", []),
    ],
)
def test_mat_is_a_list_of_names_or_tables(written: str, names: list[str]) -> None:
    assert [layer.board.name for layer in piece(f"mat = {written}", "[board.own]\n").mat] == names


def test_job_s_own_board_goes_before_the_tables() -> None:
    board = piece("", '[board.white]\nthickness = "1.5 mm"\ncolour = "Warm White"\n').mat[0].board
    assert (board.name, board.thickness, board.colour, board.ply) == ("white", Fraction("1.5"), "#f6f2e8", None)


@pytest.mark.parametrize(("ply", "thickness"), [(2, "0.7"), (4, "1.4"), (6, "2.1"), (8, "2.8"), (12, "4.2")])
def test_plies_tell_the_thickness(ply: int, thickness: str) -> None:
    """4-ply is 1.4 mm (common practice in the metric trade); the others in proportion (derived)."""
    board = piece('mat = "own"', f"[board.own]\nply = {ply}").mat[0].board
    assert (board.ply, board.thickness) == (ply, Fraction(thickness))


def test_measured_thickness_goes_before_plies() -> None:
    assert piece('mat = "own"', '[board.own]\nply = 4\nthickness = "1.55 mm"').mat[0].board.thickness == Fraction(
        "1.55"
    )


def test_none_is_a_name_for_no_glazing_and_no_backing() -> None:
    read = piece('glazing = "none"\nbacking = "none"')
    assert (read.glazing, read.backing) == (None, None)


def test_own_glazing_keeps_what_the_tables_know_of_its_name() -> None:
    read = piece(
        'glazing = "acrylic-3mm"', '[glazing.acrylic-3mm]\nsheets = [{ size = "1 x 2 m", price = "40" }]'
    ).glazing
    assert read is not None
    assert (read.thickness, read.substance, read.density, read.sheets[0].price) == (3, "acrylic", 1190, Decimal(40))
    own = piece('glazing = "own"', '[glazing.own]\nthickness = "2 mm"\nsubstance = "glass"').glazing
    assert own is not None
    assert (own.thickness, own.density) == (2, 2500)


@pytest.mark.parametrize(
    ("written", "takes"),
    [
        ("40x50 cm", (400, 500)),
        ("40 × 50 cm", (400, 500)),
        ("400 x 500", (400, 500)),
        ("A4", (210, 297)),
        ("A3+", (329, 483)),
    ],
)
def test_frame_is_a_name_of_the_tables_or_a_size(written: str, takes: tuple[int, int]) -> None:
    assert piece(f'frame = "{written}"').frame.takes == Size(*mm(*takes))


def test_turned_frame_lies_on_its_side() -> None:
    taken = piece('frame = "ash"\nturn = true', '[frame.ash]\ntakes = "40x50 cm"\n').frame
    measured = piece('frame = "ash"\nturn = true', '[frame.ash]\nrabbet = "403 x 503 mm"\n').frame
    assert (taken.takes, taken.turned) == (Size(*mm(500, 400)), True)
    assert (measured.rabbet, measured.takes) == (Size(*mm(503, 403)), None)


def test_piece_without_a_frame_is_made_to_measure() -> None:
    read = parse_job('[[piece]]\nname = "Gull"\nimage = "30 x 20 cm"\nborder = 60', HERE).pieces[0]
    assert (read.frame.name, read.frame.has_size) == ("", False)


def test_mat_is_cut_here_where_its_front_board_has_sheets() -> None:
    sheets = '[board.own]\nsheets = [{ size = "32x40 in" }]\n'
    assert piece('mat = ["own", "white"]', sheets).mat_supply is MatSupply.SHEETS
    assert piece('mat = ["white", "own"]', sheets).mat_supply is MatSupply.TO_SIZE
    assert piece('mat = ["own"]\nmat_supply = "ready-cut"', sheets).mat_supply is MatSupply.READY_CUT


def test_piece_speaks_for_its_windows_where_they_say_nothing() -> None:
    read = piece(
        'image = "300 x 200 mm"\nshow = "margin"\noverlap = 5\nreveal = 7\npaper = "A4"\nshape = "oval"\n'
        'rows = [["b"], ["a", "c"]]\ngutter = "3 cm"\nrow_align = "top"\njustify = true\n'
        '[[piece.aperture]]\nname = "a"\n'
        '[[piece.aperture]]\nname = "b"\nshow = "sheet"\noverlap = 1\nimage = "A5"\nshape = "circle"\npaper = "A3"\n'
        '[[piece.aperture]]\nname = "c"\ngap = 9\nreveal = 0\n'
    )
    a, b, c = read.apertures
    assert (a.show, a.overlap, a.reveal, a.gap, a.shape) == (Show.MARGIN, 5, 7, 6, Shape.OVAL)
    assert (b.show, b.overlap, b.reveal, b.shape) == (Show.SHEET, 1, 7, Shape.CIRCLE)
    assert (c.gap, c.reveal) == mm(9, 0)
    assert a.paper is not None
    assert b.paper is not None
    assert (a.paper.name, b.paper.name) == ("A4", "A3")
    assert (a.image, b.image) == (
        ImageAsk(width=Fraction(300), height=Fraction(200)),
        ImageAsk(width=Fraction(148), height=Fraction(210)),
    )
    assert (read.rows, read.gutter, read.row_align, read.justify) == (((1,), (0, 2)), 30, RowAlign.TOP, True)


def test_windows_stand_in_one_row_unless_rows_are_written() -> None:
    windows = "".join(f'[[piece.aperture]]\nname = "{name}"\n' for name in "abc")
    assert piece(windows).rows == ((0, 1, 2),)


def test_caption_needs_its_own_size_alone() -> None:
    read = parse_job(
        '[[piece]]\nname = "Gull"\nframe = "40x50 cm"\nborder = 50\n'
        '[[piece.aperture]]\nname = "a"\naspect = "3:2"\n'
        '[[piece.aperture]]\nname = "b"\ntext = "At the steps"\nimage = "80 x 20 mm"\n',
        HERE,
    ).pieces[0]
    assert (read.apertures[1].text, read.apertures[0].image) == ("At the steps", None)


def test_frame_alone_serves_a_piece_without_a_mat() -> None:
    read = parse_job('[[piece]]\nname = "Gull"\nframe = "A4"\nmat = []', HERE).pieces[0]
    assert read.mat == ()
    assert read.apertures[0].image is None


@pytest.mark.parametrize("shape", ["square", "circle"])
def test_square_and_circle_tell_the_shape_of_a_one_sided_image(shape: str) -> None:
    assert piece(f'image = {{ width = 50 }}\nshape = "{shape}"').apertures[0].aspect is None


def test_polygon_s_points_are_fractions_of_the_opening() -> None:
    (window,) = piece('shape = "polygon"\npoints = [[0.5, 0], [1, 1], [0, 1]]').apertures
    assert window.points == ((Fraction(1, 2), Fraction(0)), mm(1, 1), mm(0, 1))


@pytest.mark.parametrize(
    ("written", "read"), [("3:2", "3 2"), ("1.5:1", "3/2 1"), (" .5 : 1 ", "1/2 1"), ("1:100", "1 100")]
)
def test_aspect_is_two_plain_numbers(written: str, read: str) -> None:
    assert piece(f'aspect = "{written}"').apertures[0].aspect == mm(*read.split())


def test_wall_hangs_every_copy_unless_pieces_are_named() -> None:
    text = '[[piece]]\nname = "{}"\nquantity = {}\nimage = "30 x 20 cm"\nborder = 60\n'
    read = parse_job(
        text.format("a", 2) + text.format("b", 1) + '[[wall]]\nname = "w"\nsize = "3 x 2 m"\n', HERE
    ).walls[0]
    assert read.hung == ((0, 1), (0, 2), (1, 1))
    assert (read.zone.left, read.zone.right, read.zone.bottom, read.zone.top) == mm(0, 3000, 0, 2000)


def test_zone_s_missing_sides_are_the_wall_s() -> None:
    read = job("", '[[wall]]\nname = "w"\nsize = "3 x 2 m"\nzone = { left = "10 cm", top = 1900 }\n').walls[0]
    assert (read.zone.left, read.zone.right, read.zone.bottom, read.zone.top) == mm(100, 3000, 0, 1900)


def test_pins_of_several_copies_are_a_list() -> None:
    pins = "{ Gull = [{ left = 1, bottom = 2 }, { left = 3, bottom = 4 }] }"
    head = f'[[wall]]\nname = "w"\nsize = "3 x 2 m"\narrange = "placed"\nat = {pins}\n'
    assert [(name, pin.left) for name, pin in job("quantity = 2", head).walls[0].at] == [("Gull", 1), ("Gull", 3)]


def test_files_of_pieces_and_walls_are_told_apart() -> None:
    text = '[[piece]]\nname = "{}"\nimage = "30 x 20 cm"\nborder = 60\n'
    read = parse_job(text.format("Gull") + text.format("gull") + text.format("GULL?"), HERE)
    assert [each.file for each in read.pieces] == ["gull", "gull-2", "gull-3"]


@pytest.mark.parametrize(
    ("written", "kilograms"),
    [
        ("15", "15"), ('"15 kg"', "15"), ('"800 g"', "0.8"), ('"30 lb"', "13.6077711"), ('"1.5lbs"', "0.680388555"),
        ('"8 oz"', "0.226796185"), ('"30"', "30"),
    ],
)  # fmt: skip
def test_a_rating_is_a_mass_with_or_without_its_unit(written: str, kilograms: str) -> None:
    """1 lb = 0.45359237 kg, 16 oz = 1 lb: international yard and pound agreement, 1959."""
    wall = f'[[wall]]\nname = "w"\nsize = "3 x 2 m"\nhang = {{ by = "wire", rating = {written} }}\n'
    assert job(f"border = 60\n{wall}").walls[0].hang.rating == Fraction(kilograms)


def test_prices_per_foot_are_prices_per_metre_exactly() -> None:
    """1 ft = 0.3048 m: international yard and pound agreement, 1959."""
    head = "[costs]\nwire_per_ft = 0.30\nink_per_ft2 = 0.90\ntape_per_m = 0.20\n[board.white]\nprice_per_ft2 = 1.50\n"
    read = job("border = 60", head)
    assert read.rates.wire_per_m == Fraction("0.30") / Fraction("0.3048")
    assert read.rates.ink_per_m2 == Fraction("0.90") / Fraction("0.3048") ** 2
    assert read.rates.tape_per_m == Decimal("0.20")
    assert read.boards[0].price_per_m2 == Fraction("1.50") / Fraction("0.3048") ** 2


@pytest.mark.parametrize(
    ("keys", "lip", "rabbet"),
    [
        ('rabbet = "403 x 503 mm"\nsight = "388 x 488 mm"', "7.5", (403, 503)),
        ('takes = "40x50 cm"\nsight = "389 x 489 mm"', "7", None),  # (403 − 389) / 2
        ('sight = "388 x 488 mm"\nlip = "5 mm"', "5", (398, 498)),
        ('sight = "388 x 488 mm"', "6", (400, 500)),
    ],
)
def test_the_sight_gives_the_lip_or_the_rabbet(keys: str, lip: str, rabbet: tuple[int, int] | None) -> None:
    frame = piece('frame = "ash"\nborder = 60', f"[frame.ash]\n{keys}\n").frame
    assert frame.lip == Fraction(lip)
    assert frame.rabbet == (None if rabbet is None else Size(*mm(*rabbet)))
