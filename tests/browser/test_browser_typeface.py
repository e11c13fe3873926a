"""One typeface on the screen: the browser is asked with which face it has set what stands there."""

from __future__ import annotations

import time
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page

from tests.browser.desks import DRAWN, Desk, begun

pytestmark = pytest.mark.browser
SYMBOLS = "° Δ → ≤ ≥ Ω ′ ″ × ² ³ ½"
HOUSE = "Source Sans 3"


def of_the_house(page: Page, selector: str, *, wanted: bool) -> bool:
    """Whether all letters of an element are set in the face, in one of its weights.

    A face that is asked for now is there some frames later: what is wanted is waited for.
    """
    end = time.monotonic() + DRAWN
    while True:
        found = faces(page, selector)
        ours = bool(found) and all(name.startswith(HOUSE) and brought for name, brought in found)
        if ours == wanted or time.monotonic() > end:
            assert found, f"no letters at {selector}"
            return ours


def faces(page: Page, selector: str) -> set[tuple[str, bool]]:
    """Names of the faces in which an element's text is set, and whether the page brought them."""
    # The browser knows the faces of what it has drawn.
    page.evaluate("() => new Promise((done) => requestAnimationFrame(() => setTimeout(done, 0)))")
    wire = page.context.new_cdp_session(page)
    wire.send("DOM.enable")
    wire.send("CSS.enable")
    root: dict[str, Any] = wire.send("DOM.getDocument")
    asked = {"nodeId": root["root"]["nodeId"], "selector": selector}
    node = wire.send("DOM.querySelector", asked)
    found = wire.send("CSS.getPlatformFontsForNode", {"nodeId": node["nodeId"]})
    return {(face["familyName"], face["isCustomFont"]) for face in found["fonts"]}


@pytest.mark.parametrize("weight", ["400", "600"])
def test_every_symbol_of_the_trade_is_in_the_face(
    context: BrowserContext, desk: Desk, weight: str
) -> None:
    page = begun(context, desk)
    page.evaluate(
        """([symbols, weight]) => {
          const line = document.createElement("p");
          line.id = "symbols";
          line.style.fontWeight = weight;
          line.textContent = symbols;
          document.querySelector("main").append(line);
        }""",
        [SYMBOLS, weight],
    )
    page.evaluate("document.fonts.ready")
    assert of_the_house(page, "#symbols", wanted=True)
    # The measure sees a letter that the face lacks.
    page.evaluate("document.getElementById('symbols').textContent += ' א'")
    assert not of_the_house(page, "#symbols", wanted=False)


@pytest.mark.parametrize(
    ("sheet", "marks"),
    [
        ("survey", "main h1"),
        ("roof", ".drawing svg text"),
        ("pad", ".drawing.touched svg text"),
        ("pad", "figure.curves svg text"),
        ("season", ".drawing svg text"),
        ("season", ".u-legend .u-label"),
        ("controls", "day-strip svg text"),
    ],
)
def test_pages_and_drawings_are_set_in_it(
    context: BrowserContext, desk: Desk, sheet: str, marks: str
) -> None:
    page = begun(context, desk, sheet=sheet)
    page.locator(marks).first.wait_for()
    page.evaluate("document.fonts.ready")
    assert of_the_house(page, marks, wanted=True)
