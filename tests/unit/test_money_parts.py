"""Parts priced: words in any order, sizes that fit, whole packs, what finds no price named."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from noonwater.app.demos import FOLDER, demos
from noonwater.app.job_file import read_job
from noonwater.app.price_list import read_price_list
from noonwater.design.money_parts import PriceRow, bought, price_parts
from noonwater.design.money_words import part_words
from noonwater.design.parts_list import parts_list
from noonwater.design.parts_row import PartRow

INCH = 0.0254


def row(line: int, name: str, price: float, **more: object) -> PriceRow:
    facts = {"sizes": (), "per": "each", "pack": 1.0, "hours": 0.0, **more}
    return PriceRow(line, name, part_words(name), price=price, **facts)  # type: ignore[arg-type]


ELBOW = PartRow("pipe", "elbow 90", "fitting", 12, measure="pipe", sizes=(2 * INCH,))
PIPE = PartRow("pipe", "pipe, schedule 40", "pipe", 27.0, "length", measure="pipe",
               sizes=(2 * INCH,), stock=5, stock_length=6.096)  # fmt: skip
CABLE = PartRow("pad", "sensor cable", "control", 29.0, "length")
CAP = PartRow("roof", "header end cap", "connector", 4, measure="bore", sizes=(0.0475,))


def test_words_match_in_any_order_and_everyday_spelling() -> None:
    assert part_words("PIPE, Sch 40") == part_words("Schedule 40 PVC pipe")
    assert part_words("Elbows 90") == part_words("90 degree ell")
    assert part_words("tee") != part_words("reducing tee")


def test_a_part_takes_the_row_of_its_size() -> None:
    rows = [
        row(2, "elbow 90", 9.0, sizes=(1.5 * INCH,)),
        row(3, "90 elbow", 4.0, sizes=(2 * INCH,)),
        row(4, "elbow 90", 5.0),
    ]
    found = price_parts([ELBOW], rows)
    assert [(part.row.line, part.cost) for part in found.priced] == [(3, 48.0)]
    assert found.unused == 2
    assert price_parts([ELBOW], rows[2:]).cost == 60.0  # a row without a size is for any


def test_another_size_or_name_is_no_price_and_the_near_ones_are_named() -> None:
    other = price_parts([ELBOW], [row(2, "elbow 90", 9.0, sizes=(1.5 * INCH,))])
    assert [part.why for part in other.unpriced] == ["no row of this size"]
    near = price_parts([ELBOW], [row(2, "elbow 90 long", 9.0), row(3, "panel", 9.0)])
    assert [(part.why, part.near) for part in near.unpriced] == [
        ("no row of this name", ("elbow 90 long",))
    ]
    metric = price_parts([ELBOW], [row(2, "elbow 90", 9.0, sizes=(0.050,))])
    assert metric.unpriced


def test_what_fits_a_header_is_sold_by_the_pipe_s_size() -> None:
    rows = [row(2, "header end cap", 7.0, sizes=(1.5 * INCH,))]
    assert price_parts([CAP], rows).unpriced
    rows.append(row(3, "header end cap", 9.0, sizes=(2 * INCH,)))
    assert price_parts([CAP], rows).cost == 36.0


def test_packs_are_bought_whole_and_their_labour_is_counted_by_what_is_used() -> None:
    box = row(2, "elbow 90", 30.0, pack=10.0, hours=3600.0)
    found = price_parts([ELBOW], [box])
    assert (found.cost, found.hours) == (60.0, pytest.approx(1.2 * 3600.0))
    roll = row(2, "sensor cable", 39.0, per="length", pack=30.48)
    assert price_parts([CABLE], [roll]).cost == 39.0
    foot = row(2, "sensor cable", 0.5, per="length", pack=0.3048)
    assert price_parts([CABLE], [foot]).cost == pytest.approx(0.5 * 29.0 / 0.3048)


def test_pipe_priced_by_the_piece_is_bought_in_lengths_as_sold() -> None:
    stick = row(2, "pipe sch 40", 22.0, sizes=(2 * INCH,))
    assert price_parts([PIPE], [stick]).cost == 110.0
    by_length = row(2, "pipe sch 40", 22.0, sizes=(2 * INCH,), per="length", pack=6.096)
    assert price_parts([PIPE], [by_length]).cost == 110.0
    each = price_parts([CABLE], [row(2, "sensor cable", 9.0)])
    assert each.unpriced[0].why == "row 2 is priced by the piece"


def test_what_every_job_has_once_is_added() -> None:
    found = price_parts([ELBOW], [row(2, "permit", 180.0, per="job"), row(3, "elbow 90", 1.0)])
    assert found.cost == 192.0
    assert found.unused == 0


@given(st.permutations(range(4)))
def test_the_order_of_the_list_moves_nothing(order: list[int]) -> None:
    rows = [
        row(2, "elbow 90", 4.0, sizes=(2 * INCH,)),
        row(3, "sensor cable", 39.0, per="length", pack=30.48),
        row(4, "header end cap", 9.0, sizes=(2 * INCH,)),
        row(5, "permit", 180.0, per="job"),
    ]
    found = price_parts([ELBOW, CABLE, CAP], [rows[number] for number in order])
    assert found.cost == 48.0 + 39.0 + 36.0 + 180.0
    assert not found.unpriced


def test_no_two_parts_of_the_demos_share_their_words() -> None:
    for demo in demos():
        parts = bought(parts_list(read_job(FOLDER / f"{demo.name}.toml")))
        for one, other in combinations(parts, 2):
            if one.name != other.name and one.sizes == other.sizes:
                assert part_words(one.name) != part_words(other.name)


def test_the_demo_price_list_prices_every_part_of_every_demo() -> None:
    listed = read_price_list(FOLDER / "demo-prices.csv", "USD")
    assert not listed.faults
    for demo in demos():
        parts = bought(parts_list(read_job(FOLDER / f"{demo.name}.toml")))
        found = price_parts(parts, listed.rows)
        assert not found.unpriced
        assert len(found.priced) == len(parts) + 1
