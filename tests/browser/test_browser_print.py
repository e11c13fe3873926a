"""Each sheet on paper: it fits the width, nothing of the screen alone is on it, the foot stays."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.browser.desks import PHONE, PICTURES, SLOW, Desk, begun, ready, settled
from tests.browser.measures import OFF, PAPERS, WIDER

pytestmark = pytest.mark.browser
SHEETS = (
    "survey",
    "roof",
    "pad",
    "controls",
    "season",
    "options",
    "money",
    "winter",
    "paper",
    "telephone",
)


@pytest.fixture(scope="module")
def job(browser: Browser, desk: Desk) -> str:
    """Address of a job."""
    context = browser.new_context()
    context.set_default_timeout(SLOW)
    address = begun(context, desk).url.removesuffix("/survey")
    context.close()
    return address


def printed(page: Page, address: str) -> None:
    """A page as paper sees it."""
    page.goto(address)
    ready(page)
    page.wait_for_load_state("networkidle")
    page.emulate_media(media="print")


@pytest.mark.parametrize("key", [*SHEETS, "plant", "revisions", "along"])
def test_a_sheet_fits_paper(key: str, job: str, context: BrowserContext) -> None:
    page = context.new_page()
    printed(page, f"{job}/{key}")
    assert page.locator(OFF).count() == 0
    assert page.locator("footer.title-block").is_visible()
    drawings = page.locator(".drawing svg")
    assert drawings.count() == 0 or page.locator(".drawing svg:visible").count() > 0
    for width in PAPERS.values():
        page.set_viewport_size({"width": width, "height": 1000})
        assert settled(page, WIDER, want=[]) == []
    PICTURES.mkdir(parents=True, exist_ok=True)
    page.pdf(path=PICTURES / f"{key}.pdf", format="Letter", landscape=True)


def test_a_telephone_prints_the_drawing_that_it_has(job: str, browser: Browser) -> None:
    context = browser.new_context(viewport=PHONE)
    context.set_default_timeout(SLOW)
    page = context.new_page()
    for _ in range(2):
        printed(page, f"{job}/season")
    # A printer asks for no other drawing.
    page.route("**/season/desk*", lambda route: route.abort())
    page.set_viewport_size({"width": PAPERS["A4"], "height": 1000})
    assert page.locator(OFF).count() == 0
    drawing = page.locator(".drawing svg:visible")
    assert drawing.count() == 1
    box = drawing.bounding_box()
    assert box is not None
    # Made for a telephone, it is not blown up to the paper's width.
    assert 300 < box["width"] <= 110 / 25.4 * 96 + 1
    context.close()


def test_what_a_drawing_shows_is_on_paper_too(job: str, context: BrowserContext) -> None:
    page = context.new_page()
    for sheet, marks in (
        ("roof", ".bank"),
        ("controls", "day-strip .bar"),
        ("pad", ".curves text"),
    ):
        printed(page, f"{job}/{sheet}")
        assert page.locator(marks).locator("visible=true").count() > 0
    printed(page, f"{job}/controls")
    assert page.get_by_text("08:00 to 17:00").locator("visible=true").count() == 1
    printed(page, f"{job}/roof")
    steps = page.get_by_role("row", name="2 3 west")
    assert steps.is_visible()


def test_paper_has_no_heading_over_work_that_was_not_done(
    job: str, context: BrowserContext
) -> None:
    page = context.new_page()
    printed(page, f"{job}/options")
    heads = page.get_by_role("heading", level=2)
    expect(heads.filter(has_text="How many panels")).to_be_hidden()
    expect(heads.filter(has_text="A table of options")).to_be_hidden()
    page.locator("#long-size .long").evaluate("box => box.replaceChildren('done', new Image())")
    expect(heads.filter(has_text="How many panels")).to_be_visible()


def test_an_old_state_prints_its_own_revision(job: str, context: BrowserContext) -> None:
    page = context.new_page()
    page.goto(f"{job}/survey?revision=1")
    page.emulate_media(media="print")
    assert page.locator(OFF).count() == 0
    assert re.search(r"revision\s*1", page.locator("footer.title-block").inner_text())
