"""How a valve is set by hand without a flow meter: by the handle's angle, ear, window and gauge."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from noonwater.design.expected_readings import handle_course
from noonwater.document import block
from noonwater.document.language import Language, mark
from noonwater.document.material import Material

if TYPE_CHECKING:
    from noonwater.design.expected_readings import HandlePlace
    from noonwater.hydraulics.wanted_flow import HandSetting

SHOWN = 2
"""Every second place of the course is printed."""


def handle_blocks(material: Material, language: Language) -> list[block.Block]:
    """Set how each hand-set valve is set without a flow meter; nothing where there is none.

    Parameters
    ----------
    material : Material
        Its targets.
    language : Language
        To write in.
    """
    targets, solar = material.flow.targets, material.solar_state
    if targets is None or solar is None:
        return []
    state = material.trace.state(solar.name).state
    found: list[block.Block] = []
    for hand in targets.hand:
        course = handle_course(material.trace.case.loop, state, hand.valve)
        part = language.part(hand.valve)
        steps = _stop_steps if course[0].angle is None else _bypass_steps
        found += [
            block.Heading(language.say("Set the {part} without a flow meter", part=part)),
            steps(material, course, hand, language),
            block.Facts(((language.say("handle's place and gauge, as left"), ""),)),
            block.Together(
                (
                    block.Paragraph(_wanted(material, course, hand, language)),
                    _table(course, language),
                )
            ),
        ]
    return found


def _bypass_steps(
    material: Material, course: Sequence[HandlePlace], hand: HandSetting, language: Language
) -> block.Steps:
    say, part = language.say, language.part(hand.valve)
    rush = next((place for place in course if place.wet), None)
    full = next((place for place in course if place.full), None)
    steps = [
        block.Step(
            say("With solar on, turn the {part} wide open, its handle along the pipe.", part=part),
            say("gauge about {gauge}", gauge=_gauge(course[0], language)),
        )
    ]
    if rush is None:
        no = say("No place of the handle lifts water over the roof: stop here and call the office.")
        return block.Steps((*steps, block.Step(no)))
    if rush is not course[0]:
        steps.append(
            block.Step(
                say(
                    "Close it by 5° of the handle at a time, half a minute each, until a rush of "
                    "air comes to the pool."
                ),
                _seen_at(rush, language),
            )
        )
    steps.append(_until_full(material, full, language, opened=full is course[0]))
    if full is not None and hand.handle_angle is not None and hand.handle_angle > (full.angle or 0):
        do = say(
            "Go on to {angle}, for the flow that the panels are made for.",
            angle=_angle(hand.handle_angle, language),
        )
        steps.append(block.Step(do))
    return block.Steps((*steps, _marked(language)))


def _until_full(
    material: Material, full: HandlePlace | None, language: Language, *, opened: bool
) -> block.Step:
    """Close it until no air comes; `opened`: none comes even with the valve wide open."""
    say = language.say
    if opened:
        return block.Step(
            say("No air comes in at the top even so: the return runs full from here on.")
        )
    if full is None:
        return block.Step(
            say(
                "Close it on until the bubbles get no fewer: on this pad some air keeps coming in "
                "at the top."
            ),
            say("bubbles at the pool's return, always about as many"),
        )
    if material.job.pad.sight_windows:
        do = say("Close it on in the same way until the sight window at the roof return runs full.")
    else:
        do = say("Close it on in the same way until no more bubbles come to the pool.")
    return block.Step(do, _seen_at(full, language))


def _seen_at(place: HandlePlace, language: Language) -> str:
    return language.say(
        "handle at about {angle} off the pipe's line, gauge about {gauge}",
        angle=_angle(place.angle or 0.0, language),
        gauge=_gauge(place, language),
    )


def _stop_steps(
    material: Material, course: Sequence[HandlePlace], hand: HandSetting, language: Language
) -> block.Steps:
    say, part = language.say, language.part(hand.valve)
    lost = next((place for place in course if not place.full), None)
    steps = [
        block.Step(
            say(
                "With solar on, set the stops of the {part} to send all water to the roof.",
                part=part,
            ),
            say("gauge about {gauge}, no bubbles", gauge=_gauge(course[0], language))
            if course[0].full
            else say("gauge about {gauge}", gauge=_gauge(course[0], language)),
        )
    ]
    if lost is not None and lost is not course[0]:
        steps.append(
            block.Step(
                say(
                    "Move the stop back toward the pool by a twentieth of its way at a time, half "
                    "a minute each, until bubbles come to the pool."
                ),
                say(
                    "at about {share} % toward the roof, gauge about {gauge}",
                    share=language.number(100 * lost.opening),
                    gauge=_gauge(lost, language),
                ),
            )
        )
        steps.append(block.Step(say("Go back by a twentieth."), say("the bubbles end")))
    return block.Steps((*steps, _marked(language)))


def _marked(language: Language) -> block.Step:
    return block.Step(
        language.say(
            "Wait five minutes, then paint a mark at the handle's place and write it down."
        ),
        language.say("nothing changes any more"),
    )


def _wanted(
    material: Material, course: Sequence[HandlePlace], hand: HandSetting, language: Language
) -> str:
    say, digits = language.say, 0 if language.system == "US" else 1
    flow = language.quantity(hand.wanted, "flow", digits)
    if hand.opening is None:
        # Where a booster or a low bank draws more, a bypass that opens can bring more, not less.
        reached = language.within(
            min(hand.least, hand.most), max(hand.least, hand.most), "flow", digits
        )
        return say(
            "{flow} on the roof, what the panels are made for, is not reached: its handle gives "
            "{reached}.",
            flow=flow,
            reached=reached,
        )
    where = (
        _angle(hand.handle_angle, language)
        if hand.handle_angle is not None
        else f"{language.number(100 * hand.opening)} %"
    )
    told = say(
        "{flow} on the roof, what the panels are made for, comes at about {place}.",
        flow=flow,
        place=where,
    )
    full = next((place for place in course if place.full), None)
    if full is not None and full.angle and (hand.handle_angle or 0.0) < full.angle:
        told += " " + say(
            mark("There air still comes in at the top: what the sight window says decides.")
            if material.job.pad.sight_windows
            else mark("There air still comes in at the top: what the bubbles say decides.")
        )
    return told


def _table(course: Sequence[HandlePlace], language: Language) -> block.Schedule:
    say, digits = language.say, 0 if language.system == "US" else 1
    angled = course[0].angle is not None
    rows = tuple(
        (
            _angle(place.angle or 0.0, language)
            if angled
            else f"{language.number(100 * place.opening)} %",
            _gauge(place, language),
            language.quantity(place.array_flow, "flow", digits),
            sight_words(place, language),
        )
        for place in course[::SHOWN]
    )
    heads = (
        say("Handle off the pipe") if angled else say("Toward the roof"),
        say("Gauge"),
        say("On the roof"),
        say("What comes to the pool"),
    )
    sides: tuple[block.Side, ...] = ("right", "right", "right", "left")
    return block.Schedule(
        heads, rows, sides, (1.2, 1, 1, 2.2), say("What to expect, from a table of such valves")
    )


def sight_words(place: HandlePlace, language: Language) -> str:
    """Tell what comes to the pool at a place of the handle."""
    if place.full:
        return language.say("no air, the return runs full")
    if place.wet:
        return language.say("air and water from the roof")
    if place.array_flow > 0.0:
        return language.say("water from the lower panels alone")
    return language.say("nothing from the roof")


def _gauge(place: HandlePlace, language: Language) -> str:
    return language.quantity(max(place.gauge, 0.0), "pressure")


def _angle(angle: float, language: Language) -> str:
    return f"{language.number(angle)}°"
