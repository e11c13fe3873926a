"""Several real years in one file: one each, the ordinary one found, their spread told."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pvlib
import pytest

from noonwater.climate.extremes import (
    Extremes,
    extremes_of_header,
    extremes_of_years,
    lowest_in_years,
)
from noonwater.climate.files import read_weather_file, read_weather_years
from noonwater.climate.generator import make_year
from noonwater.climate.stations import monthly_means_at, station_table
from noonwater.climate.weather_year import WeatherYear
from noonwater.climate.years import one_of, ordinary_year, year_named, yearly_spread
from noonwater.core.errors import WeatherError
from tests.skies import Sky, pvgis_epw

GREENSBORO = Path(pvlib.__file__).parent / "data" / "723170TYA.CSV"
FRESNO = (36.74, -119.78, 100.0, -8.0)


@pytest.fixture(scope="module")
def greensboro() -> WeatherYear:
    return read_weather_file(GREENSBORO)


@pytest.fixture(scope="module")
def years(greensboro: WeatherYear) -> tuple[WeatherYear, ...]:
    """Five years that differ by known factors and degrees; 2011 lies in the middle of both."""
    changes = {2009: (0.9, -2.0), 2010: (1.1, 0.5), 2011: (1.0, 0.0), 2012: (1.05, 1.0),
               2013: (0.95, -0.5)}  # fmt: skip
    return tuple(
        replace(
            greensboro,
            sun_global=greensboro.sun_global * factor,
            temp_air=greensboro.temp_air + warmer,
            calendar_year=number,
        )
        for number, (factor, warmer) in changes.items()
    )


def test_the_spread_is_the_standard_deviation(years: tuple[WeatherYear, ...]) -> None:
    spread = yearly_spread(years)
    assert spread is not None
    # By hand: factors 0.9 to 1.1 in steps of 0.05, and -2, -0.5, 0, 0.5, 1 K.
    assert spread.sun_of_year == pytest.approx(np.sqrt(0.025 / 4), rel=1e-9)
    assert spread.temp_of_year == pytest.approx(np.sqrt((3.24 + 0.09 + 0.04 + 0.49 + 1.44) / 4))
    np.testing.assert_allclose(spread.sun_global, spread.sun_of_year)
    np.testing.assert_allclose(spread.temp_air, spread.temp_of_year)
    assert spread.years == (2009, 2010, 2011, 2012, 2013)
    assert spread.source == "5 real years of 723170TYA.CSV"


def test_no_spread_without_real_years(
    years: tuple[WeatherYear, ...], greensboro: WeatherYear
) -> None:
    made = [make_year(monthly_means_at(*FRESNO[:3]), *FRESNO, seed=seed) for seed in range(2)]
    for none in ([greensboro], [greensboro] * 4, made, years[:2], [*years, greensboro]):
        assert yearly_spread(none) is None


def test_the_ordinary_year_and_a_named_one(years: tuple[WeatherYear, ...]) -> None:
    assert ordinary_year(years).calendar_year == 2011
    chosen = one_of(years)
    assert chosen.calendar_year == 2011
    first = chosen.provenance.notes[0]
    assert "5 real years (2009, 2010, 2011, 2012, 2013); 2011, the most ordinary" in first
    assert year_named(years, 2012, "x.csv").calendar_year == 2012
    with pytest.raises(WeatherError, match=r"year: 2015; allowed: 2009, 2010, 2011, 2012, 2013"):
        year_named(years, 2015, "x.csv")
    with pytest.raises(WeatherError, match="the file is a typical year; leave year out"):
        read_weather_file(GREENSBORO, year=2011)


def years_as_tmy3(midnight_as_zero: bool) -> str:
    """2011 and 2012 (a leap year) and half of 2013, from one typical year."""
    head, titles, *rows = GREENSBORO.read_text().splitlines()
    cells = [row.split(",") for row in rows]
    for row in cells:
        row[0] = row[0][:6] + "2011"
    later = [[row[0][:6] + "2012", *row[1:]] for row in cells]
    leap = [["02/29/2012", *row[1:]] for row in later[58 * 24 : 59 * 24]]
    later[59 * 24 : 59 * 24] = leap
    last = [[row[0][:6] + "2013", *row[1:]] for row in cells[:4000]]
    table = [*cells, *later, *last]
    if midnight_as_zero:
        for number in range(23, len(table) - 1, 24):
            table[number] = [table[number + 1][0], "00:00", *table[number][2:]]
    return "\n".join([head, titles, *(",".join(row) for row in table)])


@pytest.mark.parametrize("midnight_as_zero", [False, True])
def test_years_in_one_tmy3(greensboro: WeatherYear, tmp_path: Path, midnight_as_zero: bool) -> None:
    path = tmp_path / "years.csv"
    path.write_text(years_as_tmy3(midnight_as_zero))
    years = read_weather_years(path)
    assert [year.calendar_year for year in years] == [2011, 2012]
    for year in years:
        np.testing.assert_allclose(year.sun_global, greensboro.sun_global)
        np.testing.assert_allclose(year.temp_air, greensboro.temp_air)
        assert year.provenance.kind == "real-year file"
        assert "one real year" in year.provenance.uncertainty
        # 7 % between sources and 4 % between years, squares added.
        assert year.provenance.uncertainty_sun == pytest.approx(0.0806, abs=1e-4)
        assert year.extremes is not None
        assert year.extremes.yearly_lowest == (greensboro.temp_air.min(),) * 2
    assert read_weather_file(path, year=2012).calendar_year == 2012


def test_a_file_without_one_whole_year(tmp_path: Path) -> None:
    path = tmp_path / "years.csv"
    head, titles, *rows = years_as_tmy3(False).splitlines()
    path.write_text("\n".join([head, titles, *rows[3000:12000]]))
    with pytest.raises(WeatherError, match="9000 hours in 2 years, none of them whole"):
        read_weather_file(path)


HEADER = (
    "DESIGN CONDITIONS,{count},2021 ASHRAE Handbook -- Fundamentals,,Heating,1,-8.8,-6.9,Cooling,8,"
    "7.3,33.1,Extremes,{extremes}"
)
QINGDAO = "10.2,9.0,7.9,-11.8,35.9,1.9,1.8,-13.1,37.2,-14.2,38.3,-15.2,39.3,-16.6,40.6"
"""Design conditions of 2021 as public EPW headers have them (read), without a wet bulb."""


def test_years_in_one_epw_keep_the_headers_extremes(tmp_path: Path) -> None:
    sky = Sky(36.07, 120.33, 10.0)
    # Sun of half an hour before the row's hour: hours named by their end.
    head = pvgis_epw(sky, -0.5, 8).splitlines()
    rows = [line.split(",", 1)[1] for line in head[8:]]
    del head[8:]
    head[1] = HEADER.format(count=1, extremes=QINGDAO)
    head[6] = "COMMENTS 2,none"
    leap = [
        *rows[: 59 * 24],
        *(row.replace("2,28,", "2,29,", 1) for row in rows[58 * 24 : 59 * 24]),
    ]
    years = {2011: rows, 2012: [*leap, *rows[59 * 24 :]]}
    body = [f"{year},{row}" for year, listed in years.items() for row in listed]
    path = tmp_path / "years.epw"
    path.write_text("\n".join([*head, *body, "", ""]))
    first, second = read_weather_years(path)
    assert (first.calendar_year, second.calendar_year) == (2011, 2012)
    np.testing.assert_array_equal(first.sun_global, second.sun_global)
    assert first.provenance.closure < 1.0
    assert "leap year: 29 February left out" in second.provenance.notes
    assert first.extremes is not None
    # The handbook looked at more years than the file holds.
    assert (first.extremes.mean_lowest, first.extremes.spread_lowest) == (-11.8, 1.9)
    assert first.extremes.yearly_lowest == (first.temp_air.min(), second.temp_air.min())


def test_headers_of_either_edition() -> None:
    told = extremes_of_header(HEADER.format(count=1, extremes=QINGDAO), -9.5)
    assert told is not None
    assert (told.mean_lowest, told.spread_lowest, told.temp_lowest) == (-11.8, 1.9, -9.5)
    assert told.return_temps == (-13.1, -14.2, -15.2, -16.6)
    assert told.return_years == (5.0, 10.0, 20.0, 50.0)
    assert told.knows_risk
    with_wet_bulb = QINGDAO.replace("7.9,", "7.9,29.3,")
    assert extremes_of_header(HEADER.format(count=1, extremes=with_wet_bulb), -9.5) == told
    second = f"{QINGDAO},Another source,,Heating,1,-3.0"
    assert extremes_of_header(HEADER.format(count=2, extremes=second), -9.5) == told


@pytest.mark.parametrize(
    "line",
    [
        "",
        "DESIGN CONDITIONS,0",
        HEADER.format(count=1, extremes="10.2,9.0,7.9"),
        HEADER.format(count=1, extremes=QINGDAO.replace("-14.2", "n/a")),
        # Another order of columns is no lowest temperature.
        HEADER.format(count=1, extremes=",".join(reversed(QINGDAO.split(",")))),
        HEADER.format(count=1, extremes=QINGDAO.replace("-16.6", "-26.6")),
    ],
)
def test_headers_that_tell_none(line: str) -> None:
    assert extremes_of_header(line, 0.0) is None


def test_many_years_tell_a_risk_and_few_do_not() -> None:
    few = extremes_of_years([-3.0, -5.0], "two years")
    assert (few.temp_lowest, few.yearly_lowest, few.knows_risk) == (-5.0, (-3.0, -5.0), False)
    assert lowest_in_years(few, 20.0) is None
    many = extremes_of_years(list(np.arange(-12.0, 0.0)), "twelve years")
    assert many.knows_risk
    assert many.mean_lowest == pytest.approx(-6.5)
    assert many.spread_lowest == pytest.approx(np.sqrt(13.0))  # n (n + 1) / 12 for n = 12
    deeper = [lowest_in_years(many, years) for years in (5.0, 10.0, 20.0, 50.0)]
    assert deeper == sorted(deeper, reverse=True)  # type: ignore[type-var]


def test_stations_tell_the_typical_years_lowest_hour_and_no_risk() -> None:
    table = station_table()
    row = next(n for n, name in enumerate(table.place) if name.startswith("Fresno"))
    at = float(table.latitude[row]), float(table.longitude[row]), float(table.elevation[row])
    means = monthly_means_at(*at)
    assert means.temp_lowest is not None
    # Five neighbours some 70 to 120 km off share a tenth of the weight.
    assert means.temp_lowest == pytest.approx(float(table.temp_lowest[row]), abs=0.8)
    year = make_year(means, *at, -8.0, seed=1)
    assert isinstance(year.extremes, Extremes)
    assert year.extremes.temp_lowest == means.temp_lowest
    assert not year.extremes.knows_risk
    assert "typical years" in year.extremes.source
