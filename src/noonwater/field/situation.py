"""The causes that this very circuit can have, each as a circuit and a state to be solved anew."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from functools import partial
from typing import Literal

from noonwater.field import change
from noonwater.field.cause import CAUSES, Cause
from noonwater.field.expected import Normal
from noonwater.hydraulics.flow import StateFlow, state_flow
from noonwater.hydraulics.loop import Loop
from noonwater.hydraulics.states import job_states, state_at
from noonwater.hydraulics.trace_without import leave_out
from noonwater.hydraulics.unprimed import unprimed_flow
from noonwater.model.circuit import Part, Pipe, State
from noonwater.model.job import Job

IN_USE = 0.25
"""[-] A filter that is not due stands about here on its way to it: ours."""

LOADS = (0.75, 1.0, 1.5, 2.0, 3.0)
"""[-] Of a filter due or overdue: ours."""
CLOGS = (0.15, 0.3, 0.6, 1.2, 2.4)
"""[-] What a clog would take of the pump's head at the right flow: ours."""
SLOW = (0.9, 0.8, 0.7, 0.6, 0.5)
FAST = (1.1, 1.2, 1.35, 1.5)
"""[-] Speed over the program's: ours."""
WEAK = (0.85, 0.7, 0.55, 0.4)
"""[-] What is left of a weak pump's head: ours."""
PLUGGED = (0.3, 0.5, 0.7, 0.85)
"""[-] Share of the tubes: ours."""
BETWEEN = (0.3, 0.5, 0.7)
"""[-] Where a diverter stops between its ends: ours."""
APART = 0.15
"""[-] Nearer to where it was set a diverter counts as set: ours."""
BY_HAND = "pump off, then turn it to its mark"
SET = 0.05
"""[-] A valve that stands this near is where it was set."""
NEARLY = 0.4
"""[-] A valve nearly shut is open by this much of what it was set to: ours."""

RIGHT_SENSOR = Normal(0.0, 0.0)
READS_LOW, READS_HIGH = Normal(-8.0, 4.0), Normal(10.0, 5.0)
OTHER_TABLE = Normal(0.0, 15.0)
"""[K] A sensor's error: ours."""

Mark = Literal[
    "air", "foam", "breaker open", "breaker shut", "dead", "other table", "dirt", "pushed"
]
"""What a cause shows that no network says: air or foam at the pump, a stuck breaker, a dead sensor,
one read by another table, dirt after a stop, water pushed up the roof return."""

Solve = Callable[[Loop, State], StateFlow | None]


@dataclass(frozen=True)
class Situation:
    """A cause at one degree, not yet solved.

    Attributes
    ----------
    cause : Cause
        Which.
    loop, state : Loop, State
        To be solved.
    calls : bool
        Whether the controller shows that solar is on.
    speed : float
        That the pump shows. [rpm]
    marks : frozenset of Mark
        What no network says.
    sensor : Normal
        The roof sensor's error. [K]
    solve : callable
        How its state is found.
    """

    cause: Cause
    loop: Loop
    state: State
    calls: bool
    speed: float
    marks: frozenset[Mark] = frozenset()
    sensor: Normal = RIGHT_SENSOR
    solve: Solve = field(default=state_flow)


