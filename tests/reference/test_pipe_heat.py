"""Conduction through a pipe's wall.

Source: Fourier's law in a cylinder, q = -k 2 pi r dT/dr, integrated here by scipy.integrate.quad
(QUADPACK); nothing pasted. Tolerance 1e-9: both sides are exact up to rounding. The wall's heat
capacity against the ring's area by quad likewise.
"""

from __future__ import annotations

import math

import pytest
from scipy.integrate import quad

from noonwater.physics.pipe_heat import capacity_pipe_wall, conductance_pipe


@pytest.mark.parametrize(("inside", "outside"), [(0.0525, 0.0603), (0.0404, 0.0483)])
def test_wall_and_film_in_series(inside: float, outside: float) -> None:
    conductivity, film = 0.19, 12.0
    wall, _ = quad(lambda r: 1.0 / (2.0 * math.pi * conductivity * r), inside / 2, outside / 2)
    expected = 1.0 / (wall + 1.0 / (film * math.pi * outside))
    assert conductance_pipe(inside, outside, conductivity, film) == pytest.approx(
        expected, rel=1e-9
    )


def test_heat_capacity_of_the_ring() -> None:
    area, _ = quad(lambda r: 2.0 * math.pi * r, 0.0525 / 2, 0.0603 / 2)
    expected = area * 1400.0 * 1000.0
    assert capacity_pipe_wall(0.0525, 0.0603, 1400.0, 1000.0) == pytest.approx(expected, rel=1e-9)
