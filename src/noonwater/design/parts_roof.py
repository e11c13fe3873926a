"""What the array takes: panels, connectors, end caps, hold-downs."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from noonwater.catalog import PanelType
from noonwater.design.parts_headers import HeaderJoint, side_by_side
from noonwater.design.parts_place import Places
from noonwater.design.parts_row import CountRule, PartRow
from noonwater.model.circuit import Circuit

STRAP_EVERY = 5 * 0.3048
STRAP_END = 0.15
HEADER_ENDS = 2

END_CAP = CountRule(
    "header-end-cap",
    "a panel's headers have two openings each; one that neither panel nor pipe joins gets a cap",
    "geometry of a panel with open headers",
)
HOLD_DOWN = CountRule(
    "hold-down",
    "one strap across the panels for each 5 ft (1.5 m) of their length begun, less one, at least "
    "one; 6 in (0.15 m) more at each end; an anchor at every edge of a panel. Maker, wind and "
    "local code decide",
)
HEADER_CLAMP = CountRule(
    "header-clamp",
    "one clamp a panel on the upper header and one loose guide a panel on the lower, so that "
    "panels can grow in the sun. Maker, wind and local code decide",
)


def roof_rows(
    circuit: Circuit,
    places: Places,
    rows: dict[str, PanelType],
    joints: tuple[HeaderJoint, ...],
) -> Iterator[PartRow]:
    """List panels and what joins, closes and holds them.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    places : Places
        What is there already.
    rows : dict
        Row by name of the panel.
    joints : tuple of HeaderJoint
        Between headers.

    Yields
    ------
    PartRow
        Not yet merged.
    """
    for panel in circuit.of_kind("panel"):
        row = rows[panel.name]
        old = panel.name in places.there
        name = f"panel, {row.name}{', with plugged tubes' if old else ''}"
        yield PartRow(
            "already there" if old else "roof",
            name,
            "panel",
            1,
            where=(panel.name,),
            measure="panel",
            sizes=(row.width, row.length),
        )
    yield from _connectors(circuit, rows, joints)
    yield from _caps(circuit, rows)
    yield from _hold_downs(circuit, places, rows, joints)


def _connectors(
    circuit: Circuit, rows: dict[str, PanelType], joints: tuple[HeaderJoint, ...]
) -> Iterator[PartRow]:
    for joint in joints:
        bores = tuple(sorted((rows[name].header_diameter for name, _ in joint.ends), reverse=True))
        names = tuple(name for name, _ in joint.ends)
        if joint.plain:
            yield _connector("panel-to-panel connector", tuple(dict.fromkeys(bores)), names)
            continue
        for name in names:
            yield _connector("panel-to-pipe connector", (rows[name].header_diameter,), (name,))
    for pipe in circuit.pipes:
        for name, _ in (pipe.start, pipe.stop):
            if pipe.role != "header" and name in rows:
                bore = (rows[name].header_diameter,)
                yield _connector("panel-to-pipe connector", bore, (name,))


def _connector(name: str, bores: tuple[float, ...], where: tuple[str, ...]) -> PartRow:
    return PartRow("roof", name, "connector", 1, where=where, measure="bore", sizes=bores)


def _caps(circuit: Circuit, rows: dict[str, PanelType]) -> Iterator[PartRow]:
    used = [end for pipe in circuit.pipes for end in (pipe.start, pipe.stop)]
    for panel in circuit.of_kind("panel"):
        open_ends = sum(
            max(0, HEADER_ENDS - used.count((panel.name, port))) for port in panel.ports
        )
        yield PartRow(
            "roof",
            "header end cap",
            "connector",
            open_ends,
            where=(panel.name,),
            measure="bore",
            sizes=(rows[panel.name].header_diameter,),
            rule=END_CAP,
        )


def strap_lines(length: float) -> int:
    """Straps across a panel.

    Parameters
    ----------
    length : float
        Of the panel. [m]

    Returns
    -------
    int
        By `HOLD_DOWN`.
    """
    return max(1, ceil(length / STRAP_EVERY - 1e-6) - 1)


def _hold_downs(
    circuit: Circuit,
    places: Places,
    rows: dict[str, PanelType],
    joints: tuple[HeaderJoint, ...],
) -> Iterator[PartRow]:
    for run in side_by_side(circuit, joints):
        new = [panel for panel in run if panel.name not in places.there]
        if not new:
            continue
        where = tuple(panel.name for panel in new)
        lines = {panel.name: strap_lines(rows[panel.name].length) for panel in new}
        most = max(lines.values())
        across = sorted(lines[panel.name] * rows[panel.name].width for panel in new)
        length = sum(across) + 2 * STRAP_END * most
        anchors = sum(lines.values()) + most
        yield PartRow(
            "roof",
            "hold-down strap",
            "hold-down",
            length,
            unit="length",
            where=where,
            rule=HOLD_DOWN,
            net=length,
        )
        yield PartRow("roof", "strap anchor", "hold-down", anchors, where=where, rule=HOLD_DOWN)
        for name in ("upper header clamp", "lower header guide"):
            yield PartRow("roof", name, "hold-down", len(new), where=where, rule=HEADER_CLAMP)


def roof_penetrations(rows: tuple[PartRow, ...]) -> int:
    """Count what is screwed to the roof.

    Parameters
    ----------
    rows : tuple of PartRow
        The whole list.

    Returns
    -------
    int
        Anchors, clamps and guides; supports of the pipes come besides.
    """
    held = [row for row in rows if row.kind == "hold-down" and row.unit == "each"]
    return int(sum(row.quantity for row in held))
