"""Tabs, links and restarts: nothing typed is lost, whatever browser and folder do."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from tests.browser.desks import SLOW, Desk

pytestmark = pytest.mark.browser
KEEPER = """async (steps) => {
  const { Keeper } = await import("/static/keeper.js");
  const held = new Map();
  const storage = {
    getItem: (key) => held.get(key) ?? null, setItem: (key, text) => held.set(key, text),
    removeItem: (key) => held.delete(key), key: (n) => [...held.keys()][n],
    get length() { return held.size; },
  };
  for (const [key, state] of Object.entries(steps.held || {}))
    held.set(key, JSON.stringify(state));
  const keeper = new Keeper("x", storage);
  const sent = [];
  const words = (batch) =>
    batch && [batch.base, ...batch.changes.map(({ act, field, text }) => [act, field, text])];
  const acts = {
    put: (field, text, act = "set") => keeper.put({ field, text, act }, 1),
    send: () => sent.push(words(keeper.batch())),
    done: (revision, alone) => keeper.done(revision, alone),
    refused: () => sent.push(keeper.refused()?.field ?? null),
  };
  for (const [act, ...given] of steps.acts) acts[act](...given);
  return sent;
}"""


@pytest.fixture
def page(context: BrowserContext, desk: Desk) -> Page:
    page = context.new_page()
    page.goto(desk.address)
    page.get_by_role("button", name="Lagoon Court", exact=True).click()
    page.wait_for_url("**/survey")
    ready(page)
    return page


def ready(page: Page) -> None:
    expect(page.locator("html")).to_have_attribute("data-ready", "yes", timeout=SLOW)


def saved(page: Page) -> None:
    expect(page.locator("#saved")).to_have_text("saved", timeout=SLOW)


def typed(page: Page, label: str, text: str) -> None:
    page.get_by_label(label, exact=True).fill(text)
    page.get_by_label(label, exact=True).press("Enter")


def sends(page: Page, acts: list[list[Any]], **more: Any) -> list[Any]:
    """What a keeper sends and gives back when it is told these acts."""
    found: list[Any] = page.evaluate(KEEPER, {"acts": acts, **more})
    return found


def test_items_taken_out_before_the_answer_renumber_what_was_typed_after(page: Page) -> None:
    acts = [
        ["put", "roof[0]", "", "remove"],
        ["put", "roof[2].pitch", "4:12"],
        ["put", "roof[1]", "", "remove"],
        ["put", "roof[0].name", "gone"],
        ["put", "pool.area", "50 m2"],
        *[["send"], ["done", 2, True]] * 3,
    ]
    assert sends(page, acts) == [
        [1, ["remove", "roof[0]", ""]],
        [2, ["set", "roof[1].pitch", "4:12"], ["remove", "roof[0]", ""]],
        [2, ["set", "pool.area", "50 m2"]],
    ]


def test_a_text_typed_after_an_item_was_taken_out_is_not_sent_before_it(page: Page) -> None:
    acts = [["put", "roof[1].name", "a"], ["put", "roof[1]", "", "remove"],
            ["put", "roof[1].name", "b"], ["send"], ["done", 2, True], ["send"]]  # fmt: skip
    assert sends(page, acts) == [
        [1, ["set", "roof[1].name", "a"], ["remove", "roof[1]", ""]],
        None,
    ]


def test_own_answers_move_the_base_of_what_waits_and_others_do_not(page: Page) -> None:
    acts = [["put", "roof", "", "add"], ["send"], ["put", "roof[0].pitch", "4:12"]]
    assert sends(page, [*acts, ["done", 2, True], ["send"]])[1][0] == 2
    assert sends(page, [*acts, ["done", 5, False], ["send"]])[1][0] == 1


def test_what_the_desk_refuses_holds_nothing_up(page: Page) -> None:
    acts = [["put", "pool.area", "1"], ["put", "name", "long"], ["put", "pool.depth", "2"],
            ["send"], ["refused"], ["send"], ["done", 2, True], ["send"], ["refused"],
            ["send"]]  # fmt: skip
    assert sends(page, acts) == [
        [1, ["set", "pool.area", "1"], ["set", "name", "long"], ["set", "pool.depth", "2"]],
        None,
        [1, ["set", "pool.area", "1"]],
        [2, ["set", "name", "long"]],
        "name",
        [2, ["set", "pool.depth", "2"]],
    ]


@pytest.mark.parametrize("minutes", [-60, 60])
def test_a_closed_tab_is_taken_over_whichever_way_the_clock_was_set(
    page: Page, minutes: int
) -> None:
    left = {"waiting": [{"field": "name", "text": "kept", "act": "set", "base": 3}], "flying": None}
    seen = page.evaluate("Date.now()") + minutes * 60_000
    held = {"noonwater x other": {**left, "seen": seen}}
    assert sends(page, [["send"]], held=held) == [[3, ["set", "name", "kept"]]]


def test_a_browser_without_what_needs_tls_can_type(context: BrowserContext, page: Page) -> None:
    """A phone reaches the desk by plain HTTP: half of a browser's doors are shut there."""
    phone = context.new_page()
    phone.add_init_script("delete Crypto.prototype.randomUUID; delete Crypto.prototype.subtle")
    phone.on("pageerror", lambda error: pytest.fail(str(error)))
    phone.goto(page.url)
    ready(phone)
    typed(phone, "Mean depth", "5.25")
    saved(phone)
    phone.reload()
    ready(phone)
    expect(phone.get_by_label("Mean depth", exact=True)).to_have_value("5.25")


