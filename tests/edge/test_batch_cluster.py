"""noonwater batch on a Dask cluster of this machine: a worker is killed, the rows are all there."""

from __future__ import annotations

import json
import os
import signal
from collections.abc import Iterator
from pathlib import Path

import pytest

from noonwater.app import verbs
from noonwater.app.batch_run import Progress
from noonwater.cli.main import main
from tests.batches import BASE, assert_same, options, read_results, worked_off, write_csv

distributed = pytest.importorskip("distributed")


@pytest.fixture(scope="module")
def cluster() -> Iterator[object]:
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, processes=True, dashboard_address=":0"
    ) as local:
        yield local


def test_a_worker_killed_in_the_run_costs_no_row(cluster: object, tmp_path: Path) -> None:
    table, killed = write_csv(tmp_path / "options.csv", options(32)), []

    def kill_once(progress: Progress) -> None:
        if progress.done and not killed:
            nanny = next(iter(cluster.workers.values()))  # type: ignore[attr-defined]
            killed.append((nanny.pid, progress.done))
            os.kill(nanny.pid, signal.SIGKILL)

    answer = verbs.batch(
        table,
        BASE,
        None,
        scheduler=cluster.scheduler_address,  # type: ignore[attr-defined]
        cores=None,
        tell=kill_once,
    )
    assert len(killed) == 1
    assert 0 < killed[0][1] < 32, "the worker was killed in the middle of the run"
    assert (answer.progress.done, answer.progress.kept) == (32, 0)
    assert_same(read_results(answer.written[0].parent), worked_off(table))


@pytest.mark.parametrize("address", ["10.0.0.5", "http://10.0.0.5:8786", "tcp://10.0.0.5:99999"])
def test_an_address_that_is_none_is_told_at_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], address: str
) -> None:
    table = write_csv(tmp_path / "options.csv", options(2))
    assert main(["batch", str(table), "--base", str(BASE), "--scheduler", address, "--json"]) == 2
    (finding,) = json.loads(capsys.readouterr().out)["findings"]
    assert (finding["where"], finding["value"]) == ("--scheduler", f"'{address}'")


def test_a_scheduler_that_is_not_there_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("noonwater.app.batch_cluster.PATIENCE", 0.5)
    table = write_csv(tmp_path / "options.csv", options(2))
    words = ["batch", str(table), "--base", str(BASE), "--scheduler", "tcp://127.0.0.1:9"]
    assert main([*words, "--json"]) == 2
    (finding,) = json.loads(capsys.readouterr().out)["findings"]
    assert finding["where"] == "--scheduler"
    assert "no answer" in finding["value"]
