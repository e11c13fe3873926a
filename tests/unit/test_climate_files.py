"""Weather files: told apart by content, mended where it can be, refused in one clear line."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pvlib
import pytest

from noonwater.climate.files import read_weather_file
from noonwater.climate.weather_year import (
    MONTHS,
    WeatherYear,
    month_of_day,
    month_of_hour,
    monthly_mean,
)
from noonwater.core.errors import WeatherError

SHIPPED = Path(pvlib.__file__).parent / "data"
GREENSBORO = SHIPPED / "723170TYA.CSV"
MIAMI = SHIPPED / "12839.tm2"

EPW_CODES = {6: "99.9", 7: "99.9", 9: "999999", 13: "9999", 14: "9999", 15: "9999", 21: "999"}
EPW_NAMES = {
    6: "temp_air",
    7: "dew_point",
    9: "pressure",
    13: "sun_global",
    14: "sun_beam",
    15: "sun_diffuse",
    21: "wind_speed",
}


@pytest.fixture(scope="module")
def greensboro() -> WeatherYear:
    return read_weather_file(GREENSBORO)


@pytest.fixture(scope="module")
def epw_rows(greensboro: WeatherYear) -> list[list[str]]:
    """Greensboro's year as fields of EPW rows, hours 1 to 24."""
    rows = []
    day_in_month = np.concatenate([np.arange(np.sum(month_of_day() == m)) for m in range(12)]) + 1
    for hour in range(8760):
        fields = ["1999", str(month_of_hour()[hour] + 1), str(day_in_month[hour // 24])]
        fields += [str(hour % 24 + 1), "0", "?9?9"]
        fields += [f"{greensboro.temp_air[hour]:.1f}", f"{greensboro.dew_point[hour]:.1f}", "50"]
        fields += [f"{greensboro.pressure[hour]:.0f}", "0", "0", "300"]
        fields += [f"{greensboro.sun_global[hour]:.0f}", f"{greensboro.sun_beam[hour]:.0f}"]
        fields += [f"{greensboro.sun_diffuse[hour]:.0f}", "0", "0", "0", "0", "0"]
        fields += [f"{greensboro.wind_speed[hour]:.1f}", "0"]
        fields += [f"{10 * greensboro.cloud_cover[hour]:.0f}", "9", "7777", "9", "0", "0", "0"]
        fields += ["0", "88", "0.200", "0", "0"]
        rows.append(fields)
    return rows


Write = Callable[..., Path]


@pytest.fixture
def write_epw(tmp_path: Path) -> Write:
    def write(
        rows: list[list[str]],
        first: str = "LOCATION,Hilltown,XX,Nowhere,TMY3,0,36.1,-79.95,-5.0,273.0",
        periods: str = "DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31",
        encoding: str = "utf-8",
        name: str = "year.epw",
    ) -> Path:
        head = [first, *["X"] * 6, periods]
        text = "\r\n".join([*head, *(",".join(row) for row in rows)]) + "\r\n"
        path = tmp_path / name
        path.write_bytes(text.encode(encoding))
        return path

    return write


def changed(rows: list[list[str]], column: int, hours: range, value: str) -> list[list[str]]:
    new = list(rows)
    for hour in hours:
        new[hour] = [*rows[hour][:column], value, *rows[hour][column + 1 :]]
    return new


def refusal(path: Path) -> str:
    with pytest.raises(WeatherError) as caught:
        read_weather_file(path)
    text = str(caught.value)
    for line in text.splitlines():
        assert "allowed:" in line and line.count("; ") >= 2, "given, allowed and remedy"
    assert "Traceback" not in text
    return text


def test_tmy3_and_epw_of_one_year_fall_on_the_same_hours(
    greensboro: WeatherYear, epw_rows: list[list[str]], write_epw: Write
) -> None:
    # pvlib stamps the hour's start for EPW and its end for TMY3.
    epw = read_weather_file(write_epw(epw_rows))
    for name in ("sun_global", "sun_beam", "sun_diffuse", "temp_air", "dew_point", "wind_speed"):
        np.testing.assert_allclose(getattr(epw, name), getattr(greensboro, name), atol=0.0501)
    assert epw.provenance.closure == pytest.approx(greensboro.provenance.closure, abs=1e-9)
    assert epw.place == "Hilltown, XX, Nowhere"
    assert (epw.latitude, epw.longitude) == (36.1, -79.95)
    assert (epw.elevation, epw.utc_offset) == (273.0, -5.0)


@pytest.mark.parametrize(
    ("source", "form"), [(GREENSBORO, "TMY3"), (MIAMI, "TMY2")], ids=["tmy3", "tmy2"]
)
def test_content_decides_not_the_name(source: Path, form: str, tmp_path: Path) -> None:
    disguised = tmp_path / "holiday.epw"
    disguised.write_bytes(source.read_bytes())
    assert f"{form} file" in read_weather_file(disguised).provenance.notes


def test_arrays_are_read_only_and_whole(greensboro: WeatherYear) -> None:
    assert greensboro.hours == 8760
    with pytest.raises(ValueError, match="read-only"):
        greensboro.temp_air[0] = 1.0
    assert (greensboro.dew_point <= greensboro.temp_air).all()
    assert (greensboro.vapour_pressure > 0).all() and (greensboro.longwave_sky > 100).all()
    assert greensboro.provenance.kind == "typical-year file"
    assert greensboro.provenance.uncertainty_sun == pytest.approx(0.07)
    assert greensboro.provenance.findings == ()


@pytest.mark.parametrize("encoding", ["latin-1", "utf-8-sig"])
def test_old_encodings(epw_rows: list[list[str]], write_epw: Write, encoding: str) -> None:
    first = "LOCATION,São Vale,--,--,X,0,36.1,-79.95,-5.0,273.0"
    weather = read_weather_file(write_epw(epw_rows, first=first, encoding=encoding))
    assert weather.place == "São Vale"


def test_a_comma_in_a_tmy3_name_moves_nothing(tmp_path: Path) -> None:
    lines = GREENSBORO.read_text().splitlines()
    lines[0] = 'A23,"HILLTOWN, OLD FIELD",NC,-5.0,36.100,-79.950,273'
    path = tmp_path / "year.tmy3"
    path.write_text("\n".join([*lines, "", ""]))
    weather = read_weather_file(path)
    assert weather.place == "HILLTOWN, OLD FIELD, NC"
    assert weather.latitude == 36.1


def test_surplus_columns_move_nothing(
    greensboro: WeatherYear, epw_rows: list[list[str]], write_epw: Write
) -> None:
    weather = read_weather_file(write_epw([[*row, "7", ""] for row in epw_rows]))
    np.testing.assert_allclose(weather.temp_air, greensboro.temp_air, atol=0.0501)


@pytest.mark.parametrize("column", sorted(EPW_CODES))
def test_short_gaps_are_filled_on_straight_lines(
    epw_rows: list[list[str]], write_epw: Write, column: int
) -> None:
    gap = range(4164, 4166)  # 22 June, 12 to 14 h
    rows = changed(epw_rows, column, gap, EPW_CODES[column])
    name = EPW_NAMES[column]
    if name == "dew_point":
        rows = changed(rows, 8, gap, "999")  # no humidity to tell it either
    weather = read_weather_file(write_epw(rows))
    values = getattr(weather, name)
    step = (values[4166] - values[4163]) / 3
    np.testing.assert_allclose(values[4164:4166], values[4163] + step * np.array([1, 2]))
    assert any(note.startswith(f"{name}: 2 missing") for note in weather.provenance.notes)


@pytest.mark.parametrize("code", ["99.9", "999", "9999", "-999.9", "-9900", "", "n/a", "nan"])
def test_every_missing_code_is_found(
    epw_rows: list[list[str]], write_epw: Write, code: str
) -> None:
    weather = read_weather_file(write_epw(changed(epw_rows, 6, range(100, 103), code)))
    assert any(note.startswith("temp_air: 3 missing") for note in weather.provenance.notes)
    assert abs(weather.temp_air[100:103]).max() < 40.0


@pytest.mark.parametrize("column", [6, 13, 14, 15, 21])
def test_long_gaps_are_refused_with_column_and_count(
    epw_rows: list[list[str]], write_epw: Write, column: int
) -> None:
    text = refusal(write_epw(changed(epw_rows, column, range(3000, 3050), EPW_CODES[column])))
    assert f"{EPW_NAMES[column]}: 50 of 8760 hours missing" in text
    assert "longest gap 50 h" in text


def test_many_short_gaps_are_refused_too(epw_rows: list[list[str]], write_epw: Write) -> None:
    rows = epw_rows
    for start in range(0, 8760, 12):
        rows = changed(rows, 21, range(start, start + 1), "999")
    assert "wind_speed: 730 of 8760 hours" in refusal(write_epw(rows))


def test_a_gap_over_new_year_counts_as_one(epw_rows: list[list[str]], write_epw: Write) -> None:
    rows = changed(changed(epw_rows, 6, range(8756, 8760), "99.9"), 6, range(4), "99.9")
    assert "longest gap 8 h" in refusal(write_epw(rows))


def test_all_bad_columns_are_named_at_once(epw_rows: list[list[str]], write_epw: Write) -> None:
    rows = changed(changed(epw_rows, 6, range(8760), "99.9"), 21, range(8760), "999")
    text = refusal(write_epw(rows))
    assert len(text.splitlines()) == 2
    assert "temp_air: 8760" in text and "wind_speed: 8760" in text


def test_dew_point_is_told_by_humidity(epw_rows: list[list[str]], write_epw: Write) -> None:
    weather = read_weather_file(write_epw(changed(epw_rows, 7, range(8760), "99.9")))
    assert any("8760 missing hours taken from humidity" in n for n in weather.provenance.notes)
    # Magnus over water: 20 °C and 50 % have a dew point of 9.3 °C (any psychrometric chart).
    warm = np.flatnonzero(np.abs(weather.temp_air - 20.0) < 0.05)
    np.testing.assert_allclose(weather.dew_point[warm], 9.3, atol=0.1)


def test_optional_columns_have_a_stand_in_and_a_note(
    epw_rows: list[list[str]], write_epw: Write
) -> None:
    rows = changed(epw_rows, 9, range(8760), "999999")
    rows = changed(changed(rows, 32, range(8760), "999"), 23, range(8760), "99")
    rows = changed(rows, 22, range(8760), "99")
    weather = read_weather_file(write_epw(rows))
    notes = " / ".join(weather.provenance.notes)
    for words in ("pressure: taken from the elevation", "albedo: taken as 0.2", "cloud: told from"):
        assert words in notes
    assert "the file's infrared column, as it stands" in notes
    np.testing.assert_allclose(weather.longwave_sky, 300.0)
    # Standard atmosphere at 273 m: 98.09 kPa (ISO 2533).
    assert weather.pressure[0] == pytest.approx(98090.0, rel=1e-3)
    assert 0.3 < weather.cloud_cover.mean() < 0.65


def test_without_cover_or_infrared_the_sun_tells_the_sky(
    greensboro: WeatherYear, epw_rows: list[list[str]], write_epw: Write
) -> None:
    rows = epw_rows
    for column, code in ((22, "99"), (23, "99"), (12, "9999")):
        rows = changed(rows, column, range(8760), code)
    weather = read_weather_file(write_epw(rows))
    # The file with its cover is the measure; 10 W/m² is what cover told by sun is worth.
    assert weather.longwave_sky.mean() == pytest.approx(greensboro.longwave_sky.mean(), abs=10.0)
    assert np.std(weather.longwave_sky) > 30.0


def test_total_cover_stands_in_for_opaque(epw_rows: list[list[str]], write_epw: Write) -> None:
    rows = changed(changed(epw_rows, 23, range(8760), "99"), 22, range(8760), "4")
    weather = read_weather_file(write_epw(rows))
    np.testing.assert_allclose(weather.cloud_cover, 0.4)


def leap_year(rows: list[list[str]]) -> list[list[str]]:
    leap_day = [[*row[:2], "29", *row[3:]] for row in rows[58 * 24 : 59 * 24]]
    return [*rows[: 59 * 24], *changed(leap_day, 6, range(24), "33.3"), *rows[59 * 24 :]]


def test_leap_years_lose_29_february(
    greensboro: WeatherYear, epw_rows: list[list[str]], write_epw: Write
) -> None:
    weather = read_weather_file(write_epw(leap_year(epw_rows)))
    assert "leap year: 29 February left out" in weather.provenance.notes
    np.testing.assert_allclose(weather.temp_air, greensboro.temp_air, atol=0.0501)


def test_leap_years_of_tmy3_with_midnight_as_zero(greensboro: WeatherYear, tmp_path: Path) -> None:
    # The other way to write the day's last hour: 00:00 under the next day's date.
    lines = GREENSBORO.read_text().splitlines()
    rows = [line.split(",") for line in lines[2:]]
    for number, row in enumerate(rows):
        if row[1] == "24:00":
            following = rows[(number + 1) % 8760][0]
            rows[number] = [following, "00:00", *row[2:]]
    path = tmp_path / "year.csv"
    path.write_text("\n".join([*lines[:2], *(",".join(row) for row in rows)]))
    weather = read_weather_file(path)
    np.testing.assert_array_equal(weather.sun_global, greensboro.sun_global)


def test_shuffled_rows_are_put_in_order(
    greensboro: WeatherYear, epw_rows: list[list[str]], write_epw: Write
) -> None:
    weather = read_weather_file(write_epw([*epw_rows[4344:], *epw_rows[:4344]]))
    np.testing.assert_allclose(weather.sun_global, greensboro.sun_global, atol=0.5)
    assert "rows put in order of the calendar" in weather.provenance.notes


@pytest.mark.parametrize("count", [0, 1, 8759, 8783])
def test_wrong_row_counts(epw_rows: list[list[str]], write_epw: Write, count: int) -> None:
    rows = (epw_rows + epw_rows)[:count]
    text = refusal(write_epw(rows))
    assert f"rows: {count} hours; allowed: 8760" in text


def test_truncated_files(tmp_path: Path) -> None:
    for source in (GREENSBORO, MIAMI):
        path = tmp_path / source.name
        path.write_bytes(source.read_bytes()[:700_000])
        assert "cut short" in refusal(path)


def test_a_last_row_cut_off_in_the_middle(epw_rows: list[list[str]], write_epw: Write) -> None:
    text = refusal(write_epw([*epw_rows[:-1], epw_rows[-1][:9]]))
    assert "line 8768: 9 values" in text


def test_twice_the_same_hour(epw_rows: list[list[str]], write_epw: Write) -> None:
    rows = [*epw_rows[:1500], epw_rows[1499], *epw_rows[1501:]]
    assert "hour 12 of 4 March comes 2 times" in refusal(write_epw(rows))


def test_impossible_dates(epw_rows: list[list[str]], write_epw: Write) -> None:
    assert "hour 25" in refusal(write_epw(changed(epw_rows, 3, range(5, 6), "25")))
    refusal(write_epw(changed(epw_rows, 2, range(5, 6), "first")))
    refusal(write_epw(changed(epw_rows, 1, range(5, 6), "13")))


def test_part_hours_are_refused(epw_rows: list[list[str]], write_epw: Write) -> None:
    path = write_epw(epw_rows, periods="DATA PERIODS,1,4,Data,Sunday, 1/ 1,12/31")
    assert "4 rows an hour" in refusal(path)


@pytest.mark.parametrize(
    ("first", "words"),
    [
        ("LOCATION,A,B,C", "first line: 4 values"),
        ("LOCATION,A,B,C,D,0,north,-79.95,-5.0,273.0", "latitude in the first line: 'north'"),
        ("LOCATION,A,B,C,D,0,136.1,-79.95,-5.0,273.0", "latitude in the first line: '136.1'"),
        ("LOCATION,A,B,C,D,0,36.1,-79.95,-15.0,9999", "time zone in the first line: '-15.0'"),
    ],
)
def test_broken_first_lines(
    epw_rows: list[list[str]], write_epw: Write, first: str, words: str
) -> None:
    assert words in refusal(write_epw(epw_rows, first=first))


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "an empty file"),
        (b" \n\n ", "an empty file"),
        (b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", "not a text file"),
        (b"PK\x03\x04\x14\x00", "a zip archive"),
        (b"month,day,sun\n1,1,0\n", "first line 'month,day,sun'"),
        ("LOCATION,A".encode("utf-16"), "not a text file"),
    ],
)
def test_files_that_are_something_else(tmp_path: Path, content: bytes, words: str) -> None:
    path = tmp_path / "year.epw"
    path.write_bytes(content)
    assert words in refusal(path)


def test_no_file_and_a_folder(tmp_path: Path) -> None:
    assert "no such file" in refusal(tmp_path / "none.epw")
    assert "a folder" in refusal(tmp_path)
    assert "can't be opened" in refusal(tmp_path / ("x" * 300))
    with pytest.raises(WeatherError, match="can't be opened"):
        read_weather_file("a\0b")


def test_a_tmy3_without_one_of_its_columns(tmp_path: Path) -> None:
    path = tmp_path / "year.tmy3"
    path.write_text(GREENSBORO.read_text().replace("Wspd (m/s)", "Wind"))
    assert "no column 'Wspd (m/s)'" in refusal(path)


def test_a_tmy2_line_that_is_too_short(tmp_path: Path) -> None:
    lines = MIAMI.read_text().splitlines()
    lines[77] = lines[77][:60]
    path = tmp_path / "year.tm2"
    path.write_text("\n".join(lines))
    assert "line 78: 60 characters" in refusal(path)


def test_a_file_without_sun(epw_rows: list[list[str]], write_epw: Write) -> None:
    rows = epw_rows
    for column in (13, 14, 15):
        rows = changed(rows, column, range(8760), "0")
    assert f"no sun at all in {MONTHS[0]}" in refusal(write_epw(rows))


def test_a_wrong_clock_is_found_and_named(epw_rows: list[list[str]], write_epw: Write) -> None:
    first = "LOCATION,A,B,C,D,0,36.1,-79.95,{},273.0"
    for zone, side in ((-4.5, "later"), (-5.5, "earlier")):
        weather = read_weather_file(write_epw(epw_rows, first=first.format(zone)))
        (finding,) = weather.provenance.findings
        assert (finding.rule, finding.where) == ("weather-closure", "weather")
        assert f"half an hour {side} the sun closes to 1." in finding.remedy


@pytest.mark.parametrize("by_month", [False, True])
def test_constant_wind_gets_a_finding(
    epw_rows: list[list[str]], write_epw: Write, by_month: bool
) -> None:
    rows = [[*row[:21], f"{3.0 + 0.1 * int(row[1]) * by_month:.1f}", *row[22:]] for row in epw_rows]
    (finding,) = read_weather_file(write_epw(rows)).provenance.findings
    assert (finding.rule, finding.where) == ("weather-constant-wind", "weather")


def test_small_negative_sun_is_night(epw_rows: list[list[str]], write_epw: Write) -> None:
    weather = read_weather_file(write_epw(changed(epw_rows, 13, range(2), "-3")))
    assert (weather.sun_global[:2] == 0.0).all()


def test_a_year_refuses_arrays_of_another_length(greensboro: WeatherYear) -> None:
    import dataclasses

    with pytest.raises(ValueError, match="temp_air must hold 8760"):
        dataclasses.replace(greensboro, temp_air=greensboro.temp_air[:-1])
    with pytest.raises(ValueError, match="albedo must hold 8760"):
        dataclasses.replace(greensboro, albedo=greensboro.albedo * np.nan)


def test_months(greensboro: WeatherYear) -> None:
    months = month_of_hour()
    assert (months[743], months[744], months[8759]) == (0, 1, 11)
    assert monthly_mean(months.astype(float)).tolist() == list(range(12))
