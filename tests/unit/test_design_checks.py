"""Every rule has a job that trips it and it alone; a good job trips none."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields, replace
from pathlib import Path

import numpy as np
import pytest

from noonwater.app.demos import demo_text, demos
from noonwater.app.job_file import read_job_text
from noonwater.climate.weather_year import WeatherYear
from noonwater.core.finding import Finding
from noonwater.design.backup import heaters_disagree
from noonwater.design.checks import (
    FLOW_CHECKS,
    JOB_CHECKS,
    YEAR_CHECKS,
    flow_findings,
    year_findings,
)
from noonwater.design.checks_page import checks_page
from noonwater.design.night import NIGHT_CHECKS
from noonwater.design.traced import TRACE_CHECKS
from noonwater.model.heater import Heater
from noonwater.model.job import Job
from noonwater.model.own_part import OwnPanel, SteadyTest
from noonwater.model.pad_option import AddPart, PanelChange, RemovePart
from noonwater.model.plant import Bank, Period, Pump
from noonwater.year import parameters as at
from noonwater.year.result import YearResult
from noonwater.year.sensor_cost import SensorCost
from tests.design_jobs import (
    GOOD,
    changed,
    flow_of,
    found_before_the_year,
    found_in_the_year,
    value_at,
    with_banks,
    with_roofs,
    year_of,
)

REPOSITORY = Path(__file__).parents[2]
SOLAR_DAY = Period("09:00", "17:00", 1700.0)
LONG_ROOF = with_roofs(width=40.0)

TRIPS: dict[str, tuple[Job, str]] = {
    "panels-wider-than-roof": (with_roofs(width=14.0), "roof[0].width"),
    "panels-longer-than-roof": (with_roofs(slope_length=3.0), "roof[0].slope_length"),
    "bank-too-long": (
        with_banks(Bank("south", 13, "tube 4x8"), job=changed(LONG_ROOF)),
        "array.banks[0].panels",
    ),
    "array-too-small": (changed(pool={"area": 110.0, "depth": 0.6}), "array.banks"),
    "sensor-off-the-panels": (
        changed(controls={"sensor_roof": "west"}),
        "controls.sensor_roof",
    ),
    "check-valve-after-filter": (
        changed(pad={"check_valves": ("roof return",)}),
        "pad.check_valves",
    ),
    "check-valve-roof-return": (
        changed(pad={"check_valves": ("after filter",)}),
        "pad.check_valves",
    ),
    "breaker-missing": (changed(pad={"breaker": "none"}), "pad.breaker"),
    "solar-in-no-period": (
        changed(pump={"program": (replace(SOLAR_DAY, solar=False),)}),
        "pump.program[0].solar",
    ),
    "priming-slower-than-solar": (
        changed(pump={"priming_speed": 2300.0}),
        "pump.priming_speed",
    ),
    "cleaner-in-solar-time": (
        changed(pump={"program": (replace(SOLAR_DAY, purpose="clean"),)}),
        "pump.program[0].solar",
    ),
    "freeze-circulation-needless": (
        changed(controls={"freeze": "circulate"}),
        "controls.freeze",
    ),
    "freeze-circulation-needs-power": (
        changed(pad={"breaker": "none"}, controls={"freeze": "circulate"}),
        "controls.freeze",
    ),
    "freeze-trip-low": (
        changed(pad={"breaker": "none"}, controls={"freeze": "drain", "freeze_trip": 2.0}),
        "controls.freeze_trip",
    ),
    "sensor-in-pipe-hunts": (
        changed(controls={"sensor": "return well", "least_run": 240.0}),
        "controls.least_run",
    ),
    "heaters-disagree": (replace(GOOD, heater=Heater("heat pump")), "pad.heater"),
    "heater-leaves-solar-no-room": (
        replace(GOOD, heater=Heater("gas", target=GOOD.pool.target)),
        "heater.target",
    ),
    "start-does-not-prime": (with_roofs(eave_height=20.0), "pump.priming_speed"),
    "dirty-filter-does-not-prime": (
        changed(pad={"breaker": "feed"}, pump={"solar_speed": 1850.0, "priming_speed": 1850.0}),
        "pump.priming_speed",
    ),
    "solar-does-not-hold": (
        changed(with_roofs(eave_height=6.0), pump={"solar_speed": 1700.0}),
        "pump.solar_speed",
    ),
    "breaker-draws-air": (changed(pump={"solar_speed": 2100.0}), "pump.solar_speed"),
    "breaker-margin-small": (changed(pump={"solar_speed": 2200.0}), "pump.solar_speed"),
    "array-under-vacuum": (
        changed(pad={"breaker": "feed"}, pump={"solar_speed": 1950.0}),
        "pump.solar_speed",
    ),
    "suction-over-rating": (changed(pad={"suction_rating": 6e-3}), "pump.priming_speed"),
    "suction-too-fast": (changed(pump={"solar_speed": 2500.0}), "pad.pipe"),
    "return-too-fast": (
        changed(pad={"pipe": 0.0508}, pump={"solar_speed": 2800.0}),
        "pad.pipe",
    ),
    "panel-flow-low": (
        changed(
            with_roofs(eave_height=-2.0), pump={"solar_speed": 1000.0, "priming_speed": 1500.0}
        ),
        "pump.solar_speed",
    ),
    "panel-flow-high": (
        with_banks(Bank("south", 6, "tube 4x10"), Bank("south", 6, "tube 4x10")),
        "pump.solar_speed",
    ),
    "panel-starved": (with_banks(Bank("south", 12, "tube 4x12")), "array.banks[0].panels"),
    "panel-pressure-high": (with_roofs(eave_height=-13.1), "pump.priming_speed"),
    "heater-flow-low": (
        changed(
            pump={"program": (Period("08:00", "09:00", 500.0, solar=False), SOLAR_DAY)},
        ),
        "pump.program[0].speed",
    ),
    "turnover-low": (
        changed(pump={"program": (Period("11:00", "12:00", 1700.0),)}),
        "pump.program[0].stop",
    ),
    "straight-pipe-short": (
        changed(pad={"straight_before_pump": 0.1}),
        "pad.straight_before_pump",
    ),
    "filter-heater-pipe-short": (changed(pad={"filter_to_heater": 0.5}), "pad.filter_to_heater"),
    "slope-too-flat": (changed(pad={"slope": 0.01}), "pad.slope"),
    "headers-fall-away": (
        with_banks(Bank("south", 6, "tube 4x12", slope=-0.01), Bank("south", 6, "tube 4x12")),
        "array.banks[0].slope",
    ),
    "slope-backwards": (changed(pad={"slope": -0.02}), "pad.slope"),
    "pipe-pressure-hot": (
        changed(with_roofs(eave_height=-28.0), pad={"pipe": 0.075, "schedule": "metric"}),
        "pad.pipe",
    ),
    "filter-rate-high": (changed(pad={"filter_area": 8.0}), "pad.filter_area"),
    "power-high": (
        changed(pump={"solar_speed": 3300.0, "priming_speed": 3450.0}),
        "pump.solar_speed",
    ),
    "pump-at-floor": (
        changed(pump={"program": (Period("08:00", "09:00", 550.0, solar=False), SOLAR_DAY)}),
        "pump.program",
    ),
}
"""Rules of job and flow: the job that breaks one, and the field that is named."""

WITH_IT = {
    "return-too-fast": {"suction-too-fast"},
    "bank-too-long": {"panel-starved"},
    "pipe-pressure-hot": {"panel-pressure-high"},
    "power-high": {"suction-too-fast", "return-too-fast", "panel-flow-high"},
    "pump-at-floor": {"heater-flow-low"},
    "heater-flow-low": {"pump-at-floor"},
    "freeze-circulation-needs-power": {"breaker-missing"},
    "freeze-trip-low": {"breaker-missing"},
    "dirty-filter-does-not-prime": {"array-under-vacuum"},
}
"""In one size of pipe the suction's stricter limit is broken first; momentum in its headers starves
the middle of a bank that long; panels bear less than their pipe; a pump takes many watts by moving
much water; at its floor it starves the heater; what a dirty filter keeps from priming runs too slow
to press on the high point."""


def _record(year: YearResult, column: int, value: float) -> YearResult:
    record = year.record.copy()
    record[:, column] = value
    return replace(year, record=record)


def _cold(year: YearResult) -> YearResult:
    return replace(year, air=np.full(8760, 5.0))


def _one_warm_hour_in_the_evening(year: YearResult) -> YearResult:
    record = year.record.copy()
    record[:, at.POOL_TEMP] = 28.0
    record[12::24, at.SOLAR_HEAT] = 3.6e7
    record[20::24, at.SOLAR_HEAT] = -3.6e6
    return replace(year, record=record)


def _as_it_is(year: YearResult) -> YearResult:
    return year


YearChange = Callable[[YearResult], YearResult]
TIMER = changed(controls={"kind": "timer"})
NO_BREAKER = changed(pad={"breaker": "none"})
COSTLY = SensorCost(9.0e9, 1.0e10, 3.0e6, 3.6e6, 3e9, 3.2e9, 2000.0, 2200.0, 500.0, 400.0)

YEAR_TRIPS: dict[str, tuple[Job, YearChange, str]] = {
    "weather-far": (changed(site={"latitude": 27.0}), _as_it_is, "weather.year"),
    "weather-height": (changed(site={"elevation": 350.0}), _as_it_is, "site.elevation"),
    "target-seldom-reached": (changed(pool={"target": 36.0}), _as_it_is, "pool.target"),
    "season-in-the-cold": (
        changed(pool={"opens": "10-15", "closes": "03-31"}),
        lambda year: _record(year, at.POOL_TEMP, 28.5),
        "pool.opens",
    ),
    "heater-out-of-season": (
        replace(GOOD, heater=Heater("gas")),
        lambda year: _record(year, at.HEATER_ENERGY, 3.6e6),
        "heater.months",
    ),
    "solar-never-runs": (
        GOOD,
        lambda year: _record(_record(year, at.SOLAR_TIME, 0.0), at.POOL_TEMP_WITHOUT, 20.0),
        "controls.on_difference",
    ),
    "solar-hours-short": (
        changed(pump={"program": (Period("13:00", "17:00", 1700.0),)}),
        _as_it_is,
        "pump.program",
    ),
    "timer-overheats": (
        TIMER,
        lambda year: _record(_record(year, at.POOL_TEMP, 30.0), at.SOLAR_HEAT, 1e6),
        "controls.kind",
    ),
    "timer-cools-pool": (TIMER, _one_warm_hour_in_the_evening, "pump.program"),
    "sensor-costs-heat": (
        changed(controls={"sensor": "free air"}),
        lambda year: replace(year, sensor_cost=COSTLY),
        "controls.sensor",
    ),
    "frost-without-draining": (
        NO_BREAKER,
        lambda year: _cold(_record(year, at.ARRAY_TEMP, 30.0)),
        "pad.breaker",
    ),
    "standing-water-too-hot": (
        with_banks(Bank("south", 12, "sheet 4x10"), job=NO_BREAKER),
        lambda year: replace(_record(year, at.ARRAY_TEMP, 76.0), air=np.full(8760, 20.0)),
        "array.banks[0].panel",
    ),
    "pvc-too-hot": (
        NO_BREAKER,
        lambda year: replace(_record(year, at.ARRAY_TEMP, 61.0), air=np.full(8760, 20.0)),
        "pad.schedule",
    ),
}
"""Rules of the year: the job and what is done to the good job's year; the field that is named."""

