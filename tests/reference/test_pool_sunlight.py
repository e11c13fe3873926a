"""Sun absorbed by a pool.

Sources: Fresnel and Snell through pvlib's glass model and by integration here; two-band and
nine-band fits of sunlight in clear sea water after Paulson and Simpson 1977 and 1981 (public ocean
code, read); absorptance of outdoor pools: ISO/TR 12596 as quoted by Kalogirou eq. 5.29 (read
second-hand), a fact sheet of a US laboratory (read second-hand).
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from pvlib import iam
from pvlib.albedo import SURFACE_ALBEDOS

from noonwater.physics.pool_sun import (
    FLOOR_REFLECTANCE,
    PATH_DIFFUSE,
    REFLECTANCE_DIFFUSE,
    REFLECTANCE_INSIDE,
    REFRACTIVE_INDEX,
    absorptance_below_surface,
    absorptance_pool,
    absorptance_pool_beam,
    angle_under_water,
    escape_band,
    reflectance_surface,
    transmittance_water,
)

HEMISPHERE = np.linspace(0.0, 90.0, 2001)
WEIGHT = np.sin(2.0 * np.radians(HEMISPHERE))


def mean_over_sky(values: list[float]) -> float:
    return float(np.sum(np.array(values) * WEIGHT) / WEIGHT.sum())


@pytest.mark.parametrize("angle", (0.0, 30.0, 60.0, 80.0))
def test_fresnel(angle: float) -> None:
    # pvlib.iam.physical without absorption is (1 - R(angle))/(1 - R(0)).
    expected = float(iam.physical(angle, n=REFRACTIVE_INDEX, K=0.0, L=0.0))
    ours = (1.0 - reflectance_surface(angle)) / (1.0 - reflectance_surface(0.0))
    assert ours == pytest.approx(expected, rel=1e-6)
    # Textbook value at normal incidence: ((n - 1)/(n + 1))².
    assert reflectance_surface(0.0) == pytest.approx((0.333 / 2.333) ** 2)


def test_diffuse_constants_are_integrals() -> None:
    above = [reflectance_surface(a) for a in HEMISPHERE]
    assert mean_over_sky(above) == pytest.approx(REFLECTANCE_DIFFUSE, abs=0.002)
    assert SURFACE_ALBEDOS["sea"] == pytest.approx(REFLECTANCE_DIFFUSE, abs=0.01)
    # By reciprocity 1 - R_inside = (1 - R_outside)/n²: what comes in can go out.
    inside = 1.0 - (1.0 - mean_over_sky(above)) / REFRACTIVE_INDEX**2
    assert inside == pytest.approx(REFLECTANCE_INSIDE, abs=0.01)
    path = [
        (1.0 - r) / math.cos(math.radians(angle_under_water(a)))
        for a, r in zip(HEMISPHERE, above, strict=True)
    ]
    assert mean_over_sky(path) / (1.0 - mean_over_sky(above)) == pytest.approx(
        PATH_DIFFUSE, abs=0.01
    )


def test_critical_angle() -> None:
    # 48.6° for n = 1.333, any optics textbook.
    assert angle_under_water(90.0) == pytest.approx(48.6, abs=0.05)


@pytest.mark.parametrize("depth", (1.0, 1.5, 2.0))
def test_light_in_clear_water(depth: float) -> None:
    # Nine bands, type I, from public code; and the older two-band fit 0.58/0.35 m, 0.42/23 m, which
    # the notes give as 57/60/61 % absorbed. The two fits are 3 % of the sun apart.
    share = [0.2370, 0.3600, 0.1790, 0.0870, 0.0800, 0.0246, 0.0250, 0.0070, 0.0004]
    rate = [0.066, 0.4405, 31.75, 182.5, 1201.0, 7937.0, 3195.0, 12790.0, 69440.0]
    nine = sum(s * math.exp(-depth * r) for s, r in zip(share, rate, strict=True))
    two = 0.58 * math.exp(-depth / 0.35) + 0.42 * math.exp(-depth / 23.0)
    assert transmittance_water(depth) == pytest.approx(nine, abs=0.001)
    assert transmittance_water(depth) == pytest.approx(two, abs=0.035)


def test_escape_of_a_lossless_band_over_a_white_floor() -> None:
    # Nothing absorbs: everything that entered leaves again.
    assert escape_band(0.0, 0.0, 1.0) == pytest.approx(1.0)
    assert absorptance_below_surface(0.0, 1.5, 1.2) == 1.0


def test_absorptance_of_outdoor_pools() -> None:
    # ISO/TR 12596: 0.85 light, 0.90 dark, less 0.05 in heavy use. 0.03: the finishes' own doubt of
    # 0.1 in reflectance is worth that. US laboratory: 0.75 to 0.85.
    assert absorptance_pool(FLOOR_REFLECTANCE["light"], 1.5) == pytest.approx(0.85, abs=0.03)
    assert absorptance_pool(FLOOR_REFLECTANCE["dark"], 1.5) == pytest.approx(0.90, abs=0.03)
    assert 0.75 <= absorptance_pool(FLOOR_REFLECTANCE["white"], 1.5) <= 0.85


def test_beam_over_the_sky_is_the_diffuse_value() -> None:
    beams = [absorptance_pool_beam(0.45, 1.5, a) for a in HEMISPHERE]
    assert mean_over_sky(beams) == pytest.approx(absorptance_pool(0.45, 1.5), abs=0.003)
