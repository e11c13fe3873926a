"""The money of the demo jobs as a program and as a person reads it, and with wrong price lists."""

from __future__ import annotations

import csv
import json
from contextlib import redirect_stdout
from functools import cache
from io import StringIO
from math import isfinite
from pathlib import Path
from typing import Any

import pytest

from noonwater.app.demos import FOLDER, demos, new_job
from noonwater.app.job_file import read_job_text
from noonwater.app.price_list import read_price_list
from noonwater.cli.main import main
from noonwater.core.errors import InputError

NAMES = [demo.name for demo in demos()]
HILL = FOLDER / "orchard-hill.toml"


def asked(capsys: pytest.CaptureFixture[str], *words: str, code: int = 0) -> dict[str, Any]:
    assert main(["money", *words, "--json"]) == code
    shape: dict[str, Any] = json.loads(capsys.readouterr().out, parse_constant=pytest.fail)
    assert list(shape) == ["ok", "result", "findings", "version"]
    return shape


@cache
def result_of(name: str, folder: Path) -> dict[str, Any]:
    """What the command gives for a demo job, its files written into a folder."""
    out = StringIO()
    with redirect_stdout(out):
        assert main(["money", str(FOLDER / f"{name}.toml"), "--json", "--out", str(folder)]) == 0
    found: dict[str, Any] = json.loads(out.getvalue(), parse_constant=pytest.fail)
    return found


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("made")


@pytest.mark.parametrize("name", NAMES)
def test_money_as_json(name: str, made: Path) -> None:
    shape = result_of(name, made / name)
    assert list(shape) == ["ok", "result", "findings", "version"]
    result = shape["result"]
    assert result["estimate"] == "an estimate, not a guarantee"
    price = result["price"]
    paid = price["total"] - sum(each["amount"] for each in price["incentives"])
    assert price["owner_pays"] == pytest.approx(paid)
    if not price["told_whole"]:
        listed = result["price_list"]
        assert sum(part["cost"] for part in listed["priced"]) == pytest.approx(price["parts"])
        assert listed["without_price"] == []
    life = result["terms"]["life"]
    assert len(result["against"]) == 2
    for each in result["against"]:
        assert len(each["flows"]) == life + 1
        rate = result["terms"]["discount_rate"]
        worth = sum(flow / (1 + rate) ** year for year, flow in enumerate(each["flows"]))
        assert each["net_present_value"] == pytest.approx(worth)
        span = each["saved_first_year_range"]
        assert span["low"] < span["middle"] < span["high"]
        assert isfinite(each["carbon_saved_kg"])
        heat = result["solar"]["heat_kWh"]
        assert each["energy_kWh"] * each["efficiency"] == pytest.approx(heat)


