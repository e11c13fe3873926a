"""What the circuit's solution means for the year: flow and watts in each period of the day."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from noonwater.year.parameters import Bytes, Floats


@dataclass(frozen=True, eq=False)
class PeriodFlows:
    """Flow and watts by period of the pump's program.

    Attributes
    ----------
    bank_flow : (periods, banks) array
        Through each bank with solar on. [m³/s]
    power_filter, power_solar : (periods,) array
        At the wire without and with water on the roof. [W]
    power_priming : float
        At the wire at priming speed. [W]
    solar : (periods,) array
        1 where solar may run and the pump gets water over the top.
    """

    bank_flow: Floats
    power_filter: Floats
    power_solar: Floats
    power_priming: float
    solar: Bytes


def period_flows(
    bank_flow: list[list[float]],
    power_filter: list[float],
    power_solar: list[float],
    power_priming: float,
    allowed: list[bool],
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

    Returns
    -------
    PeriodFlows
    """
    flows = np.array(bank_flow, dtype=np.float64)
    solar = np.array(allowed) & (flows.sum(axis=1) > 0.0)
    return PeriodFlows(
        flows,
        np.array(power_filter, dtype=np.float64),
        np.array(power_solar, dtype=np.float64),
        power_priming,
        solar.astype(np.int8),
    )
