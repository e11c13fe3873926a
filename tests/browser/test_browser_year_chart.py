"""The year's sheet in a real browser: legible, nothing over anything, nothing fetched."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from noonwater.drawing import ink
from noonwater.drawing.year_chart import year_chart, year_chart_narrow
from tests.browser.drawn_years import YEARS

pytestmark = pytest.mark.browser

CHARTS = {"desk": (year_chart, 1200, 860), "pocket": (year_chart_narrow, 390, 844)}
# The declared stack, and the widest face in it: what fits in that one fits in all.
FACES = (ink.TYPEFACE, "'DejaVu Sans'")

MEASURE = """face => {
  const svg = document.querySelector('svg');
  svg.setAttribute('font-family', face);
  const sheet = svg.getBoundingClientRect();
  const scale = sheet.width / svg.viewBox.baseVal.width;
  const frame = svg.querySelector('.frame').getBoundingClientRect();
  const near = {left: frame.left, top: frame.top, right: frame.right, bottom: frame.bottom};
  const texts = [...svg.querySelectorAll('text')].map(t => {
    const r = t.getBoundingClientRect();
    return {words: t.textContent, left: r.left, right: r.right, top: r.top, bottom: r.bottom,
            size: parseFloat(t.getAttribute('font-size')) * scale};
  }).filter(t => t.right > t.left);
  return {texts, frame: near, wide: document.documentElement.scrollWidth};
}"""


def overlapping(texts: list[dict]) -> list[tuple[str, str]]:
    """Pairs of texts whose boxes share more than half a pixel both ways."""
    return [
        (a["words"], b["words"])
        for i, a in enumerate(texts)
        for b in texts[i + 1 :]
        if min(a["right"], b["right"]) - max(a["left"], b["left"]) > 0.5
        and min(a["bottom"], b["bottom"]) - max(a["top"], b["top"]) > 0.5
    ]


def outside(texts: list[dict], frame: dict) -> list[str]:
    return [
        text["words"]
        for text in texts
        if text["left"] < frame["left"]
        or text["right"] > frame["right"]
        or text["top"] < frame["top"]
        or text["bottom"] > frame["bottom"]
    ]


@cache
def drawn(chart: str, name: str) -> str:
    year = YEARS[name]
    return CHARTS[chart][0](year.result, **year.arguments)


def opened(page: Page, folder: Path, chart: str, name: str) -> list[str]:
    """Open a sheet as a file of its own; give the addresses that were asked for besides."""
    file = folder / "sheet.svg"
    file.write_text(drawn(chart, name), encoding="utf-8")
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.set_viewport_size({"width": CHARTS[chart][1], "height": CHARTS[chart][2]})
    page.goto(file.as_uri())
    page.wait_for_load_state("networkidle")
    assert asked[0] == file.as_uri()
    return asked[1:]


@pytest.fixture(scope="module")
def desk(browser: Browser) -> Iterator[Page]:
    """One page for all measurements; a new one for each would take most of the time."""
    context = browser.new_context()
    yield context.new_page()
    context.close()


@pytest.mark.parametrize("chart", CHARTS)
@pytest.mark.parametrize("name", YEARS)
def test_no_text_meets_another_or_leaves_the_sheet(desk, name, chart):
    _, width, height = CHARTS[chart]
    desk.set_viewport_size({"width": width, "height": height})
    desk.set_content(f"<body style='margin:0'>{drawn(chart, name)}</body>")
    for face in FACES:
        found = desk.evaluate(MEASURE, face)
        assert len(found["texts"]) > 30
        assert overlapping(found["texts"]) == []
        assert outside(found["texts"], found["frame"]) == []
        assert min(text["size"] for text in found["texts"]) >= 10.9
        assert found["wide"] <= width


@pytest.mark.parametrize("chart", CHARTS)
def test_a_sheet_alone_asks_for_nothing(page, tmp_path, chart):
    assert opened(page, tmp_path, chart, "plain_us") == []
    assert overlapping(page.evaluate(MEASURE, ink.TYPEFACE)["texts"]) == []


def test_the_measure_sees_what_it_should(page):
    page.set_viewport_size({"width": 390, "height": 400})
    page.set_content(
        "<svg viewBox='0 0 390 300'><rect class='frame' x='5' y='5' width='380' height='290'/>"
        "<text x='20' y='50' font-size='12'>first</text>"
        "<text x='30' y='52' font-size='12'>second</text>"
        "<text x='370' y='90' font-size='12'>too far to the right</text></svg>"
    )
    found = page.evaluate(MEASURE, ink.TYPEFACE)
    assert overlapping(found["texts"]) == [("first", "second")]
    assert outside(found["texts"], found["frame"]) == ["too far to the right"]


def test_a_name_full_of_markup_does_nothing_in_a_page(page):
    sheets = [drawn(chart, "odd_name") for chart in CHARTS]
    said: list[str] = []
    page.on("dialog", lambda dialog: (said.append(dialog.message), dialog.dismiss()))
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.set_content("<main>" + "".join(sheets) + "</main>")
    assert page.locator("script").count() == 0
    assert page.locator("svg").count() == 2
    assert "<script>alert('x')</script>" in page.locator("svg .title-block").first.text_content()
    assert said == []


@pytest.mark.parametrize("chart", CHARTS)
def test_a_sheet_is_one_image_with_a_name_for_those_who_hear_it(page, tmp_path, chart):
    opened(page, tmp_path, chart, "plain_us")
    image = page.get_by_role("img", name="The pool’s year: Willow Lane 12")
    assert image.count() == 1


@pytest.mark.parametrize("paper", ["Letter", "A4"])
def test_a_sheet_prints_on_one_page(page, tmp_path, paper):
    opened(page, tmp_path, "desk", "plain_us")
    printed = page.pdf(format=paper, landscape=True, print_background=True)
    assert printed.count(b"/Type /Page\n") + printed.count(b"/Type /Page>") == 1
