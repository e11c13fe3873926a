"""All sheets of a job, in the order of the work."""

from __future__ import annotations

import re

from noonwater.web.sheet import Sheet
from noonwater.web.sheet_controls import CONTROLS
from noonwater.web.sheet_money import MONEY
from noonwater.web.sheet_options import OPTIONS
from noonwater.web.sheet_pad import PAD
from noonwater.web.sheet_paper import PAPER
from noonwater.web.sheet_roof import ROOF
from noonwater.web.sheet_season import SEASON
from noonwater.web.sheet_survey import SURVEY
from noonwater.web.sheet_telephone import TELEPHONE
from noonwater.web.sheet_winter import WINTER

SHEETS: tuple[Sheet, ...] = (
    SURVEY,
    ROOF,
    PAD,
    CONTROLS,
    SEASON,
    OPTIONS,
    MONEY,
    WINTER,
    PAPER,
    TELEPHONE,
)
"""In the order of the work; a sheet whose engine is not there is not here."""


def home_of(field: str) -> str:
    """Key of the sheet that a field stands on; the survey's where none says so."""
    path = re.sub(r"\[\d+\]", "", field)
    while path:
        for sheet in SHEETS:
            if path in sheet.holds:
                return sheet.key
        path = path.rpartition(".")[0]
    return SURVEY.key


def sheet_of(key: str) -> Sheet | None:
    """Find a sheet by its key."""
    return next((sheet for sheet in SHEETS if sheet.key == key), None)
