"""The station table: interpolation, refusal, time zones."""

from __future__ import annotations

import json
from importlib import resources

import numpy as np
import pytest

from noonwater.climate.stations import (
    distances,
    monthly_means_at,
    station_table,
    utc_offset_at,
)
from noonwater.core.errors import WeatherError


def test_at_a_station_the_station_decides() -> None:
    table = station_table()
    phoenix = next(i for i, name in enumerate(table.place) if name.startswith("Phoenix Sky"))
    means = monthly_means_at(
        float(table.latitude[phoenix]),
        float(table.longitude[phoenix]),
        float(table.elevation[phoenix]),
    )
    np.testing.assert_allclose(means.sun_global, table.sun_global[phoenix], rtol=0.03)
    np.testing.assert_allclose(means.temp_air, table.temp_air[phoenix], atol=0.6)
    assert means.kind == "station table"
    assert "Phoenix Sky" in means.place
    assert means.notes[0].count(" km") == 6


def test_higher_is_cooler_by_the_lapse() -> None:
    low, high = monthly_means_at(36.7, -119.8, 100.0), monthly_means_at(36.7, -119.8, 1100.0)
    np.testing.assert_allclose(low.array("temp_air") - high.array("temp_air"), 5.5)
    assert low.sun_global == high.sun_global


@pytest.mark.parametrize(
    ("latitude", "longitude", "zone"),
    [(36.74, -119.78, -8.0), (33.45, -112.0, -7.0), (41.9, -87.6, -6.0), (18.4, -66.0, -4.0)],
)
def test_standard_time_of_known_places(latitude: float, longitude: float, zone: float) -> None:
    # Fresno, Phoenix, Chicago, San Juan: standard time zones, common knowledge.
    assert utc_offset_at(latitude, longitude) == zone


@pytest.mark.parametrize(
    ("latitude", "longitude"), [(48.1, 11.6), (-33.9, 151.2), (33.45, 112.0), (23.0, -102.0)]
)
def test_outside_the_us_is_refused_in_words(latitude: float, longitude: float) -> None:
    with pytest.raises(WeatherError) as caught:
        monthly_means_at(latitude, longitude, 100.0)
    text = str(caught.value)
    assert "the nearest station of the US table" in text and "km away" in text
    assert "allowed: up to 200 km" in text and "twelve monthly means" in text
    with pytest.raises(WeatherError):
        utc_offset_at(latitude, longitude)


def test_a_site_off_the_map_is_refused() -> None:
    with pytest.raises(WeatherError) as caught:
        monthly_means_at(133.0, -412.0, 99999.0)
    assert len(caught.value.faults) == 3


def test_islands_use_their_own_stations_only() -> None:
    guam = monthly_means_at(13.45, 144.8, 50.0)
    assert guam.place.startswith("between 2 stations")
    assert guam.uncertainty_sun > monthly_means_at(36.7, -119.8, 100.0).uncertainty_sun


def test_dark_months_have_no_sun_rather_than_nonsense() -> None:
    barrow = monthly_means_at(71.3, -156.8, 10.0)
    assert 0.0 <= barrow.sun_global[11] < 2.0


def test_the_dew_point_stays_below_the_air() -> None:
    deep = monthly_means_at(48.5, -124.5, -400.0)
    assert (deep.array("dew_point") < deep.array("temp_air")).all()


def test_distance_of_two_known_cities() -> None:
    # Los Angeles airport to Phoenix airport is 595 km by great circle (airport tables).
    table = station_table()
    phoenix = next(i for i, name in enumerate(table.place) if name.startswith("Phoenix Sky"))
    assert distances(table, 33.942, -118.408)[phoenix] == pytest.approx(595.0, rel=0.01)


def test_the_table_carries_its_provenance_inside_and_beside() -> None:
    folder = resources.files("noonwater.climate").joinpath("data")
    beside = folder.joinpath("us_stations.json").read_text(encoding="utf-8")
    with np.load(str(folder.joinpath("us_stations.npz"))) as stored:
        assert str(stored["provenance"]) == beside
    assert "NREL/TP-581-43156" in json.loads(beside)["source"]
    assert len(station_table().place) == 1020
