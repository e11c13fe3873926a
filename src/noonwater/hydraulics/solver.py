"""Flows and heads of a network: the global gradient method, Newton steps on both at once.

Mass balances hold after every step; the energy balance of every link is what converges. Losses
that depend on how flow splits lag a step behind, relaxed.
"""

from __future__ import annotations

from math import inf, isnan

from noonwater.core.jit import compiled_loop
from noonwater.hydraulics.arrays import (
    DIAMETER,
    EXPONENT,
    FALL,
    LENGTH,
    ONE_WAY,
    OPENING,
    PUMP,
    QUADRATIC,
    RATIO,
    ROUGHNESS,
    SHUTOFF,
    VISCOUS,
    Constants,
    Floats,
    Integers,
    Joints,
    Links,
    Nodes,
    Work,
    work_for,
)
from noonwater.hydraulics.band import solve_band
from noonwater.hydraulics.joint import joint_heads
from noonwater.physics.pipe_friction import head_loss_slope_pipe
from noonwater.physics.pump import pump_head_slope

SLOPE_LEAST = 1e-2
"""[s/m²] Floor on a link's derivative, so that a lossless link or a pump at rest can be divided by.
The loss itself stays exact."""

SLOPE_SHUT = 1e8
"""[s/m²] What a shut check valve leaks by: 1e-8 m³/s for a metre."""


@compiled_loop
def link_loss(links: Links, constants: Constants, link: int, flow: float) -> tuple[float, float]:
    """Head lost in a link without its joints, and how it changes.

    Parameters
    ----------
    links : Links
        The network's links.
    constants : Constants
        Water and gravity.
    link : int
        Which.
    flow : float
        [m³/s]

    Returns
    -------
    tuple of float
        Loss [m] and its derivative [s/m²]; negative loss is a pump's head.
    """
    row = links.figures[link]
    kind = links.kind[link]
    if kind == PUMP:
        head, slope = pump_head_slope(flow, row[RATIO], row[SHUTOFF], row[FALL], row[EXPONENT])
        return -head, max(-slope, SLOPE_LEAST)
    opening = 0.0
    if kind == ONE_WAY:
        opening = row[OPENING]
        if flow <= opening / SLOPE_SHUT:
            return SLOPE_SHUT * flow, SLOPE_SHUT
    linear = row[VISCOUS] * constants.viscosity
    quadratic = row[QUADRATIC] * abs(flow)
    loss = opening + (linear + quadratic) * flow
    slope = linear + 2.0 * quadratic
    if row[LENGTH] > 0.0:
        friction, change = head_loss_slope_pipe(
            flow, row[LENGTH], row[DIAMETER], row[ROUGHNESS], constants.viscosity, constants.gravity
        )
        loss += friction
        slope += change
    return loss, max(slope, SLOPE_LEAST)


@compiled_loop
def balance_rows(links: Links, nodes: Nodes, rows: Integers) -> None:
    """Equation that each node's mass balance belongs to.

    Parameters
    ----------
    links : Links
        The network's links.
    nodes : Nodes
        Its nodes.
    rows : (nodes,) array
        Overwritten by the place in the matrix; -1 where the head is known.

    Notes
    -----
    Where air holds a node at a known head, the water that reaches it falls through one link; its
    balance is added to that of the node below, and the link's loss is whatever is left over.
    """
    for node in range(rows.shape[0]):
        below = node
        while nodes.pinned[below] >= 0:
            below = links.stop[nodes.pinned[below]]
        rows[node] = nodes.position[below]


@compiled_loop
def begin_equations(nodes: Nodes, matrix: Floats, right: Floats) -> None:
    """Clear the equations, and write those of the nodes that air holds at a known head.

    Parameters
    ----------
    nodes : Nodes
        The network's nodes.
    matrix : (free, 2·width + 1) array
        Overwritten.
    right : (free,) array
        Overwritten.
    """
    for row in range(right.shape[0]):
        right[row] = 0.0
        for column in range(matrix.shape[1]):
            matrix[row, column] = 0.0
    for node in range(nodes.head.shape[0]):
        row = nodes.position[node]
        if nodes.pinned[node] >= 0 and row >= 0:
            matrix[row, nodes.width] = 1.0
            right[row] = nodes.head[node]


@compiled_loop
def assemble(links: Links, nodes: Nodes, work: Work) -> None:
    """Write the equations of the unknown heads.

    Parameters
    ----------
    links : Links
        The network's links.
    nodes : Nodes
        Its nodes.
    work : Work
        Its slopes, losses, flows and rows are read; matrix and right-hand side are overwritten.
    """
    width = nodes.width
    begin_equations(nodes, work.matrix, work.right)
    for link in range(links.kind.shape[0]):
        i, j = links.start[link], links.stop[link]
        if nodes.pinned[i] == link:
            continue
        conductance = 1.0 / work.slope[link]
        rest = work.flow[link] - work.loss[link] * conductance
        for side in range(2):
            # A call per end would count references of all these arrays: it takes twice the time.
            here, other, out = i, j, rest
            if side == 1:
                here, other, out = j, i, -rest
            row = work.rows[here]
            if row < 0:
                continue
            right = -out
            column = nodes.position[here]
            if column < 0 or nodes.pinned[here] >= 0:
                right -= conductance * nodes.head[here]
            else:
                work.matrix[row, column - row + width] += conductance
            column = nodes.position[other]
            if column < 0 or nodes.pinned[other] >= 0:
                right += conductance * nodes.head[other]
            else:
                work.matrix[row, column - row + width] -= conductance
            work.right[row] += right


