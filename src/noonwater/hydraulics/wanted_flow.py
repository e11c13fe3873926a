"""The speed, or the place of a handle, that gives a wanted flow through the panels."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache

from noonwater.catalog import fitting_named
from noonwater.hydraulics.edge import least_where_positive
from noonwater.hydraulics.element import fitting_loss
from noonwater.hydraulics.loop import Loop
from noonwater.hydraulics.operating import operate
from noonwater.hydraulics.priming import turning
from noonwater.model.circuit import Part, State
from noonwater.physics.valve import OPENING_LEAST, handle_angle_valve, valve_coefficient

CLOSE_OPENING = 1e-4
"""[-] Openings are found to this; a hand sets a twentieth at best."""


@dataclass(frozen=True)
class FlowSpeed:
    """The speed for a wanted flow through all panels.

    Attributes
    ----------
    wanted : float
        [m³/s]
    speed : float or None
        The least that gives it; None where it is not reached, or less is not to be had. [rpm]
    least, most : float
        What the pump's lowest and highest speeds give. [m³/s]
    """

    wanted: float
    speed: float | None
    least: float
    most: float

    @property
    def reachable(self) -> bool:
        """Whether some speed gives the flow, and no more."""
        return self.speed is not None


@dataclass(frozen=True)
class HandSetting:
    """The place of a valve's handle for a wanted flow through all panels at one speed.

    Attributes
    ----------
    valve : str
        The part.
    wanted : float
        [m³/s]
    speed : float
        [rpm]
    opening : float or None
        0 shut to 1 open, a diverter toward the roof; None where it is not reached. [-]
    handle_angle : float or None
        Of a quarter-turn valve, 0 along the pipe to 90 across it; None for a diverter. [°]
    K : float or None
        Loss coefficient there; None where the valve is shut. [-]
    least, most : float
        What the handle's two ends give. [m³/s]
    """

    valve: str
    wanted: float
    speed: float
    opening: float | None
    handle_angle: float | None
    K: float | None
    least: float
    most: float

    @property
    def reachable(self) -> bool:
        """Whether some place of the handle gives the flow."""
        return self.opening is not None


def array_flow(loop: Loop, state: State) -> float:
    """Flow through all panels in a state. [m³/s]."""
    solution = operate(loop, state).solution
    panels = (part.name for part in loop.circuit.parts if part.kind == "panel")
    return sum(solution.flow_in(name) for name in panels)


def speed_for_wanted(loop: Loop, state: State, wanted: float) -> FlowSpeed:
    """Find the speed for a wanted flow through the panels.

    Parameters
    ----------
    loop : Loop
        The circuit and its limits.
    state : State
        A solar state: its positions hold, its speed does not.
    wanted : float
        [m³/s]

    Returns
    -------
    FlowSpeed
        Flow rises with speed, by a jump where water first gets over the top: a flow inside the jump
        gets the speed just above it.

    Raises
    ------
    NotConverged
        With residual and state.
    """
    pump = loop.pump_type

    @cache
    def flow(speed: float) -> float:
        return array_flow(loop, turning(state, speed))

    least, most = flow(pump.lowest_speed), flow(pump.highest_speed)
    speed = None
    if least <= wanted <= most and pump.lowest_speed < pump.highest_speed:
        speed = least_where_positive(
            pump.lowest_speed, pump.highest_speed, lambda speed: flow(speed) - wanted
        )
    return FlowSpeed(wanted, speed, least, most)


def setting_for_wanted(loop: Loop, state: State, valve: str, wanted: float) -> HandSetting:
    """Find the place of a valve's handle for a wanted flow through the panels.

    Parameters
    ----------
    loop : Loop
        The circuit and its limits.
    state : State
        Speed, and the positions of all other valves.
    valve : str
        Name of a bypass valve or a diverter.
    wanted : float
        [m³/s]

    Returns
    -------
    HandSetting
        Of a bypass the widest that gives it, of a diverter the least.

    Raises
    ------
    NotConverged
        With residual and state.
    """
    part = loop.circuit.part(valve)
    bypass = part.kind != "diverter"

    @cache
    def flow(toward: float) -> float:
        opening = 1.0 - toward if bypass else toward
        return array_flow(loop, _set(state, valve, opening))

    least, most = flow(0.0), flow(1.0)
    opening: float | None = None
    if least <= wanted <= most:
        toward = _toward(flow, wanted)
        opening = 1.0 - toward if bypass else toward
    K = _coefficient(loop, part, opening)
    angle = handle_angle_valve(opening) if bypass and opening is not None else None
    return HandSetting(valve, wanted, state.speed, opening, angle, K, least, most)


def _toward(flow: Callable[[float], float], wanted: float) -> float:
    """Place of a handle that turns toward more flow; its last bit before an end is all or none."""
    low, high = OPENING_LEAST, 1.0 - OPENING_LEAST
    if flow(low) >= wanted:
        return 0.0 if flow(0.0) >= wanted else low
    found = least_where_positive(low, high, lambda toward: flow(toward) - wanted, CLOSE_OPENING)
    return 1.0 if found is None else found


def _set(state: State, valve: str, opening: float) -> State:
    others = tuple(pair for pair in state.positions if pair[0] != valve)
    name = f"{state.name}, {valve} {100 * opening:.1f} % open"
    return replace(state, name=name, positions=(*others, (valve, opening)))


def _coefficient(loop: Loop, part: Part, opening: float | None) -> float | None:
    if opening is None or opening < OPENING_LEAST:
        return None
    diameters = (
        pipe.diameter for pipe in loop.circuit.pipes if part.name in (pipe.start[0], pipe.stop[0])
    )
    kind = "diverter" if part.kind == "diverter" else "ball valve"
    return valve_coefficient(fitting_loss(fitting_named(kind), max(diameters)), opening)
