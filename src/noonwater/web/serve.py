"""Start the desk on this machine, open the browser, and print the code for a phone."""

from __future__ import annotations

import secrets
import socket
import sys
import threading
import webbrowser
from contextlib import ExitStack, closing
from pathlib import Path
from typing import TYPE_CHECKING

from noonwater.core.errors import Fault, InputError
from noonwater.web.address import no_listener, reaches_others, wrong_host

if TYPE_CHECKING:
    from noonwater.app.engine_start import EngineStart

HERE = "127.0.0.1"
HIGHEST_PORT = 65535
LOAD_AFTER = 1.0
"""[s] The first page comes before the engine is loaded."""


def serve_desk(*, port: int, host: str, data: str | None, open_browser: bool) -> None:
    """Serve until stopped.

    Parameters
    ----------
    port : int
        On this machine.
    host : str
        Address in the local network that a phone may ask; empty for this machine alone.
    data : str or None
        Folder of the jobs; the user's data folder where None.
    open_browser : bool
        Whether to open the first page.

    Raises
    ------
    InputError
        When the port or the address can't be had.
    """
    import uvicorn

    from noonwater.app.store import Store, data_folder
    from noonwater.web.guard import Guard
    from noonwater.web.routes_phone import code_address
    from noonwater.web.server import create_app

    if host and not reaches_others(host):
        raise InputError([wrong_host(host)])
    token = secrets.token_urlsafe(24) if host else ""
    with ExitStack() as held:
        sockets = [held.enter_context(listening(name, port)) for name in (HERE, host) if name]
        store = held.enter_context(closing(Store(Path(data) if data else data_folder())))
        app = create_app(store, Guard((host,) if host else (), token))
        held.callback(app.state.work.close)
        first = f"http://localhost:{port}/"
        print(f"Noonwater is at {first} (stop it with Ctrl-C)", flush=True)
        if host:
            _print_code(code_address(host, port, token))
        _load(app.state.engine)
        if open_browser:
            threading.Timer(0.4, webbrowser.open, [first]).start()
        app.state.work.resume()
        config = uvicorn.Config(app, log_level="warning", access_log=False, lifespan="off")
        uvicorn.Server(config).run(sockets=sockets)


def _load(engine: EngineStart) -> None:
    if not engine.ready:
        print("compiling the engine, once for this version; about a minute", flush=True)
        engine.begin()
        return
    later = threading.Timer(LOAD_AFTER, engine.load)
    later.daemon = True
    later.start()


def listening(host: str, port: int) -> socket.socket:
    """Listen at an address of this machine.

    Parameters
    ----------
    host, port : str, int
        Where.

    Raises
    ------
    InputError
        When it can't be had.
    """
    if not 0 < port <= HIGHEST_PORT:
        remedy = "leave --port out to take the usual one"
        raise InputError([Fault("--port", str(port), f"1 to {HIGHEST_PORT}", remedy)])
    try:
        listener = socket.create_server((host, port))
    except OSError as error:
        raise InputError([no_listener(host, port, error)]) from None
    listener.setblocking(False)
    # Told by its number that it is TCP, the loop sends each piece at once: otherwise an answer's
    # second piece waits some 40 ms for the browser to acknowledge the first.
    return socket.socket(
        listener.family, listener.type, socket.IPPROTO_TCP, fileno=listener.detach()
    )


def _print_code(address: str) -> None:
    import segno

    print("On the phone, in the same network, scan this or type the address below it:")
    segno.make(address, micro=False).terminal(out=sys.stdout, compact=True)
    print(address, flush=True)
