"""Drawings drawn by finger and pointer: a ghost tells at once what will be, and the page stays."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import pytest
from playwright.sync_api import BrowserContext, CDPSession, Locator, Page, Route, expect

from tests.browser.desks import SLOW, Desk, begun, fits

pytestmark = pytest.mark.browser
Point = tuple[float, float]


class Finger:
    """A finger on a page: the browser itself decides whether it scrolls."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.wire: CDPSession = page.context.new_cdp_session(page)

    def draw(self, along: Sequence[Point]) -> None:
        """Put the finger down at the first point and draw it to the last, in small steps."""
        self._tell("touchStart", along[0])
        for (x, y), (to_x, to_y) in pairwise(along):
            for step in range(1, 9):
                self._tell("touchMove", (x + step * (to_x - x) / 8, y + step * (to_y - y) / 8))

    def lift(self) -> None:
        """Take it off."""
        self.wire.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})

    def _tell(self, kind: str, at: Point) -> None:
        points = [{"x": at[0], "y": at[1]}]
        self.wire.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})


def middle(mark: Locator) -> Point:
    """Brought to the middle of the screen, so that the page could scroll either way."""
    mark.evaluate("each => each.scrollIntoView({ block: 'center' })")
    box = mark.bounding_box()
    assert box is not None
    return box["x"] + 0.5 * box["width"], box["y"] + 0.5 * box["height"]


def scrolled(page: Page) -> float:
    return float(page.evaluate("scrollY"))


def ghost(page: Page) -> Locator:
    return page.locator(".ghost").locator("visible=true")


def bank(page: Page) -> Locator:
    return page.get_by_role("slider", name="Bank 1 on south").locator("visible=true")


def panels(page: Page) -> tuple[float, float]:
    """Left edge of bank 1, and from one of its panels to the next. [px]."""
    boxes = [bank(page).locator(".panel").nth(number).bounding_box() for number in (0, 1)]
    assert boxes[0] is not None
    assert boxes[1] is not None
    return boxes[0]["x"], boxes[1]["x"] - boxes[0]["x"]


def end_of(page: Page, name: str) -> Locator:
    return page.get_by_role("slider", name=name).locator("visible=true")


def test_a_finger_scrolls_the_page_beside_a_drawing(phone: BrowserContext, desk: Desk) -> None:
    page = begun(phone, desk, sheet="roof")
    x, y = middle(page.get_by_role("heading", name="Roof planes"))
    finger = Finger(page)
    finger.draw([(x, y), (x, y - 200)])
    finger.lift()
    page.wait_for_function("scrollY > 50")


def test_a_finger_adds_panels_and_the_page_stays(phone: BrowserContext, desk: Desk) -> None:
    page = begun(phone, desk, sheet="roof")
    x, y = middle(bank(page).locator(".grip"))
    left, step = panels(page)
    before, finger = scrolled(page), Finger(page)
    finger.draw([(x, y), (x + 1.1 * step, y - 60)])
    expect(ghost(page)).to_have_text("7 panels")
    box = ghost(page).bounding_box()
    assert box is not None
    assert box["width"] == pytest.approx(7 * step, abs=2.0)
    assert box["x"] == pytest.approx(left, abs=2.0)
    assert scrolled(page) == before
    assert fits(page, 390)
    finger.lift()
    expect(bank(page)).to_have_attribute("aria-valuenow", "7", timeout=SLOW)
    expect(page.get_by_label("Panels side by side").first).to_have_value("7", timeout=SLOW)
    expect(ghost(page)).to_have_count(0)
    assert scrolled(page) == before


