"""The same equations, integrated by scipy.integrate.solve_ivp with events at each switch.

A second reading of the year's equations in continuous time, for two purposes: the bench times it,
and a reference test compares the five-minute loop with it at tight tolerance. It shares with the
loop the physics functions and the inputs, not the stepping: rates, events and draining are written
here anew.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

from noonwater.year import parameters as at
from noonwater.year.balance import surface_losses
from noonwater.year.parameters import Inputs

Floats = NDArray[np.float64]

# Order of the unknowns: pool, pool without, feed, roof return, sensor, banks.
FIXED = 5


@dataclass
class Plant:
    """Rates of change in one mode of the plant."""

    inputs: Inputs
    flow: Floats
    wet: bool
    period: int

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
        drivers, pool, array, _ = self.inputs
        air = self.at_time(drivers.temp_air, time)
        index = int(time % self.length / self.inputs.control.step)
        covered = drivers.covered[index] == 1
        sun = self.at_time(drivers.pool_sun, time) * (pool.cover_sun if covered else 1.0)
        result = np.zeros_like(temps)
        held = array.capacity_water.sum() + array.pipe_water.sum() if self.wet else 0.0
        total = float(self.flow.sum())
        mixed = temps[2]
        for bank in range(len(array.area)):
            loss = self.at_time(drivers.bank_loss[bank], time) * array.area[bank]
            gain = self.at_time(drivers.bank_gain[bank], time) * array.area[bank]
            node = temps[FIXED + bank]
            taken = 2.0 * self.flow[bank] * (node - temps[2])
            capacity = array.capacity_dry[bank] + array.capacity_water[bank] * self.wet
            result[FIXED + bank] = (gain - loss * (node - air) - taken) / capacity
            if total > 0.0:
                mixed += taken / total
        for place, temp_in in ((2, temps[0]), (3, mixed)):
            pipe = place - 2
            capacity = array.pipe_wall[pipe] + array.pipe_water[pipe] * self.wet
            lost = array.pipe_conductance[pipe] * (temps[place] - air)
            result[place] = (total * (temp_in - temps[place]) - lost) / capacity
        for place in (0, 1):
            losses = surface_losses(
                temps[place],
                air,
                self.at_time(drivers.vapour_pressure, time),
                self.at_time(drivers.wind_water, time),
                self.at_time(drivers.longwave_sky, time),
                pool.pressure,
                pool.evaporation_factor,
                pool.cover_evaporation if covered else 1.0,
                pool.cover_resistance if covered else 0.0,
            )
            heat = pool.area * (sun - sum(losses))
            if place == 0:
                heat += total * (temps[3] - temps[0])
            result[place] = heat / (pool.capacity - (held if place == 0 else 0.0))
        sensor_loss = self.at_time(drivers.sensor_loss, time)
        sensor_gain = self.at_time(drivers.sensor_gain, time)
        result[4] = (sensor_gain - sensor_loss * (temps[4] - air)) / array.sensor_capacity
        return result


def fine_run(
    inputs: Inputs, state: Floats, first: int, count: int, *, rtol: float, method: str = "LSODA"
) -> tuple[Floats, Floats]:
    """Integrate from step ``first`` over ``count`` steps.

    Returns
    -------
    times, temps
        Ends of the steps [s] and the unknowns there, (count, 5 + banks) [°C].
    """
    step = inputs.control.step
    time, end = first * step, (first + count) * step
    temps = np.concatenate([state[:2], state[at.FEED : at.SENSOR + 1], state[at.BANKS :]])
    running, wet, filled_at = bool(state[at.RUNNING]), bool(state[at.WET]), -1.0
    rows: list[Floats] = []
    wanted_times = (first + 1 + np.arange(count)) * step
    while time < end - 1e-6:
        period, allowed, until = _calendar(inputs, time, end)
        wanted = allowed and _wanted(inputs, running, temps)
        if wanted and not running:
            delay = inputs.control.valve_travel + inputs.array.fill_time[period] * (not wet)
            temps, wet, filled_at = _fill(inputs, temps, wet), True, time + delay
        if running and not wanted and inputs.array.drains:
            temps, wet = _drain(inputs, temps), False
        running = wanted
        flowing = running and time >= filled_at - 1e-6
        if running and not flowing:
            until = min(until, filled_at)
        flow = inputs.array.flow_capacity[period] if flowing else np.zeros(len(inputs.array.area))
        plant = Plant(inputs, flow, wet, period)
        inside = wanted_times[(wanted_times > time + 1e-9) & (wanted_times <= until + 1e-9)]
        solution = solve_ivp(
            plant.rates,
            (time, until),
            temps,
            method=method,
            rtol=rtol,
            atol=rtol * 10.0,
            t_eval=np.unique(np.append(np.minimum(inside, until), until)),
            events=_events(inputs, running) if allowed else None,
            max_step=1800.0,
        )
        if not solution.success:
            raise RuntimeError(solution.message)
        stopped = solution.status == 1
        reached = float(solution.t_events[_first(solution.t_events)][0]) if stopped else until
        rows.extend(
            row
            for t, row in zip(solution.t, solution.y.T, strict=True)
            if np.any(np.abs(inside - t) < 1e-6) and t <= reached + 1e-9
        )
        temps = (
            solution.y_events[_first(solution.t_events)][0] if stopped else solution.y[:, -1]
        ).copy()
        if stopped:
            temps = _nudge(temps, running)
        time = reached
    return wanted_times, np.array(rows)


def _wanted(inputs: Inputs, running: bool, temps: Floats) -> bool:
    control = inputs.control
    if not control.differential:
        return True
    pool, sensor = temps[0], temps[4]
    if running:
        return bool(
            pool < control.target + control.deadband and sensor - pool > control.off_difference
        )
    return bool(pool < control.target and sensor - pool >= control.on_difference)


def _events(inputs: Inputs, running: bool):
    control = inputs.control
    limit = control.off_difference if running else control.on_difference
    level = control.target + control.deadband if running else control.target

    def difference(_time: float, temps: Floats) -> float:
        return float(temps[4] - temps[0] - limit)

    def warmth(_time: float, temps: Floats) -> float:
        return float(temps[0] - level)

    for event, direction in ((difference, -1 if running else 1), (warmth, 1 if running else -1)):
        event.terminal = True  # type: ignore[attr-defined]
        event.direction = direction  # type: ignore[attr-defined]
    return [difference, warmth] if control.differential else None


def _first(events: list[Floats]) -> int:
    return min((i for i, hits in enumerate(events) if len(hits)), key=lambda i: events[i][0])


def _nudge(temps: Floats, running: bool) -> Floats:
    # A root lies on the threshold to rounding; a hair past it makes the decision unambiguous.
    temps[4] += -1e-7 if running else 1e-7
    temps[0] += 1e-9 if running else -1e-9
    return temps


def _calendar(inputs: Inputs, time: float, end: float) -> tuple[int, bool, float]:
    """Period in force, whether solar may run, and when either changes."""
    drivers, step = inputs.drivers, inputs.control.step
    steps = len(drivers.temp_air)
    index = int(round(time / step, 6))
    last = round(end / step)

    def mode(i: int) -> tuple[int, int, int]:
        j = i % steps
        return int(drivers.period[j]), int(drivers.season[j]), int(drivers.covered[j])

    now, stop = mode(index), index + 1
    while stop < last and mode(stop) == now:
        stop += 1
    allowed = now[0] >= 0 and now[1] == 1 and inputs.control.solar_in_period[now[0]] == 1
    return now[0], bool(allowed), min(stop * step, end)


def _fill(inputs: Inputs, temps: Floats, wet: bool) -> Floats:
    if wet:
        return temps
    array, temps = inputs.array, temps.copy()
    for pipe in range(2):
        dry, water = array.pipe_wall[pipe], array.pipe_water[pipe]
        temps[2 + pipe] = (dry * temps[2 + pipe] + water * temps[0]) / (dry + water)
    banks = slice(FIXED, None)
    dry, water = array.capacity_dry, array.capacity_water
    temps[banks] = (dry * temps[banks] + water * temps[0]) / (dry + water)
    return temps


def _drain(inputs: Inputs, temps: Floats) -> Floats:
    array, temps = inputs.array, temps.copy()
    held = array.capacity_water.sum() + array.pipe_water.sum()
    heat = (inputs.pool.capacity - held) * temps[0]
    heat += (array.capacity_water * temps[FIXED:]).sum() + (array.pipe_water * temps[2:4]).sum()
    temps[0] = heat / inputs.pool.capacity
    return temps
