"""The parts list: three pads counted by hand, and each rule at its edges."""

from __future__ import annotations

from dataclasses import replace

import pytest

from noonwater.design.parts_list import parts_list
from noonwater.design.parts_pipe import couplings_in
from noonwater.design.parts_roof import roof_penetrations, strap_lines
from noonwater.design.parts_row import PartRow, merged
from noonwater.design.parts_support import cement_a_socket
from noonwater.hydraulics.arrangement_ready import READY, arranged
from noonwater.model.circuit import Pipe
from noonwater.model.job import Job
from noonwater.model.pad_option import AddPart, FittedPiece, PanelChange, SetPipe
from noonwater.model.plant import Array, Bank, Controls
from tests.jobs import example_job

WIDTH = 1.2192


def counts(rows: tuple[PartRow, ...], *groups: str) -> dict[str, float]:
    """Quantity of each thing that is counted in pieces, over some groups."""
    found: dict[str, float] = {}
    for row in rows:
        if row.group in groups and row.unit == "each":
            found[row.name] = found.get(row.name, 0) + row.quantity
    return found


def of(rows: tuple[PartRow, ...], group: str, name: str) -> PartRow:
    found = [row for row in rows if (row.group, row.name) == (group, name)]
    assert len(found) == 1, [(row.group, row.name) for row in rows]
    return found[0]


def with_pad(job: Job, **changes: object) -> Job:
    return replace(job, pad=replace(job.pad, **changes))  # type: ignore[arg-type]


def test_two_banks_behind_a_diverter_counted_by_hand() -> None:
    """Six and six panels, gas heater, breaker past bank 2, two check valves, 16 elbows."""
    rows = parts_list(example_job())
    assert counts(rows, "pad") == {
        # after the filter, and in the roof return before the tie-in
        "check valve, swing": 2,
        "diverter, drain-down hole": 1,
        "actuator for a diverter": 1,
        "controller, differential": 1,
        "pool water sensor": 1,
        "pressure gauge": 1,
        "gauge tap": 2,
        # where the roof return meets the way to the heater
        "tee": 1,
    }
    assert counts(rows, "roof") == {
        "panel, tube 4x10": 12,
        "vacuum breaker": 1,
        # five pairs of neighbours a bank, two headers
        "panel-to-panel connector": 20,
        # feed in and return out of each bank
        "panel-to-pipe connector": 4,
        # each bank has four corners, two of them with a pipe
        "header end cap": 4,
        "upper header clamp": 12,
        "lower header guide": 12,
        # seven edges of six panels, twice
        "strap anchor": 14,
        "roof sensor on a piece of panel": 1,
        # feed corner and bank 2's return by the circuit, one under the breaker by rule
        "tee": 3,
    }
    assert counts(rows, "pipe") == {
        # three sixteenths each of 16 elbows in feed and roof return
        "elbow 90": 6,
        # 18 m is 3 lengths of 6.096 m, 20 m is 4, bank to bank 7.3 m is 2, up and down: 2+3+1+1
        "coupling": 7,
    }
    # Pad: filter, check valve, diverter, return tee, 0.5 m each; to the heater 1 m; from the
    # roof's check valve 0.5 m. Roof: 18 + 0.5 + six panels' width; the same + 0.5 + 0.5 + 20.
    net = 3.0 + (18.0 + 0.5 + 6 * WIDTH) + (6 * WIDTH + 0.5 + 0.5 + 20.0)
    pipe = of(rows, "pipe", "pipe, schedule 40")
    assert pipe.net == pytest.approx(net)
    assert pipe.quantity == pytest.approx(1.1 * net)
    assert pipe.stock == 11  # 62.84 m over 6.096 m is 10.3
    # 25.8 m of feed at 3 ft are 29 spaces, 28.3 m of roof return 31: one support more each.
    # 3 m at the pad at 4 ft are 3 spaces.
    assert [r.quantity for r in rows if r.name == "pipe support"] == [30 + 32, 4]
    assert counts(rows, "supports")["pipe support beside a valve"] == 4
    # Sockets: 5 pad pipes 10; feed 2 + 3 elbows 6 + 2 couplings 4; its last piece 1; to bank 2
    # 1 + 2; back 1 + 2; bank 2 out 1; to the breaker 2; roof return 2 + 6 + 6: 46, 2.3 pints.
    assert counts(rows, "supports")["solvent cement, 1 pint can"] == 3
    assert counts(rows, "supports")["primer, 1 pint can"] == 2
    # One strap line over 10 ft: six widths and 0.15 m at both ends, twice.
    assert of(rows, "roof", "hold-down strap").quantity == pytest.approx(2 * (6 * WIDTH + 0.3))
    # All of the feed, and 3 m at each of two sensors.
    assert of(rows, "pad", "sensor cable").quantity == pytest.approx(18.5 + 6 * WIDTH + 6.0)
    assert counts(rows, "already there") == {
        "pump, variable large": 1,
        "filter, cartridge": 1,
        "heater, gas": 1,
        "elbow 90": 10,
    }
    assert of(rows, "already there", "pipe, schedule 40").net == pytest.approx(9.0 + 0.5 + 9.0)


