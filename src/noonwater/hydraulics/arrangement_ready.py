"""Ready arrangements in trade words: each sets some of a pad's options, so that they compose."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from noonwater.core.errors import Fault, InputError
from noonwater.model.job import Job
from noonwater.model.pad_option import Spa
from noonwater.model.plant import Pad


@dataclass(frozen=True)
class Ready:
    """A ready arrangement.

    Attributes
    ----------
    name : str
        What a contractor would call it.
    meaning : str
        What it is for, in a line.
    change : callable
        Sets its options on a pad and leaves all others.
    """

    name: str
    meaning: str
    change: Callable[[Pad], Pad]


READY = (
    Ready(
        "all flow through the diverter",
        "a variable-speed pump sets the flow on the roof",
        lambda pad: replace(pad, arrangement="diverter", diverter_open=1.0),
    ),
    Ready(
        "hand-set bypass",
        "part of a one-speed pump's flow passes the array by",
        lambda pad: replace(
            pad, arrangement="diverter with bypass", diverter_open=1.0, bypass_open=0.4
        ),
    ),
    Ready(
        "diverter with stops",
        "the actuator's stops leave part of the flow on the pool's side",
        lambda pad: replace(pad, arrangement="diverter with stops", diverter_open=0.6),
    ),
    Ready(
        "hand-turned diverter",
        "no controller: a hand turns the diverter",
        lambda pad: replace(pad, arrangement="hand diverter", diverter_open=1.0),
    ),
    Ready(
        "booster pump for a high roof",
        "a second pump in the feed runs with solar",
        lambda pad: replace(pad, booster="single mini"),
    ),
    Ready(
        "pool with spa",
        "one pump and heater for both, the spa at the pool's level",
        lambda pad: replace(pad, spa=Spa(suction_length=8.0, return_length=8.0)),
    ),
    Ready(
        "pool with raised spa",
        "the spa spills over into the pool while it filters",
        lambda pad: replace(
            pad,
            spa=Spa(suction_length=8.0, return_length=8.0, elevation=0.5, spillover=0.4),
        ),
    ),
    Ready(
        "suction-side cleaner",
        "a cleaner on a line of its own to the pump",
        lambda pad: replace(pad, cleaner="suction", cleaner_booster="none"),
    ),
    Ready(
        "pressure-side cleaner",
        "a cleaner on the filter pump's pressure",
        lambda pad: replace(pad, cleaner="pressure", cleaner_booster="none"),
    ),
    Ready(
        "pressure-side cleaner with booster",
        "a cleaner on a booster pump's pressure",
        lambda pad: replace(
            pad, cleaner="pressure with booster", cleaner_booster="booster cleaner"
        ),
    ),
    Ready(
        "heater after solar",
        "the heater gets what solar has warmed",
        lambda pad: replace(pad, heater="gas", heater_place="after solar"),
    ),
    Ready(
        "sanitizer last",
        "a sanitizer behind everything else",
        lambda pad: replace(pad, sanitizer="salt cell", sanitizer_place="last"),
    ),
    Ready(
        "isolation valves and drains",
        "solar can be shut off and emptied at the pad",
        lambda pad: replace(
            pad, isolation_valves=("feed", "roof return"), drains=("feed", "roof return")
        ),
    ),
    Ready(
        "without isolation valves and drains",
        "nothing to shut solar off by but the diverter",
        lambda pad: replace(pad, isolation_valves=(), drains=()),
    ),
    Ready(
        "flat roof, drained by hand",
        "drains on the roof that a hand opens; no vacuum breaker",
        lambda pad: replace(pad, drains=("array",), breaker="none"),
    ),
    Ready(
        "diverter with drain-down hole",
        "the feed empties through a hole in the diverter's seal",
        lambda pad: replace(pad, diverter_seal="drain-down hole"),
    ),
    Ready(
        "check valves with sight window",
        "the flap can be seen",
        lambda pad: replace(pad, sight_windows=True),
    ),
    Ready(
        "pad below the water",
        "the pad stands lower than the pool's water",
        lambda pad: replace(pad, elevation=-1.5),
    ),
)
"""Every name once; `arranged` sets one or several."""


def arranged(job: Job, *names: str) -> Job:
    """Set ready arrangements on a job's pad, one after the other.

    Parameters
    ----------
    job : Job
        The whole job.
    *names : str
        Names out of `READY`.

    Returns
    -------
    Job
        Its edits are kept: they are made after the arrangement is filled in.

    Raises
    ------
    InputError
        A name that is none.
    """
    ready = {each.name: each for each in READY}
    pad = job.pad
    for name in names:
        if name not in ready:
            allowed = ", ".join(f"'{each}'" for each in ready)
            raise InputError([Fault("arrangement", f"none is called '{name}'", allowed)])
        pad = ready[name].change(pad)
    return replace(job, pad=pad)