YEAR_WITH_IT = {"standing-water-too-hot": {"pvc-too-hot"}}
"""Panels bear more than PVC does, so pipe is always too hot first."""


@pytest.fixture(scope="module")
def good_year() -> tuple[YearResult, WeatherYear]:
    return year_of(GOOD)


def _complete(job: Job, finding: Finding) -> None:
    value_at(job, finding.where)
    for entry in fields(finding):
        text = getattr(finding, entry.name)
        assert text.strip() == text != "", (finding.rule, entry.name)
        assert "nan" not in text.split() and "inf" not in text.split(), finding
        assert "  " not in text, finding
    assert finding.text.endswith(".") and finding.remedy.endswith("."), finding
    assert finding.text.count(". ") == 0, "one sentence"


def test_the_good_job_is_good() -> None:
    assert found_before_the_year(GOOD) == []
    assert found_in_the_year(GOOD) == []


@pytest.mark.parametrize("rule", TRIPS)
def test_a_job_trips_its_rule_alone(rule: str) -> None:
    job, where = TRIPS[rule]
    found = found_before_the_year(job)
    assert {finding.rule for finding in found} == {rule} | WITH_IT.get(rule, set())
    mine = [finding for finding in found if finding.rule == rule]
    assert [finding.where for finding in mine] == [where]
    for finding in found:
        _complete(job, finding)


