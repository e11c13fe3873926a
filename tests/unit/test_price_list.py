"""A contractor's own spreadsheet: any order of columns, and no row dropped without a word."""

from __future__ import annotations

import io
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from noonwater.app.price_cells import amount, decimal_comma, hours, pack, sizes
from noonwater.app.price_file import CellTable
from noonwater.app.price_list import PriceList, price_list, read_price_list
from noonwater.core.errors import InputError

HEADS = ("Description", "Nominal size", "Sold by", "Unit price", "Labour hours")
ROWS = (
    ("Check valve, swing", "2 in", "each", "$36.00", "0.4"),
    ("Elbow, 90", "1-1/2", "box of 10", "$39.00", "1.5"),
    ("Sch 40 pipe", '2"', "20 ft", "$22.50", "0.4"),
    ("Panel tube 4x12", "", "", "1,205.00", ""),
    ("Permit", "", "job", "180", "2"),
)


def table_of(heads: tuple[str, ...], rows: tuple[tuple[str, ...], ...]) -> CellTable:
    return CellTable(
        tuple(enumerate((heads, *rows), start=1)), "list.csv", ","
    )  # fmt: skip


def facts(found: PriceList) -> list[tuple[object, ...]]:
    return [(row.words, row.sizes, row.per, row.pack, row.price, row.hours) for row in found.rows]


PLAIN = price_list(table_of(HEADS, ROWS), "USD")


def test_columns_are_found_by_their_heads() -> None:
    assert not PLAIN.faults
    assert [row.price for row in PLAIN.rows] == [36.0, 39.0, 22.5, 1205.0, 180.0]
    assert [row.per for row in PLAIN.rows] == ["each", "each", "length", "each", "job"]
    assert PLAIN.rows[1].pack == 10.0
    assert PLAIN.rows[1].sizes == pytest.approx((0.0381,))
    assert PLAIN.rows[2].pack == pytest.approx(6.096)
    assert PLAIN.rows[2].words == {"schedule", "40", "pipe"}
    assert PLAIN.rows[3].sizes == pytest.approx((1.2192, 3.6576))
    assert PLAIN.rows[0].hours == pytest.approx(1440.0)


@given(st.permutations(range(5)), st.permutations(range(5)), st.integers(0, 5))
def test_any_order_of_columns_and_rows_reads_the_same(
    columns: list[int], rows: list[int], at: int
) -> None:
    def shuffled(row: tuple[str, ...], further: str) -> tuple[str, ...]:
        cells = [row[column] for column in columns]
        return (*cells[:at], further, *cells[at:])

    body = tuple(shuffled(ROWS[number], "x") for number in rows)
    found = price_list(table_of(shuffled(HEADS, "Supplier"), body), "USD")
    assert not found.faults
    assert facts(found) == [facts(PLAIN)[number] for number in rows]


@given(st.lists(st.lists(st.text(max_size=12), max_size=6), max_size=12))
def test_every_row_that_is_not_empty_is_used_or_told(rows: list[list[str]]) -> None:
    body = [(line, tuple(row)) for line, row in enumerate(rows, start=2)]
    filled = tuple((line, row) for line, row in body if any(cell.strip() for cell in row))
    found = price_list(CellTable(((1, HEADS), *filled), "list.csv", ","), "USD")
    told = {row.line for row in found.rows} | {fault.line for fault in found.faults}
    assert told == {line for line, _ in filled}


@pytest.mark.parametrize(
    ("row", "why"),
    [
        (("", "", "", "5", ""), "no name"),
        (("Fittings", "", "", "", ""), "no price"),
        (("Tee", "2 in", "each", "ask", ""), "'ask' is no amount"),
        (("Tee", "2 in", "each", "-3", ""), "'-3' is no amount"),
        (("Tee", "2 in", "each", "12 EUR", ""), "in EUR"),
        (("Tee", "2 in", "fortnight", "3", ""), "'fortnight' is not known"),
        (("Tee", "big", "each", "3", ""), "'big' can't be read"),
        (("Tee", "10", "each", "3", ""), "'10' can't be read"),  # inches or millimetres
        (("Tee", "2 in", "each", "3", "soon"), "'soon' are no number"),
        (("swing check valve", "50.8 mm", "each", "3", ""), "row 2 has the same part"),
    ],
)
def test_a_row_that_is_not_used_says_why(row: tuple[str, ...], why: str) -> None:
    found = price_list(table_of(HEADS, (*ROWS, row)), "USD")
    assert [fault.line for fault in found.faults] == [7]
    assert why in found.faults[0].why
    assert facts(found) == facts(PLAIN)


