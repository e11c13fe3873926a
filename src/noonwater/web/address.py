"""This machine's address in the local network, and what may be wrong with one that was named."""

from __future__ import annotations

import errno
import ipaddress
import socket

from noonwater.core.errors import Fault

SOMEWHERE = ("203.0.113.1", 9)
"""Of the block kept for examples (RFC 5737): nothing is sent there, its route is looked up."""
EXAMPLE = "192.168.1.20"


def own_address() -> str:
    """Find the address by which this machine reaches others; empty where there is no network."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
        try:
            asked.connect(SOMEWHERE)
            own = str(asked.getsockname()[0])
        except OSError:
            return ""
    return "" if ipaddress.ip_address(own).is_loopback else own


def no_listener(host: str, port: int, error: OSError) -> Fault:
    """Say why nothing can listen at an address.

    Parameters
    ----------
    host, port : str, int
        That were asked for.
    error : OSError
        What the system said.
    """
    if error.errno in (errno.EADDRINUSE, errno.EACCES):
        other = port + 1 if port >= 1024 else 8601
        remedy = f"another program may hold it: try --port {other}"
        return Fault("--port", f"{port}: it can’t be had at {host}", "a port that is free", remedy)
    return wrong_host(host)


def wrong_host(host: str) -> Fault:
    """Say that a name is no address that a phone can reach this machine by."""
    own = own_address()
    remedy = f"try --host {own}" if own else "the settings of the network show it"
    return Fault("--host", host[:60], f"this machine’s own address, such as {EXAMPLE}", remedy)


def reaches_others(host: str) -> bool:
    """Whether a host is one that a phone can type: not this machine alone, not all at once."""
    try:
        address = ipaddress.ip_address(host)
    except ValueError:
        return host != "localhost"
    return not (address.is_loopback or address.is_unspecified)
