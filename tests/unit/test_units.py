"""Quantities as people write them, and the texts that look like one but are refused."""

from __future__ import annotations

from math import isclose

import pytest

from noonwater.core.digits import about
from noonwater.core.quantity import KINDS, Quantity
from noonwater.core.unit_table import CURRENCIES
from noonwater.core.unit_text import QuantityError
from noonwater.core.units import (
    currencies_of,
    in_system,
    quantity_json_schema,
    read_quantity,
    show,
    unit_label,
    written,
)

FOOT, INCH, GALLON = 0.3048, 0.0254, 231 * 0.0254**3


def read(text: object, kind: str, low: float = float("-inf"), high: float = float("inf")) -> float:
    return read_quantity(text, Quantity(kind, "a field", low, high))


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("32 ft", "length", 32 * FOOT),
        ("32ft", "length", 32 * FOOT),
        ("9.8 m", "length", 9.8),
        (".5 m", "length", 0.5),
        ("-3 ft", "length", -3 * FOOT),
        ("−3 ft", "length", -3 * FOOT),
        ("12 ft 6 in", "length", 12.5 * FOOT),
        ("12' 6\"", "length", 12.5 * FOOT),
        ("-12 ft 6 in", "length", -12.5 * FOOT),
        ("1/2 in", "diameter", 0.5 * INCH),
        ("2 1/2 in", "diameter", 2.5 * INCH),
        ("2-1/2 in", "diameter", 2.5 * INCH),
        ("2½ in", "diameter", 2.5 * INCH),
        ("½ in", "diameter", 0.5 * INCH),
        ("1.5 in", "diameter", 1.5 * INCH),
        ('2"', "diameter", 2 * INCH),
        ("63 mm", "diameter", 0.063),
        ("450 ft2", "area", 450 * FOOT**2),
        ("450 sq ft", "area", 450 * FOOT**2),
        ("450 ft²", "area", 450 * FOOT**2),
        ("450 ft^2", "area", 450 * FOOT**2),
        ("15000 gal", "volume", 15000 * GALLON),
        ("45 gpm", "flow", 45 * GALLON / 60),
        ("45 gal/min", "flow", 45 * GALLON / 60),
        ("10 m3/h", "flow", 10 / 3600),
        ("10 m³/h", "flow", 10 / 3600),
        ("3 L/s", "flow", 0.003),
        ("40 ft", "head", 40 * FOOT),
        ("40 ft of water", "head", 40 * FOOT),
        ("40 ft of water", "pressure", 40 * FOOT * 9806.65),
        ("40 ft_H2O", "pressure", 40 * FOOT * 9806.65),
        ("15 psi", "pressure", 15 * 6894.757293168361),
        ("2400 rpm", "speed", 2400),
        ("40 rev/s", "speed", 2400),
        ("4.5 mph", "velocity", 4.5 * 1609.344 / 3600),
        ("1.5 hp", "power", 1.5 * 745.6998715822702),
        ("2 ton", "power", 2 * 12000 * 1055.05585262 / 3600),
        ("84 °F", "temperature", (84 - 32) / 1.8),
        ("84F", "temperature", (84 - 32) / 1.8),
        ("84 deg F", "temperature", (84 - 32) / 1.8),
        ("84 degF", "temperature", (84 - 32) / 1.8),
        ("29 C", "temperature", 29),
        ("29 ℃", "temperature", 29),
        ("302.15 K", "temperature", 29),
        ("8 °F", "temperature difference", 8 / 1.8),
        ("8 F", "temperature difference", 8 / 1.8),
        ("4 °C", "temperature difference", 4),
        ("4 K", "temperature difference", 4),
        ("18°", "pitch", 18),
        ("18 deg", "pitch", 18),
        ("4:12", "pitch", 18.434948822922),
        ("4/12", "pitch", 18.434948822922),
        ("12 : 12", "pitch", 45),
        ("-80.3 deg", "angle", -80.3),
        ("40 %", "share", 0.4),
        ("40%", "share", 0.4),
        ("35 s", "time", 35),
        ("4 min", "time", 240),
        ("-5 h", "time", -18000),
        ("3.1 kWh/m2/day", "daily sun", 3.1 * 3.6e6),
        ("3.1 kW·h/m²/d", "daily sun", 3.1 * 3.6e6),
        ("3.1 kWh/(m2 day)", "daily sun", 3.1 * 3.6e6),
        ("3.1 kWh m-2 d-1", "daily sun", 3.1 * 3.6e6),
        ("3.1 kWh per m2 per day", "daily sun", 3.1 * 3.6e6),
        ("1000 Btu/ft2/day", "daily sun", 1000 * 1055.05585262 / FOOT**2),
        ("0.14 USD/kWh", "energy price", 0.14 / 3.6e6),
        ("$0.14/kWh", "energy price", 0.14 / 3.6e6),
        ("14 ct/kWh", "energy price", 0.14 / 3.6e6),
        ("1.2 USD/therm", "energy price", 1.2 / 105505585.262),
        ("12 USD/MMBtu", "energy price", 12 / 1055055852.62),
        ("4 ft.", "length", 4 * FOOT),
        ("5 ft. 3 in.", "length", 5.25 * FOOT),
        ("5'3", "length", 5.25 * FOOT),
        ("5' 3 1/2", "length", 63.5 * INCH),
        ("6 IN", "diameter", 6 * INCH),
        ("1 1⁄2 in", "diameter", 1.5 * INCH),
        ("\ufeff12\u2009m\u200f", "length", 12),
        ("420 sqft", "area", 420 * FOOT**2),
        ("420 sq. ft.", "area", 420 * FOOT**2),
        ("420 SQ FT", "area", 420 * FOOT**2),
        ("420 SF", "area", 420 * FOOT**2),
        ("54 sqm", "area", 54),
        ("45 Gpm", "flow", 45 * GALLON / 60),
        ("84 f", "temperature", (84 - 32) / 1.8),
        ("84 °f", "temperature", (84 - 32) / 1.8),
        ("29 c", "temperature", 29),
        ("30 ft head", "head", 30 * FOOT),
        ("3 mins", "time", 180),
        ("1 kw", "power", 1000),
        ("–80.3 deg", "angle", -80.3),
        ("4 in 12", "pitch", 18.434948822922),
        ("SSW", "bearing", 202.5),
        ("nw", "bearing", 315),
        ("South", "bearing", 180),
        ("south-west", "bearing", 225),
        ("205 deg", "bearing", 205),
        ("250000 Btu/h", "heat output", 250000 * 1055.05585262 / 3600),
        ("2.2 Mohm", "resistance", 2.2e6),
        ("2.2 MΩ", "resistance", 2.2e6),
        ("2 megohms", "resistance", 2e6),
    ],
)
def test_reads_what_people_write(text: str, kind: str, value: float) -> None:
    assert isclose(read(text, kind), value, rel_tol=1e-12)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("29 C", "length"),  # no coulomb
        ("29 F", "power"),  # no farad
        ("29 deg", "temperature"),
        ("40 Hz", "speed"),  # in a table without angles this is 382 rpm
        ("40 1/s", "speed"),
        ("0.4 rad", "share"),
        ("40 %", "angle"),
        ("SW", "angle"),
        ("SWW", "bearing"),
        ("5 SW", "bearing"),
        ("33 %", "pitch"),
        ("45 psi", "length"),
        ("45 psi", "head"),
        ("3 m**2", "length"),
        ("9.8 ms", "length"),  # a plural of m in a table with plurals
        ("3 ft_H2O", "length"),
        ("3 MW", "length"),
        ("3 mW", "power"),  # neither milli nor mega by guess
        ("0.14 USD", "energy price"),
        ("3 degC/m", "temperature"),
        ("84 °F", "length"),
    ],
)
def test_refuses_another_dimension(text: str, kind: str) -> None:
    with pytest.raises(QuantityError):
        read(text, kind)


