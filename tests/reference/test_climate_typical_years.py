"""Typical-year files against their own closure, pvlib's readers and their infrared column.

Sources
-------
- Closure and annual sun: reference/climate.md beside the checkout, measured with pvlib 0.16.1
  (read): files close to 1-2 W/m² (EPW) and 4.5 (TMY3), half an hour wrong 27-43; annual global
  Greensboro 1566, Sand Point 829, Miami TMY2 1793, Miami TMY3 1753 kWh/m².
- Readers: pvlib.iotools.read_epw, read_tmy3, read_tmy2, used directly.
- Sky radiation: the EPW files' infrared column, computed after Clark and Allen within 0.7 W/m²
  (reference/heat.md, read).
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pvlib
import pytest
from pvlib import iotools

from noonwater.climate.checks import closures
from noonwater.climate.files import read_weather_file
from noonwater.climate.weather_year import WeatherYear
from noonwater.physics.sky import LONGWAVE_DOUBT, emissivity_sky_walton, longwave_sky

SHIPPED = Path(pvlib.__file__).parent / "data"
EPW = [
    "USA_FL_Miami.Intl.AP.722020_TMY3.epw",
    "USA_TX_Houston-Bush.Intercontinental.AP.722430_TMY3.epw",
]
TMY3 = [
    "AZ-Phoenix_Sky_Harbor_Intl_Ap.tmy3",
    "CA-Los_Angeles_Intl_Arpt.tmy3",
    "GA-Atlanta_Hartsfield_Intl_Ap.tmy3",
]


def half_hour_wrong(weather: WeatherYear) -> list[float]:
    sun = (weather.sun_global, weather.sun_beam, weather.sun_diffuse)
    return [
        closures(weather.latitude, weather.longitude, weather.utc_offset + shift, sun).closure
        for shift in (-0.5, 0.5)
    ]


@pytest.mark.parametrize("name", EPW)
def test_epw_files_close_to_two_watts(shared: Path, name: str) -> None:
    weather = read_weather_file(shared / "weather" / name)
    assert 1.0 < weather.provenance.closure < 2.0
    for wrong in half_hour_wrong(weather):
        assert 26.5 <= wrong < 43.5  # 27 to 43, as rounded in the source


@pytest.mark.parametrize("name", TMY3)
def test_tmy3_files_close_to_four_and_a_half_watts(shared: Path, name: str) -> None:
    weather = read_weather_file(shared / "weather" / name)
    # 4.53 at Phoenix is the read figure 4.5 within its rounding.
    assert 1.0 < weather.provenance.closure < 4.55
    for wrong in half_hour_wrong(weather):
        assert 26.5 <= wrong < 43.5  # 27 to 43, as rounded in the source


@pytest.mark.parametrize(
    ("name", "sun"), [("723170TYA.CSV", 1566), ("703165TY.csv", 829), ("12839.tm2", 1793)]
)
def test_annual_sun_of_the_shipped_years(name: str, sun: float) -> None:
    weather = read_weather_file(SHIPPED / name)
    assert weather.sun_global.sum() / 1000.0 == pytest.approx(sun, abs=0.5)
    assert weather.provenance.findings == ()


def test_annual_sun_of_miami(shared: Path) -> None:
    weather = read_weather_file(shared / "weather" / EPW[0])
    assert weather.sun_global.sum() / 1000.0 == pytest.approx(1753, abs=0.5)


def test_tmy2_columns_against_pvlibs_reader() -> None:
    weather = read_weather_file(SHIPPED / "12839.tm2")
    frame, site = iotools.read_tmy2(str(SHIPPED / "12839.tm2"))
    assert weather.latitude == pytest.approx(site["latitude"])
    assert weather.longitude == pytest.approx(site["longitude"])
    assert (weather.elevation, weather.utc_offset) == (site["altitude"], site["TZ"])
    dew = np.minimum(frame["DewPoint"], frame["DryBulb"]) / 10.0
    for ours, theirs in (
        (weather.sun_global, frame["GHI"]),
        (weather.sun_beam, frame["DNI"]),
        (weather.sun_diffuse, frame["DHI"]),
        (weather.temp_air, frame["DryBulb"] / 10.0),
        (weather.dew_point, dew),
        (weather.wind_speed, frame["Wspd"] / 10.0),
        (weather.pressure, frame["Pressure"] * 100.0),
        (weather.cloud_cover, frame["OpqCld"] / 10.0),
    ):
        np.testing.assert_allclose(ours, theirs.to_numpy(), atol=1e-9)


def test_tmy3_columns_against_pvlibs_reader() -> None:
    weather = read_weather_file(SHIPPED / "723170TYA.CSV")
    frame, _ = iotools.read_tmy3(SHIPPED / "723170TYA.CSV", map_variables=True)
    np.testing.assert_array_equal(weather.sun_global, frame["ghi"])
    np.testing.assert_array_equal(weather.sun_beam, frame["dni"])
    np.testing.assert_array_equal(weather.temp_air, frame["temp_air"])
    np.testing.assert_allclose(weather.pressure, 100.0 * frame["pressure"])
    # The stamp of the first row is 01:00, its hour is 0 to 1.
    assert frame.index[0].hour == 1


@pytest.mark.parametrize("name", EPW)
def test_epw_columns_and_infrared(shared: Path, name: str) -> None:
    path = shared / "weather" / name
    weather = read_weather_file(path)
    frame, _ = iotools.read_epw(path, coerce_year=2023)
    np.testing.assert_array_equal(weather.sun_beam, frame["dni"])
    np.testing.assert_array_equal(weather.wind_speed, frame["wind_speed"])
    assert frame.index[0].hour == 0
    infrared = frame["ghi_infrared"].to_numpy()
    rows = zip(weather.dew_point, weather.temp_air, weather.cloud_cover, strict=True)
    computed = [longwave_sky(emissivity_sky_walton(dew, air, n), air) for dew, air, n in rows]
    # The file's column is Clark-Allen with opaque cloud: dew, air and cloud are on the right hours.
    assert np.sqrt(np.mean((computed - infrared) ** 2)) < 0.7
    # Ours is Berdahl-Martin: another formula, alike within the doubt that both carry.
    assert np.sqrt(np.mean((weather.longwave_sky - infrared) ** 2)) < LONGWAVE_DOUBT
    assert weather.longwave_sky.mean() == pytest.approx(infrared.mean(), rel=0.02)
