"""What the sensors should measure: their own table, with what lies between its points."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from scipy.optimize import brentq

from noonwater.model.plant import SensorPoint
from noonwater.physics.thermistor import resistance_thermistor


def resistance_at(temp: float, points: Sequence[SensorPoint]) -> float | None:
    """Resistance of a sensor, from its own table.

    Parameters
    ----------
    temp : float
        [°C]
    points : sequence of SensorPoint
        Temperatures rise.

    Returns
    -------
    float or None
        [ohm]; None outside the table, for nothing is known there.
    """
    for cool, warm in pairwise(points):
        if cool.temperature <= temp <= warm.temperature:
            return resistance_thermistor(
                temp, cool.temperature, cool.resistance, warm.temperature, warm.resistance
            )
    return next((p.resistance for p in points if p.temperature == temp), None)


def temperature_at(resistance: float, points: Sequence[SensorPoint]) -> float | None:
    """Temperature of a sensor by its resistance, from its own table.

    Parameters
    ----------
    resistance : float
        [ohm]
    points : sequence of SensorPoint
        Temperatures rise, resistances only fall or only rise.

    Returns
    -------
    float or None
        [°C]; None outside the table: a broken wire, a short, or another sensor.
    """
    for cool, warm in pairwise(points):
        low, high = sorted((cool.resistance, warm.resistance))
        if low <= resistance <= high:
            ends = (cool.temperature, cool.resistance, warm.temperature, warm.resistance)
            return float(brentq(_miss, ends[0], ends[2], args=(resistance, ends), xtol=1e-9))
    return None


def _miss(temp: float, resistance: float, ends: tuple[float, float, float, float]) -> float:
    return resistance_thermistor(temp, *ends) - resistance
