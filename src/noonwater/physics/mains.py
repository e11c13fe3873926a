"""The water that tops a pool up: how cold it comes out of the mains."""

from __future__ import annotations

import math

from noonwater.core.jit import formula


@formula
def temp_mains(day: float, temp_mean: float, temp_swing: float, south: bool) -> float:
    """Temperature of mains water by the day of the year.

    Parameters
    ----------
    day : float
        Day of the year, 1 for 1 January. [d]
    temp_mean : float
        The air's mean over the year. [°C]
    temp_swing : float
        Warmest month's mean of the air less the coldest's. [K]
    south : bool
        Whether the place lies south of the equator. [-]

    Returns
    -------
    float
        [°C]

    Notes
    -----
    Range: places with a yearly mean of -7 to 27 °C; fitted to US mains, ± 3 K for the mean, up
    to 6 K on a day (water from deep lakes or wells swings less). Below 0 °C it gives 0 °C, as
    public code of it does.

    References
    ----------
    .. [1] Burch, J. and Christensen, C., Towards development of an algorithm for mains water
       temperature, American Solar Energy Society, 2007; as in Hendron, R. et al., Development of
       an energy savings benchmark for all residential end-uses, 2004, NREL/CP-550-35917 (read in
       public code of a US laboratory).
    """
    mean = 1.8 * temp_mean + 32.0
    ratio = 0.4 + 0.01 * (mean - 44.0)
    lag = 35.0 - (mean - 44.0)
    turn = 90.0 if south else -90.0
    angle = math.radians(0.986 * (day - 15.0 - lag) + turn)
    mains = mean + 6.0 + ratio * 1.8 * temp_swing / 2.0 * math.sin(angle)
    return max((mains - 32.0) / 1.8, 0.0)
