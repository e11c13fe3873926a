"""The desk's server over HTTP: who may ask, what an edit gives, what a wrong call is told."""

from __future__ import annotations

import asyncio
import re
import socket
import tomllib
from concurrent.futures import ThreadPoolExecutor
from html import unescape
from html.parser import HTMLParser

import numpy as np
import pytest
from starlette.testclient import TestClient

from noonwater.app.demos import demo_text, demos
from noonwater.app.store import Store
from noonwater.web.guard import Guard
from noonwater.web.serve import listening
from noonwater.web.server import create_app
from noonwater.web.sheets import SHEETS
from tests.browser.desks import free_port

HERE = "http://localhost:8520"


class Ids(HTMLParser):
    """Gathers ids, labels and what a page loads."""

    def __init__(self) -> None:
        super().__init__()
        self.ids: list[str] = []
        self.labelled: list[str] = []
        self.loaded: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        held = dict(attrs)
        if held.get("id"):
            self.ids.append(str(held["id"]))
        if tag == "label" and "for" in held:
            self.labelled.append(str(held.get("for")))
        for key in ("src", "href"):
            if held.get(key) and tag != "a":
                self.loaded.append(str(held[key]))


@pytest.mark.parametrize("sheet", [sheet.key for sheet in SHEETS])
@pytest.mark.parametrize("name", [demo.name for demo in demos()])
def test_every_sheet_shows_every_demo(
    desk: TestClient, store: Store, sheet: str, name: str
) -> None:
    job = store.add(tomllib.loads(demo_text(name))).job
    reply = desk.get(f"/jobs/{job}/{sheet}")
    assert reply.status_code == 200
    read = Ids()
    read.feed(reply.text)
    assert len(read.ids) == len(set(read.ids))
    assert set(read.labelled) <= set(read.ids)
    assert all(path.startswith("/") and not path.startswith("//") for path in read.loaded)


def test_a_sample_begins_a_job(desk: TestClient, store: Store) -> None:
    reply = desk.post("/jobs", data={"sample": "almond-ranch"})
    assert reply.status_code == 303
    assert store.jobs()[0].name == "Almond Ranch"
    assert "Almond Ranch" in desk.get("/").text
    assert "No job of this kind yet." in desk.get("/?search=lagoon").text


def test_an_edit_gives_the_redrawn_desk(desk: TestClient, job: str) -> None:
    sent = {"base": 1, "changes": [{"field": "pool.area", "text": "12 m2"}]}
    answer = desk.post(f"/jobs/{job}/survey/edit", json=sent).json()
    assert answer["revision"] == 2
    assert 'value="12 m2"' in answer["html"]
    assert "= 129 ft²" in answer["html"]


def test_the_line_in_view_and_the_money_sheet_say_the_same_heat(desk: TestClient, job: str) -> None:
    said = re.findall(r"<dt>solar heat</dt><dd><b>([^<]+)</b>", desk.get(f"/jobs/{job}/money").text)
    assert len(said) == 2
    assert len(set(said)) == 1
    assert f"{said[0]} kWh in the year" in desk.get(f"/jobs/{job}/season").text


def test_a_heater_of_the_job_is_told_wherever_solar_is_held_against_none(
    desk: TestClient, store: Store
) -> None:
    tables = tomllib.loads(demo_text("lagoon-court"))
    tables["heater"] = {"kind": "gas", "capacity": "250000 Btu/h"}
    job = store.add(tables).job
    page = desk.get(f"/jobs/{job}/season").text
    assert " unheated)" in page
    assert '<th scope="col">without solar or heater, °F</th>' in page
    assert "against its heater" in page
    assert 'value="250000"' in (pad := desk.get(f"/jobs/{job}/pad").text)
    assert '<span class="unit">Btu/h</span>' in pad


def test_what_is_allowed_and_what_to_do_are_sentences(desk: TestClient, job: str) -> None:
    sent = {"base": 1, "changes": [{"field": "pump.program[0].purpose", "text": "cleaner"}]}
    html = unescape(desk.post(f"/jobs/{job}/controls/edit", json=sent).json()["html"])
    assert '"cleaner". Allowed: "filter", "clean", "spa". Did you mean "clean"?' in html


def test_an_address_without_its_words_is_told_by_a_page(desk: TestClient, job: str) -> None:
    page = desk.get(f"/jobs/{job}/compare", headers={"accept": "text/html"})
    assert page.status_code == 422
    assert "does not say rightly: one, other." in page.text
    assert desk.get(f"/jobs/{job}/compare").json()["detail"][0]["loc"] == ["query", "one"]


