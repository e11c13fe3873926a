"""Standing water and dry walls through every step of a year."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from noonwater.core.jit import compiled
from noonwater.physics.ice import heat_standing, ice_share, temp_standing
from noonwater.year.night_bodies import Body
from noonwater.year.parameters import Floats

SPIN_UP_DAYS = 30
"""[d] Run from the year's end before it begins, so that ice of December is there in January."""


@dataclass(frozen=True, eq=False)
class BodyYear:
    """A body's year.

    Attributes
    ----------
    body : Body
        Which.
    temp : (steps,) array
        At the end of each step. [°C]
    ice : (steps,) array
        Share of its water that is ice. [-]
    """

    body: Body
    temp: Floats
    ice: Floats


def body_years(bodies: Sequence[Body], temp_air: Floats, step_seconds: int) -> tuple[BodyYear, ...]:
    """Follow bodies through a year.

    Parameters
    ----------
    bodies : sequence of Body
        Each on its own.
    temp_air : (steps,) array
        [°C]
    step_seconds : int
        [s]

    Returns
    -------
    tuple of BodyYear
    """
    spin_up = min(SPIN_UP_DAYS * 86400 // step_seconds, len(temp_air))
    told = []
    for body in bodies:
        temp, ice = np.empty_like(temp_air), np.empty_like(temp_air)
        _follow(
            temp_air.copy(),
            np.ascontiguousarray(body.gain),
            np.ascontiguousarray(body.loss),
            *body.figures,
            float(step_seconds),
            spin_up,
            temp,
            ice,
        )
        told.append(BodyYear(body, temp, ice))
    return tuple(told)


@compiled
def _follow(
    temp_air: Floats,
    gain: Floats,
    loss: Floats,
    capacity: float,
    capacity_frozen: float,
    latent: float,
    step: float,
    spin_up: int,
    temp: Floats,
    ice: Floats,
) -> None:
    steps = temp_air.shape[0]
    heat = capacity * max(temp_air[steps - spin_up], 0.0)
    for i in range(-spin_up, steps):
        at = i % steps
        rest = temp_air[at] + gain[at] / loss[at]
        heat = heat_standing(heat, rest, loss[at], step, capacity, capacity_frozen, latent)
        temp[at] = temp_standing(heat, capacity, capacity_frozen, latent)
        ice[at] = ice_share(heat, latent)
