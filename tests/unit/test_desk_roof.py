"""The roof for the desk: every plane drawn, banks that can be touched, the sun on each plane."""

from __future__ import annotations

import re
import tomllib
from typing import Any

import numpy as np
import pytest

from noonwater.app.demos import demo_text
from noonwater.app.desk import View
from noonwater.app.desk_roof import roof_drawing, sun_on_planes
from noonwater.app.store import State
from noonwater.app.weather import weather_of
from noonwater.climate.weather_year import month_of_hour


def view_of(**roof: str) -> View:
    tables: dict[str, Any] = tomllib.loads(demo_text("lagoon-court"))
    tables["roof"][0] |= roof
    return View(State("job", 1, "", "", tables, tables))


def test_a_level_plane_gets_the_weather_s_sun_on_level_ground() -> None:
    view = view_of(pitch="0 deg")
    weather = weather_of(view.job)
    month = month_of_hour()
    level = sun_on_planes(view)[0]
    for m, daily in enumerate(level.daily):
        hours = weather.sun_global[month == m]
        assert daily == pytest.approx(86_400.0 * hours.mean(), rel=0.01)
    assert level.year == pytest.approx(86_400.0 * weather.sun_global.mean(), rel=0.005)


def test_a_plane_to_the_sun_has_more_of_it_in_winter() -> None:
    south, west = sun_on_planes(view_of(pitch="30 deg"))
    assert south.daily[11] > 1.2 * west.daily[11]
    days = np.diff([0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365])
    assert south.year == pytest.approx(float(np.dot(south.daily, days)) / 365.0)


def test_planes_without_panels_are_drawn_too_and_each_bank_can_be_touched() -> None:
    view = view_of()
    tables: dict[str, Any] = view.state.tables
    del tables["array"]["banks"][1]
    drawn = roof_drawing(View(State("job", 1, "", "", tables, tables)))
    for svg in (drawn.wide, drawn.narrow):
        assert re.findall(r'data-plane="(\w+)"', svg) == ["south", "west"]
        assert re.findall(r'data-bank="(\d+)"', svg) == ["0"]
        assert 'aria-valuenow="6"' in svg
        assert "eave 9.0 ft above the pool" in svg
    ids = re.findall(r' id="([^"]+)"', drawn.wide + drawn.narrow)
    assert len(ids) == len(set(ids))


def test_a_job_without_weather_has_no_sun() -> None:
    tables: dict[str, Any] = tomllib.loads(demo_text("lagoon-court"))
    view = View(State("job", 1, "", "", tables, tables))
    tables["weather"] = {"source": "online", "service": "nsrdb"}
    view = View(State("job", 1, "", "", tables, tables))
    assert sun_on_planes(view) == ()
