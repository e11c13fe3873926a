"""The published description of job files, for editors and other programs."""

from __future__ import annotations

from typing import Any

from noonwater.app.job_file import job_adapter
from noonwater.model.job import FORMAT

DRAFT = "https://json-schema.org/draft/2020-12/schema"


def job_schema() -> dict[str, Any]:
    """Describe a job file as JSON Schema, draft 2020-12.

    Returns
    -------
    dict
        The schema that lies in docs/job.schema.json. It knows keys, choices and the form of
        quantities; dimensions, bounds and names across tables are checked by `read_job`.
    """
    listed = job_adapter().json_schema()
    models = listed["$defs"]
    job = models.pop("Job")
    job["properties"]["format"] = {
        "const": FORMAT,
        "description": "number of this format; older files are migrated when they are read",
    }
    job["required"] = sorted({*job["required"], "format"}, key=list(job["properties"]).index)
    for name, model in (("Job", job), *models.items()):
        for key, field in model.get("properties", {}).items():
            # A default is held in SI; in a file it would be a bare number, so the schema has none.
            field.pop("default", None)
            # What may be left out is null in Python; TOML has no null.
            for choice in field.pop("anyOf", []):
                field.update(choice if choice != {"type": "null"} else {})
            field.pop("title", None)
            if "description" not in field:
                field["description"] = MEANINGS.get(f"{name}.{key}") or MEANINGS[key]
        if model is not job:
            model["description"] = model.get("description", "").partition("\n")[0]
    return {
        "$schema": DRAFT,
        "$id": f"urn:noonwater:job:{FORMAT}",
        "title": "Noonwater job",
        "description": "One job of a contractor; each quantity is text with its unit.",
        **{key: job[key] for key in ("type", "properties", "required", "additionalProperties")},
        "$defs": models,
    }


MEANINGS = {
    "Job.name": "what the job is called",
    "Job.roof": "roof planes that can carry panels",
    "Job.pump": "the filter pump and its program of the day",
    "Array.banks": "banks of panels that share one feed and one return",
    "Pool.cover": "the cover and the hours it lies on the water",
    "Pool.bathing": "who is in the water, and when",
    "Pool.enclosure": "outdoor; inside an insect screen; indoor, with the hall's air",
    "Pool.setting": "whether walls and floor lie in the ground or the walls stand in the air",
    "Pool.soil": "what the pool lies in",
    "Pool.spa": "a spa beside the pool",
    "SpaWater.between": "its water between two uses: the pool's, or kept hot under a lid",
    "Job.heater": "the backup heater",
    "Heater.kind": "what the backup heater is",
    "calls_pump": "whether the heater may start the pump outside its program",
    "Pool.shelter": "how far the pool is kept from the wind",
    "Cover.kind": "what the cover is",
    "Cover.months": "months in which the cover is used, 1 to 12",
    "Controls.kind": "what decides: the difference of two sensors, or the clock alone",
    "Roof.name": "what the plane is called; a name of its own",
    "Roof.exposure": "how far the plane is open to the wind",
    "Pump.pump": "pump by its name in the catalog",
    "Alternative.kind": "what heats instead of the sun",
    "Alternative.maintenance": "upkeep of the other heater, in today's money",
    "Incentive.name": "what the incentive is called",
    "Money.offer": "what the owner pays",
    "Offer.file": "price list, CSV or XLSX; looked for beside the job file",
    "Terms.maintenance": "upkeep of the solar system, in today's money",
    "Window.start": "beginning of the hours",
    "alternatives": "other ways to the same warm water, that the sun is held against",
    "array": "the panels",
    "arrangement": "how the array is tied into the pad",
    "breaker": "where the vacuum breaker sits",
    "check_valves": "check valves that are there",
    "controls": "what decides that water goes to the roof",
    "currency": "currency of the prices",
    "file": "weather file: EPW, TMY3, TMY2, PVGIS or NSRDB; looked for beside the job file",
    "filter": "filter by its name in the catalog",
    "finish": "how bright the pool's walls and floor are",
    "ground": "what lies in front of the panels",
    "heater": "heater by its name in the catalog",
    "money": "prices that running costs are told in",
    "name": "what it is called",
    "pad": "the pad beside the pool, and the pipes",
    "panel": "panel by its name in the catalog",
    "piping": "how the headers of a bank share the water",
    "pool": "the pool and its owner's wishes",
    "priming_speed": "speed at each start of solar, till the water has passed the top",
    "roof": "roof plane by its name",
    "schedule": "schedule of the pipe, or metric sizes",
    "service": "who gives the weather: pvgis and nasa power need no key, nsrdb the user's own",
    "action": "what the edit does: add, remove, pipe or part",
    "catalog": "row of the catalog; empty: the plain one of its kind, or as it is",
    "method": "method of the test",
    "pipe": "pipe by its name in the circuit",
    "part": "part by its name in the circuit",
    "to": "pipe that a new branch ends in; empty: the part stands in the pipe itself",
    "AddPart.kind": "kind of part that is added",
    "Bank.changed": "panels that are not like the others: another kind, plugged tubes, left out",
    "FittedPiece.kind": "fitting by its name in the catalog",
    "Job.own_pump": "pumps of your own, by points of their data sheets",
    "Job.own_panel": "panels of your own, by their test certificates",
    "OwnPanel.like": "generic panel that gives what the certificate does not state",
    "OwnPanel.test": "what the certificate says",
    "PanelChange.left_out": "whether the panel is not there",
    "SetPipe.fittings": "fittings that are added to the pipe's",
    "booster": "pump in the feed that runs with solar, by its name in the catalog; none",
    "check_valve": "check valve by its name in the catalog",
    "cleaner": "cleaner by its name in the catalog; none",
    "cleaner_booster": "pump of a pressure cleaner's own, by its name in the catalog; none",
    "days": "days of the week on which the price holds",
    "diverter_seal": "whether the diverter seals tight or empties the feed through a hole",
    "drains": "drains that are there",
    "edit": "changes of the filled circuit, made in this order",
    "heater_place": "whether the heater stands after or before the array",
    "isolation_valves": "isolation valves that are there",
    "sanitizer": "sanitizer by its name in the catalog; none",
    "sanitizer_place": "whether the sanitizer is the last part or stands before the heater",
    "sight_windows": "whether the check valves have a window",
    "spa": "a spa on the same pump",
    "Array.trapped_water": "share of the panels' water that draining leaves in them",
    "Controls.cooling_months": "months in which solar may cool the pool, 1 to 12",
    "Period.purpose": "what the pump runs for; a spa's time heats no pool",
    "freeze": "what happens in a cold night: nothing, pool water circulates, a valve drains",
    "freeze_speed": "speed at which water circulates against frost; else solar's slowest",
    "freeze_watch": "whose temperature starts the freeze action",
    "sensor": "where the roof's temperature is felt",
    "sensor_roof": "roof plane that carries the sensor; empty: the first bank's",
    "site": "the place of the job",
    "solar": "whether water may go to the roof in this stretch",
    "solar_speed": "speed while water goes to the roof",
    "source": "where the weather comes from",
    "terrain": "what the wind crosses on its way to the house",
    "tax_on": "whether sales tax is on parts alone or on labour too",
    "terms": "how the years ahead are counted",
    "units": "units that results are shown in",
    "weather": "the typical year",
    "year": "typical year that ships inside a library",
}
"""What keys mean whose type says nothing about it; by model and key, or by key alone."""
