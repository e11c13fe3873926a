"""What stands beside the parts of a pad: names, positions, figures, and the valves' numbers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from noonwater.core.units import System, in_system, show
from noonwater.drawing.pad_graph import Bank, PadGraph
from noonwater.drawing.pad_water import Hold, PadWater
from noonwater.model.circuit import Part

Sort = Literal["name", "figure", "note"]

NUMBERED = frozenset(
    ("diverter", "bypass valve", "isolation valve", "drain", "check valve", "vacuum breaker")
)
"""Kinds that carry a number on the drawing."""

NAMELESS = frozenset(("tee", "plug"))
"""Kinds that go without a name."""

HOLD_WORDS: dict[Hold, str] = {
    "carries": "carries water",
    "full": "stands full",
    "trapped": "water shut in",
    "empty": "empty",
}

BREAKER_WORDS = {"shut": "shut", "open": "draws air", "dry": "dry", "none": ""}

_PLACES = {"solar": "roof"}
"""Where a diverter's port leads to, in other words than the port's name."""


@dataclass(frozen=True)
class Word:
    """A line of a label and what it is."""

    text: str
    sort: Sort = "name"


def size_words(nominal: float) -> str:
    """Nominal size as pipe is bought, by the inch or by the millimetre, in US and SI units alike.

    Parameters
    ----------
    nominal : float
        [m]
    """
    inches = nominal / 0.0254
    quarters = round(4.0 * inches)
    if abs(4.0 * inches - quarters) < 0.004:
        return f"{quarters / 4.0:g} in"
    return f"{1000.0 * nominal:.0f} mm"


def valve_numbers(graph: PadGraph, order: Sequence[str]) -> dict[str, int]:
    """Number the valves.

    Parameters
    ----------
    graph : PadGraph
        What is drawn.
    order : sequence of str
        Its names in the order in which water meets them.

    Returns
    -------
    dict of str to int
        From 1, by name.
    """
    valves = [node for node in order if graph.kind(node) in NUMBERED]
    return {node: i + 1 for i, node in enumerate(valves)}


def node_words(
    graph: PadGraph, node: str, water: PadWater, system: System, *, brief: bool
) -> tuple[Word, ...]:
    """What stands beside a part.

    Parameters
    ----------
    graph : PadGraph
        What is drawn.
    node : str
        One of its nodes.
    water : PadWater
        The state.
    system : {"US", "SI"}
        Units.
    brief : bool
        Whether a valve's position is left to the schedule.

    Returns
    -------
    tuple of Word
        Empty for tees.
    """
    part = graph.parts.get(node)
    if part is None or part.kind in NAMELESS:
        return ()
    name = Word(part.name)
    if part.kind in NUMBERED:
        return name, *_valve_words(part, water, system, brief)
    spec = (Word(part.catalog, "note"),) if part.catalog and part.catalog != part.name else ()
    return name, *spec, *(Word(text, "figure") for text in _figures(part, water, system))


def _valve_words(part: Part, water: PadWater, system: System, brief: bool) -> tuple[Word, ...]:
    position = position_words(part, water)
    if part.kind == "vacuum breaker":
        gauge = breaker_gauge(water)
        shown = "" if gauge is None else f", {_glued(gauge, 'pressure', system)}"
        return (Word(position + shown, "figure"),)
    # What stands fully open or shut shows it by its symbol.
    plain = brief or position in ("", "open", "shut", "no flow")
    return () if plain else (Word(position, "figure"),)


def _figures(part: Part, water: PadWater, system: System) -> list[str]:
    if part.kind in ("pump", "booster pump"):
        return _pump_figures(part, water, system)
    if part.kind == "filter":
        gauge = _glued(water.figures.pressure_filter, "pressure", system)
        return [f"{gauge} in" if water.moves(part.name) else _held(part, water)]
    if part.kind in ("heater", "sanitizer"):
        flow = abs(water.flows.get(part.name, 0.0))
        return [_glued(flow, "flow", system) if water.moves(part.name) else _held(part, water)]
    return []


def _pump_figures(part: Part, water: PadWater, system: System) -> list[str]:
    speed, figures = water.state.speed_of(part), water.figures
    if speed <= 0.0:
        return ["off"]
    if part.kind == "booster pump":
        return [f"{speed:.0f}\u00a0rpm"]
    flow, head = _glued(figures.flow, "flow", system), _glued(figures.head, "head", system)
    return [f"{speed:.0f}\u00a0rpm, {figures.power:.0f}\u00a0W", f"{flow} at {head}"]


def position_words(part: Part, water: PadWater) -> str:
    """How a valve stands in a state.

    Parameters
    ----------
    part : Part
        Any part.
    water : PadWater
        The state.

    Returns
    -------
    str
        "to roof", "40 % open", "shut"; "" for what has no position.
    """
    if part.kind == "vacuum breaker":
        return BREAKER_WORDS.get(water.figures.breaker, water.figures.breaker)
    if part.kind == "check valve":
        return "open" if water.moves(part.name) else "no flow"
    if not part.facts.settable:
        return ""
    opening = water.position_of(part)
    if part.kind != "diverter":
        return _share(opening, "open", "shut")
    first, last = (_PLACES.get(port, port) for port in part.ports[-2:])
    way = "from" if part.ports[0] == "out" else "to"
    return _share(opening, f"{way} {last}", f"{way} {first}")


def _share(opening: float, full: str, none: str) -> str:
    if opening >= 0.995:
        return full
    return none if opening <= 0.005 else f"{100.0 * opening:.0f} % {full}"


def bank_words(bank: Bank, water: PadWater, system: System, *, brief: bool) -> tuple[Word, ...]:
    """What stands below a bank: its panels, its heights, its flow and its least-fed panel.

    Parameters
    ----------
    bank : Bank
        Panels on one pair of headers.
    water : PadWater
        The state.
    system : {"US", "SI"}
        Units.
    brief : bool
        Whether there is room for bare figures only: number, panels, flow.
    """
    count = len(bank.panels)
    kinds = [panel.catalog for panel in bank.panels]
    counted = " + ".join(f"{kinds.count(kind)} × {kind}" for kind in dict.fromkeys(kinds))
    flows = panel_flows(bank, water)
    total = sum(flows)
    held = bank_holds(bank, water)
    moving = held == "carries"
    flow = _glued(total, "flow", system) if moving else HOLD_WORDS[held]
    if brief:
        short = f"{in_system(total, 'flow', system):.1f}" if moving else "0"
        return Word(bank.name.rpartition(" ")[2]), Word(str(count), "note"), Word(short, "figure")
    heights = heights_words(bank.low, bank.high, system, short=True)
    words = [Word(bank.name), Word(counted, "note"), Word(heights, "note"), Word(flow, "figure")]
    least = least_fed(bank, water)
    if least is not None:
        number = panel_number(bank, least)
        words.append(Word(f"least: {number}, {_glued(flows[least], 'flow', system)}", "figure"))
    return tuple(words)


def panel_flows(bank: Bank, water: PadWater) -> tuple[float, ...]:
    """Flow through each panel of a bank. [m³/s]."""
    return tuple(water.flows.get(panel.name, 0.0) for panel in bank.panels)


def least_fed(bank: Bank, water: PadWater) -> int | None:
    """Which panel of a bank gets least, counted from 0; None where all get alike or none any."""
    flows = panel_flows(bank, water)
    if len(flows) < 2 or not any(water.moves(panel.name) for panel in bank.panels):
        return None
    low, high = min(flows), max(flows)
    return flows.index(low) if high - low > 0.001 * abs(high) else None


def panel_number(bank: Bank, index: int) -> str:
    """What a panel is called within its bank: "panel 3"."""
    name = bank.panels[index].name
    return name.removeprefix(bank.name).strip() or name


def height_words(height: float, system: System) -> str:
    """A height [m] against the pool's water: "1.0 ft above", "4.9 ft below"."""
    return f"{_glued(abs(height), 'length', system)} {'below' if height < 0.0 else 'above'}"


