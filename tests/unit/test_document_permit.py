"""The permit sheet: weights of the catalog's panels, fixings of the parts list, planes."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from noonwater.core.units import System
from noonwater.design.parts_list import fixings_by_plane, parts_list
from noonwater.design.parts_roof import roof_penetrations
from noonwater.document.language import language_of
from noonwater.document.pack import PAPERS
from tests.papers import CODES, DEMOS, material, paper_of, text_of

# Panel "sheet 4x10" of the catalog: 10.4 kg dry, 10.5 L of water, 3.7161 m²; 2.20462 lb in a kg;
# 1 kg/m² is 0.204816 lb/ft². Eight of them, and four: 83.2 and 84.0 kg, 41.6 and 42.0 kg; a weight
# on a roof is rounded up.
ORCHARD = {
    "US": ("184 lb", "186 lb", "370 lb", "92 lb", "93 lb", "185 lb", "1.2 lb/ft²"),
    "SI": ("84 kg", "168 kg", "42 kg", "5.7 kg/m²"),
}


@pytest.mark.parametrize("system", ["US", "SI"])
@pytest.mark.parametrize("code", CODES)
def test_weights_are_those_of_the_panels(code: str, system: System) -> None:
    text = text_of("permit", "orchard-hill", code, system)
    for weight in ORCHARD[system]:
        assert f" {weight} " in text


@pytest.mark.parametrize("demo", DEMOS)
@pytest.mark.parametrize("code", CODES)
def test_the_sheet_carries_the_job(demo: str, code: str) -> None:
    job = material(demo).job
    text = text_of("permit", demo, code, job.units)
    for bank in job.array.banks:
        assert f" {bank.roof} " in text
    assert f" {job.array.panels} " in text
    assert f" {roof_penetrations(parts_list(job))} " in text
    planes = fixings_by_plane(job)
    assert list(planes) == list(dict.fromkeys(bank.roof for bank in job.array.banks))
    for roof, counts in planes.items():
        panels = sum(len(bank.numbers) for bank in job.array.banks if bank.roof == roof)
        assert counts["upper header clamp"] == counts["lower header guide"] == panels
    assert sum(sum(counts.values()) for counts in planes.values()) == roof_penetrations(
        parts_list(job)
    )
    watts = max(state.power for state in material(demo).flow.states)
    assert f" {round(watts / 10.0) * 10:,} W" in text


@pytest.mark.parametrize("system", ["US", "SI"])
@pytest.mark.parametrize("demo", DEMOS)
def test_every_column_of_weights_and_fixings_adds_up(demo: str, system: System) -> None:
    paper = paper_of("permit", demo, "en", system)
    tables = [b for each in paper.blocks for b in getattr(each, "blocks", ()) if hasattr(b, "rows")]
    ruled = [table for table in tables if getattr(table, "heads", None)]
    assert len(ruled) == 2
    for table in ruled:
        figures = [[number_of(cell) for cell in row] for row in table.rows]
        weights = "Wet" in table.heads
        places = range(3, 7) if weights else range(1, len(table.heads))
        for row in figures:
            assert row[6 if weights else -1] == sum(row[4:6] if weights else row[1:-1])
        for place in places if table.total else ():
            assert sum(row[place] for row in figures[:-1]) == figures[-1][place]


def number_of(cell: str) -> float:
    """The figure that a cell begins with; 0 where it has none."""
    found = re.match(r"[\d,]+", cell)
    return float(found[0].replace(",", "")) if found else 0.0


def test_what_draining_leaves_is_not_told_as_empty() -> None:
    found = material("orchard-hill")
    array = replace(found.job.array, trapped_water=0.16)
    holds = replace(found, job=replace(found.job, array=array))
    assert (found.at_rest, holds.at_rest) == ("empty", "part")
    full = replace(found, job=replace(found.job, array=replace(array, trapped_water=1.0)))
    assert full.at_rest == "full"
    for name, words in (
        ("permit", "but for what the slope holds back"),
        ("proposal", "but for some water"),
        ("owner", "some water stays in them"),
    ):
        texts = str(PAPERS[name](holds, language_of("en", "US")).data())
        assert words in texts
        assert words not in str(PAPERS[name](found, language_of("en", "US")).data())


def test_the_contractor_s_profile_is_on_it() -> None:
    text = text_of("permit", "orchard-hill")
    assert "Invented & Daughters, 1 Any Street, 555 0100, licence X-1" in text
