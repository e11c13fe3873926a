"""What every cause shows as numbers, for a page that weighs them where there is no desk.

All in the unit of the page's columns: what is typed there is held against it as it is.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from noonwater.app.telephone import Call
from noonwater.app.telephone_typed import RESISTANCE
from noonwater.app.telephone_words import (
    FEWEST,
    LEAST,
    MOST,
    SELDOM,
    capital,
    expected_words,
    sentence,
)
from noonwater.core.units import System, in_system

if TYPE_CHECKING:
    from noonwater.field.cause import Cause
    from noonwater.field.expected import Case, Expected
    from noonwater.field.reading import Reading

SUNNY = ("rise", "felt", "panels", "sensor")
"""Readings that hang on the sun."""
DIGITS = 5
"""Of a mean or a spread, which tells no gauge from another."""
PLACES = 4
"""Of a chance."""


def readings_along(call: Call) -> tuple[Reading, ...]:
    """List what a page away from the desk takes: all but what needs a sensor's own table."""
    return tuple(each for each in call.known.readings if each.key != RESISTANCE)


def rules_of_weighing() -> dict[str, float]:
    """The numbers that the page weighs and words by, as the desk does."""
    from noonwater.field.expected import SLIP
    from noonwater.field.solved import ENDS
    from noonwater.field.weigh import LIKELY, POSSIBLE

    return {
        "slip": SLIP,
        "ends": ENDS,
        "likely": LIKELY,
        "possible": POSSIBLE,
        "seldom": SELDOM,
        "fewest": FEWEST,
        "most": MOST,
        "least": LEAST,
    }


def state_table(calls: Mapping[str, Call], system: System) -> dict[str, Any]:
    """Tabulate the causes of one state.

    Parameters
    ----------
    calls : mapping of str to Call
        With nothing told, by the sun; "" where that isn't told either.
    system : {"US", "SI"}
        Of the columns.

    Returns
    -------
    dict
        Of lists and plain numbers; the first case is that nothing is wrong. What a case shows of a
        reading stands once in "shown", for many cases show the same; elsewhere its place there.
    """
    shown: dict[tuple[float, ...], int] = {}
    untold = calls[""]
    readings = readings_along(untold)
    steady = [each for each in readings if each.key not in SUNNY]
    sunny = [each for each in readings if each.key in SUNNY]
    return {
        "readings": [_reading(each, system) for each in (*steady, *sunny)],
        "causes": [case.cause for case in untold.cases],
        "steady": [_places(_shows(case, steady, system), shown) for case in untold.cases],
        "skies": {sky: _sky(call, sunny, system, shown) for sky, call in calls.items()},
        "shown": list(shown),
    }


def cause_words(causes: Sequence[Cause]) -> dict[str, dict[str, str]]:
    """What is told of each cause, by its key."""
    return {
        cause.key: {
            "name": capital(cause.name),
            "changes": f"{capital(cause.changes)}.",
            "do": f"Look: {sentence(cause.check)} Do: {sentence(cause.remedy)}",
            "caution": cause.caution,
        }
        for cause in causes
    }


def _places(
    shows: Sequence[Sequence[float] | None], shown: dict[tuple[float, ...], int]
) -> list[int | None]:
    """Where each stands among all that is shown; what is new is added."""
    return [None if each is None else shown.setdefault(tuple(each), len(shown)) for each in shows]


def _sky(
    call: Call, sunny: Sequence[Reading], system: System, shown: dict[tuple[float, ...], int]
) -> dict[str, Any]:
    right = call.right.expected
    return {
        "weights": [float(f"{case.weight:.{DIGITS}g}") for case in call.cases],
        "shows": [_places(_shows(case, sunny, system), shown) for case in call.cases],
        "words": {each.key: expected_words(each, right.get(each.key), system) for each in sunny},
    }


def _reading(reading: Reading, system: System) -> dict[str, Any]:
    if reading.choices:
        return {"key": reading.key, "choices": list(reading.choices)}
    low, high = (in_system(end, reading.kind, system) for end in (reading.low, reading.high))
    return {"key": reading.key, "low": low, "high": high}


def _shows(case: Case, readings: Sequence[Reading], system: System) -> list[list[float] | None]:
    return [_in_column(case.expected.get(each.key), each, system) for each in readings]


def _in_column(expected: Expected | None, reading: Reading, system: System) -> list[float] | None:
    from noonwater.field.expected import Normal

    if expected is None:
        return None
    if not isinstance(expected, Normal):
        return [round(chance, PLACES) for chance in expected]
    mean = in_system(expected.mean, reading.kind, system)
    beyond = in_system(expected.mean + expected.spread, reading.kind, system)
    return [float(f"{value:.{DIGITS}g}") for value in (mean, beyond - mean)]
