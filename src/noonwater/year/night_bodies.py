"""What can freeze on the roof: panels of each bank, dry and full, and a stretch of bare pipe."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np

from noonwater.catalog import PanelType, pipe_named
from noonwater.catalog.panel import bank_panel
from noonwater.climate.sun import WeatherSteps
from noonwater.core.constants import KELVIN, STEFAN_BOLTZMANN
from noonwater.core.jit import compiled
from noonwater.model.job import Job
from noonwater.model.site import Roof
from noonwater.physics.collector_rating import TEST_WIND_RANGE
from noonwater.physics.ice import HEAT_CAPACITY_ICE, latent_of_water
from noonwater.physics.pipe_heat import (
    CONDUCTIVITY_PVC,
    DENSITY_PVC,
    HEAT_CAPACITY_PVC,
    capacity_pipe_wall,
    conductance_pipe,
)
from noonwater.physics.probe import convection_coefficient_cylinder
from noonwater.physics.sky import LONGWAVE_DOUBT, longwave_emitted
from noonwater.physics.water import density_water, heat_capacity_water
from noonwater.year.exposure import wind_factor_roof
from noonwater.year.panels import coefficients, panel_drivers
from noonwater.year.parameters import Floats
from noonwater.year.surroundings import Surroundings

TEMP_FREEZING_WATER = 2.0
"""[°C] Stands for the water that is about to freeze, in its density and heat capacity."""

EMISSIVITY_PVC = 0.9
"""[-] Plastics, painted or bare: 0.9 to 0.95 (from memory)."""

SKY_SEEN_BY_PIPE = 0.5
"""[-] A level pipe in the open; the lower half sees roof or ground, taken as warm as the air."""

CALM_COEFFICIENT = 4.0
"""[W/(m²·K)] Least convection of a pipe: 1.32 (difference/diameter)^(1/4), McAdams (from memory),
at 60 mm and 5 K."""


@dataclass(frozen=True)
class IceBearing:
    """What a build of panel is taken to bear.

    Attributes
    ----------
    word : str
        "rigid" or "flexible".
    share : float
        Share of its water that may be ice before it is counted as burst. [-]
    """

    word: str
    share: float


RIGID = IceBearing("rigid", 0.0)
FLEXIBLE = IceBearing("flexible", 0.5)
BEARING = MappingProxyType({"tube": FLEXIBLE, "sheet": RIGID})
"""Ours, no source: separate soft tubes give when the ice grows by 9 %, up to half of the water,
that is before the headers, which hold the other part, freeze through; channels in one sheet, rigid
headers and PVC pipe count from the first ice. No catalog row states it, the maker's word decides;
a build that is not here is rigid."""


@dataclass(frozen=True)
class NightBelief:
    """Inputs of the night that nobody measured.

    Attributes
    ----------
    name : str
        In words.
    test_wind : float
        Wind at the panels' test, which decides how much of their loss is left in calm air. [m/s]
    sky : float
        Added to the sky's long-wave radiation. [W/m²]
    """

    name: str
    test_wind: float = TEST_WIND_RANGE[1]
    sky: float = 0.0


MIDDLE = NightBelief("middle")
COLD_BELIEFS = (
    NightBelief(f"sky {LONGWAVE_DOUBT:g} W/m² darker", sky=-LONGWAVE_DOUBT),
    NightBelief("panels that lose little in calm air", test_wind=TEST_WIND_RANGE[2]),
)
WARM_BELIEFS = (
    NightBelief(f"sky {LONGWAVE_DOUBT:g} W/m² brighter", sky=LONGWAVE_DOUBT),
    NightBelief("panels that lose much in calm air", test_wind=TEST_WIND_RANGE[0]),
)


@dataclass(frozen=True, eq=False)
class Body:
    """A lump of wall and standing water under the sky, per area that meets the air.

    Attributes
    ----------
    name : str
        In words.
    roof, panel : str
        Of a panel; "" for pipe.
    bearing : IceBearing
        What it is taken to bear.
    gain, loss : (steps,) array
        Heat taken up at air temperature [W/m²], loss to the air [W/(m²·K)].
    capacity_dry : float
        Of the walls. [J/(m²·K)]
    mass : float
        Standing water; 0 when dry. [kg/m²]
    area : float
        Of all of it. [m²]
    """

    name: str
    roof: str
    panel: str
    bearing: IceBearing
    gain: Floats
    loss: Floats
    capacity_dry: float
    mass: float
    area: float

    @property
    def figures(self) -> tuple[float, float, float]:
        """Heat capacity thawed and frozen [J/(m²·K)], heat to freeze it [J/m²]."""
        water = self.mass * float(heat_capacity_water(TEMP_FREEZING_WATER))
        ice = self.mass * HEAT_CAPACITY_ICE
        return (
            self.capacity_dry + water,
            self.capacity_dry + ice,
            float(latent_of_water(self.mass)),
        )

    @property
    def dry(self) -> Body:
        """The same without water."""
        return replace(self, mass=0.0)


def panel_bodies(job: Job, around: Surroundings, belief: NightBelief = MIDDLE) -> tuple[Body, ...]:
    """Full panels of each roof plane and kind, each once.

    Parameters
    ----------
    job : Job
        The job.
    around : Surroundings
        Of its site, with every plane that carries panels.
    belief : NightBelief
        What nobody measured.

    Returns
    -------
    tuple of Body
        Dew and frost on them are not counted: what forms gives its heat, so the panels are a
        little warmer than told.
    """
    air = darker(around.air, belief.sky)
    areas: dict[tuple[str, PanelType], float] = {}
    for bank in job.array.banks:
        kind = bank_panel(bank, job.own_panel)
        key = bank.roof, kind
        areas[key] = areas.get(key, 0.0) + len(bank.numbers) * kind.area
    return tuple(_panel(job, around, air, belief, *key, area) for key, area in areas.items())


def _panel(
    job: Job,
    around: Surroundings,
    air: WeatherSteps,
    belief: NightBelief,
    roof_name: str,
    kind: PanelType,
    area: float,
) -> Body:
    roof = job.roof_named(roof_name)
    gain, loss = panel_drivers(
        coefficients(kind, test_wind=belief.test_wind),
        around.planes[roof.pitch, roof.bearing],
        air,
        roof.pitch,
        wind_factor_roof(job.site, roof),
    )
    held = kind.water_volume / kind.area * float(density_water(TEMP_FREEZING_WATER))
    return Body(
        f"{kind.name} on {roof_name}",
        roof_name,
        kind.name,
        BEARING.get(kind.build, RIGID),
        gain,
        loss,
        kind.heat_capacity,
        held,
        area,
    )


def pipe_body(job: Job, around: Surroundings, belief: NightBelief = MIDDLE) -> Body:
    """The job's pipe where it lies bare on the roof, full, in the shade, per area of its outside.

    Parameters
    ----------
    job : Job
        For the pipe's size and the wind at the roof; the windiest plane that carries panels.
    around : Surroundings
        Of its site.
    belief : NightBelief
        What nobody measured.

    Returns
    -------
    Body
        Without sun, so that it thaws by the air alone.
    """
    size = pipe_named(job.pad.pipe, job.pad.schedule)
    outside = np.pi * size.diameter_outside
    wind = max(wind_factor_roof(job.site, roof) for roof in _panel_roofs(job))
    air = darker(around.air, belief.sky)
    gain, loss = np.empty_like(air.temp_air), np.empty_like(air.temp_air)
    _fill_pipe(
        air.temp_air.copy(),
        air.wind_speed * wind,
        air.longwave_sky.copy(),
        size.diameter,
        size.diameter_outside,
        gain,
        loss,
    )
    wall = capacity_pipe_wall(size.diameter, size.diameter_outside, DENSITY_PVC, HEAT_CAPACITY_PVC)
    bore = 0.25 * np.pi * size.diameter**2
    length = job.pad.feed_length + job.pad.roof_return_length
    return Body(
        f"bare pipe, {size.name}",
        "",
        "",
        RIGID,
        gain,
        loss,
        float(wall / outside),
        float(bore * density_water(TEMP_FREEZING_WATER) / outside),
        float(length * outside),
    )


def _panel_roofs(job: Job) -> Iterator[Roof]:
    for name in dict.fromkeys(bank.roof for bank in job.array.banks):
        yield job.roof_named(name)


@compiled
def _fill_pipe(
    temp_air: Floats,
    wind_speed: Floats,
    longwave_sky: Floats,
    diameter: float,
    diameter_outside: float,
    gain: Floats,
    loss: Floats,
) -> None:
    for i in range(gain.shape[0]):
        forced = convection_coefficient_cylinder(max(wind_speed[i], 0.01), diameter_outside)
        kelvin = temp_air[i] + KELVIN
        radiation = 4.0 * EMISSIVITY_PVC * STEFAN_BOLTZMANN * kelvin * kelvin * kelvin
        outside = max(forced, CALM_COEFFICIENT) + radiation
        excess = longwave_sky[i] - longwave_emitted(temp_air[i], 1.0)
        below = SKY_SEEN_BY_PIPE * EMISSIVITY_PVC * excess / outside
        per_length = conductance_pipe(diameter, diameter_outside, CONDUCTIVITY_PVC, outside)
        loss[i] = per_length / (np.pi * diameter_outside)
        gain[i] = loss[i] * below


def darker(air: WeatherSteps, sky: float) -> WeatherSteps:
    """Air under a sky that sends more or less.

    Parameters
    ----------
    air : WeatherSteps
        The weather.
    sky : float
        Added to its long-wave radiation. [W/m²]
    """
    return air if sky == 0.0 else replace(air, longwave_sky=air.longwave_sky + sky)


def colder(around: Surroundings, shift: float) -> Surroundings:
    """A place with all its air colder, the sky's emissivity as it is.

    Parameters
    ----------
    around : Surroundings
        The place's year.
    shift : float
        Added to the air's temperature. [K]

    Returns
    -------
    Surroundings
        With the same sun.
    """
    if shift == 0.0:
        return around
    air = around.air
    ratio = (air.temp_air + shift + KELVIN) / (air.temp_air + KELVIN)
    moved = replace(air, temp_air=air.temp_air + shift, longwave_sky=air.longwave_sky * ratio**4)
    return replace(around, air=moved)
