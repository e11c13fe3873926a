"""Cold solve of a pad-and-array network against EPANET in the same process, side by side."""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path
from statistics import median

import numpy as np
from epanet import toolkit as en

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
from noonwater.hydraulics.network import Network, build_network
from noonwater.hydraulics.settings import PLAIN_SETTINGS, Settings, constants_of, water_at
from noonwater.hydraulics.solver import solve_network
from noonwater.hydraulics.states import state_at
from tests.epanet_case import close_project, open_project, write_input
from tests.jobs import example_job

LIMIT = 1.0
ACCURACY = 1e-4
SPEEDS = (2000.0, 2200.0, 2400.0, 2600.0, 2800.0, 3000.0)


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


def network_times(rounds: int = 60) -> tuple[float, float]:
    """Median seconds of a cold solve: ours, EPANET's; run by turns."""
    water = water_at(25.0)
    network = bench_network(PLAIN_SETTINGS)
    constants = constants_of(PLAIN_SETTINGS, water)
    pump = int(np.flatnonzero(network.links.kind == PUMP)[0])
    rated = network.links.figures[pump, RATIO] / SPEEDS[0]

    def ours(speed: float) -> float:
        network.links.figures[pump, RATIO] = speed * rated
        flow, _, _, _ = solve_network(
            network.links, network.nodes, network.joints, constants, network.guess
        )
        return float(flow[pump])

    with tempfile.TemporaryDirectory() as folder:
        text = write_input(network, water, PLAIN_SETTINGS)
        project = open_project(Path(folder), text, ACCURACY)
        index = en.getlinkindex(project, f"p{pump}")

        def epanet(speed: float) -> float:
            en.setlinkvalue(project, index, en.INITSETTING, speed * rated)
            en.initH(project, en.INITFLOW)
            en.runH(project)
            return en.getlinkvalue(project, index, en.FLOW) / 1000

        for speed in SPEEDS:
            assert abs(ours(speed) - epanet(speed)) < 1e-3 * ours(speed)
        times: tuple[list[float], list[float]] = ([], [])
        for _ in range(rounds):
            for solver, taken in zip((ours, epanet), times, strict=True):
                began = time.perf_counter()
                for speed in SPEEDS:
                    solver(speed)
                taken.append((time.perf_counter() - began) / len(SPEEDS))
        close_project(project)
    return median(times[0]), median(times[1])


def network_ratio() -> tuple[str, float, float]:
    """Name of the promise, time of our cold solve over EPANET's, limit."""
    ours, epanet = network_times()
    return "cold solve of pad and 12 panels / EPANET in process", ours / epanet, LIMIT


if __name__ == "__main__":
    seconds = network_times()
    print(f"ours {1e6 * seconds[0]:.0f} µs, EPANET {1e6 * seconds[1]:.0f} µs")
