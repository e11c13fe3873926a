"""The same equations, integrated by scipy.integrate.solve_ivp with events at each switch.

A second reading of the year's equations in continuous time, for two purposes: the bench times it,
and a reference test compares the five-minute loop with it at tight tolerance. It shares with the
loop the physics functions and the inputs, not the stepping: rates, events and draining are written
here anew.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

from noonwater.year import parameters as at
from noonwater.year.balance import FREEZING, falling_losses, surface_losses
from noonwater.year.command import CIRCULATING, COOLING, FREEZE_DEADBAND, HEATING, RESTING
from noonwater.year.parameters import Inputs

Floats = NDArray[np.float64]

# Order of the unknowns: the four pools as in the state, feed, roof return, sensor, banks.
POOL, FEED, RETURN, SENSOR = 0, at.POOLS, at.POOLS + 1, at.POOLS + 2
FIXED = at.POOLS + 3


@dataclass
class Plant:
    """Rates of change in one mode of the plant."""

    inputs: Inputs
    flow: Floats
    wet: bool
    mode: float
    primed_at: float = -1.0

    def __post_init__(self) -> None:
        drivers = self.inputs.drivers
        step = self.inputs.control.step
        steps = len(drivers.temp_air)
        self.middles = (np.arange(-1, steps + 1) + 0.5) * step
        self.length = steps * step

    def at_time(self, series: Floats, time: float) -> float:
        """Driver between the middles of its steps, around the year's end."""
        step = self.inputs.control.step
        place = (time % self.length) / step - 0.5
        left = int(np.floor(place))
        share = place - left
        steps = len(series)
        return float(series[left % steps] * (1.0 - share) + series[(left + 1) % steps] * share)

    def rates(self, time: float, temps: Floats) -> Floats:
        drivers, array = self.inputs.drivers, self.inputs.array
        air = self.at_time(drivers.temp_air, time)
        result = np.zeros_like(temps)
        total = float(self.flow.sum())
        mixed = temps[FEED]
        for bank in range(len(array.area)):
            loss = self.at_time(drivers.bank_loss[bank], time) * array.area[bank]
            gain = self.at_time(drivers.bank_gain[bank], time) * array.area[bank]
            node = temps[FIXED + bank]
            taken = 2.0 * self.flow[bank] * (node - temps[FEED])
            capacity = array.capacity_dry[bank] + array.capacity_water[bank] * self.wet
            result[FIXED + bank] = (gain - loss * (node - air) - taken) / capacity
            if total > 0.0:
                mixed += taken / total
        for place, temp_in in ((FEED, temps[POOL]), (RETURN, mixed)):
            pipe = place - FEED
            capacity = array.pipe_wall[pipe] + array.pipe_water[pipe] * self.wet
            lost = array.pipe_conductance[pipe] * (temps[place] - air)
            result[place] = (total * (temp_in - temps[place]) - lost) / capacity
        held = array.capacity_water.sum() + array.pipe_water.sum() if self.wet else 0.0
        for place in np.flatnonzero(self.inputs.twins):
            solar = total * (temps[RETURN] - temps[POOL]) if place == POOL else 0.0
            capacity = self.inputs.pool.capacity - (held if place == POOL else 0.0)
            result[place] = (self.water_heat(time, place, temps[place]) + solar) / capacity
            result[place] += self.heater_heat(time, place, temps[place], result[place], capacity)
        sensor_loss = self.at_time(drivers.sensor_loss, time)
        sensor_gain = self.at_time(drivers.sensor_gain, time)
        touched = array.sensor_link * (temps[RETURN] - temps[SENSOR])
        taken_up = sensor_gain - sensor_loss * (temps[SENSOR] - air) + touched
        result[SENSOR] = taken_up / array.sensor_capacity
        return result

    def water_heat(self, time: float, place: int, temp: float) -> float:
        """Heat that one pool takes up beside sun from the roof and heater. [W]."""
        drivers, pool, water = self.inputs.drivers, self.inputs.pool, self.inputs.water
        index = int(time % self.length / self.inputs.control.step)
        covered = drivers.covered[index] == 1 and place != at.BARE
        air = self.at_time(water.temp_over_water, time)
        vapour = self.at_time(drivers.vapour_pressure, time)
        lost = surface_losses(
            temp,
            air,
            vapour,
            self.at_time(drivers.wind_water, time),
            self.at_time(drivers.longwave_sky, time),
            pool.pressure,
            pool.evaporation_factor,
            pool.cover_evaporation if covered else water.activity[index],
            pool.cover_resistance if covered else 0.0,
            pool.coefficient_hall,
        )
        coefficient = pool.evaporation_factor * water.falling[index]
        fallen = falling_losses(temp, air, vapour, pool.pressure, coefficient)
        evaporated = lost[0] + fallen[0]
        gained = self.at_time(drivers.pool_sun, time) * (pool.cover_sun if covered else 1.0)
        wet = max(temp, FREEZING)
        gained += self.at_time(water.ground_gain, time) - pool.ground_loss * wet
        gained += self.at_time(water.rain_gain, time) - self.at_time(water.rain_flow, time) * wet
        missing = max(evaporated - self.at_time(water.rain_heat, time), 0.0)
        flow = water.splash[index] + pool.refill * missing
        gained += flow * (self.at_time(water.temp_mains, time) - wet) + water.bathers[index]
        area = pool.area + (0.0 if water.spa_in_use[index] == 1 else pool.spa_area)
        return area * (gained - sum(lost) - sum(fallen)) + self.pump_heat(time, place)

    def pump_heat(self, time: float, place: int) -> float:
        """Heat of the pump. [W]."""
        index = int(time % self.length / self.inputs.control.step)
        control, period = self.inputs.control, self.inputs.drivers.period[index]
        power = control.power_filter[period] if period >= 0 else 0.0
        if place == POOL and self.mode != RESTING:
            row = control.freeze_row if self.mode == CIRCULATING else period
            power = control.power_priming if time < self.primed_at else control.power_solar[row]
        return float(self.inputs.pool.pump_heat * power)

    def heater_heat(
        self, time: float, place: int, temp: float, rate: float, capacity: float
    ) -> float:
        """How fast the heater moves one pool: it holds its set point, softly. [K/s]."""
        heater = self.inputs.heater
        index = int(time % self.length / self.inputs.control.step)
        power = self.inputs.water.heater_power[index]
        if place in (at.WITHOUT, at.BARE) or power <= 0.0:
            return 0.0
        point = heater.target
        if place == POOL and self.mode in (HEATING, COOLING):
            point = heater.target - heater.solar_lead if self.mode == HEATING else -np.inf
        wanted = (point - temp) / SOFT - rate
        return float(min(max(wanted, 0.0), power / capacity))


