"""Checks over many jobs: no traceback, whole findings, the same rules whatever names and units."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from noonwater.design.checks import flow_findings, job_findings
from noonwater.design.place import EARTH_RADIUS, great_circle
from noonwater.hydraulics.flow import solve_flow
from noonwater.model.job import Job
from noonwater.model.plant import Array, Bank, Period, Pump
from tests.design_jobs import GOOD, changed, value_at, with_roofs

PANELS = st.sampled_from(["tube 4x8", "tube 4x10", "tube 4x12", "sheet 4x10"])
BANKS = st.builds(
    Bank,
    roof=st.sampled_from(["south", "west"]),
    panels=st.integers(1, 14),
    panel=PANELS,
    piping=st.sampled_from(["reverse return", "direct return"]),
)
LATITUDE = st.floats(-66.0, 66.0)
LONGITUDE = st.floats(-180.0, 180.0)


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    """Jobs of every arrangement and breaker, on low and high roofs, with pumps of both kinds."""
    job = with_roofs(eave_height=draw(st.floats(-6.0, 14.0)))
    job = changed(
        job,
        pad={
            "pipe": draw(st.sampled_from([0.0381, 0.0508, 0.0635])),
            "breaker": draw(st.sampled_from(["high return", "feed", "none"])),
            "arrangement": draw(st.sampled_from(["diverter", "diverter with bypass"])),
            "bypass_open": draw(st.integers(0, 20)) / 20.0,
            "heater": draw(st.sampled_from(["none", "gas", "heat pump"])),
        },
    )
    job = replace(job, array=Array(tuple(draw(st.lists(BANKS, min_size=1, max_size=3)))))
    if draw(st.booleans()):
        return replace(job, pump=Pump("single small", (Period("08:00", "17:00", 3450.0),)))
    speeds = st.floats(600.0, 3450.0)
    solar, priming, filtering = draw(speeds), draw(speeds), draw(speeds)
    period = Period("09:00", "17:00", filtering, draw(st.booleans()))
    return replace(job, pump=Pump("variable medium", (period,), solar, priming))


@settings(max_examples=25)
@given(jobs())
def test_findings_are_whole_and_do_not_hang_on_names_or_units(job: Job) -> None:
    flow = solve_flow(job)
    found = [*job_findings(job), *flow_findings(job, flow)]
    for finding in found:
        assert finding.text.endswith(".") and finding.remedy.endswith("."), finding
        assert finding.value and finding.limit and "nan" not in finding.value, finding
        value_at(job, finding.where)
    renamed = replace(
        job,
        units="SI",
        roof=tuple(replace(roof, name=f"{roof.name} plane") for roof in job.roof),
        array=Array(tuple(replace(bank, roof=f"{bank.roof} plane") for bank in job.array.banks)),
        controls=replace(job.controls, sensor_roof=f"{job.controls.sensor_roof} plane"),
    )
    again = [*job_findings(renamed), *flow_findings(renamed, flow)]
    assert [(one.rule, one.where) for one in again] == [(one.rule, one.where) for one in found]


@given(LATITUDE, LONGITUDE, LATITUDE, LONGITUDE)
def test_distance_is_symmetric_and_at_most_half_round(
    latitude: float, longitude: float, other: float, other_longitude: float
) -> None:
    there = great_circle(latitude, longitude, other, other_longitude)
    back = great_circle(other, other_longitude, latitude, longitude)
    assert there == pytest.approx(back, abs=1e-3)
    assert 0.0 <= there <= 3.1415927 * EARTH_RADIUS


def test_distances_that_are_known() -> None:
    """A degree of a meridian is π/180 of the radius; Nashville to Los Angeles airports 2887 km
    (widely printed example of the haversine with 6372.8 km, from memory)."""
    assert great_circle(10.0, 5.0, 11.0, 5.0) == pytest.approx(111_194.9, abs=0.1)
    assert great_circle(0.0, 179.5, 0.0, -179.5) == pytest.approx(111_194.9, abs=0.1)
    apart = great_circle(36.12, -86.67, 33.94, -118.40)
    assert apart * 6372.8 / 6371.0 == pytest.approx(2_887_260.0, abs=10.0)


def test_the_good_job_is_among_them() -> None:
    assert job_findings(GOOD) == []
