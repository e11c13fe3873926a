"""Who may ask: this machine's own browser, and from outside the holder of the token.

A page of another site must not reach the desk through the browser (the Host and Origin are looked
at), and nothing that a job says may load or run anything (the policy of every answer says so).
"""

from __future__ import annotations

import hmac
from collections.abc import Awaitable, Callable

from starlette.requests import Request
from starlette.responses import PlainTextResponse, RedirectResponse, Response

TOKEN = "noonwater-token"
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; font-src 'self'; "
    "img-src 'self' data: blob:; connect-src 'self'; form-action 'self'; base-uri 'none'; "
    "frame-ancestors 'none'; manifest-src 'self'"
)
LOCAL = ("127.0.0.1", "localhost", "[::1]")
SAFE = ("GET", "HEAD")
Next = Callable[[Request], Awaitable[Response]]


class Guard:
    """Looks at every request before anything else does.

    Parameters
    ----------
    hosts : tuple of str
        Names that the desk answers to beside those of this machine's own.
    token : str
        What a caller from outside has to hold; empty where none may come.
    """

    def __init__(self, hosts: tuple[str, ...] = (), token: str = "") -> None:
        self.hosts = (*LOCAL, *hosts)
        self.token = token

    async def __call__(self, request: Request, follow: Next) -> Response:
        """Let a request through, or say why not."""
        host = request.headers.get("host", "").rpartition(":")[0] or request.headers.get("host", "")
        if host not in self.hosts:
            return PlainTextResponse("Not the desk's own address.", 421)
        origin = request.headers.get("origin")
        if request.method not in SAFE and origin is not None:
            where = origin.partition("://")[2]
            if where != request.headers.get("host"):
                return PlainTextResponse("Another site may not write here.", 403)
        if host not in LOCAL and (refusal := self._outside(request)) is not None:
            return refusal
        response = await follow(request)
        response.headers.setdefault("Content-Security-Policy", POLICY)
        response.headers["X-Content-Type-Options"] = "nosniff"
        response.headers["Referrer-Policy"] = "same-origin"
        return response

    def _outside(self, request: Request) -> Response | None:
        shown = request.query_params.get("token", "")
        if self.token and hmac.compare_digest(shown, self.token):
            reply = RedirectResponse(str(request.url.remove_query_params("token")), 303)
            reply.set_cookie(TOKEN, self.token, httponly=True, samesite="strict")
            return reply
        held = request.cookies.get(TOKEN, "")
        if self.token and hmac.compare_digest(held, self.token):
            return None
        return PlainTextResponse("Scan the code that the desk shows: it holds the token.", 401)
