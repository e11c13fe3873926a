"""The element that asks for long work, shows how far it is, and shows what came of it."""

from __future__ import annotations

import htpy as h

from noonwater.app.desk import View
from noonwater.app.desk_work import piece_for
from noonwater.app.work_kinds import KINDS

_LONG = h.Element("long-work")


def long_work(view: View, kind: str) -> h.Element:
    """Lay out the place of a kind of long work.

    Parameters
    ----------
    view : View
        The job.
    kind : str
        Of work.
    """
    # It draws itself and asks by itself, outside what an edit redraws; another content asks anew.
    return _LONG(
        id=f"long-{kind}",
        source=f"/jobs/{view.state.job}/long/{kind}",
        content=piece_for(view, kind).key,
        ask=KINDS[kind].ask,
        hx_morph_skip_children=True,
    )


def table_work(view: View) -> h.Element:
    """Lay out the place of a batch: its table is asked for by the form beside it."""
    return _LONG(
        id="long-batch",
        source=f"/jobs/{view.state.job}/long/batch",
        ask=KINDS["batch"].ask,
        table=True,
        hx_morph_skip_children=True,
    )
