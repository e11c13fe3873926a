"""What the compiled loop works on: the year's drivers per step, the plant's figures, the state.

Named tuples of arrays and floats, because a compiled loop takes them as they are. A step's value
stands for the step's middle. Powers of heat flow are in W, heat capacities in J/K.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from noonwater.year.water_drivers import HeaterFigures, WaterDrivers

Floats = NDArray[np.float64]
Bytes = NDArray[np.int8]


class Drivers(NamedTuple):
    """The weather and the calendar, one value a step.

    Attributes
    ----------
    temp_air : (steps,) array
        [°C]
    vapour_pressure : (steps,) array
        Of the air. [Pa]
    wind_water : (steps,) array
        At 2 m over the water. [m/s]
    longwave_sky : (steps,) array
        From the sky on level ground. [W/m²]
    pool_sun : (steps,) array
        Absorbed by the uncovered water. [W/m²]
    covered : (steps,) array
        1 where the cover lies on the water.
    season : (steps,) array
        1 on the days that solar may heat.
    cooling : (steps,) array
        1 in season in the months that solar may cool.
    period : (steps,) array
        Which period of the pump's program runs; -1 where the pump stands.
    bank_gain, bank_loss : (banks, steps) array
        Of the panels: heat taken up at air temperature [W/m²], loss coefficient [W/(m²·K)].
    sensor_gain, sensor_loss : (steps,) array
        The same for the sensor's body, whatever it is.
    """

    temp_air: Floats
    vapour_pressure: Floats
    wind_water: Floats
    longwave_sky: Floats
    pool_sun: Floats
    covered: Bytes
    season: Bytes
    cooling: Bytes
    period: Bytes
    bank_gain: Floats
    bank_loss: Floats
    sensor_gain: Floats
    sensor_loss: Floats


class PoolFigures(NamedTuple):
    """The water and its cover.

    Attributes
    ----------
    area : float
        [m²]
    capacity : float
        Heat capacity of all its water. [J/K]
    pressure : float
        Of the air. [Pa]
    cover_evaporation, cover_sun : float
        Shares of evaporation and of absorbed sun that a closed cover leaves.
    cover_resistance : float
        Of the cover to heat. [m²·K/W]
    evaporation_factor : float
        Times the default evaporation coefficient. [-]
    coefficient_hall : float
        Evaporation coefficient of a quiet pool in a hall; 0 outdoors. [W/(m²·Pa)]
    ground_loss : float
        Through walls and floor, by water area. [W/(m²·K)]
    refill : float
        Heat capacity of water over its latent heat; 0 where nothing tops it up. [1/K]
    pump_heat : float
        Share of the pump's electricity that warms the water. [-]
    spa_area, spa_capacity : float
        Of a spa that is part of the pool between its uses. [m²], [J/K]
    spa_target : float
        [°C]
    spa_heated : bool
        Whether the spa is heated.
    """

    area: float
    capacity: float
    pressure: float
    cover_evaporation: float
    cover_sun: float
    cover_resistance: float
    evaporation_factor: float = 1.0
    coefficient_hall: float = 0.0
    ground_loss: float = 0.0
    refill: float = 0.0
    pump_heat: float = 0.0
    spa_area: float = 0.0
    spa_capacity: float = 0.0
    spa_target: float = 0.0
    spa_heated: bool = False


class ArrayFigures(NamedTuple):
    """Banks, the two pipes between pad and roof, and the sensor's body.

    Attributes
    ----------
    area, capacity_dry, capacity_water : (banks,) array
        Absorber [m²]; heat capacity of the bare panels and of the water in them [J/K].
    flow_capacity : (periods, banks) array
        Mass flow times heat capacity when solar runs in that period. [W/K]
    fill_time : (periods,) array
        To fill panels and pipes at that flow. [s]
    pipe_wall, pipe_water, pipe_conductance : (2,) array
        Feed and roof return: heat capacity of wall and of water [J/K], loss to the air [W/K].
    sensor_capacity : float
        Of the sensor's body. [J/(m²·K)]
    drains : bool
        Whether panels and pipes empty into the pool at each stop.
    sensor_link : float
        From the sensor's body to the roof return; 0 where it doesn't touch it. [W/(m²·K)]
    """

    area: Floats
    capacity_dry: Floats
    capacity_water: Floats
    flow_capacity: Floats
    fill_time: Floats
    pipe_wall: Floats
    pipe_water: Floats
    pipe_conductance: Floats
    sensor_capacity: float
    drains: bool
    sensor_link: float = 0.0


class ControlFigures(NamedTuple):
    """The controller, the pump's watts and the clock.

    Attributes
    ----------
    on_difference, off_difference : float
        Sensor above pool. [K]
    target, deadband : float
        Solar stops at target + deadband and starts below target. [°C], [K]
    differential : bool
        False where a timer alone commands.
    valve_travel : float
        [s]
    power_filter, power_solar : (periods,) array
        At the wire without and with water on the roof. [W]
    power_priming : float
        At the wire while the array fills and purges. [W]
    priming_time : float
        [s]
    solar_in_period : (periods,) array
        1 where solar may run in that period and the pump lifts water to the top.
    step : float
        [s]
    least_run, least_rest : float
        How long water stays on the roof, or off it, at least. [s]
    cooling_target : float
        Solar cools a pool that is warmer. [°C]
    freeze_row : int
        Row of flows and watts in which water circulates against frost; -1 where it doesn't.
    drains_in_frost : bool
        Whether a valve empties the resting array before it freezes.
    freeze_trip : float
        Temperature below which either happens. [°C]
    freeze_by_sensor : bool
        Whether the roof sensor is watched for it, not the air.
    """

    on_difference: float
    off_difference: float
    target: float
    deadband: float
    differential: bool
    valve_travel: float
    power_filter: Floats
    power_solar: Floats
    power_priming: float
    priming_time: float
    solar_in_period: Bytes
    step: float
    least_run: float = 0.0
    least_rest: float = 0.0
    cooling_target: float = 99.0
    freeze_row: int = -1
    drains_in_frost: bool = False
    freeze_trip: float = 0.0
    freeze_by_sensor: bool = False


# Pools that one run follows: the first as designed, then its twins. Each is the same water under
# the same weather; solar serves the first alone, the heater the first and HEATER_ONLY, the cover
# all but BARE.
POOL, WITHOUT, HEATER_ONLY, BARE = range(4)
POOLS = 4


class Inputs(NamedTuple):
    """All that a year needs.

    Attributes
    ----------
    twins : (POOLS,) array
        1 for each pool that is wanted; the first always is.
    """

    drivers: Drivers
    pool: PoolFigures
    array: ArrayFigures
    control: ControlFigures
    water: WaterDrivers
    heater: HeaterFigures
    twins: Bytes


def only_designed() -> Bytes:
    """Ask for the pool as designed alone."""
    return np.array([1, 0, 0, 0], dtype=np.int8)


# Places in the state vector: the pools, the plant; the banks' temperatures follow. RUNNING holds a
# mode of `noonwater.year.command`, SINCE the time since water last came to the roof or left it,
# BEFORE the pool's temperature a step ago.
FEED, RETURN, SENSOR, RUNNING, WET, DELAY, PRIMING, SINCE, BEFORE = range(POOLS, POOLS + 9)
BANKS = POOLS + 9

LONG_AGO = 1e9
"""[s] What a state starts from that no least rest holds back."""

# Columns of the hourly record.
(
    POOL_TEMP,
    POOL_TEMP_WITHOUT,
    SOLAR_HEAT,
    PUMP_ENERGY,
    PUMP_ENERGY_WITHOUT,
    SOLAR_TIME,
    ARRAY_TEMP,
    SENSOR_TEMP,
    EVAPORATION,
    STARTS,
    COOLING_HEAT,
    COOLING_TIME,
    COOLING_ENERGY,
    FREEZE_HEAT,
    FREEZE_TIME,
    FREEZE_ENERGY,
    POOL_TEMP_HEATER_ONLY,
    POOL_TEMP_BARE,
    HEATER_HEAT,
    HEATER_ENERGY,
    HEATER_ONLY_HEAT,
    HEATER_ONLY_ENERGY,
    HEATER_PUMP_ENERGY,
    HEATER_ONLY_PUMP_ENERGY,
    SPA_HEAT,
    SPA_ENERGY,
    MADE_UP_FLOW,
) = range(27)
RECORD = 27

# Rows of the ledger, heat in over the whole run [J]: these kinds for each pool, one pool after the
# other, then the plant's.
(
    SUN,
    EVAPORATED,
    CONVECTED,
    RADIATED,
    FALLING,
    GROUND,
    RAIN,
    MADE_UP,
    BATHED,
    PUMPED,
    HEATED,
    SPA,
) = range(12)
KINDS = 12
ARRAY_GAIN, ARRAY_LOSS, PIPE_LOSS, DELIVERED = range(POOLS * KINDS, POOLS * KINDS + 4)
LEDGER = POOLS * KINDS + 4


def resting_state(temp_pool: float, temp_air: float, banks: int) -> Floats:
    """State of a pool at one temperature with the array dry and the pump at rest. [°C]."""
    state = np.full(BANKS + banks, temp_air)
    state[:POOLS] = temp_pool
    state[[RUNNING, WET, DELAY, PRIMING]] = 0.0
    state[SINCE] = LONG_AGO
    state[BEFORE] = temp_pool
    return state
