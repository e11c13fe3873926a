"""The commissioning sheet says what flow, trace and year say; its bands let sound pads pass."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from noonwater.core.units import System
from noonwater.design.expected_readings import HandlePlace, handle_course
from noonwater.document.handle_steps import handle_blocks, sight_words
from noonwater.document.language import language_of
from noonwater.document.start_steps import tests_before as steps_before
from noonwater.hydraulics.flow import StateFlow, state_flow
from noonwater.model.circuit import State
from noonwater.year.parameters import SOLAR_HEAT, SOLAR_TIME
from tests.papers import CODES, DEMOS, material, text_of

PSI, GPM = 6894.757, 6.30902e-5


def state_named(demo: str, name: str) -> State:
    return material(demo).trace.state(name).state


def with_filter(demo: str, name: str, load: float) -> StateFlow:
    loop = material(demo).trace.case.loop
    dirty = replace(loop, settings=replace(loop.settings, filter_load=load))
    return state_flow(dirty, state_named(demo, name))


@pytest.mark.parametrize("demo", DEMOS)
@pytest.mark.parametrize("code", CODES)
@pytest.mark.parametrize("system", ["US", "SI"])
def test_the_sheet_carries_the_flow_of_every_running_state(
    demo: str, code: str, system: System
) -> None:
    text = text_of("commissioning", demo, code, system)
    for state in material(demo).flow.states:
        if state.rpm <= 0.0:
            continue
        gauge = max(state.pressure_filter, 0.0)
        if system == "US":
            assert f" {gauge / PSI:.0f} psi" in text
            assert f" {state.flow / GPM:.0f} gpm" in text
        else:
            assert f" {gauge / 1000.0:.0f} kPa" in text
            assert f" {state.flow * 3600.0:.1f} m³/h" in text
        assert f" {round(state.power / 10.0) * 10:,} W" in text


@pytest.mark.parametrize("demo", DEMOS)
def test_a_band_holds_the_expected_and_shows_a_fault(demo: str) -> None:
    for reading in material(demo).readings:
        for band in (reading.gauge, reading.flow, reading.array_flow, reading.power):
            assert band.low <= max(band.expected, 0.0) <= band.high
        dirty = with_filter(demo, reading.state.name, 1.0)
        assert dirty.flow < reading.flow.low
        assert with_filter(demo, reading.state.name, 0.1).flow > reading.flow.low


def test_the_handle_s_course_meets_the_state_as_designed() -> None:
    found = material("almond-ranch")
    solar = found.solar_state
    assert solar is not None
    places = handle_course(
        found.trace.case.loop, state_named("almond-ranch", solar.name), "bypass valve"
    )
    flows = [place.array_flow for place in places]
    assert flows == sorted(flows)
    assert not places[0].wet
    # 30 % open is a handle at 63°.
    before, after = places[12], places[13]
    assert (before.angle, after.angle) == (60.0, 65.0)
    assert before.array_flow < solar.array_flow < after.array_flow


@pytest.mark.parametrize("code", CODES)
def test_a_bypass_is_set_by_angle_and_gauge(code: str) -> None:
    found = material("almond-ranch")
    solar = found.solar_state
    assert solar is not None
    course = handle_course(
        found.trace.case.loop, state_named("almond-ranch", solar.name), "bypass valve"
    )
    text = text_of("commissioning", "almond-ranch", code, "SI")
    for place in (
        next(place for place in course if place.wet),
        next(place for place in course if place.full),
    ):
        assert f" {place.angle:.0f}° " in text
        assert f" {place.gauge / 1000.0:.0f} kPa" in text


def test_low_panels_that_run_alone_are_not_told_as_nothing() -> None:
    found = material("almond-ranch")
    solar = found.solar_state
    assert solar is not None
    english = language_of("en", "SI")
    state = state_named("almond-ranch", solar.name)
    course = handle_course(found.trace.case.loop, state, "bypass valve")
    dry = next(place for place in course if not place.wet)
    assert sight_words(dry, english) == "nothing from the roof"
    low = replace(dry, array_flow=0.002)
    assert sight_words(low, english) == "water from the lower panels alone"


@pytest.mark.parametrize(("limit", "told"), [(1.1, False), (0.9, True)])
def test_a_shut_return_that_presses_too_hard_is_warned_of(limit: float, told: bool) -> None:
    found = material("lagoon-court")
    targets = found.flow.targets
    assert targets is not None
    start = replace(targets.start, limit=limit * targets.start.blocked, within=True)
    flow = replace(found.flow, targets=replace(targets, start=start))
    text = str(steps_before(replace(found, flow=flow), language_of("en", "US")))
    assert ("With the roof return shut" in text) == told


@pytest.mark.parametrize("demo", DEMOS)
def test_the_rise_is_what_the_year_s_heat_and_flow_make(demo: str) -> None:
    """In hours in which water ran all the time, the year's heat over flow gives such a rise."""
    found = material(demo)
    rise, solar, record = found.rise, found.solar_state, found.year.record
    assert rise is not None
    assert solar is not None
    whole = record[:, SOLAR_TIME] >= 3599.0
    assert whole.sum() > 100
    heat = record[whole, SOLAR_HEAT] / 3600.0
    from_year = heat / (4.16e6 * solar.array_flow)
    strong = rise.by_sun[-1]
    upper = float(np.quantile(from_year, 0.9))
    assert strong.low < upper < strong.high
    assert [row.middle for row in rise.by_sun] == sorted(row.middle for row in rise.by_sun)


@pytest.mark.parametrize("demo", DEMOS)
def test_the_rise_of_each_month_is_on_the_sheet(demo: str) -> None:
    rise = material(demo).rise
    assert rise is not None
    text = text_of("commissioning", demo, "en", "US")
    spans = [span for row in rise.by_month for span in row.rises if span is not None]
    assert spans
    for low, high in spans:
        assert f"{low * 1.8:.1f} to {high * 1.8:.1f} °F" in text


def test_a_flow_beyond_a_handle_s_ends_is_told_as_a_range_that_rises() -> None:
    found = material("almond-ranch")
    targets = found.flow.targets
    assert targets is not None
    # A booster or a low bank can draw more through an array whose bypass stands open.
    hand = replace(targets.hand[0], opening=None, handle_angle=None, least=0.006, most=0.005)
    flow = replace(found.flow, targets=replace(targets, hand=(hand,)))
    text = str(handle_blocks(replace(found, flow=flow), language_of("en", "SI")))
    assert "its handle gives 18.0 to 21.6 m³/h" in text


def test_a_valve_that_runs_full_wide_open_is_not_closed_for_that(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    found, english = material("almond-ranch"), language_of("en", "SI")
    asked = "until no more bubbles come"
    assert asked in str(handle_blocks(found, english))
    course = [HandlePlace(1.0 - a / 90.0, a, 1.4e5, 0.004, wet=True, full=True) for a in (0.0, 5.0)]
    monkeypatch.setattr("noonwater.document.handle_steps.handle_course", lambda *_: course)
    text = str(handle_blocks(found, english))
    assert asked not in text
    assert "No air comes in at the top even so" in text
