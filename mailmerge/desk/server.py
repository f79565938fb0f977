"""Starting the desk: one address on this computer alone, a secret, and a browser that is let in."""

from __future__ import annotations

import secrets
import socket
import threading
import webbrowser
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from types import FrameType
from urllib.parse import quote

import uvicorn
from starlette.types import ASGIApp

from mailmerge.deeds.known import remember
from mailmerge.deeds.secret import secret_of_desk
from mailmerge.desk import words
from mailmerge.desk.app import MOST, application, bench_application
from mailmerge.desk.asking import Desk
from mailmerge.desk.guard import ENTRY, Door
from mailmerge.findings import InputError

HOST = "127.0.0.1"
PORT = 8417
"""Where the desk answers, if nothing else does: the same every day, so that bookmarks hold."""

_NEXT = 20
"""How many ports above it are tried."""

_LEISURE = 2.0
"""Seconds after which the first page is there, as a rule. Own judgement."""


@dataclass(frozen=True, slots=True)
class Start:
    """A desk that is about to answer."""

    address: str
    """With the secret that lets a browser in."""
    shown: str
    """Without it, for a bookmark."""


def serve(
    order: Path | None,
    port: int | None,
    is_opened: bool,
    say: Callable[[Start], None],
) -> None:
    """Answer until somebody ends it with Ctrl-C.

    Parameters
    ----------
    order
        The order to begin with; None for the page of all orders.
    port
        None for the usual one, or the next that is free.
    is_opened
        Whether to open a browser.
    say
        Called once, when it answers.

    Raises
    ------
    InputError
        There is no such order, or the port is taken.
    """
    known = remember(order) if order else None
    listening = listening_on(HOST, port)
    number = listening.getsockname()[1]
    hosts = frozenset({f"{HOST}:{number}", f"localhost:{number}"})
    door = Door(hosts, secret_of_desk(), f"desk-{number}", MOST)
    desk = Desk()
    to = f"/orders/{known.key}/cups" if known else "/"
    _answer(desk, application(desk, door), door, listening, to, is_opened, say)


def serve_bench(order: Path, port: int | None, say: Callable[[Start], None]) -> None:
    """Let the bench of one order answer the workshop's own network, until Ctrl-C.

    The secret is good for this start alone.

    Raises
    ------
    InputError
        There is no such order, no network, or the port is taken.
    """
    known = remember(order)
    host = _own_address()
    listening = listening_on(host, port, PORT + _NEXT)
    number = listening.getsockname()[1]
    door = Door(frozenset({f"{host}:{number}"}), secrets.token_urlsafe(18), f"bench-{number}", {})
    desk = Desk(bench_of=known.key)
    to = f"/orders/{known.key}/bench"
    _answer(desk, bench_application(desk, door), door, listening, to, False, say)


def _answer(
    desk: Desk, app: ASGIApp, door: Door, listening: socket.socket, to: str, is_opened: bool,
    say: Callable[[Start], None],
) -> None:  # fmt: skip
    """Answer on a socket until somebody ends it."""
    host, number = listening.getsockname()[:2]
    own = f"http://{host}:{number}"
    start = Start(f"{own}{ENTRY}?key={door.secret}&to={quote(to)}", f"{own}{to}")
    config = uvicorn.Config(
        app,
        log_level="warning",
        use_colors=False,
        access_log=False,
        server_header=False,
        timeout_graceful_shutdown=3,
        ws="none",
        lifespan="off",
    )
    leisure = threading.Timer(_LEISURE, lambda: [each() for each in desk.at_leisure])
    leisure.daemon = True

    def begin() -> None:
        say(start)
        if is_opened:
            webbrowser.open(start.address)
        leisure.start()

    server = _Server(config, begin, desk.is_ending.set)
    try:
        server.run(sockets=[listening])
    finally:
        leisure.cancel()
        desk.end()
        listening.close()


def _own_address() -> str:
    """Return this computer's address in the network that it is in; nothing is sent.

    Raises
    ------
    InputError
        It is in none.
    """
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
        try:
            asked.connect(("192.0.2.1", 9))  # an address for documentation (RFC 5737): nobody's
        except OSError:
            raise InputError(words.NO_NETWORK) from None
        return str(asked.getsockname()[0])


class _Server(uvicorn.Server):
    """Says when it answers, and when it is to end: pages that listen for work are let go."""

    def __init__(
        self, config: uvicorn.Config, begin: Callable[[], None], end: Callable[[], None]
    ) -> None:
        super().__init__(config)
        self._begin = begin
        self._end = end

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        """Take in that somebody ends it."""
        self._end()
        super().handle_exit(sig, frame)

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets)
        if self.started:
            self._begin()


def listening_on(host: str, port: int | None, first: int = PORT) -> socket.socket:
    """Return a socket that answers under one of this computer's addresses.

    Parameters
    ----------
    port
        None for the first that is free from ``first`` on.

    Raises
    ------
    InputError
        The port is taken.
    """
    tried = [port] if port is not None else [*range(first, first + _NEXT), 0]
    for number in tried:
        listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        if hasattr(socket, "SO_EXCLUSIVEADDRUSE"):
            listening.setsockopt(socket.SOL_SOCKET, socket.SO_EXCLUSIVEADDRUSE, 1)
        else:
            listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listening.bind((host, number))
        except OSError:
            listening.close()
            continue
        listening.set_inheritable(False)
        return listening
    raise InputError(words.port_taken(tried[0]))
