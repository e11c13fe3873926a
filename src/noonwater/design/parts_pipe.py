"""Pipe by size with waste and stock lengths, and the fittings along it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import ceil

from noonwater.catalog.pipe import NOMINAL_TOLERANCE
from noonwater.design.parts_headers import GAP, HeaderJoint
from noonwater.design.parts_place import Places
from noonwater.design.parts_row import CountRule, Group, PartRow
from noonwater.design.rule import percent
from noonwater.model.circuit import Circuit, Pipe

WASTE = 0.10
"""[-] Of net pipe, for cuts and mistakes: common practice, no source."""

STOCK_INCH, STOCK_METRIC = 20 * 0.3048, 6.0
"""[m] Pipe as sold, schedules 40 and 80, and metric: common practice, no source."""

NO_FITTINGS = frozenset({"entrance", "exit"})
"""Losses at the ends of a pipe; nothing is bought for them."""

FITTING_WORDS = {
    "tee run": "tee",
    "tee branch": "tee",
    "swing check": "check valve, swing",
    "ball valve": "isolation valve",
    "gate valve": "gate valve",
    "diverter": "diverter",
}
VALVE_FITTINGS = frozenset({"swing check", "ball valve", "gate valve", "diverter"})

STOCK = CountRule(
    "pipe-stock",
    f"net length of the circuit's pipes and {percent(WASTE)} for waste, in lengths of 20 ft "
    "(schedules 40 and 80) or 6 m (metric), as sold",
)
COUPLINGS = CountRule(
    "couplings", "one between two stock lengths of a run; elbows in it may save some"
)
REDUCERS = CountRule(
    "reducers", "one where a pipe meets a part of another size", "the circuit's sizes"
)
TEE_CAP = CountRule(
    "tee-cap", "an opening of a tee that no pipe joins gets a cap", "the circuit's open ports"
)


def stock_length(schedule: str) -> float:
    """Length that pipe is sold in. [m].

    Parameters
    ----------
    schedule : str
        "40", "80" or "metric".
    """
    return STOCK_METRIC if schedule == "metric" else STOCK_INCH


def pipe_rows(
    circuit: Circuit, places: Places, joints: tuple[HeaderJoint, ...], schedule: str
) -> Iterator[PartRow]:
    """List pipe and all fittings.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    places : Places
        What is there already.
    joints : tuple of HeaderJoint
        Between headers; pipe bridges the gap of a panel that is left out.
    schedule : str
        Of the job's pipe.

    Yields
    ------
    PartRow
        Pipe one row a size, fittings not yet merged.
    """
    pipes = [pipe for pipe in circuit.pipes if pipe.role != "header"]
    new = [pipe for pipe in pipes if pipe.name not in places.pipes_there]
    old = [pipe for pipe in pipes if pipe.name in places.pipes_there]
    name = "pipe, PVC-U PN10 or more" if schedule == "metric" else f"pipe, schedule {schedule}"
    for size in _sizes(new):
        same = [pipe for pipe in new if pipe.nominal == size]
        yield _pipe_row(name, same, size, stock_length(schedule))
    for size in _sizes(old):
        same = [pipe for pipe in old if pipe.nominal == size]
        length = _sum_of(pipe.length for pipe in same)
        yield PartRow(
            "already there",
            name,
            "pipe",
            length,
            unit="length",
            where=tuple(pipe.name for pipe in same if pipe.length > 0.0),
            measure="pipe",
            sizes=(size,),
            net=length,
        )
    yield from _bridges(joints, stock_length(schedule))
    for pipe in pipes:
        yield from _fittings(pipe, "already there" if pipe in old else "pipe")
    for pipe in new:
        yield _couplings(pipe, stock_length(schedule))
    yield from _reducers(circuit, places)
    yield from _tee_caps(circuit, places)


def couplings_in(pipe: Pipe, stock: float) -> int:
    """Couplings that a run of pipe takes.

    Parameters
    ----------
    pipe : Pipe
        The run.
    stock : float
        Length that pipe is sold in. [m]

    Returns
    -------
    int
        One less than its stock lengths.
    """
    return max(0, ceil(pipe.length / stock - 1e-9) - 1)


def bought(pipe: Pipe) -> Iterator[tuple[str, int]]:
    """Fittings of a pipe that are pieces, by their row of the catalog, and how many."""
    for fitting in pipe.fittings:
        if fitting.kind not in NO_FITTINGS:
            yield fitting.kind, fitting.count


def _sizes(pipes: Iterable[Pipe]) -> list[float]:
    return sorted({pipe.nominal for pipe in pipes})


def _sum_of(lengths: Iterable[float]) -> float:
    # Sorted, so that the order of the circuit's pipes moves no last digit.
    return float(sum(sorted(lengths)))


def _pipe_row(name: str, pipes: list[Pipe], size: float, stock: float) -> PartRow:
    net = _sum_of(pipe.length for pipe in pipes)
    return PartRow(
        "pipe",
        name,
        "pipe",
        net * (1.0 + WASTE),
        unit="length",
        where=tuple(pipe.name for pipe in pipes if pipe.length > 0.0),
        measure="pipe",
        sizes=(size,),
        rule=STOCK,
        net=net,
        stock=ceil(net * (1.0 + WASTE) / stock - 1e-9),
        stock_length=stock,
    )


def _bridges(joints: tuple[HeaderJoint, ...], stock: float) -> Iterator[PartRow]:
    gaps = [joint for joint in joints if joint.gap > GAP]
    for bore in sorted({min(pipe.diameter for pipe in joint.pipes) for joint in gaps}):
        same = [joint for joint in gaps if min(pipe.diameter for pipe in joint.pipes) == bore]
        net = _sum_of(joint.gap for joint in same)
        yield PartRow(
            "pipe",
            "pipe of the headers' bore, past panels left out",
            "pipe",
            net * (1.0 + WASTE),
            unit="length",
            where=tuple(pipe.name for joint in same for pipe in joint.pipes),
            measure="bore",
            sizes=(bore,),
            rule=STOCK,
            net=net,
            stock=ceil(net * (1.0 + WASTE) / stock - 1e-9),
            stock_length=stock,
        )


def _fittings(pipe: Pipe, group: Group) -> Iterator[PartRow]:
    for kind, count in bought(pipe):
        yield PartRow(
            group,
            FITTING_WORDS.get(kind, kind),
            "valve" if kind in VALVE_FITTINGS else "fitting",
            count,
            where=(pipe.name,),
            measure="pipe",
            sizes=(pipe.nominal,),
        )


def _couplings(pipe: Pipe, stock: float) -> PartRow:
    count = couplings_in(pipe, stock)
    return PartRow(
        "pipe",
        "coupling",
        "fitting",
        count,
        where=(pipe.name,),
        measure="pipe",
        sizes=(pipe.nominal,),
        rule=COUPLINGS,
    )


def _reducers(circuit: Circuit, places: Places) -> Iterator[PartRow]:
    sizes = {
        part.name: part.size
        for part in circuit.parts
        if part.kind not in ("panel", "pool", "spa", "plug")
    }
    for pipe in circuit.pipes:
        if pipe.role == "header":
            continue
        for name, _ in (pipe.start, pipe.stop):
            if name not in sizes or abs(sizes[name] - pipe.nominal) <= NOMINAL_TOLERANCE:
                continue
            old = name in places.there and pipe.name in places.pipes_there
            yield PartRow(
                "already there" if old else "pipe",
                "reducer",
                "fitting",
                1,
                where=(name,),
                measure="pipe",
                sizes=(max(sizes[name], pipe.nominal), min(sizes[name], pipe.nominal)),
                rule=REDUCERS,
            )


def _tee_caps(circuit: Circuit, places: Places) -> Iterator[PartRow]:
    used = {end for pipe in circuit.pipes for end in (pipe.start, pipe.stop)}
    for tee in circuit.of_kind("tee"):
        open_ports = [port for port in tee.ports if (tee.name, port) not in used]
        yield PartRow(
            "already there" if tee.name in places.there else "pipe",
            "cap",
            "fitting",
            len(open_ports),
            where=(tee.name,),
            measure="pipe",
            sizes=(tee.size,),
            rule=TEE_CAP,
        )
