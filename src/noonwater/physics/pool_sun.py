"""Sun absorbed by a pool, by finish and depth.

Light is lost at the surface, absorbed on the way down in three bands, thrown back by the floor,
absorbed on the way up, and partly thrown down again by the underside of the surface. These run at
preparation, not in the year's loop.
"""

from __future__ import annotations

import math
from types import MappingProxyType

from noonwater.core.jit import formula

SHARE_BLUE = 0.237
"""[-] Share of the sun's energy in blue and green light: Paulson and Simpson 1981, nine bands
(read second-hand in two public ocean codes)."""

SHARE_RED = 0.360
"""[-] Share in red and near infrared; source as `SHARE_BLUE`."""

SHARE_HEAT = 0.403
"""[-] Sum of the seven bands that water takes near the surface; source as `SHARE_BLUE`."""

ATTENUATION_BLUE = 0.066
"""[1/m] Clearest sea water, Jerlov type I, after Soloviev and Schlüssel 1996 (read as above)."""

ATTENUATION_RED = 0.4405
"""[1/m] Source as `ATTENUATION_BLUE`."""

ATTENUATION_HEAT = 31.75
"""[1/m] The slowest of the seven bands; source as `ATTENUATION_BLUE`."""

REFRACTIVE_INDEX = 1.333
"""[-] Water, visible light, 20 °C (IAPWS R9-97, from memory)."""

REFLECTANCE_DIFFUSE = 0.066
"""[-] Flat water under an even sky (from memory; pvlib has 0.06 for the
sea, and the check integrates Fresnel's law)."""

REFLECTANCE_INSIDE = 0.48
"""[-] Underside of the surface for scattered light from below (Mobley, Light and Water, from
memory; the check integrates Fresnel's law)."""

PATH_DIFFUSE = 1.2
"""[-] Mean path over depth for scattered light under water, down or up (from memory; the check
integrates Snell's law for the way down, and what escapes upward fills the same cone)."""

FLOOR_REFLECTANCE = MappingProxyType({"white": 0.65, "light": 0.45, "medium": 0.30, "dark": 0.10})
"""Sun reflected by a wet floor and walls [-]: white plaster, light blue or sand, mid blue or grey,
dark blue or black. From memory of paint and plaster tables; wet and used surfaces are darker than
dry samples. Doubt ± 0.1."""


@formula
def angle_under_water(incidence: float) -> float:
    """Angle of a sunbeam under level water.

    Parameters
    ----------
    incidence : float
        Angle of the beam from the vertical, in air. [°]

    Returns
    -------
    float
        Angle from the vertical, in water. [°]

    Notes
    -----
    Range: 0 to 90°, flat surface. Snell's law.
    """
    return math.degrees(math.asin(math.sin(math.radians(incidence)) / REFRACTIVE_INDEX))


@formula
def reflectance_surface(incidence: float) -> float:
    """Sun reflected by the surface of level water.

    Parameters
    ----------
    incidence : float
        Angle of the beam from the vertical. [°]

    Returns
    -------
    float
        Reflectance for unpolarised light. [-]

    Notes
    -----
    Range: 0 to 90°, flat surface; ripples lower it near the horizon. Fresnel's equations.
    """
    angle = math.radians(min(max(incidence, 0.0), 90.0))
    outside = math.cos(angle)
    sine_inside = math.sin(angle) / REFRACTIVE_INDEX
    inside = math.sqrt(1.0 - sine_inside * sine_inside)
    across = (outside - REFRACTIVE_INDEX * inside) / (outside + REFRACTIVE_INDEX * inside)
    along = (inside - REFRACTIVE_INDEX * outside) / (inside + REFRACTIVE_INDEX * outside)
    return 0.5 * (across * across + along * along)


@formula
def transmittance_water(path: float) -> float:
    """Share of the sun's energy left after a path through clear water.

    Parameters
    ----------
    path : float
        Length of the way in water. [m]

    Returns
    -------
    float
        Share left of what entered. [-]

    Notes
    -----
    Range: 0 to 50 m of clear water; the first centimetres are coarse.

    References
    ----------
    .. [1] Paulson, C. A. and Simpson, J. J., The temperature difference across the cool skin of
       the ocean, J. Geophys. Res. 86, 1981; Soloviev, A. and Schlüssel, P., 1996 (read
       second-hand in two public ocean codes). Seven of nine bands lumped is ours.
    """
    blue = SHARE_BLUE * math.exp(-path * ATTENUATION_BLUE)
    red = SHARE_RED * math.exp(-path * ATTENUATION_RED)
    return blue + red + SHARE_HEAT * math.exp(-path * ATTENUATION_HEAT)


