"""A sheet of the desk: one part of the work on one page."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import htpy as h

from noonwater.app.desk import View


@dataclass(frozen=True)
class Sheet:
    """One sheet.

    Attributes
    ----------
    key : str
        In its address.
    name : str
        In the row of sheets.
    title : str
        At its head: what is done here.
    body : callable
        Gives what stands on it for a view of the job.
    scripts : tuple of str
        Modules of web/static that draw on it.
    holds : tuple of str
        Fields and tables of the job that stand on it.
    """

    key: str
    name: str
    title: str
    body: Callable[[View], h.Node]
    scripts: tuple[str, ...] = ()
    holds: tuple[str, ...] = ()
