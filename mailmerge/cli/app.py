"""The application that the commands belong to, and how each shows its help."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from copy import copy
from functools import wraps
from pathlib import Path
from typing import Annotated, Any

import typer
from typer.core import TyperGroup

from mailmerge import __version__
from mailmerge.deeds import CalledOff

MAKE, CLIENT, BENCH, HAND_OVER, WORKSHOP, LIBRARY = (
    "Make an order",
    "Agree with the client",
    "Engrave",
    "Hand over and be paid",
    "Settings, time and price",
    "Look up",
)
"""Groups of commands, in the order of the job."""


class _InOrderOfTheJob(TyperGroup):
    """Lists the commands by group, in the order of the job."""

    def format_commands(self, ctx: Any, formatter: Any) -> None:
        groups: dict[str, list[tuple[str, str]]] = {}
        for name in self.list_commands(ctx):
            command = self.get_command(ctx, name)
            if command is not None and not command.hidden:
                group = str(getattr(command, "rich_help_panel", None) or LIBRARY)
                groups.setdefault(group, []).append((name, command.get_short_help_str(64)))
        for group in (MAKE, CLIENT, BENCH, HAND_OVER, WORKSHOP, LIBRARY):
            if rows := groups.get(group):
                with formatter.section(group):
                    formatter.write_dl(rows)


app = typer.Typer(
    help="From a party's guest list to ready-to-engrave artwork and client proofs.",
    cls=_InOrderOfTheJob,
    add_completion=True,
    pretty_exceptions_enable=False,
    context_settings={"color": True},  # what is printed has none: so nothing is taken out of a name
    rich_markup_mode=None,
)

_Command = Callable[..., Any]


def command(
    group: str, *examples: str, name: str | None = None, looks: bool = True
) -> Callable[[_Command], _Command]:
    """Add a command to its group, with examples below its help.

    Parameters
    ----------
    looks
        Whether a command of an order looks at the folder to engrave from first.
    """
    word = "Example" if len(examples) == 1 else "Examples"
    told = "\n".join(["\b", f"{word}:", *(f"  mailmerge {each}" for each in examples)])
    reads = _reading_soon if group == MAKE else _as_it_is

    def add(call: _Command) -> _Command:
        called = name or call.__name__.replace("_", "-")
        of_app = app.command(called, epilog=told, rich_help_panel=group)
        return of_app(_called_off(reads(_looking_first(call) if looks else call)))

    return add


def app_for(arguments: Sequence[str]) -> typer.Typer:
    """Return the application with the one command that is called; with all, where none is.

    What typer makes of a command takes some milliseconds, and there are fifty.
    """
    called = [each for each in app.registered_commands if each.name in arguments[:1]]
    if not called:
        return app
    found = copy(app)
    found.registered_commands = called
    return found


def _called_off(call: _Command) -> _Command:
    """Let a command end in one way whether its work, a question or anything else was broken off."""

    @wraps(call)
    def called(*given: Any, **named: Any) -> Any:
        try:
            return call(*given, **named)
        except (KeyboardInterrupt, typer.Abort):
            raise CalledOff from None

    return called


def _as_it_is(call: _Command) -> _Command:
    return call


def _reading_soon(call: _Command) -> _Command:
    """Let the process that reads lists start before anything is imported for a command."""

    @wraps(call)
    def reading(*given: Any, **named: Any) -> Any:
        from mailmerge.deeds.outside import get_ready

        get_ready()
        return call(*given, **named)

    return reading


def _looking_first(call: _Command) -> _Command:
    """Let a command tell first what lies in an order's folder to engrave from and should not."""

    @wraps(call)
    def looking(*given: Any, **named: Any) -> Any:
        if isinstance(order := named.get("order"), Path):
            from mailmerge.cli.common import say_tray
            from mailmerge.deeds.tray import look

            if tray := look(order):
                say_tray(tray, order)
        return call(*given, **named)

    return looking


def _version(context: typer.Context, wanted: bool) -> None:
    if not wanted:
        return
    if not context.params.get("everything"):
        typer.echo(f"mailmerge {__version__}")
        raise typer.Exit
    from mailmerge.deeds.about import about

    for name, number in about().items():
        typer.echo(f"{name} {number}")
    raise typer.Exit


@app.callback()
def _options(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, help="Say the version.")
    ] = False,
    everything: Annotated[
        bool,
        typer.Option(
            "--all", is_eager=True, help="With --version: of everything that shapes the artwork."
        ),
    ] = False,
) -> None:
    pass