@compiled_loop
def measure(links: Links, nodes: Nodes, constants: Constants, work: Work) -> float:
    """Loss and slope of every link at the flows so far, and the largest miss of its energy balance.

    Parameters
    ----------
    links : Links
        The network's links.
    nodes : Nodes
        Its nodes.
    constants : Constants
        Water and gravity.
    work : Work
        Losses and slopes are overwritten.

    Returns
    -------
    float
        Infinite while a head is not known. [m]
    """
    residual = 0.0
    for link in range(links.kind.shape[0]):
        value, work.slope[link] = link_loss(links, constants, link, work.flow[link])
        work.loss[link] = value + work.extra[link]
        i, j = links.start[link], links.stop[link]
        if nodes.pinned[i] != link:
            gap = abs(work.loss[link] - work.head[i] + work.head[j])
            # A head not yet known is nan, and so is the gap: it counts as no answer.
            residual = max(residual, gap) if not isnan(gap) else inf
    return residual


@compiled_loop
def iterate(
    links: Links, nodes: Nodes, joints: Joints, constants: Constants, work: Work
) -> tuple[int, float]:
    """Newton steps until every energy balance holds.

    Parameters
    ----------
    links : Links
        The network's links.
    nodes : Nodes
        Its nodes; at least one known head.
    joints : Joints
        Tees and header joints.
    constants : Constants
        Water, gravity, switches, tolerance.
    work : Work
        First guess of the flow; overwritten by flows and heads.

    Returns
    -------
    tuple
        Steps taken, and the residual [m].
    """
    balance_rows(links, nodes, work.rows)
    momentum = constants.theta_dividing != 0.0 or constants.theta_combining != 0.0
    lagging = momentum and joints.headers.shape[0] > 0
    lagging = lagging or (constants.tees and joints.tees.shape[0] > 0)
    relax, miss_before, residual = 0.7, inf, inf
    for step in range(constants.iterations):
        miss = 0.0
        if lagging and step > 0:
            joint_heads(links, joints, constants, work.flow, work.wanted)
            for link in range(work.flow.shape[0]):
                miss = max(miss, abs(work.wanted[link] - work.extra[link]))
            if miss > miss_before:
                relax = max(0.8 * relax, 0.02)
            miss_before = miss
            for link in range(work.flow.shape[0]):
                work.extra[link] += relax * (work.wanted[link] - work.extra[link])
        residual = max(miss, measure(links, nodes, constants, work))
        if residual <= constants.tolerance:
            return step, residual
        assemble(links, nodes, work)
        solve_band(work.matrix, work.right, nodes.width)
        for node in range(work.head.shape[0]):
            if nodes.position[node] >= 0:
                work.head[node] = work.right[nodes.position[node]]
        # Late steps are halved: a check valve at the edge of opening would make them swing.
        share = 1.0 if step < 30 else 0.5
        for link in range(work.flow.shape[0]):
            drop = work.head[links.start[link]] - work.head[links.stop[link]]
            work.flow[link] -= share * (work.loss[link] - drop) / work.slope[link]
        fall_freely(links, nodes, work.flow)
    return constants.iterations, residual


def solve_network(
    links: Links, nodes: Nodes, joints: Joints, constants: Constants, flow_start: Floats
) -> tuple[Floats, Floats, int, float]:
    """Solve a network.

    Parameters
    ----------
    links : Links
        The network's links.
    nodes : Nodes
        Its nodes; at least one known head.
    joints : Joints
        Tees and header joints.
    constants : Constants
        Water, gravity, switches, tolerance.
    flow_start : (links,) array
        First guess. [m³/s]

    Returns
    -------
    tuple
        Flow of each link [m³/s], head of each node [m], steps taken, and the residual: the largest
        miss of a link's energy balance, joints included [m].

    Notes
    -----
    Todini, E. and Pilati, S., A gradient algorithm for the analysis of pipe networks (1987), from
    memory; the equations are in the EPANET manual's appendix. No answer shows as a residual above
    the tolerance; the caller raises it.
    """
    work = work_for(nodes, flow_start)
    steps, residual = iterate(links, nodes, joints, constants, work)
    return work.flow, work.head, steps, residual


@compiled_loop
def fall_freely(links: Links, nodes: Nodes, flow: Floats) -> None:
    """Give the links behind an air inlet the flow that reaches the inlet.

    Parameters
    ----------
    links : Links
        The network's links.
    nodes : Nodes
        Its nodes.
    flow : (links,) array
        Overwritten in those links. [m³/s]
    """
    for node in range(nodes.pinned.shape[0]):
        if nodes.pinned[node] < 0:
            continue
        # A chain of inlets: begin at its top and go down, so each gets what the one above sent.
        top = True
        for other in range(nodes.pinned.shape[0]):
            link = nodes.pinned[other]
            if link >= 0 and links.stop[link] == node:
                top = False
        below = node
        while top and nodes.pinned[below] >= 0:
            falling = nodes.pinned[below]
            total = 0.0
            for link in range(links.kind.shape[0]):
                if link == falling:
                    continue
                if links.stop[link] == below:
                    total += flow[link]
                elif links.start[link] == below:
                    total -= flow[link]
            flow[falling] = total
            below = links.stop[falling]
