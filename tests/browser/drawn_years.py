"""Made-up years for tests of drawings: smooth, plausible, and the awkward ones."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from noonwater.climate.weather_year import Provenance
from noonwater.design.money_tariff import electricity_cost
from noonwater.model.money import Money
from noonwater.year import parameters as at
from noonwater.year.result import JOULES_IN_KWH, YearResult, months_of_record

HOURS = np.arange(8760)
LONG_NAME = (
    "Sunny Hollow recreation ground, learners' pool behind the old bath house, second survey after "
    "the storm, panels on the south and west planes, variable pump, bubble cover, option C of five "
    "revised"
)[:200]
ODD_NAME = "<script>alert('x')</script> & \"Müller\" ]]> 🏊🏽‍♀️ 水池 \u202eabc\x07\ud800 </text>"


@dataclass(frozen=True)
class DrawnYear:
    """A year and how it is to be drawn."""

    result: YearResult
    units: str
    opens: str
    closes: str

    @property
    def arguments(self) -> dict[str, str]:
        return {"units": self.units, "opens": self.opens, "closes": self.closes}


def made_up_year(
    *,
    mean: float = 20.0,
    swing: float = 9.0,
    gain: float = 4.0,
    target: float = 28.0,
    south: bool = False,
    size: float = 1.0,
    job: str = "Willow Lane 12",
    seed: int = 7,
) -> YearResult:
    """A year of sines with weather-like noise in the air; the gain follows the sun."""
    rng = np.random.default_rng(seed)
    phase = -2.0 * np.pi * (HOURS / 8760.0 - (0.03 if south else 0.53))
    season = np.cos(phase)
    day = np.sin(2.0 * np.pi * (HOURS % 24 - 9) / 24.0)
    weather = np.repeat(_spells(rng), 24)
    air = mean - 2.0 + (swing + 1.0) * season + 5.0 * day + weather
    smooth = np.convolve(np.tile(weather, 3), np.ones(120) / 120.0, mode="same")[8760:17520]
    without = np.maximum(0.0, mean + swing * season + 0.8 * day + 0.8 * smooth)
    lift = gain * (0.75 + 0.25 * season)
    pool = np.where(without > 0.0, np.minimum(without + lift, np.maximum(without, target + 0.6)), 0)
    sun = np.clip(np.sin(2.0 * np.pi * (HOURS % 24 - 6) / 24.0), 0.0, None) * 700.0
    running = (sun > 250.0) & (pool < target + 0.3) & (gain > 0.0)
    record = np.zeros((8760, at.RECORD))
    record[:, at.POOL_TEMP] = pool
    record[:, at.POOL_TEMP_WITHOUT] = without
    record[:, at.SOLAR_HEAT] = running * sun * 30.0 * 0.7 * 3600.0 * size
    record[:, at.PUMP_ENERGY_WITHOUT] = ((HOURS % 24 >= 9) & (HOURS % 24 < 17)) * 2.2e5 * size
    record[:, at.PUMP_ENERGY] = record[:, at.PUMP_ENERGY_WITHOUT] + running * 1.6e6 * size
    record[:, at.SOLAR_TIME] = running * 3600.0
    dry = np.array([np.full(12, 80.0), np.full(12, -3.0)])
    pump_cost = electricity_cost(Money(0.15 / JOULES_IN_KWH), record[:, at.PUMP_ENERGY])
    months = months_of_record(
        record, np.zeros((12, at.LEDGER)), target, np.full(12, 1.2), dry, pump_cost
    )
    weather_source = Provenance(
        source="made-up sines for a test", kind="monthly means", closure=0.0,
        uncertainty="none, it is made up", uncertainty_sun=0.0,
    )  # fmt: skip
    return YearResult(
        job=job, months=months, record=record, air=air, sun=sun, closure=1e-9,
        ledger=np.zeros(at.LEDGER), settled=0.0, days_to_target=12.0, opening_temp=18.0,
        weather=weather_source, target=target, sensor_cost=None,
        inputs_hash="3fa9c1d2e4b5", version="0.1.0",
    )  # fmt: skip


def _spells(rng: np.random.Generator) -> np.ndarray:
    """Warm and cold spells: each day remembers most of the day before. [K]."""
    days = rng.normal(0.0, 2.2, 365)
    for day in range(1, 365):
        days[day] += 0.7 * days[day - 1]
    return days


def _long_source() -> YearResult:
    year = made_up_year(job=LONG_NAME)
    source = "station_table_with_a_very_long_file_name_and_no_blank_" * 4
    return replace(year, weather=replace(year.weather, source=source, kind="typical-year file"))


YEARS = {
    "plain_us": DrawnYear(made_up_year(), "US", "04-01", "10-31"),
    "plain_si": DrawnYear(made_up_year(), "SI", "04-15", "09-30"),
    "cold": DrawnYear(
        made_up_year(mean=6.0, swing=15.0, gain=5.0, target=27.0), "SI", "06-01", "08-20"
    ),
    "target_never": DrawnYear(made_up_year(mean=15.0, target=38.0), "US", "05-01", "09-15"),
    "tropics": DrawnYear(
        made_up_year(mean=27.5, swing=0.9, gain=1.5, target=29.0), "SI", "01-01", "12-31"
    ),
    "no_gain": DrawnYear(made_up_year(gain=0.0), "US", "04-01", "10-31"),
    "south": DrawnYear(made_up_year(south=True), "SI", "10-01", "04-15"),
    "one_week": DrawnYear(made_up_year(), "US", "12-27", "01-03"),
    "one_day": DrawnYear(made_up_year(), "US", "07-04", "07-04"),
    "big": DrawnYear(made_up_year(size=80.0), "SI", "03-01", "11-30"),
    "small": DrawnYear(made_up_year(size=0.004), "US", "03-01", "11-30"),
    "long_name": DrawnYear(_long_source(), "US", "04-01", "10-31"),
    "odd_name": DrawnYear(made_up_year(job=ODD_NAME), "US", "04-01", "10-31"),
    "wide_name": DrawnYear(made_up_year(job="W﷽🏊水" * 50), "SI", "04-01", "10-31"),
    "no_name": DrawnYear(made_up_year(job=""), "SI", "04-01", "10-31"),
}


def points_of(data: str) -> np.ndarray:
    """Read the points of a path of one start and relative steps, by the rules of SVG path data."""
    start, _, steps = data.removeprefix("M").partition("l")
    pairs = [start, *steps.split()]
    return np.cumsum([[float(part) for part in pair.split(",")] for pair in pairs], axis=0)
