"""From an empty app, with the survey of a demo house on the clipboard, to a chosen option."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from noonwater.app.demos import demo_text
from noonwater.app.job_file import read_job_tables
from noonwater.web.sheets import home_of
from tests.browser.desks import Desk
from tests.unit.test_first_answer import SIX

pytestmark = pytest.mark.browser
SLOW = 60_000
WIDTHS = {"lagoon-court": 1280, "orchard-hill": 390}


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    desk = Desk(tmp_path_factory.mktemp("newcomer"))
    desk.start()
    yield desk
    desk.kill()


def opened(page: Page, name: str) -> None:
    """Open a sheet by its name in the row of sheets."""
    page.get_by_role("link", name=name, exact=True).click()
    expect(page.locator("html")).to_have_attribute("data-ready", "yes", timeout=SLOW)


def saved(page: Page) -> None:
    expect(page.locator("#saved")).to_have_text("saved", timeout=SLOW)


def answer_six(page: Page, answers: dict[str, str], name: str) -> None:
    """Answer the six questions as they come."""
    page.get_by_role("link", name="A first job by six questions").click()
    for key, text in {**answers, "name": name}.items():
        field = page.locator(f"[name={key}]")
        if key != "units" and field.evaluate("each => each.tagName") == "SELECT":
            field.select_option(text)
        elif key != "units":
            field.fill(text)
    page.get_by_role("button", name="First answer").click()
    expect(page.get_by_text("The full survey moves these figures")).to_be_visible(timeout=SLOW)


def written(table: dict[str, Any], way: str = "") -> Iterator[tuple[str, Any]]:
    """Every line of a job file with its path; of a list of tables first how many there are."""
    for key, value in table.items():
        path = f"{way}.{key}" if way else key
        if isinstance(value, dict):
            yield from written(value, path)
        elif isinstance(value, list) and isinstance(value[0], dict):
            yield path, len(value)
            for number, item in enumerate(value):
                yield from written(item, f"{path}[{number}]")
        else:
            yield path, value


def type_sheet(page: Page, lines: list[tuple[str, Any]]) -> None:
    """Type what stands on the clipboard into the sheet that is open."""
    for path, value in lines:
        add = page.locator(f"[data-add='{path}']")
        group, field = (page.locator(f"[data-{kind}='{path}']") for kind in ("list", "field"))
        if add.count():
            so_many(page, add, path, value)
        elif group.count():
            tick(group, [str(each) for each in value])
        elif field.evaluate("each => each.tagName") == "SELECT":
            field.select_option(text_of(value))
            saved(page)  # another kind has other fields below it
        else:
            field.fill(text_of(value))
            field.press("Enter")
    saved(page)


def so_many(page: Page, add: Locator, path: str, count: int) -> None:
    """Add items to a list, or take some out, until there are as many."""
    there = page.locator(f"[data-remove^='{path}[']:not([data-remove*='].'])")
    while (now := there.count()) != count:
        (add if now < count else there.last).click()
        expect(there).to_have_count(now + (1 if now < count else -1))
        saved(page)


def tick(group: Locator, wanted: list[str]) -> None:
    for box in group.locator("input[value]:not([value=''])").all():
        box.evaluate("(box, on) => box.checked === on || box.click()",
                     box.get_attribute("value") in wanted)  # fmt: skip


def text_of(value: Any) -> str:
    if isinstance(value, list):
        return ", ".join(map(str, value))
    return str(value).lower() if isinstance(value, bool) else str(value)


@pytest.mark.parametrize("name", list(WIDTHS))
def test_a_newcomer_gets_from_an_empty_app_to_a_chosen_option(
    browser: Browser, desk: Desk, name: str
) -> None:
    context = browser.new_context(viewport={"width": WIDTHS[name], "height": 900})
    page = context.new_page()
    page.set_default_timeout(SLOW)
    page.on("pageerror", lambda error: pytest.fail(str(error)))
    page.goto(desk.address)
    sheet = tomllib.loads(demo_text(name))
    answer_six(page, SIX[name], sheet["name"])
    page.get_by_role("link", name="Go on to the survey").click()
    job = page.url.removesuffix("/survey")
    lines = [line for line in written(sheet) if line[0] != "format"]
    for key, title in (("survey", "Survey"), ("roof", "Sun and roof"), ("pad", "Pad and pipe"),
                       ("controls", "Controls"), ("money", "Money")):  # fmt: skip
        opened(page, title)
        type_sheet(page, [line for line in lines if home_of(line[0]) == key])
    typed = tomllib.loads(page.request.get(f"{job}/file").text())
    for tables in (typed, sheet):
        tables["pool"]["cover"]["months"].sort()
    assert read_job_tables(typed) == read_job_tables(sheet)
    assert page.locator(".typed-wrong").count() == 0
    opened(page, "Season")
    expect(page.get_by_role("slider", name="Day of the year")).to_be_visible()
    expect(page.get_by_label("Always in view")).to_contain_text("a clear day adds")
    expect(page.get_by_role("heading", name=re.compile(r"Findings \(\d+\)"))).to_be_visible()
    opened(page, "Options")
    page.get_by_role("button", name=re.compile("one panel more on bank 1")).click()
    page.get_by_label("Set otherwise").fill("Pool: wanted water temperature")
    page.get_by_label("to", exact=True).fill("85")
    page.get_by_role("button", name="Set", exact=True).click()
    expect(page.get_by_role("heading", name="Option C")).to_be_visible()
    page.get_by_role("button", name="Take over into the job: option B").click()
    expect(page.get_by_role("heading", name="Option C")).to_have_count(0, timeout=SLOW)
    taken = tomllib.loads(page.request.get(f"{job}/file").text())
    assert taken["array"]["banks"][0]["panels"] == sheet["array"]["banks"][0]["panels"] + 1
    context.close()
