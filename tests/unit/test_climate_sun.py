"""Sun and weather in steps: energy kept, closure in every step, night dark, planes sound."""

from __future__ import annotations

import dataclasses
from pathlib import Path

import numpy as np
import pvlib
import pytest

from noonwater.climate.files import read_weather_file
from noonwater.climate.generator import make_year
from noonwater.climate.monthly import MonthlyMeans
from noonwater.climate.outside import sun_outside_level_of_month
from noonwater.climate.sun import plane_sun, sun_steps, weather_steps
from noonwater.climate.weather_year import WeatherYear
from noonwater.core.errors import InputError

SHIPPED = Path(pvlib.__file__).parent / "data"
PLACES = {
    "equator": (0.0, 36.8, 3.0),
    "south": (-35.0, 138.6, 9.5),
    "north": (65.0, 25.5, 2.0),
    "half-hour zone": (28.6, 77.2, 5.5),
    "polar": (69.6, 19.0, 1.0),
}


@pytest.fixture(scope="module")
def greensboro() -> WeatherYear:
    return read_weather_file(SHIPPED / "723170TYA.CSV")


def made(place: str) -> WeatherYear:
    latitude, longitude, utc_offset = PLACES[place]
    sun = 0.5 * sun_outside_level_of_month(np.array([latitude]))[0]
    means = MonthlyMeans(sun.tolist(), [15.0] * 12, [8.0] * 12, [3.0] * 12)
    return make_year(means, latitude, longitude, 100.0, utc_offset, seed=1)


def hourly(values: np.ndarray, steps: int) -> np.ndarray:
    return values.reshape(-1, steps).mean(axis=1)


@pytest.mark.parametrize("place", sorted(PLACES))
def test_a_made_years_energy_is_kept_exactly(place: str) -> None:
    weather = made(place)
    sun = sun_steps(weather, 300)
    for name in ("sun_global", "sun_beam", "sun_diffuse"):
        kept = hourly(getattr(sun, name), 12)
        np.testing.assert_allclose(kept, getattr(weather, name), atol=1e-9)


@pytest.mark.parametrize("step_seconds", [60, 300, 900, 1800, 3600])
def test_a_files_global_is_kept_exactly_and_its_beam_nearly(
    greensboro: WeatherYear, step_seconds: int
) -> None:
    sun = sun_steps(greensboro, step_seconds)
    steps = 3600 // step_seconds
    np.testing.assert_allclose(hourly(sun.sun_global, steps), greensboro.sun_global, atol=1e-9)
    beam = hourly(sun.sun_beam, steps)
    assert (beam <= greensboro.sun_beam + 1e-9).all()
    # Lost are only hours whose global can't hold their beam; with whole hours also those at
    # sunrise whose middle is dark.
    assert beam.mean() > greensboro.sun_beam.mean() * (0.999 if step_seconds <= 900 else 0.997)
    # Diffuse takes over what the file's rounded values fail to close by.
    rest = hourly(sun.sun_diffuse, steps) - greensboro.sun_diffuse
    lit = greensboro.sun_global > 0
    assert np.sqrt(np.mean(rest[lit] ** 2)) < 2.0


@pytest.mark.parametrize("place", sorted(PLACES))
def test_closure_holds_in_every_step_and_night_is_dark(place: str) -> None:
    sun = sun_steps(made(place), 300)
    sine = np.sin(np.radians(np.maximum(sun.height, 0.0)))
    np.testing.assert_allclose(sun.sun_global, sun.sun_diffuse + sun.sun_beam * sine, atol=1e-9)
    night = sun.height <= 0.0
    assert (sun.sun_beam[night] == 0.0).all()
    assert (sun.sun_global[night] == 0.0).all()
    for values in (sun.sun_global, sun.sun_beam, sun.sun_diffuse):
        assert (values >= 0.0).all() and (values <= sun.sun_outside + 1e-9).all()


def test_sun_follows_its_height_within_the_hour(greensboro: WeatherYear) -> None:
    sun = sun_steps(greensboro, 300)
    clear = np.flatnonzero(greensboro.sun_beam[: 200 * 24] > 700.0)
    for hour in clear:
        inside = slice(12 * hour, 12 * hour + 12)
        assert np.corrcoef(sun.height[inside], sun.sun_global[inside])[0, 1] > 0.99


def test_light_in_an_hour_without_sun_stays_diffuse(greensboro: WeatherYear) -> None:
    moonlit = greensboro.sun_global.copy()
    moonlit[0] = 7.0
    beam = greensboro.sun_beam.copy()
    beam[0] = 50.0
    weather = dataclasses.replace(greensboro, sun_global=moonlit, sun_beam=beam)
    sun = sun_steps(weather, 300)
    np.testing.assert_allclose(sun.sun_diffuse[:12], 7.0)
    assert (sun.sun_beam[:12] == 0.0).all()


