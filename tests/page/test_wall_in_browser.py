"""The wall by hand in a real browser: what is moved on its pictures stands in the job's text, comments kept."""

from __future__ import annotations

import difflib
import json
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Locator, Page, expect

import matplan
from tests.page.conftest import Served, shown
from tests.photographs import turned_jpeg

JOB = """title = "Hall"            # invented
units = "mm"

[frame.ash]
takes = "30x40 cm"
rail = "20 mm"

[[piece]]
name = "Gull"
frame = "ash"
aspect = "2:3"
border = "50 mm"
label = "Gull, 2026"

[[piece]]
name = "Tern"
frame = "ash"
aspect = "2:3"
border = "50 mm"

[[piece]]
name = "Coil"
frame = "ash"
aspect = "2:3"
border = "50 mm"

[[piece]]
name = "Slip"
frame = "ash"
photo = "wall.jpg"
border = "50 mm"

[[wall]]
name = "Stair landing"
size = "5000 x 3000 mm"
floor = [["0 mm", "0 mm"], ["2500 mm", "0 mm"], ["5 m", "300 mm"]]  # up to the door
keep_clear = [
  { name = "light switch", left = "200 mm", bottom = "1050 mm", width = "80 mm", height = "80 mm" },  # brass
]
furniture = [{ name = "bench", left = "500 mm", width = "1000 mm", height = "450 mm" }]
labels = { size = "80 x 50 mm", side = "right", gap = "30 mm" }

[wall.photo]
file = "wall.jpg"
corners = [[100, 50], [800, 60], [790, 550], [110, 540]]    # by hand

[[wall.group]]            # beside the stair
pieces = [
  "Gull",   # first
  "Tern",
  "Coil",
]
gap = "150 mm"
zone = { left = "300 mm", right = "2600 mm" }

[[wall.group]]
pieces = ["Slip"]
zone = { left = "3000 mm" }
"""
WHERE = "wall[1]"


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two groups on a stair, with a label, a switch, a bench and a photograph."""
    path = tmp_path_factory.mktemp("hall") / "job.toml"
    turned_jpeg(path.with_name("wall.jpg"), 600, 900)  # seen 900 wide
    path.write_text(JOB, encoding="utf-8")
    matplan.plan(matplan.read_job(path))  # it is sound
    return path


@pytest.fixture(scope="module")
def served(job: Path) -> Iterator[Served]:
    """One server for all of it."""
    running = Served(str(job), folder=job.parent)
    yield running
    running.stop()


@pytest.fixture(scope="module")
def opened(chromium: Browser, served: Served) -> Iterator[Page]:
    """One page for all tests."""
    yield from shown(chromium, served.address)


@pytest.fixture
def page(opened: Page) -> Page:
    """The page with the text of that job."""
    opened.keyboard.up("Shift")
    opened.mouse.up()
    area = opened.locator("[data-role=job-text]")
    if area.input_value() != JOB:
        area.fill(JOB)
    settled(opened)
    return opened


def settled(page: Page) -> None:
    """Wait until all of the text is answered and drawn."""
    page.evaluate("import('/static/job.js').then(({ settled }) => settled())")


def text_of(page: Page) -> str:
    return page.locator("[data-role=job-text]").input_value()


def wall(page: Page) -> Any:
    return tomllib.loads(text_of(page))["wall"][0]


def changed(page: Page, *lines: str) -> None:
    """Wait until the text says these lines in place of some of the job's, and nothing else."""

    def new() -> list[str]:
        diff = difflib.ndiff(JOB.splitlines(), text_of(page).splitlines())
        return [line[2:].strip() for line in diff if line.startswith("+ ")]

    for _ in range(60):
        if new() == list(lines):
            return
        page.wait_for_timeout(50)
    assert new() == list(lines)


def ordered(page: Page, pieces: list[Any]) -> None:
    """Wait until the first group has its pieces so; the comment of one of them stays with it."""
    written = r"pieces = \[\s+" + r"\s+".join(
        re.escape(json.dumps(one)) + ("," if one != "Gull" else ",   # first") for one in pieces
    )
    expect(page.locator("[data-role=job-text]")).to_have_value(re.compile(written))


