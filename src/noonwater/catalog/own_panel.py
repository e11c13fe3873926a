"""A panel of the user's own: a test certificate made into a row of the catalog."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from noonwater.catalog.panel import PanelType, panels
from noonwater.catalog.reader import named
from noonwater.core.errors import Fault, InputError
from noonwater.model.own_part import InletTest, OwnPanel, QuasiDynamicTest, SteadyTest
from noonwater.physics.collector_rating import (
    TEST_WIND_RANGE,
    efficiency_from_inlet,
    loss_coefficient_from_inlet,
    loss_still_air,
)
from noonwater.physics.water import density_water, heat_capacity_water

TEMP_TEST = 25.0
"""[°C] Water of a test whose row states a volume flow (ours: it moves the capacity by 0.3 %)."""

EFFICIENCY_MOST = 1.0


@lru_cache(maxsize=64)
def panel_row(own: OwnPanel, field: str = "own_panel") -> PanelType:
    """Make a row of the catalog from a panel's certificate.

    Parameters
    ----------
    own : OwnPanel
        Sizes and test.
    field : str
        Path of the job's table, for the message.

    Returns
    -------
    PanelType
        On gross area. What the certificate does not state is that of the panel it is `like`, by
        area, and keeps that row's mark of memory.

    Raises
    ------
    InputError
        A loss on inlet temperature beyond what the test's flow can carry, an efficiency above 1, a
        generic panel that does not exist.
    """
    like = named(panels(), own.like, f"{field}.like", "panel")
    gross = own.width * own.length
    size = gross / like.area
    nominal = own.flow_nominal or like.flow_nominal * size
    row = replace(
        like,
        name=own.name,
        width=own.width,
        length=own.length,
        area=gross,
        iam_b0=like.iam_b0 if own.iam_b0 is None else own.iam_b0,
        water_volume=own.water_volume or like.water_volume * size,
        mass=like.mass * size,
        flow_min=like.flow_min / like.flow_nominal * nominal,
        flow_nominal=nominal,
        flow_max=like.flow_max / like.flow_nominal * nominal,
        header_diameter=own.header_diameter or like.header_diameter,
        pressure_max=own.pressure_max or like.pressure_max,
        drop_laminar=like.drop_laminar * own.length / like.length,
        source=f"the user's certificate ({own.test.method}); what it does not state as "
        f"'{like.name}', by area",
    )
    if own.drop is not None:
        row = _with_drop(row, own.drop, nominal)
    tested = _tested(row, own, (own.area or gross) / gross, field)
    if tested.eta0 > EFFICIENCY_MOST:
        given = f"an efficiency without loss of {100 * tested.eta0:.1f} % on the gross area"
        allowed = "100 % at most"
        raise InputError([Fault(f"{field}.test", given, allowed, "check the area and the flow")])
    return tested


def _with_drop(row: PanelType, pressure: float, flow: float) -> PanelType:
    """Both parts of the drop scaled so that it is the sheet's at the sheet's flow."""
    head = pressure / (density_water(TEMP_TEST) * 9.80665)
    factor = head / (row.drop_laminar * flow + row.drop_turbulent * flow**2)
    return replace(
        row,
        drop_laminar=row.drop_laminar * factor,
        drop_turbulent=row.drop_turbulent * factor,
    )


def _tested(row: PanelType, own: OwnPanel, area: float, field: str) -> PanelType:
    """Coefficients of the test, taken from the test's area to the gross one."""
    test = own.test
    if isinstance(test, SteadyTest):
        return replace(
            row,
            eta0=test.eta0 * area,
            bu=test.bu,
            b1=test.b1 * area,
            b2=test.b2 * area,
            net_sun=True,
        )
    if isinstance(test, QuasiDynamicTest):
        bu = test.c6 / test.eta0
        # c4 = ratio eta0 (1 - 3 bu) of `coefficients_quasi_dynamic`, solved for the ratio.
        ratio = test.c4 / (test.eta0 * (1.0 - 3.0 * bu))
        return replace(
            row,
            eta0=test.eta0 * area,
            bu=bu,
            b1=test.c1 * area,
            b2=test.c3 * area,
            emissivity_ratio=ratio,
            net_sun=True,
        )
    return _from_inlet(row, test, own.area or row.area, area, field)


def _from_inlet(
    row: PanelType, test: InletTest, tested_area: float, area: float, field: str
) -> PanelType:
    """A row on inlet temperature: brought to the water's own, then to still air."""
    capacity = test.flow * density_water(TEMP_TEST) * heat_capacity_water(TEMP_TEST) / tested_area
    if test.slope >= 0.95 * capacity:
        given = f"a loss of {test.slope:.1f} W/m2/K at a flow that carries {capacity:.1f} W/m2/K"
        allowed = f"a loss below {0.95 * capacity:.1f} W/m2/K at that flow"
        raise InputError([Fault(f"{field}.test", given, allowed, "check the flow and its unit")])
    wind = TEST_WIND_RANGE[1]
    loss = loss_coefficient_from_inlet(test.slope, capacity) * area
    eta = efficiency_from_inlet(test.efficiency, test.slope, capacity) * area
    # Like every row of the catalog: still air from the middle wind, the test's sky left inside.
    b1 = loss_still_air(loss, wind, row.b2)
    b2 = (loss - b1) / wind
    return replace(row, eta0=eta / (1.0 - row.bu * wind), b1=b1, b2=b2)
