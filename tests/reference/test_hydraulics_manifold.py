"""Flow in manifolds against closed forms, against a published rule, and against a second solver.

Closed forms are derived mathematics (the project's reference notes; the dividing one is of the
type that Acrivos and Keller gave, attribution from memory). The rule is UFC 3-440-01 (14 June
2002, cancelled since; read). No measured riser flows were at hand: the momentum factors have only
this.
"""

from __future__ import annotations

from dataclasses import replace
from math import cos, cosh, pi, sqrt

import fluids
import numpy as np
import pytest
from scipy.optimize import root

from noonwater.catalog import panel_named
from noonwater.hydraulics.arrangement import fill_circuit
from noonwater.hydraulics.arrays import COMBINING, DIVIDING, Constants, Joints, Links
from noonwater.hydraulics.network import build_network, number_nodes
from noonwater.hydraulics.settings import Settings, water_at
from noonwater.hydraulics.solution import solve
from noonwater.hydraulics.solver import solve_network
from noonwater.hydraulics.states import state_at
from noonwater.model.plant import Array, Bank
from tests.jobs import example_job

G = 9.80665
NU = 1e-6


def solved(ends, figures, source, joints=None, theta=(0.0, 0.0)):
    """Solve links given by ends and figures, between the pool (node 0) and a head at `source`."""
    start, stop = np.array(ends, dtype=np.int64).T
    links = Links(
        start.copy(), stop.copy(), np.zeros(len(ends), dtype=np.int64), np.array(figures, float)
    )
    count = int(max(start.max(), stop.max())) + 1
    # The source's head is known: number the rest, then put the source aside.
    nodes = number_nodes(links, count)
    node, head = source
    last = nodes.position[node]
    position = np.where(nodes.position > last, nodes.position - 1, nodes.position)
    position[node] = -1
    known = nodes.head.copy()
    known[node] = head
    nodes = nodes._replace(head=known, position=position, free=nodes.free - 1)
    if joints is None:
        joints = Joints(
            np.zeros((0, 4), dtype=np.int64), np.zeros((0, 2)),
            np.zeros((0, 3), dtype=np.int64), np.zeros(0),
        )  # fmt: skip
    constants = Constants(NU, G, *theta, False, 1e-9, 5000)
    flow, _, _, residual = solve_network(links, nodes, joints, constants, np.full(len(ends), 1e-4))
    assert residual <= 1e-9
    return flow


def dividing_ratio(R, n):
    """q_first/q_last of a frictionless dividing header with n risers into a plenum, theta 1."""
    area = 2e-3
    riser = (n / (R * area)) ** 2 / (2 * G)
    ends = [(n + 1, 1)] + [(i, i + 1) for i in range(1, n)] + [(i, 0) for i in range(1, n + 1)]
    figures = [(0, 0, 0, 0, 0, 0)] * n + [(0, 0, 0, 0, riser, 0)] * n
    headers = [[i, i + 1 if i + 1 < n else -1, DIVIDING] for i in range(n)]
    joints = Joints(
        np.zeros((0, 4), dtype=np.int64),
        np.zeros((0, 2)),
        np.array(headers, dtype=np.int64),
        np.full(n, area),
    )
    flow = solved(ends, figures, (n + 1, 1.0), joints, (1.0, 0.0))
    return flow[n] / flow[-1]


# R = n Cd a/A: q_first/q_last = cos R for a slot. 200 risers: 0.6 % (the notes' own prototype,
# which books a riser's recovery half a pitch elsewhere, had 0.87818 and 0.54241). The error goes
# with 1/n, so extrapolated from 100 and 200 risers the closed form must come out to 1e-4.
@pytest.mark.parametrize(("R", "notes"), [(0.5, 0.87818), (1.0, 0.54241)])
def test_dividing_manifold(R, notes):
    coarse, fine = dividing_ratio(R, 100), dividing_ratio(R, 200)
    assert fine == pytest.approx(cos(R), rel=6e-3)
    assert fine == pytest.approx(notes, abs=1e-3)
    assert 2 * fine - coarse == pytest.approx(cos(R), abs=1e-4)


def reverse_return(n, header, riser):
    """Links of a reverse-return bank: source 2n+1, lower headers, upper headers, risers."""
    low = [(2 * n + 1, 1)] + [(i, i + 1) for i in range(1, n)]
    high = [(n + i, n + i + 1) for i in range(1, n)] + [(2 * n, 0)]
    risers = [(i, n + i) for i in range(1, n + 1)]
    none = (0, 0, 0, 0, 0, 0)
    figures = [none] + [header] * (n - 1) + [header] * (n - 1) + [none] + [riser] * n
    return low + high + risers, figures


