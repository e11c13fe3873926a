"""The desk's server: who may ask, what is served as it lies, what a trouble is told as."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from fastapi import FastAPI, Request
from fastapi.encoders import jsonable_encoder
from fastapi.exceptions import RequestValidationError
from fastapi.responses import HTMLResponse, JSONResponse, Response
from fastapi.staticfiles import StaticFiles
from starlette.exceptions import HTTPException
from starlette.middleware.gzip import GZipMiddleware

from noonwater import __version__
from noonwater.app.engine_start import EngineStart
from noonwater.app.store import NoSuchJob, Store
from noonwater.core.errors import InputError, NoonwaterError
from noonwater.web.engine_page import WhileCompiling
from noonwater.web.fault_words import fault_line
from noonwater.web.guard import Guard
from noonwater.web.routes_along import add_along
from noonwater.web.routes_api import add_api
from noonwater.web.routes_engine import add_engine
from noonwater.web.routes_hours import add_hours
from noonwater.web.routes_job import add_job
from noonwater.web.routes_jobs import add_begin, add_jobs
from noonwater.web.routes_long import add_long
from noonwater.web.routes_money import add_money
from noonwater.web.routes_options import add_options
from noonwater.web.routes_paper import add_paper
from noonwater.web.routes_phone import add_phone
from noonwater.web.routes_plant import add_plant
from noonwater.web.routes_revisions import add_revisions
from noonwater.web.routes_telephone import add_telephone
from noonwater.web.trouble_page import trouble_page, wants_page

OPENAPI = "/api/openapi.json"
ROOM = Path(__file__).parent
# The sheets come last: their addresses would take those of the others.
ROUTES = (
    add_api,
    add_engine,
    add_jobs,
    add_begin,
    add_phone,
    add_plant,
    add_revisions,
    add_along,
    add_paper,
    add_hours,
    add_long,
    add_money,
    add_options,
    add_telephone,
    add_job,
)


def create_app(store: Store, guard: Guard | None = None) -> FastAPI:
    """Build the app.

    Parameters
    ----------
    store : Store
        The jobs.
    guard : Guard, optional
        Who may ask; this machine alone if left out.
    """
    app = FastAPI(
        title="Noonwater", version=__version__, docs_url=None, redoc_url=None, openapi_url=OPENAPI
    )
    app.add_middleware(GZipMiddleware, minimum_size=800, compresslevel=5)
    app.state.engine = EngineStart()
    app.add_middleware(WhileCompiling, start=app.state.engine)
    app.state.guard = guard or Guard()
    app.middleware("http")(app.state.guard)
    app.mount("/static", StaticFiles(directory=ROOM / "static"), "static")
    app.mount("/fetched", StaticFiles(directory=ROOM / "fetched"), "fetched")
    _add_troubles(app)
    for add in ROUTES:
        add(app, store)
    return app


def _add_troubles(app: FastAPI) -> None:
    @app.exception_handler(NoSuchJob)
    def nothing_there(request: Request, error: NoSuchJob) -> Response:
        return _told(request, 404, [str(error)])

    @app.exception_handler(InputError)
    def wrong_input(request: Request, error: InputError) -> Response:
        faults = [
            {"field": f.field, "given": f.given, "allowed": f.allowed, "remedy": f.remedy}
            for f in error.faults
        ]
        words = [fault_line(fault) for fault in error.faults]
        return _told(request, 422, words, {"detail": str(error), "faults": faults})

    @app.exception_handler(RequestValidationError)
    def not_told(request: Request, error: RequestValidationError) -> Response:
        plain = {"detail": jsonable_encoder(error.errors())}
        names = sorted({str(each["loc"][-1]) for each in error.errors()})
        words = f"The address or the form does not say rightly: {', '.join(names)}."
        return _told(request, 422, [words], plain)

    @app.exception_handler(NoonwaterError)
    def no_answer(request: Request, error: NoonwaterError) -> Response:
        return _told(request, 409, [str(error)])

    @app.exception_handler(HTTPException)
    def no_such_address(request: Request, error: HTTPException) -> Response:
        return _told(request, error.status_code, [str(error.detail)])


def _told(
    request: Request,
    status: int,
    words: Sequence[str],
    plain: Mapping[str, object] | None = None,
) -> Response:
    """Tell a person by a page, a script by JSON."""
    if wants_page(request):
        return HTMLResponse(trouble_page(status, words), status)
    return JSONResponse(plain or {"detail": words[0]}, status)
