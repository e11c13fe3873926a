"""A remedy that is computed mends what it was computed for, and nothing less does."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from noonwater.core.finding import Finding
from noonwater.design.search import speeds_of
from noonwater.model.job import Job
from noonwater.model.pad_option import AddPart
from noonwater.model.plant import Bank, Period, Pump
from tests.design_jobs import (
    GOOD,
    changed,
    flow_of,
    found_before_the_year,
    with_banks,
    with_roofs,
)

ONE_SPEED = (Period("08:00", "17:00", 3450.0),)
WIDE = "panels-wider-than-roof"


def _found(job: Job, rule: str) -> Finding | None:
    return next((found for found in found_before_the_year(job) if found.rule == rule), None)


def _remedy(job: Job, rule: str) -> str:
    found = _found(job, rule)
    assert found is not None, rule
    return found.remedy


def _number(pattern: str, text: str) -> float:
    match = re.search(pattern, text)
    assert match, text
    return float(match.group(1))


@pytest.mark.parametrize("speed", [1900.0, 2000.0, 2100.0])
@pytest.mark.parametrize("rule", ["breaker-draws-air"])
def test_the_least_speed_shuts_the_breaker(speed: float, rule: str) -> None:
    job = changed(pump={"solar_speed": speed})
    least = _number(r"at (\d+) rpm or more", _remedy(job, rule))
    at_least = changed(pump={"solar_speed": least})
    assert _found(at_least, rule) is None and _found(at_least, "breaker-margin-small") is None
    below = changed(pump={"solar_speed": least - 10.0})
    assert _found(below, "breaker-margin-small") is not None


def test_the_least_speed_primes() -> None:
    high = with_roofs(eave_height=8.0)
    job = changed(high, pump={"solar_speed": None, "priming_speed": 1800.0})
    least = _number(r"Prime at (\d+) rpm", _remedy(job, "start-does-not-prime"))
    assert _found(changed(job, pump={"priming_speed": least}), "start-does-not-prime") is None
    below = changed(job, pump={"priming_speed": least - 10.0})
    assert _found(below, "start-does-not-prime") is not None


def test_a_speed_with_siphon_holds_what_one_without_does_not() -> None:
    job = changed(with_roofs(eave_height=6.0), pump={"solar_speed": 1700.0})
    least = _number(r"at (\d+) rpm or more", _remedy(job, "solar-does-not-hold"))
    mended = changed(job, pump={"solar_speed": least, "priming_speed": least})
    assert _found(mended, "solar-does-not-hold") is None
    assert _found(mended, "breaker-draws-air") is None


def test_a_bypass_is_closed_as_far_as_the_breaker_needs() -> None:
    job = replace(
        changed(
            with_roofs(eave_height=5.4),
            pad={"arrangement": "diverter with bypass", "bypass_open": 0.6},
        ),
        pump=Pump("single medium", ONE_SPEED),
    )
    opening = _number(r"Close the bypass to (\d+) %", _remedy(job, "breaker-draws-air")) / 100.0
    mended = changed(job, pad={"bypass_open": opening})
    assert _found(mended, "breaker-draws-air") is None
    assert _found(mended, "breaker-margin-small") is None
    wider = changed(job, pad={"bypass_open": opening + 0.05})
    assert _found(wider, "breaker-margin-small") or _found(wider, "breaker-draws-air")


def test_a_bypass_is_closed_as_far_as_a_start_needs() -> None:
    job = replace(
        changed(
            with_roofs(eave_height=8.0),
            pad={"arrangement": "diverter with bypass", "bypass_open": 1.0},
        ),
        pump=Pump("single medium", ONE_SPEED),
    )
    remedy = _remedy(job, "start-does-not-prime")
    opening = _number(r"Close the bypass to (\d+) %\.", remedy) / 100.0
    assert _found(changed(job, pad={"bypass_open": opening}), "start-does-not-prime") is None
    wider = changed(job, pad={"bypass_open": opening + 0.05})
    assert _found(wider, "start-does-not-prime") is not None


def test_a_start_that_only_runs_over_the_top_is_told_its_speed() -> None:
    job = changed(pump={"solar_speed": 1400.0, "priming_speed": 1400.0})
    assert flow_of(job).state("priming 1400 rpm").primes
    found = _found(job, "start-does-not-prime")
    assert found is not None and "leaves the air" in found.text
    least = _number(r"Prime at (\d+) rpm", found.remedy)
    assert _found(changed(job, pump={"priming_speed": least}), "start-does-not-prime") is None
    below = changed(job, pump={"priming_speed": least - 10.0})
    assert _found(below, "start-does-not-prime") is not None


def test_a_dirty_filter_is_told_the_speed_that_it_needs() -> None:
    slow = {"solar_speed": 1850.0, "priming_speed": 1850.0}
    job = changed(pad={"breaker": "feed"}, pump=slow)
    least = _number(r"Prime at (\d+) rpm", _remedy(job, "dirty-filter-does-not-prime"))
    mended = changed(job, pump={"priming_speed": least})
    assert _found(mended, "dirty-filter-does-not-prime") is None
    below = changed(job, pump={"priming_speed": least - 10.0})
    assert _found(below, "dirty-filter-does-not-prime") is not None


def test_each_period_that_starts_solar_is_asked() -> None:
    program = (Period("08:00", "12:00", 1400.0), Period("12:00", "17:00", 2400.0))
    job = changed(pump={"program": program, "solar_speed": None, "priming_speed": None})
    found = _found(job, "start-does-not-prime")
    assert found is not None and found.where == "pump.program[0].speed"
    primed = changed(job, pump={"priming_speed": 2400.0})
    assert _found(primed, "start-does-not-prime") is None


def test_a_booster_counts_in_what_a_start_lifts_to() -> None:
    tall = with_roofs(eave_height=22.0)
    boosted = changed(tall, pad={"booster": "booster cleaner"})
    alone, both = (_found(job, "start-does-not-prime") for job in (tall, boosted))
    assert alone is not None and alone.limit.startswith("lift of")
    # The booster's 45 psi lift water to the top, but it passes too little to carry the air.
    assert both is None or not both.limit.startswith("lift of")


def test_a_shut_valve_on_the_way_to_the_roof_is_told() -> None:
    shut = AddPart("add", "feed", "isolation valve", "feed stop", open=0.0)
    found = _found(changed(pad={"edit": (shut,)}), "start-does-not-prime")
    assert found is not None and found.where == "pad.edit"


def test_a_bypass_is_put_in_where_one_speed_floods_the_panels() -> None:
    job = replace(GOOD, pump=Pump("single medium", ONE_SPEED))
    remedy = _remedy(job, "panel-flow-high")
    opening = _number(r'bypass_open = "(\d+) %"', remedy) / 100.0
    pad = {"arrangement": "diverter with bypass", "bypass_open": opening}
    assert _found(changed(job, pad=pad), "panel-flow-high") is None
    pad["bypass_open"] = opening - 0.05
    assert _found(changed(job, pad=pad), "panel-flow-high") is not None


def test_a_lower_speed_keeps_the_suction_slow() -> None:
    job = changed(pump={"solar_speed": 2500.0})
    remedy = _remedy(job, "suction-too-fast")
    most = _number(r"run solar at (\d+) rpm or less", remedy)
    assert _found(changed(pump={"solar_speed": most}), "suction-too-fast") is None
    assert _found(changed(pump={"solar_speed": most + 10.0}), "suction-too-fast") is not None
    assert "3 in schedule 40" in remedy and "covers' rating" in remedy


def test_a_lower_speed_that_lets_air_in_is_not_offered() -> None:
    job = changed(with_roofs(eave_height=4.0), pump={"solar_speed": 2600.0})
    assert _found(job, "breaker-draws-air") is None
    remedy = _remedy(job, "suction-too-fast")
    assert "pipe there" in remedy and "rpm" not in remedy


def test_split_banks_are_fed_evenly() -> None:
    job = with_banks(Bank("south", 12, "tube 4x12"))
    remedy = _remedy(job, "panel-starved")
    assert "into 2 banks" in remedy
    split = with_banks(Bank("south", 6, "tube 4x12"), Bank("south", 6, "tube 4x12"))
    assert _found(split, "panel-starved") is None


def test_least_heater_flow_and_hours_of_turnover() -> None:
    slow = Period("08:00", "09:00", 500.0, solar=False)
    job = changed(pump={"program": (slow, GOOD.pump.program[1])})
    least = _number(r"Run at (\d+) rpm", _remedy(job, "heater-flow-low"))
    mended = changed(pump={"program": (replace(slow, speed=least), GOOD.pump.program[1])})
    assert _found(mended, "heater-flow-low") is None

    short = changed(pump={"program": (Period("11:00", "12:00", 1700.0),)})
    hours = _number(r"pump ([\d.]+) h a day more", _remedy(short, "turnover-low"))
    stop = 12 * 60 + round(60 * hours)
    longer = Period("11:00", f"{stop // 60:02d}:{stop % 60:02d}", 1700.0)
    assert _found(changed(pump={"program": (longer,)}), "turnover-low") is None


def test_panels_to_add_make_half_of_the_pool() -> None:
    job = changed(pool={"area": 120.0})
    more = int(_number(r"Add (\d+) panel", _remedy(job, "array-too-small")))
    first, second = GOOD.array.banks
    roomy = with_roofs(job, width=40.0)
    enough = with_banks(replace(first, panels=first.panels + more), second, job=roomy)
    assert _found(enough, "array-too-small") is None
    short = with_banks(replace(first, panels=first.panels + more - 1), second, job=roomy)
    assert _found(short, "array-too-small") is not None


def test_a_second_row_is_entered_at_its_height() -> None:
    remedy = _remedy(replace(with_roofs(width=8.0, slope_length=8.0), units="SI"), WIDE)
    # 2.4 m + 3.6576 m sin 18° = 3.53 m, by hand.
    assert "lower edge 3.5 m above" in remedy
    one_too_wide = with_roofs(width=5.0)
    assert "at most 4 panels" in _remedy(one_too_wide, WIDE)
    assert "narrower than one panel" in _remedy(with_roofs(width=1.0), WIDE)


def test_a_pump_of_one_speed_has_one_speed() -> None:
    assert speeds_of(replace(GOOD, pump=Pump("single small", ONE_SPEED))) == [3450.0]
    assert speeds_of(GOOD)[0] == 450.0 and speeds_of(GOOD)[-1] == 3450.0


def test_no_remedy_goes_beyond_the_suction_covers() -> None:
    slow = {"solar_speed": 2000.0}
    free = _remedy(changed(pump=slow), "breaker-draws-air")
    assert "Run solar at" in free
    speed = _number(r"Run solar at (\d+) rpm", free)
    needed = flow_of(changed(pump={"solar_speed": speed})).state(f"solar {speed:.0f} rpm").flow
    enough = changed(pad={"suction_rating": needed * 1.001}, pump=slow)
    assert _number(r"Run solar at (\d+) rpm", _remedy(enough, "breaker-draws-air")) == speed
    tight = changed(pad={"suction_rating": needed * 0.98}, pump=slow)
    assert "Run solar at" not in _remedy(tight, "breaker-draws-air").split(", pad.breaker")[0]


def test_the_speed_that_the_covers_bear() -> None:
    job = changed(pad={"suction_rating": 5e-3})
    most = _number(r"at (\d+) rpm or less", _remedy(job, "suction-over-rating"))
    primed = {"solar_speed": most, "priming_speed": most}
    assert _found(changed(job, pump=primed), "suction-over-rating") is None
    faster = {"solar_speed": most + 10.0, "priming_speed": most + 10.0}
    assert _found(changed(job, pump=faster), "suction-over-rating") is not None


def test_a_diverter_with_stops_may_be_given_a_bypass() -> None:
    """Its stops then go: a split by both is no arrangement."""
    pad = {"arrangement": "diverter with stops", "diverter_open": 0.9}
    job = replace(changed(pad=pad), pump=Pump("single medium", ONE_SPEED))
    remedy = _remedy(job, "panel-flow-high")
    assert 'pad.diverter_open = "100 %"' in remedy
    opening = _number(r'bypass_open = "(\d+) %"', remedy) / 100.0
    mended = {"arrangement": "diverter with bypass", "bypass_open": opening, "diverter_open": 1.0}
    assert _found(changed(job, pad=mended), "panel-flow-high") is None
