"""Generated pads and arrays against EPANET 2.3, run here through owa-epanet, none left out.

Source: EPANET itself. Our tees and header momentum are off: EPANET knows neither. Its g is
32.2 ft/s² (9.81456 m/s²), so plain agreement is 1e-3 of the pump's flow; with its g in ours, 1e-4.
The 3e-5 that is left then was not traced; EPANET computes in feet with rounded unit factors.
"""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pytest

from noonwater.hydraulics.air import settle_with_air
from noonwater.hydraulics.arrangement import fill_circuit
from noonwater.hydraulics.arrays import OPENING, QUADRATIC, RATIO, SHUTOFF
from noonwater.hydraulics.joint import joint_heads
from noonwater.hydraulics.loop import Loop, loop_of
from noonwater.hydraulics.network import build_network
from noonwater.hydraulics.priming import priming
from noonwater.hydraulics.settings import PLAIN_SETTINGS, Settings, constants_of, water_at
from noonwater.hydraulics.solution import solve
from noonwater.hydraulics.states import state_at
from noonwater.model.circuit import Circuit, Part, Pipe, State
from noonwater.model.plant import Array, Bank, Period, Pump
from noonwater.model.site import Roof
from tests.jobs import example_job

pytest.importorskip("epanet", reason="evidence not at hand: EPANET has no wheel for this Python")
from tests.epanet_case import EPANET_GRAVITY, epanet_answer

ROOFS = tuple(
    Roof(name, pitch=pitch, bearing=180.0, width=20.0, slope_length=6.0, eave_height=eave)
    for name, pitch, eave in (
        ("low", 18.0, 2.5),
        ("high", 30.0, 4.0),
        ("flat", 2.0, 3.2),
        ("ground", 20.0, -1.0),
    )
)

ARRAYS = {
    "one bank": (Bank("low", 6, "tube 4x10"),),
    "one bank, direct": (Bank("low", 10, "tube 4x12", "direct return"),),
    "two banks": (Bank("low", 6, "tube 4x10"), Bank("low", 6, "tube 4x10")),
    "two heights": (
        Bank("low", 8, "tube 4x12"),
        Bank("high", 5, "sheet 4x10", "direct return"),
    ),
    "three heights": (
        Bank("flat", 6, "tube 4x8"),
        Bank("low", 8, "tube 4x12"),
        Bank("high", 4, "sheet 4x10", "direct return"),
    ),
    "ground rack": (Bank("ground", 12, "tube 4x10"),),
    "four banks": tuple(Bank("flat", 6, "tube 4x10", "direct return") for _ in range(4)),
    "six banks": tuple(Bank("low", 5 + i, "tube 4x12") for i in range(6)),
    "300 parts": tuple(Bank("flat", 26, "tube 4x10") for _ in range(11)),
}

PADS = (
    {"arrangement": "diverter", "pipe": 0.0508, "breaker": "high return"},
    {
        "arrangement": "diverter with bypass",
        "bypass_open": 0.4,
        "pipe": 0.0635,
        "breaker": "feed",
        "filter": "sand",
        "schedule": "80",
        "heater": "none",
    },
    {
        "arrangement": "diverter with bypass",
        "bypass_open": 0.0,
        "pipe": 0.0381,
        "breaker": "none",
        "filter": "DE",
        "heater": "heat pump",
        "check_valves": (),
    },
)


def job_of(array, pad):
    pump = Pump("variable large", (Period("09:00", "17:00", 2500.0),))
    base = example_job()
    return replace(
        base, roof=ROOFS, array=Array(ARRAYS[array]), pad=replace(base.pad, **pad), pump=pump
    )


CASES = list(itertools.product(ARRAYS, range(len(PADS))))