@dataclass(frozen=True)
class Subject:
    """A job whose telephone rings.

    Attributes
    ----------
    job : Job
        With its pump speeds found.
    loop : Loop
        Its circuit, the filter in use.
    state : State
        What should run now.
    """

    job: Job
    loop: Loop
    state: State

    @property
    def resting(self) -> State:
        """The state that the pump is in at that hour while solar rests."""
        if not self.state.solar:
            return self.state
        heats = [period for period in self.job.pump.program if period.heats]
        speeds = [self.job.pump.solar_speed or period.rpm for period in heats]
        near = [p.rpm for p, rpm in zip(heats, speeds, strict=True) if rpm == self.state.speed]
        return state_at(self.job, (near or [period.rpm for period in heats])[0], False)

    @property
    def heating(self) -> State | None:
        """The fastest state in which solar runs."""
        if self.state.solar:
            return self.state
        running = [s for s in job_states(self.job) if s.solar and not s.name.startswith("priming")]
        return max(running, key=lambda state: state.speed, default=None)

    def situation(self, cause: str | Cause, **more: object) -> Situation:
        """One with this job's loop and state where nothing else is said."""
        found = CAUSES[cause] if isinstance(cause, str) else cause
        usual = Situation(found, self.loop, self.state, self.state.solar, self.state.speed)
        return replace(usual, **more)  # type: ignore[arg-type]

    def other(self, cause: str, state: State, **more: object) -> Situation:
        """One in which another state runs, as the controller shows it."""
        return self.situation(cause, state=state, calls=state.solar, speed=state.speed, **more)


def situations_of(subject: Subject) -> tuple[Situation, ...]:
    """List every cause that a job's circuit can have, by degrees.

    Parameters
    ----------
    subject : Subject
        The job and what should run.

    Returns
    -------
    tuple of Situation
        The degrees of a cause one after the other.
    """
    makers = (_right, _pump, _clogs, _loop, _diverter, _valves, _check_valves, _breaker, _control)
    return tuple(found for maker in makers for found in maker(subject))


def _right(subject: Subject) -> Iterator[Situation]:
    yield subject.situation("right")
    if subject.state.solar:
        yield subject.other("no reason", subject.resting)


def _pump(subject: Subject) -> Iterator[Situation]:
    state, pump = subject.state, subject.loop.pump_type
    for key, shares in (("slow", SLOW), ("fast", FAST)):
        for share in shares:
            speed = state.speed * share
            if pump.lowest_speed <= speed <= pump.highest_speed:
                yield subject.situation(key, state=change.at_speed(state, speed), speed=speed)
    for left in WEAK:
        loop, slower = change.weak(subject.loop, state, left)
        yield subject.situation("weak", loop=loop, state=slower)
    for name, speed in state.speeds:
        if speed > 0.0:
            yield subject.situation(
                CAUSES["booster"].of_part(name), state=change.at_rest(state, name)
            )
    here = {state.name, subject.resting.name}
    for other in job_states(subject.job):
        by_hand = other.name.startswith(("service", "draining", "off"))
        if other.speed <= 0.0:
            if other.name == "off":
                yield subject.situation("stands", state=replace(other, solar=False), speed=0.0)
        elif other.name not in here and not by_hand and not _alike(other, state):
            yield subject.other("other state", other)


def _alike(one: State, other: State) -> bool:
    return (one.speed, one.solar, one.positions) == (other.speed, other.solar, other.positions)


def _clogs(subject: Subject) -> Iterator[Situation]:
    for load in LOADS:
        yield subject.situation("filter", loop=change.filter_at(subject.loop, load))
    right, circuit = state_flow(subject.loop, subject.state), subject.loop.circuit
    if right.flow <= 0.0:
        return
    ends: tuple[tuple[str, Pipe | None, frozenset[Mark]], ...] = (
        ("suction", change.pipe_into(circuit, subject.loop.pump.name), frozenset({"foam"})),
        ("return", change.pipe_into(circuit, "pool"), frozenset()),
    )
    for key, pipe, marks in ends:
        for clog in CLOGS if pipe is not None else ():
            loop = change.choked(subject.loop, pipe, clog * right.head, right.flow)  # type: ignore[arg-type]
            yield subject.situation(key, loop=loop, marks=marks)
    yield subject.situation("air leak", marks=frozenset({"air"}))


