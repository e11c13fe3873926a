"""A panel on its plane, through the year: what it takes up and what it loses, step by step."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from noonwater.catalog import PanelType
from noonwater.climate.sun import PlaneSun, WeatherSteps
from noonwater.core.jit import compiled
from noonwater.physics.collector import (
    LONGWAVE_OVER_SUN,
    collector_gain,
    collector_loss_coefficient,
    irradiance_modified,
)
from noonwater.physics.collector_rating import (
    TEST_WIND_RANGE,
    efficiency_still_air,
    iam_ashrae,
    loss_still_air,
)
from noonwater.physics.sky import longwave_emitted, longwave_on_tilt
from noonwater.year.parameters import Floats

EMISSIVITY_GROUND = 0.95
"""[-] Of what a tilted plane sees below the horizon; read in an open building-physics library."""

TEST_SKY_RANGE = (-80.0, -40.0, 0.0)
"""[W/m²] Clearest, middle and indoor sky of a panel's test: long-wave irradiance less that of a
black body at air temperature. Clear outdoor tests lie near -50 to -100, a lamp hall at 0 (from
memory)."""

TEST_IRRADIANCE = 900.0
"""[W/m²] Sun of such a test (from memory; outdoor tests want more than 650 to 800)."""

IAM_DIFFUSE_ANGLE = 60.0
"""[°] Angle whose modifier stands for diffuse sun: Duffie and Beckman, effective angle of sky
diffuse near 60° (from memory)."""


@dataclass(frozen=True)
class Coefficients:
    """A panel's coefficients on mean water temperature, for one belief about its test.

    Attributes
    ----------
    eta0, bu, b1, b2 : float
        As in `noonwater.physics.collector`.
    iam_b0 : float
        With the test rows' sign. [-]
    longwave_ratio : float
        Emissivity over absorptance. [-]
    """

    eta0: float
    bu: float
    b1: float
    b2: float
    iam_b0: float
    longwave_ratio: float


def coefficients(
    panel: PanelType,
    test_wind: float = TEST_WIND_RANGE[1],
    test_sky: float = TEST_SKY_RANGE[1],
) -> Coefficients:
    """Read a panel's row with a belief about the wind and the sky of its test.

    Parameters
    ----------
    panel : PanelType
        The catalog's row; its coefficients assume the middle of `TEST_WIND_RANGE`.
    test_wind : float
        Wind of the test, which no row states: an uncertain input. [m/s]
    test_sky : float
        Long-wave excess of the sky over the test, which no row states either. [W/m²]

    Returns
    -------
    Coefficients
        With the loss and the efficiency that the test measured kept, and their still-air,
        sky-free parts moved to the wind and the sky believed in; those of a certificate on net
        radiation as they stand, whatever is believed.

    Notes
    -----
    A row is on total sun, so its intercept holds the loss to the test's sky; this model takes the
    sky's loss by itself, and counting it twice would cost some 7 % of the heat.
    """
    if panel.net_sun:
        return Coefficients(
            panel.eta0, panel.bu, panel.b1, panel.b2, -panel.iam_b0, panel.emissivity_ratio
        )
    middle = TEST_WIND_RANGE[1]
    tested_loss = collector_loss_coefficient(middle, panel.b1, panel.b2)
    tested_efficiency = panel.eta0 * (1.0 - panel.bu * middle)
    return Coefficients(
        eta0=efficiency_still_air(
            tested_efficiency, test_wind, panel.bu, test_sky, TEST_IRRADIANCE
        ),
        bu=panel.bu,
        b1=loss_still_air(tested_loss, test_wind, panel.b2),
        b2=panel.b2,
        iam_b0=-panel.iam_b0,
        longwave_ratio=panel.emissivity_ratio,
    )


@lru_cache(maxsize=8)
def panel_drivers(
    panel: Coefficients, sun: PlaneSun, air: WeatherSteps, tilt: float, wind_factor: float
) -> tuple[Floats, Floats]:
    """Gain and loss coefficient of a panel in each step.

    Parameters
    ----------
    panel : Coefficients
        The panel.
    sun : PlaneSun
        Sun on its plane.
    air : WeatherSteps
        Air, wind and sky.
    tilt : float
        Of the plane. [°]
    wind_factor : float
        Wind along the panel over the station's. [-]

    Returns
    -------
    tuple of two (steps,) arrays
        Gain at air temperature [W/m²], loss coefficient [W/(m²·K)]. Kept for the next option of
        the same place: not to be changed.
    """
    steps = len(air.temp_air)
    gain, loss = np.empty(steps), np.empty(steps)
    figures = np.array(
        [panel.eta0, panel.bu, panel.b1, panel.b2, panel.iam_b0, panel.longwave_ratio]
    )
    _fill_drivers(
        figures,
        sun.beam,
        sun.sky + sun.ground,
        sun.incidence_cosine,
        air.temp_air,
        air.wind_speed,
        air.longwave_sky,
        tilt,
        wind_factor,
        gain,
        loss,
    )
    return gain, loss


@compiled
def _fill_drivers(
    figures: Floats,
    beam: Floats,
    diffuse: Floats,
    incidence_cosine: Floats,
    temp_air: Floats,
    wind_speed: Floats,
    longwave_sky: Floats,
    tilt: float,
    wind_factor: float,
    gain: Floats,
    loss: Floats,
) -> None:
    eta0, bu, b1, b2, iam_b0, longwave_ratio = figures
    iam_diffuse = iam_ashrae(IAM_DIFFUSE_ANGLE, iam_b0, 0.0)
    for i in range(gain.shape[0]):
        wind = wind_speed[i] * wind_factor
        sun = iam_diffuse * diffuse[i]
        if beam[i] > 0.0:
            angle = math.degrees(math.acos(min(incidence_cosine[i], 1.0)))
            modifier = iam_ashrae(angle, iam_b0, 0.0)
            sun = irradiance_modified(beam[i], diffuse[i], modifier, iam_diffuse)
        black = longwave_emitted(temp_air[i], 1.0)
        onto = longwave_on_tilt(longwave_sky[i], EMISSIVITY_GROUND * black, tilt)
        excess = (onto - black) * longwave_ratio / LONGWAVE_OVER_SUN
        gain[i] = collector_gain(sun, wind, excess, eta0, bu)
        loss[i] = collector_loss_coefficient(wind, b1, b2)
