"""Does water stay at the top, does the vacuum breaker stay shut."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from noonwater.core.constants import GRAVITY
from noonwater.core.finding import Finding
from noonwater.design.rule import COMMON_PRACTICE, OURS, SUCTION_CAUTION, Rule, rpm, shown
from noonwater.design.search import (
    Good,
    bypass_words,
    least_speed,
    priming_of,
    running_solar,
    solved,
    speed_field,
    widest_bypass,
)
from noonwater.design.start import reach_of
from noonwater.hydraulics.flow import FlowResult, StateFlow
from noonwater.model.job import Job
from noonwater.physics.water import density_water

LEAST_MARGIN = 0.3
"""[m] At the breaker, so that a filter that soils or a valve that is turned doesn't open it."""

ROUNDING = 1.0
"""[Pa] A pinned joint stands at nothing, give or take the solver's tolerance."""

SOLAR_DOES_NOT_HOLD = Rule(
    "solar-does-not-hold",
    "fault",
    limit="shut-off head at the running speed at least the lift, where air gets into the top",
    source="hydrostatics: with air at the high point no siphon helps the pump",
    remedy="run solar faster, shut the bypass or move the breaker",
)
BREAKER_DRAWS_AIR = Rule(
    "breaker-draws-air",
    "fault",
    limit="static pressure at the vacuum breaker not under the atmosphere's while solar runs",
    source="hydrostatics; a breaker opens at nothing (common practice, no source)",
    remedy="run solar faster, shut the bypass, move the breaker to the feed",
)
BREAKER_MARGIN_SMALL = Rule(
    "breaker-margin-small",
    "caution",
    limit=f"at least {LEAST_MARGIN:g} m of water over the atmosphere at the vacuum breaker",
    source=OURS,
    remedy="run solar a little faster or shut the bypass a little",
)
ARRAY_UNDER_VACUUM = Rule(
    "array-under-vacuum",
    "caution",
    limit="pressure at the headers not under the atmosphere's while solar runs",
    source=COMMON_PRACTICE,
    remedy="run solar faster, or put the breaker at the high return",
)


def solar_does_not_hold(job: Job, flow: FlowResult) -> Iterator[Finding]:
    """Check that water keeps coming over the top after the start."""
    start = priming_of(flow)
    if start is None or not start.primes:
        return
    for state in flow.states:
        if state.name.startswith("solar") and not state.primes:
            yield SOLAR_DOES_NOT_HOLD.finding(
                speed_field(job, state),
                value=f"{rpm(state.rpm)} lifts {shown(job, reach_of(job, state.rpm), 'head')}",
                limit=f"lift of {shown(job, state.lift, 'head')}",
                text="After the start air gets into the top of the array and the pump is too slow "
                "to keep lifting water over it.",
                remedy=_shut_remedy(job, flow, state),
            )


def breaker_draws_air(job: Job, flow: FlowResult) -> Iterator[Finding]:
    """Check that the vacuum breaker stays shut while solar runs."""
    for state in running_solar(flow):
        if state.breaker != "open":
            continue
        sealed = state.alternative.pressure_breaker if state.alternative else None
        if sealed is not None and sealed >= 0.0:
            # Once started it would stay shut: the start is at fault, and told as such.
            continue
        value = "under the atmosphere's" if sealed is None else shown(job, sealed, "pressure")
        yield BREAKER_DRAWS_AIR.finding(
            speed_field(job, state),
            value=f"{value} at {rpm(state.rpm)}",
            limit=f"{shown(job, 0.0, 'pressure')} or more",
            text="The vacuum breaker stands open while solar runs: air comes in and rides to the "
            "pool.",
            remedy=_shut_remedy(job, flow, state),
        )


