"""The published schema: current, true to the demo jobs, and deaf to none of the usual slips."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path

import jsonschema
import pytest

from noonwater.app.demos import demo_text, demos
from noonwater.app.schema import job_schema

PUBLISHED = Path(__file__).parent.parent.parent / "docs" / "job.schema.json"
CHECK = jsonschema.Draft202012Validator(job_schema())
BASE = demo_text("orchard-hill")


def test_it_is_a_schema_and_the_published_one_is_current() -> None:
    jsonschema.Draft202012Validator.check_schema(job_schema())
    told = 'write it anew: "noonwater schema > docs/job.schema.json"'
    assert json.loads(PUBLISHED.read_text(encoding="utf-8")) == job_schema(), told


@pytest.mark.parametrize("name", [demo.name for demo in demos()])
def test_a_demo_is_valid(name: str) -> None:
    CHECK.validate(tomllib.loads(demo_text(name)))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('depth = "5 ft"', "depth = 5"),
        ('depth = "5 ft"', 'depth = "5"'),
        ('depth = "5 ft"', ""),
        ("depth =", "dept ="),
        ('"solid"', '"sollid"'),
        ("panels = 8", "panels = 0"),
        ("panels = 8", 'panels = "8"'),
        ("format = 1", ""),
        ("format = 1", "format = 2"),
        ('"shipped"', '"carried"'),
        ('"08:30"', '"8h30"'),
        ("[4, 5, 9, 10]", "[4, 13]"),
        ("[site]", "[place]"),
    ],
)
def test_a_wrong_job_is_not_valid(old: str, new: str) -> None:
    assert old in BASE
    assert not CHECK.is_valid(tomllib.loads(BASE.replace(old, new)))


def test_every_field_says_what_it_is() -> None:
    schema = job_schema()
    for model in (schema, *schema["$defs"].values()):
        for key, field in model["properties"].items():
            assert len(field["description"]) > 5, key
            assert "default" not in field, key
