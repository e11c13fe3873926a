"""Made years and brought-over rows anywhere on Earth: limits kept, sums kept."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as some

from noonwater.climate.extremes import extremes_of_years, gumbel_factor, lowest_in_years
from noonwater.climate.generator import make_year
from noonwater.climate.resample import hours_of_year
from noonwater.climate.rough import rough_means
from noonwater.climate.samples import LEAP_NOTE, Samples, years_of_samples
from noonwater.climate.weather_year import monthly_mean
from tests.skies import Sky, hours_of

ZONES = some.sampled_from([-9.5, -8.0, -3.5, 0.0, 3.5, 5.5, 5.75, 9.5, 12.75])


@settings(max_examples=12)
@given(
    latitude=some.floats(-45.0, 45.0),
    elevation=some.floats(0.0, 4500.0),
    zone=ZONES,
    warm=some.floats(-5.0, 30.0),
    rain=some.lists(some.floats(0.0, 900.0), min_size=12, max_size=12),
)
def test_a_rough_year_anywhere(
    latitude: float, elevation: float, zone: float, warm: float, rain: list[float]
) -> None:
    longitude = 15.0 * zone if zone < 12.0 else -176.5
    season = 6.0 * np.cos(2 * np.pi * (np.arange(12) - 6) / 12) * np.sign(latitude)
    air = (warm - 0.004 * elevation + season).tolist()
    means = rough_means(latitude, longitude, elevation, temp_air=air, rain=rain)
    year = make_year(means, latitude, longitude, elevation, zone, seed=2)
    np.testing.assert_allclose(monthly_mean(year.sun_global), means.sun_global, rtol=1e-9)
    np.testing.assert_allclose(monthly_mean(year.temp_air), air, atol=1e-9)
    assert (year.dew_point <= year.temp_air).all()
    assert year.sun_global.max() < 1400.0
    assert year.provenance.closure < 8.0
    # Light at solar noon, dark at solar midnight, by the place's own clock.
    noon = int((12.0 - longitude / 15.0 + zone) % 24.0)
    day = year.sun_global.reshape(365, 24).mean(axis=0)
    assert day[noon] > 0.8 * day.max()
    assert day[(noon + 12) % 24] == 0.0


@settings(max_examples=10)
@given(
    latitude=some.floats(-60.0, 60.0),
    zone=ZONES.filter(lambda zone: zone < 12.0),
    year=some.sampled_from([2011, 2012, 2016, 2019]),
    minute=some.sampled_from([0, 10, 30, 50]),
    clock=some.sampled_from([0.0, None]),
)
def test_rows_of_any_phase_and_clock(
    latitude: float, zone: float, year: int, minute: int, clock: float | None
) -> None:
    sky = Sky(latitude, 15.0 * zone)
    offset = zone if clock is None else clock
    stamps = hours_of((year,)) + np.timedelta64(60 * minute, "s")
    rows = sky.at(stamps - np.timedelta64(round(3600 * offset), "s"))
    samples = Samples(
        form="made", kind="real-year file", place="", latitude=latitude, longitude=15.0 * zone,
        elevation=0.0, stamps=stamps.tz_localize(None).to_numpy().astype("datetime64[s]"),
        stamp_offset=offset, utc_offset=zone, sun_shift=0.0, air_shift=0.0, typical=False,
        columns={"sun_global": rows.ghi.to_numpy(), "sun_beam": rows.dni.to_numpy(),
                 "sun_diffuse": rows.dhi.to_numpy(), "temp_air": rows.temp.to_numpy()},
    )  # fmt: skip
    (one,) = years_of_samples(samples, "made")
    assert (LEAP_NOTE in one.notes) is (year in (2012, 2016))
    hours = hours_of_year(samples, one)
    true = sky.hour_means(year, zone)
    # The hours that come from the other end of the year are another day's.
    inside = slice(24, -24)
    off = (hours["sun_global"] - true["ghi"])[inside]
    assert np.sqrt(np.mean(off**2)) < 4.0
    assert abs(off.mean()) < 0.01 * true["ghi"].mean()
    assert np.abs((hours["temp_air"] - true["temp"])[inside]).max() < 0.3
    for name in ("sun_global", "sun_beam", "sun_diffuse"):
        assert hours[name].min() >= 0.0 and np.isfinite(hours[name]).all()


@given(some.lists(some.floats(-40.0, 20.0), min_size=10, max_size=40), some.floats(2.0, 99.0))
def test_longer_waits_are_never_warmer(lowest: list[float], years: float) -> None:
    extremes = extremes_of_years(lowest, "made")
    here, later = lowest_in_years(extremes, years), lowest_in_years(extremes, years + 1.0)
    assert here is not None and later is not None
    assert later <= here
    assert gumbel_factor(years + 1.0) > gumbel_factor(years)
    assert extremes.temp_lowest == min(lowest)