SOFT = 60.0
"""[s] How fast the heater here closes in on its set point."""


def fine_run(
    inputs: Inputs, state: Floats, first: int, count: int, *, rtol: float, method: str = "LSODA"
) -> tuple[Floats, Floats]:
    """Integrate from step ``first`` over ``count`` steps.

    Returns
    -------
    times, temps
        Ends of the steps [s] and the unknowns there, (count, FIXED + banks) [°C].
    """
    step, control = inputs.control.step, inputs.control
    time, end = first * step, (first + count) * step
    temps = np.concatenate([state[: at.SENSOR + 1], state[at.BANKS :]])
    now = Now(float(state[at.RUNNING]), bool(state[at.WET]), time - float(state[at.SINCE]), -1.0)
    rows: list[Floats] = []
    wanted_times = (first + 1 + np.arange(count)) * step
    while time < end - 1e-6:
        row, may, until = _calendar(inputs, time, end)
        temps = _with_spa(inputs, time, temps)
        mode = _mode(inputs, now, time, temps, may)
        row = control.freeze_row if mode == CIRCULATING else row
        now, temps = _switched(inputs, now, mode, row, time, temps)
        cold = _watched(inputs, time, temps) < control.freeze_trip
        if control.drains_in_frost and now.wet and mode == RESTING and cold:
            temps, now.wet = _drain(inputs, temps), False
        flowing = mode != RESTING and time >= now.filled_at - 1e-6
        if mode != RESTING and not flowing:
            until = min(until, now.filled_at)
        for limit in (control.least_run, control.least_rest, control.priming_time):
            if time < now.switched_at + limit - 1e-6:
                until = min(until, now.switched_at + limit)
        flow = inputs.array.flow_capacity[row] if flowing else np.zeros(len(inputs.array.area))
        plant = Plant(inputs, flow, now.wet, mode, now.switched_at + control.priming_time)
        inside = wanted_times[(wanted_times > time + 1e-9) & (wanted_times <= until + 1e-9)]
        solution = solve_ivp(
            plant.rates,
            (time, until),
            temps,
            method=method,
            rtol=rtol,
            atol=rtol * 10.0,
            t_eval=np.unique(np.append(np.minimum(inside, until), until)),
            events=_events(inputs, plant, mode, may),
            max_step=1800.0,
        )
        if not solution.success:
            raise RuntimeError(solution.message)
        stopped = solution.status == 1
        reached = float(solution.t_events[_first(solution.t_events)][0]) if stopped else until
        rows.extend(
            row_temps
            for t, row_temps in zip(solution.t, np.array(solution.y).T, strict=True)
            if np.any(np.abs(inside - t) < 1e-6) and t <= reached + 1e-9
        )
        temps = temps if stopped else solution.y[:, -1].copy()
        if stopped:
            # A root lies on its threshold to rounding; a hair later the decision is unambiguous.
            temps = solution.y_events[_first(solution.t_events)][0].copy()
            temps += plant.rates(reached, temps) * HAIR
        time = min(reached + HAIR, until) if stopped else until
    return wanted_times, np.array(rows)


