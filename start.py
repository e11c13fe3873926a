"""Set Noonwater up and run it: the one script that a fresh machine needs.

    python3 start.py          set up, then print the year of a demo job
    python3 start.py serve    set up, then open the desk in the browser; more words go to it
    python3 start.py test     set up, then run the tests; more words go to pytest

Needs Python 3.11 or newer with pip and venv, nothing else. Everything goes into the folder .venv
beside this script. This file is kept to what Python 3.8 can read, so that an old Python can at
least be told what is missing.
"""

from __future__ import annotations

import hashlib
import os
import platform
import shutil
import subprocess
import sys
from pathlib import Path

HOUSE = Path(__file__).resolve().parent
VENV = HOUSE / ".venv"
OLDEST = (3, 11)
DEMO = "lagoon-court"
WINDOWS = os.name == "nt"


class Refused(Exception):
    """Something that this script can't mend; its text says what and what to do."""


def main(words: list[str]) -> int:
    """Do what the words ask; gives the exit code."""
    if sys.version_info < OLDEST:
        found = platform.python_version()
        say(f"Noonwater needs Python {dotted(OLDEST)} or newer; this is Python {found}.")
        say(f"Install a newer one, then run it by its name: python{dotted(OLDEST)} start.py")
        return 2
    if words and words[0] not in ("serve", "test"):
        say(f"start.py knows 'serve', 'test' or nothing, not '{words[0]}'.")
        say("  python3 start.py          set up, then print the year of a demo job")
        say("  python3 start.py serve    set up, then open the desk in the browser")
        say("  python3 start.py test     set up, then run the tests")
        return 2
    try:
        if not words:
            return demo()
        return test(words[1:]) if words[0] == "test" else serve(words[1:])
    except Refused as refused:
        say(str(refused))
        return 1
    except KeyboardInterrupt:
        say("Stopped.")
        return 130


def demo() -> int:
    """Set up and print the year of a demo job."""
    python = set_up("")
    job = Path("src", "noonwater", "app", "demos", f"{DEMO}.toml")
    say(f"Running: noonwater year {job}")
    say("")
    code = run([str(python), "-m", "noonwater", "year", str(job)])
    command = python.parent / ("noonwater.exe" if WINDOWS else "noonwater")
    shown = command.relative_to(HOUSE)
    say("")
    if code:
        say(f"The demo job ended with exit code {code}.")
    say(f"The commands are in {shown.parent}; from here: {shown} --help")
    return code


def serve(more: list[str]) -> int:
    """Set up and open the desk; gives its exit code."""
    python = set_up("")
    return run([str(python), "-m", "noonwater", "serve", *more])


def test(more: list[str]) -> int:
    """Set up and run the tests; gives pytest's exit code."""
    python = set_up("test")
    browser_tests = sorted((HOUSE / "tests" / "browser").glob("test_*.py"))
    left_out: list[str] = []
    environment = {}
    if browser_tests:
        chromium = find_chromium() or install_chromium()
        if chromium:
            say(f"Browser for the tests: {chromium}")
            environment["NOONWATER_CHROMIUM"] = chromium
        else:
            left_out = ["-m", "not browser"]
            say("No Chromium was found, so these tests are left out:")
            for path in browser_tests:
                say(f"  {path.relative_to(HOUSE)}")
            say("To run them, install Chromium or name one in NOONWATER_CHROMIUM.")
    say("Running the tests.")
    return run([str(python), "-m", "pytest", *left_out, *more], environment)


def set_up(extra: str) -> Path:
    """Make the virtual environment and install what is pinned; gives its Python."""
    python = VENV / ("Scripts" if WINDOWS else "bin") / ("python.exe" if WINDOWS else "python")
    if not works(python):
        make_venv(python)
    wanted = fingerprint(python)
    # What the tests need includes what the program needs.
    stamps = [VENV / f"set-up-{name}.txt" for name in ("test", "program")]
    enough = stamps[:1] if extra else stamps
    if any(stamp.is_file() and stamp.read_text() == wanted for stamp in enough):
        return python
    say("Installing the pinned packages into .venv; the first time takes some minutes.")
    target = f".[{extra}]" if extra else "."
    pip = [str(python), "-m", "pip", "install", "--disable-pip-version-check", "--no-input"]
    done = quietly([*pip, "-c", "constraints.txt", "-e", target])
    if done.returncode:
        raise Refused(f"{last_lines(done)}\n\n{pip_remedy(done.stdout)}")
    stamps[0 if extra else 1].write_text(wanted)
    return python


