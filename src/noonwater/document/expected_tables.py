"""Tables of what the plant should show: readings by state, rise by sun and by month."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from noonwater.design.expected_readings import FRESH_FILTER, GAUGE, METER, PUMP_HEAD, Band
from noonwater.design.expected_rise import CLEAR, CLOCK, THERMOMETERS
from noonwater.document import block
from noonwater.document.language import Language, mark, sentence
from noonwater.document.material import Material
from noonwater.physics.valve import handle_angle_valve

if TYPE_CHECKING:
    from noonwater.design.expected_readings import Reading
    from noonwater.design.expected_rise import ExpectedRise

WATTS = 10.0
"""[W] A power is printed to this."""

BREAKERS = {
    ("shut",): mark("The vacuum breaker stays shut: no air in the water once the start is over."),
    ("open",): mark("The vacuum breaker draws air all the time: bubbles come to the pool."),
    ("shut", "open"): mark(
        "The vacuum breaker should stay shut; at the weak end of the band it may draw air."
    ),
    ("open", "shut"): mark(
        "The vacuum breaker draws air and bubbles come to the pool; at the strong end of the band "
        "it may stay shut."
    ),
}


def reading_blocks(material: Material, language: Language) -> list[block.Block]:
    """Set the rule of the band, then a table for each running state.

    Parameters
    ----------
    material : Material
        Its readings.
    language : Language
        To write in.
    """
    rule = language.say(
        "The filter is clean and the water is at about {temp}. A reading is good within the band: "
        "over pumps {head} % stronger and weaker than expected, a filter up to {load} % on its way "
        "to the next cleaning, tees with their loss and without, a gauge that errs by {gauge}, and "
        "meters that err by {meter} %. Outside it, find out why before you sign.",
        temp=language.quantity(material.flow.temp_water, "temperature"),
        head=language.number(100 * PUMP_HEAD),
        load=language.number(100 * FRESH_FILTER),
        gauge=language.quantity(GAUGE, "pressure", 1 if language.system == "US" else 0),
        meter=language.number(100 * METER),
    )
    tables = [_state_table(reading, language) for reading in _unlike(material.readings)]
    first = block.Together((block.Paragraph(rule), *_bypass_note(material, language), *tables[:1]))
    return [first, *tables[1:]]


def _unlike(readings: Sequence[Reading]) -> list[Reading]:
    """Leave out a start that runs as solar runs."""
    speeds = {each.state.rpm for each in readings if each.state.solar and not _starts(each)}
    return [each for each in readings if not (_starts(each) and each.state.rpm in speeds)]


def _starts(reading: Reading) -> bool:
    return reading.state.name.startswith("priming")


def _bypass_note(material: Material, language: Language) -> list[block.Block]:
    pad = material.job.pad
    if pad.arrangement != "diverter with bypass":
        return []
    angle = language.number(handle_angle_valve(pad.bypass_open))
    text = language.say(
        "The tables take the bypass valve as designed, its handle {angle}° off the pipe's line.",
        angle=angle,
    )
    return [block.Paragraph(text)]


def _state_table(reading: Reading, language: Language) -> block.Together:
    say, state = language.say, reading.state
    digits = 0 if language.system == "US" else 1
    rows = [
        (say("pump's speed"), f"{language.number(state.rpm)} rpm", "", ""),
        _row(say("gauge at the filter"), reading.gauge, "pressure", 0, language),
        _row(say("flow through the pump"), reading.flow, "flow", digits, language),
    ]
    if state.solar:
        rows.append(_row(say("flow on the roof"), reading.array_flow, "flow", digits, language))
    rows.append(_power_row(reading.power, language))
    heads = (sentence(language.part(state.name)), say("Expected"), say("Good"), say("Read"))
    table = block.Schedule(
        heads, tuple(rows), ("left", "right", "right", "left"), (3.2, 1.6, 2.2, 2.0), roomy=True
    )
    words = BREAKERS.get(reading.breakers) if state.solar else None
    notes = (block.Paragraph(say(words), "small"),) if words else ()
    return block.Together((table, *notes))


def _row(
    name: str, band: Band, kind: str, digits: int, language: Language
) -> tuple[str, str, str, str]:
    expected = language.quantity(max(band.expected, 0.0), kind, digits)
    return name, expected, language.within(band.low, band.high, kind, digits), ""


def _power_row(band: Band, language: Language) -> tuple[str, str, str, str]:
    low, middle, high = (
        WATTS * round(value / WATTS) for value in (band.low, band.expected, band.high)
    )
    expected = language.quantity(middle, "power")
    return language.say("power at the wire"), expected, language.within(low, high, "power"), ""


def rise_blocks(material: Material, language: Language) -> list[block.Block]:
    """Set the rise of the water on the roof: by the sun that a meter shows, and in clear hours.

    Parameters
    ----------
    material : Material
        Its rise.
    language : Language
        To write in.
    """
    rise, state, say = material.rise, material.solar_state, language.say
    if rise is None or state is None:
        return [block.Paragraph(say("No state of this pump's program heats: nothing to measure."))]
    how = say(
        "In state '{state}', ten minutes after the start: the water's temperature in the pipe from "
        "the roof less that in the pipe to the roof, with one thermometer at both. A small rise is "
        "right: much water, warmed a little. The band holds four of five hours of the season's "
        "weather with such sun, wider by the band of the flow and by {error} of the thermometer.",
        state=language.part(state.name),
        error=degrees(THERMOMETERS, language, 1),
    )
    by_sun = block.Together((block.Paragraph(how), _by_sun(rise, language)))
    return [by_sun, *_by_month(rise, language)]


def _by_sun(rise: ExpectedRise, language: Language) -> block.Schedule:
    say = language.say
    last = len(rise.by_sun) - 1
    rows = tuple(
        (
            say("{sun} W/m² and more", sun=language.number(row.sun - 100.0))
            if place == last
            else f"{language.number(row.sun)} W/m²",
            degrees(row.middle, language, 1),
            degrees_within(row.low, row.high, language),
            "",
            "",
        )
        for place, row in enumerate(rise.by_sun)
    )
    heads = (
        say("Sun in the panels' plane, about"),
        say("Rise"),
        say("Good"),
        say("Sun read"),
        say("Rise read"),
    )
    sides: tuple[block.Side, ...] = ("left", "right", "right", "left", "left")
    shares = (3.0, 1.2, 2.0, 1.5, 1.5)
    return block.Schedule(heads, rows, sides, shares, roomy=True)


def _by_month(rise: ExpectedRise, language: Language) -> list[block.Block]:
    say = language.say
    rows = tuple(
        (
            sentence(language.month(row.month, short=False)),
            *("–" if span is None else degrees_within(*span, language) for span in row.rises),
        )
        for row in rise.by_month
        if any(row.rises)
    )
    if not rows:
        return []
    caption = say(
        "Without a sun meter: what is good under a clear sky, by standard time. Clear is an hour "
        "with {share} % of the month's most sun at that hour.",
        share=language.number(100 * CLEAR),
    )
    heads = (say("Month"), *(f"{hour}:00–{hour + 1}:00" for hour in CLOCK))
    figures: list[block.Side] = ["right"] * len(CLOCK)
    sides: tuple[block.Side, ...] = ("left", *figures)
    return [
        block.Together((block.Schedule(heads, rows, sides, (2, *(1.5 for _ in CLOCK)), caption),))
    ]


def degrees(difference: float, language: Language, digits: int = 0) -> str:
    """Print a difference of temperature as people say it: in °F or °C; difference in [K]."""
    shown = language.number(difference * (1.8 if language.system == "US" else 1.0), digits)
    return f"{shown} {language.unit('temperature')}"


def degrees_within(low: float, high: float, language: Language, digits: int = 1) -> str:
    """Print a range of differences; both in [K]."""
    scale = 1.8 if language.system == "US" else 1.0
    first, last = (language.number(value * scale, digits) for value in (low, high))
    if first == last:
        return degrees(low, language, digits)
    return f"{language.say('{low} to {high}', low=first, high=last)} {language.unit('temperature')}"
