"""The desk while the engine is compiled: the sheet waits with words, all else answers."""

from __future__ import annotations

import threading
import time
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from noonwater.app import engine_start
from noonwater.app.demos import demo_text
from noonwater.app.engine_start import EngineStart
from noonwater.app.store import Store
from noonwater.web import server
from noonwater.web.engine_page import HEAD

PAGE = {"Accept": "text/html,application/xhtml+xml"}


@pytest.fixture
def go() -> Iterator[threading.Event]:
    event = threading.Event()
    yield event
    event.set()


@pytest.fixture
def desk(
    tmp_path: Path, go: threading.Event, monkeypatch: pytest.MonkeyPatch
) -> Iterator[TestClient]:
    monkeypatch.setattr(engine_start, "engine_is_compiled", lambda: False)
    monkeypatch.setattr(engine_start.gc, "freeze", lambda: None)
    monkeypatch.setattr(server, "EngineStart", lambda: EngineStart(lambda: go.wait(20.0)))
    store = Store(tmp_path)
    store.add(tomllib.loads(demo_text("lagoon-court")))
    yield TestClient(server.create_app(store), base_url="http://localhost:8520")
    store.close()


def test_a_sheet_opened_too_early_says_why_and_comes_afterwards(
    desk: TestClient, go: threading.Event
) -> None:
    listed = desk.get("/", headers=PAGE)
    assert "Lagoon Court" in listed.text
    job = desk.get("/api/jobs").json()[0]["id"]
    waiting = desk.get(f"/jobs/{job}/survey", headers=PAGE).text
    assert HEAD in waiting
    assert "0 of about" in waiting
    assert "<progress" in waiting
    assert desk.get("/engine").json()["ready"] is False
    assert desk.get(f"/jobs/{job}/head").json() == {"revision": 1}
    go.set()
    while not desk.get("/engine").json()["ready"]:
        time.sleep(0.01)
    assert HEAD not in desk.get(f"/jobs/{job}/survey", headers=PAGE).text