def heights_words(low: float, high: float, system: System, *, short: bool = False) -> str:
    """Two heights against the pool's water, the nearer first.

    Parameters
    ----------
    low, high : float
        [m]
    system : {"US", "SI"}
        Units.
    short : bool
        Whether "up" and "down" are to do for "above" and "below".
    """
    above, below = ("\u00a0up", "\u00a0down") if short else (" above", " below")
    if low < 0.0 < high:
        ends = ((low, below), (high, above))
        return " to ".join(f"{_glued(abs(h), 'length', system)}{word}" for h, word in ends)
    near, far = sorted((low, high), key=abs)
    first = show(abs(near), "length", system).rpartition(" ")[0]
    word = below if high <= 0.0 else above
    return f"{first} to {_glued(abs(far), 'length', system)}{word}"


def breaker_gauge(water: PadWater) -> float | None:
    """Static pressure at the vacuum breaker [Pa]; None where there is no water at it."""
    figures = water.figures
    return None if figures.breaker in ("none", "dry") else figures.pressure_breaker


def _held(part: Part, water: PadWater) -> str:
    return HOLD_WORDS[water.holds(part.name)]


def bank_holds(bank: Bank, water: PadWater) -> Hold:
    """What most panels of a bank hold; water that moves in one moves in the bank.

    Parameters
    ----------
    bank : Bank
        Panels on one pair of headers.
    water : PadWater
        The state.
    """
    held = [water.holds(panel.name) for panel in bank.panels]
    return "carries" if "carries" in held else max(held, key=held.count)


def _glued(value: float, kind: str, system: System) -> str:
    """A figure that no line breaks from its unit."""
    return show(value, kind, system).replace(" ", "\u00a0")
