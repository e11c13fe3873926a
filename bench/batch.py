"""Batches on this machine: 10,000 options and 1,000 sites against three minutes, cores, memory."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import islice, product
from pathlib import Path

import psutil

from noonwater.app.demos import FOLDER

Promise = tuple[str, float, float]

BASE, RANCH = FOLDER / "lagoon-court.toml", FOLDER / "almond-ranch.toml"
THREE_MINUTES = 180.0
LEAST_SCALING, MOST_GROWTH = 1.6, 1.1
ON_TWO_CORES = 1500
SAMPLED = 0.2
"""[s] Between two looks at the memory."""


@dataclass(frozen=True)
class Ran:
    """How long a batch took, its processors' time, and the most memory of all its processes."""

    seconds: float
    processor_seconds: float
    memory: float


def options(count: int) -> list[str]:
    """Lines of a table over one site: twenty circuits, each in 500 options of control."""
    heads = "pool.target,pump.solar_speed,controls.on_difference,pool.opens,pool.shade"
    rows = product(
        ("80 °F", "82 °F", "84 °F", "86 °F", "88 °F"),
        ("2200 rpm", "2400 rpm", "2600 rpm", "2800 rpm"),
        [f"{3.0 + 0.5 * i} K" for i in range(10)],
        [f"{1 + i // 2:02d}-{1 + 14 * (i % 2):02d}" for i in range(10)],
        [f"{5 * i} %" for i in range(5)],
    )
    return [heads, *(",".join(row) for row in islice(rows, count))]


def sites(count: int) -> list[str]:
    """Lines of a table over places in the United States, each with hours made for itself."""
    rows = (
        f"{32.5 + 0.45 * i:.2f} deg,{-116.5 + 0.85 * j:.2f} deg,{7 * i + 20 * j} m"
        for i, j in product(range(25), range(40))
    )
    return ["site.latitude,site.longitude,site.elevation", *islice(rows, count)]


def ran(lines: Iterable[str], base: Path, cores: int) -> Ran:
    """Run the command on a table, look at its processes, and want every row done."""
    with tempfile.TemporaryDirectory() as folder:
        table = Path(folder, "table.csv")
        table.write_text("\n".join(lines) + "\n", encoding="utf-8")
        words = ["batch", str(table), "--base", str(base), "--cores", str(cores), "--json"]
        start, before, most = time.perf_counter(), os.times(), 0.0
        process = subprocess.Popen(
            [sys.executable, "-m", "noonwater", *words],
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
        )
        while process.poll() is None:
            most = max(most, _memory_of(process.pid))
            time.sleep(SAMPLED)
        seconds, after = time.perf_counter() - start, os.times()
        assert process.stdout is not None
        said = process.stdout.read()
    if '"refused": 0,' not in said:
        raise RuntimeError(f"rows were refused: {said[:2000]}")
    spent = after.children_user + after.children_system
    spent -= before.children_user + before.children_system
    return Ran(seconds, spent, most)


def _memory_of(pid: int) -> float:
    """Bytes that a process and its children hold, what they share counted once."""
    try:
        family = [psutil.Process(pid), *psutil.Process(pid).children(recursive=True)]
        return float(sum(each.memory_full_info().pss for each in family))
    except psutil.Error:
        return 0.0


def batch_promises() -> list[Promise]:
    """Measure the batches; prints what each took."""
    few = _told("100 options", options(100), BASE, 2)
    many = _told("10,000 options", options(10_000), BASE, 2)
    places = _told("1,000 sites", sites(1000), RANCH, 2)
    one = _told(f"{ON_TWO_CORES} options on one core", options(ON_TWO_CORES), BASE, 1)
    two = _told(f"{ON_TWO_CORES} options on two cores", options(ON_TWO_CORES), BASE, 2)
    return [
        (
            "10,000 options of one site on two cores over 3 minutes",
            many.seconds / THREE_MINUTES,
            1.0,
        ),
        ("1,000 sites on two cores over 3 minutes", places.seconds / THREE_MINUTES, 1.0),
        ("a batch on two cores over one core", two.seconds / one.seconds, 1.0 / LEAST_SCALING),
        ("memory of 10,000 options over that of 100", many.memory / few.memory, MOST_GROWTH),
    ]


def _told(name: str, lines: list[str], base: Path, cores: int) -> Ran:
    found = ran(lines, base, cores)
    print(
        f"  {name}: {found.seconds:.1f} s, processors {found.processor_seconds:.1f} s, "
        f"memory {found.memory / 1e6:.0f} MB"
    )
    return found
