"""Whole pads traced: what a contractor expects of check valves, seals, breakers and heights."""

from __future__ import annotations

from dataclasses import replace
from math import pi, radians, sin

import pytest

from noonwater.core.errors import InputError
from noonwater.design.traced import TRACE_CHECKS, trace_findings
from noonwater.hydraulics.trace import Trace, trace_job
from noonwater.hydraulics.trace_without import trace_without
from noonwater.hydraulics.volume import pipe_volume
from noonwater.model.job import Job
from noonwater.model.pad_option import AddPart, SetPipe
from tests.design_jobs import GOOD, changed, value_at
from tests.trace_pads import pad_job, raised

ARRAY_LITRES = 12 * 15.18
"""Twelve panels of the example; the catalog's row says 15.18 L a panel."""


def panels(trace: Trace, state: str) -> list[str]:
    names = {part.name for part in trace.case.circuit.of_kind("panel")}
    return [p.water for p in trace.state(state).parts if p.name in names]


def rules(job: Job) -> set[str]:
    return {finding.rule for finding in trace_findings(job, trace_job(job))}


def test_a_tight_diverter_traps_feed_and_panels_behind_the_filter_check_valve() -> None:
    trace = trace_job(pad_job(diverter_seal="seals tight"))
    assert set(panels(trace, "off")) == {"trapped"}
    feed = trace.state("off").part("feed")
    assert (feed.water, feed.held_by) == ("trapped", ("diverter",))
    # 18 m of 2 in pipe, 52.5 mm bore by the standard's table: 2.165 L/m.
    assert feed.litres == pytest.approx(18 * 2.165, rel=0.03)
    assert trace.state("off").part("roof return").water == "drained"
    assert trace.state("off").trapped > ARRAY_LITRES
    assert "array-shut-in" in rules(pad_job(diverter_seal="seals tight"))


def test_a_drain_down_hole_lets_them_go() -> None:
    job = pad_job(diverter_seal="drain-down hole")
    trace = trace_job(job)
    assert set(panels(trace, "off")) == {"drained"}
    assert trace.state("off").part("feed").water == "drained"
    assert not rules(job)


@pytest.mark.parametrize(("breaker", "water"), [("high return", "drained"), ("none", "full")])
def test_the_breaker_decides_whether_panels_drain(breaker: str, water: str) -> None:
    trace = trace_job(pad_job(breaker=breaker, diverter_seal="drain-down hole"))
    assert set(panels(trace, "off")) == {water}


def test_a_breaker_at_the_feed_drains_the_panels_only_where_the_feed_drains() -> None:
    """Air rises to the top and the return empties; then the panels' own water shuts the breaker."""
    tight = trace_job(pad_job(breaker="feed", diverter_seal="seals tight"))
    assert set(panels(tight, "off")) == {"trapped"}
    assert tight.state("off").part("roof return").water == "drained"
    hole = trace_job(pad_job(breaker="feed", diverter_seal="drain-down hole"))
    assert set(panels(hole, "off")) == {"drained"}
    assert hole.state("off").part("feed").water == "drained"


def test_flow_carries_and_standing_water_stands() -> None:
    trace = trace_job(pad_job())
    assert set(panels(trace, "solar 2400 rpm")) == {"carries"}
    assert "carries" not in panels(trace, "filter 1700 rpm")
    for name in ("pump", "filter", "heater", "heater to pool"):
        assert trace.state("filter 1700 rpm").part(name).water == "carries"


def backward(trace: Trace, state: str) -> set[str]:
    return {f.part for f in trace.backflow if f.state == state and f.backward}


def test_without_the_filter_check_valve_media_run_to_the_pool() -> None:
    job = pad_job(check_valves=("roof return",))
    assert {"filter", "pump"} <= backward(trace_job(job), "solar 2400 rpm")
    assert "media-to-pool" in rules(job)
    assert not backward(trace_job(pad_job()), "solar 2400 rpm")
    assert "media-to-pool" not in rules(pad_job())


def test_without_the_roof_return_check_valve_filtered_water_climbs_the_return() -> None:
    """As high as the head at the tie-in; against air at the top it comes no further."""
    trace = trace_job(pad_job(check_valves=("after filter",)))
    state = trace.state("filter 1700 rpm")
    head = state.running.head[("return tee", "run in")]
    top = trace.case.circuit.part("vacuum breaker").elevation
    pipe = next(p for p in trace.case.circuit.pipes if p.name == "roof return")
    climbed = 1000.0 * pipe_volume(pipe) * (head - 0.3) / (top - 0.3)
    assert 0.3 < head < top
    assert state.part("roof return").litres == pytest.approx(climbed, rel=1e-6)
    assert backward(trace, "filter 1700 rpm") == {"roof return"}
    assert not backward(trace_job(pad_job()), "filter 1700 rpm")


def test_the_roof_empties_through_a_heater_behind_it_only() -> None:
    def through(job: Job) -> float:
        flows = trace_job(job).backflow
        found = [f for f in flows if f.part == "heater" and f.state == "solar 2400 rpm"]
        return sum(f.litres for f in found)

    assert through(pad_job(heater_place="after solar")) > 40.0
    assert through(pad_job(heater_place="before solar")) == 0.0


