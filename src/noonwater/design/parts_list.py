"""The parts list: what a job's circuit is made of, counted from the circuit and by stated rules.

Nothing is listed that neither the circuit shows nor a rule gives. A rule is told with its source.
"""

from __future__ import annotations

from noonwater.design.parts_control import control_rows
from noonwater.design.parts_headers import header_joints, panel_rows
from noonwater.design.parts_pipe import pipe_rows
from noonwater.design.parts_place import places_of
from noonwater.design.parts_roof import roof_rows
from noonwater.design.parts_row import PartRow, merged
from noonwater.design.parts_support import support_rows
from noonwater.design.parts_valves import valve_rows
from noonwater.hydraulics.arrangement import fill_circuit
from noonwater.model.circuit import Circuit
from noonwater.model.job import Job


def parts_list(job: Job) -> tuple[PartRow, ...]:
    """List the parts of a job.

    Parameters
    ----------
    job : Job
        The whole job.

    Returns
    -------
    tuple of PartRow
        Each thing once; by pad, roof, pipe, supports, and what is already there.

    Raises
    ------
    InputError
        A name that neither the catalog nor the job knows; an edit that can't be made.
    """
    return count_parts(fill_circuit(job), job)


def fixings_by_plane(job: Job) -> dict[str, dict[str, int]]:
    """Count what is screwed to each roof plane.

    Parameters
    ----------
    job : Job
        The whole job.

    Returns
    -------
    dict of str to dict of str to int
        Pieces by name, by plane in the order of the first bank; supports of pipes come besides.
    """
    circuit = fill_circuit(job)
    panels = panel_rows(circuit)
    found: dict[str, dict[str, int]] = {bank.roof: {} for bank in job.array.banks}
    for row in roof_rows(circuit, places_of(circuit), panels, header_joints(circuit, panels)):
        if row.kind == "hold-down" and row.unit == "each":
            # A run of panels side by side lies on one plane.
            bank = row.where[0].partition(" panel ")[0].rpartition(" ")[2]
            plane = found[job.array.banks[int(bank) - 1].roof]
            plane[row.name] = plane.get(row.name, 0) + int(row.quantity)
    return {roof: counts for roof, counts in found.items() if counts}


def count_parts(circuit: Circuit, job: Job) -> tuple[PartRow, ...]:
    """List the parts of a circuit.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes, in any order and under any names.
    job : Job
        For the schedule of its pipe, its controls and the sensor's roof.

    Returns
    -------
    tuple of PartRow
        As `parts_list` has it.
    """
    places = places_of(circuit)
    panels = panel_rows(circuit)
    joints = header_joints(circuit, panels)
    schedule = job.pad.schedule
    return merged(
        (
            *valve_rows(circuit, places),
            *control_rows(circuit, job),
            *roof_rows(circuit, places, panels, joints),
            *pipe_rows(circuit, places, joints, schedule),
            *support_rows(circuit, places, schedule),
        )
    )
