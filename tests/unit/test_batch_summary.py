"""What a batch's results say together, from tables of known figures; how far it is, in words."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pyarrow as pa
import pyarrow.parquet as pq
import pytest

from noonwater.app.batch_run import Progress
from noonwater.app.batch_store import results_schema
from noonwater.app.batch_summary import REFUSALS_KEPT, summary_of
from noonwater.cli.progress import progress_text

FIELDS = ("pool.target", "pump.solar_speed", "pool.finish", "array.banks[0].panels")


def written(folder: Path, rows: list[dict[str, Any]]) -> Path:
    path = folder / "results.parquet"
    pq.write_table(pa.Table.from_pylist(rows, results_schema(FIELDS)), path)
    return path


def row(number: int, heat: float, **more: Any) -> dict[str, Any]:
    known = {"row": number, "done": True, "solar_heat_kWh": heat, "season_pool_C": 26.0}
    return {**known, "pump_cost": heat / 10.0, "currency": "USD", "findings": [], **more}


def refused(number: int) -> dict[str, Any]:
    fault = {"field": "pool.target", "given": "84", "allowed": "a unit", "remedy": "write it"}
    return {"row": number, "done": False, "refusals": [fault]}


def test_spread_names_the_rows_at_its_ends(tmp_path: Path) -> None:
    rows = [row(i, 100.0 * i) for i in range(1, 12)]
    rows[4] = refused(5)
    rows[6]["days_to_target"] = 9.0
    summary = summary_of(written(tmp_path, rows), FIELDS, "US")
    spread = summary.spread["solar_heat_kWh"]
    assert (summary.rows, summary.done) == (11, 10)
    assert (spread.lowest, spread.lowest_row) == (100.0, 1)
    assert (spread.highest, spread.highest_row) == (1100.0, 11)
    assert (spread.middle, spread.count) == (650.0, 10)
    days = summary.spread["days_to_target"]
    assert (days.lowest, days.lowest_row, days.count) == (9.0, 7, 1)
    assert [(r.row, r.field) for r in summary.refusals] == [(5, "pool.target")]


def test_costs_in_two_currencies_have_no_common_spread(tmp_path: Path) -> None:
    rows = [row(1, 1.0), row(2, 2.0, currency="EUR")]
    summary = summary_of(written(tmp_path, rows), FIELDS, "US")
    assert "pump_cost" not in summary.spread
    assert summary.currency == ""
    assert summary_of(written(tmp_path, rows[:1]), FIELDS, "US").currency == "USD"


def test_findings_are_counted_by_rows(tmp_path: Path) -> None:
    dry = {"rule": "panel-starved", "severity": "caution", "where": "array.banks[0]"}
    wet = {"rule": "start-does-not-prime", "severity": "fault", "where": "pump"}
    rows = [
        row(1, 1.0, findings=[dry, {**dry, "where": "array.banks[1]"}, wet]),
        row(2, 1.0, findings=[dry]),
    ]
    summary = summary_of(written(tmp_path, rows), FIELDS, "US")
    expected = (("panel-starved", "caution", 2), ("start-does-not-prime", "fault", 1))
    assert summary.found == expected


def test_the_field_that_moves_the_figures_most_comes_first(tmp_path: Path) -> None:
    rows = [
        row(
            i,
            float(i % 4),
            **{
                "pool.target": f"{80 + i % 3} °F",
                "pump.solar_speed": f"{2000 + 100 * (i % 4)} rpm",
                "pool.finish": "dark" if i % 2 else "light",
                "array.banks[0].panels": "8",
            },
        )
        for i in range(1, 25)
    ]
    rows[3]["pool.target"] = None
    summary = summary_of(written(tmp_path, rows), FIELDS, "SI")
    first, second = summary.varied
    assert (first.field, first.unit, second.field, second.unit) == (
        "pump.solar_speed",
        "rpm",
        "pool.target",
        "°C",
    )
    assert first.values[:4].tolist() == [2100.0, 2200.0, 2300.0, 2000.0]
    assert second.values[0] == pytest.approx((81.0 - 32.0) / 1.8)
    assert second.values[3] != second.values[3], "the row leaves it to the base"


def test_nothing_done_has_no_spread(tmp_path: Path) -> None:
    rows = [refused(i) for i in range(1, 2 * REFUSALS_KEPT)]
    summary = summary_of(written(tmp_path, rows), FIELDS, "US")
    assert (summary.done, summary.spread, summary.varied) == (0, {}, ())
    assert len(summary.refusals) == REFUSALS_KEPT


def test_progress_in_words(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("time.monotonic", lambda: 100.0)
    progress = Progress(total=10_000, kept=2000, began=0.0)
    assert progress_text(progress) == "2,000 of 10,000 rows"
    progress.done, progress.refused = 4000, 2
    assert progress_text(progress) == "6,000 of 10,000 rows, 2 refused, 40.0 rows/s, 2 min left"
