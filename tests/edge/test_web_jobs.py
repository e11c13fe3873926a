"""The pages beside the sheets over HTTP: jobs, six questions, revisions, plant, phone, files."""

from __future__ import annotations

import json
import re
import tomllib
from html import unescape
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from noonwater.app import plant
from noonwater.app.bring_in import KIND, bring_in
from noonwater.app.demos import demo_text
from noonwater.app.job_edit import Change
from noonwater.app.plant import photos, plant_of
from noonwater.app.store import Store
from noonwater.cli.main import main
from noonwater.web.guard import Guard
from noonwater.web.server import create_app

HERE = "http://localhost:8520"
THERE = "http://192.0.2.7:8520"
JPEG = b"\xff\xd8\xff\xe0" + b"0" * 50
LAGOON = demo_text("lagoon-court")


def test_jobs_are_staged_copied_archived_and_brought_back(
    desk: TestClient, store: Store, job: str
) -> None:
    assert desk.post(f"/jobs/{job}/stage", data={"stage": "offered"}).status_code == 303
    assert desk.post(f"/jobs/{job}/stage", data={"stage": "dreaming"}).status_code == 404
    assert re.search(r"<option[^>]*selected[^>]*>offered", desk.get("/").text)
    store.shelf.keep(job, "prices", "mine.csv", b"1")
    desk.post(f"/jobs/{job}/copy")
    copied = store.jobs("copy")[0].id
    assert [each.name for each in store.shelf.kept(copied, "prices")] == ["mine.csv"]
    assert "Lagoon Court (copy)" in desk.get("/?search=copy").text
    desk.post(f"/jobs/{job}/archive", data={"archived": "true"})
    assert store.entry(job).archived
    assert "Bring back" in desk.get("/?archived=true").text
    desk.post(f"/jobs/{job}/archive", data={"archived": "false"})
    assert len(store.jobs()) == 2


def test_a_job_file_with_faults_comes_in_and_each_is_told(desk: TestClient, store: Store) -> None:
    text = LAGOON.replace('"420 ft2"', '"much"').replace('name = "Lagoon', 'x = 1\nname = "New')
    reply = desk.post("/jobs/file", files={"file": ("a.toml", text.encode())})
    assert reply.status_code == 303
    page = desk.get(reply.headers["location"]).text
    assert "Typed, and not yet right (2)" in page
    assert 'value="much"' in page
    assert tomllib.loads(desk.get(f"/jobs/{store.jobs()[0].id}/file").text)["x"] == 1


def test_the_comments_of_a_file_that_was_brought_in_are_kept(
    desk: TestClient, store: Store, job: str
) -> None:
    raw = b"# measured with R. on Tuesday\r\n" + LAGOON.encode()
    reply = desk.post("/jobs/file", files={"file": ("a.toml", raw)})
    brought = reply.headers["location"].split("/")[2]
    store.edit(brought, 1, [Change("pool.area", "50 m2")])
    assert "with its comments" in desk.get(f"/jobs/{brought}/paper").text
    assert desk.get(f"/jobs/{brought}/brought").content == raw
    assert "with its comments" not in desk.get(f"/jobs/{job}/paper").text
    assert desk.get(f"/jobs/{job}/brought").status_code == 404


def test_what_is_no_file_of_ours_is_told_on_the_list(desk: TestClient, store: Store) -> None:
    for raw in (b"name = ", b"\xff\xfe", b"x" * 1_000_001):
        reply = desk.post("/jobs/file", files={"file": ("a.toml", raw)})
        assert reply.status_code == 422
        assert 'role="alert"' in reply.text
    assert store.jobs() == []


