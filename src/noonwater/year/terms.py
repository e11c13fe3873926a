"""What else comes to the water and leaves it, for a job: ground, rain, mains, bathers, falls."""

from __future__ import annotations

import numpy as np

from noonwater.climate.weather_year import month_of_hour
from noonwater.model.job import Job
from noonwater.model.pool import Pool
from noonwater.model.site import WeatherRough
from noonwater.physics.bather import METS_PLAYING, heat_bather
from noonwater.physics.evaporation import activity_factor
from noonwater.physics.falling_water import evaporation_coefficient_falling, speed_falling
from noonwater.physics.mains import temp_mains
from noonwater.physics.water import density_water, heat_capacity_water, latent_heat
from noonwater.year.calendar import hours_of_step, month_of_step
from noonwater.year.parameters import Bytes, Floats
from noonwater.year.surroundings import Surroundings

CROWDED = 0.22
"""[1/m²] Swimmers beyond which the measured pool in use says nothing: their evaporation stays."""

LATENT_FUSION = 333.6e3
"""[J/kg] Of ice at 0 °C (from memory): snow melts in the pool."""

PUMP_HEAT = 0.75
"""[-] Share of the pump's electricity that ends as heat in the water: all that reaches the shaft
does, by friction in pump, pipes and parts; the motor's own loss goes to the air. Motors of pool
pumps have 0.6 to 0.9 (from memory). Between the wire-to-water efficiency, some 0.2 to 0.5, and
one."""


def water_capacity(temp: float) -> float:
    """Heat capacity of water per volume. [J/(m³·K)], temp in [°C]."""
    return float(density_water(temp) * heat_capacity_water(temp))


def rain_of(job: Job) -> tuple[float, ...]:
    """Twelve months of rain on the water [m], zeros where nobody said or a roof is over it."""
    if job.pool.enclosure == "indoor":
        return (0.0,) * 12
    told = job.pool.rain
    if not told and isinstance(job.weather, WeatherRough):
        told = job.weather.rain
    return tuple(told) or (0.0,) * 12


def mains_of_step(job: Job, around: Surroundings) -> Floats:
    """Temperature of the water that tops the pool up, in each step. [°C]."""
    air = around.air.temp_air
    if job.pool.refill_temp is not None:
        return np.full_like(air, job.pool.refill_temp)
    month = month_of_step(3600 // around.air.step_seconds)
    means = [float(air[month == m].mean()) for m in range(12)]
    mean, swing, south = float(air.mean()), max(means) - min(means), job.site.latitude < 0.0
    days = [temp_mains(day + 1.0, mean, swing, south) for day in range(365)]
    return np.repeat(np.array(days), len(air) // 365)


def rain_terms(job: Job, around: Surroundings) -> tuple[Floats, Floats, Floats]:
    """Rain on the water, by water area.

    Parameters
    ----------
    job : Job
        Rain of the months.
    around : Surroundings
        Air, for the rain's temperature.

    Returns
    -------
    tuple of (steps,) array
        Heat above water of 0 °C [W/m²], flow [W/(m²·K)], latent heat [W/m²].

    Notes
    -----
    Rain is as warm as the air and falls evenly over its month; snow takes its melting heat. As much
    pool water runs off. Ours.
    """
    target, air = job.pool.target, around.air.temp_air
    if not any(rain_of(job)):
        return np.zeros_like(air), np.zeros_like(air), np.zeros_like(air)
    month = month_of_step(3600 // around.air.step_seconds)
    seconds = 3600.0 * np.bincount(month_of_hour(), minlength=12)
    rain = (np.array(rain_of(job)) * density_water(target) / seconds)[month]
    heat_capacity, snow = heat_capacity_water(target), np.where(air < 0.0, LATENT_FUSION, 0.0)
    gain = rain * (heat_capacity * np.maximum(air, 0.0) - snow)
    return gain, rain * heat_capacity, rain * latent_heat(target)


def splash_of_step(pool: Pool, around: Surroundings) -> Floats:
    """Flow that makes up for splash, by water area. [W/(m²·K)]."""
    flow = pool.bathing.splash * water_capacity(pool.target) / 3600.0
    return bathers_of_step(pool, around) * flow


def refill_factor(pool: Pool) -> float:
    """Heat capacity over latent heat: what warms the water that makes up for vapour. [1/K]."""
    return float(heat_capacity_water(pool.target) / latent_heat(pool.target))


def bathing_of_step(pool: Pool, steps_per_hour: int) -> Bytes:
    """1 in each step in which somebody is in the water."""
    bathing = pool.bathing
    if bathing.bathers == 0:
        return np.zeros(8760 * steps_per_hour, dtype=np.int8)
    return hours_of_step(bathing.on_from, bathing.on_until, bathing.months, steps_per_hour)


def bathers_of_step(pool: Pool, around: Surroundings) -> Floats:
    """Bathers by water area in each step. [1/m²]."""
    there = bathing_of_step(pool, 3600 // around.air.step_seconds)
    return np.asarray(there * (pool.bathing.bathers / pool.area))


def bather_terms(pool: Pool, around: Surroundings) -> tuple[Floats, Floats]:
    """Evaporation over that of still water [-] and bathers' heat [W/m²] in each step."""
    density = bathers_of_step(pool, around)
    stirred = activity_factor(min(pool.bathing.bathers / pool.area, CROWDED))
    activity = np.where(density > 0.0, stirred, 1.0)
    return activity, density * heat_bather(METS_PLAYING)


def falling_of_step(pool: Pool, wind: Floats, steps_per_hour: int) -> Floats:
    """Evaporation coefficient of falling water, by pool area. [W/(m²·Pa)]; wind in [m/s]."""
    found = np.zeros_like(wind)
    speeds = np.linspace(0.0, max(float(wind.max()), 1.0), 64)
    for each in pool.feature:
        runs = hours_of_step(each.on_from, each.on_until, each.months, steps_per_hour)
        own = speed_falling(each.fall)
        table = [evaporation_coefficient_falling(float(speed), own) for speed in speeds]
        found += runs * (each.area / pool.area) * np.interp(wind, speeds, table)
    return found
