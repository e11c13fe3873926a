"""What holds for any place, any months and any step."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from noonwater.climate.generator import make_year
from noonwater.climate.mend import Limits, column_mended
from noonwater.climate.monthly import MonthlyMeans
from noonwater.climate.outside import sun_outside_level_of_month
from noonwater.climate.sun import plane_sun, sun_steps, weather_steps
from noonwater.climate.weather_year import monthly_mean

twelve = st.lists(st.floats(0.0, 1.0), min_size=12, max_size=12).map(np.array)


@settings(max_examples=8)
@given(
    latitude=st.floats(-66.0, 66.0),
    longitude=st.floats(-179.0, 179.0),
    off=st.sampled_from([-1.5, -0.5, 0.0, 0.25, 1.0]),
    clearness=twelve,
    air=twelve,
    dryness=twelve,
    wind=twelve,
    seed=st.integers(0, 2**31),
    step=st.sampled_from([300, 900, 1800]),
    tilt=st.floats(0.0, 90.0),
    bearing=st.floats(0.0, 360.0),
)
def test_any_place_and_months(
    latitude: float,
    longitude: float,
    off: float,
    clearness: np.ndarray,
    air: np.ndarray,
    dryness: np.ndarray,
    wind: np.ndarray,
    seed: int,
    step: int,
    tilt: float,
    bearing: float,
) -> None:
    sun = (0.15 + 0.65 * clearness) * sun_outside_level_of_month(np.array([latitude]))[0]
    temp_air = -25.0 + 60.0 * air
    means = MonthlyMeans(
        sun.tolist(),
        temp_air.tolist(),
        np.minimum(temp_air - 0.5 - 20.0 * dryness, 30.0).tolist(),
        (0.2 + 9.0 * wind).tolist(),
    )
    utc_offset = min(max(round(longitude / 15.0) + off, -12.0), 14.0)
    year = make_year(means, latitude, longitude, 0.0, utc_offset, seed=seed)
    np.testing.assert_allclose(monthly_mean(year.sun_global), sun, rtol=1e-9)
    np.testing.assert_allclose(monthly_mean(year.temp_air), temp_air, atol=1e-9)
    np.testing.assert_allclose(monthly_mean(year.dew_point), means.array("dew_point"), atol=1e-3)
    np.testing.assert_allclose(monthly_mean(year.wind_speed), means.array("wind_speed"), rtol=1e-9)
    assert (year.dew_point <= year.temp_air).all()
    steps = sun_steps(year, step)
    per_hour = 3600 // step
    kept = steps.sun_global.reshape(-1, per_hour).mean(axis=1)
    np.testing.assert_allclose(kept, year.sun_global, atol=1e-9)
    sine = np.sin(np.radians(np.maximum(steps.height, 0.0)))
    np.testing.assert_allclose(
        steps.sun_global, steps.sun_diffuse + steps.sun_beam * sine, atol=1e-9
    )
    plane = plane_sun(steps, tilt, bearing, 0.2)
    for values in (plane.beam, plane.sky, plane.ground, steps.sun_beam, steps.sun_diffuse):
        assert np.isfinite(values).all() and values.min() >= 0.0
    assert (plane.beam <= 1450.0).all()
    between = weather_steps(year, step)
    assert between.temp_air.min() >= year.temp_air.min() - 1e-9
    assert between.temp_air.max() <= year.temp_air.max() + 1e-9


@given(
    values=st.lists(st.floats(-10.0, 10.0), min_size=200, max_size=200),
    start=st.integers(0, 199),
    length=st.integers(0, 8),
    code=st.sampled_from([99.9, 999.0, -999.9, float("nan"), float("inf")]),
)
def test_mending(values: list[float], start: int, length: int, code: float) -> None:
    column = np.array(values)
    lost = (start + np.arange(length)) % 200
    column[lost] = code
    mended = column_mended(column, Limits(-10.0, 10.0, 6, "any"))
    assert mended.missing == length and mended.longest == length
    assert mended.whole == (length <= 6)
    kept = np.setdiff1d(np.arange(200), lost)
    np.testing.assert_array_equal(mended.values[kept], column[kept])
    if mended.whole:
        assert np.abs(mended.values).max() <= 10.0
    else:
        assert np.isnan(mended.values[lost]).all()