def test_six_answers_make_a_job_and_a_first_answer(desk: TestClient, store: Store) -> None:
    assert desk.get("/begin").text.count("<legend>") == 6
    wrong = desk.post("/begin", data={"area": "<b>big</b>", "panels": "8"})
    assert wrong.status_code == 422
    assert 'aria-invalid="true"' in wrong.text
    assert "<b>big" not in wrong.text
    reply = desk.post("/begin", data={"name": "Pine Street"})
    assert re.fullmatch(r"/jobs/\w+/first", reply.headers["location"])
    page = desk.get(reply.headers["location"])
    assert "Pine Street: a first answer" in page.text
    answer = desk.get(f"{reply.headers['location']}/range").json()
    ranges = re.findall(r"<td>([\d.,]+) to ([\d.,]+) ", answer["rows"])
    shown = re.findall(r"<b>([\d.,]+)</b>", answer["rows"])
    numbers = [[float(text.replace(",", "")) for text in (*ends, now)]
               for ends, now in zip(ranges, shown, strict=True)]  # fmt: skip
    assert len(numbers) == 4
    assert all(low <= now <= high for low, high, now in numbers)
    store.edit(store.jobs()[0].id, 1, [Change("pool.area", "20 m2")])
    assert desk.get(reply.headers["location"]).text.count(shown[0]) >= 1


def test_six_answers_from_abroad_are_led_by_words_to_a_first_answer(desk: TestClient) -> None:
    """A town by its name, then by its coordinates alone, then with its months."""
    answers = {"units": "SI", "place": "Adelaide", "opens": "10-15", "closes": "04-15"}
    told = desk.post("/begin", data=answers)
    assert told.status_code == 422
    assert "outside the United States latitude and longitude" in told.text
    answers["place"] = "-34.92, 138.62"
    told = desk.post("/begin", data=answers)
    assert told.status_code == 422
    assert "the town’s months beside it" in told.text
    answers |= {
        "air": "22.9, 22.9, 20.6, 17.7, 14.6, 12.2, 11.4, 12.3, 14.6, 16.9, 19.6, 21.5",
        "rain": "19, 13, 27, 41, 60, 80, 76, 68, 63, 47, 29, 29",
    }
    reply = desk.post("/begin", data=answers)
    page = desk.get(reply.headers["location"]).text
    assert "within some 15 %" in page
    for left_open in ("relative humidity", "wind at 10 m", "height above the sea"):
        assert left_open in page
    assert " to " in desk.get(f"{reply.headers['location']}/range").json()["rows"]
    survey = desk.get(reply.headers["location"].replace("first", "survey")).text
    assert 'data-field="weather.rain"' in survey


def test_a_job_of_another_beginning_has_no_first_answer(desk: TestClient, job: str) -> None:
    assert desk.get(f"/jobs/{job}/first").status_code == 422


def test_an_old_state_is_looked_at_and_not_typed_in(
    desk: TestClient, store: Store, job: str
) -> None:
    store.edit(job, 1, [Change("pool.area", "80 m2")])
    for sheet in ("survey", "roof", "pad"):
        page = desk.get(f"/jobs/{job}/{sheet}?revision=1").text
        assert 'disabled aria-label="Fields as they were"' in page
        assert "desk.js" not in page
    assert 'value="420"' in desk.get(f"/jobs/{job}/survey?revision=1").text
    assert "desk.js" in desk.get(f"/jobs/{job}/survey?revision=2").text
    assert desk.get(f"/jobs/{job}/survey?revision=7").status_code == 404


def test_two_states_are_compared_and_one_gone_back_to(
    desk: TestClient, store: Store, job: str
) -> None:
    store.edit(job, 1, [Change("pool.area", "80 m2")], tab="a")
    page = desk.get(f"/jobs/{job}/compare?one=1&other=2").text
    assert "420 ft2" in page
    assert "80 m2" in page
    assert re.search(r"solar heat.*?\+[\d,]+</td>", page, re.DOTALL)
    assert "Pool: water surface" in desk.get(f"/jobs/{job}/revisions").text
    assert desk.post(f"/jobs/{job}/back", data={"number": "1"}).status_code == 303
    assert store.state(job).tables == store.state(job, 1).tables
    assert store.entry(job).head == 3
    assert desk.post(f"/jobs/{job}/back", data={"number": "9"}).status_code == 404


