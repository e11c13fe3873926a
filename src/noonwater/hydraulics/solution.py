"""Flows and heads of one network, solved or refused."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from noonwater.core.errors import NotConverged
from noonwater.hydraulics.arrays import Floats
from noonwater.hydraulics.network import Network
from noonwater.hydraulics.settings import Settings, Water, constants_of
from noonwater.hydraulics.solver import solve_network
from noonwater.model.circuit import Port


@dataclass(frozen=True)
class Solution:
    """A solved network.

    Attributes
    ----------
    network : Network
        What was solved.
    flow : (links,) array
        [m³/s]
    head : (nodes,) array
        Piezometric. [m]
    residual : float
        Largest miss of a link's energy balance. [m]
    steps : int
        Newton steps taken.
    """

    network: Network
    flow: Floats
    head: Floats
    residual: float
    steps: int

    def flow_in(self, name: str) -> float:
        """Flow of a link by name; 0 where no water moves. [m³/s]."""
        link = self.network.link_of.get(name)
        return 0.0 if link is None else float(self.flow[link])

    def pressure_head(self, port: Port) -> float | None:
        """Static gauge pressure at a port as a head [m]; None where no water moves."""
        node = self.network.node_of.get(port)
        if node is None or self.network.empty:
            return None
        return float(self.head[node] - self.network.elevation[node])

    def imbalance(self) -> float:
        """Largest miss of a node's mass balance, those open to the air left out. [m³/s]."""
        network = self.network
        net = np.zeros(len(network.elevation))
        np.add.at(net, network.links.stop, self.flow)
        np.subtract.at(net, network.links.start, self.flow)
        net[list(network.levels)] = 0.0
        return float(np.max(np.abs(net[1:]), initial=0.0))


def solve(network: Network, water: Water, settings: Settings, state: str) -> Solution:
    """Solve a network.

    Parameters
    ----------
    network : Network
        With or without air at some nodes.
    water : Water
        What flows.
    settings : Settings
        Switches.
    state : str
        Name of the state, for the error.

    Returns
    -------
    Solution
        Converged.

    Raises
    ------
    NotConverged
        With the residual in metres of head, and the state.
    """
    if network.empty:
        return Solution(network, np.zeros(0), np.zeros(len(network.elevation)), 0.0, 0)
    constants = constants_of(settings, water)
    flow, head, steps, residual = solve_network(
        network.links, network.nodes, network.joints, constants, network.guess
    )
    if not residual <= settings.tolerance:
        raise NotConverged("the network of pipes", residual, state)
    return Solution(network, flow, head, residual, steps)
