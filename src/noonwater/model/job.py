"""The job: one description from which everything is computed."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated, Literal

from noonwater.core.field import Items
from noonwater.model.heater import Heater
from noonwater.model.money import Money
from noonwater.model.own_part import OwnPanel, OwnPump
from noonwater.model.plant import Array, Controls, Pad, Pump
from noonwater.model.pool import Pool
from noonwater.model.site import Roof, Site, Weather

FORMAT = 1
"""Number of the job file's format; an older file is migrated when it is read."""


@dataclass(frozen=True)
class Job:
    """A contractor's job, in SI."""

    name: str
    site: Site
    weather: Weather
    pool: Pool
    roof: Annotated[tuple[Roof, ...], Items("roof planes", 1, 40)]
    array: Array
    pad: Pad
    pump: Pump
    controls: Controls = field(default_factory=Controls)
    money: Money = field(default_factory=Money)
    heater: Heater = field(default_factory=Heater)
    own_pump: tuple[OwnPump, ...] = ()
    own_panel: tuple[OwnPanel, ...] = ()
    units: Literal["US", "SI"] = "US"
    format: int = FORMAT

    def roof_named(self, name: str) -> Roof:
        """Find a roof plane by name."""
        return next(roof for roof in self.roof if roof.name == name)