def make_venv(python: Path) -> None:
    """Make .venv anew."""
    try:
        import ensurepip  # noqa: F401
        import venv  # noqa: F401
    except ImportError as missing:
        version = dotted(sys.version_info[:2])
        raise Refused(
            f"This Python can't make a virtual environment: {missing.name} is missing.\n"
            f"On Debian and Ubuntu: sudo apt-get install python{version}-venv"
        ) from None
    say("Making a virtual environment in .venv" + (" anew" if VENV.exists() else ""))
    done = quietly([sys.executable, "-m", "venv", "--clear", str(VENV)])
    if done.returncode or not works(python):
        raise Refused(f"{last_lines(done)}\n\nThe virtual environment could not be made in {VENV}.")


def works(python: Path) -> bool:
    """Whether a virtual environment's Python is there, new enough and has pip."""
    if not python.is_file():
        return False
    ask = f"import pip, sys; sys.exit(sys.version_info < {OLDEST!r})"
    try:
        return quietly([str(python), "-c", ask]).returncode == 0
    except Refused:
        return False


def fingerprint(python: Path) -> str:
    """Tell one set of pinned packages, for one folder and one Python, from another."""
    digest = hashlib.sha256(str(HOUSE).encode())
    digest.update(quietly([str(python), "--version"]).stdout.encode())
    for name in ("pyproject.toml", "constraints.txt", "tools/house_build.py"):
        digest.update((HOUSE / name).read_bytes())
    return digest.hexdigest()


def pip_remedy(said: str) -> str:
    """Say in words what pip's complaint means."""
    known = (
        (("No space left", "Errno 28"), "The disk is full: the packages take about 1 GB."),
        (
            (
                "NewConnectionError",
                "NameResolutionError",
                "name resolution",
                "ConnectTimeout",
                "ProxyError",
                "Network is unreachable",
                "ReadTimeoutError",
                "SSLError",
            ),
            "The package index could not be reached: check the network (and a proxy) and run\n"
            "start.py again.",
        ),
        (
            ("No matching distribution", "requires a different Python", "Requires-Python"),
            f"A pinned package does not exist for Python {platform.python_version()} on "
            f"{platform.system()} {platform.machine()}.\n"
            "Use Python 3.11, 3.12 or 3.13.",
        ),
        (
            ("Permission denied", "Access is denied"),
            "A file of .venv can't be written: close programs that use it, or remove .venv.",
        ),
    )
    for signs, remedy in known:
        if any(sign in said for sign in signs):
            return remedy
    return "pip could not install the packages; the lines above are its last words."


def find_chromium() -> str:
    """Find a Chromium that runs: named, on the path, or in a usual place; '' where none is."""
    named = os.environ.get("NOONWATER_CHROMIUM", "")
    if named and not shutil.which(named):
        say(f"NOONWATER_CHROMIUM names {named}, which is no program; looking elsewhere.")
    names = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome",
             "microsoft-edge", "msedge"]  # fmt: skip
    found = [shutil.which(name) for name in [named, *names] if name]
    for pattern in usual_places():
        place = Path(pattern).expanduser()
        inside = str(place.relative_to(place.anchor))
        found += [str(path) for path in sorted(Path(place.anchor).glob(inside), reverse=True)]
    for path in found:
        if path and starts(path):
            return path
    return ""


