"""Pads of every arrangement offered, and harder ones, for the tests that draw them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import Any

from noonwater.hydraulics.arrangement_ready import READY, arranged
from noonwater.model.job import Job
from noonwater.model.pad_option import AddPart, PanelChange, Spa
from noonwater.model.plant import Array, Bank, Period, Purpose
from tests.jobs import example_job

LONG_NAME = (
    "Sunny Hollow recreation ground, learners’ pool behind the old bath house, option C of five"
)


def with_pad(**changes: Any) -> Job:
    """The example job with another pad."""
    job = example_job()
    return replace(job, pad=replace(job.pad, **changes))


def with_banks(*banks: Bank, **changes: Any) -> Job:
    """The example job with other banks."""
    job = with_pad(**changes)
    return replace(job, array=Array(banks))


def _everything() -> Job:
    job = with_banks(
        Bank("south", 6, "tube 4x10"),
        Bank("west", 4, "tube 4x8", "direct return"),
        Bank("south", 3, "tube 4x12"),
        arrangement="diverter with bypass",
        bypass_open=0.3,
        isolation_valves=("feed", "roof return"),
        drains=("feed", "roof return", "array"),
        sanitizer="salt cell",
        cleaner="pressure with booster",
        cleaner_booster="booster cleaner",
        booster="single medium",
        spa=Spa(4.0, 5.0, 0.4, 0.2),
    )
    return replace(job, name=LONG_NAME, units="US")


def _ready(name: str) -> Job:
    """A ready arrangement on the example job, with periods for what it adds."""
    job = arranged(example_job(), name)
    purposes: list[Purpose] = []
    if job.pad.spa is not None:
        purposes.append("spa")
    if job.pad.cleaner != "none":
        purposes.append("clean")
    periods = tuple(
        Period(f"{18 + hour}:00", f"{19 + hour}:00", 2000.0, solar=False, purpose=purpose)
        for hour, purpose in enumerate(purposes)
    )
    return replace(job, pump=replace(job.pump, program=(*job.pump.program, *periods)))


HARD: dict[str, Callable[[], Job]] = {
    "plain": example_job,
    "one bank": lambda: with_banks(Bank("south", 8, "tube 4x10"), heater="none"),
    "one panel": lambda: with_banks(Bank("south", 1, "tube 4x10"), breaker="none", check_valves=()),
    "direct return": lambda: with_banks(Bank("south", 5, "tube 4x10", "direct return")),
    "breaker at the feed": lambda: with_pad(breaker="feed"),
    "heater first": lambda: with_pad(heater_place="before solar"),
    "isolation and drains": lambda: with_pad(
        isolation_valves=("feed", "roof return"),
        drains=("feed", "roof return", "array"),
        sight_windows=True,
    ),
    "two planes": lambda: with_banks(
        Bank("south", 6, "tube 4x10"),
        Bank("west", 3, "tube 4x12"),
        Bank("south", 2, "tube 4x8", "direct return"),
    ),
    "changed panels": lambda: with_banks(
        Bank(
            "south",
            8,
            "tube 4x10",
            changed=(
                PanelChange(2, "sheet 4x10"),
                PanelChange(4, left_out=True),
                PanelChange(6, plugged=0.3),
            ),
        )
    ),
    "ground rack": lambda: replace(
        with_pad(elevation=0.5),
        roof=tuple(replace(roof, eave_height=-2.0) for roof in example_job().roof),
    ),
    "eight banks": lambda: with_banks(*(Bank("south", 6, "tube 4x10") for _ in range(8))),
    "forty banks": lambda: with_banks(*(Bank("south", 2, "tube 4x8") for _ in range(40))),
    "sixty panels": lambda: with_banks(Bank("south", 60, "tube 4x8")),
    "valve put in": lambda: with_pad(
        edit=(
            AddPart("add", "feed", "check valve", "feed check valve"),
            AddPart(
                "add", "filter to filter check valve", "bypass valve", "filter bypass valve",
                to="pump to filter", open=0.0,
            ),
        )
    ),
    "spa": lambda: with_pad(spa=Spa(4.0, 5.0), sanitizer="salt cell"),
    "raised spa": lambda: with_pad(spa=Spa(4.0, 5.0, 0.6, 0.3)),
    "booster pump": lambda: with_pad(booster="single medium"),
    "everything": _everything,
}  # fmt: skip

PADS = {ready.name: partial(_ready, ready.name) for ready in READY} | HARD