def test_notes_of_the_plant_are_saved_and_a_conflict_told(
    desk: TestClient, store: Store, job: str
) -> None:
    assert desk.post(f"/jobs/{job}/plant", data={"roof.age": "12"}).status_code == 303
    other = desk.post(f"/jobs/{job}/plant", data={"roof.age": "20", "pump.age": "3"})
    assert other.status_code == 409
    assert "Written otherwise meanwhile: “12”" in unescape(other.text)
    assert plant_of(store, job) == {"roof.age": "12", "pump.age": "3"}
    again = {"seen roof.age": "12", "roof.age": "20"}
    assert desk.post(f"/jobs/{job}/plant", data=again).status_code == 303
    assert plant_of(store, job)["roof.age"] == "20"


def test_photos_are_shown_as_pictures_and_nothing_else_is_taken(
    desk: TestClient, store: Store, job: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = f"/jobs/{job}/plant"
    sent = {"photo": ("x.html", JPEG, "text/html")}
    assert desk.post(f"/jobs/{job}/photos", data={"part": "roof"}, files=sent).status_code == 303
    photo = photos(store, job)[0].id
    shown = desk.get(f"/jobs/{job}/photos/{photo}")
    assert shown.content == JPEG
    assert shown.headers["content-type"] == "image/jpeg"
    assert shown.headers["x-content-type-options"] == "nosniff"
    assert f"/jobs/{job}/photos/{photo}" in desk.get(page).text
    markup = {"photo": ("x.jpg", b"<script>alert(1)</script>", "image/jpeg")}
    refused = desk.post(f"/jobs/{job}/photos", data={"part": "roof"}, files=markup)
    assert refused.status_code == 422
    assert "JPEG, PNG or WebP" in refused.text
    monkeypatch.setattr("noonwater.web.routes_plant.LARGEST_PHOTO", 20)
    monkeypatch.setattr(plant, "LARGEST_PHOTO", 20)
    assert desk.post(f"/jobs/{job}/photos", data={"part": "roof"}, files=sent).status_code == 422
    desk.post(f"/jobs/{job}/photos/{photo}/remove")
    assert photos(store, job) == []


def test_a_code_lets_one_browser_in_and_a_new_one_shuts_it_out(store: Store) -> None:
    guard = Guard(("192.0.2.7",), "secret")
    app = create_app(store, guard)
    here = TestClient(app, base_url=HERE, follow_redirects=False)
    one, two = (TestClient(app, base_url=THERE, follow_redirects=False) for _ in range(2))
    code = here.get("/phone").text
    assert "<svg" in code
    assert "http://192.0.2.7:8520/?token=secret" in code
    assert one.get("/?token=secret").status_code == 303
    assert one.get("/").status_code == 200
    assert "secret" not in one.cookies.get("noonwater-token", "")
    refused = two.get("/?token=secret")
    assert refused.status_code == 401
    assert "make a new code" in refused.text
    assert two.get("/").status_code == 401
    assert one.get("/?token=secret").status_code == 303
    assert "secret" not in here.get("/phone").text
    assert one.post("/phone/code").status_code == 403
    assert here.post("/phone/code").status_code == 303
    assert guard.token not in ("", "secret")
    assert one.get("/").status_code == 401
    assert one.get("/?token=secret").status_code == 401
    assert two.get(f"/?token={guard.token}").status_code == 303


@pytest.mark.parametrize("token", ["", "ä", "secre", "secret2"])
def test_no_other_token_opens(store: Store, token: str) -> None:
    app = create_app(store, Guard(("192.0.2.7",), "secret"))
    phone = TestClient(app, base_url=THERE, follow_redirects=False)
    assert phone.get("/", params={"token": token}).status_code == 401


def test_who_calls_itself_this_machine_from_outside_stays_outside(store: Store) -> None:
    app = create_app(store, Guard(("192.0.2.7",), "secret"))
    phone = TestClient(app, base_url=THERE, follow_redirects=False)
    for name in ("localhost:8520", "127.0.0.1:8520", "localhost"):
        assert phone.get("/", headers={"host": name}).status_code == 401


def test_without_an_address_the_page_says_how_to_begin(desk: TestClient) -> None:
    assert "noonwater serve --host" in desk.get("/phone").text
    assert desk.post("/phone/code").status_code == 303


FOREIGN = re.compile(r"""(?:src|href|action)=["']|url\((?!["']?data:)|@import|https?://""")


@pytest.mark.parametrize(
    "name",
    [
        "survey-page",
        "along/winter-en",
        "along/winter-es",
        "along/commissioning-en",
        "along/owner-en",
        "along/permit-es",
        "telephone-page",
    ],
)
def test_a_page_to_take_along_is_one_small_file_that_asks_nobody(
    desk: TestClient, store: Store, job: str, name: str
) -> None:
    store.edit(job, 1, [Change("name", "</script><script>alert(1)</script>")])
    reply = desk.get(f"/jobs/{job}/{name}.html")
    assert reply.status_code == 200
    assert reply.headers["content-disposition"].startswith("attachment")
    assert len(reply.content) < 200_000
    # Names of SVG's own language are no addresses that anything is asked of.
    page = re.sub(r'xmlns(:\w+)?="[^"]*"', "", reply.text)
    assert FOREIGN.findall(page) == []
    assert "<script>alert" not in page
    assert "default-src &#39;none&#39;" in page or "default-src 'none'" in page


def test_every_paper_can_be_taken_along(desk: TestClient, job: str) -> None:
    links = re.findall(r'href="(/jobs/[^"]+-(?:en|es)\.html)"', desk.get(f"/jobs/{job}/along").text)
    assert len(links) >= 8
    assert desk.get(f"/jobs/{job}/along/poem-en.html").status_code == 422


def test_a_survey_page_s_conflicts_are_shown_and_taken(
    desk: TestClient, store: Store, job: str
) -> None:
    tables = store.state(job).tables
    store.edit(job, 1, [Change("pool.area", "40 m2")])
    held = {
        "kind": KIND, "format": 1, "page": "0123456789", "job": job, "base": 1, "tables": tables,
        "changes": [{"field": "pool.area", "text": "50 m2"}, {"field": "pool.depth", "text": "5"}],
    }  # fmt: skip
    sent = {"file": ("typed.json", json.dumps(held).encode())}
    reply = desk.post("/jobs/file", files=sent)
    assert reply.status_code == 200
    assert "50 m2" in reply.text
    assert "40 m2" in reply.text
    assert store.state(job).tables["pool"]["depth"] == "5 ft"
    taken = desk.post(f"/jobs/{job}/take", data={"base": "3", "take field pool.area": "50 m2"})
    assert taken.status_code == 303
    assert store.state(job).tables["pool"]["area"] == "50 m2"
    late = desk.post(f"/jobs/{job}/take", data={"base": "3", "take field pool.area": "60 m2"})
    assert "60 m2" in late.text
    assert store.state(job).tables["pool"]["area"] == "50 m2"


def test_a_page_of_a_job_file_comes_back_as_a_job(
    store: Store, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job, page = tmp_path / "my.toml", tmp_path / "page.html"
    job.write_text(LAGOON, encoding="utf-8")
    assert main(["survey", str(job), "--out", str(page)]) == 0
    text = page.read_text(encoding="utf-8")
    found = re.search(r'<script type="application/json" id="base">(.*?)</script>', text)
    assert found
    held = json.loads(found[1])
    held["changes"] = [{"field": "pool.area", "text": "480"}]
    brought = bring_in(store, json.dumps(held).encode())
    assert brought.begun
    assert brought.state.tables["pool"]["area"] == "480 ft2"
    assert main(["survey", str(job), "--out", str(tmp_path / "none" / "page.html")]) == 2
    assert "--out" in capsys.readouterr().err


def test_the_list_of_revisions_names_fields_as_the_sheets_do(
    desk: TestClient, store: Store, job: str
) -> None:
    store.edit(job, 1, [Change("pool.area", "80 m2"), Change("roof[1].pitch", "20 deg")], tab="a")
    page = desk.get(f"/jobs/{job}/revisions").text
    assert "Pool: water surface, Roof plane 2: pitch" in page
    assert "pool.area" not in page
