"""What each panel gets: within its range, and evenly."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import ceil

from noonwater.catalog import PanelType, bank_panel
from noonwater.core.errors import InputError
from noonwater.core.finding import Finding
from noonwater.design.rule import SUCTION_CAUTION, Rule, percent, rpm, shown
from noonwater.design.search import (
    Good,
    greatest_speed,
    least_speed,
    narrowest_bypass,
    running_solar,
    runs_without_air,
    solved,
    speed_field,
    widest_bypass,
)
from noonwater.hydraulics.flow import FlowResult, StateFlow
from noonwater.model.job import Job
from noonwater.model.plant import Array

LEAST_SHARE = 0.7
MOST_PARTS = 4

PANEL_RANGE_SOURCE = (
    "the panel's row in the catalog; from one installation manual, read: 2.5 to 10 gpm a 4x10 panel"
)

PANEL_FLOW_LOW = Rule(
    "panel-flow-low",
    "caution",
    limit="at least flow_min of the panel's catalog row, in every panel while solar runs",
    source=PANEL_RANGE_SOURCE,
    remedy="run solar faster or shut the bypass",
)
PANEL_FLOW_HIGH = Rule(
    "panel-flow-high",
    "caution",
    limit="at most flow_max of the panel's catalog row, in every panel while solar runs",
    source=PANEL_RANGE_SOURCE,
    remedy="run solar slower or open the bypass",
)
PANEL_STARVED = Rule(
    "panel-starved",
    "caution",
    limit=f"at least {percent(LEAST_SHARE)} of the array's mean flow per area "
    "in the least-fed panel",
    source="UFC 3-440-01 (2002, since cancelled), read: flows within 30 %; the share is computed "
    "with ideal momentum in the headers, not validated against a measured array",
    remedy="reverse return, shorter banks, balancing valves",
)


@dataclass(frozen=True)
class Fed:
    """One panel and what it gets.

    Attributes
    ----------
    bank, number : int
        Places, from 0.
    panel : PanelType
        Its kind.
    flow : float
        [m³/s]
    share : float
        Flow per area over the array's mean. [-]
    """

    bank: int
    number: int
    panel: PanelType
    flow: float
    share: float

    def named(self, job: Job) -> str:
        """Say which panel it is."""
        roof = job.array.banks[self.bank].roof
        return f"Panel {self.number + 1} of bank {self.bank + 1} on '{roof}'"


def panel_flow_low(job: Job, flow: FlowResult) -> Iterator[Finding]:
    """Check that every panel gets its least flow; one starved by its neighbours is told there."""

    def enough(state: StateFlow) -> bool:
        return state.primes and all(
            fed.flow >= fed.panel.flow_min for fed in fed_panels(job, state)
        )

    for state in running_solar(flow):
        fed = fed_too_little(job, state)
        if fed is None:
            continue
        yield PANEL_FLOW_LOW.finding(
            speed_field(job, state),
            value=f"{shown(job, fed.flow, 'flow', 2)} at {rpm(state.rpm)}",
            limit=f"{shown(job, fed.panel.flow_min, 'flow', 2)} or more",
            text=f"{fed.named(job)} gets less water than it needs to be wetted and purged of air.",
            remedy=_more(job, flow, state, enough),
        )


def _more(job: Job, flow: FlowResult, state: StateFlow, enough: Good) -> str:
    speed = least_speed(job, True, enough, flow.temp_water)
    if speed is not None and speed > state.rpm:
        return f"Run solar at {rpm(speed)} or more. {SUCTION_CAUTION}"
    opening = widest_bypass(job, state.rpm, enough, flow.temp_water)
    if opening is not None:
        return f"Close the bypass to {shown(job, opening, 'share', 0)}."
    return f"Take fewer panels or a stronger pump. {SUCTION_CAUTION}"


def panel_flow_high(job: Job, flow: FlowResult) -> Iterator[Finding]:
    """Check that no panel gets more than its most; one flooded by uneven sharing is told there."""

    def bearable(state: StateFlow) -> bool:
        return all(fed.flow <= fed.panel.flow_max for fed in fed_panels(job, state))

    for state in running_solar(flow):
        fed = fed_too_much(job, state)
        if fed is None:
            continue
        yield PANEL_FLOW_HIGH.finding(
            speed_field(job, state),
            value=f"{shown(job, fed.flow, 'flow', 2)} at {rpm(state.rpm)}",
            limit=f"{shown(job, fed.panel.flow_max, 'flow', 2)} or less",
            text=f"{fed.named(job)} gets more water than it bears, which wears it and wastes pump "
            "power.",
            remedy=_less(job, flow, state, bearable),
        )


def _less(job: Job, flow: FlowResult, state: StateFlow, bearable: Good) -> str:
    speed = greatest_speed(job, True, bearable, runs_without_air, flow.temp_water)
    if speed is not None and speed < state.rpm:
        return f"Run solar at {rpm(speed)} or less."
    pad = replace(job.pad, arrangement="diverter with bypass", diverter_open=1.0)
    opening = narrowest_bypass(
        replace(job, pad=pad), state.rpm, bearable, runs_without_air, flow.temp_water
    )
    if opening is None:
        return "Add panels, or take a pump that turns slower."
    width = shown(job, opening, "share", 0)
    if job.pad.arrangement == "diverter with bypass":
        return f"Open the bypass to {width}."
    whole = ', pad.diverter_open = "100 %"' if job.pad.diverter_open < 1.0 else ""
    return (
        f"Put a hand-set bypass across the array, {width} open: pad.arrangement = "
        f'"diverter with bypass", pad.bypass_open = "{width}"{whole}.'
    )


def panel_starved(job: Job, flow: FlowResult) -> Iterator[Finding]:
    """Check that the least-fed panel gets its share; one finding, for the worst state."""
    found = [
        (state, min(fed_panels(job, state), key=lambda fed: fed.share))
        for state in running_solar(flow)
    ]
    state, fed = min(found, key=lambda pair: pair[1].share, default=(None, None))
    if state is None or fed is None or fed.share >= LEAST_SHARE:
        return
    yield PANEL_STARVED.finding(
        f"array.banks[{fed.bank}].panels",
        value=f"{percent(fed.share, 1)} of the mean, {shown(job, fed.flow, 'flow', 2)} "
        f"at {rpm(state.rpm)}",
        limit=f"{percent(LEAST_SHARE)} of the mean",
        text=f"{fed.named(job)} is fed least and gets too small a share of the water.",
        remedy=_even_remedy(job, flow, state, fed),
    )


def _even_remedy(job: Job, flow: FlowResult, state: StateFlow, fed: Fed) -> str:
    """First change of the banks, of those tried, that feeds evenly."""
    best = ("", fed.share)
    for words, array in _rearranged(job, fed.bank):
        changed = replace(job, array=array)
        try:
            tried = solved(changed, state.rpm, True, flow.temp_water)
        except InputError:
            # An edit of the job names a pipe or part that this array doesn't have.
            continue
        if tried is None or not tried.primes:
            continue
        share = min(fed.share for fed in fed_panels(changed, tried))
        if share >= LEAST_SHARE:
            return f"{words}: the least-fed panel then gets {percent(share)} of the mean."
        if share > best[1]:
            best = (f"{words} (least-fed panel then {percent(share)} of the mean), and put ", share)
    start = best[0] or "Put "
    return f"{start}balancing valves at the banks' inlets, the better-fed ones turned down."


def _rearranged(job: Job, worst: int) -> Iterator[tuple[str, Array]]:
    """Arrays to try, the least work first: each with what to do."""
    banks = job.array.banks
    if any(bank.piping == "direct return" for bank in banks):
        turned = tuple(replace(bank, piping="reverse return") for bank in banks)
        yield "Pipe the banks in reverse return", Array(turned)
    for parts in range(2, MOST_PARTS + 1):
        for which in ([worst], list(range(len(banks)))):
            split = tuple(
                replace(bank, panels=panels, changed=())
                for i, bank in enumerate(banks)
                for panels in (_parts(bank.panels, parts) if i in which else [bank.panels])
            )
            if len(split) == len(banks) + len(which) * (parts - 1):
                name = f"bank {worst + 1}" if len(which) == 1 else "every bank"
                yield f"Split {name} into {parts} banks on one feed", Array(split)


def _parts(panels: int, parts: int) -> list[int]:
    """Divide a bank as evenly as it goes; left whole where a part would be empty."""
    if panels < parts:
        return [panels]
    most = ceil(panels / parts)
    rest = panels - most
    return [most, *_parts(rest, parts - 1)] if parts > 1 else [panels]


def fed_too_little(job: Job, state: StateFlow) -> Fed | None:
    """Find the panel that most lacks its least flow, unless even sharing would put it right."""
    fed = min(fed_panels(job, state), key=lambda fed: fed.flow / fed.panel.flow_min)
    return None if fed.flow >= fed.panel.flow_min or _is_spread(job, state, fed) else fed


def fed_too_much(job: Job, state: StateFlow) -> Fed | None:
    """Find the panel that is most over its most flow, unless even sharing would put it right."""
    fed = max(fed_panels(job, state), key=lambda fed: fed.flow / fed.panel.flow_max)
    return None if fed.flow <= fed.panel.flow_max or _is_spread(job, state, fed) else fed


def fed_panels(job: Job, state: StateFlow) -> list[Fed]:
    """List what each panel of a state gets.

    Parameters
    ----------
    job : Job
        The job.
    state : StateFlow
        With water in the panels.

    Returns
    -------
    list of Fed
        Bank by bank, from the feed's corner on.
    """
    kinds = [bank_panel(bank, job.own_panel) for bank in job.array.banks]
    area = sum(
        kind.area * len(bank.numbers) for kind, bank in zip(kinds, job.array.banks, strict=True)
    )
    mean = state.array_flow / area
    return [
        Fed(bank, number, kinds[bank], flow, flow / kinds[bank].area / mean if mean > 0.0 else 0.0)
        for bank, flows in enumerate(state.panel_flows)
        for number, flow in enumerate(flows)
    ]


def _is_spread(job: Job, state: StateFlow, fed: Fed) -> bool:
    """Whether even sharing would put this panel right, and `panel_starved` tells it."""
    even = fed.flow / fed.share
    uneven = min(other.share for other in fed_panels(job, state)) < LEAST_SHARE
    return uneven and fed.panel.flow_min <= even <= fed.panel.flow_max
