"""The command that starts the desk. What it starts is handed in: no face knows another."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer

from mailmerge.cli import words
from mailmerge.cli.app import MAKE, command
from mailmerge.findings import InputError


@command(MAKE, "desk", "desk gala", "desk gala --bench", looks=False)
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
) -> None:
    """Do the whole job in the browser.

    The desk answers on this computer alone. Ctrl-C ends it; nothing is lost.
    """
    if only_bench and order is None:
        raise InputError(words.BENCH_OF_WHICH)

    def say(start: Any) -> None:
        if only_bench:
            import segno

            typer.echo(words.bench_answers(start.address))
            segno.make(start.address, micro=False).terminal(compact=True)
        else:
            typer.echo(words.desk_answers(start.shown, start.address))

    context.obj(order, port, not no_browser, only_bench, say)
