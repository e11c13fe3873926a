"""The roof for the desk: planes and banks to scale, and the sun on each plane."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

from noonwater.app.desk import View
from noonwater.app.desk_drawings import Drawing
from noonwater.app.study import surroundings_of
from noonwater.core.errors import NoonwaterError
from noonwater.core.units import show
from noonwater.model.job import Job
from noonwater.model.site import Roof

if TYPE_CHECKING:
    from noonwater.climate.sun import PlaneSun
    from noonwater.drawing.roof_blocks import BankBlock, PlaneBlock
    from noonwater.year.surroundings import Surroundings

JOULES_IN_KWH = 3.6e6


@dataclass(frozen=True)
class PlaneMonths:
    """Sun on a plane.

    Attributes
    ----------
    name : str
        Of the plane.
    daily : tuple of float
        Mean of a day in each of the twelve months, shade left aside. [J/m²]
    year : float
        Mean of a day over the year. [J/m²]
    """

    name: str
    daily: tuple[float, ...]
    year: float


def roof_drawing(view: View) -> Drawing:
    """Draw all planes of the roof with their banks, to one scale."""
    return _roof_drawing(view.job)


@lru_cache(maxsize=32)
def _roof_drawing(job: Job) -> Drawing:
    from noonwater.document.language import language_of
    from noonwater.document.roof_figure import plane_block
    from noonwater.drawing.roof_blocks import PHONE, SCREEN, RoofWords, roof_blocks

    english = language_of("en", job.units)
    planes = [_touched(job, roof, plane_block(job, roof, english)) for roof in job.roof]
    words = RoofWords("The roof with its panels", "eave", "N")
    wide, narrow = (roof_blocks(planes, words, form) for form in (SCREEN, PHONE))
    return Drawing(wide, narrow)


def _touched(job: Job, roof: Roof, plane: PlaneBlock) -> PlaneBlock:
    eave = f"eave {show(roof.eave_height, 'length', job.units, 1)} above the pool’s water"
    banks = tuple(_spoken(bank, roof) for bank in plane.banks)
    return replace(plane, notes=(*plane.notes, eave), banks=banks)


def _spoken(bank: BankBlock, roof: Roof) -> BankBlock:
    return replace(bank, spoken=f"Bank {bank.index + 1} on {roof.name}: number of panels")


def sun_on_planes(view: View) -> tuple[PlaneMonths, ...]:
    """Give the sun on each plane of the roof by month; none where there is no weather."""
    try:
        around = surroundings_of(view.job)
    except NoonwaterError:
        return ()
    ground = view.job.site.ground
    return tuple(
        _months(around, ground, roof.name, roof.pitch, roof.bearing) for roof in view.job.roof
    )


@lru_cache(maxsize=64)
def _months(
    around: Surroundings, ground: str, name: str, pitch: float, bearing: float
) -> PlaneMonths:
    import numpy as np

    from noonwater.climate.weather_year import month_of_hour

    sun = around.planes.get((pitch, bearing)) or _sun_on(around, ground, pitch, bearing)
    whole = sun.beam + sun.sky + sun.ground
    month = np.repeat(month_of_hour(), 3600 // around.air.step_seconds)
    power = np.bincount(month, weights=whole, minlength=12) / np.bincount(month, minlength=12)
    daily = tuple(86_400.0 * float(each) for each in power)
    return PlaneMonths(name, daily, 86_400.0 * float(whole.mean()))


def _sun_on(around: Surroundings, ground: str, pitch: float, bearing: float) -> PlaneSun:
    from noonwater.climate.sun import plane_sun
    from noonwater.year.surroundings import GROUND_ALBEDO

    return plane_sun(around.sun, pitch, bearing, GROUND_ALBEDO[ground])