def test_one_bank_with_isolation_valves_and_drains_counted_by_hand() -> None:
    """Eight panels, no heater; a valve and a drain in each roof pipe at the pad."""
    job = example_job(array=Array((Bank("south", 8, "tube 4x10"),)))
    rows = parts_list(arranged(with_pad(job, heater="none"), "isolation valves and drains"))
    pad = counts(rows, "pad")
    assert pad["isolation valve"] == pad["drain"] == pad["check valve, swing"] == 2
    assert pad["tee"] == 3  # tie-in, and one under each drain
    roof = counts(rows, "roof")
    assert roof["panel, tube 4x10"] == 8
    assert roof["panel-to-panel connector"] == 14
    assert roof["panel-to-pipe connector"] == roof["header end cap"] == 2
    assert roof["tee"] == 2  # feed corner, breaker
    assert roof["strap anchor"] == 9
    # The feed corner's branch waits for a second bank.
    cap = of(rows, "pipe", "cap")
    assert (cap.quantity, cap.where) == (1, ("feed corner",))
    # Pad: filter, check valve, diverter, return tee: 3 pieces; diverter, valve, drain: 2; drain,
    # check valve, valve, return tee: 3. Roof: 18 + 0.5 and 0.5 + 20.
    pipe = of(rows, "pipe", "pipe, schedule 40")
    assert pipe.net == pytest.approx(8 * 0.5 + 18.5 + 20.5)
    assert pipe.stock == 8  # 47.3 m over 6.096 m is 7.8
    assert counts(rows, "pipe")["coupling"] == 2 + 3
    # 18.5 m: 21 spaces, 20.5 m: 23; 4 m at 4 ft: 4.
    assert [r.quantity for r in rows if r.name == "pipe support"] == [22 + 24, 5]
    # Diverter, check valves, isolation valves, drains, breaker.
    assert counts(rows, "supports")["pipe support beside a valve"] == 1 + 2 + 2 + 2 + 1


def test_a_booster_a_raised_spa_and_a_panel_left_out_counted_by_hand() -> None:
    """Places 1, 2, 4, 5 of five, direct return; a hand turns the diverter."""
    bank = Bank("south", 5, "tube 4x10", "direct return", (PanelChange(3, left_out=True),))
    names = ("hand-turned diverter", "booster pump for a high roof", "pool with raised spa")
    rows = parts_list(arranged(example_job(array=Array((bank,))), *names))
    pad = counts(rows, "pad")
    assert pad["booster pump, single mini"] == 1
    assert pad["union"] == 2
    assert not {"actuator for a diverter", "controller, differential", "pool water sensor"} & set(
        pad
    )
    roof = counts(rows, "roof")
    assert roof["panel, tube 4x10"] == 4
    assert roof["panel-to-panel connector"] == 4  # 1-2 and 4-5, two headers
    assert roof["panel-to-pipe connector"] == 4 + 2  # both sides of the gap, feed and return
    assert roof["header end cap"] == 2  # both far ends
    assert roof["strap anchor"] == 3 + 3
    assert of(rows, "roof", "hold-down strap").net == pytest.approx(2 * (2 * WIDTH + 0.3))
    bridge = of(rows, "pipe", "pipe of the headers' bore, past panels left out")
    assert bridge.net == pytest.approx(2 * WIDTH)
    # The spa's valves, and the check valve that keeps a raised spa full, serve no panel.
    there = counts(rows, "already there")
    assert there["diverter, seals tight"] == 2
    assert there["check valve, swing"] == 1
    assert pad["check valve, swing"] == 2


@pytest.mark.parametrize("ready", READY, ids=lambda ready: ready.name)
def test_every_ready_arrangement_has_a_list(ready: object) -> None:
    rows = parts_list(arranged(example_job(), ready.name))  # type: ignore[attr-defined]
    assert len({(row.group, row.name, row.sizes, row.rule, row.spacing) for row in rows}) == len(
        rows
    )
    for row in rows:
        assert row.quantity > 0
        assert row.unit == "length" or row.quantity == int(row.quantity)
        assert row.where


