"""The sheets of a job in a real browser: by label and role, by pointer, keyboard and finger."""

from __future__ import annotations

import pytest
from playwright.sync_api import BrowserContext, Locator, Page, expect

from tests.browser.desks import PHONE, SLOW, Desk, begun, fits, settled

pytestmark = pytest.mark.browser


def at_revision(page: Page, number: int) -> None:
    """Wait until an edit is safe and redrawn."""
    expect(page.locator("#title-block")).to_have_attribute(
        "data-revision", str(number), timeout=SLOW
    )
    expect(page.locator("#saved")).to_have_text("saved", timeout=SLOW)


def test_months_are_toggled_by_pointer_and_keyboard(context: BrowserContext, desk: Desk) -> None:
    page = begun(context, desk, sheet="survey")
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
    page = begun(context, desk, sheet="pad")
    valves = page.get_by_role("group", name="Check valves")
    valves.get_by_role("checkbox", name="after filter").uncheck()
    at_revision(page, 2)
    valves.get_by_role("checkbox", name="roof return").uncheck()
    at_revision(page, 3)
    expect(page.locator("#findings")).to_contain_text("check valve")
    expect(valves.get_by_role("checkbox", name="as usual")).not_to_be_checked()


def test_a_pump_is_chosen_from_the_catalog(context: BrowserContext, desk: Desk) -> None:
    page = begun(context, desk, sheet="pad")
    before = page.locator("#headline").inner_text()
    page.get_by_label("Pump", exact=True).select_option("variable large")
    at_revision(page, 2)
    expect(page.locator("#headline")).not_to_have_text(before, use_inner_text=True)


def test_a_spa_is_added_filled_in_and_taken_out(context: BrowserContext, desk: Desk) -> None:
    page = begun(context, desk, sheet="survey")
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


def bank(page: Page, number: int, plane: str) -> Locator:
    """A bank of the roof's drawing."""
    name = f"Bank {number} on {plane}: number of panels"
    return page.get_by_role("slider", name=name).locator("visible=true")


def test_the_arrow_keys_add_and_take_away_panels_and_page_down_moves_a_bank(
    context: BrowserContext, desk: Desk
) -> None:
    page = begun(context, desk, sheet="roof")
    before = page.locator("#headline").inner_text()
    bank(page, 1, "south").focus()
    page.keyboard.press("ArrowRight")
    at_revision(page, 2)
    expect(bank(page, 1, "south")).to_have_attribute("aria-valuenow", "7")
    expect(bank(page, 1, "south")).to_be_focused()
    expect(page.get_by_label("Panels side by side").first).to_have_value("7")
    expect(page.locator("#headline")).not_to_have_text(before, use_inner_text=True)
    page.keyboard.press("ArrowLeft")
    at_revision(page, 3)
    page.keyboard.press("PageDown")
    at_revision(page, 4)
    expect(bank(page, 1, "west")).to_be_focused()
    expect(page.get_by_label("Roof plane", exact=True).first).to_have_value("west")


def test_a_bank_s_end_is_dragged_to_add_panels_and_the_bank_to_another_plane(
    context: BrowserContext, desk: Desk
) -> None:
    page = begun(context, desk, sheet="roof")
    box = bank(page, 1, "south").locator(".panel").first.bounding_box()
    grip = bank(page, 1, "south").locator(".grip").bounding_box()
    assert box is not None
    assert grip is not None
    x, y = grip["x"] + 0.5 * grip["width"], grip["y"] + 0.5 * grip["height"]
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 1.1 * box["width"], y, steps=4)
    page.mouse.up()
    expect(bank(page, 1, "south")).to_have_attribute("aria-valuenow", "7", timeout=SLOW)
    expect(page.get_by_label("Panels side by side").first).to_have_value("7")
    edge = page.locator("svg .plane[data-plane=west] .edge").locator("visible=true").bounding_box()
    assert edge is not None
    page.mouse.move(box["x"] + 5, y)
    page.mouse.down()
    page.mouse.move(edge["x"] + 0.5 * edge["width"], edge["y"] + 0.5 * edge["height"], steps=4)
    page.mouse.up()
    expect(bank(page, 1, "west")).to_be_visible(timeout=SLOW)


def test_on_a_telephone_panels_are_added_with_a_thumb(phone: BrowserContext, desk: Desk) -> None:
    page = begun(phone, desk, sheet="roof")
    more = page.get_by_role("button", name="One panel more in bank 2")
    size = more.bounding_box()
    assert size is not None
    assert min(size["width"], size["height"]) >= 44
    more.tap()
    at_revision(page, 2)
    expect(bank(page, 2, "west")).to_have_attribute("aria-valuenow", "4")
    page.get_by_role("button", name="Put bank 2 on south").tap()
    at_revision(page, 3)
    expect(bank(page, 2, "south")).to_be_visible()
    assert fits(page, PHONE["width"])


def test_the_sun_on_each_plane_is_told_by_month(context: BrowserContext, desk: Desk) -> None:
    page = begun(context, desk, sheet="roof")
    table = page.get_by_role("region", name="Sun on each plane")
    expect(table.get_by_role("columnheader", name="west")).to_be_visible()
    expect(table.get_by_role("row")).to_have_count(14)


def end(page: Page, which: str, period: int) -> Locator:
    """An end of a period in the day's strip."""
    return page.get_by_role("slider", name=f"{which} of period {period}").locator("visible=true")


