"""Parts of the user's own, written in the job file from their data sheets."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from noonwater.core.field import Choice, Items
from noonwater.core.quantity import Quantity

Turning = Annotated[float, Quantity("speed", "turning speed of the pump", 200, 3600)]


@dataclass(frozen=True)
class PumpPoint:
    """One line of a pump's data sheet."""

    speed: Turning
    flow: Annotated[float, Quantity("flow", "through the pump", 0, 0.1)]
    head: Annotated[float, Quantity("head", "that the pump gives at this flow", 0.05, 100)]
    power: Annotated[float, Quantity("power", "at the wire", 1, 20000)]


@dataclass(frozen=True)
class OwnPump:
    """A pump by points of its data sheet; `catalog.pump_fit` makes a row of it."""

    name: str
    points: Annotated[tuple[PumpPoint, ...], Items("points of the data sheet", 3, 200)]
    lowest_speed: Turning | None = None
    highest_speed: Turning | None = None


@dataclass(frozen=True)
class SteadyTest:
    """A test of uncovered panels by the steady-state method, on mean water temperature."""

    method: Literal["steady"]
    eta0: Annotated[float, Quantity("share", "efficiency without loss and wind", 0.3, 1)]
    bu: Annotated[float, Quantity("share per speed", "efficiency lost per wind speed", 0, 0.1)]
    b1: Annotated[float, Quantity("heat loss", "loss in still air", 1, 60)]
    b2: Annotated[float, Quantity("heat loss per speed", "loss per wind speed", 0, 15)]


@dataclass(frozen=True)
class QuasiDynamicTest:
    """A test by the quasi-dynamic method, on mean water temperature."""

    method: Literal["quasi-dynamic"]
    eta0: Annotated[float, Quantity("share", "efficiency without loss and wind", 0.3, 1)]
    c1: Annotated[float, Quantity("heat loss", "loss in still air", 1, 60)]
    c3: Annotated[float, Quantity("heat loss per speed", "loss per wind speed", 0, 15)]
    c4: Annotated[float, Quantity("share", "share of the sky's long-wave deficit lost", 0, 1)]
    c6: Annotated[float, Quantity("share per speed", "efficiency lost per wind speed", 0, 0.1)]


@dataclass(frozen=True)
class InletTest:
    """A row on inlet temperature at one flow, gross area; wind and sky of the test unstated.

    `slope` and `curve` are the losses, positive where the sheet's coefficients are negative.
    """

    method: Literal["inlet"]
    efficiency: Annotated[float, Quantity("share", "intercept of the row", 0.3, 1)]
    slope: Annotated[float, Quantity("heat loss", "loss on inlet temperature", 1, 60)]
    flow: Annotated[float, Quantity("flow", "through the panel at the test", 1e-6, 0.01)]


PanelTest = Annotated[SteadyTest | QuasiDynamicTest | InletTest, Choice("method")]


@dataclass(frozen=True)
class OwnPanel:
    """A panel by its test certificate; what the sheet doesn't say is taken from a generic one.

    `area` is that the test's coefficients are on, the gross area unless given. `iam_b0` is the loss
    in K = 1 - b0 (1/cos - 1).
    """

    name: str
    width: Annotated[float, Quantity("length", "along the headers", 0.2, 5)]
    length: Annotated[float, Quantity("length", "up the slope, headers included", 0.3, 12)]
    test: PanelTest
    like: str = "tube 4x10"
    area: Annotated[float, Quantity("area", "that the test is on", 0.1, 30)] | None = None
    iam_b0: Annotated[float, Quantity("share", "loss of the incidence angle", 0, 1)] | None = None
    water_volume: Annotated[float, Quantity("volume", "water held when full", 1e-4, 0.1)] | None = (
        None
    )
    flow_nominal: Annotated[float, Quantity("flow", "wanted per panel", 1e-6, 0.01)] | None = None
    drop: Annotated[float, Quantity("pressure", "lost at `flow_nominal`", 1, 1e5)] | None = None
    header_diameter: Annotated[
        float, Quantity("diameter", "of the headers, inside", 0.01, 0.15)
    ] | (None) = None
    pressure_max: (
        Annotated[float, Quantity("pressure", "that the panel bears", 1e4, 2e6)] | None
    ) = None
