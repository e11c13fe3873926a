"""A sky made for tests: instants whose hour means are known, and the texts of services about it."""

from __future__ import annotations

import json
import warnings
from dataclasses import dataclass
from functools import cache

import numpy as np
import pandas as pd
from pvlib import irradiance, solarposition


@dataclass(frozen=True)
class Sky:
    """Sun and air at any instant of a place, as smooth functions of time."""

    latitude: float
    longitude: float
    elevation: float = 100.0
    pressure: float = 100000.0

    def at(self, utc: pd.DatetimeIndex) -> pd.DataFrame:
        """Values at instants of universal time."""
        with warnings.catch_warnings():
            # pvlib still asks pandas for a name that pandas is about to drop.
            warnings.filterwarnings("ignore", message="DatetimeIndex.dayofyear")
            place = solarposition.ephemeris(utc, self.latitude, self.longitude)
        sine = np.sin(np.radians(np.maximum(place["apparent_elevation"].to_numpy(), 0.0)))
        days = (utc - pd.Timestamp("2003-01-01", tz="UTC")).total_seconds().to_numpy() / 86400.0
        # Clouds come and go over days and within them, never faster than rows an hour can tell.
        clear = 0.55 + 0.2 * np.sin(2 * np.pi * days / 3.7) + 0.05 * np.sin(2 * np.pi * days * 3)
        outside = irradiance.get_extra_radiation(utc.day_of_year.to_numpy())
        beam = outside * np.clip(clear - 0.25, 0.0, 1.0) * 1.3 * (sine > 0)
        ghi = np.maximum(outside * clear * sine, beam * sine)
        warm = 15.0 + 8.0 * np.sin(2 * np.pi * (days / 365.0 - 0.3)) * np.sign(self.latitude)
        hour = (utc.hour + utc.minute / 60.0).to_numpy() + self.longitude / 15.0
        temp = warm + 5.0 * np.cos(2 * np.pi * (hour - 15.0) / 24.0)
        dew = warm - 8.0
        magnus = [np.exp(17.62 * t / (243.12 + t)) for t in (dew, temp)]
        return pd.DataFrame(
            {
                "ghi": ghi,
                "dni": beam,
                "dhi": ghi - beam * sine,
                "temp": temp,
                "dew": dew,
                "humidity": 100.0 * magnus[0] / magnus[1],
                "wind": 3.0 + np.cos(2 * np.pi * (hour - 14.0) / 24.0),
                "pressure": np.full(len(utc), self.pressure),
                "sine": sine,
            },
            index=utc,
        )

    @cache  # noqa: B019 - skies are few, and live as long as the tests
    def hour_means(self, year: int, utc_offset: float) -> dict[str, np.ndarray]:
        """Sun as means over the hours of a year's local clock, air at their ends."""
        start = pd.Timestamp(f"{year}-01-01", tz="UTC") - pd.Timedelta(hours=utc_offset)
        hours = 8784 if pd.Timestamp(f"{year}-01-01").is_leap_year else 8760
        fine = self.at(pd.date_range(start + pd.Timedelta("150s"), periods=hours * 12, freq="300s"))
        ends = self.at(pd.date_range(start + pd.Timedelta("1h"), periods=hours, freq="1h"))
        told = {
            name: fine[name].to_numpy().reshape(hours, 12).mean(axis=1) for name in ("ghi", "dhi")
        }
        told |= {name: ends[name].to_numpy() for name in ("temp", "dew", "wind")}
        if hours == 8784:
            told = {name: np.delete(values, slice(1416, 1440)) for name, values in told.items()}
        return told


MONTH_YEARS = np.array([2018, 2007, 2009, 2013, 2008, 2006, 2011, 2010, 2020, 2006, 2007, 2016])
"""Years that the months of a typical year are taken from."""


def hours_of(years: tuple[int, ...]) -> pd.DatetimeIndex:
    """Full hours of whole years, universal time."""
    parts = [pd.date_range(f"{y}-01-01", f"{y}-12-31 23:00", freq="1h", tz="UTC") for y in years]
    return parts[0].append(parts[1:])


def lines(columns: dict[str, object], places: int = 2) -> str:
    """Rows of a csv without titles."""
    rows = max(np.size(values) for values in columns.values())
    cells = [np.broadcast_to(np.asarray(values), rows).tolist() for values in columns.values()]
    form = ",".join(f"%.{places}f" if isinstance(cell[0], float) else "%s" for cell in cells)
    return "\n".join(form % row for row in zip(*cells, strict=True))