@pytest.mark.parametrize("rule", YEAR_TRIPS)
def test_a_year_trips_its_rule_alone(rule: str, good_year: tuple[YearResult, WeatherYear]) -> None:
    job, change, where = YEAR_TRIPS[rule]
    year, weather = good_year
    found = year_findings(job, change(year), weather)
    assert {finding.rule for finding in found} == {rule} | YEAR_WITH_IT.get(rule, set())
    mine = [finding for finding in found if finding.rule == rule]
    assert [finding.where for finding in mine] == [where]
    for finding in found:
        _complete(job, finding)


def test_a_filter_under_too_much_pressure_is_told() -> None:
    """No pump of the catalog does it on such a pad: the state is given the pressure."""
    flow = flow_of(GOOD)
    pressed = replace(flow, states=tuple(replace(s, pressure_filter=4e5) for s in flow.states))
    found = flow_findings(GOOD, pressed)
    assert [finding.rule for finding in found] == ["filter-pressure-high"]
    _complete(GOOD, found[0])


def test_every_rule_has_its_test() -> None:
    rules = [rule.name for checks in (JOB_CHECKS, FLOW_CHECKS, YEAR_CHECKS) for rule in checks]
    assert sorted(rules) == sorted({*TRIPS, *YEAR_TRIPS, "filter-pressure-high"})
    assert len(rules) == len(set(rules))


