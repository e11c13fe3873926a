"""What stays in panels and roof pipes when the pump rests: the trace's answer, for the year."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from noonwater.hydraulics.arrangement import fill_circuit
from noonwater.hydraulics.loop import loop_of
from noonwater.hydraulics.settings import Settings
from noonwater.hydraulics.states import positions
from noonwater.hydraulics.trace_levels import settle
from noonwater.hydraulics.trace_plumbing import Plumbing, Setting, plumbing_of
from noonwater.hydraulics.trace_reach import STILL
from noonwater.hydraulics.trace_standing import PartWater, parts_water
from noonwater.model.circuit import Circuit
from noonwater.model.job import Job

STANDS = 0.5
"""[-] A bank that keeps more of its water counts as full at rest, one that keeps less as drained
with that water left in it: ours."""


@dataclass(frozen=True)
class Resting:
    """Shares of water that stay while the pump rests and solar's valve stands toward the pool.

    Attributes
    ----------
    banks : tuple of float
        Of each bank's panels. [-]
    feed, roof_return : float
        Of the pipes up and down, those between banks with them. [-]
    held_by : tuple of str
        Valves that keep the panels' water in; none where it hangs or lies low.
    """

    banks: tuple[float, ...]
    feed: float
    roof_return: float
    held_by: tuple[str, ...]

    @property
    def drains(self) -> bool:
        """Whether every bank lets most of its water go."""
        return max(self.banks) <= STANDS

    @property
    def empties(self) -> bool:
        """Whether any bank does: then a start has to fill something."""
        return min(self.banks) <= STANDS

    def left_in(self, trapped_water: float) -> tuple[float, ...]:
        """Shares of each bank's water that stay, with what the job says stays in drained panels."""
        return tuple(trapped_water + (1.0 - trapped_water) * share for share in self.banks)


def resting_array(job: Job) -> Resting:
    """Find what stays in a job's array at rest.

    Parameters
    ----------
    job : Job
        The whole job.

    Returns
    -------
    Resting
        Without `array.trapped_water`, which is what the heights do not say. Kept by circuit.

    Raises
    ------
    InputError
        A name that neither the catalog nor the job knows.
    """
    circuit = fill_circuit(job)
    loop = loop_of(job, circuit, job.pool.target, Settings())
    setting = Setting(tuple(sorted(positions(job, circuit, solar=False))))
    return _resting(circuit, setting, loop.siphon_limit, len(job.array.banks))


@lru_cache(maxsize=256)
def _resting(circuit: Circuit, setting: Setting, siphon_limit: float, banks: int) -> Resting:
    plumbing = plumbing_of(circuit, setting)
    rest = settle(plumbing, siphon_limit=siphon_limit)
    water = parts_water(circuit, plumbing, rest, STILL)
    full = _litres_full(plumbing)
    panels = {part.name for part in circuit.of_kind("panel")}

    def share(names: Iterable[str]) -> float:
        wanted = set(names)
        most = sum(full.get(name, 0.0) for name in wanted)
        held = sum(entry.litres for entry in water if entry.name in wanted)
        return held / most if most > 0.0 else 0.0

    def pipes(role: str) -> float:
        return share(pipe.name for pipe in circuit.pipes if pipe.role == role)

    return Resting(
        banks=tuple(
            share(name for name in panels if name.startswith(f"bank {number + 1} panel "))
            for number in range(banks)
        ),
        feed=pipes("feed"),
        roof_return=pipes("roof return"),
        held_by=_holders(entry for entry in water if entry.name in panels),
    )


def _litres_full(plumbing: Plumbing) -> dict[str, float]:
    full: dict[str, float] = {}
    for passage in plumbing.passages:
        litres = 1000.0 * passage.volume
        full[passage.told_with] = full.get(passage.told_with, 0.0) + litres
    return full


def _holders(entries: Iterable[PartWater]) -> tuple[str, ...]:
    held = {name for entry in entries if entry.water == "trapped" for name in entry.held_by}
    return tuple(sorted(held))
