"""What to set a pad to: speeds that start it and keep air out, flows, pressures, evenness."""

from __future__ import annotations

from dataclasses import dataclass, replace

from noonwater.catalog import panel_named
from noonwater.hydraulics.air import standing_head, top_pipe
from noonwater.hydraulics.breaker import BreakerSpeed, breaker_speeds
from noonwater.hydraulics.loop import Loop
from noonwater.hydraulics.operating import is_priming, operate
from noonwater.hydraulics.priming import Priming, priming, turning
from noonwater.hydraulics.spread import PanelSpread, panel_spread
from noonwater.hydraulics.start_pressure import StartPressure, start_pressure
from noonwater.hydraulics.wanted_flow import (
    FlowSpeed,
    HandSetting,
    setting_for_wanted,
    speed_for_wanted,
)
from noonwater.model.circuit import State
from noonwater.model.job import Job


@dataclass(frozen=True)
class Start:
    """How solar starts in one of its states.

    Attributes
    ----------
    state : str
        That it starts into.
    speed : float
        Of the start. [rpm]
    reach : float
        Head that the pumps surely lift to at that speed, the filter clean. [m]
    priming : tuple of Priming
        With the valves as they stand then; filter clean, and due for cleaning.
    """

    state: str
    speed: float
    reach: float
    priming: tuple[Priming, ...]

    def primes(self, filter_load: float) -> bool:
        """Whether this speed carries the air down, the filter clean (0) or due for cleaning (1)."""
        found = next(entry for entry in self.priming if entry.filter_load == filter_load)
        return found.speed_to_prime is not None and self.speed >= found.speed_to_prime


@dataclass(frozen=True)
class Targets:
    """What to set a pad to.

    Attributes
    ----------
    head_margin : float
        Share of the pump's shut-off head, which is extrapolated, that a start is judged on. [-]
    priming : tuple of Priming
        With the filter clean, and due for cleaning.
    breakers : tuple of BreakerSpeed
        By place and filter.
    starts : tuple of Start
        Into each solar state.
    start : StartPressure
        At a start at the job's priming speed.
    spreads : tuple of PanelSpread
        Of each solar state in which every panel gets water.
    speed : FlowSpeed
        For the flow that the panels are made for, all together.
    hand : tuple of HandSetting
        For the same flow at the fastest solar speed of each valve that is set by hand: a bypass, a
        diverter with stops.
    """

    head_margin: float
    priming: tuple[Priming, ...]
    breakers: tuple[BreakerSpeed, ...]
    starts: tuple[Start, ...]
    start: StartPressure
    spreads: tuple[PanelSpread, ...]
    speed: FlowSpeed
    hand: tuple[HandSetting, ...]


def targets_of(job: Job, loop: Loop, states: tuple[State, ...]) -> Targets | None:
    """Find what to set a pad to.

    Parameters
    ----------
    job : Job
        The whole job.
    loop : Loop
        Its circuit and limits.
    states : tuple of State
        All states that its program brings about.

    Returns
    -------
    Targets or None
        None where solar is allowed in no period, or a shut valve keeps water from the roof.

    Raises
    ------
    NotConverged
        With residual and state.
    """
    running = [state for state in states if state.solar and not is_priming(state)]
    start = next((state for state in states if is_priming(state)), None)
    if start is None or not running:
        return None
    fastest = max(running, key=lambda state: state.speed)
    if top_pipe(loop.circuit).start not in loop.network(fastest).node_of:
        return None
    wanted = nominal_flow(loop)
    starts = _starts(loop, running)
    spreads = (
        panel_spread(loop, state, operate(loop, state).solution.network) for state in running
    )
    return Targets(
        head_margin=loop.pump_type.head_margin,
        priming=next(start.priming for start in starts if start.state == fastest.name),
        breakers=breaker_speeds(job, loop, fastest),
        starts=starts,
        start=start_pressure(loop, replace(start, name=f"start {start.speed:.0f} rpm")),
        spreads=tuple(spread for spread in spreads if spread),
        speed=speed_for_wanted(loop, fastest, wanted),
        hand=tuple(
            setting_for_wanted(loop, fastest, valve, wanted) for valve in _hand_set(job, loop)
        ),
    )


def _starts(loop: Loop, running: list[State]) -> tuple[Start, ...]:
    found: dict[object, tuple[Priming, ...]] = {}
    starts = []
    careful = loop.with_settings(True, 0.0)
    for state in running:
        valves = (state.positions, state.speeds)
        if valves not in found:
            found[valves] = tuple(priming(loop, state, load) for load in (0.0, 1.0))
        speed = max(state.speed, loop.priming_speed)
        start = turning(state, speed)
        full = careful.network(start)
        reach = standing_head(careful, start, full, full.node_of[top_pipe(loop.circuit).start])
        starts.append(Start(state.name, speed, reach, found[valves]))
    return tuple(starts)


def nominal_flow(loop: Loop) -> float:
    """Flow that the panels are made for, all together. [m³/s]."""
    return sum(
        panel_named(part.catalog, own=loop.circuit.own_panels).flow_nominal
        for part in loop.circuit.parts
        if part.kind == "panel"
    )


def _hand_set(job: Job, loop: Loop) -> tuple[str, ...]:
    kinds = {"diverter with bypass": "bypass valve", "diverter with stops": "diverter"}
    kind = kinds.get(job.pad.arrangement)
    return tuple(part.name for part in loop.circuit.parts if part.kind == kind)
