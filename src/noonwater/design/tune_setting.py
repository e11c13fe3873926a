"""Settings of pump or valve: what flows at each, and what forbids it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from noonwater.catalog import pump_named
from noonwater.core.progress import Steps, Told, untold
from noonwater.design.lift import ROUNDING, least_pressure_breaker
from noonwater.design.panel_flow import fed_too_little, fed_too_much
from noonwater.design.rule import rpm, shown
from noonwater.design.search import OPENING_STEPS, covers_bear, solved, speeds_of
from noonwater.design.size_flow import HAND_SET, LEAST_DIVERTER, solar_speed
from noonwater.hydraulics.flow import StateFlow
from noonwater.hydraulics.targets import Targets
from noonwater.model.job import Job

Handle = Literal["speed", "bypass valve", "diverter"]
BoundName = Literal[
    "start", "covers", "breaker", "breaker margin", "vacuum", "panel's least", "panel's most"
]


@dataclass(frozen=True)
class Bound:
    """What forbids a setting: its name, and a clause with figures."""

    name: BoundName
    words: str


@dataclass(frozen=True)
class Setting:
    """One setting while solar runs.

    Attributes
    ----------
    job : Job
        Set so.
    value : float
        Speed [rpm], or how far the valve stands open [-].
    state : StateFlow
        What flows.
    bounds : tuple of Bound
        What forbids it; empty where it may be used.
    """

    job: Job
    value: float
    state: StateFlow
    bounds: tuple[Bound, ...]


@dataclass(frozen=True)
class Least:
    """Speeds that a setting must have at least; None where the pump does not reach them. [rpm]

    Attributes
    ----------
    breaker_clean, breaker_dirty : float or None
        From which the vacuum breaker stays shut, the filter clean and due for cleaning.
    prime_clean, prime_dirty : float or None
        That a start needs.
    """

    breaker_clean: float | None
    breaker_dirty: float | None
    prime_clean: float | None
    prime_dirty: float | None


def least_of(job: Job, targets: Targets | None) -> Least:
    """Read the least speeds of a job's own breaker out of its targets."""
    if targets is None:
        return Least(None, None, None, None)
    shut = {
        entry.filter_load: entry.speed_static
        for entry in targets.breakers
        if entry.place == job.pad.breaker
    }
    clean, dirty = (entry.speed_to_prime for entry in targets.priming)
    return Least(shut.get(0.0), shut.get(1.0), clean, dirty)


def handle_of(job: Job) -> Handle:
    """What sets the flow on the roof: the pump's speed, or a valve where it has only one."""
    pump = pump_named(job.pump.pump, own=job.own_pump)
    if pump.lowest_speed < pump.highest_speed:
        return "speed"
    return "diverter" if HAND_SET.get(job.pad.arrangement) == "diverter" else "bypass valve"


def own_value(job: Job, handle: Handle) -> float:
    """How a job is set."""
    if handle == "speed":
        return solar_speed(job)
    if handle == "diverter":
        return job.pad.diverter_open
    return job.pad.bypass_open if job.pad.arrangement == "diverter with bypass" else 0.0


def settings_of(job: Job, handle: Handle, told: Told = untold) -> tuple[Setting, ...]:
    """Solve every setting that there is.

    Parameters
    ----------
    job : Job
        Its flows already made speeds.
    handle : Handle
        What is set.
    told : callable, optional
        Is told how many settings are solved.

    Returns
    -------
    tuple of Setting
        Rising, the job's own among them; those without an answer are left out.
    """
    found, values = [], values_of(job, handle)
    steps = Steps(told, len(values), "settings")
    for value in values:
        set_job = set_to(job, handle, value)
        state = solved(set_job, solar_speed(set_job), True, job.pool.target)
        if state is not None:
            found.append(Setting(set_job, value, state, tuple(bounds_of(set_job, state))))
        steps.one_done()
    return tuple(found)


def values_of(job: Job, handle: Handle) -> list[float]:
    """All values of a handle: a pump's speeds, twentieths of a turn of a valve."""
    own = own_value(job, handle)
    if handle == "speed":
        return sorted({*speeds_of(job), own})
    openings = {i / OPENING_STEPS for i in range(OPENING_STEPS + 1)} | {own}
    least = LEAST_DIVERTER if handle == "diverter" else 0.0
    return sorted(opening for opening in openings if opening >= least)


def set_to(job: Job, handle: Handle, value: float) -> Job:
    """Set a job's solar to a value; its own value leaves it as it is."""
    if value == own_value(job, handle):
        return job
    if handle == "speed":
        started = job.pump.priming_speed
        started = None if started is None else max(started, value)
        pump = replace(job.pump, solar_speed=value, solar_flow=None, priming_speed=started)
        return replace(job, pump=pump)
    if handle == "diverter":
        return replace(job, pad=replace(job.pad, diverter_open=value))
    pad = replace(job.pad, arrangement="diverter with bypass", bypass_open=value, diverter_open=1.0)
    return replace(job, pad=pad)


def bounds_of(job: Job, state: StateFlow) -> Iterator[Bound]:
    """Name all that forbids a state in which solar runs."""
    at, safe = rpm(state.rpm), least_pressure_breaker(job.pool.target)
    if not state.primes:
        yield Bound("start", f"at {at} the pump does not lift water over the top")
        return
    if not covers_bear(job, state) and job.pad.suction_rating is not None:
        words = _fed_words(job, state.flow, job.pad.suction_rating)
        yield Bound("covers", f"the pump draws {words[0]} through covers rated for {words[1]}")
    if state.breaker == "open":
        yield Bound("breaker", "the vacuum breaker draws air")
    elif state.breaker == "shut" and (state.pressure_breaker or 0.0) < safe:
        yield Bound("breaker margin", "the vacuum breaker is barely kept shut")
    lowest = state.pressure_array_low
    if state.breaker != "open" and lowest is not None and lowest < -ROUNDING:
        yield Bound("vacuum", "the top of the array is under vacuum")
    few, many = fed_too_little(job, state), fed_too_much(job, state)
    if few is not None:
        words = _fed_words(job, few.flow, few.panel.flow_min)
        yield Bound("panel's least", f"a panel gets {words[0]}, less than its least, {words[1]}")
    if many is not None:
        words = _fed_words(job, many.flow, many.panel.flow_max)
        yield Bound("panel's most", f"a panel gets {words[0]}, more than its most, {words[1]}")


def _fed_words(job: Job, flow: float, limit: float) -> tuple[str, str]:
    digits = 1 if job.units == "US" else 2
    return shown(job, flow, "flow", digits), shown(job, limit, "flow", digits)
