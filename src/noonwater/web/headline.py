"""The figures that are always in view."""

from __future__ import annotations

import htpy as h

from noonwater.app.desk import View
from noonwater.app.desk_money import money_of, owner_pays, told_first
from noonwater.core.digits import about
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
    heat = None if line.solar_heat is None else about(line.solar_heat / KWH)
    bare_words = "without solar" if view.job.heater.kind == "none" else "unheated"
    faults = f"{line.faults} to mend first" if line.faults else ""
    return h.dl(id="headline", class_="headline", aria_label="Always in view")[
        figure("a clear day adds at least", *rise, kind="heat"),
        figure("water while open", *water, note=f"({bare[0]} {bare_words})", kind="water"),
        figure("on the roof", *of(line.flow, "flow", 1)),
        figure("pump with solar on", *of(line.power, "power", 0)),
        figure("solar heat", plain(heat), "kWh a year", kind="heat"),
        figure("pump, whole year", plain(line.pump_cost), f"{view.job.money.currency} a year"),
        _price(view),
        figure("findings", str(line.findings), note=faults, kind="bad" if line.faults else ""),
    ]


def _price(view: View) -> h.Node:
    """Price and payback, where there is a price."""
    money = money_of(view)
    if money is None or money.price is None:
        return None
    pays, best = owner_pays(view.job, money), told_first(money)
    back = best.worth.payback_discounted if best else None
    words = "" if not money.held else f"never in {view.job.money.terms.life} years"
    if best is not None:
        name = "its heater" if best.own else best.alternative.kind
        when = words if back is None else f"back in {plain(back, 1)} years"
        words = f"{when} against {name}"
    return figure("the owner pays", plain(pays), view.job.money.currency, words)
