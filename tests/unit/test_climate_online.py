"""Online years: fetched once, kept whole or not at all, and one clear line without a network."""

from __future__ import annotations

import json
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pytest
import requests
from pvlib import iotools

from noonwater.climate import online, shelf
from noonwater.climate.online import weather_online, weather_years_online
from noonwater.climate.samples import Samples
from noonwater.core.errors import WeatherError
from tests.skies import Sky, hours_of, pvgis_typical_json

CAIRNS = Sky(-16.92, 145.77, 10.0)


@pytest.fixture(autouse=True)
def shelf_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("NOONWATER_CACHE", str(tmp_path))
    monkeypatch.delenv(online.KEY, raising=False)
    monkeypatch.delenv(online.EMAIL, raising=False)

    def forbidden(*args: object, **kwargs: object) -> None:
        raise AssertionError("no test may reach the network")

    monkeypatch.setattr(requests.Session, "request", forbidden)
    return tmp_path


@pytest.fixture(scope="module")
def pvgis_answer() -> tuple[pd.DataFrame, dict[str, Any]]:
    """An answer as pvlib makes it of the service's text."""
    import io

    data, meta = iotools.read_pvgis_tmy(io.StringIO(pvgis_typical_json(CAIRNS, 0.1)), "json")
    return data, meta


Calls = list[tuple[tuple[object, ...], dict[str, object]]]


def replaced(monkeypatch: pytest.MonkeyPatch, name: str, answer: object) -> Calls:
    """Put a stand-in for one of pvlib's functions; an exception is raised."""
    calls: Calls = []

    def stand_in(*args: object, **kwargs: object) -> object:
        calls.append((args, kwargs))
        if isinstance(answer, Exception):
            raise answer
        return answer() if callable(answer) else answer

    monkeypatch.setattr(iotools, name, stand_in)
    return calls


def test_a_place_is_fetched_once(
    monkeypatch: pytest.MonkeyPatch, pvgis_answer: object, shelf_folder: Path
) -> None:
    calls = replaced(monkeypatch, "get_pvgis_tmy", pvgis_answer)
    first = weather_online("pvgis", -16.92123, 145.7698, utc_offset=10.0)
    # The same to 1 km; another zone is no reason to ask again.
    second = weather_online("pvgis", -16.9179, 145.7702, utc_offset=10.0)
    other_zone = weather_online("pvgis", -16.92, 145.77)
    assert len(calls) == 1
    assert calls[0][0] == (-16.92, 145.77)
    assert calls[0][1]["timeout"] == online.TIMEOUT
    assert other_zone.utc_offset == 10.0  # 145.77 / 15, rounded
    for name in ("sun_global", "sun_beam", "temp_air", "dew_point", "wind_speed"):
        np.testing.assert_array_equal(getattr(first, name), getattr(second, name))
    assert first.provenance.kind == "online service"
    assert first.provenance.notes[0].startswith("fetched and kept as pvgis_-16.92_+145.77.npz")
    assert second.provenance.notes[0].startswith("kept on disk as pvgis_-16.92_+145.77.npz")
    assert [path.name for path in (shelf_folder / "weather-1").iterdir()] == [
        "pvgis_-16.92_+145.77.npz"
    ]
    true = CAIRNS.hour_means(2003, 10.0)
    assert first.sun_global.mean() == pytest.approx(true["ghi"].mean(), rel=0.005)
    assert np.sqrt(np.mean((first.sun_global - true["ghi"]) ** 2)) < 3.0


@pytest.mark.parametrize(
    ("reason", "words"),
    [
        (requests.ConnectionError("Max retries exceeded"), "not reached: no network here"),
        (requests.Timeout("slow"), "no answer within 60 s"),
        (requests.HTTPError("Location over the sea"), "refused: Location over the sea"),
        (requests.HTTPError({"messages": ["bad"]}), "refused: {'messages': ['bad']}"),
        (KeyError("outputs"), "an answer that can't be read (KeyError"),
        (ValueError("Expecting value"), "an answer that can't be read (ValueError"),
    ],
)
def test_offline_is_one_line_that_says_what_to_do(
    monkeypatch: pytest.MonkeyPatch, reason: Exception, words: str
) -> None:
    replaced(monkeypatch, "get_pvgis_tmy", reason)
    with pytest.raises(WeatherError) as caught:
        weather_online("pvgis", 10.0, 120.0)
    text = str(caught.value)
    assert "\n" not in text
    assert words in text
    assert text.startswith("PVGIS at 10.00°, 120.00°: weather.service: ")
    for way_out in ('source = "file"', 'source = "stations"', 'source = "months"'):
        assert way_out in text


