"""Ranges of the year: beliefs drawn evenly, ranges that hold what they promise, what matters most.

The promise of 80 % is tested on synthetic truth: hidden parameters of another draw than the range's
own, against the range as it is told, half-hour steps for speed (both sides alike). On 2000 truths
of plain chance the three demo jobs hold 79 to 84 %.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from scipy.stats import qmc

from noonwater.app.demos import FOLDER
from noonwater.app.job_file import read_job
from noonwater.app.study import flows_by_period, surroundings_of
from noonwater.app.sureness import cold_month, range_lines, sureness_of
from noonwater.app.weather import weather_of
from noonwater.catalog import panel_named
from noonwater.climate.sun import PlaneSun
from noonwater.core.errors import InputError
from noonwater.design.calibrate import (
    Bucket,
    bucket_misfit,
    calibrate,
    logger_misfit,
    readings_in,
)
from noonwater.design.doubts import (
    Doubt,
    Floats,
    belief_of,
    beliefs,
    doubts_of,
    evaporation_reach,
    middle_belief,
)
from noonwater.design.sure import Outcomes, run_beliefs, season_means, sureness
from noonwater.model.heater import Heater
from noonwater.model.job import Job
from noonwater.model.site import WeatherOnline
from noonwater.physics.air import vapour_pressure_saturation
from noonwater.year import parameters as at
from noonwater.year.belief import Belief
from noonwater.year.exposure import wind_factor_roof
from noonwater.year.panels import coefficients, panel_drivers
from noonwater.year.prepare import prepare
from noonwater.year.run import run, settled_year
from noonwater.year.varied import Base, base_of, varied

STEP = 1800


@cache
def job() -> Job:
    return read_job(FOLDER / "orchard-hill.toml")


@cache
def base() -> Base:
    return base_of(job(), surroundings_of(job(), STEP), flows_by_period(job()))


@cache
def doubts() -> tuple[Doubt, ...]:
    return doubts_of(job(), weather_of(job()).provenance.uncertainty_sun)


@cache
def start() -> Floats:
    return settled_year(base().inputs).start


@cache
def sample() -> tuple[list[Belief], Floats, Outcomes]:
    drawn, values = beliefs(doubts(), 256, 20)
    return drawn, values, run_beliefs(base(), drawn, start())


def test_points_of_a_doubt_are_its_ten_fifty_and_ninety_per_cent() -> None:
    for doubt in doubts():
        found = doubt.at(np.array([0.1, 0.5, 0.9]))
        np.testing.assert_allclose(found, [doubt.low, doubt.middle, doubt.high], rtol=1e-6)


def test_same_seed_same_draw() -> None:
    first, second = (beliefs(doubts(), 32, 7)[1] for _ in range(2))
    np.testing.assert_array_equal(first, second)
    assert not np.array_equal(first, beliefs(doubts(), 32, 8)[1])


@cache
def studied(demo: str) -> tuple[Base, tuple[Doubt, ...], Floats]:
    found = read_job(FOLDER / f"{demo}.toml")
    shared = base_of(found, surroundings_of(found, STEP), flows_by_period(found))
    sun = weather_of(found).provenance.uncertainty_sun
    doubtful = doubts_of(found, sun, evaporation_reach(shared.inputs))
    return shared, doubtful, settled_year(shared.inputs).start


@cache
def hidden_truths(demo: str) -> tuple[list[Belief], Outcomes]:
    shared, doubtful, near = studied(demo)
    shares = qmc.Sobol(len(doubtful), rng=np.random.default_rng(4711)).random(512)
    columns = [doubt.at(shares[:, i]) for i, doubt in enumerate(doubtful)]
    hidden = [belief_of(doubtful, row) for row in np.column_stack(columns)]
    return hidden, run_beliefs(shared, hidden, near)


@pytest.mark.parametrize("demo", ["orchard-hill", "lagoon-court", "almond-ranch"])
def test_four_of_five_hidden_truths_lie_in_the_range_as_it_is_told(demo: str) -> None:
    shared, doubtful, near = studied(demo)
    told = sureness(((shared, near),), doubtful)
    truth = hidden_truths(demo)[1]
    for promised, true in (
        (told.pool[4], truth.pool[:, 4]),
        (told.pool[8], truth.pool[:, 8]),
        (told.solar_heat, truth.solar_heat),
        (told.pump_energy, truth.pump_energy),
        (told.days_at_target, truth.days_at_target),
        (told.season_pool, season_means(shared.inputs, truth)),
    ):
        assert 0.75 <= np.mean((true >= promised.low) & (true <= promised.high)) <= 0.85


def test_four_of_five_lie_in_the_range_that_a_bucket_leaves() -> None:
    drawn, values, outcomes = sample()
    hidden, truth = hidden_truths("orchard-hill")
    means, chance = season_means(base().inputs, truth), np.random.default_rng(12)
    inside, narrower = [], []
    for belief, mean in zip(hidden, means, strict=True):
        calm = Bucket(0.0, 4.0, 27.0, 22.0, 12.0, 3.0)
        read = _foretold(calm, belief) * chance.normal(1.0, 0.1) + chance.normal(0.0, 1.5e-3)
        misfit = bucket_misfit(replace(calm, drop=max(read, 1e-3)), drawn, 0.3, 250.0)
        done = calibrate(doubts(), values, outcomes, base().inputs, misfit)
        inside.append(done.season_after.low <= mean <= done.season_after.high)
        narrower.append(done.narrower)
    assert 0.75 <= np.mean(inside) <= 0.85
    assert np.mean(narrower) > 0.3


def test_evaporation_and_wind_at_the_water_matter_most() -> None:
    sure = sureness(((base(), start()),), doubts(), 128)
    assert {weight.name for weight in sure.weights[:2]} <= {
        "evaporation", "wind at the water", "sun of the weather's source",
    }  # fmt: skip
    assert sum(weight.share for weight in sure.weights) == pytest.approx(1.0)
    assert sure.weather_left_out, "a typical year says that it leaves weather out"
    assert all(month.low <= month.middle <= month.high for month in sure.pool)


def test_a_bucket_tells_evaporation_and_nothing_of_the_panels() -> None:
    drawn, values, outcomes = sample()
    truth = Belief(evaporation=1.4)
    bucket = Bucket(0.0, 4.0, 27.0, 24.0, 15.0, 3.0)
    found = bucket_misfit(bucket, [truth], 0.3, 250.0)
    drop = _foretold(bucket, truth)
    assert found.shape == (1,)
    told = Bucket(drop, 4.0, 27.0, 24.0, 15.0, 3.0)
    done = calibrate(
        doubts(), values, outcomes, base().inputs, bucket_misfit(told, drawn, 0.3, 250.0)
    )
    by_name = {doubt.name: doubt for doubt in done.doubts}
    assert by_name["evaporation"].told
    assert by_name["evaporation"].after.low < 1.4 < by_name["evaporation"].after.high
    assert not by_name["efficiency of the panels"].told
    assert not by_name["wind at the panels' test"].told
    assert done.narrower > 0.1


def _foretold(bucket: Bucket, truth: Belief) -> float:
    from noonwater.physics.air import pressure_at_elevation, vapour_pressure_saturation
    from noonwater.physics.evaporation import evaporation_coefficient
    from noonwater.physics.water import latent_heat

    water, air = (vapour_pressure_saturation(t) for t in (bucket.water, bucket.dew_point))
    wind, pressure = bucket.wind * 0.3 * truth.water_wind, pressure_at_elevation(250.0)
    coefficient = evaporation_coefficient(wind, bucket.water, bucket.air, water, air, pressure)
    heat = truth.evaporation * coefficient * (water - air)
    return heat / latent_heat(bucket.water) * bucket.days * 86400.0 / 1000.0


def test_a_measurement_that_nothing_explains_is_refused() -> None:
    drawn, values, outcomes = sample()
    flood = Bucket(0.3, 3.0, 27.0, 24.0, 15.0, 3.0)
    with pytest.raises(InputError, match="check the readings"):
        calibrate(
            doubts(), values, outcomes, base().inputs, bucket_misfit(flood, drawn, 0.3, 250.0)
        )


def test_a_log_of_a_hidden_truth_narrows_and_holds_it() -> None:
    drawn, values, outcomes = sample()
    hidden = Belief(evaporation=0.8, water_wind=0.8)
    inputs = varied(base(), hidden)
    per_day = 86400 // STEP
    first, days = 120, 21
    state = settled_year(inputs).start
    log = run(inputs, state, 0, (first + days) * per_day).record[first * 24 :, at.POOL_TEMP]
    misfit = logger_misfit(base(), drawn, first * 24, log)
    done = calibrate(doubts(), values, outcomes, base().inputs, misfit, readings=7.0)
    true = run_beliefs(base(), [hidden], start())
    mean = float(season_means(base().inputs, true)[0])
    assert done.season_after.low <= mean <= done.season_after.high
    assert done.narrower > 0.2


@pytest.mark.parametrize("days", [7, 60, 150])
def test_a_log_as_good_as_the_model_is_never_refused_however_long(days: int) -> None:
    drawn, values, outcomes = sample()
    hidden, truth = hidden_truths("orchard-hill")
    chance, first, per_day = np.random.default_rng(3), 120, 86400 // STEP
    means, inside, narrower = season_means(base().inputs, truth), [], []
    for belief, mean in list(zip(hidden, means, strict=True))[:8]:
        inputs = varied(base(), belief)
        known = run(inputs, start(), 0, (first + days) * per_day).record[first * 24 :, at.POOL_TEMP]
        # An error of half a kelvin that lasts for some days, as a model's does.
        error = np.zeros(days)
        for day in range(1, days):
            error[day] = 0.5 * error[day - 1] + chance.normal(0.0, 0.5 * math.sqrt(0.75))
        misfit = logger_misfit(base(), drawn, first * 24, known + np.repeat(error, 24))
        readings = readings_in(days * 24)
        done = calibrate(doubts(), values, outcomes, base().inputs, misfit, readings=readings)
        inside.append(done.season_after.low - 0.1 <= mean <= done.season_after.high + 0.1)
        narrower.append(done.narrower)
        assert done.effective >= 11.9
    assert sum(inside) >= 6
    assert np.mean(narrower) > 0.4


def test_a_log_that_no_pool_could_have_is_refused() -> None:
    drawn, values, outcomes = sample()
    misfit = logger_misfit(base(), drawn, 120 * 24, np.full(21 * 24, 40.0))
    with pytest.raises(InputError, match="check the readings"):
        calibrate(doubts(), values, outcomes, base().inputs, misfit, readings=7.0)


def test_a_log_of_a_bare_pool_says_nothing_of_its_cover() -> None:
    drawn, values, outcomes = sample()
    first, days = 185, 21
    july = run(base().inputs, start(), 0, (first + days) * 86400 // STEP).record[first * 24 :]
    misfit = logger_misfit(base(), drawn, first * 24, july[:, at.POOL_TEMP])
    done = calibrate(doubts(), values, outcomes, base().inputs, misfit, readings=7.0)
    by_name = {doubt.name: doubt for doubt in done.doubts}
    assert not base().inputs.drivers.covered[first * 48 : (first + days) * 48].any()
    for name in ("nights without the cover", "wind at the panels' test"):
        assert not by_name[name].told
        kept = by_name[name].after
        assert kept.high - kept.low > 0.8 * (by_name[name].before.high - by_name[name].before.low)


def test_a_belief_gives_the_drivers_of_the_panels_own_function() -> None:
    around = surroundings_of(job(), STEP)
    belief = Belief(test_wind=1.5, test_sky=-70.0, water_wind=0.7, evaporation=1.3, sun=1.1)
    found = varied(base(), belief)
    for i, bank in enumerate(job().array.banks):
        roof = job().roof_named(bank.roof)
        plane = around.planes[roof.pitch, roof.bearing]
        brighter = PlaneSun(
            1.1 * plane.beam, 1.1 * plane.sky, 1.1 * plane.ground, plane.incidence_cosine
        )
        gain, loss = panel_drivers(
            coefficients(panel_named(bank.panel), 1.5, -70.0),
            brighter,
            around.air,
            roof.pitch,
            wind_factor_roof(job().site, roof),
        )
        np.testing.assert_allclose(found.drivers.bank_gain[i], gain, rtol=1e-9, atol=1e-9)
        np.testing.assert_allclose(found.drivers.bank_loss[i], loss, rtol=1e-9)
    middle = base().inputs
    np.testing.assert_allclose(found.drivers.wind_water, 0.7 * middle.drivers.wind_water)
    assert found.pool == middle.pool._replace(evaporation_factor=1.3)
    assert middle_belief(doubts()) == Belief(uncovered=0.1)


def test_several_years_bring_their_weather_into_the_range() -> None:
    warm = base().inputs.drivers
    other = warm._replace(temp_air=warm.temp_air - 4.0)
    cold = Base(
        base().inputs._replace(drivers=other),
        base().middle,
        base().panels,
        base().sun,
        base().sky,
        base().evening,
    )
    one = sureness(((base(), start()),), doubts(), 64)
    two = sureness(((base(), start()), (cold, start())), doubts(), 64)
    assert two.weather_left_out == ""
    assert two.season_pool.low < one.season_pool.low
    assert "weather from year to year" in [weight.name for weight in two.weights]
    assert sum(weight.share for weight in two.weights) == pytest.approx(1.0)


def test_the_plain_year_is_the_middle_of_its_range() -> None:
    plain = prepare(job(), surroundings_of(job(), STEP), flows_by_period(job()))
    middle = varied(base(), middle_belief(doubts()))
    np.testing.assert_array_equal(middle.drivers.covered, plain.drivers.covered)
    np.testing.assert_allclose(
        middle.drivers.bank_gain, plain.drivers.bank_gain, rtol=1e-9, atol=1e-9
    )
    np.testing.assert_allclose(middle.drivers.bank_loss, plain.drivers.bank_loss, rtol=1e-9)
    assert middle.pool == plain.pool


def test_a_habit_that_the_job_tells_is_in_no_doubt() -> None:
    pool = replace(job().pool, cover=replace(job().pool.cover, forgotten=5))
    told = replace(job(), pool=pool)
    around, flows = surroundings_of(told, STEP), flows_by_period(told)
    found = doubts_of(told, 0.05)
    assert "uncovered" not in [doubt.field for doubt in found]
    middle = varied(base_of(told, around, flows), middle_belief(found))
    covered = prepare(told, around, flows).drivers.covered
    np.testing.assert_array_equal(middle.drivers.covered, covered)


@pytest.mark.parametrize(("demo", "windy"), [("almond-ranch", True), ("orchard-hill", False)])
def test_the_evaporations_range_reaches_the_windy_pool_s_formula(demo: str, windy: bool) -> None:
    found = read_job(FOLDER / f"{demo}.toml")
    inputs = prepare(found, surroundings_of(found, STEP), flows_by_period(found))
    drivers, water = inputs.drivers, found.pool.target
    at_water = vapour_pressure_saturation(water)
    # Every hour of the season, both formulas written out: 0.0638 + 0.0669 u, and the default.
    season = drivers.season == 1
    wind, air = drivers.wind_water[season], drivers.temp_air[season]
    in_air, pressure = drivers.vapour_pressure[season], inputs.pool.pressure
    excess = (water + 273.15) / (1.0 - 0.378 * at_water / pressure)
    excess = excess - (air + 273.15) / (1.0 - 0.378 * in_air / pressure)
    default = 0.027 * np.cbrt(np.maximum(excess, 0.0)) + 0.031 * wind
    lack = np.maximum(at_water - in_air, 0.0)
    ratio = float((lack * (0.0638 + 0.0669 * wind)).sum() / (lack * default).sum())
    reach = evaporation_reach(inputs)
    assert (ratio > 1.6) is windy
    assert reach == pytest.approx(max(ratio, 1.6), rel=0.01)
    assert doubts_of(found, 0.05, reach)[0].high == reach


def test_a_hall_has_no_wind_to_reach_for() -> None:
    hall = base().inputs._replace(pool=base().inputs.pool._replace(coefficient_hall=0.05))
    assert evaporation_reach(hall) == 1.6


def test_a_heater_s_energy_has_a_range_and_the_plain_years_lies_in_it() -> None:
    heated = replace(job(), heater=Heater("gas", months=(4, 5, 9, 10)))
    shared = base_of(heated, surroundings_of(heated, STEP), flows_by_period(heated))
    settled = settled_year(shared.inputs)
    told = sureness(((shared, settled.start),), doubts(), 64)
    assert 0.0 < told.heater_energy.low < told.heater_energy.middle < told.heater_energy.high
    used = float(settled.record[:, at.HEATER_ENERGY].sum())
    assert told.heater_energy.low < used < told.heater_energy.high
    assert sureness(((base(), start()),), doubts(), 8).heater_energy.high == 0.0


@pytest.mark.parametrize(
    ("opens", "closes", "month"),
    [("04-01", "10-31", 4), ("04-15", "10-15", 5), ("10-01", "04-30", 10), ("01-01", "12-31", 2)],
)
def test_a_cold_year_is_felt_in_the_season_s_first_whole_month(
    opens: str, closes: str, month: int
) -> None:
    middles = [21.0 + abs(m - 1) for m in range(12)]
    season = replace(job().pool, opens=opens, closes=closes)
    assert cold_month(middles, season) == month


def test_a_service_of_several_years_brings_their_weather_too(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    typical = weather_of(job())
    years = tuple(
        replace(typical, calendar_year=2010 + k, temp_air=typical.temp_air + shift)
        for k, shift in enumerate((-3.0, 0.0, 2.0))
    )
    monkeypatch.setattr("noonwater.app.weather._online_years", lambda *_: years)
    online = replace(job(), weather=WeatherOnline("online", "nasa power"))
    told = sureness_of(online)
    assert told.weather_left_out == ""
    assert "weather from year to year" in [weight.name for weight in told.weights]
    words = "\n".join(range_lines(told, online, "US"))
    assert "most years (four of five)" in words and "a cold May has" in words
