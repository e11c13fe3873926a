"""Documents that say what is there: commands, decisions, pinned packages."""

from __future__ import annotations

import re
import tomllib
from importlib.metadata import PackageNotFoundError, requires, version

import click
import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from noonwater.cli.main import noonwater
from tests.house import REPOSITORY

README = (REPOSITORY / "README.md").read_text(encoding="utf-8")
DECISIONS = sorted((REPOSITORY / "docs" / "decisions").glob("*.md"))
HEADINGS = ("Context", "Options", "Choice", "Cost", "What would change our mind")


@pytest.mark.parametrize("command", sorted(noonwater.commands))
def test_the_readme_shows_every_command_with_its_options(command: str) -> None:
    assert re.search(rf"\bnoonwater {command}\b", README)
    for parameter in noonwater.commands[command].params:
        if isinstance(parameter, click.Option):
            assert parameter.opts[0] in README, parameter.opts[0]


def test_the_readme_shows_no_command_that_is_not_there() -> None:
    shown = set(re.findall(r"^\s+noonwater (\w+)", README, re.MULTILINE))
    assert shown <= set(noonwater.commands)


def test_the_readme_begins_with_the_job_and_the_two_commands() -> None:
    first = README.index("python3 start.py ")
    second = README.index("python3 start.py test")
    assert first < second < 1500


@pytest.mark.parametrize("path", DECISIONS, ids=lambda path: path.stem)
def test_a_decision_has_its_headings_in_order(path: object) -> None:
    text = path.read_text(encoding="utf-8")  # type: ignore[attr-defined]
    places = [re.search(rf"^## {heading}\b", text, re.MULTILINE) for heading in HEADINGS]
    assert all(places), [word for word, at in zip(HEADINGS, places, strict=True) if not at]
    assert [at.start() for at in places if at] == sorted(at.start() for at in places if at)


def test_decisions_are_numbered_without_doubles() -> None:
    numbers = [path.name[:4] for path in DECISIONS]
    assert all(number.isdecimal() for number in numbers)
    assert len(set(numbers)) == len(numbers)


def pinned() -> dict[str, str]:
    lines = (REPOSITORY / "constraints.txt").read_text(encoding="utf-8").splitlines()
    pins = [line for line in lines if line and not line.startswith("#")]
    for line in pins:
        assert re.fullmatch(r"[A-Za-z0-9._-]+==[A-Za-z0-9.+!_-]+( *;.*)?", line), line
    return {
        canonicalize_name(line.partition("==")[0]): line.partition("==")[2].partition(";")[0]
        for line in pins
    }


def wanted() -> list[Requirement]:
    project = tomllib.loads((REPOSITORY / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    listed = [*project["dependencies"], *project["optional-dependencies"]["test"]]
    return [Requirement(line) for line in listed]


def test_the_constraints_hold_no_address() -> None:
    text = (REPOSITORY / "constraints.txt").read_text(encoding="utf-8")
    assert "://" not in text
    assert "@" not in text
    assert "file:" not in text
    assert "noonwater" not in pinned()


def test_the_constraints_cover_every_dependency_and_theirs() -> None:
    pins, waiting, seen = pinned(), wanted(), set()
    while waiting:
        requirement = waiting.pop()
        name = canonicalize_name(requirement.name)
        if name in seen or (requirement.marker and not requirement.marker.evaluate({"extra": ""})):
            continue
        seen.add(name)
        assert name in pins, f"{name} is not pinned"
        assert requirement.specifier.contains(pins[name], prereleases=True), requirement
        waiting += [Requirement(line) for line in requires(name) or []]
    assert len(seen) > len(wanted())


def test_the_tests_run_with_what_is_pinned() -> None:
    other = {}
    for name, pin in pinned().items():
        try:
            if version(name) != pin:
                other[name] = (pin, version(name))
        except PackageNotFoundError:
            continue
    assert not other, "install with -c constraints.txt, or make constraints.txt anew"
