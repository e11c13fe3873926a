"""Rules of the year on years that were run, not made up for them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from noonwater.core.finding import Finding
from noonwater.design.checks import year_findings
from noonwater.design.standing_water import standing_water
from noonwater.model.job import Job
from noonwater.model.plant import Period
from noonwater.model.site import Site, WeatherShipped
from tests.design_jobs import GOOD, changed, found_in_the_year, with_roofs, year_of

COLD = replace(
    GOOD,
    site=Site(latitude=36.1, longitude=-79.95, elevation=273.0),
    weather=WeatherShipped("shipped", "Greensboro"),
)


def _by_rule(job: Job) -> dict[str, Finding]:
    return {finding.rule: finding for finding in found_in_the_year(job)}


def test_a_draining_array_in_a_cold_place_is_left_alone() -> None:
    assert not {rule for rule in _by_rule(COLD) if "frost" in rule or "hot" in rule}


def test_water_that_stands_freezes_in_winter_and_boils_pvc_in_summer() -> None:
    found = _by_rule(changed(COLD, pad={"breaker": "none"}))
    frost = found["frost-without-draining"]
    assert "°F" in frost.value and frost.limit == "42.0 °F"
    assert "also in the season" in frost.value, "April nights there are under 42 °F"
    assert found["pvc-too-hot"].limit == "140 °F"
    assert "hours a year over" in found["pvc-too-hot"].value


def test_an_array_below_the_water_never_drains() -> None:
    sunk = with_roofs(COLD, eave_height=-1.0)
    assert standing_water(sunk) == "roof[0].eave_height"
    year, weather = year_of(COLD)
    found = {finding.rule: finding for finding in year_findings(sunk, year, weather)}
    assert found["frost-without-draining"].where == "roof[0].eave_height"
    assert "drain at its low corner" in found["frost-without-draining"].remedy


def test_a_timer_round_the_clock_cools_by_night_and_overheats_by_day() -> None:
    day = Period("00:00", "24:00", 1700.0)
    job = changed(controls={"kind": "timer"}, pump={"program": (day,)})
    found = _by_rule(job)
    assert {"timer-cools-pool", "timer-overheats"} <= set(found)
    start = found["timer-cools-pool"].remedy.split("from ")[1][:5]
    assert "06:00" <= start <= "10:00", "the sun is on a roof facing south then"


def test_hours_that_are_named_hold_the_sun() -> None:
    short = changed(pump={"program": (Period("13:00", "17:00", 1700.0),)})
    year, weather = year_of(GOOD)
    (found,) = year_findings(short, year, weather)
    start, stop = found.remedy.split("from ")[1].split(",")[0].split(" to ")
    mended = changed(short, pump={"program": (Period(start, stop, 1700.0),)})
    assert year_findings(mended, year, weather) == []
    assert "07:00" <= start <= "10:00" and "15:00" <= stop <= "19:00"


@pytest.mark.parametrize(("target", "where"), [(15.0, "pool.target"), (28.0, "")])
def test_a_pool_that_is_warm_anyway_needs_no_solar(target: float, where: str) -> None:
    job = changed(pool={"target": target})
    found = _by_rule(job)
    assert (found["solar-never-runs"].where if where else "") == where
    assert ("solar-never-runs" in found) == bool(where)
