"""A circuit while it is being laid out: parts and pipes are added one after the other."""

from __future__ import annotations

from dataclasses import dataclass, field

from noonwater.catalog import pipe_named
from noonwater.model.circuit import KINDS, Feature, Fitting, Part, PartKind, Pipe, Port
from noonwater.model.job import Job

SPOOL = 0.5
"""[m] Pipe between neighbours on the pad: common practice, no source."""

ELBOW_SHARES = {"suction": 3, "pad": 4, "feed": 3, "roof return": 3, "return": 3}
"""Sixteenths of the job's elbows in each stretch: common practice, no source."""


@dataclass
class Plan:
    """Parts and pipes so far.

    Attributes
    ----------
    job : Job
        What is laid out.
    diameter, nominal : float
        Inside and nominal size of the pad's pipe. [m]
    elbows : dict of str to int
        Elbows not yet laid, by role of pipe.
    parts, pipes : list
        In the order in which they were laid out.
    """

    job: Job
    diameter: float
    nominal: float
    elbows: dict[str, int]
    parts: list[Part] = field(default_factory=list)
    pipes: list[Pipe] = field(default_factory=list)

    @property
    def height(self) -> float:
        """Of the pad above the pool's water. [m]."""
        return self.job.pad.elevation

    def part(
        self,
        name: str,
        kind: PartKind,
        catalog: str = "",
        elevation: float | None = None,
        ports: tuple[str, ...] = (),
        features: tuple[Feature, ...] = (),
    ) -> None:
        """Add a part; at the pad's height and with its kind's ports unless told."""
        height = self.height if elevation is None else elevation
        ports = ports or KINDS[kind].ports
        self.parts.append(Part(name, kind, ports, height, self.nominal, catalog, 0.0, features))

    def pipe(
        self,
        ends: tuple[Port, Port],
        length: float,
        role: str,
        fittings: tuple[Fitting, ...] = (),
        name: str = "",
    ) -> None:
        """Add a pipe, named after what it joins unless it has a name of its own."""
        start, stop = ends
        name = name or f"{start[0]} to {stop[0]}"
        slope = self.job.pad.slope if role in ("feed", "roof return") else 0.0
        self.pipes.append(
            Pipe(name, start, stop, length, self.diameter, self.nominal, fittings, role, slope)
        )

    def inline(
        self,
        after: Port,
        name: str,
        kind: PartKind,
        catalog: str = "",
        elevation: float | None = None,
        features: tuple[Feature, ...] = (),
        role: str = "pad",
    ) -> Port:
        """Add a part a spool behind a port; returns the port that water leaves it by."""
        self.part(name, kind, catalog, elevation, features=features)
        self.pipe((after, (name, KINDS[kind].ports[0])), SPOOL, role)
        return (name, KINDS[kind].ports[1])

    def inline_before(
        self,
        before: Port,
        name: str,
        kind: PartKind,
        catalog: str = "",
        features: tuple[Feature, ...] = (),
    ) -> Port:
        """Add a part a spool ahead of a port; returns the port that water enters it by."""
        self.part(name, kind, catalog, features=features)
        self.pipe(((name, KINDS[kind].ports[1]), before), SPOOL, "pad")
        return (name, KINDS[kind].ports[0])

    def drain(self, after: Port, name: str, elevation: float, role: str) -> Port:
        """Add a drain on a tee a spool behind a port; returns where the run goes on."""
        self._drain_on_tee(name, elevation, role)
        self.pipe((after, (f"{name} tee", "run in")), SPOOL, role)
        return (f"{name} tee", "run out")

    def drain_before(self, before: Port, name: str, elevation: float, role: str) -> Port:
        """Add a drain on a tee a spool ahead of a port; returns where the run comes in."""
        self._drain_on_tee(name, elevation, role)
        self.pipe(((f"{name} tee", "run out"), before), SPOOL, role)
        return (f"{name} tee", "run in")

    def _drain_on_tee(self, name: str, elevation: float, role: str) -> None:
        self.part(f"{name} tee", "tee", elevation=elevation)
        self.part(name, "drain", elevation=elevation)
        self.pipe(((f"{name} tee", "branch"), (name, "in")), 0.0, role)

    def take_elbows(self, role: str) -> tuple[Fitting, ...]:
        """Elbows of a stretch, once."""
        count = self.elbows.pop(role, 0)
        return (Fitting("elbow 90", count),) if count else ()


def new_plan(job: Job) -> Plan:
    """Begin a job's circuit.

    Parameters
    ----------
    job : Job
        The whole job.

    Returns
    -------
    Plan
        Empty.

    Raises
    ------
    InputError
        A size of pipe that the catalog does not have.
    """
    size = pipe_named(job.pad.pipe, job.pad.schedule)
    return Plan(job, size.diameter, size.nominal, share_elbows(job.pad.elbows))


def share_elbows(elbows: int) -> dict[str, int]:
    """Spread a count of elbows over the stretches of pipe, largest remainder first.

    Parameters
    ----------
    elbows : int
        In the whole loop.

    Returns
    -------
    dict
        Count by role.
    """
    whole = sum(ELBOW_SHARES.values())
    exact = {role: elbows * share / whole for role, share in ELBOW_SHARES.items()}
    counts = {role: int(value) for role, value in exact.items()}
    by_rest = sorted(exact, key=lambda role: counts[role] - exact[role])
    for role in by_rest[: elbows - sum(counts.values())]:
        counts[role] += 1
    return counts