def test_stops_are_bought_with_the_actuator() -> None:
    pad = counts(parts_list(arranged(example_job(), "diverter with stops")), "pad")
    assert pad["actuator with stops for a diverter"] == 1


def test_a_pipe_of_another_size_takes_reducers_and_a_row_of_its_own() -> None:
    pieces = (FittedPiece("elbow 45", 3), FittedPiece("ball valve"))
    edit = SetPipe("pipe", "feed", size=0.0381, fittings=pieces)
    rows = parts_list(with_pad(example_job(), edit=(edit,)))
    reducer = of(rows, "pipe", "reducer")
    assert reducer.quantity == 2
    assert reducer.sizes == (0.0508, 0.0381)
    assert reducer.where == ("diverter", "feed corner")
    sizes = {row.sizes: row.net for row in rows if row.name == "pipe, schedule 40"}
    assert sizes[(0.0381,)] == pytest.approx(18.0)
    assert of(rows, "pipe", "elbow 45").quantity == 3
    assert of(rows, "pipe", "isolation valve").sizes == (0.0381,)


def test_an_edit_in_a_header_is_counted_where_it_is() -> None:
    pipe = "lower header bank 1 panel 2 to panel 3"
    edits = (
        AddPart("add", pipe, "isolation valve", "half bank valve"),
        AddPart("add", "feed", "drain", "low drain"),
    )
    rows = parts_list(with_pad(example_job(), edit=edits))
    assert of(rows, "roof", "isolation valve").where == ("half bank valve",)
    assert of(rows, "roof", "drain").where == ("low drain",)
    roof = counts(rows, "roof")
    assert roof["panel-to-panel connector"] == 19
    assert roof["panel-to-pipe connector"] == 6
    assert roof["header end cap"] == 4
    assert not [row for row in rows if "left out" in row.name]


def test_controls_decide_sensors() -> None:
    timer = parts_list(example_job(controls=Controls(kind="timer")))
    assert counts(timer, "pad")["timer"] == 1
    assert not [row for row in timer if "sensor" in row.name]
    watched = Controls(sensor="return well", freeze="circulate", freeze_watch="air")
    rows = parts_list(example_job(controls=watched))
    assert counts(rows, "pad")["air sensor"] == 1
    assert counts(rows, "roof")["sensor well"] == 1
    assert counts(rows, "roof")["tee"] == 4


def test_a_panel_that_has_served_is_not_bought() -> None:
    bank = Bank("south", 4, "tube 4x10", changed=(PanelChange(2, plugged=0.1),))
    rows = parts_list(example_job(array=Array((bank,))))
    assert of(rows, "roof", "panel, tube 4x10").quantity == 3
    assert of(rows, "already there", "panel, tube 4x10, with plugged tubes").quantity == 1


def test_metric_pipe_is_sold_by_six_metres() -> None:
    job = with_pad(example_job(), pipe=0.063, schedule="metric")
    pipe = of(parts_list(job), "pipe", "pipe, PVC-U PN10 or more")
    assert pipe.stock_length == 6.0
    assert pipe.stock == 11  # 62.84 m over 6 m is 10.5


@pytest.mark.parametrize(("length", "couplings"), [(0.0, 0), (6.0, 0), (6.1, 1), (18.0, 2)])
def test_couplings_stand_between_stock_lengths(length: float, couplings: int) -> None:
    pipe = Pipe("run", ("a", "out"), ("b", "in"), length, 0.052, 0.0508)
    assert couplings_in(pipe, 6.0) == couplings


@pytest.mark.parametrize(("feet", "lines"), [(4, 1), (8, 1), (10, 1), (12, 2), (20, 3)])
def test_straps_by_length_of_panel(feet: float, lines: int) -> None:
    assert strap_lines(feet * 0.3048) == lines


def test_cement_grows_with_size() -> None:
    taken = [cement_a_socket(inch * 0.0254) for inch in (0.5, 0.75, 1.5, 2.0, 2.5, 6.0, 8.0)]
    assert taken == sorted(taken)
    # A US pint is 0.473176473 L, exact; 20 joints of 2 in a pint, from memory.
    assert cement_a_socket(0.0508) == pytest.approx(0.473176473 / 20)


def test_penetrations_are_what_is_screwed_down() -> None:
    assert roof_penetrations(parts_list(example_job())) == 12 + 12 + 14


def test_rows_of_nothing_are_left_out() -> None:
    row = PartRow("pad", "cap", "fitting", 0)
    assert merged(
        [row, replace(row, name="tee", quantity=2), replace(row, name="tee", quantity=1)]
    ) == (replace(row, name="tee", quantity=3),)
