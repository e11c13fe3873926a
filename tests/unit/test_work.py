"""Long work in processes of its own: progress, cancel, one at a time, restart, results kept."""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Callable, Iterator
from multiprocessing import active_children
from pathlib import Path
from subprocess import PIPE, Popen

import psutil
import pytest

from noonwater.app.demos import FOLDER, demo_text
from noonwater.app.job_file import read_job_text
from noonwater.app.sureness import ranges_dict, sureness_of
from noonwater.app.work import MOST_WAITING, Piece, Stand, Work, piece_of
from noonwater.core.errors import InputError
from noonwater.core.progress import Steps

PRICES = FOLDER / "demo-prices.csv"
PATIENCE = 120.0
"""[s] For a process that starts, and compiles where nothing is compiled yet, on a busy machine."""


@pytest.fixture
def work(tmp_path: Path) -> Iterator[Work]:
    work = Work(tmp_path)
    yield work
    work.close()


def job_text(name: str = "lagoon-court", water: str = "420 ft2") -> str:
    return demo_text(name).replace('area = "420 ft2"', f'area = "{water}"')


def asked(work: Work, kind: str, text: str, files: dict[str, bytes] | None = None) -> Piece:
    # The demo names a price list; the desk hands it along to what reads it.
    files = {PRICES.name: PRICES.read_bytes(), **(files or {})}
    piece = piece_of(kind, read_job_text(text), files)
    work.start(piece, text, files)
    return piece


def waited(work: Work, piece: Piece, *stages: str) -> Stand:
    end = time.monotonic() + PATIENCE
    while (stand := work.stand(piece)).stage not in stages:
        assert time.monotonic() < end, stand
        time.sleep(0.02)
    return stand


def until(true: Callable[[], object]) -> None:
    end = time.monotonic() + PATIENCE
    while not true():
        assert time.monotonic() < end
        time.sleep(0.02)


def running() -> set[int | None]:
    """Processes of this one that have not ended; of two threads that wait for one, the list may
    still hold it for a moment."""
    return {child.pid for child in active_children() if psutil.pid_exists(child.pid or 0)}


def test_steps_are_told_one_by_one() -> None:
    told: list[tuple[int, int, str]] = []
    steps = Steps(lambda *each: told.append(each), 3, "years")
    for _ in range(3):
        steps.one_done()
    assert told == [(0, 3, "years"), (1, 3, "years"), (2, 3, "years"), (3, 3, "years")]


def test_ranges_come_as_they_do_without_a_process_and_are_not_computed_twice(
    work: Work, tmp_path: Path
) -> None:
    text = job_text()
    job = read_job_text(text)
    piece = asked(work, "ranges", text)
    waited(work, piece, "done")
    found = work.result(piece)
    assert found is not None
    assert found == json.loads(
        json.dumps(ranges_dict(sureness_of(job), job.money.electricity * 3.6e6))
    )
    written = next(tmp_path.glob("*/done.json"))
    before = written.stat().st_mtime_ns
    assert asked(work, "ranges", text) == piece
    assert work.stand(piece).stage == "done"
    assert written.stat().st_mtime_ns == before


def test_progress_is_told_with_the_time_left(work: Work) -> None:
    piece = asked(work, "size", job_text())
    seen: list[Stand] = []
    while (stand := work.stand(piece)).stage in ("runs", "waits"):
        seen.append(stand)
        time.sleep(0.02)
    assert stand.stage == "done"
    counts = [each.done for each in seen if each.of]
    assert counts == sorted(counts)
    assert len(set(counts)) > 3
    assert any(each.left is not None and each.left > 0.0 for each in seen)


def test_a_cancel_acts_at_once_and_leaves_nothing(work: Work, tmp_path: Path) -> None:
    piece = asked(work, "size", job_text())
    process = active_children()[0].pid
    assert process is not None
    work.cancel(piece)
    assert process not in running()
    assert work.stand(piece).stage == "none"
    assert not [each for each in tmp_path.iterdir() if each.is_dir()]


def test_one_of_a_kind_runs_and_the_next_follows(work: Work) -> None:
    first = asked(work, "size", job_text())
    second = asked(work, "size", job_text(water="430 ft2"))
    other = asked(work, "ranges", job_text())
    assert work.stand(second).stage == "waits"
    assert work.stand(other).stage == "runs"
    work.cancel(other)
    work.cancel(first)
    assert work.stand(second).stage == "runs"
    work.cancel(second)
    assert not running()


def test_no_more_than_a_few_wait(work: Work) -> None:
    pieces = [
        asked(work, "size", job_text(water=f"{430 + number} ft2"))
        for number in range(MOST_WAITING + 1)
    ]
    with pytest.raises(InputError, match="wait"):
        asked(work, "size", job_text(water="500 ft2"))
    for piece in reversed(pieces):
        work.cancel(piece)


