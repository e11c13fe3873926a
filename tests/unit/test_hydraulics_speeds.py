"""A program written in flows: the speed found gives the flow, a flow out of reach is told."""

from __future__ import annotations

from dataclasses import replace

import pytest

from noonwater.app.study import flows_by_period
from noonwater.core.errors import InputError
from noonwater.hydraulics.flow import flow_at
from noonwater.hydraulics.speeds import CLOSE, speed_for_flow, with_speeds
from noonwater.model.plant import Period, Pump
from tests.design_jobs import GOOD, changed

TEMP = GOOD.pool.target
PER_HOUR = 1.0 / 3600.0


@pytest.mark.parametrize("flow", [4.5, 7.0, 12.0])
def test_the_speed_gives_the_flow_and_none_below_does(flow: float) -> None:
    speed = speed_for_flow(GOOD, flow * PER_HOUR, False, TEMP)
    assert flow_at(GOOD, speed, False, TEMP).flow == pytest.approx(flow * PER_HOUR, rel=1e-3)
    assert flow_at(GOOD, speed - CLOSE, False, TEMP).flow < flow * PER_HOUR


def test_a_solar_flow_is_what_runs_through_the_panels() -> None:
    wanted = flow_at(GOOD, 2600.0, True, TEMP).array_flow
    assert speed_for_flow(GOOD, wanted, True, TEMP) == pytest.approx(2600.0, abs=2.0 * CLOSE)


def test_every_flow_of_a_program_becomes_a_speed() -> None:
    program = (
        Period("08:00", "09:00", solar=False, flow=5.0 * PER_HOUR),
        Period("09:00", "17:00", 1700.0),
    )
    job = changed(pump={"program": program, "solar_speed": None, "solar_flow": 10.0 * PER_HOUR})
    found = with_speeds(job, TEMP)
    assert [period.flow for period in found.pump.program] == [None, None]
    assert found.pump.program[1] == program[1]
    flows = [flow_at(found, found.pump.program[0].rpm, False, TEMP).flow]
    flows.append(flow_at(found, found.pump.solar_speed or 0.0, True, TEMP).array_flow)
    assert flows == [pytest.approx(5.0 * PER_HOUR, rel=1e-3), pytest.approx(10.0 * PER_HOUR, 1e-3)]


def test_a_program_of_speeds_stays_as_it_is() -> None:
    assert with_speeds(GOOD, TEMP) is GOOD


def test_all_flows_out_of_reach_are_told_at_once() -> None:
    program = (
        Period("08:00", "09:00", flow=40.0 * PER_HOUR),
        Period("09:00", "17:00", flow=0.01 * PER_HOUR),
    )
    job = changed(pump={"program": program, "solar_speed": None, "solar_flow": 40.0 * PER_HOUR})
    with pytest.raises(InputError) as told:
        with_speeds(job, TEMP)
    fields = [fault.field for fault in told.value.faults]
    assert fields == ["pump.program[0].flow", "pump.program[1].flow", "pump.solar_flow"]
    assert "gpm" in told.value.faults[0].allowed


def test_a_pump_of_one_speed_has_no_flow_to_choose() -> None:
    pump = Pump("single small", (Period("08:00", "17:00", flow=8.0 * PER_HOUR),))
    with pytest.raises(InputError, match="only one"):
        with_speeds(replace(GOOD, pump=pump), TEMP)


def test_a_flow_without_its_speed_says_so() -> None:
    with pytest.raises(ValueError, match="with_speeds"):
        _ = Period("08:00", "09:00", flow=1e-3).rpm


def test_a_cleaning_period_has_the_cleaners_flow() -> None:
    flow = 12.0 * PER_HOUR
    program = (
        Period("08:00", "09:00", solar=False, purpose="clean", flow=flow),
        Period("09:00", "17:00", flow=flow),
    )
    job = with_speeds(changed(pad={"cleaner": "suction"}, pump={"program": program}), TEMP)
    cleaning, filtering = (period.rpm for period in job.pump.program)
    assert cleaning > filtering, "the cleaner's hose takes head"
    assert flow_at(job, cleaning, False, TEMP, "clean").flow == pytest.approx(flow, rel=1e-3)
    assert flows_by_period(job).power_filter[0] == pytest.approx(
        flow_at(job, cleaning, False, TEMP, "clean").power
    )
