"""What the commands share: their options, tables, progress, and what is said in many places."""

from __future__ import annotations

import signal
import threading
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from types import FrameType
from typing import TYPE_CHECKING, Annotated, Any, Literal

import typer

from mailmerge import voice
from mailmerge.cli import words
from mailmerge.findings import InputError

if TYPE_CHECKING:
    from rich.console import Console

    from mailmerge.deeds import Watch
    from mailmerge.deeds.pictures import Picture
    from mailmerge.deeds.status import Record
    from mailmerge.deeds.tray import Tray
    from mailmerge.findings import Cause, Causes

OrderArgument = Annotated[
    Path, typer.Argument(help="An order's folder, its order.toml, or a guest list.")
]
BlankOption = Annotated[
    str | None, typer.Option(help="For a guest list: a blank of the library, or a .toml file.")
]
LayoutOption = Annotated[
    str | None, typer.Option(help="For a guest list: a layout of the library, or a .toml file.")
]
CoatOption = Annotated[
    str | None, typer.Option(help="For a guest list: a coat of the blank [default: its first].")
]
MachineOption = Annotated[
    str | None, typer.Option(help="For a guest list: a machine of the library, or a .toml file.")
]
PaperOption = Annotated[
    Literal["A4", "Letter"] | None,
    typer.Option(help="Size of a PDF's pages [default: the shop's, A4]."),
]
SheetOption = Annotated[str | None, typer.Option(help="For a guest list: the workbook's sheet.")]
TitleOption = Annotated[str | None, typer.Option(help="For a guest list: whose party it is.")]
JsonOption = Annotated[bool, typer.Option("--json", help="Write JSON for programs.")]

FolderArgument = Annotated[
    Path, typer.Argument(metavar="ORDER", help="An order's folder, or its order.toml.")
]
ItemsArgument = Annotated[
    list[str] | None,
    typer.Argument(metavar="ITEM", help="Item numbers, or names of files from to-engrave."),
]


READY, UNHEARD, WRONG, STOPPED, FAULT, INTERRUPTED = 0, 1, 2, 3, 70, 130
"""Exit codes: all ready; what was to be printed could not be; call or input is wrong; done, but
something is stopped; a fault of the program (EX_SOFTWARE of BSD's sysexits); called off."""


def named(records: Iterable[Record]) -> str:
    """Return items with their names, to be read aloud."""
    return words.names((each.number, each.name) for each in records)


def say_not_logged(why: str) -> None:
    """Tell that the shop's log could not be written, if so: what is on record does not need it."""
    if why:
        typer.echo(words.not_on_log(why), err=True)


def say_tray(tray: Tray, folder: Path, beside: bool = True) -> None:
    """Tell what lies in the folder to engrave from and is not on record, and what is not there.

    Parameters
    ----------
    beside
        Whether it is said beside what a command prints, and not as a part of it.
    """
    if tray.to_stop is not None:
        typer.echo(words.stop_the_machine(tray.to_stop), err=beside)
    if tray.strangers:
        typer.echo(words.not_on_record(tray.strangers, tray.folder, folder), err=beside)
    if tray.missing:
        typer.echo(words.files_missing(tray.missing, folder), err=beside)
    if tray.is_unlisted:
        typer.echo(words.list_of_tray_gone(tray.folder), err=beside)


def new_console() -> Console:
    """Return a console for standard output; it has no colour where NO_COLOR or no terminal is."""
    from mailmerge.cli.console import PlainConsole

    return PlainConsole(width=None if voice.is_on_terminal() else 200)


@contextmanager
def watching(doing: str, as_json: bool = False) -> Iterator[Watch]:
    """Give a deed what watches it: a bar on a terminal, and an end between items on an interrupt.

    An interrupt from the keyboard is held back until an item is whole; a second one is not.
    """
    with _interrupted() as is_interrupted, _bar(doing, as_json) as show:

        def watch(done: int, total: int) -> bool:
            show(done, total)
            return not is_interrupted()

        yield watch


@contextmanager
def _interrupted() -> Iterator[Callable[[], bool]]:
    """Note an interrupt from the keyboard; give what tells of it."""
    pressed = False

    def note(_signal: int, _frame: FrameType | None) -> None:
        nonlocal pressed
        if pressed:
            raise KeyboardInterrupt
        pressed = True

    if threading.current_thread() is not threading.main_thread():
        yield lambda: pressed
        return
    before = signal.signal(signal.SIGINT, note)
    try:
        yield lambda: pressed
    finally:
        signal.signal(signal.SIGINT, before)


