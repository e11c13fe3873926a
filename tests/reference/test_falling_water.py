"""Falling sheets against the boundary layer of a stretching surface, solved here.

Source: the boundary-layer equations of Prandtl for a surface that moves through still air with a
speed that grows as a power of the way (similarity form; solved at each run with scipy). The solver
is first held against published values: uniform speed, wall shear 0.4437 (Sakiadis 1961) and heat
at a Prandtl number of 0.7, 0.3492 (Tsou, Sparrow and Goldstein, Int. J. Heat Mass Transfer 10,
1967); speed that grows with the way, shear 1 exactly (Crane 1970) and heat at 1, 0.5820 (Grubka
and Bobba, J. Heat Transfer 107, 1985); all from memory. Free fall: kinematics of a body from rest.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad, solve_bvp

from noonwater.physics.convection import convection_coefficient_bowen
from noonwater.physics.evaporation import COEFFICIENT_FORCED
from noonwater.physics.falling_water import (
    DIFFUSION_HEAT,
    VISCOSITY_AIR,
    WALL_GRADIENT,
    evaporation_coefficient_falling,
    speed_falling,
)
from noonwater.physics.water import latent_heat

GRAVITY = 9.80665
DIFFUSION = 2.5e-5
"""[m²/s] Of vapour in air at 25 °C (from memory)."""


def layer(power: float, number: float) -> tuple[float, float]:
    """Wall gradients of speed and of vapour for a surface speed that grows as way ** power."""
    half = 0.5 * (power + 1.0)

    def slopes(_: np.ndarray, y: np.ndarray) -> np.ndarray:
        return np.vstack(
            [y[1], y[2], power * y[1] ** 2 - half * y[0] * y[2], y[4], -number * half * y[0] * y[4]]
        )

    def ends(wall: np.ndarray, far: np.ndarray) -> np.ndarray:
        return np.array([wall[0], wall[1] - 1.0, far[1], wall[3] - 1.0, far[3]])

    way = np.linspace(0.0, 30.0, 600)
    fade = np.exp(-way)
    start = np.vstack([1.0 - fade, fade, -fade, fade, -fade])
    found = solve_bvp(slopes, ends, way, start, tol=1e-5, max_nodes=20000)
    assert found.status == 0
    return -float(found.sol(0.0)[2]), -float(found.sol(0.0)[4])


@pytest.mark.parametrize(
    ("power", "number", "shear", "heat"),
    [(0.0, 0.7, 0.4437, 0.3492), (1.0, 1.0, 1.0, 0.5820)],
)
def test_solver_gives_the_published_layers(
    power: float, number: float, shear: float, heat: float
) -> None:
    # Four digits as printed.
    assert layer(power, number) == pytest.approx((shear, heat), abs=1e-4)


def test_gradient_of_a_falling_sheet() -> None:
    _, gradient = layer(0.5, VISCOSITY_AIR / DIFFUSION)
    assert gradient == pytest.approx(WALL_GRADIENT, abs=0.002)


@pytest.mark.parametrize("fall", [0.1, 0.5, 1.5])
def test_coefficient_is_the_mean_over_the_sheet(fall: float) -> None:
    # Local values summed down the sheet; 1 % for the rounded gradient.
    _, gradient = layer(0.5, VISCOSITY_AIR / DIFFUSION)

    def local(way: float) -> float:
        speed = np.sqrt(2.0 * GRAVITY * way)
        return DIFFUSION_HEAT * gradient * float(np.sqrt(speed / (VISCOSITY_AIR * way)))

    mean = quad(local, 0.0, fall)[0] / fall
    found = evaporation_coefficient_falling(0.0, speed_falling(fall))
    assert found == pytest.approx(mean, rel=0.01)


def test_diffusion_in_heat() -> None:
    # Ideal gas: flux D dp/(R T), R of vapour 461.5 J/(kg·K); latent heat of our steam tables.
    assert pytest.approx(latent_heat(25.0) * DIFFUSION / (461.5 * 298.15), rel=0.005) == (
        DIFFUSION_HEAT
    )


def test_heat_beside_it_by_lewis() -> None:
    # Chilton-Colburn analogy: convection over evaporation is 62 Pa/K at Schmidt over Prandtl 0.87;
    # Bowen's ratio of the pool, used for the sheet too, has 61 (from memory). 8 %.
    coefficient = evaporation_coefficient_falling(0.0, speed_falling(0.5))
    rho, heat_capacity, latent, gas = 1.184, 1007.0, 2.442e6, 461.5
    lewis = rho * heat_capacity * gas * 298.15 / latent * (0.624 / 0.71) ** (2.0 / 3.0)
    found = convection_coefficient_bowen(coefficient, 101325.0) / coefficient
    assert found == pytest.approx(lewis, rel=0.08)


@pytest.mark.parametrize("fall", [0.3, 1.0, 3.0])
def test_mean_speed_over_the_height(fall: float) -> None:
    heights = (np.arange(20000) + 0.5) / 20000 * fall
    assert speed_falling(fall) == pytest.approx(np.sqrt(2.0 * GRAVITY * heights).mean(), rel=1e-4)


def test_wind_alone_is_the_pools() -> None:
    # Water that hardly moves counts little in a gale: 10 %.
    found = evaporation_coefficient_falling(8.0, speed_falling(1.5))
    assert found == pytest.approx(8.0 * COEFFICIENT_FORCED, rel=0.10)
