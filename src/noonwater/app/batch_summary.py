"""What a batch's results say together: how the figures spread, what was found, what was refused."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from noonwater.app.batch_table import setting_of
from noonwater.app.job_option import steps_of
from noonwater.app.job_tables import slot_at
from noonwater.core.field import Whole
from noonwater.core.quantity import Quantity
from noonwater.core.unit_text import QuantityError
from noonwater.core.units import System, in_system, read_quantity, unit_label

if TYPE_CHECKING:
    import pyarrow as pa

Floats = NDArray[np.float64]

SPREAD = (
    "season_pool_C",
    "season_days_at_target",
    "solar_heat_kWh",
    "pump_kWh",
    "pump_cost",
    "days_to_target",
)
"""Figures whose spread over the rows is told."""
REFUSALS_KEPT = 100
ROWS_AT_ONCE = 4096


@dataclass(frozen=True)
class Spread:
    """How a figure spreads over the rows.

    Attributes
    ----------
    lowest, low, middle, high, highest : float
        Least, 10, 50 and 90 % points, greatest. [the figure's unit]
    lowest_row, highest_row : int
        The first of the rows that have them.
    count : int
        Rows that have the figure.
    """

    lowest: float
    low: float
    middle: float
    high: float
    highest: float
    lowest_row: int
    highest_row: int
    count: int


@dataclass(frozen=True)
class Refusal:
    """A bad row: its number, and one thing that is wrong with it."""

    row: int
    field: str
    given: str
    allowed: str
    remedy: str


@dataclass(frozen=True, eq=False)
class Varied:
    """A field that the table varies and that can be drawn along an axis.

    Attributes
    ----------
    field : str
        Its path.
    unit : str
        Of its values; "" for a count.
    values : (rows,) array
        By done row; NaN where the table leaves the field to the base.
    """

    field: str
    unit: str
    values: Floats


@dataclass(frozen=True, eq=False)
class Summary:
    """What the results say together.

    Attributes
    ----------
    rows, done : int
        Of the table, and those that have an answer.
    spread : dict
        `Spread` by figure; `pump_cost` only where all rows have one currency.
    currency : str
        Of all rows; "" where they differ.
    found : tuple of (str, str, int)
        Rule, severity and in how many rows, the most frequent first.
    refusals : tuple of Refusal
        Of the first bad rows, in order.
    season_pool, solar_heat : (done,) array
        [°C], [kWh]
    varied : tuple of Varied
        The fields that explain most of the spread first.
    """

    rows: int
    done: int
    spread: dict[str, Spread]
    currency: str
    found: tuple[tuple[str, str, int], ...]
    refusals: tuple[Refusal, ...]
    season_pool: Floats
    solar_heat: Floats
    varied: tuple[Varied, ...]


def summary_of(results: Path, fields: Sequence[str], system: System) -> Summary:
    """Read a batch's results.

    Parameters
    ----------
    results : Path
        Table of all rows.
    fields : sequence of str
        That the table gives.
    system : {"US", "SI"}
        Units of the varied fields' values.

    Returns
    -------
    Summary
    """
    import pyarrow.compute as pc
    import pyarrow.parquet as pq

    columns = ["row", "done", *SPREAD, "currency", *fields]
    table = pq.read_table(results, columns=list(dict.fromkeys(columns)))
    done = table.filter(pc.field("done"))
    found, refusals = _findings_and_refusals(results)
    currencies = set(done["currency"].unique().to_pylist())
    told = [name for name in SPREAD if name != "pump_cost" or len(currencies) == 1]
    spread = {name: _spread(done, name) for name in told}
    pool, heat = (_column(done, name) for name in ("season_pool_C", "solar_heat_kWh"))
    return Summary(
        rows=table.num_rows,
        done=done.num_rows,
        spread={name: each for name, each in spread.items() if each is not None},
        currency=currencies.pop() if len(currencies) == 1 else "",
        found=found,
        refusals=refusals,
        season_pool=pool,
        solar_heat=heat,
        varied=_varied(done, fields, system, (pool, heat)),
    )


def _column(table: pa.Table, name: str) -> Floats:
    return np.asarray(table[name].to_numpy(), dtype=np.float64)


def _spread(done: pa.Table, name: str) -> Spread | None:
    values = _column(done, name)
    known = np.flatnonzero(np.isfinite(values))
    if not len(known):
        return None
    rows, values = done["row"].to_numpy()[known], values[known]
    low, middle, high = (float(each) for each in np.quantile(values, [0.1, 0.5, 0.9]))
    least, most = int(values.argmin()), int(values.argmax())
    return Spread(
        float(values[least]), low, middle, high, float(values[most]),
        int(rows[least]), int(rows[most]), len(values),
    )  # fmt: skip


def _findings_and_refusals(
    results: Path,
) -> tuple[tuple[tuple[str, str, int], ...], tuple[Refusal, ...]]:
    import pyarrow.parquet as pq

    counts: Counter[tuple[str, str]] = Counter()
    refusals: list[Refusal] = []
    with pq.ParquetFile(results) as file:
        columns = ["row", "findings", "refusals"]
        for batch in file.iter_batches(batch_size=ROWS_AT_ONCE, columns=columns):
            for row in batch.to_pylist():
                counts.update({(each["rule"], each["severity"]) for each in row["findings"] or ()})
                if len(refusals) < REFUSALS_KEPT:
                    refusals += [Refusal(row["row"], **each) for each in row["refusals"] or ()]
    ordered = sorted(counts.items(), key=lambda item: (-item[1], item[0]))
    return tuple((*rule, count) for rule, count in ordered), tuple(refusals)


def _varied(
    done: pa.Table, fields: Sequence[str], system: System, moved: tuple[Floats, ...]
) -> tuple[Varied, ...]:
    """Fields with values on an axis, those first whose ranks go with the figures' ranks."""
    found = []
    for field in fields:
        texts = done[field].combine_chunks().dictionary_encode()
        unit, known = _values(field, texts.dictionary.to_pylist(), system)
        if not known:
            continue
        places = texts.indices.to_numpy(zero_copy_only=False)
        values = np.full(len(places), np.nan)
        there = np.isfinite(np.asarray(places, dtype=np.float64))
        values[there] = np.array(known)[places[there].astype(np.int64)]
        if len(np.unique(values[np.isfinite(values)])) > 1:
            strength = max(abs(_rank_correlation(values, figure)) for figure in moved)
            found.append((strength, Varied(field, unit, values)))
    return tuple(varied for _, varied in sorted(found, key=lambda each: -each[0]))


def _values(field: str, texts: list[Any], system: System) -> tuple[str, list[float]]:
    """Unit and numbers of a field's cells; NaN where a cell is no number."""
    slot = slot_at(steps_of(field), {})
    mark = slot.mark if slot is not None else None
    if isinstance(mark, Quantity):
        label = unit_label(mark.kind, system).replace("currency", "money")
        return label, [_quantity(text, mark, system) for text in texts]
    if isinstance(mark, Whole):
        values = [setting_of(text) for text in texts]
        return "", [float(v) if isinstance(v, int) else float("nan") for v in values]
    return "", []


def _quantity(text: Any, mark: Quantity, system: System) -> float:
    try:
        return in_system(read_quantity(setting_of(text), mark), mark.kind, system)
    except QuantityError:
        return float("nan")


def _rank_correlation(one: Floats, other: Floats) -> float:
    from scipy.stats import rankdata

    known = np.isfinite(one) & np.isfinite(other)
    if known.sum() < 3:
        return 0.0
    ranks = [rankdata(each[known]) for each in (one, other)]
    spread = [each - each.mean() for each in ranks]
    scale = float(np.sqrt((spread[0] ** 2).sum() * (spread[1] ** 2).sum()))
    return float((spread[0] * spread[1]).sum()) / scale if scale > 0.0 else 0.0
