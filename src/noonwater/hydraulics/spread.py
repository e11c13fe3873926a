"""How evenly the panels share the water, over the range of the headers' momentum factors."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import product

from noonwater.hydraulics.loop import Loop
from noonwater.hydraulics.network import Network
from noonwater.hydraulics.settings import THETA_COMBINING, THETA_DIVIDING
from noonwater.hydraulics.solution import solve
from noonwater.model.circuit import State


@dataclass(frozen=True)
class Share:
    """Flow of the panels over their mean, at one pair of momentum factors.

    Attributes
    ----------
    theta_dividing, theta_combining : float
        Momentum factors. [-]
    least, most : float
        Of the least-fed and the most-fed panel. [-]
    least_fed : str
        Which is the least-fed.
    """

    theta_dividing: float
    theta_combining: float
    least: float
    most: float
    least_fed: str


@dataclass(frozen=True)
class PanelSpread:
    """Spread between the panels of a state, water in all of them.

    Attributes
    ----------
    state : str
        Name of the state.
    friction_only : Share
        Without momentum.
    low, high : Share
        Narrowest and widest spread over the four ends of the two ranges of momentum factors, which
        are idealised and not measured.
    """

    state: str
    friction_only: Share
    low: Share
    high: Share


def panel_spread(loop: Loop, state: State, network: Network) -> PanelSpread | None:
    """Spread between panels, over the range of the momentum factors.

    Parameters
    ----------
    loop : Loop
        The circuit and its limits.
    state : State
        A solar state.
    network : Network
        What it settled at, with air at the top or without.

    Returns
    -------
    PanelSpread or None
        None where a panel stands dry.

    Raises
    ------
    NotConverged
        With residual and state.
    """
    names = [part.name for part in loop.circuit.parts if part.kind == "panel"]
    if not all(name in network.link_of for name in names):
        return None

    def share(dividing: float, combining: float) -> Share:
        thetas = replace(loop.settings, theta_dividing=dividing, theta_combining=combining)
        solution = solve(network, loop.water, thetas, state.name)
        flows = {name: solution.flow_in(name) for name in names}
        mean = sum(flows.values()) / len(flows)
        least = min(flows, key=lambda name: flows[name])
        shares = (flows[least] / mean, max(flows.values()) / mean)
        return Share(dividing, combining, *shares, least)

    ends = [share(*pair) for pair in product(THETA_DIVIDING, THETA_COMBINING)]
    ends.sort(key=lambda end: end.most - end.least)
    return PanelSpread(state.name, share(0.0, 0.0), ends[0], ends[-1])
