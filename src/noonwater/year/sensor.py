"""The roof's sensor as a body of its own: what it takes up, what it loses, what it touches."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from noonwater.catalog import bank_panel
from noonwater.climate.sun import PlaneSun
from noonwater.core.constants import KELVIN, STEFAN_BOLTZMANN
from noonwater.model.job import Job
from noonwater.model.plant import SensorKind
from noonwater.model.site import Roof
from noonwater.physics.probe import convection_coefficient_cylinder
from noonwater.year.exposure import wind_factor_roof
from noonwater.year.panels import Coefficients, panel_drivers
from noonwater.year.parameters import Floats
from noonwater.year.surroundings import GROUND_ALBEDO, Surroundings

PROBE_DIAMETER = 0.010
"""[m] Thermistor in its plastic sleeve: common practice, no source."""
PROBE_HEAT_CAPACITY = 2.5e6
"""[J/(m³·K)] Between plastic and metal (from memory)."""
PROBE_CAPACITY = PROBE_HEAT_CAPACITY * PROBE_DIAMETER / 4.0
"""[J/(m²·K)] Per area of its side."""
PROBE_ABSORPTANCE = 0.7
PROBE_EMISSIVITY = 0.9
"""[-] Of a grey sleeve: ours."""
CALMEST = 0.3
"""[m/s] Stands for the buoyancy of a warm probe in calm air: ours."""

WELL_TIME = 60.0
"""[s] Time constant of a probe in a well, greased (from memory)."""
WELL_STEM = 0.02
"""[-] Share of a well's exchange that its stem has with the air: ours."""
LOOSE_TIME = 180.0
"""[s] Time constant of a probe that hangs loose in the return's pipe: ours."""


@dataclass(frozen=True, eq=False)
class SensorBody:
    """A small body between sun, sky, air and the roof return.

    Attributes
    ----------
    gain : (steps,) array
        Taken up at air temperature. [W/m²]
    loss : (steps,) array
        To the air. [W/(m²·K)]
    link : float
        To the roof return. [W/(m²·K)]
    capacity : float
        [J/(m²·K)]
    """

    gain: Floats
    loss: Floats
    link: float
    capacity: float


def sensor_body(job: Job, around: Surroundings, panel: Coefficients) -> SensorBody:
    """Make the sensor that the job describes.

    Parameters
    ----------
    job : Job
        The job.
    around : Surroundings
        Of its site, with the sensor's plane.
    panel : Coefficients
        Of the first bank's panel, of which a piece may carry the sensor.

    Returns
    -------
    SensorBody
    """
    return _BODIES[job.controls.sensor](job, around, panel)


def sensor_roof(job: Job) -> Roof:
    """Plane that the sensor lies in: the first bank's where the job doesn't say."""
    return job.roof_named(job.controls.sensor_roof or job.array.banks[0].roof)


def with_good_sensor(job: Job) -> Job:
    """Give the job the sensor that senses what the panels feel.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    Job
        With an unshaded piece of panel on the sensor's own plane where that carries panels, else
        on the plane that carries the most; the job itself where it has such a sensor.
    """
    panels: dict[str, int] = {}
    for bank in job.array.banks:
        panels[bank.roof] = panels.get(bank.roof, 0) + bank.panels
    here = sensor_roof(job).name
    roof = here if here in panels else max(panels, key=lambda name: panels[name])
    good: SensorKind = "panel piece"
    controls = job.controls
    if controls.sensor == good and controls.sensor_shade == 0.0 and here == roof:
        return job
    return replace(job, controls=replace(controls, sensor=good, sensor_shade=0.0, sensor_roof=roof))


def _panel_piece(job: Job, around: Surroundings, panel: Coefficients) -> SensorBody:
    roof = sensor_roof(job)
    sun = around.planes[roof.pitch, roof.bearing]
    if (shade := job.controls.sensor_shade) > 0.0:
        sun = PlaneSun(sun.beam * (1.0 - shade), sun.sky, sun.ground, sun.incidence_cosine)
    wind = wind_factor_roof(job.site, roof)
    gain, loss = panel_drivers(panel, sun, around.air, roof.pitch, wind)
    capacity = bank_panel(job.array.banks[0], job.own_panel).heat_capacity
    return SensorBody(gain, loss, 0.0, capacity)


def _free_air(job: Job, around: Surroundings, panel: Coefficients) -> SensorBody:
    """A small body has a quarter of its surface towards the sun, half towards sky and ground."""
    sun, air = around.sun, around.air
    beam = sun.sun_beam * (sun.height > 0.0) * (1.0 - job.controls.sensor_shade)
    ground = GROUND_ALBEDO[job.site.ground] * sun.sun_global
    kelvin = air.temp_air + KELVIN
    sky = 0.5 * PROBE_EMISSIVITY * (air.longwave_sky - STEFAN_BOLTZMANN * kelvin**4)
    gain = PROBE_ABSORPTANCE * (beam / 4.0 + (sun.sun_diffuse + ground) / 2.0) + sky
    wind = np.maximum(air.wind_speed * wind_factor_roof(job.site, sensor_roof(job)), CALMEST)
    convection = np.array(
        [convection_coefficient_cylinder(speed, PROBE_DIAMETER) for speed in wind.tolist()]
    )
    radiation = 4.0 * PROBE_EMISSIVITY * STEFAN_BOLTZMANN * kelvin**3
    return SensorBody(gain, convection + radiation, 0.0, PROBE_CAPACITY)


def _return_well(job: Job, around: Surroundings, panel: Coefficients) -> SensorBody:
    return _in_pipe(around, WELL_TIME, 1.0 - WELL_STEM)


def _loose_in_pipe(job: Job, around: Surroundings, panel: Coefficients) -> SensorBody:
    return _in_pipe(around, LOOSE_TIME, job.controls.sensor_contact)


def _in_pipe(around: Surroundings, time_constant: float, contact: float) -> SensorBody:
    exchange = PROBE_CAPACITY / time_constant
    steps = len(around.air.temp_air)
    loss = np.full(steps, (1.0 - contact) * exchange)
    return SensorBody(np.zeros(steps), loss, contact * exchange, PROBE_CAPACITY)


_BODIES: dict[SensorKind, Callable[[Job, Surroundings, Coefficients], SensorBody]] = {
    "panel piece": _panel_piece,
    "free air": _free_air,
    "return well": _return_well,
    "loose in pipe": _loose_in_pipe,
}
