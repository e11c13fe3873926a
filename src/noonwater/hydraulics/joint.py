"""Losses that follow how flow splits: tees by Crane, headers by momentum."""

from __future__ import annotations

from math import copysign

from noonwater.core.jit import compiled_loop
from noonwater.hydraulics.arrays import (
    BRANCH,
    DIVIDING,
    LINK_AFTER,
    LINK_BEFORE,
    NODE,
    ROLE,
    RUN_A,
    RUN_B,
    Constants,
    Floats,
    Joints,
    Links,
)
from noonwater.physics.fitting import (
    momentum_head_header,
    tee_coefficient_branch_converging,
    tee_coefficient_branch_diverging,
    tee_coefficient_run_converging,
    tee_coefficient_run_diverging,
)

TURN = 0.03
"""[-] Share of the whole flow below which a leg of a tee counts as turning round: ours, Crane's
formulas jump there and a jump has no answer to iterate to."""


@compiled_loop
def joint_heads(
    links: Links, joints: Joints, constants: Constants, flow: Floats, heads: Floats
) -> None:
    """Head that joints take from each link at given flows.

    Parameters
    ----------
    links : Links
        The network's links.
    joints : Joints
        Its tees and header joints.
    constants : Constants
        Switches and factors.
    flow : (links,) array
        [m³/s]
    heads : (links,) array
        Overwritten by the loss in the link's own direction. [m]

    Notes
    -----
    Tee losses are losses of total head, added to the piezometric head as it is common practice;
    the change of velocity head across a tee is left out (at most V²/2g, 0.16 m at 1.8 m/s).
    """
    for link in range(heads.shape[0]):
        heads[link] = 0.0
    if constants.tees:
        for tee in range(joints.tees.shape[0]):
            add_tee(links, joints, tee, constants.gravity, flow, heads)
    for j in range(joints.headers.shape[0]):
        before, after = joints.headers[j, LINK_BEFORE], joints.headers[j, LINK_AFTER]
        flow_before = flow[before] if before >= 0 else 0.0
        flow_after = flow[after] if after >= 0 else 0.0
        area = joints.header_areas[j]
        if joints.headers[j, ROLE] == DIVIDING:
            theta = constants.theta_dividing
            if before >= 0:
                heads[before] -= momentum_head_header(
                    flow_before, flow_after, area, theta, constants.gravity
                )
        elif after >= 0:
            theta = constants.theta_combining
            heads[after] += momentum_head_header(
                flow_after, flow_before, area, theta, constants.gravity
            )


@compiled_loop
def add_tee(
    links: Links, joints: Joints, tee: int, gravity: float, flow: Floats, heads: Floats
) -> None:
    """Add the losses of one tee to its links.

    Parameters
    ----------
    links : Links
        The network's links.
    joints : Joints
        Its tees.
    tee : int
        Which.
    gravity : float
        [m/s²]
    flow : (links,) array
        [m³/s]
    heads : (links,) array
        Losses so far, added to. [m]
    """
    node = joints.tees[tee, NODE]
    a, b, c = joints.tees[tee, RUN_A], joints.tees[tee, RUN_B], joints.tees[tee, BRANCH]
    into_a = flow[a] if links.stop[a] == node else -flow[a]
    into_b = flow[b] if links.stop[b] == node else -flow[b]
    into_c = flow[c] if links.stop[c] == node else -flow[c]
    largest = max(abs(into_a), abs(into_b), abs(into_c))
    if largest <= 0.0:
        return
    area = joints.tee_areas[tee, 0]
    unit = (largest / area) ** 2 / (2.0 * gravity)
    size = joints.tee_areas[tee, 1] / area
    if abs(into_c) >= largest:
        # Both runs join into the branch, or it splits into both. Crane has no formula for it: the
        # branch's loss at its full share is kept, so nothing jumps where a run's flow turns round.
        if into_c > 0.0:
            K = tee_coefficient_branch_converging(1.0, size)
        else:
            K = tee_coefficient_branch_diverging(1.0, size)
        heads[c] += K * copysign(unit, flow[c])
        return
    ratio = abs(into_c) / largest
    # The run's leg with less flow takes the run's loss; the leg that carries all takes none.
    leg, whole, part = b, into_a, into_b
    if abs(into_a) < abs(into_b):
        leg, whole, part = a, into_b, into_a
    if whole > 0.0:
        run = tee_coefficient_run_diverging(ratio, size)
    else:
        run = tee_coefficient_run_converging(ratio)
    run *= min(1.0, abs(part) / (TURN * largest))
    heads[leg] += run * copysign(unit, flow[leg])
    outward = branch_loss_outward(-into_c / largest, size)
    heads[c] += outward * unit if links.start[c] == node else -outward * unit


@compiled_loop
def branch_loss_outward(share: float, size: float) -> float:
    """Loss of a tee's branch along the way out, whichever way the water goes.

    Parameters
    ----------
    share : float
        Flow out of the branch over the whole flow; negative where it comes in. [-]
    size : float
        Area of the branch over that of the run. [-]

    Returns
    -------
    float
        Loss coefficient on the velocity of the whole flow. [-]

    Notes
    -----
    Crane's two formulas meet at no flow with 1.0 and 0.9; they are blended over `TURN`, ours.
    """
    if share >= TURN:
        return tee_coefficient_branch_diverging(share, size)
    if share <= -TURN:
        return -tee_coefficient_branch_converging(-share, size)
    out = tee_coefficient_branch_diverging(TURN, size)
    back = -tee_coefficient_branch_converging(TURN, size)
    return back + (out - back) * (share + TURN) / (2.0 * TURN)
