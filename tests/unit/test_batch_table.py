"""Tables of a batch: CSV and Parquet read as streams, bad rows and wrong heads told."""

from __future__ import annotations

import datetime
from pathlib import Path

import pyarrow as pa
import pyarrow.parquet as pq
import pytest

from noonwater.app.batch_table import Row, open_table, setting_of
from noonwater.core.errors import InputError


def rows_of(path: Path) -> list[Row]:
    return list(open_table(path).rows())


@pytest.mark.parametrize("mark", [",", ";", "\t"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize("first", ["", "\ufeff"])
def test_csv_as_spreadsheets_write_it(tmp_path: Path, mark: str, end: str, first: str) -> None:
    lines = [
        mark.join(["pool.target", "array.banks[0].panels", "job", ""]),
        mark.join(["84 °F", "8", "one.toml", ""]),
        mark * 3,
        mark.join(["  ", "-", "", ""]),
    ]
    path = tmp_path / "options.csv"
    path.write_bytes((first + end.join(lines)).encode())
    assert open_table(path).heads == ("pool.target", "array.banks[0].panels", "job")
    assert open_table(path).fields == ("pool.target", "array.banks[0].panels")
    assert rows_of(path) == [
        Row(1, (("pool.target", "84 °F"), ("array.banks[0].panels", "8")), "one.toml"),
        Row(2, (("array.banks[0].panels", "-"),)),
    ]


def test_a_bad_row_is_told_and_the_next_ones_follow(tmp_path: Path) -> None:
    path = tmp_path / "options.csv"
    path.write_bytes(
        b'pool.target,pool.opens\n84 \xc2\xb0F\n"84 F,04-01\n84 \x81F,04-01\n'
        b'84 F,04-01,one more\n"80 F","04-02"\n'
    )
    rows = rows_of(path)
    assert [row.number for row in rows] == [1, 2, 3, 4, 5]
    assert rows[0].trouble == "1 cells under 2 heads"
    assert "CSV" in rows[1].trouble, "a quote that is never closed costs its own row"
    assert "UTF-8" in rows[2].trouble
    assert rows[3].trouble == "3 cells under 2 heads"
    assert rows[4] == Row(5, (("pool.target", "80 F"), ("pool.opens", "04-02")))


def test_a_degree_sign_as_a_spreadsheet_on_windows_writes_it(tmp_path: Path) -> None:
    path = tmp_path / "options.csv"
    path.write_bytes("name,pool.target\nkühl,80 °F\n".encode("cp1252"))
    assert rows_of(path) == [Row(1, (("name", "kühl"), ("pool.target", "80 °F")))]


def test_parquet_with_numbers_gaps_and_dates(tmp_path: Path) -> None:
    path = tmp_path / "options.parquet"
    columns = {
        "pool.target": ["84 °F", None, " 80 °F "],
        "array.banks[0].panels": [8.0, float("nan"), 6.0],
        "pool.opens": [datetime.date(2024, 4, 1)] * 2 + [None],
        "pool.cover.months": [[1, 2], None, [3]],
    }
    pq.write_table(pa.table(columns), path)
    assert [dict(row.cells) for row in rows_of(path)] == [
        {
            "pool.target": "84 °F",
            "array.banks[0].panels": 8.0,
            "pool.opens": "04-01",
            "pool.cover.months": [1, 2],
        },
        {"pool.opens": "04-01"},
        {"pool.target": "80 °F", "array.banks[0].panels": 6.0, "pool.cover.months": [3]},
    ]


def test_a_cell_is_what_a_job_file_would_hold() -> None:
    assert setting_of("84 °F") == "84 °F"
    assert setting_of("8") == 8
    assert setting_of(8.0) == 8
    assert setting_of("[1, 2]") == [1, 2]
    assert setting_of("true") is True
    assert setting_of('{ source = "shipped", year = "Miami" }') == {
        "source": "shipped",
        "year": "Miami",
    }
    assert setting_of("-") is None


@pytest.mark.parametrize(
    ("heads", "field", "said"),
    [
        ("pool.targt", 'head "pool.targt"', 'did you mean "target"?'),
        ("pumps.solar_speed", 'head "pumps.solar_speed"', 'did you mean "pump"?'),
        ("pool.target,pool.target", 'head "pool.target"', "each field once"),
        ("pool target", 'head "pool target"', "no path of a field"),
        ("pool[0].target", 'head "pool[0].target"', "no list at [0]"),
        ("pool.target.low", 'head "pool.target.low"', "no such key: low"),
        ("", "the file", "no heads"),
    ],
)
def test_wrong_heads_are_told_before_anything_runs(
    tmp_path: Path, heads: str, field: str, said: str
) -> None:
    path = tmp_path / "options.csv"
    path.write_text(f"{heads}\n84 °F\n", encoding="utf-8")
    with pytest.raises(InputError) as caught:
        open_table(path)
    assert caught.value.faults[0].field == field
    assert said in str(caught.value)


@pytest.mark.parametrize(
    "heads",
    ["weather.seed", "weather.file", "weather", "own_panel[0].test.eta0", "pump.program[0].speed"],
)
def test_heads_inside_lists_and_of_any_choice_are_known(tmp_path: Path, heads: str) -> None:
    path = tmp_path / "options.csv"
    path.write_text(f"{heads}\nx\n", encoding="utf-8")
    assert open_table(path).heads == (heads,)


def test_no_table_is_told(tmp_path: Path) -> None:
    broken, foreign = tmp_path / "broken.parquet", tmp_path / "foreign.csv"
    broken.write_bytes(b"PAR1 and no more")
    foreign.write_bytes("pool.target\n84 °F\n".encode("utf-16"))
    for path, said in (
        (tmp_path / "none.csv", "none of this name"),
        (tmp_path, "a folder"),
        (broken, "can't be read"),
        (foreign, "UTF-16"),
    ):
        with pytest.raises(InputError, match=said):
            open_table(path)


def test_parquet_that_breaks_in_the_middle_is_told(tmp_path: Path) -> None:
    path = tmp_path / "options.parquet"
    table = pa.table({"pool.target": [f"{i / 1000} °F" for i in range(50_000)]})
    pq.write_table(table, path, row_group_size=10_000, use_dictionary=False)
    raw = bytearray(path.read_bytes())
    raw[len(raw) // 2 : len(raw) // 2 + 2000] = b"\xff" * 2000
    path.write_bytes(raw)
    with pytest.raises(InputError, match="broken after row"):
        rows_of(path)