def _loop(subject: Subject) -> Iterator[Situation]:
    if not subject.state.solar:
        return
    for share in PLUGGED:
        yield subject.situation("plugged", loop=change.plugged(subject.loop, share))
    right = state_flow(subject.loop, subject.state)
    if right.primes and right.array_flow > 0.0:
        yield subject.situation("unprimed", solve=unprimed_flow)
    if right.alternative is not None and right.breaker != "open" and right.primes:
        yield subject.situation("siphon lost", solve=_alternative)


def _alternative(loop: Loop, state: State) -> StateFlow | None:
    return state_flow(loop, state).alternative


def _diverter(subject: Subject) -> Iterator[Situation]:
    main = next((p for p in subject.loop.circuit.of_kind("diverter") if "solar" in p.ports), None)
    if main is None:
        return
    turn = partial(change.turned, subject.state, main.name)
    key, end = ("to pool", 0.0) if subject.state.solar else ("to roof", 1.0)
    stands = subject.state.position_of(main)
    # A diverter with stops stands between its ends on purpose.
    places = [(key, end), *(("between", each) for each in BETWEEN if abs(each - stands) > APART)]
    for name, opening in places:
        cause = CAUSES[name].of_part(main.name)
        if "actuator" not in main.features:
            cause = replace(cause, remedy=BY_HAND)
        yield subject.situation(cause, state=_roofward(turn(opening), opening))


def _roofward(state: State, opening: float) -> State:
    """Whether water goes to the roof is by the diverter, whatever the controller shows."""
    return replace(state, solar=opening > 0.0)


def _valves(subject: Subject) -> Iterator[Situation]:
    for part in subject.loop.circuit.parts:
        if not part.facts.settable or "solar" in part.ports:
            continue
        stands = subject.state.position_of(part)
        for key, openings in (
            ("valve open", (0.5 * (1.0 + stands), 1.0)),
            ("valve shut", (NEARLY * stands, 0.0)),
        ):
            for opening in openings:
                if abs(opening - stands) > SET and _tells(part, opening):
                    state = change.turned(subject.state, part.name, opening)
                    yield subject.situation(CAUSES[key].of_part(part.name), state=state)


def _tells(part: Part, opening: float) -> bool:
    """A drain is only ever left open, and then whole."""
    return part.kind != "drain" or opening == 1.0


def _check_valves(subject: Subject) -> Iterator[Situation]:
    for part in subject.loop.circuit.of_kind("check valve"):
        loop, state = change.stuck_shut(subject.loop, subject.state, part.name)
        yield subject.situation(CAUSES["check shut"].of_part(part.name), loop=loop, state=state)


def leaking(subject: Subject, name: str, marks: frozenset[Mark]) -> Situation:
    """A check valve whose flap is gone, with what the trace says that it lets through."""
    loop = replace(subject.loop, circuit=leave_out(subject.loop.circuit, name))
    return subject.situation(CAUSES["check leaks"].of_part(name), loop=loop, marks=marks)


def _breaker(subject: Subject) -> Iterator[Situation]:
    breaker = subject.loop.part("vacuum breaker")
    if breaker is None:
        return
    if subject.state.solar and state_flow(subject.loop, subject.state).breaker == "shut":
        yield subject.situation("breaker open", marks=frozenset({"breaker open"}))
    loop = replace(subject.loop, circuit=leave_out(subject.loop.circuit, breaker.name))
    yield subject.situation("breaker shut", loop=loop, marks=frozenset({"breaker shut"}))


def _control(subject: Subject) -> Iterator[Situation]:
    differential = subject.job.controls.kind == "differential"
    if differential and subject.heating is not None:
        yield subject.other("sensor high", subject.heating, sensor=READS_HIGH)
    if not subject.state.solar:
        return
    yield subject.other("settings", subject.resting)
    if differential:
        rest = subject.resting
        yield subject.other("sensor low", rest, sensor=READS_LOW)
        yield subject.other("sensor dead", rest, marks=frozenset({"dead"}))
        yield subject.other("table", rest, marks=frozenset({"other table"}), sensor=OTHER_TABLE)