def test_a_duplicated_tab_keeps_its_own(context: BrowserContext, page: Page) -> None:
    """A duplicate begins with a copy of the tab's own storage."""
    copied = page.evaluate("JSON.stringify(sessionStorage)")
    other = context.new_page()
    other.add_init_script(
        f"if (!sessionStorage.made) {{ Object.assign(sessionStorage, {copied}); "
        "sessionStorage.made = 'yes'; }"
    )
    other.goto(page.url)
    ready(other)
    for each in (page, other):
        each.route("**/edit", lambda route: route.abort())
    typed(page, "Mean depth", "5.25")
    typed(other, "Water surface", "512")
    for each in (page, other):
        each.unroute("**/edit")
        saved(each)
    page.reload()
    ready(page)
    expect(page.get_by_label("Mean depth", exact=True)).to_have_value("5.25")
    expect(page.get_by_label("Water surface", exact=True)).to_have_value("512")


def test_a_conflict_stays_over_a_reload_until_it_is_settled(
    context: BrowserContext, page: Page
) -> None:
    other = context.new_page()
    other.goto(page.url)
    ready(other)
    other.route("**/head", lambda route: route.abort())
    typed(page, "Mean depth", "6")
    saved(page)
    typed(other, "Mean depth", "7")
    told = other.locator("#conflicts")
    expect(told).to_contain_text(
        "Pool: mean depth was set to “6 ft” by another page. Yours: “7 ft”."
    )
    other.reload()
    ready(other)
    expect(told).to_contain_text("Yours: “7 ft”.")
    other.get_by_role("button", name="Take mine").click()
    expect(told).to_be_empty()
    expect(page.get_by_label("Mean depth", exact=True)).to_have_value("7", timeout=SLOW)
    other.reload()
    ready(other)
    expect(told).to_be_empty()


def test_a_text_too_long_is_told_and_the_rest_is_saved(page: Page) -> None:
    long = "x" * 30_000
    page.route("**/edit", lambda route: route.abort())
    typed(page, "What the job is called", long)
    typed(page, "Mean depth", "5.25")
    page.unroute("**/edit")
    expect(page.locator("#conflicts")).to_contain_text("the desk can’t take this", timeout=SLOW)
    saved(page)
    page.reload()
    ready(page)
    expect(page.get_by_label("Mean depth", exact=True)).to_have_value("5.25")
    expect(page.locator("#conflicts")).to_contain_text("Yours: “xxx")
    page.get_by_role("button", name="Understood").click()
    expect(page.locator("#conflicts")).to_be_empty()


def test_a_desk_that_went_back_to_older_data_takes_what_was_typed(page: Page) -> None:
    typed(page, "Mean depth", "5.25")
    saved(page)
    # As if the page had been made of a revision that the desk no longer has.
    page.evaluate("document.getElementById('title-block').dataset.revision = 9")
    typed(page, "Water surface", "512")
    saved(page)
    page.reload()
    ready(page)
    expect(page.get_by_label("Water surface", exact=True)).to_have_value("512")


def test_a_job_that_is_no_longer_there_is_told_and_what_was_typed_stays(page: Page) -> None:
    for pattern in ("**/edit", "**/head"):
        page.route(pattern, lambda route: route.fulfill(status=404, body="{}"))
    typed(page, "Water surface", "512")
    expect(page.locator("#saved")).to_contain_text("not in the desk’s data folder", timeout=SLOW)
    for pattern in ("**/edit", "**/head"):
        page.unroute(pattern)
    saved(page)
    expect(page.locator("#title-block")).to_have_attribute("data-revision", re.compile("2"))
