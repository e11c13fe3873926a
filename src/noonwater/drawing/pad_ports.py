"""At which side of its parts each pipe begins and ends on the sheet."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from noonwater.drawing.pad_banks import BankPlace
from noonwater.drawing.pad_graph import Edge, PadGraph
from noonwater.drawing.pad_sketch import Place
from noonwater.drawing.sheet import SheetFormat
from noonwater.drawing.strokes import Box
from noonwater.drawing.symbols import OPPOSITE, STEPS, Way

ALIGNED = 3.0
"""[drawing units] Off by less than this is in line."""


@dataclass(frozen=True)
class End:
    """Where a pipe leaves a part: place and way."""

    x: float
    y: float
    way: Way


Ends = dict[tuple[str, str], End]
"""By name of the pipe and of the node."""


def pipe_ends(
    graph: PadGraph,
    places: Mapping[str, Place],
    banks: Mapping[str, BankPlace],
    pool: Box,
    form: SheetFormat,
) -> Ends:
    """Find both ends of every pipe.

    Parameters
    ----------
    graph : PadGraph
        What is drawn.
    places : mapping of str to Place
        Of all parts but pool and banks.
    banks : mapping of str to BankPlace
        Of the banks.
    pool : Box
        The pool's.
    form : SheetFormat
        Sizes of labels.
    """
    ends: Ends = {}
    for name, bank in banks.items():
        for edge in graph.at(name):
            x, y = bank.port(edge.end_at(name))
            ends[edge.pipe.name, name] = End(x, y, _bank_way(bank, (x, y)))
    for name, place in places.items():
        for edge, way in _ways(graph, place, places, banks).items():
            ends[edge.pipe.name, name] = _end(place, way)
    for edge in graph.at(graph.pool) if graph.pool else ():
        other = ends.get((edge.pipe.name, edge.other(graph.pool)))
        beside = places.get(edge.other(graph.pool))
        x = pool.left + 12.0 if other is None else _beside(other, beside, form)
        x = min(max(x, pool.left + 6.0), pool.right - 6.0)
        ends[edge.pipe.name, graph.pool] = End(x, pool.top + 0.55 * pool.height, "up")
    return ends


def _beside(end: End, place: Place | None, form: SheetFormat) -> float:
    """A pipe that leaves sideways drops a little off its part and past its label."""
    if end.way in ("up", "down") or place is None:
        return end.x
    label = place.label_box(form)
    if end.way == "left":
        return min(end.x - 14.0, label.left - 8.0 if label else end.x)
    return max(end.x + 14.0, label.right + 8.0 if label else end.x)


def _bank_way(bank: BankPlace, at: tuple[float, float]) -> Way:
    if at[0] <= bank.box.left:
        return "left"
    if at[0] >= bank.box.right:
        return "right"
    return "down" if at[1] >= bank.box.bottom - 1.0 else "up"


def _end(place: Place, way: Way) -> End:
    dx, dy = STEPS[way]
    if place.kind in ("tee", "vacuum breaker", "plug"):
        return End(place.x, place.y, way)
    return End(place.x + dx * place.half_width, place.y + dy * place.half_height, way)


def _ways(
    graph: PadGraph,
    place: Place,
    places: Mapping[str, Place],
    banks: Mapping[str, BankPlace],
) -> dict[Edge, Way]:
    """Sides of a part at which its pipes are joined, no two at one side while there are four."""
    edges = graph.at(place.node)
    ports = graph.parts[place.node].ports
    found: dict[Edge, Way] = {}
    if len(ports) <= 2 and not graph.parts[place.node].facts.joined:
        for edge in edges:
            last = edge.end_at(place.node)[1] == ports[-1] and len(ports) == 2
            way = place.axis if last else OPPOSITE[place.axis]
            if way not in found.values():
                found[edge] = way
    rest = [edge for edge in edges if edge not in found]
    shut = place.vent if place.kind == "vacuum breaker" else ""
    wishes = {edge: _wishes(graph, edge, place, places, banks) for edge in rest}
    for edge in sorted(rest, key=lambda edge: wishes[edge][1]):
        free = [way for way in wishes[edge][0] if way not in (*found.values(), shut)]
        found[edge] = free[0] if free else wishes[edge][0][0]
    return found


def _wishes(
    graph: PadGraph,
    edge: Edge,
    place: Place,
    places: Mapping[str, Place],
    banks: Mapping[str, BankPlace],
) -> tuple[list[Way], int]:
    """Sides in the order in which a pipe would like them, and how much it depends on the first."""
    other = edge.other(place.node)
    if other in banks:
        x, y = banks[other].port(edge.end_at(other))
    elif other in places:
        x, y = places[other].x, places[other].y
    else:
        x, y = place.x, place.y + 1000.0
    dx, dy = x - place.x, y - place.y
    across: Way = "right" if dx > 0.0 else "left"
    along: Way = "down" if dy > 0.0 else "up"
    if abs(dx) < ALIGNED:
        return [along, across, OPPOSITE[across], OPPOSITE[along]], 0
    if abs(dy) < ALIGNED:
        return [across, along, OPPOSITE[along], OPPOSITE[across]], 0
    return [across, along, OPPOSITE[along], OPPOSITE[across]], 1
