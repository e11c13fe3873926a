"""Panels without water: how hot the sun makes them, how cold the night."""

from __future__ import annotations

import numpy as np

from noonwater.model.pool import DAYS_BEFORE_MONTH
from noonwater.year.parameters import Drivers, Floats


def dry_panel_temps(drivers: Drivers) -> Floats:
    """Temperature at which a dry panel rests in each step.

    Parameters
    ----------
    drivers : Drivers
        Weather on the panels.

    Returns
    -------
    (banks, steps) array
        [°C]

    Notes
    -----
    Gain over loss, the balance without water; a dry panel follows it within minutes, its 4 to
    5 kJ/(m²·K) being small against a loss of some 20 W/(m²·K). The loss coefficient is taken as
    the same at 60 K over the air as at 5 K, where it was measured: ours.
    """
    return np.asarray(drivers.temp_air + drivers.bank_gain / drivers.bank_loss)


def dry_panel_extremes(drivers: Drivers, steps_per_hour: int) -> Floats:
    """Hottest and coldest that any bank's dry panels get in each month.

    Parameters
    ----------
    drivers : Drivers
        Weather on the panels.
    steps_per_hour : int
        Steps.

    Returns
    -------
    (2, 12) array
        Stagnation temperature and the night's lowest. [°C]
    """
    temps = dry_panel_temps(drivers)
    starts = np.array(DAYS_BEFORE_MONTH[:-1]) * 24 * steps_per_hour
    hottest, coldest = temps.max(axis=0), temps.min(axis=0)
    return np.array([np.maximum.reduceat(hottest, starts), np.minimum.reduceat(coldest, starts)])
