"""Banks of panels: where they lie and how their headers run."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import radians, sin

from noonwater.catalog import PanelType, panel_named
from noonwater.core.errors import Fault, InputError
from noonwater.model.circuit import Part, Pipe, Port
from noonwater.model.job import Job
from noonwater.model.plant import Bank


@dataclass(frozen=True)
class BankPlace:
    """A bank and its corners.

    Attributes
    ----------
    name : str
        "bank 1" and so on, in the job's order.
    bank : Bank
        The job's bank.
    panel : PanelType
        Its panels.
    bottom, top : float
        Height of the lower and upper header above the pool's water; the lower one lies at the
        eave. [m]
    inlet, outlet : float
        Place of the two corners along the array, banks set end to end. [m]
    """

    name: str
    bank: Bank
    panel: PanelType
    bottom: float
    top: float
    inlet: float
    outlet: float

    @property
    def feed_port(self) -> Port:
        """Where water enters: the lower header of the first panel."""
        return (f"{self.name} panel 1", "low")

    @property
    def return_port(self) -> Port:
        """Where it leaves: the upper header of the last panel, or of the first in direct return."""
        last = self.bank.panels if self.bank.piping == "reverse return" else 1
        return (f"{self.name} panel {last}", "high")


def bank_places(job: Job) -> tuple[BankPlace, ...]:
    """Lay the job's banks end to end in its order.

    Parameters
    ----------
    job : Job
        The whole job.

    Returns
    -------
    tuple of BankPlace
        One a bank.

    Raises
    ------
    InputError
        A roof that the job does not have, or a panel that the catalog does not have.
    """
    roofs = {roof.name: roof for roof in job.roof}
    places = []
    along = 0.0
    for i, bank in enumerate(job.array.banks):
        where = f"array.banks[{i}]"
        panel = panel_named(bank.panel, f"{where}.panel")
        if bank.roof not in roofs:
            known = ", ".join(f"'{name}'" for name in roofs)
            fault = Fault(f"{where}.roof", f"no roof is called '{bank.roof}'", known)
            raise InputError([fault])
        roof = roofs[bank.roof]
        width = bank.panels * panel.width
        bottom = roof.eave_height
        outlet = along + (width if bank.piping == "reverse return" else 0.0)
        top = bottom + panel.length * sin(radians(roof.pitch))
        places.append(BankPlace(f"bank {i + 1}", bank, panel, bottom, top, along, outlet))
        along += width
    return tuple(places)


def add_bank(parts: list[Part], pipes: list[Pipe], place: BankPlace, nominal: float) -> None:
    """Add a bank's panels and the stretches of header between them.

    Parameters
    ----------
    parts : list of Part
        Added to.
    pipes : list of Pipe
        Added to.
    place : BankPlace
        The bank.
    nominal : float
        Nominal size of the pipe that feeds it. [m]
    """
    panel = place.panel
    names = [f"{place.name} panel {n + 1}" for n in range(place.bank.panels)]
    rise = place.top - place.bottom
    for name in names:
        parts.append(Part(name, "panel", ("low", "high"), place.bottom, nominal, panel.name, rise))
    reverse = place.bank.piping == "reverse return"
    for near, far in pairwise(names):
        low = (near, "low"), (far, "low")
        high = ((near, "high"), (far, "high")) if reverse else ((far, "high"), (near, "high"))
        for (start, stop), header in ((low, "lower"), (high, "upper")):
            name = f"{header} header {start[0]} to {stop[0].removeprefix(place.name + ' ')}"
            pipes.append(
                Pipe(name, start, stop, panel.width, panel.header_diameter, nominal, (), "header")
            )
