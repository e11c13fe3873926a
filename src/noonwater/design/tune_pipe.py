"""Which pipe to the roof and back costs least over its life, pump electricity counted."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from math import pi

from noonwater.catalog import PipeSize, pipes
from noonwater.core.errors import InputError
from noonwater.core.progress import Steps, Told, untold
from noonwater.design.money_flows import present_worth_factor
from noonwater.design.money_parts import PriceRow
from noonwater.design.money_savings import electricity_rise
from noonwater.design.money_tariff import electricity_cost
from noonwater.design.rule import rpm, shown
from noonwater.design.size_flow import SetFlow, as_set, flow_per_area, set_flow
from noonwater.design.system_price import SystemPrice, system_price
from noonwater.design.velocity import VELOCITY_RETURN
from noonwater.hydraulics.arrangement import fill_circuit
from noonwater.hydraulics.flow import StateFlow
from noonwater.model.job import Job
from noonwater.model.pad_option import SetPipe
from noonwater.year import parameters as at
from noonwater.year.flows import PeriodFlows
from noonwater.year.prepare import prepare
from noonwater.year.run import settled_year
from noonwater.year.surroundings import Surroundings

ROOF_ROLES = ("feed", "roof return")
ROOF_RUNS = ("feed", "roof return")
"""Names of the runs from the pad to the array and back."""
SMALLEST, LARGEST = 0.03, 0.115
"""[m] Sizes that are tried. Ours."""

FlowsOf = Callable[[Job], PeriodFlows]


@dataclass(frozen=True)
class PipeChoice:
    """A size of pipe to the roof and back.

    Attributes
    ----------
    name : str
        Size and schedule in words.
    nominal : float
        [m]
    own : bool
        Whether the job has it.
    rpm, power : float
        Of the pump while solar runs. [rpm], [W]
    velocity : float
        Of the water in the two runs. [m/s]
    bounds : tuple of str
        Why it is not to be had; empty where it is.
    price : SystemPrice
        Of the whole system with it.
    energy : float
        Of the pump in a year. [J]
    cost : float
        Of that. [currency]
    life_cost : float
        Price, and today's worth of the electricity of all years. [currency]
    """

    name: str
    nominal: float
    own: bool
    rpm: float
    power: float
    velocity: float
    bounds: tuple[str, ...]
    price: SystemPrice
    energy: float
    cost: float
    life_cost: float


def pipe_choices(
    job: Job,
    around: Surroundings,
    flows_of: FlowsOf,
    rows: Sequence[PriceRow],
    factor: float = 1.0,
    *,
    told: Told = untold,
) -> tuple[PipeChoice, ...]:
    """Try every size of pipe to the roof and back at the same flow through the panels.

    Parameters
    ----------
    job : Job
        Set as it will run.
    around : Surroundings
        Of its site.
    flows_of : callable
        Solves a job's circuit for the year.
    rows : sequence of PriceRow
        The contractor's price list.
    factor : float
        Of `noonwater.design.system_price.price_factor`. [-]
    told : callable, optional
        Is told how many sizes have been tried.

    Returns
    -------
    tuple of PipeChoice
        Rising; sizes without an answer are left out. Suction and return stay as they are.
    """
    found, sizes = [], sizes_of(job)
    steps = Steps(told, len(sizes), "sizes of pipe")
    for size in sizes:
        try:
            variant = with_roof_pipe(job, size)
            setting = _at_same_flow(variant, job)
            if setting.state is not None and setting.state.primes:
                found.append(_choice(job, size, setting, (around, flows_of, rows, factor)))
        except InputError:
            # The job's own edits of the circuit don't bear this size.
            pass
        steps.one_done()
    return tuple(found)


def sizes_of(job: Job) -> list[PipeSize]:
    """Sizes of the job's schedule that are tried, rising."""
    sizes = (size for size in pipes() if size.schedule == job.pad.schedule)
    return sorted(
        (size for size in sizes if SMALLEST <= size.nominal <= LARGEST),
        key=lambda size: size.nominal,
    )


