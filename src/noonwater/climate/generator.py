"""A year of hours made from twelve monthly means, by chance but the same for the same seed."""

from __future__ import annotations

import numpy as np

from noonwater.climate.checks import sun_closure
from noonwater.climate.columns import ALBEDO_USUAL
from noonwater.climate.extremes import Extremes
from noonwater.climate.made_air import (
    AVERAGE_DAY_SHARE,
    daily_range_from_clearness,
    dew_point_of_made_hours,
    solar_hour,
    temp_air_of_hours,
    wander_of_days,
    wind_speed_of_hours,
)
from noonwater.climate.made_sun import (
    clearness_of_days,
    sun_geometry,
    sun_global_of_hours,
    sun_split,
)
from noonwater.climate.monthly import MonthlyMeans, clearness_of_months
from noonwater.climate.sky import (
    cloud_cover_from_sun,
    longwave_of_hours,
    vapour_pressure_of_hours,
)
from noonwater.climate.weather_year import (
    HOURS_IN_YEAR,
    FloatArray,
    Provenance,
    WeatherYear,
    month_of_day,
)
from noonwater.climate.zones import zone_fits
from noonwater.core.errors import Fault, WeatherError
from noonwater.physics.air import pressure_at_elevation


def make_year(
    means: MonthlyMeans,
    latitude: float,
    longitude: float,
    elevation: float,
    utc_offset: float,
    *,
    seed: int,
) -> WeatherYear:
    """Make hours from monthly means.

    Parameters
    ----------
    means : MonthlyMeans
        Twelve months.
    latitude, longitude : float
        [°]
    elevation : float
        [m]
    utc_offset : float
        Standard time less universal time, fractions allowed. [h]
    seed : int
        Same seed, same year. [-]

    Returns
    -------
    WeatherYear
        Monthly means of sun, temperature, dew point and wind are the given ones.

    Raises
    ------
    WeatherError
        When the site is off the map or a month's sun can't be.
    """
    _check_site(latitude, longitude, elevation, utc_offset)
    clearness = clearness_of_months(means, latitude)
    chance = np.random.default_rng(seed)
    sky = sun_geometry(latitude, longitude, utc_offset)
    days = clearness_of_days(clearness, chance)
    sun_global = sun_global_of_hours(means.array("sun_global"), days, sky, chance)
    sun_beam, sun_diffuse = sun_split(sun_global, sky)
    temp_air, dew_point = _air(means, clearness, days, solar_hour(longitude, utc_offset), chance)
    wind_speed = wind_speed_of_hours(
        means.array("wind_speed"), solar_hour(longitude, utc_offset), chance
    )
    cloud = cloud_cover_from_sun(sun_global, sky.height)
    middle = np.sin(np.radians(np.maximum(sky.height, 0.0)))
    closure = sun_closure((sun_global, sun_beam, sun_diffuse), middle)
    return WeatherYear(
        place=means.place or f"{latitude:.2f}°, {longitude:.2f}°",
        latitude=latitude,
        longitude=longitude,
        elevation=elevation,
        utc_offset=utc_offset,
        sun_global=sun_global,
        sun_beam=sun_beam,
        sun_diffuse=sun_diffuse,
        temp_air=temp_air,
        dew_point=dew_point,
        vapour_pressure=vapour_pressure_of_hours(dew_point),
        wind_speed=wind_speed,
        pressure=np.full(HOURS_IN_YEAR, pressure_at_elevation(elevation)),
        longwave_sky=longwave_of_hours(temp_air, dew_point, cloud),
        cloud_cover=cloud,
        albedo=np.full(HOURS_IN_YEAR, ALBEDO_USUAL),
        provenance=_provenance(means, closure, seed),
        extremes=_extremes(means),
    )


def _extremes(means: MonthlyMeans) -> Extremes | None:
    """Coldest hour of the typical years behind the means; made hours themselves tell none."""
    if means.temp_lowest is None:
        return None
    return Extremes(
        source=f"coldest hour of typical years, {means.source}", temp_lowest=means.temp_lowest
    )


def _air(
    means: MonthlyMeans,
    clearness: FloatArray,
    days: FloatArray,
    hour: FloatArray,
    chance: np.random.Generator,
) -> tuple[FloatArray, FloatArray]:
    monthly = means.array("temp_air")
    if means.daily_range is None:
        average_range = daily_range_from_clearness(clearness)
    else:
        average_range = AVERAGE_DAY_SHARE * means.array("daily_range")
    relative = days / np.maximum(clearness, 0.05)[month_of_day()]
    wander = wander_of_days(monthly, chance)
    own = wander_of_days(monthly, chance)
    temp_air = temp_air_of_hours(monthly, average_range, relative, hour, wander)
    return temp_air, dew_point_of_made_hours(means.array("dew_point"), temp_air, wander, own)


def _check_site(latitude: float, longitude: float, elevation: float, utc_offset: float) -> None:
    limits = (
        ("site.latitude", latitude, -90.0, 90.0, "°"),
        ("site.longitude", longitude, -180.0, 180.0, "°"),
        ("site.elevation", elevation, -450.0, 5000.0, "m"),
        ("site.utc_offset", utc_offset, -12.0, 14.0, "h"),
    )
    faults = [
        Fault(name, f"{value:g} {unit}", f"{low:g} to {high:g} {unit}")
        for name, value, low, high, unit in limits
        if not low <= value <= high
    ]
    if not faults and not zone_fits(longitude, utc_offset):
        given = f"{utc_offset:g} h at longitude {longitude:g}°"
        allowed = "within 4 h of longitude / 15"
        remedy = "look at the signs: west is negative in both"
        faults.append(Fault("site.utc_offset", given, allowed, remedy))
    if faults:
        raise WeatherError(faults)


def _provenance(means: MonthlyMeans, closure: float, seed: int) -> Provenance:
    return Provenance(
        source=means.source,
        kind=means.kind,
        closure=closure,
        uncertainty=f"hours made from monthly means: annual sun ±{100 * means.uncertainty_sun:.0f} "
        "% (one standard deviation); energy above 400 W/m² on a tilted plane differed from eight "
        "typical years' by -5 to +5 %",
        uncertainty_sun=means.uncertainty_sun,
        notes=(
            *means.notes,
            f"hours made by chance with seed {seed}; single days are nobody's weather",
            f"ground reflectance taken as {ALBEDO_USUAL}; cloud told from the sun of each day",
            "sky radiation computed from dew point and cloud, ±25 W/m²",
            "made years have fewer hours of frost than real ones on warm coasts",
        ),
    )