def test_a_silent_service_is_given_up(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(online, "PATIENCE", 0.2)
    replaced(monkeypatch, "get_nasa_power", lambda: time.sleep(3.0))
    began = time.monotonic()
    with pytest.raises(WeatherError, match="no answer within"):
        weather_online("nasa power", 10.0, 120.0)
    assert time.monotonic() - began < 2.0


def damage_by_cutting(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:-500])


def damage_by_text(path: Path) -> None:
    path.write_text("not an archive")


def damage_by_emptying(path: Path) -> None:
    path.write_bytes(b"")


def damage_by_a_value(path: Path) -> None:
    """A whole archive whose rows are no longer those that came."""
    with np.load(path) as stored:
        arrays = dict(stored)
    arrays["column_0"] = arrays["column_0"] * 1.01
    with path.open("wb") as file:
        np.savez_compressed(file, **arrays)


def damage_by_a_key(path: Path) -> None:
    with np.load(path) as stored:
        arrays = dict(stored)
    about = json.loads(str(arrays["about"]))
    del about["latitude"]
    arrays["about"] = np.array(json.dumps(about))
    with path.open("wb") as file:
        np.savez_compressed(file, **arrays)


@pytest.mark.parametrize(
    "damage",
    [damage_by_cutting, damage_by_text, damage_by_emptying, damage_by_a_value, damage_by_a_key],
)
def test_damage_is_seen(damage: Callable[[Path], None]) -> None:
    stamps = np.arange("2003-01-01", "2003-01-08", dtype="datetime64[h]").astype("datetime64[s]")
    rows = Samples(
        form="made", kind="online service", place="here", latitude=1.0, longitude=2.0,
        elevation=3.0, stamps=stamps, stamp_offset=0.0, utc_offset=1.0, sun_shift=float("nan"),
        air_shift=0.0, typical=True, columns={"temp_air": np.arange(168.0)}, notes=("a note",),
    )  # fmt: skip
    path = shelf.put("pvgis", 1.0, 2.0, rows)
    assert path is not None
    kept = shelf.taken("pvgis", 1.0, 2.0)
    assert kept.samples is not None and not kept.damaged
    assert (kept.samples.place, kept.samples.notes, kept.samples.typical) == (
        "here",
        ("a note",),
        1,
    )
    np.testing.assert_array_equal(kept.samples.stamps, stamps)
    np.testing.assert_array_equal(kept.samples.columns["temp_air"], np.arange(168.0))
    damage(path)
    kept = shelf.taken("pvgis", 1.0, 2.0)
    assert kept.damaged and kept.samples is None


def test_a_damaged_copy_is_fetched_again_or_named(
    monkeypatch: pytest.MonkeyPatch, pvgis_answer: object
) -> None:
    path = shelf.path_of("pvgis", -16.92, 145.77)
    path.parent.mkdir(parents=True)
    path.write_bytes(b"PK half an archive")
    replaced(monkeypatch, "get_pvgis_tmy", requests.ConnectionError())
    with pytest.raises(WeatherError, match=r"no network here.*; the copy on disk is damaged"):
        weather_online("pvgis", -16.92, 145.77)
    calls = replaced(monkeypatch, "get_pvgis_tmy", pvgis_answer)
    again = weather_online("pvgis", -16.92, 145.77)
    assert len(calls) == 1
    assert again.provenance.notes[0].startswith("the copy on disk was damaged; fetched and kept")
    assert weather_online("pvgis", -16.92, 145.77).provenance.notes[0].startswith("kept on disk")


def test_a_disk_that_cannot_be_written_costs_no_answer(
    monkeypatch: pytest.MonkeyPatch, pvgis_answer: object, tmp_path: Path
) -> None:
    blocked = tmp_path / "blocked"
    blocked.write_text("a file where a folder is wanted")
    monkeypatch.setenv("NOONWATER_CACHE", str(blocked))
    calls = replaced(monkeypatch, "get_pvgis_tmy", pvgis_answer)
    for _ in range(2):
        assert weather_online("pvgis", -16.92, 145.77).hours == 8760
    assert len(calls) == 2


def test_a_failed_write_leaves_nothing_behind(
    monkeypatch: pytest.MonkeyPatch, pvgis_answer: object, shelf_folder: Path
) -> None:
    def full(*args: object, **kwargs: object) -> None:
        raise OSError("no space left")

    monkeypatch.setattr(np, "savez_compressed", full)
    replaced(monkeypatch, "get_pvgis_tmy", pvgis_answer)
    assert weather_online("pvgis", -16.92, 145.77).hours == 8760
    assert list((shelf_folder / "weather-1").iterdir()) == []