def undone(page: Page) -> None:
    """One step back is the job as it was."""
    page.locator("[data-role=undo]").click()
    expect(page.locator("[data-role=job-text]")).to_have_value(JOB)


def hand(page: Page, name: str) -> Locator:
    return page.locator(f'[data-hand="{name}"]')


def frame(page: Page, piece: str) -> Locator:
    return page.locator(f"#wall [data-role=frame][data-piece={piece}]")


def middle(part: Locator) -> tuple[float, float]:
    part.scroll_into_view_if_needed()
    box = part.bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def box(part: Locator) -> list[float]:
    return [float(figure) for figure in str(part.get_attribute("data-box")).split()]


def per_mm(page: Page) -> float:
    edge = page.locator("#wall .wall[data-box]").bounding_box()
    assert edge is not None
    return edge["width"] / 5000


def drag(page: Page, part: Locator, across: float, up: float, *, drop: bool = True) -> None:
    """Drag a part by so many pixels."""
    settled(page)
    page.locator("figure#wall").scroll_into_view_if_needed()
    x, y = middle(part)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + across / 2, y - up / 2, steps=3)
    page.mouse.move(x + across, y - up, steps=3)
    if drop:
        page.mouse.up()


def to(page: Page, part: Locator, left: float, bottom: float) -> None:
    """Drag a frame so that its lower left corner is there on the wall, in mm."""
    settled(page)
    x, y, _, _ = box(part)
    scale = per_mm(page)
    drag(page, part, (left - x) * scale, (bottom - y) * scale)


def test_a_frame_that_leaves_its_row_is_pinned(page: Page) -> None:
    to(page, frame(page, "Tern"), 1250, 2300)
    expect(page.locator("[data-role=job-text]")).to_have_value(re.compile(r"at = \{ Tern"))
    place = {side: float(text.split()[0]) for side, text in wall(page)["at"]["Tern"].items()}
    assert abs(place["left"] - 1250) < 130  # it may have gone to what is near
    assert abs(place["bottom"] - 2300) < 130
    undone(page)


@pytest.mark.parametrize(
    ("piece", "over"), [("Gull", ("Tern", "Coil")), ("Coil", ("Gull", "Tern")), ("Slip", ("Gull", "Tern"))]
)
def test_a_frame_between_two_others_takes_its_place_in_their_order(
    piece: str, over: tuple[str, str], page: Page
) -> None:
    left, right = (box(frame(page, name)) for name in over)
    between = (left[0] + left[2] + right[0]) / 2
    to(page, frame(page, piece), between - left[2] / 2, left[1] + 20)
    expected = [name for name in ["Gull", "Tern", "Coil"] if name != piece]
    expected.insert(expected.index(over[0]) + 1, piece)
    ordered(page, expected)
    assert "at" not in wall(page)
    assert len(wall(page)["group"]) == (1 if piece == "Slip" else 2), "a group that is left empty goes"
    undone(page)


def test_a_frame_over_anothers_upper_edge_stands_above_it(page: Page) -> None:
    left, bottom, _, high = box(frame(page, "Slip"))
    to(page, frame(page, "Coil"), left, bottom + high * 0.7)
    changed(page, 'pieces = [["Coil", "Slip"]]')
    assert wall(page)["group"][0]["pieces"] == ["Gull", "Tern"]
    expect(page.locator("#wall-wrong")).to_have_text("")
    undone(page)


def test_shift_pins_a_frame_over_others_and_the_fault_is_told(page: Page) -> None:
    before = box(frame(page, "Tern"))
    page.keyboard.down("Shift")
    to(page, frame(page, "Tern"), 1700, before[1])
    page.keyboard.up("Shift")
    expect(page.locator("#wall-wrong")).to_contain_text("overlap")
    assert "Tern" in wall(page)["at"]
    assert box(frame(page, "Tern")) == before, "the wall is drawn as it was"
    expect(frame(page, "Tern")).not_to_have_attribute("transform", re.compile("."))
    undone(page)
    expect(page.locator("#wall-wrong")).to_have_text("")


