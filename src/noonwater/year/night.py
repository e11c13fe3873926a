"""The nights of the year: dry panels, full panels and bare pipe under the sky of each night."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from noonwater.climate.sun import WeatherSteps
from noonwater.climate.weather_year import Provenance, WeatherYear
from noonwater.model.job import Job
from noonwater.year.night_bodies import (
    COLD_BELIEFS,
    MIDDLE,
    WARM_BELIEFS,
    Body,
    NightBelief,
    panel_bodies,
    pipe_body,
)
from noonwater.year.night_dates import FreezeRisk, freeze_risk
from noonwater.year.night_loop import BodyYear, body_years
from noonwater.year.night_rows import (
    Course,
    Moment,
    NightMonth,
    NightTable,
    coldest_dry,
    freezing_course,
    most_ice_in_mild_air,
    night_months,
    night_table,
)
from noonwater.year.night_trip import TRIP_PRACTICE, Trip, sensor_temp, trip_against
from noonwater.year.parameters import Floats
from noonwater.year.surroundings import Surroundings

SAME_TRIP = 0.1
"""[K] 5.6 °C is 42 °F."""


@dataclass(frozen=True)
class HoursRange:
    """Hours of a year with the air above 0 °C, as reckoned and over what nobody measured.

    Attributes
    ----------
    middle, low, high : float
        [h]
    """

    middle: float
    low: float
    high: float


@dataclass(frozen=True)
class PlaneNights:
    """A kind of panel on a plane, or the pipe.

    Attributes
    ----------
    body : Body
        Which.
    dry, wet : float
        Lowest of the year without and with water. [°C]
    ice_share : float
        Largest share of its water that is ice. [-]
    """

    body: Body
    dry: float
    wet: float
    ice_share: float


@dataclass(frozen=True, eq=False)
class NightResult:
    """A year of nights.

    Attributes
    ----------
    table : NightTable
        Each night.
    months : tuple of NightMonth
        Twelve.
    planes : tuple of PlaneNights
        Each kind of panel on each plane, then the pipe.
    hours_dry, hours_wet : HoursRange
        With the air above 0 °C: dry panels below 0 °C, ice forming in full ones.
    worst_dry, worst_wet : Moment or None
        Of those hours.
    course : Course or None
        How a full panel freezes in the worst night that begins without ice.
    risk : FreezeRisk
        Dates to drain and to reopen.
    trips : tuple of Trip
        The job's own freeze trip on what it watches; before it the common trip on the air where
        that is another.
    weather : Provenance
        Where the year comes from.
    """

    table: NightTable
    months: tuple[NightMonth, ...]
    planes: tuple[PlaneNights, ...]
    hours_dry: HoursRange
    hours_wet: HoursRange
    worst_dry: Moment | None
    worst_wet: Moment | None
    course: Course | None
    risk: FreezeRisk
    trips: tuple[Trip, ...]
    weather: Provenance


@dataclass(frozen=True, eq=False)
class _Bodies:
    dry: tuple[BodyYear, ...]
    wet: tuple[BodyYear, ...]
    pipe: BodyYear

    def table(self, air: WeatherSteps) -> NightTable:
        return night_table(air, self.dry, self.wet, self.pipe)


def nights_of(
    job: Job,
    around: Surroundings,
    weather: WeatherYear,
    others: Sequence[Surroundings] = (),
) -> NightResult:
    """Reckon a job's nights.

    Parameters
    ----------
    job : Job
        The job.
    around : Surroundings
        Of its site, with every plane that carries panels or the sensor.
    weather : WeatherYear
        The same year's hours.
    others : sequence of Surroundings
        All real years at hand, where there are several; they make the dates.

    Returns
    -------
    NightResult
        Water stands all year and nothing is done about it.
    """
    air = around.air
    middle = _follow(job, around, MIDDLE)
    cold = [_follow(job, around, belief) for belief in COLD_BELIEFS]
    warm = [_follow(job, around, belief) for belief in WARM_BELIEFS]
    table, *doubted = (each.table(air) for each in (middle, *cold, *warm))
    return NightResult(
        table=table,
        months=night_months(table),
        planes=_planes(middle),
        hours_dry=_range([float(each.hours_dry.sum()) for each in (table, *doubted)]),
        hours_wet=_range([float(each.hours_wet.sum()) for each in (table, *doubted)]),
        worst_dry=coldest_dry(air, middle.dry),
        worst_wet=most_ice_in_mild_air(air, middle.wet),
        course=freezing_course(middle.wet, air.step_seconds),
        risk=freeze_risk(job, around, weather, others),
        trips=_trips(job, around, middle, cold),
        weather=weather.provenance,
    )


def _follow(job: Job, around: Surroundings, belief: NightBelief) -> _Bodies:
    air = around.air
    full = panel_bodies(job, around, belief)
    dry = body_years([body.dry for body in full], air.temp_air, air.step_seconds)
    wet = body_years(full, air.temp_air, air.step_seconds)
    pipe = body_years([pipe_body(job, around, belief)], air.temp_air, air.step_seconds)[0]
    return _Bodies(dry, wet, pipe)


def _range(hours: Sequence[float]) -> HoursRange:
    return HoursRange(hours[0], min(hours), max(hours))


def _planes(middle: _Bodies) -> tuple[PlaneNights, ...]:
    panels = [
        PlaneNights(wet.body, float(dry.temp.min()), float(wet.temp.min()), float(wet.ice.max()))
        for dry, wet in zip(middle.dry, middle.wet, strict=True)
    ]
    pipe = middle.pipe
    lowest = float(pipe.temp.min())
    return (*panels, PlaneNights(pipe.body, lowest, lowest, float(pipe.ice.max())))


def _trips(
    job: Job, around: Surroundings, middle: _Bodies, cold: Sequence[_Bodies]
) -> tuple[Trip, ...]:
    air = around.air.temp_air
    controls = job.controls

    def trip(watch: str, temp: float, felt: Callable[[_Bodies], Floats]) -> Trip:
        told, *worse = (
            trip_against(felt(each), (*each.wet, each.pipe), watch, temp)
            for each in (middle, *cold)
        )
        return replace(told, missed_most=max(int(each.missed.sum()) for each in (told, *worse)))

    common = trip("air", TRIP_PRACTICE, lambda bodies: air)
    if controls.freeze_watch == "sensor":
        own = trip(
            "sensor", controls.freeze_trip, lambda bodies: sensor_temp(job, around, bodies.pipe)
        )
    elif controls.freeze == "none" or abs(controls.freeze_trip - TRIP_PRACTICE) < SAME_TRIP:
        return (common,)
    else:
        own = trip("air", controls.freeze_trip, lambda bodies: air)
    return common, own
