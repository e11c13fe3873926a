"""The pad laid out: suction, pump and filter, diverter, heater and sanitizer, return, spa."""

from __future__ import annotations

from noonwater.catalog import (
    check_valve_named,
    cleaner_named,
    filter_named,
    heater_named,
    pump_named,
    sanitizer_named,
)
from noonwater.core.errors import Fault, InputError
from noonwater.hydraulics.arrangement_plan import SPOOL, Plan
from noonwater.model.circuit import Feature, Fitting, Port

FEATURES: dict[str, tuple[Feature, ...]] = {
    "diverter": ("actuator",),
    "diverter with bypass": ("actuator",),
    "diverter with stops": ("actuator", "stops"),
    "hand diverter": ("by hand",),
}
"""What turns the diverter of an arrangement."""

ENTRANCE, EXIT = (Fitting("entrance", 1),), (Fitting("exit", 1),)


def lay_suction(plan: Plan) -> None:
    """Lay the suction from pool, suction cleaner and spa to the pump.

    Parameters
    ----------
    plan : Plan
        Added to.
    """
    pad = plan.job.pad
    cleaner = cleaner_named(pad.cleaner)
    ports: tuple[str, ...] = ("return", "suction")
    if cleaner.kind == "suction cleaner":
        ports = (*ports, "cleaner line")
    elif cleaner.kind == "pressure cleaner":
        ports = (*ports, "cleaner")
    plan.part("pool", "pool", elevation=0.0, ports=ports)
    pump = pump_named(plan.job.pump.pump, own=plan.job.own_pump).name
    after: Port = ("pool", "suction")
    length, fittings = pad.suction_length, (*ENTRANCE, *plan.take_elbows("suction"))
    if cleaner.kind == "suction cleaner":
        plan.part("suction cleaner", "suction cleaner", cleaner.name, elevation=0.0)
        plan.part("cleaner valve", "diverter", "seals tight", ports=("out", "pool", "cleaner"))
        plan.pipe((after, ("cleaner valve", "pool")), length, "suction", fittings)
        plan.pipe((("pool", "cleaner line"), ("suction cleaner", "in")), 0.0, "cleaner")
        plan.pipe(
            (("suction cleaner", "out"), ("cleaner valve", "cleaner")),
            length,
            "cleaner",
            name="cleaner line",
        )
        after, length, fittings = ("cleaner valve", "out"), SPOOL, ()
    if pad.spa is not None:
        plan.part("spa", "spa", elevation=pad.spa.elevation)
        plan.part("spa suction valve", "diverter", "seals tight", ports=("out", "pool", "spa"))
        plan.pipe((after, ("spa suction valve", "pool")), length, "suction", fittings)
        ends = (("spa", "suction"), ("spa suction valve", "spa"))
        plan.pipe(ends, pad.spa.suction_length, "suction", ENTRANCE)
        after, length, fittings = ("spa suction valve", "out"), SPOOL, ()
    plan.part("pump", "pump", pump)
    plan.pipe((after, ("pump", "in")), length, "suction", fittings)


def lay_filter(plan: Plan) -> Port:
    """Lay the filter, its check valve and what is tapped behind it.

    Parameters
    ----------
    plan : Plan
        Added to.

    Returns
    -------
    Port
        Where the diverter's supply comes from.
    """
    pad = plan.job.pad
    check = check_valve_named(pad.check_valve, "pad.check_valve").name
    plan.part("filter", "filter", filter_named(pad.filter).name)
    plan.pipe((("pump", "out"), ("filter", "in")), SPOOL, "pad", plan.take_elbows("pad"))
    after: Port = ("filter", "out")
    if "after filter" in pad.check_valves:
        after = plan.inline(
            after, "filter check valve", "check valve", check, features=_windows(plan)
        )
    if cleaner_named(pad.cleaner).kind == "pressure cleaner":
        after = _lay_pressure_cleaner(plan, after)
    if pad.heater_place == "before solar":
        after = _lay_heater(plan, after)
    return after


def lay_diverter(plan: Plan, after: Port) -> Port:
    """Lay diverter and tie-in.

    Parameters
    ----------
    plan : Plan
        Added to.
    after : Port
        What supplies it.

    Returns
    -------
    Port
        The diverter's way to the roof.
    """
    pad = plan.job.pad
    ports = ("in", "pool", "solar")
    features = FEATURES[pad.arrangement]
    plan.part("diverter", "diverter", pad.diverter_seal, ports=ports, features=features)
    plan.pipe((after, ("diverter", "in")), SPOOL, "pad")
    plan.part("return tee", "tee")
    plan.pipe((("diverter", "pool"), ("return tee", "run in")), SPOOL, "pad")
    return ("diverter", "solar")


