"""A desk in a process of its own, to be asked, killed and started again."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, Page, ViewportSize, expect

from tests.house import REPOSITORY

PATIENCE = 60.0
"""[s] For the first page of a desk that starts on a busy machine."""
SLOW = 60_000
"""[ms] A desk that was just started reads its compiled engine first, on a machine that is busy."""
DRAWN = 10.0
"""[s] For a page to lay out its charts anew after its width has changed."""
WIDE: ViewportSize = {"width": 1280, "height": 900}
PHONE: ViewportSize = {"width": 390, "height": 844}
SIZES = {"desk": WIDE, "phone": PHONE}
"""[px] Of the two screens that everything is looked at on."""
PICTURES = Path(os.environ.get("NOONWATER_ARTEFACTS", REPOSITORY / "artefacts")) / "sheets"
"""Where the tests keep what they saw."""


def free_port() -> int:
    """A port that nobody listens at just now."""
    with socket.create_server(("127.0.0.1", 0)) as listener:
        return int(listener.getsockname()[1])


class Desk:
    """One desk: its data stay where they are when it is killed."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.port = free_port()
        self.process: subprocess.Popen[bytes] | None = None

    @property
    def address(self) -> str:
        """Where its first page is."""
        return f"http://localhost:{self.port}"

    def start(self) -> None:
        """Start it and wait until it answers."""
        words = ["serve", "--quiet", "--port", str(self.port), "--data", str(self.folder)]
        paths = [str(REPOSITORY / "src"), os.environ.get("PYTHONPATH", "")]
        self.process = subprocess.Popen(
            [sys.executable, "-m", "noonwater", *words],
            env={**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, paths))},
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            try:
                with urllib.request.urlopen(self.address, timeout=5):
                    return
            except (urllib.error.URLError, ConnectionError, TimeoutError):
                assert self.process.poll() is None, "the desk has stopped"
                time.sleep(0.1)
        raise TimeoutError("the desk does not answer")

    def processor_time(self) -> float:
        """Time that its threads have had a processor; 0 where the system does not tell it. [s]."""
        if self.process is None:
            return 0.0
        threads = Path(f"/proc/{self.process.pid}/task").glob("*/schedstat")
        return sum(int(each.read_text().split()[0]) for each in threads) * 1e-9

    def kill(self) -> None:
        """Kill it as a power cut would."""
        if self.process is not None and self.process.poll() is None:
            self.process.kill()
            self.process.wait()


def ready(page: Page) -> None:
    """Wait until the page listens."""
    expect(page.locator("html")).to_have_attribute("data-ready", "yes", timeout=SLOW)


def saved(page: Page) -> None:
    """Wait until everything typed is safe."""
    expect(page.locator("#saved")).to_have_text("saved", timeout=SLOW)


def begun(
    context: BrowserContext, desk: Desk, sample: str = "Lagoon Court", sheet: str = "survey"
) -> Page:
    """A page with a sheet of a fresh job."""
    page = context.new_page()
    page.goto(desk.address)
    page.get_by_role("button", name=sample, exact=True).click()
    page.wait_for_url("**/survey")
    if sheet != "survey":
        page.goto(page.url.removesuffix("survey") + sheet)
    ready(page)
    return page


def settled(page: Page, measure: str, *told: object, want: object) -> Any:
    """What a page measures, as soon as it is as wanted: charts follow a new width a frame later."""
    end = time.monotonic() + DRAWN
    while (found := page.evaluate(measure, *told)) != want and time.monotonic() < end:
        page.wait_for_timeout(50)
    return found


def fits(page: Page, width: int) -> bool:
    """Whether a page needs no sideways scroll."""
    wide = settled(page, "wide => document.documentElement.scrollWidth <= wide", width, want=True)
    return bool(wide)
