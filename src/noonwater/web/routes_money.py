"""Routes of prices: a list brought in, the parts given out to be filled in."""

from __future__ import annotations

from typing import Annotated

from fastapi import FastAPI, File, UploadFile
from fastapi.responses import RedirectResponse, Response

from noonwater.app.desk import View
from noonwater.app.desk_money import priced_parts_csv
from noonwater.app.desk_prices import take_prices
from noonwater.app.job_edit import Change
from noonwater.app.price_file import LARGEST
from noonwater.app.store import Store


def add_money(app: FastAPI, store: Store) -> None:
    """Add the price list in and out."""

    @app.post("/jobs/{job}/prices")
    def bring(job: str, prices: Annotated[UploadFile, File()]) -> Response:
        """Keep a price list with the job and let it count."""
        state = store.state(job)
        body = prices.file.read(LARGEST + 1)
        currency = View(state).job.money.currency
        name = take_prices(store.shelf, job, prices.filename or "", body, currency)
        changes = [Change("money.offer.installed"), Change("money.offer.file", name)]
        store.edit(job, state.number, changes)
        return RedirectResponse(f"/jobs/{job}/money", 303)

    @app.get("/jobs/{job}/prices.csv")
    def parts(job: str) -> Response:
        """Give the parts with the prices found."""
        text = priced_parts_csv(View(store.state(job), shelf=store.shelf))
        held = {"Content-Disposition": 'attachment; filename="prices.csv"'}
        return Response(text, media_type="text/csv", headers=held)
