"""Pipe: sizes, ratings, and what warmth leaves of a rating."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from noonwater.catalog.reader import table
from noonwater.core.errors import Fault, InputError

NOMINAL_TOLERANCE = 0.0006
"""[m] How far a written size may lie from the catalog's: '50 mm' is not '2 in'."""


@dataclass(frozen=True)
class PipeSize:
    """A size of pipe.

    Attributes
    ----------
    name : str
        Size and schedule in words.
    schedule : str
        "40", "80" or "metric".
    nominal : float
        Size that it is bought by. [m]
    diameter_outside, diameter, wall : float
        Outside, average inside, least wall. [m]
    pressure_max : float
        Gauge pressure at 23 °C. [Pa]
    memory : bool
        Whether the figures are from memory.
    source : str
        Where they come from.
    """

    name: str
    schedule: str
    nominal: float
    diameter_outside: float
    diameter: float
    wall: float
    pressure_max: float
    memory: bool
    source: str


@dataclass(frozen=True)
class Derating:
    """Share of the rating left at a temperature [°C]."""

    temp: float
    factor: float
    memory: bool
    source: str


def pipes() -> tuple[PipeSize, ...]:
    """All sizes of pipe."""
    return table("pipe.csv", PipeSize)


def pipe_named(nominal: float, schedule: str, field: str = "pad.pipe") -> PipeSize:
    """Find pipe by its nominal size and schedule.

    Parameters
    ----------
    nominal : float
        Size that it is bought by. [m]
    schedule : str
        "40", "80" or "metric".
    field : str
        Path of the job's field, for the message.

    Returns
    -------
    PipeSize
        The size.

    Raises
    ------
    InputError
        With the sizes that exist in that schedule.
    """
    sizes = [size for size in pipes() if size.schedule == schedule]
    for size in sizes:
        if abs(size.nominal - nominal) <= NOMINAL_TOLERANCE:
            return size
    shown = ", ".join(size.name for size in sizes) or "schedules '40', '80', 'metric'"
    given = f"no pipe of {1000 * nominal:.4g} mm in schedule '{schedule}'"
    raise InputError([Fault(field, given, shown, "write the size that the pipe is sold by")])


def pipe_pressure_max(size: PipeSize, temp: float) -> float:
    """Gauge pressure that pipe may carry in warmth.

    Parameters
    ----------
    size : PipeSize
        The pipe.
    temp : float
        Of the pipe's wall. [°C]

    Returns
    -------
    float
        Pressure; 0 above 60 °C, where the table gives no value. [Pa]
    """
    rows = table("derating.csv", Derating)
    if temp <= rows[0].temp:
        return size.pressure_max
    for low, high in pairwise(rows):
        if temp <= high.temp:
            share = (temp - low.temp) / (high.temp - low.temp)
            return size.pressure_max * (low.factor + share * (high.factor - low.factor))
    return 0.0
