"""The sources as the house wants them: small rooms, words with units, outside checks."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest

from tests.house import PACKAGE, REPOSITORY, Function, files, physics_functions

LONGEST = 400
EVIDENCE = REPOSITORY / "tests" / "reference"
NOMENCLATURE = REPOSITORY / "docs" / "nomenclature"
MODULES = sorted(PACKAGE.rglob("*.py"))
FUNCTIONS = pytest.mark.parametrize("function", physics_functions(), ids=str)


def test_there_is_physics_to_judge() -> None:
    assert len(physics_functions()) > 20


def test_modules_are_short() -> None:
    lines = {path.name: path.read_text(encoding="utf-8").count("\n") for path in MODULES}
    assert not {name: count for name, count in lines.items() if count > LONGEST}


def test_no_module_is_a_drawer() -> None:
    drawers = {"utils", "util", "helpers", "helper", "common", "misc", "tools"}
    assert not [path for path in MODULES if path.stem in drawers]


def test_names_do_not_begin_with_get_or_calc() -> None:
    named = re.compile(r"^\s*def (_?(?:get|calc|calculate|compute)_\w+)", re.MULTILINE)
    found = {path.name: named.findall(path.read_text(encoding="utf-8")) for path in MODULES}
    assert not {name: words for name, words in found.items() if words}


@FUNCTIONS
def test_docstring_names_each_parameter_and_result_with_its_unit(function: Function) -> None:
    parts = re.split(r"^(\w[\w ]*)\n-+\n", function.docstring, flags=re.MULTILINE)
    sections = dict(zip(parts[1::2], parts[2::2], strict=True))
    described = re.findall(
        r"^(\w[\w, ]*) : .*\n((?:[ \t]+.*\n?|\n)+)", sections.get("Parameters", ""), re.MULTILINE
    )
    texts = {name.strip(): text for names, text in described for name in names.split(",")}
    assert set(texts) == set(function.parameters)
    assert not [name for name, text in texts.items() if not has_unit(text)]
    assert function.gives_nothing or has_unit(sections.get("Returns", ""))


@FUNCTIONS
def test_docstring_says_the_range(function: Function) -> None:
    said = re.search(r"(?i)\b(range|exact|definition)\b", function.docstring) is not None
    assert said, "neither a range of validity nor the word that it is exact or a definition"


def has_unit(text: str) -> bool:
    """Whether a unit stands in brackets; [1] alone is a citation."""
    return re.search(r"\[(?!\d+\])[^\]]+\]", text) is not None


@FUNCTIONS
def test_function_has_outside_evidence(function: Function) -> None:
    named = re.compile(rf"\b{function.name}\b")
    assert any(
        named.search(path.read_text(encoding="utf-8")) for path in EVIDENCE.glob("test_*.py")
    ), f"{function} is named in no file of tests/reference"


def listed_words() -> frozenset[str]:
    rows = "\n".join(path.read_text(encoding="utf-8") for path in NOMENCLATURE.glob("*.md"))
    first_cells = re.findall(r"^\|([^|]*)\|", rows, re.MULTILINE)
    return frozenset(word for cell in first_cells for word in re.findall(r"`(\w+)`", cell))


@FUNCTIONS
def test_parameters_are_words_of_the_nomenclature(function: Function) -> None:
    assert not set(function.parameters) - listed_words()


def test_test_files_have_names_of_their_own() -> None:
    names = Counter(path.name for path in (REPOSITORY / "tests").rglob("test_*.py"))
    assert not [name for name, count in names.items() if count > 1]


def test_evidence_says_where_it_comes_from() -> None:
    silent = []
    for path in EVIDENCE.glob("test_*.py"):
        text = path.read_text(encoding="utf-8")
        if not re.search(r"(?i)\b(source|read|from memory|common practice)\b", text):
            silent.append(path.name)
    assert not silent


# Spelt backwards, so that this file does not hold what it looks for.
FOLDERS = [word[::-1] for word in ("emoh", "toor", "krow")]
HOSTS = [word[::-1] for word in ("yrtsiger", "selif", "bed")]
MACHINE = re.compile(
    rf"(?<![\w.])/(?:{'|'.join(FOLDERS)})/|https?://(?:{'|'.join(HOSTS)})\.|[A-Z]:\\\\?Users\\"
)


def text_of(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        return ""


def test_no_file_holds_a_path_of_one_machine_or_an_address_of_a_registry() -> None:
    found = {
        str(path.relative_to(REPOSITORY)): MACHINE.findall(text)
        for path in files()
        if MACHINE.search(text := text_of(path))
    }
    assert not found


def test_the_search_finds_what_it_is_for() -> None:
    folders = [f"see /{folder}/y" for folder in FOLDERS]
    hosts = [f"https://{host}.example.org/z" for host in HOSTS]
    assert all(MACHINE.search(text) for text in (*folders, *hosts))
    for text in (f"frame/{FOLDERS[2]}/loss", f"https://example.org/{HOSTS[1]}/", "../shared"):
        assert not MACHINE.search(text)
