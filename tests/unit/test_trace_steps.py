"""Steps for service, winter and spring, replayed on every arrangement with every set of options."""

from __future__ import annotations

import pytest

from noonwater.hydraulics.arrangement_ready import arranged
from noonwater.hydraulics.trace import trace_job
from noonwater.hydraulics.trace_plumbing import setting_of
from noonwater.hydraulics.trace_reach import driven_parts, has_way
from noonwater.hydraulics.trace_replay import Case, Step, replay
from noonwater.hydraulics.trace_service import first_scene
from noonwater.model.job import Job
from tests.jobs import example_job
from tests.trace_pads import NAMES, OPTIONS, pad_job


def check_safe(case: Case, steps: tuple[Step, ...]) -> None:
    for step in steps:
        assert not step.floods, step.move
        assert not step.deadheads, step.move
        # Asked again, not read from the step.
        for pump in driven_parts(case.circuit, step.scene.state):
            assert has_way(case.circuit, step.scene.setting, pump), step.move


@pytest.mark.parametrize("name", NAMES)
def test_steps_are_safe_on_every_ready_arrangement(name: str) -> None:
    check_sheet(arranged(example_job(), name))


@pytest.mark.parametrize("option", OPTIONS)
def test_steps_are_safe_with_every_option(option: str) -> None:
    check_sheet(pad_job(**OPTIONS[option]))


def check_sheet(job: Job) -> None:
    """Every step safe, and at the end what the sheet states."""
    trace = trace_job(job)
    case, winter, service = trace.case, trace.winter, trace.service
    for steps in (winter.steps, winter.reopen, service.steps):
        check_safe(case, steps)

    start = next(s.state for s in trace.states if s.name == winter.start)
    again = replay(case, first_scene(case, start), [s.move for s in winter.steps])
    assert again == winter.steps
    assert again[-1].scene.state.speed == 0.0
    left = case.plumbing(again[-1].scene.setting).litres(again[-1].scene.shares)
    assert winter.litres_left == pytest.approx(left, abs=0.05)
    # All that hands can open is open; only open water that stands above a pipe keeps it full.
    assert sum(e.litres for e in winter.left if e.remedy != "lower the water") < 2.0

    back = winter.reopen[-1].scene
    running = [s.state for s in trace.states if s.state.speed > 0.0]
    wanted = next((s for s in running if s.solar), running[0])
    assert not back.setting.opened
    assert not back.setting.plugged
    assert all(not dict(back.setting.positions).get(d.name) for d in case.circuit.of_kind("drain"))
    assert back.state.speed == wanted.speed
    valves = {name: at for name, at in setting_of(wanted).positions if at > 0.0}
    assert valves.items() <= dict(back.setting.positions).items()

    pump = case.loop.pump
    assert all(step.scene.state.speed > 0.0 for step in service.steps)
    assert all("filter" in step.carries for step in service.steps)
    assert pump.name not in {s.move.part for s in service.steps}
    if service.tightness != "not" and service.steps:
        assert "panel" not in service.steps[-1].carries


def test_isolation_valves_shut_the_array_off_and_its_drains_empty_it() -> None:
    job = pad_job(isolation_valves=("feed", "roof return"), drains=("feed", "roof return"))
    service = trace_job(job).service
    assert service.tightness == "valves"
    assert service.array_litres < 0.5
    turned = {step.move.part for step in service.steps if step.move.act == "turn"}
    assert {"diverter", "roof return isolation valve"} <= turned
    assert "feed drain" in {step.move.part for step in service.steps if step.move.act == "open"}


def test_without_any_valve_on_the_return_the_array_can_not_be_shut_off() -> None:
    trace = trace_job(pad_job(check_valves=("after filter",)))
    assert trace.service.tightness == "not"


def test_a_pad_below_the_water_is_shut_off_from_the_pool_before_it_is_opened() -> None:
    steps = trace_job(pad_job(elevation=-0.8)).winter.steps
    first_plug = next(i for i, s in enumerate(steps) if s.move.act == "plug")
    first_open = next(i for i, s in enumerate(steps) if s.move.act == "open")
    assert steps[0].move.act == "stop"
    assert first_plug < first_open


def test_a_pad_above_the_water_needs_no_plug_in_the_pool() -> None:
    moves = {s.move.act for s in trace_job(pad_job()).winter.steps}
    assert "plug" not in moves
