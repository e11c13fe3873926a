"""Height of a siphon: (p - pv)/(rho g), checked at the figures of the project's notes.

Pressures from the standard atmosphere and steam tables, density 990 kg/m³ as the notes took it.
"""

from __future__ import annotations

import pytest

from noonwater.physics.siphon import flow_carrying_air, siphon_height

G = 9.80665


# Sea level 25/60 °C: 10.1/8.4 m; 1600 m: 8.3/6.5 m; one decimal printed.
@pytest.mark.parametrize(
    ("pressure", "vapour", "expected"),
    [(101325, 3169, 10.1), (101325, 19946, 8.4), (83500, 3169, 8.3), (83500, 19946, 6.5)],
)
def test_limit(pressure, vapour, expected):
    assert siphon_height(pressure, vapour, 990.0, G) == pytest.approx(expected, abs=0.06)


# 200 °F and 10 psi gauge at the top, sea level: 31.6 ft; method read in a drain-back manual:
# (Pa + Ptop - Pv)·144/D; steam tables at 93.3 °C: 79.5 kPa, 963 kg/m³.
def test_hot_and_pressurised():
    height = siphon_height(101325 + 10 * 6894.757, 79500, 963.0, G)
    assert height / 0.3048 == pytest.approx(31.6, rel=5e-3)


# 2 ft/s in the return, a rule read in a trade article and a manual: 12.4, 20.6, 29.3 gpm in
# 1½, 2 and 2½ inch schedule 40 (average inside 1.592, 2.049, 2.445 in). One decimal printed.
@pytest.mark.parametrize(("inches", "gpm"), [(1.592, 12.4), (2.049, 20.6), (2.445, 29.3)])
def test_flow_that_carries_air(inches, gpm):
    assert flow_carrying_air(inches * 0.0254) / 6.30902e-5 == pytest.approx(gpm, abs=0.06)
