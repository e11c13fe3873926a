"""PVGIS' typical years written as EPW: not hours named by their end, but instants.

The rows carry hours 1 to 24, but their sun is what a satellite saw at one instant and their air
that of the full hour; a comment says how far the sun's instant lies from the row's hour. Whether
that hour is of the zone in the first line, and counted from which side, files don't say: the sun's
height decides.
"""

from __future__ import annotations

import re

import numpy as np

from noonwater.climate.formats import EPW_HEADER_LINES, year_from_epw
from noonwater.climate.resample import Clock
from noonwater.climate.sampled_years import weather_of_samples
from noonwater.climate.samples import Samples
from noonwater.climate.weather_year import HOURS_IN_YEAR, WeatherYear
from noonwater.climate.zones import standard_time_at, zone_fits

OFFSET = re.compile(r"Irradiance Time Offset \(h\):\s*(-?\d+(?:\.\d+)?)")


def is_pvgis_epw(text: str) -> bool:
    """Whether an EPW text is one of PVGIS.

    Parameters
    ----------
    text : str
        Whole file.

    Returns
    -------
    bool
        [-]
    """
    return _offset(text) is not None


def weather_of_pvgis_epw(text: str, source: str) -> WeatherYear:
    """Read an EPW text of PVGIS.

    Parameters
    ----------
    text : str
        Whole file.
    source : str
        Name of the file, for faults.

    Returns
    -------
    WeatherYear

    Raises
    ------
    WeatherError
        When header or rows can't be read.
    """
    raw = year_from_epw(text, source)
    late = 3600.0 * (_offset(text) or 0.0)
    zone = raw.utc_offset
    hours = np.arange(1, HOURS_IN_YEAR + 1) * np.timedelta64(3600, "s")
    fits = zone_fits(raw.longitude, zone)
    utc_offset = zone if fits else standard_time_at(raw.latitude, raw.longitude)
    # Absent columns are 99 or 9999 throughout; what is there has the names of the house already.
    wanted = ("cloud_total", "cloud_opaque", "albedo")
    samples = Samples(
        form="PVGIS typical year as EPW",
        kind="typical-year file",
        place=f"PVGIS {raw.latitude:.2f}°, {raw.longitude:.2f}°",
        latitude=raw.latitude,
        longitude=raw.longitude,
        elevation=raw.elevation,
        stamps=np.datetime64("2003-01-01T00:00:00", "s") + hours,
        stamp_offset=zone,
        utc_offset=utc_offset,
        sun_shift=late + 3600.0,
        air_shift=0.0,
        typical=True,
        columns={
            name: values[raw.order] for name, values in raw.columns.items() if name not in wanted
        },
    )
    clocks = (
        Clock(zone, late + 3600.0, 0.0),
        Clock(0.0, late, -3600.0),
        Clock(zone, late, -3600.0),
    )
    return weather_of_samples(samples, source, clocks)[0]


def _offset(text: str) -> float | None:
    header = "\n".join(text.split("\n", EPW_HEADER_LINES)[:EPW_HEADER_LINES])
    found = OFFSET.search(header)
    return float(found[1]) if found else None
