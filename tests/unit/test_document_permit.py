"""The permit sheet: weights of the catalog's panels, fixings of the parts list, planes."""

from __future__ import annotations

import pytest

from noonwater.core.units import System
from noonwater.design.parts_list import parts_list
from noonwater.design.parts_roof import roof_penetrations
from tests.papers import CODES, DEMOS, material, text_of

# Panel "sheet 4x10" of the catalog: 10.4 kg dry, 10.5 L of water, 3.7161 m²; 2.20462 lb in a kg;
# 1 kg/m² is 0.204816 lb/ft². Eight of them, and four: 83.2 and 84.0 kg, 41.6 and 42.0 kg.
ORCHARD = {
    "US": ("183 lb", "185 lb", "369 lb", "92 lb", "93 lb", "184 lb", "1.2 lb/ft²"),
    "SI": ("83 kg", "84 kg", "167 kg", "42 kg", "5.6 kg/m²"),
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
    watts = max(state.power for state in material(demo).flow.states)
    assert f" {round(watts / 10.0) * 10:,} W" in text


def test_the_contractor_s_profile_is_on_it() -> None:
    text = text_of("permit", "orchard-hill")
    assert "Invented & Daughters, 1 Any Street, 555 0100, licence X-1" in text