def with_roof_pipe(job: Job, size: PipeSize) -> Job:
    """Lay the runs of feed and roof return of a size; the job itself where it has it already.

    Pipes between banks stay of the pad's size, so that a variant with other banks bears the edits.
    """
    named = [pipe for pipe in fill_circuit(job).pipes if pipe.name in ROOF_RUNS]
    edits = [
        SetPipe("pipe", pipe.name, size=size.nominal)
        for pipe in named
        if pipe.diameter != size.diameter
    ]
    return replace(job, pad=replace(job.pad, edit=(*job.pad.edit, *edits))) if edits else job


def best_pipe(choices: Sequence[PipeChoice]) -> PipeChoice | None:
    """The one of least cost over its life, of those that are to be had."""
    free = [choice for choice in choices if not choice.bounds]
    return min(free, key=lambda choice: choice.life_cost, default=None)


def pipe_reason(job: Job, choices: Sequence[PipeChoice]) -> str:
    """Say in one sentence which pipe to lay and why."""
    best = best_pipe(choices)
    own = next((choice for choice in choices if choice.own), None)
    if best is None:
        why = f": with {own.name}, {own.bounds[0]}" if own is not None else ""
        return f"No size of pipe to the roof and back is free of faults{why}."
    money, years = job.money.currency, job.money.terms.life
    larger = next((c for c in choices if c.nominal > best.nominal and not c.bounds), None)
    text = f"Lay {best.name} pipe to the roof and back"
    if own is not None and own is not best:
        saved = own.life_cost - best.life_cost
        why = f"; {own.bounds[0]}" if own.bounds else ""
        return (
            f"{text}: over {years} years it costs {saved:,.0f} {money} less than {own.name},"
            f" electricity counted{why}."
        )
    if larger is None:
        return f"{text}: of the sizes that can be laid it costs least over {years} years."
    more = larger.price.total - best.price.total
    spared = best.cost - larger.cost
    if spared < 0.0:
        return (
            f"{text}: {larger.name} costs {more:,.0f} {money} more and spares no electricity, for"
            f" the breaker at the top then asks for {rpm(larger.rpm)}."
            if larger.rpm > best.rpm
            else f"{text}: {larger.name} costs {more:,.0f} {money} more and spares no electricity."
        )
    return (
        f"{text}: {larger.name} costs {more:,.0f} {money} more and saves {spared:,.2f} {money} of"
        f" electricity a year, too little over {years} years."
    )


def _at_same_flow(variant: Job, job: Job) -> SetFlow:
    """The variant with the flow through the panels that the job has."""
    return as_set(job) if variant is job else set_flow(variant, flow_per_area(job))


def _choice(
    job: Job,
    size: PipeSize,
    setting: SetFlow,
    with_what: tuple[Surroundings, FlowsOf, Sequence[PriceRow], float],
) -> PipeChoice:
    around, flows_of, rows, scale = with_what
    state, money = setting.state, job.money
    assert state is not None
    record = settled_year(prepare(setting.job, around, flows_of(setting.job))).record
    use = record[:, at.PUMP_ENERGY]
    cost = float(electricity_cost(money, use).sum())
    price = system_price(setting.job, rows)
    price = replace(price, total=scale * price.total, parts=scale * price.parts)
    terms = money.terms
    factor = present_worth_factor(terms.life, electricity_rise(terms), terms.discount_rate)
    return PipeChoice(
        name=size.name,
        nominal=size.nominal,
        own=setting.job is job,
        rpm=state.rpm,
        power=state.power,
        velocity=state.array_flow / (0.25 * pi * size.diameter**2),
        bounds=(*setting.bounds, *_too_fast(job, state)),
        price=price,
        energy=float(use.sum()),
        cost=cost,
        life_cost=price.total + factor * cost,
    )


def _fastest(state: StateFlow) -> float:
    """Of the water in any pipe to the roof and back, those between banks too. [m/s]."""
    return max((v.velocity for v in state.velocities if v.role in ROOF_ROLES), default=0.0)


def _too_fast(job: Job, state: StateFlow) -> tuple[str, ...]:
    velocity = _fastest(state)
    if velocity <= VELOCITY_RETURN:
        return ()
    given, limit = (shown(job, each, "velocity") for each in (velocity, VELOCITY_RETURN))
    return (f"the water to the roof and back runs at {given}, more than {limit}",)
