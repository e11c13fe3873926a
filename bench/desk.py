"""The desk in a headless browser: from an edit to the redrawn sheet, the first load, the start.

``python -m bench.desk`` prints each figure with its limit and the machine. Needs a Chromium, named
in NOONWATER_CHROMIUM or on the path. These are times, not ratios. On a machine that does other work
beside they are longer: how much longer is measured beside each edit on a loop of known work, told,
and where it is more than a fifth the limits are held against the times without it, as an estimate.
"""

from __future__ import annotations

import argparse
import os
import platform
import sys
import tempfile
import time
import tomllib
from collections.abc import Sequence
from pathlib import Path

import numpy as np
from playwright.sync_api import Page, sync_playwright

from noonwater.app.demos import demo_text
from noonwater.app.store import Store
from tests.browser.conftest import ARGUMENTS, chromium_path
from tests.browser.desks import Desk

EDIT_LIMIT, WEIGHT_LIMIT, LOAD_LIMIT, START_LIMIT = 150.0, 300.0, 0.5, 1.0
"""[ms], [kB], [s], [s]"""
SPIN, BUSY = 0.03, 1.2
"""[s] Of known work; [-] from here on a time is not the machine's own."""
Timed = tuple[float, float]
"""A time [ms], and how many times longer other work made it. [-]"""
EDITED = {
    "survey": ("pool.depth", [f"{4.0 + 0.05 * n:.2f}" for n in range(60)]),
    "controls": ("pump.program[0].speed", [f"{1700 + 10 * n}" for n in range(60)]),
    "pad": ("pump.solar_speed", [f"{2700 + 10 * n}" for n in range(60)]),
    "roof": ("array.banks[0].slope", [f"{1.0 + 0.05 * n:.2f}" for n in range(60)]),
    "money": ("money.electricity", [f"0.{150 + n}" for n in range(60)]),
}
"""Field and values by sheet; the season has no fields: there another page's edit is looked for."""
TIMED = """async ([selector, text]) => {
  const field = document.querySelector(selector);
  field.value = text;
  field.dispatchEvent(new Event("input", { bubbles: true }));
  const redrawn = new Promise((done) =>
    document.addEventListener("noon:redrawn", () => requestAnimationFrame(() =>
      setTimeout(() => done(performance.now()), 0)), { once: true }));
  const began = performance.now();
  field.dispatchEvent(new Event("change", { bubbles: true }));
  return (await redrawn) - began;
}"""
"""Until the frame after the morph has been drawn."""


def full_job() -> dict[str, object]:
    """A job of more than 80 fields with 12 panels."""
    tables = tomllib.loads(demo_text("lagoon-court"))
    banks = tables["array"]["banks"]
    banks[0]["panels"], banks[1]["panels"] = 8, 4
    return tables


def edits(page: Page, base: str, sheet: str, count: int) -> list[Timed]:
    """Time edits on a sheet from the change to the frame that shows it."""
    field, values = EDITED[sheet]
    page.goto(f"{base}/{sheet}")
    page.wait_for_selector("html[data-ready=yes]")
    selector = f'[data-field="{field}"]'
    times = []
    for text in values[:count]:
        slower = stretch()
        took = float(page.evaluate(TIMED, [selector, text]))
        times.append((took, 0.5 * (slower + stretch())))
        page.locator("#saved", has_text="saved").wait_for()
    return times


def first_load(page: Page, address: str) -> tuple[float, float]:
    """Weight of a first load and its time. [kB], [s]."""
    wire = page.context.new_cdp_session(page)
    wire.send("Network.enable")
    weights: list[float] = []
    wire.on("Network.loadingFinished", lambda event: weights.append(event["encodedDataLength"]))
    page.goto(address, wait_until="networkidle")
    took = page.evaluate("performance.getEntriesByType('navigation')[0].loadEventEnd")
    return sum(weights) / 1000.0, float(took) / 1000.0


def start_time(desk: Desk) -> float:
    """Time from the start of the process to the first page. [s]."""
    began = time.perf_counter()
    desk.start()
    return time.perf_counter() - began


def stretch() -> float:
    """How many times longer work takes here now than with a processor of its own. [-]."""
    wall, own = time.perf_counter(), time.process_time()
    while time.process_time() - own < SPIN:
        pass
    return max((time.perf_counter() - wall) / SPIN, 1.0)


def told(name: str, value: float, limit: float, unit: str, slower: float = 1.0) -> bool:
    """Print a figure beside its limit; without what other work took where that is much."""
    guess = slower > BUSY
    fair = value / slower if guess else value
    words = f", {fair:.3g} {unit} estimated without other work" if guess else ""
    good = fair <= limit
    held = "held" if good else "NOT HELD"
    print(f"{name}: {value:.3g} {unit}{words}, limit {limit:.3g} {unit}, {held}", flush=True)
    return good


def measure(page: Page, desk: Desk, job: str, count: int) -> Sequence[bool]:
    """Measure everything on a desk that runs."""
    base = f"{desk.address}/jobs/{job}"
    edits(page, base, "survey", 3)
    held = []
    everything: list[Timed] = []
    for sheet in EDITED:
        times = edits(page, base, sheet, count)
        everything += times
        middle, high = np.percentile([took for took, _ in times], [50, 95])
        slower = float(np.median([each for _, each in times]))
        words = f"  {sheet}: median {middle:.0f} ms, 95 % below {high:.0f} ms"
        print(f"{words}; {slower:.1f} times slower by other work", flush=True)
    high = float(np.percentile([took for took, _ in everything], 95))
    slower = float(np.median([each for _, each in everything]))
    held.append(told("edit to redrawn, 95 %", high, EDIT_LIMIT, "ms", slower))
    return held


def main() -> int:
    """Measure on a desk of its own."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--quick", action="store_true", help="fewer edits")
    count = 10 if parser.parse_args().quick else 40
    path = chromium_path()
    if path is None:
        print("no Chromium at hand: name one in NOONWATER_CHROMIUM")
        return 1
    print(f"{platform.machine()}, {os.cpu_count()} processors")
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        store = Store(Path(folder))
        job = store.add(full_job()).job
        store.close()
        desk = Desk(Path(folder))
        starts = []
        for _ in range(5):
            slower = stretch()
            starts.append((start_time(desk), 0.5 * (slower + stretch())))
            desk.kill()
        start, slower = min(starts)
        held = [told("start to first page", start, START_LIMIT, "s", slower)]
        desk.start()
        browser = playwright.chromium.launch(executable_path=path, args=ARGUMENTS)
        try:
            page = browser.new_context(viewport={"width": 1280, "height": 900}).new_page()
            page.goto(f"{desk.address}/jobs/{job}/survey")
            for sheet in ("survey", "season"):
                fresh = browser.new_context(viewport={"width": 1280, "height": 900}).new_page()
                weight, took = first_load(fresh, f"{desk.address}/jobs/{job}/{sheet}")
                held.append(told(f"first load of {sheet}", weight, WEIGHT_LIMIT, "kB"))
                held.append(told(f"first load of {sheet}", took, LOAD_LIMIT, "s", stretch()))
            held += measure(page, desk, job, count)
        finally:
            browser.close()
            desk.kill()
    return 0 if all(held) else 1


if __name__ == "__main__":
    sys.exit(main())
