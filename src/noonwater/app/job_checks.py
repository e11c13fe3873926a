"""Checks across a job's tables: names that must exist, speeds that the pump must be able to turn.

They work on the file's tables, not on the finished job, so that they are told together with the
faults of single fields. Where a table has no sensible shape they keep silent: that is told already.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import Any

from noonwater.app.job_faults import nearest
from noonwater.app.job_tables import Place, path_text, slot_at, value_at
from noonwater.core.errors import Fault, InputError
from noonwater.core.quantity import Quantity
from noonwater.core.unit_text import QuantityError, quoted
from noonwater.core.units import System, currencies_of, read_quantity, show
from noonwater.model.job import Job
from noonwater.model.plant import Controls

Tables = dict[str, Any]

DEADBAND = Controls().deadband
"""[K] Where the file doesn't say."""


def job_checks(tables: Tables, folder: Path | None) -> list[Fault]:
    """List what is wrong between the tables of a job file."""
    return [
        *_roof_names(tables),
        *_catalog_names(tables),
        *_pipe_size(tables),
        *_speeds(tables),
        *_cooling(tables),
        *_currency(tables),
        *_weather_file(tables, folder),
    ]


def plumbing_faults(job: Job) -> list[Fault]:
    """List what is wrong with a job's circuit: edits of parts and pipes, names in its options."""
    from noonwater.hydraulics.arrangement import fill_circuit

    try:
        fill_circuit(job)
    except InputError as error:
        return list(error.faults)
    return []


def _texts(tables: Tables, place: Place) -> Iterator[tuple[Place, str]]:
    """Texts at a place; "*" stands for each item of an array."""
    if "*" not in place:
        value = value_at(place, tables)
        if isinstance(value, str):
            yield place, value
        return
    at = place.index("*")
    items = value_at(place[:at], tables)
    for number in range(len(items) if isinstance(items, list) else 0):
        yield from _texts(tables, (*place[:at], number, *place[at + 1 :]))


def _roof_names(tables: Tables) -> Iterator[Fault]:
    names: list[str] = []
    for place, name in _texts(tables, ("roof", "*", "name")):
        if name in names:
            first = path_text(("roof", names.index(name), "name"))
            yield Fault(path_text(place), quoted(name), f"a name of its own; {first} has this one")
        names.append(name)
    if not names:
        return
    allowed = "the roof planes " + ", ".join(dict.fromkeys(quoted(name) for name in names))
    banks = _texts(tables, ("array", "banks", "*", "roof"))
    sensor = _texts(tables, ("controls", "sensor_roof"))
    wrong = [(place, name) for place, name in banks if name not in names]
    wrong += [(place, name) for place, name in sensor if name and name not in names]
    for place, name in wrong:
        yield Fault(path_text(place), quoted(name), allowed, nearest(name, names))


def _catalog_names(tables: Tables) -> Iterator[Fault]:
    from noonwater import catalog

    own_pumps = [name for _, name in _texts(tables, ("own_pump", "*", "name"))]
    own_panels = [name for _, name in _texts(tables, ("own_panel", "*", "name"))]
    yield from _own_names(tables, "own_pump", [pump.name for pump in catalog.pumps()])
    yield from _own_names(tables, "own_panel", [panel.name for panel in catalog.panels()])
    readers: tuple[tuple[Place, Callable[[str], object], list[str]], ...] = (
        (("array", "banks", "*", "panel"), catalog.panel_named, own_panels),
        (("array", "banks", "*", "changed", "*", "panel"), catalog.panel_named, [*own_panels, ""]),
        (("own_panel", "*", "like"), catalog.panel_named, []),
        (("pump", "pump"), catalog.pump_named, own_pumps),
        (("pad", "booster"), catalog.pump_named, [*own_pumps, "none"]),
        (("pad", "cleaner_booster"), catalog.pump_named, [*own_pumps, "none"]),
        (("pad", "filter"), catalog.filter_named, []),
        (("pad", "heater"), catalog.heater_named, []),
        (("pad", "sanitizer"), catalog.sanitizer_named, []),
        (("pad", "cleaner"), catalog.cleaner_named, []),
        (("pad", "check_valve"), catalog.check_valve_named, []),
    )
    for where, reader, own in readers:
        for place, name in _texts(tables, where):
            if name not in own:
                yield from _refusals(tables, place, partial(reader, name))


def _own_names(tables: Tables, key: str, known: list[str]) -> Iterator[Fault]:
    """Own parts whose name another part has already."""
    taken = list(known)
    for place, name in _texts(tables, (key, "*", "name")):
        if name in taken or not name.strip():
            allowed = "a name of its own, that neither the catalog nor another one has"
            yield Fault(path_text(place), quoted(name), allowed)
        taken.append(name)


