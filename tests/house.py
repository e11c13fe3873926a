"""What tests of the house itself read: its files, and the functions of the physics room."""

from __future__ import annotations

import ast
import subprocess
from dataclasses import dataclass
from functools import cache
from pathlib import Path

REPOSITORY = Path(__file__).parent.parent
PACKAGE = REPOSITORY / "src" / "noonwater"
LEFT_BEHIND = {".git", ".venv", ".hypothesis", "__pycache__", "build", "dist", "artefacts"}


@dataclass(frozen=True)
class Function:
    """A public function as its file says."""

    module: str
    name: str
    parameters: tuple[str, ...]
    docstring: str
    gives_nothing: bool

    def __str__(self) -> str:
        return f"{self.module}.{self.name}"


@cache
def physics_functions() -> tuple[Function, ...]:
    """Public functions at the top of the modules of the physics room."""
    found: list[Function] = []
    for path in sorted((PACKAGE / "physics").glob("*.py")):
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
                given = node.args
                names = [arg.arg for arg in (*given.posonlyargs, *given.args, *given.kwonlyargs)]
                nothing = isinstance(node.returns, ast.Constant) and node.returns.value is None
                docstring = ast.get_docstring(node) or ""
                found.append(Function(path.stem, node.name, tuple(names), docstring, nothing))
    return tuple(found)


@cache
def files() -> tuple[Path, ...]:
    """Every file of the repository that a clone holds, with those not committed yet."""
    command = ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"]
    try:
        done = subprocess.run(command, check=True, cwd=REPOSITORY, capture_output=True)
        paths = [REPOSITORY / name for name in done.stdout.decode().split("\0") if name]
    except (OSError, subprocess.CalledProcessError):
        # A copy without its history: everything but what tools leave behind.
        paths = [
            path
            for path in REPOSITORY.rglob("*")
            if not any(
                part in LEFT_BEHIND or part.endswith((".egg-info", "_cache", ".pyc"))
                for part in path.relative_to(REPOSITORY).parts
            )
        ]
    return tuple(sorted(path for path in paths if path.is_file()))
