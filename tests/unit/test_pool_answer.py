"""What the year's answer tells of the pools, the heater and the water's heat."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from noonwater.app.pool_answer import month_pools, pool_lines, year_pools
from noonwater.app.study import run_year
from noonwater.model.heater import Heater
from noonwater.model.job import Job
from noonwater.model.pool_use import Bathing, Feature, SpaWater
from noonwater.year import parameters as at
from noonwater.year.result import YearResult
from tests.design_jobs import GOOD, changed

STEP = 1800
FULL = replace(
    changed(
        pool={
            "spa": SpaWater(4.0, 0.9),
            "feature": (Feature(2.0, 1.0),),
            "bathing": Bathing(4),
            "rain": (0.1,) * 12,
            "opens": "01-01",
            "closes": "12-31",
        }
    ),
    heater=Heater("gas"),
)


@cache
def year_of(job: Job) -> YearResult:
    return run_year(job, STEP)


def test_a_months_heat_is_what_its_water_gained() -> None:
    year = year_of(FULL)
    told = [month_pools(month) for month in year.months]
    for name in ("heater", "spa", "bathers", "falling_water", "rain", "make_up", "pump", "ground"):
        assert any(abs(month["heat"][f"{name}_kWh"]) > 1.0 for month in told), name
    # Filling and draining move heat between pool and panels; the rest of a year sums to nothing.
    summed = year_pools(year, FULL)["heat"]
    moved = sum(abs(heat) for heat in summed.values())
    assert abs(sum(summed.values())) < 0.01 * moved


def test_months_and_hours_tell_the_same() -> None:
    year = year_of(FULL)
    frame = year.frame()
    assert sum(m.backup.heat for m in year.months) / 3.6e6 == pytest.approx(frame.heater_kWh.sum())
    assert year.months[0].heat.heater == pytest.approx(year.months[0].backup.heat, rel=1e-9)
    assert year.months[5].pool_bare == pytest.approx(
        frame.pool_bare_C.iloc[151 * 24 : 181 * 24].mean()
    )
    assert (year.pool_heater_only == year.record[:, at.POOL_TEMP_HEATER_ONLY]).all()
    assert year.pool_bare.mean() < year.pool_without_solar.mean() < year.pool_heater_only.mean()


def test_what_solar_saves_is_told() -> None:
    year, lines = year_of(FULL), "\n".join(pool_lines(year_of(FULL), FULL, "SI"))
    backup = year_pools(year, FULL)["backup"]
    assert backup["kind"] == backup["carrier"] == "gas"
    assert backup["energy_kWh"] == pytest.approx(backup["heat_kWh"] / 0.8)
    saved = backup["only_energy_kWh"] - backup["energy_kWh"]
    assert saved > 100.0
    assert f"solar saves {saved:,.0f} kWh" in " ".join(lines.split())
    assert "set to 27.0 °C" in lines
    assert "Spa:" in lines
    assert "falling water" in lines


def test_a_pool_without_heater_and_cover_has_no_table_of_twins() -> None:
    job = changed(pool={"cover": replace(GOOD.pool.cover, kind="none")})
    year = year_of(job)
    lines = pool_lines(year, job, "US")
    assert lines[0].startswith("Heat of the water in the year")
    assert year_pools(year, job)["pools"] == {
        "without_solar": True,
        "heater_only": False,
        "bare": False,
    }
    assert (year.pool_bare == year.pool_without_solar).all()
    assert (year.pool_heater_only == year.pool_without_solar).all()


def test_a_cover_has_its_columns() -> None:
    lines = pool_lines(year_of(GOOD), GOOD, "SI")
    assert lines[0].split() == ["pool", "as", "cover"]
    assert lines[1].split() == ["designed", "alone", "bare"]


def test_make_up_water_is_evaporation_beyond_the_rain_and_splash() -> None:
    dry, wet = year_of(GOOD), year_of(changed(pool={"rain": (0.5,) * 12}))
    litres = sum(month.make_up for month in dry.months) * 1000.0
    evaporated = -sum(month.heat.evaporation for month in dry.months) / 2.43e6
    assert litres == pytest.approx(evaporated, rel=0.02)
    assert sum(month.make_up for month in wet.months) < 0.2 * litres / 1000.0
