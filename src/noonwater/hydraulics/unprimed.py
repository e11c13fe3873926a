"""What flows when a start has failed: the pump runs for solar, and no water gets over the top."""

from __future__ import annotations

from functools import lru_cache

from noonwater.hydraulics.air import links_of_dry, settle_with_air, top_pipe
from noonwater.hydraulics.flow import StateFlow, describe_flow
from noonwater.hydraulics.loop import Loop
from noonwater.hydraulics.operating import BreakerState
from noonwater.model.circuit import State


@lru_cache(maxsize=64)
def unprimed_flow(job_loop: Loop, state: State) -> StateFlow | None:
    """Flow with air left in the array's high point.

    Parameters
    ----------
    job_loop : Loop
        The circuit with the water and the limits.
    state : State
        A solar state.

    Returns
    -------
    StateFlow or None
        Lower banks may run; None where a shut valve keeps the top out of the circuit anyway.

    Raises
    ------
    NotConverged
        With residual and state.
    """
    network = job_loop.network(state)
    top = network.node_of.get(top_pipe(job_loop.circuit).start)
    if top is None:
        return None
    solution, _ = settle_with_air(job_loop, state, links_of_dry(network, top))
    breaker: BreakerState = "none" if job_loop.part("vacuum breaker") is None else "dry"
    lift = float(network.elevation[top])
    return describe_flow(job_loop, state, solution, (breaker, False, lift))