def test_a_rule_is_called_as_its_function() -> None:
    tables = (JOB_CHECKS, FLOW_CHECKS, TRACE_CHECKS, YEAR_CHECKS, NIGHT_CHECKS)
    names = [rule.name for checks in tables for rule in checks]
    assert len(names) == len(set(names))
    for checks in tables:
        for rule, check in checks.items():
            assert check.__name__ == rule.name.replace("-", "_")  # type: ignore[attr-defined]
            for text in (rule.limit, rule.source, rule.remedy):
                assert text and "|" not in text


def test_the_page_of_checks_is_that_of_the_code() -> None:
    page = (REPOSITORY / "docs" / "checks.md").read_text(encoding="utf-8")
    assert page == checks_page(), "run: python -m noonwater.design.checks_page > docs/checks.md"


def test_findings_speak_the_jobs_units() -> None:
    us, si = TRIPS["breaker-draws-air"][0], replace(TRIPS["breaker-draws-air"][0], units="SI")
    ours, theirs = found_before_the_year(us)[0], found_before_the_year(si)[0]
    assert "psi" in ours.value and "kPa" in theirs.value
    assert ours.rule == theirs.rule and ours.where == theirs.where


def test_no_demo_is_without_an_answer() -> None:
    for demo in demos():
        job = read_job_text(demo_text(demo.name))
        for finding in found_before_the_year(job):
            _complete(job, finding)


