"""What the commands share: their options, opening an order, tables and progress."""

from __future__ import annotations

import json
import re
import signal
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path, PurePosixPath
from types import FrameType
from typing import TYPE_CHECKING, Annotated, Any, Literal

import typer

from mailmerge.findings import InputError, shown

if TYPE_CHECKING:
    from rich.console import Console

    from mailmerge.ledger.ledger import Ledger
    from mailmerge.ledger.standing import Record
    from mailmerge.orders import Order
    from mailmerge.progress import Watch
    from mailmerge.proofs.paper import PaperSize
    from mailmerge.workshop.shop.shop import Shop

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
    str | None, typer.Option(help="For a guest list: the blank's coat [default: its first].")
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


def folder_of(order: Path) -> Path:
    """Return an order's folder.

    Raises
    ------
    InputError
        There is no order.
    """
    from mailmerge.orders.order import ORDER_FILE

    folder = order if order.is_dir() else order.parent
    if not (folder / ORDER_FILE).is_file() or (order.is_file() and order.name != ORDER_FILE):
        raise InputError(
            f"{order}: there is no such order, want a folder with {ORDER_FILE}; start one with: "
            f"mailmerge new FOLDER --list FILE"
        )
    return folder


_ITEM = re.compile(
    r"(?:.*[/\\])?(?P<file>\d{3,}_(?P<named>\d{3,})-[a-z0-9-]+\.svg)(?:\s+(?P<seal>[0-9a-f-]{14}))?"
    r"|(?P<number>\d{1,9})"
)


def chosen_in(ledger: Ledger, items: list[str] | None) -> list[int]:
    """Return item numbers: given as such, by the names of files, or by the codes of a run sheet.

    Raises
    ------
    InputError
        Something else was given; or a name or a code is of another order, or of an older sheet.
    """
    numbers: list[int] = []
    records: dict[int, Record] = {}
    for item in items or ():
        found = _ITEM.fullmatch(item.strip())
        if found is None:
            raise InputError(
                f"{shown(item)}: want the number of an item, such as 7, the name of a file from "
                f"to-engrave, or what the code on a run sheet says"
            )
        number = int(found["number"] or found["named"])
        numbers.append(number)
        if found["file"]:
            records = records or {r.number: r for r in ledger.records(after_release=True)}
            _see_that_it_is_of(found["file"], found["seal"], number, records)
    return numbers


def _see_that_it_is_of(
    file: str, seal: str | None, number: int, records: dict[int, Record]
) -> None:
    """See that the name of a file, and the seal beside it, are those of an item that was released.

    Raises
    ------
    InputError
        They are not.
    """
    record = records.get(number)
    released = next((e for e in reversed(record.events) if e.place), None) if record else None
    if record is None or released is None:
        raise InputError(f"{file}: item {number} was never released in this order")
    own = f"{released.place:03d}_{PurePosixPath(str(record.entry['proof'])).stem}.svg"
    if seal == released.seal and file.startswith(f"{released.place:03d}_"):
        return  # it may have got another name since
    if file != own:
        raise InputError(
            f"{file}: is of another order, or of an older run sheet: what was released last of "
            f"item {number} is {own}. Nothing was put on record"
        )
    if seal and seal != released.seal:
        raise InputError(
            f"item {number}: the run sheet's code has the seal {seal}, what was released last has "
            f"{released.seal}; take the newest run sheet. Nothing was put on record"
        )


def paper_of(shop: Shop, wanted: PaperSize | None) -> tuple[PaperSize, str]:
    """Return the size of a PDF's pages, and in words what it is and whose choice that was."""
    if wanted:
        return wanted, wanted
    size = shop.values.shop.paper
    return size, f"{size}, {'a default' if shop.source('shop.paper') == 'default' else 'the shop'}"


def count_in_shop(ledger: Ledger) -> None:
    """Write an order's counts into the shop's log; what is on record does not depend on it."""
    from mailmerge.workshop.shop.shop import open_shop
    from mailmerge.workshop.timing.tally import put_on_log

    try:
        put_on_log(open_shop(), ledger)
    except InputError as error:
        typer.echo(f"note: it is on record, but not on the shop's log: {error}", err=True)


DEFAULT_BLANK = "handled-tumbler-40oz"


READY, WRONG, STOPPED, INTERRUPTED = 0, 2, 3, 130
"""Exit codes: all ready; call or input is wrong; done, but something is stopped; called off."""


def open_any(
    path: Path, blank: str | None, layout: str | None, coat: str | None, sheet: str | None,
    title: str | None, machine: str | None = None,
) -> Order:  # fmt: skip
    """Open an order, or make one out of a bare list.

    Raises
    ------
    InputError
        There is no such thing, or options for a list are given for an order.
    """
    from mailmerge.ledger.forgetting import refuse_forgotten_in
    from mailmerge.orders import open_order, order_from_list
    from mailmerge.workshop.shop.shop import open_shop

    given = {
        "blank": blank, "layout": layout, "coat": coat, "sheet": sheet, "title": title,
        "machine": machine,
    }  # fmt: skip
    if is_order(path):
        if used := [f"--{name}" for name, value in given.items() if value is not None]:
            raise InputError(
                f"{path}: {', '.join(used)} goes with a guest list; an order says it in order.toml"
            )
        refuse_forgotten_in(path if path.is_dir() else path.parent)
        return open_order(path)
    if not path.exists():
        raise InputError(f"{path}: there is no such order or guest list")
    shop = open_shop()
    return order_from_list(
        path,
        title,
        sheet,
        blank or DEFAULT_BLANK,
        layout or shop.named("layouts"),
        coat,
        machine or shop.named("machines"),
    )


def is_order(path: Path) -> bool:
    """Whether a path means an order, and not a bare list."""
    return path.is_dir() or path.suffix.lower() == ".toml"


def default_out(path: Path) -> Path:
    """Return the folder that is written where none is named."""
    if path.is_dir():
        return path / "merged"
    if path.suffix.lower() == ".toml":
        return path.parent / "merged"
    return path.with_name(f"{path.stem}-merged")


def counted(number: int, word: str) -> str:
    """Return a number with its word, in the plural where it is not 1."""
    return f"{number} {word}{'' if number == 1 else 's'}"


def new_console() -> Console:
    """Return a console for standard output; it has no colour where NO_COLOR or no terminal is."""
    from rich.console import Console

    width = None if sys.stdout.isatty() else 200
    return Console(width=width, highlight=False, markup=False, emoji=False)


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
    if as_json or not sys.stderr.isatty():
        yield lambda _done, _total: None
        return
    from rich import progress as bars
    from rich.console import Console

    with bars.Progress(
        bars.TextColumn(doing),
        bars.BarColumn(),
        bars.MofNCompleteColumn(),
        bars.TextColumn("{task.fields[rate]} items/s, left"),
        bars.TimeRemainingColumn(),
        console=Console(stderr=True),
        transient=True,
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
    visible = "".join(c if c.isprintable() else f"<U+{ord(c):04X}>" for c in text)
    return styled(visible, "")


def print_table(rows: list[dict[str, Any]], as_json: bool, closing: str = "") -> None:
    """Print rows as a table, or as JSON for programs; ``closing`` goes below the table."""
    if as_json:
        typer.echo(json.dumps(rows, ensure_ascii=False, indent=1))
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
