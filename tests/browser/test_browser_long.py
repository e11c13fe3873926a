"""Long work in a real browser: progress, cancel, a reload, a desk that is killed meanwhile."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from noonwater.app.demos import FOLDER
from tests.browser.desks import SLOW, Desk, begun, ready, saved
from tests.browser.test_browser_desk import typed

pytestmark = pytest.mark.browser
RESULT = "What matters most to it"


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    desk = Desk(tmp_path_factory.mktemp("long"))
    desk.start()
    yield desk
    desk.kill()


@pytest.fixture
def season(context: BrowserContext, desk: Desk) -> Page:
    page = begun(context, desk)
    to(page, "Season")
    return page


def to(page: Page, sheet: str) -> None:
    page.get_by_role("link", name=sheet, exact=True).click()
    page.wait_for_url(re.compile(rf"/{sheet.lower()}$"))
    ready(page)


def with_depth(page: Page, text: str) -> None:
    """Make the job's content its own: long work is kept by content."""
    to(page, "Survey")
    typed(page, "Mean depth", text)
    saved(page)
    to(page, "Season")


def how_sure(page: Page) -> None:
    page.get_by_role("button", name="How sure?").click()
    expect(page.get_by_role("progressbar", name="How sure?")).to_be_visible()


def test_ranges_show_progress_survive_a_reload_and_are_kept(season: Page) -> None:
    how_sure(season)
    expect(season.get_by_text(re.compile(r"\d+ of \d+ years run"))).to_be_visible(timeout=SLOW)
    season.reload()
    expect(season.get_by_text(RESULT)).to_be_visible(timeout=SLOW)
    expect(season.get_by_role("button", name="How sure?")).to_have_count(0)
    # Another job of the same content has the result at once; another content has none yet.
    with_depth(season, "5")
    expect(season.get_by_role("button", name="How sure?")).to_be_visible(timeout=SLOW)
    with_depth(season, "4.5")
    expect(season.get_by_text(RESULT)).to_be_visible(timeout=SLOW)


def test_a_cancel_brings_the_button_back(season: Page) -> None:
    with_depth(season, "5.1")
    how_sure(season)
    season.get_by_role("button", name="Cancel").click()
    button = season.get_by_role("button", name="How sure?")
    expect(button).to_be_visible(timeout=SLOW)
    expect(button).to_be_focused()


def test_work_goes_on_over_a_desk_that_is_killed(season: Page, desk: Desk) -> None:
    with_depth(season, "5.2")
    how_sure(season)
    desk.kill()
    expect(season.get_by_text("The desk does not answer")).to_be_visible(timeout=SLOW)
    desk.start()
    expect(season.get_by_text(RESULT)).to_be_visible(timeout=SLOW)


def test_a_price_list_is_brought_in_without_leaving_the_page(season: Page, tmp_path: Path) -> None:
    to(season, "Money")
    wrong = tmp_path / "wrong.csv"
    wrong.write_text("a,b\n1,2\n")
    season.get_by_label("Price list (CSV or XLSX)").set_input_files(wrong)
    season.get_by_role("button", name="Bring it in").click()
    expect(season.get_by_text("no row of heads")).to_be_visible()
    right = tmp_path / "dear.csv"
    text = FOLDER.joinpath("demo-prices.csv").read_text(encoding="utf-8")
    right.write_text(text + "permit,,job,1000,0\n")
    before = season.locator("#headline").inner_text()
    season.get_by_label("Price list (CSV or XLSX)").set_input_files(right)
    season.get_by_role("button", name="Bring it in").click()
    expect(season.get_by_text("dear.csv: 41 rows read")).to_be_visible(timeout=SLOW)
    expect(season.locator("#headline")).not_to_have_text(before, use_inner_text=True)


def test_an_option_is_made_compared_and_taken_over_by_the_keyboard(season: Page) -> None:
    to(season, "Options")
    season.get_by_role("button", name="without the cover").press("Enter")
    expect(season.get_by_role("heading", name="Option B")).to_be_visible(timeout=SLOW)
    season.get_by_label("Set otherwise").focus()
    season.keyboard.type("pump.solar_speed")
    season.keyboard.press("Tab")
    season.keyboard.type("3000")
    season.get_by_label("in", exact=True).select_option("option B")
    season.get_by_role("button", name="Set", exact=True).press("Enter")
    expect(season.get_by_text("2800 rpm → 3000 rpm")).to_be_visible(timeout=SLOW)
    expect(season.get_by_role("rowheader", name="water while open")).to_be_visible()
    season.get_by_label("Set otherwise").fill("pool.area")
    season.get_by_label("to", exact=True).fill("wide")
    season.get_by_role("button", name="Set", exact=True).press("Enter")
    expect(season.get_by_text("an area with its unit")).to_be_visible(timeout=SLOW)
    season.get_by_role("button", name="Take over into the job: option B").press("Enter")
    expect(season.locator("#title-block")).to_have_attribute("data-revision", "2", timeout=SLOW)
    expect(season.get_by_role("heading", name="Option B")).to_have_count(0)
