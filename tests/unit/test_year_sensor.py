"""Sensors as bodies: what each feels, which is a good one, what a bad one costs."""

from __future__ import annotations

import numpy as np
import pytest

from noonwater.app.study import run_year, surroundings_of
from noonwater.catalog import panel_named
from noonwater.model.job import Job
from noonwater.year.panels import Coefficients, coefficients
from noonwater.year.sensor import (
    LOOSE_TIME,
    PROBE_CAPACITY,
    WELL_TIME,
    SensorBody,
    sensor_body,
    with_good_sensor,
)
from noonwater.year.sensor_cost import sensor_cost
from noonwater.year.surroundings import Surroundings
from tests.design_jobs import GOOD, changed

STEP = 900


def with_sensor(**fields: object) -> Job:
    return changed(controls=dict(fields))


@pytest.fixture(scope="module")
def around() -> Surroundings:
    return surroundings_of(with_sensor(sensor_roof="west"), STEP)


@pytest.fixture(scope="module")
def panel() -> Coefficients:
    return coefficients(panel_named(GOOD.array.banks[0].panel))


@pytest.fixture(scope="module")
def good_heat() -> float:
    return sum(month.solar_heat for month in run_year(GOOD, STEP).months)


def excess(body: SensorBody) -> np.ndarray:
    """How far the body would rest over the air, were nothing but air and sky around it. [K]."""
    return np.asarray(body.gain / body.loss)


def test_a_shaded_piece_of_panel_loses_its_share_of_beam(
    around: Surroundings, panel: Coefficients
) -> None:
    def gain(shade: float) -> np.ndarray:
        return sensor_body(with_sensor(sensor_shade=shade), around, panel).gain

    roof = GOOD.roof_named("south")
    beam = around.planes[roof.pitch, roof.bearing].beam
    assert (gain(0.4)[beam > 50.0] < gain(0.0)[beam > 50.0]).all()
    np.testing.assert_allclose(gain(0.4)[beam == 0.0], gain(0.0)[beam == 0.0])
    np.testing.assert_allclose(
        gain(0.5), 0.5 * (gain(0.0) + gain(1.0)), atol=1e-6, err_msg="beam counts in proportion"
    )


def test_a_wrong_plane_warms_at_another_hour(around: Surroundings, panel: Coefficients) -> None:
    south = sensor_body(GOOD, around, panel).gain.reshape(365, 96).sum(axis=0)
    west = sensor_body(with_sensor(sensor_roof="west"), around, panel).gain.reshape(365, 96)
    assert west.sum(axis=0).argmax() > south.argmax() + 1


def test_a_probe_in_free_air_feels_sun_little_and_sky_at_night(
    around: Surroundings, panel: Coefficients
) -> None:
    probe = excess(sensor_body(with_sensor(sensor="free air"), around, panel))
    piece = excess(sensor_body(GOOD, around, panel))
    noon = around.sun.sun_global > 700.0
    night = around.sun.sun_global <= 0.0
    assert 2.0 < np.median(probe[noon]) < 12.0
    assert np.median(piece[noon]) > 3.0 * np.median(probe[noon])
    assert probe[night].max() < 0.5 and probe[night].mean() < -0.3
    shaded = excess(sensor_body(with_sensor(sensor="free air", sensor_shade=1.0), around, panel))
    assert (shaded <= probe + 1e-9).all()


@pytest.mark.parametrize(
    ("fields", "time_constant", "contact"),
    [
        ({"sensor": "return well"}, WELL_TIME, 0.98),
        ({"sensor": "loose in pipe"}, LOOSE_TIME, 0.5),
        ({"sensor": "loose in pipe", "sensor_contact": 0.2}, LOOSE_TIME, 0.2),
    ],
)
def test_probes_in_the_pipe_share_water_and_air(
    fields: dict[str, object],
    time_constant: float,
    contact: float,
    around: Surroundings,
    panel: Coefficients,
) -> None:
    body = sensor_body(with_sensor(**fields), around, panel)
    exchange = body.link + body.loss
    np.testing.assert_allclose(PROBE_CAPACITY / exchange, time_constant)
    np.testing.assert_allclose(body.link / exchange, contact)
    assert not body.gain.any(), "no sun in a pipe"


def test_which_sensor_is_good() -> None:
    assert with_good_sensor(GOOD) is GOOD
    better = with_good_sensor(with_sensor(sensor="free air", sensor_shade=0.3)).controls
    assert (better.sensor, better.sensor_shade, better.sensor_roof) == ("panel piece", 0.0, "south")
    assert with_good_sensor(with_sensor(sensor_roof="west")).controls.sensor_roof == "south"


@pytest.mark.parametrize(
    ("fields", "least", "most"),
    [
        ({"sensor_roof": "west"}, -0.01, 0.4),
        ({"sensor_shade": 0.8}, 0.02, 0.9),
        ({"sensor": "free air"}, 0.05, 1.0),
        ({"sensor": "return well", "least_run": 600.0}, 0.2, 1.0),
        ({"sensor": "loose in pipe", "least_run": 600.0}, 0.2, 1.0),
    ],
)
def test_what_a_bad_sensor_costs(
    fields: dict[str, object], least: float, most: float, good_heat: float
) -> None:
    cost = run_year(with_sensor(**fields), STEP).sensor_cost
    assert cost is not None
    assert least <= cost.share_lost <= most
    if "least_run" not in fields:
        assert cost.solar_heat_good == pytest.approx(good_heat, rel=1e-6)
    assert cost.solar_time <= cost.solar_time_good * 1.05
    assert cost.hours_at_target <= cost.hours_at_target_good + 24.0


def test_a_good_sensor_costs_nothing_to_say() -> None:
    assert run_year(GOOD, STEP).sensor_cost is None
    assert run_year(with_sensor(kind="timer", sensor="free air"), STEP).sensor_cost is None


def test_cost_is_the_difference_of_two_records() -> None:
    from noonwater.year import parameters as at

    record = np.zeros((8760, at.RECORD))
    good = record.copy()
    record[:10, at.SOLAR_HEAT], good[:10, at.SOLAR_HEAT] = 3.0, 4.0
    good[:5, at.POOL_TEMP] = 28.0
    cost = sensor_cost(record, good, 28.0)
    assert cost.share_lost == pytest.approx(0.25)
    assert (cost.hours_at_target, cost.hours_at_target_good) == (0.0, 5.0)
    assert sensor_cost(record, np.zeros_like(record), 28.0).share_lost == 0.0