def usual_places() -> list[str]:
    """List where a Chromium lies on this system when it is not on the path."""
    if WINDOWS:
        roots = ("ProgramFiles", "ProgramFiles(x86)", "LocalAppData")
        folders = [os.environ[root] for root in roots if root in os.environ]
        programs = (
            r"Chromium\Application\chrome.exe",
            r"Google\Chrome\Application\chrome.exe",
            r"Microsoft\Edge\Application\msedge.exe",
            r"ms-playwright\chromium-*\chrome-win*\chrome.exe",
        )
        return [f"{folder}\\{program}" for folder in folders for program in programs]
    if sys.platform == "darwin":
        names = ("Chromium", "Google Chrome", "Microsoft Edge")
        places = [f"{root}/{name}.app/Contents/MacOS/{name}"
                  for root in ("/Applications", "~/Applications") for name in names]  # fmt: skip
        cache = "~/Library/Caches/ms-playwright/chromium-*/chrome-mac*"
        return [*places, f"{cache}/*.app/Contents/MacOS/*"]
    return [
        "/usr/lib/chromium/chromium",
        "/usr/lib64/chromium-browser/chromium-browser",
        "/snap/bin/chromium",
        "/opt/google/chrome/chrome",
        "/var/lib/flatpak/exports/bin/org.chromium.Chromium",
        "~/.cache/ms-playwright/chromium-*/chrome-linux*/chrome",
    ]


def starts(path: str) -> bool:
    """Whether a browser says its version; a transitional package leaves one that doesn't."""
    if WINDOWS:
        return Path(path).is_file()  # there the question would open a window
    try:
        done = subprocess.run(
            [path, "--version"],
            check=False,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            timeout=60,
        )
    except (OSError, subprocess.TimeoutExpired):
        return False
    return done.returncode == 0


def install_chromium() -> str:
    """Install Debian's Chromium where this script may; '' where it may not or it failed."""
    apt = shutil.which("apt-get")
    may = apt and Path("/etc/debian_version").exists() and getattr(os, "geteuid", int)() == 0
    if not apt or not may:
        return ""
    say("No Chromium found; installing Debian's with apt-get, for the browser tests.")
    environment = {"DEBIAN_FRONTEND": "noninteractive"}
    install = [apt, "install", "-y", "--no-install-recommends", "chromium", "fonts-dejavu-core"]
    for command in ([apt, "update"], install):
        done = quietly(command, environment)
        if done.returncode:
            say(last_lines(done))
            say(f"That failed: {' '.join(command[:2])}.")
            return ""
    return find_chromium()


def run(command: list[str], more: dict[str, str] | None = None) -> int:
    """Run a command that speaks for itself; gives its exit code."""
    environment = environment_with(more)
    return subprocess.run(command, check=False, cwd=str(HOUSE), env=environment).returncode


def quietly(
    command: list[str], more: dict[str, str] | None = None
) -> subprocess.CompletedProcess[str]:
    """Run a command and keep what it says for the case that it fails."""
    try:
        return subprocess.run(
            command,
            check=False,
            cwd=str(HOUSE),
            env=environment_with(more),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            encoding="utf-8",
            errors="replace",
        )
    except OSError as error:
        raise Refused(f"{command[0]} could not be started: {error.strerror}") from None


def environment_with(more: dict[str, str] | None) -> dict[str, str]:
    """Environment of commands: this one's without what would lead Python or pip elsewhere."""
    elsewhere = {"PYTHONHOME", "PYTHONPATH", "PIP_USER", "PIP_TARGET", "PIP_PREFIX"}
    kept = {key: value for key, value in os.environ.items() if key not in elsewhere}
    return {**kept, "PYTHONUTF8": "1", **(more or {})}


def last_lines(done: subprocess.CompletedProcess[str]) -> str:
    """Last words of a command that failed."""
    return "\n".join("  | " + line for line in done.stdout.strip().splitlines()[-12:])


def dotted(version: tuple[int, ...]) -> str:
    """Write a version: 3.11."""
    return ".".join(str(part) for part in version)


def say(text: str) -> None:
    """Print at once, so that words stand before those of the command they are about."""
    print(text, flush=True)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
