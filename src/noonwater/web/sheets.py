"""All sheets of a job, in the order of the work."""

from __future__ import annotations

from noonwater.web.sheet import Sheet
from noonwater.web.sheet_season import SEASON
from noonwater.web.sheet_survey import SURVEY

SHEETS: tuple[Sheet, ...] = (SURVEY, SEASON)
"""In the order of the work; a sheet whose engine is not there is not here."""


def sheet_of(key: str) -> Sheet | None:
    """Find a sheet by its key."""
    return next((sheet for sheet in SHEETS if sheet.key == key), None)
