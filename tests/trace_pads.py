"""Small circuits and whole pads for the tests of the trace."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from noonwater.hydraulics.arrangement_ready import READY
from noonwater.model.circuit import KINDS, Circuit, Part, PartKind, Pipe
from noonwater.model.job import Job
from noonwater.model.site import Roof
from tests.jobs import example_job

OPTIONS: dict[str, dict[str, Any]] = {
    "plain": {},
    "all valves": {
        "isolation_valves": ("feed", "roof return"),
        "drains": ("feed", "roof return", "array"),
        "sanitizer": "salt cell",
    },
    "no check valves": {"check_valves": ()},
    "breaker at feed": {"breaker": "feed"},
    "no breaker": {"breaker": "none"},
    "heater first": {"heater_place": "before solar"},
}
"""Fields of the pad that no ready arrangement sets so."""

NAMES = [ready.name for ready in READY]


def pad_job(**pad: Any) -> Job:
    """The whole job of the tests with some fields of its pad set."""
    job = example_job()
    return replace(job, pad=replace(job.pad, **pad))


def raised(job: Job, height: float) -> Job:
    """The same job with its roofs' eaves at another height."""
    roofs: tuple[Roof, ...] = tuple(replace(roof, eave_height=height) for roof in job.roof)
    return replace(job, roof=roofs)


def part(name: str, kind: PartKind, elevation: float, rise: float = 0.0, catalog: str = "") -> Part:
    """A part with its kind's ports; a panel is a plain one."""
    ports = ("return", "suction") if KINDS[kind].body else KINDS[kind].ports
    ports = ("in", "pool", "solar") if kind == "diverter" else ports
    catalog = catalog or ("tube 4x10" if kind == "panel" else "")
    return Part(name, kind, ports, elevation, 0.05, catalog, rise)


def joined(parts: list[Part], ends: list[tuple[str, str]]) -> Circuit:
    """A circuit of parts and pipes of 10 m, each end written "part port"."""

    def port(words: str) -> tuple[str, str]:
        owner = next(p for p in parts if words.startswith(f"{p.name} "))
        return (owner.name, words.removeprefix(f"{owner.name} "))

    pipes = tuple(
        Pipe(f"{start} - {stop}", port(start), port(stop), 10.0, 0.05, 0.05) for start, stop in ends
    )
    return Circuit(tuple(parts), pipes)
