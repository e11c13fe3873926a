"""A job as its plumbing sees it: what no flow depends on is the same for all.

Answers about flow are kept by such a job. Ten thousand options that differ in cover, schedule or
weather then share one solved circuit.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from noonwater.model.heater import Heater
from noonwater.model.job import Job
from noonwater.model.money import Money
from noonwater.model.plant import Controls
from noonwater.model.pool import Pool
from noonwater.model.site import Site, WeatherShipped

_WEATHER, _CONTROLS, _MONEY = WeatherShipped("shipped", "Miami"), Controls(), Money()
_HEATER = Heater()


@lru_cache(maxsize=64)
def plant_only(job: Job) -> Job:
    """Give the job with name, place, weather, controls, heater and money set to one value.

    Parameters
    ----------
    job : Job
        The whole job.

    Returns
    -------
    Job
        With the same flows and the same findings on them. Of the pool its size and target are left,
        of the site the elevation, which bounds what a siphon holds.
    """
    return replace(
        job,
        name="",
        site=Site(latitude=0.0, longitude=0.0, elevation=job.site.elevation),
        weather=_WEATHER,
        pool=Pool(area=job.pool.area, depth=job.pool.depth, target=job.pool.target),
        controls=_CONTROLS,
        money=_MONEY,
        heater=_HEATER,
    )


@lru_cache(maxsize=64)
def plumbed(job: Job) -> Job:
    """Give what `plant_only` gives with the pool's size and the pump's hours set to one value too.

    Parameters
    ----------
    job : Job
        The whole job.

    Returns
    -------
    Job
        With the same circuit and the same answer in every state.
    """
    program = tuple(
        replace(period, start=_half_hour(number), stop=_half_hour(number + 1))
        for number, period in enumerate(job.pump.program)
    )
    return replace(
        plant_only(job),
        pool=Pool(area=1.0, depth=1.0, target=job.pool.target),
        pump=replace(job.pump, program=program, priming_time=0.0),
    )


def _half_hour(number: int) -> str:
    """A time of day for each of the 48 periods that a program can have."""
    return f"{number // 2:02d}:{30 * (number % 2):02d}"
