"""The demo jobs: different from one another where it matters, and never written over a file."""

from __future__ import annotations

from pathlib import Path

import pytest

from noonwater.app.demos import demo_text, demos, new_job
from noonwater.app.job_file import read_job, read_job_text
from noonwater.core.errors import InputError


def test_there_are_three_and_each_says_what_it_shows() -> None:
    assert len(demos()) == 3
    assert len({demo.summary for demo in demos()}) == 3
    for demo in demos():
        assert 20 < len(demo.summary) < 100


def test_they_differ_in_weather_pump_cover_roof_and_arrangement() -> None:
    jobs = [read_job_text(demo_text(demo.name)) for demo in demos()]
    assert {getattr(job.weather, "year", "stations") for job in jobs} == {
        *("Miami", "Greensboro", "stations"),
    }
    assert len({job.pool.cover.kind for job in jobs}) == 3
    assert len({job.pump.pump for job in jobs}) == 3
    assert len({job.array.banks[0].panel for job in jobs}) == 3
    assert len({job.pad.filter for job in jobs}) == 3
    assert sum(job.pad.arrangement == "diverter with bypass" for job in jobs) == 1
    assert {len(job.roof) for job in jobs} == {1, 2}
    assert {job.units for job in jobs} == {"US", "SI"}


def test_panels_lie_on_their_roof() -> None:
    from noonwater.catalog import panel_named

    for demo in demos():
        job = read_job_text(demo_text(demo.name))
        for bank in job.array.banks:
            roof, panel = job.roof_named(bank.roof), panel_named(bank.panel)
            assert bank.panels * panel.width <= roof.width, demo
            assert panel.length <= roof.slope_length, demo


def test_a_new_job_is_the_demo_and_nothing_is_overwritten(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    new_job(path, "orchard-hill")
    assert read_job(path).name == "Orchard Hill"
    path.write_text("precious", encoding="utf-8")
    with pytest.raises(InputError, match="there already"):
        new_job(path, "orchard-hill")
    assert path.read_text(encoding="utf-8") == "precious"


def test_places_that_take_no_file(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="folder"):
        new_job(tmp_path, "orchard-hill")
    with pytest.raises(InputError, match="its folder is not there"):
        new_job(tmp_path / "none" / "a.toml", "orchard-hill")
    with pytest.raises(InputError, match="can't be written"):
        new_job(tmp_path / "a\0b", "orchard-hill")
    with pytest.raises(InputError, match='did you mean "orchard-hill"'):
        new_job(tmp_path / "a.toml", "orchardhill")
    assert not (tmp_path / "a.toml").exists()
