"""The owner's sheet: what is normal, how to turn it on and off, bubbles, frost, who to call."""

from __future__ import annotations

import numpy as np

from noonwater.document import block
from noonwater.document.expected_tables import degrees, degrees_within
from noonwater.document.language import Language, mark, sentence
from noonwater.document.material import Material
from noonwater.document.owner_care import bubble_blocks, call_blocks, switch_blocks
from noonwater.document.owner_frost import frost_blocks
from noonwater.drawing.calendar import Season, month_spans
from noonwater.drawing.owner_year import OwnerYear, OwnerYearWords, owner_year
from noonwater.drawing.strokes import Floats

CAUTION = mark(
    "Water that stood in the panels in the sun can scald for the first minute. Stay off the roof: "
    "leave it to those who tie on. Keep children and hair away from suction covers, and never run "
    "the pump with one missing. Electricity at the pump is a licensed electrician's."
)


HOT = {
    "full": mark(
        "Panels with water running through them feel cool. Hot panels in the sun hold water that "
        "stands: it scalds."
    ),
    "part": mark(
        "Panels with water running through them feel cool. Hot panels in the sun are empty, or "
        "hold water that stands: it scalds."
    ),
    "empty": mark(
        "Panels with water running through them feel cool. Hot panels in the sun are empty."
    ),
}


def owner_paper(material: Material, language: Language) -> block.Paper:
    """Write the owner's sheet.

    Parameters
    ----------
    material : Material
        The job with its year and its ranges.
    language : Language
        To write in.
    """
    say = language.say
    blocks: list[block.Block] = [
        block.Paragraph(_year_words(material, language), "strong"),
        year_figure(material, language),
        _month_table(material, language),
        block.Paragraph(_assumed(material, language), "small"),
        block.Heading(say("What is normal")),
        _normal(material, language),
        block.Caution(say(CAUTION)),
        *switch_blocks(material, language),
        *bubble_blocks(material, language),
        *frost_blocks(material, language),
        *call_blocks(material, language),
    ]
    return block.Paper("owner", say("Your pool and its solar heating"), tuple(blocks))


def open_months(material: Material) -> list[int]:
    """Months with days on which the pool is open, 1 to 12, in the order of the season."""
    first = int(material.job.pool.opens[:2])
    return [m for m in (*range(first, 13), *range(1, first)) if open_days(material, m)]


def open_days(material: Material, month: int) -> list[int]:
    """Days of a month on which the pool is open, 0 for 1 January."""
    season = Season(material.job.pool.opens, material.job.pool.closes)
    span = month_spans()[month - 1]
    return [
        day
        for part in season.open_spans
        for day in range(max(span.start, part.start), min(span.end, part.end))
    ]


def open_range(material: Material, month: int) -> tuple[float, float]:
    """Range of a month's open days: that of the month, moved as the open days lie to all. [°C]."""
    sure, span = material.sureness.pool[month - 1], month_spans()[month - 1]
    daily = _daily(material.year.pool)
    days = open_days(material, month)
    moved = float(daily[days].mean() - daily[span.start : span.end].mean()) if days else 0.0
    return sure.low + moved, sure.high + moved


def _daily(hours: Floats) -> Floats:
    return np.asarray(hours.reshape(-1, 24).mean(axis=1))


def _year_words(material: Material, language: Language) -> str:
    season = material.sureness.season_pool
    text = (
        mark("With solar your pool is most likely at {range} over its season; the aim is {target}.")
        if material.sureness.weather_left_out
        else mark(
            "With solar your pool is at {range} over its season in most years; the aim is {target}."
        )
    )
    return language.say(
        text,
        range=language.within(season.low, season.high, "temperature"),
        target=language.setting(material.job.pool.target, "temperature"),
    )


def often(material: Material, language: Language) -> str:
    """Whose range it is: of years, or of what nobody measured where one year stands for all."""
    if material.sureness.weather_left_out:
        return language.say("with solar, most likely")
    return language.say("with solar, most years")


