"""Size: room on planes, arrays of any number, the flow each gets, the curve and its knee."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

from noonwater.app.demos import FOLDER
from noonwater.app.job_file import read_job
from noonwater.app.priced import prices_of
from noonwater.app.size_answer import SizeAnswer, SizeWish, answer_size
from noonwater.app.study import flows_by_period, run_year, surroundings_of
from noonwater.catalog import panel_named
from noonwater.core.errors import InputError
from noonwater.design.size import OVER_BUDGET, size
from noonwater.design.size_array import (
    array_area,
    plane_room,
    shared_out,
    with_panels,
)
from noonwater.design.size_curve import knee
from noonwater.design.size_flow import as_set, flow_per_area, set_flow, wanted_per_area
from noonwater.design.size_limit import OVER_ROOM
from noonwater.design.size_year import (
    days_at_target,
    season_of_day,
    with_solar,
    without_solar,
)
from noonwater.design.system_price import system_price
from noonwater.hydraulics.flow import flow_at
from noonwater.model.heater import Heater
from noonwater.model.job import Job
from noonwater.model.money import Offer
from noonwater.model.plant import Array, Bank
from noonwater.model.pool import Cover
from noonwater.model.site import Roof
from noonwater.year import parameters as at
from noonwater.year.calendar import season_of_step
from noonwater.year.prepare import prepare
from noonwater.year.run import settled_year
from tests.design_jobs import GOOD, with_roofs

HILL = FOLDER / "orchard-hill.toml"
RANCH = FOLDER / "almond-ranch.toml"


@cache
def hill() -> Job:
    return read_job(HILL)


@cache
def studied() -> SizeAnswer:
    return answer_size(HILL)


def with_split(job: Job, **split: int) -> Job:
    return with_panels(job, {roof.name: plane_room(job, roof) for roof in job.roof}, split)


def test_room_is_whole_panels_in_whole_rows() -> None:
    # 18 m over 1.2192 m is 14.76; 7 m over 3.048 m is 2.30.
    job = read_job(RANCH)
    room = plane_room(job, job.roof[0])
    assert (room.columns, room.rows, room.panels) == (14, 2, 28)


def test_a_plane_exactly_as_wide_as_its_panels_holds_them() -> None:
    panel = panel_named("tube 4x12")
    roof = replace(GOOD.roof[0], width=6 * panel.width, slope_length=panel.length)
    assert plane_room(replace(GOOD, roof=(roof,)), roof).panels == 6


def test_a_second_row_lies_as_high_as_the_first_one_ends() -> None:
    job = read_job(RANCH)
    made = with_split(job, barn=20)
    upper = next(roof for roof in made.roof if roof.name == "barn, row 2")
    rise = panel_named("tube 4x10").length * math.sin(math.radians(14.0))
    assert upper.eave_height == pytest.approx(3.2 + rise)
    assert sum(bank.panels for bank in made.array.banks if bank.roof == "barn") == 14
    assert sum(bank.panels for bank in made.array.banks if bank.roof == upper.name) == 6


def test_no_bank_is_longer_than_the_jobs_longest_on_the_plane() -> None:
    for count in range(1, 11):
        banks = with_split(hill(), southeast=count, southwest=3).array.banks
        assert max(bank.panels for bank in banks if bank.roof == "southeast") <= 8
        assert sum(bank.panels for bank in banks) == count + 3


def test_a_sensor_on_a_plane_without_panels_moves() -> None:
    assert with_split(hill(), southwest=3).controls.sensor_roof == "southwest"
    assert with_split(hill(), southwest=3, southeast=2).controls.sensor_roof == "southeast"


def test_shares_are_the_jobs_and_a_panel_more_takes_none_away() -> None:
    rooms = {roof.name: plane_room(hill(), roof) for roof in hill().roof}
    shares = {"southeast": 8, "southwest": 4}
    assert shared_out(12, shares, rooms) == shares
    before: dict[str, int] = {}
    for count in range(1, 27):
        after = shared_out(count, shares, rooms)
        assert sum(after.values()) == count
        assert all(after[name] >= panels for name, panels in before.items())
        assert all(panels <= rooms[name].panels for name, panels in after.items())
        before = after


def test_flow_per_area_is_kept_where_nothing_else_binds() -> None:
    wanted = flow_per_area(GOOD)
    for count in (12, 13):
        found = set_flow(with_split(GOOD, south=count), wanted)
        assert not found.bounds
        assert found.state is not None
        assert found.state.array_flow / array_area(found.job) == pytest.approx(wanted, rel=2e-3)


def test_a_flow_that_the_panels_do_not_bear_is_nobodys_wish() -> None:
    one = replace(hill(), array=Array((Bank("southeast", 1, "tube 4x10"),)))
    panel = panel_named("tube 4x10")
    assert flow_per_area(one) * panel.area > panel.flow_max
    assert wanted_per_area(one) == pytest.approx(panel.flow_nominal / panel.area)
    assert wanted_per_area(hill()) == flow_per_area(hill())


def test_suction_covers_bound_the_number_of_panels() -> None:
    rated = replace(hill(), pad=replace(hill().pad, suction_rating=1e-3))
    found = set_flow(rated, flow_per_area(hill()))
    assert "suction covers" in found.bounds[0]
    assert not as_set(hill()).bounds
    state = as_set(hill()).state
    assert state is not None
    # Enough for solar at 2700 rpm, not for the start at 3300 rpm.
    between = replace(hill(), pad=replace(hill().pad, suction_rating=1.1 * state.flow))
    assert as_set(between).bounds == (
        "at 3300 rpm the pump draws more than its suction covers are rated for",
    )


def test_a_job_with_more_panels_than_fit_says_so(tmp_path: Path) -> None:
    job = tmp_path / "narrow.toml"
    text = HILL.read_text(encoding="utf-8").replace('file = "demo-prices.csv"', "")
    job.write_text(text.replace('width = "40 ft"', 'width = "6 ft"'), encoding="utf-8")
    answer = answer_size(job)
    own = answer.study.own
    assert own is not None
    assert own.bounds[0] == OVER_ROOM
    assert any(line.endswith("this job, roof") for line in answer.lines("US"))
    assert "pool" not in {limit.name for limit in answer.study.limits}


def test_few_panels_get_what_just_keeps_the_breaker_shut() -> None:
    wanted = flow_per_area(GOOD)
    found = set_flow(with_split(GOOD, south=9), wanted)
    assert found.state is not None
    assert found.state.breaker == "shut"
    assert found.state.array_flow > wanted * array_area(found.job)
    slower = flow_at(found.job, found.state.rpm - 10.0, True, GOOD.pool.target)
    assert slower.breaker == "open"


def test_flow_of_an_option_is_that_of_its_own_circuit() -> None:
    point = studied().study.curves[0].at(15)
    assert point is not None
    job = with_split(hill(), **dict(point.split))
    again = flow_at(
        replace(job, pump=replace(job.pump, priming_speed=max(3300.0, point.rpm))),
        point.rpm,
        True,
        job.pool.target,
    )
    assert point.flow == again.array_flow
    assert again.breaker == "shut"


def test_a_bypass_is_set_where_the_pump_has_one_speed() -> None:
    answer = answer_size(RANCH)
    points = {point.panels: point for point in answer.study.curves[0].points}
    wanted = answer.study.flow_per_area
    job = read_job(RANCH)
    assert points[12].bypass_open == job.pad.bypass_open
    # One panel more takes more water: the bypass closes to give each what it had.
    assert points[13].bypass_open < points[12].bypass_open
    assert points[13].flow / points[13].area == pytest.approx(wanted, rel=1e-3)
    assert all(point.rpm == 3450.0 for point in points.values() if point.panels)


def test_too_few_panels_for_the_pump_say_why() -> None:
    limits = {limit.name: limit for limit in studied().study.limits if len(limit.planes) == 2}
    fewest = limits["pump, fewest"].panels
    curve = studied().study.curves[0]
    most = panel_named("sheet 4x10").flow_max
    below, there = curve.at(fewest - 1), curve.at(fewest)
    assert below is not None
    assert there is not None
    assert below.flow / below.panels > most >= there.flow / there.panels
    assert "more than its most" in below.bounds[0]


def test_a_roof_too_high_is_told_as_the_pumps_limit() -> None:
    high = with_roofs(eave_height=30.0)
    found = set_flow(high, 1e-4)
    assert found.bounds
    assert "does not lift" in found.bounds[0]


def test_own_number_of_panels_gives_the_year_to_the_last_digit() -> None:
    own, year = studied().study.own, run_year(hill())
    assert own is not None
    assert own.year.pool == tuple(month.pool for month in year.months)
    assert own.year.hours_at_target == sum(month.hours_at_target for month in year.months)
    assert own.year.solar_heat == sum(month.solar_heat for month in year.months)
    assert own.year.pump_energy == sum(month.pump_energy for month in year.months)
    season = season_of_step(hill().pool.opens, hill().pool.closes, 1)[::24]
    assert own.year.days_at_target == days_at_target(year.pool, year.target, season)


def test_other_curves_are_the_year_of_that_job_too() -> None:
    bare = replace(hill(), pool=replace(hill().pool, cover=Cover("none")))
    curve = next(curve for curve in studied().study.curves if curve.cover == "none")
    year = run_year(bare)
    own, none = curve.at(12), curve.at(0)
    assert own is not None
    assert none is not None
    assert own.year.solar_heat == sum(month.solar_heat for month in year.months)
    assert none.year.pool == tuple(month.pool_without_solar for month in year.months)


def test_heat_and_temperature_rise_with_every_panel() -> None:
    for curve in studied().study.curves:
        heats = [point.year.solar_heat for point in curve.points]
        means = [point.year.season_pool for point in curve.points]
        assert all(after > before for before, after in pairwise(heats))
        assert all(after > before for before, after in pairwise(means))


def test_what_the_next_panel_buys_adds_up_to_the_curve() -> None:
    curve = studied().study.curves[0]
    bought = [curve.next_panel(place) for place in range(len(curve.points))]
    assert bought[-1] is None
    total = sum(step.heat for step in bought if step)
    first, last = curve.points[0], curve.points[-1]
    assert total == pytest.approx(last.year.solar_heat - first.year.solar_heat)
    days = sum(step.days for step in bought if step)
    assert days == last.year.days_at_target - first.year.days_at_target


def test_the_knee_is_inside_the_curve() -> None:
    for curve in studied().study.curves:
        assert curve.knee is not None
        assert curve.points[0].panels < curve.knee < curve.points[-1].panels


def test_knee_of_a_ramp_that_ends_is_its_corner() -> None:
    assert knee(range(11), [min(count, 4) for count in range(11)]) == 4


def test_knee_of_an_exponential_is_where_its_slope_is_the_chords() -> None:
    # 1 - exp(-k x) over 0 to N: slope k exp(-k x) = (1 - exp(-k N)) / N, solved by hand for x.
    k, most = 0.15, 200
    exact = math.log(k * most / (1.0 - math.exp(-k * most))) / k
    found = knee(range(most + 1), [1.0 - math.exp(-k * count) for count in range(most + 1)])
    assert found is not None
    assert abs(found - exact) <= 0.5


@pytest.mark.parametrize(
    "amounts", [[0.0, 1.0, 2.0, 3.0], [0.0, 0.0, 0.0], [0.0, 1.0], [0.0, 0.1, 0.3, 1.0]]
)
def test_no_bend_no_knee(amounts: list[float]) -> None:
    assert knee(range(len(amounts)), amounts) is None


def test_a_wish_is_the_job_that_says_so() -> None:
    answer = answer_size(HILL, SizeWish(target="80 °F", months="5-9", roofs=("southeast",)))
    assert (answer.job.pool.opens, answer.job.pool.closes) == ("05-01", "09-30")
    assert answer.study.season_days == 153
    assert answer.job.pool.target == pytest.approx((80 - 32) / 1.8)
    assert {curve.planes for curve in answer.study.curves} == {("southeast",)}


def test_a_wanted_flow_per_panel_is_given() -> None:
    answer = answer_size(HILL, SizeWish(flow="7.5 gpm", roofs=("southeast",)))
    point = answer.study.curves[0].at(10)
    assert point is not None
    assert point.flow / 10 == pytest.approx(7.5 * 3.785411784e-3 / 60.0, rel=2e-3)


def test_no_room_anywhere_is_told_by_plane() -> None:
    tiny = tuple(replace(roof, width=1.0) for roof in hill().roof)
    job = replace(hill(), roof=tiny, array=Array((Bank("southeast", 1, "sheet 4x10"),)))

    with pytest.raises(InputError) as told:
        size(
            job,
            surroundings_of(job),
            flows_by_period,
            lambda variant: 0.0,
            roofs=("southeast", "southwest"),
        )
    assert [fault.field for fault in told.value.faults] == ["roof[0]", "roof[1]"]
    assert "no room" in told.value.faults[0].given


def test_a_plane_of_obstructed_size_is_left_out_with_its_reason() -> None:
    shed = Roof("shed", 10.0, 180.0, width=1.0, slope_length=8.0)
    job = replace(hill(), roof=(*hill().roof, shed))
    assert plane_room(job, shed).panels == 0


def test_season_of_day_is_the_jobs_calendar() -> None:

    inputs = prepare(hill(), surroundings_of(hill(), 1800), flows_by_period(hill()))
    days = season_of_day(inputs)
    # 15 April to 15 October, both included.
    assert days.sum() == 184
    assert days[104] == 1
    assert days[103] == 0


def test_each_number_has_the_price_of_its_own_parts() -> None:
    rows = prices_of(hill(), FOLDER).rows
    curve = studied().study.curves[0]
    own = studied().study.own
    assert own is not None
    assert own.price == system_price(hill(), rows).total
    prices = [point.price for point in curve.points]
    assert prices == sorted(prices)
    bought = [curve.next_panel(place) for place in range(len(curve.points))]
    assert sum(step.price for step in bought if step) == pytest.approx(prices[-1])


def test_a_list_that_counts_instead_is_not_scaled_and_tells_its_rows(tmp_path: Path) -> None:
    money = replace(hill().money, offer=Offer(installed=90000.0))
    told = replace(hill(), money=money)
    listed = tmp_path / "own.csv"
    listed.write_text("part,price\ntee,4\nelbow 90,ask\n", encoding="utf-8")
    assert prices_of(told, tmp_path).factor > 2.0
    found = prices_of(told, tmp_path, listed)
    assert (found.factor, len(found.rows)) == (1.0, 1)
    assert [finding.rule for finding in found.findings] == ["price-rows-not-used"]


def test_a_budget_bounds_the_number() -> None:
    answer = answer_size(HILL, SizeWish(budget="8000 USD", roofs=("southeast",)))
    curve = answer.study.curves[0]
    (limit,) = [limit for limit in answer.study.limits if limit.name == "budget"]
    paid, unpaid = curve.at(limit.panels), curve.at(limit.panels + 1)
    assert paid is not None
    assert unpaid is not None
    assert paid.price <= 8000.0 < unpaid.price
    assert OVER_BUDGET in unpaid.bounds
    assert OVER_BUDGET not in paid.bounds


def test_a_pool_with_a_heater_is_held_against_the_heater_alone() -> None:
    job = replace(hill(), heater=Heater("gas", target=26.0))
    inputs = prepare(job, surroundings_of(job, 1800), flows_by_period(job))
    year = settled_year(inputs)
    alone, both = without_solar(year, inputs), with_solar(year, inputs)
    assert alone.heater_energy > both.heater_energy > 0.0
    assert alone.season_pool > 25.0
    record = year.record
    assert alone.pool[5] == pytest.approx(
        record[151 * 24 : 181 * 24, at.POOL_TEMP_HEATER_ONLY].mean()
    )
