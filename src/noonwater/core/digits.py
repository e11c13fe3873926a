"""Digits of an estimate that count."""

from __future__ import annotations

from math import floor, isfinite, log10


def about(value: float, digits: int = 3) -> float:
    """Round an estimate to the digits that count.

    Parameters
    ----------
    value : float
        Any unit.
    digits : int
        How many from its first on; zeros before that are none.
    """
    if not value or not isfinite(value):
        return value
    return float(round(value, digits - 1 - floor(log10(abs(value)))))
