"""Heat through walls and floor of a job's pool; what stands around its water."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from noonwater.app.study import surroundings_of
from noonwater.model.pool import Pool
from noonwater.model.pool_use import Obstruction
from noonwater.year.exposure import longwave_over_water, pool_sun
from noonwater.year.shade import lit_share, sky_share
from noonwater.year.shell import perimeter_of, shell_terms, yearly_wave
from noonwater.year.surroundings import Surroundings
from tests.design_jobs import changed

STEP = 3600
POOL = Pool(area=40.0, depth=1.5, target=28.0)


@pytest.fixture(scope="module")
def around() -> Surroundings:
    return surroundings_of(changed(controls={"sensor_roof": "west"}), STEP)


def loss(around: Surroundings, **fields: object) -> float:
    pool = replace(POOL, **fields)  # type: ignore[arg-type]
    return shell_terms(pool, around.air.temp_air, around.sun, 0.2)[1]


def test_the_perimeter_is_that_of_a_pool_twice_as_long_as_wide() -> None:
    assert perimeter_of(50.0) == pytest.approx(2.0 * (10.0 + 5.0))


def test_a_pool_as_warm_as_the_air_loses_nothing_in_the_year(around: Surroundings) -> None:
    gain, coefficient = shell_terms(POOL, around.air.temp_air, around.sun, 0.2)
    assert gain.mean() == pytest.approx(coefficient * around.air.temp_air.mean(), rel=1e-6)


def test_what_resists_and_what_conducts(around: Surroundings) -> None:
    plain = loss(around)
    assert loss(around, wall_insulation=0.05) < 0.6 * plain
    assert loss(around, soil="clay or silt") < plain < loss(around, soil="rock")
    assert loss(around, depth=3.0) > plain
    assert loss(around, area=160.0) < plain, "a large floor keeps its middle warm"
    assert loss(around, setting="above ground") > plain


def test_walls_in_the_air_take_the_sun(around: Surroundings) -> None:
    pool = replace(POOL, setting="above ground")
    gain, coefficient = shell_terms(pool, around.air.temp_air, around.sun, 0.2)
    noon = np.arange(len(gain)) % 24 == 12
    above = gain - coefficient * around.air.temp_air
    assert above[noon].mean() > above[~noon].mean() + 10.0


def test_the_ground_follows_the_air_a_month_late() -> None:
    hour = np.arange(8760)
    air = 15.0 + 10.0 * np.cos(2.0 * np.pi * hour / 8760.0)
    wave = yearly_wave(air, 1.0 / 12.0)
    assert wave.max() == pytest.approx(10.0, rel=1e-3)
    assert wave.argmax() == pytest.approx(8760 / 12, abs=2)


def test_a_wall_over_north_hides_the_sun_behind_it() -> None:
    wall = (Obstruction(350.0, 20.0, 30.0, lets_through=0.25, months=(1,)),)
    azimuth = np.array([355.0, 10.0, 21.0, 10.0, 10.0])
    height = np.array([10.0, 29.0, 10.0, 31.0, 10.0])
    month = np.array([0, 0, 0, 0, 1], dtype=np.int8)
    assert lit_share(wall, azimuth, height, month).tolist() == [0.25, 0.25, 1.0, 1.0, 1.0]


def test_an_even_sky_over_a_wall_all_round() -> None:
    share = sky_share((Obstruction(0.0, 360.0, 30.0),))
    assert share == pytest.approx(1.0 - np.sin(np.radians(30.0)) ** 2, abs=2e-3)
    trees = sky_share((Obstruction(0.0, 360.0, 30.0, months=(6, 7)),))
    assert (trees[[5, 6]] < 0.8).all()
    assert trees[[0, 4, 7, 11]] == pytest.approx(1.0)


def test_shade_takes_sun_and_gives_warmer_sky(around: Surroundings) -> None:
    shaded = replace(POOL, obstruction=(Obstruction(90.0, 270.0, 45.0),))
    assert pool_sun(around.sun, shaded).sum() < 0.75 * pool_sun(around.sun, POOL).sum()
    clear = longwave_over_water(around.air, POOL)
    assert clear == pytest.approx(around.air.longwave_sky)
    assert longwave_over_water(around.air, shaded).sum() > clear.sum()
