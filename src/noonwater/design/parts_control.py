"""Controller, sensors with their cable, and gauges."""

from __future__ import annotations

from collections.abc import Iterator

from noonwater.design.parts_row import CountRule, PartRow
from noonwater.model.circuit import Circuit
from noonwater.model.job import Job

SLACK = 3.0
"""[m] Cable at the ends of a sensor's way: common practice, no source."""

ROOF_SENSORS = {
    "panel piece": "roof sensor on a piece of panel",
    "return well": "roof sensor in a well",
    "free air": "roof sensor in free air",
    "loose in pipe": "roof sensor, loose in the pipe",
}

CONTROLLER = CountRule(
    "controller",
    "a diverter to the roof that an actuator turns has a controller, or a timer where the job's "
    "controls are one",
    "the job's controls",
)
SENSORS = CountRule(
    "sensors",
    "a differential controller has a sensor on the roof and one in the pool's water at the pad; "
    "one in the air besides where frost is watched by the air",
    "the job's controls",
)
SENSOR_WELL = CountRule("sensor-well", "a sensor in a well has the well and a tee for it")
CABLE = CountRule(
    "sensor-cable",
    "the shorter of feed and roof return from pad to array, and 10 ft (3 m) of slack a sensor",
)
GAUGES = CountRule(
    "gauges",
    "one pressure gauge and a tap for it in the feed and in the roof return at the pad, to set the "
    "flow by",
)


def control_rows(circuit: Circuit, job: Job) -> Iterator[PartRow]:
    """List controller, sensors, cable and gauges.

    Parameters
    ----------
    circuit : Circuit
        Parts and pipes.
    job : Job
        For its controls, and the roof of the sensor.

    Yields
    ------
    PartRow
        Not yet merged; no controller where a hand turns the diverter.
    """
    driven = [
        part.name
        for part in circuit.of_kind("diverter")
        if "solar" in part.ports and "actuator" in part.features
    ]
    if driven:
        differential = job.controls.kind == "differential"
        name = "controller, differential" if differential else "timer"
        where = tuple(driven)
        yield PartRow("pad", name, "control", 1, where=where, rule=CONTROLLER)
        if differential:
            yield from _sensors(circuit, job)
    lines = ("feed", "roof return")
    yield PartRow("pad", "pressure gauge", "gauge", 1, where=lines, rule=GAUGES)
    yield PartRow("pad", "gauge tap", "gauge", 2, where=lines, rule=GAUGES)


def _sensors(circuit: Circuit, job: Job) -> Iterator[PartRow]:
    controls = job.controls
    roof = (controls.sensor_roof or job.array.banks[0].roof,)
    yield PartRow("roof", ROOF_SENSORS[controls.sensor], "control", 1, where=roof, rule=SENSORS)
    if controls.sensor == "return well":
        size = min(part.size for part in circuit.of_kind("panel"))
        yield PartRow("roof", "sensor well", "control", 1, where=roof, rule=SENSOR_WELL)
        yield PartRow(
            "roof",
            "tee",
            "fitting",
            1,
            where=roof,
            measure="pipe",
            sizes=(size,),
            rule=SENSOR_WELL,
        )
    at_pad = ["pool water sensor"]
    if controls.freeze != "none" and controls.freeze_watch == "air":
        at_pad.append("air sensor")
    for name in at_pad:
        yield PartRow("pad", name, "control", 1, where=("pad",), rule=SENSORS)
    length = _way_up(circuit) + SLACK * (1 + len(at_pad))
    yield PartRow(
        "pad",
        "sensor cable",
        "control",
        length,
        unit="length",
        where=("pad", *roof),
        rule=CABLE,
        net=length,
    )


def _way_up(circuit: Circuit) -> float:
    """Length of the shorter of feed and roof return, all their stretches. [m]."""
    return min(
        sum(sorted(pipe.length for pipe in circuit.pipes if pipe.role == role))
        for role in ("feed", "roof return")
    )
