"""How far apart the supports of level pipe may stand, by size, schedule and warmth."""

from __future__ import annotations

from dataclasses import dataclass

from noonwater.catalog.reader import table

CODE_SPACING = 4 * 0.3048
"""[m] Most that a code for houses allows level plastic pipe above 1 in: International Residential
Code 2018, table P2605.1, the row of ABS read, that of PVC from memory."""


@dataclass(frozen=True)
class SupportSpacing:
    """Greatest distance between supports of level pipe full of water.

    Attributes
    ----------
    schedule : str
        "40" or "80".
    nominal : float
        Size that the pipe is bought by. [m]
    temp : float
        Warmest that the row holds for. [°C]
    spacing : float
        Greatest distance. [m]
    memory : bool
        Whether the figure is from memory.
    source : str
        Where it comes from.
    """

    schedule: str
    nominal: float
    temp: float
    spacing: float
    memory: bool
    source: str


def support_spacings() -> tuple[SupportSpacing, ...]:
    """All rows of the table."""
    return table("support.csv", SupportSpacing)


def support_row(nominal: float, schedule: str, temp: float) -> SupportSpacing:
    """Find the row that holds for a pipe.

    Parameters
    ----------
    nominal : float
        Size that the pipe is bought by. [m]
    schedule : str
        "40", "80" or "metric".
    temp : float
        Of the pipe's wall. [°C]

    Returns
    -------
    SupportSpacing
        Of the largest size that is no larger, at the next warmer temperature; the warmest row above
        60 °C, where the pipe has no rating left. Metric pipe takes the next smaller row of
        schedule 40: ours, not the source's; its walls are thinner, so its maker decides.
    """
    listed = "80" if schedule == "80" else "40"
    rows = [row for row in support_spacings() if row.schedule == listed]
    sizes = sorted({row.nominal for row in rows})
    fitting = [size for size in sizes if size <= nominal + 1e-6]
    size = fitting[-1] if fitting else sizes[0]
    by_warmth = sorted((row for row in rows if row.nominal == size), key=lambda row: row.temp)
    return next((row for row in by_warmth if temp <= row.temp + 1e-6), by_warmth[-1])


def support_spacing(nominal: float, schedule: str, temp: float) -> float:
    """Greatest distance between a pipe's supports.

    Parameters
    ----------
    nominal : float
        Size that the pipe is bought by. [m]
    schedule : str
        "40", "80" or "metric".
    temp : float
        Of the pipe's wall. [°C]

    Returns
    -------
    float
        The table's, or the code's where that is less. [m]
    """
    return min(support_row(nominal, schedule, temp).spacing, CODE_SPACING)
