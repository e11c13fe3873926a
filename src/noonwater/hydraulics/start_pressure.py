"""What the panels feel when a start comes at full speed with the diverter already on solar."""

from __future__ import annotations

from dataclasses import dataclass

from noonwater.catalog import panel_named
from noonwater.core.constants import GRAVITY
from noonwater.hydraulics.air import standing_head, top_pipe
from noonwater.hydraulics.loop import Loop
from noonwater.model.circuit import Circuit, State


@dataclass(frozen=True)
class StartPressure:
    """Steady static pressure at the headers; the surge of filling and water hammer are not in it.

    Attributes
    ----------
    speed : float
        Of the start. [rpm]
    flowing : float
        Highest at any header once the array is full and water runs. [Pa]
    standing : float
        Highest while no water runs over the top yet: where all banks lie alike, the pump's shut-off
        head, which is extrapolated, less the header's height. [Pa]
    blocked : float
        The same with the roof return shut, by a valve or a plug of dirt: no bank lets water
        through. [Pa]
    panel : str
        The panel that stands nearest its limit, or farthest beyond.
    limit : float
        Of that panel, cool. [Pa]
    within : bool
        Whether the first two pressures lie within every panel's limit.
    """

    speed: float
    flowing: float
    standing: float
    blocked: float
    panel: str
    limit: float
    within: bool


def start_pressure(loop: Loop, state: State) -> StartPressure:
    """Pressure at the panels at a start with the diverter already on solar.

    Parameters
    ----------
    loop : Loop
        The circuit and its limits; a clean filter leaves most pressure for the panels.
    state : State
        Positions toward the roof, and the speed of the start.

    Returns
    -------
    StartPressure
        And whether the panels bear it.

    Raises
    ------
    NotConverged
        With residual and state.
    """
    clean = loop.with_settings(False, 0.0)
    network = clean.network(state)
    running = clean.solve(network, state)
    top = network.node_of[top_pipe(loop.circuit).start]
    column = standing_head(clean, state, network, top)
    # Where banks lie at unlike heights, water runs through the low ones before it reaches the top;
    # a shut return stops it in all of them.
    shut_off = standing_head(clean, state, network, top, _returns(loop.circuit))
    lowest = lowest_header(loop.circuit)
    weight = loop.water.density * GRAVITY
    panels = []
    for part in loop.circuit.parts:
        if part.kind != "panel":
            continue
        heads = [running.pressure_head((part.name, port)) or 0.0 for port in part.ports]
        still = column - min(part.elevation, part.elevation + part.rise)
        limit = panel_named(part.catalog, own=loop.circuit.own_panels).pressure_max
        spare = limit - weight * max(*heads, still)
        panels.append((spare, part.name, limit, weight * max(heads), weight * still))
    spare, name, limit, _, _ = min(panels)
    return StartPressure(
        speed=state.speed,
        flowing=max(panel[3] for panel in panels),
        standing=max(0.0, *(panel[4] for panel in panels)),
        blocked=max(0.0, weight * (max(column, shut_off) - lowest)),
        panel=name,
        limit=limit,
        within=spare >= 0.0,
    )


def lowest_header(circuit: Circuit) -> float:
    """Height of the array's lowest header above the pool's water. [m].

    Parameters
    ----------
    circuit : Circuit
        With panels.
    """
    return min(min(part.elevation, part.elevation + part.rise) for part in circuit.of_kind("panel"))


def _returns(circuit: Circuit) -> frozenset[str]:
    return frozenset(pipe.name for pipe in circuit.pipes if pipe.role == "roof return")
