"""What the desk keeps between edits never moves an answer: cached and fresh, to the last digit."""

from __future__ import annotations

import random
import sys
import tomllib
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path

import pytest

from noonwater.app.demos import demo_text
from noonwater.app.desk import View
from noonwater.app.job_edit import Change
from noonwater.app.store import State, Store
from noonwater.web.page import desk
from noonwater.web.sheets import SHEETS

Keeper = type(lru_cache(len))
STEPS = 14
SEED = 20_260_402
FIELDS = {
    "pool.depth": ("4 ft", "5 ft", "wide"),
    "pool.shade": ("0 %", "30 %"),
    "pool.target": ("82 °F", "86 °F"),
    "pump.solar_speed": ("2600 rpm", "2900 rpm", "3100 rpm"),
    "pump.program[0].speed": ("1500 rpm", "1900 rpm"),
    "pump.program[0].stop": ("16:00", "15:00"),
    "pad.elbows": ("8", "24"),
    "pump.priming_speed": ("2800 rpm", "3300 rpm"),
    "pad.breaker": ("none", "feed", "high return"),
    "pad.arrangement": ("diverter", "diverter with bypass"),
    "pad.roof_return_length": ("20 ft", "90 ft"),
    "array.banks[0].panels": ("3", "9"),
    "array.banks[1].slope": ("0.5 in", "2 in", "4 %"),
    "roof[0].pitch": ("2:12", "25 deg"),
    "roof[1].bearing": ("200 deg", "300 deg"),
    "controls.on_difference": ("7 °F", "12 °F"),
    "money.electricity": ("0.12 USD/kWh", "0.30 USD/kWh"),
    "units": ("SI", "US"),
}
LISTS = ("pump.program", "array.banks", "roof")
KEEPING = ("app.desk", "app.study", "app.job_edit", "climate", "design", "drawing")
KEEPING += ("hydraulics", "web", "year")
"""Rooms and modules whose answers follow from a job; the catalog and the readers stay."""


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    store = Store(tmp_path)
    yield store
    store.close()


def forget() -> int:
    """Drop all that is kept; gives how many kept answers were dropped."""
    dropped = 0
    for name, module in list(sys.modules.items()):
        if name.removeprefix("noonwater.").startswith(KEEPING) and name.startswith("noonwater."):
            for value in list(vars(module).values()):
                if isinstance(value, Keeper):
                    dropped += value.cache_info().currsize
                    value.cache_clear()
    return dropped


def changed(drawn: random.Random, state: State) -> Change:
    """An edit as somebody could make it: a field set, an item added or taken out."""
    if drawn.random() < 0.2:
        field = drawn.choice(LISTS)
        return Change(field, act="add")
    if drawn.random() < 0.1:
        programs = len(state.tables["pump"]["program"])
        return Change(f"pump.program[{programs - 1}]", act="remove")
    field = drawn.choice(tuple(FIELDS))
    return Change(field, drawn.choice(FIELDS[field]))


def answers(store: Store, state: State) -> dict[str, object]:
    """All that the desk says of a state: flows, year, findings, each sheet."""
    view = View(state, {"width": "wide"}, store.shelf)
    found = view.studied
    year = found.year
    return {
        "flow": repr(found.flow),
        "findings": repr(found.findings),
        "trouble": repr(found.trouble),
        "year": None if year is None else (year.record.tobytes(), repr(year.months)),
        **{sheet.key: str(desk(view, sheet)) for sheet in SHEETS},
    }


def test_a_chain_of_edits_answers_as_if_each_were_the_first(store: Store) -> None:
    drawn = random.Random(SEED)
    state = store.add(tomllib.loads(demo_text("lagoon-court")))
    states, kept = [state], [answers(store, state)]
    for _ in range(STEPS):
        state = store.edit(state.job, state.number, [changed(drawn, state)]).state
        states.append(state)
        kept.append(answers(store, state))
    assert len({each["flow"] for each in kept}) > 5
    assert len({each["year"] for each in kept}) > 7
    assert any(View(state).faults for state in states)
    # Each third one: a fresh answer takes a second.
    for state, before in list(zip(states, kept, strict=True))[::-3]:
        assert forget() > 50
        fresh = answers(store, state)
        assert {name for name in fresh if fresh[name] != before[name]} == set()
