"""A pad's states and its sheets as plain values for JSON, each key with its unit."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from noonwater.app.flow_answer import PER_HOUR

if TYPE_CHECKING:
    from noonwater.drawing.pad_diagram import PadDrawing
    from noonwater.drawing.pad_graph import Bank, Edge
    from noonwater.drawing.pad_subject import Subject
    from noonwater.model.circuit import Part, Port

Sheets = dict[str, "PadDrawing"]
"""The wide and the narrow drawing of one state."""


def state_shape(subject: Subject, sheets: Sheets) -> dict[str, Any]:
    """Give what is drawn of one state, and where it lies on its sheets.

    Parameters
    ----------
    subject : Subject
        Circuit and state.
    sheets : dict of str to PadDrawing
        Places are in their drawing units, x to the right, y down.
    """
    from noonwater.drawing.pad_side import state_sentence

    water, graph = subject.water, subject.graph
    parts = [_part_dict(subject, part, sheets) for part in graph.parts.values()]
    banks = [_bank_dict(subject, bank, sheets) for bank in graph.banks.values()]
    return {
        "name": water.name,
        "says": state_sentence(water, "SI"),
        "flow_m3h": water.figures.flow * PER_HOUR,
        "array_flow_m3h": water.figures.array_flow * PER_HOUR,
        "head_m": water.figures.head,
        "power_W": water.figures.power,
        "sheets": {
            name: {"width": sheet.width, "height": round(sheet.height, 1)}
            for name, sheet in sheets.items()
        },
        "order": list(subject.order),
        "parts": [*parts, *banks],
        "pipes": [_pipe_dict(subject, edge, sheets) for edge in graph.edges],
    }


def _part_dict(subject: Subject, part: Part, sheets: Sheets) -> dict[str, Any]:
    from noonwater.drawing.pad_words import position_words

    water = subject.water
    return {
        "name": part.name,
        "kind": part.kind,
        "catalog": part.catalog or None,
        "nominal_mm": 1000.0 * part.size,
        "elevation_m": part.elevation,
        "number": subject.numbers.get(part.name),
        "open": water.position_of(part) if part.facts.settable else None,
        "stands": position_words(part, water) or None,
        "rpm": water.state.speed_of(part) if part.facts.driven else None,
        "holds": water.holds(part.name),
        "flow_m3h": abs(water.flows[part.name]) * PER_HOUR,
        "pressures_Pa": {port: water.pressures.get((part.name, port)) for port in part.ports},
        **_middles(part.name, sheets),
    }


def _bank_dict(subject: Subject, bank: Bank, sheets: Sheets) -> dict[str, Any]:
    from noonwater.drawing.pad_words import bank_holds, panel_flows

    water, flows = subject.water, panel_flows(bank, subject.water)
    return {
        "name": bank.name,
        "kind": "bank",
        "nominal_mm": 1000.0 * bank.panels[0].size,
        "elevation_m": bank.low,
        "top_m": bank.high,
        "holds": bank_holds(bank, water),
        "flow_m3h": sum(flows) * PER_HOUR,
        "panels": [
            {
                "name": panel.name,
                "catalog": panel.catalog,
                "plugged": panel.plugged,
                "holds": water.holds(panel.name),
                "flow_m3h": flow * PER_HOUR,
            }
            for panel, flow in zip(bank.panels, flows, strict=True)
        ],
        **_middles(bank.name, sheets),
    }


def _pipe_dict(subject: Subject, edge: Edge, sheets: Sheets) -> dict[str, Any]:
    from noonwater.drawing.pad_water import STILL

    water, pipe = subject.water, edge.pipe
    flow = water.flows[pipe.name]
    direction = "forward" if flow > STILL else "backward" if flow < -STILL else "none"
    return {
        "name": pipe.name,
        "role": pipe.role,
        "from": _port_dict(pipe.start),
        "to": _port_dict(pipe.stop),
        "nominal_mm": 1000.0 * pipe.nominal,
        "length_m": pipe.length,
        "holds": water.holds(pipe.name),
        "direction": direction,
        "flow_m3h": abs(flow) * PER_HOUR,
        "warmed_share": water.warmed[pipe.name],
        "on": {
            name: [_point(corner) for corner in drawn.tracks[pipe.name]]
            for name, drawn in sheets.items()
        },
    }


def _port_dict(port: Port) -> dict[str, str]:
    return {"part": port[0], "port": port[1]}


def _middles(name: str, sheets: Sheets) -> dict[str, Any]:
    return {"at": {sheet: _point(drawn.middles[name]) for sheet, drawn in sheets.items()}}


def _point(place: tuple[float, float]) -> list[float]:
    return [round(place[0], 1), round(place[1], 1)]
