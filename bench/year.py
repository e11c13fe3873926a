"""The year's loop against pvlib's sun and against a general integrator."""

from __future__ import annotations

import resource
from dataclasses import replace
from functools import cache

import numpy as np
import pandas as pd
import pvlib

from bench.fine import fine_run
from bench.run import Promise, paired_ratio, seconds
from noonwater.app.demos import FOLDER
from noonwater.app.job_file import read_job
from noonwater.app.study import flows_by_period, surroundings_of
from noonwater.app.sureness import believed
from noonwater.design.doubts import beliefs
from noonwater.design.sure import run_beliefs
from noonwater.model.heater import Heater
from noonwater.model.job import Job
from noonwater.model.pool import Cover
from noonwater.model.pool_use import Bathing, Feature, Obstruction, SpaWater
from noonwater.year.parameters import POOL_TEMP, POOL_TEMP_WITHOUT, Inputs
from noonwater.year.prepare import prepare, roofs_in_use
from noonwater.year.run import Run, run, settled_year

DEMO = FOLDER / "lagoon-court.toml"
DAYS = 3
FIRST_DAY = 120
BELIEFS = 1000


@cache
def demo_inputs() -> Inputs:
    """Prepared inputs of a demo job, five-minute steps."""
    job = read_job(DEMO)
    return prepare(job, surroundings_of(job), flows_by_period(job))


@cache
def demo_year() -> Run:
    """Its settled year."""
    return settled_year(demo_inputs())


def everything(job: Job) -> Job:
    """Give a job all that the year can count: four pools, heater, spa, falls, bathers, rain."""
    pool = replace(
        job.pool,
        cover=Cover("bubble", forgotten=10),
        rain=(0.06,) * 12,
        obstruction=(Obstruction(90.0, 200.0, 25.0),),
        bathing=Bathing(4),
        feature=(Feature(area=2.0, fall=0.6),),
        spa=SpaWater(area=4.0, depth=0.9),
    )
    return replace(job, pool=pool, heater=Heater("heat pump"))


@cache
def full_inputs() -> Inputs:
    """Prepared inputs of the demo job with everything on."""
    job = everything(read_job(DEMO))
    return prepare(job, surroundings_of(job), flows_by_period(job))


def loops_against_sun(pairs: int) -> list[Promise]:
    """One year of the loop against pvlib's solar position plus transposition, hourly.

    The transposition is for the planes of the same job: the sun that its year needs.
    """
    planes = [(roof.pitch, roof.bearing) for roof in roofs_in_use(read_job(DEMO))]
    plain, full, start = demo_inputs(), full_inputs(), demo_year().end
    steps = len(plain.drivers.temp_air)
    times = pd.date_range("2003-01-01 00:30", periods=8760, freq="h", tz="Etc/GMT+5")
    beam = np.full(8760, 500.0)

    def sun() -> object:
        place = pvlib.solarposition.get_solarposition(times, 25.8, -80.3)
        outside = pvlib.irradiance.get_extra_radiation(times)
        return [
            pvlib.irradiance.get_total_irradiance(
                pitch,
                bearing,
                place.apparent_zenith,
                place.azimuth,
                beam,
                beam,
                0.3 * beam,
                dni_extra=outside,
                model="perez",
            )
            for pitch, bearing in planes
        ]

    name = "over pvlib's solar position and transposition"
    ratio = paired_ratio(lambda: run(plain, start, 0, steps), sun, pairs)
    whole = paired_ratio(lambda: run(full, start, 0, steps), sun, pairs)
    return [
        (f"year's loop {name}", ratio, 0.4),
        (f"year's loop of four pools with everything on {name}", whole, 0.6),
    ]


def beliefs_on_two_cores() -> list[Promise]:
    """A thousand beliefs of a year: seconds over 15, memory beyond the rest over 100 MB."""
    job = read_job(DEMO)
    base, doubts, start = believed(job)
    drawn = beliefs(doubts, BELIEFS, 1)[0]
    run_beliefs(base, drawn[:8], start)
    before = memory_most()
    took = seconds(lambda: run_beliefs(base, drawn, start))
    name = f"{BELIEFS} beliefs of a year on two cores over"
    return [
        (f"{name} 15 s", took / 15.0, 1.0),
        (f"{name} 100 MB beyond the rest", (memory_most() - before) / 100e6, 1.0),
    ]


def memory_most() -> float:
    """Most memory that this process has held. [B]."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024.0


def loop_against_integrator(pairs: int) -> Promise:
    """Some days of the loop against solve_ivp with events, at the tolerance that is as accurate."""
    inputs = demo_inputs()
    per_day = round(86400.0 / inputs.control.step)
    first, count = FIRST_DAY * per_day, DAYS * per_day
    start = run(inputs, demo_year().end, 0, first).end
    ours = run(inputs, start, first, count).record[:, [POOL_TEMP, POOL_TEMP_WITHOUT]]

    def hourly(rtol: float) -> np.ndarray:
        temps = fine_run(inputs, start, first, count, rtol=rtol)[1][:, :2]
        return temps.reshape(-1, per_day // 24, 2).mean(axis=1)

    truth = hourly(1e-8)
    error = np.abs(ours - truth).max()
    fair = next(
        rtol
        for rtol in (1e-2, 1e-3, 1e-4, 1e-5, 1e-6, 1e-7)
        if np.abs(hourly(rtol) - truth).max() <= error
    )
    theirs = min(
        seconds(lambda: fine_run(inputs, start, first, count, rtol=fair)) for _ in range(2)
    )
    repeats = 50
    mine = min(
        seconds(lambda: [run(inputs, start, first, count) for _ in range(repeats)])
        for _ in range(pairs)
    )
    name = f"year's loop over solve_ivp with events (rtol {fair:g}, both within {error:.3f} K)"
    return name, mine / repeats / theirs, 1.0 / 500.0
