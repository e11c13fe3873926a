"""What speed is promised, as ratios side by side in one run.

``python bench/run.py [--quick] [--long]`` prints a line per promise: name, ratio, limit, held or
not; with --long the desk's times and weights too. Exits with 1 when one is not held. Both sides of
a ratio run in turn, several times; the median of the pairs' ratios counts, because these machines
are noisy.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).parent.parent))

Promise = tuple[str, float, float]
"""Name, measured ratio or figure of a named unit, the most it may be."""


def seconds(action: Callable[[], object]) -> float:
    """Time one call."""
    start = time.perf_counter()
    action()
    return time.perf_counter() - start


def paired_ratio(ours: Callable[[], object], theirs: Callable[[], object], pairs: int) -> float:
    """Median over pairs of our time over theirs, each warmed up once."""
    ours()
    theirs()
    return median(seconds(ours) / seconds(theirs) for _ in range(pairs))


def main() -> int:
    """Measure every promise."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--quick", action="store_true", help="fewer repetitions")
    parser.add_argument(
        "--long", action="store_true", help="batches and the desk too, some ten minutes"
    )
    words = parser.parse_args()
    quick = words.quick
    from bench.network import network_promises
    from bench.year import beliefs_on_two_cores, loop_against_integrator, loops_against_sun

    held = True
    pairs = 3 if quick else 9
    promises = [
        *loops_against_sun(pairs),
        *beliefs_on_two_cores(),
        loop_against_integrator(pairs),
        *network_promises(pairs),
    ]
    if words.long:
        from bench.batch import batch_promises
        from bench.desk import desk_promises

        promises += [*batch_promises(), *desk_promises()]
    for name, value, limit in promises:
        good = value <= limit
        held = held and good
        # A name that brings a unit is a time or a weight, all others are ratios.
        kind = "" if name.endswith("]") else "ratio "
        print(f"{name}: {kind}{value:.4g}, limit {limit:.4g}, {'held' if good else 'NOT HELD'}")
    return 0 if held else 1


if __name__ == "__main__":
    sys.exit(main())
