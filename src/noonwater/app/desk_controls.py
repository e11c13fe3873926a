"""Controls for the desk: the pump's day as a strip, a day in steps, what the year says of them."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from noonwater.app.control_answer import control_sentences, program_dicts
from noonwater.app.desk import View, studied
from noonwater.app.desk_drawings import Drawing
from noonwater.app.replay import replay_day, telling_days
from noonwater.core.errors import NoonwaterError
from noonwater.core.units import System, in_system, show, unit_label
from noonwater.model.job import Job
from noonwater.model.pool import minutes_of
from noonwater.model.when import minutes_between

DAY = 24 * 60
STEP = 15
"""[min] In which an end of a period is moved."""
DAY_SERIES = ("pool", "start", "sensor", "panels", "air", "heat", "power", "mode")
"""In this order, a value a step: temperatures in the job's unit, heat and electricity in kW."""

Reach = tuple[int, int]


def day_drawing(view: View) -> Drawing:
    """Draw the pump's program as a strip of 24 hours."""
    from noonwater.drawing.day_strip import PHONE, SCREEN, DayBar, day_strip

    periods = view.job.pump.program
    bars = [
        DayBar(
            index=n,
            start=minutes_of(period.start, "start"),
            stop=minutes_of(period.stop, "stop"),
            words=_words(view, n),
            purpose=period.purpose,
            solar=period.heats,
            start_reach=reaches(view.job, n)[0],
            stop_reach=reaches(view.job, n)[1],
        )
        for n, period in enumerate(periods)
    ]
    return Drawing(day_strip(bars, SCREEN), day_strip(bars, PHONE))


def reaches(job: Job, number: int) -> tuple[Reach, Reach]:
    """How far the start and the stop of a period can be moved before they meet another end.

    Parameters
    ----------
    job : Job
        The job.
    number : int
        Of the period.

    Returns
    -------
    ((int, int), (int, int))
        Least and most, of the start and of the stop. [min after midnight]
    """
    program = job.pump.program
    own = minutes_between(program[number].start, program[number].stop)
    taken = {m for p in program for m in minutes_between(p.start, p.stop)}
    start, stop = own[0], minutes_of(program[number].stop, "stop")
    low, high = start, stop
    while low > 0 and low - 1 not in taken:
        low -= 1
    while high < DAY and high not in taken:
        high += 1
    inside = len(own) - STEP
    return (low, min(start + inside, DAY - STEP)), (max(stop - inside, STEP), high)


def _words(view: View, number: int) -> str:
    period = view.job.pump.program[number]
    if period.speed is not None:
        return f"{period.speed:.0f} rpm"
    return show(period.flow or 0.0, "flow", view.system, 0)


def program_told(view: View) -> tuple[list[str], list[list[str]]]:
    """Heads and rows of a table of the program, with the flow and watts that come of it."""
    job, system = view.job, view.system
    flow = unit_label("flow", system)
    heads = ["from", "until", "for", "rpm", flow, "W", "solar, rpm", f"on the roof, {flow}", "W"]
    try:
        told = program_dicts(job)
    except NoonwaterError:
        return heads, []

    def flowing(value: float | None) -> str:
        return "–" if value is None else f"{in_system(value / 3600.0, 'flow', system):.1f}"

    def whole(value: float | None) -> str:
        return "–" if value is None else f"{value:,.0f}"

    return heads, [
        [
            row["start"],
            row["stop"],
            row["purpose"],
            whole(row["rpm"]),
            flowing(row["flow_m3h"]),
            whole(row["power_W"]),
            whole(row["solar_rpm"]),
            flowing(row["solar_flow_m3h"]),
            whole(row["solar_power_W"]),
        ]
        for row in told
    ]


def controls_told(view: View) -> tuple[str, ...]:
    """What the year says of priming, cooling, frost, the sensor and dry panels."""
    found = studied(view.job)
    if found.flow is None or found.year is None:
        return ()
    told = control_sentences(view.job, found.flow, found.year, view.system)
    return (*told, *_sensor_ohms(view.job, view.system))


def _sensor_ohms(job: Job, system: System) -> list[str]:
    """What the sensor should measure when pool and roof are at the edge of a start."""
    from noonwater.design.sensor_table import resistance_at

    points, target = job.controls.sensor_ohms, job.pool.target
    told = []
    for temp in (target, target + job.controls.on_difference):
        ohms = resistance_at(temp, points)
        if ohms is not None:
            told.append(f"{ohms:,.0f} ohm at {show(temp, 'temperature', system, 0)}")
    if not told:
        return []
    return [f"By its own sheet the sensor measures {', '.join(told)}."]


def days_told(view: View) -> tuple[tuple[int, str], ...]:
    """Days worth a look; none where there is no weather."""
    try:
        return telling_days(view.job)
    except NoonwaterError:
        return ()


def day_of(view: View, day: int) -> bytes:
    """Give a day's steps as little-endian 32-bit floats, series by series.

    Raises
    ------
    NoonwaterError
        When the job has no year, or the day is none.
    """
    return _day(view.job, view.system, day)


@lru_cache(maxsize=64)
def _day(job: Job, system: System, day: int) -> bytes:
    found = replay_day(job, day)
    low, high = (in_system(value, "temperature", system) for value in (0.0, 1.0))
    warm = (found.pool, found.pool + job.controls.on_difference, found.sensor, found.panels)
    temperatures = [each * (high - low) + low for each in (*warm, found.air)]
    powers = [found.heat / 1000.0, found.power / 1000.0, found.mode]
    return np.concatenate([*temperatures, *powers]).astype("<f4").tobytes()
