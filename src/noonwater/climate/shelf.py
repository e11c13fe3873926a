"""Answers of weather services kept on disk, one file a service and place.

A file holds the rows as they came and a fingerprint of them. It is written whole or not at all: to
a name of its own beside it, then moved into place. What can't be read or doesn't match its
fingerprint counts as damaged and is fetched again.
"""

from __future__ import annotations

import hashlib
import json
import os
import tempfile
import zipfile
from contextlib import suppress
from dataclasses import dataclass, fields
from pathlib import Path

import numpy as np

from noonwater.climate.samples import Instants, Samples
from noonwater.climate.weather_year import FloatArray

LAYOUT = 1
"""Of the files; another number is another folder."""

PLAIN = tuple(
    entry.name for entry in fields(Samples) if entry.name not in ("stamps", "columns", "notes")
)


@dataclass(frozen=True, eq=False)
class Kept:
    """What lies on the shelf for a place.

    Attributes
    ----------
    path : Path
        Where it lies, or would.
    samples : Samples or None
        None where nothing lies, or nothing whole. [SI]
    damaged : bool
        Something lies there that can't be used.
    """

    path: Path
    samples: Samples | None = None
    damaged: bool = False


def taken(service: str, latitude: float, longitude: float) -> Kept:
    """Take an answer from the shelf.

    Parameters
    ----------
    service : str
        Who gave it.
    latitude, longitude : float
        Rounded. [°]

    Returns
    -------
    Kept
        With the answer where it is whole.
    """
    path = path_of(service, latitude, longitude)
    try:
        # Opened here: numpy leaves a file open that is no archive.
        with path.open("rb") as file, np.load(file, allow_pickle=False) as stored:
            told = json.loads(str(stored["about"]))
            names = told.pop("columns")
            values = [stored[f"column_{number}"] for number in range(len(names))]
            stamps = stored["stamps"].astype("datetime64[s]")
        if told.pop("fingerprint") != _fingerprint(stamps, values):
            return Kept(path, damaged=True)
        samples = Samples(
            stamps=stamps,
            columns=dict(zip(names, values, strict=True)),
            notes=tuple(told.pop("notes")),
            **told,
        )
    except FileNotFoundError:
        return Kept(path)
    except (OSError, ValueError, KeyError, TypeError, EOFError, zipfile.BadZipFile):
        return Kept(path, damaged=path.exists())
    return Kept(path, samples)


def put(service: str, latitude: float, longitude: float, samples: Samples) -> Path | None:
    """Put an answer on the shelf.

    Parameters
    ----------
    service : str
        Who gave it.
    latitude, longitude : float
        Rounded. [°]
    samples : Samples
        The answer. [SI]

    Returns
    -------
    Path or None
        Where it lies; None where the disk can't be written, which costs a fetch and no answer.
    """
    path = path_of(service, latitude, longitude)
    values = list(samples.columns.values())
    about = {name: getattr(samples, name) for name in PLAIN}
    about |= {"columns": list(samples.columns), "notes": list(samples.notes)}
    about["fingerprint"] = _fingerprint(samples.stamps, values)
    arrays = {f"column_{number}": column for number, column in enumerate(values)}
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(prefix=path.stem, suffix=".part", dir=path.parent)
    except OSError:
        return None
    try:
        with os.fdopen(handle, "wb") as file:
            stamps = samples.stamps.astype("datetime64[s]").astype(np.int64)
            np.savez_compressed(
                file, allow_pickle=False, about=np.array(json.dumps(about)), stamps=stamps, **arrays
            )
        Path(name).replace(path)
    except OSError:
        with suppress(OSError):
            Path(name).unlink()
        return None
    return path


def path_of(service: str, latitude: float, longitude: float) -> Path:
    """Where the answer for a place lies.

    Parameters
    ----------
    service : str
        Who gives it.
    latitude, longitude : float
        Rounded. [°]

    Returns
    -------
    Path
        In the user's cache folder, or in the one that NOONWATER_CACHE names.
    """
    import platformdirs

    folder = os.environ.get("NOONWATER_CACHE") or platformdirs.user_cache_dir("noonwater")
    name = f"{service.replace(' ', '-')}_{latitude:+.2f}_{longitude:+.2f}.npz"
    return Path(folder) / f"weather-{LAYOUT}" / name


def _fingerprint(stamps: Instants, values: list[FloatArray]) -> str:
    digest = hashlib.sha256(np.ascontiguousarray(stamps.astype("datetime64[s]")).tobytes())
    for column in values:
        digest.update(np.ascontiguousarray(column, dtype=np.float64).tobytes())
    return digest.hexdigest()
