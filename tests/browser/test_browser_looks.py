"""Every page looked at: axe, contrast, letters, what a finger hits, the foot; pictures kept."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from noonwater.web.guard import NO_CODE, Guard
from noonwater.web.routes_phone import phone_page
from noonwater.web.trouble_page import refused_page
from tests.browser.desks import PICTURES, SIZES, SLOW, WIDE, Desk, begun, fits, ready, settled
from tests.browser.measures import (
    FOOT,
    LEAST_LETTERS,
    LEAST_TARGET,
    LETTERS,
    PAPERS,
    SLACK,
    TARGETS,
    WIDER,
)

pytestmark = pytest.mark.browser
SHEETS = (
    "survey", "roof", "pad", "controls", "season", "options", "money", "winter", "paper",
    "telephone",
)  # fmt: skip
BESIDE = {
    "plant": "plant",
    "revisions": "revisions",
    "along": "along",
    "compare": "compare?one=1&other=2",
    "old": "survey?revision=1",
    "answered": "telephone?month=Apr&gauge=14&flow=much&felt=no+warmer",
    "no-such-sheet": "attic",
}
ALONE = ("survey-page", "telephone-page", "along/winter-en", "along/commissioning-en")
"""Pages to take along: files."""
HOME = {"jobs": "/", "begin": "/begin", "phone": "/phone", "no-such-job": "/jobs/none/survey"}
WRITTEN = {
    "phone-code": phone_page(Guard(("192.168.1.20",), "a" * 32), 8000, here=True),
    "refused": refused_page(NO_CODE),
}
"""Pages that another machine, or another start of the desk, would show."""
LONG = {
    "season": ("How sure?",),
    "options": ("What does each panel buy?", "Which speed pays best?"),
    "money": ("How sure is the money?",),
}
"""Long work that is asked for, so that its results are looked at too."""
RULES = {"rules": {"color-contrast-enhanced": {"enabled": True}}}
"""7:1 for all text (WCAG 2.2: 1.4.6), since the desk is read in the sun."""


@dataclass(frozen=True)
class Looked:
    """A desk with a job, and what stands beside it."""

    home: str
    job: str
    first: str
    folder: Path


@pytest.fixture(scope="module")
def looked(browser: Browser, desk: Desk, tmp_path_factory: pytest.TempPathFactory) -> Looked:
    """A job with an option, two revisions, long work done; a first answer; pages as files."""
    context = browser.new_context(viewport=WIDE)
    context.set_default_timeout(SLOW)
    page = begun(context, desk)
    job = page.url.rpartition("/")[0]
    folder = tmp_path_factory.mktemp("alone")
    for name in ALONE:
        file = folder / f"{Path(name).name}.html"
        file.write_bytes(page.request.get(f"{job}/{name}.html").body())
    page.get_by_label("Mean depth", exact=True).fill("4.6")
    page.keyboard.press("Enter")
    expect(page.locator("#title-block")).to_have_attribute("data-revision", "2", timeout=SLOW)
    for sheet, buttons in LONG.items():
        page.goto(f"{job}/{sheet}")
        ready(page)
        if sheet == "options":
            page.get_by_role("button", name="without the cover").click()
            expect(page.get_by_role("heading", name="Option B")).to_be_visible(timeout=SLOW)
        for name in buttons:
            page.get_by_role("button", name=name).click()
            expect(page.get_by_role("button", name=name)).to_have_count(0, timeout=SLOW)
        expect(page.locator("progress")).to_have_count(0, timeout=SLOW)
    page.goto(f"{desk.address}/begin")
    page.get_by_role("button", name="First answer").click()
    page.wait_for_url("**/first")
    first = page.url
    context.close()
    return Looked(desk.address, job, first, folder)


@pytest.fixture(params=SIZES)
def sized(request: pytest.FixtureRequest, browser: Browser) -> Iterator[tuple[str, Page]]:
    """A page on each of the two screens."""
    name = str(request.param)
    context = browser.new_context(viewport=SIZES[name])
    context.set_default_timeout(SLOW)
    yield name, context.new_page()
    context.close()


def shown(page: Page, address: str) -> None:
    """Open a page that listens."""
    page.goto(address)
    ready(page)
    page.wait_for_load_state("networkidle")


def look(sized: tuple[str, Page], key: str) -> None:
    """Hold a page against everything that is asked of one."""
    name, page = sized
    PICTURES.mkdir(parents=True, exist_ok=True)
    page.screenshot(path=PICTURES / f"{key}-{name}.png", full_page=True)
    assert fits(page, SIZES[name]["width"])
    assert page.evaluate(LETTERS, LEAST_LETTERS[name]) == []
    assert page.evaluate(TARGETS, LEAST_TARGET[name] - SLACK) == []
    foot = page.evaluate(FOOT)
    assert foot["cells"]
    assert foot["below"] <= 4.0
    found = Axe().run(page, options=RULES)
    told = [
        f"{each['id']}: {node['html'][:150]}"
        for each in found.response["violations"]
        for node in each["nodes"]
    ]
    assert not told, "\n".join(told)


@pytest.mark.parametrize("key", SHEETS)
def test_a_sheet(key: str, looked: Looked, sized: tuple[str, Page]) -> None:
    name, page = sized
    shown(page, f"{looked.job}/{key}")
    look(sized, key)
    if name == "desk":
        # On paper too, with all that long work has brought.
        page.emulate_media(media="print")
        page.set_viewport_size({"width": PAPERS["Letter"], "height": 1000})
        assert settled(page, WIDER, want=[]) == []
        page.pdf(path=PICTURES / f"{key}-full.pdf", format="Letter", landscape=True)


@pytest.mark.parametrize("key", BESIDE)
def test_a_page_beside_the_sheets(key: str, looked: Looked, sized: tuple[str, Page]) -> None:
    sized[1].goto(f"{looked.job}/{BESIDE[key]}")
    look(sized, key)


@pytest.mark.parametrize("key", HOME)
def test_a_page_of_no_job(key: str, looked: Looked, sized: tuple[str, Page]) -> None:
    sized[1].goto(looked.home + HOME[key])
    look(sized, key)


@pytest.mark.parametrize("name", ALONE)
def test_a_page_to_take_along(name: str, looked: Looked, sized: tuple[str, Page]) -> None:
    sized[1].goto((looked.folder / f"{Path(name).name}.html").as_uri())
    look(sized, Path(name).name)


@pytest.mark.parametrize("key", WRITTEN)
def test_a_page_for_another_machine(key: str, looked: Looked, sized: tuple[str, Page]) -> None:
    sized[1].goto(looked.home)
    sized[1].set_content(WRITTEN[key])
    sized[1].wait_for_load_state("networkidle")
    look(sized, key)


def test_the_first_answer(looked: Looked, sized: tuple[str, Page]) -> None:
    shown(sized[1], looked.first)
    look(sized, "first")


def test_what_a_survey_page_brings_into_conflict(
    looked: Looked, sized: tuple[str, Page], tmp_path: Path
) -> None:
    page = sized[1]
    text = (looked.folder / "survey-page.html").read_text(encoding="utf-8")
    match = re.search(r'<script type="application/json" id="base">(.*?)</script>', text, re.DOTALL)
    assert match
    # The depth was set to 4.6 since the page was made.
    typed = {"field": "pool.depth", "text": "5 ft", "act": "set"}
    told = {**json.loads(match[1]), "page": f"looks-{sized[0]}", "changes": [typed]}
    file = tmp_path / "typed.json"
    file.write_text(json.dumps(told), encoding="utf-8")
    page.goto(looked.home)
    page.get_by_label("Job file, or what a survey page exported").set_input_files(file)
    page.get_by_role("button", name="Bring in").click()
    expect(page.get_by_role("heading", name="Brought in")).to_be_visible()
    look(sized, "brought")


@pytest.mark.parametrize("key", ["roof", "pad", "controls", "season"])
def test_letters_of_a_drawing_are_large_enough_on_a_tablet(
    key: str, looked: Looked, browser: Browser
) -> None:
    for width in (701, 1001):
        context = browser.new_context(viewport={"width": width, "height": 1000})
        context.set_default_timeout(SLOW)
        page = context.new_page()
        shown(page, f"{looked.job}/{key}")
        assert page.evaluate(LETTERS, LEAST_LETTERS["tablet"]) == []
        assert fits(page, width)
        context.close()


@pytest.mark.parametrize("key", SHEETS)
def test_the_keyboard_reaches_all_of_a_sheet(key: str, looked: Looked, browser: Browser) -> None:
    context = browser.new_context(viewport=WIDE)
    context.set_default_timeout(SLOW)
    page = context.new_page()
    shown(page, f"{looked.job}/{key}")
    wanted = page.evaluate(
        """() => [...document.querySelectorAll(
          "main a[href], main button, main input, main select, main [tabindex='0']")]
          .filter((each) => each.checkVisibility() && !each.disabled
            && !(each.type === "radio" && !each.checked)).length"""
    )
    page.evaluate("document.activeElement.blur()")
    reached = page.evaluate("() => { window.reached = new Set(); window.unseen = []; }")
    for _ in range(wanted + 40):
        page.keyboard.press("Tab")
        reached = page.evaluate(SEEN)
        if reached >= wanted:
            break
    assert reached >= wanted
    assert page.evaluate("window.unseen") == []
    context.close()


SEEN = """() => {
  const here = document.activeElement;
  if (!here.closest("main") || window.reached.has(here)) return window.reached.size;
  window.reached.add(here);
  // It shows as an outline, on the label of a hidden box, or as a heavier mark of a drawing.
  const outlined = (each) => each && getComputedStyle(each).outlineStyle !== "none"
    && parseFloat(getComputedStyle(each).outlineWidth) >= 2;
  const mark = here.querySelector("line, circle");
  const heavy = mark && parseFloat(getComputedStyle(mark).strokeWidth) >= 3;
  if (!outlined(here) && !outlined(here.closest("label")) && !heavy)
    window.unseen.push(here.outerHTML.slice(0, 120));
  return window.reached.size;
}"""
"""Counts what the keyboard reached, and keeps what does not show that it has the focus."""
