"""Pumps: generic families and boosters."""

from __future__ import annotations

from dataclasses import dataclass

from noonwater.catalog.reader import named, table
from noonwater.model.own_part import OwnPump


@dataclass(frozen=True)
class PumpType:
    """A generic pump: head and wire power over flow and speed.

    Attributes
    ----------
    name : str
        "variable large" and the like.
    rated_speed, lowest_speed, highest_speed : float
        A single-speed pump has all three alike. [rpm]
    head_shutoff : float
        Head without flow at rated speed, extrapolated below the first measured flow. [m]
    fall, exponent : float
        H = head_shutoff n² - fall n^(2-exponent) Q^exponent. [m/(m³/s)^exponent], [-]
    power_floor, power_turning, power_flow : float
        P = floor + turning n³ + flow n² Q. [W], [W], [W/(m³/s)]
    flow_max : float
        End of the measured curve at rated speed. [m³/s]
    head_margin : float
        Share of `head_shutoff` that a lift is judged on. [-]
    synthetic : bool
        Whether it is a scaled shape and not a measured pump.
    memory : bool
        Whether a figure is from memory.
    source : str
        Where the figures come from.
    """

    name: str
    rated_speed: float
    lowest_speed: float
    highest_speed: float
    head_shutoff: float
    fall: float
    exponent: float
    power_floor: float
    power_turning: float
    power_flow: float
    flow_max: float
    head_margin: float
    synthetic: bool
    memory: bool
    source: str


def pumps() -> tuple[PumpType, ...]:
    """All generic pumps."""
    return table("pump.csv", PumpType)


def pump_named(name: str, field: str = "pump.pump", own: tuple[OwnPump, ...] = ()) -> PumpType:
    """Find a pump by name, the job's own too; a wrong one is answered with all names."""
    if not own:
        return named(pumps(), name, field, "pump")
    # Fitting needs numpy, converting a test the physics: both stay out of the way of plain jobs.
    from noonwater.catalog.own_pump import pump_fit

    fitted = [pump_fit(pump, f"own_pump[{number}]").pump for number, pump in enumerate(own)]
    return named((*pumps(), *fitted), name, field, "pump")