def lay_bypass(plan: Plan, solar: Port) -> tuple[Port, Port]:
    """Lay the hand-set bypass, if the arrangement has one.

    Parameters
    ----------
    plan : Plan
        Added to.
    solar : Port
        The diverter's way to the roof.

    Returns
    -------
    tuple of Port
        Where the feed starts and the roof return ends.
    """
    tie_in: Port = ("return tee", "branch")
    if plan.job.pad.arrangement != "diverter with bypass":
        return solar, tie_in
    plan.part("bypass feed tee", "tee")
    plan.part("bypass valve", "bypass valve")
    plan.part("bypass return tee", "tee")
    plan.pipe((solar, ("bypass feed tee", "run in")), SPOOL, "pad")
    plan.pipe((("bypass feed tee", "branch"), ("bypass valve", "in")), SPOOL, "pad")
    plan.pipe((("bypass valve", "out"), ("bypass return tee", "branch")), SPOOL, "pad")
    plan.pipe((("bypass return tee", "run out"), tie_in), SPOOL, "pad")
    return ("bypass feed tee", "run out"), ("bypass return tee", "run in")


def lay_return(plan: Plan) -> None:
    """Lay the way from the tie-in through heater and sanitizer to pool and spa.

    Parameters
    ----------
    plan : Plan
        Added to.
    """
    pad = plan.job.pad
    after: Port = ("return tee", "run out")
    if pad.sanitizer_place == "before heater":
        after = _lay_sanitizer(plan, after)
    if pad.heater_place == "after solar":
        after = _lay_heater(plan, after)
    if pad.sanitizer_place == "last":
        after = _lay_sanitizer(plan, after)
    if pad.spa is not None:
        after = _lay_spa_return(plan, after)
    fittings = (*plan.take_elbows("return"), *EXIT)
    plan.pipe((after, ("pool", "return")), pad.return_length, "return", fittings)


def _windows(plan: Plan) -> tuple[Feature, ...]:
    return ("sight window",) if plan.job.pad.sight_windows else ()


def _lay_heater(plan: Plan, after: Port) -> Port:
    heater = heater_named(plan.job.pad.heater).name
    if heater == "none":
        return after
    plan.part("heater", "heater", heater)
    plan.pipe((after, ("heater", "in")), 2 * SPOOL, "pad")
    return ("heater", "out")


def _lay_sanitizer(plan: Plan, after: Port) -> Port:
    sanitizer = sanitizer_named(plan.job.pad.sanitizer).name
    if sanitizer == "none":
        return after
    return plan.inline(after, "sanitizer", "sanitizer", sanitizer)


def _lay_pressure_cleaner(plan: Plan, after: Port) -> Port:
    """Tap a cleaner's line before the array: its hose takes no hot water (common practice)."""
    pad = plan.job.pad
    cleaner = cleaner_named(pad.cleaner)
    plan.part("cleaner tee", "tee")
    plan.pipe((after, ("cleaner tee", "run in")), SPOOL, "pad")
    line: Port = ("cleaner tee", "branch")
    if pad.cleaner_booster != "none":
        booster = pump_named(pad.cleaner_booster, "pad.cleaner_booster", plan.job.own_pump)
        line = plan.inline(line, "cleaner booster", "booster pump", booster.name, role="cleaner")
    elif cleaner.boosted:
        allowed = "a pump that boosts it, or a cleaner that needs none"
        given = f"none, with the cleaner '{cleaner.name}'"
        remedy = 'write cleaner_booster = "booster cleaner"'
        raise InputError([Fault("pad.cleaner_booster", given, allowed, remedy)])
    line = plan.inline(line, "cleaner valve", "isolation valve", role="cleaner")
    plan.part("pressure cleaner", "pressure cleaner", cleaner.name, elevation=0.0)
    ends = (line, ("pressure cleaner", "in"))
    plan.pipe(ends, pad.return_length, "cleaner", name="cleaner line")
    plan.pipe((("pressure cleaner", "out"), ("pool", "cleaner")), 0.0, "cleaner")
    return ("cleaner tee", "run out")


def _lay_spa_return(plan: Plan, after: Port) -> Port:
    """Lay the valve that chooses pool or spa; a raised spa gets a check valve, so it stays full."""
    spa = plan.job.pad.spa
    assert spa is not None
    plan.part("spa return valve", "diverter", "seals tight", ports=("in", "pool", "spa"))
    plan.pipe((after, ("spa return valve", "in")), SPOOL, "pad")
    line: Port = ("spa return valve", "spa")
    if spa.elevation > 0.0:
        check = check_valve_named(plan.job.pad.check_valve, "pad.check_valve").name
        line = plan.inline(
            line, "spa check valve", "check valve", check, features=_windows(plan), role="return"
        )
    plan.pipe((line, ("spa", "return")), spa.return_length, "return", EXIT, name="spa return")
    return ("spa return valve", "pool")
