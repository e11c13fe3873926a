"""What the circuit's solution means for the year: flow and watts in each row of the program.

A row is a period of the pump's day; the last may be the circulation against frost.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from noonwater.year.parameters import Bytes, Floats


@dataclass(frozen=True, eq=False)
class PeriodFlows:
    """Flow and watts by row.

    Attributes
    ----------
    bank_flow : (rows, banks) array
        Through each bank with solar on. [m³/s]
    power_filter, power_solar : (rows,) array
        At the wire without and with water on the roof. [W]
    power_priming : float
        At the wire at priming speed. [W]
    solar : (rows,) array
        1 where solar may run and the pump gets water over the top.
    freeze_row : int
        Row of the circulation against frost; -1 where there is none, or where the pump doesn't
        lift the water at its speed.
    """

    bank_flow: Floats
    power_filter: Floats
    power_solar: Floats
    power_priming: float
    solar: Bytes
    freeze_row: int = -1


def period_flows(
    bank_flow: list[list[float]],
    power_filter: list[float],
    power_solar: list[float],
    power_priming: float,
    allowed: list[bool],
    freeze: tuple[list[float], float] | None = None,
) -> PeriodFlows:
    """Gather periods into arrays; a period whose banks get no flow has no solar.

    Parameters
    ----------
    bank_flow : (periods, banks) list
        [m³/s]
    power_filter, power_solar : list of float
        [W]
    power_priming : float
        [W]
    allowed : list of bool
        Whether the program lets solar run.
    freeze : tuple of (list of float, float), optional
        Flow through each bank and watts of the circulation against frost. [m³/s], [W]

    Returns
    -------
    PeriodFlows
    """
    row = -1
    if freeze is not None and sum(freeze[0]) > 0.0:
        row = len(allowed)
        bank_flow, power_solar = [*bank_flow, freeze[0]], [*power_solar, freeze[1]]
        power_filter, allowed = [*power_filter, 0.0], [*allowed, False]
    flows = np.array(bank_flow, dtype=np.float64)
    solar = np.array(allowed) & (flows.sum(axis=1) > 0.0)
    return PeriodFlows(
        flows,
        np.array(power_filter, dtype=np.float64),
        np.array(power_solar, dtype=np.float64),
        power_priming,
        solar.astype(np.int8),
        row,
    )
