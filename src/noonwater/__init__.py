"""Noonwater: engineering for pools heated by unglazed solar panels.

``read_job`` reads a job file; ``run_year``, ``solve_flow`` and ``check_job`` answer from the job.
Each is loaded when it is first asked for, so that importing the package costs nothing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from noonwater.app.job_file import read_job
    from noonwater.app.study import check_job, run_year, solve_flow

__version__ = "0.1.0"
__all__ = ["__version__", "check_job", "read_job", "run_year", "solve_flow"]

_HOMES = {
    "read_job": "noonwater.app.job_file",
    "run_year": "noonwater.app.study",
    "solve_flow": "noonwater.app.study",
    "check_job": "noonwater.app.study",
}


def __getattr__(name: str) -> Any:
    """Load a public function from its home."""
    if name not in _HOMES:
        raise AttributeError(f"module 'noonwater' has no attribute '{name}'")
    from importlib import import_module

    return getattr(import_module(_HOMES[name]), name)
