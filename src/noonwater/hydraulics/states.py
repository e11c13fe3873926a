"""The operating states of a job: off, filtering, cleaning, spa, solar, priming, service."""

from __future__ import annotations

from typing import Literal

from noonwater.catalog import PumpType, pump_named
from noonwater.core.errors import Fault, InputError
from noonwater.hydraulics.arrangement import fill_circuit
from noonwater.model.circuit import Circuit, State
from noonwater.model.job import Job
from noonwater.model.pad_option import AddPart
from noonwater.model.plant import Period, Purpose

PURPOSES: tuple[Purpose, ...] = ("filter", "clean", "spa")

Hand = Literal["", "isolated", "draining"]
"""What hands have set: nothing; the roof's isolation valves shut; those, and all drains open."""

CLEANER_OPEN = 0.7
"""[-] How far a suction cleaner's valve opens to it while it cleans: common practice, no source."""


def job_states(job: Job) -> tuple[State, ...]:
    """All states that a job's program, and the hands that serve the pad, can bring about.

    Parameters
    ----------
    job : Job
        The whole job.

    Returns
    -------
    tuple of State
        Off; filtering, cleaning and serving the spa at each speed of the program; solar at each
        speed it runs at; priming; with isolation valves, filtering with solar isolated; with
        drains, standing with all of them open. Each once, slowest first.

    Raises
    ------
    InputError
        Every speed that the pump cannot turn at.
    """
    check_speeds(job)
    circuit = fill_circuit(job)
    running = {(purpose_of(job, period), period.rpm) for period in job.pump.program}
    solar = {
        (purpose_of(job, period), job.pump.solar_speed or period.rpm)
        for period in job.pump.program
        if period.heats
    }
    order = {purpose: number for number, purpose in enumerate(PURPOSES)}
    states = [_state(job, circuit, "off", 0.0)]
    for with_solar, found in ((False, running), (True, solar)):
        for purpose, speed in sorted(found, key=lambda each: (order[each[0]], each[1])):
            states.append(_running(job, circuit, speed, with_solar, purpose))
    if solar:
        speed = job.pump.priming_speed or max(speed for _, speed in solar)
        states.append(_state(job, circuit, f"priming {speed:.0f} rpm", speed, solar=True))
    if circuit.of_kind("isolation valve") and any(_serves_roof(circuit)):
        speed = min(speed for _, speed in running)
        states.append(_state(job, circuit, f"service {speed:.0f} rpm", speed, hand="isolated"))
    if circuit.of_kind("drain"):
        states.append(_state(job, circuit, "draining", 0.0, hand="draining"))
    return tuple(states)


def state_at(job: Job, speed: float, solar: bool, purpose: Purpose = "filter") -> State:
    """A running state.

    Parameters
    ----------
    job : Job
        The whole job.
    speed : float
        Of the pump. [rpm]
    solar : bool
        Whether the diverter sends water to the roof.
    purpose : Purpose
        What the pump runs for.

    Returns
    -------
    State
        Named "filter 1750 rpm", "solar 2400 rpm", "clean 2600 rpm", "solar clean 2600 rpm" or
        "spa 2000 rpm".
    """
    return _running(job, fill_circuit(job), speed, solar, purpose)


def purpose_of(job: Job, period: Period) -> Purpose:
    """What a period's valves stand for: without cleaner or spa on this pad, the filter.

    Parameters
    ----------
    job : Job
        The whole job.
    period : Period
        One of its pump's day.

    Returns
    -------
    Purpose
        "filter" where the pad has nothing that the purpose would set.
    """
    there = {"clean": job.pad.cleaner != "none", "spa": job.pad.spa is not None}
    return period.purpose if there.get(period.purpose, True) else "filter"


def positions(
    job: Job,
    circuit: Circuit,
    solar: bool,
    purpose: Purpose = "filter",
    hand: Hand = "",
) -> tuple[tuple[str, float], ...]:
    """Opening of each valve that can be set.

    Parameters
    ----------
    job : Job
        The whole job.
    circuit : Circuit
        Its circuit.
    solar : bool
        Whether the diverter sends water to the roof.
    purpose : Purpose
        What the pump runs for.
    hand : Hand
        What hands have set besides: solar isolated, or all drains open and solar isolated.

    Returns
    -------
    tuple of (str, float)
        Part and opening, in the circuit's order; a diverter's counts toward its last port. [-]
    """
    pad = job.pad
    set_to = {edit.name: edit.open for edit in pad.edit if isinstance(edit, AddPart)}
    spillover = pad.spa.spillover if pad.spa is not None else 0.0
    known = {
        "diverter": pad.diverter_open if solar else 0.0,
        "bypass valve": pad.bypass_open,
        "spa suction valve": 1.0 if purpose == "spa" else 0.0,
        "spa return valve": 1.0 if purpose == "spa" else spillover if purpose == "filter" else 0.0,
        "cleaner valve": _cleaner_valve(circuit, purpose),
    }
    roof = set(_serves_roof(circuit)) if hand else set()
    openings = []
    for part in circuit.parts:
        if not part.facts.settable:
            continue
        opening = known.get(part.name, part.facts.unset)
        asked = set_to.get(part.name)
        opening = opening if asked is None else asked
        if part.name in roof:
            opening = 0.0
        elif hand == "draining" and part.kind == "drain":
            opening = 1.0
        openings.append((part.name, opening))
    return tuple(openings)


