"""Names of the job's fields for people."""

from __future__ import annotations

import re
from dataclasses import fields
from typing import Any

from noonwater.app.job_place import place_of
from noonwater.app.job_tables import Place, Slot, meaning_of, model_of, slot_at, value_at
from noonwater.app.schema import MEANINGS
from noonwater.model.job import Job

_PATH = re.compile(
    rf"\b(?:{'|'.join(each.name for each in fields(Job))})(?:\[\d+\])?(?:\.[a-z_]+(?:\[\d+\])?)+"
)
"""A field as a job file names it."""


def field_name(place: Place, tables: object) -> str:
    """Say what a field is for, in a few words with a capital.

    Parameters
    ----------
    place : Place
        Of the field.
    tables : dict
        Of the job; they tell which of several models a table is.
    """
    slot, holder = slot_at(place, tables), slot_at(place[:-1], tables)
    model = None
    if holder is not None and holder.models:
        model = model_of(holder, value_at(place[:-1], tables))
    return name_of(str(place[-1]), slot, model)


def name_of(key: str, slot: Slot | None, model: type[Any] | None) -> str:
    """Say what a field is for, as `field_name` does.

    Parameters
    ----------
    key : str
        In its table.
    slot : Slot or None
        What the field takes.
    model : type or None
        Of its table.
    """
    full = f"{model.__name__ if model else ''}.{key}"
    said = LABELS.get(full) or LABELS.get(key)
    said = said or (meaning_of(slot) if slot is not None else "")
    said = said or MEANINGS.get(full) or MEANINGS.get(key) or key.replace("_", " ")
    return said[:1].upper() + said[1:]


def field_called(field: str, tables: object) -> str:
    """Name a field, or a table, where it does not stand on its sheet: "Roof plane 2: pitch".

    Parameters
    ----------
    field : str
        Path as messages write it; given back as it is where the job has no such field.
    tables : dict
        Of the job.
    """
    place = place_of(field)
    slot = slot_at(place, tables) if place else None
    if not place or slot is None:
        return field
    if isinstance(place[-1], int) and not slot.models:
        place = place[:-1]  # of a list of values, which has one row
    inside = bool(slot.models)
    table = _table_called(place if inside else place[:-1])
    name = "" if inside else field_name(place, tables)
    said = f"{table}: {name[:1].lower()}{name[1:]}" if table and name else table or name
    return said[:1].upper() + said[1:]


def fields_named(text: str, tables: object) -> str:
    """Name the fields in a text as their sheets do, where it names them as a job file does.

    Parameters
    ----------
    text : str
        Such as 'pad.breaker = "feed" keeps it shut'.
    tables : dict
        Of the job.
    """

    def named(found: re.Match[str]) -> str:
        called = field_called(found[0], tables)
        return found[0] if called == found[0] else f"“{called}”"

    return _PATH.sub(named, text)


def _table_called(place: Place) -> str:
    number = f" {place[-1] + 1}" if place and isinstance(place[-1], int) else ""
    return f"{item_name(place)}{number}" if place else ""


def item_name(place: Place) -> str:
    """What one item of a list of tables is called, or a table that a job may do without."""
    keys = ".".join(step for step in place if isinstance(step, str))
    return ITEMS.get(keys, keys.rpartition(".")[2].replace("_", " "))


