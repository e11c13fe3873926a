"""The telephone over HTTP: a call typed, held against the job, kept and taken out."""

from __future__ import annotations

import re
import time
import tomllib

import pytest
from starlette.testclient import TestClient

from noonwater.app.demos import demo_text
from noonwater.app.desk_telephone import at_this_hour
from noonwater.app.store import Store
from noonwater.app.telephone_kept import kept_calls
from noonwater.app.text import MONTH_NAMES

NOON = {"month": "Apr", "hour": "13:00", "sky": "clear", "pool": "70"}


@pytest.fixture
def job(store: Store) -> str:
    return store.add(tomllib.loads(demo_text("orchard-hill"))).job


def sheet(desk: TestClient, job: str, **told: str) -> str:
    reply = desk.get(f"/jobs/{job}/telephone", params={**NOON, **told})
    assert reply.status_code == 200
    return str(reply.text)


def causes(page: str) -> list[str]:
    section = page.partition('class="causes"')[2].partition("</ol>")[0]
    return re.findall(r"<b>(.*?)</b>", section)


def test_the_list_of_jobs_leads_to_the_telephone_with_one_touch(desk: TestClient, job: str) -> None:
    page = desk.get("/", params={"search": "orchard"}).text
    assert f'href="/jobs/{job}/telephone"' in page
    assert "Orchard Hill: Telephone" in desk.get(f"/jobs/{job}/telephone").text


def test_a_low_gauge_with_low_flow_is_the_suction_side(desk: TestClient, job: str) -> None:
    page = sheet(desk, job, gauge="14", flow="50 gpm", power="1160", speed="2700")
    assert causes(page)[0] == "Pump strainer or suction choked"
    assert "too low" in page
    assert "Ask next" in page
    # What can hurt stands beside the cause it belongs to.
    assert "Never run with a cover missing" in page


def test_any_unit_is_taken_and_what_was_typed_stays(desk: TestClient, job: str) -> None:
    us, si = (sheet(desk, job, gauge=text) for text in ("14 psi", "96.5 kPa"))
    assert causes(us) == causes(si)
    assert 'value="96.5 kPa"' in si


def test_wrong_input_is_told_beside_its_field_and_the_rest_counts(
    desk: TestClient, job: str
) -> None:
    page = sheet(desk, job, gauge="a lot", felt="no warmer", flow="9 furlongs", air="sometimes")
    row = page.partition('for="t-gauge"')[2].partition('class="row')[0]
    assert "Allowed:" in row
    assert 'value="a lot"' in row
    assert 'aria-invalid="true"' in row
    assert causes(page)
    assert page.count("Allowed:") >= 3


def test_text_that_would_act_as_markup_is_text(desk: TestClient, job: str) -> None:
    page = sheet(desk, job, gauge="<script>alert(1)</script>", sky="<b>clear</b>")
    assert "<script>alert" not in page
    assert "<b>clear" not in page


def test_a_call_is_kept_only_when_asked_and_can_be_shown_again_and_taken_out(
    desk: TestClient, store: Store, job: str
) -> None:
    told = {**NOON, "gauge": "14", "felt": "a little warmer", "flow": "much"}
    sheet(desk, job, gauge="14")
    assert kept_calls(store.shelf, job) == ()
    reply = desk.post(f"/jobs/{job}/telephone/keep", data=told)
    assert reply.status_code == 303
    assert "gauge=14" in reply.headers["location"]
    (call,) = kept_calls(store.shelf, job)
    assert dict(call.texts) == told
    assert "gauge at the filter 14 psi" in call.told
    assert "much" not in call.told
    page = desk.get(f"/jobs/{job}/telephone").text
    assert "Calls that were kept" in page
    assert "gauge at the filter 14 psi" in page
    desk.post(f"/jobs/{job}/telephone/{call.id}/drop")
    assert kept_calls(store.shelf, job) == ()


def test_an_empty_call_is_not_kept(desk: TestClient, store: Store, job: str) -> None:
    reply = desk.post(f"/jobs/{job}/telephone/keep", data=NOON)
    assert reply.status_code == 422
    assert kept_calls(store.shelf, job) == ()


def test_units_of_the_job(desk: TestClient, store: Store) -> None:
    job = store.add(tomllib.loads(demo_text("almond-ranch"))).job
    page = desk.get(f"/jobs/{job}/telephone", params={"gauge": "150"}).text
    row = page.partition('for="t-gauge"')[2].partition('class="row')[0]
    assert "kPa" in row
    assert "psi" not in row


