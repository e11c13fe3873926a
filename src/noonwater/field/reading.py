"""What can be told on the telephone of this very system, and what of it leaves room for doubt."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from noonwater.catalog import pump_named
from noonwater.model.circuit import Circuit
from noonwater.model.job import Job

BODY_SENSORS = ("panel piece", "free air")
"""Sensors whose temperature hangs on the weather alone; one in a pipe follows the water."""


@dataclass(frozen=True)
class Reading:
    """One thing that can be told.

    Attributes
    ----------
    key : str
        Its name in the program.
    words : str
        Its name on the sheet.
    question : str
        As it is asked on the telephone.
    effort : int
        1 seen at once by anybody, to 5 needs a meter or a ladder: ours.
    kind : str
        Of the quantity; empty where one of `choices` is told.
    low, high : float
        What a person might read at all, in SI: outside it is refused.
    choices : tuple of str
        What can be seen.
    caution : str
        Where looking can hurt.
    """

    key: str
    words: str
    question: str
    effort: int
    kind: str = ""
    low: float = 0.0
    high: float = 0.0
    choices: tuple[str, ...] = ()
    caution: str = ""


GAUGE = Reading(
    "gauge", "gauge at the filter", "What does the gauge at the filter show?", 1,
    "pressure", -30e3, 420e3,
)  # fmt: skip
FLOW = Reading(
    "flow", "flow through the pump", "What does the flow meter show?", 3, "flow", 0.0, 0.02
)
SPEED = Reading(
    "speed", "speed that the pump shows", "What speed does the pump show?", 2, "speed", 0.0, 4000.0
)
POWER = Reading(
    "power", "power that the pump shows", "How many watts does the pump show?", 3,
    "power", 0.0, 5000.0,
)  # fmt: skip
RISE = Reading(
    "rise", "water at the returns above the pool's",
    "How much warmer than the pool does the water come in, the heater off?", 3,
    "temperature difference", -3.0, 25.0,
)  # fmt: skip
FELT = Reading(
    "felt", "water at the returns, by hand",
    "How does the water at the pool's returns feel against the pool, the heater off?", 1,
    choices=("no warmer", "a little warmer", "much warmer"),
)  # fmt: skip
AIR = Reading(
    "air", "air at the returns", "Do bubbles come out of the pool's returns?", 1,
    choices=("none", "at the start", "all the time"),
)  # fmt: skip
LID = Reading(
    "lid", "under the pump's lid", "Look through the pump's lid: water, or air?", 1,
    choices=("full of water", "bubbles or foam"),
    caution="Look only: never loosen the lid while the pump runs.",
)  # fmt: skip
CALLS = Reading(
    "calls", "controller calls for solar", "Does the controller show that solar is on?", 1,
    choices=("yes", "no"),
)  # fmt: skip
DIVERTER = Reading(
    "diverter", "way of the diverter", "Which way does the diverter's handle stand?", 2,
    choices=("to the pool", "in between", "to the roof"),
    caution="Keep fingers off: a motor may turn it at any time.",
)  # fmt: skip
BREAKER = Reading(
    "breaker", "vacuum breaker", "What does the vacuum breaker do while the pump runs?", 3,
    choices=("quiet", "hisses", "drips or spouts"),
    caution="From the ground: nobody climbs for this.",
)  # fmt: skip
PANELS = Reading(
    "panels", "panels to the touch", "If they can be reached from the ground: how do they feel?", 4,
    choices=("cool", "warm", "hot"),
    caution="Nobody climbs for this. A dry panel in the sun burns the hand.",
)  # fmt: skip
DISPLAY = Reading(
    "display", "what the roof sensor's display shows",
    "Does the controller show a temperature for the roof sensor?", 2,
    choices=("a temperature", "an error, or nonsense"),
)  # fmt: skip
SENSOR = Reading(
    "sensor", "roof sensor, as the controller shows it",
    "What temperature does the controller show for the roof?", 2,
    "temperature", -40.0, 130.0,
)  # fmt: skip
MISMATCH = Reading(
    "mismatch", "sensor by its resistance, less what is shown",
    "What resistance do the roof sensor's two wires have, taken off the controller?", 5,
    "temperature difference", -60.0, 60.0,
    caution="Controller off at its breaker first. Mains terminals are an electrician's.",
)  # fmt: skip
STOP = Reading(
    "stop", "when the pump stops", "What is heard or seen when the pump stops?", 4,
    choices=("water runs down, air rushes in", "nothing", "dirt in the pool at the next start"),
)  # fmt: skip
IDLE = Reading(
    "idle", "roof pipes while solar is off", "Solar off, pump on: does water run in a roof pipe?",
    4, choices=("no", "yes, or a pipe is warm"),
)  # fmt: skip


def flap_of(name: str) -> Reading:
    """A check valve's flap in its sight window."""
    question = f"Through the window of the {name}: is its flap open?"
    return Reading(f"flap {name}", f"flap of the {name}", question, 2, choices=("open", "shut"))


def readings_of(job: Job, circuit: Circuit) -> tuple[Reading, ...]:
    """List what can be told of a job's system.

    Parameters
    ----------
    job : Job
        The job.
    circuit : Circuit
        Its circuit.

    Returns
    -------
    tuple of Reading
        None of a part that this system has not.
    """
    return tuple(_readings(job, circuit))


def _readings(job: Job, circuit: Circuit) -> Iterator[Reading]:
    pump = pump_named(job.pump.pump, own=job.own_pump)
    yield from (GAUGE, FLOW)
    if pump.lowest_speed < pump.highest_speed:
        yield from (SPEED, POWER)
    yield from (RISE, FELT, AIR, LID, CALLS)
    if circuit.of_kind("diverter"):
        yield DIVERTER
    if circuit.of_kind("vacuum breaker"):
        yield BREAKER
    for part in circuit.of_kind("check valve"):
        if "sight window" in part.features:
            yield flap_of(part.name)
    yield PANELS
    if job.controls.kind == "differential":
        yield DISPLAY
        if job.controls.sensor in BODY_SENSORS:
            yield SENSOR
            if job.controls.sensor_ohms:
                yield MISMATCH
    yield from (STOP, IDLE)
