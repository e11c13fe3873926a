"""Truck list, labour hours, schedules of pipes and panels."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace

from noonwater.catalog import panel_named
from noonwater.core.units import in_system
from noonwater.design.money_parts import Pricing
from noonwater.design.parts_pipe import FITTING_WORDS, bought
from noonwater.design.parts_row import Group, PartRow
from noonwater.document import block
from noonwater.document.language import Language, mark, sentence
from noonwater.document.material import Material
from noonwater.document.part_words import part_size, part_words, quantity_words, remark_words
from noonwater.drawing.pad_words import size_words
from noonwater.model.circuit import Pipe
from noonwater.model.plant import Bank

HOUR = 3600.0
TITLES: dict[Group, str] = {
    "pad": mark("At the pad"),
    "roof": mark("On the roof and on the way up"),
    "pipe": mark("Pipe and fittings"),
    "supports": mark("Supports, cement and primer"),
}
PIPING = {
    "reverse return": mark("feed low, return at the far high corner"),
    "direct return": mark("feed and return at the same end"),
}
TOOLS = mark(
    "Besides, as common practice has it: harnesses with their anchors and ropes, ladder and its "
    "tie, string line and level, drill and sealant for the roof, pipe cutter, test pump with "
    "gauge, thermometer, ohmmeter, gloves, water to drink."
)


def truck_list(material: Material, language: Language) -> list[block.Block]:
    """List what is loaded, by place, with room for a tick.

    Parameters
    ----------
    material : Material
        Its parts list.
    language : Language
        To write in.
    """
    say = language.say
    heads = (say("Part"), say("Size"), say("Quantity"), say("Loaded"))
    sides: tuple[block.Side, ...] = ("left", "left", "right", "left")
    tables = [
        block.Schedule(heads, tuple(rows), sides, (4, 1.6, 1.3, 0.8), say(title))
        for group, title in TITLES.items()
        if (rows := _loaded(material.parts, group, language))
    ]
    note = say(
        "Counted from the circuit, by rules of common practice where it does not show them; pipe "
        "with its waste. What is already there (pump, filter, heater, pipes to and from the pool) "
        "is not listed. The same list with formulas for prices: parts.xlsx."
    )
    return [*tables, block.Paragraph(note, "small"), block.Paragraph(say(TOOLS))]


def _loaded(parts: Iterable[PartRow], group: Group, language: Language) -> list[tuple[str, ...]]:
    """Rows of a place; one thing that several rules ask for stands once."""
    alike: dict[tuple[str, ...], PartRow] = {}
    for row in parts:
        if row.group != group:
            continue
        cells = _part(row, language)
        first = alike.get(cells[:2])
        same = first is not None and first.unit == row.unit == "each"
        quantity = row.quantity + (first.quantity if first is not None and same else 0.0)
        alike[cells[:2]] = replace(row, quantity=quantity)
    return [_part(row, language) for row in alike.values()]


def _part(row: PartRow, language: Language) -> tuple[str, ...]:
    remark = remark_words(row, language)
    name = sentence(part_words(row, language)) + (f" ({remark})" if remark else "")
    return name, part_size(row, language), quantity_words(row, language), ""


def labour_table(material: Material, language: Language) -> list[block.Block]:
    """Sum the hours that the price list gives by place, or leave room to write them.

    Parameters
    ----------
    material : Material
        Its priced parts and its offer.
    language : Language
        To write in.
    """
    say = language.say
    pricing = material.pricing
    rows = [
        (say(title), _hours(pricing, group, language))
        for group, title in TITLES.items()
        if any(row.group == group for row in material.parts)
    ]
    once = None if pricing is None else _sum(p.hours for p in pricing.priced if p.part is None)
    more = material.job.money.offer.extra_hours
    rows.append((say("once a job: permit and the like"), _shown(once, language)))
    rows.append((say("other work"), _shown(more if pricing or more else None, language)))
    total = "" if pricing is None else _shown(pricing.hours + more, language)
    if pricing is not None and pricing.unpriced:
        total = say("from {hours}", hours=total)
    rows.append((say("hours of one worker in all"), total))
    heads = (say("Work"), say("Hours"), say("Taken"))
    table = block.Schedule(
        heads, tuple((*row, "") for row in rows), ("left", "right", "left"), (3, 1, 1), total=True
    )
    text = mark("Hours as the price list has them for each part, for one worker.")
    if pricing is None:
        text = mark("No price list is told, so no hours are known: write them in.")
    elif pricing.unpriced:
        text = mark(
            "Hours as the price list has them, for one worker. It has no row for some parts of "
            "the truck list: their hours come on top."
        )
    return [table, block.Paragraph(say(text), "small")]


def _hours(pricing: Pricing | None, group: Group, language: Language) -> str:
    if pricing is None:
        return ""
    found = [p.hours for p in pricing.priced if p.part is not None and p.part.group == group]
    known = _shown(_sum(found), language)
    if not any(each.part.group == group for each in pricing.unpriced):
        return known
    return language.say("from {hours}", hours=known) if _sum(found) > 0.0 else ""


def _sum(hours: Iterable[float]) -> float:
    return float(sum(hours))


def _shown(seconds: float | None, language: Language) -> str:
    return "" if seconds is None else language.number(seconds / HOUR, 1)


def pipe_schedule(material: Material, language: Language) -> block.Schedule:
    """List the pipes that are laid: size, length, elbows, fall.

    Parameters
    ----------
    material : Material
        Its circuit.
    language : Language
        To write in.
    """
    say = language.say
    there = {name for row in material.parts if row.group == "already there" for name in row.where}
    pipes = [
        pipe
        for pipe in material.flow.circuit.pipes
        if pipe.role != "header" and pipe.length > 0.0 and pipe.name not in there
    ]
    short = Counter((p.nominal, p.length) for p in pipes if p.role == "pad" and not p.fittings)
    rows = tuple(_pipe(pipe, language) for pipe in pipes if pipe.role != "pad" or pipe.fittings)
    rows += tuple(_short(*piece, count, language) for piece, count in short.items())
    heads = (say("Pipe"), say("Size"), say("Length"), say("Fittings on its way"), say("Fall"))
    sides: tuple[block.Side, ...] = ("left", "left", "right", "left", "right")
    return block.Schedule(heads, rows, sides, (3, 1, 1.1, 2.2, 1.2))


def _short(nominal: float, length: float, count: int, language: Language) -> tuple[str, ...]:
    """Pieces between neighbours at the pad, which are cut to what the wall asks for."""
    name = (
        language.say("Between parts at the pad, a piece of about")
        if count == 1
        else language.say("Between parts at the pad, {count} pieces of about", count=str(count))
    )
    return name, size_words(nominal), language.quantity(length, "length", 1), "", ""


def _pipe(pipe: Pipe, language: Language) -> tuple[str, ...]:
    fittings = ", ".join(
        f"{count} × {language.part(FITTING_WORDS.get(kind, kind))}" for kind, count in bought(pipe)
    )
    fall = ""
    if pipe.role in ("feed", "roof return"):
        fall = f"{language.number(100.0 * pipe.slope, 1)} %"
    return (
        sentence(language.part(pipe.name)),
        size_words(pipe.nominal),
        language.quantity(pipe.length, "length", 1),
        fittings,
        fall,
    )


def panel_schedule(material: Material, language: Language) -> block.Schedule:
    """List the banks: plane, panels, size, way of the water, fall of the headers, flow.

    Parameters
    ----------
    material : Material
        Its job and its flow while solar runs.
    language : Language
        To write in.
    """
    say, state = language.say, material.solar_state
    flows = state.bank_flows if state is not None else ()
    rows = []
    for number, bank in enumerate(material.job.array.banks):
        flow = flows[number] if number < len(flows) else None
        rows.append(_bank(material, number, bank, flow, language))
    heads = (
        say("Bank"), say("Plane"), say("Panels"), say("Width × length"), say("Piping"),
        say("Headers fall to the feed"), say("Flow"),
    )  # fmt: skip
    sides: tuple[block.Side, ...] = ("right", "left", "left", "left", "left", "right", "right")
    return block.Schedule(heads, tuple(rows), sides, (0.6, 1.2, 1.6, 1.6, 2.4, 1.3, 1.1))


def _bank(
    material: Material, number: int, bank: Bank, flow: float | None, language: Language
) -> tuple[str, ...]:
    panel = panel_named(bank.panel, own=material.job.own_panel)
    digits = 1 if language.system == "US" else 2
    across = in_system(len(bank.numbers) * panel.width, "length", language.system)
    width = language.number(across, digits)
    fall = f"{language.number(100.0 * bank.slope, 1)} %" if bank.slope else language.say("level")
    flow_digits = 0 if language.system == "US" else 1
    return (
        str(number + 1),
        bank.roof,
        f"{len(bank.numbers)} × {bank.panel}",
        f"{width} × {language.quantity(panel.length, 'length', digits)}",
        language.say(PIPING[bank.piping]),
        fall,
        "" if flow is None else language.quantity(flow, "flow", flow_digits),
    )
