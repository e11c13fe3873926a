"""Standard time of a place whose source tells none."""

from __future__ import annotations

from noonwater.core.errors import WeatherError

FARTHEST = 4.0
"""[h] No country's standard time is further from its sun's; ours."""


def standard_time_at(latitude: float, longitude: float) -> float:
    """Standard time: of the nearest US station, elsewhere by longitude.

    Parameters
    ----------
    latitude, longitude : float
        [°]

    Returns
    -------
    float
        Standard time less universal time, a whole number outside the US. [h]
    """
    from noonwater.climate.stations import utc_offset_at

    try:
        return utc_offset_at(latitude, longitude)
    except WeatherError:
        return float(round(longitude / 15.0))


def zone_fits(longitude: float, utc_offset: float) -> bool:
    """Whether a zone can be one of the place, also across the date line.

    Parameters
    ----------
    longitude : float
        [°]
    utc_offset : float
        [h]

    Returns
    -------
    bool
        [-]
    """
    return abs((longitude / 15.0 - utc_offset + 12.0) % 24.0 - 12.0) <= FARTHEST
