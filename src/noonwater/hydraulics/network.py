"""A circuit in one state as a numbered network, ready for the solver."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import nan, pi
from typing import cast

import numpy as np

from noonwater.catalog import panel_named
from noonwater.hydraulics.arrays import COMBINING, DIVIDING, PLAIN, Floats, Joints, Links, Nodes
from noonwater.hydraulics.band import band_order
from noonwater.hydraulics.element import Element, elements_of
from noonwater.hydraulics.live import carrying_links, fed_links
from noonwater.hydraulics.settings import Settings, Water
from noonwater.model.circuit import Circuit, Part, Port, State

START_VELOCITY = 0.5
"""[m/s] First guess in every pipe, and `START_FLOW` [m³/s] in every part."""

START_FLOW = 1e-3


@dataclass(frozen=True)
class Network:
    """Numbered links and nodes of the part of a circuit that can carry water.

    Attributes
    ----------
    links, nodes, joints : Links, Nodes, Joints
        As the solver takes them.
    link_of : mapping of str to int
        Number of a link by its element's name.
    node_of : mapping of Port to int
        Number of a node by any port that lies on it.
    elevation : (nodes,) array
        Above the pool's water. [m]
    area : (links,) array
        Cross section; 0 where a link has none. [m²]
    guess : (links,) array
        First guess of the flow. [m³/s]
    levels : mapping of int to float
        Head of each node that stands open to the air besides the pool: a spa's water, the mouth
        of an open drain. [m]
    memo : dict
        What follows from the network's shape alone, kept for its other speeds.
    """

    links: Links
    nodes: Nodes
    joints: Joints
    link_of: Mapping[str, int]
    node_of: Mapping[Port, int]
    elevation: Floats
    area: Floats
    guess: Floats
    levels: Mapping[int, float] = field(default_factory=dict)
    memo: dict[object, object] = field(default_factory=dict, compare=False, repr=False)

    @property
    def empty(self) -> bool:
        """Whether no water can move."""
        return len(self.link_of) == 0

    def pinned_at(self, falls: Sequence[tuple[int, int]]) -> Network:
        """The same network with air at some nodes.

        Parameters
        ----------
        falls : sequence of (int, int)
            Node at atmospheric pressure, and the link that the water falls through from there.

        Returns
        -------
        Network
            With those heads known.
        """
        key = ("pinned", *falls)
        if key not in self.memo:
            nodes = number_nodes(self.links, len(self.elevation), falls, self.levels)
            for node, _ in falls:
                nodes.head[node] = self.elevation[node]
            self.memo[key] = nodes
        return self._with(self.links, cast(Nodes, self.memo[key]), {})

    def with_links(self, links: Links) -> Network:
        """The same network with other figures of its links."""
        return self._with(links, self.nodes, self.memo)

    def _with(self, links: Links, nodes: Nodes, memo: dict[object, object]) -> Network:
        # Made by name: `replace` takes thrice the time, and a search makes hundreds.
        return Network(
            links,
            nodes,
            self.joints,
            self.link_of,
            self.node_of,
            self.elevation,
            self.area,
            self.guess,
            self.levels,
            memo,
        )


def build_network(
    circuit: Circuit,
    state: State,
    water: Water,
    settings: Settings,
    shut: frozenset[str] = frozenset(),
) -> Network:
    """Number what a state of a circuit leaves able to carry water.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    state : State
        Positions and speed.
    water : Water
        What flows.
    settings : Settings
        Switches.
    shut : frozenset of str
        Names of links to shut besides.

    Returns
    -------
    Network
        Without dead ends: they carry nothing.
    """
    elements = [e for e in elements_of(circuit, state, water, settings) if e.name not in shut]
    nodes = _nodes_of_ports(circuit)
    ground = next(nodes[(p.name, p.ports[0])] for p in circuit.parts if p.kind == "pool")
    open_heads = _open_heads(circuit, nodes)
    waters = {ground, *(nodes[(p.name, p.ports[0])] for p in circuit.of_kind("spa"))}
    fed = fed_links(
        [(nodes[e.start], nodes[e.stop]) for e in elements],
        [e.kind != PLAIN for e in elements],
        waters,
    )
    elements = [elements[link] for link in fed]
    # Whatever stands open to the air closes a loop through it, as the pool does.
    ends = [
        (
            _grounded(nodes[e.start], open_heads, ground),
            _grounded(nodes[e.stop], open_heads, ground),
        )
        for e in elements
    ]
    live = [elements[link] for link in carrying_links(ends, ground)]
    numbers = {ground: 0}
    for element in live:
        for end in (element.start, element.stop):
            numbers.setdefault(nodes[end], len(numbers))
    node_of = {end: numbers[node] for end, node in nodes.items() if node in numbers}
    links = _links(live, node_of)
    link_of = {element.name: link for link, element in enumerate(live)}
    elevation = np.zeros(len(numbers))
    for part in circuit.parts:
        for port in part.ports:
            node = node_of.get((part.name, port))
            if node is not None:
                elevation[node] = port_elevation(part, port)
    area = np.array([element.area for element in live])
    levels = {numbers[node]: level for node, level in open_heads.items() if node in numbers}
    return Network(
        links=links,
        nodes=number_nodes(links, len(numbers), (), levels),
        joints=_joints(circuit, link_of, node_of),
        link_of=link_of,
        node_of=node_of,
        elevation=elevation,
        area=area,
        guess=np.where(area > 0.0, START_VELOCITY * area, START_FLOW),
        levels=levels,
    )


def _open_heads(circuit: Circuit, nodes: Mapping[Port, int]) -> dict[int, float]:
    """Head of each node open to the air at a height of its own, the pool's left out. [m]."""
    return {
        nodes[(part.name, part.ports[-1])]: part.elevation
        for part in circuit.of_kind("spa", "drain")
    }


