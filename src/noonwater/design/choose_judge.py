"""Is an option valid: its setting found, and the checks asked that the search can break."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import ceil

from noonwater.catalog import pump_named
from noonwater.climate.weather_year import WeatherYear
from noonwater.core.errors import NotConverged
from noonwater.core.finding import Finding
from noonwater.design.checks import FLOW_CHECKS, job_findings
from noonwater.design.choose_space import PACES
from noonwater.design.search import SPEED_STEP, first_good, least_speed, solved, speeds_of
from noonwater.design.season import MOST_SUN_MISSED, SOLAR_HOURS_SHORT, sun_missed
from noonwater.design.size_flow import solar_speed
from noonwater.design.start import DIRTY_FILTER_DOES_NOT_PRIME, START_DOES_NOT_PRIME
from noonwater.design.tune_setting import Handle, bounds_of, handle_of, set_to, values_of
from noonwater.design.velocity import (
    PRESSURE_ROLES,
    RETURN_TOO_FAST,
    SUCTION_TOO_FAST,
    VELOCITY_RETURN,
    VELOCITY_SUCTION,
    fastest_over,
)
from noonwater.hydraulics.arrangement import fill_circuit
from noonwater.hydraulics.flow import FlowResult, StateFlow, solve_states
from noonwater.hydraulics.loop import loop_of
from noonwater.hydraulics.priming import carries_air
from noonwater.hydraulics.settings import Settings
from noonwater.hydraulics.states import state_at
from noonwater.model.job import Job

STARTS = (START_DOES_NOT_PRIME, DIRTY_FILTER_DOES_NOT_PRIME)
"""Rules that ask for the speed to prime, which takes long to find: the start itself is tried."""
VELOCITIES = (
    (SUCTION_TOO_FAST, ("suction",), VELOCITY_SUCTION),
    (RETURN_TOO_FAST, PRESSURE_ROLES, VELOCITY_RETURN),
)
TOO_MUCH = ("panel's most", "covers")
"""Bounds that a slower pump does not break."""


def with_pace(job: Job, pace: int) -> Job | None:
    """Set a job's solar between the slowest setting that may be used and the pump's end.

    Parameters
    ----------
    job : Job
        The job.
    pace : int
        0 to `PACES` - 1.

    Returns
    -------
    Job or None
        None where no setting may be used.
    """
    handle = handle_of(job)
    return _with_speed(job, pace) if handle == "speed" else _with_valve(job, handle, pace)


def _usable(job: Job) -> Callable[[StateFlow], bool]:
    def good(state: StateFlow) -> bool:
        return all(bound.name in TOO_MUCH for bound in bounds_of(job, state))

    return good


def _with_speed(job: Job, pace: int) -> Job | None:
    pump, temp = pump_named(job.pump.pump, own=job.own_pump), job.pool.target
    started = replace(job, pump=replace(job.pump, priming_speed=_priming(job)))
    least = least_speed(started, True, _usable(started), temp)
    if least is None:
        return None
    share = pace / (PACES - 1)
    speed = least + share * (pump.highest_speed - least)
    speed = min(ceil(speed / SPEED_STEP - 1e-9) * SPEED_STEP, pump.highest_speed)
    priming = max(started.pump.priming_speed or 0.0, speed)
    return replace(
        job, pump=replace(job.pump, solar_speed=speed, solar_flow=None, priming_speed=priming)
    )


def _priming(job: Job) -> float:
    """The job's priming speed where a start carries the air with it, else the pump's highest."""
    highest = speeds_of(job)[-1]
    told = job.pump.priming_speed
    if told is not None and _starts(replace(job, pump=replace(job.pump, solar_speed=told))):
        return told
    return highest


def _with_valve(job: Job, handle: Handle, pace: int) -> Job | None:
    """From the least water on the roof that may be used to the valve's end."""
    values = values_of(job, handle)
    # Toward more water: a bypass shuts, a diverter opens.
    values = values[::-1] if handle == "bypass valve" else values

    def good(value: float) -> bool:
        tried = set_to(job, handle, value)
        state = solved(tried, solar_speed(tried), True, job.pool.target)
        return state is not None and _usable(tried)(state)

    least = first_good(values, good)
    if least is None:
        return None
    usable = values[values.index(least) :]
    return set_to(job, handle, usable[round(pace / (PACES - 1) * (len(usable) - 1))])


def broken_rules(job: Job, borne: frozenset[str]) -> list[str]:
    """Name the rules that an option's flow breaks.

    Parameters
    ----------
    job : Job
        The option.
    borne : frozenset of str
        Cautions that the job as it stands has already: an option may have them too.

    Returns
    -------
    list of str
        Faults, and cautions that are new; empty where it is valid so far.
    """
    try:
        flow = solve_states(job, job.pool.target)
        if not _starts(job):
            return [START_DOES_NOT_PRIME.name]
        return _broken_flow(job, flow, borne)
    except NotConverged:
        return ["no-answer"]


def broken_at_once(job: Job, borne: frozenset[str], weather: WeatherYear) -> list[str]:
    """Name the rules that an option breaks before anything is solved.

    Parameters
    ----------
    job : Job
        The option.
    borne : frozenset of str
        As of `broken_rules`.
    weather : WeatherYear
        Of its site, for the sun in the hours that solar may run.
    """
    broken = [finding.rule for finding in job_findings(job) if counts(finding, borne)]
    hours = SOLAR_HOURS_SHORT.name
    if not broken and hours not in borne and sun_missed(job, weather) > MOST_SUN_MISSED:
        return [hours]
    return broken


def counts(finding: Finding, borne: frozenset[str]) -> bool:
    """Whether a finding makes an option invalid: a fault, or a caution that is new."""
    return finding.severity == "fault" or finding.rule not in borne


def _broken_flow(job: Job, flow: FlowResult, borne: frozenset[str]) -> list[str]:
    for rule, roles, limit in VELOCITIES:
        # Asked first and without its remedy, which is a search of its own.
        if rule.name not in borne and fastest_over(flow, roles, limit) is not None:
            return [rule.name]
    for rule, check in FLOW_CHECKS.items():
        if rule in STARTS or (rule.name in borne and rule.severity != "fault"):
            continue
        if next(check(job, flow), None) is not None:
            return [rule.name]
    return []


def _starts(job: Job) -> bool:
    """Whether a start at the job's priming speed carries the air down, the filter clean."""
    loop = loop_of(job, fill_circuit(job), job.pool.target, Settings())
    speed = job.pump.priming_speed or solar_speed(job)
    try:
        return carries_air(loop.careful(), state_at(job, speed, True))
    except NotConverged:
        return False
