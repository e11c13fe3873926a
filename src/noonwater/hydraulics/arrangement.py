"""The job's pad and array filled into a circuit of parts and pipes.

Lengths between the pad's parts are not in a job; `SPOOL` stands for each.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise

from noonwater.catalog import filter_named, heater_named, pipe_named, pump_named
from noonwater.hydraulics.bank import BankPlace, add_bank, bank_places
from noonwater.model.circuit import Circuit, Fitting, Part, PartKind, Pipe, Port
from noonwater.model.job import Job

SPOOL = 0.5
"""[m] Pipe between neighbours on the pad: common practice, no source."""

ELBOW_SHARES = {"suction": 3, "pad": 4, "feed": 3, "roof return": 3, "return": 3}
"""Sixteenths of the job's elbows in each stretch: common practice, no source."""


TEE_PORTS = ("run in", "run out", "branch")

BREAKER = "vacuum breaker"


@dataclass
class Plan:
    """A circuit while it is being laid out."""

    diameter: float
    nominal: float
    parts: list[Part] = field(default_factory=list)
    pipes: list[Pipe] = field(default_factory=list)

    def part(
        self, name: str, kind: PartKind, ports: tuple[str, ...], elevation: float, catalog: str = ""
    ) -> None:
        """Add a part."""
        self.parts.append(Part(name, kind, ports, elevation, self.nominal, catalog))

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
        self.pipes.append(
            Pipe(name, start, stop, length, self.diameter, self.nominal, fittings, role)
        )


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
        return; elevations above the pool's water.

    Raises
    ------
    InputError
        A name that neither the catalog nor the job's roofs know.
    """
    pad = job.pad
    size = pipe_named(pad.pipe, pad.schedule)
    plan = Plan(size.diameter, size.nominal)
    elbows = share_elbows(pad.elbows)
    places = bank_places(job)
    at_pad = _pad_to_diverter(plan, job, elbows)
    feed, tie_in = _bypass(plan, job, at_pad)
    corner = _feed(plan, job, (feed, places[0]), elbows)
    top = _banks(plan, job, places, corner)
    _roof_return(plan, job, (top, tie_in), elbows)
    _return(plan, job, elbows)
    return Circuit(tuple(plan.parts), tuple(plan.pipes))


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


def _elbows(count: int) -> tuple[Fitting, ...]:
    return (Fitting("elbow 90", count),) if count else ()


def _pad_to_diverter(plan: Plan, job: Job, elbows: dict[str, int]) -> Port:
    """Pool, suction, pump, filter, its check valve, diverter; returns the diverter's solar port."""
    pad, height = job.pad, job.pad.elevation
    pump = pump_named(job.pump.pump).name
    plan.part("pool", "pool", ("return", "suction"), 0.0)
    plan.part("pump", "pump", ("in", "out"), height, pump)
    plan.part("filter", "filter", ("in", "out"), height, filter_named(pad.filter).name)
    suction = (Fitting("entrance", 1), *_elbows(elbows["suction"]))
    plan.pipe((("pool", "suction"), ("pump", "in")), pad.suction_length, "suction", suction)
    plan.pipe((("pump", "out"), ("filter", "in")), SPOOL, "pad", _elbows(elbows["pad"]))
    after: Port = ("filter", "out")
    if "after filter" in pad.check_valves:
        plan.part("filter check valve", "check valve", ("in", "out"), height, "swing")
        plan.pipe((after, ("filter check valve", "in")), SPOOL, "pad")
        after = ("filter check valve", "out")
    plan.part("diverter", "diverter", ("in", "pool", "solar"), height)
    plan.pipe((after, ("diverter", "in")), SPOOL, "pad")
    plan.part("return tee", "tee", TEE_PORTS, height)
    plan.pipe((("diverter", "pool"), ("return tee", "run in")), SPOOL, "pad")
    return ("diverter", "solar")


def _bypass(plan: Plan, job: Job, solar: Port) -> tuple[Port, Port]:
    """Where the feed starts and the roof return ends, with a hand-set bypass between or without."""
    tie_in: Port = ("return tee", "branch")
    if job.pad.arrangement == "diverter":
        return solar, tie_in
    height = job.pad.elevation
    plan.part("bypass feed tee", "tee", TEE_PORTS, height)
    plan.part("bypass valve", "bypass valve", ("in", "out"), height)
    plan.part("bypass return tee", "tee", TEE_PORTS, height)
    plan.pipe((solar, ("bypass feed tee", "run in")), SPOOL, "pad")
    plan.pipe((("bypass feed tee", "branch"), ("bypass valve", "in")), SPOOL, "pad")
    plan.pipe((("bypass valve", "out"), ("bypass return tee", "branch")), SPOOL, "pad")
    plan.pipe((("bypass return tee", "run out"), tie_in), SPOOL, "pad")
    return ("bypass feed tee", "run out"), ("bypass return tee", "run in")


