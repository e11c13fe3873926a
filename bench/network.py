"""Solves of pad-and-array networks: against EPANET in the same process, against 10 ms, counted."""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from statistics import median

import numpy as np

try:
    from epanet import toolkit as en
except ImportError:  # no wheel of it for every Python
    en = None

sys.path.insert(0, str(Path(__file__).parent.parent))

from noonwater.hydraulics.arrangement import fill_circuit
from noonwater.hydraulics.arrays import (
    DIAMETER,
    LENGTH,
    PUMP,
    RATIO,
    ROUGHNESS,
    VISCOUS,
)
from noonwater.hydraulics.flow import flow_at, solve_flow, state_flow
from noonwater.hydraulics.network import Network, build_network
from noonwater.hydraulics.settings import PLAIN_SETTINGS, Settings, constants_of, water_at
from noonwater.hydraulics.solver import solve_network
from noonwater.hydraulics.states import state_at
from noonwater.model.plant import Array, Bank, Period, Pump
from tests.jobs import example_job

SPEEDS = (2000.0, 2200.0, 2400.0, 2600.0, 2800.0, 3000.0)
ACCURACY = 1e-4
PLAIN_LIMIT, MOMENTUM_LIMIT = 1.0, 10.0
LARGE_PARTS, LARGE_SECONDS = 300, 0.010

Promise = tuple[str, float, float]
"""Name, measured ratio, the most it may be."""


def bench_network(settings: Settings) -> Network:
    """Pad and twelve panels; panels are stand-in pipes, so that both solvers see real pipes."""
    job = example_job()
    circuit = fill_circuit(job)
    network = build_network(circuit, state_at(job, SPEEDS[0], True), water_at(25.0), settings)
    for name, link in network.link_of.items():
        figures = network.links.figures[link]
        if " panel " in name and "header" not in name and " to " not in name:
            figures[LENGTH], figures[DIAMETER], figures[ROUGHNESS] = 3.0, 0.03, 1.5e-6
        if network.links.kind[link] != PUMP:
            figures[VISCOUS] = 0.0
    return network


def our_solver(network: Network, settings: Settings) -> Callable[[float], float]:
    """Cold solve of a network at a speed; returns the pump's flow. [m³/s]."""
    constants = constants_of(settings, water_at(25.0))
    pump = int(np.flatnonzero(network.links.kind == PUMP)[0])
    rated = network.links.figures[pump, RATIO] / SPEEDS[0]

    def ours(speed: float) -> float:
        network.links.figures[pump, RATIO] = speed * rated
        flow, _, _, residual = solve_network(
            network.links, network.nodes, network.joints, constants, network.guess
        )
        assert residual <= settings.tolerance
        return float(flow[pump])

    return ours


@contextmanager
def epanet_solver(network: Network) -> Iterator[Callable[[float], float]]:
    """EPANET on the same network, open in this process."""
    from tests.epanet_case import close_project, open_project, write_input

    pump = int(np.flatnonzero(network.links.kind == PUMP)[0])
    rated = network.links.figures[pump, RATIO] / SPEEDS[0]
    with tempfile.TemporaryDirectory() as folder:
        text = write_input(network, water_at(25.0), PLAIN_SETTINGS)
        project = open_project(Path(folder), text, ACCURACY)
        index = en.getlinkindex(project, f"p{pump}")

        def epanet(speed: float) -> float:
            en.setlinkvalue(project, index, en.INITSETTING, speed * rated)
            en.initH(project, en.INITFLOW)
            en.runH(project)
            return float(en.getlinkvalue(project, index, en.FLOW)) / 1000

        yield epanet
        close_project(project)


def epanet_promises(pairs: int) -> list[Promise]:
    """Our cold solve of pad and twelve panels over EPANET's, without and with momentum."""
    plain = bench_network(PLAIN_SETTINGS)
    full = bench_network(Settings(tees=False))
    ours, with_momentum = our_solver(plain, PLAIN_SETTINGS), our_solver(full, Settings(tees=False))
    with epanet_solver(bench_network(PLAIN_SETTINGS)) as epanet:
        for speed in SPEEDS:
            assert abs(ours(speed) - epanet(speed)) < 1e-3 * ours(speed)
        names = ("without momentum", "with momentum, that EPANET has not")
        limits = (PLAIN_LIMIT, MOMENTUM_LIMIT)
        found = []
        for name, solver, limit in zip(names, (ours, with_momentum), limits, strict=True):
            ratios = [sweep_time(solver) / sweep_time(epanet) for _ in range(7 * pairs)]
            text = f"cold solve of pad and 12 panels / EPANET in process, {name}"
            found.append((text, median(ratios), limit))
    return found


def sweep_time(solver: Callable[[float], float]) -> float:
    """Seconds of one run through the speeds, the first run for warmth."""
    solver(SPEEDS[0])
    began = time.perf_counter()
    for speed in SPEEDS:
        solver(speed)
    return time.perf_counter() - began


def large_promise(pairs: int) -> Promise:
    """Cold solve of a circuit of 300 parts, tees and momentum on, over 10 ms."""
    banks = tuple(Bank("south", 24, "tube 4x10") for _ in range(12))
    job = example_job(array=Array(banks))
    circuit = fill_circuit(job)
    assert len(circuit.parts) >= LARGE_PARTS
    settings = Settings()
    network = build_network(circuit, state_at(job, SPEEDS[0], True), water_at(25.0), settings)
    solver = our_solver(network, settings)
    seconds = min(sweep_time(solver) / len(SPEEDS) for _ in range(pairs))
    return (f"cold solve of {len(circuit.parts)} parts / 10 ms", seconds / LARGE_SECONDS, 1.0)


def states_promise() -> Promise:
    """States solved over distinct states, where a day's program asks for the same ones again."""
    hours = tuple(
        Period(f"{hour:02d}:00", f"{hour + 1:02d}:00", 1800.0 + 200.0 * (hour % 2))
        for hour in range(6, 18)
    )
    job = example_job(pump=Pump("variable large", hours, priming_speed=3000.0))
    state_flow.cache_clear()
    distinct = {state.name for state in solve_flow(job).states}
    for period in hours:
        for solar in (False, True):
            flow_at(job, period.rpm, solar)
    solved = state_flow.cache_info().misses
    return ("states of a job solved / distinct states", solved / len(distinct), 1.0)


def network_promises(pairs: int) -> list[Promise]:
    """Name, measured ratio and limit of every promise about networks.

    Parameters
    ----------
    pairs : int
        How often to measure. [-]

    Returns
    -------
    list of Promise
        Without those against EPANET where it has no wheel for this Python; that is said.
    """
    found = [large_promise(pairs), states_promise()]
    if en is None:
        print("cold solve against EPANET: left out, it has no wheel for this Python")
        return found
    return [*epanet_promises(pairs), *found]


if __name__ == "__main__":
    for promise in network_promises(9):
        print("{}: {:.3g}, limit {:.3g}".format(*promise))
