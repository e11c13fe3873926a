"""Jobs, the six questions, revisions, plant and the pages to take along, as a person uses them."""

from __future__ import annotations

import json
import re
import struct
import time
import tomllib
import zlib
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Locator, Page, expect

from tests.browser.desks import PHONE, SLOW, WIDE, Desk, fits, ready

pytestmark = pytest.mark.browser


def png() -> bytes:
    """A picture of one dot."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        check = zlib.crc32(kind + data)
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", check)

    head = struct.pack(">IIBBBBB", 1, 1, 8, 2, 0, 0, 0)
    dot = zlib.compress(b"\x00\x0a\x5a\x88")
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", dot) + chunk(b"IEND", b"")


@pytest.fixture
def page(context: BrowserContext, desk: Desk) -> Page:
    page = context.new_page()
    page.goto(desk.address)
    return page


def job_of(page: Page, sample: str = "Lagoon Court") -> str:
    """Begin a job from a sample; gives its address."""
    page.get_by_role("button", name=sample, exact=True).click()
    page.wait_for_url("**/survey")
    ready(page)
    return page.url.removesuffix("/survey")


def of_job(page: Page, name: str) -> Locator:
    """A job's row in the list."""
    return page.get_by_role("row").filter(has=page.get_by_role("link", name=name, exact=True))


def fits_a_phone(page: Page) -> bool:
    page.set_viewport_size(PHONE)
    narrow = fits(page, PHONE["width"])
    page.set_viewport_size(WIDE)
    return narrow


def write_over(page: Page, text: str) -> None:
    """Type into the field that has the focus, over what stands there."""
    page.keyboard.press("Control+A")
    page.keyboard.type(text)


def test_six_questions_are_answered_by_keyboard_within_three_minutes(page: Page) -> None:
    begun = time.monotonic()
    page.get_by_role("link", name="A first job by six questions").focus()
    page.keyboard.press("Enter")
    page.wait_for_url("**/begin")
    ready(page)
    page.get_by_label("Weather station, or latitude and longitude").focus()
    answers = ["25.82, -80.30", "420", "4.5", "bubble", "84", "01-01", "12-31", "180", "4:12", "9",
               "tube 4x12", "variable medium"]  # fmt: skip
    for text in answers:
        if page.evaluate("document.activeElement.tagName") == "SUMMARY":
            page.keyboard.press("Tab")  # a place with a station needs no months
        if page.evaluate("document.activeElement.tagName") == "SELECT":
            page.keyboard.type(text)
        else:
            write_over(page, text)
        page.keyboard.press("Tab")
    expect(page.get_by_label("What the job is called")).to_be_focused()
    write_over(page, "Palm Lane")
    page.keyboard.press("Enter")
    page.wait_for_url("**/first")
    expect(page.get_by_text("The full survey moves these figures")).to_be_visible(timeout=SLOW)
    assert time.monotonic() - begun < 180.0
    water = page.get_by_role("row", name="water while open").inner_text()
    now, low, high = (int(text) for text in re.findall(r"\d+", water))
    assert low < now < high
    page.get_by_role("link", name="Go on to the survey").focus()
    page.keyboard.press("Enter")
    page.wait_for_url("**/survey")
    expect(page.get_by_label("Water surface", exact=True)).to_have_value("420")
    expect(page.locator("[data-field='pool.cover.kind']")).to_have_value("bubble")


def test_a_wrong_answer_is_told_at_its_question_and_the_rest_stays(page: Page) -> None:
    page.get_by_role("link", name="A first job by six questions").click()
    ready(page)
    page.get_by_label("Water surface").fill("512")
    page.get_by_label("Weather station, or latitude and longitude").fill("Atlantis")
    page.get_by_role("button", name="First answer").click()
    ready(page)
    place = page.get_by_label("Weather station, or latitude and longitude")
    expect(place).to_be_focused()
    expect(place).to_have_attribute("aria-invalid", "true")
    expect(page.get_by_text("no station “Atlantis”")).to_be_visible()
    expect(page.get_by_label("Water surface")).to_have_value("512")


