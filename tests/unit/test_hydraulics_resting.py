"""What stays in the array at rest, as the year takes it, is what the trace tells."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from noonwater.app.study import flows_by_period, surroundings_of
from noonwater.design.standing_water import standing_water
from noonwater.hydraulics.resting import resting_array
from noonwater.hydraulics.trace import trace_job
from noonwater.model.job import Job
from noonwater.model.pad_option import AddPart
from noonwater.model.plant import Bank
from noonwater.model.site import Roof
from noonwater.year.prepare import prepare
from tests.design_jobs import GOOD, changed, with_banks, with_roofs

BREAKER_ADDED = AddPart("add", "roof return", "vacuum breaker", "breaker", at=0.0)
TIGHT = {"diverter_seal": "seals tight"}
STANDS = {
    "tight seal": (changed(pad=TIGHT), "pad.diverter_seal"),
    # The diverter alone shuts the feed's way out; the filter's check valve has no part in it.
    "tight seal, no check valves": (
        changed(pad={**TIGHT, "check_valves": ()}),
        "pad.diverter_seal",
    ),
    "no breaker": (changed(pad={"breaker": "none"}), "pad.breaker"),
    "below the water": (with_roofs(eave_height=-2.0), "roof[0].eave_height"),
    "shut in by an edit": (
        changed(pad={"edit": (AddPart("add", "feed", "isolation valve", "stop", open=0.0),)}),
        "pad.edit",
    ),
}
DRAINS = {
    "as built": GOOD,
    "breaker at the feed": changed(pad={"breaker": "feed"}),
    "pad below the water": changed(pad={"elevation": -1.0}),
    "drain-down hole, no check valves": changed(pad={"check_valves": ()}),
    "a breaker put in by an edit": changed(
        pad={
            "breaker": "none",
            "edit": (AddPart("add", "roof return", "vacuum breaker", "b", at=0.0),),
        }
    ),
}


@pytest.mark.parametrize("name", STANDS)
def test_an_array_that_stands_full(name: str) -> None:
    job, where = STANDS[name]
    rest = resting_array(job)
    assert not rest.drains and not rest.empties
    assert rest.banks == pytest.approx((1.0, 1.0))
    assert standing_water(job) == where


@pytest.mark.parametrize("name", DRAINS)
def test_an_array_that_drains(name: str) -> None:
    rest = resting_array(DRAINS[name])
    assert rest.drains and rest.empties
    assert rest.banks == (0.0, 0.0)
    assert standing_water(DRAINS[name]) == ""


def tilted(slope: float, trapped: float = 0.0) -> Job:
    banks = tuple(replace(bank, slope=slope) for bank in GOOD.array.banks)
    return changed(array={"banks": banks, "trapped_water": trapped})


@pytest.mark.parametrize("job", [tilted(-0.02), changed(pad={"slope": -0.01}), changed(pad=TIGHT)])
def test_it_is_what_the_trace_tells_of_the_pump_at_rest(job: Job) -> None:
    trace = trace_job(job)
    off, full = (trace.state(name) for name in ("off", "solar 2350 rpm"))
    for number, share in enumerate(resting_array(job).banks, start=1):
        panels = trace.case.circuit.of_kind("panel")
        names = [part.name for part in panels if part.name.startswith(f"bank {number} ")]
        held = sum(off.part(name).litres for name in names)
        assert share == pytest.approx(held / sum(full.part(name).litres for name in names))


def test_what_stays_is_not_filled_again_and_slows_the_panels() -> None:
    around, flows = surroundings_of(GOOD, 900), flows_by_period(GOOD)
    plain = prepare(GOOD, around, flows).array
    sloped = tilted(-0.02, 0.1)
    kept = prepare(sloped, around, flows).array
    share = 1.0 - np.array(resting_array(sloped).left_in(0.1))
    assert (share < 0.9).all()
    np.testing.assert_allclose(kept.capacity_water, share * plain.capacity_water)
    np.testing.assert_allclose(
        kept.capacity_dry + kept.capacity_water, plain.capacity_dry + plain.capacity_water
    )
    assert kept.drains and (kept.fill_time < plain.fill_time).all()


def test_a_bank_below_the_water_stands_while_one_above_drains() -> None:
    low = Roof("low", pitch=18.0, bearing=180.0, width=16.0, slope_length=5.0, eave_height=-2.0)
    job = replace(GOOD, roof=(*GOOD.roof, low))
    job = with_banks(Bank("south", 6, "tube 4x12"), Bank("low", 6, "tube 4x12"), job=job)
    rest = resting_array(job)
    assert rest.banks == pytest.approx((0.0, 1.0))
    assert rest.empties and not rest.drains
    assert standing_water(job) == "roof[2].eave_height"
    array = prepare(job, surroundings_of(job, 900), flows_by_period(job)).array
    assert array.drains
    assert array.capacity_water[1] == pytest.approx(0.0) and array.capacity_water[0] > 0.0
