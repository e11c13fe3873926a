"""The catalog's tables: sources, ranges, names, errors."""

from __future__ import annotations

import csv
from importlib.resources import files

import pytest

from noonwater.catalog import (
    breaker_named,
    check_valve_named,
    filter_named,
    fitting_named,
    heater_named,
    panel_named,
    panel_ranges,
    panels,
    pipe_named,
    pipes,
    pump_named,
    pumps,
)
from noonwater.core.errors import InputError

TABLES = sorted(
    entry.name for entry in files("noonwater.catalog").iterdir() if entry.name.endswith(".csv")
)


@pytest.mark.parametrize("table", TABLES)
def test_every_row_says_where_it_comes_from(table):
    text = files("noonwater.catalog").joinpath(table).read_text(encoding="utf-8")
    rows = list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))
    assert rows
    for row in rows:
        assert row["source"].strip()
        assert row["memory"] in ("yes", "no")
        if "from memory" in row["source"] and table not in ("fitting.csv",):
            assert row["memory"] == "yes"
        assert None not in row


def test_generic_panels_lie_inside_the_tested_ranges():
    ranges = {row.quantity: row for row in panel_ranges()}
    # Wind of the tests is unknown; 1.5 to 2.5 m/s is assumed for what a test would have read.
    for panel in panels():
        for wind in (1.5, 2.5):
            loss = panel.b1 + panel.b2 * wind
            gain = panel.eta0 * (1 - panel.bu * wind)
            for name, value in (
                ("loss on mean temperature", loss),
                ("eta0 on mean temperature", gain),
                ("incidence b0", panel.iam_b0),
                ("wind term b2", panel.b2),
                ("wind term bu", panel.bu),
                ("still-air loss b1", panel.b1),
            ):
                assert ranges[name].low <= value <= ranges[name].high
        assert panel.area == pytest.approx(panel.width * panel.length, rel=1e-4)
        assert panel.flow_min < panel.flow_nominal < panel.flow_max


# Test rows of third parties (inlet temperature, gross area): the shipped ranges hold them all.
def test_ranges_hold_the_tested_rows(shared):
    ranges = {row.quantity: row for row in panel_ranges()}
    lines = (shared / "reference" / "data" / "panels_tested.csv").read_text().splitlines()
    for row in csv.DictReader(line for line in lines if not line.startswith("#")):
        eta, loss = float(row["FRta"]), -float(row["c1_W_m2K"])
        capacity = float(row["flow_L_s_m2"]) * 0.997 * 4180.0
        # Inlet to mean temperature: Tm = Ti + q/(2 m cp).
        factor = 1.0 / (1.0 - loss / (2.0 * capacity))
        for name, value in (
            ("eta0 on inlet temperature", eta),
            ("loss on inlet temperature", loss),
            ("eta0 on mean temperature", eta * factor),
            ("loss on mean temperature", loss * factor),
            ("incidence b0", -float(row["iam_b1"])),
            ("test flow per area", float(row["flow_L_s_m2"])),
        ):
            # Ranges are printed to three digits.
            assert 0.994 * ranges[name].low <= value <= 1.006 * ranges[name].high


# One installation manual, read: 4 gpm for 4x10 ft, at least 2.5, at most 10; 0.05 psi at 2.5 gpm.
def test_panel_flow_and_drop():
    gpm = 231 * 0.0254**3 / 60
    panel = panel_named("tube 4x10")
    assert panel.flow_min == pytest.approx(2.5 * gpm, rel=1e-4)
    assert panel.flow_nominal == pytest.approx(4 * gpm, rel=1e-4)
    assert panel.flow_max == pytest.approx(10 * gpm, rel=1e-4)
    flow = 2.5 * gpm
    head = panel.drop_laminar * flow + panel.drop_turbulent * flow**2
    assert 997 * 9.80665 * head == pytest.approx(0.05 * 6894.757, rel=5e-3)


# Clean 1-2 psi, cleaned at +8-10 psi (trade articles, read), at 60 gpm.
def test_filter_drop():
    flow = 60 * 231 * 0.0254**3 / 60
    for name, low, high in (("cartridge", 1.0, 2.0), ("sand", 4.0, 8.0), ("DE", 3.0, 5.0)):
        row = filter_named(name)
        clean = (row.clean_linear * flow + row.clean_quadratic * flow**2) / 6894.757
        dirty = (row.dirty_linear * flow + row.dirty_quadratic * flow**2) / 6894.757
        assert low <= clean <= high
        assert 8.0 <= dirty - clean <= 10.01


def test_pumps():
    assert {pump.name for pump in pumps()} >= {"variable large", "single small"}
    for pump in pumps():
        single = pump.name.startswith(("single", "booster"))
        assert (pump.lowest_speed == pump.highest_speed) == single
        assert 0 < pump.head_margin <= 1
    assert not pump_named("variable large").synthetic


def test_sizes_rise_with_their_names():
    for schedule in ("40", "80", "metric"):
        bores = [size.diameter for size in pipes() if size.schedule == schedule]
        assert bores == sorted(bores)
    assert pipe_named(0.0508, "40").name == "2 in schedule 40"
    assert pipe_named(0.063, "metric").memory


@pytest.mark.parametrize(
    ("finder", "known"),
    [
        (panel_named, "tube 4x10"),
        (pump_named, "variable small"),
        (filter_named, "sand"),
        (heater_named, "gas"),
        (fitting_named, "elbow 90"),
        (check_valve_named, "swing"),
        (breaker_named, "vacuum breaker"),
    ],
)
def test_a_wrong_name_is_answered_with_the_right_ones(finder, known):
    assert finder(known).name == known
    with pytest.raises(InputError) as caught:
        finder("nothing", "some.field")
    fault = caught.value.faults[0]
    assert fault.field == "some.field"
    assert f"'{known}'" in fault.allowed
