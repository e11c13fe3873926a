"""What a surveyor saw, as numbers: wind at water and roof, the sun that the water keeps."""

from __future__ import annotations

from types import MappingProxyType

import numpy as np

from noonwater.climate.sun import SunSteps
from noonwater.model.pool import Pool
from noonwater.model.site import Roof, Site
from noonwater.physics.pool_sun import FLOOR_REFLECTANCE, absorptance_pool, absorptance_pool_beam
from noonwater.physics.wind import ROUGHNESS, wind_speed_log_law
from noonwater.year.parameters import Floats

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
    return _terrain_factor(site, WATER_HEIGHT) * SHELTER[pool.shelter]


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
    The beam's absorptance follows the sun's height through a table of whole degrees.
    """
    floor = FLOOR_REFLECTANCE[pool.finish]
    angles = np.arange(91.0)
    table = [absorptance_pool_beam(floor, pool.depth, float(angle)) for angle in angles]
    incidence = np.clip(90.0 - sun.height, 0.0, 90.0)
    beam = sun.sun_beam * np.sin(np.radians(np.maximum(sun.height, 0.0)))
    kept = np.interp(incidence, angles, table) * (1.0 - pool.shade)
    return beam * kept + sun.sun_diffuse * absorptance_pool(floor, pool.depth)


def _terrain_factor(site: Site, height: float) -> float:
    return float(
        wind_speed_log_law(
            1.0, STATION_HEIGHT, height, ROUGHNESS["open country"], TERRAIN_ROUGHNESS[site.terrain]
        )
    )
