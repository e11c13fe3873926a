"""The rough estimate: where it holds, what it refuses, what it says of itself."""

from __future__ import annotations

import numpy as np
import pytest

from noonwater.climate.generator import make_year
from noonwater.climate.rough import clear_sky_of_months, clear_sky_share, rough_means
from noonwater.climate.weather_year import monthly_mean
from noonwater.core.errors import WeatherError

DELHI = (28.6, 77.2, 216.0)
AIR = [14.0, 17.0, 22.5, 29.0, 33.0, 33.5, 31.0, 30.0, 29.0, 26.0, 20.5, 15.5]
RAIN = [20.0, 22, 17, 16, 31, 83, 210, 249, 124, 14, 5, 8]


def test_it_makes_a_year_that_says_how_rough_it_is() -> None:
    means = rough_means(*DELHI, temp_air=AIR, rain=RAIN)
    year = make_year(means, *DELHI, 5.5, seed=1)
    provenance = year.provenance
    assert provenance.kind == "rough estimate"
    assert provenance.uncertainty_sun == 0.15
    assert "±15 %" in provenance.uncertainty
    notes = " / ".join(provenance.notes)
    for words in ("sun estimated", "dew point told", "wind taken as 3 m/s"):
        assert words in notes
    np.testing.assert_allclose(monthly_mean(year.sun_global), means.sun_global)
    assert year.extremes is None


def test_what_is_typed_is_kept() -> None:
    means = rough_means(
        *DELHI, temp_air=AIR, rain=RAIN, humidity=[0.5] * 12, wind_speed=[2.0] * 12,
        daily_range=[13.0] * 12,
    )  # fmt: skip
    assert list(means.wind_speed) == [2.0] * 12
    assert means.daily_range is not None and list(means.daily_range) == [13.0] * 12
    assert not any("dew point told" in note or "wind taken" in note for note in means.notes)
    # 29 °C and 50 %: 17.5 °C (any psychrometric chart).
    assert means.dew_point[3] == pytest.approx(17.5, abs=0.15)
    saturated = rough_means(*DELHI, temp_air=[20.0] * 12, rain=RAIN, humidity=[1.0] * 12)
    assert (np.array(saturated.dew_point) < 20.0).all()


@pytest.mark.parametrize("latitude", [-45.1, 45.1, 60.0, -66.0])
def test_beyond_45_degrees_it_refuses_with_a_way_out(latitude: float) -> None:
    with pytest.raises(WeatherError) as caught:
        rough_means(latitude, 10.0, 0.0, temp_air=AIR, rain=RAIN)
    text = str(caught.value)
    assert f"at latitude {latitude:g}°" in text and "13 % too sunny" in text
    assert "take a weather file" in text
    rough_means(np.sign(latitude) * 45.0, 10.0, 0.0, temp_air=AIR, rain=RAIN)


def test_rows_that_cannot_be() -> None:
    with pytest.raises(WeatherError) as caught:
        rough_means(*DELHI, temp_air=AIR[:11], rain=[-1.0, *RAIN[1:]], humidity=[50.0] * 12)
    text = str(caught.value)
    assert "weather.temp_air: 11 values; allowed: 12 values" in text
    assert "weather.rain, January: -1; allowed: 0 to 2500 mm in a month" in text
    assert text.count("weather.humidity") == 12


def test_more_rain_is_never_more_sun() -> None:
    rain = np.linspace(0.0, 500.0, 200)
    for warm in (0.0, 10.0, 20.0, 30.0):
        told = clear_sky_share(rain, np.full(200, warm), np.full(200, 0.8), np.full(200, 3.5))
        assert (np.diff(told) <= 1e-12).all(), warm


def test_the_clear_sky_knows_height_and_hemisphere() -> None:
    low, haze, noon = clear_sky_of_months(-16.5, -68.1, 0.0)
    high, *_ = clear_sky_of_months(-16.5, -68.1, 3650.0)
    assert (high > 1.05 * low).all()
    assert ((haze > 1.5) & (haze < 8.0)).all()
    north, *_ = clear_sky_of_months(30.0, 10.0, 0.0)
    south, *_ = clear_sky_of_months(-30.0, 10.0, 0.0)
    assert north[5] > 1.8 * north[11] and south[11] > 1.8 * south[5]
    # Noon height on the equator is 90° less the declination's size (definition).
    equator = clear_sky_of_months(0.0, 10.0, 0.0)[2]
    assert equator[2] == pytest.approx(np.cos(np.radians(2.4)), abs=0.004)  # March
    assert noon.max() > 0.99