def test_a_heater_sees_the_suns_water_only_behind_the_array() -> None:
    def sees(job: Job) -> set[str]:
        return {v.sees for v in trace_job(job).seen if v.state == "solar 2400 rpm"}

    tight = pad_job(diverter_seal="seals tight")
    assert sees(tight) == {"solar water", "hot standing water"}
    assert sees(pad_job(diverter_seal="drain-down hole")) == {"solar water"}
    assert sees(pad_job(heater_place="before solar")) == {"pool water"}


def test_a_sanitizer_is_told_like_a_heater() -> None:
    trace = trace_job(pad_job(sanitizer="salt cell"))
    assert {v.part for v in trace.seen} == {"heater", "sanitizer"}


@pytest.mark.parametrize(("elevation", "floods"), [(-0.8, True), (0.6, False)])
def test_a_pad_below_the_water_floods_when_opened(elevation: float, floods: bool) -> None:
    trace = trace_job(pad_job(elevation=elevation))
    flooded = {o.part for o in trace.openings if o.floods}
    assert ({"pump", "filter", "heater"} <= flooded) is floods
    assert bool(flooded) is floods
    if floods:
        pump = next(o for o in trace.openings if o.part == "pump")
        assert pump.head == pytest.approx(0.8, abs=0.2)


def test_an_array_below_the_water_does_not_drain_by_gravity() -> None:
    trace = trace_job(raised(pad_job(diverter_seal="drain-down hole", elevation=-0.5), -2.0))
    assert set(panels(trace, "off")) == {"full"}
    assert any(" panel " in o.part and o.floods for o in trace.openings)
    # Heights of the low headers: 2 m under water; a panel is 3.05 m long at 18 degrees.
    panel = next(o for o in trace.openings if o.part == "bank 1 panel 1")
    assert panel.head == pytest.approx(2.0, abs=0.01)


def test_an_array_across_the_water_line_keeps_what_lies_below() -> None:
    job = raised(pad_job(diverter_seal="drain-down hole", elevation=-0.5), -0.4)
    trace = trace_job(job)
    top = 3.048 * 0.30902 - 0.4
    part = trace.state("off").part("bank 1 panel 1")
    assert part.litres == pytest.approx(15.18 * 0.4 / (0.4 + top), rel=1e-3)
    assert part.water == "full"


def test_valves_that_shut_the_pump_off_are_named() -> None:
    trace = trace_job(pad_job(isolation_valves=("feed", "roof return")))
    sets = {frozenset(d.valves) for d in trace.deadheads if not d.state}
    against_pool = ("diverter", "pool")
    assert sets == {
        frozenset({against_pool, ("feed isolation valve", "shut")}),
        frozenset({against_pool, ("roof return isolation valve", "shut")}),
    }
    assert not [d for d in trace.deadheads if d.state]


def test_a_pump_too_weak_for_the_roof_is_told() -> None:
    trace = trace_job(raised(pad_job(), 25.0))
    assert {d.reason for d in trace.deadheads if d.state} == {"does not lift"}


def test_leaving_out_the_filter_check_valve_says_what_it_is_for_and_costs() -> None:
    trace = trace_job(pad_job())
    change = trace_without(trace, "filter check valve")
    assert {"filter", "pump"} <= {f.part for f in change.backflow if f.backward}
    assert not change.backflow_gone or all(not f.backward for f in change.backflow_gone)
    solar = next(c for c in change.cost if c.state == "solar 2400 rpm")
    assert 0.05 < solar.head < 2.0
    assert solar.array_without > solar.array_with


def test_leaving_out_the_breaker_keeps_the_panels_full() -> None:
    trace = trace_job(pad_job(diverter_seal="drain-down hole"))
    change = trace_without(trace, "vacuum breaker")
    kept = {h.part for h in change.held if h.litres_without > h.litres_with}
    assert {"bank 1 panel 1", "feed", "roof return"} <= kept


def test_leaving_out_an_isolation_valve_loosens_the_service() -> None:
    valves = pad_job(isolation_valves=("feed", "roof return"), diverter_seal="drain-down hole")
    trace = trace_job(valves)
    assert trace.service.tightness == "valves"
    change = trace_without(trace, "roof return isolation valve")
    assert change.tightness == ("valves", "check valve")


def test_leaving_out_a_panel_leaves_the_others() -> None:
    trace = trace_job(pad_job())
    change = trace_without(trace, "bank 1 panel 3")
    names = {entry.name for entry in change.trace.state("off").parts}
    assert "bank 1 panel 3" not in names
    assert len(panels(change.trace, "solar 2400 rpm")) == 11


@pytest.mark.parametrize("name", ["pump", "pool", "chimney"])
def test_what_can_not_be_left_out_is_refused_with_what_can(name: str) -> None:
    with pytest.raises(InputError, match="filter check valve"):
        trace_without(trace_job(pad_job()), name)


