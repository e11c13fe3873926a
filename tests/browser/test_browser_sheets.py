"""The sheets of a job in a real browser: by label and role, by pointer, keyboard and finger."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.browser.desks import Desk

pytestmark = pytest.mark.browser
SLOW = 60_000
"""[ms] A desk that was just started reads its compiled engine first, on a machine that is busy."""
DESK = {"width": 1280, "height": 900}
PHONE = {"width": 390, "height": 844}


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    desk = Desk(tmp_path_factory.mktemp("sheets"))
    desk.start()
    yield desk
    desk.kill()


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    context = browser.new_context(viewport=DESK)  # type: ignore[arg-type]
    context.set_default_timeout(SLOW)
    yield context
    context.close()


@pytest.fixture
def phone(browser: Browser) -> Iterator[BrowserContext]:
    context = browser.new_context(viewport=PHONE, has_touch=True, is_mobile=True)  # type: ignore[arg-type]
    context.set_default_timeout(SLOW)
    yield context
    context.close()


def opened(context: BrowserContext, desk: Desk, sheet: str, sample: str = "Lagoon Court") -> Page:
    """A sheet of a fresh job."""
    page = context.new_page()
    page.goto(desk.address)
    page.get_by_role("button", name=sample).click()
    page.wait_for_url("**/survey")
    page.goto(page.url.removesuffix("survey") + sheet)
    expect(page.locator("html")).to_have_attribute("data-ready", "yes", timeout=SLOW)
    return page


def at_revision(page: Page, number: int) -> None:
    """Wait until an edit is safe and redrawn."""
    expect(page.locator("#title-block")).to_have_attribute(
        "data-revision", str(number), timeout=SLOW
    )
    expect(page.locator("#saved")).to_have_text("saved", timeout=SLOW)


def test_months_are_toggled_by_pointer_and_keyboard(context: BrowserContext, desk: Desk) -> None:
    page = opened(context, desk, "survey")
    months = page.get_by_role("group", name="Months").first
    expect(months.get_by_role("checkbox", name="Jan")).to_be_checked()
    months.get_by_role("checkbox", name="Apr").check()
    at_revision(page, 2)
    expect(months.get_by_role("checkbox", name="Apr")).to_be_checked()
    months.get_by_role("checkbox", name="Jan").focus()
    page.keyboard.press("Space")
    at_revision(page, 3)
    page.reload()
    expect(months.get_by_role("checkbox", name="Jan")).not_to_be_checked()
    expect(months.get_by_role("checkbox", name="Feb")).to_be_checked()
    months.get_by_role("checkbox", name="as usual").check()
    at_revision(page, 4)
    expect(months.get_by_role("checkbox", name="Jul")).to_be_checked()


def test_no_check_valve_at_all_can_be_said_and_is_found(
    context: BrowserContext, desk: Desk
) -> None:
    page = opened(context, desk, "pad")
    valves = page.get_by_role("group", name="Check valves")
    valves.get_by_role("checkbox", name="after filter").uncheck()
    at_revision(page, 2)
    valves.get_by_role("checkbox", name="roof return").uncheck()
    at_revision(page, 3)
    expect(page.locator("#findings")).to_contain_text("check valve")
    expect(valves.get_by_role("checkbox", name="as usual")).not_to_be_checked()


def test_a_pump_is_chosen_from_the_catalog(context: BrowserContext, desk: Desk) -> None:
    page = opened(context, desk, "pad")
    before = page.locator("#headline").inner_text()
    page.get_by_label("Pump", exact=True).select_option("variable large")
    at_revision(page, 2)
    assert page.locator("#headline").inner_text() != before


def test_a_spa_is_added_filled_in_and_taken_out(context: BrowserContext, desk: Desk) -> None:
    page = opened(context, desk, "survey")
    page.get_by_role("button", name="Add spa beside the pool").click()
    at_revision(page, 2)
    expect(page.get_by_label("Its water surface", exact=True)).to_have_attribute(
        "aria-invalid", "true"
    )
    page.get_by_label("Its water surface", exact=True).fill("40")
    page.get_by_label("Its mean depth", exact=True).fill("3")
    page.keyboard.press("Enter")
    expect(page.get_by_label("Its mean depth", exact=True)).not_to_have_attribute(
        "aria-invalid", "true", timeout=SLOW
    )
    page.get_by_role("button", name="Take out spa beside the pool").click()
    expect(page.get_by_role("button", name="Add spa beside the pool")).to_be_visible(timeout=SLOW)
