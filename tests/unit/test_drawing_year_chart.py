"""The year's sheet read back: what stands on it is what the result holds."""

from __future__ import annotations

from dataclasses import replace
from xml.etree import ElementTree

import numpy as np
import pytest

from noonwater.core.errors import InputError
from noonwater.drawing.lettering import clean
from noonwater.drawing.year_chart import year_chart, year_chart_narrow
from noonwater.year import parameters as at
from tests.browser.drawn_years import LONG_NAME, ODD_NAME, YEARS, made_up_year, points_of

SVG = "{http://www.w3.org/2000/svg}"
CHARTS = {"desk": year_chart, "pocket": year_chart_narrow}
JOULES_IN_KWH = 3.6e6


def drawn(name: str, chart: str) -> ElementTree.Element:
    year = YEARS[name]
    return ElementTree.fromstring(CHARTS[chart](year.result, **year.arguments))


def named(root: ElementTree.Element, name: str) -> ElementTree.Element:
    found = [element for element in root.iter() if element.get("class") == name]
    assert len(found) == 1, name
    return found[0]


def texts(element: ElementTree.Element) -> list[str]:
    return [text.text or "" for text in element.iter(f"{SVG}text")]


def values_by_height(panel: ElementTree.Element):
    """Read the panel's own scale: from its rules and the figures beside them, height to value."""
    axis = named(panel, "value-axis")
    heights = [float(rule.attrib["y1"]) for rule in axis.iter(f"{SVG}line")]
    figures = [text.removesuffix(" °F").removesuffix(" °C") for text in texts(axis)]
    values = [float(f.replace("−", "-").replace(",", "").replace("\u00a0", "")) for f in figures]
    slope, offset = np.polyfit(heights, values, 1)
    assert np.abs(np.polyval((slope, offset), heights) - values).max() < abs(slope) * 0.1
    return lambda y: slope * np.asarray(y) + offset, abs(slope)


def bars(root: ElementTree.Element, name: str) -> np.ndarray:
    boxes = [e for e in named(root, name) if e.get("class") == "bar"]
    fields = ("x", "y", "width", "height")
    return np.array([[float(box.attrib[field]) for field in fields] for box in boxes])


@pytest.mark.parametrize("chart", CHARTS)
@pytest.mark.parametrize("name", YEARS)
def test_sheet_is_sound_small_and_always_the_same(name, chart):
    year = YEARS[name]
    text = CHARTS[chart](year.result, **year.arguments)
    assert len(text.encode()) < 60_000
    assert text == CHARTS[chart](year.result, **year.arguments)
    root = ElementTree.fromstring(text)
    tags = {element.tag.removeprefix(SVG) for element in root.iter()}
    assert tags <= {"svg", "title", "desc", "g", "path", "rect", "line", "circle", "text"}
    assert root.get("role") == "img"
    assert [child.tag.removeprefix(SVG) for child in root[:2]] == ["title", "desc"]
    attributes = {key for element in root.iter() for key in element.attrib}
    assert not {key for key in attributes if key.startswith("on") or "href" in key or key == "id"}
    assert "nan" not in text.lower().replace(clean(year.result.job).lower(), "")
    assert "http" not in text.replace("http://www.w3.org/2000/svg", "")


@pytest.mark.parametrize("chart", CHARTS)
@pytest.mark.parametrize("name", ["plain_us", "plain_si", "cold", "tropics", "south"])
def test_lines_are_the_days_means(name, chart):
    year, root = YEARS[name], drawn(name, chart)
    to_value, per_unit = values_by_height(named(root, "temperature"))
    for line, hourly in (
        ("pool", year.result.pool),
        ("pool-without-solar", year.result.pool_without_solar),
        ("air", year.result.air),
    ):
        points = points_of(named(root, line).attrib["d"])
        days = hourly.reshape(365, 24).mean(axis=1)
        expected = days * 9.0 / 5.0 + 32.0 if year.units == "US" else days
        assert np.abs(to_value(points[:, 1]) - expected).max() < 0.11 * per_unit, line
        steps = np.diff(points[:, 0])
        assert np.ptp(steps) <= 0.21
    target = points_of(named(root, "target").attrib["d"])[:, 1]
    wanted = year.result.target * (9.0 / 5.0 if year.units == "US" else 1.0)
    wanted += 32.0 if year.units == "US" else 0.0
    assert to_value(target) == pytest.approx([wanted, wanted], abs=0.11 * per_unit)


