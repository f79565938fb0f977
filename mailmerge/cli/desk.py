"""The command that starts the desk. What it starts is handed in: no face knows another."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Annotated, Protocol

import typer

from mailmerge.cli import words
from mailmerge.cli.app import MAKE, command
from mailmerge.findings import InputError
from mailmerge.voice import for_a_console


class Start(Protocol):
    """A desk that is about to answer."""

    @property
    def address(self) -> str:
        """With the secret that lets a browser in."""

    @property
    def shown(self) -> str:
        """Without it."""


Saying = Callable[[Start], None]


class Desk(Protocol):
    """What starts the desk."""

    def serve(self, order: Path | None, port: int | None, is_opened: bool, say: Saying) -> None:
        """Answer until Ctrl-C."""

    def serve_bench(self, order: Path, port: int | None, say: Saying) -> None:
        """Let the bench of an order answer the workshop's network, until Ctrl-C."""

    def put_icon(self) -> Path:
        """Put an icon on the desktop."""


@command(MAKE, "desk", "desk gala", "desk gala --bench", "desk --icon", looks=False)
def desk(
    context: typer.Context,
    order: Annotated[
        Path | None, typer.Argument(metavar="ORDER", help="An order to begin with.")
    ] = None,
    port: Annotated[
        int | None,
        typer.Option(min=1024, max=65535, help="Where it answers [default: the usual port]."),
    ] = None,
    no_browser: Annotated[bool, typer.Option("--no-browser", help="Only say the address.")] = False,
    only_bench: Annotated[
        bool,
        typer.Option("--bench", help="Open an order's bench to the workshop's own network."),
    ] = False,
    icon: Annotated[
        bool, typer.Option("--icon", help="Put an icon on the desktop that starts the desk.")
    ] = False,
) -> None:
    """Do the whole job in the browser.

    The desk answers on this computer alone. Ctrl-C ends it; nothing is lost.
    """
    starts: Desk = context.obj
    if icon:
        typer.echo(words.icon_put(starts.put_icon()))
    elif only_bench:
        if order is None:
            raise InputError(words.BENCH_OF_WHICH)
        with _until_ended():
            starts.serve_bench(order, port, _say_bench)
    else:
        with _until_ended():
            starts.serve(order, port, not no_browser, _say_desk)


@contextmanager
def _until_ended() -> Iterator[None]:
    """Take Ctrl-C for what ends the desk: nothing is called off by it."""
    try:
        yield
    except KeyboardInterrupt:
        typer.echo(words.DESK_HAS_ENDED)


def _say_desk(start: Start) -> None:
    typer.echo(words.desk_answers(start.shown, start.address))


def _say_bench(start: Start) -> None:
    import segno

    typer.echo(words.bench_answers(start.address))
    code = segno.make(start.address, micro=False)
    code.terminal(out=for_a_console(), compact=True)
