"""A job's nights in words and a table."""

from __future__ import annotations

from typing import TYPE_CHECKING

from noonwater.app.night_shape import clock
from noonwater.app.text import MONTH_NAMES, folded, number, table
from noonwater.core.units import System, in_system, show, unit_label
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.year.night import NightResult
    from noonwater.year.night_dates import DateRow, FreezeRisk, Span
    from noonwater.year.night_rows import Moment, NightMonth
    from noonwater.year.night_trip import Trip

NEAR_FREEZING = 10.0
"""[°C] Above it the answer says that nothing comes near freezing; ours."""
SHORT_SEASON = 60
"""[d] A freeze-free part of the year this short is told as one; ours."""


def date_lines(nights: NightResult, system: System) -> list[str]:
    """Tell when to drain and when to reopen, at what risk."""
    risk, row = nights.risk, nights.risk.chosen
    if row.cautious is None:
        return [_never(nights, system)]
    lines = [f"{_dates(row.cautious)} {_risk(risk, row)}"]
    if row.middle != row.cautious:
        lines.append(
            "These dates lie on the safe side of what nobody measured, a darker sky and panels "
            f"that lose little in calm air; with both in the middle: {_middle(row.middle)}"
        )
    free = (row.cautious.first - row.cautious.last) % 365
    if free < SHORT_SEASON:
        lines.append(f"Between them lie only {free} days without frost on the roof.")
    if risk.known:
        lines += ["", *_risk_table(risk)]
    return lines


def _dates(span: Span) -> str:
    from noonwater.design.night import day_words

    return (
        f"Drain before the evening of {day_words(span.first)}, reopen after the morning of "
        f"{day_words(span.last)}."
    )


def _middle(span: Span | None) -> str:
    from noonwater.design.night import day_words

    if span is None:
        return "no night freezes."
    return f"{day_words(span.first)} and {day_words(span.last)}."


def _risk(risk: FreezeRisk, row: DateRow) -> str:
    if risk.known:
        return (
            f"In about one winter of {row.return_years:g} it freezes before the first date, and in "
            f"about one of {row.return_years:g} after the second ({risk.source})."
        )
    return f"{risk.method[0].upper()}{risk.method[1:]}{_named(risk)}."


def _named(risk: FreezeRisk) -> str:
    return "" if risk.source in risk.method else f" ({risk.source})"


def _never(nights: NightResult, system: System) -> str:
    lowest = min(plane.wet for plane in nights.planes)
    coldest = show(lowest, "temperature", system, 0)
    risk = nights.risk
    if risk.known:
        years = f"one winter of {risk.chosen.return_years:g}"
        told = f"not even in {years} is there more ice than it bears ({risk.source})"
    else:
        told = f"in this one year; {risk.method}{_named(risk)}"
    if lowest > NEAR_FREEZING:
        return (
            f"Never: nothing on this roof comes near freezing, the coldest full panel or pipe is "
            f"at {coldest}. Nothing to drain for frost, {told}."
        )
    return (
        f"No date to drain: the coldest full panel or pipe is at {coldest} and nothing gets more "
        f"ice than it bears, {told}."
    )


def _risk_table(risk: FreezeRisk) -> list[str]:
    from noonwater.design.night import day_words

    def days(span: Span | None) -> list[str]:
        return ["never", "never"] if span is None else [day_words(span.first), day_words(span.last)]

    heads = [["freezes beyond it in", "drain by", "reopen after"]]
    rows = [[f"one winter of {row.return_years:g}", *days(row.cautious)] for row in risk.rows]
    return ["  " + line for line in table(heads, rows)]


def month_lines(nights: NightResult, system: System) -> list[str]:
    """Tell the twelve months in a table."""
    degrees = unit_label("temperature", system)
    zero = show(0.0, "temperature", system, 0)
    heads = [
        ["nights", "air", "dry", "full", "bare", "nights", "nights", "hours", "dry under", "most"],
        ["of", "lowest", "panels", "panels", "pipe", "at risk", "with ice", "at risk", zero, "ice"],
        ["", *[degrees] * 4, "", "", "", "in air above, h", _ice_unit(system)],
    ]
    return table(heads, [_month(month, system) for month in nights.months])


def _month(month: NightMonth, system: System) -> list[str]:
    temps = (month.air, month.dry, month.wet, month.pipe)
    return [
        MONTH_NAMES[month.month - 1],
        *(number(in_system(temp, "temperature", system), 0) for temp in temps),
        number(month.nights_at_risk),
        number(month.nights_with_ice),
        number(month.hours_at_risk),
        number(month.hours_dry),
        _ice(month.ice_thickness, system, ""),
    ]


