"""Parts and pipes of a circuit as links of a network: which loses what, which is shut."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from math import pi

from noonwater.catalog import (
    PumpType,
    check_valve_named,
    cleaner_named,
    diverter_named,
    filter_named,
    fitting_named,
    heater_named,
    panel_named,
    pump_named,
    sanitizer_named,
)
from noonwater.catalog.part import FittingType
from noonwater.hydraulics.arrays import ONE_WAY, PLAIN, PUMP
from noonwater.hydraulics.settings import Settings, Water
from noonwater.model.circuit import Circuit, Part, Pipe, Port, State
from noonwater.physics.fitting import fitting_coefficient_crane
from noonwater.physics.pipe_friction import ROUGHNESS_PVC
from noonwater.physics.valve import OPENING_LEAST, resistance_orifice, valve_coefficient

STANDING_PUMP = 10.0
"""[-] Loss coefficient of a pump that stands, on its pipe's velocity: from memory, rough."""


@dataclass(frozen=True)
class Element:
    """A link before it is numbered.

    Attributes
    ----------
    name : str
        Of its part or pipe; a diverter's ways add the port's name.
    start, stop : Port
        In the direction of usual flow.
    kind : int
        PLAIN, ONE_WAY or PUMP.
    figures : tuple of float
        Columns of `arrays.Links.figures`.
    area : float
        Cross section, 0 where it has none. [m²]
    """

    name: str
    start: Port
    stop: Port
    kind: int
    figures: tuple[float, float, float, float, float, float]
    area: float = 0.0


@dataclass(frozen=True)
class Setting:
    """What the elements of a circuit depend on besides the circuit."""

    circuit: Circuit
    state: State
    water: Water
    settings: Settings
    diameters: dict[str, float]

    def head_of(self, pressure: float) -> float:
        """Head of a pressure [Pa] in this water. [m]."""
        return pressure / (self.water.density * self.settings.gravity)

    def quadratic_of(self, K: float, diameter: float) -> float:
        """Head per square of flow of a loss coefficient. [m/(m³/s)²]."""
        return 8.0 * K / (pi * pi * self.settings.gravity * diameter**4)

    def minor(self, part: Part, K: float) -> tuple[float, float, float, float, float, float]:
        """Figures of a link that loses by a coefficient on its pipe's velocity."""
        diameter = self.diameters[part.name]
        return (0.0, diameter, 0.0, 0.0, self.quadratic_of(K, diameter), 0.0)

    def lift_of(self, pump: PumpType) -> float:
        """Shut-off head of a pump that is reckoned with. [m]."""
        return pump.head_shutoff * (pump.head_margin if self.settings.head_margin else 1.0)


def elements_of(
    circuit: Circuit, state: State, water: Water, settings: Settings
) -> tuple[Element, ...]:
    """All links that a state leaves open.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    state : State
        Positions and speed.
    water : Water
        What flows.
    settings : Settings
        Switches.

    Returns
    -------
    tuple of Element
        Pipes first, then parts, in the circuit's order.
    """
    diameters: dict[str, float] = {}
    for pipe in circuit.pipes:
        for part, _ in (pipe.start, pipe.stop):
            diameters[part] = max(pipe.diameter, diameters.get(part, 0.0))
    setting = Setting(circuit, state, water, settings, diameters)
    pipes = [_pipe(pipe, setting) for pipe in circuit.pipes]
    parts = [
        element
        for part in circuit.parts
        if part.kind in _MAKERS
        for element in _MAKERS[part.kind](part, setting)
    ]
    return (*pipes, *parts)


@lru_cache(maxsize=512)
def fitting_loss(fitting: FittingType, diameter: float) -> float:
    """Loss coefficient of a fitting by the default method.

    Parameters
    ----------
    fitting : FittingType
        Row of the catalog.
    diameter : float
        Inside diameter of the pipe. [m]

    Returns
    -------
    float
        On the pipe's velocity. [-]
    """
    if fitting.fixed is not None:
        return fitting.fixed
    return fitting_coefficient_crane(fitting.crane or 0.0, diameter)


def _area(diameter: float) -> float:
    return 0.25 * pi * diameter * diameter


def _pipe(pipe: Pipe, setting: Setting) -> Element:
    K = sum(
        fitting.count * fitting_loss(fitting_named(fitting.kind), pipe.diameter)
        for fitting in pipe.fittings
    )
    quadratic = setting.quadratic_of(K, pipe.diameter)
    figures = (pipe.length, pipe.diameter, ROUGHNESS_PVC, 0.0, quadratic, 0.0)
    return Element(pipe.name, pipe.start, pipe.stop, PLAIN, figures, _area(pipe.diameter))


def _pump(part: Part, setting: Setting) -> Iterator[Element]:
    speed = setting.state.speed_of(part)
    if speed > 0.0:
        pump = pump_named(part.catalog, own=setting.circuit.own_pumps)
        ratio = speed / pump.rated_speed
        figures = (setting.lift_of(pump), pump.fall, pump.exponent, ratio, 0.0, 0.0)
        yield _through(part, PUMP, figures)
    elif part.kind == "booster pump" or _opens_to_air(setting):
        # The filter pump at rest moves nothing but what falls to an open drain.
        yield _through(part, PLAIN, setting.minor(part, STANDING_PUMP))