def test_an_end_of_a_period_is_moved_by_keys_and_the_field_follows(
    context: BrowserContext, desk: Desk
) -> None:
    page = begun(context, desk, sheet="controls")
    end(page, "Start", 1).focus()
    page.keyboard.press("ArrowLeft")
    at_revision(page, 2)
    expect(page.get_by_label("Start", exact=True).first).to_have_value("07:45")
    expect(end(page, "Start", 1)).to_be_focused()
    page.keyboard.press("PageDown")
    at_revision(page, 3)
    expect(end(page, "Start", 1)).to_have_attribute("aria-valuetext", "06:45")
    # The neighbour begins at 17:00: an end goes no further.
    end(page, "Stop", 1).focus()
    page.keyboard.press("ArrowRight")
    expect(end(page, "Stop", 1)).to_have_attribute("aria-valuenow", "1020")


def test_an_end_of_a_period_is_dragged(context: BrowserContext, desk: Desk) -> None:
    page = begun(context, desk, sheet="controls")
    box = end(page, "Stop", 2).locator(".hold").bounding_box()
    strip = page.locator("day-strip svg").locator("visible=true").bounding_box()
    assert box is not None
    assert strip is not None
    hour = (1140 / 1180) * strip["width"] / 24
    x, y = box["x"] + 0.5 * box["width"], box["y"] + 0.5 * box["height"]
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 2 * hour, y, steps=5)
    page.mouse.up()
    expect(page.get_by_label("Stop", exact=True).nth(1)).to_have_value("22:00", timeout=SLOW)
    expect(page.locator("#saved")).to_have_text("saved", timeout=SLOW)


def test_a_typed_time_moves_the_bar(context: BrowserContext, desk: Desk) -> None:
    page = begun(context, desk, sheet="controls")
    field = page.get_by_label("Start", exact=True).first
    field.fill("09:30")
    field.press("Enter")
    expect(end(page, "Start", 1)).to_have_attribute("aria-valuetext", "09:30", timeout=SLOW)


def test_a_day_is_chosen_and_replayed_and_follows_an_edit(
    context: BrowserContext, desk: Desk
) -> None:
    page = begun(context, desk, sheet="controls")
    said = page.locator("day-replay .said")
    expect(said).to_contain_text("solar heats", timeout=SLOW)
    expect(page.locator("day-replay .u-wrap")).to_be_visible()
    days = page.get_by_label("Days worth a look")
    coldest = days.get_by_role("option", name="coldest night").inner_text()
    days.select_option(label=coldest)
    night = coldest.partition(":")[0]
    expect(said).to_contain_text(night, timeout=SLOW)
    page.get_by_role("button", name="Day after").click()
    expect(said).not_to_contain_text(night, timeout=SLOW)
    page.get_by_label("Day that is replayed").focus()
    page.keyboard.press("ArrowLeft")
    expect(said).to_contain_text(night, timeout=SLOW)
    before = said.inner_text()
    page.get_by_label("Solar allowed").first.select_option("false")
    at_revision(page, 2)
    expect(said).not_to_have_text(before, timeout=SLOW)


@pytest.mark.parametrize("sheet", ["survey", "roof", "pad", "controls", "money"])
def test_a_sheet_on_a_telephone_needs_no_sideways_scroll(
    phone: BrowserContext, desk: Desk, sheet: str
) -> None:
    page = begun(phone, desk, sheet=sheet)
    page.wait_for_timeout(500)
    assert fits(page, PHONE["width"])


def test_tables_show_all_their_columns_in_si_and_on_a_telephone(
    context: BrowserContext, phone: BrowserContext, desk: Desk
) -> None:
    cut = "() => [...document.querySelectorAll('.scroll')].map(e => e.scrollWidth - e.clientWidth)"
    for browser, sample, sheet in (
        (context, "Almond Ranch", "pad"),
        (phone, "Lagoon Court", "controls"),
    ):
        page = begun(browser, desk, sample, sheet)
        assert settled(page, cut, want=[0]) == [0]


def test_a_touched_valve_shows_the_state_in_which_it_is_turned(
    context: BrowserContext, desk: Desk
) -> None:
    page = begun(context, desk, sheet="pad")
    valve = page.get_by_role("link", name="diverter: to pool").locator("visible=true")
    valve.click()
    expect(page.get_by_role("link", name="4 solar 2800 rpm")).to_have_attribute(
        "aria-current", "true", timeout=SLOW
    )
    table = page.get_by_role("region", name="diverter")
    expect(table).to_contain_text("to roof")
    page.go_back()
    expect(page.get_by_role("link", name="1 off")).to_have_attribute(
        "aria-current", "true", timeout=SLOW
    )


def test_a_part_is_chosen_by_keyboard_and_swapped_beside_the_drawing(
    context: BrowserContext, desk: Desk
) -> None:
    page = begun(context, desk, sheet="pad")
    page.get_by_role("link", name="filter", exact=True).focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("region", name="filter", exact=True)).to_be_visible(timeout=SLOW)
    before = page.get_by_role("region", name="States of the pad").inner_text()
    page.get_by_label("Filter", exact=True).select_option("sand")
    at_revision(page, 2)
    states = page.get_by_role("region", name="States of the pad")
    expect(states).not_to_have_text(before, use_inner_text=True)
    # The part that was asked for is still told.
    expect(page.get_by_role("region", name="filter", exact=True)).to_be_visible()


def test_a_point_of_the_curves_leads_to_its_state_by_thumb(
    phone: BrowserContext, desk: Desk
) -> None:
    page = begun(phone, desk, sheet="pad")
    point = page.get_by_role("link", name="solar 2800 rpm: ").locator("visible=true")
    size = point.bounding_box()
    assert size is not None
    assert size["width"] >= 40
    point.tap()
    expect(page.get_by_role("link", name="4 solar 2800 rpm")).to_have_attribute(
        "aria-current", "true", timeout=SLOW
    )
    assert fits(page, PHONE["width"])
