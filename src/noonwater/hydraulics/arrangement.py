"""The job's pad and array filled into a circuit of parts and pipes, then edited part by part.

An arrangement is a base and options: the base says how the array is tied in, each option adds its
part wherever it belongs. Lengths between the pad's parts are not in a job; `SPOOL` stands for each
unless an edit sets it.
"""

from __future__ import annotations

from functools import lru_cache

from noonwater.hydraulics.arrangement_edit import edited
from noonwater.hydraulics.arrangement_pad import (
    lay_bypass,
    lay_diverter,
    lay_filter,
    lay_return,
    lay_suction,
)
from noonwater.hydraulics.arrangement_plan import new_plan, share_elbows
from noonwater.hydraulics.arrangement_roof import lay_roof
from noonwater.hydraulics.plumbed import plumbed
from noonwater.model.circuit import Circuit
from noonwater.model.job import Job

__all__ = ["fill_circuit", "share_elbows"]


def fill_circuit(job: Job) -> Circuit:
    """Fill the job's arrangement into parts and pipes.

    Parameters
    ----------
    job : Job
        The whole job.

    Returns
    -------
    Circuit
        Pool, suction, pump, filter, check valve, diverter, feed, banks, roof return, heater,
        return, with the options of the pad and after its edits; elevations above the pool's water.

    Raises
    ------
    InputError
        A name that neither the catalog nor the job knows; an edit that can't be made.
    """
    return _filled(plumbed(job))


@lru_cache(maxsize=64)
def _filled(job: Job) -> Circuit:
    plan = new_plan(job)
    lay_suction(plan)
    solar = lay_diverter(plan, lay_filter(plan))
    lay_roof(plan, *lay_bypass(plan, solar))
    lay_return(plan)
    circuit = Circuit(tuple(plan.parts), tuple(plan.pipes), job.own_pump, job.own_panel)
    return edited(circuit, job)
