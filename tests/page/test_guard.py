"""Who comes in: the page alone, with bodies of a fair size; nothing is ever a 500."""

from __future__ import annotations

from pathlib import Path

import pytest

from matplan.page.guard import MOST
from tests.page.client import JOB, PORT, browser, desk


@pytest.mark.parametrize(
    "heads",
    [
        {"host": "evil.example"},
        {"host": f"evil.example:{PORT}"},
        {"host": "127.0.0.1"},
        {"host": f"127.0.0.1:{PORT + 1}"},
        {"origin": "null"},
        {"origin": "https://evil.example"},
        {"origin": f"http://127.0.0.1:{PORT + 1}"},
        {"origin": f"https://127.0.0.1:{PORT}"},
    ],
)
def test_a_foreign_page_gets_nothing(heads: dict[str, str], tmp_path: Path) -> None:
    with browser(desk(tmp_path), **heads) as page:
        for answer in (page.get("/"), page.post("/api/plan", content=JOB), page.get("/static/page.js")):
            assert answer.status_code == 403
            assert answer.json()["errors"][0]["text"]


@pytest.mark.parametrize("heads", [{}, {"origin": f"http://127.0.0.1:{PORT}"}])
def test_the_page_itself_comes_in(heads: dict[str, str], tmp_path: Path) -> None:
    with browser(desk(tmp_path), **heads) as page:
        assert page.get("/").status_code == 200
        assert page.post("/api/plan", content=JOB).status_code == 200


def test_a_body_that_is_too_large_is_refused(tmp_path: Path) -> None:
    with browser(desk(tmp_path)) as page:
        assert page.post("/api/plan", content=b"#" * (MOST + 1)).status_code == 413
        assert page.post("/api/plan", content=(b"#" * 1000 for _ in range(MOST // 1000 + 1))).status_code == 413
        assert page.post("/api/plan", content=b"#" * MOST).status_code == 422


def test_wrong_methods_and_addresses(tmp_path: Path) -> None:
    with browser(desk(tmp_path)) as page:
        assert page.get("/api/plan").status_code == 405
        assert page.post("/").status_code == 405
        assert page.get("/nothing").status_code == 404
        assert page.get("/static/..%2fapp.py").status_code == 404
        assert page.get("/static/nothing.js").status_code == 404
        assert page.get("/api/document?revision=x&file=../../etc/passwd").status_code == 404


def test_the_policy_lets_no_inline_script_and_no_other_host_in(tmp_path: Path) -> None:
    with browser(desk(tmp_path)) as page:
        answer = page.get("/")
    policy = answer.headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "script-src 'self'" in policy
    assert "unsafe" not in policy
    assert "http" not in policy
    assert "<script>" not in answer.text
    assert "style=" not in answer.text


@pytest.mark.parametrize(
    "body", [b"\xff\xfe", b"\x00", b"= =", b"[[piece]]\nname = 3", b"", b"piece = 1", b"a.b.c = {}"]
)
def test_a_text_that_is_no_job_is_data_not_a_failure(body: bytes, tmp_path: Path) -> None:
    with browser(desk(tmp_path)) as page:
        answer = page.post("/api/plan", content=body)
        assert answer.status_code == 422
        assert all(set(error) >= {"line", "where", "text"} for error in answer.json()["errors"])
        for address in ("/api/edit",):
            assert page.post(address, content=body).status_code == 422


@pytest.mark.parametrize("depth", [900, 100_000])
def test_a_body_that_is_nested_too_deeply_is_told(depth: int, tmp_path: Path) -> None:
    value = b"[" * depth + b"]" * depth
    with browser(desk(tmp_path)) as page:
        for body in (value, b'{"text": "", "edits": [{"key": "title", "value": ' + value + b"}]}"):
            answer = page.post("/api/edit", content=body)
            assert answer.status_code == 422
            assert "not your job's fault" not in answer.text


def test_a_fault_of_our_own_is_data_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    on = desk(tmp_path)

    def broken(*_: object, **__: object) -> None:
        raise RuntimeError("inside")

    monkeypatch.setattr(on, "answer", broken)
    with browser(on) as page:
        answer = page.post("/api/plan", content=JOB)
    assert answer.status_code == 422
    assert "not your job's fault" in answer.json()["errors"][0]["text"]
