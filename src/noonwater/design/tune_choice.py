"""Which setting is taken, which of worth and plant binds, and why, in one sentence."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from noonwater.catalog import bank_panel
from noonwater.design.rule import percent, rpm
from noonwater.design.size_flow import HAND_SET
from noonwater.design.tune_setting import Bound, BoundName, Handle, Setting
from noonwater.model.job import Job

WORTH, PUMP, FLOW, NOTHING = "worth", "pump's end", "panels' flow", "nothing to choose"
"""Names of what binds besides those of `tune_setting.Bound`."""


WEIGHTS: dict[BoundName, int] = {
    "covers": 1000,
    "start": 100,
    "breaker": 10,
    "panel's least": 3,
    "panel's most": 3,
    "breaker margin": 1,
    "vacuum": 2,
}
"""How ill each is where no setting is free of all. Ours."""

SLOWEST = {
    "breaker": "the slowest that keeps the vacuum breaker shut with its margin",
    "breaker margin": "the slowest that keeps the vacuum breaker shut with its margin",
    "vacuum": "the slowest that keeps the array's top over the atmosphere's pressure",
    "start": "the slowest that lifts water over the top",
    "panel's least": "the slowest that gives each panel its least",
}


@dataclass(frozen=True)
class Choice:
    """A setting and its reason.

    Attributes
    ----------
    chosen : int
        Place of the setting to use.
    pays_best : int or None
        Place of the one that pays best, whether it may be used or not; None where heat has no
        price.
    binds : str
        "worth", a name of `tune_setting.Bound`, "pump's end", "panels' flow" (no price of heat:
        the flow that the panels are made for), or "nothing to choose".
    lost : float
        What the plant's bound costs against the one that pays best. [currency/s]
    reason : str
        One sentence.
    """

    chosen: int
    pays_best: int | None
    binds: str
    lost: float
    reason: str


def choose(
    job: Job, handle: Handle, settings: Sequence[Setting], nets: Sequence[float | None]
) -> Choice:
    """Choose among settings.

    Parameters
    ----------
    job : Job
        For its panels and units.
    handle : Handle
        What is set.
    settings : sequence of Setting
        Rising.
    nets : sequence of float or None
        Net worth at each; all None where heat has no price. [currency/s]

    Returns
    -------
    Choice
        Of settings that nothing forbids the one that pays best; without a price of heat the one
        that takes the fewest watts to give the panels the flow that they are made for. Where
        everything is forbidden, the least forbidden one that pays best.
    """
    usable = _usable(settings)
    weighed = [(i, net) for i, net in enumerate(nets) if net is not None]
    if not weighed:
        return _by_flow(job, handle, settings, usable)
    best = max((pair for pair in weighed if settings[pair[0]].state.primes), key=lambda p: p[1],
               default=weighed[0])[0]  # fmt: skip
    chosen = max(usable, key=lambda i: nets[i] or 0.0)
    lost = (nets[best] or 0.0) - (nets[chosen] or 0.0)
    if settings[chosen].bounds:
        words = f"no setting is free of faults; {settings[chosen].bounds[0].words}"
        reason = f"{_use(job, handle, settings[chosen])}, though {words}."
        return Choice(chosen, best, settings[chosen].bounds[0].name, lost, reason)
    if chosen == best:
        return _paying(job, handle, settings, chosen)
    bound = _toward(settings, chosen, best)
    slowest = SLOWEST.get(bound.name, "") if handle == "speed" and best < chosen else ""
    told = (
        f"{_use(job, handle, settings[chosen])}{f', {slowest}' if slowest else ''}:"
        f" {_value(handle, settings[best])} would pay best, by"
        f" {3600.0 * lost:.3f} {job.money.currency} an hour, but there {bound.words}."
    )
    return Choice(chosen, best, bound.name, lost, told)


def _usable(settings: Sequence[Setting]) -> list[int]:
    """Places of the settings with the fewest things that forbid them, weighty ones first."""
    faults = [sum(WEIGHTS[bound.name] for bound in each.bounds) for each in settings]
    return [i for i, count in enumerate(faults) if count == min(faults)]


def _toward(settings: Sequence[Setting], chosen: int, best: int) -> Bound:
    """What forbids going on from the chosen setting to the best-paying one, as it is there."""
    step = 1 if best > chosen else -1
    path = [settings[i].bounds for i in range(chosen + step, best + step, step)]
    nearest = next(bounds[0] for bounds in path if bounds)
    there = {bound.name: bound for bound in path[-1]}
    if nearest.name == "breaker margin" and "breaker" in there:
        return there["breaker"]
    return there.get(nearest.name, nearest)


def _paying(job: Job, handle: Handle, settings: Sequence[Setting], chosen: int) -> Choice:
    if len(settings) == 1:
        reason = f"{_use(job, handle, settings[chosen])}: the pump has no other setting."
        return Choice(chosen, chosen, NOTHING, 0.0, reason)
    use = _use(job, handle, settings[chosen])
    if handle != "speed":
        reason = (
            f"{use}: with more water on the roof the added heat is worth less than it costs, with"
            " less the panels run warmer and lose more."
        )
        if chosen in (0, len(settings) - 1):
            reason = f"{use}: that is the end of the valve's travel, and it pays best."
        if not settings[chosen].value and not _has_valve(job, handle):
            reason = f"{use}: with less water on the roof the panels run warmer and lose more."
        return Choice(chosen, chosen, WORTH, 0.0, reason)
    if chosen == len(settings) - 1:
        reason = f"{use}: that is as fast as the pump turns, and more flow would still pay."
        return Choice(chosen, chosen, PUMP, 0.0, reason)
    reason = (
        f"{use}: faster costs more in electricity than the added heat is worth, slower loses more"
        " heat than it saves."
    )
    return Choice(chosen, chosen, WORTH, 0.0, reason)


def _by_flow(job: Job, handle: Handle, settings: Sequence[Setting], usable: list[int]) -> Choice:
    """Without a price of heat: fewest watts at a flow that is enough for every panel."""
    nominal = sum(
        bank_panel(bank, job.own_panel).flow_nominal * len(bank.numbers) for bank in job.array.banks
    )
    enough = [i for i in usable if settings[i].state.array_flow >= nominal]
    chosen = (
        min(enough, key=lambda i: settings[i].state.power)
        if enough
        else max(usable, key=lambda i: settings[i].state.array_flow)
    )
    use, bounds = _use(job, handle, settings[chosen]), settings[chosen].bounds
    first = "the job has no price of heat, so nothing is weighed"
    if bounds:
        reason = f"{use}, though no setting is free of faults; {bounds[0].words}; {first}."
        return Choice(chosen, None, bounds[0].name, 0.0, reason)
    taken = settings[chosen].state.power
    less = [i for i, each in enumerate(settings) if each.state.power < taken]
    nearest = max(less, key=lambda i: settings[i].state.power, default=None)
    bounds = () if nearest is None else settings[nearest].bounds
    if bounds and nearest is not None:
        reason = (
            f"{use}: {first}; it takes the fewest watts that may be taken, for at"
            f" {_value(handle, settings[nearest])} {bounds[0].words}."
        )
        return Choice(chosen, None, bounds[0].name, 0.0, reason)
    reason = (
        f"{use}: {first}; of the settings that give the panels the flow they are made for it takes"
        " the fewest watts."
    )
    if not enough:
        reason = f"{use}: {first}; the panels get less than the flow they are made for at each."
    return Choice(chosen, None, FLOW, 0.0, reason)


def _use(job: Job, handle: Handle, setting: Setting) -> str:
    if handle == "speed":
        return f"Run solar at {rpm(setting.value)}"
    if not _has_valve(job, handle):
        if setting.value == 0.0:
            return "Leave the array without a bypass valve"
        return f"Put a bypass valve across the array, {percent(setting.value)} open"
    return f"Set the {handle} to {percent(setting.value)} open"


def _has_valve(job: Job, handle: Handle) -> bool:
    """Whether the job has what is set; a bypass is also tried where there is none."""
    return handle != "bypass valve" or HAND_SET.get(job.pad.arrangement) == handle


def _value(handle: Handle, setting: Setting) -> str:
    return rpm(setting.value) if handle == "speed" else f"{percent(setting.value)} open"
