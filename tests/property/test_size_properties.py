"""What holds of any number of panels: more area is never colder, knees lie inside, banks add up."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from noonwater.design.size_array import plane_room, shared_out, with_panels
from noonwater.design.size_curve import knee
from noonwater.design.size_year import Yield, with_solar
from noonwater.year.run import SETTLED, settled_year
from tests.design_jobs import GOOD
from tests.years import made_inputs


def year_of_area(scale: float, target: float) -> Yield:
    """A made year with more or fewer panels, each with the flow that it had."""
    inputs = made_inputs()
    array = inputs.array
    scaled = array._replace(
        area=scale * array.area,
        capacity_dry=scale * array.capacity_dry,
        capacity_water=scale * array.capacity_water,
        flow_capacity=scale * array.flow_capacity,
    )
    inputs = inputs._replace(array=scaled, control=inputs.control._replace(target=target))
    return with_solar(settled_year(inputs), inputs)


@settings(max_examples=25, deadline=None)
@given(st.floats(0.1, 2.5), st.floats(1.02, 2.0), st.floats(22.0, 38.0))
def test_more_area_is_never_colder(scale: float, more: float, target: float) -> None:
    less, greater = year_of_area(scale, target), year_of_area(scale * more, target)
    # The repeated year itself is only settled to this.
    assert greater.season_pool >= less.season_pool - SETTLED


@given(st.lists(st.floats(0.0, 1e3), min_size=3, max_size=40))
def test_a_knee_is_never_an_end(steps: list[float]) -> None:
    amounts = [sum(steps[:count]) for count in range(len(steps) + 1)]
    place = knee(range(len(amounts)), amounts)
    assert place is None or 0 < place < len(amounts) - 1


@given(st.lists(st.floats(1.0, 1e3), min_size=2, max_size=40))
def test_a_curve_that_flattens_has_its_knee(steps: list[float]) -> None:
    falling = sorted(steps, reverse=True)
    amounts = [sum(falling[:count]) for count in range(len(falling) + 1)]
    place = knee(range(len(amounts)), amounts)
    mean = amounts[-1] / len(falling)
    if place is not None:
        assert falling[place - 1] >= mean * (1.0 - 1e-9)
        assert falling[place] <= mean * (1.0 + 1e-9)
    else:
        assert falling[0] - falling[-1] <= 1e-4 * falling[0]


@given(st.floats(1.3, 40.0), st.floats(3.7, 14.0), st.floats(1.3, 40.0), st.data())
def test_panels_add_up_and_never_overfill(
    width: float, length: float, other: float, data: st.DataObject
) -> None:
    roofs = (
        replace(GOOD.roof[0], width=width, slope_length=length),
        replace(GOOD.roof[1], width=other, slope_length=length),
    )
    job = replace(GOOD, roof=roofs)
    rooms = {roof.name: plane_room(job, roof) for roof in roofs}
    most = min(sum(room.panels for room in rooms.values()), 120)
    count = data.draw(st.integers(1, most))
    split = shared_out(count, {"south": 12, "west": data.draw(st.integers(1, 12))}, rooms)
    made = with_panels(job, rooms, split)
    assert made.array.panels == sum(split.values()) == count
    names = {roof.name for roof in made.roof}
    assert len(names) == len(made.roof)
    assert {bank.roof for bank in made.array.banks} <= names
    for roof in made.roof:
        wide = sum(bank.panels for bank in made.array.banks if bank.roof == roof.name) * 1.2192
        assert wide <= roof.width + 1e-6
        assert roof.slope_length >= 3.6576 - 1e-6 or not wide