HAIR = 1e-3
"""[s]"""


@dataclass
class Now:
    """What the plant does, whether it holds water, when it last switched and will be full."""

    mode: float
    wet: bool
    switched_at: float
    filled_at: float


def _watched(inputs: Inputs, time: float, temps: Floats) -> float:
    if inputs.control.freeze_by_sensor:
        return float(temps[SENSOR])
    return Plant(inputs, np.zeros(0), False, RESTING).at_time(inputs.drivers.temp_air, time)


def _mode(inputs: Inputs, now: Now, time: float, temps: Floats, may: tuple[bool, bool]) -> float:
    """Decide anew what the loop decides: thresholds, least run and rest, frost last."""
    control, (heats, cools) = inputs.control, may
    pool, sensor, since = temps[POOL], temps[SENSOR], time - now.switched_at + 1e-6
    if not control.differential:
        return HEATING if heats else RESTING
    ceiling = control.target + (control.deadband if now.mode == HEATING else 0.0)
    hot = sensor - pool > control.off_difference
    if now.mode != HEATING:
        hot = sensor - pool >= control.on_difference
    floor = control.cooling_target - (control.deadband if now.mode == COOLING else 0.0)
    cold = pool - sensor > control.off_difference
    if now.mode != COOLING:
        cold = pool - sensor >= control.on_difference
    wanted = RESTING
    if heats and hot and pool < ceiling:
        wanted = HEATING
    elif cools and cold and pool > floor:
        wanted = COOLING
    if now.mode == RESTING and since < control.least_rest:
        wanted = RESTING
    allowed = {HEATING: heats, COOLING: cools}.get(now.mode, False)
    if allowed and since < control.least_run:
        wanted = now.mode
    if wanted == RESTING and control.freeze_row >= 0:
        watched = _watched(inputs, time, temps)
        circulates = now.mode == CIRCULATING
        if watched < control.freeze_trip + (FREEZE_DEADBAND if circulates else 0.0):
            wanted = CIRCULATING
        if circulates and since < control.least_run:
            wanted = CIRCULATING
    return wanted


def _switched(
    inputs: Inputs, now: Now, mode: float, row: int, time: float, temps: Floats
) -> tuple[Now, Floats]:
    if (mode == RESTING) == (now.mode == RESTING):
        return Now(mode, now.wet, now.switched_at, now.filled_at), temps
    if mode == RESTING:
        if inputs.array.drains:
            return Now(mode, False, time, -1.0), _drain(inputs, temps)
        return Now(mode, now.wet, time, -1.0), temps
    delay = inputs.control.valve_travel + inputs.array.fill_time[row] * (not now.wet)
    return Now(mode, True, time, time + delay), _fill(inputs, temps, now.wet)


Event = Callable[[float, Floats], float]


