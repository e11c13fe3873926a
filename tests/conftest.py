"""What all tests share: the neighbour folder of reference data, and seeded property tests."""

from __future__ import annotations

import signal
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

REPOSITORY = Path(__file__).parent.parent
SHARED = REPOSITORY.parent / "shared"

settings.register_profile(
    "house",
    derandomize=True,
    deadline=None,
    max_examples=60,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("house")


def pytest_configure() -> None:
    """Take Ctrl-C as a terminal gives it, though the runner was begun in the background.

    A shell lets what it begins there ignore it, and so does every process that a test begins.
    """
    if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
        signal.signal(signal.SIGINT, signal.default_int_handler)


@pytest.fixture(scope="session")
def shared() -> Path:
    """Folder of reference data beside the checkout; the evidence that needs it skips without."""
    if not SHARED.is_dir():
        pytest.skip("evidence not at hand: the folder ../shared is absent")
    return SHARED


@pytest.hookimpl(trylast=True)
def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Name every piece of evidence that this run had to leave out."""
    skipped = terminalreporter.stats.get("skipped", [])
    if skipped:
        terminalreporter.section("evidence left out of this run")
        for report in skipped:
            reason = report.longrepr[2] if isinstance(report.longrepr, tuple) else report.longrepr
            terminalreporter.line(f"{report.nodeid}: {reason}")
