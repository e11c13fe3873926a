"""`noonwater pack`: papers and index in a folder, and what a wrong wish is told."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pytest
from openpyxl import load_workbook
from pypdf import PdfReader

from noonwater.app.demos import new_job
from noonwater.cli.main import main
from noonwater.document.pack import PAPERS


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return Path(new_job(tmp_path / "my.toml", "orchard-hill"))


def said(path: Path) -> str:
    text = "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(path.read_bytes())).pages)
    return text.replace("\u200b", "")


def test_papers_are_written_in_both_languages_with_an_index(
    job: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "papers"
    words = ["pack", str(job), "--out", str(out), "--json", "--date", "2026-04-30"]
    assert main([*words, "--language", "en", "--language", "es"]) == 0
    result = json.loads(capsys.readouterr().out)["result"]
    assert {(paper["paper"], paper["language"]) for paper in result["papers"]} == {
        (name, code) for name in PAPERS for code in ("en", "es")
    }
    index = (out / "index.html").read_text(encoding="utf-8")
    assert index.count("<!doctype") == 1
    assert "&#39;" not in index[: index.index("</style>")]
    for paper in result["papers"]:
        text = said(Path(paper["path"]))
        assert result["revision"] in text
        assert "2026" in text
        assert Path(paper["path"]).name in index
    assert "bomba" in said(out / "winter-es.pdf")


def test_a_spreadsheet_lies_beside_the_papers(
    job: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "papers"
    assert main(["pack", str(job), "--out", str(out), "--json", "--only", "parts"]) == 0
    result = json.loads(capsys.readouterr().out)["result"]
    assert result["papers"] == []
    assert result["spreadsheets"] == [str(out / "parts.xlsx")]
    heads = [cell.value for cell in next(load_workbook(out / "parts.xlsx").active.iter_rows())]
    assert "Quantity" in heads
    assert "parts.xlsx" in (out / "index.html").read_text(encoding="utf-8")


def test_options_of_the_proposal_can_be_told(job: Path, tmp_path: Path) -> None:
    out = tmp_path / "papers"
    words = ["pack", str(job), "--out", str(out), "--only", "proposal"]
    assert main([*words, "--with", "pool.target=80 °F", "--with", "pool.cover.kind=none"]) == 0
    text = said(out / "proposal-en.pdf")
    assert "pool.target=80 °F" in text
    assert "pool.cover.kind=none" in text


def test_another_price_list_counts_in_the_place_of_the_job_s(job: Path, tmp_path: Path) -> None:
    out, own = tmp_path / "papers", tmp_path / "own.csv"
    own.write_text('Part,Size,Sold by,Price\n"panel, sheet 4x10",,each,1000\n', encoding="utf-8")
    words = ["pack", str(job), "--out", str(out), "--only", "proposal", "--only", "parts"]
    assert main([*words, "--prices", str(own)]) == 0
    # Twelve panels and the six hours told, a quarter on top, tax on the parts.
    price = 1.25 * (12 * 1000.0 + 6 * 62.0) + 0.0675 * 1.25 * 12 * 1000.0
    assert f"from ${price:,.0f}" in said(out / "proposal-en.pdf")
    rows = load_workbook(out / "parts.xlsx").active.iter_rows(values_only=True)
    assert next(row for row in rows if row[1] == "Panel, sheet 4x10")[6] == 1000


@pytest.mark.parametrize(
    ("words", "field"),
    [
        (["--prices", "none.csv"], "none.csv"),
        (["--only", "poem"], "only"),
        (["--language", "fr"], "language"),
        (["--size", "a5"], "size"),
        (["--date", "tomorrow"], "date"),
        (["--profile", "none.toml"], "profile"),
        (["--with", "pool.target=warm"], "pool.target"),
        (["--with", "a=1", "--with", "b=2", "--with", "c=3"], "--with"),
    ],
)
def test_a_wrong_wish_is_told_and_nothing_is_written(
    job: Path,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    words: list[str],
    field: str,
) -> None:
    out = tmp_path / "papers"
    assert main(["pack", str(job), "--out", str(out), *words]) == 2
    error = capsys.readouterr().err
    assert f"{field}: " in error
    assert "allowed: " in error
    assert not out.exists()


def test_every_wish_that_is_wrong_is_told_at_once_and_nothing_is_written(
    job: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "papers"
    words = ["--only", "poem", "--language", "fr", "--size", "a9", "--date", "tuesday",
             "--profile", str(tmp_path / "none.toml"), "--with", "a=b"]  # fmt: skip
    assert main(["pack", str(job), "--out", str(out), *words]) == 2
    told = capsys.readouterr().err
    for name in ("only", "language", "size", "date", "profile", "a"):
        assert f"{name}: " in told
    assert not out.exists()