@pytest.mark.parametrize("chart", CHARTS)
def test_band_is_the_days_range(chart):
    year, root = YEARS["plain_si"], drawn("plain_si", chart)
    to_value, per_unit = values_by_height(named(root, "temperature"))
    around = points_of(named(root, "day-range").attrib["d"].removesuffix("Z"))
    days = year.result.pool.reshape(365, 24)
    assert np.abs(to_value(around[:365, 1]) - days.max(axis=1)).max() < 0.11 * per_unit
    assert np.abs(to_value(around[365:, 1])[::-1] - days.min(axis=1)).max() < 0.11 * per_unit


@pytest.mark.parametrize("chart", CHARTS)
@pytest.mark.parametrize(
    ("name", "joules"),
    [("plain_us", JOULES_IN_KWH), ("small", JOULES_IN_KWH), ("big", 1e3 * JOULES_IN_KWH)],
)
def test_bars_are_the_months_sums(name, joules, chart):
    year, root = YEARS[name], drawn(name, chart)
    record, lengths = year.result.record, [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]
    hours = np.cumsum([0, *lengths]) * 24
    for panel, names, column in (
        ("heat", ["solar-heat"], at.SOLAR_HEAT),
        ("pump", ["pump-anyway", "pump-added"], at.PUMP_ENERGY),
    ):
        to_value, per_unit = values_by_height(named(root, panel))
        sums = np.add.reduceat(record[:, column], hours[:-1]) / joules
        boxes = [bars(root, bar) for bar in names]
        assert all(box.shape == (12, 4) for box in boxes)
        heights = sum(box[:, 3] for box in boxes)
        assert np.abs(heights * per_unit - sums).max() < 0.16 * per_unit
        assert np.abs(to_value(boxes[-1][:, 1]) - sums).max() < 0.16 * per_unit
    anyway = np.add.reduceat(record[:, at.PUMP_ENERGY_WITHOUT], hours[:-1]) / joules
    assert np.abs(bars(root, "pump-anyway")[:, 3] * per_unit - anyway).max() < 0.16 * per_unit


def test_bars_stand_under_their_months_and_say_their_amounts():
    year, root = YEARS["plain_us"], drawn("plain_us", "desk")
    pool = points_of(named(root, "pool").attrib["d"])[:, 0]
    days = np.cumsum([0, 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30])
    lengths = np.array([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
    boxes = bars(root, "solar-heat")
    middles = boxes[:, 0] + boxes[:, 2] / 2.0
    expected = np.interp(days + lengths / 2.0 - 0.5, np.arange(365), pool)
    assert middles == pytest.approx(expected, abs=0.2)
    sums = [month.solar_heat / JOULES_IN_KWH for month in year.result.months]
    figures = named(named(root, "heat"), "figures")
    assert texts(figures) == [f"{float(f'{amount:.3g}'):,.0f}" for amount in sums]
    assert f"{float(f'{sum(sums):.3g}'):,.0f} kWh in the year" in texts(root)


@pytest.mark.parametrize("chart", CHARTS)
def test_a_heater_that_helps_is_named_beside_solar(chart):
    year = made_up_year()
    assert "added by solar" in (told := "".join(texts(named(chart_of(year, chart), "temperature"))))
    assert "heater" not in told
    year.record[100, at.HEATER_HEAT] = 3.6e6
    told = "".join(texts(named(chart_of(year, chart), "temperature")))
    assert "added by solar and heater" in told
    assert "without solar or heater" in told
    assert "added by solar and heater" in texts(named(chart_of(year, chart), "pump"))


def chart_of(year, chart: str) -> ElementTree.Element:
    text = CHARTS[chart](year, units="US", opens="04-01", closes="10-31")
    return ElementTree.fromstring(text)


@pytest.mark.parametrize("chart", CHARTS)
def test_a_pump_that_takes_less_with_solar_is_drawn_whole(chart):
    year = made_up_year()
    months = tuple(replace(m, pump_energy=0.5 * m.pump_energy_without_solar) for m in year.months)
    text = CHARTS[chart](replace(year, months=months), units="SI", opens="04-01", closes="10-31")
    root = ElementTree.fromstring(text)
    _, per_unit = values_by_height(named(root, "pump"))
    expected = [month.pump_energy / JOULES_IN_KWH for month in months]
    assert bars(root, "pump-anyway")[:, 3] * per_unit == pytest.approx(expected, abs=0.2 * per_unit)
    assert bars(root, "pump-added")[:, 3].max() == 0.0


@pytest.mark.parametrize("chart", CHARTS)
def test_heat_lost_in_a_month_hangs_below_zero(chart):
    year = made_up_year()
    months = (replace(year.months[0], solar_heat=-600.0 * JOULES_IN_KWH), *year.months[1:])
    text = CHARTS[chart](replace(year, months=months), units="US", opens="04-01", closes="10-31")
    root = ElementTree.fromstring(text)
    to_value, per_unit = values_by_height(named(root, "heat"))
    top, height = bars(root, "solar-heat")[0, [1, 3]]
    assert to_value(top) == pytest.approx(0.0, abs=0.11 * per_unit)
    assert to_value(top + height) == pytest.approx(-600.0, abs=0.16 * per_unit)


@pytest.mark.parametrize(
    ("name", "spans"),
    [
        ("plain_us", [(0, 90), (304, 365)]),
        ("south", [(105, 273)]),
        ("one_week", [(3, 360)]),
        ("tropics", []),
    ],
)
def test_closed_part_of_the_year_is_tinted(name, spans):
    root = drawn(name, "desk")
    xs = points_of(named(root, "pool").attrib["d"])[:, 0]
    day = (xs[-1] - xs[0]) / 364.0
    start = xs[0] - 0.5 * day
    tinted = next(e for e in root.iter() if e.get("class") == "closed")
    found = [
        (float(box.attrib["x"]), float(box.attrib["x"]) + float(box.attrib["width"]))
        for box in tinted
    ]
    expected = [(start + first * day, start + last * day) for first, last in spans]
    assert np.array(found) == pytest.approx(np.array(expected), abs=0.2)


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("plain_us", "open Apr 1 to Oct 31"),
        ("plain_si", "15 Apr to 30 Sep"),
        ("south", "open 1 Oct to 15 Apr"),
        ("tropics", "open all year"),
        ("one_day", "open Jul 4 only"),
        ("one_week", "open Dec 27 to Jan 3"),
    ],
)
@pytest.mark.parametrize("chart", CHARTS)
def test_season_is_named(name, words, chart):
    assert any(words in text for text in texts(named(drawn(name, chart), "season")))


