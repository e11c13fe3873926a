"""Where a quantity that rises with a speed or an opening crosses nothing."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from scipy.optimize import brentq

CLOSE = 0.05
"""[rpm] Speeds are found to this; a pump is set to no less than 5 to 10 rpm."""


def least_where_positive(
    low: float, high: float, value: Callable[[float], float], close: float = CLOSE
) -> float | None:
    """Find where a rising quantity stops being negative.

    Parameters
    ----------
    low, high : float
        Range, in the unit of the argument.
    value : callable
        The quantity. It may jump, but not fall.
    close : float
        How closely, in the unit of the argument.

    Returns
    -------
    float or None
        `low` where it is not negative there; None where it is at `high` too.
    """
    # The search asks for its ends again, and an answer can be dear.
    once = cache(value)
    if once(high) < 0.0:
        return None
    if low >= high or once(low) >= 0.0:
        return low
    return float(brentq(once, low, high, xtol=close))
