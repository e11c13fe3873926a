"""The sheet of a batch read back: its bars hold every row, its bands are those of the rows."""

from __future__ import annotations

from xml.etree import ElementTree

import numpy as np
import pytest

from noonwater.drawing.batch_chart import BatchPicture, batch_chart
from noonwater.drawing.scales import round_ticks

SVG = "{http://www.w3.org/2000/svg}"


def picture(count: int, field: str = "pump.solar_speed", **changes: object) -> BatchPicture:
    draw = np.random.default_rng(5)
    values = draw.choice([2000.0, 2400.0, 2800.0], count) if field else None
    pool = 26.0 + draw.normal(0.0, 1.0, count)
    heat = 9000.0 + 3.0 * (values if values is not None else 0.0) + draw.normal(0.0, 500.0, count)
    parts: dict[str, object] = {
        "job": "Lagoon Court",
        "table": "options.csv",
        "rows": count + 2,
        "season_pool": pool,
        "solar_heat": heat,
        "field": field,
        "unit": "rpm" if field else "",
        "values": values,
        "system": "US",
    }
    return BatchPicture(**{**parts, **changes})  # type: ignore[arg-type]


def drawn(shown: BatchPicture) -> ElementTree.Element:
    return ElementTree.fromstring(batch_chart(shown))


def named(root: ElementTree.Element, name: str) -> list[ElementTree.Element]:
    return [element for element in root.iter() if element.get("class") == name]


def texts(element: ElementTree.Element) -> list[str]:
    return [text.text or "" for text in element.iter(f"{SVG}text")]


def rules(panel: ElementTree.Element) -> tuple[np.ndarray, np.ndarray]:
    """Heights of the value axis and the figures beside them."""
    (axis,) = named(panel, "value-axis")
    heights = [float(rule.attrib["y1"]) for rule in axis.iter(f"{SVG}line")]
    figures = [float(text.replace(",", "").replace("−", "-")) for text in texts(axis)]
    return np.array(heights), np.array(figures)


@pytest.mark.parametrize("key", ["pool-rows", "heat-rows"])
def test_the_bars_hold_every_row(key: str) -> None:
    (panel,) = named(drawn(picture(400)), key)
    heights, figures = rules(panel)
    slope, offset = np.polyfit(heights, figures, 1)
    bars = named(panel, "bar")
    counts = [slope * float(bar.attrib["y"]) + offset for bar in bars]
    assert sum(counts) == pytest.approx(400, abs=0.1 * len(bars))


def test_the_band_is_that_of_the_rows() -> None:
    shown = picture(900)
    (panel,) = named(drawn(shown), "heat-field")
    heights, figures = rules(panel)
    slope, offset = np.polyfit(heights, figures, 1)
    dots = named(panel, "dot")
    middles = [slope * (float(dot.attrib["y"]) + 2.2) + offset for dot in dots]
    assert shown.values is not None
    expected = [np.median(shown.solar_heat[shown.values == each]) for each in (2000, 2400, 2800)]
    assert middles == pytest.approx(expected, abs=abs(slope) * 0.2)
    assert any("over pump.solar_speed, rpm" in text for text in texts(panel))


def test_a_field_of_many_values_is_drawn_in_stretches_of_as_many_rows() -> None:
    values = np.linspace(1.0, 2.0, 5000) ** 3
    values[::7] = np.nan
    shown = picture(5000, "pool.depth", unit="ft", values=values)
    (panel,) = named(drawn(shown), "pool-field")
    assert len(named(panel, "dot")) == 24


@pytest.mark.parametrize("count", [1, 2])
def test_few_rows_and_equal_ones_are_drawn(count: int) -> None:
    shown = picture(count, "", season_pool=np.full(count, 27.0), solar_heat=np.zeros(count))
    root = drawn(shown)
    assert not named(root, "heat-field")
    assert len(named(root, "bar")) == 2


def test_a_batch_without_an_answer_says_so() -> None:
    root = drawn(picture(0, ""))
    assert "No row has an answer." in texts(root)


def test_sheet_is_small_always_the_same_and_safe() -> None:
    shown = picture(10_000, job='<b>"A" & B', table="a.csv")
    text = batch_chart(shown)
    assert len(text.encode()) < 60_000
    assert text == batch_chart(shown)
    assert "&lt;b&gt;" in text


def test_it_is_said_in_words() -> None:
    shown = picture(50)
    (told,) = drawn(shown).iter(f"{SVG}desc")
    middle = np.median(shown.solar_heat)
    assert f"middle row {middle:.1f} kWh" in (told.text or "")
    assert "50 of 52 rows" in (told.text or "")


@pytest.mark.parametrize(
    ("low", "high"), [(82.1, 85.1), (0.0, 0.0), (5.0, 5.0), (-3.0, 1e5), (1e-9, 2e-9), (-7.0, -7.0)]
)
def test_round_ticks_reach_over_the_range(low: float, high: float) -> None:
    ticks = round_ticks(low, high, 7)
    assert ticks[0] <= low
    assert ticks[-1] >= high
    assert 2 <= len(ticks) <= 7
    assert len(np.unique(ticks)) == len(ticks)
