"""Made hours against the typical years whose monthly means they were made from.

Source
------
reference/climate.md beside the checkout (read): a generator of this build, on 11 US sites, differs
from the file in energy above a threshold of plane irradiance by -0.3 to +3.9 % at 200 W/m² and -2.6
to +11 % at 400; scaled clear skies lose 4 to 30 % at 400.

Limits
------
By size the read upper ends, 3.9 % and 11 %. Ours goes below the read lower ends, to -1.9 % at 200
and -5.2 % at 400 W/m² (dry and cloudy coasts), and up to +2.0 and +4.8 %: a miss on the careful
side, written down in docs/decisions/0006-climate-sources.md.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pvlib
import pytest

from noonwater.climate.files import read_weather_file
from noonwater.climate.generator import make_year
from noonwater.climate.monthly import MonthlyMeans
from noonwater.climate.sun import plane_sun, sun_steps
from noonwater.climate.weather_year import WeatherYear, monthly_mean

SHIPPED = Path(pvlib.__file__).parent / "data"
TILT, BEARING = 25.0, 180.0


def means_of(weather: WeatherYear) -> MonthlyMeans:
    days = weather.temp_air.reshape(365, 24)
    spread = np.repeat(np.ptp(days, axis=1), 24)
    return MonthlyMeans(
        *(
            monthly_mean(values).tolist()
            for values in (
                weather.sun_global, weather.temp_air, weather.dew_point, weather.wind_speed, spread
            )
        )
    )  # fmt: skip


def above(weather: WeatherYear, threshold: float) -> float:
    plane = plane_sun(sun_steps(weather, 3600), TILT, BEARING, 0.2)
    return float(np.maximum(plane.beam + plane.sky + plane.ground - threshold, 0.0).sum())


def compare(weather: WeatherYear) -> None:
    made = make_year(
        means_of(weather),
        weather.latitude,
        weather.longitude,
        weather.elevation,
        weather.utc_offset,
        seed=1,
    )
    assert abs(above(made, 0.0) / above(weather, 0.0) - 1.0) < 0.025
    assert abs(above(made, 200.0) / above(weather, 200.0) - 1.0) < 0.039
    assert abs(above(made, 400.0) / above(weather, 400.0) - 1.0) < 0.11
    # Vapour and sky follow from temperatures and cloud that were made, not given.
    assert made.vapour_pressure.mean() == pytest.approx(weather.vapour_pressure.mean(), rel=0.05)
    assert made.longwave_sky.mean() == pytest.approx(weather.longwave_sky.mean(), abs=10.0)
    assert made.sun_diffuse.mean() == pytest.approx(weather.sun_diffuse.mean(), rel=0.12)


@pytest.mark.parametrize("name", ["723170TYA.CSV", "703165TY.csv", "12839.tm2"])
def test_shipped_years(name: str) -> None:
    compare(read_weather_file(SHIPPED / name))


@pytest.mark.parametrize("place", ["AZ-", "CA-", "GA-", "USA_FL", "USA_TX"])
def test_years_beside_the_checkout(shared: Path, place: str) -> None:
    (path,) = (shared / "weather").glob(f"{place}*")
    compare(read_weather_file(path))
