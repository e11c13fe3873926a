"""A circuit with the water and the limits that its states are solved under."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

from noonwater.catalog import PumpType, pump_named
from noonwater.hydraulics.arrays import RATIO
from noonwater.hydraulics.network import Network, build_network
from noonwater.hydraulics.settings import Settings, Water, water_at
from noonwater.hydraulics.solution import Solution, solve
from noonwater.model.circuit import Circuit, Part, State
from noonwater.model.job import Job
from noonwater.physics.air import pressure_at_elevation, vapour_pressure_saturation
from noonwater.physics.siphon import siphon_height


@dataclass(frozen=True)
class Loop:
    """A circuit with the water and the limits that its states are solved under.

    Attributes
    ----------
    circuit : Circuit
        Parts and pipes.
    water : Water
        What flows.
    settings : Settings
        Switches.
    siphon_limit : float
        Height that the atmosphere can hold up, see `physics.siphon`. [m]
    priming_speed : float
        Speed at each start, 0 where the pump starts at the running speed. [rpm]
    """

    circuit: Circuit
    water: Water
    settings: Settings
    siphon_limit: float
    priming_speed: float = 0.0

    def with_settings(self, head_margin: bool, filter_load: float) -> Loop:
        """The same loop with or without the pump's margin, and with another filter."""
        return _with_settings(self, head_margin, filter_load)

    def careful(self) -> Loop:
        """The same loop with the pump's margin, as a lift is judged."""
        return _with_settings(self, True, self.settings.filter_load)

    @cached_property
    def _key(self) -> int:
        # A circuit is some hundred parts and pipes: hashed once, asked at every speed of a search.
        return hash(
            (self.circuit, self.water, self.settings, self.siphon_limit, self.priming_speed)
        )

    def __hash__(self) -> int:
        """Equal loops have equal hashes."""
        return self._key

    def network(self, state: State, shut: frozenset[str] = frozenset()) -> Network:
        """The circuit's network in a state, some links shut."""
        if state.speed <= 0.0:
            return build_network(self.circuit, state, self.water, self.settings, shut)
        rated = State("", self.pump_type.rated_speed, state.solar, state.positions, state.speeds)
        return self.at_speed(_at_rated_speed(self, rated, shut), state)

    def solve(self, network: Network, state: State) -> Solution:
        """Solve one of its networks."""
        return solve(network, self.water, self.settings, state.name)

    def at_speed(self, network: Network, state: State) -> Network:
        """A network built at one speed of the filter pump, at another."""
        link = network.link_of.get(self.pump.name)
        if link is None:
            return network
        figures = network.links.figures.copy()
        figures[link, RATIO] = state.speed / self.pump_type.rated_speed
        return network.with_links(network.links._replace(figures=figures))

    @cached_property
    def pump(self) -> Part:
        """The filter pump."""
        return next(part for part in self.circuit.parts if part.kind == "pump")

    @cached_property
    def pump_type(self) -> PumpType:
        """Its row of the catalog."""
        return pump_named(self.pump.catalog, own=self.circuit.own_pumps)

    def part(self, kind: str) -> Part | None:
        """The first part of a kind."""
        return next((part for part in self.circuit.parts if part.kind == kind), None)


@lru_cache(maxsize=64)
def _with_settings(loop: Loop, head_margin: bool, filter_load: float) -> Loop:
    settings = replace(loop.settings, head_margin=head_margin, filter_load=filter_load)
    return replace(loop, settings=settings)


@lru_cache(maxsize=64)
def _at_rated_speed(loop: Loop, state: State, shut: frozenset[str]) -> Network:
    return build_network(loop.circuit, state, loop.water, loop.settings, shut)


def loop_of(job: Job, circuit: Circuit, temp_water: float, settings: Settings) -> Loop:
    """A job's circuit with its water and limits.

    Parameters
    ----------
    job : Job
        The whole job.
    circuit : Circuit
        Filled from it.
    temp_water : float
        Of the water in the pipes. [°C]
    settings : Settings
        Switches.

    Returns
    -------
    Loop
        Ready to be solved in any state.
    """
    water = water_at(temp_water)
    limit = siphon_height(
        pressure_at_elevation(job.site.elevation),
        vapour_pressure_saturation(temp_water),
        water.density,
        settings.gravity,
    )
    return Loop(circuit, water, settings, limit, job.pump.priming_speed or 0.0)
