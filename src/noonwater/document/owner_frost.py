"""The owner's page on frost: when, what bears it, what the controller does, what the owner does."""

from __future__ import annotations

from noonwater.document import block
from noonwater.document.language import Language, mark
from noonwater.document.material import Material
from noonwater.document.winter import day_words

BUILDS = {
    "rigid": mark("{panel} is rigid: it can crack from the first ice."),
    "flexible": mark(
        "{panel} is flexible and gives a little when water freezes in it; its headers and the "
        "pipes do not."
    ),
}


STANDING = {
    "full": mark(
        "Your panels stay full when the pump stops: they must be drained before the first frost, "
        "by the winter sheet."
    ),
    "part": mark(
        "Your panels empty themselves when the pump stops, but some water stays in them: it must "
        "be blown out before the first frost, by the winter sheet."
    ),
    "empty": mark(
        "Your panels empty themselves when the pump stops. Pipes and parts at the pad do not: the "
        "winter sheet empties them."
    ),
}


def frost_blocks(material: Material, language: Language) -> list[block.Block]:
    """Set the page on frost; a short line where no night freezes.

    Parameters
    ----------
    material : Material
        Its nights.
    language : Language
        To write in.
    """
    say, nights = language.say, material.nights
    row = nights.risk.chosen
    heading = block.Heading(say("Frost"))
    if row.cautious is None:
        text = say(
            "No night of the weather reckoned with freezes water on this roof. If a frost is "
            "forecast all the same, switch solar off and let the pump filter through the night."
        )
        return [heading, block.Paragraph(text)]
    return [
        heading,
        block.Facts(
            (
                (say("drain before the evening of"), day_words(row.cautious.first, language)),
                (say("open again after the morning of"), day_words(row.cautious.last, language)),
            )
        ),
        block.Points(
            (
                _risk(material, language),
                *_colder_than_air(material, language),
                *_builds(material, language),
                _standing(material, language),
                _action(material, language),
            )
        ),
        block.Paragraph(_todo(material, language)),
    ]


def _risk(material: Material, language: Language) -> str:
    say, row = language.say, material.nights.risk.chosen
    if row.return_years is None:
        return say(
            "The dates come from the year reckoned with; how many winters freeze earlier or later "
            "is not known. Watch the forecast outside them too."
        )
    return say(
        "In one winter of {years} it freezes before the one date or after the other. Watch the "
        "forecast outside them too.",
        years=language.number(row.return_years),
    )


def _colder_than_air(material: Material, language: Language) -> list[str]:
    worst = material.nights.worst_dry
    if worst is None:
        return []
    return [
        language.say(
            "Under a clear sky a roof gets colder than the air: here panels fall to {panel} with "
            "the air at {air}. A forecast just above freezing is no safety.",
            panel=language.quantity(worst.temp, "temperature"),
            air=language.quantity(worst.temp_air, "temperature"),
        )
    ]


def _builds(material: Material, language: Language) -> list[str]:
    words = {
        plane.body.panel: plane.body.bearing.word
        for plane in material.nights.planes
        if plane.body.panel
    }
    return [
        language.say(BUILDS[word], panel=language.say("The panel {name}", name=name))
        for name, word in words.items()
    ]


def _standing(material: Material, language: Language) -> str:
    return language.say(STANDING[material.at_rest])


def _action(material: Material, language: Language) -> str:
    say, controls = language.say, material.job.controls
    trip = language.setting(controls.freeze_trip, "temperature")
    watched = say("the roof sensor") if controls.freeze_watch == "sensor" else say("the air")
    if controls.freeze == "circulate":
        return say(
            "Below {trip} at {watched} the controller lets the pump push pool water over the roof "
            "until it is warmer. It can't do so while the power is out: then drain.",
            trip=trip,
            watched=watched,
        )
    if controls.freeze == "drain":
        return say(
            "Below {trip} at {watched} the controller opens the array so that its water runs out.",
            trip=trip,
            watched=watched,
        )
    return say("The controller does nothing against frost; what is done, you do.")


def _todo(material: Material, language: Language) -> str:
    say = language.say
    if material.at_rest != "empty":
        return say(
            "A frost is forecast and the array is not drained yet: switch solar off and drain the "
            "panels by the winter sheet, or call. Do it before the evening."
        )
    return say(
        "A frost is forecast and the pad is not drained yet: switch solar off before the evening, "
        "so that the panels stay empty, and let the pump filter through the night, so that the pad "
        "does not freeze. If the power fails, drain the pad by the winter sheet."
    )
