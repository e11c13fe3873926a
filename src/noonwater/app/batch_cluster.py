"""A batch's chunks on the workers of a Dask cluster."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from noonwater import __version__
from noonwater.app.batch_plan import Chunk
from noonwater.app.batch_row import run_chunk
from noonwater.app.batch_workers import AHEAD, Done, Work, lost_too_often
from noonwater.core.errors import Fault, InputError, NoonwaterError

if TYPE_CHECKING:
    from distributed import Client

PATIENCE = 30.0
"""[s] For the scheduler to answer, and for its first worker."""
OPTION = "--scheduler"
KINDS = ("", "tcp", "tls", "ws", "wss")
"""Ways to a scheduler; without one it is TCP."""
AN_ADDRESS = "the address of a Dask scheduler, such as tcp://10.0.0.5:8786"


class ClusterWorkers:
    """The workers behind a Dask scheduler; it hands the chunks of a lost one to another.

    Parameters
    ----------
    address : str
        Of the scheduler, "tcp://10.0.0.5:8786".
    work : callable
        What is done with a chunk.

    Raises
    ------
    InputError
        Where there is no scheduler, no worker, or another Noonwater on a worker.
    """

    def __init__(self, address: str, work: Work = run_chunk) -> None:
        self._client, self._work = _connected(address), work
        self._address = address
        self._out: dict[Any, Chunk] = {}

    @property
    def full(self) -> bool:
        """Whether each thread of each worker has its chunk and the next."""
        threads = sum(self._ask(self._client.nthreads).values())
        return len(self._out) >= AHEAD * max(int(threads), 1)

    @property
    def busy(self) -> bool:
        """Whether chunks are out."""
        return bool(self._out)

    def take(self, chunk: Chunk) -> None:
        """Hand out a chunk."""
        self._out[self._ask(self._client.submit, self._work, chunk, pure=False)] = chunk

    def finished(self) -> list[Done]:
        """Wait until one chunk or more is done.

        Raises
        ------
        NoonwaterError
            When a chunk has lost its worker too often, or the scheduler is gone.
        """
        from distributed import KilledWorker, wait

        with self._client.as_current():
            ready = self._ask(wait, list(self._out), return_when="FIRST_COMPLETED").done
        done = []
        for future in ready:
            chunk = self._out.pop(future)
            try:
                result = self._ask(future.result)
            except KilledWorker:
                raise lost_too_often(chunk) from None
            if result.version != __version__:
                raise _other_version(self._address, {result.version})
            done.append((chunk, result))
        return done

    def stop(self) -> None:
        """Take back what is out."""
        for future in self._out:
            future.cancel()
        self.close()

    def close(self) -> None:
        """Leave the cluster as it is."""
        self._client.close()

    def _ask(self, question: Any, *words: Any, **more: Any) -> Any:
        """Ask the scheduler, and say in words when it is gone."""
        from concurrent.futures import CancelledError

        try:
            return question(*words, **more)
        except (CancelledError, OSError, TimeoutError) as error:
            raise NoonwaterError(
                f"the scheduler at {self._address} is gone ({type(error).__name__}); what is done "
                "is kept, and the same command goes on from there"
            ) from None


def _is_address(text: str) -> bool:
    kind, _, place = text.rpartition("://")
    host, _, port = place.rpartition(":")
    return kind in KINDS and bool(host) and port.isdecimal() and 0 < int(port) < 65536


def _connected(address: str) -> Client:
    if not _is_address(address):
        # Asked here, since a client that can't begin waits a minute before it ends.
        raise InputError([Fault(OPTION, f"'{address}'", AN_ADDRESS)])
    try:
        from distributed import Client
    except ImportError:
        given = "given without the package 'distributed'"
        remedy = 'pip install "noonwater[cluster]"'
        raise InputError([Fault(OPTION, given, "with it installed", remedy)]) from None
    try:
        client = Client(address, timeout=PATIENCE, set_as_default=False)
    except (OSError, TimeoutError, ValueError) as error:
        remedy = 'start one with "dask scheduler"'
        given = f"'{address}', no answer: {' '.join(str(error).split())[:120]}"
        raise InputError([Fault(OPTION, given, AN_ADDRESS, remedy)]) from None
    try:
        client.wait_for_workers(1, timeout=PATIENCE)
        found = set(client.run(_version).values())
    except TimeoutError:
        client.close()
        remedy = f'start some with "dask worker {address} --nthreads 1"'
        fault = Fault(OPTION, f"'{address}' has no worker", "one worker or more", remedy)
        raise InputError([fault]) from None
    if found != {__version__}:
        client.close()
        raise _other_version(address, found)
    return client


def _version() -> str:
    try:
        from noonwater import __version__ as version
    except ImportError:
        return "none"
    return version


def _other_version(address: str, found: set[str]) -> InputError:
    given = f"workers at '{address}' have Noonwater {', '.join(sorted(found))}"
    remedy = "install the same version on all machines"
    return InputError([Fault(OPTION, given, f"Noonwater {__version__} as here", remedy)])
