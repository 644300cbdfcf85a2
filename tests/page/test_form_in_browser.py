"""Lists within lists on the form: windows, rows, groups, stacks, points; and things that get another name."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from time import sleep

import pytest
from playwright.sync_api import Browser, Locator, Page, Route, expect

from tests.page.conftest import Served, shown
from tests.page.test_in_browser import field as field_of
from tests.page.test_in_browser import text_of
from tests.page.test_lists_in_browser import says

JOB = """title = "Shore"   # three pieces
units = "mm"

[frame.ash]               # ready-made
takes = "40x50 cm"
rail = "20 mm"

[board.fog]
ply = 4

[[piece]]
name = "Gull"             # two windows later on
frame = "ash"
aspect = "3:2"
image = { width = "12 cm" }
mat = "fog"

[[piece]]
name = "Tern"
frame = "ash"
image = "240 x 180 mm"
mat = ["fog"]

[[piece]]
name = "Coil"
frame = "ash"
image = "180 x 180 mm"

[[wall]]
name = "Hall"
size = "3000 x 2400 mm"
pieces = ["Gull", "Tern", "Coil"]   # from the door
"""


@pytest.fixture
def shore(chromium: Browser, serve: Callable[..., Served], tmp_path: Path) -> Iterator[Page]:
    """The page of three pieces on a wall, with all of the form open."""
    job = tmp_path / "job.toml"
    job.write_text(JOB, encoding="utf-8")
    for page in shown(chromium, serve(str(job)).address):
        yield page
        assert "# three pieces" in page.locator("[data-role=job-text]").input_value()


def all_open(page: Page) -> None:
    page.evaluate("for (const group of document.querySelectorAll('#form details')) group.open = true")


def press(page: Page, act: str) -> None:
    """Press a button wherever it stands in the form."""
    page.locator(f'[data-act="{act}"]').wait_for(state="attached")
    all_open(page)
    page.locator(f'[data-act="{act}"]').click()


def field(page: Page, key: str) -> Locator:
    """Return the field of a key, whatever stands open."""
    found: Locator = field_of(page, key)
    found.wait_for(state="attached")
    all_open(page)
    return found


def no_error(page: Page) -> None:
    """The job is sound once its answer is here."""
    page.wait_for_timeout(100)
    try:
        expect(page.locator("#errors [data-level=error]")).to_have_count(0)
    except AssertionError:
        pytest.fail(page.locator("#errors").inner_text())


def test_a_piece_gets_windows_in_rows(shore: Page) -> None:
    page = shore
    press(page, "add piece[1].aperture")
    says(page, lambda job: job["piece"][0].get("aperture") == [{"name": "window 1", "aspect": "3:2"}])
    expect(field(page, "piece[1].aperture[1].name")).to_be_focused()
    press(page, "add piece[1].aperture")
    says(page, lambda job: [one["name"] for one in job["piece"][0]["aperture"]] == ["window 1", "window 2"])
    assert "aspect" not in text_of(page)["piece"][0]
    no_error(page)
    press(page, "add piece[1].rows")
    says(page, lambda job: job["piece"][0].get("rows") == [["window 1"], ["window 2"]])
    name = field(page, "piece[1].aperture[2].name")
    name.fill("below")
    name.press("Enter")
    says(page, lambda job: job["piece"][0]["rows"] == [["window 1"], ["below"]])
    no_error(page)
    press(page, "add piece[1].aperture")
    says(page, lambda job: job["piece"][0]["rows"] == [["window 1"], ["below", "window 3"]])
    no_error(page)
    press(page, "away piece[1].aperture[3]")
    says(page, lambda job: job["piece"][0]["rows"] == [["window 1"], ["below"]])
    press(page, "up piece[1].rows[2][1]")
    says(page, lambda job: job["piece"][0]["rows"] == [["window 1", "below"]])
    expect(field(page, "piece[1].rows[1][2]")).to_be_focused()
    press(page, "up piece[1].aperture[2]")
    says(page, lambda job: [one["name"] for one in job["piece"][0]["aperture"]] == ["below", "window 1"])
    no_error(page)
    press(page, "away piece[1].aperture[2]")
    says(page, lambda job: job["piece"][0]["rows"] == [["below"]] and len(job["piece"][0]["aperture"]) == 1)
    no_error(page)
    field(page, "piece[1].aperture[1].shape").select_option("polygon")
    says(page, lambda job: job["piece"][0]["aperture"][0].get("shape") == "polygon")
    press(page, "add piece[1].aperture[1].points")
    says(page, lambda job: job["piece"][0]["aperture"][0].get("points") == [[0.5, 0], [1, 1], [0, 1]])
    no_error(page)
    field(page, "piece[1].aperture[1].points[1][1]").fill("0.4")
    says(page, lambda job: job["piece"][0]["aperture"][0]["points"] == [[0.4, 0], [1, 1], [0, 1]])


def test_a_wall_gets_groups_and_stacks(shore: Page) -> None:
    page = shore
    press(page, "stack wall[1].pieces[1]")
    says(page, lambda job: job["wall"][0]["pieces"] == [["Gull", "Tern"], "Coil"])
    expect(field(page, "wall[1].pieces[1][1]")).to_be_focused()
    assert "# from the door" in page.locator("[data-role=job-text]").input_value()
    press(page, "down wall[1].pieces[1][1]")
    says(page, lambda job: job["wall"][0]["pieces"] == [["Tern", "Gull"], "Coil"])
    no_error(page)
    press(page, "unstack wall[1].pieces[1]")
    says(page, lambda job: job["wall"][0]["pieces"] == ["Tern", "Gull", "Coil"])
    press(page, "add wall[1].group")
    says(page, lambda job: job["wall"][0].get("group") == [{"pieces": ["Tern", "Gull", "Coil"]}])
    assert "pieces" not in text_of(page)["wall"][0]
    press(page, "add wall[1].group")
    says(page, lambda job: [one["pieces"] for one in job["wall"][0]["group"]] == [["Tern", "Gull"], ["Coil"]])
    field(page, "wall[1].group[2].zone.left").fill("2 m")
    says(page, lambda job: job["wall"][0]["group"][1].get("zone") == {"left": "2 m"})
    field(page, "wall[1].group[1].zone.right").fill("1900 mm")
    says(page, lambda job: job["wall"][0]["group"][0].get("zone") == {"right": "1900 mm"})
    no_error(page)
    press(page, "up wall[1].group[2]")
    says(page, lambda job: [one["pieces"] for one in job["wall"][0]["group"]] == [["Coil"], ["Tern", "Gull"]])
    no_error(page)
    press(page, "away wall[1].group[1]")
    says(page, lambda job: [one["pieces"] for one in job["wall"][0]["group"]] == [["Tern", "Gull"]])


def test_a_floor_and_a_top_edge_are_points_of_two_lengths(shore: Page) -> None:
    page = shore
    press(page, "add wall[1].floor")
    says(page, lambda job: job["wall"][0].get("floor") == [[0, 0], ["3000 mm", 0]])
    press(page, "add wall[1].floor")
    says(page, lambda job: job["wall"][0]["floor"] == [[0, 0], ["1500 mm", 0], ["3000 mm", 0]])
    expect(field(page, "wall[1].floor[2][1]")).to_be_focused()
    no_error(page)
    field(page, "wall[1].floor[2][2]").fill("300 mm")
    says(page, lambda job: job["wall"][0]["floor"][1] == ["1500 mm", "300 mm"])
    field(page, "wall[1].floor[2][2]").fill("30 qm")
    wrong = page.locator(".field:focus-within .wrong")
    expect(wrong).to_contain_text("30 qm")
    finding = page.locator("#errors [data-level=error]").first
    finding.click()
    expect(field(page, "wall[1].floor[2][2]")).to_be_focused()
    press(page, "away wall[1].floor[2]")
    says(page, lambda job: job["wall"][0]["floor"] == [[0, 0], ["3000 mm", 0]])
    no_error(page)
    area = page.locator("[data-role=job-text]")
    area.fill(area.input_value().replace('[[0, 0], ["3000 mm", 0]]', '[[0, 0], ["2 m", 0]]'))
    expect(field(page, "wall[1].floor[2][1]")).to_have_value("2 m")
    told = page.locator('fieldset[data-list="wall[1].floor"] > .wrong')
    expect(told).to_contain_text("does not run")
    area.fill(area.input_value().replace("2 m", "3 m"))
    no_error(page)
    field(page, "climate.temperature[2]").fill("28")  # half a range is none, and is told
    expect(page.locator("#errors [data-level=error]")).to_have_count(1)
    field(page, "climate.temperature[1]").fill("10")
    says(page, lambda job: job.get("climate") == {"temperature": [10, 28]})
    no_error(page)
    press(page, "add wall[1].outline")
    says(page, lambda job: job["wall"][0].get("outline") == [[0, "2400 mm"], ["3000 mm", "2400 mm"]])


def slowly(route: Route) -> None:
    """Answer as a busy server does."""
    sleep(0.7)
    route.continue_()


def test_a_piece_that_goes_leaves_its_pairs(shore: Page) -> None:
    page = shore
    area = page.locator("[data-role=job-text]")
    pairs = 'arrange = "cluster"\nnear = [["Gull", "Tern"]]\napart = [["Gull", "Coil"], ["Tern", "Coil"]]\n'
    area.fill(JOB + pairs)
    no_error(page)
    press(page, "away piece")
    page.get_by_role("button", name="Take it away").click()
    says(page, lambda job: job["wall"][0]["pieces"] == ["Tern", "Coil"])
    wall = text_of(page)["wall"][0]
    assert "near" not in wall
    assert wall["apart"] == [["Tern", "Coil"]]
    no_error(page)


def test_what_is_typed_stays_when_an_earlier_answer_comes(shore: Page) -> None:
    page = shore
    page.route("**/api/edit", slowly)
    width = field(page, "piece[1].image.width")
    width.fill("13 cm")
    page.evaluate("import('/static/job.js').then(({ tell }) => tell('answer'))")  # of the text before
    page.wait_for_timeout(100)
    expect(width).to_have_value("13 cm")
    says(page, lambda job: job["piece"][0]["image"] == {"width": "13 cm"})
    expect(width).to_have_value("13 cm")


def test_a_button_stays_under_the_pointer_that_presses_it(shore: Page) -> None:
    page = shore
    field(page, "wall[1].gap").focus()  # its words stand open above what follows
    expect(page.locator(".field.here")).to_have_count(1)
    group = page.locator('[data-act="add wall[1].group"]')
    group.scroll_into_view_if_needed()
    box = group.bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + 2)
    page.mouse.down()
    page.wait_for_timeout(200)
    assert group.bounding_box() == box
    page.mouse.up()
    says(page, lambda job: len(job["wall"][0].get("group", ())) == 1)


def test_a_place_is_put_and_taken_away_by_name(shore: Page) -> None:
    page = shore
    page.locator('details[data-title="wall[1]"] > summary').click()
    page.locator('details[data-title="More of wall[1]"] > summary').click()
    page.locator('[data-act="add wall[1].at"]').select_option("Tern")
    says(page, lambda job: set(job["wall"][0].get("at", {}).get("Tern", ())) == {"bottom"})
    no_error(page)
    field(page, "wall[1].at.Tern.left").fill("40 cm")
    says(page, lambda job: job["wall"][0]["at"]["Tern"].get("left") == "40 cm")
    press(page, "away wall[1].at.Tern")
    says(page, lambda job: "at" not in job["wall"][0])


def test_a_new_name_goes_to_all_that_names_it_in_one_step(shore: Page) -> None:
    page = shore
    before = page.locator("[data-role=job-text]").input_value()
    page.locator("#pieces [role=tab]", has_text="Tern").click()
    name = field(page, "piece[2].name")
    name.fill("Sea tern")
    name.press("Enter")
    says(page, lambda job: job["wall"][0]["pieces"] == ["Gull", "Sea tern", "Coil"])
    expect(page.locator("#pieces [aria-selected=true]")).to_have_text("Sea tern")
    expect(page.locator("[data-role=front] svg")).to_have_attribute("aria-label", "Sea tern")
    page.locator("#undo").click()
    expect(page.locator("[data-role=job-text]")).to_have_value(before)
    name.fill("Coil")
    name.press("Enter")
    expect(page.locator(".field:focus-within .wrong")).to_contain_text('there is "Coil" already')
    expect(page.locator("[data-role=job-text]")).to_have_value(before)


def test_a_frame_and_a_board_get_names_and_stay_open(shore: Page) -> None:
    page = shore
    for was, to in (("frame.ash", "oak"), ("board.fog", "sea mist")):
        page.locator(f'details[data-title="{was}"] > summary').click()
        name = field(page, was)
        expect(name).to_have_value(was.split(".")[1])
        name.fill(to)
        name.press("Tab")
    says(page, lambda job: [piece["frame"] for piece in job["piece"]] == ["oak"] * 3)
    says(page, lambda job: [piece.get("mat") for piece in job["piece"]] == ["sea mist", ["sea mist"], None])
    expect(field(page, "frame.oak.takes")).to_be_visible()
    expect(page.get_by_label("Name").and_(page.locator("[data-own='sea mist']"))).to_have_value("sea mist")
    no_error(page)
    page.locator("#undo").click()
    says(page, lambda job: list(job["board"]) == ["fog"])
    page.locator("#undo").click()
    expect(page.locator("[data-role=job-text]")).to_have_value(JOB)


def test_a_fault_of_a_piece_without_a_picture_shows_its_fields(shore: Page) -> None:
    page = shore
    area = page.locator("[data-role=job-text]")
    area.fill(area.input_value() + '\n[[piece]]\nname = "Whelk"\nframe = "ash"\nimage = { width = "20 c" }\n')
    page.locator("#errors [data-level=error]").first.click()
    expect(field(page, "piece[4].image.width")).to_be_focused()
    field(page, "piece[4].image.width").fill("200 mm")
    field(page, "piece[4].aspect").fill("1:1")
    no_error(page)
    expect(page.locator("#pieces [role=tab]")).to_have_count(4)
