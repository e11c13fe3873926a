"""A first job by six questions: what is asked, and the whole job that the answers make.

All else of the job is a plain default; `noonwater.app.first_answer` tells how far the survey may
move the answer because of that.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, get_args

from noonwater.app.bare_number import with_unit
from noonwater.app.job_file import read_job_tables
from noonwater.app.job_place import Tables, place_of
from noonwater.app.job_tables import slot_at
from noonwater.app.six_place import MONTHLY, place_of_answers
from noonwater.core.errors import Fault, InputError
from noonwater.core.units import System

if TYPE_CHECKING:
    from noonwater.model.job import Job

PLANE = "main roof"
LONGEST_BANK = 10
"""Panels on one pair of headers; more are split. Common practice, no source."""


@dataclass(frozen=True)
class Asked:
    """One thing that is asked.

    Attributes
    ----------
    key : str
        Its name in a form.
    words : str
        What is asked.
    default : str
        A plausible answer, as typed.
    field : str
        Of the job that it becomes; its unit stands in the form.
    choices : tuple of str
        Where one of a few is chosen.
    """

    key: str
    words: str
    default: str
    field: str = ""
    choices: tuple[str, ...] = ()


@dataclass(frozen=True)
class Question:
    """A question: a line of one to three things, and what only some are asked, with its heading."""

    words: str
    asked: tuple[Asked, ...]
    heading: str = ""
    more: tuple[Asked, ...] = ()

    @property
    def all(self) -> tuple[Asked, ...]:
        """All that it asks."""
        return (*self.asked, *self.more)


def questions(system: System = "US") -> tuple[Question, ...]:
    """The six questions, with defaults in a system of units."""
    from noonwater.catalog import panels, pumps

    us = system == "US"
    pumps_named = tuple(pump.name for pump in pumps() if "booster" not in pump.name)
    return (
        Question(
            "Where is the pool?",
            (Asked("place", "Weather station, or latitude and longitude", "Fresno, CA"),),
            "Outside the United States: the town’s twelve months, with commas between them",
            (
                Asked("air", "Air, mean of each month from January on", "", "weather.air"),
                Asked("rain", "Rain of each month", "", "weather.rain"),
                Asked("sun", "Sun on level ground a day, where it is known", "", "weather.sun"),
            ),
        ),
        Question(
            "How large is it?",
            (
                Asked("area", "Water surface", "450" if us else "42", "pool.area"),
                Asked("depth", "Mean depth", "4.75" if us else "1.45", "pool.depth"),
                Asked("cover", "Cover", "none", "pool.cover.kind", _choices("pool.cover.kind")),
            ),
        ),
        Question(
            "How warm, and when?",
            (
                Asked("target", "Wanted water", "82" if us else "28", "pool.target"),
                Asked("opens", "Opens, month-day", "04-15", "pool.opens"),
                Asked("closes", "Closes, month-day", "10-15", "pool.closes"),
            ),
        ),
        Question(
            "Which way does the roof face?",
            (
                Asked("bearing", "Bearing from north", "180", "roof[0].bearing"),
                Asked("pitch", "Pitch", "4:12" if us else "18", "roof[0].pitch"),
            ),
        ),
        Question(
            "How many panels of which kind?",
            (
                Asked("panels", "Panels", "8"),
                Asked("panel", "Kind of panel", "tube 4x12", "", tuple(p.name for p in panels())),
            ),
        ),
        Question(
            "Which pump?",
            (Asked("pump", "Kind of pump", "variable medium", "pump.pump", pumps_named),),
        ),
    )


def first_job(answers: Mapping[str, str]) -> tuple[Tables, Job]:
    """Make a whole job of the answers.

    Parameters
    ----------
    answers : mapping of str to str
        By the keys of what is asked, beside "name" and "units"; bare numbers have the unit that
        the form shows.

    Returns
    -------
    (dict, Job)
        Tables of a job file, and the job that they are.

    Raises
    ------
    InputError
        With a fault for every answer that can't be; its field is the key of what was asked.
    """
    units: System = "SI" if answers.get("units") == "SI" else "US"
    asked = {each.key: each for question in questions(units) for each in question.all}
    typed = {key: answers.get(key, "").strip() or each.default for key, each in asked.items()}
    faults: list[Fault] = []
    count = _count(typed["panels"], faults)
    tables = _tables(typed, count, units)
    tables["name"] = answers.get("name", "").strip() or "First job"
    try:
        place = place_of_answers(typed, units)
        tables["weather"] = place.weather
        tables["site"] |= {
            "latitude": f"{place.latitude:.4f} deg",
            "longitude": f"{place.longitude:.4f} deg",
            "elevation": f"{place.elevation:.0f} m",
        }
    except InputError as error:
        faults += error.faults
        tables["site"] |= {"latitude": "0 deg", "longitude": "0 deg", "elevation": "0 m"}
    for each in asked.values():
        if each.field and each.key not in MONTHLY:
            _set(tables, each.field, with_unit(each.field, typed[each.key], tables, units))
    try:
        job = read_job_tables(tables)
    except InputError as error:
        keys = {each.field: each.key for each in asked.values() if each.field}
        faults += [
            Fault(keys.get(f.field, f.field), f.given, f.allowed, f.remedy) for f in error.faults
        ]
    if faults:
        raise InputError(faults)
    return tables, job


def _choices(field: str) -> tuple[str, ...]:
    place = place_of(field)
    slot = slot_at(place, {}) if place else None
    return get_args(slot.type) if slot is not None else ()


def _count(text: str, faults: list[Fault]) -> int:
    if re.fullmatch(r"\d{1,3}", text) and 1 <= int(text) <= 200:
        return int(text)
    faults.append(Fault("panels", f"“{text[:40]}”", "a whole number from 1 to 200"))
    return 1


def _set(tables: Tables, field: str, text: str) -> None:
    holder: Any = tables
    *way, last = re.findall(r"[a-z_]+|\d+", field)
    for step in way:
        holder = holder[int(step) if step.isdigit() else step]
    holder[last] = text


def _tables(typed: Mapping[str, str], count: int, units: System) -> Tables:
    """The job around the answers: plain defaults, common practice without a source."""
    us = units == "US"
    banks = math.ceil(count / LONGEST_BANK)
    sizes = [count // banks + (number < count % banks) for number in range(banks)]
    single = typed["pump"].startswith("single")
    program = {"start": "08:00", "stop": "17:00", "speed": "3450 rpm" if single else "1700 rpm"}
    pump: Tables = {"priming_time": "3 min", "program": [program]}
    if not single:
        pump |= {"solar_speed": "2700 rpm", "priming_speed": "3300 rpm"}
    return {
        "format": 1,
        "name": "",
        "units": units,
        "site": {"terrain": "suburb", "ground": "grass"},
        "pool": {"finish": "light", "shelter": "partly sheltered", "shade": "10 %", "cover": {}},
        "roof": [
            {
                "name": PLANE,
                "width": f"{max(30, 4 * count + 4)} ft" if us else f"{1.25 * count + 4:.0f} m",
                "slope_length": "16 ft" if us else "5 m",
                "eave_height": "9 ft" if us else "2.8 m",
                "exposure": "partly sheltered",
            }
        ],
        "array": {"banks": [{"roof": PLANE, "panels": n, "panel": typed["panel"]} for n in sizes]},
        "pad": {
            "pipe": "2 in",
            "suction_length": "35 ft" if us else "11 m",
            "return_length": "35 ft" if us else "11 m",
            "feed_length": "60 ft" if us else "18 m",
            "roof_return_length": "70 ft" if us else "21 m",
            "arrangement": "diverter",
            "elevation": "1 ft" if us else "0.3 m",
            "filter": "cartridge",
            "heater": "none",
            "breaker": "high return",
            "elbows": 18,
        },
        "pump": pump,
        "controls": {"kind": "differential", "sensor_roof": PLANE},
        "money": {"electricity": "0.20 USD/kWh", "currency": "USD"},
    }
