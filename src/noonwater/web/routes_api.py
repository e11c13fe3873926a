"""The same answers for programs: JSON in the one shape, described by OpenAPI."""

from __future__ import annotations

from enum import StrEnum
from typing import Any

from fastapi import FastAPI
from fastapi.openapi.utils import get_openapi
from fastapi.responses import Response
from pydantic import BaseModel, Field

from noonwater.app.desk import View
from noonwater.app.desk_api import VERBS, api_answer, api_call
from noonwater.app.store import Store

Verb = StrEnum("Verb", {name: name for name in VERBS})  # type: ignore[misc]


class JobLine(BaseModel):
    """A job in the list."""

    id: str
    name: str
    stage: str
    archived: bool
    changed: str = Field(description="ISO 8601 with its zone")
    revision: int


class TypedFault(BaseModel):
    """What is wrong in a field as it was typed."""

    field: str
    given: str
    allowed: str
    remedy: str


class JobState(BaseModel):
    """A job's newest state."""

    id: str
    revision: int
    made: str = Field(description="ISO 8601 with its zone")
    tables: dict[str, Any] = Field(description="as a job file has it, as typed")
    faults: list[TypedFault]


class ToldFinding(BaseModel):
    """Something to do on site or in the design."""

    rule: str
    severity: str
    where: str
    value: str
    limit: str
    text: str
    source: str
    remedy: str


class Shape(BaseModel):
    """The one shape of answers, as the command line's --json gives it."""

    ok: bool
    result: dict[str, Any] | None = Field(description="each key with its unit")
    findings: list[ToldFinding]
    version: str


class SentCall(BaseModel):
    """What is told in a call."""

    told: dict[str, str] = Field(
        description="by field: state, month, hour, sky, pool, and the readings that the answer "
        "lists; a number with its unit",
        max_length=80,
        examples=[{"month": "Apr", "sky": "clear", "gauge": "14 psi", "felt": "no warmer"}],
    )


REFUSED: dict[int | str, dict[str, Any]] = {
    409: {"model": Shape, "description": "no answer: a solver found none"},
    422: {"model": Shape, "description": "wrong input, each fault as a finding"},
}


def add_api(app: FastAPI, store: Store) -> None:
    """Add the answers for programs and their description."""

    @app.get("/api/jobs", response_model=list[JobLine], tags=["jobs"])
    def jobs(search: str = "", archived: bool = False) -> list[JobLine]:
        """List jobs, the last changed first."""
        return [
            JobLine(
                id=each.id,
                name=each.name,
                stage=each.stage,
                archived=each.archived,
                changed=each.changed,
                revision=each.head,
            )
            for each in store.jobs(search, archived)
        ]

    @app.get("/api/jobs/{job}", response_model=JobState, tags=["jobs"])
    def state(job: str, revision: int | None = None) -> JobState:
        """Give a job as it was typed, and what is wrong in it."""
        view = View(store.state(job, revision))
        faults = [TypedFault(**vars(fault)) for fault in view.faults]
        found = view.state
        return JobState(
            id=found.job,
            revision=found.number,
            made=found.made,
            tables=found.tables,
            faults=faults,
        )

    @app.get("/api/jobs/{job}/{verb}", response_model=Shape, responses=REFUSED, tags=["answers"])
    def answer(
        job: str, verb: Verb, state: str | None = None, revision: int | None = None
    ) -> Response:
        """Answer a verb for a job; the same JSON as the command of this name with --json."""
        view = View(store.state(job, revision), shelf=store.shelf)
        status, text = api_answer(view, verb.value, state)
        return Response(text, status, media_type="application/json")

    @app.post(
        "/api/jobs/{job}/telephone", response_model=Shape, responses=REFUSED, tags=["answers"]
    )
    def call(job: str, sent: SentCall, revision: int | None = None) -> Response:
        """Hold what is told in a call against the job; nothing is kept."""
        view = View(store.state(job, revision), shelf=store.shelf)
        status, text = api_call(view, sent.told)
        return Response(text, status, media_type="application/json")

    def described() -> dict[str, Any]:
        if app.openapi_schema is None:
            routes = [each for each in app.routes if getattr(each, "path", "").startswith("/api/")]
            app.openapi_schema = get_openapi(
                title=app.title, version=app.version, routes=routes,
                description="Quantities are in SI, each key with its unit.",
            )  # fmt: skip
        return app.openapi_schema

    app.openapi = described  # type: ignore[method-assign]
