"""From a job, its surroundings and its flows to what the compiled loop works on."""

from __future__ import annotations

import numpy as np

from noonwater.catalog import PanelType, bank_panel, pipe_named
from noonwater.hydraulics.resting import resting_array
from noonwater.model.job import Job
from noonwater.model.site import Roof
from noonwater.physics.air import pressure_at_elevation
from noonwater.physics.cover import COVERS
from noonwater.physics.pipe_heat import (
    COEFFICIENT_OUTSIDE,
    CONDUCTIVITY_PVC,
    DENSITY_PVC,
    HEAT_CAPACITY_PVC,
    capacity_pipe_wall,
    conductance_pipe,
)
from noonwater.year.calendar import (
    cooling_of_step,
    covered_in_step,
    period_of_step,
    season_of_step,
)
from noonwater.year.exposure import (
    longwave_over_water,
    pool_sun,
    vapour_over_water,
    wind_factor_roof,
    wind_factor_water,
    wind_over_water,
)
from noonwater.year.flows import PeriodFlows
from noonwater.year.panels import coefficients, panel_drivers
from noonwater.year.parameters import (
    ArrayFigures,
    ControlFigures,
    Drivers,
    Floats,
    Inputs,
    PoolFigures,
)
from noonwater.year.sensor import SensorBody, sensor_body, sensor_roof
from noonwater.year.surroundings import Surroundings
from noonwater.year.terms import bathing_of_step, water_capacity
from noonwater.year.twins import twins_of
from noonwater.year.water_terms import water_terms

NEVER = 999.0
"""[°C] Target of a cooling that doesn't happen."""


def prepare(job: Job, around: Surroundings, flows: PeriodFlows) -> Inputs:
    """Make a job ready for the loop, everything in doubt in its middle.

    Parameters
    ----------
    job : Job
        The job.
    around : Surroundings
        Of its site, with every plane that carries panels or the sensor.
    flows : PeriodFlows
        Of its circuit.

    Returns
    -------
    Inputs
    """
    sensor = _sensor(job, around)
    drivers = _drivers(job, around, sensor)
    # Rows behind the program's are not periods: circulation against frost filters nothing.
    called = float(flows.power_filter[: len(job.pump.program)].min())
    pool, water, heater = water_terms(job, around, drivers, _pool(job), called)
    return Inputs(
        drivers=drivers,
        pool=pool,
        array=_array(job, flows, sensor),
        control=_control(job, flows, around.air.step_seconds),
        water=water,
        heater=heater,
        twins=twins_of(job),
    )


def roofs_in_use(job: Job) -> tuple[Roof, ...]:
    """Planes that carry panels or the sensor, each once."""
    names = dict.fromkeys([bank.roof for bank in job.array.banks] + [sensor_roof(job).name])
    return tuple(job.roof_named(name) for name in names)


def _sensor(job: Job, around: Surroundings) -> SensorBody:
    first = bank_panel(job.array.banks[0], job.own_panel)
    return sensor_body(job, around, coefficients(first))


def _drivers(job: Job, around: Surroundings, sensor: SensorBody) -> Drivers:
    hourly = 3600 // around.air.step_seconds
    wind = wind_factor_water(job.site, job.pool)
    banks = [
        _on_roof(job, around, bank_panel(bank, job.own_panel), job.roof_named(bank.roof))
        for bank in job.array.banks
    ]
    season = season_of_step(job.pool.opens, job.pool.closes, hourly)
    # Copies, because read-only arrays are a type of their own: the loop would be compiled twice.
    return Drivers(
        temp_air=around.air.temp_air.copy(),
        vapour_pressure=vapour_over_water(around.air, job.pool),
        wind_water=wind_over_water(around.air, wind, job.pool),
        longwave_sky=longwave_over_water(around.air, job.pool),
        pool_sun=pool_sun(around.sun, job.pool),
        covered=covered_in_step(job.pool.cover, hourly, around.air.temp_air)
        * (1 - bathing_of_step(job.pool, hourly)),
        season=season,
        cooling=cooling_of_step(job.controls.cooling_months, season, hourly),
        period=period_of_step(job.pump.program, hourly),
        bank_gain=np.array([gain for gain, _ in banks]),
        bank_loss=np.array([loss for _, loss in banks]),
        sensor_gain=sensor.gain,
        sensor_loss=sensor.loss,
    )


