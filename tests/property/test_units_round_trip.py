"""What the border writes it reads back to the last bit; what it reads it never misreads."""

from __future__ import annotations

import re
from math import isclose

from hypothesis import given
from hypothesis import strategies as st

from noonwater.core.quantity import KINDS, Quantity
from noonwater.core.unit_text import QuantityError
from noonwater.core.units import in_system, read_quantity, show, unit_label, written

SYSTEMS = st.sampled_from(("US", "SI"))
VALUES = st.floats(-1e9, 1e9, allow_nan=False).filter(
    lambda value: value == 0 or abs(value) > 1e-12
)


@given(st.sampled_from(sorted(KINDS)), SYSTEMS, VALUES)
def test_written_reads_back_to_the_last_bit(kind: str, system: str, value: float) -> None:
    assert read_quantity(written(value, kind, system), Quantity(kind, "")) == value


@given(st.sampled_from(sorted(KINDS)), SYSTEMS, st.floats(-1e6, 1e6))
def test_shown_says_what_is_held(kind: str, system: str, value: float) -> None:
    shown = show(value, kind, system, 6)
    number, label = re.fullmatch(r"(-?[\d.]+)\s*(.+)", shown).groups()
    assert label == unit_label(kind, system)
    assert isclose(float(number), in_system(value, kind, system), rel_tol=1e-9, abs_tol=1e-6)


@given(st.text(max_size=80), st.sampled_from(sorted(KINDS)))
def test_any_text_is_a_quantity_or_refused_in_one_line(text: str, kind: str) -> None:
    try:
        value = read_quantity(text, Quantity(kind, ""))
    except QuantityError as refused:
        assert "\n" not in str(refused)
    else:
        assert isinstance(value, float)


@given(
    st.from_regex(r"[-+]?[0-9.]{1,4}[ ]?[a-zA-Z0-9°%/*^()' -]{1,12}", fullmatch=True),
    st.sampled_from(sorted(KINDS)),
)
def test_what_looks_like_a_quantity_is_read_or_refused(text: str, kind: str) -> None:
    try:
        read_quantity(text, Quantity(kind, ""))
    except QuantityError as refused:
        assert refused.allowed


@given(st.sampled_from(sorted(KINDS)), st.floats(-1e6, 1e6), st.floats(1e-3, 1e6), SYSTEMS)
def test_printed_bounds_are_themselves_allowed(
    kind: str, low: float, width: float, system: str
) -> None:
    # Four digits are printed: a field whose range is narrower than 1 % would need more.
    width += abs(low) / 100
    quantity = Quantity(kind, "", low, low + width)
    label = unit_label(kind, system).replace("currency", "USD")
    label = "deg" if label == "°" else label
    outside = in_system(low + width, kind, system) * 2 + 1e4 * (1 + abs(low + width))
    try:
        read_quantity(f"{outside:.9f} {label}", quantity)
    except QuantityError as refused:
        for bound in refused.allowed.split(" to "):
            if "E" not in bound and len(bound) < 40:
                read_quantity(bound.replace("currency", "USD"), quantity)
