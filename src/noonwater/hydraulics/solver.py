"""Flows and heads of a network: the global gradient method, Newton steps on both at once.

Mass balances hold after every step; the energy balance of every link is what converges. Losses
that depend on how flow splits lag a step behind, relaxed.
"""

from __future__ import annotations

import numpy as np

from noonwater.core.jit import compiled
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


@compiled
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


@compiled
def balance_rows(links: Links, nodes: Nodes) -> Integers:
    """Equation that each node's mass balance belongs to.

    Parameters
    ----------
    links : Links
        The network's links.
    nodes : Nodes
        Its nodes.

    Returns
    -------
    (nodes,) array
        Place in the matrix; -1 where the head is known.

    Notes
    -----
    Where air holds a node at a known head, the water that reaches it falls through one link; its
    balance is added to that of the node below, and the link's loss is whatever is left over.
    """
    rows = nodes.position.copy()
    for node in range(rows.shape[0]):
        below = node
        while nodes.pinned[below] >= 0:
            below = links.stop[nodes.pinned[below]]
        rows[node] = nodes.position[below]
    return rows


@compiled
def assemble(
    links: Links, nodes: Nodes, rows: Integers, matrix: Floats, right: Floats, slope: Floats,
    loss: Floats, flow: Floats,
) -> None:  # fmt: skip
    """Write the equations of the unknown heads.

    Parameters
    ----------
    links : Links
        The network's links.
    nodes : Nodes
        Its nodes.
    rows : (nodes,) array
        From `balance_rows`.
    matrix : (free, 2·width + 1) array
        Overwritten.
    right : (free,) array
        Overwritten.
    slope, loss, flow : (links,) array
        Derivative [s/m²], loss [m] and flow [m³/s] of each link.
    """
    matrix[:] = 0.0
    right[:] = 0.0
    width = nodes.width
    for node in range(nodes.head.shape[0]):
        if nodes.pinned[node] >= 0 and nodes.position[node] >= 0:
            matrix[nodes.position[node], width] = 1.0
            right[nodes.position[node]] = nodes.head[node]
    for link in range(links.kind.shape[0]):
        i, j = links.start[link], links.stop[link]
        if nodes.pinned[i] == link:
            continue
        conductance = 1.0 / slope[link]
        rest = flow[link] - loss[link] * conductance
        for side in range(2):
            here, other, direction = (i, j, 1.0) if side == 0 else (j, i, -1.0)
            row = rows[here]
            if row < 0:
                continue
            right[row] -= direction * rest
            for node, sign in ((here, conductance), (other, -conductance)):
                column = nodes.position[node]
                if column < 0 or nodes.pinned[node] >= 0:
                    right[row] -= sign * nodes.head[node]
                else:
                    matrix[row, column - row + width] += sign


@compiled
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
    count = links.kind.shape[0]
    flow = flow_start.copy()
    head = nodes.head.copy()
    rows = balance_rows(links, nodes)
    matrix = np.zeros((nodes.free, 2 * nodes.width + 1))
    right = np.zeros(nodes.free)
    slope = np.zeros(count)
    loss = np.zeros(count)
    extra = np.zeros(count)
    lagging = joints.headers.shape[0] > 0 and (
        constants.theta_dividing != 0.0 or constants.theta_combining != 0.0
    )
    lagging = lagging or (constants.tees and joints.tees.shape[0] > 0)
    relax, miss_before, residual = 0.7, np.inf, np.inf
    for step in range(constants.iterations):
        miss = 0.0
        if lagging and step > 0:
            wanted = joint_heads(links, joints, constants, flow)
            for link in range(count):
                miss = max(miss, abs(wanted[link] - extra[link]))
            if miss > miss_before:
                relax = max(0.8 * relax, 0.02)
            miss_before = miss
            extra += relax * (wanted - extra)
        residual = miss
        for link in range(count):
            value, slope[link] = link_loss(links, constants, link, flow[link])
            loss[link] = value + extra[link]
            if nodes.pinned[links.start[link]] != link:
                gap = loss[link] - head[links.start[link]] + head[links.stop[link]]
                # A head not yet known is nan, and so is the gap: it counts as no answer.
                residual = max(residual, abs(gap)) if not np.isnan(gap) else np.inf
        if residual <= constants.tolerance:
            return flow, head, step, residual
        assemble(links, nodes, rows, matrix, right, slope, loss, flow)
        solve_band(matrix, right, nodes.width)
        for node in range(head.shape[0]):
            if nodes.position[node] >= 0:
                head[node] = right[nodes.position[node]]
        # Late steps are halved: a check valve at the edge of opening would make them swing.
        share = 1.0 if step < 30 else 0.5
        for link in range(count):
            drop = head[links.start[link]] - head[links.stop[link]]
            flow[link] -= share * (loss[link] - drop) / slope[link]
        fall_freely(links, nodes, flow)
    return flow, head, constants.iterations, residual


@compiled
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
