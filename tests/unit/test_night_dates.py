"""Dates to drain and to reopen: what they stand on, either hemisphere, where nothing freezes."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from noonwater.climate.extremes import Extremes
from noonwater.climate.sun import PlaneSun, SunSteps, WeatherSteps
from noonwater.climate.weather_year import Provenance, WeatherYear
from noonwater.core.constants import KELVIN, STEFAN_BOLTZMANN
from noonwater.year.night_bodies import RIGID, Body
from noonwater.year.night_dates import (
    DateRow,
    FreezeRisk,
    Span,
    freeze_risk,
    ranked_span,
    span_of,
)
from noonwater.year.night_loop import BodyYear
from noonwater.year.night_rows import DAYS, by_night, night_of_step
from noonwater.year.night_trip import trip_against
from noonwater.year.surroundings import Surroundings
from tests.jobs import example_job

HOURS = np.arange(8760.0)


def made_weather(
    mean: float, season: float, extremes: Extremes | None = None, coldest_day: int = 15
) -> WeatherYear:
    """A year of smooth seasons, nights 10 K colder than days, under a clear sky."""
    year = -np.cos(2.0 * np.pi * (HOURS / 24.0 - coldest_day) / 365.0)
    temp = mean + season * year + 5.0 * np.cos(2.0 * np.pi * (HOURS - 15.0) / 24.0)
    sky = 0.75 * STEFAN_BOLTZMANN * (temp + KELVIN) ** 4
    flat = np.ones(8760)
    provenance = Provenance("made.csv", "typical-year file", 0.0, "made for a test", 0.1)
    return WeatherYear(
        "made", 40.0, 0.0, 0.0, 0.0, 0 * flat, 0 * flat, 0 * flat, temp, temp - 8.0, 800.0 * flat,
        2.0 * flat, 101325.0 * flat, sky, 0 * flat, 0.2 * flat, provenance, extremes,
    )  # fmt: skip


def made_surroundings(weather: WeatherYear) -> Surroundings:
    """Its hours as steps, without sun, on the planes of the example job."""
    dark = np.zeros(8760)
    sun = SunSteps(3600, dark, dark, dark, dark, dark, dark)
    air = WeatherSteps(
        3600,
        weather.temp_air,
        weather.dew_point,
        weather.vapour_pressure,
        weather.wind_speed,
        weather.pressure,
        weather.longwave_sky,
    )
    plane = PlaneSun(dark, dark, dark, dark)
    planes = {(roof.pitch, roof.bearing): plane for roof in example_job().roof}
    return Surroundings(weather, sun, air, planes)


def risk_of(weather: WeatherYear, others: tuple[WeatherYear, ...] = ()) -> FreezeRisk:
    around = made_surroundings(weather)
    return freeze_risk(
        example_job(), around, weather, [made_surroundings(other) for other in others]
    )


def test_a_northern_winter_reaches_over_the_year_s_end() -> None:
    row = risk_of(made_weather(10.0, 12.0)).chosen
    assert row.cautious is not None
    assert 240 < row.cautious.first < 350
    assert 20 < row.cautious.last < 140


def test_a_southern_winter_lies_in_the_middle_of_the_year() -> None:
    row = risk_of(made_weather(10.0, 12.0, coldest_day=196)).chosen
    assert row.cautious is not None
    assert 60 < row.cautious.first < 180
    assert 200 < row.cautious.last < 330
    assert row.cautious.first < row.cautious.last


def test_the_tropics_never_freeze() -> None:
    risk = risk_of(made_weather(26.0, 3.0))
    assert risk.chosen.cautious is None
    assert risk.chosen.middle is None
    assert not risk.known


def test_one_year_alone_knows_no_risk_and_says_so() -> None:
    risk = risk_of(made_weather(10.0, 12.0))
    assert not risk.known
    assert risk.method.startswith("risk not known")
    assert "alone" in risk.method
    assert [row.return_years for row in risk.rows] == [None]
    assert risk.chosen.shift == 0.0


def test_a_header_s_extremes_make_a_known_risk() -> None:
    plain = made_weather(10.0, 12.0)
    lowest = float(plain.temp_air.min())
    told = Extremes("a handbook", lowest, lowest - 1.0, 3.0, (), ())
    risk = risk_of(replace(plain, extremes=told))
    assert risk.known
    assert "a handbook" in risk.source
    assert [row.return_years for row in risk.rows] == [5.0, 10.0, 20.0, 50.0]
    assert risk.chosen.return_years == 10.0
    shifts = [row.shift for row in risk.rows]
    assert shifts == sorted(shifts, reverse=True)
    # Gumbel's factor at 10 years, 1.305 (ASHRAE's table, from memory), by 3 K, and 1 K of mean.
    assert risk.chosen.shift == pytest.approx(-1.0 - 1.305 * 3.0, abs=0.01)
    firsts = [row.cautious.first for row in risk.rows if row.cautious]
    assert firsts == sorted(firsts, reverse=True)
    assert firsts[0] > firsts[-1]


def test_extremes_never_make_the_year_warmer() -> None:
    plain = made_weather(10.0, 12.0)
    mild = Extremes("a handbook", None, float(plain.temp_air.min()) + 20.0, 1.0, (), ())
    assert all(row.shift == 0.0 for row in risk_of(replace(plain, extremes=mild)).rows)


def test_coldest_hour_of_typical_years_moves_the_year_but_is_no_risk() -> None:
    plain = made_weather(10.0, 12.0)
    lowest = float(plain.temp_air.min()) - 4.0
    risk = risk_of(replace(plain, extremes=Extremes("coldest hour of a table", lowest)))
    assert not risk.known
    assert risk.chosen.shift == pytest.approx(-4.0)
    assert "coldest hour of a table" in risk.method


def test_many_years_are_ranked_and_few_are_not() -> None:
    years = tuple(made_weather(mean, 12.0) for mean in np.linspace(8.0, 12.0, 11))
    many = risk_of(years[5], years)
    assert many.known
    assert [row.return_years for row in many.rows] == [5.0, 10.0]
    coldest = risk_of(years[0]).chosen.cautious
    assert coldest is not None
    assert many.chosen.cautious is not None
    assert abs(many.chosen.cautious.first - coldest.first) <= 7
    few = risk_of(years[5], years[:4])
    assert not few.known
    assert few.chosen.cautious == coldest


def test_winters_that_seldom_freeze_have_no_date_at_a_small_risk() -> None:
    nights = [np.zeros(DAYS, dtype=bool) for _ in range(19)]
    nights[3][20] = True
    assert ranked_span(nights, 5.0) is None
    assert ranked_span(nights, 20.0) == Span(20, 21)


def test_span_of_one_night_and_of_every_night() -> None:
    one = np.zeros(DAYS, dtype=bool)
    one[364] = True
    assert span_of(one) == Span(364, 0)
    assert span_of(~one & False) is None
    always = span_of(np.ones(DAYS, dtype=bool))
    assert always is not None
    assert (always.first - always.last) % DAYS == 0


def test_a_night_is_named_by_its_evening() -> None:
    values = np.zeros(8760)
    values[24 + 5] = 1.0  # 05:00 on 2 January
    assert int(np.argmax(by_night(values).max(axis=1))) == 0
    assert night_of_step(24 + 5, 24) == 0
    assert night_of_step(5, 24) == 364
    assert night_of_step(13, 24) == 0


def test_the_row_nearest_to_ten_years_leads() -> None:
    rows = tuple(DateRow(years, 0.0, None, None) for years in (5.0, 10.0, 20.0))
    assert FreezeRisk(True, "", "", rows).chosen.return_years == 10.0


def test_a_trip_misses_what_freezes_above_it_and_acts_in_vain() -> None:
    air = np.full(8760, 10.0)
    ice = np.zeros(8760)
    flat = np.ones(8760)
    body = Body("panel", "", "", RIGID, -flat, flat, 4600.0, 4.0, 1.0)
    noon = 24 + 12  # the night of 2 January begins here
    air[noon + 10 : noon + 16] = 6.0  # freezes at 6 °C: missed by 5.6, needs 6
    ice[noon + 12 : noon + 16] = 0.5
    air[noon + 24 + 10] = 2.0  # acts in time
    ice[noon + 24 + 12 : noon + 24 + 15] = 0.2
    air[noon + 48 + 10] = 5.0  # in vain
    trip = trip_against(air, [BodyYear(body, air, ice)], "air", 5.6)
    assert list(np.flatnonzero(trip.missed)) == [1]
    assert list(np.flatnonzero(trip.in_vain)) == [3]
    assert trip.nights_acted == 2
    assert trip.needed == pytest.approx(6.0)
