"""What is wired to what, from the job's controls and its parts list; what each sensor measures."""

from __future__ import annotations

from collections.abc import Iterator

from noonwater.catalog import pump_named
from noonwater.design.parts_row import PartRow
from noonwater.design.sensor_table import resistance_at
from noonwater.document import block
from noonwater.document.language import Language, mark, sentence
from noonwater.document.material import Material
from noonwater.document.part_words import quantity_words
from noonwater.drawing.wiring import Device, WiringWords, wiring

CAUTION = mark(
    "Electricity near water kills. Line voltage, bonding and the choice of breaker and wire are a "
    "licensed electrician's, as the local electrical code says. Breaker off, locked and tested "
    "dead before a cover is opened. Low-voltage cable runs in conduit of its own."
)
SENSORS = ("roof sensor", "pool water sensor", "air sensor")
"""Starts of the names that the parts list has for sensors."""
SHARE = 0.86
"""[-] Of the text's width: settings and sensor table stand on the same page."""
STEPS = {"US": range(20, 181, 10), "SI": range(-5, 81, 5)}
"""Temperatures of the sensor table, in °F and in °C."""


def wiring_blocks(material: Material, language: Language) -> list[block.Block]:
    """Set the diagram with its caution.

    Parameters
    ----------
    material : Material
        Its job and its parts list.
    language : Language
        To write in.
    """
    say = language.say
    devices = list(_devices(material, language))
    words = _words(material, language)
    drawn = wiring(devices, words, switched=_switched(material))
    told = ", ".join(device.name for device in devices) or words.nothing
    note = say(
        "A diagram of what joins what, not of terminals: those are the controller's own. Double "
        "thin lines are low-voltage cable, heavy lines are line voltage."
    )
    return [
        block.Caution(say(CAUTION)),
        block.Figure(drawn, f"{words.title}: {told}", share=SHARE),
        block.Paragraph(note, "small"),
        *_boosters(material, language),
    ]


def _boosters(material: Material, language: Language) -> list[block.Block]:
    """A pump beside the filter pump, which the diagram leaves out."""
    named = [language.part(part.name) for part in material.flow.circuit.of_kind("booster pump")]
    if not named:
        return []
    text = language.say(
        "Not drawn: {parts}, on line voltage too. Wired by the licensed electrician so that it can "
        "run only while the filter pump runs.",
        parts=", ".join(named),
    )
    return [block.Paragraph(text)]


def sensor_table(material: Material, language: Language) -> list[block.Block]:
    """Set what a sensor should measure, or room for it where its sheet was not entered.

    Parameters
    ----------
    material : Material
        Its job's controls.
    language : Language
        To write in.
    """
    say, points = language.say, material.job.controls.sensor_ohms
    if not any(row.name.startswith(SENSORS) for row in _bought(material)):
        return [block.Paragraph(say("This system has no sensor."))]
    how = say(
        "Take the sensor off its terminals, measure ohms, and read its temperature with a "
        "thermometer beside it. Far more: a broken wire or a wet splice. Near nothing: a short."
    )
    source = (
        say("From the sensor's own sheet; between its points by the law of a thermistor.")
        if points
        else say("Fill in from the sheet that came with the sensor, before the roof is closed.")
    )
    rows = [_sensor_row(material, float(step), language) for step in STEPS[language.system]]
    half = (len(rows) + 1) // 2
    heads = (language.unit("temperature"), "ohm", say("measured"))
    tables = [
        block.Schedule(heads, tuple(part), ("right", "right", "left"), (1, 1.4, 1.4))
        for part in (rows[:half], rows[half:])
    ]
    return [
        block.Paragraph(how),
        block.Beside((tables[0],), (tables[1],)),
        block.Paragraph(source, "small"),
    ]


def _sensor_row(material: Material, shown: float, language: Language) -> tuple[str, str, str]:
    points = material.job.controls.sensor_ohms
    temp = shown if language.system == "SI" else (shown - 32.0) / 1.8
    ohms = resistance_at(temp, points) if points else None
    return language.number(shown), "" if ohms is None else ohms_words(ohms, language), ""


def ohms_words(ohms: float, language: Language) -> str:
    """Print a resistance to four digits that count, as sensors' sheets do."""
    step = 10.0 ** max(len(str(int(ohms))) - 4, 0)
    return language.number(step * round(ohms / step))


def _bought(material: Material) -> tuple[PartRow, ...]:
    return tuple(row for row in material.parts if row.group != "already there")


def _devices(material: Material, language: Language) -> Iterator[Device]:
    say = language.say
    for row in _bought(material):
        if row.kind == "actuator":
            for name in row.where:
                whose = say("turns the {part}", part=language.part(name))
                yield Device("motor", sentence(language.part("actuator")), whose)
    cable = next((row for row in _bought(material) if row.name == "sensor cable"), None)
    for row in _bought(material):
        if not row.name.startswith(SENSORS):
            continue
        note = say("at the pad")
        if row.name.startswith("roof"):
            note = say("on {roof}", roof=", ".join(row.where))
            if cable is not None:
                # First, for a plane's long name is cut where there is no room for all.
                length = quantity_words(cable, language)
                note = say("all cable: {length}", length=length) + "; " + note
        yield Device("sensor", sentence(language.part(row.name)), note)


def _switched(material: Material) -> bool:
    """Whether the controller's contact carries the pump: a pump of one speed takes no command."""
    pump = pump_named(material.job.pump.pump, own=material.job.own_pump)
    return pump.lowest_speed == pump.highest_speed


def _words(material: Material, language: Language) -> WiringWords:
    say = language.say
    names = [row.name for row in _bought(material)]
    controller = say("time switch of the pump")
    if "controller, differential" in names:
        controller = language.part("controller, differential")
    elif "timer" in names:
        controller = language.part("timer")
    return WiringWords(
        title=say("Wiring"),
        mains=say("Line voltage: licensed electrician"),
        low=say("Low voltage"),
        breaker=say("breaker, with ground-fault protection"),
        disconnect=say("disconnect in sight of the pump"),
        controller=sentence(controller),
        pump=language.part("pump"),
        bonding=say("bonding of pump, heater and metal near the water"),
        command=say("through its contact") if _switched(material) else say("speed, on and off"),
        nothing=say("Nothing: a hand turns the diverter."),
    )