@pytest.mark.parametrize("chart", CHARTS)
@pytest.mark.parametrize("name", YEARS)
def test_every_line_has_its_name(name, chart):
    labels = texts(named(drawn(name, chart), "temperature"))
    for words in ("with solar", "without solar", "air"):
        assert labels.count(words) == 1
    assert sum(label.startswith("target ") for label in labels) == 1


def test_target_and_units_as_the_reader_counts():
    assert "target 82.4 °F" in texts(drawn("plain_us", "desk"))
    assert "target 28 °C" in texts(drawn("plain_si", "desk"))


@pytest.mark.parametrize("chart", CHARTS)
def test_a_name_is_text_and_never_markup(chart):
    root = drawn("odd_name", chart)
    shown = "".join(texts(named(root, "title-block")))
    assert "<script>alert('x')</script>" in shown
    assert clean(ODD_NAME) in (root[0].text or "")
    assert not list(root.iter(f"{SVG}script"))


@pytest.mark.parametrize("chart", CHARTS)
def test_a_long_name_is_cut_on_the_sheet_and_whole_in_the_title(chart):
    root = drawn("long_name", chart)
    block = texts(named(root, "title-block"))
    assert any(line.endswith("…") for line in block)
    assert LONG_NAME in (root[0].text or "")


def test_title_block_says_job_sheet_weather_version_and_inputs():
    block = texts(named(drawn("plain_us", "desk"), "title-block"))
    assert block == [
        "job", "Willow Lane 12", "sheet", "The pool’s year",
        "weather", "monthly means: made-up sines for a test",
        "Noonwater", "0.1.0", "inputs", "3fa9c1d2",
    ]  # fmt: skip


def test_description_holds_the_years_figures():
    year, root = YEARS["plain_si"], drawn("plain_si", "desk")
    words = root[1].text or ""
    assert "open from 15 Apr to 30 Sep; its target is 28.0 °C" in words
    hours = int((year.result.pool >= year.result.target).sum())
    assert f"for {hours:,} hours of the year with solar".replace(",", " ") in words


@pytest.mark.parametrize("chart", CHARTS.values())
@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"units": "metric"}, "units"),
        ({"opens": "02-30"}, "opens"),
        ({"closes": "April"}, "closes"),
    ],
)
def test_bad_arguments_are_named(chart, wrong, field):
    arguments = {"units": "US", "opens": "04-01", "closes": "10-31"} | wrong
    with pytest.raises(InputError, match=rf"{field}: '{wrong[field]}'; allowed: "):
        chart(YEARS["plain_us"].result, **arguments)


def test_a_year_with_a_hole_is_refused():
    year = made_up_year()
    air = year.air.copy()
    air[100] = np.nan
    with pytest.raises(ValueError, match="air of the year's result"):
        year_chart(replace(year, air=air), units="US", opens="04-01", closes="10-31")