def power_answer(sky: Sky) -> tuple[pd.DataFrame, dict[str, Any]]:
    """Means over the hours that begin with the stamp, as the service gives them."""
    years = tuple(range(online.POWER_YEARS[0], online.POWER_YEARS[1] + 1))
    hours = hours_of(years)
    middle = sky.at(hours + pd.Timedelta(minutes=30))
    data = pd.DataFrame(
        {
            "ghi": middle.ghi, "dni": middle.dni, "dhi": middle.dhi, "temp_air": middle.temp,
            "temp_dew": middle.dew, "wind_speed": middle.wind, "pressure": middle.pressure,
            "longwave_down": 350.0,
        }
    ).set_index(hours)  # fmt: skip
    return data, {"altitude": sky.elevation, "latitude": sky.latitude}


def test_nasa_power_gives_real_years(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(online, "POWER_YEARS", (2019, 2021))
    sky = Sky(-34.92, 138.62, 48.0)
    calls = replaced(monkeypatch, "get_nasa_power", power_answer(sky))
    years = weather_years_online("nasa power", -34.92, 138.62, 9.5)
    assert calls[0][0][2:] == ("2019-01-01", "2021-12-31")
    assert [year.calendar_year for year in years] == [2019, 2020, 2021]
    true = sky.hour_means(2020, 9.5)
    year = years[1]
    assert "leap year: 29 February left out" in year.provenance.notes
    assert np.sqrt(np.mean((year.sun_global - true["ghi"]) ** 2)) < 3.5
    assert np.abs(year.temp_air - true["temp"]).max() < 0.1
    assert (year.longwave_sky == 350.0).all()
    chosen = weather_online("nasa power", -34.92, 138.62, 9.5)
    assert chosen.provenance.notes[0].startswith("3 real years (2019, 2020, 2021);")
    assert len(calls) == 1


def test_nsrdb_asks_for_the_users_own_key(monkeypatch: pytest.MonkeyPatch) -> None:
    calls = replaced(monkeypatch, "get_nsrdb_psm4_tmy", requests.ConnectionError())
    with pytest.raises(WeatherError, match="NOONWATER_NSRDB_KEY and NOONWATER_NSRDB_EMAIL not set"):
        weather_online("nsrdb", 36.7, -119.8)
    monkeypatch.setenv(online.KEY, "k" * 40)
    with pytest.raises(WeatherError, match="service: NOONWATER_NSRDB_EMAIL not set"):
        weather_online("nsrdb", 36.7, -119.8)
    assert calls == []


def test_a_refusal_never_shows_the_key(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(online.KEY, "secretkey42")
    monkeypatch.setenv(online.EMAIL, "owner@example.org")
    said = "403 for url: somewhere?api_key=secretkey42&email=owner@example.org"
    replaced(monkeypatch, "get_nsrdb_psm4_tmy", requests.HTTPError(said))
    with pytest.raises(WeatherError) as caught:
        weather_online("nsrdb", 36.7, -119.8)
    assert "403 for url" in str(caught.value)
    assert "secretkey42" not in str(caught.value) and "owner@" not in str(caught.value)


def test_nsrdb_typical_year(monkeypatch: pytest.MonkeyPatch) -> None:
    import io

    from tests.skies import nsrdb_csv

    sky = Sky(36.7, -119.8, 100.0)
    answer = iotools.read_nsrdb_psm4(io.StringIO(nsrdb_csv(sky, (2003,), -8.0, typical=True)))
    monkeypatch.setenv(online.KEY, "k")
    monkeypatch.setenv(online.EMAIL, "e")
    calls = replaced(monkeypatch, "get_nsrdb_psm4_tmy", answer)
    weather = weather_online("nsrdb", 36.7, -119.8)
    assert calls[0][0] == (36.7, -119.8, "k", "e")
    assert weather.utc_offset == -8.0
    assert weather.calendar_year is None
    true = sky.hour_means(2003, -8.0)
    assert np.sqrt(np.mean((weather.sun_global - true["ghi"]) ** 2)) < 3.5
    assert weather.wind_speed.mean() == pytest.approx(1.383 * true["wind"].mean(), rel=0.01)


def test_half_an_answer_is_refused(monkeypatch: pytest.MonkeyPatch, pvgis_answer: Any) -> None:
    data, meta = pvgis_answer
    replaced(monkeypatch, "get_pvgis_tmy", (data.drop(columns="wind_speed"), meta))
    with pytest.raises(WeatherError, match="none for wind_speed"):
        weather_online("pvgis", -16.92, 145.77)
    replaced(monkeypatch, "get_pvgis_tmy", (data.iloc[:5000], meta))
    with pytest.raises(WeatherError, match="5000 rows"):
        weather_online("pvgis", -16.92, 145.77)
    # What can't be used is not kept.
    assert shelf.taken("pvgis", -16.92, 145.77).samples is None
