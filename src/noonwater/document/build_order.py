"""The order of work, each task with the caution that belongs to it."""

from __future__ import annotations

from noonwater.document import block
from noonwater.document.language import Language, mark
from noonwater.document.material import Material
from noonwater.document.start_steps import tests_before

ROOF = mark(
    "Falls: anchor and harness before the first step on the roof, ladder tied, nobody below. "
    "Panels are sails: none is carried in wind. Roof load, uplift and what the fixings hold in are "
    "a structural engineer's. Heat: drink, rest in the shade."
)
PAD = mark(
    "Pump off at the breaker and locked; pressure released at the filter before anything is "
    "opened. Primer and cement burn and their fumes harm: air, gloves, no flame. A gas heater is a "
    "licensed fitter's. Suction covers stay as they are rated; never draw more through them."
)
PRESSURE = mark(
    "Water under pressure, never air: a pipe that bursts with air in it throws pieces. Stand away "
    "from the filter's clamp."
)


def order_of_work(material: Material, language: Language) -> list[block.Block]:
    """Set the tasks in their order.

    Parameters
    ----------
    material : Material
        Its circuit, its array and its flow.
    language : Language
        To write in.
    """
    say = language.say
    return [
        block.Heading(say("1. Before the truck leaves")),
        _before(language),
        block.Heading(say("2. On the roof")),
        block.Caution(say(ROOF)),
        _on_roof(material, language),
        block.Heading(say("3. At the pad")),
        block.Caution(say(PAD)),
        _at_pad(material, language),
        block.Heading(say("4. Pressure test before the first start")),
        block.Caution(say(PRESSURE)),
        tests_before(material, language),
        block.Heading(say("5. Last")),
        _last(material, language),
    ]


def _before(language: Language) -> block.Steps:
    say = language.say
    return block.Steps(
        (
            block.Step(say("Permit at hand, where one is asked for."), say("the permit")),
            block.Step(say("Load by the truck list."), say("a tick at every line")),
            block.Step(
                say("Read wind and rain of the day; no panel goes up in wind."),
                say("a calm forecast"),
            ),
        )
    )


def _on_roof(material: Material, language: Language) -> block.Steps:
    say, job = language.say, material.job
    steps = [
        block.Step(
            say("Snap lines for each bank as the roof drawing and the panel schedule have it."),
            say("the banks fit with room at every edge"),
        ),
        block.Step(
            say("Set the anchors, each hole sealed as the roof's maker says."),
            say("no anchor turns or lifts"),
        ),
        block.Step(
            say("Lay the panels, join the headers, set clamps, guides and end caps."),
            say("each panel can grow: guides hold, they do not pinch"),
        ),
        block.Step(say("Pull the straps over, not tight."), say("a hand goes under")),
    ]
    if any(bank.piping == "reverse return" for bank in job.array.banks):
        steps.append(
            block.Step(
                say("Feed to the low corner, return from the far high corner of each bank."),
                say("water has the same way through every panel"),
            )
        )
    for part in material.flow.circuit.of_kind("vacuum breaker"):
        name = language.part(part.name)
        height = language.quantity(part.elevation, "length", 1)
        steps.append(
            block.Step(
                say(
                    "Set the {part} upright, {height} above the pool's water.",
                    part=name,
                    height=height,
                ),
                say("it breathes freely, nothing covers it"),
            )
        )
    steps.append(
        block.Step(
            say("Lay the pipes down with the fall of the schedule, supports as listed."),
            say("a level shows fall toward the drain, no sag holds water"),
        )
    )
    return block.Steps(tuple(steps))


def _at_pad(material: Material, language: Language) -> block.Steps:
    say, circuit = language.say, material.flow.circuit
    steps = [
        block.Step(
            say("Cut in after the filter, and before the heater where there is one."),
            say("nothing solar stands between pump and filter"),
        )
    ]
    for kind in ("check valve", "diverter", "bypass valve", "isolation valve", "drain"):
        named = [language.part(part.name) for part in circuit.of_kind(kind)]
        if named:
            see = ARROWS.get(kind, mark("handle free to turn, room for a hand"))
            steps.append(block.Step(say("Set: {parts}.", parts=", ".join(named)), say(see)))
    if material.job.pad.arrangement != "hand diverter":
        steps.append(
            block.Step(
                say("Mount controller, actuator and sensors as the wiring diagram has it."),
                say("the actuator turns the diverter both ways by its switch"),
            )
        )
        steps.append(
            block.Step(
                say("Measure each sensor and enter it in the sensor table."),
                say("ohms as the table has them at that temperature"),
            )
        )
    return block.Steps(tuple(steps))


ARROWS = {
    "check valve": mark("the arrow points the way the water goes"),
    "diverter": mark("its off side faces nothing that must stay open"),
}


def _last(material: Material, language: Language) -> block.Steps:
    say = language.say
    return block.Steps(
        (
            block.Step(
                say("Enter the control settings below."), say("the display shows each of them")
            ),
            block.Step(
                say("Start and set by the commissioning sheet."), say("that sheet is signed")
            ),
            block.Step(
                say("Photograph roof, pad and labels; take away what is left over."),
                say("the owner's sheet is with the owner"),
            ),
        )
    )
