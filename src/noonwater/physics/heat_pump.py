"""A heat pump between air and pool: how much it gives and what it draws, by air and water.

Its sheet prints two ratings, both with water at 80 °F: air at 80 °F and air at 50 °F. Between them
and beyond, the power drawn for a unit of heat grows on a straight line with the lift from air to
water. That is Carnot's form with a lift of its own added, for what the machine needs at no lift.
"""

from __future__ import annotations

from noonwater.core.jit import formula

TEMP_RATED = 26.7
"""[°C] 80 °F, air and water at the first rating (read: US government text on heat pumps)."""

TEMP_RATED_COOL = 10.0
"""[°C] 50 °F, air at the second rating of the pool heaters' standard (AHRI 1160, read
second-hand)."""

COP_USUAL = 5.0
"""[-] At 80 °F. The same government text has 3.0 to 7.0; a dealer's page on the standard test has
4.3 to 5.9 in the best cases (both read)."""

COP_KEPT_COOL = 0.7
"""[-] COP at 50 °F over that at 80 °F where the sheet isn't at hand. A state's building code asks
for 4.0 at 50 °F (read second-hand), sheets have some 5.5 to 6 at 80 °F then (from memory)."""

HEAT_KEPT_COOL = 0.65
"""[-] Heat at 50 °F over that at 80 °F where the sheet isn't at hand. One sheet has 77 over 120 at
80 % and over 111 at 63 % humidity, 0.64 and 0.69 (read second-hand); others 0.55 to 0.75 (from
memory)."""

LIFT_LEAST = 0.5
"""[-] Of its own lift, below which the power is not let fall: twice the rated COP at most."""


@formula
def lift_own(cop_rated: float, cop_cool: float) -> float:
    """Lift that the heat pump needs for itself, from its two ratings.

    Parameters
    ----------
    cop_rated : float
        Coefficient of performance with air at `TEMP_RATED`. [-]
    cop_cool : float
        The same with air at `TEMP_RATED_COOL`. [-]

    Returns
    -------
    float
        [K]

    Notes
    -----
    Range: cop_cool below cop_rated. From 1/COP on a straight line with the lift: ours, not the
    source's.
    """
    return (TEMP_RATED - TEMP_RATED_COOL) * cop_cool / (cop_rated - cop_cool)


@formula
def cop_heat_pump(temp_air: float, temp_water: float, cop_rated: float, lift_own: float) -> float:
    """Heat to the water over electricity drawn.

    Parameters
    ----------
    temp_air : float
        [°C]
    temp_water : float
        [°C]
    cop_rated : float
        With air and water at `TEMP_RATED`. [-]
    lift_own : float
        Lift that the heat pump needs for itself. [K]

    Returns
    -------
    float
        [-]

    Notes
    -----
    Range: air 5 to 40 °C, water 10 to 40 °C; it goes through both ratings. Fans that slow down and
    compressors with a speed of their own do better in part load than it says; in dry air (63 %
    instead of 80 %) it is some 5 to 8 % lower. Ours, not the source's: the straight line, and that
    no lift below `LIFT_LEAST` of its own is used.
    """
    lift = max(lift_own + temp_water - temp_air, LIFT_LEAST * lift_own)
    return cop_rated * lift_own / lift


@formula
def heat_heat_pump(temp_air: float, heat_rated: float, heat_cool: float) -> float:
    """Heat that a heat pump can give.

    Parameters
    ----------
    temp_air : float
        [°C]
    heat_rated : float
        With air at `TEMP_RATED`. [W]
    heat_cool : float
        With air at `TEMP_RATED_COOL`. [W]

    Returns
    -------
    float
        [W]

    Notes
    -----
    Range: air 5 to 40 °C. A straight line through both ratings, never below zero: ours, not the
    source's. The water's temperature moves it by a few per cent; left out.
    """
    slope = (heat_rated - heat_cool) / (TEMP_RATED - TEMP_RATED_COOL)
    return max(heat_rated + slope * (temp_air - TEMP_RATED), 0.0)
