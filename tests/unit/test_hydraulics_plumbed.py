"""Answers about flow are kept by the plumbed job: nothing that it leaves out is ever read."""

from __future__ import annotations

from copy import copy
from dataclasses import fields, replace
from typing import Any

import pytest

from noonwater.app import study
from noonwater.app.demos import FOLDER
from noonwater.app.job_file import read_job
from noonwater.design.checks import flow_findings
from noonwater.hydraulics.arrangement import _filled
from noonwater.hydraulics.flow import solve_flow
from noonwater.hydraulics.plumbed import plant_only, plumbed
from noonwater.hydraulics.speeds import with_speeds
from noonwater.model.job import Job
from noonwater.model.plant import Controls

DEMOS = sorted(FOLDER.glob("*.toml"))


class Untouchable:
    """Stands for what must not be read: whoever asks it for anything fails."""

    def __init__(self, **known: Any) -> None:
        self.__dict__.update(known)

    def __getattr__(self, name: str) -> Any:
        raise AssertionError(f"{name} was read")


def poisoned(job: Job, **known: Any) -> Job:
    job = copy(job)
    for name in ("name", "site", "weather", "pool", "controls", "money"):
        object.__setattr__(job, name, Untouchable(**known.get(name, {})))
    return job


def with_poisoned_hours(job: Job) -> Job:
    pump = copy(job.pump)
    program = tuple(copy(period) for period in pump.program)
    for period in program:
        object.__setattr__(period, "start", Untouchable())
        object.__setattr__(period, "stop", Untouchable())
    object.__setattr__(pump, "program", program)
    object.__setattr__(pump, "priming_time", Untouchable())
    object.__setattr__(job, "pump", pump)
    return job


@pytest.fixture(params=DEMOS, ids=lambda path: path.stem)
def job(request: pytest.FixtureRequest) -> Job:
    read = read_job(request.param)
    return with_speeds(read, read.pool.target)


def test_a_circuit_and_its_flows_read_nothing_that_is_left_out(
    job: Job, monkeypatch: pytest.MonkeyPatch
) -> None:
    expected = solve_flow(job, job.pool.target)
    known = {"site": {"elevation": job.site.elevation}, "pool": {"target": job.pool.target}}
    bare = with_poisoned_hours(poisoned(job, **known))
    assert _filled.__wrapped__(bare) == expected.circuit
    with monkeypatch.context() as patched:
        patched.setattr("noonwater.hydraulics.arrangement.plumbed", lambda each: each)
        assert solve_flow(bare, job.pool.target) == expected
    assert study.solve_flow(job) == expected


def test_findings_on_flow_read_nothing_that_is_left_out(
    job: Job, monkeypatch: pytest.MonkeyPatch
) -> None:
    flow = solve_flow(job, job.pool.target)
    expected = flow_findings(job, flow)
    pool = {name: getattr(job.pool, name) for name in ("target", "area", "depth", "volume")}
    bare = poisoned(job, site={"elevation": job.site.elevation}, pool=pool)
    with monkeypatch.context() as patched:
        patched.setattr("noonwater.hydraulics.arrangement.plumbed", lambda each: each)
        assert flow_findings(bare, flow) == expected
    assert list(study._flow_findings(plant_only(job))) == expected


def test_options_that_leave_the_plumbing_alone_share_one_plumbed_job(job: Job) -> None:
    other = replace(
        job,
        name="another",
        pool=replace(job.pool, area=job.pool.area + 3.0, opens="05-01", finish="dark"),
        controls=Controls(freeze="drain", deadband=0.5),
        money=replace(job.money, electricity=1e-7),
        site=replace(job.site, latitude=10.0, ground="sand"),
    )
    assert plumbed(other) == plumbed(job)
    assert plant_only(other) != plant_only(job)
    assert plumbed(replace(job, pump=replace(job.pump, solar_speed=2000.0))) != plumbed(job)
    assert plumbed(replace(job, pool=replace(job.pool, target=20.0))) != plumbed(job)


def test_what_is_kept_is_the_jobs_other_fields(job: Job) -> None:
    """A field that a job gets later is kept until somebody shows that no flow reads it."""
    bare = plumbed(job)
    changed = {"name", "site", "weather", "pool", "controls", "money", "pump"}
    for field in fields(Job):
        if field.name not in changed:
            assert getattr(bare, field.name) == getattr(job, field.name)
