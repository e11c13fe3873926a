"""A whole job for tests, to be changed with dataclasses.replace."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from noonwater.model.job import Job
from noonwater.model.plant import Array, Bank, Pad, Period, Pump
from noonwater.model.pool import Cover, Pool
from noonwater.model.site import Roof, Site, WeatherShipped


def example_job(**changes: Any) -> Job:
    """Twelve panels in two banks on one roof, a variable pump, Miami; any field of Job replaced."""
    job = Job(
        name="two banks",
        site=Site(latitude=25.8, longitude=-80.3, elevation=3.0),
        weather=WeatherShipped("shipped", "Miami"),
        pool=Pool(area=40.0, depth=1.4, target=28.0, cover=Cover("bubble")),
        roof=(
            Roof("south", pitch=18.0, bearing=180.0, width=16.0, slope_length=5.0, eave_height=3.0),
            Roof("west", pitch=18.0, bearing=270.0, width=10.0, slope_length=5.0, eave_height=3.6),
        ),
        array=Array((Bank("south", 6, "tube 4x10"), Bank("south", 6, "tube 4x10"))),
        pad=Pad(
            pipe=0.0508,
            suction_length=9.0,
            return_length=9.0,
            feed_length=18.0,
            roof_return_length=20.0,
            heater="gas",
        ),
        pump=Pump(
            "variable large",
            (
                Period("08:00", "09:30", 1700.0, solar=False),
                Period("09:30", "17:30", 2400.0),
            ),
            priming_speed=3000.0,
        ),
    )
    return replace(job, **changes)
