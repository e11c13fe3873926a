"""Every sheet looked at: no barrier found by axe, no sideways scroll, print, pictures kept."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from tests.browser.desks import Desk
from tests.browser.test_browser_desk import SLOW, opened, ready
from tests.house import REPOSITORY

pytestmark = pytest.mark.browser
WIDTHS = {"desk": {"width": 1280, "height": 900}, "phone": {"width": 390, "height": 844}}
PICTURES = Path(os.environ.get("NOONWATER_ARTEFACTS", REPOSITORY / "artefacts")) / "sheets"
KEYS = ("survey", "roof", "pad", "controls", "season", "options", "money", "winter", "paper",
        "telephone")  # fmt: skip
LONG = {
    "season": ("How sure?",),
    "options": ("What does each panel buy?", "Which speed pays best?"),
    "money": ("How sure is the money?",),
}
"""Long work that is asked for, so that its results are looked at too."""


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    desk = Desk(tmp_path_factory.mktemp("sheets"))
    desk.start()
    yield desk
    desk.kill()


@pytest.fixture(scope="module")
def job(browser: Browser, desk: Desk) -> str:
    """Address of a job with an option, its long work done."""
    context = browser.new_context()
    context.set_default_timeout(SLOW)
    page = opened(context, desk)
    base = page.url.rpartition("/")[0]
    for sheet, buttons in LONG.items():
        page.goto(f"{base}/{sheet}")
        ready(page)
        if sheet == "options":
            page.get_by_role("button", name="without the cover").click()
            expect(page.get_by_role("heading", name="Option B")).to_be_visible(timeout=SLOW)
        for name in buttons:
            page.get_by_role("button", name=name).click()
            expect(page.get_by_role("button", name=name)).to_have_count(0, timeout=SLOW)
        expect(page.locator("progress")).to_have_count(0, timeout=SLOW)
    context.close()
    return base


@pytest.fixture(params=WIDTHS)
def sized(request: pytest.FixtureRequest, browser: Browser) -> Iterator[tuple[str, Page]]:
    name = str(request.param)
    context = browser.new_context(viewport=WIDTHS[name])  # type: ignore[arg-type]
    context.set_default_timeout(SLOW)
    yield name, context.new_page()
    context.close()


def shown(page: Page, address: str) -> None:
    page.goto(address)
    ready(page)
    page.wait_for_load_state("networkidle")


@pytest.mark.parametrize("key", KEYS)
def test_a_sheet_has_no_barrier_and_fits(key: str, job: str, sized: tuple[str, Page]) -> None:
    name, page = sized
    shown(page, f"{job}/{key}")
    assert page.evaluate("document.documentElement.scrollWidth") <= WIDTHS[name]["width"]
    PICTURES.mkdir(parents=True, exist_ok=True)
    page.screenshot(path=PICTURES / f"{key}-{name}.png", full_page=True)
    found = Axe().run(page)
    told = [
        f"{each['id']}: {node['html'][:150]}"
        for each in found.response["violations"]
        for node in each["nodes"]
    ]
    assert not told, "\n".join(told)


def test_the_list_of_jobs_has_no_barrier(job: str, desk: Desk, sized: tuple[str, Page]) -> None:
    name, page = sized
    page.goto(desk.address)
    PICTURES.mkdir(parents=True, exist_ok=True)
    page.screenshot(path=PICTURES / f"jobs-{name}.png", full_page=True)
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()


@pytest.mark.parametrize("key", KEYS)
def test_a_sheet_prints_without_what_only_a_screen_has(
    key: str, job: str, sized: tuple[str, Page]
) -> None:
    name, page = sized
    shown(page, f"{job}/{key}")
    page.emulate_media(media="print")
    assert page.locator("main button:visible, nav:visible, input[type=file]:visible").count() == 0
    assert page.locator("#title-block").is_visible()
    drawings = page.locator(".drawing svg")
    assert drawings.count() == 0 or page.locator(".drawing svg:visible").count() > 0
    page.screenshot(path=PICTURES / f"{key}-{name}-print.png", full_page=True)


@pytest.mark.parametrize("key", KEYS)
def test_the_keyboard_reaches_all_of_a_sheet(key: str, job: str, browser: Browser) -> None:
    context = browser.new_context(viewport=WIDTHS["desk"])  # type: ignore[arg-type]
    context.set_default_timeout(SLOW)
    page = context.new_page()
    shown(page, f"{job}/{key}")
    wanted = page.evaluate(
        """() => [...document.querySelectorAll(
          "main a[href], main button, main input, main select, main [tabindex='0']")]
          .filter((each) => each.checkVisibility() && !each.disabled
            && !(each.type === "radio" && !each.checked)).length"""
    )
    page.evaluate("document.activeElement.blur()")
    reached = page.evaluate("() => { window.reached = new Set(); }")
    for _ in range(wanted + 40):
        page.keyboard.press("Tab")
        reached = page.evaluate(
            """() => {
              const here = document.activeElement;
              if (here.closest("main")) window.reached.add(here);
              return window.reached.size;
            }"""
        )
        if reached >= wanted:
            break
    assert reached >= wanted
    context.close()
