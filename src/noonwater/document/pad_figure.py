"""The pad in one state as a figure: the drawing, its valves by number, what it shows."""

from __future__ import annotations

import re

from noonwater.document import block
from noonwater.document.language import Language, mark, sentence
from noonwater.drawing.pad_graph import Bank
from noonwater.drawing.pad_inset import PadSpeech, SpokenSubject, pad_inset
from noonwater.drawing.pad_subject import Subject
from noonwater.drawing.pad_water import PadWater
from noonwater.drawing.pad_words import (
    NAMELESS,
    NUMBERED,
    Word,
    bank_holds,
    breaker_gauge,
    least_fed,
    panel_flows,
    position_words,
)
from noonwater.model.circuit import Circuit, Part

HOLDS = {
    "carries": mark("carries water"),
    "full": mark("stands full"),
    "trapped": mark("water shut in"),
    "empty": mark("empty"),
}
STANDS = {
    "open": mark("open"),
    "shut": mark("shut"),
    "no flow": mark("no flow"),
    "draws air": mark("draws air"),
    "dry": mark("dry"),
    "to roof": mark("to the roof"),
    "to pool": mark("to the pool"),
    "to spa": mark("to the spa"),
}
SPECS = {
    "sand": mark("sand"),
    "cartridge": mark("cartridge"),
    "DE": mark("DE"),
    "gas": mark("gas"),
    "heat pump": mark("heat pump"),
    "electric": mark("electric"),
    "salt cell": mark("salt cell"),
    "feeder": mark("feeder"),
    "variable large": mark("variable large"),
    "variable medium": mark("variable medium"),
    "variable small": mark("variable small"),
    "variable mini": mark("variable mini"),
    "single medium": mark("single medium"),
    "single small": mark("single small"),
    "single mini": mark("single mini"),
    "booster cleaner": mark("booster cleaner"),
}
"""Rows of the catalog by kind of filter, heater, sanitizer and pump; others stay as named."""
PLAIN = ("", "open", "shut", "no flow")
_SHARE = re.compile(r"(\d+) % (.+)")


def pad_figure(circuit: Circuit, water: PadWater, language: Language) -> block.Figure:
    """Draw the pad in one state.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    water : PadWater
        The state.
    language : Language
        To write in.
    """
    plain = Subject(circuit, water, language.system)
    speech = _speech(plain, language)
    drawn = pad_inset(SpokenSubject(circuit, water, language.system, speech))
    valves = _valves(plain, language)
    told = "; ".join(f"{number} {name}, {stands}" for number, name, stands in valves)
    return block.Figure(drawn, f"{speech.title} {told}")


def valve_table(circuit: Circuit, water: PadWater, language: Language) -> block.Schedule:
    """List the valves by their number on the drawing, and how they stand.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    water : PadWater
        The state.
    language : Language
        To write in.
    """
    say = language.say
    rows = _valves(Subject(circuit, water, language.system), language)
    heads = (say("No."), say("Valve"), say("Stands"))
    return block.Schedule(heads, tuple(rows), ("right", "left", "left"), (0.5, 3, 2))


def stands_words(part: Part, water: PadWater, language: Language) -> str:
    """Tell how a valve stands in a state."""
    words = position_words(part, water)
    found = _SHARE.fullmatch(words)
    if found:
        return f"{found[1]} % {_stand(found[2], language)}"
    return _stand(words, language)


def _stand(words: str, language: Language) -> str:
    if words in STANDS:
        return language.say(STANDS[words])
    way, _, place = words.partition(" ")
    if way == "to" and place:
        return language.say("to the {part}", part=language.part(place))
    if way == "from" and place:
        return language.say("from the {part}", part=language.part(place))
    return words


def _valves(subject: Subject, language: Language) -> list[tuple[str, str, str]]:
    return [
        (
            str(number),
            language.part(node),
            stands_words(subject.graph.parts[node], subject.water, language),
        )
        for node, number in subject.numbers.items()
    ]


def _speech(subject: Subject, language: Language) -> PadSpeech:
    say, graph = language.say, subject.graph
    above: tuple[str, ...] = ()
    if graph.banks:
        low = min(bank.low for bank in graph.banks.values())
        high = max(bank.high for bank in graph.banks.values())
        above = (_heights(low, high, language),)
    pumps = [part for part in graph.parts.values() if part.kind == "pump"]
    return PadSpeech(
        say("The pad in state '{state}'.", state=language.part(subject.water.name)),
        {node: _label(subject, node, language) for node in graph.parts},
        {name: _bank(bank, subject, language) for name, bank in graph.banks.items()},
        above,
        tuple(_height(part.elevation, language) for part in pumps[:1]),
        language.part(graph.pool),
        lambda value, kind: _glued(value, kind, language),
    )