def pvgis_typical_rows(sky: Sky, late: float) -> dict[str, object]:
    """A typical year's columns: air at full hours of universal time, sun so many hours later."""
    hours = hours_of((2003,))
    rows, seen = sky.at(hours), sky.at(hours + pd.Timedelta(hours=late))
    return {
        "time(UTC)": [
            f"{year}{at:%m%d:%H}00"
            for year, at in zip(MONTH_YEARS[hours.month - 1], hours, strict=True)
        ],
        "T2m": rows.temp.to_numpy(),
        "RH": rows.humidity.to_numpy(),
        "G(h)": seen.ghi.to_numpy(),
        "Gb(n)": seen.dni.to_numpy(),
        "Gd(h)": seen.dhi.to_numpy(),
        "IR(h)": 300.0,
        "WS10m": rows.wind.to_numpy(),
        "WD10m": 180.0,
        "SP": rows.pressure.to_numpy(),
    }


def pvgis_typical_csv(sky: Sky, late: float, *, told: bool = True) -> str:
    """Text as the service writes its typical year."""
    rows = pvgis_typical_rows(sky, late)
    head = [
        f"Latitude (decimal degrees): {sky.latitude:.3f}",
        f"Longitude (decimal degrees): {sky.longitude:.3f}",
        f"Elevation (m): {sky.elevation:.1f}",
        *([f"Irradiance Time Offset (h): {late:.4f}"] if told else []),
        "month,year",
        *(f"{month},{year}" for month, year in enumerate(MONTH_YEARS, 1)),
        ",".join(rows),
    ]
    foot = ["", "T2m: 2-m air temperature (degree Celsius)", "", "PVGIS (c) European Union", ""]
    return "\r\n".join([*head, *lines(rows).splitlines(), *foot])


def pvgis_typical_json(sky: Sky, late: float) -> str:
    """The same as JSON."""
    location = {
        "latitude": sky.latitude,
        "longitude": sky.longitude,
        "elevation": sky.elevation,
        "irradiance_time_offset": late,
    }
    hourly = pd.DataFrame(pvgis_typical_rows(sky, late)).round(2).to_dict("records")
    selected = [{"month": m, "year": int(y)} for m, y in enumerate(MONTH_YEARS, 1)]
    text = {
        "inputs": {"location": location, "meteo_data": {"radiation_db": "PVGIS-SARAH3"}},
        "outputs": {"months_selected": selected, "tmy_hourly": hourly},
        "meta": {"inputs": {}},
    }
    return json.dumps(text)


def pvgis_epw(sky: Sky, late: float, zone: int) -> str:
    """The same as EPW: hours of the zone's clock, the comment counting from the hour before."""
    hours = hours_of((2003,))
    ends = hours + pd.Timedelta(hours=1 - zone)
    rows, seen = sky.at(ends), sky.at(ends + pd.Timedelta(hours=late))
    head = [
        f"LOCATION,unknown,-,unknown,ECMWF/ERA,unknown,{sky.latitude:.6f},{sky.longitude:.6f},"
        f"{zone},{sky.elevation:.0f}",
        "DESIGN CONDITIONS,0",
        "TYPICAL/EXTREME PERIODS,0",
        "GROUND TEMPERATURES,0",
        "HOLIDAYS/DAYLIGHT SAVING,No,0,0,0",
        "COMMENTS 1,Weather Analytics",
        f"COMMENTS 2,Irradiance Time Offset (h):{late - 1.0:.4f}",
        "DATA PERIODS,1,1,Data,Thursday, 1/ 1,12/31",
    ]
    missing = [
        "99",
        "99",
        "9999",
        "99999",
        "9",
        "999999999",
        "999",
        "0.999",
        "999",
        "99",
        "999",
        "999",
        "99",
    ]
    columns: dict[str, object] = {
        "year": 2018,
        "month": hours.month,
        "day": hours.day,
        "hour": hours.hour + 1,
        "minute": 0,
        "flags": "B8",
        "temp": rows.temp.to_numpy(),
        "dew": rows.dew.to_numpy(),
        "humidity": rows.humidity.to_numpy(),
        "pressure": rows.pressure.to_numpy(),
        "outside": 9999,
        "outside beam": 9999,
        "infrared": 300.0,
        "ghi": seen.ghi.to_numpy(),
        "dni": seen.dni.to_numpy(),
        "dhi": seen.dhi.to_numpy(),
        "lux": 999999,
        "lux beam": 999999,
        "lux diffuse": 999999,
        "luminance": 9999,
        "wind from": 180,
        "wind": rows.wind.to_numpy(),
    }
    columns |= {f"missing {number}": code for number, code in enumerate(missing)}
    return "\n".join([*head, lines(columns), ""])


