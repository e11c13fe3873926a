"""Twelve monthly means: typed by a user, or interpolated from stations."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from noonwater.climate.outside import sun_outside_level_of_month
from noonwater.climate.weather_year import MONTHS, FloatArray, YearKind
from noonwater.core.errors import Fault, WeatherError

UNCERTAINTY_SUN_TYPED = 0.10
"""[-] Upper end of what typical years of one place differ by: a typed table has no better claim."""

CLEARNESS_MOST = 0.82
"""[-] The clearest month of the 1,020 US stations has 0.77; room for high deserts elsewhere."""

CLEARNESS_LEAST = 0.08
"""[-] The dullest month of the 1,020 US stations has 0.18; below half of that a unit is wrong."""

WATT_PER_DAILY_KWH = 1000.0 / 24.0
"""[W/m² per kWh/(m² day)] A day's energy as a mean over day and night, exact."""

RANGES = {
    "sun_global": (0.0, 500.0, "W/m², mean over day and night"),
    "temp_air": (-60.0, 50.0, "°C"),
    "dew_point": (-65.0, 32.0, "°C"),
    "wind_speed": (0.0, 25.0, "m/s"),
    "daily_range": (0.5, 30.0, "K"),
}


@dataclass(frozen=True)
class MonthlyMeans:
    """Means of the twelve months, January first.

    Attributes
    ----------
    sun_global : sequence of 12
        On the level, mean over day and night; 1 kWh/(m² day) is 41.67 W/m². [W/m²]
    temp_air, dew_point : sequence of 12
        [°C]
    wind_speed : sequence of 12
        At 10 m over open ground. [m/s]
    daily_range : sequence of 12, or None
        Mean of the days' highest less lowest temperature; None lets clearness tell it. [K]
    source : str
        Where the numbers come from.
    kind : YearKind
        Rung of the ladder of sources.
    uncertainty_sun : float
        Likely error of the annual sun, one standard deviation. [-]
    place : str
        Name for people.
    notes : tuple of str
        What was assumed.
    temp_lowest : float or None
        Coldest hour of the typical years behind the means. [°C]

    Raises
    ------
    WeatherError
        All faults at once: not twelve values, not a number, out of range, dew above air.
    """

    sun_global: Sequence[float]
    temp_air: Sequence[float]
    dew_point: Sequence[float]
    wind_speed: Sequence[float]
    daily_range: Sequence[float] | None = None
    source: str = "typed monthly means"
    kind: YearKind = "monthly means"
    uncertainty_sun: float = UNCERTAINTY_SUN_TYPED
    place: str = ""
    notes: tuple[str, ...] = ()
    temp_lowest: float | None = None

    def __post_init__(self) -> None:
        faults: list[Fault] = []
        for name in RANGES:
            values = getattr(self, name)
            if values is None and name == "daily_range":
                continue
            try:
                values = tuple(float(value) for value in values)
            except (TypeError, ValueError):
                faults.append(Fault(f"weather.{name}", f"{values!r}", "12 numbers"))
                continue
            object.__setattr__(self, name, values)
            faults += _faults_of_row(name, values)
        faults = faults or _faults_of_dew(self.temp_air, self.dew_point)
        if faults:
            raise WeatherError(faults)

    def array(self, name: str) -> FloatArray:
        """Twelve values of one of the means.

        Parameters
        ----------
        name : str
            Attribute's name.

        Returns
        -------
        array of 12
            In the attribute's unit.
        """
        return np.array(getattr(self, name), dtype=np.float64)


def clearness_of_months(means: MonthlyMeans, latitude: float) -> FloatArray:
    """Share of the sun outside the atmosphere that reaches the level in each month.

    Parameters
    ----------
    means : MonthlyMeans
        Sun on the level. [W/m²]
    latitude : float
        [°]

    Returns
    -------
    array of 12
        [-]; zero in months without sun.

    Raises
    ------
    WeatherError
        When a month has more sun than a clear sky lets through, or less than any weather does.
    """
    outside = sun_outside_level_of_month(np.array([latitude]))[0]
    sun = means.array("sun_global")
    faults = []
    for month in range(12):
        most = CLEARNESS_MOST * outside[month] + 2.0
        least = CLEARNESS_LEAST * outside[month] - 2.0
        if not least <= sun[month] <= most:
            faults.append(_fault_of_clearness(month, sun[month], max(least, 0.0), most))
    if faults:
        raise WeatherError(faults)
    return np.where(outside > 1.0, sun / np.maximum(outside, 1.0), 0.0)


def _fault_of_clearness(month: int, sun: float, least: float, most: float) -> Fault:
    def words(value: float) -> str:
        return f"{value:.0f} W/m² ({value / WATT_PER_DAILY_KWH:.1f} kWh/m²/day)"

    return Fault(
        f"weather.sun_global, {MONTHS[month]}",
        words(sun),
        f"{words(least)} to {words(most)} at this latitude",
        "give the sun on the level per day, not per month, and look at the latitude",
    )


def fault_of_count(name: str, count: int) -> Fault:
    """Fault for a row that doesn't hold twelve months.

    Parameters
    ----------
    name : str
        Row.
    count : int
        Values in it. [-]

    Returns
    -------
    Fault
        What is allowed and what to do.
    """
    remedy = "one for each month, January first"
    return Fault(f"weather.{name}", f"{count} values", "12 values", remedy)


def _faults_of_row(name: str, values: tuple[float, ...]) -> list[Fault]:
    low, high, unit = RANGES[name]
    if len(values) != 12:
        return [fault_of_count(name, len(values))]
    return [
        Fault(f"weather.{name}, {MONTHS[month]}", f"{value:g}", f"{low:g} to {high:g} {unit}")
        for month, value in enumerate(values)
        if not (math.isfinite(value) and low <= value <= high)
    ]


def _faults_of_dew(temp_air: Sequence[float], dew_point: Sequence[float]) -> list[Fault]:
    return [
        Fault(
            f"weather.dew_point, {MONTHS[month]}",
            f"{dew:g} °C",
            f"below the air's {air:g} °C",
            "take dew points, not relative humidity in per cent",
        )
        for month, (air, dew) in enumerate(zip(temp_air, dew_point, strict=True))
        if dew >= air
    ]
