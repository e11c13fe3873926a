"""The curve of a plane: what each number of panels gives, its knee, what the next panel buys."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from noonwater.design.size_year import Yield

KNEE_RULE = (
    "the knee is where the heat's curve stands farthest above the straight line from no panels to "
    "the most that were looked at: past it a panel brings less than the mean one does"
)
KNEE_SOURCE = (
    "largest distance from the chord after Satopää and others, ICDCS workshops 2011, from memory; "
    "taken on the heat: ours"
)


@dataclass(frozen=True)
class SizePoint:
    """One number of panels.

    Attributes
    ----------
    panels : int
        0 for the pool without solar.
    area : float
        Gross. [m²]
    split : tuple of (str, int)
        Panels by plane.
    rpm : float
        Of the pump while solar runs; 0 without panels. [rpm]
    bypass_open : float or None
        Of a hand-set bypass; None where there is none. [-]
    flow : float
        Through all panels. [m³/s]
    head, power : float
        Of the pump while solar runs. [m], [W]
    bounds : tuple of str
        Why it is not to be had; empty where it is.
    year : Yield
        What it gives.
    price : float
        Of the system, before incentives; 0 without panels. [currency]
    """

    panels: int
    area: float
    split: tuple[tuple[str, int], ...]
    rpm: float
    bypass_open: float | None
    flow: float
    head: float
    power: float
    bounds: tuple[str, ...]
    year: Yield
    price: float


@dataclass(frozen=True)
class NextPanel:
    """What one panel more buys.

    Attributes
    ----------
    warmer : float
        Of the season's mean. [K]
    days : float
        At the target. [d]
    heat : float
        In the year. [J]
    price : float
        What it costs; the first one's is that of all that is not panels too. [currency]
    """

    warmer: float
    days: float
    heat: float
    price: float


@dataclass(frozen=True)
class SizeCurve:
    """What panels on a plane, or on the job's planes together, give.

    Attributes
    ----------
    planes : tuple of str
        One, or all that the job uses.
    cover : str
        Kind of the pool's cover; "none" without.
    points : tuple of SizePoint
        From no panels on.
    """

    planes: tuple[str, ...]
    cover: str
    points: tuple[SizePoint, ...]

    @property
    def knee(self) -> int | None:
        """Panels at the heat's knee; None where the curve has no bend."""
        place = knee(
            [point.panels for point in self.points], [p.year.solar_heat for p in self.points]
        )
        return None if place is None else self.points[place].panels

    def at(self, panels: int) -> SizePoint | None:
        """The point of a number of panels."""
        return next((point for point in self.points if point.panels == panels), None)

    def next_panel(self, place: int) -> NextPanel | None:
        """What a panel more buys at a point; None at the last. Over wider steps their mean."""
        if place + 1 >= len(self.points):
            return None
        here, there = self.points[place], self.points[place + 1]
        step = there.panels - here.panels
        return NextPanel(
            (there.year.season_pool - here.year.season_pool) / step,
            (there.year.days_at_target - here.year.days_at_target) / step,
            (there.year.solar_heat - here.year.solar_heat) / step,
            (there.price - here.price) / step,
        )

    def least_for(self, days: float) -> SizePoint | None:
        """Fewest panels that are to be had and give so many days at the target."""
        return next(
            (p for p in self.points if p.year.days_at_target >= days and not p.bounds), None
        )


def knee(counts: Sequence[float], amounts: Sequence[float]) -> int | None:
    """Find where a rising curve stands farthest above its chord.

    Parameters
    ----------
    counts : sequence of float
        Rising.
    amounts : sequence of float
        At each count.

    Returns
    -------
    int or None
        Place in the sequence, never an end; None with fewer than three points, or where no point
        stands above the chord.

    References
    ----------
    .. [1] Satopää, V., Albrecht, J., Irwin, D., Raghavan, B., Finding a "kneedle" in a haystack,
       ICDCS workshops, 2011 (from memory).
    """
    if len(counts) < 3 or amounts[-1] <= amounts[0]:
        return None
    span, rise = counts[-1] - counts[0], amounts[-1] - amounts[0]
    above = [
        (amount - amounts[0]) / rise - (count - counts[0]) / span
        for count, amount in zip(counts, amounts, strict=True)
    ]
    place = max(range(len(above)), key=lambda i: above[i])
    return place if above[place] > FLAT and 0 < place < len(above) - 1 else None


FLAT = 1e-6
"""[-] Of the curve's height: less than this above the chord is no bend."""
