"""What an owner does: on and off, bubbles, and when to call whom."""

from __future__ import annotations

from noonwater.document import block
from noonwater.document.hand_words import moves_words, seen_words
from noonwater.document.language import Language, sentence
from noonwater.document.material import Material

LONGEST_BUBBLES = 10
"""[min] Bubbles that last longer after a start are told as a fault. Ours."""


def switch_blocks(material: Material, language: Language) -> list[block.Block]:
    """Set how solar is turned on and off, and shut away from the roof.

    Parameters
    ----------
    material : Material
        Its controls and its trace.
    language : Language
        To write in.
    """
    say = language.say
    return [
        block.Heading(say("On and off")),
        block.Points(tuple(_switch(material, language))),
        *_shut_away(material, language),
    ]


def _switch(material: Material, language: Language) -> list[str]:
    say, job = language.say, material.job
    if job.pad.arrangement == "hand diverter":
        return [
            say(
                "On: when the sun has been on the panels for an hour and the pump runs, turn the "
                "diverter's handle to solar."
            ),
            say(
                "Off: before the sun leaves the panels, turn it back to the pool. Water on a roof "
                "without sun cools the pool."
            ),
        ]
    if job.controls.kind == "timer":
        return [
            say("A timer sends water to the roof by the clock; it knows neither sun nor pool."),
            say("In a dull week turn the timer off: water on a roof without sun cools the pool."),
        ]
    points = [
        say(
            "It works by itself: the controller sends water to the roof when the panels are warm "
            "enough, and ends that when the pool has reached its aim."
        ),
        say(
            "Warmer or cooler: set the aim at the controller. It now stands at {target}.",
            target=language.setting(job.pool.target, "temperature"),
        ),
        say("Off: switch solar off at the controller; the pump goes on filtering."),
    ]
    if job.controls.cooling_target is not None:
        points.append(
            say(
                "In hot months it also runs at night, to cool the pool once it is above {temp}.",
                temp=language.setting(job.controls.cooling_target, "temperature"),
            )
        )
    return points


def _shut_away(material: Material, language: Language) -> list[block.Block]:
    service, say = material.trace.service, language.say
    if not service.steps:
        return []
    told = {
        "valves": say("Valves then hold the water off on both sides."),
        "check valve": say("A valve and a check valve then hold the water off."),
        "seeps": say(
            "A little water may still seep to the roof: stop the pump as well if it leaks there."
        ),
        "not": say("That does not hold all water off: stop the pump as well if it leaks there."),
    }
    steps = tuple(
        block.Step(sentence(told), seen_words(step, language))
        for step, told in zip(service.steps, moves_words(service.steps, language), strict=True)
    )
    text = say("If the roof drips, shut solar off while the pump filters:")
    return [
        block.Together(
            (
                block.Paragraph(text),
                block.Steps(steps),
                block.Paragraph(told[service.tightness]),
            )
        )
    ]


def bubble_blocks(material: Material, language: Language) -> list[block.Block]:
    """Set what bubbles mean at a start, and what they mean when they go on.

    Parameters
    ----------
    material : Material
        Its flow: whether the vacuum breaker stays shut, with a clean filter and a dirty one.
    language : Language
        To write in.
    """
    say, solar = language.say, material.solar_state
    if solar is None:
        return []
    points = [_at_start(material, language)]
    if solar.breaker == "open":
        points.append(
            say(
                "On your pool some bubbles come as long as solar runs: air enters at the top of "
                "the roof. That is how this system works; it does no harm to the pump."
            )
        )
    else:
        points.append(
            say(
                "Bubbles that go on for more than {minutes} minutes mean that air gets in: look "
                "at the pool's level, the skimmer and the lid of the pump's pot. If those are "
                "right, call.",
                minutes=language.number(LONGEST_BUBBLES),
            )
        )
        if _bubbles_when_dirty(material):
            points.append(
                say("When the filter is due for cleaning, bubbles tell it too: clean it first.")
            )
    return [block.Heading(say("Bubbles")), block.Points(tuple(points))]


def _at_start(material: Material, language: Language) -> str:
    say = language.say
    if material.at_rest == "full":
        return say(
            "At a start there should be few bubbles or none: the panels stay full when the pump "
            "stops."
        )
    return say(
        "For some minutes after each start bubbles come from the pool's return, and when the pump "
        "stops water runs back from the roof. Both are right: the panels empty themselves at each "
        "stop, and at a start the water drives the air out."
    )


def _bubbles_when_dirty(material: Material) -> bool:
    targets, solar = material.flow.targets, material.solar_state
    if targets is None or solar is None:
        return False
    place = material.job.pad.breaker
    speeds = [
        entry.speed_static
        for entry in targets.breakers
        if entry.place == place and entry.filter_load == 1.0
    ]
    return any(speed is None or speed > solar.rpm for speed in speeds)


def call_blocks(material: Material, language: Language) -> list[block.Block]:
    """Set when to call, and whom.

    Parameters
    ----------
    material : Material
        Its profile.
    language : Language
        To write in.
    """
    say, profile = language.say, material.profile
    when = (
        say("After three sunny days with solar on, the pool is no warmer."),
        say("The roof is wet where no rain fell, or a joint drips."),
        say("Bubbles go on, or the gauge stands far from what it showed at the start."),
        say("A panel is hot to the hand while the others are cool and the pump runs."),
    )
    firm = [line for line in (profile.name, *profile.lines) if line]
    if profile.licence:
        firm.append(say("licence {number}", number=profile.licence))
    rows = tuple(("" if place else say("call"), line) for place, line in enumerate(firm))
    rows = rows or ((say("call"), ""), (say("telephone"), ""))
    return [
        block.Together(
            (block.Heading(say("When to call, and whom")), block.Points(when), block.Facts(rows))
        )
    ]
