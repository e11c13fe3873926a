"""The nights of a year, each from noon to noon, named by the day of its evening."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from noonwater.climate.sun import WeatherSteps
from noonwater.climate.weather_year import month_of_day
from noonwater.physics.ice import ice_thickness
from noonwater.physics.sky import temp_sky
from noonwater.year.night_loop import BodyYear
from noonwater.year.parameters import Floats

Nights = NDArray[np.bool_]

DAYS = 365
NOON = 12
FREEZING = 0.0
"""[°C]"""


@dataclass(frozen=True, eq=False)
class NightTable:
    """What each night did; arrays of 365, by the day of the evening from 1 January.

    Attributes
    ----------
    air, dry, wet, pipe : (365,) array
        Lowest temperature of the air and of any plane's dry panels, of its full panels, of the full
        pipe. [°C]
    hours_dry, hours_wet : (365,) array
        With the air above 0 °C: dry panels below 0 °C, ice forming in full ones. [h]
    hours_at_risk : (365,) array
        With more ice somewhere than it bears. [h]
    ice, ice_pipe : (365,) array
        Largest share of the water that is ice, in any plane's panels and in the pipe. [-]
    ice_mass : (365,) array
        Most ice at one time, per area of the plane that has most. [kg/m²]
    ice_all : (365,) array
        Most ice in all panels at one time. [kg]
    at_risk : (365,) array
        Whether there is more ice somewhere than it bears.
    """

    air: Floats
    dry: Floats
    wet: Floats
    pipe: Floats
    hours_dry: Floats
    hours_wet: Floats
    hours_at_risk: Floats
    ice: Floats
    ice_pipe: Floats
    ice_mass: Floats
    ice_all: Floats
    at_risk: Nights


@dataclass(frozen=True)
class NightMonth:
    """A month of nights; a night counts to the month of its evening.

    Attributes
    ----------
    month : int
        1 for January.
    air, dry, wet, pipe : float
        Lowest temperatures, as in `NightTable`. [°C]
    nights_at_risk, nights_with_ice : int
        Nights with more ice somewhere than it bears; nights with any ice in full panels.
    hours_at_risk, hours_dry, hours_wet : float
        As in `NightTable`. [h]
    ice_thickness : float
        Most ice, spread over the panel. [m]
    ice_volume : float
        Most water that froze in all panels. [m³]
    """

    month: int
    air: float
    dry: float
    wet: float
    pipe: float
    nights_at_risk: int
    nights_with_ice: int
    hours_at_risk: float
    hours_dry: float
    hours_wet: float
    ice_thickness: float
    ice_volume: float


@dataclass(frozen=True)
class Moment:
    """A moment of a night.

    Attributes
    ----------
    night : int
        Day of its evening, 0 for 1 January.
    hour : float
        Of the clock, standard time. [h]
    where : str
        Which panels.
    temp_air, temp, temp_sky : float
        Of the air, the panel and a black sky of the same radiation. [°C]
    ice_thickness : float
        Ice that the night formed while the air was above 0 °C. [m]
    """

    night: int
    hour: float
    where: str
    temp_air: float
    temp: float
    temp_sky: float
    ice_thickness: float = 0.0


@dataclass(frozen=True)
class Course:
    """How a full panel freezes in a night.

    Attributes
    ----------
    night : int
        Day of its evening, 0 for 1 January.
    where : str
        Which panels.
    first_ice : float
        Hour of the clock. [h]
    cooling : float or None
        From 4 °C to the first ice; None where it was colder at noon. [s]
    solid : float or None
        From the first ice till all is ice; None where it isn't by noon. [s]
    share : float
        Largest share of ice by noon. [-]
    """

    night: int
    where: str
    first_ice: float
    cooling: float | None
    solid: float | None
    share: float


def by_night(values: NDArray[Any]) -> NDArray[Any]:
    """Cut a year of steps into nights.

    Parameters
    ----------
    values : (steps,) array
        Any unit.

    Returns
    -------
    (365, steps of a day) array
        Noon to noon; the last one ends at noon of 1 January.
    """
    a_day = len(values) // DAYS
    return np.roll(values, -NOON * a_day // 24).reshape(DAYS, a_day)


def night_table(
    air: WeatherSteps,
    dry: Sequence[BodyYear],
    wet: Sequence[BodyYear],
    pipe: BodyYear,
) -> NightTable:
    """Tell every night.

    Parameters
    ----------
    air : WeatherSteps
        Of the year.
    dry, wet : sequence of BodyYear
        Panels without and with water, in the same order.
    pipe : BodyYear
        Full pipe.

    Returns
    -------
    NightTable
    """
    hour = air.step_seconds / 3600.0
    mild = air.temp_air > FREEZING
    dry_below = np.any([each.temp < FREEZING for each in dry], axis=0) & mild
    forming = np.any([_forming(each) > 0.0 for each in wet], axis=0) & mild
    too_much = np.asarray(np.any([beyond_bearing(each) for each in (*wet, pipe)], axis=0))
    masses = [each.ice * each.body.mass for each in wet]
    whole = np.sum([m * each.body.area for m, each in zip(masses, wet, strict=True)], axis=0)

    def lowest(years: Sequence[BodyYear]) -> Floats:
        return np.asarray(np.min([by_night(each.temp).min(axis=1) for each in years], axis=0))

    return NightTable(
        air=by_night(air.temp_air).min(axis=1),
        dry=lowest(dry),
        wet=lowest(wet),
        pipe=lowest([pipe]),
        hours_dry=by_night(dry_below).sum(axis=1) * hour,
        hours_wet=by_night(forming).sum(axis=1) * hour,
        hours_at_risk=by_night(too_much).sum(axis=1) * hour,
        ice=by_night(np.max([each.ice for each in wet], axis=0)).max(axis=1),
        ice_pipe=by_night(pipe.ice).max(axis=1),
        ice_mass=by_night(np.max(masses, axis=0)).max(axis=1),
        ice_all=by_night(whole).max(axis=1),
        at_risk=np.asarray(by_night(too_much).any(axis=1)),
    )


def beyond_bearing(year: BodyYear) -> Nights:
    """Steps with more ice than a body bears."""
    return np.asarray(year.ice > year.body.bearing.share)


def _forming(year: BodyYear) -> Floats:
    """Share of the water that freezes in each step; 0 where ice thaws."""
    return np.maximum(year.ice - np.roll(year.ice, 1), 0.0)


def night_months(table: NightTable) -> tuple[NightMonth, ...]:
    """Gather nights by the month of their evening.

    Parameters
    ----------
    table : NightTable
        Of the year.

    Returns
    -------
    tuple of NightMonth
        Twelve.
    """
    months = []
    for number in range(12):
        of = month_of_day() == number
        months.append(
            NightMonth(
                month=number + 1,
                air=float(table.air[of].min()),
                dry=float(table.dry[of].min()),
                wet=float(table.wet[of].min()),
                pipe=float(table.pipe[of].min()),
                nights_at_risk=int(table.at_risk[of].sum()),
                nights_with_ice=int((table.ice[of] > 0.0).sum()),
                hours_at_risk=float(table.hours_at_risk[of].sum()),
                hours_dry=float(table.hours_dry[of].sum()),
                hours_wet=float(table.hours_wet[of].sum()),
                ice_thickness=float(ice_thickness(float(table.ice_mass[of].max()))),
                ice_volume=float(table.ice_all[of].max()) / 1000.0,
            )
        )
    return tuple(months)


def coldest_dry(air: WeatherSteps, dry: Sequence[BodyYear]) -> Moment | None:
    """Coldest that dry panels get while the air is above 0 °C; None where they stay above it too.

    Parameters
    ----------
    air : WeatherSteps
        Of the year.
    dry : sequence of BodyYear
        Panels without water.
    """
    mild = air.temp_air > FREEZING
    temps = np.array([np.where(mild, each.temp, np.inf) for each in dry])
    which, at = np.unravel_index(int(np.argmin(temps)), temps.shape)
    if not temps[which, at] < FREEZING:
        return None
    return _moment(air, dry[int(which)], int(at))


def most_ice_in_mild_air(air: WeatherSteps, wet: Sequence[BodyYear]) -> Moment | None:
    """The night in which most ice forms while the air is above 0 °C, at its coldest mild moment.

    Parameters
    ----------
    air : WeatherSteps
        Of the year.
    wet : sequence of BodyYear
        Full panels.

    Returns
    -------
    Moment or None
        None where no ice forms so.
    """
    mild = air.temp_air > FREEZING
    formed = np.array([_forming(each) * mild * each.body.mass for each in wet])
    nightly = np.array([by_night(each).sum(axis=1) for each in formed])
    which, night = (int(i) for i in np.unravel_index(int(np.argmax(nightly)), nightly.shape))
    if nightly[which, night] <= 0.0:
        return None
    steps = by_night(formed[which])[night] > 0.0
    cold = np.where(steps, by_night(air.temp_air)[night], np.inf)
    a_day = len(cold)
    at = (night * a_day + a_day // 2 + int(np.argmin(cold))) % (a_day * DAYS)
    # Ice that thaws in a lull and forms anew is counted once.
    mass = min(float(nightly[which, night]), wet[which].body.mass)
    return _moment(air, wet[which], at, float(ice_thickness(mass)))


def _moment(air: WeatherSteps, year: BodyYear, at: int, ice: float = 0.0) -> Moment:
    a_day = len(year.temp) // DAYS
    return Moment(
        night=night_of_step(at, a_day),
        hour=(at % a_day + 0.5) * 24.0 / a_day,
        where=year.body.name,
        temp_air=float(air.temp_air[at]),
        temp=float(year.temp[at]),
        temp_sky=float(temp_sky(float(air.longwave_sky[at]))),
        ice_thickness=ice,
    )


def night_of_step(at: int, a_day: int) -> int:
    """Day of the evening of the night that a step belongs to."""
    return (at - a_day // 2) // a_day % DAYS


def freezing_course(wet: Sequence[BodyYear], step_seconds: int) -> Course | None:
    """How the fullest freeze of the year goes; None where nothing freezes.

    Parameters
    ----------
    wet : sequence of BodyYear
        Full panels.
    step_seconds : int
        [s]

    Notes
    -----
    The night that begins without ice and forms most of it soonest.
    """
    best: tuple[float, float] = (0.0, 0.0)
    course = None
    for year in wet:
        for night, (ice, temp) in enumerate(
            zip(by_night(year.ice), by_night(year.temp), strict=True)
        ):
            if ice[0] > 0.0 or ice.max() <= 0.0:
                continue
            first = int(np.argmax(ice > 0.0))
            full = np.flatnonzero(ice >= 1.0)
            solid = float(full[0] - first) * step_seconds if len(full) else None
            rank = (float(ice.max()), -(solid or 0.0))
            if course is not None and rank <= best:
                continue
            warm = np.flatnonzero(temp[:first] >= 4.0)
            best = rank
            course = Course(
                night=night,
                where=year.body.name,
                first_ice=(NOON + first * step_seconds / 3600.0) % 24.0,
                cooling=float(first - warm[-1]) * step_seconds if len(warm) else None,
                solid=solid,
                share=rank[0],
            )
    return course