def test_what_is_not_told_is_not_asked_twice(desk: TestClient, job: str) -> None:
    page = sheet(desk, job, gauge="14", lid="full of water")
    asked = page.partition('class="ask-next"')[2].partition("</ol>")[0]
    assert "gauge at the filter show" not in asked
    assert "pump&#39;s lid" not in asked


def test_a_sensor_told_by_its_resistance(desk: TestClient, store: Store) -> None:
    tables = tomllib.loads(demo_text("orchard-hill"))
    tables["controls"]["sensor_ohms"] = [
        {"temperature": "77 °F", "resistance": "10 kohm"},
        {"temperature": "122 °F", "resistance": "3.6 kohm"},
        {"temperature": "167 °F", "resistance": "1.5 kohm"},
    ]
    job = store.add(tables).job
    row = sheet(desk, job).partition('for="t-mismatch"')[2].partition('class="row')[0]
    assert "ohm" in row or "Ω" in row
    low, high = (
        float(each.replace(",", "")) for each in re.findall(r"([\d,]+) to ([\d,]+)", row)[0]
    )
    # The sensor should have 45 to 66 °C: between the table's rows of 25 and 75 °C.
    assert 1500.0 < low < high < 10_000.0
    dead = sheet(desk, job, mismatch="9000 kohm", felt="no warmer", calls="no")
    assert causes(dead)[0] == "Roof sensor or its wire dead"
    other = sheet(desk, job, mismatch="3600", sensor="60 °F", felt="no warmer", calls="no")
    assert "Controller reads the sensor by another table" in causes(other)[:2]


def test_a_call_by_a_program(desk: TestClient, job: str) -> None:
    told = {**NOON, "gauge": "14 psi", "flow": "50 gpm", "power": "1160 W", "speed": "2700 rpm"}
    reply = desk.post(f"/api/jobs/{job}/telephone", json={"told": told})
    assert reply.status_code == 200
    found = reply.json()["result"]
    assert found["causes"][0]["cause"] == "suction"
    assert "gauge" in found["causes"][0]["speaks_for"]
    gauge = found["readings"][0]
    assert 100e3 < gauge["low_Pa"] < gauge["high_Pa"] < 160e3
    assert sum(each["chance"] for each in found["causes"]) == pytest.approx(1.0, abs=0.2)
    fewer = {**NOON, "gauge": "14 psi"}
    asked = desk.post(f"/api/jobs/{job}/telephone", json={"told": fewer}).json()["result"]["ask"]
    assert len(asked) == 3
    assert asked[0]["reading"] not in fewer
    assert asked[0]["gain_bit"] >= asked[-1]["gain_bit"] - 0.02
    assert {each["cause"] for each in asked[0]["meanings"]} > {"suction"}


def test_a_program_is_told_every_fault_of_its_call(desk: TestClient, job: str) -> None:
    told = {"gauge": "high", "sky": "green", "moon": "full"}
    reply = desk.post(f"/api/jobs/{job}/telephone", json={"told": told})
    assert reply.status_code == 422
    assert {each["where"] for each in reply.json()["findings"]} == {"gauge", "sky", "moon"}
    assert desk.post(f"/api/jobs/{job}/telephone", json={"told": 3}).status_code == 422


@pytest.mark.parametrize(
    ("clock", "month", "hour"),
    [
        ("2026-07-04 14:20 summer", "Jul", "13:00"),
        ("2026-01-04 14:20", "Jan", "14:00"),
        ("2026-07-04 00:20 summer", "Jul", "23:00"),
    ],
)
def test_the_hour_of_now_is_standard_time(clock: str, month: str, hour: str) -> None:
    parsed = time.strptime(clock.removesuffix(" summer"), "%Y-%m-%d %H:%M")
    summer = time.struct_time((*parsed[:8], int(clock.endswith("summer"))))
    found = at_this_hour({"gauge": "14"}, summer)
    assert found == {"gauge": "14", "month": month, "hour": hour}


def test_a_touch_sets_month_and_hour(desk: TestClient, job: str) -> None:
    page = desk.get(f"/jobs/{job}/telephone", params={"now": "yes", "gauge": "14"}).text
    chosen = re.findall(r'<option value="([^"]+)" selected', page)
    assert len([each for each in chosen if each.endswith(":00")]) == 1
    assert set(chosen) & set(MONTH_NAMES)
    assert 'value="14"' in page
