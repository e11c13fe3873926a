"""How a process that works for another behaves."""

from __future__ import annotations

import os
import signal
import threading
from multiprocessing import parent_process


def begin_as_child() -> None:
    """Leave Ctrl-C to the parent, which decides what it means, and end when the parent is gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    parent = parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)
