"""Who may ask: this machine's own browser, and from outside the holder of the token.

A page of another site must not reach the desk through the browser (the Host and Origin are looked
at), and nothing that a job says may load or run anything (the policy of every answer says so).
"""

from __future__ import annotations

import hmac
import secrets
import threading
from collections.abc import Awaitable, Callable

from starlette.requests import Request
from starlette.responses import HTMLResponse, PlainTextResponse, RedirectResponse, Response

from noonwater.web.trouble_page import refused_page, wants_page

TOKEN = "noonwater-token"
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; font-src 'self'; "
    "img-src 'self' data: blob:; connect-src 'self'; form-action 'self'; base-uri 'none'; "
    "frame-ancestors 'none'; manifest-src 'self'"
)
LOCAL = ("127.0.0.1", "localhost", "[::1]")
REACHED_HERE = ("127.0.0.1", "localhost", "::1")
SAFE = ("GET", "HEAD")
AGE = 30 * 24 * 3600
"""[s] The phone stays let in for so long, if the desk runs so long."""

NO_CODE = "Scan the code that the desk shows under “On the phone”: it holds the token."
USED = (
    "This code has let another browser in. At the desk open “On the phone”, make a new code, and "
    "scan that one."
)
Next = Callable[[Request], Awaitable[Response]]


class Guard:
    """Looks at every request before anything else does.

    The token in the printed code opens the desk once: the browser that brings it first is given a
    secret of its own, and from then on only that browser gets in, until a new code is made.

    Parameters
    ----------
    hosts : tuple of str
        Names that the desk answers to beside those of this machine's own.
    token : str
        What a caller from outside has to bring; empty where none may come.
    """

    def __init__(self, hosts: tuple[str, ...] = (), token: str = "") -> None:
        self.outside = hosts
        self._token = token
        self._holder = ""
        self._lock = threading.Lock()

    @property
    def token(self) -> str:
        """Token of the code that nobody has used yet; empty where there is none."""
        with self._lock:
            return "" if self._holder else self._token

    def new_token(self) -> str:
        """Make a new code; who held the old one is out."""
        with self._lock:
            self._token, self._holder = secrets.token_urlsafe(24), ""
            return self._token

    async def __call__(self, request: Request, follow: Next) -> Response:
        """Let a request through, or say why not."""
        host = _name(request.headers.get("host", ""))
        if host not in (*LOCAL, *self.outside):
            return _refused(request, "Not the desk's own address.", 421)
        origin = request.headers.get("origin")
        if request.method not in SAFE and origin is not None:
            where = origin.partition("://")[2]
            if where != request.headers.get("host"):
                return _refused(request, "Another site may not write here.", 403)
        if not from_here(request) and (refusal := self._outside(request)) is not None:
            return refusal
        response = await follow(request)
        response.headers.setdefault("Content-Security-Policy", POLICY)
        response.headers["X-Content-Type-Options"] = "nosniff"
        response.headers["Referrer-Policy"] = "same-origin"
        return response

    def _outside(self, request: Request) -> Response | None:
        shown = request.query_params.get("token", "")
        held = request.cookies.get(TOKEN, "")
        with self._lock:
            known = self._holder and _same(held, self._holder)
            if known and not shown:
                return None
            if not known and not (shown and self._token and _same(shown, self._token)):
                return _refused(request, NO_CODE, 401)
            if not known and self._holder:
                return _refused(request, USED, 401)
            self._holder = self._holder or secrets.token_urlsafe(24)
            reply = RedirectResponse(str(request.url.remove_query_params("token")), 303)
            reply.set_cookie(TOKEN, self._holder, httponly=True, samesite="strict", max_age=AGE)
            return reply


def from_here(request: Request) -> bool:
    """Whether a request comes to this machine's own address.

    The name that a caller writes into its request says nothing: the address that it reached does.
    """
    server = request.scope.get("server")
    return (
        _name(request.headers.get("host", "")) in LOCAL
        and server is not None
        and str(server[0]).strip("[]") in REACHED_HERE
    )


def _refused(request: Request, words: str, status: int) -> Response:
    if not wants_page(request):
        return PlainTextResponse(words, status)
    held = {"Content-Security-Policy": POLICY, "X-Content-Type-Options": "nosniff"}
    return HTMLResponse(refused_page(words), status, held)


def _name(host: str) -> str:
    name, colon, port = host.rpartition(":")
    return name if colon and port.isdecimal() else host


def _same(one: str, other: str) -> bool:
    return hmac.compare_digest(one.encode(), other.encode())
