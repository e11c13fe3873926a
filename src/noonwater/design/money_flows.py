"""The arithmetic of years ahead: present worth, rate of return, payback, level cost.

The price is paid at once, in year 0; what a year brings or takes comes at its end; the first year
is told at today's prices and each later one at prices that have risen. Sums and rates are in money
of the day, inflation in them. The sums themselves are pyxirr's.
"""

from __future__ import annotations

import numpy as np
import pyxirr

from noonwater.design.doubts import Floats


def growing(first: float, growth: float, years: int) -> Floats:
    """Amounts that rise by the same share each year.

    Parameters
    ----------
    first : float
        In year 1. [currency]
    growth : float
        Yearly. [-]
    years : int
        How many.

    Returns
    -------
    (years,) array
        [currency]
    """
    return np.asarray(first * (1.0 + growth) ** np.arange(years))


def present_worth(flows: Floats, rate: float) -> float:
    """Worth today of what comes in year 0, 1, 2 and so on.

    Parameters
    ----------
    flows : (years + 1,) array
        [currency]
    rate : float
        Of discount. [-]

    Returns
    -------
    float
        [currency]
    """
    worth = pyxirr.npv(rate, flows)
    if worth is None:
        raise ValueError(f"no present worth at a rate of {rate}")
    return float(worth)


def present_worth_factor(years: int, growth: float, rate: float) -> float:
    """Worth today of one unit in year 1 that rises yearly.

    Parameters
    ----------
    years : int
        How many.
    growth, rate : float
        Of the amounts, and of discount. [-]

    Returns
    -------
    float
        [-]

    References
    ----------
    .. [1] Duffie, J. A., Beckman, W. A., Solar Engineering of Thermal Processes, Wiley, chapter 11,
       PWF(N, i, d) (from memory).
    """
    return present_worth(np.concatenate([[0.0], growing(1.0, growth, years)]), rate)


def rate_of_return(flows: Floats) -> float | None:
    """Rate of discount at which nothing is won or lost.

    Parameters
    ----------
    flows : (years + 1,) array
        [currency]

    Returns
    -------
    float or None
        [-]; None where nothing is paid at first or nothing comes, or no such rate is found.
    """
    # Money that comes first and is given back later is a loan: its rate is no gain.
    if flows[0] >= 0.0 or flows.max() <= 0.0:
        return None
    found = pyxirr.irr(flows, silent=True)
    return None if found is None else float(found)


def payback(flows: Floats, rate: float = 0.0) -> float | None:
    """Years until what has come outweighs what was paid, for good.

    Parameters
    ----------
    flows : (years + 1,) array
        [currency]
    rate : float
        Of discount; 0 for a payback that doesn't discount. [-]

    Returns
    -------
    float or None
        Within a year by a straight line; None where it isn't within these years. [year]
    """
    years = np.arange(len(flows))
    balance = np.cumsum(flows / (1.0 + rate) ** years)
    owing = np.flatnonzero(balance < 0.0)
    if not len(owing):
        return 0.0
    last = int(owing[-1])
    if last + 1 == len(flows):
        return None
    return last + float(-balance[last] / (balance[last + 1] - balance[last]))


def level_cost(costs: Floats, amount: float, inflation: float, rate: float) -> float | None:
    """Cost of a unit, the same in today's money through all years.

    Parameters
    ----------
    costs : (years + 1,) array
        What is paid, positive. [currency]
    amount : float
        Units that come each year.
    inflation, rate : float
        Of all prices, and of discount. [-]

    Returns
    -------
    float or None
        [currency a unit]; None where nothing comes.

    References
    ----------
    .. [1] Short, W., Packey, D., Holt, T., A Manual for the Economic Evaluation of Energy
       Efficiency and Renewable Energy Technologies, NREL/TP-462-5173, 1995, levelised cost of
       energy (from memory).
    """
    if amount <= 0.0:
        return None
    years = len(costs) - 1
    return present_worth(costs, rate) / (amount * present_worth_factor(years, inflation, rate))
