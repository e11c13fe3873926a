"""Losses that follow how flow splits: tees by Crane, headers by momentum."""

from __future__ import annotations

from noonwater.core.jit import compiled
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
    Integers,
    Joints,
    Links,
)
from noonwater.physics.fitting import (
    friction_factor_crane,
    momentum_head_header,
    tee_coefficient_branch_converging,
    tee_coefficient_branch_diverging,
    tee_coefficient_run_converging,
    tee_coefficient_run_diverging,
)

SPLIT_MULTIPLE = 60.0
"""Crane multiple of a leg where flow comes in by the branch and leaves by both runs (or the
reverse): Crane gives no split formula for it, so a tee's branch is taken, ours."""


@compiled
def joint_heads(links: Links, joints: Joints, constants: Constants, flow: Floats) -> Floats:
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

    Returns
    -------
    (links,) array
        Loss in the link's own direction. [m]

    Notes
    -----
    Tee losses are losses of total head, added to the piezometric head as it is common practice;
    the change of velocity head across a tee is left out (at most V²/2g, 0.16 m at 1.8 m/s).
    """
    extra = flow * 0.0
    if constants.tees:
        for t in range(joints.tees.shape[0]):
            add_tee(links, joints.tees[t], joints.tee_areas[t], constants.gravity, flow, extra)
    for j in range(joints.headers.shape[0]):
        before, after = joints.headers[j, LINK_BEFORE], joints.headers[j, LINK_AFTER]
        flow_before = flow[before] if before >= 0 else 0.0
        flow_after = flow[after] if after >= 0 else 0.0
        area = joints.header_areas[j]
        if joints.headers[j, ROLE] == DIVIDING:
            theta = constants.theta_dividing
            if before >= 0:
                extra[before] -= momentum_head_header(
                    flow_before, flow_after, area, theta, constants.gravity
                )
        elif after >= 0:
            theta = constants.theta_combining
            extra[after] += momentum_head_header(
                flow_after, flow_before, area, theta, constants.gravity
            )
    return extra


@compiled
def add_tee(
    links: Links, tee: Integers, areas: Floats, gravity: float, flow: Floats, extra: Floats
) -> None:
    """Add the losses of one tee to its links.

    Parameters
    ----------
    links : Links
        The network's links.
    tee : (4,) array
        Run, run, branch, node.
    areas : (2,) array
        Of run and branch. [m²]
    gravity : float
        [m/s²]
    flow : (links,) array
        [m³/s]
    extra : (links,) array
        Losses so far, added to. [m]
    """
    node = tee[NODE]
    a, b, c = tee[RUN_A], tee[RUN_B], tee[BRANCH]
    into_a = flow[a] if links.stop[a] == node else -flow[a]
    into_b = flow[b] if links.stop[b] == node else -flow[b]
    into_c = flow[c] if links.stop[c] == node else -flow[c]
    largest = max(abs(into_a), abs(into_b), abs(into_c))
    if largest <= 0.0:
        return
    unit = (largest / areas[0]) ** 2 / (2.0 * gravity)
    if abs(into_c) >= largest:
        diameter = (4.0 * areas[1] / 3.141592653589793) ** 0.5
        K = SPLIT_MULTIPLE * friction_factor_crane(diameter)
        loss = K * (largest / areas[1]) ** 2 / (2.0 * gravity)
        extra[a] += loss * sign(flow[a]) * (into_a / largest) ** 2
        extra[b] += loss * sign(flow[b]) * (into_b / largest) ** 2
        return
    ratio = abs(into_c) / largest
    size = areas[1] / areas[0]
    # The run's leg with less flow takes the run's loss; the leg that carries all takes none.
    leg = b if abs(into_a) >= abs(into_b) else a
    whole_enters = into_a > 0.0 if leg == b else into_b > 0.0
    if whole_enters:
        run = tee_coefficient_run_diverging(ratio, size)
        branch = tee_coefficient_branch_diverging(ratio, size)
    else:
        run = tee_coefficient_run_converging(ratio)
        branch = tee_coefficient_branch_converging(ratio, size)
    extra[leg] += run * unit * sign(flow[leg])
    extra[c] += branch * unit * sign(flow[c])


@compiled
def sign(value: float) -> float:
    """Direction of a flow.

    Parameters
    ----------
    value : float
        Any.

    Returns
    -------
    float
        -1, 0 or 1. [-]
    """
    if value > 0.0:
        return 1.0
    return -1.0 if value < 0.0 else 0.0