def test_sunrise_and_sunset_at_the_equator_and_in_a_half_hour_zone() -> None:
    # Equinox, 12 h and a few minutes of refraction; solar noon from longitude, zone and the
    # equation of time, -7.4 min on 21 March (any almanac).
    for place in ("equator", "half-hour zone", "south"):
        _, longitude, zone = PLACES[place]
        sun = sun_steps(made(place), 60)
        day = slice(79 * 1440, 80 * 1440)
        up = np.flatnonzero(sun.height[day] > 0.0)
        noon = 12.0 + zone - longitude / 15.0 + 7.4 / 60.0
        assert (up[0] + up[-1] + 1) / 120.0 == pytest.approx(noon, abs=0.05)
        assert up.size / 60.0 == pytest.approx(12.1, abs=0.1)


@pytest.mark.parametrize("step", [0, -300, 7, 7200, 2.5])
def test_steps_that_do_not_divide_an_hour_are_refused(greensboro: WeatherYear, step: int) -> None:
    with pytest.raises(InputError, match=r"step: .* allowed: whole seconds"):
        sun_steps(greensboro, step)
    with pytest.raises(InputError):
        weather_steps(greensboro, step)


def test_weather_is_the_value_at_the_hours_end_and_wraps(greensboro: WeatherYear) -> None:
    steps = weather_steps(greensboro, 300)
    air = greensboro.temp_air
    # 23:57:30 on 31 December is 1/24 of an hour before the last value; 00:02:30 is the same after.
    assert steps.temp_air[-1] == pytest.approx(air[-1] + (air[-2] - air[-1]) / 24.0)
    assert steps.temp_air[0] == pytest.approx(air[-1] + (air[0] - air[-1]) / 24.0)
    # Half past noon on 1 January lies between the values at 12 and 13 h.
    half = weather_steps(greensboro, 3600)
    assert half.temp_air[12] == pytest.approx(0.5 * (air[11] + air[12]))
    for name in ("temp_air", "dew_point", "vapour_pressure", "wind_speed", "pressure"):
        assert getattr(steps, name).mean() == pytest.approx(getattr(greensboro, name).mean())
    assert steps.longwave_sky.mean() == pytest.approx(greensboro.longwave_sky.mean())


def test_the_level_plane_gets_global(greensboro: WeatherYear) -> None:
    sun = sun_steps(greensboro, 300)
    plane = plane_sun(sun, 0.0, 123.0, 0.2)
    high = sun.height >= 5.0
    np.testing.assert_allclose((plane.beam + plane.sky)[high], sun.sun_global[high], atol=0.01)
    # Below 5° the source's formula loses a little of the ring round the sun.
    assert (plane.beam + plane.sky).sum() == pytest.approx(sun.sun_global.sum(), rel=5e-4)
    assert (plane.ground == 0.0).all()


@pytest.mark.parametrize("place", sorted(PLACES))
@pytest.mark.parametrize(("tilt", "bearing"), [(18.0, 0.0), (30.0, 180.0), (90.0, 270.0)])
def test_planes_are_never_negative_and_never_empty(place: str, tilt: float, bearing: float) -> None:
    sun = sun_steps(made(place), 900)
    plane = plane_sun(sun, tilt, bearing, 0.2)
    for values in (plane.beam, plane.sky, plane.ground, plane.incidence_cosine):
        assert np.isfinite(values).all() and (values >= 0.0).all()
    assert (plane.incidence_cosine <= 1.0).all()
    np.testing.assert_allclose(plane.beam, sun.sun_beam * plane.incidence_cosine)


def test_the_sunny_side_is_the_one_towards_the_equator() -> None:
    for place, sunny in (("south", 0.0), ("half-hour zone", 180.0), ("north", 180.0)):
        sun = sun_steps(made(place), 900)
        bright = plane_sun(sun, 30.0, sunny, 0.2)
        dark = plane_sun(sun, 30.0, sunny + 180.0, 0.2)
        assert (bright.beam + bright.sky).mean() > 1.15 * (dark.beam + dark.sky).mean()


def test_ground_takes_one_albedo_or_one_an_hour(greensboro: WeatherYear) -> None:
    sun = sun_steps(greensboro, 900)
    one = plane_sun(sun, 90.0, 180.0, 0.2)
    # An upright wall sees half ground: 0.5 x 0.2 of global.
    np.testing.assert_allclose(one.ground, 0.1 * sun.sun_global)
    many = plane_sun(sun, 90.0, 180.0, np.full(8760, 0.2))
    np.testing.assert_allclose(many.ground, one.ground)


@pytest.mark.parametrize(
    ("tilt", "bearing", "words"),
    [(95.0, 0.0, "tilt: 95"), (-1.0, 0.0, "tilt"), (10.0, 400.0, "bearing: 400"),
     (float("nan"), float("nan"), "tilt")],
)  # fmt: skip
def test_planes_off_the_scale_are_refused(
    greensboro: WeatherYear, tilt: float, bearing: float, words: str
) -> None:
    with pytest.raises(InputError, match=words):
        plane_sun(sun_steps(greensboro, 3600), tilt, bearing, 0.2)


def test_dataclasses_come_without_heavy_imports() -> None:
    import subprocess
    import sys

    code = (
        "import sys, noonwater.climate, noonwater.climate.weather_year, noonwater.climate.monthly,"
        "noonwater.climate.files, noonwater.climate.stations, noonwater.climate.sun;"
        "sys.exit(any(m in sys.modules for m in ('pvlib', 'pandas', 'numba', 'scipy')))"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