def hour_lines(nights: NightResult, system: System) -> list[str]:
    """Tell the hours below freezing in air above it, and how fast water freezes."""
    zero = show(0.0, "temperature", system, 0)
    dry, wet = nights.hours_dry, nights.hours_wet
    if nights.worst_dry is None:
        if dry.high < 1.0:
            return [f"No panel gets below {zero} while the air is above it."]
        return [
            f"No panel gets below {zero} while the air is above it, but for up to "
            f"{number(dry.high)} hours a year at the cold end of what nobody measured."
        ]
    lines = [
        f"Colder than the air: dry panels are below {zero} for {number(dry.middle)} hours a year "
        f"({number(dry.low)} to {number(dry.high)}) while the air is above it. Worst in "
        f"{_moment(nights.worst_dry, system)}."
    ]
    if nights.worst_wet is not None:
        lines.append(
            f"In full panels ice forms for {number(wet.middle)} hours a year ({number(wet.low)} to "
            f"{number(wet.high)}) while the air is above {zero}. Worst in "
            f"{_moment(nights.worst_wet, system)}, "
            f"{_ice(nights.worst_wet.ice_thickness, system)} of ice in that night."
        )
    return [*lines, *_course(nights, system)]


def _moment(moment: Moment, system: System) -> str:
    from noonwater.design.night import day_words

    return (
        f"the night of {day_words(moment.night)}, {clock(moment.hour)}: {moment.where} at "
        f"{show(moment.temp, 'temperature', system)}, air "
        f"{show(moment.temp_air, 'temperature', system)}, sky like "
        f"{show(moment.temp_sky, 'temperature', system, 0)}"
    )


def _course(nights: NightResult, system: System) -> list[str]:
    from noonwater.design.night import day_words

    course = nights.course
    if course is None:
        return []
    warm = show(4.0, "temperature", system, 0)
    cooling = "" if course.cooling is None else f", {_time(course.cooling)} after {warm}"
    solid = (
        f"{100.0 * course.share:.0f} % of it is ice by noon"
        if course.solid is None
        else f"all of it is ice {_time(course.solid)} later"
    )
    return [
        f"How fast, at its worst: in the night of {day_words(course.night)} the standing water of "
        f"{course.where} begins to freeze at {clock(course.first_ice)}{cooling}; {solid}."
    ]


def _ice(thickness: float, system: System, unit: str | None = None) -> str:
    value = in_system(thickness, "diameter", system)
    unit = _ice_unit(system) if unit is None else unit
    return f"{number(value, 2 if system == 'US' else 1)} {unit}".strip()


def _ice_unit(system: System) -> str:
    return unit_label("diameter", system)


def _time(seconds: float) -> str:
    minutes = seconds / 60.0
    return f"{minutes:.0f} minutes" if minutes < 90.0 else f"{minutes / 60.0:.1f} hours"


def trip_lines(nights: NightResult, system: System) -> list[str]:
    """Tell what a freeze trip misses and does in vain."""
    return [_trip(trip, system) for trip in nights.trips]


def _trip(trip: Trip, system: System) -> str:
    from noonwater.year.night_trip import TRIP_PRACTICE

    common = trip.watch == "air" and abs(trip.temp - TRIP_PRACTICE) < 0.01
    name = (
        f"A freeze trip at {show(trip.temp, 'temperature', system)} of the {trip.watch}"
        f"{' (common practice, no source)' if common else ''}"
    )
    missed = int(trip.missed.sum())
    needed = (
        ""
        if trip.needed is None
        else f" The night that asks most of it needs {show(trip.needed, 'temperature', system)}."
    )
    worse = ""
    if trip.missed_most != missed:
        worse = f", {trip.missed_most} at the cold end of what nobody measured"
    return (
        f"{name} acts in {trip.nights_acted} nights, {int(trip.in_vain.sum())} of them in vain, "
        f"and comes too late in {missed}{worse}.{needed}"
    )


def array_lines(job: Job, nights: NightResult, stands: str, system: System) -> list[str]:
    """Tell whether this array holds water, and what its parts are taken to bear."""
    if stands:
        first = (
            f"Water stands in this array when the pump stops ({stands}): all above is about it, "
            "if nothing is done."
        )
    else:
        from noonwater.document.material import LEAST_LEFT
        from noonwater.hydraulics.resting import resting_array

        left = max(resting_array(job).left_in(job.array.trapped_water))
        but = f" but for {100.0 * left:.0f} % of its water" if left > LEAST_LEFT else ""
        first = (
            f"This array drains by itself at each stop{but}: the dry panels are what its nights "
            "look like. Full panels and the dates are for what does not drain: "
            f"{'that rest, ' if but else ''}a sagging header, a shut valve, a stuck breaker, pad "
            "and pipe below the roof."
        )
    borne = []
    for plane in nights.planes:
        bearing = plane.body.bearing
        if bearing.share == 0.0:
            borne.append(f"{plane.body.name}: {bearing.word}, at risk from the first ice")
        else:
            borne.append(
                f"{plane.body.name}: {bearing.word}, at risk when {100 * bearing.share:.0f} % of "
                "its water is ice"
            )
    return [
        first,
        f"Assumed by build, no source, the maker's word decides: {'; '.join(borne)}. Pipe counts "
        "bare, level, full and in the shade.",
    ]


def source_line(nights: NightResult) -> str:
    """Say where it comes from."""
    return folded(
        "Sources",
        (
            f"weather {nights.weather.source}",
            nights.risk.method,
            "sky ± 25 W/m², panels' loss in calm air by the wind of their test: the ranges",
            "not counted: dew and frost on the panels, which hold them a little warmer; heat from "
            "the attic; supercooling",
        ),
    )
