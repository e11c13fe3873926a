"""A covered pool: what the cover keeps back of evaporation, dry loss and sun."""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType

from noonwater.core.jit import formula


@dataclass(frozen=True)
class CoverKind:
    """What a kind of cover does; prepared once, its numbers go into the year's loop.

    Attributes
    ----------
    evaporation_kept : float
        Evaporation under the cover over that of open water. [-]
    sun_kept : float
        Sun absorbed with the cover over that without. [-]
    resistance : float
        Thermal resistance between water and the cover's upper face. [m²·K/W]
    source : str
        Where each number comes from.
    """

    evaporation_kept: float
    sun_kept: float
    resistance: float
    source: str


_STUDY = (
    "evaporation: 8 pools, 90 days from July 2015, California Polytechnic State University "
    "(Muleta), maximum possible with the cover left on (trade-press reports, read)"
)

COVERS = MappingProxyType(
    {
        "none": CoverKind(1.0, 1.0, 0.0, "definition"),
        "bubble": CoverKind(
            0.051,
            0.85,
            0.05,
            f"{_STUDY}; sun: clear blankets pass about 85 %, a US laboratory has a reduction of as "
            "little as 5 % (both read second-hand); resistance from memory, 6 to 12 mm of bubbles",
        ),
        "foam": CoverKind(
            0.041,
            0.20,
            0.15,
            f"{_STUDY}; sun and resistance from memory, 6 mm of closed foam that no light passes",
        ),
        "solid": CoverKind(
            0.061,
            0.60,
            0.01,
            f"{_STUDY}, track cover; sun: dark covers reduce absorption by up to 40 % (read "
            "second-hand); resistance from memory, a wet vinyl sheet",
        ),
        "discs": CoverKind(
            0.499,
            0.90,
            0.03,
            f"{_STUDY}; sun and resistance from memory",
        ),
        "liquid": CoverKind(
            0.85,
            1.0,
            0.0,
            f"{_STUDY}, 14.4 to 15.8 %; a film passes sun and heat (from memory)",
        ),
    }
)
"""Kinds of cover by name. The evaporation shares are the best case: edges, wind and a torn sheet
make them worse."""


@formula
def covered_evaporation(evaporation_heat: float, evaporation_kept: float) -> float:
    """Evaporation heat of a covered pool.

    Parameters
    ----------
    evaporation_heat : float
        Evaporation heat of the open pool in the same weather. [W/m²]
    evaporation_kept : float
        Share that the cover lets through, see `COVERS`. [-]

    Returns
    -------
    float
        Evaporation heat under the cover. [W/m²]

    Notes
    -----
    Range: cover on and whole. Proportion to the open pool is ours, not the source's.
    """
    return evaporation_heat * evaporation_kept


@formula
def covered_conductance(resistance: float, coefficient_top: float) -> float:
    """Dry heat conductance from the water through a cover to air and sky.

    Parameters
    ----------
    resistance : float
        Resistance between water and the cover's upper face. [m²·K/W]
    coefficient_top : float
        Convection plus radiation at the upper face. [W/(m²·K)]

    Returns
    -------
    float
        Conductance. [W/(m²·K)]

    Notes
    -----
    Range: steady heat flow, cover lying on the water. Resistances in series.
    """
    return coefficient_top / (1.0 + resistance * coefficient_top)


@formula
def covered_dry_share(resistance: float, coefficient_top: float) -> float:
    """Dry loss of a covered pool over that of the open pool.

    Parameters
    ----------
    resistance : float
        Resistance between water and the cover's upper face. [m²·K/W]
    coefficient_top : float
        Convection plus radiation at the upper face. [W/(m²·K)]

    Returns
    -------
    float
        Factor on convection and long-wave loss of the open pool. [-]

    Notes
    -----
    Range: as `covered_conductance`; surfaces of like emissivity, dry upper face.
    """
    return 1.0 / (1.0 + resistance * coefficient_top)


@formula
def covered_absorptance(absorptance_pool: float, sun_kept: float) -> float:
    """Share of the sun that a covered pool absorbs.

    Parameters
    ----------
    absorptance_pool : float
        Absorptance of the open pool. [-]
    sun_kept : float
        Sun absorbed with the cover over that without, see `COVERS`. [-]

    Returns
    -------
    float
        Absorbed over incident. [-]

    Notes
    -----
    Range: 0 to 1. Definition of the cover's number.
    """
    return absorptance_pool * sun_kept