def _opens_to_air(setting: Setting) -> bool:
    return any(setting.state.position_of(part) > 0.0 for part in setting.circuit.of_kind("drain"))


def _filter(part: Part, setting: Setting) -> Iterator[Element]:
    row = filter_named(part.catalog)
    load = setting.settings.filter_load
    linear = row.clean_linear + load * (row.dirty_linear - row.clean_linear)
    quadratic = row.clean_quadratic + load * (row.dirty_quadratic - row.clean_quadratic)
    viscous = setting.head_of(linear) / row.viscosity
    figures = (0.0, 0.0, 0.0, viscous, setting.head_of(quadratic), 0.0)
    yield _through(part, PLAIN, figures)


def _heater(part: Part, setting: Setting) -> Iterator[Element]:
    quadratic = setting.head_of(heater_named(part.catalog).quadratic)
    yield _through(part, PLAIN, (0.0, 0.0, 0.0, 0.0, quadratic, 0.0))


def _sanitizer(part: Part, setting: Setting) -> Iterator[Element]:
    quadratic = setting.head_of(sanitizer_named(part.catalog).quadratic)
    yield _through(part, PLAIN, (0.0, 0.0, 0.0, 0.0, quadratic, 0.0))


def _cleaner(part: Part, setting: Setting) -> Iterator[Element]:
    quadratic = setting.head_of(cleaner_named(part.catalog).quadratic)
    yield _through(part, PLAIN, (0.0, 0.0, 0.0, 0.0, quadratic, 0.0))


def _panel(part: Part, setting: Setting) -> Iterator[Element]:
    row = panel_named(part.catalog, own=setting.circuit.own_panels)
    # Each tube that is left carries more: the loss follows the flow per tube.
    left = 1.0 - part.plugged
    viscous = row.drop_laminar / row.viscosity / left
    yield _through(part, PLAIN, (0.0, 0.0, 0.0, viscous, row.drop_turbulent / left**2, 0.0))


def _check_valve(part: Part, setting: Setting) -> Iterator[Element]:
    row = check_valve_named(part.catalog)
    diameter = setting.diameters[part.name]
    K = fitting_loss(fitting_named(row.fitting), diameter)
    opening = setting.head_of(row.opening_pressure)
    figures = (0.0, diameter, 0.0, 0.0, setting.quadratic_of(K, diameter), opening)
    yield _through(part, ONE_WAY, figures)


def _valve(part: Part, setting: Setting) -> Iterator[Element]:
    opening = setting.state.position_of(part)
    if opening >= OPENING_LEAST:
        K_open = fitting_loss(fitting_named("ball valve"), setting.diameters[part.name])
        kind = ONE_WAY if part.kind == "drain" else PLAIN
        # Air that an open drain draws in is not reckoned with: then nothing passes it.
        yield _through(part, kind, setting.minor(part, valve_coefficient(K_open, opening)))


def hole_of(part: Part) -> str:
    """Name of the link through a diverter's drain-down hole, and of the position that opens it."""
    return f"{part.name} hole"


def with_hole(circuit: Circuit, state: State) -> State | None:
    """A state with water let through the drain-down hole of each diverter shut to its last way.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    state : State
        Positions and speed.

    Returns
    -------
    State or None
        None where no hole is in the way. Whether water gets through it hangs on how high the array
        stands: `operating.operate` asks.
    """
    holes = tuple(
        (hole_of(part), 1.0)
        for part in circuit.of_kind("diverter")
        if diverter_named(part.catalog).hole > 0.0 and state.position_of(part) < OPENING_LEAST
    )
    return replace(state, positions=(*state.positions, *holes)) if holes else None


def _diverter(part: Part, setting: Setting) -> Iterator[Element]:
    if dict(setting.state.positions).get(hole_of(part)):
        row, (start, stop) = diverter_named(part.catalog), part.ways[-1]
        loss = resistance_orifice(row.hole, row.discharge, setting.settings.gravity)
        yield Element(hole_of(part), start, stop, PLAIN, (0.0, 0.0, 0.0, 0.0, loss, 0.0))
    opening = setting.state.position_of(part)
    K_open = fitting_loss(fitting_named("diverter"), setting.diameters[part.name])
    for (start, stop), share in zip(part.ways, (1.0 - opening, opening), strict=True):
        if share >= OPENING_LEAST:
            figures = setting.minor(part, valve_coefficient(K_open, share))
            way = start[1] if stop[1] == part.ports[0] else stop[1]
            yield Element(f"{part.name} to {way}", start, stop, PLAIN, figures)


def _through(
    part: Part, kind: int, figures: tuple[float, float, float, float, float, float]
) -> Element:
    start, stop = (part.name, part.ports[0]), (part.name, part.ports[-1])
    return Element(part.name, start, stop, kind, figures)


_MAKERS: dict[str, Callable[[Part, Setting], Iterator[Element]]] = {
    "pump": _pump,
    "booster pump": _pump,
    "filter": _filter,
    "heater": _heater,
    "sanitizer": _sanitizer,
    "suction cleaner": _cleaner,
    "pressure cleaner": _cleaner,
    "panel": _panel,
    "check valve": _check_valve,
    "bypass valve": _valve,
    "isolation valve": _valve,
    "drain": _valve,
    "diverter": _diverter,
}
