"""Still water in small circuits: what a bucket, a bent pipe and a thumb on a straw would show.

Expected levels are those of communicating vessels and of the siphon (school physics): water stands
at the level of what it can leave to, hangs where no air comes in, stays where nothing lets it out.
"""

from __future__ import annotations

import csv
from dataclasses import replace
from importlib.resources import files
from math import inf, pi

import pytest

from noonwater.hydraulics.trace_levels import rise, settle
from noonwater.hydraulics.trace_opening import flooding
from noonwater.hydraulics.trace_plumbing import Plumbing, Setting, plumbing_of
from noonwater.hydraulics.volume import circuit_volume, part_volume, pipe_volume, vessel_of
from noonwater.model.circuit import Circuit, PartKind
from noonwater.model.own_part import OwnPanel, SteadyTest
from tests.trace_pads import joined, part

PIPE_LITRES = 1000.0 * 0.25 * pi * 0.05**2 * 10.0


def share(plumbing: Plumbing, shares: tuple[float, ...], name: str) -> float:
    return next(s for p, s in zip(plumbing.passages, shares, strict=True) if p.name == name)


def hump(top: str = "tee", height: float = 4.0) -> Circuit:
    """From the pool up over a high point and back into the pool."""
    parts = [part("pool", "pool", 0.0), part("top", top, height)]  # type: ignore[arg-type]
    first, last = ("run in", "run out") if top == "tee" else ("in", "out")
    return joined(parts, [("pool suction", f"top {first}"), (f"top {last}", "pool return")])


@pytest.mark.parametrize(("height", "full"), [(4.0, True), (9.9, True), (10.1, False)])
def test_a_siphon_holds_until_the_atmosphere_can_not(height: float, full: bool) -> None:
    rest = settle(plumbing_of(hump(height=height), Setting()))
    assert all(s == (1.0 if full else 0.0) for s in rest.shares)


def test_a_breaker_at_the_top_empties_both_legs() -> None:
    rest = settle(plumbing_of(hump("vacuum breaker"), Setting()))
    assert set(rest.shares) == {0.0}


def test_a_breaker_below_the_water_stays_shut() -> None:
    rest = settle(plumbing_of(hump("vacuum breaker", -1.0), Setting()))
    assert set(rest.shares) == {1.0}


@pytest.mark.parametrize("turned", [False, True])
def test_a_check_valve_holds_the_leg_that_would_run_backward(turned: bool) -> None:
    parts = [
        part("pool", "pool", 0.0),
        part("valve", "check valve", 0.5),
        part("top", "vacuum breaker", 4.0),
    ]
    into, out = ("out", "in") if turned else ("in", "out")
    ends = [
        ("pool suction", f"valve {into}"),
        (f"valve {out}", "top in"),
        ("top out", "pool return"),
    ]
    plumbing = plumbing_of(joined(parts, ends), Setting())
    rest = settle(plumbing)
    held = share(plumbing, rest.shares, f"valve {out} - top in")
    assert held == (0.0 if turned else 1.0)
    assert share(plumbing, rest.shares, "top out - pool return") == 0.0


def test_water_stands_in_a_low_loop_up_to_where_it_runs_over() -> None:
    """Breaker at 3 m, down to 1 m, up to 2 m with air there too, then down to the pool."""
    parts = [
        part("pool", "pool", 0.0),
        part("top", "vacuum breaker", 3.0),
        part("low", "tee", 1.0),
        part("weir", "vacuum breaker", 2.0),
    ]
    ends = [("top out", "low run in"), ("low run out", "weir in"), ("weir out", "pool return")]
    plumbing = plumbing_of(joined(parts, ends), Setting())
    rest = settle(plumbing)
    assert share(plumbing, rest.shares, "top out - low run in") == pytest.approx(0.5)
    assert share(plumbing, rest.shares, "low run out - weir in") == pytest.approx(1.0)
    assert share(plumbing, rest.shares, "weir out - pool return") == 0.0


def test_a_sealed_weir_is_siphoned_dry() -> None:
    parts = [part("pool", "pool", 0.0), part("top", "vacuum breaker", 3.0), part("low", "tee", 1.0)]
    parts.append(part("weir", "tee", 2.0))
    ends = [
        ("top out", "low run in"),
        ("low run out", "weir run in"),
        ("weir run out", "pool return"),
    ]
    rest = settle(plumbing_of(joined(parts, ends), Setting()))
    assert set(rest.shares) == {0.0}


