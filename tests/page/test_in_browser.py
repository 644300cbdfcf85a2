"""The page in a real browser: what a person does there, and what the page shows then."""

from __future__ import annotations

import io
import re
import tomllib
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

import matplan
from matplan.pack import choice, pack_files
from tests.page.conftest import Served, shown
from tests.photographs import turned_jpeg

SCREENSHOT = Path(__file__).parents[2] / "gallery" / "page.png"


def text_of(page: Page) -> dict[str, Any]:
    return tomllib.loads(page.locator("[data-role=job-text]").input_value())


def revision(page: Page) -> int:
    return int(page.locator("[data-role=front]").get_attribute("data-revision") or 0)


def grown(page: Page, before: int) -> None:
    """Wait until the picture of a newer text is there."""
    expect(page.locator("[data-role=front]")).not_to_have_attribute("data-revision", str(before))


def field(page: Page, key: str) -> Any:
    return page.locator(f'[data-role=field][data-key="{key}"]')


def handle(page: Page, key: str, side: str) -> Any:
    return page.locator(f'[data-role=handle][data-key="{key}"][data-side={side}]').first


def test_the_first_minute(chromium: Browser, serve: Callable[..., Served], tmp_path: Path) -> None:
    """From an empty page to a framed picture: drop a photo, choose one of the pictures."""
    served = serve()
    photo = turned_jpeg(tmp_path / "quay at dawn.jpg", 1500, 1000)
    context = chromium.new_context()
    page = context.new_page()
    page.goto(served.address)
    expect(page.locator("[data-role=drop]")).to_be_visible()
    page.locator("[data-role=drop] input[type=file]").set_input_files([photo])  # 1
    expect(page.locator("[data-role=choice]").first).to_be_visible()
    page.locator("[data-role=choice]").nth(1).click()  # 2
    expect(page.locator("[data-role=front] svg")).to_be_visible()
    expect(page.locator("[data-role=choice]").nth(1)).to_have_attribute("aria-pressed", "true")
    job = tmp_path / "framing" / "job.toml"
    assert job.exists()
    assert (tmp_path / "framing" / "photos" / "quay-at-dawn.jpg").read_bytes() == photo.read_bytes()
    (piece,) = text_of(page)["piece"]
    assert piece["photo"] == "photos/quay-at-dawn.jpg"
    page.locator("[data-role=drop] input[type=file]").set_input_files([photo])  # the same again: no second file
    expect(page.locator("#pieces [role=tab]")).to_have_count(2)
    assert len(list((tmp_path / "framing" / "photos").iterdir())) == 1
    page.locator("[data-role=save]").click()
    expect(page.locator("#state")).to_have_text("")
    assert matplan.plan(matplan.read_job(job)).pieces[0].name == "quay at dawn"
    context.close()


def test_what_is_no_photo_is_told_and_the_others_are_framed(
    chromium: Browser, serve: Callable[..., Served], tmp_path: Path
) -> None:
    """An empty page tells no fault and asks for nothing but photos; of what is dropped, each photo is a piece."""
    served = serve()
    files = [
        turned_jpeg(tmp_path / name, *size) for name, size in (("tall.jpg", (900, 600)), ("wide.jpg", (400, 1600)))
    ]
    (tmp_path / "notes.txt").write_text("no photo", encoding="utf-8")
    page = chromium.new_context().new_page()
    page.goto(served.address)
    expect(page.locator("[data-role=drop]")).to_contain_text("Each photo becomes one framed picture")
    expect(page.locator("#form .adding")).to_be_visible()
    expect(page.locator("#errors li")).to_have_count(0)
    expect(field(page, "piece[1].name")).to_have_count(0)
    page.locator("[data-role=drop] input[type=file]").set_input_files([files[0], tmp_path / "notes.txt", files[1]])
    expect(page.locator("#pieces [role=tab]")).to_have_text(["tall", "wide"])
    expect(page.locator("#told")).to_contain_text('Not taken: "notes.txt"')
    expect(page.locator("#state")).to_have_text("")
    expect(page.locator("#told")).to_contain_text("notes.txt")  # saved meanwhile, and still told
    expect(field(page, "piece[2].name")).to_have_value("wide")
    page.locator("[data-role=job-text]").fill("title = [")
    expect(page.locator("#errors [data-level=error]")).to_have_count(1)
    page.context.close()


def test_form_and_text_are_in_step(page: Page) -> None:
    before = revision(page)
    field(page, "piece[1].image.width").fill("21 cm")
    grown(page, before)
    assert text_of(page)["piece"][0]["image"] == {"width": "21 cm"}
    assert "# upright" in page.locator("[data-role=job-text]").input_value()
    area = page.locator("[data-role=job-text]")
    before = revision(page)
    area.fill(area.input_value().replace("21 cm", "19 cm"))
    grown(page, before)
    expect(field(page, "piece[1].image.width")).to_have_value("19 cm")