def test_escape_lets_a_frame_go_where_it_was(page: Page) -> None:
    drag(page, frame(page, "Tern"), 0, 90, drop=False)
    expect(frame(page, "Tern")).to_have_attribute("transform", re.compile("translate"))
    page.keyboard.press("Escape")
    expect(frame(page, "Tern")).not_to_have_attribute("transform", re.compile("."))
    page.mouse.up()
    settled(page)
    assert text_of(page) == JOB


def test_the_order_by_keys(page: Page) -> None:
    frame(page, "Gull").press("PageDown")
    ordered(page, ["Tern", "Gull", "Coil"])
    expect(frame(page, "Gull")).to_be_focused()
    page.keyboard.press("PageUp")
    changed(page)
    page.keyboard.press("Shift+PageDown")
    changed(page, '["Gull", "Tern"],  # first')
    page.keyboard.press("PageDown")
    changed(page, '["Tern", "Gull"],  # first')
    page.keyboard.press("PageDown")
    expect(page.locator("[data-role=job-text]")).to_have_value(re.compile(r'"Tern",  # first\s+"Gull",\s+"Coil",'))


def test_arrows_move_a_frame_by_the_step_and_delete_lets_it_go(page: Page) -> None:
    left, bottom, _, _ = box(frame(page, "Coil"))
    frame(page, "Coil").press("ArrowUp")
    changed(page, f'at = {{ Coil = {{ bottom = "{bottom + 1.5:g} mm" }} }}')  # its row goes on round it
    page.keyboard.press("ArrowUp")
    page.keyboard.press("Shift+ArrowLeft")
    changed(page, f'at = {{ Coil = {{ bottom = "{bottom + 2.5:g} mm", left = "{left - 9.5:g} mm" }} }}')
    page.keyboard.press("Delete")
    changed(page)


def test_a_thing_kept_clear_is_moved_and_sized(page: Page) -> None:
    switch = f"{WHERE}.keep_clear[1]"
    drag(page, hand(page, switch), 60, 40)
    expect(page.locator("[data-role=job-text]")).not_to_have_value(JOB)
    moved = wall(page)["keep_clear"][0]
    assert abs(float(moved["left"].split()[0]) - 200 - 60 / per_mm(page)) < 130
    assert "# brass" in text_of(page)
    undone(page)
    hand(page, switch).press("Shift+ArrowRight")
    line = '{{ name = "light switch", left = "{}", bottom = "1050 mm", width = "{}", height = "{}" }},  # brass'
    changed(page, line.format("210 mm", "80 mm", "80 mm"))
    hand(page, f"{switch} size").press("ArrowUp")
    page.keyboard.press("ArrowUp")
    page.keyboard.press("ArrowRight")
    changed(page, line.format("210 mm", "81 mm", "82 mm"))
    expect(hand(page, f"{switch} size")).to_be_focused()


def test_furniture_moves_along_the_floor_and_is_sized_at_its_corner(page: Page) -> None:
    bench = f"{WHERE}.furniture[1]"
    drag(page, hand(page, bench), 30, 50)
    expect(page.locator("[data-role=job-text]")).not_to_have_value(JOB)
    (moved,) = wall(page)["furniture"]
    assert float(moved["left"].split()[0]) > 600
    assert set(moved) == {"name", "left", "width", "height"}
    undone(page)
    hand(page, bench).press("ArrowUp")  # it stands on the floor
    drag(page, hand(page, f"{bench} size"), -20, 30)
    expect(page.locator("[data-role=job-text]")).not_to_have_value(JOB)
    (sized,) = wall(page)["furniture"]
    assert float(sized["width"].split()[0]) < 1000
    assert float(sized["height"].split()[0]) > 450
    undone(page)


