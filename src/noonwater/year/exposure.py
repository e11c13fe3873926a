"""What a surveyor saw, as numbers: wind at water and roof, the sun that the water keeps."""

from __future__ import annotations

from functools import lru_cache
from types import MappingProxyType

import numpy as np

from noonwater.climate.sun import SunSteps, WeatherSteps
from noonwater.core.constants import KELVIN, STEFAN_BOLTZMANN
from noonwater.model.pool import Pool
from noonwater.model.site import Roof, Site
from noonwater.physics.air import vapour_pressure_at_humidity
from noonwater.physics.pool_sun import FLOOR_REFLECTANCE, absorptance_pool, absorptance_pool_beam
from noonwater.physics.sky import longwave_emitted
from noonwater.physics.wind import ROUGHNESS, wind_speed_log_law
from noonwater.year.calendar import month_of_step
from noonwater.year.parameters import Floats
from noonwater.year.shade import lit_share, sky_share

TERRAIN_ROUGHNESS = MappingProxyType(
    {
        "open water": ROUGHNESS["open water"],
        "open field": ROUGHNESS["open country"],
        "suburb": ROUGHNESS["scattered buildings"],
        "town or woods": ROUGHNESS["suburb"],
    }
)
"""[m] Which roughness class a surveyor's word stands for: ours."""

SHELTER = MappingProxyType({"open": 1.0, "partly sheltered": 0.8, "sheltered": 0.55})
"""[-] What fences, hedges and walls close by leave of the terrain's wind. Common practice, no
source; decides the season's heat more than the evaporation formula does, so the survey asks."""

SCREEN_SUN = 0.75
SCREEN_WIND = 0.6
SCREEN_SKY = 0.65
"""[-] What an insect screen on all sides and above leaves of sun, wind and view of the sky: plain
18 by 14 mesh is open on some two thirds of its area, its wires pass some light on, dust and frame
take some. Common practice, no source; doubt ± 0.1."""

ANGLES = np.arange(91.0)
"""[°] Of the table of the beam's absorptance."""

HALL_AIR_SPEED = 0.1
"""[m/s] Over the water of a hall (ASHRAE's design value, read second-hand)."""

STATION_HEIGHT = 10.0
WATER_HEIGHT = 2.0
"""[m] Height the evaporation formula is fitted to."""
LEAST_ROOF_HEIGHT = 3.0
"""[m] A low roof or ground rack stands in the garden's air: the log law ends there. Ours."""


def wind_factor_water(site: Site, pool: Pool) -> float:
    """Wind 2 m above the water over the station's wind at 10 m.

    Parameters
    ----------
    site : Site
        Terrain.
    pool : Pool
        Shelter.

    Returns
    -------
    float
        [-]
    """
    shelter = _terrain_factor(site, WATER_HEIGHT) * SHELTER[pool.shelter]
    return shelter * (SCREEN_WIND if pool.enclosure == "screened" else 1.0)


def wind_over_water(air: WeatherSteps, factor: float, pool: Pool) -> Floats:
    """Wind at the water in each step, the hall's draught indoors. [m/s]; factor in [-]."""
    if pool.enclosure == "indoor":
        return np.full_like(air.wind_speed, HALL_AIR_SPEED)
    return air.wind_speed * factor


def vapour_over_water(air: WeatherSteps, pool: Pool) -> Floats:
    """Vapour pressure of the air over the water in each step. [Pa]."""
    if pool.enclosure != "indoor":
        return air.vapour_pressure.copy()
    assert pool.hall_temp is not None
    assert pool.hall_humidity is not None
    pressure = vapour_pressure_at_humidity(pool.hall_temp, pool.hall_humidity)
    return np.full_like(air.vapour_pressure, pressure)


def air_over_water(air: WeatherSteps, pool: Pool) -> Floats:
    """Temperature of the air over the water in each step. [°C]."""
    if pool.enclosure != "indoor":
        return air.temp_air.copy()
    return np.full_like(air.temp_air, pool.hall_temp)


def wind_factor_roof(site: Site, roof: Roof) -> float:
    """Wind along the panels over the station's wind at 10 m.

    Parameters
    ----------
    site : Site
        Terrain.
    roof : Roof
        Height and exposure.

    Returns
    -------
    float
        [-]
    """
    height = max(roof.eave_height + WATER_HEIGHT / 2.0, LEAST_ROOF_HEIGHT)
    return _terrain_factor(site, height) * SHELTER[roof.exposure]


def pool_sun(sun: SunSteps, pool: Pool) -> Floats:
    """Sun that the uncovered water and its walls absorb.

    Parameters
    ----------
    sun : SunSteps
        On level ground.
    pool : Pool
        Finish, depth and shade.

    Returns
    -------
    (steps,) array
        [W/m²]

    Notes
    -----
    The beam's absorptance follows the sun's height through a table of whole degrees. What hides
    the sky takes its light and sends none of its own: ours, a few per cent of a dark corner.
    """
    if pool.enclosure == "indoor":
        return np.zeros_like(sun.height)
    floor = FLOOR_REFLECTANCE[pool.finish]
    incidence, beam = _beam_on_level(sun)
    kept = np.interp(incidence, ANGLES, _absorptances(floor, pool.depth)) * (1.0 - pool.shade)
    diffuse = sun.sun_diffuse * absorptance_pool(floor, pool.depth)
    if pool.obstruction:
        month = month_of_step(3600 // sun.step_seconds)
        kept = kept * lit_share(pool.obstruction, sun.azimuth, sun.height, month)
        diffuse = diffuse * sky_share(pool.obstruction)[month]
    return (beam * kept + diffuse) * (SCREEN_SUN if pool.enclosure == "screened" else 1.0)


@lru_cache(maxsize=2)
def _beam_on_level(sun: SunSteps) -> tuple[Floats, Floats]:
    """Angle at which the sun's beam meets the water [°], and the beam on it [W/m²]."""
    beam = sun.sun_beam * np.sin(np.radians(np.maximum(sun.height, 0.0)))
    return np.clip(90.0 - sun.height, 0.0, 90.0), beam


@lru_cache(maxsize=64)
def _absorptances(floor: float, depth: float) -> tuple[float, ...]:
    """Share of the beam that the water takes, by whole degrees of incidence. [-]."""
    return tuple(absorptance_pool_beam(floor, depth, float(angle)) for angle in ANGLES)


def longwave_over_water(air: WeatherSteps, pool: Pool) -> Floats:
    """Long-wave that comes down on the water.

    Parameters
    ----------
    air : WeatherSteps
        Sky and air.
    pool : Pool
        Enclosure and obstructions.

    Returns
    -------
    (steps,) array
        [W/m²]

    Notes
    -----
    House, trees and screen send what a black body at the air's temperature sends; the hall's walls
    one at the hall's. Ours.
    """
    if pool.enclosure == "indoor":
        assert pool.hall_temp is not None
        return np.full_like(air.longwave_sky, longwave_emitted(pool.hall_temp, 1.0))
    view: Floats | float = SCREEN_SKY if pool.enclosure == "screened" else 1.0
    if pool.obstruction:
        view = view * sky_share(pool.obstruction)[month_of_step(3600 // air.step_seconds)]
    around = STEFAN_BOLTZMANN * (air.temp_air + KELVIN) ** 4
    return np.asarray(view * air.longwave_sky + (1.0 - view) * around)


def _terrain_factor(site: Site, height: float) -> float:
    return float(
        wind_speed_log_law(
            1.0, STATION_HEIGHT, height, ROUGHNESS["open country"], TERRAIN_ROUGHNESS[site.terrain]
        )
    )