def test_arrow_keys_go_by_the_step(page: Page) -> None:
    width = field(page, "piece[1].image.width")
    width.focus()
    before = revision(page)
    width.press("ArrowUp")
    grown(page, before)
    assert text_of(page)["piece"][0]["image"]["width"] == "20.1 cm"
    width.press("Shift+ArrowDown")
    expect(width).to_have_value("19.1 cm")


def test_an_edge_follows_the_hand_and_writes_its_key(page: Page) -> None:
    before = revision(page)
    edge = handle(page, "piece[1].image.width", "right")
    box = edge.bounding_box()
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.mouse.down()
    page.mouse.move(box["x"] + box["width"] / 2 + 10, box["y"] + box["height"] / 2, steps=4)
    expect(page.locator(".ghost")).to_have_count(1)
    page.mouse.up()
    grown(page, before)
    assert float(text_of(page)["piece"][0]["image"]["width"].split()[0]) > 200
    expect(page.locator(".ghost")).to_have_count(0)
    page.locator("[data-role=undo]").click()  # the whole pull is one step
    expect(field(page, "piece[1].image.width")).to_have_value("20 cm")


def test_a_number_shows_its_sum_and_its_terms(page: Page) -> None:
    number = page.locator("[data-role=front] .dimension").nth(1)
    number.locator("text").first.hover()
    expect(page.locator("[data-role=sum]")).to_contain_text(re.compile(r" mm = .+"))
    assert page.locator("[data-role=front] .lit").count() >= 2


def test_a_drawing_stays_under_the_hand_whatever_is_told(page: Page) -> None:
    page.set_viewport_size({"width": 820, "height": 1180})
    before = page.locator("[data-role=front]").bounding_box()
    page.evaluate("document.querySelector('#sum').textContent = 'A sum of many terms. '.repeat(9)")
    page.evaluate("document.querySelector('#told').textContent = 'What is told. '.repeat(30)")
    assert page.locator("[data-role=front]").bounding_box() == before


def test_an_empty_field_shows_what_is_usual_in_the_jobs_units(page: Page) -> None:
    expect(field(page, "piece[1].overlap")).to_have_attribute("placeholder", "3 mm")
    area = page.locator("[data-role=job-text]")
    area.fill(area.input_value().replace('units = "mm"', 'units = "in"'))
    expect(field(page, "piece[1].overlap")).to_have_attribute("placeholder", "1/8 in")
    expect(field(page, "piece[1].lift")).to_have_attribute("placeholder", "0")
    expect(field(page, "piece[1].spacer")).to_have_attribute("placeholder", "")


def test_findings_jump_to_field_and_line(page: Page) -> None:
    area = page.locator("[data-role=job-text]")
    area.fill(area.input_value().replace('"20 cm"', '"20 c"'))
    finding = page.locator("[data-role=finding][data-level=error]").first
    expect(finding).to_contain_text("20 c")
    expect(page.locator("#pieces [role=tab]")).to_have_count(
        2
    )  # the piece keeps its place and its last picture  # the other piece is still there
    finding.click()
    line = area.evaluate("area => area.value.slice(0, area.selectionStart).split('\\n').length")
    assert '"20 c"' in area.input_value().splitlines()[line - 1]


def test_undo_and_redo_with_keys(page: Page) -> None:
    before = revision(page)
    field(page, "piece[1].weight").fill("12 mm")
    grown(page, before)
    page.keyboard.press("Control+z")
    expect(field(page, "piece[1].weight")).to_have_value("")
    page.keyboard.press("Control+y")
    expect(field(page, "piece[1].weight")).to_have_value("12 mm")


def test_a_frame_is_dragged_on_the_wall_and_moved_by_keys(page: Page) -> None:
    frame = page.locator("[data-role=frame][data-piece=Gull]")
    frame.scroll_into_view_if_needed()
    box = frame.bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.mouse.down()
    page.mouse.move(box["x"] + box["width"] / 2 - 40, box["y"] + box["height"] / 2 - 30, steps=5)
    page.mouse.up()
    expect(page.locator("[data-role=job-text]")).to_have_value(re.compile("at = .*Gull"))
    place = text_of(page)["wall"][0]["at"]["Gull"]
    frame.focus()
    page.keyboard.press("ArrowRight")
    left = float(place["left"].split()[0])
    expect(page.locator("[data-role=job-text]")).to_have_value(re.compile(f'left = "{left + 1:g} mm"'))
    page.keyboard.press("Delete")
    expect(page.locator("[data-role=job-text]")).not_to_have_value(re.compile("at = .*Gull"))


def test_saving_asks_where_the_disk_has_changed(page: Page, job: Path) -> None:
    field(page, "piece[1].weight").fill("12 mm")
    expect(page.locator("#state")).to_have_text("not saved")
    theirs = job.read_text(encoding="utf-8").replace("Pier", "Quay")
    job.write_text(theirs, encoding="utf-8")
    expect(page.locator("#question")).to_be_visible()
    assert job.read_text(encoding="utf-8") == theirs
    page.get_by_role("button", name="Save mine over it").click()
    expect(page.locator("#state")).to_have_text("")
    assert 'weight = "12 mm"' in job.read_text(encoding="utf-8")


