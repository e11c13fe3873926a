"""The steps of a first start: pressure test, what must stand right, fill, purge, turn to solar."""

from __future__ import annotations

from noonwater.design.expected_readings import pad_pressure_at_start
from noonwater.document import block
from noonwater.document.hand_words import moves_words, seen_words
from noonwater.document.language import Language, sentence
from noonwater.document.material import Material
from noonwater.model.circuit import Part

TEST_MINUTES = 15
"""[min] Common practice, no source; local code may ask for more."""


def tests_before(material: Material, language: Language) -> block.Steps:
    """Set what is done before the pump turns: the pressure test, then all that must stand right.

    Parameters
    ----------
    material : Material
        Its flow and its circuit.
    language : Language
        To write in.
    """
    say, circuit = language.say, material.flow.circuit
    steps = [*_pressure_test(material, language)]
    if drains := circuit.of_kind("drain"):
        named = ", ".join(language.part(part.name) for part in drains)
        steps.append(block.Step(say("Shut: {parts}.", parts=named), say("nothing drips")))
    if valves := _on_roof_pipes(material):
        named = ", ".join(language.part(part.name) for part in valves)
        steps.append(block.Step(say("Open: {parts}.", parts=named), say("handles along the pipe")))
    if checks := circuit.of_kind("check valve"):
        named = ", ".join(language.part(part.name) for part in checks)
        do = say("Look at the arrow on each check valve: {parts}.", parts=named)
        steps.append(block.Step(do, say("the arrow points the way the water goes")))
    steps.append(
        block.Step(
            say("A licensed electrician signs for breakers, bonding and the motor's turning."),
            say("the signature"),
        )
    )
    return block.Steps(tuple(steps))


def _on_roof_pipes(material: Material) -> list[Part]:
    """Isolation valves between pad and roof; a cleaner's or a spa's stand as their state wants."""
    circuit = material.flow.circuit
    return [
        part
        for part in circuit.of_kind("isolation valve")
        if {pipe.role for pipe in circuit.pipes_at(part.name)} & {"feed", "roof return"}
    ]


def _pressure_test(material: Material, language: Language) -> list[block.Step]:
    say, targets = language.say, material.flow.targets
    if targets is None:
        return []
    start = targets.start
    if not start.within:
        do = say(
            "Do not test and do not start: a start puts {most} on the panels, they bear {limit}. "
            "Mend that first.",
            most=_pressure(max(start.standing, start.flowing), language),
            limit=_pressure(start.limit, language),
        )
        return [block.Step(do)]
    do = say(
        "Test the pipes to the roof and back with water, never with air: with a test pump, "
        "{pressure} at the pad for {minutes} minutes, and no more than {limit} at any panel. A "
        "start at {speed} rpm puts no more on them. Local code may ask for more; then shut the "
        "panels off.",
        pressure=_pressure(pad_pressure_at_start(material.trace.case.loop, targets), language),
        minutes=language.number(TEST_MINUTES),
        limit=_pressure(start.limit, language),
        speed=language.number(start.speed),
    )
    if start.blocked > start.limit:
        do += " " + say(
            "With the roof return shut a start would put {most} on panels that bear {limit}: never "
            "start so.",
            most=_pressure(start.blocked, language),
            limit=_pressure(start.limit, language),
        )
    return [block.Step(do, say("the gauge does not fall; no joint is wet"))]


def _pressure(value: float, language: Language) -> str:
    return language.quantity(value, "pressure")


def start_steps(material: Material, language: Language) -> block.Steps:
    """Set the way from a full pad to solar, as the trace has it, with the purging of the air.

    Parameters
    ----------
    material : Material
        Its trace: the last steps of reopening, from the pump's pot on.
    language : Language
        To write in.
    """
    say = language.say
    steps: list[block.Step] = []
    reopen = material.trace.winter.reopen
    first = next((i for i, step in enumerate(reopen) if step.move.act in ("fill", "start")), 0)
    purged = False
    last = reopen[first:]
    for step, told in zip(last, moves_words(last, language), strict=True):
        steps.append(block.Step(sentence(told) + ".", seen_words(step, language)))
        if step.move.act == "start" and not purged:
            steps += _purge(language)
            purged = True
    if material.solar_state is not None:
        minutes = language.number(max(material.job.pump.priming_time / 60.0, 1.0))
        steps.append(
            block.Step(
                say("Wait {minutes} minutes with solar on.", minutes=minutes),
                say("bubbles at the pool's return, fewer and fewer, then none"),
            )
        )
        steps.append(
            block.Step(
                say("Feel every panel, and look at every joint on the roof and at the pad."),
                say("all panels alike to the hand, none hot, nothing drips"),
            )
        )
    return block.Steps(tuple(steps))


def _purge(language: Language) -> list[block.Step]:
    say = language.say
    return [
        block.Step(
            say("Open the air relief on the filter, and shut it again."),
            say("first air, then a steady stream of water"),
        )
    ]
