"""Does a start bring water over the top and carry the air down, whatever the filter's state."""

from __future__ import annotations

from collections.abc import Iterator

from noonwater.catalog import pump_named
from noonwater.core.finding import Finding
from noonwater.design.rule import SUCTION_CAUTION, Rule, rpm, shown
from noonwater.design.search import (
    bypass_words,
    covers_bear,
    priming_of,
    solved,
    speed_field,
    speeds_of,
    widest_bypass_where,
)
from noonwater.hydraulics.arrangement import fill_circuit
from noonwater.hydraulics.flow import FlowResult
from noonwater.hydraulics.loop import loop_of
from noonwater.hydraulics.priming import carries_air
from noonwater.hydraulics.states import state_at
from noonwater.hydraulics.targets import Start
from noonwater.model.job import Job
from noonwater.model.plant import Purpose

MARGIN = "the margin on an extrapolated shut-off head is the pump's head_margin"
CARRY = "2 ft/s carry air down (a trade article and a manual, read)"

START_DOES_NOT_PRIME = Rule(
    "start-does-not-prime",
    "fault",
    limit="speed of the start at least the speed to prime: the pump, its shut-off head less its "
    "margin, carries the air down the return with the breaker open and the filter clean",
    source=f"hydrostatics and {CARRY}; {MARGIN}",
    remedy="prime faster, shut the bypass, take a stronger pump or a booster",
)
DIRTY_FILTER_DOES_NOT_PRIME = Rule(
    "dirty-filter-does-not-prime",
    "caution",
    limit="speed of the start at least the speed to prime with the filter due for cleaning",
    source=f"as start-does-not-prime; {MARGIN}",
    remedy="prime faster, or clean the filter sooner",
)


def start_does_not_prime(job: Job, flow: FlowResult) -> Iterator[Finding]:
    """Check that each start brings water to the top and the air down the return."""
    if priming_of(flow) is not None and flow.targets is None:
        yield _no_way()
    for where, start in _failing(job, flow, 0.0):
        value, limit, text = _what_lacks(job, flow, start)
        yield START_DOES_NOT_PRIME.finding(
            where, value=value, limit=limit, text=text, remedy=_remedy(job, flow, start)
        )


def dirty_filter_does_not_prime(job: Job, flow: FlowResult) -> Iterator[Finding]:
    """Check that a start does it with a filter due for cleaning as well."""
    for where, start in _failing(job, flow, 1.0):
        if not start.primes(0.0):
            continue
        dirty = start.priming[1].speed_to_prime
        found = speed_set(job, dirty)
        yield DIRTY_FILTER_DOES_NOT_PRIME.finding(
            where,
            value=rpm(start.speed),
            limit="a speed that this pump doesn't have" if found is None else f"{rpm(found)}",
            text="With a filter due for cleaning a start leaves its air at the top of the array.",
            remedy="Clean the filter before it is that dirty."
            if found is None
            else f"Prime at {rpm(found)} or more, or clean the filter sooner. {SUCTION_CAUTION}",
        )


def speed_set(job: Job, least: float | None) -> float | None:
    """Least speed to set, no less than one found, that the suction covers bear. [rpm]."""
    if least is None:
        return None
    speed = next((speed for speed in speeds_of(job) if speed >= least), None)
    if speed is None or job.pad.suction_rating is None:
        return speed
    state = solved(job, speed, True, job.pool.target)
    return speed if state is not None and covers_bear(job, state) else None


def _failing(job: Job, flow: FlowResult, filter_load: float) -> Iterator[tuple[str, Start]]:
    """Starts that do not prime, each with the field that sets its speed, once."""
    seen = set()
    for start in flow.targets.starts if flow.targets else ():
        where = _field(job, flow, start)
        if where not in seen and not start.primes(filter_load):
            seen.add(where)
            yield where, start


def _field(job: Job, flow: FlowResult, start: Start) -> str:
    if start.speed == job.pump.priming_speed:
        return "pump.priming_speed"
    return speed_field(job, flow.state(start.state))


def _no_way() -> Finding:
    return START_DOES_NOT_PRIME.finding(
        "pad.edit",
        value="a shut valve in the feed or the roof return",
        limit="an open way to the roof and back",
        text="With the diverter on solar no water can get to the panels and back.",
        remedy="Open that valve where the job sets it.",
    )


def _what_lacks(job: Job, flow: FlowResult, start: Start) -> tuple[str, str, str]:
    """Value, limit and sentence."""
    lift = flow.state(start.state).lift
    if start.reach < lift:
        return (
            f"{rpm(start.speed)} lifts {shown(job, start.reach, 'head')}",
            f"lift of {shown(job, lift, 'head')}",
            "At a start the pump does not bring water to the top of the array.",
        )
    text = (
        "At a start water runs over the top of the array but leaves the air in the return: no "
        "siphon forms."
    )
    clean = start.priming[0]
    found = speed_set(job, clean.speed_to_prime)
    if found is not None:
        return rpm(start.speed), f"{rpm(found)} or more", text
    return (
        f"{shown(job, clean.flow_most, 'flow')} in '{clean.down_leg}' at full speed",
        f"{shown(job, clean.flow_needed, 'flow')} or more",
        text,
    )


def _remedy(job: Job, flow: FlowResult, start: Start) -> str:
    clean, dirty = (speed_set(job, found.speed_to_prime) for found in start.priming)
    if clean is not None:
        also = (
            f", {rpm(dirty)} with a filter due for cleaning" if dirty not in (None, clean) else ""
        )
        return f"Prime at {rpm(clean)} or more{also}. {SUCTION_CAUTION}"
    highest = speeds_of(job)[-1]
    opening = widest_bypass_where(job, lambda wider: _starts(wider, flow, start, highest))
    if opening is not None:
        faster = "" if highest == start.speed else f" and prime at {rpm(highest)}"
        return f"{bypass_words(job, opening)}{faster}. {SUCTION_CAUTION}"
    lift = flow.state(start.state).lift
    missing = lift - reach_of(job, highest)
    if missing <= 0.0:
        return (
            f"No speed of '{job.pump.pump}' does it: take a stronger pump or a booster, or thinner "
            f"pipe down from the roof, in which less water carries the air. {SUCTION_CAUTION}"
        )
    return (
        f"No speed of '{job.pump.pump}' does it: take a stronger pump or a booster, or lay the "
        f"panels {shown(job, missing, 'head')} lower. {SUCTION_CAUTION}"
    )


def _starts(job: Job, flow: FlowResult, start: Start, speed: float) -> bool:
    """Whether a job like it starts into the same state at another speed."""
    purpose: Purpose = "clean" if "clean" in start.state else "filter"
    loop = loop_of(job, fill_circuit(job), flow.temp_water, flow.settings)
    state = solved(job, speed, True, flow.temp_water)
    borne = state is not None and covers_bear(job, state)
    return borne and carries_air(loop, state_at(job, speed, True, purpose))


def reach_of(job: Job, speed: float) -> float:
    """Head that pump and booster surely lift to, without a bypass.

    Parameters
    ----------
    job : Job
        The job.
    speed : float
        Of the filter pump. [rpm]

    Returns
    -------
    float
        Shut-off heads less their margins. [m]
    """
    pump = pump_named(job.pump.pump, own=job.own_pump)
    reach = (speed / pump.rated_speed) ** 2 * pump.head_shutoff * pump.head_margin
    if job.pad.booster != "none":
        booster = pump_named(job.pad.booster, "pad.booster", job.own_pump)
        reach += booster.head_shutoff * booster.head_margin
    return reach
