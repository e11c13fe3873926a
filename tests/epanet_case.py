"""Our network written as an EPANET input file, and EPANET's answer read back.

A part without length that loses a Q + b Q² becomes a very wide pipe: so wide that its flow is
laminar, its length gives a exactly, and its minor loss gives b exactly. One that loses only b Q²
becomes a micrometre of pipe with a minor loss.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi
from pathlib import Path

import numpy as np
from epanet import toolkit as en

from noonwater.hydraulics.arrays import (
    DIAMETER,
    EXPONENT,
    FALL,
    LENGTH,
    ONE_WAY,
    PUMP,
    QUADRATIC,
    RATIO,
    ROUGHNESS,
    SHUTOFF,
    VISCOUS,
)
from noonwater.hydraulics.network import Network
from noonwater.hydraulics.settings import Settings, Water

EPANET_GRAVITY = 32.2 * 0.3048
"""[m/s²] EPANET's own constant (32.2 ft/s²), from memory; its flows agree with it."""

WIDE_FILTER, WIDE_PANEL, NARROW = 5.0, 1.0, 0.05
"""[m] Laminar up to 7 and 1.4 L/s at 25 °C; a part without a laminar loss."""


@dataclass(frozen=True)
class EpanetAnswer:
    """Flow of each link of the network [m³/s] and head of each node [m]."""

    flow: np.ndarray
    head: np.ndarray


def write_input(network: Network, water: Water, settings: Settings) -> str:
    """EPANET input text of a network; a pinned node becomes a pressure-sustaining valve at 0."""
    links = network.links
    junctions = [
        f" n{node} {z:.12g} 0" for node, z in enumerate(network.elevation.tolist()) if node > 0
    ]
    pipes, pumps, valves, curves = [], [], [], []
    # With a PSV in the loop EPANET switches check valves to and fro without end. Water runs
    # forward through them in such a state, so there they are plain pipes.
    falling = bool(np.any(network.nodes.pinned >= 0))
    for link, row in enumerate(links.figures):
        start, stop = f"n{links.start[link]}", f"n{links.stop[link]}"
        if network.nodes.pinned[links.start[link]] == link:
            below = f"v{link}"
            junctions.append(f" {below} {network.elevation[links.start[link]]:.12g} 0")
            valves.append(f" p{link} {start} {below} {1000 * row[DIAMETER]:.12g} PSV 0 0")
            start, name = below, f"q{link}"
        else:
            name = f"p{link}"
        if links.kind[link] == PUMP:
            pumps.append(f" {name} {start} {stop} HEAD c{link} SPEED {row[RATIO]:.15g}")
            for flow in (0.0, 0.003, 0.006):
                head = row[SHUTOFF] - row[FALL] * flow ** row[EXPONENT]
                curves.append(f" c{link} {1000 * flow:.12g} {head:.15g}")
            continue
        real = row[LENGTH] > 0.0
        diameter = (
            row[DIAMETER]
            if real
            else _stand_in(row[VISCOUS], link == network.link_of.get("filter"))
        )
        length = row[LENGTH] if real else row[VISCOUS] * pi * settings.gravity * diameter**4 / 128
        K = row[QUADRATIC] * pi**2 * settings.gravity * diameter**4 / 8
        status = "CV" if links.kind[link] == ONE_WAY and not falling else "Open"
        pipes.append(
            f" {name} {start} {stop} {max(length, 1e-6):.15g} {1000 * diameter:.12g}"
            f" {1000 * (row[ROUGHNESS] if real else 1e-6):.12g} {K:.15g} {status}"
        )
    sections = {
        "JUNCTIONS": junctions,
        "RESERVOIRS": [" n0 0"],
        "PIPES": pipes,
        "PUMPS": pumps,
        "VALVES": valves,
        "CURVES": curves,
        "OPTIONS": [
            " UNITS LPS",
            " HEADLOSS D-W",
            f" VISCOSITY {water.viscosity:.15g}",
            " TRIALS 200",
            " UNBALANCED STOP",
        ],
        "TIMES": [" DURATION 0"],
        "REPORT": [" STATUS NO", " SUMMARY NO"],
    }
    text = ["[TITLE]", "noonwater case"]
    for name, lines in sections.items():
        text += ["", f"[{name}]", *lines]
    return "\n".join([*text, "", "[END]", ""])


def _stand_in(viscous: float, is_filter: bool) -> float:
    if viscous == 0.0:
        return NARROW
    return WIDE_FILTER if is_filter else WIDE_PANEL


def open_project(folder: Path, text: str, accuracy: float) -> object:
    """Open EPANET on an input text, hydraulics ready to be solved."""
    (folder / "case.inp").write_text(text)
    project = en.createproject()
    en.open(project, str(folder / "case.inp"), str(folder / "case.rpt"), "")
    en.setoption(project, en.ACCURACY, accuracy)
    en.openH(project)
    return project


def close_project(project: object) -> None:
    """Close EPANET."""
    en.closeH(project)
    en.close(project)
    en.deleteproject(project)


def epanet_answer(
    network: Network, water: Water, settings: Settings, folder: Path, accuracy: float = 1e-8
) -> EpanetAnswer:
    """Solve the network by EPANET."""
    project = open_project(folder, write_input(network, water, settings), accuracy)
    en.initH(project, en.NOSAVE)
    valves = [
        link
        for link in range(1, en.getcount(project, en.LINKCOUNT) + 1)
        if en.getlinktype(project, link) == en.PSV
    ]
    if valves:
        # Two steps: EPANET's own first guess (0.3 m/s in every pipe, the widest too) makes it shut
        # the pump. So it first solves with the valve wide open and goes on from those flows.
        for link in valves:
            en.setlinkvalue(project, link, en.STATUS, en.OPEN)
        en.runH(project)
        for link in valves:
            en.setlinkvalue(project, link, en.SETTING, 0.0)
    en.runH(project)
    flow = [
        en.getlinkvalue(project, en.getlinkindex(project, f"p{link}"), en.FLOW) / 1000
        for link in range(len(network.links.kind))
    ]
    head = [
        en.getnodevalue(project, en.getnodeindex(project, f"n{node}"), en.HEAD)
        for node in range(len(network.elevation))
    ]
    close_project(project)
    return EpanetAnswer(np.array(flow), np.array(head))
