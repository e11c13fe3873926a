"""Long work that has processes of its own leaves none behind: cancelled, or its desk gone."""

from __future__ import annotations

import json
import os
import secrets
import signal
import sys
import time
import tomllib
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from noonwater.app.demos import demo_text
from noonwater.app.store import Store
from tests.browser.desks import Desk

pytestmark = pytest.mark.skipif(
    not sys.platform.startswith("linux"), reason="processes are looked for in /proc"
)
PATIENCE = 60.0
"""[s] For processes that start on a busy machine."""
SOON = 30.0
"""[s] For processes that notice that their parent is gone."""
TABLE = "pool.area\n" + "".join(f"{400 + number} ft2\n" for number in range(200))


@pytest.fixture
def mark(monkeypatch: pytest.MonkeyPatch) -> str:
    """A word that every process begun from here on carries, whoever its parent becomes."""
    word = secrets.token_hex(12)
    monkeypatch.setenv("NOONWATER_TEST_MARK", word)
    return word


@pytest.fixture
def desk(tmp_path: Path, mark: str) -> Iterator[Desk]:
    store = Store(tmp_path)
    store.add(tomllib.loads(demo_text("lagoon-court")))
    store.close()
    desk = Desk(tmp_path)
    desk.start()
    yield desk
    desk.kill()
    awaited(lambda: not marked(mark), SOON)


def marked(word: str) -> set[int]:
    """Processes that carry a word in their environment, this one left out."""
    found = set()
    for place in Path("/proc").glob("[0-9]*/environ"):
        try:
            if f"NOONWATER_TEST_MARK={word}".encode() in place.read_bytes():
                found.add(int(place.parent.name))
        except OSError:
            continue
    return found - {os.getpid()}


def awaited(true: Callable[[], object], patience: float) -> None:
    end = time.monotonic() + patience
    while not true():
        assert time.monotonic() < end
        time.sleep(0.05)


def answered(address: str, method: str, body: bytes = b"", kind: str = "") -> dict[str, str]:
    head = {"Content-Type": kind} if kind else {}
    request = urllib.request.Request(address, body or None, head, method=method)
    with urllib.request.urlopen(request, timeout=PATIENCE) as reply:
        found: dict[str, str] = json.loads(reply.read())
    return found


def begun(desk: Desk, kind: str) -> tuple[str, str]:
    """Ask for a piece of work; its address and its key."""
    with urllib.request.urlopen(f"{desk.address}/api/jobs", timeout=PATIENCE) as reply:
        job = json.loads(reply.read())[0]["id"]
    address = f"{desk.address}/jobs/{job}/long/{kind}"
    body = (
        f'--x\r\nContent-Disposition: form-data; name="table"; filename="a.csv"\r\n\r\n{TABLE}'
        "\r\n--x--\r\n"
    ).encode()
    of_batch = (body, "multipart/form-data; boundary=x") if kind == "batch" else (b"", "")
    return address, answered(address, "POST", *of_batch)["key"]


@pytest.mark.parametrize("kind", ["search", "batch"])
def test_a_cancel_ends_the_work_and_its_own_processes(desk: Desk, mark: str, kind: str) -> None:
    before = marked(mark)
    address, key = begun(desk, kind)
    # The work itself, what looks after its memory, and two that share it.
    awaited(lambda: len(marked(mark) - before) >= 4, PATIENCE)
    assert answered(f"{address}?key={key}", "DELETE")["stage"] == "none"
    # Who begins processes for the desk itself may stay with the desk.
    awaited(lambda: len(marked(mark) - before) <= 1, SOON)


@pytest.mark.parametrize("how", [signal.SIGINT, signal.SIGKILL])
def test_a_desk_that_ends_leaves_no_process(desk: Desk, mark: str, how: signal.Signals) -> None:
    begun(desk, "batch")
    awaited(lambda: len(marked(mark)) >= 5, PATIENCE)
    assert desk.process is not None
    desk.process.send_signal(how)
    desk.process.wait(SOON)
    awaited(lambda: not marked(mark), SOON)
