"""What is typed in a call: read with its units, every fault beside its field."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from noonwater.app.bare_number import NUMBER_ONLY, typed_unit
from noonwater.app.telephone import CallWish, states_to_run
from noonwater.app.text import MONTH_NAMES
from noonwater.core.errors import Fault
from noonwater.core.quantity import Quantity
from noonwater.core.unit_text import QuantityError
from noonwater.core.units import read_quantity
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.field.reading import Reading

STATE, MONTH, HOUR, SKY, POOL = "state", "month", "hour", "sky", "pool"
"""Fields of a call beside its readings."""
CALL_FIELDS = (STATE, MONTH, HOUR, SKY, POOL)
RESISTANCE = "mismatch"
"""Reading that is told by the sensor's resistance."""
LONGEST = 60
"""[characters]"""
HOURS = tuple(f"{hour}:00" for hour in range(24))
POOL_TEMP = Quantity("temperature", "the pool's temperature", 1.0, 45.0)
OHMS = Quantity("resistance", "of the roof sensor", 0.0, 1e9)
NO_SENSE = "an error, or nonsense"


@dataclass(frozen=True)
class Typed:
    """What was typed.

    Attributes
    ----------
    texts : mapping of str to str
        By field, as typed.
    wish : CallWish
        All of it that is right, in SI.
    faults : mapping of str to Fault
        By field.
    """

    texts: Mapping[str, str]
    wish: CallWish
    faults: Mapping[str, Fault]


@lru_cache(maxsize=8)
def readings_to_tell(job: Job) -> tuple[Reading, ...]:
    """List what can be told of a job's system."""
    from noonwater.field.reading import readings_of
    from noonwater.hydraulics.arrangement import fill_circuit

    return readings_of(job, fill_circuit(job))


def quantity_of(reading: Reading) -> Quantity:
    """What a reading that is a number is typed as."""
    if reading.key == RESISTANCE:
        return OHMS
    return Quantity(reading.kind, reading.words, reading.low, reading.high)


def read_call(job: Job, texts: Mapping[str, str]) -> Typed:
    """Read a call.

    Parameters
    ----------
    job : Job
        The job; its units are those of a bare number.
    texts : mapping of str to str
        By field; others than those of a call are left out.

    Returns
    -------
    Typed
        A field that can't be read counts as not told.
    """
    readings = readings_to_tell(job)
    known = {*CALL_FIELDS, *(reading.key for reading in readings)}
    typed = {key: text.strip() for key, text in texts.items() if key in known and text.strip()}
    faults: dict[str, Fault] = {}
    numbers = _Reader(job, faults)
    told: dict[str, float | str] = {}
    for reading in readings:
        text = typed.get(reading.key, "")
        if not text:
            continue
        if reading.choices:
            if (choice := _choice(reading.key, text, reading.choices, faults)) is not None:
                told[reading.key] = choice
        elif (value := numbers.read(reading.key, text, quantity_of(reading))) is not None:
            told[reading.key] = value
    sky = _choice(SKY, typed.get(SKY, ""), _skies(), faults) or ""
    month = _choice(MONTH, typed.get(MONTH, ""), MONTH_NAMES, faults)
    hour = _choice(HOUR, typed.get(HOUR, ""), HOURS, faults)
    wish = CallWish(
        state=_choice(STATE, typed.get(STATE, ""), states_to_run(job), faults) or "",
        month=None if month is None else MONTH_NAMES.index(month) + 1,
        hour=None if hour is None else HOURS.index(hour),
        sky=sky,
        pool=numbers.read(POOL, typed.get(POOL, ""), POOL_TEMP),
        told=_by_resistance(job, told),
    )
    return Typed(typed, wish, faults)


@dataclass(frozen=True)
class _Reader:
    """Reads numbers in a job's units and keeps what is wrong."""

    job: Job
    faults: dict[str, Fault]

    def read(self, key: str, text: str, quantity: Quantity) -> float | None:
        if not text:
            return None
        if NUMBER_ONLY.fullmatch(text):
            text = f"{text} {typed_unit(quantity, self.job.units)}"
        try:
            return read_quantity(text[:LONGEST], quantity)
        except QuantityError as error:
            self.faults[key] = Fault(key, error.given, error.allowed, error.remedy)
            return None


def _skies() -> tuple[str, ...]:
    from noonwater.field.moment import SKIES

    return SKIES


def _choice(key: str, text: str, choices: tuple[str, ...], faults: dict[str, Fault]) -> str | None:
    if not text or text in choices:
        return text or None
    faults[key] = Fault(key, f"'{text[:LONGEST]}'", ", ".join(choices), "choose one of these")
    return None


def _by_resistance(job: Job, told: dict[str, float | str]) -> dict[str, float | str]:
    """A resistance told as what it says: a temperature, a display that is off, or no sensor."""
    from noonwater.design.sensor_table import temperature_at

    ohms = told.pop(RESISTANCE, None)
    if ohms is None:
        return told
    temp = temperature_at(float(ohms), job.controls.sensor_ohms)
    if temp is None:
        return {"display": NO_SENSE, **told}
    if "sensor" in told:
        return {**told, RESISTANCE: temp - float(told["sensor"])}
    return {**told, "sensor": temp}
