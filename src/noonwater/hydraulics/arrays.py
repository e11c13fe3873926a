"""The network as a compiled solver takes it: named tuples of arrays and floats."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Integers = NDArray[np.int64]

PLAIN, ONE_WAY, PUMP = 0, 1, 2
"""Kinds of link: passive, passive in one direction, driving."""

LENGTH, DIAMETER, ROUGHNESS, VISCOUS, QUADRATIC, OPENING = range(6)
"""Columns of a passive link: [m], [m], [m], head per viscosity and flow [1/m²·…] as
h = VISCOUS nu Q, h = QUADRATIC Q², head that opens a check valve [m]."""

SHUTOFF, FALL, EXPONENT, RATIO = range(4)
"""Columns of a pump: head at rest and rated speed, fall, exponent, speed over rated speed."""

RUN_A, RUN_B, BRANCH, NODE = range(4)
"""Columns of a tee: its three links and its node."""

DIVIDING, COMBINING = 0, 1
LINK_BEFORE, LINK_AFTER, ROLE = range(3)
"""Columns of a header's joint: link upstream, link downstream (-1: none), dividing or combining."""


class Links(NamedTuple):
    """What lies between nodes.

    Attributes
    ----------
    start, stop : (links,) array
        Nodes.
    kind : (links,) array
        PLAIN, ONE_WAY or PUMP.
    figures : (links, 6) array
        Columns by kind, see the constants of this module.
    """

    start: Integers
    stop: Integers
    kind: Integers
    figures: Floats


class Nodes(NamedTuple):
    """Where links meet.

    Attributes
    ----------
    head : (nodes,) array
        Known head, nan where it is sought. [m]
    position : (nodes,) array
        Place in the band matrix; -1 where the head is known.
    pinned : (nodes,) array
        Link in which the water falls freely behind an air inlet; -1 elsewhere.
    width : int
        Half width of the band.
    free : int
        Number of unknown heads.
    """

    head: Floats
    position: Integers
    pinned: Integers
    width: int
    free: int


class Joints(NamedTuple):
    """Tees and header joints, whose losses follow the split of flow.

    Attributes
    ----------
    tees : (tees, 4) array
        Links and node.
    tee_areas : (tees, 2) array
        Of run and branch. [m²]
    headers : (joints, 3) array
        Links and role.
    header_areas : (joints,) array
        [m²]
    """

    tees: Integers
    tee_areas: Floats
    headers: Integers
    header_areas: Floats


class Constants(NamedTuple):
    """Water, gravity, switches and when to stop.

    Attributes
    ----------
    viscosity : float
        Kinematic. [m²/s]
    gravity : float
        [m/s²]
    theta_dividing, theta_combining : float
        Momentum factors of headers; 0 leaves momentum out. [-]
    tees : bool
        Whether tees lose by the ratio of their flows.
    tolerance : float
        On the energy balance of every link. [m]
    iterations : int
        Give up after so many.
    """

    viscosity: float
    gravity: float
    theta_dividing: float
    theta_combining: float
    tees: bool
    tolerance: float
    iterations: int


class Work(NamedTuple):
    """Room for one solve, given by the caller: to make arrays in compiled code costs compile time.

    Attributes
    ----------
    flow, slope, loss, extra, wanted : (links,) array
        Flow [m³/s]; derivative of the loss [s/m²]; loss, its part at joints, and what the joints
        should take at this flow [m].
    head : (nodes,) array
        [m]
    rows : (nodes,) array
        Equation that each node's mass balance belongs to; -1 where the head is known.
    matrix : (free, 2·width + 1) array
        Band of the equations.
    right : (free,) array
        Their right-hand side.
    """

    flow: Floats
    slope: Floats
    loss: Floats
    extra: Floats
    wanted: Floats
    head: Floats
    rows: Integers
    matrix: Floats
    right: Floats


def work_for(nodes: Nodes, flow: Floats) -> Work:
    """Make room for one solve.

    Parameters
    ----------
    nodes : Nodes
        Of the network.
    flow : (links,) array
        First guess; copied. [m³/s]

    Returns
    -------
    Work
        Flow and known heads filled in.
    """
    links = flow.shape[0]
    return Work(
        flow=flow.copy(),
        slope=np.zeros(links),
        loss=np.zeros(links),
        extra=np.zeros(links),
        wanted=np.zeros(links),
        head=nodes.head.copy(),
        rows=nodes.position.copy(),
        matrix=np.zeros((nodes.free, 2 * nodes.width + 1)),
        right=np.zeros(nodes.free),
    )
