"""The pad's sheet in a real browser: nothing over anything, nothing cut, for every arrangement."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

import numpy as np
import pytest
from playwright.sync_api import Browser, Page

from noonwater.drawing import ink
from noonwater.drawing.pad_diagram import PadTitle, pad_diagram, pad_diagram_narrow
from noonwater.drawing.pad_water import PadWater, pad_waters
from noonwater.hydraulics.flow import solve_flow
from noonwater.hydraulics.speeds import with_speeds
from noonwater.model.circuit import Circuit
from tests.drawn_pads import PADS

pytestmark = pytest.mark.browser

SHEETS = {"desk": (pad_diagram, 1188), "pocket": (pad_diagram_narrow, 390)}
# The declared stack, and the widest face in it: what fits in that one fits in all.
FACES = (ink.TYPEFACE, "'DejaVu Sans'")
TITLE = PadTitle("Willow Lane 12", "2 in schedule 40", "0.1.0", "3fa9c1d2e4b5")

MEASURE = """faces => {
  const svg = document.querySelector('svg');
  const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
  const box = e => {
    const r = e.getBoundingClientRect();
    return {left: r.left / scale, right: r.right / scale, top: r.top / scale,
            bottom: r.bottom / scale};
  };
  // What a text covers is its letters, not the line's whole height.
  const written = face => {
    svg.setAttribute('font-family', face);
    return [...svg.querySelectorAll('text')].map(t => {
      const b = box(t), size = parseFloat(t.getAttribute('font-size'));
      const base = parseFloat(t.getAttribute('y'));
      return {words: t.textContent, size, ...b,
              top: base - 0.74 * size, bottom: base + 0.22 * size};
    }).filter(t => t.right > t.left);
  };
  const pieces = [];
  for (const path of svg.querySelectorAll('path.pipe')) {
    const steps = path.getAttribute('d').match(/-?\\d*\\.?\\d+/g).map(Number);
    let [x, y] = steps;
    for (let i = 2; i < steps.length; i += 2) {
      const from = [x, y];
      x += steps[i]; y += steps[i + 1];
      pieces.push([...from, x, y, path.parentNode.dataset.part || '']);
    }
  }
  for (const l of svg.querySelectorAll('.ground > line')) {
    const at = name => +l.getAttribute(name);
    pieces.push([at('x1'), at('y1'), at('x2'), at('y2'), 'border']);
  }
  const symbols = [...svg.querySelectorAll('.part > .symbol, .bank, .balloon circle, .arrow')]
    .map(e => ({name: e.closest('[data-part]')?.dataset.part || e.getAttribute('class') || 'circle',
                kind: e.getAttribute('class') || e.tagName, ...box(e)}));
  return faces.map(face => ({texts: written(face), pieces, symbols,
                             frame: box(svg.querySelector('.frame')),
                             wide: document.documentElement.scrollWidth}));
}"""


def meeting(one: dict, other: dict, by: float = 0.5) -> bool:
    """Whether two boxes share more than some units both ways."""
    return (
        min(one["right"], other["right"]) - max(one["left"], other["left"]) > by
        and min(one["bottom"], other["bottom"]) - max(one["top"], other["top"]) > by
    )


def text_on_text(found: dict) -> list[tuple[str, str]]:
    texts = found["texts"]
    return [
        (a["words"], b["words"])
        for i, a in enumerate(texts)
        for b in texts[i + 1 :]
        if meeting(a, b)
    ]


def pipe_through_text(found: dict) -> set[tuple[str, str]]:
    return {(text["words"], name) for text in found["texts"] for name in through(found, text)}


def through(found: dict, box: dict, inset: float = 0.0) -> set[str]:
    """Names of the pipes that pass through a box; all their pieces are level or upright."""
    left, top, right, bottom = found["places"]
    inside = (right > box["left"] + inset) & (left < box["right"] - inset)
    inside &= (bottom > box["top"] + inset) & (top < box["bottom"] - inset)
    return {found["pieces"][i][4] for i in np.flatnonzero(inside)}


def symbol_on_text(found: dict) -> list[tuple[str, str]]:
    return [
        (text["words"], symbol["name"])
        for text in found["texts"]
        for symbol in found["symbols"]
        if symbol["kind"] != "circle" and meeting(text, symbol, 1.0)
    ]


def symbol_on_symbol(found: dict) -> list[tuple[str, str]]:
    symbols = [s for s in found["symbols"] if s["kind"] in ("symbol", "bank", "circle")]
    return [
        (a["name"], b["name"])
        for i, a in enumerate(symbols)
        for b in symbols[i + 1 :]
        if a["name"] != b["name"] and meeting(a, b, 1.0)
    ]


def pipe_through_symbol(found: dict) -> set[tuple[str, str]]:
    """Pipes drawn through a balloon: they would strike its number out."""
    circles = [s for s in found["symbols"] if s["kind"] == "circle"]
    return {(c["name"], name) for c in circles for name in through(found, c, 1.0)}


def outside(found: dict) -> list[str]:
    frame = found["frame"]
    return [
        text["words"]
        for text in found["texts"]
        if text["left"] < frame["left"]
        or text["right"] > frame["right"]
        or text["top"] < frame["top"]
        or text["bottom"] > frame["bottom"]
    ]


@cache
def waters(name: str) -> tuple[Circuit, tuple[PadWater, ...], str]:
    job = with_speeds(PADS[name]())
    flow = solve_flow(job)
    return flow.circuit, tuple(pad_waters(job, flow)), job.units


def faults(found: dict) -> dict[str, object]:
    """All that is over or outside something, by what it is."""
    ends = np.array([piece[:4] for piece in found["pieces"]]).reshape(-1, 2, 2)
    assert (np.abs(np.diff(ends, axis=1)).min(axis=2) < 0.5).all()
    found["places"] = np.concatenate([ends.min(axis=1), ends.max(axis=1)], axis=1).T
    seen = {
        "text on text": text_on_text(found),
        "pipe through text": pipe_through_text(found),
        "symbol on text": symbol_on_text(found),
        "symbol on symbol": symbol_on_symbol(found),
        "pipe through number": pipe_through_symbol(found),
        "outside": outside(found),
    }
    return {what: where for what, where in seen.items() if where}


def numbers_drawn(page: Page) -> list[str]:
    return sorted(page.locator(".balloons .balloon text").all_text_contents())


def numbers_listed(page: Page) -> list[str]:
    return sorted(page.locator(".side .balloon text").all_text_contents())


@pytest.fixture(scope="module")
def desk(browser: Browser) -> Iterator[Page]:
    """One page for all measurements."""
    context = browser.new_context()
    yield context.new_page()
    context.close()


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("name", PADS)
def test_nothing_lies_over_anything(desk, name, sheet):
    draw, width = SHEETS[sheet]
    circuit, states, units = waters(name)
    desk.set_viewport_size({"width": width, "height": 900})
    for water in states:
        drawing = draw(circuit, water, TITLE, units=units).svg
        desk.set_content(f"<body style='margin:0'>{drawing}</body>")
        for found in desk.evaluate(MEASURE, FACES):
            assert len(found["texts"]) > 30
            assert faults(found) == {}, water.state.name
            assert min(text["size"] for text in found["texts"]) >= 10.9
            assert found["wide"] <= width
        assert numbers_drawn(desk) == numbers_listed(desk)


def test_the_measure_sees_what_it_should(page):
    page.set_content(
        "<body style='margin:0'><svg width='400' height='300' viewBox='0 0 400 300'>"
        "<rect class='frame' x='5' y='5' width='380' height='290'/>"
        "<g class='run' data-part='feed'><path class='pipe' d='M20,50l100,0'/></g>"
        "<g class='part' data-part='pump'><g class='symbol'>"
        "<rect x='200' y='100' width='40' height='40'/></g></g>"
        "<g class='part' data-part='filter'><g class='symbol'>"
        "<rect x='220' y='120' width='40' height='40'/></g></g>"
        "<text x='30' y='54' font-size='12'>struck</text>"
        "<text x='205' y='125' font-size='12'>in the pump</text>"
        "<text x='200' y='129' font-size='12'>over it</text>"
        "<text x='370' y='90' font-size='12'>too far</text></svg>"
    )
    found = page.evaluate(MEASURE, [ink.TYPEFACE])[0]
    assert faults(found) == {
        "text on text": [("in the pump", "over it")],
        "pipe through text": {("struck", "feed")},
        "symbol on text": [
            ("in the pump", "pump"),
            ("in the pump", "filter"),
            ("over it", "pump"),
            ("over it", "filter"),
        ],
        "symbol on symbol": [("pump", "filter")],
        "outside": ["too far"],
    }


@pytest.mark.parametrize("paper", ["Letter", "A4"])
def test_a_sheet_prints_on_one_page(page, tmp_path, paper):
    circuit, states, units = waters("plain")
    file = tmp_path / "sheet.svg"
    file.write_text(pad_diagram(circuit, states[-1], TITLE, units=units).svg, encoding="utf-8")
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(file.as_uri())
    printed = page.pdf(format=paper, landscape=True, print_background=True)
    assert printed.count(b"/Type /Page\n") + printed.count(b"/Type /Page>") == 1
    assert asked == [file.as_uri()]
