"""What the compiled loop works on beside sun, air and sky: what runs in, who bathes, what heats.

Named tuples as in `noonwater.year.parameters`; a step's value stands for the step's middle.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Bytes = NDArray[np.int8]


class WaterDrivers(NamedTuple):
    """What else comes to the water and leaves it, one value a step; by water area where [W/m²].

    Attributes
    ----------
    temp_over_water : (steps,) array
        Air over the water: outdoors, or the hall's. [°C]
    activity : (steps,) array
        Evaporation by bathers, over that of still water. [-]
    falling : (steps,) array
        Evaporation coefficient of falling water. [W/(m²·Pa)]
    ground_gain : (steps,) array
        Ground loss coefficient times the ground's temperature. [W/m²]
    rain_gain : (steps,) array
        Heat of the rain above water of 0 °C. [W/m²]
    rain_flow : (steps,) array
        Of the rain, and of the pool's water that runs off for it. [W/(m²·K)]
    rain_heat : (steps,) array
        Latent heat of the rain, which tops the pool up before the mains do. [W/m²]
    splash : (steps,) array
        Flow that makes up for splash. [W/(m²·K)]
    temp_mains : (steps,) array
        [°C]
    bathers : (steps,) array
        Their heat. [W/m²]
    spa_in_use : (steps,) array
        1 in the spa's hours.
    spa_loss : (steps,) array
        Of the spa, while it is apart from the pool. [W]
    heater_power : (steps,) array
        Heat that the heater can give; 0 where it may not. [W]
    heater_need : (steps,) array
        Fuel or electricity for a unit of heat into water of 0 °C. [-]
    """

    temp_over_water: Floats
    activity: Floats
    falling: Floats
    ground_gain: Floats
    rain_gain: Floats
    rain_flow: Floats
    rain_heat: Floats
    splash: Floats
    temp_mains: Floats
    bathers: Floats
    spa_in_use: Bytes
    spa_loss: Floats
    heater_power: Floats
    heater_need: Floats


class HeaterFigures(NamedTuple):
    """The backup heater.

    Attributes
    ----------
    target : float
        Set point. [°C]
    need_slope : float
        How the need for a unit of heat grows with the water's temperature. [1/K]
    solar_lead : float
        How far below the set point the pool sinks before the heater joins running solar. [K]
    pump_power : float
        At the wire where the heater calls the pump outside its program. [W]
    need_least : float
        Need for a unit of heat that cool water and hot air don't go below. [-]
    """

    target: float
    need_slope: float
    solar_lead: float
    pump_power: float
    need_least: float = 0.0


NO_HEATER = HeaterFigures(-1e3, 0.0, 0.0, 0.0)


def bare_water(temp_air: Floats) -> WaterDrivers:
    """Nothing but air over the water; temp_air by step in [°C]."""
    none = np.zeros_like(temp_air)
    return WaterDrivers(
        temp_over_water=temp_air,
        activity=np.ones_like(temp_air),
        falling=none,
        ground_gain=none,
        rain_gain=none,
        rain_flow=none,
        rain_heat=none,
        splash=none,
        temp_mains=none,
        bathers=none,
        spa_in_use=np.zeros(len(temp_air), dtype=np.int8),
        spa_loss=none,
        heater_power=none,
        heater_need=none,
    )
