"""Pump curves and system curves, from the same circuit and solver as the states."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from noonwater.hydraulics.arrangement import fill_circuit
from noonwater.hydraulics.flow import TEMP_WATER, pump_figures
from noonwater.hydraulics.loop import Loop, loop_of
from noonwater.hydraulics.operating import BreakerState, operate
from noonwater.hydraulics.settings import Settings
from noonwater.hydraulics.states import job_states
from noonwater.model.circuit import State
from noonwater.model.job import Job
from noonwater.physics.pump import pump_head

SHARES = (0.25, 0.35, 0.45, 0.55, 0.65, 0.75, 0.85, 0.95, 1.0)
"""[-] Of the rated speed: where a system curve is found."""
PLACES = 52
"""Points of a pump curve."""
BEYOND = 1.7
"""[-] Of the measured flow: how far a pump curve is continued, by the same formula."""


@dataclass(frozen=True)
class CurvePoint:
    """A point of a curve: flow through the pump [m³/s], head [m], and how the breaker stands."""

    flow: float
    head: float
    breaker: BreakerState = "none"


@dataclass(frozen=True)
class PumpCurve:
    """What the pump gives at one speed.

    Attributes
    ----------
    speed : float
        [rpm]
    points : tuple of CurvePoint
        From no flow to beyond the end of what was measured, or to where there is no head.
    flow_measured : float
        Where the measured curve ends. [m³/s]
    """

    speed: float
    points: tuple[CurvePoint, ...]
    flow_measured: float


@dataclass(frozen=True)
class SystemCurve:
    """What the circuit asks for with its valves in one position.

    Attributes
    ----------
    states : tuple of str
        States that the valves stand so in.
    solar : bool
        Whether water goes to the roof.
    points : tuple of CurvePoint
        In the order of the flow. Where the breaker opens or shuts, and below the speed that lifts
        water to the top, the curve has a gap.
    """

    states: tuple[str, ...]
    solar: bool
    points: tuple[CurvePoint, ...]


def pump_curves(job: Job, temp_water: float = TEMP_WATER) -> tuple[PumpCurve, ...]:
    """Give the filter pump's curve at each speed that a state runs it at.

    Parameters
    ----------
    job : Job
        With speeds, not flows, in its program.
    temp_water : float
        Of the water in the pipes. [°C]

    Returns
    -------
    tuple of PumpCurve
        Slowest first.
    """
    loop = _loop(job, temp_water)
    speeds = sorted({state.speed for state in job_states(job) if state.speed > 0.0})
    return tuple(_pump_curve(loop, speed) for speed in speeds)


def _pump_curve(loop: Loop, speed: float) -> PumpCurve:
    pump = loop.pump_type
    ratio = speed / pump.rated_speed
    measured = ratio * pump.flow_max
    flows = np.linspace(0.0, BEYOND * measured, PLACES).tolist()
    heads = [pump_head(flow, ratio, pump.head_shutoff, pump.fall, pump.exponent) for flow in flows]
    pairs = zip(flows, heads, strict=True)
    points = tuple(CurvePoint(flow, head) for flow, head in pairs if head >= 0.0)
    return PumpCurve(speed, points, measured)


def system_curves(job: Job, temp_water: float = TEMP_WATER) -> tuple[SystemCurve, ...]:
    """Give the circuit's curve for each position that the valves take.

    Parameters
    ----------
    job : Job
        With speeds, not flows, in its program.
    temp_water : float
        Of the water in the pipes. [°C]

    Returns
    -------
    tuple of SystemCurve
        One for each set of positions in which the pump runs.

    Raises
    ------
    NotConverged
        When a state has no answer at some speed.

    Notes
    -----
    A curve is where the circuit settles at many speeds of the pump, so lift, breaker and check
    valves are in it; speeds beyond those that the pump has count too.
    """
    loop = _loop(job, temp_water)
    groups: dict[State, list[State]] = {}
    for state in job_states(job):
        if state.speed > 0.0:
            alike = replace(state, name="", speed=0.0)
            groups.setdefault(alike, []).append(state)
    return tuple(
        SystemCurve(
            tuple(state.name for state in states),
            states[0].solar,
            _system_points(loop, states),
        )
        for states in groups.values()
    )


def _system_points(loop: Loop, states: list[State]) -> tuple[CurvePoint, ...]:
    first, rated = states[0], loop.pump_type.rated_speed
    # The states' own speeds too, so that their points lie on the curve.
    speeds = sorted({share * rated for share in SHARES} | {state.speed for state in states})
    # Named by their own speed: an edit of the job's speed leaves the curve's other places solved.
    word = first.name.removesuffix(f"{first.speed:.0f} rpm")
    found = [
        _settled(loop, replace(first, name=f"{word}{speed:.0f} rpm", speed=speed))
        for speed in speeds
    ]
    return tuple(sorted(filter(None, found), key=lambda point: point.flow))


@lru_cache(maxsize=256)
def _settled(loop: Loop, state: State) -> CurvePoint | None:
    """Where the circuit settles at a speed; None below the one that lifts water to the top."""
    found = operate(loop, state)
    flow = found.solution.flow_in(loop.pump.name)
    head, _power = pump_figures(loop.circuit, state, found.solution)
    return CurvePoint(flow, head, found.breaker) if found.primes else None


def _loop(job: Job, temp_water: float) -> Loop:
    return loop_of(job, fill_circuit(job), temp_water, Settings())