def test_the_list_is_worked_by_label_and_role(page: Page, desk: Desk) -> None:
    job_of(page, "Almond Ranch")
    page.goto(desk.address)
    ready(page)
    with page.expect_navigation():
        page.get_by_label("Stage of Almond Ranch", exact=True).select_option("offered")
    ready(page)
    expect(page.get_by_label("Stage of Almond Ranch", exact=True)).to_have_value("offered")
    of_job(page, "Almond Ranch").get_by_role("button", name="Copy").click()
    of_job(page, "Almond Ranch (copy)").get_by_role("button", name="Archive").click()
    expect(page.get_by_role("link", name="Almond Ranch (copy)", exact=True)).to_have_count(0)
    page.get_by_role("link", name="Archived jobs").click()
    of_job(page, "Almond Ranch (copy)").get_by_role("button", name="Bring back").click()
    page.goto(desk.address)
    page.get_by_label("Find a job by name").fill("ranch copy")
    page.get_by_label("Find a job by name").press("Enter")
    expect(page.locator("table.jobs tbody tr")).to_have_count(1)


def test_a_file_with_faults_comes_in_and_leads_to_its_fields(
    page: Page, desk: Desk, tmp_path: Path
) -> None:
    address = job_of(page)
    text = page.request.get(f"{address}/file").text().replace('"420 ft2"', '"much"')
    file = tmp_path / "job.toml"
    file.write_text(text, encoding="utf-8")
    page.goto(desk.address)
    page.get_by_label("Job file, or what a survey page exported").set_input_files(file)
    page.get_by_role("button", name="Bring in").click()
    page.wait_for_url("**/survey")
    page.get_by_role("link", name="Pool: water surface", exact=True).click()
    field = page.get_by_label("Water surface", exact=True)
    expect(field).to_have_value("much")
    expect(field).to_be_in_viewport()


def test_revisions_are_listed_looked_at_compared_and_gone_back_to(page: Page) -> None:
    job_of(page)
    for label, text in (("Water surface", "800"), ("Mean depth", "5")):
        page.get_by_label(label, exact=True).fill(text)
        page.get_by_label(label, exact=True).press("Enter")
        expect(page.locator("#saved")).to_have_text("saved", timeout=SLOW)
    page.get_by_role("link", name="Revisions", exact=True).click()
    expect(
        page.get_by_role("row", name=re.compile("2 to 3 .*Pool: water surface, Pool: mean depth"))
    ).to_be_visible()
    page.get_by_role("button", name="Compare").click()
    expect(page.get_by_role("row", name="Water surface 420 ft2 800 ft2")).to_be_visible()
    page.go_back()
    page.get_by_role("link", name="Look at 1", exact=True).click()
    area = page.get_by_label("Water surface", exact=True)
    expect(area).to_have_value("420")
    expect(area).to_be_disabled()
    page.get_by_role("button", name="Go back to revision 1").click()
    page.wait_for_url("**/survey")
    expect(page.get_by_label("Water surface", exact=True)).to_have_value("420")
    expect(page.locator("#title-block")).to_have_attribute("data-revision", "4")


def test_plant_and_photos(page: Page) -> None:
    job_of(page)
    page.get_by_role("link", name="Plant", exact=True).click()
    ready(page)
    page.get_by_label("Roof: age").fill("12 years")
    page.reload()
    ready(page)
    expect(page.get_by_label("Roof: age")).to_have_value("12 years")
    page.get_by_label("Room for a further breaker").select_option("yes")
    page.get_by_role("button", name="Save notes").click()
    ready(page)
    expect(page.get_by_label("Roof: age")).to_have_value("12 years")
    expect(page.get_by_label("Room for a further breaker")).to_have_value("yes")
    picture = {"name": "pump.png", "mimeType": "image/png", "buffer": png()}
    page.get_by_label("Of", exact=True).select_option("pump")
    page.get_by_label("From the camera or a file").set_input_files([picture])  # type: ignore[list-item]
    page.get_by_role("button", name="Add", exact=True).click()
    shown = page.get_by_role("img", name="Pump, photo 1")
    expect(shown).to_be_visible()
    expect(shown).to_have_js_property("naturalWidth", 1)
    page.get_by_role("button", name="Take out photo 1").click()
    expect(shown).to_have_count(0)


def test_every_page_fits_a_phone(page: Page, desk: Desk) -> None:
    address = job_of(page, "Orchard Hill")
    long = {"field": "name", "text": "Schwimmbadsanierung" * 9, "act": "set"}
    sent = {"base": 1, "changes": [long]}
    assert page.request.post(f"{address}/survey/edit", data=sent).ok
    for way in ("/", "/begin", "/phone"):
        page.goto(desk.address + way)
        assert fits_a_phone(page), way
    for way in ("plant", "revisions", "along", "compare?one=1&other=1", "survey?revision=1"):
        page.goto(f"{address}/{way}")
        assert fits_a_phone(page), way


