"""The demo jobs: scenarios of our own invention, with invented names."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path

from noonwater.core.errors import Fault, InputError

FOLDER = Path(__file__).parent / "demos"


@dataclass(frozen=True)
class Demo:
    """A demo job: its name, and one line on what it shows."""

    name: str
    summary: str


def demos() -> list[Demo]:
    """List the demo jobs."""
    files = sorted(FOLDER.glob("*.toml"))
    return [Demo(file.stem, _summary(file.read_text(encoding="utf-8"))) for file in files]


def demo_text(name: str) -> str:
    """Give the job file of a demo job.

    Raises
    ------
    InputError
        For a name that no demo job has.
    """
    names = [demo.name for demo in demos()]
    if name not in names:
        near = get_close_matches(name, names, 1, 0.5)
        remedy = f'did you mean "{near[0]}"?' if near else ""
        raise InputError([Fault("demo job", f'"{name[:60]}"', ", ".join(names), remedy)])
    return (FOLDER / f"{name}.toml").read_text(encoding="utf-8")


def new_job(path: Path | str, name: str) -> Path:
    """Write a demo job as the start of a job of one's own; never over a file that is there.

    Parameters
    ----------
    path : Path or str
        File to write.
    name : str
        Demo job to start from.

    Raises
    ------
    InputError
        Where no file can be written, or the demo job doesn't exist.
    """
    path, text = Path(path), demo_text(name)

    def refuse(given: str, allowed: str, remedy: str = "") -> InputError:
        return InputError([Fault(str(path), given, allowed, remedy)])

    try:
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(text)
        _write_price_list(text, path.parent)
    except FileExistsError:
        what = "a folder" if path.is_dir() else "there already"
        raise refuse(what, "a file that is not there yet", "choose another name") from None
    except FileNotFoundError:
        folder = path.parent
        raise refuse("its folder is not there", "a folder that exists", f"make {folder}") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise refuse(f"can't be written: {reason}", "a place that can be written") from None
    return path


def _write_price_list(text: str, folder: Path) -> None:
    """Put the price list that a demo job names beside it, unless one is there."""
    offer = tomllib.loads(text).get("money", {}).get("offer", {})
    name = str(offer.get("file", ""))
    if name and not (folder / name).exists():
        (folder / name).write_bytes((FOLDER / name).read_bytes())


def _summary(text: str) -> str:
    return text.partition("\n")[0].lstrip("# ").strip()