def _grounded(node: int, open_heads: Mapping[int, float], ground: int) -> int:
    return ground if node in open_heads else node


def port_elevation(part: Part, port: str) -> float:
    """Height of a port above the pool's water.

    Parameters
    ----------
    part : Part
        The part.
    port : str
        One of its ports.

    Returns
    -------
    float
        Height. [m]
    """
    return part.elevation + (part.rise if port == part.ports[-1] else 0.0)


def _nodes_of_ports(circuit: Circuit) -> dict[Port, int]:
    """Give each port a node; ports of a tee, a breaker and the pool share one."""
    nodes: dict[Port, int] = {}
    count = 0
    for part in circuit.parts:
        joined = part.facts.joined
        for port in part.ports:
            nodes[(part.name, port)] = count
            count += 0 if joined else 1
        count += 1 if joined else 0
    return nodes


def _links(live: list[Element], node_of: Mapping[Port, int]) -> Links:
    return Links(
        start=np.array([node_of[e.start] for e in live], dtype=np.int64),
        stop=np.array([node_of[e.stop] for e in live], dtype=np.int64),
        kind=np.array([e.kind for e in live], dtype=np.int64),
        figures=np.array([e.figures for e in live], dtype=np.float64).reshape(len(live), 6),
    )


def number_nodes(
    links: Links,
    count: int,
    falls: Sequence[tuple[int, int]] = (),
    levels: Mapping[int, float] | None = None,
) -> Nodes:
    """Put the unknown heads in an order that keeps the matrix narrow.

    Parameters
    ----------
    links : Links
        The network's links; node 0 is the pool, at head 0.
    count : int
        Number of nodes.
    falls : sequence of (int, int)
        Node where air comes in, and the link below it.
    levels : mapping of int to float, optional
        Head of other nodes that is known. [m]

    Returns
    -------
    Nodes
        As the solver takes them.
    """
    pairs = set(zip(links.start.tolist(), links.stop.tolist(), strict=True))
    around: list[set[int]] = [set() for _ in range(count)]
    for start, stop in pairs:
        around[start].add(stop)
        around[stop].add(start)
    pinned = np.full(count, -1, dtype=np.int64)
    # Air at a node moves its balance to the node below, which then shares its neighbours; in a
    # chain of such nodes they are handed down all the way.
    for node, link in falls:
        pinned[node] = link
    for node, _ in falls:
        below = node
        while pinned[below] >= 0:
            below = int(links.stop[pinned[below]])
            pairs.update((below, near) for near in around[node])
    known = {0: 0.0} | dict(levels or {})
    sought = [node for node in range(count) if node not in known]
    turn = {node: number for number, node in enumerate(sought)}
    unknown = [(turn[a], turn[b]) for a, b in pairs if a in turn and b in turn and a != b]
    place, width = band_order(len(sought), unknown)
    head = np.full(count, nan)
    head[list(known)] = list(known.values())
    position = np.full(count, -1, dtype=np.int64)
    position[sought] = place
    return Nodes(head=head, position=position, pinned=pinned, width=width, free=len(sought))


def _joints(circuit: Circuit, link_of: Mapping[str, int], node_of: Mapping[Port, int]) -> Joints:
    into: dict[Port, list[str]] = {}
    out_of: dict[Port, list[str]] = {}
    diameter = {pipe.name: pipe.diameter for pipe in circuit.pipes}
    for pipe in circuit.pipes:
        if pipe.name in link_of:
            into.setdefault(pipe.stop, []).append(pipe.name)
            out_of.setdefault(pipe.start, []).append(pipe.name)
    tees, tee_areas, headers, header_areas = [], [], [], []
    for part in circuit.parts:
        if part.kind == "tee":
            ports = [(part.name, port) for port in ("run in", "run out", "branch")]
            pipes = [name for port in ports for name in into.get(port, []) + out_of.get(port, [])]
            if len(pipes) == len(ports):
                tees.append([*(link_of[name] for name in pipes), node_of[ports[0]]])
                run = max(diameter[pipes[0]], diameter[pipes[1]])
                tee_areas.append([0.25 * pi * run**2, 0.25 * pi * diameter[pipes[2]] ** 2])
        elif part.kind == "panel":
            panel = panel_named(part.catalog, own=circuit.own_panels)
            area = 0.25 * pi * panel.header_diameter**2
            for port, role in (("low", DIVIDING), ("high", COMBINING)):
                before = into.get((part.name, port), [])
                after = out_of.get((part.name, port), [])
                if len(before) <= 1 and len(after) <= 1 and before + after:
                    joint = [link_of[pipes[0]] if pipes else -1 for pipes in (before, after)]
                    headers.append([*joint, role])
                    header_areas.append(area)
    return Joints(
        tees=np.array(tees, dtype=np.int64).reshape(len(tees), 4),
        tee_areas=np.array(tee_areas, dtype=np.float64).reshape(len(tees), 2),
        headers=np.array(headers, dtype=np.int64).reshape(len(headers), 3),
        header_areas=np.array(header_areas, dtype=np.float64),
    )
