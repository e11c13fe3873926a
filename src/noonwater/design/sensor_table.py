"""What the sensors should measure: their own table, with what lies between its points."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

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