def pvgis_hourly_csv(sky: Sky, years: tuple[int, ...], late: float, *, slope: int = 0) -> str:
    """Hourly years on a plane, with components."""
    stamps = hours_of(years) + pd.Timedelta(hours=late)
    rows = sky.at(stamps)
    head = [
        f"Latitude (decimal degrees):\t{sky.latitude:.3f}",
        f"Longitude (decimal degrees):\t{sky.longitude:.3f}",
        f"Elevation (m):\t{sky.elevation:.0f}",
        "Radiation database:\tPVGIS-SARAH",
        "",
        "",
        f"Slope: {slope} deg. ",
        "Azimuth: 0 deg. ",
        "time,Gb(i),Gd(i),Gr(i),H_sun,T2m,WS10m,Int",
    ]
    columns = {
        "time": stamps.strftime("%Y%m%d:%H%M"),
        "beam": (rows.dni * rows.sine).to_numpy(),
        "diffuse": rows.dhi.to_numpy(),
        "ground": 0.0,
        "height": np.degrees(np.arcsin(rows.sine.to_numpy())),
        "temp": rows.temp.to_numpy(),
        "wind": rows.wind.to_numpy(),
        "made": 0.0,
    }
    return "\n".join([*head, lines(columns), "", "Gb(i): Beam", "", "PVGIS (c) European Union", ""])


def pvgis_hourly_json(sky: Sky, years: tuple[int, ...], late: float, *, slope: int = 0) -> str:
    """Hourly years as JSON, global only."""
    stamps = hours_of(years) + pd.Timedelta(hours=late)
    rows = sky.at(stamps)
    table = pd.DataFrame(
        {
            "time": stamps.strftime("%Y%m%d:%H%M"),
            "G(i)": rows.ghi.to_numpy().round(2),
            "H_sun": 0.0,
            "T2m": rows.temp.to_numpy().round(2),
            "WS10m": rows.wind.to_numpy().round(2),
            "Int": 0.0,
        }
    )
    location = {
        "latitude": sky.latitude,
        "longitude": sky.longitude,
        "elevation": sky.elevation,
    }
    fixed = {"slope": {"value": slope, "optimal": False}, "azimuth": {"value": 0}}
    text = {
        "inputs": {"location": location, "mounting_system": {"fixed": fixed}},
        "outputs": {"hourly": table.to_dict("records")},
        "meta": {"inputs": {}},
    }
    return json.dumps(text)


def nsrdb_csv(
    sky: Sky,
    years: tuple[int, ...],
    zone: float,
    *,
    local: float | None = None,
    minutes: tuple[int, ...] = (30,),
    typical: bool = False,
) -> str:
    """The database's csv; stamps in the zone's clock."""
    local = zone if local is None else local
    titles = "Source,Location ID,City,State,Country,Latitude,Longitude,Time Zone,Elevation,"
    head = [
        titles + "Local Time Zone,Dew Point Units,Version",
        f"NSRDB,401182,-,-,-,{sky.latitude},{sky.longitude},{zone:g},{sky.elevation:.0f},"
        f"{local:g},c,4.0.1",
        "Year,Month,Day,Hour,Minute,Temperature,Dew Point,DHI,DNI,GHI,Relative Humidity,"
        "Surface Albedo,Pressure,Wind Speed,,",
    ]
    hours = hours_of(years).repeat(len(minutes))
    late = np.tile(minutes, len(hours) // len(minutes))
    stamps = hours + pd.to_timedelta(late, unit="min")
    rows = sky.at(stamps - pd.Timedelta(hours=zone))
    columns = {
        "year": MONTH_YEARS[stamps.month - 1] if typical else stamps.year,
        "month": stamps.month,
        "day": stamps.day,
        "hour": stamps.hour,
        "minute": stamps.minute,
        "temp": rows.temp.to_numpy().round(1),
        "dew": rows.dew.to_numpy().round(1),
        "dhi": rows.dhi.to_numpy().round(),
        "dni": rows.dni.to_numpy().round(),
        "ghi": rows.ghi.to_numpy().round(),
        "humidity": rows.humidity.to_numpy(),
        "albedo": 0.2,
        "pressure": (rows.pressure.to_numpy() / 100.0).round(),
        "wind": rows.wind.to_numpy(),
        "more": "",
        "and more": "",
    }
    return "\n".join([*head, lines(columns), ""])