def test_a_finger_puts_a_bank_on_another_plane(phone: BrowserContext, desk: Desk) -> None:
    page = begun(phone, desk, sheet="roof")
    edges = [page.locator(f".plane[data-plane={name}] .edge").locator("visible=true")
             for name in ("south", "west")]  # fmt: skip
    middle(edges[1])
    boxes = [edge.bounding_box() for edge in edges]
    assert boxes[0] is not None
    assert boxes[1] is not None
    away = boxes[1]["y"] - boxes[0]["y"]
    held = bank(page).locator(".panel").first.bounding_box()
    assert held is not None
    x, y = held["x"] + 5, held["y"] + 0.5 * held["height"]
    before, finger = scrolled(page), Finger(page)
    finger.draw([(x, y), (x, y + away)])
    expect(ghost(page)).to_have_text("onto west")
    assert scrolled(page) == before
    finger.lift()
    expect(end_of(page, "Bank 1 on west")).to_be_visible(timeout=SLOW)


def test_a_finger_moves_an_end_of_a_period(phone: BrowserContext, desk: Desk) -> None:
    page = begun(phone, desk, sheet="controls")
    x, y = middle(end_of(page, "Stop of period 2").locator(".hold"))
    strip = page.locator("day-strip svg").locator("visible=true").bounding_box()
    assert strip is not None
    hour = (390 - 2 * 14) / 390 * strip["width"] / 24
    before, finger = scrolled(page), Finger(page)
    finger.draw([(x, y), (x + 2 * hour, y + 80)])
    expect(ghost(page)).to_have_text("17:00 to 22:00")
    box = ghost(page).bounding_box()
    assert box is not None
    assert box["width"] == pytest.approx(5 * hour, abs=2.0)
    assert scrolled(page) == before
    assert fits(page, 390)
    finger.lift()
    expect(page.get_by_label("Stop", exact=True).nth(1)).to_have_value("22:00", timeout=SLOW)
    expect(ghost(page)).to_have_count(0)
    assert scrolled(page) == before


def test_ends_that_meet_are_taken_hold_of_one_by_one(phone: BrowserContext, desk: Desk) -> None:
    page = begun(phone, desk, sheet="controls")
    finger = Finger(page)
    for name, words in (("Stop of period 1", "08:00 to 17:00"), ("Start of period 2", "17:00 to")):
        x, y = middle(end_of(page, name).locator(".hold"))
        finger.draw([(x, y), (x + 1, y)])
        expect(ghost(page)).to_contain_text(words)
        finger.lift()
        expect(ghost(page)).to_have_count(0)


def test_the_ghost_stays_until_the_answer_is_there(context: BrowserContext, desk: Desk) -> None:
    page = begun(context, desk, sheet="roof")
    held: list[Route] = []
    page.route("**/roof/edit", lambda route: held.append(route))  # noqa: PLW0108
    x, y = middle(bank(page).locator(".grip"))
    _, step = panels(page)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 2.1 * step, y, steps=5)
    expect(ghost(page)).to_have_text("4 panels")
    # While it is drawn nothing is sent: one drag is one revision.
    assert held == []
    page.mouse.up()
    expect(ghost(page)).to_have_text("4 panels")
    expect(page.locator("#saved")).to_have_text("saving")
    for _ in range(500):
        if held:
            break
        page.wait_for_timeout(20)
    held[0].continue_()
    expect(page.locator("#title-block")).to_have_attribute("data-revision", "2", timeout=SLOW)
    expect(ghost(page)).to_have_count(0)
    expect(page.get_by_label("Panels side by side").first).to_have_value("4")


def test_a_drag_back_to_where_it_began_changes_nothing(context: BrowserContext, desk: Desk) -> None:
    page = begun(context, desk, sheet="controls")
    x, y = middle(end_of(page, "Start of period 1").locator(".hold"))
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 90, y, steps=3)
    expect(ghost(page)).not_to_have_text("08:00 to 17:00")
    page.mouse.move(x, y, steps=3)
    expect(ghost(page)).to_have_text("08:00 to 17:00")
    page.mouse.up()
    expect(ghost(page)).to_have_count(0)
    expect(page.locator("#title-block")).to_have_attribute("data-revision", "1")
