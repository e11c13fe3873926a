"""What to set a pad to: starts, breaker, flows, handles, pressures at a start, evenness."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import pytest

from noonwater.catalog import panel_named, pump_named
from noonwater.core.constants import GRAVITY
from noonwater.hydraulics.air import settle_with_air
from noonwater.hydraulics.arrangement import fill_circuit
from noonwater.hydraulics.edge import least_where_positive
from noonwater.hydraulics.flow import flow_at, solve_flow
from noonwater.hydraulics.loop import loop_of
from noonwater.hydraulics.priming import carries_air, down_legs, priming
from noonwater.hydraulics.settings import Settings
from noonwater.hydraulics.states import state_at
from noonwater.hydraulics.wanted_flow import setting_for_wanted, speed_for_wanted
from noonwater.model.plant import Array, Bank, Period, Pump
from noonwater.model.site import Roof
from noonwater.physics.valve import OPENING_LEAST
from noonwater.physics.water import density_water
from tests.jobs import example_job

TWO_FEET = 2 * 0.3048


def with_pad(**pad):
    job = example_job()
    return replace(job, pad=replace(job.pad, **pad))


def loop_for(job):
    return loop_of(job, fill_circuit(job), 25.0, Settings())


def running(job, speed=2400.0):
    return state_at(job, speed, True)


def test_a_start_that_only_runs_over_the_top_does_not_prime():
    job = example_job()
    loop, state = loop_for(job), running(job)
    found = priming(loop, state, 0.0)
    assert found.speed_flow_begins < found.speed_to_prime
    trickle = replace(state, speed=found.speed_flow_begins + 5.0)
    assert settle_with_air(loop.careful(), trickle)[0].flow_in("roof return") > 0.0
    assert not carries_air(loop, trickle)
    assert carries_air(loop, replace(state, speed=found.speed_to_prime + 1.0))
    assert not carries_air(loop, replace(state, speed=found.speed_to_prime - 1.0))


def test_flow_begins_where_the_shut_off_head_less_its_margin_is_the_lift():
    job = example_job()
    pump = pump_named("variable large")
    lift = flow_at(job, 2400.0, True).lift
    expected = pump.rated_speed * (lift / (pump.head_shutoff * pump.head_margin)) ** 0.5
    for entry in solve_flow(job).targets.priming:
        assert entry.speed_flow_begins == pytest.approx(expected, abs=0.1)


def test_at_the_speed_to_prime_two_feet_a_second_go_down_the_return():
    job = example_job()
    loop, state = loop_for(job), running(job)
    for load in (0.0, 1.0):
        found = priming(loop, state, load)
        careful = loop.with_settings(True, load)
        primed = replace(state, speed=found.speed_to_prime)
        flow = settle_with_air(careful, primed)[0].flow_in("roof return")
        area = pi / 4 * (2.049 * 0.0254) ** 2
        assert flow / area == pytest.approx(TWO_FEET, rel=1e-3)
        assert found.flow_needed == pytest.approx(TWO_FEET * area, rel=1e-6)


def test_a_dirty_filter_needs_more_speed_and_so_does_a_long_suction():
    clean, dirty = solve_flow(example_job()).targets.priming
    assert dirty.speed_to_prime > clean.speed_to_prime + 50.0
    longer = solve_flow(with_pad(suction_length=60.0)).targets.priming[0]
    assert longer.speed_to_prime > clean.speed_to_prime + 5.0


def test_every_leg_on_the_way_down_must_carry():
    roofs = (
        Roof("low", 10.0, 180.0, 20.0, 6.0, eave_height=1.0),
        Roof("high", 10.0, 180.0, 20.0, 6.0, eave_height=5.0),
    )
    banks = (Bank("high", 3, "tube 4x10"), Bank("low", 8, "tube 4x10"))
    job = example_job(roof=roofs, array=Array(banks))
    loop = loop_for(job)
    legs = [leg.name for leg in down_legs(loop.circuit)]
    assert legs == ["return to bank 2", "roof return"]
    found = priming(loop, running(job), 0.0)
    # The upper leg has the flow of three panels only.
    assert found.down_leg == "return to bank 2"


def test_an_array_below_the_water_needs_no_speed_to_prime():
    roof = Roof("ground", 20.0, 180.0, 20.0, 6.0, eave_height=-3.0)
    job = example_job(roof=(roof,), array=Array((Bank("ground", 8, "tube 4x10"),)))
    found = priming(loop_for(job), running(job), 1.0)
    assert found.down_leg == ""
    assert found.speed_flow_begins == found.speed_to_prime == 450.0


def test_a_pump_that_never_primes_says_so():
    tall = Roof("tower", 18.0, 180.0, 16.0, 5.0, eave_height=9.0)
    array = Array((Bank("tower", 12, "tube 4x10"),))
    pump = Pump("variable mini", (Period("09:00", "17:00", 3000.0),))
    targets = solve_flow(example_job(roof=(tall,), array=array, pump=pump)).targets
    assert [entry.speed_to_prime for entry in targets.priming] == [None, None]
    assert not targets.speed.reachable
    assert targets.speed.most == 0.0


def test_without_a_breaker_a_slow_start_leaves_its_air_at_the_top():
    job = with_pad(breaker="none")
    found = solve_flow(job).targets.priming[0]
    slow = found.speed_flow_begins + 20.0
    start = replace(job, pump=replace(job.pump, priming_speed=slow))
    fast = replace(job, pump=replace(job.pump, priming_speed=found.speed_to_prime + 20.0))
    assert flow_at(start, 1000.0, True).array_flow < flow_at(fast, 1000.0, True).array_flow


def test_speed_that_keeps_the_breaker_shut_at_each_place():
    targets = solve_flow(example_job(pump=unprimed())).targets
    assert [(entry.place, entry.filter_load) for entry in targets.breakers] == [
        (place, load) for place in ("high return", "feed", "none") for load in (0.0, 1.0)
    ]
    high, _, feed, _, _, _ = targets.breakers
    assert feed.speed_static < high.speed_static
    for entry in (high, feed):
        job = replace(with_pad(breaker=entry.place), pump=unprimed())
        above = flow_at(job, entry.speed_static + 0.5, True)
        below = flow_at(job, entry.speed_static - 0.5, True)
        assert (above.breaker, below.breaker) == ("shut", "open")
        assert above.pressure_breaker == pytest.approx(0.0, abs=100.0)


def test_counting_velocity_head_the_breaker_shuts_a_little_sooner():
    high = solve_flow(example_job(pump=unprimed())).targets.breakers[0]
    job = replace(example_job(), pump=unprimed())
    siphon = flow_at(job, high.speed_total, True).alternative
    velocity = siphon.flow / (pi / 4 * (2.049 * 0.0254) ** 2)
    expected = -density_water(25.0) * velocity**2 / 2
    assert siphon.pressure_breaker == pytest.approx(expected, rel=5e-3)


def unprimed():
    return Pump("variable large", (Period("09:00", "17:00", 2400.0),))


def test_speed_for_a_wanted_flow():
    job = example_job()
    loop, state = loop_for(job), running(job)
    found = speed_for_wanted(loop, state, 3e-3)
    assert flow_at(job, found.speed, True).array_flow == pytest.approx(3e-3, rel=1e-3)
    beyond = speed_for_wanted(loop, state, 0.02)
    assert not beyond.reachable
    assert beyond.most == pytest.approx(flow_at(job, 3450.0, True).array_flow)


@pytest.mark.parametrize("wanted", [2e-3, 3e-3, 4e-3])
def test_handle_of_the_bypass_for_a_wanted_flow(wanted):
    job = with_pad(arrangement="diverter with bypass", bypass_open=0.5)
    found = setting_for_wanted(loop_for(job), running(job), "bypass valve", wanted)
    assert found.handle_angle == pytest.approx(90.0 * (1.0 - found.opening))
    turned = replace(job, pad=replace(job.pad, bypass_open=found.opening))
    assert flow_at(turned, 2400.0, True).array_flow == pytest.approx(wanted, rel=2e-3)


def test_handle_of_the_bypass_beyond_its_ends():
    job = with_pad(arrangement="diverter with bypass", bypass_open=0.5)
    loop, state = loop_for(job), running(job)
    found = setting_for_wanted(loop, state, "bypass valve", 8e-3)
    assert not found.reachable
    assert (found.opening, found.handle_angle, found.K) == (None, None, None)
    shut = replace(job, pad=replace(job.pad, bypass_open=0.0))
    assert found.most == pytest.approx(flow_at(shut, 2400.0, True).array_flow)
    assert setting_for_wanted(loop, state, "bypass valve", found.most).opening == 0.0


@pytest.mark.parametrize("opening", [1e-300, 1e-150, 1e-9, 0.99 * OPENING_LEAST])
def test_a_bypass_that_is_barely_open_is_shut(opening):
    job = with_pad(arrangement="diverter with bypass", bypass_open=opening)
    state = flow_at(job, 2400.0, True)
    assert state.array_flow == pytest.approx(state.flow, rel=1e-9)


# By hand: shut-off head at 3000 of 3450 rpm less the lower header's 3 m, no bypass, nothing moves.
def test_pressure_of_a_start_against_a_column_that_stands():
    start = solve_flow(example_job()).targets.start
    head = pump_named("variable large").head_shutoff * (3000.0 / 3450.0) ** 2
    expected = density_water(25.0) * GRAVITY * (head - 3.0)
    assert start.standing == pytest.approx(expected, rel=1e-6)
    assert 0.0 < start.flowing < start.standing
    assert start.limit == panel_named("tube 4x10").pressure_max
    assert start.within
    assert start.blocked == pytest.approx(start.standing)


# The same by hand with a low bank that joins the return below the high one: water runs through it
# before it reaches the top of the high one, but not when the roof return is shut.
def test_a_shut_return_presses_on_banks_of_unlike_heights_as_on_all():
    low, high = Bank("south", 6, "tube 4x10"), Bank("west", 6, "tube 4x10")
    start = solve_flow(example_job(array=Array((high, low)))).targets.start
    head = pump_named("variable large").head_shutoff * (3000.0 / 3450.0) ** 2
    expected = density_water(25.0) * GRAVITY * (head - 3.0)
    assert start.blocked == pytest.approx(expected, rel=1e-6)
    assert start.standing < 0.9 * start.blocked


def test_panels_on_the_ground_do_not_bear_a_strong_start():
    roof = Roof("ground", 20.0, 180.0, 20.0, 6.0, eave_height=-1.0)
    array = Array((Bank("ground", 8, "sheet 4x10"),))
    pump = replace(unprimed(), priming_speed=3450.0)
    start = solve_flow(example_job(roof=(roof,), array=array, pump=pump)).targets.start
    assert not start.within
    assert start.panel.startswith("bank 1 panel")


def test_spread_over_the_range_of_momentum():
    (spread,) = solve_flow(example_job()).targets.spreads
    assert spread.state == "solar 2400 rpm"
    widths = [end.most - end.least for end in (spread.friction_only, spread.low, spread.high)]
    assert widths == sorted(widths)
    assert (spread.high.theta_dividing, spread.high.theta_combining) == (1.0, 2.2)
    nominal = flow_at(example_job(), 2400.0, True).panel_flows
    flows = [flow for bank in nominal for flow in bank]
    least = min(flows) * len(flows) / sum(flows)
    assert spread.high.least - 1e-3 <= least <= spread.low.least + 1e-3


def test_no_solar_no_targets():
    pump = Pump("variable large", (Period("09:00", "17:00", 2400.0, solar=False),))
    assert solve_flow(example_job(pump=pump)).targets is None


def test_check_valves_are_told_by_state():
    result = solve_flow(example_job())
    solar = {valve.name: valve.state for valve in result.state("solar 2400 rpm").check_valves}
    assert solar == {"filter check valve": "open", "roof return check valve": "open"}
    filtering = {valve.name: valve.state for valve in result.state("filter 1700 rpm").check_valves}
    assert filtering == {"filter check valve": "open", "roof return check valve": "still"}


def test_edges_are_bracketed():
    assert least_where_positive(0.0, 10.0, lambda x: x - 4.0) == pytest.approx(4.0, abs=0.05)
    assert least_where_positive(0.0, 10.0, lambda x: x + 4.0) == 0.0
    assert least_where_positive(0.0, 10.0, lambda x: x - 40.0) is None
    assert least_where_positive(5.0, 5.0, lambda x: x) == 5.0