@pytest.mark.parametrize("head", ["Größe", "GRÖSSE", "Maße", "Abmessungen", "Medida", "Tamaño"])
def test_a_head_of_sizes_in_other_languages(head: str) -> None:
    found = price_list(table_of(("Artikel", head, "Preis"), (("tee", "63 mm", "4"),)), "EUR")
    assert found.rows[0].sizes == pytest.approx((0.063,))


def test_titles_and_blank_rows_before_the_heads_do_no_harm(tmp_path: Path) -> None:
    path = tmp_path / "own.csv"
    text = "Our prices, spring\n,,\n\nqty,part,price\n3,vacuum breaker,24\n\n,,\n4,tee,5.10\n"
    path.write_text(text, encoding="utf-8")
    found = read_price_list(path, "USD")
    assert [(row.line, row.text, row.price) for row in found.rows] == [
        (5, "vacuum breaker", 24.0),
        (8, "tee", 5.10),
    ]
    assert not found.faults


def test_a_list_from_where_the_comma_is_for_decimals(tmp_path: Path) -> None:
    path = tmp_path / "propia.csv"
    text = "artículo;medida;precio;horas\nválvula antirretorno;50 mm;1.234,50 €;0,5\ntee;;8;1\n"
    path.write_bytes(text.encode("cp1252"))
    found = read_price_list(path, "EUR")
    assert [row.price for row in found.rows] == [1234.5, 8.0]
    assert [row.hours for row in found.rows] == [1800.0, 3600.0]
    assert found.notes == ("commas are for decimals",)


def test_more_decimal_commas_than_cells_do_not_cut_a_row(tmp_path: Path) -> None:
    path = tmp_path / "kurz.csv"
    path.write_text("Part;Price\npanel, tube 4x10;178,00\nvacuum breaker, 2 in;24,50\n")
    found = read_price_list(path, "EUR")
    assert [(row.text, row.price) for row in found.rows] == [
        ("panel, tube 4x10", 178.0),
        ("vacuum breaker, 2 in", 24.5),
    ]


@pytest.mark.parametrize(
    ("price", "currency", "why"),
    [
        ("R$ 12", "BRL", ""),
        ("$12", "MXN", ""),
        ("A$12", "AUD", ""),
        ("R 12", "ZAR", ""),
        ("$12 CAD", "USD", "in CAD"),
        ("US$12", "AUD", "in USD"),
        ("R$ 12", "USD", "in BRL"),
        ("200000000", "USD", "no amount"),
    ],
)
def test_a_sign_of_another_currency_is_told(price: str, currency: str, why: str) -> None:
    found = price_list(table_of(HEADS, (("Tee", "2 in", "each", price, ""),)), currency)
    if why:
        assert not found.rows
        assert why in found.faults[0].why
    else:
        assert [row.price for row in found.rows] == [12.0]


def test_an_amount_of_the_other_kind_in_the_same_column_is_told_not_guessed() -> None:
    rows = (("tee", "", "", "3,50", ""), ("elbow", "", "", "12.75", ""))
    found = price_list(table_of(HEADS, rows), "USD")
    assert [row.price for row in found.rows] == [3.5]
    assert found.faults[0].why == "its price '12.75' is no amount"


def test_of_two_columns_of_prices_the_first_is_used_and_that_is_told() -> None:
    table = table_of(("Part", "Cost", "List price"), (("tee", "3", "5"),))
    found = price_list(table, "USD")
    assert found.rows[0].price == 3.0
    assert found.notes == ("of the columns 'Cost' and 'List price' the first is used",)


