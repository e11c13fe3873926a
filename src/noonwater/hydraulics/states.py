"""The operating states of a job: off, filtering at each speed, solar at each speed, priming."""

from __future__ import annotations

from noonwater.catalog import PumpType, pump_named
from noonwater.core.errors import Fault, InputError
from noonwater.model.circuit import State
from noonwater.model.job import Job


def job_states(job: Job) -> tuple[State, ...]:
    """All states that a job's program can bring about.

    Parameters
    ----------
    job : Job
        The whole job.

    Returns
    -------
    tuple of State
        Off; filtering at each speed of the program; solar at each speed it runs at; priming. Each
        once, slowest first.

    Raises
    ------
    InputError
        Every speed that the pump cannot turn at.
    """
    check_speeds(job)
    filtering = sorted({period.speed for period in job.pump.program})
    solar = sorted(
        {job.pump.solar_speed or period.speed for period in job.pump.program if period.solar}
    )
    states = [State("off", 0.0, False, positions(job, False))]
    states += [state_at(job, speed, solar=False) for speed in filtering]
    states += [state_at(job, speed, solar=True) for speed in solar]
    if solar:
        speed = job.pump.priming_speed or solar[-1]
        states.append(State(f"priming {speed:.0f} rpm", speed, True, positions(job, True)))
    return tuple(states)


def state_at(job: Job, speed: float, solar: bool) -> State:
    """A running state.

    Parameters
    ----------
    job : Job
        The whole job.
    speed : float
        Of the pump. [rpm]
    solar : bool
        Whether the diverter sends water to the roof.

    Returns
    -------
    State
        Named "filter 1750 rpm" or "solar 2400 rpm".
    """
    word = "solar" if solar else "filter"
    return State(f"{word} {speed:.0f} rpm", speed, solar, positions(job, solar))


def positions(job: Job, solar: bool) -> tuple[tuple[str, float], ...]:
    """Opening of each valve that can be set.

    Parameters
    ----------
    job : Job
        The whole job.
    solar : bool
        Whether the diverter sends water to the roof.

    Returns
    -------
    tuple of (str, float)
        Part and opening; the diverter's counts toward the roof. [-]
    """
    diverter = (("diverter", 1.0 if solar else 0.0),)
    if job.pad.arrangement == "diverter":
        return diverter
    return (*diverter, ("bypass valve", job.pad.bypass_open))


def check_speeds(job: Job) -> None:
    """Refuse speeds that the pump does not have, all at once.

    Parameters
    ----------
    job : Job
        The whole job.

    Raises
    ------
    InputError
        With a fault for each.
    """
    pump = pump_named(job.pump.pump)
    asked = [
        (f"pump.program[{i}].speed", period.speed) for i, period in enumerate(job.pump.program)
    ]
    asked += [
        (f"pump.{name}", speed)
        for name, speed in (
            ("solar_speed", job.pump.solar_speed),
            ("priming_speed", job.pump.priming_speed),
        )
        if speed is not None
    ]
    faults = [fault for path, speed in asked for fault in speed_faults(pump, speed, path)]
    if faults:
        raise InputError(faults)


def speed_faults(pump: PumpType, speed: float, field: str) -> list[Fault]:
    """What is wrong with a speed, if anything.

    Parameters
    ----------
    pump : PumpType
        The pump.
    speed : float
        Wanted. [rpm]
    field : str
        Path of the job's field.

    Returns
    -------
    list of Fault
        None or one.
    """
    if pump.lowest_speed <= speed <= pump.highest_speed:
        return []
    if pump.lowest_speed == pump.highest_speed:
        allowed = f"only {pump.rated_speed:.0f} rpm, '{pump.name}' has one speed"
        remedy = "write that speed, or choose a variable-speed pump"
    else:
        allowed = f"{pump.lowest_speed:.0f} to {pump.highest_speed:.0f} rpm for '{pump.name}'"
        remedy = "choose a speed that the pump has"
    return [Fault(field, f"{speed:.0f} rpm", allowed, remedy)]