def straw(open_top: bool) -> tuple[Plumbing, Circuit]:
    parts = [part("pool", "pool", 0.0), part("foot", "drain", 1.0), part("top", "drain", 3.0)]
    circuit = joined(parts, [("top in", "foot in")])
    positions = (("foot", 1.0), ("top", float(open_top)))
    return plumbing_of(circuit, Setting(positions)), circuit


def test_a_thumb_on_a_straw_holds_its_water() -> None:
    assert settle(straw(open_top=False)[0]).shares == (1.0,)
    assert settle(straw(open_top=True)[0]).shares == (0.0,)


def test_a_drain_that_is_shut_is_no_drain() -> None:
    circuit = straw(open_top=True)[1]
    rest = settle(plumbing_of(circuit, Setting((("foot", 0.0), ("top", 1.0)))))
    assert rest.shares == (1.0,)
    shut = plumbing_of(circuit, Setting())
    assert rest.level[shut.place_of["foot", "in"]] == 3.0
    assert settle(shut).level[shut.place_of["foot", "in"]] == inf


@pytest.mark.parametrize("depth", [0.2, 1.0, 3.0])
def test_a_part_below_the_water_floods_and_one_above_draws_air(depth: float) -> None:
    circuit = joined(
        [part("pool", "pool", 0.0), part("drain", "drain", -depth)], [("pool suction", "drain in")]
    )
    opened = Setting((("drain", 1.0),))
    below = plumbing_of(circuit, opened)
    assert flooding(below, settle(below)) == {"drain": pytest.approx(depth)}
    higher = replace(circuit, parts=(circuit.parts[0], replace(circuit.parts[1], elevation=depth)))
    above = plumbing_of(higher, opened)
    rest = settle(above)
    assert flooding(above, rest) == {}
    assert rest.shares == (0.0,)


def test_a_plug_in_the_pool_keeps_the_flood_away() -> None:
    circuit = joined(
        [part("pool", "pool", 0.0), part("drain", "drain", -1.0)], [("pool suction", "drain in")]
    )
    setting = Setting((("drain", 1.0),), plugged=frozenset({("pool", "suction")}))
    plumbing = plumbing_of(circuit, setting)
    assert flooding(plumbing, settle(plumbing)) == {}


def test_a_pipe_across_the_water_line_stays_full_below_it() -> None:
    parts = [
        part("pool", "pool", 0.0),
        part("top", "vacuum breaker", 3.0),
        part("low", "tee", -1.0),
    ]
    ends = [("top out", "low run in"), ("low run out", "pool return")]
    plumbing = plumbing_of(joined(parts, ends), Setting())
    rest = settle(plumbing)
    assert share(plumbing, rest.shares, "top out - low run in") == pytest.approx(0.25)
    empty = (0.0,) * len(plumbing.passages)
    assert rise(plumbing, empty, {}) == pytest.approx(rest.shares)


def test_a_vessel_keeps_its_water_until_its_plug_is_out() -> None:
    parts = [part("pool", "pool", 0.0), part("filter", "filter", 0.6, catalog="cartridge")]
    parts.append(part("top", "vacuum breaker", 2.0))
    ends = [("top out", "filter in"), ("filter out", "pool return")]
    circuit = joined(parts, ends)
    closed = plumbing_of(circuit, Setting())
    rest = settle(closed)
    assert closed.litres(rest.shares) == pytest.approx(70.0)
    opened = plumbing_of(circuit, Setting(opened=frozenset({"filter"})))
    assert opened.litres(settle(opened).shares) == 0.0


def test_what_draining_leaves_in_panels_stays() -> None:
    parts = [part("pool", "pool", 0.0), part("panel", "panel", 3.0, rise=1.0)]
    parts.append(part("top", "vacuum breaker", 4.0))
    ends = [("pool return", "panel low"), ("panel high", "top in")]
    circuit = joined(parts, ends)
    for residue in (0.0, 0.1):
        plumbing = plumbing_of(circuit, Setting(), residue)
        litres = plumbing.litres(settle(plumbing).shares)
        # 15.18 L: the catalog's row of the panel.
        assert litres == pytest.approx(15.18 * residue)


