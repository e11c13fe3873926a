"""What house, trees and hills keep from the water: beam by the sun's place, sky by months."""

from __future__ import annotations

import numpy as np

from noonwater.model.pool_use import Obstruction
from noonwater.year.parameters import Bytes, Floats

GRID = 1.0
"""[°] The sky is cut into squares of this size to add up what is hidden."""


def lit_share(
    obstructions: tuple[Obstruction, ...], azimuth: Floats, height: Floats, month: Bytes
) -> Floats:
    """Share of the beam that passes every obstruction.

    Parameters
    ----------
    obstructions : tuple of Obstruction
        Around the water.
    azimuth, height : array
        Of the sun. [°]
    month : array
        0 for January.

    Returns
    -------
    array
        [-]
    """
    share = np.ones_like(height)
    for each in obstructions:
        behind = (azimuth - each.from_bearing) % 360.0 <= each.width
        behind &= (height < each.height) & np.isin(month + 1, each.months)
        share = np.where(behind, share * each.lets_through, share)
    return share


def sky_share(obstructions: tuple[Obstruction, ...]) -> Floats:
    """Share of an even sky's light that reaches the level water, in each month.

    Parameters
    ----------
    obstructions : tuple of Obstruction
        Around the water.

    Returns
    -------
    (12,) array
        [-]
    """
    heights = np.arange(GRID / 2.0, 90.0, GRID)
    bearings = np.arange(GRID / 2.0, 360.0, GRID)
    height, bearing = (grid.ravel() for grid in np.meshgrid(heights, bearings))
    weight = np.sin(np.radians(2.0 * height))
    found = np.empty(12)
    for m in range(12):
        month = np.full(len(height), m, dtype=np.int8)
        found[m] = (weight * lit_share(obstructions, bearing, height, month)).sum() / weight.sum()
    return found