@formula
def escape_band(path_down: float, path_up: float, floor_reflectance: float) -> float:
    """Share of one band that leaves the water again.

    Parameters
    ----------
    path_down : float
        First way down, in lengths of 1/e. [-]
    path_up : float
        Way up, and each later way, in lengths of 1/e. [-]
    floor_reflectance : float
        Reflectance of floor and walls. [-]

    Returns
    -------
    float
        Share of what entered that leaves upward. [-]

    Notes
    -----
    Range: a pool wide against its depth, so that walls count as floor. The series of reflections
    between floor and surface, summed (ours; geometry of two parallel planes).
    """
    up = math.exp(-path_up)
    first = math.exp(-path_down) * floor_reflectance * up * (1.0 - REFLECTANCE_INSIDE)
    return first / (1.0 - floor_reflectance * up * up * REFLECTANCE_INSIDE)


@formula
def absorptance_below_surface(floor_reflectance: float, depth: float, path_factor: float) -> float:
    """Share absorbed of the sun that has passed the surface.

    Parameters
    ----------
    floor_reflectance : float
        Reflectance of floor and walls. [-]
    depth : float
        Mean depth. [m]
    path_factor : float
        Path over depth on the first way down. [-]

    Returns
    -------
    float
        Absorbed by water, floor and walls, over what entered. [-]

    Notes
    -----
    Range: 0.1 to 5 m of clear water. What the floor absorbs is counted as the water's: it has
    nowhere else to go in the short run.
    """
    down = depth * path_factor
    up = depth * PATH_DIFFUSE
    blue = escape_band(down * ATTENUATION_BLUE, up * ATTENUATION_BLUE, floor_reflectance)
    red = escape_band(down * ATTENUATION_RED, up * ATTENUATION_RED, floor_reflectance)
    heat = escape_band(down * ATTENUATION_HEAT, up * ATTENUATION_HEAT, floor_reflectance)
    return 1.0 - SHARE_BLUE * blue - SHARE_RED * red - SHARE_HEAT * heat


@formula
def absorptance_pool(floor_reflectance: float, depth: float) -> float:
    """Share of scattered or day-mean sun that a pool absorbs.

    Parameters
    ----------
    floor_reflectance : float
        Reflectance of floor and walls, see `FLOOR_REFLECTANCE`. [-]
    depth : float
        Mean depth. [m]

    Returns
    -------
    float
        Absorbed over incident on the level surface. [-]

    Notes
    -----
    Range: 0.1 to 5 m of clear, undisturbed water. At 1.5 m it is 0.83, 0.87, 0.89 and 0.92 for
    the four finishes; ISO/TR 12596 has 0.85 light and 0.90 dark, less 0.05 in heavy use (read
    second-hand), a US laboratory 0.75 to 0.85 (read second-hand).
    """
    below = absorptance_below_surface(floor_reflectance, depth, PATH_DIFFUSE)
    return (1.0 - REFLECTANCE_DIFFUSE) * below


@formula
def absorptance_pool_beam(floor_reflectance: float, depth: float, incidence: float) -> float:
    """Share of beam sun that a pool absorbs.

    Parameters
    ----------
    floor_reflectance : float
        Reflectance of floor and walls, see `FLOOR_REFLECTANCE`. [-]
    depth : float
        Mean depth. [m]
    incidence : float
        Angle of the beam from the vertical. [°]

    Returns
    -------
    float
        Absorbed over incident on the level surface. [-]

    Notes
    -----
    Range: as `absorptance_pool`; flat surface, so low sun is reflected too much by a few per cent
    of very little.
    """
    path_factor = 1.0 / math.cos(math.radians(angle_under_water(incidence)))
    below = absorptance_below_surface(floor_reflectance, depth, path_factor)
    return (1.0 - reflectance_surface(incidence)) * below
