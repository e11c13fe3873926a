"""The engine made ready ahead: counted while it is compiled, ready whatever comes of the demo."""

from __future__ import annotations

import sys
import threading
import time

import numba
import pytest

from noonwater.app import engine_start
from noonwater.app.engine_start import EngineStart, demo_year
from noonwater.core.errors import NoonwaterError
from noonwater.core.jit import ENGINE, counting_compiled

PATIENCE = 20.0


@pytest.fixture(autouse=True)
def not_compiled(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(engine_start, "engine_is_compiled", lambda: False)
    monkeypatch.setattr(engine_start.gc, "freeze", lambda: None)


def waited(start: EngineStart) -> None:
    end = time.monotonic() + PATIENCE
    while not start.ready:
        assert time.monotonic() < end
        time.sleep(0.01)


def test_it_is_not_ready_until_the_demo_is_reckoned() -> None:
    go, runs = threading.Event(), []
    start = EngineStart(lambda: (runs.append(1), go.wait(PATIENCE)))
    assert start.stand().done == 0
    assert start.stand().left is None
    start.begin()
    start.begin()
    assert not start.stand().ready
    go.set()
    waited(start)
    assert start.stand().ready
    assert runs == [1]


def test_a_demo_that_has_no_answer_does_not_hold_the_sheets_back() -> None:
    def fails() -> None:
        raise NoonwaterError("no weather")

    start = EngineStart(fails)
    start.begin()
    waited(start)


def test_functions_are_counted_as_they_are_compiled(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(engine_start, "ENOUGH", 2)
    counted, go = threading.Event(), threading.Event()

    def compiles() -> None:
        @numba.njit
        def inner(x: float) -> float:
            return x + 1.0

        @numba.njit
        def outer(x: float) -> float:
            return inner(x) * 2.0

        assert outer(1.0) == 4.0
        counted.set()
        go.wait(PATIENCE)

    start = EngineStart(compiles)
    start.begin()
    assert counted.wait(PATIENCE)
    stand = start.stand()
    assert stand.done == 2
    assert stand.left > 0.0
    go.set()
    waited(start)


def test_nothing_is_counted_afterwards() -> None:
    found: list[int] = []
    with counting_compiled(lambda: found.append(1)):
        pass

    @numba.njit
    def late(x: float) -> float:
        return x - 1.0

    assert late(1.0) == 0.0
    assert found == []


def test_the_demo_needs_the_whole_engine() -> None:
    flow, year, _findings = demo_year()
    assert flow.states
    assert len(year.months) == 12


def test_an_engine_that_a_sheet_has_loaded_is_not_tried_again(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked: list[int] = []
    start = EngineStart(lambda: asked.append(1))
    monkeypatch.setitem(sys.modules, ENGINE, sys)
    start.load()
    assert not start.ready
    monkeypatch.delitem(sys.modules, ENGINE)
    start.load()
    waited(start)
    assert asked == [1]
