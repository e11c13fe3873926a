"""Curves from the same circuit as the states: each state's point lies where its two curves meet."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from xml.etree import ElementTree as ET

import numpy as np
import pytest

from noonwater.app.demos import demo_text
from noonwater.app.desk import View, studied
from noonwater.app.desk_pad import pad_shown, part_in_states, part_names, pump_drawing
from noonwater.app.job_file import read_job_tables
from noonwater.app.store import State
from noonwater.catalog import pump_named
from noonwater.drawing.pump_chart import OperatingPoint, pump_chart
from noonwater.hydraulics.curves import CurvePoint, SystemCurve, pump_curves, system_curves
from noonwater.hydraulics.speeds import with_speeds
from noonwater.model.job import Job
from tests.browser.drawn_years import points_of

SVG = "{http://www.w3.org/2000/svg}"
DEMOS = ("lagoon-court", "orchard-hill", "almond-ranch")


def job_of(demo: str) -> Job:
    job = read_job_tables(tomllib.loads(demo_text(demo)))
    return with_speeds(job, job.pool.target)


def view_of(demo: str) -> View:
    tables = tomllib.loads(demo_text(demo))
    return View(State("job", 1, "", "", tables, tables))


@pytest.mark.parametrize("demo", DEMOS)
def test_each_state_lies_on_its_pump_curve_and_on_its_system_curve(demo: str) -> None:
    job = job_of(demo)
    flow = studied(job).flow
    assert flow is not None
    pumps = {curve.speed: curve for curve in pump_curves(job, job.pool.target)}
    systems = {
        name: curve for curve in system_curves(job, job.pool.target) for name in curve.states
    }
    for state in flow.states:
        if state.rpm == 0.0:
            continue
        points = pumps[state.rpm].points
        head = np.interp(state.flow, [p.flow for p in points], [p.head for p in points])
        assert head == pytest.approx(state.head, rel=0.01)
        if state.name.startswith("priming") or not state.primes:
            continue
        misses = [abs(p.flow - state.flow) for p in systems[state.name].points]
        assert min(misses) < 1e-3 * state.flow


def test_pump_curves_follow_the_affinity_laws() -> None:
    job = job_of("lagoon-court")
    slow, *_, fast = pump_curves(job)
    ratio = fast.speed / slow.speed
    assert fast.points[0].head == pytest.approx(slow.points[0].head * ratio**2)
    assert fast.flow_measured == pytest.approx(slow.flow_measured * ratio)
    pump = pump_named(job.pump.pump)
    assert slow.points[0].head == pytest.approx(
        pump.head_shutoff * (slow.speed / pump.rated_speed) ** 2
    )


def test_a_system_curve_rises_and_more_pipe_makes_it_steeper() -> None:
    job = job_of("lagoon-court")
    longer = replace(job, pad=replace(job.pad, suction_length=3 * job.pad.suction_length))
    plain, steep = (system_curves(each)[0].points for each in (job, longer))
    heads = [point.head for point in plain]
    assert heads == sorted(heads)
    flow = plain[-1].flow * 0.6
    at = [
        float(np.interp(flow, [p.flow for p in points], [p.head for p in points]))
        for points in (plain, steep)
    ]
    assert at[1] > 1.05 * at[0]


@pytest.mark.parametrize("demo", DEMOS)
def test_the_chart_stays_in_its_frame_and_leads_from_each_point_to_its_state(demo: str) -> None:
    drawn = pump_drawing(view_of(demo))
    assert drawn is not None
    for svg in (drawn.wide, drawn.narrow):
        root = ET.fromstring(svg)
        width, height = (float(x) for x in root.attrib["viewBox"].split()[2:])
        links = list(root.iter(f"{SVG}a"))
        flow = studied(job_of(demo)).flow
        assert flow is not None
        assert len(links) == sum(state.rpm > 0.0 for state in flow.states)
        for circle in root.iter(f"{SVG}circle"):
            assert 0.0 < float(circle.attrib["cx"]) < width
            assert 0.0 < float(circle.attrib["cy"]) < height


def test_a_circuit_that_asks_for_less_than_nothing_is_cut_at_the_axis() -> None:
    curve = SystemCurve(
        ("solar 2800 rpm",),
        True,
        tuple(CurvePoint(flow * 1e-3, head, "shut") for flow, head in ((2, -9), (3, 3), (4, 12))),
    )
    svg = pump_chart(pump_curves(job_of("lagoon-court")), [curve], [], units="SI")
    path = next(each for each in ET.fromstring(svg).iter() if each.get("class") == "system-curve")
    frame = list(ET.fromstring(svg).iter(f"{SVG}rect"))[-1]
    bottom = float(frame.attrib["y"]) + float(frame.attrib["height"])
    heights = points_of(path.attrib["d"])[:, 1]
    assert len(heights) == 3
    assert max(heights) == pytest.approx(bottom, abs=0.1)


def test_states_on_one_place_are_all_named_there() -> None:
    points = [OperatingPoint(n, f"state {n}", 5e-3, 8.0) for n in (2, 5)]
    points.append(OperatingPoint(3, "state 3", 2e-3, 4.0))
    svg = pump_chart(pump_curves(job_of("lagoon-court")), [], points, units="US")
    links = list(ET.fromstring(svg).iter(f"{SVG}a"))
    assert [link.find(f"{SVG}text").text for link in links] == ["2", "2, 5", "3"]


def test_a_touched_valve_leads_to_the_state_in_which_it_is_turned() -> None:
    view = view_of("lagoon-court")
    shown = pad_shown(view, "filter 1300 rpm", "diverter")
    assert shown is not None
    for svg in (shown.touch.wide, shown.touch.narrow):
        links = {
            str(each.get("aria-label")).partition(":")[0]: str(each.get("href"))
            for each in ET.fromstring(svg).iter(f"{SVG}a")
        }
        assert set(links) == set(part_names(view))
        assert links["diverter"] == "?state=solar+2800+rpm&part=diverter"
        assert links["filter"] == "?state=filter+1300+rpm&part=filter"


def test_a_part_is_told_in_every_state() -> None:
    view = view_of("lagoon-court")
    told = part_in_states(view, "diverter")
    assert told is not None
    stands = {state: cells[0] for state, cells in told.rows}
    assert stands["filter 1300 rpm"] == "to pool"
    assert stands["solar 2800 rpm"] == "to roof"
    assert told.field == "pad.arrangement"
    assert part_in_states(view, "no such part") is None