@pytest.mark.parametrize("gravity_matched", [False, True])
@pytest.mark.parametrize(("array", "pad"), CASES)
def test_every_state_agrees(array, pad, gravity_matched, tmp_path):
    job = job_of(array, PADS[pad])
    circuit, water = fill_circuit(job), water_at(27.0)
    settings = replace(PLAIN_SETTINGS, tolerance=1e-9)
    if gravity_matched:
        settings = replace(settings, gravity=EPANET_GRAVITY)
    for state in (
        state_at(job, 1500.0, False),
        state_at(job, 1800.0, True),
        state_at(job, 2500.0, True),
    ):
        network = build_network(circuit, state, water, settings)
        ours = solve(network, water, settings, state.name)
        theirs = epanet_answer(network, water, settings, tmp_path)
        miss = np.max(np.abs(ours.flow - theirs.flow)) / ours.flow_in("pump")
        assert miss <= (1e-4 if gravity_matched else 1e-3)


# Air at the high point against a pressure-sustaining valve at 0, at speeds that lift water over the
# top while the sealed loop would be under vacuum there. The ground rack has no such speed.
@pytest.mark.parametrize(
    ("array", "pad", "speed"),
    [
        ("one bank", 0, 1300.0),
        ("one bank", 1, 2800.0),
        ("one bank", 2, 1700.0),
        ("one bank, direct", 0, 2000.0),
        ("one bank, direct", 1, 3000.0),
        ("two banks", 0, 1500.0),
        ("two banks", 1, 3000.0),
        ("two heights", 0, 2100.0),
        ("two heights", 2, 2400.0),
        ("three heights", 0, 2000.0),
        ("three heights", 2, 2200.0),
        ("four banks", 0, 1600.0),
        ("four banks", 2, 1200.0),
        ("six banks", 0, 1500.0),
    ],
)
def test_open_breaker_is_a_sustaining_valve(array, pad, speed, tmp_path):
    job = job_of(array, PADS[pad])
    circuit, water = fill_circuit(job), water_at(27.0)
    settings = replace(PLAIN_SETTINGS, tolerance=1e-9, gravity=EPANET_GRAVITY)
    loop = Loop(circuit, water, settings, 10.0)
    ours, dry = settle_with_air(loop, state_at(job, speed, True))
    assert not dry
    assert np.any(ours.network.nodes.pinned >= 0)
    theirs = epanet_answer(ours.network, water, settings, tmp_path)
    miss = np.max(np.abs(ours.flow - theirs.flow)) / ours.flow_in("pump")
    assert miss <= 1e-4


