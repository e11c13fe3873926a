"""The array laid out between feed and roof return: drains, booster, banks, breaker."""

from __future__ import annotations

from itertools import pairwise

from noonwater.catalog import check_valve_named, pump_named
from noonwater.hydraulics.arrangement_plan import SPOOL, Plan
from noonwater.hydraulics.bank import BankPlace, add_bank, bank_places
from noonwater.model.circuit import Feature, Port

BREAKER = "vacuum breaker"

LEVEL = 0.01
"""[m] A bank that lies lower than the feed's corner by more gets a drain of its own."""


def lay_roof(plan: Plan, start: Port, tie_in: Port) -> None:
    """Lay the feed, all banks and the roof return.

    Parameters
    ----------
    plan : Plan
        Added to.
    start, tie_in : Port
        Where the feed leaves the pad, and where the roof return comes back to it.
    """
    places = bank_places(plan.job)
    corner = _feed(plan, start, places[0])
    for place in places:
        add_bank(plan.parts, plan.pipes, place, plan.nominal)
    _feed_chain(plan, places, corner)
    _roof_return(plan, _return_chain(plan, places), tie_in)


def _feed(plan: Plan, after: Port, first: BankPlace) -> Port:
    """The feed to the array's low corner, with the breaker there if the job puts it there."""
    pad = plan.job.pad
    if "feed" in pad.isolation_valves:
        after = plan.inline(after, "feed isolation valve", "isolation valve")
    if "feed" in pad.drains:
        after = plan.drain(after, "feed drain", plan.height, "pad")
    if pad.booster != "none":
        booster = pump_named(pad.booster, "pad.booster", plan.job.own_pump).name
        after = plan.inline(after, "booster pump", "booster pump", booster)
    plan.part("feed corner", "tee", elevation=first.bottom)
    corner: Port = ("feed corner", "run in")
    if pad.breaker == "feed":
        plan.part(BREAKER, "vacuum breaker", BREAKER, first.bottom)
        plan.pipe(((BREAKER, "out"), corner), SPOOL, "feed")
        corner = (BREAKER, "in")
    if "array" in pad.drains:
        corner = plan.drain_before(corner, "array drain", first.bottom, "feed")
    plan.pipe((after, corner), pad.feed_length, "feed", plan.take_elbows("feed"), name="feed")
    return ("feed corner", "run out")


def _entry(plan: Plan, place: BankPlace, first: BankPlace) -> Port:
    """Where a pipe to a bank ends: at the bank, or at its drain where it lies below the corner."""
    if "array" in plan.job.pad.drains and place.bottom < first.bottom - LEVEL:
        return plan.drain_before(place.feed_port, f"{place.name} drain", place.bottom, "feed")
    return place.feed_port


def _feed_chain(plan: Plan, places: tuple[BankPlace, ...], feed: Port) -> None:
    """From the feed corner to the first bank, and on from bank to bank."""
    first = places[0]
    out = "branch" if len(places) > 1 else "run out"
    plan.pipe((("feed corner", out), first.feed_port), SPOOL, "feed")
    for previous, place in pairwise(places):
        run = abs(place.inlet - previous.inlet) + abs(place.bottom - previous.bottom)
        tee = f"{place.name} feed tee"
        last = place is places[-1]
        entry = _entry(plan, place, first)
        stop = entry if last else (tee, "run in")
        plan.pipe((feed, stop), max(run, SPOOL), "feed", name=f"feed to {place.name}")
        if not last:
            plan.part(tee, "tee", elevation=place.bottom)
            plan.pipe(((tee, "branch"), entry), SPOOL, "feed")
            feed = (tee, "run out")


def _return_chain(plan: Plan, places: tuple[BankPlace, ...]) -> Port:
    """From the first bank's outlet past the others; the breaker sits past the highest."""
    # Of banks equally high the last: past it the pipe goes down.
    highest = max(range(len(places)), key=lambda i: (places[i].top, i))
    out = places[0].return_port
    for i, place in enumerate(places):
        if i > 0:
            previous, tee = places[i - 1], f"{place.name} return tee"
            run = abs(place.outlet - previous.outlet) + abs(place.top - previous.top)
            plan.part(tee, "tee", elevation=place.top)
            stop = (tee, "run in")
            plan.pipe((out, stop), max(run, SPOOL), "roof return", name=f"return to {place.name}")
            plan.pipe((place.return_port, (tee, "branch")), SPOOL, "roof return")
            out = (tee, "run out")
        if i == highest and plan.job.pad.breaker == "high return":
            plan.part(BREAKER, "vacuum breaker", BREAKER, place.top)
            plan.pipe((out, (BREAKER, "in")), SPOOL, "roof return")
            out = (BREAKER, "out")
    return out


def _roof_return(plan: Plan, top: Port, tie_in: Port) -> None:
    """From the array's high corner down to the pad, past drain, check valve and isolation valve."""
    pad = plan.job.pad
    windows: tuple[Feature, ...] = ("sight window",) if pad.sight_windows else ()
    stop = tie_in
    if "roof return" in pad.isolation_valves:
        stop = plan.inline_before(stop, "roof return isolation valve", "isolation valve")
    if "roof return" in pad.check_valves:
        check = check_valve_named(pad.check_valve, "pad.check_valve").name
        name = "roof return check valve"
        stop = plan.inline_before(stop, name, "check valve", check, windows)
    if "roof return" in pad.drains:
        stop = plan.drain_before(stop, "roof return drain", plan.height, "pad")
    fittings = plan.take_elbows("roof return")
    plan.pipe((top, stop), pad.roof_return_length, "roof return", fittings, name="roof return")
