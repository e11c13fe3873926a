"""The speed that gives a wanted flow: what a program written in flows means for the pump."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from noonwater.catalog import pump_named
from noonwater.core.errors import Fault, InputError
from noonwater.hydraulics.flow import TEMP_WATER, flow_at
from noonwater.hydraulics.states import purpose_of
from noonwater.model.job import Job
from noonwater.model.plant import Purpose

CLOSE = 0.5
"""[rpm] The bracket is halved until it is this narrow; pumps are set in steps of 5 or 10 rpm."""


def with_speeds(job: Job, temp_water: float = TEMP_WATER) -> Job:
    """Replace every flow of the pump's program by the speed that gives it.

    Parameters
    ----------
    job : Job
        The whole job.
    temp_water : float
        Of the water in the pipes. [°C]

    Returns
    -------
    Job
        The same where the program has speeds only. Flows of periods are through the pump with the
        array off, `solar_flow` is through all panels.

    Raises
    ------
    InputError
        With a fault for every flow that the pump doesn't reach.
    """
    pump = job.pump
    if pump.solar_flow is None and all(period.flow is None for period in pump.program):
        return job
    return _with_speeds(job, temp_water)


@lru_cache(maxsize=16)
def _with_speeds(job: Job, temp_water: float) -> Job:
    faults: list[Fault] = []
    found: list[float | None] = []
    wanted: list[tuple[str, float | None, bool, Purpose]] = [
        (f"pump.program[{i}].flow", period.flow, False, purpose_of(job, period))
        for i, period in enumerate(job.pump.program)
    ]
    wanted.append(("pump.solar_flow", job.pump.solar_flow, True, "filter"))
    for field, flow, solar, purpose in wanted:
        try:
            found.append(
                None if flow is None else speed_for_flow(job, flow, solar, temp_water, purpose)
            )
        except InputError as error:
            found.append(None)
            faults += [replace(fault, field=field) for fault in error.faults]
    if faults:
        raise InputError(faults)
    program = tuple(
        period if speed is None else replace(period, speed=speed, flow=None)
        for period, speed in zip(job.pump.program, found, strict=False)
    )
    pump = replace(job.pump, program=program)
    if found[-1] is not None:
        pump = replace(pump, solar_speed=found[-1], solar_flow=None)
    return replace(job, pump=pump)


def speed_for_flow(
    job: Job,
    flow: float,
    solar: bool,
    temp_water: float = TEMP_WATER,
    purpose: Purpose = "filter",
) -> float:
    """Find the speed of the pump that gives a flow.

    Parameters
    ----------
    job : Job
        The whole job.
    flow : float
        Wanted: through the pump, or with solar through all panels. [m³/s]
    solar : bool
        Whether the diverter sends water to the roof.
    temp_water : float
        Of the water in the pipes. [°C]
    purpose : Purpose
        What the pump runs for.

    Returns
    -------
    float
        The least speed that gives it, to `CLOSE`. [rpm]

    Raises
    ------
    InputError
        Where the pump doesn't reach the flow, or reaches more at its lowest speed.

    Notes
    -----
    Bisection. Flow rises with speed, by a jump where water first gets over the top: a flow inside
    the jump gets the speed just above it, which gives more than was asked for.
    """
    pump = pump_named(job.pump.pump, own=job.own_pump)
    low, high = pump.lowest_speed, pump.highest_speed

    def flow_of(speed: float) -> float:
        state = flow_at(job, speed, solar, temp_water, purpose)
        return state.array_flow if solar else state.flow

    least, most = flow_of(low), flow_of(high)
    if not least <= flow <= most or low == high:
        raise InputError([_out_of_reach(job, flow, (least, most), low == high)])
    while high - low > CLOSE:
        middle = 0.5 * (low + high)
        low, high = (middle, high) if flow_of(middle) < flow else (low, middle)
    return high


def _out_of_reach(job: Job, flow: float, reach: tuple[float, float], one_speed: bool) -> Fault:
    from noonwater.core.units import show

    given, low, high = (show(value, "flow", job.units) for value in (flow, *reach))
    if one_speed:
        allowed = f"a speed: '{job.pump.pump}' has only one, which gives {high}"
        return Fault("flow", given, allowed, "write the speed, and set the flow by a valve")
    return Fault("flow", given, f"{low} to {high}, what this pump gives in this circuit")