def _events(
    inputs: Inputs, plant: Plant, mode: float, may: tuple[bool, bool]
) -> list[Event] | None:
    """Thresholds that may change the mode, each with the way it is crossed."""
    control, air = inputs.control, inputs.drivers.temp_air
    if not control.differential:
        return None
    on, off = control.on_difference, control.off_difference
    hottest = control.target + (control.deadband if mode == HEATING else 0.0)
    coldest = control.cooling_target - (control.deadband if mode == COOLING else 0.0)
    found: list[tuple[Event, int]] = []
    if may[0]:
        lift, way = (off, -1) if mode == HEATING else (on, 1)
        found.append((lambda _, temps: temps[SENSOR] - temps[POOL] - lift, way))
        found.append((lambda _, temps: temps[POOL] - hottest, -way))
    if may[1]:
        drop, back = (off, -1) if mode == COOLING else (on, 1)
        found.append((lambda _, temps: temps[POOL] - temps[SENSOR] - drop, back))
        found.append((lambda _, temps: temps[POOL] - coldest, back))
    if control.freeze_row >= 0 or control.drains_in_frost:
        trip = control.freeze_trip + (FREEZE_DEADBAND if mode == CIRCULATING else 0.0)
        back = 1 if mode == CIRCULATING else -1
        if control.freeze_by_sensor:
            found.append((lambda _, temps: temps[SENSOR] - trip, back))
        else:
            found.append((lambda time, _: plant.at_time(air, time) - trip, back))
    for event, direction in found:
        event.terminal = True  # type: ignore[attr-defined]
        event.direction = direction  # type: ignore[attr-defined]
    return [event for event, _ in found] or None


def _first(events: list[Floats]) -> int:
    return min((i for i, hits in enumerate(events) if len(hits)), key=lambda i: events[i][0])


def _calendar(inputs: Inputs, time: float, end: float) -> tuple[int, tuple[bool, bool], float]:
    """Period in force, whether solar may heat and may cool, and when any of it changes."""
    drivers, step = inputs.drivers, inputs.control.step
    steps = len(drivers.temp_air)
    index = int(time / step + 1e-5)
    last = round(end / step)

    water = inputs.water
    calendar = (
        drivers.period,
        drivers.season,
        drivers.cooling,
        drivers.covered,
        water.spa_in_use,
        water.bathers,
        water.falling,
        water.heater_power > 0.0,
    )

    def mode(i: int) -> tuple[float, ...]:
        return tuple(float(each[i % steps]) for each in calendar)

    now, stop = mode(index), index + 1
    while stop < last and mode(stop) == now:
        stop += 1
    period = int(now[0])
    allowed = period >= 0 and bool(inputs.control.solar_in_period[period] == 1)
    return period, (allowed and now[1] == 1, allowed and now[2] == 1), min(stop * step, end)


def _with_spa(inputs: Inputs, time: float, temps: Floats) -> Floats:
    """Let a spa whose use has just ended spill its warm water into the pools with a heater."""
    in_use, step, pool = inputs.water.spa_in_use, inputs.control.step, inputs.pool
    index = round(time / step)
    begins = abs(time - index * step) < HAIR / 2.0
    if not (begins and in_use[(index - 1) % len(in_use)] and not in_use[index % len(in_use)]):
        return temps
    temps = temps.copy()
    for place in (POOL, at.HEATER_ONLY):
        temps[place] += pool.spa_capacity * (pool.spa_target - temps[place]) / pool.capacity
    return temps


def _fill(inputs: Inputs, temps: Floats, wet: bool) -> Floats:
    if wet:
        return temps
    array, temps = inputs.array, temps.copy()
    for pipe in range(2):
        dry, water = array.pipe_wall[pipe], array.pipe_water[pipe]
        temps[FEED + pipe] = (dry * temps[FEED + pipe] + water * temps[POOL]) / (dry + water)
    banks = slice(FIXED, None)
    dry, water = array.capacity_dry, array.capacity_water
    temps[banks] = (dry * temps[banks] + water * temps[POOL]) / (dry + water)
    return temps


def _drain(inputs: Inputs, temps: Floats) -> Floats:
    array, temps = inputs.array, temps.copy()
    held = array.capacity_water.sum() + array.pipe_water.sum()
    heat = (inputs.pool.capacity - held) * temps[POOL]
    heat += (array.capacity_water * temps[FIXED:]).sum()
    heat += (array.pipe_water * temps[FEED : RETURN + 1]).sum()
    temps[POOL] = heat / inputs.pool.capacity
    return temps