@contextmanager
def _bar(doing: str, as_json: bool) -> Iterator[Callable[[int, int], None]]:
    """Give a function that shows how far the work is, on a terminal only."""
    if as_json or not voice.is_noted_on_terminal():
        yield lambda _done, _total: None
        return
    from rich import progress as bars

    from mailmerge.cli.console import PlainConsole

    with bars.Progress(
        bars.TextColumn(doing),
        bars.BarColumn(),
        bars.MofNCompleteColumn(),
        bars.TextColumn("{task.fields[rate]} items/s, left"),
        bars.TimeRemainingColumn(),
        console=PlainConsole(beside=True),
        transient=True,
        redirect_stdout=False,
        redirect_stderr=False,
    ) as bar:
        task = bar.add_task(doing, total=None, rate="–")

        def show(done: int, total: int) -> None:
            speed = bar.tasks[0].speed
            bar.update(task, completed=done, total=total, rate=f"{speed:.0f}" if speed else "–")

        yield show


def styled(text: str, style: str) -> Any:
    """Return text in a style of rich."""
    from rich.text import Text

    return Text(text, style=style)


def safe(text: str) -> Any:
    """Return text of a cell so that no control or direction character reaches the terminal."""
    return styled(voice.on_a_line(text), "")


_COLOURS = {"stop": "bold red", "warning": "yellow", "note": ""}


def print_causes(causes: Sequence[Cause]) -> None:
    """Print findings as a table, each cause once with its rows."""
    from rich.table import Table

    if not causes:
        return
    table = Table(box=None, pad_edge=False, padding=(0, 2, 1, 0))
    table.add_column("severity", no_wrap=True)
    for header in ("item", "row"):
        table.add_column(header, max_width=16)
    table.add_column("name", ratio=1)
    table.add_column("what was found", ratio=3)
    table.add_column("what to do", ratio=2)
    for cause in causes:
        finding = cause.finding
        table.add_row(
            styled(str(finding.severity), _COLOURS[finding.severity]),
            words.some_of(cause.items, cause.count),
            words.some_of(cause.rows, cause.count),
            safe(words.named_first(cause.names, cause.count)),
            safe(finding.message),
            safe(finding.advice),
        )
    new_console().print(table)


_MOST_CAUSES = 12


def say_causes(causes: Causes) -> None:
    """Print what stops cups and what is to be said of the whole list, the worst of it."""
    worst = causes.worst_first()
    print_causes(worst[:_MOST_CAUSES])
    more = causes.left_out + sum(max(1, each.count) for each in worst[_MOST_CAUSES:])
    if more:
        typer.echo(words.more_in_findings(more))


def print_json(told: object) -> None:
    """Print a value for programs."""
    typer.echo(voice.as_json(told, 1))


def print_table(rows: list[dict[str, Any]], as_json: bool, closing: str = "") -> None:
    """Print rows as a table, or as JSON for programs; ``closing`` goes below the table."""
    if as_json:
        print_json(rows)
        return
    from rich.table import Table

    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0))
    for key in rows[0] if rows else ():
        table.add_column(key.replace("_mm", " mm"), no_wrap=key == "name")
    for row in rows:
        table.add_row(*(safe(str(value)) for value in row.values()))
    console = new_console()
    console.print(table)
    if closing:
        console.print(closing)


DrawOption = Annotated[
    Path | None, typer.Option("--draw", help="Folder to write a picture of each into, instead.")
]


def draw_into(folder: Path, pictures: Mapping[str, Picture]) -> None:
    """Write pictures into a folder, and say so."""
    from mailmerge.deeds.pictures import write_pictures

    for file in write_pictures(folder, pictures):
        typer.echo(words.written_file(file))


def texts_of(given: list[str]) -> dict[str, str]:
    """Return texts by field, each given as ``FIELD=TEXT``.

    Raises
    ------
    InputError
        One of them is not so, or a field is given twice.
    """
    texts: dict[str, str] = {}
    for each in given:
        field, found, text = each.partition("=")
        if not found or not field.strip() or field.strip() in texts:
            raise InputError(words.bad_field_text(each))
        texts[field.strip()] = text
    return texts
