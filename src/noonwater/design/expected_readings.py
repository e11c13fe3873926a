"""What gauge, meters and pump should show when a pad is started, and how far off is still right."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import product
from math import sqrt

from noonwater.core.constants import GRAVITY
from noonwater.hydraulics.flow import StateFlow, state_flow
from noonwater.hydraulics.loop import Loop
from noonwater.hydraulics.start_pressure import lowest_header
from noonwater.hydraulics.states import job_states
from noonwater.hydraulics.targets import Targets
from noonwater.model.circuit import State
from noonwater.model.job import Job

PUMP_HEAD = 0.05
"""[-] Two pumps of one row differ by so much in head: ISO 9906:2012, grade 2B (from memory)."""

FRESH_FILTER = 0.25
"""[-] A filter just started is this far on its way to being due for cleaning, at most: ours."""

GAUGE = 1.5 * 6894.757
"""[Pa] Error of a pad's gauge: class 2.5 (EN 837-1, from memory) of a 60 psi scale."""

METER = 0.05
"""[-] Error of a flow meter and of a power display: ours."""

HANDLES = tuple(5.0 * step for step in range(17))
"""[°] A bypass valve's handle off the pipe's line, as far as its coefficient is known."""

QUARTER_TURN = 90.0
"""[°] A handle's way from open to shut."""

OPENINGS = tuple(1.0 - 0.05 * step for step in range(11))
"""[-] A diverter with stops, its share of way toward the roof."""


@dataclass(frozen=True)
class Band:
    """A reading with the ends of what is acceptable, in SI."""

    expected: float
    low: float
    high: float

    def widened(self, share: float = 0.0, amount: float = 0.0) -> Band:
        """The same with an instrument's error at each end."""
        low = self.low * (1.0 - share) - amount
        return Band(self.expected, max(low, 0.0), self.high * (1.0 + share) + amount)


@dataclass(frozen=True)
class Reading:
    """What a state should show.

    Attributes
    ----------
    state : StateFlow
        As expected.
    gauge : Band
        At the filter. [Pa]
    flow, array_flow : Band
        Through the pump, and through all panels. [m³/s]
    power : Band
        Of all pumps at the wire. [W]
    breakers : tuple of str
        What the vacuum breaker may do within the band, the expected first.
    """

    state: StateFlow
    gauge: Band
    flow: Band
    array_flow: Band
    power: Band
    breakers: tuple[str, ...]


@dataclass(frozen=True)
class HandlePlace:
    """One place of a hand-set valve's handle, and what it brings.

    Attributes
    ----------
    opening : float
        0 shut to 1 open; of a diverter toward the roof. [-]
    angle : float or None
        Of a quarter-turn handle off the pipe's line; None for a diverter. [°]
    gauge : float
        At the filter. [Pa]
    array_flow : float
        [m³/s]
    wet : bool
        Whether water runs over the array's high point.
    full : bool
        Whether the return runs full: no air comes in at the top.
    """

    opening: float
    angle: float | None
    gauge: float
    array_flow: float
    wet: bool
    full: bool


def expected_readings(job: Job, loop: Loop) -> tuple[Reading, ...]:
    """Tell what every running state of a job should show.

    Parameters
    ----------
    job : Job
        With its pump speeds found.
    loop : Loop
        Its circuit with the water and the limits.

    Returns
    -------
    tuple of Reading
        Over pumps `PUMP_HEAD` stronger and weaker, filters clean to `FRESH_FILTER`, and tees with
        and without their loss; wider by what the instruments err.
    """
    return tuple(_reading(loop, state) for state in job_states(job) if state.speed > 0.0)


def _reading(loop: Loop, state: State) -> Reading:
    middle = state_flow(loop, state)
    found = [middle, *(_corner(loop, state, *corner) for corner in _corners())]
    return Reading(
        state=middle,
        gauge=_band(entry.pressure_filter for entry in found).widened(amount=GAUGE),
        flow=_band(entry.flow for entry in found).widened(METER),
        array_flow=_band(entry.array_flow for entry in found).widened(METER),
        power=_band(entry.power for entry in found).widened(METER),
        breakers=tuple(dict.fromkeys(entry.breaker for entry in found)),
    )


def _corners() -> Iterable[tuple[float, float, bool]]:
    # A pump's head goes with the square of its speed: a little faster is a little stronger.
    strengths = (sqrt(1.0 - PUMP_HEAD), sqrt(1.0 + PUMP_HEAD))
    return product(strengths, (0.0, FRESH_FILTER), (True, False))


def _corner(loop: Loop, state: State, strength: float, load: float, tees: bool) -> StateFlow:
    settings = replace(loop.settings, filter_load=load, tees=tees)
    return state_flow(
        replace(loop, settings=settings), replace(state, speed=state.speed * strength)
    )


def _band(values: Iterable[float]) -> Band:
    expected, *others = values
    return Band(expected, min(expected, *others), max(expected, *others))


def handle_course(loop: Loop, state: State, valve: str) -> tuple[HandlePlace, ...]:
    """Tell what a hand-set valve brings from its start to its end.

    Parameters
    ----------
    loop : Loop
        The circuit and its limits.
    state : State
        A solar state: speed, and the positions of all other valves.
    valve : str
        A bypass valve or a diverter.

    Returns
    -------
    tuple of HandlePlace
        A bypass from open to nearly shut by the handle's angle, a diverter from the roof back.
    """
    if loop.circuit.part(valve).kind == "diverter":
        return tuple(_place(loop, state, valve, opening, None) for opening in OPENINGS)
    return tuple(_place(loop, state, valve, 1.0 - angle / QUARTER_TURN, angle) for angle in HANDLES)


def _place(
    loop: Loop, state: State, valve: str, opening: float, angle: float | None
) -> HandlePlace:
    others = tuple(pair for pair in state.positions if pair[0] != valve)
    name = f"{state.name}, {valve} {opening:.3f}"
    found = state_flow(loop, replace(state, name=name, positions=(*others, (valve, opening))))
    wet = found.primes and found.array_flow > 0.0
    full = wet and found.breaker in ("shut", "none")
    return HandlePlace(opening, angle, found.pressure_filter, found.array_flow, wet, full)


def pad_pressure_at_start(loop: Loop, targets: Targets) -> float:
    """Most that a start can put on the loop, as a gauge at the filter shows it.

    Parameters
    ----------
    loop : Loop
        The circuit and its limits.
    targets : Targets
        With the pressures of a start.

    Returns
    -------
    float
        Static, with no water through the array. [Pa]
    """
    above = lowest_header(loop.circuit) - loop.circuit.part("filter").elevation
    return targets.start.standing + loop.water.density * GRAVITY * above
