"""The figures that are always in view."""

from __future__ import annotations

import htpy as h

from noonwater.app.desk import View
from noonwater.core.units import in_system, unit_label
from noonwater.web.figures import KWH, figure, plain


def headline_line(view: View) -> h.Element:
    """Lay the figures side by side: warmth, flow, watts, money, findings."""
    line, system = view.headline, view.system

    def of(value: float | None, kind: str, digits: int) -> tuple[str, str]:
        number = None if value is None else in_system(value, kind, system)
        return plain(number, digits), unit_label(kind, system)

    rise, water, bare = (
        of(line.clear_day, "temperature difference", 1),
        of(line.season_water, "temperature", 0),
        of(line.season_without, "temperature", 0),
    )
    heat = None if line.solar_heat is None else line.solar_heat / KWH
    faults = f"{line.faults} to mend first" if line.faults else ""
    return h.dl(id="headline", class_="headline", aria_label="Always in view")[
        figure("a clear day adds", *rise, kind="heat"),
        figure("water while open", *water, note=f"({bare[0]} without)", kind="water"),
        figure("on the roof", *of(line.flow, "flow", 1)),
        figure("pump", *of(line.power, "power", 0)),
        figure("solar heat", plain(heat), "kWh a year", kind="heat"),
        figure("pump cost", plain(line.pump_cost), f"{view.job.money.currency} a year"),
        figure("findings", str(line.findings), note=faults, kind="bad" if line.faults else ""),
    ]
