"""Banks of panels: where they lie and how their headers run."""

from __future__ import annotations

from collections.abc import Sequence
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
        Its panels, but for those that the job says are of another kind.
    kinds : tuple of PanelType
        The panel of every place, whether it is there or left out.
    bottom, top : float
        Height of the lower header at the feed's end, and of the highest upper one at the return's,
        above the pool's water. The lowest end of the lower one lies at the eave. [m]
    inlet, outlet : float
        Place of the two corners along the array, banks set end to end. [m]
    pitch : float
        Of its roof. [°]
    """

    name: str
    bank: Bank
    panel: PanelType
    kinds: tuple[PanelType, ...]
    bottom: float
    top: float
    inlet: float
    outlet: float
    pitch: float

    @property
    def feed_port(self) -> Port:
        """Where water enters: the lower header of the first panel."""
        return (f"{self.name} panel {self.bank.numbers[0]}", "low")

    @property
    def return_port(self) -> Port:
        """Where it leaves: the upper header of the last panel, or of the first in direct return."""
        end = -1 if self.bank.piping == "reverse return" else 0
        return (f"{self.name} panel {self.bank.numbers[end]}", "high")

    def rise(self, number: int) -> float:
        """Height of a panel's upper header above its lower one. [m]."""
        return self.kinds[number - 1].length * sin(radians(self.pitch))

    def height(self, number: int) -> float:
        """Height of a panel's lower header above the pool's water. [m]."""
        far = _along(self.kinds, number) - _along(self.kinds, self.bank.numbers[0])
        return self.bottom + self.bank.slope * far


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
        A roof that the job does not have, or a panel that neither catalog nor job has.
    """
    roofs = {roof.name: roof for roof in job.roof}
    places = []
    along = 0.0
    for i, bank in enumerate(job.array.banks):
        where = f"array.banks[{i}]"
        panel = panel_named(bank.panel, f"{where}.panel", job.own_panel)
        if bank.roof not in roofs:
            known = ", ".join(f"'{name}'" for name in roofs)
            fault = Fault(f"{where}.roof", f"no roof is called '{bank.roof}'", known)
            raise InputError([fault])
        roof = roofs[bank.roof]
        kinds = [panel] * bank.panels
        for j, change in enumerate(bank.changed):
            if change.panel:
                field = f"{where}.changed[{j}].panel"
                kinds[change.number - 1] = panel_named(change.panel, field, job.own_panel)
        width = sum(kind.width for kind in kinds)
        first, last = (_along(kinds, bank.numbers[end]) for end in (0, -1))
        fall = bank.slope * (last - first)
        bottom = roof.eave_height - min(fall, 0.0)
        outlet = along + (width if bank.piping == "reverse return" else 0.0)
        longest = max(kinds[number - 1].length for number in bank.numbers)
        tilt = fall if bank.piping == "reverse return" else 0.0
        top = bottom + tilt + longest * sin(radians(roof.pitch))
        name = f"bank {i + 1}"
        places.append(
            BankPlace(name, bank, panel, tuple(kinds), bottom, top, along, outlet, pitch=roof.pitch)
        )
        along += width
    return tuple(places)


def _along(kinds: Sequence[PanelType], number: int) -> float:
    """Middle of a panel along the headers, from the bank's first end. [m]."""
    return sum(kind.width for kind in kinds[: number - 1]) + 0.5 * kinds[number - 1].width


def add_bank(parts: list[Part], pipes: list[Pipe], place: BankPlace, nominal: float) -> None:
    """Add a bank's panels and the stretches of header between them.

    Parameters
    ----------
    parts : list of Part
        Added to.
    pipes : list of Pipe
        Added to.
    place : BankPlace
        The bank; pipe of the header's size bridges the gap of a panel that is left out.
    nominal : float
        Nominal size of the pipe that feeds it. [m]
    """
    bank, numbers = place.bank, place.bank.numbers
    names = {number: f"{place.name} panel {number}" for number in numbers}
    for number in numbers:
        parts.append(
            Part(
                names[number],
                "panel",
                ("low", "high"),
                place.height(number),
                nominal,
                place.kinds[number - 1].name,
                place.rise(number),
                plugged=bank.plugged_at(number),
            )
        )
    reverse = bank.piping == "reverse return"
    for near, far in pairwise(numbers):
        bore = place.kinds[near - 1].header_diameter
        gap = sum(kind.width for kind in place.kinds[near : far - 1])
        length = 0.5 * (place.kinds[near - 1].width + place.kinds[far - 1].width) + gap
        low = (names[near], "low"), (names[far], "low")
        high = (names[near], "high"), (names[far], "high")
        for (start, stop), header in ((low, "lower"), (high if reverse else high[::-1], "upper")):
            name = f"{header} header {start[0]} to {stop[0].removeprefix(place.name + ' ')}"
            pipes.append(Pipe(name, start, stop, length, bore, nominal, (), "header", bank.slope))
