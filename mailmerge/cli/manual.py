"""The command that shows the manual."""

from __future__ import annotations

from typing import Annotated

import typer

from mailmerge.cli import words
from mailmerge.cli.app import LIBRARY, command
from mailmerge.voice import is_on_terminal

WIDEST = 100
"""Columns: longer lines are hard to read."""


@command(LIBRARY, "manual", "manual measure-a-blank")
def manual(
    page: Annotated[
        str | None, typer.Argument(help="The page to show. Without it, the list of pages.")
    ] = None,
) -> None:
    """Show the manual: a short page for each task and each file."""
    from mailmerge.deeds import manual as deeds

    if page is None:
        _list_pages()
        return
    text = deeds.page(page.removesuffix(".md")).on_screen
    if is_on_terminal():
        _print_markdown(text)
    else:
        typer.echo(text, nl=False)


def _print_markdown(text: str) -> None:
    from rich.markdown import Markdown
    from rich.theme import Theme

    from mailmerge.cli.console import PlainConsole

    # In the terminal's own colours: nobody knows whether its ground is light or dark.
    plain = Theme({"markdown.code": "bold", "markdown.code_block": "default"})
    console = PlainConsole(theme=plain)
    console.width = min(console.width, WIDEST)
    console.print(Markdown(text, code_theme="ansi_light"))


def _list_pages() -> None:
    from mailmerge.deeds import manual as deeds

    for heading, names in (
        (words.WHAT_TO_DO, deeds.TASKS),
        (words.FILES_AND_COMMANDS, deeds.FILES),
    ):
        typer.echo(heading)
        for name in names:
            typer.echo(words.page_line(name, deeds.page(name).summary))
        typer.echo("")
    typer.echo(words.SHOW_A_PAGE)
