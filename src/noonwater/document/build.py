"""The build set: what a crew needs to build the system, in the order of the work."""

from __future__ import annotations

from noonwater.document import block
from noonwater.document.build_order import order_of_work
from noonwater.document.build_parts import (
    labour_table,
    panel_schedule,
    pipe_schedule,
    truck_list,
)
from noonwater.document.build_wiring import sensor_table, wiring_blocks
from noonwater.document.language import Language, mark, sentence
from noonwater.document.material import Material
from noonwater.document.pad_figure import pad_figure, valve_table
from noonwater.document.roof_figure import roof_figure
from noonwater.document.set_table import set_table
from noonwater.drawing.pad_water import PadWater
from noonwater.hydraulics.flow import StateFlow

INTRO = mark(
    "Build to this set, to the makers' instructions and to local code; where they differ, stop and "
    "ask. Cautions stand at the tasks they belong to."
)


def build_paper(material: Material, language: Language) -> block.Paper:
    """Write the build set.

    Parameters
    ----------
    material : Material
        The job with its parts, its flow and its trace.
    language : Language
        To write in.
    """
    say = language.say
    blocks: list[block.Block] = [
        block.Paragraph(say(INTRO)),
        *_unmended(material, language),
        block.Heading(say("The roof")),
        roof_figure(material.job, language),
        panel_schedule(material, language),
        block.Heading(say("Pipes that are laid")),
        pipe_schedule(material, language),
        _states(material, language),
        *_pads(material, language),
        block.PageBreak(),
        block.Heading(say("Truck list")),
        *truck_list(material, language),
        block.PageBreak(),
        block.Heading(say("Order of work")),
        *order_of_work(material, language),
        block.Heading(say("Labour")),
        block.Together(
            (
                *labour_table(material, language),
                block.Signatures((say("built by, date"), say("checked by, date"))),
            )
        ),
        block.PageBreak(),
        block.Heading(say("Wiring")),
        *wiring_blocks(material, language),
        block.Heading(say("Control settings")),
        set_table(material.job, language),
        block.Heading(say("Sensor table")),
        *sensor_table(material, language),
    ]
    return block.Paper("build", say("Build set"), tuple(blocks))


def _unmended(material: Material, language: Language) -> list[block.Block]:
    """A design with faults is not built: say so on the paper that a crew builds by."""
    count = sum(finding.severity == "fault" for finding in material.findings)
    if not count:
        return []
    text = (
        mark(
            "Not to be built yet: the check of this design finds a fault. The office mends it and "
            "prints this set anew."
        )
        if count == 1
        else mark(
            "Not to be built yet: the check of this design finds {count} faults. The office mends "
            "them and prints this set anew."
        )
    )
    return [block.Caution(language.say(text, count=str(count)))]


def _pads(material: Material, language: Language) -> list[block.Block]:
    """A drawing for each way that the water goes, with its valves beside it."""
    circuit = material.flow.circuit
    return [
        block.Together(
            (
                block.Heading(
                    language.say("The pad: {state}", state=sentence(language.part(water.name)))
                ),
                pad_figure(circuit, water, language),
                valve_table(circuit, water, language),
            )
        )
        for water in unlike(material)
    ]


def unlike(material: Material) -> list[PadWater]:
    """States that differ by a valve or by where water goes, each drawn once.

    Parameters
    ----------
    material : Material
        Its states.

    Returns
    -------
    list of PadWater
        Those that run solar first, without priming where that is solar at another speed.
    """
    found: dict[tuple[object, ...], PadWater] = {}

    def place(state: StateFlow) -> tuple[bool, ...]:
        return state.rpm <= 0.0, not state.solar, state.name.startswith("priming")

    states = sorted(material.flow.states, key=place)
    for state in states:
        water = material.pad_water(state.name)
        circuit = material.flow.circuit
        stands = tuple(water.position_of(part) for part in circuit.parts if part.facts.settable)
        moves = tuple(water.holds(part.name) for part in circuit.parts)
        found.setdefault((stands, moves, state.breaker), water)
    return list(found.values())


def _states(material: Material, language: Language) -> block.Block:
    say = language.say
    rows = tuple(_state(state, language) for state in material.flow.states if state.rpm > 0.0)
    heads = (
        say("State"), say("Speed"), say("Flow"), say("On the roof"), say("Gauge"), say("Power"),
    )  # fmt: skip
    figures: list[block.Side] = ["right"] * 5
    table = block.Schedule(heads, rows, ("left", *figures), (2.2, 1.2, 1.2, 1.2, 1, 1))
    return block.Together((block.Heading(say("All states in figures")), table))


def _state(state: StateFlow, language: Language) -> tuple[str, ...]:
    digits = 0 if language.system == "US" else 1
    roof = language.quantity(state.array_flow, "flow", digits) if state.solar else "–"
    return (
        sentence(language.part(state.name)),
        f"{language.number(state.rpm)} rpm",
        language.quantity(state.flow, "flow", digits),
        roof,
        language.quantity(max(state.pressure_filter, 0.0), "pressure"),
        language.quantity(10.0 * round(state.power / 10.0), "power"),
    )
