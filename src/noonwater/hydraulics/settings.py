"""What a user of the solver may switch, and the water that flows."""

from __future__ import annotations

from dataclasses import dataclass

from noonwater.core.constants import GRAVITY
from noonwater.hydraulics.arrays import Constants
from noonwater.physics.water import density_water, viscosity_water

THETA_DIVIDING = (0.8, 1.0)
"""Range that a dividing header's momentum factor has been tried in; idealised, not validated
against a measured array."""

THETA_COMBINING = (2.0, 2.2)
"""The same for a combining header."""


@dataclass(frozen=True)
class Settings:
    """Switches of the hydraulics.

    Attributes
    ----------
    tees : bool
        Tees lose by the ratio of their flows (Crane); else only their pipes' fittings count.
    theta_dividing, theta_combining : float
        Momentum factors of headers, ranges `THETA_DIVIDING` and `THETA_COMBINING`; 0 leaves
        momentum out. [-]
    filter_load : float
        0 clean to 1 due for cleaning. [-]
    head_margin : bool
        Whether only that share of an extrapolated shut-off head is reckoned with that the pump's
        row of the catalog says: for lifts, not for flows.
    gravity : float
        [m/s²]
    tolerance : float
        On every link's energy balance. [m]
    iterations : int
        Give up after so many.
    """

    tees: bool = True
    theta_dividing: float = 1.0
    theta_combining: float = 2.0
    filter_load: float = 0.0
    head_margin: bool = False
    gravity: float = GRAVITY
    tolerance: float = 1e-6
    iterations: int = 1500

    def __post_init__(self) -> None:
        """Refuse momentum factors that nobody has tried."""
        for name, (low, high) in (
            ("theta_dividing", THETA_DIVIDING),
            ("theta_combining", THETA_COMBINING),
        ):
            value = getattr(self, name)
            if value != 0.0 and not low <= value <= high:
                raise ValueError(f"{name} is {value:g}; allowed: 0, or {low:g} to {high:g}")


PLAIN_SETTINGS = Settings(tees=False, theta_dividing=0.0, theta_combining=0.0)
"""Without the losses that follow the split of flow: what a general network solver knows."""


@dataclass(frozen=True)
class Water:
    """Water at one temperature: density [kg/m³], kinematic viscosity [m²/s]."""

    temp: float
    density: float
    viscosity: float


def water_at(temp: float) -> Water:
    """Water at a temperature.

    Parameters
    ----------
    temp : float
        [°C]

    Returns
    -------
    Water
        Its density and viscosity.
    """
    return Water(temp, density_water(temp), viscosity_water(temp))


def constants_of(settings: Settings, water: Water) -> Constants:
    """What the compiled solver needs of settings and water.

    Parameters
    ----------
    settings : Settings
        Switches.
    water : Water
        The water.

    Returns
    -------
    Constants
        As the solver takes them.
    """
    return Constants(
        viscosity=water.viscosity,
        gravity=settings.gravity,
        theta_dividing=settings.theta_dividing,
        theta_combining=settings.theta_combining,
        tees=settings.tees,
        tolerance=settings.tolerance,
        iterations=settings.iterations,
    )
