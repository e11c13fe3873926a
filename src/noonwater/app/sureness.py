"""How sure a job's year is, and what a measurement makes of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from noonwater.app.pool_answer import CARRIER
from noonwater.app.study import flows_by_period, surroundings_of
from noonwater.app.text import MONTH_NAMES, number, wrapped
from noonwater.app.weather import weather_of, weather_spread_of, weather_years_of
from noonwater.core.digits import about
from noonwater.core.progress import Told, untold
from noonwater.core.units import System, in_system, show, unit_label
from noonwater.model.job import Job
from noonwater.model.pool import Pool

if TYPE_CHECKING:
    from noonwater.climate.weather_year import WeatherYear
    from noonwater.design.calibrate import Calibration
    from noonwater.design.doubts import Doubt
    from noonwater.design.sure import Range, Sureness
    from noonwater.year.parameters import Floats
    from noonwater.year.varied import Base

KWH = 3.6e6
CALIBRATION_SAMPLES = 512
MOST_YEARS = 12
LATE_OPENING = 10
"""[d] A month opened later than on its tenth day is no whole month of the season: ours."""
WHOLE_YEAR = 11
"""[-] Months from opening to closing of a pool that never closes."""


def believed(
    job: Job, weather: WeatherYear | None = None
) -> tuple[Base, tuple[Doubt, ...], Floats]:
    """Prepare a job for many beliefs: shared inputs, doubts, the middle year's start.

    ``weather`` is one of the job's years, else the one that stands for all.
    """
    from noonwater.design.doubts import doubts_of, evaporation_reach
    from noonwater.year.run import settled_year
    from noonwater.year.varied import base_of

    weather = weather or weather_of(job)
    base = base_of(job, surroundings_of(job, weather=weather), flows_by_period(job))
    uncertain = weather.provenance.uncertainty_sun
    doubts = doubts_of(job, uncertain, evaporation_reach(base.inputs))
    return base, doubts, settled_year(base.inputs).start


def sureness_of(job: Job, told: Told = untold) -> Sureness:
    """Tell the ranges of a job's year.

    Parameters
    ----------
    job : Job
        The job.
    told : callable, optional
        Is told how far it is.

    Returns
    -------
    Sureness
        80 % ranges of monthly temperature [°C], days at target, heat [J] and electricity [J], and
        what makes them.

    Raises
    ------
    NoonwaterError
        When the year has no answer.
    """
    from noonwater.design.sure import SAMPLES, sureness

    if weather_spread_of(job) is None:
        base, doubts, start = believed(job)
        return sureness(((base, start),), doubts, told=told)
    studied = [believed(job, year) for year in weather_years_of(job)[-MOST_YEARS:]]
    bases = tuple((base, start) for base, _, start in studied)
    return sureness(bases, studied[0][1], samples=max(SAMPLES, 8 * len(bases)), told=told)


def cold_month(middles: Sequence[float], pool: Pool) -> int:
    """Month in which a cold year is felt: the season's first whole one, else the coolest. [-].

    Parameters
    ----------
    middles : sequence of float
        Middle of the pool's range in each month. [°C]
    pool : Pool
        Its season.
    """
    first, last = (int(day.split("-")[0]) for day in (pool.opens, pool.closes))
    late = int(pool.opens.split("-")[1]) > LATE_OPENING
    if (last - first) % 12 >= WHOLE_YEAR:
        return min(range(12), key=lambda month: middles[month]) + 1
    return (first - 1 + late) % 12 + 1


def ranges_dict(sure: Sureness, pump_price: float) -> dict[str, Any]:
    """Give the ranges for JSON: low, middle and high are 10, 50 and 90 % points."""
    return {
        "pool_C": [asdict(month) for month in sure.pool],
        "season_pool_C": asdict(sure.season_pool),
        "days_at_target": asdict(sure.days_at_target),
        "solar_heat_kWh": _scaled(sure.solar_heat, 1.0 / KWH),
        "pump_kWh": _scaled(sure.pump_energy, 1.0 / KWH),
        "heater_kWh": _scaled(sure.heater_energy, 1.0 / KWH),
        "pump_cost": _scaled(sure.pump_energy, pump_price),
        "what_matters": [asdict(weight) for weight in sure.weights],
        "weather_left_out": sure.weather_left_out,
        "samples": sure.samples,
    }


def range_lines(sure: Sureness, job: Job, system: System) -> list[str]:
    """Tell the ranges as one would to an owner, then what makes them."""
    from noonwater.climate.weather_year import MONTHS

    degrees = unit_label("temperature", system)

    def span(found: Range) -> str:
        ends = (in_system(end, "temperature", system) for end in (found.low, found.high))
        return " to ".join(number(end) for end in ends)

    months = ", ".join(
        f"{name} {span(month)}" for name, month in zip(MONTH_NAMES, sure.pool, strict=True)
    )
    heaviest = [weight for weight in sure.weights if weight.share >= 0.05]
    matters = ", ".join(f"{weight.name} {100 * weight.share:.0f} %" for weight in heaviest)
    days = sure.days_at_target
    often, cold = "four times in five", ""
    if not sure.weather_left_out:
        often, month = (
            "most years (four of five)",
            cold_month([each.middle for each in sure.pool], job.pool),
        )
        lowest = show(sure.pool[month - 1].low, "temperature", system, 0)
        cold = f" and a cold {MONTHS[month - 1]} has {lowest}"
    told = [
        f"How sure: {often} the season's mean is {span(sure.season_pool)} {degrees}{cold},"
        f" with {number(days.low)} to {number(days.high)} days at the target and"
        f" {_kwh(sure.solar_heat)} of solar heat.",
        f"  by month, {degrees}: {months}",
        f"  what makes the range: {matters}; measure it: noonwater calibrate",
        f"  not in it: weather from year to year, for {sure.weather_left_out}"
        if sure.weather_left_out
        else "  weather from year to year is in it",
    ]
    if job.heater.kind != "none":
        taken = f"{_kwh(sure.heater_energy)} of {CARRIER[job.heater.kind]}"
        told.insert(1, f"  the heater takes {taken} a year")
    return [line for text in told for line in wrapped(text, "      ")]


def _kwh(heat: Range) -> str:
    return f"{number(about(heat.low / KWH))} to {number(about(heat.high / KWH))} kWh"


def calibration_dict(done: Calibration) -> dict[str, Any]:
    """Give a calibration for JSON."""
    return {
        "effective_beliefs": done.effective,
        "season_pool_C": {"before": asdict(done.season_before), "after": asdict(done.season_after)},
        "solar_heat_kWh": {
            "before": _scaled(done.heat_before, 1.0 / KWH),
            "after": _scaled(done.heat_after, 1.0 / KWH),
        },
        "narrower": done.narrower,
        "doubts": [asdict(doubt) for doubt in done.doubts],
    }


def calibration_lines(done: Calibration, system: System) -> list[str]:
    """Tell what a measurement left of the ranges."""

    def span(found: Range) -> str:
        ends = (in_system(end, "temperature", system) for end in (found.low, found.high))
        return " to ".join(number(end, 1) for end in ends)

    degrees = unit_label("temperature", system)
    lines = [
        f"The season's mean, four times in five: {span(done.season_before)} {degrees} before,"
        f" {span(done.season_after)} {degrees} after: {100 * done.narrower:.0f} % narrower."
    ]
    for doubt in done.doubts:
        before, after = (
            f"{found.low:.2f} to {found.high:.2f}" for found in (doubt.before, doubt.after)
        )
        said = f"now {after}" if doubt.told else "not told by this measurement, left as it was"
        lines.append(f"  {doubt.name}: {before}, {said}")
    return lines


def _scaled(found: Range, scale: float) -> dict[str, float]:
    return {name: value * scale for name, value in asdict(found).items()}
