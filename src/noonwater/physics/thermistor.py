"""Resistance of a thermistor by its temperature."""

from __future__ import annotations

from math import exp, log

from noonwater.core.constants import KELVIN
from noonwater.core.jit import formula


@formula
def resistance_thermistor(
    temp: float, temp_cool: float, resistance_cool: float, temp_warm: float, resistance_warm: float
) -> float:
    """Resistance between two points of a thermistor's own table.

    Parameters
    ----------
    temp : float
        Of the thermistor. [°C]
    temp_cool, temp_warm : float
        Of the two points; not the same. [°C]
    resistance_cool, resistance_warm : float
        At the two points. [ohm]

    Returns
    -------
    float
        [ohm]

    Notes
    -----
    The law of two constants: the logarithm of the resistance is straight over the inverse of the
    absolute temperature. Range: exact at the two points; within 0.4 % between points 25 K apart
    from 0 to 75 °C (tests/reference/test_thermistor_table.py). A sensor whose resistance rises
    with temperature is taken alike between near points: ours, not the source's.

    References
    ----------
    .. [1] IEC 60539-1, Directly heated negative temperature coefficient thermistors, B-value
       (from memory).
    """
    cool, warm, here = (1.0 / (each + KELVIN) for each in (temp_cool, temp_warm, temp))
    share = (here - warm) / (cool - warm)
    return exp(log(resistance_warm) + share * log(resistance_cool / resistance_warm))
