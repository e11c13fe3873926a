"""What one state of a circuit does, as far as a drawing shows it: water, warmth, pressures."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from noonwater.hydraulics.flow import FlowResult, StateFlow
from noonwater.hydraulics.loop import Loop, loop_of
from noonwater.hydraulics.operating import operate
from noonwater.hydraulics.trace import StateTrace, trace_states
from noonwater.hydraulics.trace_standing import WaterWord
from noonwater.model.circuit import Circuit, Part, Port, State
from noonwater.model.job import Job

STILL = 1e-7
"""[m³/s] Less than this is no flow."""

WARMED = 0.02
"""[-] Share of water that has been through the panels from which a pipe is drawn as warmed."""

Hold = Literal["carries", "full", "trapped", "empty"]
"""What a part or pipe holds: water that moves; water that stands and can go; water that is shut in;
air."""

_STANDS: dict[WaterWord, Hold] = {
    "full": "full",
    "trapped": "trapped",
    "drained": "empty",
    "dry": "empty",
}


@dataclass(frozen=True)
class PadWater:
    """One state of a circuit.

    Attributes
    ----------
    state : State
        Positions and speeds.
    figures : StateFlow
        The same state's answer.
    flows : dict of str to float
        Through each pipe and part by name, in the direction of the pipe; 0 where water stands.
        [m³/s]
    warmed : dict of str to float
        Share of each pipe's water that has been through the panels since it left the pool. [-]
    pressures : dict of Port to float
        Static gauge pressure where water moves. [Pa]
    standing : dict of str to Hold
        What each part and pipe holds that carries nothing. A trickle through a diverter's
        drain-down hole has a flow, and stands all the same.
    """

    state: State
    figures: StateFlow
    flows: dict[str, float]
    warmed: dict[str, float]
    pressures: dict[Port, float]
    standing: dict[str, Hold]

    @property
    def name(self) -> str:
        """Of the state."""
        return self.state.name

    def moves(self, name: str) -> bool:
        """Whether a pipe or part carries water; a trickle does not count."""
        return name not in self.standing and abs(self.flows.get(name, 0.0)) > STILL

    def holds(self, name: str) -> Hold:
        """What a part or pipe holds."""
        return "carries" if self.moves(name) else self.standing.get(name, "full")

    def position_of(self, part: Part) -> float:
        """How far a valve stands open; a diverter toward its last port. [-]."""
        return self.state.position_of(part)


def pad_waters(job: Job, flow: FlowResult) -> Iterator[PadWater]:
    """Give every state of a job as it is drawn.

    Parameters
    ----------
    job : Job
        With speeds, not flows, in its program.
    flow : FlowResult
        The job's states, solved.

    Yields
    ------
    PadWater
        In the order of the result's states.
    """
    loop = loop_of(job, flow.circuit, flow.temp_water, flow.settings)
    for traced in trace_states(job, flow.temp_water):
        yield _state_water(loop, traced, flow.state(traced.name))


def _state_water(loop: Loop, traced: StateTrace, figures: StateFlow) -> PadWater:
    circuit, state = loop.circuit, traced.state
    solution = operate(loop, state).solution
    flows = {pipe.name: solution.flow_in(pipe.name) for pipe in circuit.pipes}
    flows |= {
        part.name: solution.flow_in(part.name)
        if len(part.ways) == 1
        else _entering(part, circuit, flows)
        for part in circuit.parts
    }
    per_head = loop.water.density * loop.settings.gravity
    pressures = {
        (part.name, port): per_head * head
        for part in circuit.parts
        for port in part.ports
        if (head := solution.pressure_head((part.name, port))) is not None
    }
    warmed = warmed_shares(circuit, flows)
    standing = _standing(circuit, traced, flows)
    return PadWater(state, figures, flows, warmed, pressures, standing)


def _entering(part: Part, circuit: Circuit, flows: dict[str, float]) -> float:
    """All that pipes bring to a part of several ways. [m³/s]."""
    ends = ((pipe, flows[pipe.name]) for pipe in circuit.pipes_at(part.name))
    return sum(max(0.0, flow if pipe.stop[0] == part.name else -flow) for pipe, flow in ends)


def _standing(circuit: Circuit, traced: StateTrace, flows: dict[str, float]) -> dict[str, Hold]:
    """What everything holds at rest; a header, which the trace counts as its panel's, as that."""
    found = {p.name: _STANDS[p.water] for p in traced.parts if p.water in _STANDS}
    headers = {
        pipe.name: found[pipe.start[0]]
        for pipe in circuit.pipes
        if pipe.role == "header" and pipe.start[0] in found and abs(flows[pipe.name]) <= STILL
    }
    return headers | found


def warmed_shares(circuit: Circuit, flows: dict[str, float]) -> dict[str, float]:
    """Share of each pipe's water that has been through the panels since it left a pool or spa.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    flows : dict of str to float
        Through each pipe. [m³/s]

    Returns
    -------
    dict of str to float
        0 to 1, by pipe; 0 where water stands. [-]
    """
    kinds = {part.name: part.kind for part in circuit.parts}
    entering: dict[str, list[tuple[str, float]]] = {name: [] for name in kinds}
    source: dict[str, str] = {}
    for pipe in circuit.pipes:
        flow = flows.get(pipe.name, 0.0)
        if abs(flow) > STILL:
            ahead = flow > 0.0
            source[pipe.name] = (pipe.start if ahead else pipe.stop)[0]
            entering[(pipe.stop if ahead else pipe.start)[0]].append((pipe.name, abs(flow)))
    share = dict.fromkeys((pipe.name for pipe in circuit.pipes), 0.0)
    for _ in circuit.parts:
        before = dict(share)
        for pipe_name, part in source.items():
            share[pipe_name] = _leaving(kinds[part], entering[part], share)
        if share == before:
            break
    return share


def _leaving(kind: str, entering: list[tuple[str, float]], share: dict[str, float]) -> float:
    if kind in ("pool", "spa"):
        return 0.0
    if kind == "panel":
        # Headers pass panels by; what matters is the water that leaves, and that is warmed.
        return 1.0
    total = sum(flow for _, flow in entering)
    return sum(flow * share[name] for name, flow in entering) / total if total > 0.0 else 0.0