# Linear headers and risers, m² = 2 R_H n/R_r: q_mid/q_end = 1/cosh(m/2). 101 risers stand for the
# continuum: 1 % at the strongest m.
@pytest.mark.parametrize("m", [0.5, 1.0, 2.0])
def test_linear_reverse_return(m):
    n = 101
    riser = 1e4
    header = m**2 * riser / (2 * n) / n
    ends, figures = reverse_return(n, (0, 0, 0, header / NU, 0, 0), (0, 0, 0, riser / NU, 0, 0))
    flow = solved(ends, figures, (2 * n + 1, 1.0))[-n:]
    assert flow[n // 2] / flow[0] == pytest.approx(1 / cosh(m / 2), rel=1e-2)


# UFC 3-440-01: header drop at 30 % of the riser drop gives about ±5 % in reverse return. The notes
# solved it with a header exponent of 1.75: turbulent risers (2.0) +4.8/-3.9 %, laminar risers
# +9.5/-7.6 %. Ours is a smooth pipe near Re 1e5 (exponent about 1.8), so half a point.
@pytest.mark.parametrize(
    ("turbulent", "most", "least"), [(True, 0.048, -0.039), (False, 0.095, -0.076)]
)
def test_header_drop_rule(turbulent, most, least):
    n, flow_each, diameter = 6, 1e-3, 0.05
    drop = 1.0
    mean = [flow_each * (n - i) for i in range(1, n)]
    per_metre = sum(
        fluids.friction.friction_factor(4 * q / (pi * diameter * NU), eD=3e-5)
        * (4 * q / (pi * diameter**2)) ** 2 / (2 * G * diameter)
        for q in mean
    )  # fmt: skip
    length = 0.3 * drop / per_metre
    header = (length, diameter, 1.5e-6, 0, 0, 0)
    figures = (0, 0, 0, 0, drop / flow_each**2, 0)
    riser = figures if turbulent else (0, 0, 0, drop / flow_each / NU, 0, 0)
    ends, rows = reverse_return(n, header, riser)
    flow = solved(ends, rows, (2 * n + 1, 1.3 * drop))[-n:]
    spread = flow / flow.mean() - 1
    assert spread.max() == pytest.approx(most, abs=6e-3)
    assert spread.min() == pytest.approx(least, abs=6e-3)


# A bank with momentum, closed by a general root finder over its own written-out equations: friction
# by the library fluids. 1e-4: rounding of its Swamee-Jain constants.
@pytest.mark.parametrize("piping", ["reverse return", "direct return"])
def test_bank_against_a_second_solver(piping):
    job = example_job(array=Array((Bank("south", 6, "tube 4x10", piping),)))
    circuit = fill_circuit(job)
    settings = Settings(tees=False, tolerance=1e-9)
    water = water_at(25.0)
    network = build_network(circuit, state_at(job, 2400.0, True), water, settings)
    solution = solve(network, water, settings, "test")
    ours = np.array([solution.flow_in(f"bank 1 panel {i}") for i in range(1, 7)])
    panel = panel_named("tube 4x10")
    diameter = panel.header_diameter
    area = pi / 4 * diameter**2

    def friction(flow):
        Re = 4 * abs(flow) / (pi * diameter * water.viscosity)
        f = 0.25 / np.log10(1.5e-6 / diameter / 3.7 + 5.74 / Re**0.9) ** 2
        return f * panel.width / diameter * (flow / area) * abs(flow / area) / (2 * G)

    def riser(flow):
        linear = panel.drop_laminar * water.viscosity / panel.viscosity
        return linear * flow + panel.drop_turbulent * flow * abs(flow)

    def static(flow):
        return (flow / area) ** 2 / (2 * G)

    def misses(q):
        total = q.sum()
        into = total - np.concatenate([[0], np.cumsum(q)[:-1]])
        low = np.zeros(6)
        for i in range(1, 6):
            low[i] = low[i - 1] - friction(into[i])
        after = np.append(into[1:], 0.0)
        low += np.cumsum(static(into) - static(after))
        order = range(6) if piping == "reverse return" else range(5, -1, -1)
        high, carried, last = np.zeros(6), 0.0, None
        for i in order:
            if last is not None:
                gained = 2.0 * (static(carried) - static(carried - q[last]))
                high[i] = high[last] - friction(carried) - gained
            carried += q[i]
            last = i
        gap = low - high - riser(q)
        return np.append(np.diff(gap), total - ours.sum())

    found = root(lambda q: misses(q)[:6], np.full(6, ours.mean()), tol=1e-14)
    assert sqrt(np.mean(found.fun**2)) < 1e-9
    assert np.allclose(found.x, ours, rtol=1e-4)


def test_momentum_widens_the_spread_of_a_soft_bank():
    # The notes' prototype: 6x2 soft panels in reverse return, ±6 % without momentum, far more with.
    job = example_job()
    circuit, water = fill_circuit(job), water_at(25.0)
    spreads = []
    for theta in (0.0, 1.0):
        settings = Settings(tees=False, theta_dividing=theta, theta_combining=2 * theta)
        network = build_network(circuit, state_at(job, 2400.0, True), water, settings)
        solution = solve(network, water, settings, "test")
        flows = np.array([solution.flow_in(f"bank 1 panel {i}") for i in range(1, 7)])
        spreads.append(flows.max() / flows.mean() - 1)
    assert spreads[0] < 0.10
    assert spreads[1] > 2 * spreads[0]


def test_header_joints_come_from_the_circuit():
    job = replace(example_job(), array=Array((Bank("south", 3, "tube 4x10"),)))
    circuit = fill_circuit(job)
    network = build_network(circuit, state_at(job, 2400.0, True), water_at(25.0), Settings())
    roles = network.joints.headers[:, 2].tolist()
    assert roles.count(DIVIDING) == 3
    assert roles.count(COMBINING) == 3
