"""PVGIS: typical years and hourly years of the European Commission, as files or as answers."""

from __future__ import annotations

import io
import json
import re
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import numpy as np

from noonwater.climate.formats import broken, site_of
from noonwater.climate.samples import Instants, Samples
from noonwater.climate.weather_year import HOURS_IN_YEAR, FloatArray
from noonwater.core.errors import Fault, WeatherError

if TYPE_CHECKING:
    import pandas as pd

FIRST_LINE = "Latitude (decimal degrees):"
TMY_COLUMNS = "time(UTC),"
CSV_ROW = re.compile(r"^\d{8}:\d{4},", re.MULTILINE)

FIELDS: dict[str, tuple[str, float]] = {
    "sun_global": ("ghi", 1.0),
    "sun_beam": ("dni", 1.0),
    "sun_diffuse": ("dhi", 1.0),
    "longwave_sky": ("IR(h)", 1.0),
    "temp_air": ("temp_air", 1.0),
    "humidity": ("relative_humidity", 0.01),
    "pressure": ("pressure", 1.0),
    "wind_speed": ("wind_speed", 1.0),
}
"""Our columns by the names that pvlib gives to those of a typical year."""

SINE_LEAST = 0.05
"""[-] Beam on the level tells none square to the sun lower than 3°; ours."""


def is_pvgis(text: str) -> bool:
    """Whether a text is one of PVGIS' own formats, csv or json.

    Parameters
    ----------
    text : str
        Whole file.

    Returns
    -------
    bool
        True for typical years and hourly years. [-]
    """
    start = text.lstrip()[:200]
    return start.startswith(FIRST_LINE) or (start.startswith("{") and '"inputs"' in start)


def samples_of_pvgis(text: str, source: str, zone: Callable[[float, float], float]) -> Samples:
    """Read a PVGIS text.

    Parameters
    ----------
    text : str
        csv or json, a typical year or hourly years.
    source : str
        Name of the file, for faults.
    zone : callable
        Standard time of a place by latitude and longitude; the file tells none. [h]

    Returns
    -------
    Samples
        [SI]

    Raises
    ------
    WeatherError
        When it is damaged, or told for a tilted plane.
    """
    from pvlib import iotools

    if text.lstrip().startswith("{"):
        hourly = '"tmy_hourly"' not in text
        form = "json"
    else:
        hourly = TMY_COLUMNS not in text
        form = "csv"
    if hourly:
        data, meta = _read(lambda: iotools.read_pvgis_hourly(io.StringIO(text), form), source)
        return samples_of_hourly(data, meta, source, zone)
    if form == "csv":
        # pvlib takes 8760 lines, whatever they are.
        _check_rows(sum(1 for _ in CSV_ROW.finditer(text)), source)
    raw: Any = io.BytesIO(text.encode()) if form == "csv" else io.StringIO(text)
    data, meta = _read(lambda: iotools.read_pvgis_tmy(raw, form), source)
    return samples_of_typical(data, meta, source, zone)


def samples_of_typical(
    data: pd.DataFrame, meta: dict[str, Any], source: str, zone: Callable[[float, float], float]
) -> Samples:
    """Take pvlib's answer for a typical year.

    Parameters
    ----------
    data : pandas.DataFrame
        Rows with pvlib's names.
    meta : dict
        What goes with them.
    source : str
        Name for faults.
    zone : callable
        Standard time of a place by latitude and longitude. [h]

    Returns
    -------
    Samples
        [SI]

    Raises
    ------
    WeatherError
        When columns are missing.
    """
    inputs = meta.get("inputs", {})
    place = inputs.get("location", inputs)
    shift = place.get("irradiance_time_offset", place.get("irradiance time offset"))
    columns = _columns(data, FIELDS, source)
    database = inputs.get("meteo_data", {}).get("radiation_db", "")
    return _samples(
        "PVGIS typical year" + (f" ({database})" if database else ""),
        data,
        place,
        columns,
        source,
        zone,
        # Without the line that newer files have the closure has to tell it, see climate.read.
        sun_shift=float("nan") if shift is None else 3600.0 * float(shift),
        typical=True,
    )