def test_a_zone_is_moved_by_its_edge_and_sized_at_its_corner(page: Page) -> None:
    hand(page, f"{WHERE}.group[1].zone").press("Shift+ArrowRight")
    changed(page, 'zone = { left = "310 mm", right = "2610 mm" }')
    undone(page)
    drag(page, hand(page, f"{WHERE}.group[1].zone size"), 0, -80)
    expect(page.locator("[data-role=job-text]")).to_have_value(re.compile('right = "2600 mm", top = "'))
    assert 1500 < float(wall(page)["group"][0]["zone"]["top"].split()[0]) < 2900
    undone(page)
    page.locator("figure#wall").scroll_into_view_if_needed()
    edge = page.locator("#wall .zone-edge").first.bounding_box()
    assert edge is not None
    x, y = edge["x"] + 5, edge["y"] + edge["height"] * 0.2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 15, y, steps=4)
    page.mouse.up()
    expect(page.locator("[data-role=job-text]")).not_to_have_value(JOB)
    zone = {side: float(text.split()[0]) for side, text in wall(page)["group"][0]["zone"].items()}
    assert zone["right"] - zone["left"] == 2300
    assert zone["left"] > 300


def test_labels_go_to_a_side_that_is_chosen_or_where_they_are_dragged(page: Page) -> None:
    page.locator("#labels-at").select_option("left")
    changed(page, 'labels = { size = "80 x 50 mm", side = "left", gap = "30 mm" }')
    undone(page)
    drag(page, page.locator("#wall .wall-label"), -20, -62)
    expect(page.locator("[data-role=job-text]")).to_have_value(re.compile('side = "below"'))
    assert "up" not in wall(page)["labels"]
    undone(page)
    page.locator("#wall .wall-label").press("ArrowRight")
    changed(page, 'labels = { size = "80 x 50 mm", side = "right", gap = "31 mm" }')
    page.locator("#wall .wall-label").press("ArrowUp")
    changed(page, 'labels = { size = "80 x 50 mm", side = "right", gap = "31 mm", up = "1 mm" }')
    page.locator("#labels-at").select_option("below")  # where no label has a height of its own
    changed(page, 'labels = { size = "80 x 50 mm", side = "below", gap = "31 mm" }')
    page.locator("#labels-at").select_option("")
    expect(page.locator("#wall .wall-label")).to_have_count(0)


def test_a_point_of_the_floor_is_dragged(page: Page) -> None:
    hand(page, f"{WHERE}.floor[2]").press("Shift+ArrowLeft")
    changed(page, 'floor = [["0 mm", "0 mm"], ["2490 mm", "0 mm"], ["5 m", "300 mm"]]  # up to the door')
    undone(page)
    hand(page, f"{WHERE}.floor[3]").press("ArrowLeft")
    page.keyboard.press("ArrowUp")
    changed(page, 'floor = [["0 mm", "0 mm"], ["2500 mm", "0 mm"], ["5 m", "301 mm"]]  # up to the door')
    undone(page)
    drag(page, hand(page, f"{WHERE}.floor[3]"), -40, 20)
    expect(page.locator("[data-role=job-text]")).not_to_have_value(JOB)
    end = wall(page)["floor"][2]
    assert end[0] == "5 m", "the last point stays at the wall's side, as it is written"
    assert float(end[1].split()[0]) > 320


def corners(page: Page) -> list[list[int]]:
    found: list[list[int]] = wall(page)["photo"]["corners"]
    return found


def test_the_corners_are_set_on_the_photograph_and_the_frames_follow(page: Page) -> None:
    grip = hand(page, f"{WHERE}.photo.corners[3]")
    outer = page.locator("#photo .frame-outer").first
    before = outer.get_attribute("points")
    drag(page, grip, -60, 30)
    expect(page.locator("[data-role=job-text]")).not_to_have_value(JOB)
    assert corners(page)[:2] == [[100, 50], [800, 60]]
    scale = page.locator("#photo svg").evaluate("svg => svg.getScreenCTM().a")
    for seen, pixel in zip(corners(page)[2], (790 - 60 / scale, 550 - 30 / scale), strict=True):
        assert abs(seen - pixel) <= 1
    expect(outer).not_to_have_attribute("points", str(before))
    undone(page)
    expect(outer).to_have_attribute("points", str(before))
    grip.press("Shift+ArrowDown")
    page.keyboard.press("ArrowLeft")
    changed(page, "corners = [[100, 50], [800, 60], [789, 560], [110, 540]]    # by hand")
    expect(grip).to_be_focused()


