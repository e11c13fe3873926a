"""Pump curves and watts against published test settings of pool pumps.

Source: US EPA open data on certified pool pumps, ten settings of five pumps as stored in the
project's reference data (pumps_measured.csv, brands removed; read). Flow there is rounded to 1 gpm
and head goes with its square.
"""

from __future__ import annotations

import csv
from math import log

import pytest

from noonwater.catalog import pump_named, pumps
from noonwater.physics.pump import (
    energy_factor,
    hydraulic_power,
    pump_head,
    pump_head_slope,
    pump_power,
    weighted_energy_factor,
)

INCH, FOOT, PSI = 0.0254, 0.3048, 6894.757
GPM = 231 * INCH**3 / 60
G, DENSITY = 9.80665, 998.2


def rows(shared, name):
    lines = (shared / "reference" / "data" / name).read_text().splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def curve(pump, flow, speed):
    ratio = speed / pump.rated_speed
    head = pump_head(flow, ratio, pump.head_shutoff, pump.fall, pump.exponent)
    power = pump_power(flow, ratio, pump.power_floor, pump.power_turning, pump.power_flow)
    return head, power


SYSTEM = {"A": 0.0167, "B": 0.050, "C": 0.0082}


def head_band(row):
    """Heads [m] that the row's flow, rounded to 1 gpm, allows on its system curve."""
    flow, k = float(row["flow_gpm"]), SYSTEM[row["curve"]]
    return k * (flow - 0.5) ** 2 * FOOT, k * (flow + 0.5) ** 2 * FOOT


# The family's large member is fitted to P5 at full speed (head) and to all its rows (power), so
# full-speed heads are no test. Slower rows are: affinity may leave the rounding band by 6 %; it
# overstates the head at 450 to 775 rpm by up to 5 % beyond the band. Power: the fit's residuals
# as the notes state them, 33 W at full speed and 5 W below.
@pytest.mark.parametrize("unit", ["P4", "P5"])
def test_measured_variable_pumps(shared, unit):
    pump = pump_named("variable large")
    for row in rows(shared, "pumps_measured.csv"):
        if row["id"] != unit:
            continue
        flow, speed = float(row["flow_gpm"]) * GPM, float(row["rpm"])
        head, power = curve(pump, flow, speed)
        low, high = head_band(row)
        assert 0.98 * low <= head <= 1.06 * high
        watts = float(row["power_W"])
        if unit == "P5":
            assert abs(power - watts) <= (33 if speed == 3450 else 5)
        elif speed > 450:
            # Another unit of the same rating, not in the fit: within 6 %. Its 450 rpm record
            # draws more than its own 775 rpm record, an oddity of the data, and is left out.
            assert power == pytest.approx(watts, rel=0.06)


def test_family_is_the_reference_table(shared):
    names = {"pump-large": "large", "pump-medium": "medium"}
    names |= {"pump-small": "small", "pump-mini": "mini"}
    for row in rows(shared, "pump_families.csv"):
        pump = pump_named(f"variable {names[row['id']]}")
        assert pump.synthetic == (row["basis"] == "synthetic")
        for gpm, n in ((0.0, 1.0), (30.0, 0.5), (55.0, 1.0)):
            head_ft = float(row["H0_ft"]) * n**2
            if gpm:
                b = float(row["b"])
                head_ft -= float(row["a"]) * n ** (2 - b) * gpm**b
            watts = float(row["P0_W"]) + float(row["c3_W"]) * n**3
            watts += float(row["c2_W_per_gpm"]) * n**2 * gpm
            head, power = curve(pump, gpm * GPM, n * 3450)
            assert head == pytest.approx(head_ft * FOOT, rel=1e-6)
            assert power == pytest.approx(watts, rel=1e-6)


# Wire-power exponents measured from rows: 2.04 to 2.29 for variable pumps from 3450 to 650/775.
def test_power_does_not_follow_the_cube():
    pump = pump_named("variable large")
    for curve_k in (0.0167, 0.050, 0.0082):
        low, high = 18 * GPM * (0.0082 / curve_k) ** 0.5, 100 * GPM * (0.0082 / curve_k) ** 0.5
        watts = [curve(pump, flow, speed)[1] for flow, speed in ((low, 650.0), (high, 3450.0))]
        exponent = log(watts[1] / watts[0]) / log(3450 / 650)
        assert 2.0 < exponent < 2.35


def test_single_speed_member_against_an_induction_pump(shared):
    # P2 at 3450 rpm, the measured induction pump, over P5: 0.93 to 0.99 in wire-to-water.
    by_curve = {}
    for row in rows(shared, "pumps_measured.csv"):
        if row["rpm"] == "3450":
            by_curve[row["id"], row["curve"]] = float(row["wire_to_water"])
    for name in ("A", "C"):
        ratio = by_curve["P2", name] / by_curve["P4", name]
        assert ratio == pytest.approx(0.93, abs=0.005)
    single, variable = pump_named("single medium"), pump_named("variable medium")
    assert single.power_turning == pytest.approx(variable.power_turning / 0.93, rel=1e-5)


# System curves A, B, C in ft and gpm (dataset metadata, read): the rows lie on them.
def test_rows_lie_on_their_system_curves(shared):
    for row in rows(shared, "pumps_measured.csv"):
        head = SYSTEM[row["curve"]] * float(row["flow_gpm"]) ** 2
        assert float(row["head_ft"]) == pytest.approx(head, abs=0.01)


def test_wire_to_water():
    # 3450 rpm, curve C: 100 gpm, 82.0 ft, 2826 W: 0.547.
    water = hydraulic_power(100 * GPM, 82.0 * FOOT, DENSITY, G)
    assert water / 2826 == pytest.approx(0.547, rel=2e-3)
    # 10 psi at 60 gpm: 23.07 ft, 261 W.
    head = 10 * PSI / (DENSITY * G)
    assert head / FOOT == pytest.approx(23.07, rel=2e-3)
    assert hydraulic_power(60 * GPM, head, DENSITY, G) == pytest.approx(261, rel=2e-3)


def test_energy_factors():
    # Curve A 30 gpm 285 W: 6.32 gal/Wh. WEF: 142.2/1504.6 W, 31.1/80 gpm: 5.92 kgal/kWh.
    gallon_per_watt_hour = 231 * INCH**3 / 3600
    assert energy_factor(30 * GPM, 285) / gallon_per_watt_hour == pytest.approx(6.32, abs=0.01)
    factor = weighted_energy_factor(31.1 * GPM, 142.2, 80 * GPM, 1504.6)
    assert factor / gallon_per_watt_hour == pytest.approx(5.92, abs=0.01)


def test_slope_is_the_derivative():
    for pump in pumps():
        figures = (pump.head_shutoff, pump.fall, pump.exponent)
        for flow in (5e-4, 3e-3, -1e-3):
            high, low = (pump_head(flow + d, 0.7, *figures) for d in (1e-8, -1e-8))
            slope = pump_head_slope(flow, 0.7, *figures)[1]
            assert slope == pytest.approx((high - low) / 2e-8, rel=1e-4)
