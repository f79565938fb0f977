"""The command that starts the desk. What it starts is handed in: no face knows another."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer

from mailmerge.cli import words
from mailmerge.cli.app import MAKE, command


@command(MAKE, "desk", "desk gala", looks=False)
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
) -> None:
    """Do the whole job in the browser.

    The desk answers on this computer alone. Ctrl-C ends it; nothing is lost.
    """

    def say(start: Any) -> None:
        typer.echo(words.desk_answers(start.shown, start.address))

    context.obj(order, port, not no_browser, say)
