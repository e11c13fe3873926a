"""Any job, written and read again, is the same job to the last bit."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any, Literal, get_args, get_origin

from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from noonwater.app.job_file import job_text, read_job_text
from noonwater.app.job_tables import Slot, slots
from noonwater.catalog import panels, pipes, pumps
from noonwater.core.field import Items, Text, Whole
from noonwater.core.quantity import Quantity
from noonwater.model.heater import Heater
from noonwater.model.job import FORMAT, Job
from noonwater.model.money import Alternative, Incentive, Money, Offer, Tier
from noonwater.model.own_part import OwnPanel, OwnPump, PumpPoint, SteadyTest
from noonwater.model.pad_option import (
    AddPart,
    FittedPiece,
    PanelChange,
    SetPart,
    SetPipe,
)
from noonwater.model.plant import Period, Pump, SensorPoint
from noonwater.model.pool import Pool

NAMES = st.text(min_size=1, max_size=20)
OWN = {
    "pump": st.sampled_from([pump.name for pump in pumps()]),
    "panel": st.sampled_from([panel.name for panel in panels()]),
    "filter": st.sampled_from(["none", "cartridge", "sand", "DE"]),
    "heater": st.sampled_from(["none", "gas"]),
    "roof": NAMES,
    "sensor_roof": st.just(""),
    "format": st.just(FORMAT),
    "schedule": st.just("40"),
    "pipe": st.sampled_from([pipe.nominal for pipe in pipes() if pipe.schedule == "40"]),
    "sanitizer": st.sampled_from(["none", "salt cell"]),
    "cleaner": st.sampled_from(["none", "suction", "pressure"]),
    "cleaner_booster": st.sampled_from(["none", "booster cleaner"]),
    "booster": st.sampled_from(["none", "single mini"]),
    "check_valve": st.sampled_from(["swing", "one pound spring"]),
    # Bound to the pool's target and to the kind of controller.
    "cooling_target": st.none(),
    # Less is allowed with some arrangements only.
    "diverter_open": st.just(1.0),
}
"""Fields whose values must exist elsewhere."""


def several(*strategies: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    """A tuple with each of some values, or without it."""
    return st.tuples(*(st.none() | strategy for strategy in strategies)).map(
        lambda found: tuple(each for each in found if each is not None)
    )


POINTS = tuple(
    PumpPoint(3450.0, q, h, w) for q, h, w in ((0, 25, 900), (2e-3, 23, 1500), (4e-3, 17, 1900))
)
WHOLE = {
    "changed": several(st.builds(PanelChange, st.just(1), plugged=st.floats(0.01, 0.9))),
    "edit": several(
        st.builds(SetPipe, st.just("pipe"), st.just("feed"), st.floats(0, 300), st.none(),
                  st.none() | st.floats(-0.2, 1),
                  st.just((FittedPiece("elbow 45", 3),))),
        st.builds(AddPart, st.just("add"), st.just("roof return"), st.just("drain"),
                  st.just("low point"), st.just(""), st.floats(0, 1)),
        st.builds(SetPart, st.just("part"), st.just("filter"), st.floats(-30, 60)),
        st.just(AddPart("add", "feed", "isolation valve", "shut-off", open=0.5)),
    ),
    "alternatives": several(
        st.builds(Alternative, st.sampled_from(["gas", "heat pump"]), st.floats(0, 1e-5),
                  efficiency=st.none() | st.floats(0.3, 12), carbon=st.none() | st.floats(0, 1e-6),
                  installed=st.floats(0, 1e8), maintenance=st.floats(0, 1e7)),
        st.builds(Alternative, st.just("propane"), price_by_volume=st.floats(0, 1e5)),
    ),
    "incentives": several(
        st.builds(Incentive, NAMES, st.floats(0, 1e8)),
        st.builds(Incentive, NAMES, st.none(), st.floats(0, 1), st.none() | st.floats(0, 1e8)),
    ),
    "sensor_ohms": st.just(())
    | st.floats(2, 1e7).map(lambda r: (SensorPoint(0.0, r), SensorPoint(25.0, 0.3 * r + 0.7))),
    "tiers": several(
        st.builds(Tier, st.floats(0, 1e9), st.floats(-1e-5, 1e-5)),
        st.builds(Tier, st.floats(1e10, 1e13), st.floats(-1e-5, 1e-5)),
    ),
    "own_pump": several(st.just(OwnPump("own pump", POINTS, 600.0))),
    "own_panel": several(
        st.builds(
            OwnPanel,
            st.just("own panel"),
            st.floats(0.2, 5),
            st.floats(0.3, 12),
            st.builds(SteadyTest, st.just("steady"), st.floats(0.3, 1), st.floats(0, 0.1),
                      st.floats(1, 60), st.floats(0, 15)),
            drop=st.none() | st.floats(1, 1e5),
        )
    ),
}  # fmt: skip
"""Fields whose items must agree with one another or with the circuit."""


def of_slot(slot: Slot, key: str) -> st.SearchStrategy[Any]:
    mark = slot.mark
    if isinstance(mark, Quantity):
        low, high = (450, 3450) if mark.kind == "speed" else (mark.low, mark.high)
        return st.floats(low, high)
    if isinstance(mark, Whole):
        return st.integers(mark.low, mark.high)
    if isinstance(mark, Text) or get_origin(slot.type) is Literal:
        return st.sampled_from(mark.examples if mark else get_args(slot.type))
    if slot.models:
        return st.one_of(*(of_model(model) for model in slot.models))
    if slot.item is not None:
        low, high = (mark.low, min(mark.high, 12)) if isinstance(mark, Items) else (0, 2)
        return st.lists(of_slot(slot.item, key), min_size=low, max_size=min(high, low + 2)).map(
            tuple
        )
    return {bool: st.booleans(), str: NAMES}[slot.type]


def of_model(model: type[Any]) -> st.SearchStrategy[Any]:
    known = slots(model)
    scalars = {
        field.name: WHOLE[field.name]
        if field.name in WHOLE
        else OWN[field.name]
        if field.name in OWN and not (known[field.name].models or known[field.name].item)
        else of_slot(known[field.name], field.name)
        for field in fields(model)
    }

    @st.composite
    def build(draw: st.DrawFn) -> Any:
        values = {key: draw(strategy) for key, strategy in scalars.items()}
        if model is Pump:
            values["program"] = values["program"][:1]
            for key in ("solar_speed", "solar_flow", "priming_speed", "freeze_speed"):
                values[key] = draw(st.none() | st.just(values[key]))
            if values["solar_speed"] is not None:
                values["solar_flow"] = None
        for key in ("daily_range", "humidity", "wind"):
            if isinstance(values.get(key), tuple) and len(values[key]) != 12:
                values[key] = ()
        if model is Offer:
            values[draw(st.sampled_from(["installed", "file"]))] = None
            values["file"] = values["file"] or ""
        if model is Money:
            values["house_use"] = draw(st.floats(0, 1e13).map(lambda use: (use,) * 12))
        if model is Period:
            key = draw(st.sampled_from(["speed", "flow"]))
            values[key] = None
        if model is Heater:
            rated = values["kind"] == "heat pump"
            # Far enough from its least that those taken from it are allowed too.
            values["capacity"] = max(values["capacity"], 1000.0)
            values["power"] = values["capacity"] / 5.0 if rated else None
            values["capacity_cool"] = values["capacity"] * 0.7 if rated else None
            values["power_cool"] = values["capacity"] / 6.0 if rated else None
        if model is Pool:
            values["rain"] = draw(st.sampled_from([(), tuple(0.01 * m for m in range(12))]))
            for key in ("hall_temp", "hall_humidity"):
                values[key] = values[key] if values["enclosure"] == "indoor" else None
        try:
            return model(**values)
        except ValueError:
            assume(False)

    return build()


ANY_JOB = of_model(Job)


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    job = draw(ANY_JOB)
    roofs = tuple({roof.name: roof for roof in job.roof}.values())
    names = st.sampled_from([roof.name for roof in roofs])
    banks = tuple(replace(bank, roof=draw(names)) for bank in job.array.banks)
    if job.pump.pump.startswith(("single", "booster")):
        program = tuple(replace(period, speed=3450.0, flow=None) for period in job.pump.program)
        pump = replace(
            job.pump, program=program, solar_speed=None, priming_speed=None, freeze_speed=None
        )
        job = replace(job, pump=pump)
    controls = job.controls
    cooling = controls.cooling_target
    if cooling is not None and cooling < job.pool.target + 2.0 * controls.deadband + 0.01:
        # A file may not ask solar to heat and to cool at one temperature.
        job = replace(job, controls=replace(controls, cooling_target=None))
    return replace(job, roof=roofs, array=replace(job.array, banks=banks))


# Most draws are refused by the models' own cross checks; those that pass are whole jobs.
@settings(suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow])
@given(jobs())
def test_read_of_written_is_the_same_job(job: Job) -> None:
    assert read_job_text(job_text(job)) == job