def _cleaner_valve(circuit: Circuit, purpose: Purpose) -> float:
    """A suction cleaner's valve leaves some of the flow to the pool; a pressure line's is whole."""
    if purpose != "clean":
        return 0.0
    return CLEANER_OPEN if circuit.of_kind("suction cleaner") else 1.0


def _serves_roof(circuit: Circuit) -> list[str]:
    """Isolation valves between pad and roof: those that meet a feed or a roof return pipe.

    Walked from the diverter's solar port and against the roof return, so that a valve counts
    wherever an edit put it.
    """
    around: dict[str, list[str]] = {}
    for pipe in circuit.pipes:
        around.setdefault(pipe.start[0], []).append(pipe.stop[0])
        around.setdefault(pipe.stop[0], []).append(pipe.start[0])
    kinds = {part.name: part.kind for part in circuit.parts}
    # The roof's side: all that hangs together with the panels without passing these kinds.
    walls = {"isolation valve", "diverter", "bypass valve", "pool", "spa"}
    queue = [part.name for part in circuit.of_kind("panel")]
    seen, found = set(queue), []
    tie_ins = {"return tee", "bypass return tee", "bypass feed tee"}
    while queue:
        for other in around.get(queue.pop(), []):
            if other in seen:
                continue
            seen.add(other)
            if kinds[other] == "isolation valve":
                found.append(other)
            elif kinds[other] not in walls and other not in tie_ins:
                queue.append(other)
    return found


def _running(job: Job, circuit: Circuit, speed: float, solar: bool, purpose: Purpose) -> State:
    words = ["solar"] if solar else []
    words += [purpose] if purpose != "filter" or not solar else []
    name = f"{' '.join(words)} {speed:.0f} rpm"
    return _state(job, circuit, name, speed, solar, purpose)


def _state(
    job: Job,
    circuit: Circuit,
    name: str,
    speed: float,
    solar: bool = False,
    purpose: Purpose = "filter",
    hand: Hand = "",
) -> State:
    opened = positions(job, circuit, solar, purpose, hand)
    speeds = tuple(
        (part.name, pump_named(part.catalog, own=circuit.own_pumps).rated_speed)
        for part in circuit.of_kind("booster pump")
        if speed > 0.0 and _boosts(circuit, part.name, solar, purpose)
    )
    return State(name, speed, solar, opened, speeds)


def _boosts(circuit: Circuit, name: str, solar: bool, purpose: Purpose) -> bool:
    """A booster runs while the line that it stands in is used."""
    roles = {pipe.role for pipe in circuit.pipes_at(name)}
    if "cleaner" in roles:
        return purpose == "clean"
    return solar or not roles & {"feed", "roof return"}


def check_speeds(job: Job) -> None:
    """Refuse speeds that the pump does not have, all at once.

    Parameters
    ----------
    job : Job
        The whole job.

    Raises
    ------
    InputError
        With a fault for each.
    """
    pump = pump_named(job.pump.pump, own=job.own_pump)
    asked = [(f"pump.program[{i}].speed", period.rpm) for i, period in enumerate(job.pump.program)]
    asked += [
        (f"pump.{name}", speed)
        for name, speed in (
            ("solar_speed", job.pump.solar_speed),
            ("priming_speed", job.pump.priming_speed),
            ("freeze_speed", job.pump.freeze_speed),
        )
        if speed is not None
    ]
    faults = [fault for path, speed in asked for fault in speed_faults(pump, speed, path)]
    if faults:
        raise InputError(faults)


def speed_faults(pump: PumpType, speed: float, field: str) -> list[Fault]:
    """What is wrong with a speed, if anything.

    Parameters
    ----------
    pump : PumpType
        The pump.
    speed : float
        Wanted. [rpm]
    field : str
        Path of the job's field.

    Returns
    -------
    list of Fault
        None or one.
    """
    if pump.lowest_speed <= speed <= pump.highest_speed:
        return []
    if pump.lowest_speed == pump.highest_speed:
        allowed = f"only {pump.rated_speed:.0f} rpm, '{pump.name}' has one speed"
        remedy = "write that speed, or choose a variable-speed pump"
    else:
        allowed = f"{pump.lowest_speed:.0f} to {pump.highest_speed:.0f} rpm for '{pump.name}'"
        remedy = "choose a speed that the pump has"
    return [Fault(field, f"{speed:.0f} rpm", allowed, remedy)]
