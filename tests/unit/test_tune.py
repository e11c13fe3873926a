"""Tune: heat and watts of every setting, the one that pays best, and what keeps it from use."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from noonwater.app.demos import FOLDER
from noonwater.app.job_file import read_job
from noonwater.app.study import flows_by_period, run_year, solve_flow, surroundings_of
from noonwater.core.errors import InputError
from noonwater.design.checks import flow_findings
from noonwater.design.tune import TuneStudy, tune
from noonwater.design.tune_choice import choose
from noonwater.design.tune_heat import heat_rates, solar_hours
from noonwater.design.tune_setting import (
    Bound,
    BoundName,
    Setting,
    handle_of,
    set_to,
    settings_of,
)
from noonwater.design.tune_worth import worth_of
from noonwater.model.heater import Heater
from noonwater.model.job import Job
from noonwater.model.money import Alternative, Money, Tier, Window
from noonwater.year import parameters as at
from noonwater.year.prepare import prepare
from noonwater.year.run import settled_year
from noonwater.year.terms import water_capacity

KWH = 3.6e6
HEAT_PRICE = 0.07 / KWH
ELECTRICITY = 0.15 / KWH


@cache
def court() -> Job:
    """The demo at one price of electricity and no price of heat."""
    job = read_job(FOLDER / "lagoon-court.toml")
    return replace(job, money=Money(ELECTRICITY))


@cache
def ranch() -> Job:
    return read_job(FOLDER / "almond-ranch.toml")


def studied(job: Job, heat_price: float | None = HEAT_PRICE) -> TuneStudy:
    return tune(job, surroundings_of(job), flows_by_period, solve_flow(job).targets, heat_price)


@cache
def court_study() -> TuneStudy:
    return studied(court())


@cache
def ranch_study() -> TuneStudy:
    return studied(ranch())


def test_heat_of_the_mean_hour_is_the_years() -> None:
    # The year besides fills and drains, warms pipes and panels: 10 % more or less.
    for job, study in ((court(), court_study()), (ranch(), ranch_study())):
        inputs = prepare(job, surroundings_of(job), flows_by_period(job))
        record = settled_year(inputs).record
        hours = solar_hours(inputs, record)
        total = study.per_hour[study.own].heat * hours.time.sum()
        assert total == pytest.approx(record[:, at.SOLAR_HEAT].sum(), rel=0.1)


def test_heat_of_one_hour_by_hand() -> None:
    job = court()
    inputs = prepare(job, surroundings_of(job), flows_by_period(job))
    hours = solar_hours(inputs, settled_year(inputs).record)
    capacity = np.array([[6000.0, 3000.0]])
    heat = heat_rates(hours, capacity)[0]
    for hour in (0, len(heat) // 2):
        expected = 0.0
        for bank in range(2):
            area = hours.area[bank]
            loss = hours.bank_loss[bank, hour]
            over = hours.temp_pool[hour] - hours.temp_air[hour]
            units = loss * area / capacity[0, bank]
            inlet = hours.bank_gain[bank, hour] - loss * over
            expected += area * inlet * (1.0 - np.exp(-units)) / units
        assert heat[hour] == pytest.approx(expected, rel=1e-12)


def test_more_flow_brings_more_heat_and_takes_more_watts() -> None:
    for study in (court_study(), ranch_study()):
        running = [
            (setting.state.array_flow, each.heat)
            for setting, each in zip(study.settings, study.per_hour, strict=True)
            if setting.state.primes
        ]
        running.sort()
        heats = [heat for _, heat in running]
        assert heats == sorted(heats)
    watts = [each.power for each in court_study().per_hour]
    assert watts == sorted(watts)


def test_the_choice_is_the_best_of_all_that_may_be_used_by_brute_force() -> None:
    study = court_study()
    job = court()
    water = water_capacity(job.pool.target)
    inputs = prepare(job, surroundings_of(job), flows_by_period(job))
    hours = solar_hours(inputs, settled_year(inputs).record)
    share = hours.time / hours.time.sum()
    nets = []
    for setting in study.settings:
        heat = heat_rates(hours, water * np.array([setting.state.bank_flows]))[0] @ share
        added = setting.state.power - hours.power_filter @ share
        nets.append(heat * HEAT_PRICE - added * ELECTRICITY)
    for net, each in zip(nets, study.per_hour, strict=True):
        assert each.net == pytest.approx(net, rel=1e-9)
    usable = [i for i, setting in enumerate(study.settings) if not setting.bounds]
    running = [i for i, setting in enumerate(study.settings) if setting.state.primes]
    assert study.choice.chosen == max(usable, key=lambda i: nets[i])
    assert study.choice.pays_best == max(running, key=lambda i: nets[i])


def test_what_binds_is_the_breaker_and_a_little_slower_it_would_not_do() -> None:
    study = court_study()
    choice = study.choice
    assert choice.binds == "breaker"
    assert "vacuum breaker draws air" in choice.reason
    assert study.least.breaker_clean is not None
    assert study.settings[choice.chosen].value >= study.least.breaker_clean
    slower = study.settings[choice.chosen - 1]
    assert [bound.name for bound in slower.bounds] == ["breaker margin"]
    assert choice.lost > 0.0


def test_the_chosen_setting_passes_the_checks_of_its_flow() -> None:
    told = {"breaker-draws-air", "breaker-margin-small", "start-does-not-prime", "panel-flow-low",
            "panel-flow-high", "solar-does-not-hold"}  # fmt: skip
    for study in (court_study(), ranch_study()):
        job = study.settings[study.choice.chosen].job
        found = {finding.rule for finding in flow_findings(job, solve_flow(job))}
        assert not found & told


def easy() -> Job:
    """A low roof, its breaker at the feed: with dear heat nothing but worth binds."""
    roofs = tuple(replace(roof, eave_height=0.3) for roof in court().roof)
    return replace(court(), roof=roofs, pad=replace(court().pad, breaker="feed"))


def test_where_worth_binds_a_neighbour_pays_less() -> None:
    study = studied(easy(), 0.9 / KWH)
    choice = study.choice
    assert choice.binds == "worth"
    assert choice.chosen == choice.pays_best
    nets = [each.net or 0.0 for each in study.per_hour]
    assert nets[choice.chosen] >= max(nets[choice.chosen - 1], nets[choice.chosen + 1])
    assert choice.lost == 0.0


def test_dearer_electricity_is_used_more_slowly() -> None:
    low = easy()
    dear = Window(0.60 / KWH, "12:00", "15:00")
    job = replace(low, money=replace(low.money, windows=(dear,)))
    study = studied(job, 3.0 / KWH)
    assert [round((period.price or 0.0) * KWH, 2) for period in study.periods] == [0.15, 0.60]
    cheap, costly = (study.settings[period.choice.chosen].value for period in study.periods)
    assert costly < cheap


def test_stretches_share_out_all_solar_hours() -> None:
    study = court_study()
    total = sum(stretch.hours for stretch in study.seasons)
    year = run_year(court())
    hours = year.record[year.record[:, at.SOLAR_HEAT] > 0.0][:, at.SOLAR_TIME].sum() / 3600.0
    assert total == pytest.approx(hours)
    assert sorted(m for stretch in study.seasons for m in stretch.months) == list(range(1, 13))


def test_years_are_the_years_of_those_jobs() -> None:
    study = court_study()
    as_set, as_chosen = study.years
    job = study.settings[study.choice.chosen].job
    for told, year in ((as_set, run_year(court())), (as_chosen, run_year(job))):
        assert told.year.solar_heat == sum(month.solar_heat for month in year.months)
        assert told.year.pump_energy == sum(month.pump_energy for month in year.months)
        assert told.cost == pytest.approx(sum(month.pump_cost for month in year.months))
        assert told.worth == pytest.approx(HEAT_PRICE * told.year.solar_heat)


def test_one_speed_is_set_by_the_bypass() -> None:
    assert handle_of(ranch()) == "bypass valve"
    study = ranch_study()
    assert study.settings[study.own].value == ranch().pad.bypass_open
    plain = replace(ranch(), pad=replace(ranch().pad, arrangement="diverter", bypass_open=0.0))
    assert handle_of(plain) == "bypass valve"
    assert set_to(plain, "bypass valve", 0.0) is plain
    assert set_to(plain, "bypass valve", 0.5).pad.arrangement == "diverter with bypass"
    by_hand = replace(plain, pad=replace(plain.pad, arrangement="hand diverter"))
    assert handle_of(by_hand) == "diverter"
    assert set_to(by_hand, "diverter", 0.5).pad.arrangement == "hand diverter"


def test_no_setting_draws_more_than_the_suction_covers_are_rated_for() -> None:
    rated = replace(court(), pad=replace(court().pad, suction_rating=0.0045))
    settings = settings_of(rated, "speed")
    for each in settings:
        over = "covers" in {bound.name for bound in each.bounds}
        assert over == (each.state.flow > 0.0045 and each.state.primes)
    assert any(each.state.primes and each.state.flow > 0.0045 for each in settings)
    # Faster heat is dear here; the covers forbid it all the same, and so do the breaker's needs.
    choice = choose(rated, "speed", settings, [float(i) for i in range(len(settings))])
    assert settings[choice.chosen].state.flow <= 0.0045


def test_without_a_price_nothing_is_weighed_and_it_is_said() -> None:
    plain = replace(court(), money=replace(court().money, alternatives=()))
    study = studied(plain, None)
    assert study.worth.heat is None
    assert "money.alternatives" in study.worth.words
    assert study.choice.pays_best is None
    assert all(each.net is None for each in study.per_hour)
    assert "no price of heat" in study.choice.reason
    assert not study.settings[study.choice.chosen].bounds


def test_heat_is_worth_what_it_displaces() -> None:
    use = np.zeros(8760)
    gas = Alternative("gas", price=0.05 / KWH, efficiency=0.8)
    told = worth_of(replace(court(), money=Money(ELECTRICITY, alternatives=(gas,))), use)
    assert told.heat is not None
    assert told.heat == pytest.approx(np.full(8760, 0.05 / 0.8 / KWH))
    dear = Window(0.60 / KWH, "12:00", "15:00")
    pump = Alternative("heat pump", efficiency=5.0)
    money = Money(ELECTRICITY, windows=(dear,), alternatives=(pump,))
    told = worth_of(replace(court(), money=money), use)
    assert told.heat is not None
    assert told.heat[12] == pytest.approx(0.60 / 5.0 / KWH)
    assert told.heat[8] == pytest.approx(0.15 / 5.0 / KWH)


def test_the_heaters_own_fuel_is_what_is_displaced() -> None:
    gas = Alternative("gas", price=0.05 / KWH)
    money = Money(ELECTRICITY, alternatives=(Alternative("heat pump"), gas))
    job = replace(court(), money=money, pad=replace(court().pad, heater="gas"))
    assert worth_of(job, np.zeros(8760)).words.startswith("what it displaces: gas")


def test_an_own_heater_is_displaced_at_the_tariff_though_others_are_named() -> None:
    money = Money(ELECTRICITY, alternatives=(Alternative("heat pump"),))
    heater = Heater("electric", capacity=11e3)
    job = replace(court(), money=money, heater=heater)
    told = worth_of(job, np.zeros(8760))
    assert told.words.startswith("what it displaces: its own electric at the tariff, 100 %")
    assert told.heat == pytest.approx(np.full(8760, ELECTRICITY))
    own = replace(job, heater=Heater("heat pump", capacity=30e3, power=5e3))
    assert worth_of(own, np.zeros(8760)).heat == pytest.approx(np.full(8760, ELECTRICITY / 6.0))


def test_a_tier_that_the_house_is_in_counts() -> None:
    tier = Tier(above=500 * KWH, adds=0.10 / KWH)
    money = Money(ELECTRICITY, house_use=(400 * KWH,) * 6 + (900 * KWH,) * 6, tiers=(tier,))
    told = worth_of(replace(court(), money=money), np.zeros(8760)).electricity
    assert told[0] == pytest.approx(0.15 / KWH)
    assert told[-1] == pytest.approx(0.25 / KWH)


def made(*bounds: tuple[BoundName, ...]) -> list[Setting]:
    state = court_study().settings[-1].state
    return [
        Setting(court(), 1000.0 + 10.0 * i, replace(state, array_flow=0.001 * i),
                tuple(Bound(name, f"{name} is wrong") for name in names))
        for i, names in enumerate(bounds)
    ]  # fmt: skip


def test_choosing_among_made_settings() -> None:
    free = made((), (), (), ())
    choice = choose(court(), "speed", free, [1.0, 3.0, 2.0, 1.0])
    assert (choice.chosen, choice.pays_best, choice.binds) == (1, 1, "worth")
    choice = choose(court(), "speed", free, [1.0, 2.0, 3.0, 4.0])
    assert (choice.chosen, choice.binds) == (3, "pump's end")
    held = made(("breaker",), ("breaker margin",), (), ())
    choice = choose(court(), "speed", held, [4.0, 3.0, 2.0, 1.0])
    assert (choice.chosen, choice.pays_best, choice.binds) == (2, 0, "breaker")
    assert choice.lost == 2.0
    flooded = made((), (), ("panel's most",), ("panel's most",))
    choice = choose(court(), "speed", flooded, [1.0, 2.0, 3.0, 4.0])
    assert (choice.chosen, choice.binds) == (1, "panel's most")


def test_without_a_price_the_fewest_watts_are_taken_though_less_water_would_do() -> None:
    # An opening bypass puts less water on the roof and yet loads the pump more.
    settings = [
        replace(each, job=ranch(), value=0.1 * i,
                state=replace(each.state, power=600.0 + 10.0 * i, array_flow=0.02 - 0.001 * i))
        for i, each in enumerate(made(("panel's most",), (), (), ()))
    ]  # fmt: skip
    choice = choose(ranch(), "bypass valve", settings, [None] * 4)
    assert (choice.chosen, choice.binds) == (1, "panel's most")
    assert "for at 0 % open panel's most is wrong" in choice.reason
    plain = replace(ranch(), pad=replace(ranch().pad, arrangement="diverter", bypass_open=0.0))
    told = choose(plain, "bypass valve", settings, [None] * 4).reason
    assert told.startswith("Put a bypass valve across the array, 10 % open")


def test_where_every_setting_is_wrong_the_least_wrong_is_told() -> None:
    wrong = made(("breaker",), ("breaker margin",), ("panel's most",))
    choice = choose(court(), "speed", wrong, [3.0, 1.0, 2.0])
    assert choice.chosen == 1
    assert "no setting is free of faults" in choice.reason


def test_solar_that_never_runs_is_told() -> None:
    off = replace(court(), pump=replace(court().pump, program=tuple(
        replace(period, solar=False) for period in court().pump.program)))  # fmt: skip
    with pytest.raises(InputError, match=r"pump\.program: solar runs in no hour"):
        studied(off)
