"""Answers for programs: the same JSON as the command line's, described by OpenAPI."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner
from jsonschema import Draft202012Validator
from starlette.testclient import TestClient

from noonwater.app.demos import FOLDER
from noonwater.app.desk_api import VERBS
from noonwater.app.store import Store
from noonwater.app.store_files import job_file
from noonwater.cli.main import noonwater


@pytest.mark.parametrize("verb", ["flow", "parts", "trace", "night", "check", "money"])
def test_an_answer_is_what_the_command_gives(
    desk: TestClient, store: Store, job: str, tmp_path: Path, verb: str
) -> None:
    file = tmp_path / job_file(store.state(job))[0]
    file.write_text(job_file(store.state(job))[1], encoding="utf-8")
    (tmp_path / "demo-prices.csv").write_bytes((FOLDER / "demo-prices.csv").read_bytes())
    told = CliRunner().invoke(noonwater, [verb, str(file), "--json"])
    reply = desk.get(f"/api/jobs/{job}/{verb}")
    assert reply.status_code == 200
    assert reply.json() == json.loads(told.stdout)


def test_a_job_is_given_as_it_was_typed_with_what_is_wrong(desk: TestClient, job: str) -> None:
    sent = {"base": 1, "changes": [{"field": "pool.area", "text": "wide"}]}
    desk.post(f"/jobs/{job}/survey/edit", json=sent)
    found = desk.get(f"/api/jobs/{job}").json()
    assert found["revision"] == 2
    assert found["tables"]["pool"]["area"] == "wide"
    assert found["faults"][0]["field"] == "pool.area"
    assert desk.get(f"/api/jobs/{job}?revision=1").json()["faults"] == []
    assert [each["id"] for each in desk.get("/api/jobs?search=lagoon").json()] == [job]
    refused = desk.get(f"/api/jobs/{job}/flow")
    assert refused.status_code == 422
    assert refused.json()["ok"] is False
    assert refused.json()["findings"][0]["where"] == "pool.area"
    assert desk.get(f"/api/jobs/{job}/flow?revision=1").json()["ok"] is True


def test_what_is_not_there_is_told(desk: TestClient, job: str) -> None:
    assert desk.get("/api/jobs/none").status_code == 404
    assert desk.get(f"/api/jobs/{job}/poem").status_code == 422
    assert desk.get(f"/api/jobs/{job}/trace?state=poem").status_code == 422


def test_the_description_names_every_answer_and_describes_it(desk: TestClient, job: str) -> None:
    described = desk.get("/api/openapi.json").json()
    assert described["openapi"].startswith("3.1")
    assert set(described["paths"]) == {
        "/api/jobs",
        "/api/jobs/{job}",
        "/api/jobs/{job}/{verb}",
        "/api/jobs/{job}/telephone",
    }
    asked = described["paths"]["/api/jobs/{job}/{verb}"]["get"]
    parts = described["components"]["schemas"]
    assert set(parts["Verb"]["enum"]) == set(VERBS)
    shape = asked["responses"]["200"]["content"]["application/json"]["schema"]
    whole = {**shape, "components": described["components"]}
    validator = Draft202012Validator(whole)
    validator.validate(desk.get(f"/api/jobs/{job}/flow").json())
    assert not validator.is_valid({"ok": True})