def test_a_pipe_holds_bore_times_length() -> None:
    circuit = hump()
    assert 1000.0 * pipe_volume(circuit.pipes[0]) == pytest.approx(PIPE_LITRES)
    assert 1000.0 * circuit_volume(circuit) == pytest.approx(2.0 * PIPE_LITRES)
    assert plumbing_of(circuit, Setting()).litres((1.0, 1.0)) == pytest.approx(2.0 * PIPE_LITRES)


def test_a_plugged_panel_of_ones_own_holds_what_its_sheet_says_less_its_plugged_tubes() -> None:
    test = SteadyTest("steady", 0.88, 0.02, 12.5, 2.6)
    own = OwnPanel("wide", 2.0, 3.0, test, water_volume=0.030, header_diameter=0.05)
    panel = replace(part("panel", "panel", 3.0, rise=1.0), catalog="wide", plugged=0.4)
    ends = [("pool return", "panel low")]
    circuit = replace(joined([part("pool", "pool", 0.0), panel], ends), own_panels=(own,))
    headers = pi / 2 * 0.05**2 * 2.0
    assert part_volume(panel, circuit) == pytest.approx(headers + 0.6 * (0.030 - headers))


def test_every_filter_heater_and_sanitizer_says_what_it_holds() -> None:
    rows: list[tuple[PartKind, str]] = []
    for kind, file in (("filter", "filter"), ("heater", "heater"), ("sanitizer", "sanitizer")):
        text = files("noonwater.catalog").joinpath(f"{file}.csv").read_text(encoding="utf-8")
        lines = [line for line in text.splitlines() if not line.startswith("#")]
        rows += [(kind, row["name"]) for row in csv.DictReader(lines) if row["name"] != "none"]
    for kind, row in [*rows, ("pump", "variable large"), ("booster pump", "booster cleaner")]:
        vessel = vessel_of(part("it", kind, 0.0, catalog=row))
        assert vessel is not None and vessel.memory, (kind, row)
        assert vessel.kind == kind and vessel.row in (row, "")
    assert vessel_of(part("it", "filter", 0.0, catalog="none")) is None
    assert vessel_of(part("it", "tee", 0.0)) is None


def down_to(end: str, height: float, slope: float) -> Plumbing:
    """From air at 5 m down to the end and on to the pool; both pipes 10 m long."""
    parts = [part("pool", "pool", 0.0), part("top", "vacuum breaker", 5.0)]
    parts.append(part("end", end, height))  # type: ignore[arg-type]
    ports = ("run in", "run out") if end == "tee" else ("in", "out")
    plain = joined(parts, [("top out", f"end {ports[0]}"), (f"end {ports[1]}", "pool return")])
    first = replace(plain.pipes[0], slope=slope)
    return plumbing_of(replace(plain, pipes=(first, plain.pipes[1])), Setting())


@pytest.mark.parametrize(("slope", "share"), [(0.02, 0.0), (0.0, 0.0), (-0.02, 0.7)])
def test_a_level_stretch_that_falls_away_from_the_lower_end_keeps_its_water(
    slope: float, share: float
) -> None:
    """Ten metres that come down 3 m lie level for 7 m: those stay full, and 0.14 m of the rise."""
    plumbing = down_to("vacuum breaker", 2.0, slope)
    risen = 0.3 * 0.14 / 3.14 if slope < 0.0 else 0.0
    litres = plumbing.litres(settle(plumbing).shares)
    assert litres == pytest.approx(PIPE_LITRES * (share + risen))
    assert plumbing.litres(plumbing.full) == pytest.approx(2.0 * PIPE_LITRES)


def test_a_column_below_sucks_a_low_place_dry_where_no_air_comes_between() -> None:
    plumbing = down_to("tee", 2.0, -0.02)
    assert plumbing.litres(settle(plumbing).shares) == 0.0


def test_a_pipe_between_equal_heights_that_sags_stays_full() -> None:
    plumbing = down_to("vacuum breaker", 5.0, -0.01)
    assert plumbing.litres(settle(plumbing).shares) == pytest.approx(PIPE_LITRES)
