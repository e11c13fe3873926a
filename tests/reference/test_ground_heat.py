"""Ground heat after ISO 13370 against a field of conduction solved here.

Source: the equations of heat conduction, solved for a round pit in even ground (finite volumes in
two dimensions, sparse direct solve of scipy, the year's wave as a complex amplitude); computed at
each run, nothing pasted. Tolerance 20 % for the mean and 25 % for the wave, set beforehand: the
standard calls itself good to some 10 % for plain shapes, and a round pit of a pool's size, with
thin walls, is outside of what it was fitted to. The soil's own doubt is a factor of two.

Published tables beside it: thermal transmittances of ground floors and basement floors on clay,
tables C1 and C5 of appendix C to the English building regulations' part L (read in public code
that holds them), and of basement walls, the same appendix (from memory). They are made with this
standard, walls 0.3 m thick, resistances of the surfaces 0.17, 0.13 and 0.04 m²·K/W; two decimals,
so 0.006.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import spsolve

from noonwater.physics.ground import (
    CONDUCTIVITY_SOIL,
    HEAT_CAPACITY_SOIL,
    YEAR,
    conductance_outside_wave,
    penetration_depth,
    transmittance_floor,
    transmittance_layers,
    transmittance_wall,
)

SURFACE = 0.04
"""[m²·K/W] Between the air and the ground's surface (ISO 6946, from memory)."""


def edges(inner: float, cells: int) -> np.ndarray:
    """Fine on both sides of ``inner``, coarse far away, to 60 m."""
    near = np.linspace(0.0, inner, cells + 1)
    far = inner + 60.0 * np.linspace(0.0, 1.0, 2 * cells + 1)[1:] ** 2.5
    return np.concatenate([near, far])


def flow_to_pit(radius: float, depth: float, resistance: float, soil: str, omega: float) -> complex:
    """Heat into a pit at 0 from air at 1, per kelvin; complex for a wave of the air. [W/K]."""
    k, capacity = CONDUCTIVITY_SOIL[soil], HEAT_CAPACITY_SOIL[soil]
    r, z = edges(radius, 24), edges(depth, 24)
    rows, down = len(r) - 1, len(z) - 1
    inside = 24
    rc, zc = 0.5 * (r[1:] + r[:-1]), 0.5 * (z[1:] + z[:-1])
    ring = math.pi * (r[1:] ** 2 - r[:-1] ** 2)
    number = np.arange(rows * down).reshape(rows, down)
    entries: list[tuple[int, int, complex]] = []
    drive = np.zeros(rows * down, dtype=complex)
    to_pit = np.zeros(rows * down)

    def link(a: int, b: int, g: float) -> None:
        entries.extend([(a, a, g), (b, b, g), (a, b, -g), (b, a, -g)])

    for i in range(rows):
        for j in range(down):
            here = number[i, j]
            if i < inside and j < inside:
                entries.append((here, here, 1.0))
                continue
            entries.append((here, here, 1j * omega * capacity * ring[i] * (z[j + 1] - z[j])))
            if i + 1 < rows:
                link(here, number[i + 1, j], k * 2 * math.pi * r[i + 1] * (z[j + 1] - z[j])
                     / (rc[i + 1] - rc[i]))  # fmt: skip
            if j + 1 < down:
                link(here, number[i, j + 1], k * ring[i] / (zc[j + 1] - zc[j]))
            if j == 0:
                g = ring[i] / (SURFACE + (zc[0] - z[0]) / k)
                entries.append((here, here, g))
                drive[here] += g
            if i == inside and j < inside:
                to_pit[here] += (
                    2 * math.pi * radius * (z[j + 1] - z[j]) / (resistance + (rc[i] - radius) / k)
                )
            if j == inside and i < inside:
                to_pit[here] += ring[i] / (resistance + (zc[j] - depth) / k)
    entries.extend((n, n, g) for n, g in enumerate(to_pit) if g)
    a, b, values = zip(*entries, strict=True)
    matrix = coo_matrix((values, (a, b)), shape=(rows * down,) * 2).tocsr()
    return complex(to_pit @ spsolve(matrix, drive))


CASES = pytest.mark.parametrize(
    ("radius", "depth", "resistance", "soil"),
    [
        (3.5, 1.5, 0.10, "sand or gravel"),
        (2.5, 1.2, 0.10, "clay or silt"),
        (8.0, 2.0, 0.10, "sand or gravel"),
        (3.5, 1.5, 1.50, "sand or gravel"),
    ],
)


