"""The space of a search: jobs at its places, hours that move, settings, what is valid."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from noonwater.app.demos import FOLDER
from noonwater.app.job_file import read_job
from noonwater.app.search_words import system_words
from noonwater.app.study import check_job
from noonwater.app.weather import weather_of
from noonwater.design.checks import flow_findings, job_findings
from noonwater.design.choose_judge import broken_at_once, broken_rules, with_pace
from noonwater.design.choose_search import first_places, neighbours
from noonwater.design.choose_space import DIFFERENCES, PACES, Place, Space, job_at, space_of
from noonwater.hydraulics.flow import solve_flow, solve_states
from noonwater.model.job import Job
from noonwater.model.plant import Controls, Period
from noonwater.model.pool import Cover
from noonwater.model.when import minutes_between

DEMOS = ("almond-ranch", "lagoon-court", "orchard-hill")


@cache
def job_of(name: str) -> Job:
    return read_job(FOLDER / f"{name}.toml")


@cache
def court() -> Space:
    return space_of(job_of("lagoon-court"))


def place_with(space: Space, **values: int) -> Place:
    """A first place with some axes set; panels as 'south=6'."""
    place = list(first_places(space)[1])
    for number, axis in enumerate(space.axes):
        key = axis.plane if axis.name == "panels" else axis.name.replace(" ", "_")
        place[number] = values.pop(key, place[number])
    assert not values
    return tuple(place)


def test_every_axis_is_in_the_job_at_a_place() -> None:
    space = court()
    place = place_with(space, south=6, west=2, longest_bank=0, breaker=1, difference=0, cover=1)
    job = job_at(space, place)
    assert job is not None
    assert [(bank.roof, bank.panels) for bank in job.array.banks] == [
        ("south", 3), ("south", 3), ("west", 2),
    ]  # fmt: skip
    assert job.pad.breaker == "feed"
    assert (job.controls.on_difference, job.controls.off_difference) == DIFFERENCES[0]
    assert len(job.pool.cover.months) == 12


def test_a_timer_has_no_difference_to_choose() -> None:
    timer = Controls("timer")
    space = space_of(replace(job_of("lagoon-court"), controls=timer))
    assert [len(axis.values) for axis in space.axes if axis.name == "difference"] == [1]
    job = job_at(space, first_places(space)[1])
    assert job is not None
    assert job.controls.on_difference == timer.on_difference
    assert "by timer" in system_words(job, "US")


def test_no_panels_is_nothing() -> None:
    assert job_at(court(), place_with(court(), south=0, west=0)) is None


def test_hours_move_and_others_give_way() -> None:
    space = court()
    job = job_at(space, place_with(space, **{"from": 1, "until": 3}))
    assert job is not None
    told = [(p.start, p.stop, p.solar) for p in job.pump.program]
    # The job has solar from 8 to 17 and the filter alone from 17 to 20.
    assert told == [("07:00", "18:00", True), ("18:00", "20:00", False)]
    shorter = job_at(space, place_with(space, **{"from": 3, "until": 1}))
    assert shorter is not None
    assert [(p.start, p.stop) for p in shorter.pump.program] == [
        ("09:00", "16:00"), ("17:00", "20:00"),
    ]  # fmt: skip


def test_hours_that_run_over_midnight_move_too() -> None:
    job = job_of("lagoon-court")
    night = Period("22:00", "04:00", 1200.0, solar=False)
    pump = replace(job.pump, program=(Period("05:00", "20:00", 1700.0), night))
    space = space_of(replace(job, pump=pump))
    moved = job_at(space, place_with(space, **{"from": 0, "until": 4}))
    assert moved is not None
    minutes = sum(len(minutes_between(p.start, p.stop)) for p in moved.pump.program)
    # Solar 3 to 22, then the filter from 22 to 3.
    assert minutes == 24 * 60
    assert {(p.start, p.stop) for p in moved.pump.program} == {
        ("03:00", "22:00"), ("22:00", "03:00"),
    }  # fmt: skip


def test_the_own_cover_stays_and_a_bare_pool_may_get_one() -> None:
    def kinds(space: Space) -> list[str]:
        values = space.axes[space.number("cover")].values
        return [cover.kind for cover in values if isinstance(cover, Cover)]

    assert kinds(court()) == ["bubble", "bubble"]
    assert kinds(space_of(job_of("almond-ranch"))) == ["none", "bubble", "solid"]


def test_neighbours_differ_by_one_thing_and_stay_inside() -> None:
    space = court()
    place = first_places(space)[1]
    every = [o for number in range(len(space.axes) + 1) for o in neighbours(space, place, number)]
    assert len(every) > 20
    for other in every:
        changed = [i for i, (a, b) in enumerate(zip(place, other, strict=True)) if a != b]
        assert len(changed) == 1 or changed == [0, 1]
        assert all(0 <= v < len(a.values) for v, a in zip(other, space.axes, strict=True))


def test_a_slower_setting_than_the_slowest_breaks_a_rule() -> None:
    space = court()
    job = job_at(space, place_with(space, south=6, west=3))
    assert job is not None
    slow, fast = with_pace(job, 0), with_pace(job, PACES - 1)
    assert slow is not None
    assert fast is not None
    assert fast.pump.solar_speed == 3450.0
    speed = slow.pump.solar_speed or 0.0
    assert speed < 3450.0
    borne = frozenset({"suction-too-fast", "return-too-fast", "panel-starved", "panel-flow-high"})
    assert broken_rules(slow, borne) == []
    slower = replace(slow, pump=replace(slow.pump, solar_speed=speed - 20.0))
    assert broken_rules(slower, borne)


def test_a_valve_goes_from_the_least_water_to_the_most() -> None:
    job = job_of("almond-ranch")
    least, most = with_pace(job, 0), with_pace(job, PACES - 1)
    assert least is not None
    assert most is not None
    assert least.pad.bypass_open > most.pad.bypass_open


@pytest.mark.parametrize("name", DEMOS)
def test_rules_broken_are_those_of_the_checks(name: str) -> None:
    space = space_of(job_of(name))
    for place in first_places(space)[:2]:
        job = job_at(space, place)
        assert job is not None
        job = with_pace(job, 1)
        if job is None:
            continue
        found = [*job_findings(job), *flow_findings(job, solve_flow(job, job.pool.target))]
        slow_to_find = {"dirty-filter-does-not-prime"}
        told = {finding.rule for finding in found} - slow_to_find
        at_once = broken_at_once(job, frozenset(), weather_of(job))
        broken = {*at_once, *broken_rules(job, frozenset())} - {"solar-hours-short"}
        assert broken <= told
        assert bool(broken) == bool(told)


def test_states_without_targets_are_the_same_states() -> None:
    job = job_of("orchard-hill")
    whole, quick = solve_flow(job, 27.0), solve_states(job, 27.0)
    assert quick.states == whole.states
    assert quick.targets is None
    assert whole.targets is not None


def test_hours_that_miss_the_sun_are_told_as_the_check_tells_them() -> None:
    space = court()
    short = job_at(space, place_with(space, **{"from": 4, "until": 0}))
    whole = job_at(space, place_with(space))
    assert short is not None
    assert whole is not None
    weather = weather_of(short)
    assert broken_at_once(short, frozenset(), weather) == ["solar-hours-short"]
    assert broken_at_once(whole, frozenset(), weather) == []
    assert broken_at_once(short, frozenset({"solar-hours-short"}), weather) == []
    told = {finding.rule for finding in check_job(with_pace(short, 1) or short)}
    assert "solar-hours-short" in told
