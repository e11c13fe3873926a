"""The store's file: damaged, newer, foreign or full is told, and nothing is overwritten."""

from __future__ import annotations

import sqlite3
import tomllib
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
import sqlalchemy as sql
from starlette.testclient import TestClient

from noonwater.app.demos import demo_text
from noonwater.app.job_edit import Change
from noonwater.app.store import FILE, Store
from noonwater.app.store_open import FORM, StoreTrouble
from noonwater.cli.main import main
from noonwater.core.errors import InputError
from noonwater.web.serve import listening
from noonwater.web.server import create_app
from tests.browser.desks import free_port

DEMO = tomllib.loads(demo_text("lagoon-court"))


def damaged(file: Path) -> None:
    file.write_bytes(b"SQLite no more" * 900)


def newer(file: Path) -> None:
    with closing(sqlite3.connect(file)) as connection:
        connection.execute(f"PRAGMA user_version = {FORM + 1}")
        connection.commit()


def foreign(file: Path) -> None:
    file.unlink()
    with closing(sqlite3.connect(file)) as connection:
        connection.execute("CREATE TABLE job (price REAL)")
        connection.commit()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    store = Store(tmp_path)
    store.add(DEMO)
    store.close()
    for side in ("-wal", "-shm"):
        assert not (tmp_path / f"{FILE}{side}").exists()
    return tmp_path


@pytest.mark.parametrize(
    ("harm", "words"),
    [(damaged, "is damaged"), (newer, "newer Noonwater"), (foreign, "another program")],
)
def test_what_can_not_be_opened_is_told_and_left_as_it_is(
    folder: Path,
    harm: Callable[[Path], None],
    words: str,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    file = folder / FILE
    harm(file)
    before = file.read_bytes()
    with pytest.raises(InputError, match=words):
        Store(folder)
    monkeypatch.setattr("uvicorn.Server.run", lambda *_, **__: pytest.fail("it serves"))
    code = main(["serve", "--quiet", "--port", str(free_port()), "--data", str(folder)])
    assert code == 2
    assert file.read_bytes() == before
    told = capsys.readouterr().err
    assert words in told
    assert "please report" not in told


def test_a_file_of_before_there_was_a_number_is_taken_and_marked(folder: Path) -> None:
    with closing(sqlite3.connect(folder / FILE)) as connection:
        connection.execute("PRAGMA user_version = 0")
        connection.execute("PRAGMA application_id = 0")
        connection.commit()
    store = Store(folder)
    assert store.jobs()[0].name == "Lagoon Court"
    store.close()
    with closing(sqlite3.connect(folder / FILE)) as connection:
        assert connection.execute("PRAGMA user_version").fetchone()[0] == FORM


def test_a_folder_that_can_not_be_made_is_told(tmp_path: Path) -> None:
    file = tmp_path / "a file"
    file.write_text("x", encoding="utf-8")
    with pytest.raises(InputError, match="a folder that can be written to"):
        Store(file)


def test_a_full_disk_is_told_and_what_was_saved_stays(folder: Path) -> None:
    store = Store(folder)
    job = store.jobs()[0].id

    @sql.event.listens_for(store.writer, "begin")
    def no_more_room(connection: Any) -> None:
        pages = connection.exec_driver_sql("PRAGMA page_count").scalar()
        connection.exec_driver_sql(f"PRAGMA max_page_count = {pages}")

    number = 1
    with pytest.raises(StoreTrouble, match="the disk is full: nothing was saved"):
        for number in range(1, 40):
            store.edit(job, number, [Change("pool.area", f"{400 + number} ft2")])
    assert store.entry(job).head == number
    desk = TestClient(create_app(store), base_url="http://localhost:8520")
    sent = {"base": number, "changes": [{"field": "pool.area", "text": "1 m2"}]}
    reply = desk.post(f"/jobs/{job}/survey/edit", json=sent)
    assert reply.status_code >= 400
    assert "make room" in reply.json()["detail"]
    assert desk.get(f"/jobs/{job}/survey").status_code == 200
    store.close()


@pytest.mark.parametrize("port", ["0", "65536", "-1"])
def test_a_port_that_there_is_not_is_told_so(
    port: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["serve", "--quiet", "--port", port, "--data", str(tmp_path)]) == 2
    told = capsys.readouterr().err
    assert "1 to 65535" in told
    assert "try --port" not in told


@pytest.mark.parametrize("host", ["0.0.0.0", "localhost", "127.0.0.1", "203.0.113.7"])
def test_an_address_that_no_phone_reaches_is_told_and_no_port_blamed(
    host: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    words = ["serve", "--quiet", "--port", str(free_port()), "--data", str(tmp_path)]
    assert main([*words, "--host", host]) == 2
    told = capsys.readouterr().err
    assert f"--host: {host}" in told
    assert "--port" not in told


def test_a_port_that_is_held_is_told_with_another(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    port = free_port()
    with closing(listening("127.0.0.1", port)):
        assert main(["serve", "--quiet", "--port", str(port), "--data", str(tmp_path)]) == 2
    assert f"try --port {port + 1}" in capsys.readouterr().err