def test_what_a_restart_interrupts_goes_on(tmp_path: Path) -> None:
    before = Work(tmp_path)
    piece = asked(before, "tune", job_text())
    before.close()
    assert not running()
    after = Work(tmp_path)
    assert after.stand(piece).stage in ("waits", "runs")
    assert not running()
    after.resume()
    assert waited(after, piece, "done").stage == "done"
    after.close()
    again = Work(tmp_path)
    again.resume()
    assert not running()
    assert again.stand(piece).stage == "done"
    again.close()


def test_two_desks_on_one_folder_do_a_piece_once(work: Work, tmp_path: Path) -> None:
    other = Work(tmp_path)
    other.resume()
    piece, next_one = (
        asked(work, "size", job_text()),
        asked(other, "size", job_text("orchard-hill")),
    )
    assert asked(other, "size", job_text()) == piece
    assert len(running()) == 1
    assert other.stand(piece).stage in ("runs", "done")
    assert other.stand(next_one).stage in ("waits", "runs", "done")
    while other.stand(piece).stage != "done":
        assert len(running()) <= 1
        time.sleep(0.02)
    assert other.result(piece) == work.result(piece)
    assert work.stand(next_one).stage in ("waits", "runs", "done")
    other.cancel(next_one)
    other.close()


def test_the_other_desk_can_cancel(work: Work, tmp_path: Path) -> None:
    other = Work(tmp_path)
    piece = asked(work, "size", job_text())
    until(lambda: other.stand(piece).of)
    other.cancel(piece)
    assert other.stand(piece).stage == work.stand(piece).stage == "none"
    until(lambda: not running())
    until(lambda: not list(tmp_path.glob("size-*")))
    assert asked(other, "size", job_text()) == piece
    assert work.stand(piece).stage in ("waits", "runs")
    other.close()


KILLED = """
import sys, time
from pathlib import Path
from noonwater.app.demos import FOLDER, demo_text
from noonwater.app.job_file import read_job_text
from noonwater.app.work import Work, piece_of
if __name__ == "__main__":
    text, prices = demo_text("lagoon-court"), FOLDER / "demo-prices.csv"
    files = {prices.name: prices.read_bytes()}
    work = Work(Path(sys.argv[1]))
    work.start(piece_of("size", read_job_text(text), files), text, files)
    print("asked", flush=True)
    time.sleep(600.0)
"""


def test_a_cancel_of_what_nobody_goes_on_with_leaves_nothing(tmp_path: Path) -> None:
    before = Work(tmp_path)
    piece = asked(before, "size", job_text())
    before.close()
    after, other = Work(tmp_path), Work(tmp_path)
    after.cancel(piece)
    assert not list(tmp_path.glob("size-*"))
    again = asked(other, "size", job_text())
    assert other.stand(again).stage == "runs"
    other.close()
    after.close()


def test_what_a_killed_desk_leaves_is_done_by_the_other(work: Work, tmp_path: Path) -> None:
    folder = tmp_path / "long"
    script = tmp_path / "desk.py"
    script.write_text(KILLED)
    other = Work(folder)
    with Popen([sys.executable, str(script), str(folder)], stdout=PIPE) as killed:
        assert killed.stdout is not None
        assert killed.stdout.readline().strip() == b"asked"
        other.resume()
        piece = next(Piece(*path.parent.name.split("-")) for path in folder.glob("*/asked"))
        until(lambda: other.stand(piece).of)
        assert not running()
        killed.kill()
    assert waited(other, piece, "done").stage == "done"
    other.close()


def test_a_killed_process_is_told_as_a_trouble(work: Work) -> None:
    piece = asked(work, "size", job_text())
    active_children()[0].kill()
    assert "ask for it again" in waited(work, piece, "failed").words
    asked(work, "size", job_text())
    assert work.stand(piece).stage == "runs"


def test_a_table_of_options_runs_as_a_batch(work: Work) -> None:
    table = b"pool.area,pump.solar_speed\n420 ft2,2800 rpm\n500 ft2,2800 rpm\nx,2800 rpm\n"
    piece = asked(work, "batch", job_text(), {"table.csv": table})
    waited(work, piece, "done")
    found = work.result(piece)
    assert found is not None
    assert (found["rows"], found["done"], found["refused"]) == (3, 2, 1)
    assert found["refusals"][0]["field"] == "pool.area"
    name = Path(found["written"][0]).name
    assert work.file(piece, name)
    assert work.file(piece, "../job.toml") is None


def test_a_table_that_is_none_is_told(work: Work) -> None:
    piece = asked(work, "batch", job_text(), {"table.csv": b"nonsense\n1\n"})
    assert waited(work, piece, "failed").words


def test_other_content_is_another_piece() -> None:
    job = read_job_text(job_text())
    assert piece_of("ranges", job) == piece_of("ranges", read_job_text(job_text()))
    assert piece_of("ranges", job) != piece_of("ranges", read_job_text(job_text(water="430 ft2")))
    assert piece_of("money", job, {"p.csv": b"1"}) != piece_of("money", job, {"p.csv": b"2"})
    with pytest.raises(InputError, match="poem"):
        piece_of("poem", job)