def samples_of_hourly(
    data: pd.DataFrame, meta: dict[str, Any], source: str, zone: Callable[[float, float], float]
) -> Samples:
    """Take pvlib's answer for hourly years on the level.

    Parameters
    ----------
    data : pandas.DataFrame
        Rows with pvlib's names.
    meta : dict
        What goes with them.
    source : str
        Name for faults.
    zone : callable
        Standard time of a place by latitude and longitude. [h]

    Returns
    -------
    Samples
        [SI]; no humidity, which the service doesn't give here.

    Raises
    ------
    WeatherError
        When columns are missing, or told for a tilted plane.
    """
    inputs = meta.get("inputs", {})
    _refuse_tilted(inputs, source)
    place = inputs.get("location", inputs)
    columns = _columns(data, {n: FIELDS[n] for n in ("temp_air", "wind_speed")}, source)
    parts = [f"poa_{part}" for part in ("direct", "sky_diffuse", "ground_diffuse")]
    if "poa_global" in data:
        columns["sun_global"] = data["poa_global"].to_numpy(dtype=np.float64)
    elif all(part in data for part in parts):
        direct, sky, ground = (data[part].to_numpy(dtype=np.float64) for part in parts)
        sine = np.sin(np.radians(data["solar_elevation"].to_numpy(dtype=np.float64)))
        columns["sun_global"] = direct + sky + ground
        columns["sun_diffuse"] = sky + ground
        columns["sun_beam"] = np.where(sine > SINE_LEAST, direct / np.maximum(sine, SINE_LEAST), 0)
    else:
        raise broken(source, "columns", "no sun on the level", "G(i), or Gb(i), Gd(i) and Gr(i)")
    database = inputs.get("radiation_database", "")
    form = "PVGIS hourly" + (f" ({database})" if database else "")
    return _samples(form, data, place, columns, source, zone, sun_shift=0.0, typical=False)


def _samples(
    form: str,
    data: pd.DataFrame,
    place: dict[str, Any],
    columns: dict[str, FloatArray],
    source: str,
    zone: Callable[[float, float], float],
    *,
    sun_shift: float,
    typical: bool,
) -> Samples:
    at = str(place.get("latitude")), str(place.get("longitude")), str(place.get("elevation"))
    latitude, longitude, elevation, _ = site_of(*at, "0", source)
    return Samples(
        form=form,
        kind="typical-year file" if typical else "real-year file",
        place=f"PVGIS {latitude:.2f}°, {longitude:.2f}°",
        latitude=latitude,
        longitude=longitude,
        elevation=elevation,
        stamps=instants_of(data),
        stamp_offset=0.0,
        utc_offset=zone(latitude, longitude),
        sun_shift=sun_shift,
        air_shift=0.0,
        typical=typical,
        columns=columns,
    )


def instants_of(data: pd.DataFrame) -> Instants:
    """Stamps of a frame in universal time.

    Parameters
    ----------
    data : pandas.DataFrame
        With an index that knows its zone.

    Returns
    -------
    array of n instants
        [UTC]
    """
    import pandas as pd

    index = pd.DatetimeIndex(data.index).tz_convert(None)
    return np.asarray(index.to_numpy().astype("datetime64[s]"))


def _columns(
    data: pd.DataFrame, wanted: dict[str, tuple[str, float]], source: str
) -> dict[str, FloatArray]:
    columns = {}
    for name, (title, factor) in wanted.items():
        if title in data:
            columns[name] = data[title].to_numpy(dtype=np.float64) * factor
        elif name not in ("longwave_sky", "pressure"):
            raise broken(source, "columns", f"none for {name}", "all columns of the service")
    return columns


def _check_rows(count: int, source: str) -> None:
    if count != HOURS_IN_YEAR:
        reason = "the file is cut short" if count < HOURS_IN_YEAR else "it is no typical year"
        fault = Fault("rows", f"{count} hours", f"{HOURS_IN_YEAR}", f"{reason}: fetch it again")
        raise WeatherError([fault], source)


def _refuse_tilted(inputs: dict[str, Any], source: str) -> None:
    fixed = inputs.get("mounting_system", {}).get("fixed", {})
    slope = fixed.get("slope", {}).get("value", inputs.get("Slope", "0"))
    degrees = float(str(slope).split()[0].rstrip("°") or 0.0)
    if abs(degrees) > 0.5:
        remedy = "fetch it again with slope 0°, or the typical year (TMY)"
        fault = Fault("slope", f"sun on a plane of {degrees:g}°", "sun on the level, 0°", remedy)
        raise WeatherError([fault], source)


def _read(read: Callable[[], tuple[Any, Any]], source: str) -> tuple[Any, Any]:
    try:
        return read()
    except json.JSONDecodeError as reason:
        given = f"no whole JSON ({reason.msg}, line {reason.lineno})"
        raise broken(source, "text", given, "the whole answer of PVGIS") from None
    except (ValueError, KeyError, IndexError, TypeError, AttributeError) as reason:
        first = str(reason).splitlines()[0][:120] if str(reason) else type(reason).__name__
        raise broken(source, "rows", first, "rows as PVGIS writes them") from reason
