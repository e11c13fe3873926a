"""A desk in this process, with one job; a test that needs another one makes its own."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from noonwater.app.demos import demo_text
from noonwater.app.store import Store
from noonwater.web.server import create_app


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    store = Store(tmp_path)
    yield store
    store.close()


@pytest.fixture
def desk(store: Store) -> Iterator[TestClient]:
    app = create_app(store)
    yield TestClient(app, base_url="http://localhost:8520", follow_redirects=False)
    app.state.work.close()


@pytest.fixture
def job(store: Store) -> str:
    return store.add(tomllib.loads(demo_text("lagoon-court"))).job