def test_a_workbook_reads_as_its_csv(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    book.active.title = "Cover"
    book.active["A1"] = "What we sell, April"
    sheet = book.create_sheet("Prices")
    sheet.append([])
    sheet.append(["Part", "Size", "Unit", "Price", "Hours"])
    sheet.append(["check valve, swing", "2 in", "each", 36, 0.4])
    sheet.append(["vacuum breaker", 2, None, 24.5, None])
    sheet.append(["summed", None, None, "=1+1", None])
    path = tmp_path / "own.xlsx"
    book.save(path)
    found = read_price_list(path, "USD")
    assert [(row.line, row.price, row.hours) for row in found.rows] == [
        (3, 36.0, 1440.0),
        (4, 24.5, 0.0),
    ]
    assert found.rows[1].sizes == pytest.approx((0.0508,))
    # No program has reckoned the sum yet, so that the file holds no value.
    assert [(fault.line, fault.why) for fault in found.faults] == [(5, "no price")]
    assert found.source == "own.xlsx, Prices"


def files() -> dict[str, tuple[bytes, str]]:
    packed = io.BytesIO()
    openpyxl.Workbook().save(packed)
    return {
        "empty.csv": (b"", "empty"),
        "blank.csv": (b" \n,,\n", "empty"),
        "heads.csv": (b"a,b\n1,2\n", "no row of heads"),
        "nulls.csv": (b"part,price\n\x00\x01", "null bytes"),
        "old.xls": (b"\xd0\xcf\x11\xe0\xa1\xb1", "old binary form"),
        "broken.xlsx": (packed.getvalue()[:900], "no XLSX"),
        "bare.xlsx": (packed.getvalue(), "empty"),
        "large.csv": (b"x" * 5_000_001, "larger than"),
        "long.csv": (b"part,price\n" + b"tee,1\n" * 20_001, "more than 20000 rows"),
    }


@pytest.mark.parametrize("name", files())
def test_a_file_that_is_no_price_list_is_refused_in_words(tmp_path: Path, name: str) -> None:
    path = tmp_path / name
    content, said = files()[name]
    path.write_bytes(content)
    with pytest.raises(InputError, match=said):
        read_price_list(path, "USD")


def test_a_missing_file_and_a_folder_are_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="no such file"):
        read_price_list(tmp_path / "none.csv", "USD")
    with pytest.raises(InputError, match="folder"):
        read_price_list(tmp_path, "USD")


@given(st.binary(max_size=300))
def test_any_bytes_are_a_list_or_refused(
    tmp_path_factory: pytest.TempPathFactory, raw: bytes
) -> None:
    path = tmp_path_factory.mktemp("any") / "any.csv"
    path.write_bytes(raw)
    try:
        read_price_list(path, "USD")
    except InputError as error:
        assert error.faults


@pytest.mark.parametrize(
    ("text", "comma", "value"),
    [
        ("$1,250.00", False, 1250.0),
        ("1.250,00 €", True, 1250.0),
        ("USD 12", False, 12.0),
        (".50", False, 0.5),
        ("12.-", False, 12.0),
        ("1 250,5", True, 1250.5),
        ("1'250.50 CHF", False, 1250.5),
        ("1’250.50", False, 1250.5),
        ("US$178.00", False, 178.0),
        ("A$ 3.90", False, 3.9),
        ("R$ 1.234,50", True, 1234.5),
        ("R 1 780.00", False, 1780.0),
        ("R1,234.50", False, 1234.5),
        ("$3.90/ea", False, 3.9),
        ("3.9 each", False, 3.9),
        ("Rs 12", False, None),
        ("3 or 4", False, None),
        ("1,25,0", False, None),
        ("12,5", False, None),
        ("n/a", False, None),
    ],
)
def test_amounts(text: str, comma: bool, value: float | None) -> None:
    assert amount(text, comma) == value


def test_the_decimal_sign_is_told_by_what_can_be_read_in_one_way_only() -> None:
    assert decimal_comma(["1,250", "3,50"], ",")
    assert not decimal_comma(["1,250", "3.50"], ";")
    assert not decimal_comma(["1,250,000"], ";")
    assert decimal_comma(["1.250.000"], ",")
    assert decimal_comma(["1,250"], ";")
    assert not decimal_comma(["1,250"], "\t")


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("2 in", (0.0508,)),
        ("2", (0.0508,)),
        ("1 1/2", (0.0381,)),
        ("63 mm", (0.063,)),
        ("63", (0.063,)),
        ("2 x 1-1/2 in", (0.0381, 0.0508)),
        ("4x12", (1.2192, 3.6576)),
        ("4' x 12'", (1.2192, 3.6576)),
        ("1.22 m x 3.05 m", (1.22, 3.05)),
        ("1.87 in bore", (0.047498,)),
        ("", ()),
    ],
)
def test_sizes(text: str, size: tuple[float, ...]) -> None:
    assert sizes(text) == pytest.approx(size)


def test_packs_and_hours() -> None:
    assert pack("per ft") == ("length", pytest.approx(0.3048))
    assert pack("roll of 250 ft") == ("length", pytest.approx(76.2))
    assert pack("m") == ("length", 1.0)
    assert pack("10 pk") == ("each", 10.0)
    assert pack("Lump sum") == ("job", 1.0)
    assert pack("furlong") is None
    assert pack("100 ft roll") == ("length", pytest.approx(30.48))
    assert pack("250' spool") == ("length", pytest.approx(76.2))
    assert pack("bag/25") == ("each", 25.0)
    assert pack("pk of 10") == ("each", 10.0)
    assert hours("30 min", False) == 1800.0
    assert hours("1,5", True) == 5400.0
    assert hours("-1", False) is None
