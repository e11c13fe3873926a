"""Laws of the parts list: names and order don't matter, pipe and valves are all there, once."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from noonwater.design.parts_list import count_parts, parts_list
from noonwater.design.parts_row import PartRow
from noonwater.hydraulics.arrangement import fill_circuit
from noonwater.hydraulics.arrangement_ready import READY, arranged
from noonwater.model.circuit import Circuit
from noonwater.model.job import Job
from noonwater.model.pad_option import PanelChange
from noonwater.model.plant import Array, Bank
from tests.jobs import example_job

NAMES = [ready.name for ready in READY]
VALVES = (
    "check valve",
    "diverter",
    "bypass valve",
    "isolation valve",
    "drain",
    "vacuum breaker",
)


@st.composite
def banks(draw: st.DrawFn) -> Bank:
    count = draw(st.integers(1, 9))
    panel = draw(st.sampled_from(["tube 4x8", "tube 4x10", "sheet 4x12"]))
    piping = draw(st.sampled_from(["reverse return", "direct return"]))
    gone = draw(st.sets(st.integers(1, count), max_size=count - 1))
    changed = tuple(PanelChange(number, left_out=True) for number in sorted(gone))
    return Bank(draw(st.sampled_from(["south", "west"])), count, panel, piping, changed)


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    array = Array(tuple(draw(st.lists(banks(), min_size=1, max_size=3))))
    names = draw(st.lists(st.sampled_from(NAMES), max_size=5, unique=True))
    return arranged(example_job(array=array), *names)


def disguised(circuit: Circuit, seed: int) -> Circuit:
    """Write the same circuit in another order and under other names."""
    rng = random.Random(seed)
    names = [part.name for part in circuit.parts]
    rng.shuffle(names)
    other = {name: f"thing {i}" for i, name in enumerate(names)}
    parts = [replace(part, name=other[part.name]) for part in circuit.parts]
    pipes = [
        replace(
            pipe,
            name=f"run {i}",
            start=(other[pipe.start[0]], pipe.start[1]),
            stop=(other[pipe.stop[0]], pipe.stop[1]),
        )
        for i, pipe in enumerate(circuit.pipes)
    ]
    rng.shuffle(parts)
    rng.shuffle(pipes)
    return replace(circuit, parts=tuple(parts), pipes=tuple(pipes))


def without_places(rows: tuple[PartRow, ...]) -> list[PartRow]:
    return [replace(row, where=()) for row in rows]


@given(jobs(), st.integers(0, 10**6))
@settings(max_examples=40)
def test_names_and_order_do_not_matter(job: Job, seed: int) -> None:
    circuit = fill_circuit(job)
    plain, other = count_parts(circuit, job), count_parts(disguised(circuit, seed), job)
    assert without_places(plain) == without_places(other)
    assert [len(row.where) for row in plain] == [len(row.where) for row in other]


def pipe_past_panels(job: Job) -> float:
    """Width of what is left out between two panels that are there, on both headers."""
    width = 1.2192  # of all these panels, 4 ft
    gaps = (b.numbers[-1] - b.numbers[0] + 1 - len(b.numbers) for b in job.array.banks)
    return 2 * width * sum(gaps)


@given(jobs())
@settings(max_examples=40)
def test_pipe_is_that_of_the_circuit(job: Job) -> None:
    circuit = fill_circuit(job)
    listed = sum(row.net for row in parts_list(job) if row.kind == "pipe")
    laid = sum(pipe.length for pipe in circuit.pipes if pipe.role != "header")
    assert listed == pytest.approx(laid + pipe_past_panels(job))


@given(jobs())
@settings(max_examples=40)
def test_every_valve_is_listed_once(job: Job) -> None:
    rows = [row for row in parts_list(job) if row.kind == "valve"]
    listed = sorted(name for row in rows for name in row.where)
    assert listed == sorted(part.name for part in fill_circuit(job).of_kind(*VALVES))
    assert sum(row.quantity for row in rows) == len(listed)


@given(jobs())
@settings(max_examples=40)
def test_every_opening_of_a_panel_is_joined_or_capped(job: Job) -> None:
    rows = parts_list(job)
    quantity = {row.name: 0.0 for row in rows if row.group == "roof"}
    for row in rows:
        if row.group == "roof":
            quantity[row.name] += row.quantity
    openings = 2 * quantity.get("panel-to-panel connector", 0.0)
    openings += quantity["panel-to-pipe connector"] + quantity["header end cap"]
    assert openings == 4 * job.array.panels


def keys(rows: tuple[PartRow, ...]) -> set[tuple[object, ...]]:
    return {(row.group, row.name, row.sizes, row.rule, row.spacing) for row in rows}


@given(st.integers(1, 12), st.sampled_from(NAMES), st.integers(1, 3))
@settings(max_examples=40)
def test_a_panel_more_takes_no_row_away(panels: int, name: str, count: int) -> None:
    def rows(first: int) -> tuple[PartRow, ...]:
        more = (Bank("south", 4, "tube 4x10"),) * (count - 1)
        array = Array((Bank("south", first, "tube 4x10"), *more))
        return parts_list(arranged(example_job(array=array), name))

    before, after = rows(panels), rows(panels + 1)
    assert keys(before) <= keys(after)
    fewer = {(r.group, r.name, r.sizes, r.rule, r.spacing): r.quantity for r in after}
    for row in before:
        key = (row.group, row.name, row.sizes, row.rule, row.spacing)
        assert fewer[key] >= row.quantity - 1e-9