@CASES
def test_mean_and_wave(radius: float, depth: float, resistance: float, soil: str) -> None:
    k = CONDUCTIVITY_SOIL[soil]
    area, perimeter = math.pi * radius**2, 2.0 * math.pi * radius
    thickness = k * (resistance + SURFACE)
    floor = transmittance_floor(2.0 * area / perimeter, thickness, depth, k)
    wall = transmittance_wall(depth, thickness, thickness, k)
    mean = area * floor + perimeter * depth * wall
    assert mean == pytest.approx(flow_to_pit(radius, depth, resistance, soil, 0.0).real, rel=0.20)
    wave = flow_to_pit(radius, depth, resistance, soil, 2.0 * math.pi / YEAR)
    reach = penetration_depth(k, HEAT_CAPACITY_SOIL[soil])
    ours = conductance_outside_wave(perimeter, depth, thickness, thickness, k, reach)
    assert ours == pytest.approx(abs(wave), rel=0.25)
    assert 0.0 < -np.angle(wave) / (2.0 * math.pi) < 2.0 / 12.0, "the wave lags a month or so"


@pytest.mark.parametrize(
    ("soil", "depth"), [("clay or silt", 2.2), ("sand or gravel", 3.2), ("rock", 4.2)]
)
def test_penetration_depth_as_the_standard_prints_it(soil: str, depth: float) -> None:
    """Table H.1 of the standard (read in public code of it), one decimal."""
    found = penetration_depth(CONDUCTIVITY_SOIL[soil], HEAT_CAPACITY_SOIL[soil])
    assert found == pytest.approx(depth, abs=0.051)


def test_layers_against_a_handbook_sum() -> None:
    """Resistances in series by hand: 0.5 + 1/12.5 = 0.58, so 1.724 W/(m²·K)."""
    assert transmittance_layers(0.5, 12.5) == pytest.approx(1.0 / 0.58)


CLAY = CONDUCTIVITY_SOIL["clay or silt"]
WALL = 0.3
"""[m] Thickness of the walls behind the published tables."""

SLAB = {
    # Perimeter over area [1/m]: transmittance at an insulation of 0, 0.5, 1.0, 1.5, 2.0 m²·K/W.
    0.05: (0.13, 0.11, 0.10, 0.09, 0.08),
    0.10: (0.22, 0.18, 0.16, 0.14, 0.13),
    0.20: (0.37, 0.29, 0.25, 0.22, 0.19),
    0.30: (0.49, 0.38, 0.31, 0.27, 0.23),
    0.40: (0.60, 0.44, 0.36, 0.30, 0.26),
    0.50: (0.70, 0.50, 0.40, 0.33, 0.28),
    0.60: (0.78, 0.55, 0.43, 0.35, 0.29),
    0.70: (0.86, 0.59, 0.45, 0.36, 0.30),
    0.80: (0.93, 0.62, 0.47, 0.37, 0.32),
    0.90: (0.99, 0.65, 0.48, 0.39, 0.32),
    1.00: (1.05, 0.68, 0.50, 0.40, 0.33),
}

BASEMENT = {
    # Perimeter over area [1/m]: transmittance at depths of 0.5, 1.0, 1.5, 2.0, 2.5 m.
    0.1: (0.20, 0.19, 0.18, 0.17, 0.16),
    0.2: (0.34, 0.31, 0.29, 0.27, 0.26),
    0.3: (0.44, 0.41, 0.38, 0.35, 0.33),
    0.4: (0.53, 0.48, 0.44, 0.41, 0.38),
    0.5: (0.61, 0.55, 0.50, 0.46, 0.43),
    0.6: (0.68, 0.61, 0.55, 0.50, 0.46),
    0.7: (0.74, 0.65, 0.59, 0.53, 0.49),
    0.8: (0.79, 0.70, 0.62, 0.56, 0.51),
    0.9: (0.84, 0.73, 0.65, 0.58, 0.53),
    1.0: (0.89, 0.77, 0.68, 0.60, 0.54),
}

BASEMENT_WALL = (1.55, 1.16, 0.95, 0.81, 0.71)
"""[W/(m²·K)] Walls of 0.2 m²·K/W at the same depths (from memory)."""


@pytest.mark.parametrize("ratio", SLAB)
def test_published_floors_on_the_ground(ratio: float) -> None:
    for insulation, printed in zip((0.0, 0.5, 1.0, 1.5, 2.0), SLAB[ratio], strict=True):
        thickness = WALL + CLAY * (0.17 + insulation + SURFACE)
        found = transmittance_floor(2.0 / ratio, thickness, 0.0, CLAY)
        assert found == pytest.approx(printed, abs=0.006)


@pytest.mark.parametrize("ratio", BASEMENT)
def test_published_floors_of_basements(ratio: float) -> None:
    thickness = WALL + CLAY * (0.17 + SURFACE)
    for depth, printed in zip((0.5, 1.0, 1.5, 2.0, 2.5), BASEMENT[ratio], strict=True):
        found = transmittance_floor(2.0 / ratio, thickness, depth, CLAY)
        assert found == pytest.approx(printed, abs=0.006)


def test_published_walls_of_basements() -> None:
    floor, wall = WALL + CLAY * (0.17 + SURFACE), CLAY * (0.13 + 0.2 + SURFACE)
    for depth, printed in zip((0.5, 1.0, 1.5, 2.0, 2.5), BASEMENT_WALL, strict=True):
        found = transmittance_wall(depth, floor, wall, CLAY)
        assert found == pytest.approx(printed, abs=0.006)