@pytest.mark.parametrize(
    ("field", "text", "said"),
    [
        ("pool.depth", " ", 'Missing. Allowed: a length with its unit, such as "32 ft" or "9.8 m"'),
        ("name", "", "Missing. Allowed: text."),
        ("pool.area", "1e9", '"1e9 ft2". Allowed: 10.77 ft² to 53810 ft².'),
        ("pool.area", "12\n13", '"12?13 ft2"'),
        ("roof[0].bearing", "SWW", 'such as "205 deg" or "SSW".'),
    ],
)
def test_odd_text_in_a_field_is_told_as_one_types_there(
    desk: TestClient, job: str, field: str, text: str, said: str
) -> None:
    sent = {"base": 1, "changes": [{"field": field, "text": text}]}
    sheet = "roof" if field.startswith("roof") else "survey"
    html = unescape(desk.post(f"/jobs/{job}/{sheet}/edit", json=sent).json()["html"])
    assert said in html
    assert "Add: " not in html


def test_a_compass_point_is_a_bearing(desk: TestClient, job: str) -> None:
    sent = {"base": 1, "changes": [{"field": "roof[0].bearing", "text": "SSW"}]}
    html = desk.post(f"/jobs/{job}/roof/edit", json=sent).json()["html"]
    assert 'value="SSW"' in html
    assert "= 202.5°" in html
    assert "faces southwest, 202°" in html or "faces south, 202°" in html


def test_a_bare_number_has_the_unit_of_its_column(desk: TestClient, store: Store, job: str) -> None:
    sent = {"base": 1, "changes": [{"field": "pool.area", "text": " 500 "}]}
    answer = desk.post(f"/jobs/{job}/survey/edit", json=sent).json()
    assert store.state(job).tables["pool"]["area"] == "500 ft2"
    assert 'value="500"' in answer["html"]


def test_us_and_si_switch_without_drift(desk: TestClient, store: Store, job: str) -> None:
    before = store.state(job).tables
    for number, units in enumerate(["SI", "US", "SI", "US"], start=1):
        sent = {"base": number, "changes": [{"field": "units", "text": units}]}
        assert desk.post(f"/jobs/{job}/survey/edit", json=sent).json()["revision"] == number + 1
    assert store.state(job).tables == before


def test_a_wrong_field_is_told_beside_it_and_the_rest_computes(desk: TestClient, job: str) -> None:
    sent = {"base": 1, "changes": [{"field": "pool.area", "text": "<img src=x onerror=alert(1)>"}]}
    html = desk.post(f"/jobs/{job}/survey/edit", json=sent).json()["html"]
    assert "Allowed: an area with its unit" in html
    assert "<img" not in html
    assert "a clear day adds" in html


def test_a_conflict_is_reported_with_both_texts(desk: TestClient, job: str) -> None:
    for text in ("40 m2", "50 m2"):
        sent = {"base": 1, "changes": [{"field": "pool.area", "text": text}]}
        answer = desk.post(f"/jobs/{job}/survey/edit", json=sent).json()
    told = {"field": "pool.area", "yours": "50 m2", "theirs": "40 m2"}
    assert answer["conflicts"] == [{**told, "name": "Pool: water surface"}]
    assert answer["revision"] == 2


@pytest.mark.parametrize("number", [-1, 0, 99, 10**30])
def test_a_revision_that_there_is_not_is_told(desk: TestClient, job: str, number: int) -> None:
    sent = {"base": number, "changes": []}
    back = desk.post(f"/jobs/{job}/back", data={"number": str(number)})
    found = [desk.get(f"/jobs/{job}/survey?revision={number}"), back,
             desk.post(f"/jobs/{job}/survey/edit", json=sent)]  # fmt: skip
    assert [reply.status_code for reply in found] == [404, 404, 404]


def test_a_sign_cut_in_half_is_kept_as_a_mark(desk: TestClient, store: Store, job: str) -> None:
    sent = '{"base": 1, "changes": [{"field": "name", "text": "cut \\ud83d"}]}'
    told = {"content-type": "application/json"}
    reply = desk.post(f"/jobs/{job}/survey/edit", content=sent, headers=told)
    assert reply.status_code == 200
    assert store.state(job).tables["name"] == "cut \ufffd"


