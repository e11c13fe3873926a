"""Correct pads, and ways to break one thing of them, drawn at random from a seed.

``python -m tests.broken_pads`` breaks 216 pads and writes docs/broken-pads.md.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from noonwater.core.errors import InputError
from noonwater.model.job import Job
from noonwater.model.plant import Bank, Period
from tests.design_jobs import GOOD, changed, flow_of, found_before_the_year, with_banks, with_roofs

SEED = 2026
COUNT = 216
PAGE = Path(__file__).parent.parent / "docs" / "broken-pads.md"


def correct_pads() -> list[Job]:
    """Pads that no rule of job and flow finds anything on, each unlike the others in a thing."""
    return [
        GOOD,
        with_roofs(eave_height=2.0),
        with_roofs(pitch=14.0, eave_height=2.5),
        with_roofs(changed(pad={"heater": "none"}, pump={"solar_speed": 2200.0}), eave_height=0.9),
        changed(pad={"heater": "heat pump"}),
        changed(pad={"schedule": "40", "feed_length": 14.0, "roof_return_length": 16.0}),
        changed(pad={"return_length": 6.0, "suction_length": 6.0}),
        changed(pad={"sanitizer": "salt cell"}),
        changed(pad={"isolation_valves": ("feed", "roof return"), "drains": ("feed",)}),
        changed(pad={"diverter_seal": "seals tight"}),
        with_roofs(changed(pad={"filter": "sand"}), eave_height=1.1),
        changed(pool={"area": 50.0, "depth": 1.2}),
        changed(pump={"priming_speed": 3200.0}),
        changed(pad={"sight_windows": True}),
    ]


@dataclass(frozen=True)
class Break:
    """One way to break a pad.

    Attributes
    ----------
    name : str
        In words.
    rules : tuple of str
        Any of these names what is broken.
    also : tuple of str
        True things that come of it and are no false findings.
    make : callable
        Breaks a pad with a source of chance.
    """

    name: str
    rules: tuple[str, ...]
    also: tuple[str, ...]
    make: Callable[[Job, random.Random], Job]


def _speed(job: Job, **speeds: float) -> Job:
    return changed(job, pump=dict(speeds))


def _start_over_the_top(job: Job, chance: random.Random) -> Job:
    """Start and run between the speed at which flow begins and the speed to prime."""
    targets = flow_of(job).targets
    assert targets is not None
    start = targets.priming[0]
    low, high = start.speed_flow_begins, start.speed_to_prime
    assert low is not None and high is not None
    speed = chance.uniform(low + 5.0, high - 5.0)
    return _speed(job, solar_speed=speed, priming_speed=speed)


# A part left out takes its loss of head with it: more flow, less pressure at the breaker.
AIR = ("breaker-draws-air", "breaker-margin-small", "solar-does-not-hold", "array-under-vacuum")
MANY = ("suction-too-fast", "return-too-fast", "panel-flow-high", "power-high", "panel-starved")

BREAKS = (
    Break(
        "no check valve after the filter", ("check-valve-after-filter",),
        (*AIR, "suction-too-fast"),
        lambda job, _: changed(job, pad={"check_valves": ("roof return",)}),
    ),
    Break(
        "no check valve on the roof return", ("check-valve-roof-return",),
        (*AIR, "suction-too-fast"),
        lambda job, _: changed(job, pad={"check_valves": ("after filter",)}),
    ),
    Break(
        "no vacuum breaker", ("breaker-missing",), ("array-under-vacuum",),
        lambda job, _: changed(job, pad={"breaker": "none"}),
    ),
    Break(
        "solar too slow to keep the breaker shut", AIR, (*AIR, "panel-flow-low", "panel-starved"),
        lambda job, chance: _speed(job, solar_speed=float(chance.randrange(1800, 2080, 20))),
    ),
    Break(
        "solar far too fast", MANY, MANY,
        lambda job, chance: _speed(
            job, solar_speed=float(chance.randrange(3150, 3400, 25)), priming_speed=3450.0
        ),
    ),
    Break(
        "priming too slow", ("priming-slower-than-solar",), ("start-does-not-prime", *AIR),
        lambda job, chance: _speed(job, priming_speed=float(chance.randrange(1500, 2300, 50))),
    ),
    Break(
        "start too slow to carry the air down", ("start-does-not-prime",),
        (*AIR, "panel-flow-low", "panel-starved", "heater-flow-low"),
        _start_over_the_top,
    ),
    Break(
        "pump too weak for the roof", ("start-does-not-prime", "solar-does-not-hold"), AIR,
        lambda job, chance: with_roofs(job, eave_height=chance.uniform(19.0, 28.0)),
    ),
    Break(
        "pipe too thin", ("suction-too-fast", "return-too-fast"), (*MANY, *AIR),
        lambda job, chance: changed(job, pad={"pipe": chance.choice((0.0381, 0.0508))}),
    ),
    Break(
        "one long bank", ("bank-too-long", "panel-starved"),
        ("panel-starved", "panel-flow-low", "panel-flow-high", *AIR),
        lambda job, chance: with_banks(
            Bank("south", chance.randrange(13, 19), "tube 4x12"),
            job=with_roofs(job, width=60.0),
        ),
    ),
    Break(
        "direct return", ("panel-starved",), ("panel-flow-low", "panel-flow-high"),
        lambda job, chance: with_banks(
            Bank("south", chance.randrange(10, 13), "tube 4x12", "direct return"),
            job=with_roofs(job, width=40.0),
        ),
    ),
    Break(
        "panels wider than the roof", ("panels-wider-than-roof",), (),
        lambda job, chance: with_roofs(job, width=chance.uniform(5.0, 13.0)),
    ),
    Break(
        "panels longer than the roof", ("panels-longer-than-roof",), (),
        lambda job, chance: with_roofs(job, slope_length=chance.uniform(1.0, 3.5)),
    ),
    Break(
        "far too few panels", ("array-too-small",), (*MANY, *AIR, "panel-flow-low"),
        lambda job, chance: with_banks(
            Bank("south", chance.randrange(2, 4), "tube 4x12"), job=job
        ),
    ),
    Break(
        "sensor in another plane", ("sensor-off-the-panels",), (),
        lambda job, _: changed(job, controls={"sensor_roof": "west"}),
    ),
    Break(
        "solar in no period", ("solar-in-no-period",), (),
        lambda job, _: changed(
            job, pump={"program": tuple(replace(p, solar=False) for p in job.pump.program)}
        ),
    ),
    Break(
        "pump runs too short", ("turnover-low",), (),
        lambda job, chance: changed(
            job, pump={"program": (Period("11:00", f"11:{chance.randrange(30, 59)}", 1700.0),)}
        ),
    ),
    Break(
        "heater starved", ("heater-flow-low",), ("pump-at-floor",),
        lambda job, chance: changed(
            job,
            pad={"heater": "gas"},
            pump={
                "program": (
                    Period("08:00", "09:00", float(chance.randrange(450, 520, 10)), solar=False),
                    Period("09:00", "17:00", 1700.0),
                )
            },
        ),
    ),
    Break(
        "roof pipes too flat", ("slope-too-flat",), (),
        lambda job, chance: changed(job, pad={"slope": chance.uniform(0.0, 0.019)}),
    ),
    Break(
        "roof pipes fall the wrong way", ("slope-backwards",), (),
        lambda job, chance: changed(job, pad={"slope": -chance.uniform(0.005, 0.05)}),
    ),
    Break(
        "elbow right at the pump", ("straight-pipe-short",), (),
        lambda job, chance: changed(job, pad={"straight_before_pump": chance.uniform(0.0, 0.2)}),
    ),
    Break(
        "no room between filter and heater", ("filter-heater-pipe-short",), (),
        lambda job, chance: changed(
            job, pad={"filter_to_heater": chance.uniform(0.0, 0.9), "heater": "gas"}
        ),
    ),
    Break(
        "filter too small", ("filter-rate-high",), (),
        lambda job, chance: changed(
            job, pad={"filter": "cartridge", "filter_area": chance.uniform(2.0, 12.0)}
        ),
    ),
    Break(
        "array deep below the pad", ("panel-pressure-high",), ("pipe-pressure-hot",),
        lambda job, chance: with_roofs(job, eave_height=-chance.uniform(15.0, 28.0)),
    ),
)  # fmt: skip


@dataclass
class Tally:
    """What became of one kind of break."""

    count: int = 0
    named: int = 0
    false: int = 0
    findings: int = 0


def tally(count: int = COUNT, seed: int = SEED) -> dict[str, Tally]:
    """Break pads and count: each kind in turn, pad and measure by chance.

    Parameters
    ----------
    count : int
        Pads.
    seed : int
        Of the chance.

    Returns
    -------
    dict
        By kind of break.
    """
    chance = random.Random(seed)
    pads = correct_pads()
    table = {entry.name: Tally() for entry in BREAKS}
    for number in range(count):
        entry = BREAKS[number % len(BREAKS)]
        pad = entry.make(chance.choice(pads), chance)
        try:
            rules = [finding.rule for finding in found_before_the_year(pad)]
        except InputError:
            rules = []
        row = table[entry.name]
        row.count += 1
        row.named += any(rule in entry.rules for rule in rules)
        row.false += sum(rule not in entry.rules and rule not in entry.also for rule in rules)
        row.findings += len(rules)
    return table


def page(table: dict[str, Tally]) -> str:
    """Print the table of broken pads."""
    total = Tally(
        *(sum(getattr(row, name) for row in table.values())
          for name in ("count", "named", "false", "findings"))
    )  # fmt: skip
    lines = [
        "# Broken pads",
        "",
        f"{len(correct_pads())} correct pads, on which no check of job and flow finds anything,",
        f"broken at random in one way each (seed {SEED}). Named: one of the rules that stand for",
        "the break is among the findings. False: a finding that neither names the break nor truly",
        "follows from it.",
        "",
        "Written by `python -m tests.broken_pads`; `tests/reference/test_broken_pads.py` holds it.",
        "",
        "| what is broken | pads | named | findings | false |",
        "| --- | ---: | ---: | ---: | ---: |",
    ]
    lines += [
        f"| {name} | {row.count} | {row.named} | {row.findings} | {row.false} |"
        for name, row in table.items()
    ]
    share, false = total.named / total.count, total.false / max(total.findings, 1)
    lines += [
        f"| all | {total.count} | {total.named} | {total.findings} | {total.false} |",
        "",
        f"Named right: {100 * share:.1f} %. False findings: {100 * false:.1f} %.",
        "",
        "What this does not show: breaks that the job file can't hold (a valve put in backwards,",
        "glue in a pipe), two breaks at once, and limits that are themselves common practice.",
    ]
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    PAGE.write_text(page(tally()), encoding="utf-8")