def test_money_is_told_to_an_owner(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    assert main(["money", str(HILL), "--out", str(tmp_path / "new")]) == 0
    said = capsys.readouterr().out
    for words in (
        "This is an estimate, not a guarantee.",
        "the owner pays",
        "in four cases of",
        "Against a propane heater that keeps the pool as warm, solar saves about",
        "Not in the ranges: weather from year to year",
        "licensed",
    ):
        assert words in said
    written = (tmp_path / "new" / "money.csv").read_text(encoding="utf-8")
    years = list(csv.reader(written.splitlines()))
    assert [row[0] for row in years[1:]] == [str(year) for year in range(16)]


def test_the_written_list_prices_the_job_alike(
    capsys: pytest.CaptureFixture[str], made: Path
) -> None:
    first = result_of("orchard-hill", made / "orchard-hill")["result"]
    listed = str(made / "orchard-hill" / "prices.csv")
    again = asked(capsys, str(HILL), "--prices", listed)["result"]
    assert again["price"]["parts"] == pytest.approx(first["price"]["parts"], rel=1e-5)
    assert again["price"]["labour_hours"] == pytest.approx(first["price"]["labour_hours"], rel=1e-3)
    assert again["price_list"]["rows_without_use"] == 0
    assert again["price_list"]["rows_not_used"] == []


def test_a_list_with_gaps_says_so_part_by_part(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    path = tmp_path / "gaps.csv"
    path.write_text("part,price\nelbow 90,4\ntee,ask\nelbow 91,4\n", encoding="utf-8")
    shape = asked(capsys, str(HILL), "--prices", str(path))
    found = {finding["rule"] for finding in shape["findings"]}
    assert {"parts-without-price", "price-rows-not-used"} <= found
    assert shape["result"]["price"]["complete"] is False
    rows = shape["result"]["price_list"]["rows_not_used"]
    assert [(row["row"], row["text"]) for row in rows] == [(3, "tee")]
    parts = {part["part"] for part in shape["result"]["price_list"]["without_price"]}
    assert "vacuum breaker" in parts
    assert "elbow 90" not in parts


def test_a_job_without_prices_is_told_what_it_lacks(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    text = HILL.read_text(encoding="utf-8").partition("# Prices are invented")[0]
    path = tmp_path / "bare.toml"
    path.write_text(text, encoding="utf-8")
    shape = asked(capsys, str(path))
    rules = [finding["rule"] for finding in shape["findings"]]
    assert rules == ["price-not-told", "electricity-not-told", "nothing-to-hold-against"]
    assert shape["result"]["price"] is None
    assert shape["result"]["against"] == []


def test_an_own_heater_is_held_against_itself_alone(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    path = tmp_path / "own.toml"
    new_job(path, "orchard-hill")
    heater = '\n[heater]\nkind = "gas"\nmonths = [4, 5, 6, 7, 8, 9, 10]\n'
    path.write_text(path.read_text(encoding="utf-8") + heater, encoding="utf-8")
    against = asked(capsys, str(path))["result"]["against"]
    assert [each["own_heater"] for each in against] == [True, False, False]
    own, propane = against[:2]
    assert own["kind"] == propane["kind"] == "propane"
    # Part of solar's heat keeps the pool above the heater's set point: less than all is saved.
    assert 0.0 < own["energy_kWh"] < propane["energy_kWh"]
    assert main(["money", str(path)]) == 0
    assert "With the own heater kept at its set point" in capsys.readouterr().out
    bare = path.read_text(encoding="utf-8").replace('kind = "propane"', 'kind = "heat pump"')
    bare = bare.replace('price_by_volume = "2.90 USD/gal"\n', "").replace('efficiency = "82 %"', "")
    path.write_text(bare, encoding="utf-8")
    rules = [finding["rule"] for finding in asked(capsys, str(path))["findings"]]
    assert "own-heater-without-price" in rules


def test_words_follow_the_signs(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    path = tmp_path / "odd.toml"
    text = (FOLDER / "lagoon-court.toml").read_text(encoding="utf-8")
    text = text.replace('installed = "4500 USD"', 'installed = "20000 USD"')
    text = text.replace('file = "demo-prices.csv"', 'installed = "9000 USD"')
    text = text.replace('price = "1.90 USD/therm"', 'price = "0.001 USD/kWh"')
    path.write_text(text, encoding="utf-8")
    assert main(["money", str(path)]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "no more than that of a heat pump it spares" in said
    assert "pays from the first day; so it does in four cases of five." in said
    assert "a year. Against a gas heater" not in said  # money that comes first earns no rate
    assert "more than it saves in the first year and does not return its price." in said


def test_a_pool_that_is_warm_without_solar_saves_nothing(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    path = tmp_path / "warm.toml"
    text = (FOLDER / "lagoon-court.toml").read_text(encoding="utf-8")
    text = text.replace('target = "84 °F"', 'target = "60 °F"')
    path.write_text(text.replace('file = "demo-prices.csv"', 'installed = "9 USD"'), "utf-8")
    shape = asked(capsys, str(path))
    assert [finding["rule"] for finding in shape["findings"]] == ["solar-brings-no-heat"]
    assert shape["result"]["against"] == []
    assert main(["tune", str(path)]) == 2
    assert "the year: solar runs in no hour of it" in capsys.readouterr().err


def test_a_new_job_gets_the_price_list_that_it_names(tmp_path: Path) -> None:
    new_job(tmp_path / "mine.toml", "orchard-hill")
    assert len(read_price_list(tmp_path / "demo-prices.csv", "USD").rows) > 30
    (tmp_path / "demo-prices.csv").write_text("mine", encoding="utf-8")
    new_job(tmp_path / "other.toml", "orchard-hill")
    assert (tmp_path / "demo-prices.csv").read_text(encoding="utf-8") == "mine"


def test_a_price_list_that_is_not_there_is_bad_input(capsys: pytest.CaptureFixture[str]) -> None:
    shape = asked(capsys, str(HILL), "--prices", "nowhere.csv", code=2)
    assert shape["ok"] is False
    assert shape["findings"][0]["where"] == "price list"


@pytest.mark.parametrize(
    ("old", "new", "field", "said"),
    [
        ('above = "1000 kWh"', 'above = "1000 gal"', "money.tiers[0].above", "an energy"),
        ('share = "15 %"', 'amount = "5 USD"\nshare = "15 %"', "money.incentives[0]", "one of"),
        ('file = "demo-prices.csv"', 'file = "a"\ninstalled = "5 USD"', "money.offer", "one of"),
        ('"2.90 USD/gal"', '"2.90 EUR/gal"', "money.alternatives[0].price_by_volume", "USD"),
        ('kind = "electric"', 'kind = "gas"', "money.alternatives[1].price", "a unit of it"),
        ("life = 15", "life = 0", "money.terms.life", "1 to 50"),
        ('"900 kWh", "820 kWh",', '"900 kWh",', "money.house_use", "12"),
    ],
)
def test_what_is_wrong_with_the_money_of_a_job_is_told_at_its_field(
    old: str, new: str, field: str, said: str
) -> None:
    text = HILL.read_text(encoding="utf-8")
    assert old in text
    with pytest.raises(InputError) as caught:
        read_job_text(text.replace(old, new, 1))
    faults = [fault for fault in caught.value.faults if fault.field == field]
    assert faults, caught.value
    assert said in str(faults[0])