def _on_roof(job: Job, around: Surroundings, panel: PanelType, roof: Roof) -> tuple[Floats, Floats]:
    return panel_drivers(
        coefficients(panel),
        around.planes[roof.pitch, roof.bearing],
        around.air,
        roof.pitch,
        wind_factor_roof(job.site, roof),
    )


def _pool(job: Job) -> PoolFigures:
    cover = COVERS[job.pool.cover.kind]
    return PoolFigures(
        area=job.pool.area,
        capacity=job.pool.volume * water_capacity(job.pool.target),
        pressure=float(pressure_at_elevation(job.site.elevation)),
        cover_evaporation=cover.evaporation_kept,
        cover_sun=cover.sun_kept,
        cover_resistance=cover.resistance,
    )


def _array(job: Job, flows: PeriodFlows, sensor: SensorBody) -> ArrayFigures:
    water = water_capacity(job.pool.target)
    panels = [bank_panel(bank, job.own_panel) for bank in job.array.banks]
    counts = np.array([len(bank.numbers) for bank in job.array.banks], dtype=np.float64)
    area = counts * np.array([panel.area for panel in panels])
    held = counts * np.array([panel.water_volume for panel in panels])
    size = pipe_named(job.pad.pipe, job.pad.schedule)
    lengths = np.array([job.pad.feed_length, job.pad.roof_return_length])
    bore = np.pi * size.diameter**2 / 4.0
    wall = capacity_pipe_wall(size.diameter, size.diameter_outside, DENSITY_PVC, HEAT_CAPACITY_PVC)
    loss = conductance_pipe(
        size.diameter, size.diameter_outside, CONDUCTIVITY_PVC, COEFFICIENT_OUTSIDE
    )
    total = flows.bank_flow.sum(axis=1)
    rest = resting_array(job)
    # What draining leaves behind belongs to bare panel and pipe: it neither fills nor empties.
    trapped = held * np.array(rest.left_in(job.array.trapped_water)) * rest.empties
    stays = np.array([rest.feed, rest.roof_return]) * rest.empties
    volume = (held - trapped).sum() + bore * (lengths * (1.0 - stays)).sum()
    return ArrayFigures(
        area=area,
        capacity_dry=area * np.array([panel.heat_capacity for panel in panels]) + trapped * water,
        capacity_water=(held - trapped) * water,
        flow_capacity=flows.bank_flow * water,
        fill_time=np.divide(volume, total, out=np.zeros_like(total), where=total > 0.0),
        pipe_wall=lengths * (wall + stays * bore * water),
        pipe_water=lengths * (1.0 - stays) * bore * water,
        pipe_conductance=lengths * loss,
        sensor_capacity=sensor.capacity,
        drains=rest.empties,
        sensor_link=sensor.link,
    )


def _control(job: Job, flows: PeriodFlows, step: int) -> ControlFigures:
    controls = job.controls
    return ControlFigures(
        on_difference=controls.on_difference,
        off_difference=controls.off_difference,
        target=job.pool.target,
        deadband=controls.deadband,
        differential=controls.kind == "differential",
        valve_travel=controls.valve_travel,
        power_filter=flows.power_filter,
        power_solar=flows.power_solar,
        power_priming=flows.power_priming,
        priming_time=job.pump.priming_time,
        solar_in_period=flows.solar,
        step=float(step),
        least_run=controls.least_run,
        least_rest=controls.least_rest,
        cooling_target=NEVER if controls.cooling_target is None else controls.cooling_target,
        freeze_row=flows.freeze_row if controls.freeze == "circulate" else -1,
        drains_in_frost=controls.freeze == "drain",
        freeze_trip=controls.freeze_trip,
        freeze_by_sensor=controls.freeze_watch == "sensor",
    )