def saved_page(page: Page, address: str, name: str, folder: Path) -> str:
    """Take a page along; gives the address of its file."""
    file = folder / f"{name}.html"
    file.write_bytes(page.request.get(f"{address}/{name}.html").body())
    return file.as_uri()


def test_a_survey_page_works_from_a_file_and_comes_back(
    page: Page, context: BrowserContext, desk: Desk, tmp_path: Path
) -> None:
    address = job_of(page)
    file = saved_page(page, address, "survey-page", tmp_path)
    context.set_offline(True)
    asked: list[str] = []
    away = context.new_page()
    away.on("request", lambda request: asked.append(request.url))
    away.on("pageerror", lambda error: pytest.fail(str(error)))
    away.goto(file)
    assert fits_a_phone(away)
    away.get_by_label("Water surface", exact=True).fill("512")
    away.get_by_label("Mean depth", exact=True).fill("1.5 m")
    away.get_by_label("Roof: age").fill("12 years")
    months = away.locator("[data-list='pool.cover.months']")
    months.get_by_label("Oct", exact=True).check()
    away.get_by_role("button", name="Add roof plane").click()
    shed = away.locator("fieldset", has=away.get_by_text("Roof plane 3", exact=True))
    shed.locator("[data-field='roof[2].name']").fill("shed")
    shed.locator("[data-field='roof[2].pitch']").fill("10")
    shed.locator("[data-field='roof[2].pitch']").press("Tab")
    away.reload()
    expect(away.get_by_label("Water surface", exact=True)).to_have_value("512")
    expect(away.locator("[data-field='roof[2].name']")).to_have_value("shed")
    expect(months.get_by_label("Oct", exact=True)).to_be_checked()
    expect(away.get_by_label("Roof: age")).to_have_value("12 years")
    with away.expect_download() as download:
        away.get_by_role("button", name="Export what was typed").click()
    typed = tmp_path / "typed.json"
    download.value.save_as(typed)
    assert [url for url in asked if not url.startswith(("file:", "data:", "blob:"))] == []
    context.set_offline(False)
    page.goto(desk.address)
    page.get_by_label("Job file, or what a survey page exported").set_input_files(typed)
    page.get_by_role("button", name="Bring in").click()
    page.wait_for_url("**/survey")
    assert page.url == f"{address}/survey"
    expect(page.get_by_label("Water surface", exact=True)).to_have_value("512")
    tables = page.request.get(f"{address}/file").text()
    assert 'depth = "1.5 m"' in tables
    assert 'name = "shed"' in tables
    assert tomllib.loads(tables)["pool"]["cover"]["months"] == [1, 2, 3, 10, 11, 12]
    assert 'pitch = "10 deg"' in tables
    page.get_by_role("link", name="Plant", exact=True).click()
    expect(page.get_by_label("Roof: age")).to_have_value("12 years")


def test_a_browser_that_keeps_nothing_for_a_file_still_exports(
    page: Page, context: BrowserContext, tmp_path: Path
) -> None:
    file = saved_page(page, job_of(page), "survey-page", tmp_path)
    away = context.new_page()
    away.add_init_script(
        "Object.defineProperty(window, 'localStorage', { get() { throw new Error('none'); } });"
    )
    away.goto(file)
    away.get_by_label("Water surface", exact=True).fill("512")
    expect(away.get_by_role("status")).to_contain_text("export before you close it")
    away.get_by_text("Or copy it as text").click()
    expect(away.get_by_label("What was typed")).to_have_value(re.compile("pool.area"))
    text = json.loads(away.get_by_label("What was typed").input_value())
    assert text["changes"] == [{"field": "pool.area", "text": "512", "act": "set"}]


def test_a_winter_page_keeps_what_is_ticked(
    page: Page, context: BrowserContext, tmp_path: Path
) -> None:
    address = job_of(page, "Orchard Hill")
    (tmp_path / "along").mkdir()
    file = saved_page(page, address, "along/winter-en", tmp_path)
    away = context.new_page()
    away.goto(file)
    assert fits_a_phone(away)
    away.get_by_role("checkbox").first.check()
    away.get_by_label("done by, date").first.fill("M. Reyes, 3 Nov")
    away.get_by_label("done by, date").first.press("Tab")
    expect(away.locator("#kept")).to_contain_text("kept on this phone")
    away.reload()
    expect(away.get_by_role("checkbox").first).to_be_checked()
    expect(away.get_by_label("done by, date").first).to_have_value("M. Reyes, 3 Nov")