def test_the_job_file_comes_out_as_typed(desk: TestClient, store: Store, job: str) -> None:
    reply = desk.get(f"/jobs/{job}/file")
    assert 'filename="lagoon-court.toml"' in reply.headers["content-disposition"]
    assert tomllib.loads(reply.text) == store.state(job).tables


@pytest.mark.parametrize("path", ["/jobs/none/survey", "/jobs/none/head", "/jobs/none"])
def test_a_job_that_is_not_there_is_told(desk: TestClient, path: str) -> None:
    reply = desk.get(path)
    assert reply.status_code == 404
    assert "no job" in reply.json()["detail"]


def test_a_sheet_that_is_not_there_is_told(desk: TestClient, job: str) -> None:
    assert desk.get(f"/jobs/{job}/poem").status_code == 404


def test_another_site_and_another_name_are_kept_out(desk: TestClient, job: str) -> None:
    sent = {"base": 1, "changes": []}
    foreign = {"origin": "http://evil.example"}
    assert desk.post(f"/jobs/{job}/survey/edit", json=sent, headers=foreign).status_code == 403
    own = {"origin": HERE}
    assert desk.post(f"/jobs/{job}/survey/edit", json=sent, headers=own).status_code == 200
    assert desk.get("/", headers={"host": "rebound.example:8520"}).status_code == 421


def test_from_outside_only_the_token_s_holder_gets_in(store: Store) -> None:
    app = create_app(store, Guard(("192.0.2.7",), "secret"))
    phone = TestClient(app, base_url="http://192.0.2.7:8520", follow_redirects=False)
    assert phone.get("/").status_code == 401
    assert phone.get("/?token=wrong").status_code == 401
    opened = phone.get("/?token=secret")
    assert opened.status_code == 303
    assert "token" not in opened.headers["location"]
    assert phone.get("/").status_code == 200


def test_every_answer_says_that_nothing_foreign_may_load(desk: TestClient, job: str) -> None:
    policy = desk.get(f"/jobs/{job}/survey").headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "script-src 'self';" in policy


def test_the_year_comes_as_raw_floats_in_the_job_s_units(desk: TestClient, job: str) -> None:
    raw = np.frombuffer(desk.get(f"/jobs/{job}/hours.f32?revision=1").content, "<f4")
    pool, without, air, heat, pump = raw.reshape(5, 8760)
    assert 60.0 < pool.mean() < 110.0
    assert pool.mean() > without.mean() > air.mean()
    assert heat.min() > -5.0
    assert pump.max() > 0.3


def test_a_day_comes_in_its_steps_as_raw_floats(desk: TestClient, job: str) -> None:
    raw = np.frombuffer(desk.get(f"/jobs/{job}/day.f32?revision=1&day=119").content, "<f4")
    pool, start, sensor, panels, air, heat, power, mode = raw.reshape(8, 288)
    assert start - pool == pytest.approx(9.0, abs=1e-3)
    assert sensor.max() > panels[mode == 1.0].max() > air.min()
    assert set(mode) <= {0.0, 1.0, 2.0, 3.0}
    assert heat[mode == 1.0].max() > 5.0
    assert power.max() == pytest.approx(1.7, abs=0.3)
    assert desk.get(f"/jobs/{job}/day.f32?day=365").status_code == 422


@pytest.mark.parametrize(("sheet", "both"), [("season", 2), ("pad", 4)])
def test_only_the_drawing_for_the_screen_is_made(
    desk: TestClient, job: str, sheet: str, both: int
) -> None:
    address = f"/jobs/{job}/{sheet}"
    counts = []
    for width in ("", "wide", "narrow", "<b>"):
        page = desk.get(address, headers={"cookie": f"noonwater-width={width}"}).text
        counts.append(page.count('<div class="drawing'))
    assert counts == [both, both // 2, both // 2, both]


def test_an_answer_does_not_wait_for_the_browser_to_acknowledge_its_first_piece() -> None:
    async def delayed() -> bool:
        listener = listening("127.0.0.1", free_port())
        found: asyncio.Future[bool] = asyncio.get_running_loop().create_future()

        def begun(_reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
            line = writer.get_extra_info("socket")
            found.set_result(not line.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY))
            writer.close()

        server = await asyncio.start_server(begun, sock=listener)
        async with server:
            _reader, writer = await asyncio.open_connection(*listener.getsockname())
            writer.close()
            return await found

    # In a thread of its own: a browser test in this process leaves a loop running.
    with ThreadPoolExecutor(1) as thread:
        assert not thread.submit(asyncio.run, delayed()).result()
