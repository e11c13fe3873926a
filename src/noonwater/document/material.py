"""What the papers are made from: one job and its results, each computed once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Literal

from noonwater.document.profile import Profile
from noonwater.model.job import Job

if TYPE_CHECKING:
    from noonwater.core.finding import Finding
    from noonwater.design.expected_readings import Reading
    from noonwater.design.expected_rise import ExpectedRise
    from noonwater.design.money_parts import Pricing
    from noonwater.design.offering import Offering
    from noonwater.design.parts_row import PartRow
    from noonwater.design.sure import Sureness
    from noonwater.drawing.pad_water import PadWater
    from noonwater.hydraulics.flow import FlowResult, StateFlow
    from noonwater.hydraulics.trace import Trace
    from noonwater.year.night import NightResult
    from noonwater.year.parameters import Inputs
    from noonwater.year.result import YearResult
    from noonwater.year.surroundings import Surroundings


MOSTLY, LEAST_LEFT = 0.5, 0.005
"""[-] Of a bank's water: a bank that keeps more counts as full; less is not told."""


@dataclass(frozen=True, eq=False)
class OnDemand:
    """What only some papers ask for; each is reckoned when one does.

    Attributes
    ----------
    surroundings : callable
        Sun on the job's planes.
    inputs : callable
        What the year's loop ran on.
    sureness : callable
        Ranges of the year.
    offering : callable
        Options with their prices, held against other heat.
    """

    surroundings: Callable[[], Surroundings]
    inputs: Callable[[], Inputs]
    sureness: Callable[[], Sureness]
    offering: Callable[[], Offering]


@dataclass(frozen=True, eq=False)
class Material:
    """A job with its results.

    Attributes
    ----------
    job : Job
        With its pump speeds found.
    flow : FlowResult
        Every operating state.
    trace : Trace
        Where the water is, and the steps by hand.
    year : YearResult
        The pool's year.
    nights : NightResult
        The roof's nights.
    findings : tuple of Finding
        All that is wrong, the faults first.
    on_demand : OnDemand
        The rest.
    profile : Profile
        The contractor.
    """

    job: Job
    flow: FlowResult
    trace: Trace
    year: YearResult
    nights: NightResult
    findings: tuple[Finding, ...]
    on_demand: OnDemand
    profile: Profile = field(default_factory=Profile)

    @cached_property
    def sureness(self) -> Sureness:
        """Ranges of the year."""
        return self.on_demand.sureness()

    @cached_property
    def offering(self) -> Offering:
        """Options with their prices, held against other heat."""
        return self.on_demand.offering()

    @property
    def pricing(self) -> Pricing | None:
        """The parts priced; None without a price list."""
        return self.offering.pricing

    @cached_property
    def readings(self) -> tuple[Reading, ...]:
        """What gauge, meters and pump should show in each running state."""
        from noonwater.design.expected_readings import expected_readings

        return expected_readings(self.job, self.trace.case.loop)

    @cached_property
    def parts(self) -> tuple[PartRow, ...]:
        """The parts list."""
        from noonwater.design.parts_list import parts_list

        return parts_list(self.job)

    @property
    def solar_state(self) -> StateFlow | None:
        """The fastest state in which solar heats; None where none does."""
        running = [state for state in self.flow.states if state.solar and state.array_flow > 0.0]
        heating = [state for state in running if not state.name.startswith("priming")]
        return max(heating, key=lambda state: state.rpm, default=None)

    @cached_property
    def _pad_waters(self) -> dict[str, PadWater]:
        from noonwater.drawing.pad_water import pad_waters

        return {water.name: water for water in pad_waters(self.job, self.flow)}

    def pad_water(self, state: str) -> PadWater:
        """A state as a pad is drawn in it."""
        return self._pad_waters[state]

    @cached_property
    def at_rest(self) -> Literal["full", "part", "empty"]:
        """What the array holds when the pump has stopped: "part" where some of it stays."""
        from noonwater.hydraulics.resting import resting_array

        left = resting_array(self.job).left_in(self.job.array.trapped_water)
        if min(left) > MOSTLY:
            return "full"
        return "part" if max(left) > LEAST_LEFT else "empty"

    @cached_property
    def rise(self) -> ExpectedRise | None:
        """How much warmer water comes back from the roof; None where solar never heats."""
        from noonwater.design.expected_rise import expected_rise

        state = self.solar_state
        if state is None:
            return None
        band = next(each.array_flow for each in self.readings if each.state.name == state.name)
        around, inputs = self.on_demand.surroundings(), self.on_demand.inputs()
        doubt = (band.low / band.expected, band.high / band.expected)
        return expected_rise(self.job, around, inputs, self.year, state.bank_flows, doubt)
