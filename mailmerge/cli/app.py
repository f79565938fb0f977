"""The application that the commands belong to."""

from __future__ import annotations

from typing import Annotated

import typer

from mailmerge import __version__

app = typer.Typer(
    help="From a party's guest list to ready-to-engrave artwork and client proofs.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)


def _version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"mailmerge {__version__}")
        raise typer.Exit


@app.callback()
def _options(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Say the version.")
    ] = False,
) -> None:
    pass
