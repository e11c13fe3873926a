"""Sun and planes against pvlib used directly.

Sources
-------
pvlib 0.16: `solarposition.get_solarposition` (NREL's SPA), `irradiance.get_total_irradiance` with
Perez's model on hourly values and SPA positions at the middle of each hour.

Tolerances
----------
0.01° for position: the ephemeris' stated accuracy; the sun's disc is 0.5°. 1 % on annual sums of
tilted planes: 5-minute Perez and hourly Perez bin the sky's clearness differently, and the year
read with the largest closure (8.3 W/m²) moves 0.75 %.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pandas as pd
import pvlib
import pytest

from noonwater.climate.files import read_weather_file
from noonwater.climate.sun import plane_sun, sun_steps
from noonwater.climate.sun_path import sun_position

SHIPPED = Path(pvlib.__file__).parent / "data"


@pytest.mark.parametrize("latitude", [0.0, -35.0, 25.8, 65.0])
@pytest.mark.parametrize("zone", [-5.0, 5.5])
def test_position_against_spa(latitude: float, zone: float) -> None:
    longitude = 15.0 * zone - 4.0
    height, azimuth = sun_position(latitude, longitude, zone, 3600)
    fixed = pd.Timedelta(hours=zone).to_pytimedelta()
    import datetime

    times = pd.date_range("2003-01-01 00:30", periods=8760, freq="h", tz=datetime.timezone(fixed))
    spa = pvlib.solarposition.get_solarposition(times, latitude, longitude, method="nrel_numpy")
    up = spa["elevation"].to_numpy() > 1.0
    # Both bend the light, by formulas that differ up to 0.02° near the horizon.
    np.testing.assert_allclose(height[up], spa["apparent_elevation"].to_numpy()[up], atol=0.03)
    high = spa["elevation"].to_numpy() > 15.0
    np.testing.assert_allclose(height[high], spa["apparent_elevation"].to_numpy()[high], atol=0.01)
    turn = (azimuth - spa["azimuth"].to_numpy() + 180.0) % 360.0 - 180.0
    # Near the zenith a bearing means little: the arc on the sky counts.
    arc = turn * np.cos(np.radians(spa["elevation"].to_numpy()))
    assert np.abs(arc[up]).max() < 0.01


@pytest.mark.parametrize("name", ["723170TYA.CSV", "703165TY.csv", "12839.tm2"])
@pytest.mark.parametrize(
    ("tilt", "bearing"), [(20.0, 180.0), (40.0, 90.0), (60.0, 270.0), (90.0, 180.0), (20.0, 0.0)]
)
def test_tilted_years_against_hourly_perez(name: str, tilt: float, bearing: float) -> None:
    weather = read_weather_file(SHIPPED / name)
    plane = plane_sun(sun_steps(weather, 300), tilt, bearing, weather.albedo)
    start = pd.Timestamp("2003-01-01 00:30", tz="UTC") - pd.Timedelta(hours=weather.utc_offset)
    times = pd.date_range(start, periods=8760, freq="h")
    spa = pvlib.solarposition.get_solarposition(times, weather.latitude, weather.longitude)
    direct = pvlib.irradiance.get_total_irradiance(
        tilt,
        bearing,
        spa["apparent_zenith"].to_numpy(),
        spa["azimuth"].to_numpy(),
        weather.sun_beam,
        weather.sun_global,
        weather.sun_diffuse,
        dni_extra=pvlib.irradiance.get_extra_radiation(times.day_of_year.to_numpy()),
        albedo=weather.albedo,
        model="perez",
    )
    expected = np.nansum(direct["poa_global"])
    ours = (plane.beam + plane.sky + plane.ground).mean() * 8760
    assert ours == pytest.approx(expected, rel=0.01)


def test_one_step_against_pvlib_directly() -> None:
    weather = read_weather_file(SHIPPED / "723170TYA.CSV")
    sun = sun_steps(weather, 300)
    plane = plane_sun(sun, 33.0, 210.0, 0.2)
    steps = np.flatnonzero(sun.height > 3.0)[::997]
    direct = pvlib.irradiance.get_total_irradiance(
        33.0,
        210.0,
        90.0 - sun.height[steps],
        sun.azimuth[steps],
        sun.sun_beam[steps],
        sun.sun_global[steps],
        sun.sun_diffuse[steps],
        dni_extra=sun.sun_outside[steps],
        albedo=0.2,
        model="perez",
    )
    np.testing.assert_allclose(plane.beam[steps], direct["poa_direct"], rtol=1e-9)
    np.testing.assert_allclose(plane.sky[steps], direct["poa_sky_diffuse"], rtol=1e-9)
    np.testing.assert_allclose(plane.ground[steps], direct["poa_ground_diffuse"], rtol=1e-9)
