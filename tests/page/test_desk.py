"""What the desk answers: everything at first, then what has changed."""

from __future__ import annotations

import io
import json
import zipfile
from pathlib import Path

import matplan
from matplan.job import parse_job
from matplan.pack import choice, pack_files
from tests.page.client import JOB, browser, desk


def test_fractions_in_lists_are_numbers_on_the_page(tmp_path: Path) -> None:
    text = JOB.replace('name = "Tern"', 'name = "Tern"\nshape = "polygon"\npoints = [[0.5, 0], [1, 1], [0, 1]]')
    with browser(desk(tmp_path, text)) as page:
        answer = page.post("/api/plan?since=0", content=text, headers={"content-type": "text/plain"})
    assert answer.status_code == 200
    assert answer.json()["values"]["piece[2].points"] == [[0.5, 0], [1, 1], [0, 1]]


def test_without_a_revision_everything_is_there(tmp_path: Path) -> None:
    with browser(desk(tmp_path)) as page:
        body = page.post("/api/plan", content=JOB, headers={"content-type": "text/plain"}).json()
    plan = matplan.plan(parse_job(JOB, tmp_path))
    assert body["plan"] == json.loads(json.dumps(matplan.plan_json(plan)))
    assert body["errors"] == []
    assert set(body["pictures"]) == {"front/gull.svg", "front/tern.svg", "wall/hall.svg"}
    files = dict(pack_files(plan, choice(plan.job, ["front", "wall"])))
    assert body["pictures"]["front/gull.svg"].encode() == files["front/gull.svg"]
    assert body["values"]["piece[1].image"] == "200 x 300 mm"
    assert body["lines"]["piece[1].image"] == JOB.splitlines().index('image = "200 x 300 mm"      # upright') + 1
    assert "opening width" in {one["what"] for one in body["sums"]["gull"]}


def test_with_a_revision_only_what_changed_is_there(tmp_path: Path) -> None:
    with browser(desk(tmp_path)) as page:
        first = page.post("/api/plan", content=JOB).json()
        same = page.post(f"/api/plan?since={first['revision']}", content=JOB).json()
        assert same["revision"] > first["revision"]
        assert (same["pictures"], same["plan"]["pieces"], same["sums"]) == ({}, [], {})
        text = JOB.replace("240 x 180", "241 x 180")
        other = page.post(f"/api/plan?since={same['revision']}", content=text).json()
    assert [piece["file"] for piece in other["plan"]["pieces"]] == ["tern"]
    assert other["order_of_pieces"] == ["gull", "tern"]
    assert set(other["pictures"]) == {"front/tern.svg", "wall/hall.svg"}


def test_only_the_drawings_in_view_are_made(tmp_path: Path) -> None:
    with browser(desk(tmp_path)) as page:
        first = page.post("/api/plan", content=JOB).json()
        text = JOB.replace("ash", "oak").replace('"20 mm"', '"21 mm"')
        shown = page.post(f"/api/plan?since={first['revision']}&show=cut/gull-layer1.svg", content=text).json()
    assert set(shown["pictures"]) == {"cut/gull-layer1.svg"}


def test_a_slip_in_one_piece_leaves_the_others(tmp_path: Path) -> None:
    with browser(desk(tmp_path)) as page:
        first = page.post("/api/plan", content=JOB).json()
        answer = page.post(f"/api/plan?since={first['revision']}", content=JOB.replace("240 x 180 mm", "240 x"))
    assert answer.status_code == 422
    body = answer.json()
    assert [(error["line"], error["where"]) for error in body["errors"]] == [(16, "piece[2].image")]
    assert body["order_of_pieces"] == ["gull"]


def test_sheets_come_later_and_the_newest_text_alone(tmp_path: Path) -> None:
    text = JOB.replace("[[piece]]", '[board.white]\nsheets = [{ size = "800 x 1000 mm" }]\n[[piece]]', 1)
    on = desk(tmp_path)
    with browser(on) as page:
        first = page.post("/api/plan", content=JOB).json()
        second = page.post(f"/api/plan?since={first['revision']}", content=text).json()
        assert "cutting" not in second["plan"]
        found = page.get(f"/api/stock?revision={second['revision']}")
        assert found.status_code == 200
        assert found.json()["plan"]["cutting"][0]["used"] == {"800 x 1000 mm": 1}
        names = [one["file"] for one in page.get(f"/api/documents?revision={second['revision']}").json()["documents"]]
        assert "sheets/white-1.svg" in names
        sheet = page.get(f"/api/document?revision={second['revision']}&file=sheets/white-1.svg")
        assert sheet.headers["content-type"] == "image/svg+xml"
        assert page.get(f"/api/stock?revision={first['revision']}").status_code == 202


def test_the_pack_is_the_command_lines(tmp_path: Path) -> None:
    text = JOB.replace("200 x 300", "210 x 300")
    with browser(desk(tmp_path)) as page:
        served = page.get("/api/pack")
        revision = page.post("/api/plan", content=text).json()["revision"]
        edited = page.get(f"/api/pack?revision={revision}")
    for answer, said in ((served, JOB), (edited, text)):
        assert answer.headers["content-type"] == "application/zip"
        plan = matplan.plan(parse_job(said, tmp_path, "job.toml"))
        with zipfile.ZipFile(io.BytesIO(answer.content)) as folder:
            assert {name: folder.read(name) for name in folder.namelist()} == dict(
                pack_files(plan, choice(plan.job, None))
            )


def test_photos_outside_the_folder_are_not_read(tmp_path: Path) -> None:
    inner = tmp_path / "job"
    inner.mkdir()
    (tmp_path / "secret.jpg").write_bytes(b"x")
    text = JOB.replace('image = "200 x 300 mm"      # upright', 'photo = "../secret.jpg"\nimage = { width = "20 cm" }')
    with browser(desk(inner)) as page:
        (error,) = page.post("/api/plan", content=text).json()["errors"]
    assert error["where"] == "piece[1].photo"
    assert "folder" in error["text"]
