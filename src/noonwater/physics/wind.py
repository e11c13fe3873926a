"""Wind: from a weather station down to the water and the roof."""

from __future__ import annotations

import math
from types import MappingProxyType

from noonwater.core.jit import formula

ROUGHNESS = MappingProxyType(
    {
        "open water": 0.0002,
        "flats": 0.005,
        "open country": 0.03,
        "low crops": 0.10,
        "scattered obstacles": 0.25,
        "scattered buildings": 0.50,
        "suburb": 1.0,
        "town centre": 2.0,
    }
)
"""Aerodynamic roughness length [m] of the Davenport-Wieringa classes, as in Stull, Meteorology for
Scientists and Engineers (read, second-hand page); the class names here are shortened by us."""

BLENDING_HEIGHT = 60.0
"""[m] Height where the wind over two neighbouring terrains is alike (WMO guide no. 8, from
memory)."""

EXPOSURE_FACTOR = MappingProxyType({"open": 0.7, "partly sheltered": 0.4, "sheltered": 0.2})
"""Wind at 2 m above the water over wind at 10 m at an open station [-].

`wind_speed_log_law` from open country at 10 m to 2 m over open country, scattered buildings and
suburb gives 0.72, 0.38 and 0.22; rounded by us. Which class a garden belongs to is a judgement,
and it moves the season's heat more than the choice of evaporation formula does: fix it before
looking at a result and never tune it to one.
"""


@formula
def wind_speed_log_law(
    wind_speed: float,
    height_from: float,
    height_to: float,
    roughness_from: float,
    roughness_to: float,
) -> float:
    """Wind speed at another height, over another terrain.

    Parameters
    ----------
    wind_speed : float
        Wind speed where it was measured. [m/s]
    height_from : float
        Height above ground where it was measured. [m]
    height_to : float
        Height above ground where it is wanted. [m]
    roughness_from : float
        Roughness length of the terrain where it was measured. [m]
    roughness_to : float
        Roughness length of the terrain where it is wanted. [m]

    Returns
    -------
    float
        Wind speed. [m/s]; 0 at or below the roughness length.

    Notes
    -----
    Range: neutral air, heights up to 60 m and well above the roughness length. With one terrain
    it is the plain logarithmic law ln(z2/z0)/ln(z1/z0); with two, the speed at 60 m is shared.

    References
    ----------
    .. [1] WMO no. 8, Guide to Meteorological Instruments and Methods of Observation, annex on
       exposure correction (from memory).
    """
    up = math.log(BLENDING_HEIGHT / roughness_from) / math.log(height_from / roughness_from)
    down = math.log(max(height_to / roughness_to, 1.0)) / math.log(BLENDING_HEIGHT / roughness_to)
    return wind_speed * up * down


@formula
def wind_speed_at_water(wind_speed_station: float, factor: float) -> float:
    """Wind speed 2 m above the water.

    Parameters
    ----------
    wind_speed_station : float
        Wind speed at the weather station, 10 m over open country. [m/s]
    factor : float
        Exposure factor, see `EXPOSURE_FACTOR`. [-]

    Returns
    -------
    float
        Wind speed at 2 m above the water. [m/s]

    Notes
    -----
    Range: factor 0 to 1. One factor for all directions is a simplification of ours.
    """
    return wind_speed_station * factor
