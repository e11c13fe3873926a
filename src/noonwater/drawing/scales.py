"""From a value to a place on the sheet, and the round values that are written beside it."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor, log10
from typing import overload

import numpy as np

from noonwater.core.units import System
from noonwater.drawing.strokes import Floats

TEMPERATURE_STEPS = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0)
NO_BREAK = "\u00a0"
MINUS = "−"


@dataclass(frozen=True)
class Scale:
    """A straight scale.

    Attributes
    ----------
    low, high : float
        Values at its ends. [the quantity's unit]
    start, end : float
        Places of its ends. [drawing units]
    """

    low: float
    high: float
    start: float
    end: float

    @overload
    def at(self, value: float) -> float: ...
    @overload
    def at(self, value: Floats) -> Floats: ...
    def at(self, value: float | Floats) -> float | Floats:
        """Place of a value. [drawing units]."""
        share = (value - self.low) / (self.high - self.low)
        return self.start + share * (self.end - self.start)

    def value_at(self, place: float) -> float:
        """Value at a place. [the quantity's unit]."""
        share = (place - self.start) / (self.end - self.start)
        return self.low + share * (self.high - self.low)


def ticks_over(low: float, high: float, step: float) -> Floats:
    """Multiples of a step that reach over a range at both ends.

    Parameters
    ----------
    low, high : float
        Range to reach over.
    step : float
        From one to the next.

    Returns
    -------
    array
        At least two values.
    """
    # A hair of tolerance: 85.00000000001 does not ask for another step.
    first = floor(low / step + 1e-9)
    last = max(ceil(high / step - 1e-9), first + 1)
    return np.arange(first, last + 1, dtype=np.float64) * step


def temperature_ticks(low: float, high: float, most: int, span_least: float) -> Floats:
    """Round temperatures over a range; a flat year is not blown up to look like a changing one.

    Parameters
    ----------
    low, high : float
        Range of all that is drawn. [°C] or [°F]
    most : int
        Most values wanted.
    span_least : float
        Least range shown. [K] or [°F]

    Returns
    -------
    array
        Steps of 5 where they fit, 10, 20 or 50 where the range is wide.
    """
    short = max(0.0, span_least - (high - low)) / 2.0
    for step in TEMPERATURE_STEPS[2:]:
        ticks = ticks_over(low - short, high + short, step)
        if len(ticks) <= most:
            return ticks
    return ticks


def amount_ticks(low: float, high: float, most: int) -> Floats:
    """Round amounts from zero, steps of 1, 2 or 5 times a power of ten.

    Parameters
    ----------
    low, high : float
        Range of the amounts; zero is always within the ticks.
    most : int
        Most values wanted, three or more.

    Returns
    -------
    array
        At least two values.
    """
    low, high = min(low, 0.0), max(high, 0.0)
    if high == low:
        return np.array([0.0, 1.0])
    power = 10.0 ** floor(log10((high - low) / most))
    for factor in (1.0, 2.0, 5.0, 10.0, 20.0):
        ticks = ticks_over(low, high, factor * power)
        if len(ticks) <= most:
            break
    return ticks


def round_ticks(low: float, high: float, most: int) -> Floats:
    """Round values over a range, steps of 1, 2 or 5 times a power of ten; zero need not be there.

    Parameters
    ----------
    low, high : float
        Range to reach over; one value alone is given a step to each side.
    most : int
        Most values wanted, three or more.

    Returns
    -------
    array
        At least two values.
    """
    if high - low <= 1e-9 * max(abs(low), abs(high), 1e-9):
        step = 10.0 ** floor(log10(max(abs(high), 1.0))) / 10.0
        low, high = low - step, high + step
    power = 10.0 ** floor(log10((high - low) / most))
    for factor in (1.0, 2.0, 5.0, 10.0, 20.0):
        ticks = ticks_over(low, high, factor * power)
        if len(ticks) <= most:
            break
    return ticks


def digits(value: float, system: System, places: int = 0) -> str:
    """Write a number for people: a true minus, thousands set apart.

    Parameters
    ----------
    value : float
        Any unit.
    system : {"US", "SI"}
        A comma or a no-break space between the thousands.
    places : int
        After the point.
    """
    text = f"{abs(value):,.{places}f}"
    text = text if system == "US" else text.replace(",", NO_BREAK)
    nothing = not any(digit in "123456789" for digit in text)
    return text if value >= 0.0 or nothing else f"{MINUS}{text}"
