"""Long work, prices and money over HTTP."""

from __future__ import annotations

import io
import re
import time
from pathlib import Path

import pytest
from openpyxl import load_workbook
from pypdf import PdfReader
from starlette.testclient import TestClient

from noonwater.app.answer_shape import plain_values
from noonwater.app.demos import FOLDER, demo_text
from noonwater.app.desk import View
from noonwater.app.search_answer import answer_search
from noonwater.app.store import Store
from noonwater.app.work import Piece
from noonwater.web.long_shown import result_shown

PATIENCE = 120.0


def waited(desk: TestClient, address: str, key: str) -> dict[str, str]:
    end = time.monotonic() + PATIENCE
    while True:
        answer: dict[str, str] = desk.get(address, params={"key": key}).json()
        if answer["stage"] not in ("runs", "waits"):
            return answer
        assert time.monotonic() < end
        time.sleep(0.05)


def test_ranges_are_asked_for_and_found_again(desk: TestClient, job: str) -> None:
    address = f"/jobs/{job}/long/ranges"
    assert desk.get(address).json()["stage"] == "none"
    begun = desk.post(address).json()
    assert begun["stage"] in ("runs", "waits")
    done = waited(desk, address, begun["key"])
    assert done["stage"] == "done"
    assert "What matters most to it" in done["html"]
    assert "°F" in done["html"]
    ends = re.search(r"([\d,]+) to ([\d,]+) kWh of solar heat", done["html"])
    assert ends
    assert all(len(end.replace(",", "").rstrip("0")) <= 3 for end in ends.groups())
    assert desk.get(address).json()["html"] == done["html"]


def test_long_work_ends_when_told_to(desk: TestClient, job: str) -> None:
    address = f"/jobs/{job}/long/size"
    key = desk.post(address).json()["key"]
    assert desk.delete(address, params={"key": key}).json()["stage"] == "none"
    assert desk.get(address).json()["stage"] == "none"


def test_long_work_that_is_not_there_is_told(desk: TestClient, job: str) -> None:
    assert desk.get(f"/jobs/{job}/long/poem").status_code == 422
    assert desk.get(f"/jobs/{job}/long/poem", params={"key": "../x"}).status_code == 422
    assert desk.post(f"/jobs/{job}/long/batch").status_code == 422
    assert desk.get(f"/jobs/{job}/long/size/{20 * '0'}/none.svg").status_code == 404


def test_a_price_list_is_brought_in_kept_and_counts(
    desk: TestClient, store: Store, job: str
) -> None:
    own = FOLDER.joinpath("demo-prices.csv").read_bytes()
    sent = {"prices": ("../My prices.csv", own, "text/csv")}
    before = desk.get(f"/jobs/{job}/money").text
    reply = desk.post(f"/jobs/{job}/prices", files=sent)
    assert reply.status_code == 303
    assert store.state(job).tables["money"]["offer"]["file"] == "My-prices.csv"
    assert store.state(job).tables["money"]["offer"]["labour_rate"] == "70 USD/h"
    page = desk.get(f"/jobs/{job}/money").text
    assert "My-prices.csv: 40 rows read" in page
    assert "the owner pays" in page
    assert "pays back after" in page
    assert page.count("7,925") == before.count("7,925") > 0
    listed = desk.get(f"/jobs/{job}/prices.csv").text
    assert listed.startswith("part,size,unit,price")
    again = {"prices": ("filled.csv", listed.encode(), "text/csv")}
    assert desk.post(f"/jobs/{job}/prices", files=again).status_code == 303


def test_the_papers_price_by_the_list_that_is_kept_with_the_job(
    desk: TestClient, store: Store, job: str
) -> None:
    own = b'Part,Size,Sold by,Price\n"panel, tube 4x12",,each,1000\n'
    assert desk.post(f"/jobs/{job}/prices", files={"prices": ("own.csv", own)}).status_code == 303
    made = desk.get(f"/jobs/{job}/papers/proposal-en.pdf")
    text = " ".join(page.extract_text() for page in PdfReader(io.BytesIO(made.content)).pages)
    # Nine panels and the hours told, a quarter on top, tax on the parts.
    price = 1.25 * (9 * 1000.0 + 6 * 70.0) + 0.07 * 1.25 * 9 * 1000.0
    assert f"from ${price:,.0f}" in text
    sheet = load_workbook(io.BytesIO(desk.get(f"/jobs/{job}/parts.xlsx").content)).active
    rows = list(sheet.iter_rows(values_only=True))
    assert next(row for row in rows if row[1] == "Panel, tube 4x12")[6] == 1000.0


def test_a_paper_without_its_price_list_says_so_on_its_sheet(desk: TestClient, job: str) -> None:
    sent = {"base": 1, "changes": [{"field": "money.offer.file", "text": "elsewhere.csv"}]}
    assert desk.post(f"/jobs/{job}/money/edit", json=sent).status_code == 200
    assert "goes without a price list" in desk.get(f"/jobs/{job}/paper").text
    assert desk.get(f"/jobs/{job}/papers/proposal-en.pdf").status_code == 200


def test_a_price_list_that_is_none_is_told_and_not_kept(
    desk: TestClient, store: Store, job: str
) -> None:
    reply = desk.post(f"/jobs/{job}/prices", files={"prices": ("a.csv", b"x,y\n1,2\n")})
    assert reply.status_code == 422
    assert "no row of heads" in reply.json()["detail"]
    assert store.state(job).number == 1
    assert store.shelf.kept(job, "prices") == []


def test_a_price_list_that_was_not_brought_in_is_told(desk: TestClient, job: str) -> None:
    sent = {"base": 1, "changes": [{"field": "money.offer.file", "text": "elsewhere.csv"}]}
    html = desk.post(f"/jobs/{job}/money/edit", json=sent).json()["html"]
    assert "is not kept with this job" in html
    assert "the owner pays" in html


def test_a_search_s_systems_are_shown_and_one_begins_a_job(
    desk: TestClient, store: Store, job: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("noonwater.app.search_pool.os.cpu_count", lambda: 1)
    piece = Piece("search", "0" * 20)
    folder = tmp_path / "long" / piece.name / "results"
    text = demo_text("lagoon-court")
    (tmp_path / "lagoon.toml").write_text(text, encoding="utf-8")
    (tmp_path / "demo-prices.csv").write_bytes((FOLDER / "demo-prices.csv").read_bytes())
    answer = answer_search(tmp_path / "lagoon.toml", tries=50)
    files = [path.name for path in answer.write(folder)[1:]]
    result = plain_values({**answer.to_dict(), "chart": "<svg></svg>", "files": files})
    shown = str(result_shown(View(store.state(job)), piece, result))
    assert len(files) > 1
    for letter, name in zip("ABCDEFG", files, strict=False):
        assert f"Begin a job with system {letter}" in shown
        assert f"{piece.key}/{name}/begin" in shown
    store.shelf.keep(job, "prices", "mine.csv", b"kept")
    reply = desk.post(f"/jobs/{job}/long/search/{piece.key}/{files[0]}/begin")
    begun = reply.headers["location"].split("/")[2]
    assert store.entry(begun).name == "Lagoon Court A"
    assert store.shelf.kept(begun, "prices")[0].body == b"kept"
    state = store.state(begun)
    assert View(state).faults == ()
    assert desk.post(f"/jobs/{job}/long/search/{piece.key}/none.toml/begin").status_code == 404