def test_what_draining_leaves_is_trapped() -> None:
    job = pad_job(diverter_seal="drain-down hole")
    wet = replace(job, array=replace(job.array, trapped_water=0.1))
    assert trace_job(job).state("off").trapped < 10.0
    assert set(panels(trace_job(wet), "off")) == {"trapped"}
    assert trace_job(wet).state("off").part("bank 1 panel 1").litres == pytest.approx(1.518)


def test_a_raised_spa_behind_its_check_valve_stays_full() -> None:
    from noonwater.model.pad_option import Spa

    job = pad_job(spa=Spa(suction_length=6.0, return_length=6.0, elevation=0.5))
    trace = trace_job(job)
    assert not [f for f in trace.backflow if f.cause == "water stands higher" and f.state == "off"]
    change = trace_without(trace, "spa suction valve")
    assert {"water stands higher"} <= {f.cause for f in change.backflow}


SHUT = AddPart("add", "heater to pool", "isolation valve", "return stop", open=0.0)
TRIPS = {
    "media-to-pool": changed(pad={"check_valves": ("roof return",)}),
    "pump-without-way": changed(pad={"edit": (SHUT,)}),
    "array-shut-in": changed(pad={"diverter_seal": "seals tight"}),
    "array-not-shut-off": changed(pad={"check_valves": ("after filter",)}),
    "drain-below-water": changed(pad={"elevation": -0.5, "drains": ("feed",)}),
}
"""Each breaks one thing of a pad on which a trace finds nothing."""

WITH_IT = {"pump-without-way": {"array-shut-in"}}
"""A valve shut on the way home keeps the array's water in as well."""


def test_a_trace_finds_nothing_on_a_good_pad() -> None:
    assert trace_findings(GOOD, trace_job(GOOD)) == ()


@pytest.mark.parametrize("rule", [rule.name for rule in TRACE_CHECKS])
def test_a_job_trips_its_rule_of_the_trace_alone(rule: str) -> None:
    found = trace_findings(TRIPS[rule], trace_job(TRIPS[rule]))
    assert {finding.rule for finding in found} == {rule} | WITH_IT.get(rule, set())
    for finding in found:
        value_at(TRIPS[rule], finding.where)
        assert all((finding.value, finding.limit, finding.text, finding.source, finding.remedy))


def tilted(slope: float) -> Job:
    job = pad_job()
    banks = tuple(replace(bank, slope=slope) for bank in job.array.banks)
    return replace(job, array=replace(job.array, banks=banks))


@pytest.mark.parametrize("slope", [0.0, 0.02])
def test_headers_that_fall_toward_the_feed_drain(slope: float) -> None:
    trace = trace_job(tilted(slope))
    assert set(panels(trace, "off")) == {"drained"}
    assert trace.state("off").trapped == pytest.approx(6.0)  # the heater's own


def test_headers_that_fall_away_from_the_feed_trap_water_at_the_far_end() -> None:
    """Water stays up to the height of the feed's corner, in headers and in the tubes above them."""
    trace = trace_job(tilted(-0.02))
    width, rise = 1.2192, 3.048 * sin(radians(18.0))
    stretch = 1000.0 * pi / 4 * 0.0475**2 * width
    depths = [0.02 * width * place for place in range(6)]
    tubes = sum((15.18 - 2 * stretch) * depth / rise for depth in depths)
    # Halves of both headers at the far end are told with their panel, from its foot to its top.
    bank = 5 * stretch + tubes + stretch * depths[-1] / rise
    assert trace.state("off").trapped == pytest.approx(2 * bank + 6.0, rel=1e-3)
    assert panels(trace, "off")[5] == "trapped"
    full = sum(part.litres for part in trace.state("solar 2400 rpm").parts)
    level = sum(part.litres for part in trace_job(tilted(0.0)).state("solar 2400 rpm").parts)
    assert full == pytest.approx(level)


def test_a_tilted_bank_lies_with_its_low_end_at_the_eave() -> None:
    level, up, down = (trace_job(tilted(slope)).case.circuit for slope in (0.0, 0.02, -0.02))
    far = 0.02 * 5 * 1.2192
    for circuit, near, end in ((level, 3.0, 3.0), (up, 3.0, 3.0 + far), (down, 3.0 + far, 3.0)):
        assert circuit.part("bank 1 panel 1").elevation == pytest.approx(near)
        assert circuit.part("bank 1 panel 6").elevation == pytest.approx(end)
        assert circuit.part("feed corner").elevation == pytest.approx(near)
    breakers = [circuit.part("vacuum breaker").elevation for circuit in (level, up, down)]
    assert breakers[1] - breakers[0] == pytest.approx(far)
    assert breakers[2] == pytest.approx(breakers[0])


def test_a_header_takes_its_slope_from_its_bank() -> None:
    name = "lower header bank 1 panel 1 to panel 2"
    with pytest.raises(InputError, match=r"array\.banks"):
        trace_job(pad_job(edit=(SetPipe("pipe", name, slope=0.02),)))