@pytest.mark.parametrize(
    ("text", "kind", "remedy"),
    [
        ("84°", "temperature", 'write "84 °F" or "84 °C"'),
        ("1\u202f200 mm", "length", 'nothing between thousands: "3.5", "15000"'),
        ("3,5 m", "length", 'with a point for decimals and nothing between thousands: "3.5"'),
        ("80.3 W", "angle", 'write "-80.3 deg"'),
        ("33.9 S", "angle", 'write "-33.9 deg"'),
        ("151.2° E", "angle", 'write "151.2 deg"'),
    ],
)
def test_a_slip_is_told_its_remedy(text: str, kind: str, remedy: str) -> None:
    with pytest.raises(QuantityError) as refused:
        read(text, kind)
    assert remedy in str(refused.value)


@pytest.mark.parametrize(
    "text",
    [
        *("", " ", "ft", "32", "-", "nan ft", "inf m", "-inf m", "1e999 m", "0x10 m", "1_000 m"),
        *("3,5 m", "15,000 m", "3 000 m", "1 2 3 m", "--3 m", "1/0 m", "1.2.3 m", "3 m; 4 m"),
        *("3 m/", "3 /m", "3 (m", "3 m)", "3 ()", "3 m//m", "3 m**2**2", "3 m^9", "3 m**99999"),
        *("3 __import__('os')", "3 exec(1)", "3 m.__class__", "3 lambda", "3 m\x00", "3 furlong"),
        *("١ m", "3 " + "m" * 100, "9" * 5000 + " m", "3 ms", "4:0", "3 m\n4 m"),
        *(3, 3.5, True, False, None, [], {}, b"3 m", float("nan")),
    ],
)
def test_refuses_what_is_no_length(text: object) -> None:
    with pytest.raises(QuantityError) as refused:
        read(text, "length")
    assert "\n" not in str(refused.value)
    assert len(str(refused.value)) < 400


