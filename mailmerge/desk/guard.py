"""The guard around everything that the desk answers: who asks, from where, and how much comes.

One place, before any page: what it does not let through reaches no code of a page. It refuses other
hosts (a name that somebody else's server has pointed at this computer), other sites (a page
elsewhere that lets the browser send a form here), whoever has not been let in, and bodies that are
too large; and it sends along what the browser may do with an answer.
"""

from __future__ import annotations

import hmac
from collections.abc import Mapping
from dataclasses import dataclass
from http.cookies import CookieError, SimpleCookie

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from mailmerge.desk import words

ENTRY = "/enter"
"""The address that lets a browser in, with the secret behind it."""

MOST_OF_A_FORM = 300_000
"""Bytes of a request's body, where its address takes no files."""

_SAFE = frozenset({"GET", "HEAD"})
_ANSWERED = _SAFE | {"POST"}

_ALLOWED = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; "
    "connect-src 'self'; manifest-src 'self'; form-action 'self'; base-uri 'none'; "
    "frame-ancestors 'none'"
)

_ALWAYS = {
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=()",
}


@dataclass(frozen=True)
class Door:
    """Where the desk answers, and the secret that lets a browser in."""

    hosts: frozenset[str]
    """Host and port, as a browser names them."""
    secret: str
    cookie: str
    """The name of the cookie: one for each port, for cookies are shared between them."""
    most: Mapping[str, int]
    """Endings of addresses that take files, and the most bytes that each takes."""


class Guard:
    """Answers what may not be asked, and hands on what may."""

    def __init__(self, app: ASGIApp, door: Door) -> None:
        self._app = app
        self._door = door

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        if scope["type"] != "http":  # nothing here speaks anything else
            await send({"type": "websocket.close", "code": 1008})
            return
        headers = Headers(scope=scope)
        refused = self._refusal(scope, headers)
        if refused is not None:
            answer = PlainTextResponse(refused, 403, dict(_ALWAYS))
            await answer(scope, receive, _sealed(send))
            return
        if scope["method"] not in _ANSWERED:
            allowed = {**_ALWAYS, "Allow": ", ".join(sorted(_ANSWERED))}
            await PlainTextResponse(words.OTHER_METHOD, 405, allowed)(scope, receive, _sealed(send))
            return
        most = self._most(scope["path"])
        said = headers.get("content-length", "0")
        if not said.isdecimal() or len(said) > 12 or int(said) > most:
            answer = PlainTextResponse(words.too_large(most), 413, dict(_ALWAYS))
            await answer(scope, receive, _sealed(send))
            return
        await self._app(scope, _bounded(receive, most), _sealed(send))

    def _refusal(self, scope: Scope, headers: Headers) -> str | None:
        """Return why a request is not answered; None if it is."""
        # Of a header that stands there twice, each has to be right: nobody knows which one counts.
        if headers.getlist("host") not in [[host] for host in self._door.hosts]:
            return words.OTHER_HOST
        own = f"http://{headers['host']}"
        if any(origin != own for origin in headers.getlist("origin")):
            return words.OTHER_SITE
        # A link on another page, or in a mail that the browser shows, comes from another site.
        is_entry = scope["path"] == ENTRY and scope["method"] in _SAFE
        site = headers.get("sec-fetch-site")
        sites = set(headers.getlist("sec-fetch-site"))
        if not sites <= {"same-origin", "none"} and not is_entry:
            return words.OTHER_SITE
        if scope["method"] not in _SAFE and "origin" not in headers and site != "same-origin":
            return words.OTHER_SITE
        if not is_entry and not self._is_let_in(headers):
            return words.NOT_LET_IN
        return None

    def _is_let_in(self, headers: Headers) -> bool:
        try:
            cookies = SimpleCookie(headers.get("cookie", ""))
        except CookieError:
            return False
        shown = cookies.get(self._door.cookie)
        return shown is not None and is_secret(shown.value, self._door.secret)

    def _most(self, path: str) -> int:
        return next(
            (most for ending, most in self._door.most.items() if path.endswith(ending)),
            MOST_OF_A_FORM,
        )


def is_secret(shown: str, secret: str) -> bool:
    """Whether somebody has shown the secret; how long it takes does not tell how much is right."""
    return hmac.compare_digest(shown.encode(), secret.encode())


class TooLarge(Exception):
    """More has come than a request may bring."""


def _bounded(receive: Receive, most: int) -> Receive:
    """Return what receives a body, and stops where more comes than was said."""
    so_far = 0

    async def bounded() -> Message:
        nonlocal so_far
        message = await receive()
        so_far += len(message.get("body", b""))
        if so_far > most:
            raise TooLarge
        return message

    return bounded


def _sealed(send: Send) -> Send:
    """Return what sends an answer with everything that the browser is to keep to."""

    async def sealed(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in _ALWAYS.items():
                headers.setdefault(name, value)
            headers.setdefault("Content-Security-Policy", _ALLOWED)
            headers.setdefault("Cache-Control", "no-store")
        await send(message)

    return sealed
