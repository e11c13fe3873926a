"""Where the pool of a first job is, and its weather: a station, or the town's twelve months.

Outside the United States a person knows his town's monthly air and rain, and may find its sun. Dew
point and wind, which nobody knows, are told from them; the first answer's range holds that.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from noonwater.app.bare_number import typed_unit, with_usual_unit
from noonwater.app.job_place import Tables, place_of
from noonwater.app.job_tables import slot_at
from noonwater.core.errors import Fault, InputError
from noonwater.core.quantity import Quantity
from noonwater.core.unit_text import QuantityError
from noonwater.core.units import System, read_quantity

MONTHLY = {"air": "months", "rain": "rough", "sun": "months"}
"""What is asked month by month, and a source of weather that has it."""
USUAL_ELEVATION = 100.0
"""[m] Where no station tells it; the survey does. Ours."""
SECONDS_IN_DAY = 86400.0
DEGREES_IN_HOUR = 15.0
COORDINATES = re.compile(r"\s*([-−+]?\d+(?:\.\d+)?)\s*°?\s*[,;\s]\s*([-−+]?\d+(?:\.\d+)?)\s*°?\s*")
MOST_NAMED = 5
ONE_TOWN = 75.0
"""[km] Stations nearer to each other than this are of one place: the first is taken. Ours."""

ONE_NAME = "one station’s name, or latitude and longitude such as 36.6, -119.6"
ONE_PLACE = "a station of the United States, or latitude and longitude such as -34.9, 138.6"
TWELVE = "twelve numbers, January to December, with commas between them"


@dataclass(frozen=True)
class Place:
    """Where a pool is.

    Attributes
    ----------
    latitude, longitude : float
        [°]
    elevation : float
        [m]
    weather : dict
        That table of a job file.
    """

    latitude: float
    longitude: float
    elevation: float
    weather: Tables


def place_of_answers(typed: Mapping[str, str], units: System) -> Place:
    """Find a place and its weather.

    Parameters
    ----------
    typed : mapping of str to str
        What was answered under "place", "air", "rain" and "sun"; months left empty are taken from
        the stations around.
    units : {"US", "SI"}
        That bare numbers are in.

    Returns
    -------
    Place

    Raises
    ------
    InputError
        With a fault for every answer that can't be.
    """
    if not any(typed.get(key) for key in MONTHLY):
        return Place(*place_at(typed["place"]), {"source": "stations", "seed": 1})
    faults: list[Fault] = []
    latitude, longitude, elevation = 0.0, 0.0, USUAL_ELEVATION
    try:
        latitude, longitude, elevation = _anywhere(typed["place"])
    except InputError as error:
        faults += error.faults
    months = {key: _twelve(key, typed.get(key, ""), units, faults) for key in MONTHLY}
    if abs(latitude) > _rain_tells_to() and not typed.get("sun"):
        remedy = "beyond it, rain tells the sun badly; a solar map tells kWh/m² a day or a year"
        fault = Fault("sun", f"nothing at latitude {latitude:g}°", TWELVE, remedy)
        faults.append(fault)
    if faults:
        raise InputError(faults)
    zone = f"{round(longitude / DEGREES_IN_HOUR)} h"
    weather = {"utc_offset": zone, "air": months["air"].texts, "seed": 1}
    if typed.get("sun"):
        weather |= {"source": "months", "sun": months["sun"].texts}
        weather |= _damp_and_wind(latitude, {key: row.values for key, row in months.items()})
    else:
        weather |= {"source": "rough", "rain": months["rain"].texts}
    return Place(latitude, longitude, elevation, weather)


@dataclass(frozen=True)
class _Row:
    """Twelve months as typed, each with its unit, and in SI."""

    texts: list[str]
    values: list[float]


def _damp_and_wind(latitude: float, months: Mapping[str, list[float]]) -> Tables:
    from noonwater.climate.rough import WIND_USUAL, dew_point_by_rain

    sun = [each / SECONDS_IN_DAY for each in months["sun"]]
    rain = [1e3 * depth for depth in months["rain"]]
    dew_point = dew_point_by_rain(latitude, sun, months["air"], rain)
    return {
        "dew_point": [f"{each:.1f} degC" for each in dew_point],
        "wind": [f"{WIND_USUAL:g} m/s"] * 12,
    }


def _rain_tells_to() -> float:
    from noonwater.climate.rough import LATITUDE_MOST

    return LATITUDE_MOST


def _twelve(key: str, text: str, units: System, faults: list[Fault]) -> _Row:
    """Twelve monthly values; a fault for what is none."""
    slot = slot_at(place_of(f"weather.{key}") or (), {"weather": {"source": MONTHLY[key]}})
    mark = slot.item.mark if slot is not None and slot.item is not None else None
    parts = [part.strip() for part in re.split(r"[,;]", text) if part.strip()]
    if not isinstance(mark, Quantity) or (not parts and key == "sun"):
        return _Row([], [])
    if len(parts) != 12:
        faults.append(Fault(key, f"{len(parts)} months" if parts else "nothing", TWELVE))
        return _Row([], [])
    texts = [with_usual_unit(part, typed_unit(mark, units)) for part in parts]
    try:
        return _Row(texts, [read_quantity(each, mark) for each in texts])
    except QuantityError as error:
        faults.append(Fault(key, error.given, error.allowed, error.remedy))
        return _Row([], [])


def _anywhere(text: str) -> tuple[float, float, float]:
    """Coordinates of any place, with the height of a station where one is near."""
    try:
        return place_at(text)
    except InputError:
        typed = COORDINATES.fullmatch(text)
        if not typed:
            remedy = "a map tells them for any town"
            raise InputError([Fault("place", f"“{text[:60]}”", ONE_PLACE, remedy)]) from None
        latitude, longitude = (float(part.replace("−", "-")) for part in typed.groups())
        if abs(latitude) > 90.0 or abs(longitude) > 180.0:
            raise
        return latitude, longitude, USUAL_ELEVATION


def station_names() -> tuple[str, ...]:
    """Names of the weather stations that a place can be told by."""
    from noonwater.climate.stations import station_table

    return station_table().place


def place_at(text: str) -> tuple[float, float, float]:
    """Find a place by coordinates or by the name of a weather station.

    Parameters
    ----------
    text : str
        "36.6, -119.6", or words that stand in one station's name: "fresno ca".

    Returns
    -------
    (float, float, float)
        Latitude and longitude [°], and the height of the nearest station [m].

    Raises
    ------
    InputError
        When no station, or more than one, has that name, or none is near.
    """
    from noonwater.climate.stations import FARTHEST, distances, station_table

    table = station_table()
    if typed := COORDINATES.fullmatch(text):
        latitude, longitude = (float(part.replace("−", "-")) for part in typed.groups())
        away = distances(table, latitude, longitude)
        nearest = int(away.argmin())
        if not (abs(latitude) <= 90.0 and abs(longitude) <= 180.0 and away[nearest] <= FARTHEST):
            raise InputError(
                [
                    Fault(
                        "place",
                        f"no weather station within {FARTHEST:.0f} km of {text.strip()[:60]}",
                        "a place in the United States",
                        "elsewhere type the town’s months beside it: mean air and rain",
                    )
                ]
            )
        return latitude, longitude, float(table.elevation[nearest])
    found = _stations(text, table.place)
    number = found[0]
    apart = distances(table, float(table.latitude[number]), float(table.longitude[number]))
    if max(apart[n] for n in found) > ONE_TOWN:
        raise InputError([_too_many([table.place[n] for n in found])])
    return (
        float(table.latitude[number]),
        float(table.longitude[number]),
        float(table.elevation[number]),
    )


def _stations(text: str, names: tuple[str, ...]) -> list[int]:
    words = re.findall(r"\w+", text.lower())
    spelt = [re.findall(r"\w+", name.lower()) for name in names]
    exact = [n for n, name in enumerate(spelt) if name == words]
    found = exact or [
        n
        for n, name in enumerate(spelt)
        if words and all(any(part.startswith(word) for part in name) for word in words)
    ]
    if not found:
        remedy = (
            "try the nearest larger town with its state, as “Fresno, CA”; outside the United States"
            " latitude and longitude, with the town’s months beside them"
        )
        raise InputError([Fault("place", f"no station “{text[:60]}”", ONE_NAME, remedy)])
    return found


def _too_many(names: list[str]) -> Fault:
    more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
    given = f"{len(names)} stations: {'; '.join(names[:MOST_NAMED])}{more}"
    return Fault("place", given, ONE_NAME, "type more of its name")