def _shut_remedy(job: Job, flow: FlowResult, state: StateFlow) -> str:
    """Speed, bypass or place of the breaker that keeps air out, whichever does it first."""
    shut = _safely_shut(flow)
    raised = _raise_remedy(job, flow, state, shut)
    if raised:
        return raised
    moved = replace(job, pad=replace(job.pad, breaker="feed"))
    at_feed = solved(moved, state.rpm, True, flow.temp_water)
    if at_feed is not None and shut(at_feed):
        return (
            'Move the vacuum breaker to the feed: pad.breaker = "feed" keeps it shut at '
            f"{rpm(state.rpm)}, with the panels' top under a little vacuum."
        )
    faster = least_speed(moved, True, shut, flow.temp_water)
    if faster is not None:
        return (
            'Move the vacuum breaker to the feed, pad.breaker = "feed", and run solar at '
            f"{rpm(faster)} or more. {SUCTION_CAUTION}"
        )
    return (
        f"No speed of '{job.pump.pump}' keeps it shut: throttle the roof return, take a stronger "
        f"pump or a booster, or lay the panels lower. {SUCTION_CAUTION}"
    )


def _safely_shut(flow: FlowResult) -> Good:
    """Judge of a breaker that stays shut with its margin."""
    least = least_pressure_breaker(flow.temp_water)

    def safe(found: StateFlow) -> bool:
        if not found.primes or found.breaker == "none":
            return found.primes
        return found.breaker == "shut" and (found.pressure_breaker or 0.0) >= least

    return safe


def least_pressure_breaker(temp_water: float) -> float:
    """Pressure that keeps the breaker shut with its margin. [Pa], temp_water in [°C]."""
    return LEAST_MARGIN * GRAVITY * density_water(temp_water)


def _raise_remedy(job: Job, flow: FlowResult, state: StateFlow, good: Good) -> str:
    """Speed or bypass that brings more flow through the array; "" where neither does it."""
    speed = least_speed(job, True, good, flow.temp_water)
    opening = widest_bypass(job, state.rpm, good, flow.temp_water)
    if speed is not None and speed > state.rpm:
        other = "" if opening is None else f", or {bypass_words(job, opening).lower()}"
        slow_start = job.pump.priming_speed is not None and job.pump.priming_speed < speed
        start = " and prime no slower" if slow_start else ""
        return f"Run solar at {rpm(speed)} or more{start}{other}. {SUCTION_CAUTION}"
    if opening is not None:
        return f"{bypass_words(job, opening)}."
    return ""


def breaker_margin_small(job: Job, flow: FlowResult) -> Iterator[Finding]:
    """Check that a shut breaker isn't about to open."""
    least = least_pressure_breaker(flow.temp_water)
    for state in running_solar(flow):
        pressure = state.pressure_breaker
        if state.breaker != "shut" or pressure is None or pressure >= least:
            continue
        yield BREAKER_MARGIN_SMALL.finding(
            speed_field(job, state),
            value=f"{shown(job, pressure, 'pressure', 2)} at {rpm(state.rpm)}",
            limit=f"{shown(job, least, 'pressure', 2)} or more",
            text="The vacuum breaker is barely kept shut: a soiled filter or a valve turned a "
            "little lets air in.",
            remedy=_raise_remedy(job, flow, state, _safely_shut(flow))
            or "Throttle the roof return a little, or move the breaker to the feed.",
        )


def array_under_vacuum(job: Job, flow: FlowResult) -> Iterator[Finding]:
    """Check that no header is sucked on where the breaker doesn't guard the top."""

    def pressed(found: StateFlow) -> bool:
        lowest = found.pressure_array_low
        return found.primes and lowest is not None and lowest >= -ROUNDING

    for state in running_solar(flow):
        lowest = state.pressure_array_low
        if state.breaker == "open" or lowest is None or lowest >= -ROUNDING:
            continue
        yield ARRAY_UNDER_VACUUM.finding(
            speed_field(job, state),
            value=f"{shown(job, lowest, 'pressure')} at {rpm(state.rpm)}",
            limit=f"{shown(job, 0.0, 'pressure')} or more",
            text="The top of the array is under vacuum while solar runs: every leak draws air and "
            "thin panels are pulled together.",
            remedy=_raise_remedy(job, flow, state, pressed)
            or "Throttle the roof return, take a stronger pump, or ask the panels' maker whether "
            "they bear it.",
        )
