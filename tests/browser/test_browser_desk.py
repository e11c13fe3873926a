"""The desk in a real browser: used as a person would, and over what goes wrong on a driveway."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from tests.browser.desks import PHONE, SLOW, WIDE, Desk, begun, fits, ready, saved

pytestmark = pytest.mark.browser
SHEETS = (
    "Survey",
    "Sun and roof",
    "Pad and pipe",
    "Controls",
    "Season",
    "Money",
    "Winter",
    "Paper",
)


@pytest.fixture
def page(context: BrowserContext, desk: Desk) -> Page:
    return begun(context, desk)


def typed(page: Page, label: str, text: str) -> None:
    field = page.get_by_label(label, exact=True)
    field.fill(text)
    field.press("Enter")


def revision(page: Page) -> int:
    return int(page.locator("#title-block").get_attribute("data-revision") or 0)


def test_an_edit_redraws_the_figures_and_keeps_the_caret(page: Page) -> None:
    before = page.locator("#headline").inner_text()
    field = page.get_by_label("Water surface", exact=True)
    field.fill("800")
    field.press("Enter")
    expect(page.locator("#title-block")).to_have_attribute("data-revision", "2", timeout=SLOW)
    saved(page)
    expect(page.locator("#headline")).not_to_have_text(before, use_inner_text=True)
    expect(field).to_be_focused()
    expect(field).to_have_value("800")


def test_a_wrong_field_is_told_beside_it(page: Page) -> None:
    typed(page, "Mean depth", "deep")
    expect(page.get_by_text("Allowed: a length with its unit")).to_be_visible(timeout=SLOW)
    expect(page.get_by_label("Mean depth", exact=True)).to_have_attribute("aria-invalid", "true")
    typed(page, "Mean depth", "1.5 m")
    expect(page.get_by_text("= 4.92 ft")).to_be_visible(timeout=SLOW)


def test_each_sheet_opens_by_its_name_and_fits_a_phone(page: Page) -> None:
    for name in SHEETS:
        page.get_by_role("link", name=name, exact=True).click()
        expect(page.get_by_role("link", name=name, exact=True)).to_have_attribute(
            "aria-current", "page"
        )
        page.set_viewport_size(PHONE)
        assert fits(page, PHONE["width"])
        page.set_viewport_size(WIDE)


def test_the_keyboard_alone_is_enough(page: Page) -> None:
    page.get_by_label("Water surface", exact=True).focus()
    page.keyboard.press("Control+A")
    page.keyboard.type("600")
    page.keyboard.press("Tab")
    expect(page.get_by_label("Mean depth", exact=True)).to_be_focused()
    saved(page)
    expect(page.get_by_label("Water surface", exact=True)).to_have_value("600")
    for _ in range(40):
        if page.evaluate("document.activeElement.tagName") == "A":
            break
        page.keyboard.press("Shift+Tab")
    # A browser that is shut while it goes to a page may never come back.
    with page.expect_navigation(wait_until="load"):
        page.keyboard.press("Enter")
    assert not page.url.endswith("/survey")


def test_text_that_would_act_as_markup_is_text(page: Page) -> None:
    spite = '"><img src=x onerror=alert(1)><script>alert(2)</script>'
    page.on("dialog", lambda dialog: pytest.fail(dialog.message))
    typed(page, "What the job is called", spite)
    saved(page)
    page.reload()
    ready(page)
    expect(page.get_by_label("What the job is called", exact=True)).to_have_value(spite)
    assert page.locator("main img").count() == 0
    page.get_by_role("link", name="Season", exact=True).click()
    page.wait_for_url("**/season")
    ready(page)
    assert page.locator("main img, main script").count() == 0


def test_nothing_is_asked_of_another_machine(context: BrowserContext, desk: Desk) -> None:
    asked: list[str] = []
    context.on("request", lambda request: asked.append(request.url))
    page = begun(context, desk)
    for name in SHEETS:
        page.get_by_role("link", name=name, exact=True).click()
        page.wait_for_load_state("load")
    foreign = [url for url in asked if not url.startswith((desk.address, "data:", "blob:"))]
    assert foreign == []


def test_fast_typing_over_a_slow_link_loses_nothing(page: Page, context: BrowserContext) -> None:
    wire = context.new_cdp_session(page)
    slow = {
        "offline": False,
        "latency": 400,
        "downloadThroughput": 50_000,
        "uploadThroughput": 50_000,
    }
    wire.send("Network.enable")
    wire.send("Network.emulateNetworkConditions", slow)
    wanted = {"Water surface": "512", "Mean depth": "5.25", "Wanted water temperature": "83"}
    for label, text in wanted.items():
        field = page.get_by_label(label, exact=True)
        field.focus()
        field.press("Control+A")
        page.keyboard.type(text, delay=60)
        page.keyboard.press("Tab")
    saved(page)
    for label, text in wanted.items():
        expect(page.get_by_label(label, exact=True)).to_have_value(text)
    page.reload()
    ready(page)
    for label, text in wanted.items():
        expect(page.get_by_label(label, exact=True)).to_have_value(text)
    expect(page.locator("#conflicts")).to_be_empty()


def test_two_tabs_on_one_job_merge_and_tell_a_conflict(page: Page, context: BrowserContext) -> None:
    other = context.new_page()
    other.goto(page.url)
    ready(other)
    typed(page, "Mean depth", "5")
    saved(page)
    typed(other, "Water surface", "700")
    saved(other)
    expect(other.get_by_label("Mean depth", exact=True)).to_have_value("5")
    expect(page.get_by_label("Water surface", exact=True)).to_have_value("700", timeout=SLOW)
    # Both change one field on one revision: the second is told.
    other.route("**/head", lambda route: route.abort())
    typed(page, "Mean depth", "6")
    saved(page)
    typed(other, "Mean depth", "7")
    expect(other.locator("#conflicts")).to_contain_text("was set to “6 ft” by another page")
    expect(other.get_by_label("Mean depth", exact=True)).to_have_value("6")
    other.get_by_role("button", name="Take mine").click()
    expect(other.get_by_label("Mean depth", exact=True)).to_have_value("7")
    expect(page.get_by_label("Mean depth", exact=True)).to_have_value("7", timeout=SLOW)


def test_a_desk_that_is_killed_and_started_again_has_all_that_was_typed(
    context: BrowserContext, tmp_path: Path
) -> None:
    own = Desk(tmp_path)
    own.start()
    try:
        page = begun(context, own)
        typed(page, "Water surface", "512")
        saved(page)
        own.kill()
        typed(page, "Mean depth", "5.25")
        typed(page, "Wanted water temperature", "83")
        expect(page.locator("#saved")).to_contain_text("not saved yet", timeout=SLOW)
        own.start()
        saved(page)
        page.reload()
        ready(page)
        for label, text in (
            ("Water surface", "512"),
            ("Mean depth", "5.25"),
            ("Wanted water temperature", "83"),
        ):
            expect(page.get_by_label(label, exact=True)).to_have_value(text)
    finally:
        own.kill()


def test_what_a_closed_page_could_not_send_is_sent_after_a_reload(
    context: BrowserContext, tmp_path: Path
) -> None:
    own = Desk(tmp_path)
    own.start()
    try:
        page = begun(context, own)
        own.kill()
        typed(page, "Mean depth", "5.25")
        expect(page.locator("#saved")).to_contain_text("not saved yet", timeout=SLOW)
        own.start()
        page.reload()
        ready(page)
        saved(page)
        expect(page.get_by_label("Mean depth", exact=True)).to_have_value("5.25")
    finally:
        own.kill()


def test_a_finding_leads_to_its_field(page: Page) -> None:
    link = page.locator("#findings").get_by_role("link").first
    address = link.get_attribute("href") or ""
    assert re.search(r"#f-[\w-]+$", address)
    link.click()
    page.wait_for_url(f"**{address}")
    expect(page.locator(f"[id='{address.partition('#')[2]}']")).to_have_count(1)


def test_a_page_prints_without_buttons(page: Page) -> None:
    page.get_by_role("link", name="Sun and roof", exact=True).click()
    page.wait_for_url("**/roof")
    page.emulate_media(media="print")
    expect(page.locator("main button:visible")).to_have_count(0)
    expect(page.locator(".title-block")).to_be_visible()


def test_the_year_s_carpet_answers_the_arrow_keys_and_follows_an_edit(page: Page) -> None:
    page.get_by_role("link", name="Season", exact=True).click()
    carpet = page.get_by_role("slider", name="Day of the year")
    expect(carpet).to_have_attribute("aria-valuetext", re.compile("^Jan 1: water"), timeout=SLOW)
    carpet.focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("PageUp")
    expect(carpet).to_have_attribute("aria-valuetext", re.compile("^Feb 1: water"))
    page.get_by_role("button", name="month", exact=True).click()
    expect(page.get_by_role("button", name="month", exact=True)).to_have_attribute(
        "aria-pressed", "true"
    )
    expect(page.locator("year-carpet .u-wrap")).to_be_visible(timeout=SLOW)
