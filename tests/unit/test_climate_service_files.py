"""PVGIS and NSRDB files: every clock and phase comes to the hours of the place's own year."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from noonwater.climate.files import read_weather_file, read_weather_years
from noonwater.climate.weather_year import WeatherYear
from noonwater.core.errors import WeatherError
from tests.skies import (
    Sky,
    nsrdb_csv,
    pvgis_epw,
    pvgis_hourly_csv,
    pvgis_hourly_json,
    pvgis_typical_csv,
    pvgis_typical_json,
)

PIEDMONT = Sky(45.0, 8.0, 250.0)
DELHI = Sky(28.6, 77.2, 216.0)
ADELAIDE = Sky(-34.92, 138.62, 48.0)
MANILA = Sky(14.6, 121.0, 16.0)
LA_PAZ = Sky(-16.5, -68.1, 3650.0, 65000.0)
ST_JOHNS = Sky(47.56, -52.7, 60.0)

WIND_HEIGHT_FACTOR = np.log(10.0 / 0.03) / np.log(2.0 / 0.03)
"""Logarithmic law over open country, roughness 0.03 m (any textbook of meteorology)."""

CASES: dict[str, tuple[Sky, float, float, Callable[[], str]]] = {
    "typical csv": (PIEDMONT, 1.0, 1.0, lambda: pvgis_typical_csv(PIEDMONT, 0.1761)),
    "typical csv before 2025": (
        PIEDMONT, 1.0, 1.0, lambda: pvgis_typical_csv(PIEDMONT, 0.1761, told=False),
    ),
    "typical json, high up": (LA_PAZ, -5.0, 1.0, lambda: pvgis_typical_json(LA_PAZ, 0.5)),
    "typical epw": (PIEDMONT, 1.0, 1.0, lambda: pvgis_epw(PIEDMONT, 0.1761, 1)),
    "hourly csv, tropics": (
        MANILA, 8.0, 1.0, lambda: pvgis_hourly_csv(MANILA, (2015, 2016), 10 / 60),
    ),
    "nsrdb, half-hour zone": (
        DELHI, 5.5, WIND_HEIGHT_FACTOR, lambda: nsrdb_csv(DELHI, (2012,), 5.5),
    ),
    "nsrdb in UTC, leap year": (
        DELHI, 5.5, WIND_HEIGHT_FACTOR, lambda: nsrdb_csv(DELHI, (2012, 2013), 0.0, local=5.5),
    ),
    "nsrdb, twice an hour, south": (
        ADELAIDE, 9.5, WIND_HEIGHT_FACTOR,
        lambda: nsrdb_csv(ADELAIDE, (2011,), 9.5, minutes=(0, 30)),
    ),
    "nsrdb typical, UTC-3:30": (
        ST_JOHNS, -3.5, WIND_HEIGHT_FACTOR,
        lambda: nsrdb_csv(ST_JOHNS, (2003,), -3.5, typical=True),
    ),
}  # fmt: skip


@pytest.fixture(scope="module", params=list(CASES))
def read(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> tuple[str, tuple[WeatherYear, ...]]:
    path = tmp_path_factory.mktemp("files") / "year.csv"
    path.write_text(CASES[request.param][3]())
    return request.param, read_weather_years(path)


Read = tuple[str, tuple[WeatherYear, ...]]


def test_hours_of_sun_are_the_skys_own_means(read: Read) -> None:
    name, (year, *_) = read
    sky, zone, _, _ = CASES[name]
    assert year.utc_offset == zone
    true = sky.hour_means(year.calendar_year or 2003, zone)
    # One look an hour against the hour's mean: some 3 W/m² where clouds change in between.
    for told, known in ((year.sun_global, true["ghi"]), (year.sun_diffuse, true["dhi"])):
        assert np.sqrt(np.mean((told - known) ** 2)) < 3.5
        assert told.mean() == pytest.approx(known.mean(), rel=0.005)
    # Half an hour off would be 25 W/m² and more.
    assert year.provenance.closure < 5.0
    assert [f.rule for f in year.provenance.findings if f.rule == "weather-closure"] == []


def test_air_and_wind_stand_for_the_hours_end(read: Read) -> None:
    name, (year, *_) = read
    sky, zone, factor, _ = CASES[name]
    true = sky.hour_means(year.calendar_year or 2003, zone)
    assert np.abs(year.temp_air - true["temp"]).max() < 0.15
    np.testing.assert_allclose(year.wind_speed, factor * true["wind"], atol=0.08)
    if "hourly" not in name:
        assert np.abs(year.dew_point - true["dew"]).max() < 0.15
    assert year.pressure.mean() == pytest.approx(sky.pressure, rel=0.002) or "hourly" in name


def test_kinds_years_and_extremes(read: Read) -> None:
    name, years = read
    typical = "typical" in name
    for year in years:
        assert year.hours == 8760
        assert year.provenance.kind == ("typical-year file" if typical else "real-year file")
        assert (year.calendar_year is None) is typical
        leap = any("29 February left out" in note for note in year.provenance.notes)
        assert leap is (year.calendar_year in (2012, 2016))
        if typical:
            assert year.extremes is None
            continue
        assert year.extremes is not None
        assert not year.extremes.knows_risk
        assert len(year.extremes.yearly_lowest) == len(years)
        assert year.extremes.temp_lowest == pytest.approx(year.temp_air.min())
    assert len(years) == {"hourly csv, tropics": 2, "nsrdb in UTC, leap year": 2}.get(name, 1)


def write(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "year.txt"
    path.write_text(text)
    return path


def refusal(tmp_path: Path, text: str, **options: float) -> str:
    with pytest.raises(WeatherError) as caught:
        read_weather_years(write(tmp_path, text), **options)
    lines = str(caught.value).splitlines()
    assert all("allowed:" in line for line in lines)
    return str(caught.value)


@pytest.fixture(scope="module")
def nsrdb() -> str:
    return nsrdb_csv(DELHI, (2003,), 5.5)


@pytest.fixture(scope="module")
def typical() -> str:
    return pvgis_typical_csv(PIEDMONT, 0.5)


def test_a_local_clock_that_claims_to_be_utc_is_found_out(nsrdb: str, tmp_path: Path) -> None:
    weather = read_weather_file(write(tmp_path, nsrdb.replace(",5.5,216,5.5,", ",0,216,5.5,")))
    assert weather.provenance.closure < 3.0
    assert any("stamps are UTC+5.5" in note for note in weather.provenance.notes)


def test_a_local_zone_that_cannot_be_is_replaced(nsrdb: str, tmp_path: Path) -> None:
    weather = read_weather_file(write(tmp_path, nsrdb.replace(",5.5,216,5.5,", ",5.5,216,-7,")))
    # 77.2° / 15; the file's own word is of no use.
    assert weather.utc_offset == 5.0


def test_the_place_can_be_told_its_zone(typical: str, tmp_path: Path) -> None:
    east = read_weather_file(write(tmp_path, typical), utc_offset=2.0)
    west = read_weather_file(write(tmp_path, typical))
    assert (east.utc_offset, west.utc_offset) == (2.0, 1.0)
    np.testing.assert_allclose(np.roll(east.sun_global, -1), west.sun_global, atol=1e-9)


def test_a_file_that_knows_its_zone_takes_no_other(nsrdb: str, tmp_path: Path) -> None:
    text = refusal(tmp_path, nsrdb, utc_offset=5.0)
    assert "UTC+5, but the file says UTC+5.5" in text and "leave utc_offset out" in text


def test_missing_humidity_is_a_finding(tmp_path: Path) -> None:
    weather = read_weather_file(write(tmp_path, pvgis_hourly_csv(MANILA, (2015,), 0.5)))
    (finding,) = weather.provenance.findings
    assert (finding.rule, finding.where) == ("weather-no-humidity", "weather")
    assert (weather.dew_point <= weather.temp_air).all()


def test_hourly_json_of_global_alone(tmp_path: Path) -> None:
    weather = read_weather_file(write(tmp_path, pvgis_hourly_json(MANILA, (2016,), 0.5)))
    assert weather.calendar_year == 2016
    true = MANILA.hour_means(2016, 8.0)["ghi"]
    assert np.sqrt(np.mean((weather.sun_global - true)[24:-24] ** 2)) < 3.5
    assert "a plane of 20°" in refusal(tmp_path, pvgis_hourly_json(MANILA, (2016,), 0.5, slope=20))


def test_line_ends_and_marks_of_other_systems(nsrdb: str, tmp_path: Path) -> None:
    plain = read_weather_file(write(tmp_path, nsrdb))
    path = tmp_path / "windows.csv"
    path.write_bytes(b"\xef\xbb\xbf" + nsrdb.replace("\n", "\r\n").encode())
    np.testing.assert_array_equal(read_weather_file(path).sun_global, plain.sun_global)


def test_hourly_without_components_is_split(tmp_path: Path) -> None:
    lines = pvgis_hourly_csv(MANILA, (2015,), 0.5).splitlines()
    at = next(n for n, line in enumerate(lines) if line.startswith("time,"))
    lines[at] = "time,G(i),H_sun,T2m,WS10m,Int"
    for number in range(at + 1, at + 8761):
        stamp, beam, diffuse, _, *rest = lines[number].split(",")
        lines[number] = ",".join([stamp, f"{float(beam) + float(diffuse):.2f}", *rest])
    weather = read_weather_file(write(tmp_path, "\n".join(lines)))
    assert any("after Erbs" in note for note in weather.provenance.notes)
    true = MANILA.hour_means(2015, 8.0)["ghi"]
    assert weather.sun_global.mean() == pytest.approx(true.mean(), rel=0.005)
    assert weather.sun_beam.max() < 1150.0


def test_tilted_planes_are_refused(tmp_path: Path) -> None:
    text = refusal(tmp_path, pvgis_hourly_csv(MANILA, (2015,), 0.5, slope=30))
    assert "a plane of 30°" in text and "slope 0°" in text


def test_short_gaps_are_mended_and_long_ones_named(nsrdb: str, tmp_path: Path) -> None:
    rows = nsrdb.splitlines()
    for number in range(4003, 4005):
        rows[number] = ",".join(
            [*rows[number].split(",")[:9], "-999", *rows[number].split(",")[10:]]
        )
    weather = read_weather_file(write(tmp_path, "\n".join(rows)))
    assert any("sun_global: 2 missing rows" in note for note in weather.provenance.notes)
    for number in range(4003, 4023):
        rows[number] = ",".join([*rows[number].split(",")[:9], "", *rows[number].split(",")[10:]])
    text = refusal(tmp_path, "\n".join(rows))
    assert "sun_global in 2003: 20 of 8760 hours missing" in text


def test_damaged_files(nsrdb: str, typical: str, tmp_path: Path) -> None:
    rows = nsrdb.splitlines()
    cases = {
        "2002 rows of 2003": "\n".join(rows[:2005]),
        "comes 0 times": "\n".join([*rows[:400], *rows[401:]]),
        "no 'GHI'": nsrdb.replace("GHI", "Sun"),
        "rows below three lines": "\n".join(rows[:3]),
        "date of row 7": "\n".join([*rows[:9], rows[9].replace("2003", "now"), *rows[10:]]),
        "month 13": "\n".join([*rows[:9], rows[9].replace("2003,1,", "2003,13,"), *rows[10:]]),
        "latitude in the first line: '128.6'": nsrdb.replace("28.6,77.2", "128.6,77.2"),
        "the file is cut short": typical[:200000],
        "no whole JSON": pvgis_typical_json(PIEDMONT, 0.5)[:100000],
        "180 minutes from row to row": "\n".join([*rows[:3], *rows[3::3]]),
    }
    for words, text in cases.items():
        assert words in refusal(tmp_path, text), words


def test_a_last_year_that_is_cut_short_is_left_out(tmp_path: Path) -> None:
    rows = nsrdb_csv(DELHI, (2013, 2014), 5.5).splitlines()
    (year,) = read_weather_years(write(tmp_path, "\n".join(rows[:-3000])))
    assert year.calendar_year == 2013
    assert "not whole and left out: 2014" in year.provenance.notes


def test_titles_without_the_place_get_a_hint(nsrdb: str, tmp_path: Path) -> None:
    text = refusal(tmp_path, "\n".join(nsrdb.splitlines()[2:]))
    assert "the two lines about the place" in text