def year_figure(material: Material, language: Language) -> block.Figure:
    """Draw the year: months with solar as ranges, the pool without it as a line."""
    say, pool = language.say, material.job.pool
    daily = _daily(material.year.pool_without_solar)
    ranges = tuple(open_range(material, month) for month in range(1, 13))
    title = say("The pool's year with solar and without")
    words = OwnerYearWords(
        title,
        often(material, language),
        say("without solar"),
        say("your aim"),
        tuple(language.month(month) for month in range(1, 13)),
        language.unit("temperature"),
    )
    drawn = owner_year(
        OwnerYear(ranges, daily, pool.target, Season(pool.opens, pool.closes)),
        words,
        language.system,
    )
    alt = "; ".join(
        f"{language.month(month)} " + language.within(*ranges[month - 1], "temperature")
        for month in open_months(material)
    )
    return block.Figure(drawn, f"{title}: {alt}")


def _month_table(material: Material, language: Language) -> block.Schedule:
    say = language.say
    rows = tuple(_month_row(material, month, language) for month in open_months(material))
    heads = (
        say("Month"),
        sentence(often(material, language)),
        say("Its coldest day"),
        say("Without solar"),
        say("Hours on the roof a day"),
        say("A clear day adds"),
    )
    figures: list[block.Side] = ["right"] * 5
    return block.Schedule(heads, rows, ("left", *figures), (1.3, 1.7, 1.2, 1.2, 1.4, 1.3))


def _month_row(material: Material, month: int, language: Language) -> tuple[str, ...]:
    found, days = material.year.months[month - 1], open_days(material, month)
    low, high = open_range(material, month)
    with_solar, without = _daily(material.year.pool), _daily(material.year.pool_without_solar)
    coldest = min(float(with_solar[days].min()), low)
    hours = (found.solar_time - found.cooling_time) / 3600.0 / len(days)
    return (
        sentence(language.month(month, short=False)),
        language.within(low, high, "temperature"),
        language.quantity(coldest, "temperature"),
        language.quantity(float(without[days].mean()), "temperature"),
        language.number(hours, 1),
        degrees(found.clear_day_rise, language, 1),
    )


def _assumed(material: Material, language: Language) -> str:
    say, sure = language.say, material.sureness
    told = say(
        "An estimate, not a guarantee: for the weather, the cover, the pump's hours and the aim "
        "that your contractor entered. The range holds four cases of five; without solar and the "
        "coldest day are those of the year reckoned with."
    )
    if material.job.heater.kind != "none":
        told += " " + say("With solar the heater helps too; without solar means without both.")
    years = (
        say(
            "Weather differs from year to year and that is not in the range: a cold spring lies "
            "below it."
        )
        if sure.weather_left_out
        else say("The weather of different years is in the range.")
    )
    return f"{told} {years}"


def _normal(material: Material, language: Language) -> block.Points:
    say = language.say
    points = [_gauge_words(material, language)]
    rise = material.rise
    if rise is not None and rise.by_sun:
        strong = rise.by_sun[-1]
        points.append(
            say(
                "In strong sun the water comes back only {rise} warmer than it went up. That is "
                "right: much water, warmed a little, heats more than a trickle made hot.",
                rise=degrees_within(strong.low, strong.high, language, 0),
            )
        )
    points += [
        say(HOT[material.at_rest]),
        _pump_words(material, language),
    ]
    return block.Points(tuple(point for point in points if point))


def _gauge_words(material: Material, language: Language) -> str:
    solar = material.solar_state
    plain = [
        state
        for state in material.flow.states
        if not state.solar and state.name.startswith("filter")
    ]
    if solar is None or not plain:
        return ""
    return language.say(
        "The gauge at the filter stands at about {off} without solar and {on} with it, the filter "
        "clean. Clean the filter when it stands much above that.",
        off=language.quantity(max(plain[-1].pressure_filter, 0.0), "pressure"),
        on=language.quantity(max(solar.pressure_filter, 0.0), "pressure"),
    )


def _pump_words(material: Material, language: Language) -> str:
    periods = [period for period in material.job.pump.program if period.heats]
    if not periods:
        return ""
    hours = language.say(" and ").join(
        language.say("{start} to {stop}", start=period.start, stop=period.stop)
        for period in periods
    )
    return language.say(
        "Solar can work while the pump runs for it, {hours}, when the sun is out and the water is "
        "below its aim. On a dull day it may not start at all.",
        hours=hours,
    )