def test_another_editors_change_shows_at_once(page: Page, job: Path) -> None:
    job.write_text(job.read_text(encoding="utf-8").replace("20 cm", "22 cm"), encoding="utf-8")
    expect(field(page, "piece[1].image.width")).to_have_value("22 cm")


def test_nothing_is_lost_when_the_server_stops(chromium: Browser, serve: Callable[..., Served], job: Path) -> None:
    served = serve(str(job))
    for page in shown(chromium, served.address):
        field(page, "piece[1].weight").fill("12 mm")
        expect(page.locator("#state")).to_have_text("not saved")
        draft = job.with_name(".job.toml.draft")
        for _ in range(50):
            if draft.exists():
                break
            page.wait_for_timeout(100)
    assert served.stop() == 0
    assert "12 mm" not in job.read_text(encoding="utf-8")
    for page in shown(chromium, serve(str(job)).address):
        page.get_by_role("button", name="Take the draft").click()
        expect(field(page, "piece[1].weight")).to_have_value("12 mm")
        page.locator("[data-role=save]").click()
        expect(page.locator("#state")).to_have_text("")
        expect(page.locator("#told")).to_have_text("Saved.")
        assert not draft.exists()
        field(page, "piece[1].weight").fill("13 mm")
        expect(page.locator("#told")).to_have_text("")


def test_the_pack_is_the_command_lines(page: Page, job: Path) -> None:
    before = revision(page)
    field(page, "piece[1].image.width").fill("21 cm")
    grown(page, before)
    with page.expect_download() as download:
        page.locator("[data-role=pack]").click()
    plan = matplan.plan(matplan.parse_job(page.locator("[data-role=job-text]").input_value(), job.parent))
    with zipfile.ZipFile(io.BytesIO(download.value.path().read_bytes())) as folder:
        assert {name: folder.read(name) for name in folder.namelist()} == dict(pack_files(plan, choice(plan.job, None)))


def test_every_drawing_is_on_a_tab(page: Page) -> None:
    page.locator('[data-role=document][data-file="cut/gull-layer1.svg"]').first.click()
    expect(page.locator("#other svg")).to_be_visible()
    expect(page.locator("#other svg")).to_have_attribute("aria-label", re.compile("Gull"))
    expect(page.locator("#files a").first).to_be_attached()


@pytest.mark.parametrize(("scheme", "width"), [("light", 1400), ("dark", 1400), ("light", 820), ("dark", 390)])
def test_axe_finds_nothing_serious_and_nothing_runs_out(
    scheme: str, width: int, chromium: Browser, serve: Callable[..., Served], job: Path
) -> None:
    context = chromium.new_context(color_scheme=scheme, viewport={"width": width, "height": 900})  # type: ignore[arg-type]
    page = context.new_page()
    page.goto(serve(str(job)).address)
    page.locator("[data-role=front] svg").wait_for()
    found = Axe().run(page).response["violations"]
    assert [(one["id"], one["nodes"][0]["target"]) for one in found if one["impact"] in ("serious", "critical")] == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    context.close()


def test_the_keyboard_alone_reaches_everything(page: Page) -> None:
    wanted = {"undo", "save", "pack", "field", "job-text", "handle", "frame", "document", "choice"}
    field(page, "piece[1].weight").fill("12 mm")  # so that undo and save are there to reach
    expect(page.locator("#state")).to_have_text("not saved")
    page.locator("h1").click()
    reached: set[str] = set()
    for _ in range(400):
        page.keyboard.press("Tab")
        role = page.evaluate("document.activeElement?.dataset?.role ?? ''")
        reached.add(str(role))
        if wanted <= reached:
            break
    assert wanted <= reached


def test_the_readmes_screenshot_is_current(chromium: Browser, serve: Callable[..., Served], tmp_path: Path) -> None:
    """The page of the gallery's first scenario; it is written where it is missing, and as large as it was."""
    from PIL import Image

    served = serve(str(SCREENSHOT.parent / "harbour-light" / "job.toml"))
    for page in shown(chromium, served.address):
        page.locator("[data-role=choice] image").first.wait_for(state="attached")
        page.wait_for_timeout(500)
        page.screenshot(path=tmp_path / "page.png")
    if not SCREENSHOT.exists():
        SCREENSHOT.write_bytes((tmp_path / "page.png").read_bytes())
    with Image.open(SCREENSHOT) as kept, Image.open(tmp_path / "page.png") as made:
        assert kept.size == made.size
        small = [picture.convert("L").resize((70, 50)) for picture in (kept, made)]
        far = sum(abs(a - b) > 48 for a, b in zip(*(picture.tobytes() for picture in small), strict=True))
    assert far < 70, "the page looks other than its picture: delete gallery/page.png and run this test again"