LABELS = {
    "Site.terrain": "what the wind crosses",
    "Site.ground": "ground before the panels",
    "WeatherFromFile.file": "weather file",
    "WeatherFromFile.year": "which year of a file of several",
    "WeatherShipped.year": "typical year of",
    "WeatherOnline.service": "service",
    "source": "source",
    "Pool.finish": "walls and floor",
    "Pool.shelter": "kept from the wind",
    "Pool.shade": "share of direct sun kept off",
    "Pool.enclosure": "stands",
    "Pool.setting": "walls",
    "Pool.soil": "soil",
    "Pool.rain": "rain and melted snow, twelve months, commas between",
    "Cover.kind": "kind",
    "Cover.only_below": "only when the air is below",
    "Cover.forgotten": "forgotten one day in so many, 0: never",
    "Pump.pump": "pump",
    "Pad.filter": "filter",
    "Pad.heater": "heater on the pad",
    "Pad.heater_place": "heater stands",
    "Pad.sanitizer": "sanitizer",
    "Pad.sanitizer_place": "sanitizer stands",
    "Pad.cleaner": "cleaner",
    "Pad.cleaner_booster": "the cleaner's own pump",
    "Pad.booster": "booster pump in the feed",
    "Pad.arrangement": "tie-in",
    "Pad.diverter_open": "diverter open to the roof",
    "Pad.diverter_seal": "diverter's seal",
    "Pad.bypass_open": "hand-set bypass open",
    "Pad.breaker": "vacuum breaker stands in the",
    "Pad.check_valves": "check valves",
    "Pad.check_valve": "kind of check valve",
    "Pad.sight_windows": "windows in the check valves",
    "Pad.isolation_valves": "isolation valves",
    "Pad.drains": "drains",
    "Pad.pipe": "nominal size of the pipe",
    "Pad.schedule": "schedule",
    "Heater.kind": "kind",
    "Heater.target": "set point; else 1 °C (2 °F) below the pool's",
    "Heater.efficiency": "efficiency of a gas heater",
    "Heater.calls_pump": "may start the pump",
    "Heater.solar_lead": "below its set point before it joins solar",
    "Controls.kind": "kind",
    "Controls.sensor_roof": "sensor's roof plane",
    "Controls.sensor": "sensor",
    "Controls.sensor_shade": "sun kept off the sensor",
    "Controls.sensor_contact": "loose sensor's contact with the pipe",
    "Controls.freeze": "in a cold night",
    "Controls.freeze_trip": "freeze action below",
    "Controls.freeze_watch": "freeze action watches",
    "Controls.cooling_target": "solar cools a pool above",
    "Array.trapped_water": "water that draining leaves in the panels",
    "Bank.roof": "roof plane",
    "Bank.panel": "panel",
    "Bank.piping": "headers",
    "Bank.slope": "fall of the headers to the feed",
    "PanelChange.panel": "panel",
    "PanelChange.left_out": "left out",
    "Roof.pitch": "pitch",
    "Roof.bearing": "bearing that it faces",
    "Offer.file": "price list",
    "Offer.extra_hours": "work besides the list's",
    "Offer.overhead": "overhead and profit",
    "Offer.tax_on": "sales tax on",
    "Terms.discount_rate": "what money earns elsewhere, yearly",
    "Money.house_use": "the house's other use, twelve months, commas between",
    "Alternative.kind": "kind",
    "Alternative.efficiency": "heat for what is burnt or drawn",
    "OwnPanel.like": "else like",
    "AddPart.action": "change",
    "RemovePart.action": "change",
    "SetPipe.action": "change",
    "SetPart.action": "change",
    "AddPart.to": "branch to pipe",
    "pipe": "pipe",
    "part": "part",
    "Pump.solar_speed": "speed while solar runs",
    "Pump.solar_flow": "or: flow on the roof, whose speed is found",
    "Pump.priming_speed": "speed at each start of solar",
    "Pump.priming_time": "time at that speed",
    "Pump.freeze_speed": "speed while water circulates against frost",
    "OwnPump.lowest_speed": "lowest speed",
    "OwnPump.highest_speed": "highest speed",
    "PumpPoint.speed": "speed",
    "PumpPoint.flow": "flow",
    "PumpPoint.head": "head",
    "Period.speed": "speed",
    "Period.flow": "or: flow, whose speed is found",
    "Period.solar": "solar allowed",
    "Period.purpose": "purpose",
    "Pool.opens": "opens on",
    "Pool.closes": "closes on",
    "on_from": "from",
    "on_until": "until",
    "months": "months",
    "SensorPoint.temperature": "temperature",
    "SensorPoint.resistance": "resistance",
    "Heater.capacity": "heat to the water, in warm air",
    "Heater.capacity_cool": "heat to the water, in air of 10 °C (50 °F)",
    "Heater.power": "electricity of a heat pump, in warm air",
    "Heater.power_cool": "electricity of a heat pump, in air of 10 °C (50 °F)",
    "Incentive.amount": "amount",
    "Incentive.cap": "at most",
    "Money.electricity": "price of electricity",
    "Window.price": "price in these hours",
    "Window.start": "from",
    "Window.stop": "until",
    "Alternative.price": "price of its energy",
    "Alternative.installed": "price of the heater, installed",
    "Alternative.carbon": "carbon dioxide of its energy",
    "Offer.installed": "price of the whole system",
    "Terms.electricity_escalation": "yearly rise of electricity's price",
    "Terms.electricity_carbon": "carbon dioxide of electricity",
    "Pad.suction_length": "pipe from pool to pump",
    "Pad.return_length": "pipe from pad to pool",
    "Pad.feed_length": "pipe from pad to the array's low corner",
    "Pad.roof_return_length": "pipe from the array's high corner to the pad",
    "Pad.filter_area": "area of the filter's bed or cloth",
    "Pad.suction_rating": "flow that the suction covers are rated for",
    "Spa.suction_length": "pipe from spa to pump",
    "Spa.return_length": "pipe from pad to spa",
    "Spa.elevation": "spa's water above the pool's",
    "Roof.name": "name of the plane",
    "Roof.width": "width along the eave",
    "Roof.slope_length": "eave to ridge, up the slope",
    "Roof.eave_height": "eave above the pool's water",
    "Roof.exposure": "open to the wind",
    "OwnPanel.width": "width along the headers",
    "OwnPanel.length": "length up the slope, headers included",
    "OwnPanel.area": "area that the test is on",
    "OwnPanel.flow_nominal": "flow wanted per panel",
    "OwnPanel.drop": "pressure lost at that flow",
    "OwnPanel.header_diameter": "inside of the headers",
    "OwnPanel.pressure_max": "pressure that the panel bears",
    "SetPipe.length": "length",
    "SetPipe.size": "size",
    "SetPart.elevation": "height above the pool's water",
}
"""Names of fields whose meaning alone, beside the others of a sheet, would not tell them apart."""

ITEMS = {
    "roof": "roof plane",
    "array.banks": "bank",
    "array.banks.changed": "odd panel",
    "own_panel": "panel of your own",
    "own_pump": "pump of your own",
    "own_pump.points": "point of the data sheet",
    "pad.edit": "change of the circuit",
    "pad.edit.fittings": "fitting",
    "pad.spa": "spa on the same pump",
    "pool.spa": "spa beside the pool",
    "pool.feature": "falling water",
    "pool.obstruction": "obstruction of the pool's sky",
    "pump.program": "period",
    "controls.sensor_ohms": "point of the sensor's sheet",
    "money.windows": "hours with a price of their own",
    "money.tiers": "tier of monthly use",
    "money.alternatives": "other heat to compare",
    "money.incentives": "money from others",
}
"""What one item of each list of tables is called."""