def _pipe_size(tables: Tables) -> Iterator[Fault]:
    from noonwater import catalog

    place: Place = ("pad", "pipe")
    size = _quantity(tables, place)
    schedule = value_at(("pad", "schedule"), tables) or "40"
    if size is not None and isinstance(schedule, str):
        yield from _refusals(tables, place, partial(catalog.pipe_named, size, schedule))


def _refusals(tables: Tables, place: Place, ask: Callable[[], object]) -> Iterator[Fault]:
    """What the catalog says to a name, told at the field that holds it."""
    try:
        ask()
    except InputError as error:
        for fault in error.faults:
            name = value_at(place, tables)
            near = nearest(name, re.findall(r"'([^']+)'", fault.allowed))
            yield Fault(path_text(place), quoted(name), fault.allowed, near or fault.remedy)


def _quantity(tables: Tables, place: Place) -> float | None:
    """Value of a quantity that is right by itself."""
    slot, text = slot_at(place, tables), value_at(place, tables)
    if slot is None or not isinstance(slot.mark, Quantity):
        return None
    try:
        return read_quantity(text, slot.mark)
    except QuantityError:
        return None


def _speeds(tables: Tables) -> Iterator[Fault]:
    from noonwater import catalog

    name = value_at(("pump", "pump"), tables)
    pump = next((pump for pump in catalog.pumps() if pump.name == name), None)
    if pump is None:
        return
    places: list[Place] = [place for place, _ in _texts(tables, ("pump", "program", "*", "speed"))]
    places += [("pump", key) for key in ("solar_speed", "priming_speed", "freeze_speed")]
    for place in places:
        speed = _quantity(tables, place)
        if speed is not None and not pump.lowest_speed <= speed <= pump.highest_speed:
            low, high = f"{pump.lowest_speed:g}", f"{pump.highest_speed:g}"
            allowed = f"{low} rpm" if low == high else f"{low} rpm to {high} rpm"
            given = quoted(value_at(place, tables))
            yield Fault(path_text(place), given, f"{allowed}, what a {quoted(name)} pump turns")


def _cooling(tables: Tables) -> Iterator[Fault]:
    """A pool that solar may not both heat and cool at one temperature."""
    place: Place = ("controls", "cooling_target")
    target, cooling = _quantity(tables, ("pool", "target")), _quantity(tables, place)
    if target is None or cooling is None:
        return
    deadband = _quantity(tables, ("controls", "deadband"))
    least = target + 2.0 * (DEADBAND if deadband is None else deadband)
    if cooling < least:
        units: System = "SI" if tables.get("units") == "SI" else "US"
        given, allowed = quoted(value_at(place, tables)), show(least, "temperature", units)
        yield Fault(
            path_text(place), given, f"{allowed} or more, pool.target and the deadband twice"
        )


PRICES: tuple[Place, ...] = (
    ("money", "electricity"),
    ("money", "windows", "*", "price"),
    ("money", "tiers", "*", "adds"),
    *(
        ("money", "alternatives", "*", key)
        for key in ("price", "price_by_volume", "installed", "maintenance")
    ),
    *(("money", "incentives", "*", key) for key in ("amount", "cap")),
    *(("money", "offer", key) for key in ("installed", "labour_rate")),
    ("money", "terms", "maintenance"),
)
"""Where a job file has a price."""


def _currency(tables: Tables) -> Iterator[Fault]:
    """Prices in another currency than the job's; none is converted."""
    currency = value_at(("money", "currency"), tables) or "USD"
    for where in PRICES:
        for place, price in _texts(tables, where):
            if currency in (meant := currencies_of(price)):
                continue
            remedy = f'write currency = "{meant[0]}" in [money], or the price in {currency}'
            allowed = f"a price in {currency}, the currency of [money]"
            yield Fault(path_text(place), quoted(price), allowed, remedy)


def _weather_file(tables: Tables, folder: Path | None) -> Iterator[Fault]:
    name = value_at(("weather", "file"), tables)
    if folder is None or not isinstance(name, str):
        return
    path = folder / name
    try:
        given = "a folder" if path.is_dir() else "" if path.is_file() else "there is no such file"
    except (OSError, ValueError):
        given = "no name of a file"
    if given:
        allowed = f"a weather file; a name without a folder is looked for in {folder}"
        yield Fault("weather.file", f"{quoted(name)}, {given}", allowed)
