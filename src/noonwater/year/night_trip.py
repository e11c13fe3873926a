"""A controller's freeze trip against the nights: what it misses, what it does in vain."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from noonwater.catalog import panel_named
from noonwater.model.job import Job
from noonwater.year.night_loop import BodyYear
from noonwater.year.night_rows import Nights, beyond_bearing, by_night
from noonwater.year.panels import coefficients
from noonwater.year.parameters import Floats
from noonwater.year.sensor import sensor_body
from noonwater.year.surroundings import Surroundings

TRIP_PRACTICE = (42.0 - 32.0) / 1.8
"""[°C] 42 °F of the air. Common practice, no source."""


@dataclass(frozen=True, eq=False)
class Trip:
    """A trip and a year of nights, with panels and pipe full and nothing done.

    Attributes
    ----------
    watch : str
        "air" or "sensor".
    temp : float
        Below which it acts. [°C]
    nights_acted : int
        In which it acts.
    missed : (365,) array
        Nights that get more ice than the array bears before it acts.
    in_vain : (365,) array
        Nights in which it acts and nothing would have come of it.
    needed : float or None
        Highest trip that some night needs; None where nothing freezes. [°C]
    missed_most : int
        Nights missed at the worst of what nobody measured.
    """

    watch: str
    temp: float
    nights_acted: int
    missed: Nights
    in_vain: Nights
    needed: float | None
    missed_most: int = 0


def trip_against(watched: Floats, full: Sequence[BodyYear], watch: str, temp: float) -> Trip:
    """Hold a trip against the year.

    Parameters
    ----------
    watched : (steps,) array
        What the controller feels. [°C]
    full : sequence of BodyYear
        Panels and pipe with water.
    watch : str
        Word for it.
    temp : float
        Trip. [°C]

    Returns
    -------
    Trip
        A night that begins with too much ice counts to the one before.
    """
    felt = by_night(watched)
    risk = by_night(np.any([beyond_bearing(each) for each in full], axis=0))
    fresh = risk.any(axis=1) & ~risk[:, 0]
    begin = np.where(fresh, risk.argmax(axis=1), risk.shape[1])
    acts = felt <= temp
    acted = acts.any(axis=1)
    act = np.where(acted, acts.argmax(axis=1), risk.shape[1])
    until = [felt[night, : begin[night] + 1].min() for night in np.flatnonzero(fresh)]
    return Trip(
        watch=watch,
        temp=temp,
        nights_acted=int(acted.sum()),
        missed=np.asarray(fresh & (act > begin)),
        in_vain=np.asarray(acted & ~risk.any(axis=1)),
        needed=float(max(until)) if until else None,
    )


def sensor_temp(job: Job, around: Surroundings, pipe: BodyYear) -> Floats:
    """What the roof's sensor feels through the nights.

    Parameters
    ----------
    job : Job
        The job.
    around : Surroundings
        Of its site, with the sensor's plane.
    pipe : BodyYear
        Full pipe, which a sensor in the return touches.

    Returns
    -------
    (steps,) array
        Settled, its body being small. [°C]
    """
    first = panel_named(job.array.banks[0].panel, own=job.own_panel)
    body = sensor_body(job, around, coefficients(first))
    air = around.air.temp_air
    pull = body.gain + body.loss * air + body.link * pipe.temp
    return np.asarray(pull / (body.loss + body.link))