def test_a_pump_that_never_primes_is_told_once() -> None:
    pump = Pump("single small", (Period("08:00", "17:00", 3450.0),))
    job = replace(with_roofs(eave_height=16.0), pump=pump)
    assert not flow_of(job).state("solar 3450 rpm").primes
    faults = [finding for finding in found_before_the_year(job) if finding.severity == "fault"]
    assert [finding.rule for finding in faults] == ["start-does-not-prime"]
    assert "booster" in faults[0].remedy


def _rules(job: Job) -> set[str]:
    return {finding.rule for finding in found_before_the_year(job)}


def test_edits_count_as_the_options_do() -> None:
    removed = {
        "filter check valve": "check-valve-after-filter",
        "roof return check valve": "check-valve-roof-return",
        "vacuum breaker": "breaker-missing",
    }
    for part, rule in removed.items():
        assert rule in _rules(changed(pad={"edit": (RemovePart("remove", part),)}))
    check = AddPart("add", "filter to diverter", "check valve", "own check")
    bare = {"check_valves": ("roof return",)}
    assert "check-valve-after-filter" in _rules(changed(pad=bare))
    assert "check-valve-after-filter" not in _rules(changed(pad={**bare, "edit": (check,)}))
    breaker = AddPart("add", "roof return", "vacuum breaker", "own breaker", at=0.0)
    with_own = changed(pad={"breaker": "none", "edit": (breaker,)})
    assert "breaker-missing" not in _rules(with_own)
    assert flow_of(with_own).state("solar 2350 rpm").pressure_breaker is not None
    gone = changed(TRIPS["heater-flow-low"][0], pad={"edit": (RemovePart("remove", "heater"),)})
    assert "heater-flow-low" not in _rules(gone)


def test_own_panels_and_panels_of_another_kind_are_known_to_every_check() -> None:
    test = SteadyTest("steady", 0.88, 0.02, 12.5, 2.6)
    own = OwnPanel("own", 1.2192, 3.6576, test, like="tube 4x12")
    banks = tuple(replace(bank, panel="own") for bank in GOOD.array.banks)
    assert _rules(replace(changed(array={"banks": banks}), own_panel=(own,))) == set()
    long = replace(GOOD.array.banks[0], changed=(PanelChange(2, panel="long"),))
    job = replace(with_banks(long), own_panel=(replace(own, name="long", length=6.0),))
    assert "panels-longer-than-roof" in _rules(job)


def test_watts_are_held_against_the_panels_that_are_there() -> None:
    gone = tuple(PanelChange(number, left_out=True) for number in range(3, 7))
    banks = tuple(replace(bank, changed=gone) for bank in GOOD.array.banks)
    whole, few = (
        next(f for f in found_before_the_year(job) if f.rule == "power-high")
        for job in (
            changed(pump={"solar_speed": 3400.0, "priming_speed": 3450.0}),
            changed(array={"banks": banks}, pump={"solar_speed": 3400.0, "priming_speed": 3450.0}),
        )
    )
    watts = [float(found.limit.split()[0].replace(",", "")) for found in (whole, few)]
    assert watts[1] == pytest.approx(watts[0] / 3.0, rel=0.01)


def test_a_heater_added_by_an_edit_is_on_the_pad() -> None:
    job = replace(GOOD, heater=Heater("heat pump", months=(4, 5)))
    added = AddPart("add", "roof return", "heater", "second heater", "heat pump")
    agreed = changed(job, pad={"edit": (added,)})
    assert "heaters-disagree" in {finding.rule for finding in heaters_disagree(job)}
    assert not list(heaters_disagree(agreed))
