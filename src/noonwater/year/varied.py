"""One job believed in many ways: the inputs of each way from those of the middle, at little cost.

`noonwater.year.prepare` makes the middle. The panels' gain is kept here as a sun part and a sky
part for an efficiency of one, so that a belief costs a few array operations.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from noonwater.catalog import PanelType, bank_panel
from noonwater.climate.sun import PlaneSun
from noonwater.model.job import Job
from noonwater.year.belief import Belief
from noonwater.year.calendar import evening_of_step, forgotten_days
from noonwater.year.exposure import wind_factor_roof
from noonwater.year.flows import PeriodFlows
from noonwater.year.panels import Coefficients, coefficients, panel_drivers
from noonwater.year.parameters import Bytes, Floats, Inputs, only_designed
from noonwater.year.prepare import prepare
from noonwater.year.surroundings import Surroundings


@dataclass(frozen=True, eq=False)
class Base:
    """What every belief about a job shares.

    Attributes
    ----------
    inputs : Inputs
        Of the middle belief, but for a cover that is never forgotten where the job tells no habit;
        the pool as designed alone, since no range is told of its twins.
    middle : tuple of Coefficients
        Of each bank's panel in the middle belief.
    panels : tuple of PanelType
        One that stands for all of each bank.
    sun, sky : (banks, steps) array
        Gain of a panel of efficiency one: its sun's part and its sky's part. [W/m²]
    evening : (steps,) array
        Day on which the night of each step began, as the cover's hours have it.
    sensor_on_panel : bool
        Whether the sensor is a piece of panel; a bare probe has no coefficients to doubt.
    """

    inputs: Inputs
    middle: tuple[Coefficients, ...]
    panels: tuple[PanelType, ...]
    sun: Floats
    sky: Floats
    evening: NDArray[np.int64]
    sensor_on_panel: bool = True


def base_of(job: Job, around: Surroundings, flows: PeriodFlows) -> Base:
    """Prepare what all beliefs share.

    Parameters
    ----------
    job : Job
        The job.
    around : Surroundings
        Of its site.
    flows : PeriodFlows
        Of its circuit.

    Returns
    -------
    Base
    """
    inputs = prepare(_never_forgotten(job), around, flows)._replace(twins=only_designed())
    panels = tuple(bank_panel(bank, job.own_panel) for bank in job.array.banks)
    middle = tuple(coefficients(panel) for panel in panels)
    whole, sky = [], []
    for bank, figures in zip(job.array.banks, middle, strict=True):
        roof = job.roof_named(bank.roof)
        plane, wind = around.planes[roof.pitch, roof.bearing], wind_factor_roof(job.site, roof)
        unit = replace(figures, eta0=1.0)
        whole.append(panel_drivers(unit, plane, around.air, roof.pitch, wind)[0])
        sky.append(panel_drivers(unit, _dark(plane), around.air, roof.pitch, wind)[0])
    on_panel = job.controls.sensor == "panel piece"
    evening = evening_of_step(job.pool.cover.on_from, 3600 // around.air.step_seconds)
    unlit = np.array(sky)
    return Base(inputs, middle, panels, np.array(whole) - unlit, unlit, evening, on_panel)


def varied(base: Base, belief: Belief) -> Inputs:
    """Give the inputs of one belief.

    Parameters
    ----------
    base : Base
        What all share.
    belief : Belief
        One way to see the job.

    Returns
    -------
    Inputs

    Notes
    -----
    A sensor on a piece of panel follows the first bank's panel: its gain and loss move as that
    panel's do. A bare probe's gain moves with the sun alone. A spa's own loss and falling water
    keep their middle wind. Ours.
    """
    figures = [coefficients(panel, belief.test_wind, belief.test_sky) for panel in base.panels]
    eta0 = np.array([panel.eta0 for panel in figures]) * belief.efficiency
    more = np.array([new.b1 - old.b1 for new, old in zip(figures, base.middle, strict=True)])
    drivers, pool = base.inputs.drivers, base.inputs.pool
    scale = eta0[0] / base.middle[0].eta0 if base.sensor_on_panel else 1.0
    return base.inputs._replace(
        drivers=drivers._replace(
            wind_water=drivers.wind_water * belief.water_wind,
            pool_sun=drivers.pool_sun * belief.sun,
            covered=_forgotten(drivers.covered, base.evening, belief.uncovered),
            bank_gain=eta0[:, None] * (belief.sun * base.sun + base.sky),
            bank_loss=drivers.bank_loss + more[:, None],
            sensor_gain=drivers.sensor_gain * (scale * belief.sun),
            sensor_loss=drivers.sensor_loss + (more[0] if base.sensor_on_panel else 0.0),
        ),
        water=base.inputs.water._replace(ground_gain=base.inputs.water.ground_gain * belief.ground),
        pool=pool._replace(
            evaporation_factor=belief.evaporation, ground_loss=pool.ground_loss * belief.ground
        ),
    )


def _dark(plane: PlaneSun) -> PlaneSun:
    nothing = np.zeros_like(plane.beam)
    return PlaneSun(nothing, nothing, nothing, nothing)


def _never_forgotten(job: Job) -> Job:
    """Leave a habit that the job doesn't tell to the beliefs."""
    cover = job.pool.cover
    if cover.forgotten is not None:
        return job
    return replace(job, pool=replace(job.pool, cover=replace(cover, forgotten=0)))


def _forgotten(covered: Bytes, evening: NDArray[np.int64], share: float) -> Bytes:
    if share <= 0.0 or not covered.any():
        return covered
    return np.where(forgotten_days(share)[evening], 0, covered).astype(np.int8)