@pytest.mark.parametrize(
    ("across", "told"), [(-1.02, "within the three others|cross|other way round"), (0, "in a line")]
)
def test_corners_that_cross_or_lie_in_line_are_refused(across: float, told: str, page: Page) -> None:
    outer = page.locator("#photo .frame-outer").first
    before = outer.get_attribute("points")
    if across:
        width = page.locator("#photo svg").evaluate("svg => svg.getScreenCTM().a * 700")
        drag(page, hand(page, f"{WHERE}.photo.corners[2]"), across * width, 0)
    else:
        page.locator("[data-role=job-text]").fill(JOB.replace("[800, 60]", "[445, 299]"))
        expect(outer).not_to_have_attribute("points", str(before))
        before = outer.get_attribute("points")
        hand(page, f"{WHERE}.photo.corners[2]").press("ArrowDown")
    page.mouse.move(0, 0)
    there = page.locator("#photo").bounding_box()
    expect(page.locator("#photo-wrong")).to_contain_text(re.compile(told))
    assert page.locator("#photo").bounding_box() == there, "the photograph stays under the hand"
    assert outer.get_attribute("points") == before
    page.locator("[data-role=undo]").click()
    if across:
        expect(page.locator("#photo-wrong")).to_have_text("")


def test_pictures_of_several_drawings_are_clipped_each_by_its_own_outline(page: Page) -> None:
    expect(page.locator("#photo [data-piece=Slip] image")).to_have_count(1)
    expect(page.locator("#wall [data-piece=Slip] image")).to_have_count(1)
    clips = page.locator("clipPath").evaluate_all("all => all.map(one => one.id)")
    assert len(clips) > 1
    assert len(set(clips)) == len(clips)
    used = page.locator("[clip-path]").evaluate_all("all => all.map(one => one.getAttribute('clip-path').slice(5, -1))")
    assert set(used) == set(clips)


def test_a_wall_without_a_photograph_gets_one(page: Page, job: Path, tmp_path: Path) -> None:
    area = page.locator("[data-role=job-text]")
    plain = re.sub(r"\[wall\.photo\]\n.*\n.*\n\n", "", JOB)
    area.fill(plain)
    expect(page.locator("#on-photo")).to_be_hidden()
    other = turned_jpeg(tmp_path / "other wall.jpg", 400, 800)
    page.locator("#wall-photo-file").set_input_files([other])
    expect(page.locator("#photo svg")).to_be_visible()
    photo = wall(page)["photo"]
    assert (job.parent / photo["file"]).read_bytes() == other.read_bytes()
    assert photo["corners"] == [[80, 40], [720, 40], [720, 360], [80, 360]]
    expect(page.locator("#photo [data-role=hand]")).to_have_count(4)


@pytest.mark.parametrize(("scheme", "width"), [("light", 1400), ("dark", 390)])
def test_axe_finds_nothing_serious_on_the_wall(scheme: str, width: int, chromium: Browser, served: Served) -> None:
    context = chromium.new_context(color_scheme=scheme, viewport={"width": width, "height": 900})  # type: ignore[arg-type]
    page = context.new_page()
    page.goto(served.address)
    page.locator("#photo [data-role=hand]").first.wait_for()
    found = Axe().run(page).response["violations"]
    assert [(one["id"], one["nodes"][0]["target"]) for one in found if one["impact"] in ("serious", "critical")] == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    context.close()


def test_the_keyboard_alone_reaches_every_hand(page: Page) -> None:
    wanted = set(page.locator("[data-hand]").evaluate_all("all => all.map(one => one.dataset.hand)"))
    assert len(wanted) == 4 + 2 + 2 + 1 + 4 + 3 + 4
    page.locator("#labels-at").focus()
    reached: set[str] = set()
    for _ in range(60):
        page.keyboard.press("Tab")
        reached.add(str(page.evaluate("document.activeElement?.dataset?.hand ?? ''")))
    assert wanted <= reached
