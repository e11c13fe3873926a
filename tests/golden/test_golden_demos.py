"""The demo jobs' answers as they stand: shows what a change moves, proves nothing.

``python -m tests.golden.test_golden_demos`` writes them anew; what moved by more than 0.1 % goes
into the changelog under Numbers. Tolerance 0.1 %: processors round their last digits differently.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from noonwater.app import verbs
from noonwater.app.demos import FOLDER, demos

HERE = Path(__file__).parent
NAMES = [demo.name for demo in demos()]
MONTHS = ("pool_C", "pool_without_solar_C", "clear_day_rise_K", "solar_heat_kWh", "pump_kWh")
STATES = ("rpm", "flow_m3h", "array_flow_m3h", "head_m", "power_W", "breaker")


def answer_of(name: str) -> dict[str, Any]:
    """The figures of a demo job that a reader would miss first."""
    answer = verbs.year(FOLDER / f"{name}.toml")
    result = answer.to_dict()
    return {
        "months": [{key: month[key] for key in MONTHS} for month in result["months"]],
        "states": {
            state["name"]: {key: state[key] for key in STATES} for state in result["states"]
        },
        "findings": [finding.rule for finding in answer.findings],
    }


@pytest.mark.parametrize("name", NAMES)
def test_answer_is_as_it_was(name: str) -> None:
    kept = json.loads((HERE / f"{name}.json").read_text(encoding="utf-8"))
    found = answer_of(name)
    assert found["findings"] == kept["findings"]
    for now, then in zip(found["months"], kept["months"], strict=True):
        assert now == pytest.approx(then, rel=1e-3, abs=1e-3)
    assert found["states"].keys() == kept["states"].keys()
    for state, then in kept["states"].items():
        now = dict(found["states"][state])
        assert now.pop("breaker") == then.pop("breaker")
        assert now == pytest.approx(then, rel=1e-3, abs=1e-3)


def _write() -> None:
    for name in NAMES:
        text = json.dumps(answer_of(name), indent=1, ensure_ascii=False)
        (HERE / f"{name}.json").write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    _write()