def _heights(low: float, high: float, language: Language) -> str:
    """Where the array lies against the pool's water."""
    say = language.say
    if low >= 0.0:
        heights = language.within(low, high, "length", 1)
        return say("array: {heights} above the pool's water", heights=heights)
    if high <= 0.0:
        heights = language.within(-high, -low, "length", 1)
        return say("array: {heights} below the pool's water", heights=heights)
    return say(
        "array: from {low} below to {high} above the pool's water",
        low=language.quantity(-low, "length", 1),
        high=language.quantity(high, "length", 1),
    )


def _height(elevation: float, language: Language) -> str:
    height = language.quantity(abs(elevation), "length", 1)
    if elevation >= 0.0:
        return language.say("pad: {height} above the pool's water", height=height)
    return language.say("pad: {height} below the pool's water", height=height)


def _label(subject: Subject, node: str, language: Language) -> tuple[Word, ...]:
    part, water = subject.graph.parts[node], subject.water
    if part.kind in NAMELESS:
        return ()
    name = Word(language.part(part.name))
    if part.kind in NUMBERED:
        stands = stands_words(part, water, language)
        if part.kind == "vacuum breaker":
            gauge = breaker_gauge(water)
            more = "" if gauge is None else f", {_glued(gauge, 'pressure', language)}"
            return name, Word(stands + more, "figure")
        plain = position_words(part, water) in PLAIN
        return (name,) if plain else (name, Word(stands, "figure"))
    spec: tuple[Word, ...] = ()
    if part.catalog and part.catalog != part.name:
        spec = (Word(language.say(SPECS.get(part.catalog, part.catalog)), "note"),)
    return name, *spec, *(Word(text, "figure") for text in _figures(part, water, language))


def _figures(part: Part, water: PadWater, language: Language) -> list[str]:
    if part.facts.driven:
        return _pump_figures(part, water, language)
    if part.kind not in ("filter", "heater", "sanitizer"):
        return []
    if not water.moves(part.name):
        return [language.say(HOLDS[water.holds(part.name)])]
    if part.kind == "filter":
        gauge = _glued(water.figures.pressure_filter, "pressure", language)
        return [language.say("{gauge} at its inlet", gauge=gauge)]
    return [_glued(abs(water.flows.get(part.name, 0.0)), "flow", language)]


def _pump_figures(part: Part, water: PadWater, language: Language) -> list[str]:
    speed, state = water.state.speed_of(part), water.figures
    if speed <= 0.0:
        return [language.say("off")]
    turns = f"{language.number(speed)}\u00a0rpm"
    if part.kind != "pump":
        return [turns]
    flow, head = _glued(state.flow, "flow", language), _glued(state.head, "head", language)
    watts = language.number(10.0 * round(state.power / 10.0))
    return [
        f"{turns}, {watts}\u00a0W",
        language.say("{flow} at {head}", flow=flow, head=head),
    ]


def _bank(bank: Bank, subject: Subject, language: Language) -> tuple[Word, ...]:
    kinds = [panel.catalog for panel in bank.panels]
    counted = " + ".join(f"{kinds.count(kind)} × {kind}" for kind in dict.fromkeys(kinds))
    flows, held = panel_flows(bank, subject.water), bank_holds(bank, subject.water)
    flow = _glued(sum(flows), "flow", language)
    if held != "carries":
        flow = language.say(HOLDS[held])
    if subject.crowded:
        return Word(bank.name.rpartition(" ")[2]), Word(str(len(kinds)), "note")
    words = [Word(sentence(language.part(bank.name))), Word(counted, "note"), Word(flow, "figure")]
    least = least_fed(bank, subject.water)
    if least is not None:
        place = language.part(bank.panels[least].name)
        least_flow = _glued(flows[least], "flow", language)
        text = language.say("least: {part}, {flow}", part=place, flow=least_flow)
        words.append(Word(text, "figure"))
    return tuple(words)


def _glued(value: float, kind: str, language: Language) -> str:
    """A figure that no line breaks from its unit."""
    digits = 0 if kind == "pressure" and language.system == "SI" else 1
    return language.quantity(value, kind, digits).replace(" ", "\u00a0")
