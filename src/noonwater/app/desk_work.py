"""Long work of a job on the desk: named by its content, asked for with all that it needs."""

from __future__ import annotations

from copy import deepcopy
from pathlib import Path

from noonwater.app.desk import View
from noonwater.app.desk_prices import price_file_of
from noonwater.app.work import Piece, Work, piece_of
from noonwater.app.work_kinds import TABLE
from noonwater.core.errors import Fault, InputError

WITH_PRICES = ("money", "tune", "size", "search")
LARGEST_TABLE = 2_000_000
"""[bytes] Of a batch."""


def piece_for(view: View, kind: str, table: bytes | None = None) -> Piece:
    """Name the piece of long work of a kind for a job as it stands.

    Parameters
    ----------
    view : View
        The job.
    kind : str
        Of work.
    table : bytes, optional
        Of a batch.
    """
    return piece_of(kind, view.job, _files(view, kind, table))


def ask_for(work: Work, view: View, kind: str, table: bytes | None = None) -> Piece:
    """Start a piece of long work, or find it done.

    Parameters
    ----------
    work : Work
        Where it is done.
    view : View
        The job.
    kind : str
        Of work.
    table : bytes, optional
        Of a batch.
    """
    piece = piece_for(view, kind, table)
    work.start(piece, _job_file(view), _files(view, kind, table))
    return piece


def _files(view: View, kind: str, table: bytes | None) -> dict[str, bytes]:
    files = {}
    if kind in WITH_PRICES and (prices := price_file_of(view)) is not None:
        files[prices.name] = prices.body
    if kind == "batch":
        if not table or len(table) > LARGEST_TABLE:
            given = "none" if not table else f"larger than {LARGEST_TABLE // 1000} kB"
            raise InputError([Fault("the table", given, "a table of options as CSV")])
        files[TABLE] = table
    return files


def _job_file(view: View) -> str:
    """The job that is computed with, as TOML; its weather file where it lies."""
    import tomli_w

    tables = deepcopy(view.right)
    weather = tables.get("weather")
    if isinstance(weather, dict) and isinstance(weather.get("file"), str):
        weather["file"] = str(Path(weather["file"]).absolute())
    offer = tables.get("money", {}).get("offer")
    if isinstance(offer, dict) and isinstance(offer.get("file"), str):
        offer["file"] = Path(offer["file"]).name
    return tomli_w.dumps(tables)
