"""The figures that are always in view."""

from __future__ import annotations

import htpy as h

from noonwater.app.desk import View
from noonwater.app.desk_money import money_of, owner_pays, shortest
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
        _price(view),
        figure("findings", str(line.findings), note=faults, kind="bad" if line.faults else ""),
    ]


def _price(view: View) -> h.Node:
    """Price and payback, where there is a price."""
    money = money_of(view)
    if money is None or money.price is None:
        return None
    pays, best = owner_pays(view.job, money), shortest(money)
    back = best.worth.payback_discounted if best else None
    life = view.job.money.terms.life
    words = "" if not money.held else f"never in {life} years"
    if best is not None and back is not None:
        name = "the own heater" if best.own else best.alternative.kind
        words = f"back in {plain(back, 1)} years against {name}"
    return figure("the owner pays", plain(pays), view.job.money.currency, words)