def test_a_bare_number_is_offered_its_units() -> None:
    with pytest.raises(QuantityError) as refused:
        read(32, "length")
    assert refused.value.remedy == 'write "32 ft" or "32 m"'
    with pytest.raises(QuantityError, match='write "40 %"'):
        read(0.4, "share")


def test_a_comma_is_explained() -> None:
    with pytest.raises(QuantityError, match=r"with a comma.*with a point for decimals"):
        read("3,5 m", "length")


def test_a_misspelt_unit_is_recognised() -> None:
    with pytest.raises(QuantityError, match='did you mean "gpm"'):
        read("45 gmp", "flow")


def test_a_compass_letter_is_explained() -> None:
    with pytest.raises(QuantityError, match=r"write \"-80\.3 deg\""):
        read("80.3 °W", "angle")


def test_bounds_are_inclusive_whatever_the_unit() -> None:
    assert read("104 °F", "temperature", 10, 40) == 40
    assert read("50 °F", "temperature", 10, 40) == 10
    assert read("360 deg", "angle", 0, 360) == 360
    assert read("100 %", "share", 0, 1) == 1
    assert read("3.6 USD/kWh", "energy price", 0, 1e-6) == 1e-6
    assert read("0.9 °F", "temperature difference", 0.5, 30) == 0.5


def test_the_range_is_told_in_the_unit_that_was_written() -> None:
    with pytest.raises(QuantityError) as refused:
        read("30 ft", "length", 0.2, 6)
    assert refused.value.allowed == "0.6562 ft to 19.68 ft"
    assert read("19.68 ft", "length", 0.2, 6) <= 6
    with pytest.raises(QuantityError, match="50 °F to 104 °F"):
        read("105 °F", "temperature", 10, 40)
    with pytest.raises(QuantityError, match=r"at least 3.281 ft$"):
        read("1 ft", "length", 1)


def test_shows_results_in_both_systems() -> None:
    assert show(29, "temperature", "US") == "84.2 °F"
    assert show(29, "temperature", "SI", 0) == "29 °C"
    assert show(45 * GALLON / 60, "flow", "US", 0) == "45 gpm"
    assert show(0.4, "share", "US", 0) == "40 %"
    assert show(18, "pitch", "SI", 0) == "18°"
    assert show(float("nan"), "flow", "US") == "- gpm"
    assert unit_label("flow", "SI") == "m³/h"
    assert isclose(in_system(10 / 3600, "flow", "SI"), 10)


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_reads_its_own_examples_and_can_be_shown(kind: str) -> None:
    for example in KINDS[kind].accepted:
        read(example, kind)
    for system in ("US", "SI"):
        assert unit_label(kind, system)
        assert read(written(0.7, kind, system), kind) == 0.7


def test_a_pattern_of_the_schema_takes_what_is_read() -> None:
    import re

    pattern = quantity_json_schema(Quantity("pitch", "slope", 0, 90))["pattern"]
    for text in ("4:12", "4/12", "18 deg", "18°", " 18.5 deg"):
        assert re.search(pattern, text), text
    for text in ("18", "", "deg", "4:"):
        assert not re.search(pattern, text), text
    pattern = quantity_json_schema(Quantity("bearing", "way", 0, 360))["pattern"]
    assert re.search(pattern, "south-west")


def test_an_estimate_keeps_the_digits_that_count() -> None:
    assert [about(each) for each in (14934.2, -86.44, 0.05949, 0.0)] == [14900, -86.4, 0.0595, 0]
    assert about(1.26, 2) == 1.3


def test_currencies_are_told_apart_but_not_converted() -> None:
    assert currencies_of("0.14 EUR/kWh") == ("EUR",)
    assert currencies_of("€0.14/kWh") == ("EUR",)
    assert "CAD" in currencies_of("$0.14/kWh")
    assert "EUR" not in currencies_of("$0.14/kWh")
    assert currencies_of("14 ct/kWh") == CURRENCIES
    assert read("1 EUR/kWh", "energy price") == read("1 USD/kWh", "energy price")


def test_the_model_and_the_border_know_the_same_currencies() -> None:
    from typing import get_args

    from noonwater.model.money import Currency

    assert get_args(Currency) == CURRENCIES