def bare_circuit(parts, diameter, lengths):
    """A loop of parts in a row, told as data: the smallest pads there are."""
    rows = [Part("pool", "pool", ("return", "suction"), 0.0, 0.05)]
    rows += [Part(kind, kind, ("in", "out"), 0.3, 0.05, catalog) for kind, catalog in parts]
    ends = [("pool", "suction")]
    for part in rows[1:]:
        ends += [(part.name, "in"), (part.name, "out")]
    ends += [("pool", "return")]
    pipes = tuple(
        Pipe(f"pipe {i}", ends[2 * i], ends[2 * i + 1], length, diameter, 0.05)
        for i, length in enumerate(lengths[: len(ends) // 2])
    )
    return Circuit(tuple(rows), pipes)


PUMP_ONLY = [("pump", "variable large")]
SMALL = [
    [*PUMP_ONLY, ("filter", "cartridge"), ("check valve", "swing")],
    [*PUMP_ONLY, ("filter", "sand"), ("heater", "gas"), ("check valve", "one pound spring")],
    [*PUMP_ONLY, ("filter", "DE"), ("check valve", "two pound spring"), ("heater", "heat pump")],
]


# A spring takes its opening head at any flow. EPANET has no such part: there the pump's shut-off
# head is that much less.
@pytest.mark.parametrize("parts", SMALL)
@pytest.mark.parametrize("diameter", [0.0404, 0.0520])
@pytest.mark.parametrize("speed", [900.0, 2600.0])
def test_the_smallest_pads_agree(parts, diameter, speed, tmp_path):
    circuit = bare_circuit(parts, diameter, [6.0, 0.5, 0.5, 8.0, 2.0])
    water, settings = water_at(27.0), replace(PLAIN_SETTINGS, tolerance=1e-9)
    network = build_network(circuit, State("run", speed, False), water, settings)
    spring = network.links.figures[network.link_of["check valve"], OPENING]
    ours = solve(network, water, settings, "run").flow_in("pump")
    weaker = network.links.figures.copy()
    pump = network.link_of["pump"]
    weaker[network.link_of["check valve"], OPENING] = 0.0
    weaker[pump, SHUTOFF] -= spring / weaker[pump, RATIO] ** 2
    stand_in = replace(network, links=network.links._replace(figures=weaker))
    theirs = epanet_answer(stand_in, water, settings, tmp_path).flow[pump]
    assert ours == pytest.approx(theirs, rel=1e-3)
    assert (spring > 0.0) == ("spring" in dict(parts)["check valve"])


# EPANET itself, its breaker a pressure-sustaining valve, its pump with our margin on the shut-off
# head: at the speed to prime 2 ft/s go down the return, whichever filter.
@pytest.mark.parametrize("filter_load", [0.0, 1.0])
@pytest.mark.parametrize(("array", "pad"), [("one bank", 0), ("two banks", 0), ("four banks", 2)])
def test_speed_to_prime(array, pad, filter_load, tmp_path):
    job = job_of(array, PADS[pad])
    water = water_at(27.0)
    settings = replace(PLAIN_SETTINGS, tolerance=1e-9, gravity=EPANET_GRAVITY)
    loop = loop_of(job, fill_circuit(job), 27.0, settings)
    found = priming(loop, state_at(job, 2500.0, True), filter_load)
    careful = loop.with_settings(True, filter_load)
    state = state_at(job, found.speed_to_prime, True)
    at_start, dry = settle_with_air(careful, state)
    assert not dry
    theirs = epanet_answer(at_start.network, water, careful.settings, tmp_path)
    leg = theirs.flow[at_start.network.link_of["roof return"]]
    area = np.pi / 4 * next(p.diameter for p in loop.circuit.pipes if p.name == "roof return") ** 2
    assert leg / area == pytest.approx(2 * 0.3048, rel=2e-3)


def full_against_epanet(array, pad, settings, folder):
    """Our pump flow with joints, and EPANET's: without them, and with their work in the suction."""
    job = job_of(array, PADS[pad])
    circuit, water = fill_circuit(job), water_at(27.0)
    plain = replace(PLAIN_SETTINGS, gravity=settings.gravity)
    network = build_network(circuit, state_at(job, 2500.0, True), water, settings)
    ours = solve(network, water, settings, "run")
    pump = network.link_of["pump"]
    heads = np.zeros(len(ours.flow))
    joint_heads(network.links, network.joints, constants_of(settings, water), ours.flow, heads)
    lumped = float(heads @ ours.flow) / float(ours.flow[pump])
    suction = network.link_of["pool to pump"]
    figures = network.links.figures.copy()
    figures[suction, QUADRATIC] += lumped / float(ours.flow[pump]) ** 2
    with_work = replace(network, links=network.links._replace(figures=figures))
    theirs = [epanet_answer(n, water, plain, folder).flow[pump] for n in (network, with_work)]
    return float(ours.flow[pump]), *theirs


# With tees and momentum on our flows differ from EPANET's, which knows neither. What explains it:
# the work that the joints do on the water, lumped into a loss of the suction pipe, gives EPANET
# our pump flow to 3e-3 (the split among panels, that EPANET still has its own way, is second
# order). The differences themselves stand in decision 9.
@pytest.mark.parametrize(("array", "pad"), CASES)
def test_tees_and_momentum_explain_the_difference(array, pad, tmp_path):
    settings = Settings(tolerance=1e-9, gravity=EPANET_GRAVITY)
    ours, plain, explained = full_against_epanet(array, pad, settings, tmp_path)
    assert ours < plain
    assert ours == pytest.approx(explained, rel=3e-3)
