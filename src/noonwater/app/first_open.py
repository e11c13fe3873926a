"""What the six questions leave open, and a job's tables with what a surveyor may find there."""

from __future__ import annotations

from collections.abc import Sequence
from copy import deepcopy
from dataclasses import dataclass
from typing import Any

from noonwater.app.job_place import Tables, place_of
from noonwater.model.job import Job


@dataclass(frozen=True)
class Open:
    """A field that the six questions leave open, and what a surveyor may find there.

    Attributes
    ----------
    field : str
        Of the job.
    found : tuple of str
        Each as likely as the others; a likelier one stands there more than once. Common practice,
        no source.
    """

    field: str
    found: tuple[str, ...]


PLACE_AND_POOL = (
    Open("site.terrain", ("open field", "suburb", "suburb", "town or woods")),
    Open("pool.shelter", ("open", "partly sheltered", "partly sheltered", "sheltered")),
    Open("pool.shade", ("0 %", "5 %", "10 %", "20 %", "30 %")),
    Open("pool.finish", ("white", "light", "light", "medium", "dark")),
    Open("roof[0].exposure", ("open", "partly sheltered", "sheltered")),
)
PLUMBING = (
    Open("roof[0].eave_height", ("2.4 m", "2.8 m", "3.2 m", "5.5 m")),
    Open("pad.pipe", ("1.5 in", "2 in", "2 in", "2.5 in")),
    Open("pad.feed_length", ("8 m", "14 m", "20 m", "30 m")),
    Open("pad.filter", ("cartridge", "sand", "DE")),
    Open("pad.elbows", ("12", "18", "24")),
)
COVERED = (
    Open("pool.cover.on_from", ("18:00", "20:00", "22:00")),
    Open("pool.cover.on_until", ("07:00", "09:00", "10:00")),
    Open("pool.cover.months", ("all", "all", "cool", "open's ends")),
)
VARIABLE = (Open("pump.solar_speed", ("2200 rpm", "2500 rpm", "2700 rpm", "3000 rpm")),)
DAY = (
    Open("pump.program[0].start", ("07:00", "08:00", "08:30", "09:00", "10:00")),
    Open("pump.program[0].stop", ("15:00", "16:00", "17:00", "17:30", "18:00")),
    Open("controls.on_difference", ("3 K", "4 K", "5 K", "6 K")),
    Open("weather.seed", ("1", "2", "3")),
)
ESTIMATED = (
    Open("site.elevation", ("0 m", "50 m", "150 m", "500 m")),
    Open("weather.wind", ("2 m/s", "3 m/s", "3 m/s", "4.5 m/s")),
)
DAMPNESS = ("-4", "0", "4")
"""[K] A dew point that is told by rain is ±4 K: docs/decisions/0015-rough-world-climate.md."""
DAMP = {
    "months": (*ESTIMATED, Open("weather.dew_point", DAMPNESS)),
    "rough": (*ESTIMATED, Open("weather.humidity", DAMPNESS)),
}
"""What the town's months leave open, by the source of weather that they are."""
SECOND_PLANE = ("0", "0", "0", "-90", "90")
"""[°] Turn of a second plane that a third of the panels lies on; 0 for none."""


def open_fields(job: Job) -> tuple[Open, ...]:
    """What the six questions leave open about a job."""
    covered = COVERED if job.pool.cover.kind != "none" else ()
    variable = VARIABLE if job.pump.solar_speed is not None else ()
    damp = DAMP.get(job.weather.source, ())
    return (*PLACE_AND_POOL, *PLUMBING, *covered, *variable, *DAY, *damp)


def surveyed(tables: Tables, opens: Sequence[Open], shares: Sequence[float]) -> Tables:
    """Give a job's tables as a survey may find them.

    Parameters
    ----------
    tables : dict
        As the six answers made them; left as they are.
    opens : sequence of Open
        The open fields.
    shares : sequence of float
        One for each of them and one more for the second plane, each from 0 to below 1. [-]

    Returns
    -------
    dict
    """
    drawn = deepcopy(tables)
    for each, share in zip(opens, shares, strict=False):
        put(drawn, each.field, each.found[int(share * len(each.found))])
    _turn(drawn, SECOND_PLANE[int(shares[len(opens)] * len(SECOND_PLANE))])
    return drawn


def put(tables: Tables, field: str, text: str) -> None:
    """Set an open field to what a surveyor found; months of a cover by their name."""
    place = place_of(field) or ()
    holder: Any = tables
    for step in place[:-1]:
        holder = holder[step]
    if field == "pool.cover.months":
        holder["months"] = _cover_months(tables, text)
    elif field == "weather.wind":
        holder["wind"] = [text] * 12
    elif field in ("weather.dew_point", "weather.humidity"):
        holder[place[-1]] = _damper(tables, float(text), str(place[-1]))
    else:
        holder[place[-1]] = int(text) if text.isdigit() else text


def _cover_months(tables: Tables, which: str) -> list[int]:
    first, last = int(tables["pool"]["opens"][:2]), int(tables["pool"]["closes"][:2])
    if which == "cool":
        return [11, 12, 1, 2, 3, 4] if first == last or (first, last) == (1, 12) else [4, 5, 9, 10]
    if which == "all" or first == last:
        return list(range(1, 13))
    return sorted({first, first % 12 + 1, (last - 2) % 12 + 1, last})


def _damper(tables: Tables, kelvin: float, field: str) -> list[str]:
    """Dew point or humidity of every month, the dew point shifted but never above the air."""
    from noonwater.app.job_file import read_job_tables
    from noonwater.app.weather import monthly_means_of
    from noonwater.physics.air import vapour_pressure_saturation

    means = monthly_means_of(read_job_tables(tables))
    pairs = [
        (min(dew + kelvin, air - 0.2), air)
        for dew, air in zip(means.dew_point, means.temp_air, strict=True)
    ]
    if field == "dew_point":
        return [f"{dew:.2f} degC" for dew, _ in pairs]
    at = vapour_pressure_saturation
    return [f"{100.0 * at(dew) / at(air):.2f} %" for dew, air in pairs]


def _turn(tables: Tables, degrees: str) -> None:
    """Put a third of the panels on a plane turned so far; none for 0."""
    if degrees == "0":
        return
    main = tables["roof"][0]
    bearing = (float(str(main["bearing"]).split()[0]) + float(degrees)) % 360.0
    tables["roof"].append({**main, "name": "second roof", "bearing": f"{bearing:g} deg"})
    banks = tables["array"]["banks"]
    moved = []
    for bank in banks:
        third = round(bank["panels"] / 3)
        if third:
            bank["panels"] -= third
            moved.append({**bank, "roof": "second roof", "panels": third})
    banks += moved
