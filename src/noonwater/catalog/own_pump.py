"""A pump of the user's own: the catalog's shape fitted to points of its data sheet."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from noonwater.catalog.pump import PumpType
from noonwater.core.errors import Fault, InputError
from noonwater.model.own_part import OwnPump, PumpPoint

Floats = NDArray[np.float64]

EXPONENTS = np.arange(1.0, 4.0001, 0.01)
"""[-] Exponents of the curve's fall that are tried: pool pumps lie near 2 to 3.1."""

RISE_MOST = 0.02
"""[-] Heads of a sheet are rounded: a rise of less over a growing flow counts as level (ours)."""

SAME_FLOW = 0.02
"""[-] Flows closer than this share of the largest are one point of the curve (ours)."""

MISS_MOST = 0.1
"""[-] Share of the shut-off head by which the shape may miss a point (ours)."""

MARGIN = 0.9
"""[-] Share of an extrapolated shut-off head that a lift is judged on, as in pump.csv (ours)."""


@dataclass(frozen=True)
class PumpFit:
    """A fitted pump, and the largest misses of its own points.

    Attributes
    ----------
    pump : PumpType
        As a row of the catalog.
    head_miss : float
        [m]
    power_miss : float
        [W]
    """

    pump: PumpType
    head_miss: float
    power_miss: float


@lru_cache(maxsize=64)
def pump_fit(own: OwnPump, field: str = "own_pump") -> PumpFit:
    """Fit the catalog's shape to a pump's data sheet.

    Parameters
    ----------
    own : OwnPump
        Points of speed, flow, head and power.
    field : str
        Path of the job's table, for the message.

    Returns
    -------
    PumpFit
        Rated speed is the highest of the points.

    Raises
    ------
    InputError
        Too few points, the same point twice, heads that rise with the flow, points that no one
        pump can have, speeds that contradict each other.

    Notes
    -----
    H = head_shutoff n² - fall n^(2-exponent) Q^exponent, least squares of the heads; P = floor +
    turning n³ + flow n² Q, least squares without negative terms. From points at one speed the
    drive's floor can't be told from its turning: then the floor is nil, and power at lower speed is
    told too low (ours).
    """
    _check_points(own, field)
    points = own.points
    rated = max(point.speed for point in points)
    ratio = np.array([point.speed / rated for point in points])
    flow = np.array([point.flow for point in points])
    head = np.array([point.head for point in points])
    power = np.array([point.power for point in points])
    shutoff, fall, exponent, head_miss = _fit_head(ratio, flow, head)
    one_speed = bool(np.ptp(ratio) < SAME_FLOW)
    falls = shutoff > 0.0 and fall > 0.0
    if one_speed and not falls:
        raise InputError([_not_falling(f"{field}.points", "all points together")])
    if not falls or head_miss > MISS_MOST * shutoff:
        given = f"a curve through them misses one by {head_miss:.1f} m"
        allowed = "points of one pump, whose head goes with the square of its speed"
        raise InputError([Fault(f"{field}.points", given, allowed, "check speeds and units")])
    terms = np.stack([np.ones_like(ratio), ratio**3, ratio**2 * flow], axis=1)
    floor, turning, per_flow = _fit_power(terms[:, 1:] if one_speed else terms, power)
    power_miss = float(np.max(np.abs(terms @ np.array([floor, turning, per_flow]) - power)))
    at_rest = bool(np.min(flow / ratio) <= 1e-3 * np.max(flow / ratio))
    pump = PumpType(
        name=own.name,
        rated_speed=rated,
        lowest_speed=own.lowest_speed or min(point.speed for point in points),
        highest_speed=own.highest_speed or rated,
        head_shutoff=shutoff,
        fall=fall,
        exponent=exponent,
        power_floor=floor,
        power_turning=turning,
        power_flow=per_flow,
        flow_max=float(np.max(flow / ratio)),
        head_margin=1.0 if at_rest else MARGIN,
        synthetic=False,
        memory=False,
        source=f"the user's data sheet, {len(points)} points: head within {head_miss:.2f} m, "
        f"power within {power_miss:.0f} W",
    )
    return PumpFit(pump, head_miss, power_miss)


def _check_points(own: OwnPump, field: str) -> None:
    """Refuse points that a fit would turn into nonsense."""
    low, high = own.lowest_speed, own.highest_speed
    rated = max((point.speed for point in own.points), default=0.0)
    faults = []
    if (low or 0.0) > (high or rated):
        remedy = "the lower speed goes into lowest_speed"
        allowed = f"at most {high or rated:.0f} rpm"
        faults.append(Fault(f"{field}.lowest_speed", f"{low:.0f} rpm", allowed, remedy))
    for (i, one), (j, two) in combinations(enumerate(own.points), 2):
        place = f"{field}.points[{j}]"
        if (one.speed, one.flow) == (two.speed, two.flow):
            given = f"speed and flow of points[{i}] again"
            faults.append(Fault(place, given, "each point once", "leave one of them out"))
        elif one.speed == two.speed and _rises(one, two):
            faults.append(_not_falling(place, f"points[{i}] and points[{j}]"))
    rated_flows: list[float] = []
    top = max((point.flow / point.speed for point in own.points), default=0.0)
    for point in sorted(own.points, key=lambda point: point.flow / point.speed):
        at_rated = point.flow / point.speed
        if not rated_flows or at_rated - rated_flows[-1] > SAME_FLOW * top:
            rated_flows.append(at_rated)
    if not faults and len(rated_flows) < 3:
        given = f"{len(own.points)} points with {len(rated_flows)} different flows"
        allowed = "three or more flows; those of one curve at several speeds count once"
        remedy = "add points from the sheet's curve: one near no flow, one near the largest"
        faults.append(Fault(f"{field}.points", given, allowed, remedy))
    if faults:
        raise InputError(faults)


def _rises(one: PumpPoint, two: PumpPoint) -> bool:
    less, more = sorted((one, two), key=lambda point: point.flow)
    return more.head > (1.0 + RISE_MOST) * less.head


def _not_falling(place: str, which: str) -> Fault:
    return Fault(
        place,
        f"the head does not fall with the flow in {which}",
        "heads that fall as the flow grows, at one speed",
        "read both points from the sheet's curve again",
    )


def _fit_head(ratio: Floats, flow: Floats, head: Floats) -> tuple[float, float, float, float]:
    """Shut-off head, fall and exponent of the least squares, and the largest miss."""
    best = (0.0, 0.0, 2.0, np.inf)
    least = np.inf
    # Flows of the order of 1e-3 to the third power would make the matrix nearly singular.
    scale = float(np.max(flow / ratio))
    for exponent in EXPONENTS:
        curve = ratio**2 * (flow / ratio / scale) ** exponent
        terms = np.stack([ratio**2, -curve], axis=1)
        found, *_ = np.linalg.lstsq(terms, head, rcond=None)
        miss = terms @ found - head
        squares = float(miss @ miss)
        if squares < least:
            least = squares
            fall = float(found[1] / scale**exponent)
            best = (float(found[0]), fall, float(exponent), float(np.max(np.abs(miss))))
    return best


def _fit_power(terms: Floats, power: Floats) -> tuple[float, float, float]:
    """Floor, turning and flow term; the floor is nil where the terms leave it out."""
    from scipy.optimize import nnls

    size = np.max(terms, axis=0)
    found = nnls(terms / size, power)[0] / size
    full = [0.0, *found] if len(found) < 3 else list(found)
    return float(full[0]), float(full[1]), float(full[2])
