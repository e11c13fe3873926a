"""Edges of the heat functions, and that compiled code gives what Python gives."""

from __future__ import annotations

import dataclasses
import inspect
from collections.abc import Callable
from types import ModuleType

import numba
import numpy as np
import pytest

from noonwater.physics import (
    air,
    collector,
    collector_rating,
    convection,
    cover,
    evaporation,
    evaporation_formulas,
    freezing,
    pool_sun,
    sky,
    water,
    wind,
)

MODULES = (
    air,
    collector,
    collector_rating,
    convection,
    cover,
    evaporation,
    evaporation_formulas,
    freezing,
    pool_sun,
    sky,
    water,
    wind,
)


def own_functions(module: ModuleType) -> list[Callable[..., float]]:
    return [
        f
        for _, f in inspect.getmembers(module, inspect.isfunction)
        if f.__module__ == module.__name__
    ]


@pytest.fixture(scope="module")
def compiled() -> Callable[..., tuple[float, ...]]:
    @numba.njit(error_model="numpy")
    def loop(temp: float, wind_speed: float) -> tuple[float, ...]:
        pressure_water = air.vapour_pressure_saturation(temp)
        vapour = air.vapour_pressure_at_humidity(15.0, 0.6)
        coefficient = evaporation.evaporation_coefficient(
            wind_speed, temp, 15.0, pressure_water, vapour, 95000.0
        )
        evaporated = evaporation.evaporation_heat(coefficient, pressure_water, vapour)
        emissivity = sky.emissivity_cloudy(
            sky.emissivity_sky_berdahl_martin_mean(air.dew_point(vapour)), 0.3, sky.CLOUD_FACTOR
        )
        down = sky.longwave_sky(emissivity, 15.0)
        gain = collector.collector_gain(700.0, wind_speed, down - 390.0, 0.85, 0.02)
        loss = collector.collector_loss_coefficient(wind_speed, 14.0, 2.0)
        return (
            evaporated,
            evaporation.evaporation_rate(evaporated, temp),
            evaporation.evaporation_coefficient_high(coefficient, wind_speed),
            convection.convection_coefficient_bowen(coefficient, 95000.0),
            sky.longwave_net(temp, down, 0.95),
            collector.heat_of_bank(gain, loss, temp, 15.0, 200.0),
            collector.temp_outlet_bank(gain, loss, temp, 15.0, 0.0),
            collector.temp_after(temp, 60.0, 300.0, 400.0),
            cover.covered_dry_share(0.05, 11.0),
        )

    return loop


@pytest.mark.parametrize(("temp", "wind_speed"), [(28.0, 1.3), (8.0, 0.0)])
def test_compiled_equals_python(
    compiled: Callable[..., tuple[float, ...]], temp: float, wind_speed: float
) -> None:
    plain = compiled.py_func(temp, wind_speed)  # type: ignore[attr-defined]
    assert compiled(temp, wind_speed) == pytest.approx(plain, rel=1e-12)


@pytest.mark.parametrize("module", MODULES, ids=lambda m: m.__name__.rsplit(".", 1)[-1])
def test_docstrings_name_units_and_range(module: ModuleType) -> None:
    for function in own_functions(module):
        text = inspect.getdoc(function) or ""
        assert "Returns\n-------" in text and "Range:" in text, function.__name__
        for name in inspect.signature(function).parameters:
            described = text.split("Parameters\n----------")[1].split("Returns\n")[0]
            assert name in described, (function.__name__, name)
        assert "[" in text.split("Returns\n-------")[1]


def test_air_holds_at_its_edges() -> None:
    assert air.dew_point(0.0) == air.dew_point(1.0)
    assert air.vapour_pressure_at_humidity(20.0, 0.0) == 0.0


def test_wind_below_the_roughness_is_still() -> None:
    assert wind.wind_speed_log_law(5.0, 10.0, 0.5, 0.03, 1.0) == 0.0


def test_condensation_is_negative() -> None:
    cold, humid = air.vapour_pressure_saturation(10.0), air.vapour_pressure_saturation(25.0)
    coefficient = evaporation.evaporation_coefficient(2.0, 10.0, 28.0, cold, humid, 101325.0)
    heat = evaporation.evaporation_heat(coefficient, cold, humid)
    assert heat < 0.0
    assert evaporation.evaporation_rate(heat, 10.0) < 0.0


def test_warm_air_over_cold_water_has_no_free_part() -> None:
    cold, dry = air.vapour_pressure_saturation(15.0), 800.0
    still = evaporation.evaporation_coefficient(0.0, 15.0, 35.0, cold, dry, 101325.0)
    assert still == 0.0


def test_bank_without_flow_gives_nothing_and_stagnates() -> None:
    assert collector.heat_of_bank(800.0, 20.0, 25.0, 25.0, 0.0) == 0.0
    stagnant = collector.temp_outlet_bank(800.0, 20.0, 25.0, 25.0, 0.0)
    assert stagnant == collector.temp_stagnation(800.0, 20.0, 25.0) == 65.0


def test_bank_without_loss_gives_all() -> None:
    assert collector.heat_of_bank(800.0, 0.0, 40.0, 25.0, 200.0) == 800.0


def test_storm_does_not_turn_the_sun_into_loss() -> None:
    assert collector.collector_gain(800.0, 30.0, 0.0, 0.85, 0.067) == 0.0


def test_wind_split_keeps_a_third() -> None:
    assert collector_rating.loss_still_air(15.0, 4.5, 4.0) == 5.0


def test_angle_modifier_beyond_the_horizon() -> None:
    assert collector_rating.iam_ashrae(90.0, -0.1, 0.0) == 0.0
    assert collector_rating.iam_ashrae(120.0, -0.1, 0.0) == 0.0
    table = np.array([0.0, 60.0, 90.0])
    assert collector_rating.iam_table(100.0, table, np.array([1.0, 0.9, 0.0])) == 0.0


def test_tables_cannot_be_changed() -> None:
    with pytest.raises(dataclasses.FrozenInstanceError):
        cover.COVERS["foam"].resistance = 1.0  # type: ignore[misc]
    with pytest.raises(TypeError):
        wind.ROUGHNESS["sea"] = 1.0  # type: ignore[index]


def test_every_cover_names_its_source() -> None:
    for kind in cover.COVERS.values():
        assert len(kind.source) > 5
        assert 0.0 <= kind.evaporation_kept <= 1.0
        assert 0.0 <= kind.sun_kept <= 1.0
        assert kind.resistance >= 0.0


def test_no_frost_where_the_sky_is_warm() -> None:
    assert freezing.freezing_coefficient_limit(5.0, 340.0, 0.95) < 0.0
    assert freezing.temp_surface_dry(5.0, 340.0, 0.95, 10.0) > 5.0