def _feed(plan: Plan, job: Job, ends: tuple[Port, BankPlace], elbows: dict[str, int]) -> Port:
    """The feed to the array's low corner, with the breaker there if the job puts it there."""
    start, first = ends
    plan.part("feed corner", "tee", TEE_PORTS, first.bottom)
    corner: Port = ("feed corner", "run in")
    if job.pad.breaker == "feed":
        plan.part(BREAKER, "vacuum breaker", ("in", "out"), first.bottom, BREAKER)
        plan.pipe(((BREAKER, "out"), corner), SPOOL, "feed")
        corner = (BREAKER, "in")
    plan.pipe((start, corner), job.pad.feed_length, "feed", _elbows(elbows["feed"]), name="feed")
    return ("feed corner", "run out")


def _banks(plan: Plan, job: Job, places: tuple[BankPlace, ...], feed: Port) -> Port:
    """All banks between one feed and one return; returns the array's high corner."""
    for place in places:
        add_bank(plan.parts, plan.pipes, place, plan.nominal)
    _feed_chain(plan, places, feed)
    return _return_chain(plan, job, places)


def _feed_chain(plan: Plan, places: tuple[BankPlace, ...], feed: Port) -> None:
    """From the feed corner to the first bank, and on from bank to bank."""
    out = "branch" if len(places) > 1 else "run out"
    plan.pipe((("feed corner", out), places[0].feed_port), SPOOL, "feed")
    for previous, place in pairwise(places):
        run = abs(place.inlet - previous.inlet) + abs(place.bottom - previous.bottom)
        tee = f"{place.name} feed tee"
        last = place is places[-1]
        stop = place.feed_port if last else (tee, "run in")
        plan.pipe((feed, stop), max(run, SPOOL), "feed", name=f"feed to {place.name}")
        if not last:
            plan.part(tee, "tee", TEE_PORTS, place.bottom)
            plan.pipe(((tee, "branch"), place.feed_port), SPOOL, "feed")
            feed = (tee, "run out")


def _return_chain(plan: Plan, job: Job, places: tuple[BankPlace, ...]) -> Port:
    """From the first bank's outlet past the others; the breaker sits past the highest."""
    # Of banks equally high the last: past it the pipe goes down.
    highest = max(range(len(places)), key=lambda i: (places[i].top, i))
    out = places[0].return_port
    for i, place in enumerate(places):
        if i > 0:
            previous, tee = places[i - 1], f"{place.name} return tee"
            run = abs(place.outlet - previous.outlet) + abs(place.top - previous.top)
            plan.part(tee, "tee", TEE_PORTS, place.top)
            stop = (tee, "run in")
            plan.pipe((out, stop), max(run, SPOOL), "roof return", name=f"return to {place.name}")
            plan.pipe((place.return_port, (tee, "branch")), SPOOL, "roof return")
            out = (tee, "run out")
        if i == highest and job.pad.breaker == "high return":
            plan.part(BREAKER, "vacuum breaker", ("in", "out"), place.top, BREAKER)
            plan.pipe((out, (BREAKER, "in")), SPOOL, "roof return")
            out = (BREAKER, "out")
    return out


def _roof_return(plan: Plan, job: Job, ends: tuple[Port, Port], elbows: dict[str, int]) -> None:
    """From the array's high corner down to the pad, through its check valve if there is one."""
    top, tie_in = ends
    stop = tie_in
    fittings = _elbows(elbows["roof return"])
    if "roof return" in job.pad.check_valves:
        height = job.pad.elevation
        plan.part("roof return check valve", "check valve", ("in", "out"), height, "swing")
        stop = ("roof return check valve", "in")
        plan.pipe((("roof return check valve", "out"), tie_in), SPOOL, "pad")
    length = job.pad.roof_return_length
    plan.pipe((top, stop), length, "roof return", fittings, name="roof return")


def _return(plan: Plan, job: Job, elbows: dict[str, int]) -> None:
    """From the tie-in through the heater, if there is one, to the pool."""
    start: Port = ("return tee", "run out")
    heater = heater_named(job.pad.heater).name
    if heater != "none":
        plan.part("heater", "heater", ("in", "out"), job.pad.elevation, heater)
        plan.pipe((start, ("heater", "in")), 2 * SPOOL, "pad")
        start = ("heater", "out")
    fittings = (*_elbows(elbows["return"]), Fitting("exit", 1))
    plan.pipe((start, ("pool", "return")), job.pad.return_length, "return", fittings)
