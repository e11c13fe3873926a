"""The telephone in a real browser: a call answered by keyboard alone, and at a phone's width."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from noonwater.app.demos import FOLDER
from noonwater.app.job_file import read_job
from noonwater.app.telephone import CallWish, answer_call
from tests.browser.desks import PHONE, SLOW, WIDE, Desk, begun, fits
from tests.house import REPOSITORY

pytestmark = pytest.mark.browser
MOST_BYTES = 250_000
PSI = 6894.757
WEIGHED = """([sky, told]) => {
  const { tables, rules } = JSON.parse(document.getElementById("base").textContent);
  return weighed(tables[0], rules, sky, told);
}"""


@pytest.fixture(params=["desk", "phone"])
def page(request: pytest.FixtureRequest, browser: Browser, desk: Desk) -> Iterator[Page]:
    width = WIDE if request.param == "desk" else PHONE
    context = browser.new_context(viewport=width)
    context.set_default_timeout(SLOW)
    yield begun(context, desk, "Orchard Hill", "telephone")
    context.close()


def held(page: Page) -> None:
    """Press Enter and wait for what the readings say."""
    with page.expect_navigation():
        page.keyboard.press("Enter")
    expect(page.locator("html")).to_have_attribute("data-ready", "yes", timeout=SLOW)


def test_a_call_is_answered_by_keyboard(page: Page, desk: Desk) -> None:
    page.goto(desk.address)
    page.get_by_role("link", name="Telephone").first.focus()
    held(page)
    page.get_by_label("month").focus()
    page.keyboard.type("Apr")
    page.get_by_label("gauge at the filter").focus()
    page.keyboard.type("14")
    held(page)
    answer = page.get_by_role("region", name="What can be wrong")
    expect(answer.get_by_role("listitem").first).to_contain_text("about 4 in 10")
    expect(page.get_by_label("month")).to_have_value("Apr")
    # The best question leads to its field, and the keyboard types on from there.
    asked = page.get_by_role("region", name="Ask next").get_by_role("link").first
    field = str(asked.get_attribute("href"))
    asked.focus()
    page.keyboard.press("Enter")
    expect(page.locator(field)).to_be_focused(timeout=SLOW)
    page.get_by_label("power that the pump shows").focus()
    page.keyboard.type("1.16 kW")
    held(page)
    expect(answer.get_by_role("listitem").first).to_contain_text("Pump strainer or suction choked")
    page.get_by_role("button", name="Keep this call").focus()
    held(page)
    kept = page.get_by_role("region", name="Calls")
    expect(kept.get_by_role("link")).to_have_count(1)
    page.get_by_role("button", name="Take out the call").first.focus()
    held(page)
    expect(kept).to_have_count(0)


def test_an_answered_call_has_no_barrier_and_fits(page: Page) -> None:
    page.goto(f"{page.url}?month=Apr&gauge=14&flow=much&felt=no+warmer")
    expect(page.locator("html")).to_have_attribute("data-ready", "yes", timeout=SLOW)
    width = page.viewport_size
    assert width
    assert fits(page, width["width"])
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()


def test_nothing_leaves_the_machine(page: Page, desk: Desk) -> None:
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(f"{page.url}?gauge=14")
    expect(page.locator("html")).to_have_attribute("data-ready", "yes", timeout=SLOW)
    assert asked
    assert all(url.startswith((desk.address, "data:")) for url in asked)


@pytest.fixture
def away(page: Page, tmp_path: Path) -> Page:
    """The page taken along, opened from a file without a network."""
    address = page.url.removesuffix("/telephone")
    file = tmp_path / "telephone.html"
    file.write_bytes(page.request.get(f"{address}/telephone-page.html").body())
    assert file.stat().st_size < MOST_BYTES
    away = page.context.new_page()
    page.context.set_offline(True)
    away.on("pageerror", lambda error: pytest.fail(str(error)))
    away.goto(file.as_uri())
    return away


CALLS: tuple[tuple[str, dict[str, str], dict[str, float | str]], ...] = (
    ("", {"gauge at the filter": "14"}, {"gauge": 14 * PSI}),
    (
        "clear",
        {
            "gauge at the filter": "24",
            "controller calls for solar": "yes",
            "water at the returns above the pool's": "6",
        },
        {"gauge": 24 * PSI, "calls": "yes", "rise": 6 / 1.8},
    ),
    (
        "overcast",
        {"water at the returns, by hand": "no warmer", "panels to the touch": "hot"},
        {"felt": "no warmer", "panels": "hot"},
    ),
)


@pytest.mark.parametrize("page", ["phone"], indirect=True)
def test_the_page_taken_along_weighs_as_the_desk_does(away: Page) -> None:
    """Single causes: two at once are the desk's, so they are taken out of its answer."""
    job = read_job(FOLDER / "orchard-hill.toml")
    state = "solar 2700 rpm"
    solar = away.get_by_role("group", name=f"While it should run: {state}")
    wrong = away.get_by_role("region", name=f"What can be wrong: {state}")
    for sky, typed, told in CALLS:
        away.get_by_label("sun now").select_option(sky)
        for label, text in typed.items():
            field = solar.get_by_label(label, exact=True)
            if field.evaluate("each => each.tagName") == "SELECT":
                field.select_option(text)
            else:
                field.fill(text)
        call = answer_call(job, CallWish(state=state, sky=sky, told=told))
        ranked = [each for each in call.ranked if " + " not in each.cause]
        total = sum(each.chance for each in ranked)
        here = dict(away.evaluate(WEIGHED, [sky, told_in_columns(told)]))
        for each in ranked:
            assert here[each.cause] == pytest.approx(each.chance / total, abs=0.003), each
        first = wrong.get_by_role("listitem").first
        expect(first).to_contain_text(call.cause(ranked[0].cause).name, ignore_case=True)
        for label in typed:
            field = solar.get_by_label(label, exact=True)
            if field.evaluate("each => each.tagName") == "SELECT":
                field.select_option("")
            else:
                field.fill("")
    expect(wrong).to_be_hidden()


