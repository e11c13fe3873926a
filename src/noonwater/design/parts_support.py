"""What holds the pipe and joins it: supports by spacing, cement and primer by joints."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import ceil

from noonwater.catalog import CatalogUse, support_row, support_spacing
from noonwater.design.parts_pipe import bought, couplings_in, stock_length
from noonwater.design.parts_place import LINES_UP, Places
from noonwater.design.parts_row import CountRule, PartRow
from noonwater.design.parts_valves import VALVES
from noonwater.model.circuit import Circuit, Pipe

WARM_UP, WARM_PAD = 60.0, 340.0 / 9.0
"""[°C] That supports are spaced for: pipe in the sun with water standing, up to the end of PVC's
rating; pipe at the pad, 100 °F. Ours."""

CAN_INCH, CAN_METRIC = 0.473176473, 0.5
"""[L] A can of cement or primer: a US pint; 500 mL."""

JOINTS_A_PINT = (
    (0.01905, 80.0),
    (0.0254, 70.0),
    (0.03175, 50.0),
    (0.0381, 35.0),
    (0.0508, 20.0),
    (0.0762, 15.0),
    (0.1016, 10.0),
    (0.1524, 5.0),
)
"""Nominal size [m] and sockets that a US pint of cement joins: from memory."""

PRIMER_SHARE = 0.5

SUPPORTS = CountRule(
    "pipe-supports",
    "all pipe of a line, feed, roof return or pad, over the greatest distance between supports, "
    "and one more: feed and roof return at 140 °F (60 °C), pad at 100 °F (38 °C), never more than "
    "4 ft (1.2 m)",
    "published support spacing table of PVC pipe, 1 1/2 and 2 in read, other sizes from memory; "
    "4 ft: International Residential Code 2018, table P2605.1, row of ABS read, of PVC from memory",
)
VALVE_SUPPORT = CountRule(
    "valve-supports",
    "one beside every valve and booster pump that is new, which carries its weight",
    "a pipe maker's manual, maker not named, read as an excerpt: heavy parts are held directly",
)
CEMENT = CountRule(
    "cement",
    "sockets of new pipe, of fittings along it and couplings, over the joints that a can makes "
    "(2 in: 20 a pint, from memory); primer half as much",
)


def support_rows(circuit: Circuit, places: Places, schedule: str) -> Iterator[PartRow]:
    """List pipe supports, cement and primer.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    places : Places
        What is there already.
    schedule : str
        Of the job's pipe.

    Yields
    ------
    PartRow
        Not yet merged.
    """
    new = [
        pipe
        for pipe in circuit.pipes
        if pipe.role != "header" and pipe.name not in places.pipes_there
    ]
    for role, size in sorted({(pipe.role, pipe.nominal) for pipe in new}):
        same = [pipe for pipe in new if (pipe.role, pipe.nominal) == (role, size)]
        yield _supports(same, schedule)
    for part in circuit.parts:
        if part.name in places.there or part.kind not in VALVES | {"booster pump"}:
            continue
        yield PartRow(
            "supports",
            "pipe support beside a valve",
            "support",
            1,
            where=(part.name,),
            measure="pipe",
            sizes=(part.size,),
            rule=VALVE_SUPPORT,
        )
    yield from _cement(circuit, places, new, schedule)


def _supports(pipes: list[Pipe], schedule: str) -> PartRow:
    first = pipes[0]
    spacing = support_spacing(
        first.nominal, schedule, WARM_UP if first.role in LINES_UP else WARM_PAD
    )
    length = sum(sorted(pipe.length for pipe in pipes))
    return PartRow(
        "supports",
        "pipe support",
        "support",
        ceil(length / spacing - 1e-9) + 1 if length > 0.0 else 0,
        where=tuple(pipe.name for pipe in pipes if pipe.length > 0.0),
        measure="pipe",
        sizes=(first.nominal,),
        rule=SUPPORTS,
        spacing=spacing,
    )


def support_uses(rows: tuple[PartRow, ...], schedule: str) -> tuple[CatalogUse, ...]:
    """List the rows of the support table that a parts list leans on.

    Parameters
    ----------
    rows : tuple of PartRow
        The list.
    schedule : str
        Of the job's pipe.

    Returns
    -------
    tuple of CatalogUse
        Each once.
    """
    found = {}
    for row in rows:
        for warmth in (WARM_UP, WARM_PAD) if row.spacing else ():
            if support_spacing(row.sizes[0], schedule, warmth) != row.spacing:
                continue
            used = support_row(row.sizes[0], schedule, warmth)
            name = f"{1000 * used.nominal:g} mm, schedule {used.schedule}, {used.temp:.0f} °C"
            found[name] = CatalogUse("support", name, used.memory, used.source)
    return tuple(found.values())


def pipe_sockets(pipe: Pipe, panels: frozenset[str], stock: float) -> int:
    """Sockets that a pipe is cemented into.

    Parameters
    ----------
    pipe : Pipe
        New pipe.
    panels : frozenset of str
        Names of panels: there a connector clamps, and nothing is cemented.
    stock : float
        Length that pipe is sold in. [m]

    Returns
    -------
    int
        One at each end, one in all where it has no length; two a fitting and a coupling.
    """
    ends = sum(name not in panels for name, _ in (pipe.start, pipe.stop))
    along = sum(count for _, count in bought(pipe)) + couplings_in(pipe, stock)
    return (ends if pipe.length > 0.0 else min(ends, 1)) + 2 * along


def _cement(circuit: Circuit, places: Places, new: list[Pipe], schedule: str) -> Iterator[PartRow]:
    panels = frozenset(part.name for part in circuit.of_kind("panel"))
    stock = stock_length(schedule)
    volumes = sorted(
        pipe_sockets(pipe, panels, stock) * cement_a_socket(pipe.nominal) for pipe in new
    )
    can = CAN_METRIC if schedule == "metric" else CAN_INCH
    size = "500 mL can" if schedule == "metric" else "1 pint can"
    for name, share in (("solvent cement", 1.0), ("primer", PRIMER_SHARE)):
        cans = ceil(share * sum(volumes) / can - 1e-9)
        yield PartRow("supports", f"{name}, {size}", "cement", cans, where=("pipe",), rule=CEMENT)


def cement_a_socket(nominal: float) -> float:
    """Cement that a socket takes. [L].

    Parameters
    ----------
    nominal : float
        Size of the pipe. [m]

    Returns
    -------
    float
        By `JOINTS_A_PINT`; between two sizes in a straight line, ours. [L]
    """
    taken = [(size, CAN_INCH / joints) for size, joints in JOINTS_A_PINT]
    if nominal <= taken[0][0]:
        return taken[0][1]
    for (small, less), (large, more) in pairwise(taken):
        if nominal <= large:
            return less + (more - less) * (nominal - small) / (large - small)
    return taken[-1][1]