def told_in_columns(told: dict[str, float | str]) -> dict[str, float | str]:
    """As the page's fields give it: psi and kelvins of Fahrenheit."""
    scale = {"gauge": 1 / PSI, "rise": 1.8}
    return {
        key: value if isinstance(value, str) else value * scale[key] for key, value in told.items()
    }


def test_the_page_taken_along_marks_readings_without_a_network(away: Page) -> None:
    width = away.viewport_size
    assert width
    assert fits(away, width["width"])
    solar = away.get_by_role("group", name="While it should run: solar 2700 rpm")
    gauge = solar.get_by_label("gauge at the filter")
    gauge.fill("14")
    expect(solar.get_by_text("too low")).to_be_visible(timeout=SLOW)
    gauge.fill("19,5")
    expect(solar.get_by_text("as it should be")).to_be_visible(timeout=SLOW)
    gauge.fill("1.3 bar")
    expect(solar.get_by_text("a number in psi alone")).to_be_visible(timeout=SLOW)
    solar.get_by_label("under the pump's lid").select_option("bubbles or foam")
    expect(solar.get_by_text("not as it should be")).to_be_visible(timeout=SLOW)
    away.reload()
    expect(gauge).to_have_value("1.3 bar", timeout=SLOW)
    expect(solar.get_by_text("not as it should be")).to_be_visible(timeout=SLOW)
    wrong = away.get_by_role("region", name="What can be wrong: solar 2700 rpm")
    expect(wrong.get_by_role("listitem").first).to_be_visible()
    each_cause = away.get_by_role("region", name="What each cause would show")
    expect(each_cause.get_by_text("Pump strainer or suction choked")).to_be_attached(timeout=SLOW)
    found = Axe().run(away)
    assert found.violations_count == 0, found.generate_report()
    shown = Path(os.environ.get("NOONWATER_ARTEFACTS", REPOSITORY / "artefacts")) / "sheets"
    shown.mkdir(parents=True, exist_ok=True)
    away.screenshot(path=shown / f"telephone-away-{width['width']}.png", full_page=True)
