"""The command line: turns input into the engine's calls, and results into text and exit codes.

Imports of the engine stay inside the commands, so that ``--help`` answers at once.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from mailmerge import __version__
from mailmerge.findings import InputError

if TYPE_CHECKING:
    from rich.console import Console

    from mailmerge.merge import Checked, Progress, Totals
    from mailmerge.orders import Order

READY, WRONG, STOPPED = 0, 2, 3
"""Exit codes: all ready; the call or an input is wrong; done, but some items are stopped."""

app = typer.Typer(
    help="From a party's guest list to ready-to-engrave artwork and client proofs.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)

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
SheetOption = Annotated[str | None, typer.Option(help="For a guest list: the workbook's sheet.")]
TitleOption = Annotated[str | None, typer.Option(help="For a guest list: whose party it is.")]
JsonOption = Annotated[bool, typer.Option("--json", help="Write JSON for programs.")]

DEFAULT_BLANK, DEFAULT_LAYOUT = "handled-tumbler-40oz", "name-over-role"


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


@app.command()
def merge(
    order: OrderArgument,
    out: Annotated[
        Path | None, typer.Option(help='Folder to write [default: "merged" beside the order].')
    ] = None,
    blank: BlankOption = None,
    layout: LayoutOption = None,
    coat: CoatOption = None,
    sheet: SheetOption = None,
    title: TitleOption = None,
    jobs: Annotated[int, typer.Option(min=0, help="Processes to use; 0 means all cores.")] = 0,
    as_json: JsonOption = False,
) -> None:
    """Write one artwork SVG and one proof PNG for every cup of an order."""
    from mailmerge import merge as engine

    opened = _open(order, blank, layout, coat, sheet, title)
    folder = out if out is not None else _default_out(order)
    with _progress("making items", as_json) as progress:
        totals, survey = engine.merge(opened, folder, jobs or engine.cores(), progress)
    if as_json:
        typer.echo(json.dumps({"out": str(folder), "totals": totals.__dict__}, ensure_ascii=False))
    else:
        typer.echo(
            f"{_count(totals.items, 'item')} for {_count(survey.guests, 'guest')}: "
            f"{totals.ready} ready, {totals.stopped} stopped; "
            f"{_count(totals.warnings, 'warning')}, {_count(totals.notes, 'note')}"
        )
        typer.echo(f"artwork:  {folder / engine.ARTWORK}")
        typer.echo(f"proofs:   {folder / engine.PROOFS}")
        typer.echo(f"findings: {folder / engine.FINDINGS}")
        if totals.stopped:
            typer.echo("Stopped items have no artwork; their proofs say why.")
    raise typer.Exit(STOPPED if totals.stopped else READY)


@app.command()
def check(
    order: OrderArgument,
    blank: BlankOption = None,
    layout: LayoutOption = None,
    coat: CoatOption = None,
    sheet: SheetOption = None,
    title: TitleOption = None,
    as_json: JsonOption = False,
) -> None:
    """Go through an order without writing anything, and list the findings, worst first."""
    from mailmerge import merge as engine

    opened = _open(order, blank, layout, coat, sheet, title)
    checked = engine.check(opened)
    totals = engine.Totals()
    for finding in checked.list_findings:
        totals.count_finding(finding.severity)
    if as_json:
        typer.echo('{"order": ' + json.dumps(checked.order, ensure_ascii=False) + ', "items": [')
        for entry in checked.entries:
            entry |= {"artwork": None, "proof": None}
            before = "," if totals.items else ""
            typer.echo(before + json.dumps(entry, ensure_ascii=False))
            totals.count(entry)
        typer.echo('], "totals": ' + json.dumps(totals.__dict__) + "}")
    else:
        with _progress("checking items", as_json) as progress:
            found = _found(checked, totals, progress)
        _print_findings(found, totals)
    raise typer.Exit(STOPPED if totals.stopped else READY)


@app.command()
def new(
    folder: Annotated[Path, typer.Argument(help="Folder of the new order.")],
    list_file: Annotated[Path, typer.Option("--list", help="The client's guest list.")],
    title: Annotated[
        str | None, typer.Option(help="Whose party it is [default: the folder's name].")
    ] = None,
    blank: Annotated[str, typer.Option(help="A blank of the library.")] = DEFAULT_BLANK,
    layout: Annotated[str, typer.Option(help="A layout of the library.")] = DEFAULT_LAYOUT,
    coat: Annotated[str | None, typer.Option(help="The blank's coat [default: its first].")] = None,
    sheet: Annotated[str | None, typer.Option(help="The workbook's sheet.")] = None,
) -> None:
    """Start an order: a folder with the list and an order.toml to fill in."""
    from mailmerge.orders import new_order, open_order

    file, question = new_order(folder, list_file, title, sheet, blank, layout, coat)
    typer.echo(f"started {file}")
    if question is not None:
        raise InputError(f"{question} (the place for it is ready in {file})")
    opened = open_order(file)
    for field, header in opened.guests.columns.titles.items():
        typer.echo(f'  {field}: column "{header}"')
    typer.echo(f"next: mailmerge check {folder}")


@app.command()
def blanks(as_json: JsonOption = False) -> None:
    """List the blanks of the library: typical sizes, to be measured on your own cup."""
    from mailmerge.blanks import Blank, angle_of, face_of
    from mailmerge.guests import Hand
    from mailmerge.shelves import load, shelf, templates

    rows = []
    for name in shelf("blanks"):
        blank = load(Blank, "blanks", name, Path())
        face = face_of(blank, angle_of("drinker", Hand.RIGHT), 120)
        rows.append(
            {
                "name": name,
                "what": blank.name,
                "circumference_mm": round(blank.circumference, 1),
                "height_mm": blank.height,
                "face_mm": round(face.usable_width, 1),
                "coats": ", ".join(coat.name for coat in blank.coat),
            }
        )
    _table(
        rows,
        as_json,
        "Typical of the trade; measure your own before you engrave. To put your own numbers in, "
        f"copy a file from {templates() / 'blanks'}",
    )


@app.command()
def layouts(as_json: JsonOption = False) -> None:
    """List the layouts of the library."""
    from mailmerge.artwork import Layout
    from mailmerge.shelves import load, shelf

    rows = []
    for name in shelf("layouts"):
        layout = load(Layout, "layouts", name, Path())
        rows.append(
            {
                "name": name,
                "face": layout.face,
                "lines": " / ".join(line.text for line in layout.line),
                "fonts": ", ".join(dict.fromkeys(line.font for line in layout.line)),
                "what": layout.note,
            }
        )
    _table(rows, as_json)


@app.command()
def fonts(as_json: JsonOption = False) -> None:
    """List the installed font families that a layout may name."""
    from mailmerge.lettering import families

    rows = [
        {
            "name": family.name,
            "weights": (
                f"{family.weight_range[0]} to {family.weight_range[1]}"
                if family.is_variable and family.weight_range
                else ", ".join(map(str, family.weights))
            ),
            "licence": family.license,
        }
        for family in families()
    ]
    _table(rows, as_json, "A layout may also name a font file of your own by its path.")


def main() -> None:
    """Run the command line; an :class:`InputError` becomes one line and exit code 2.

    Typer itself ends an interrupted call with 130, and one whose reader has stopped with 1.
    """
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")
    try:
        app()
    except InputError as error:
        sys.stderr.write(f"error: {error}\n")
        sys.exit(WRONG)
    except OSError as error:
        where = f"{error.filename}: " if error.filename else ""
        sys.stderr.write(f"error: {where}{error.strerror or error}\n")
        sys.exit(WRONG)


def _open(
    path: Path, blank: str | None, layout: str | None, coat: str | None, sheet: str | None,
    title: str | None,
) -> Order:  # fmt: skip
    from mailmerge.orders import open_order, order_from_list

    given = {"blank": blank, "layout": layout, "coat": coat, "sheet": sheet, "title": title}
    if path.is_dir() or path.suffix.lower() == ".toml":
        if used := [f"--{name}" for name, value in given.items() if value is not None]:
            raise InputError(
                f"{path}: {', '.join(used)} goes with a guest list; an order says it in order.toml"
            )
        return open_order(path)
    if not path.exists():
        raise InputError(f"{path}: there is no such order or guest list")
    return order_from_list(
        path, title, sheet, blank or DEFAULT_BLANK, layout or DEFAULT_LAYOUT, coat
    )


def _default_out(path: Path) -> Path:
    if path.is_dir():
        return path / "merged"
    if path.suffix.lower() == ".toml":
        return path.parent / "merged"
    return path.with_name(f"{path.stem}-merged")


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"


def _console() -> Console:
    """Return a console for standard output; it has no colour where NO_COLOR or no terminal is."""
    from rich.console import Console

    width = None if sys.stdout.isatty() else 200
    return Console(width=width, highlight=False, markup=False, emoji=False)


@contextmanager
def _progress(doing: str, as_json: bool) -> Iterator[Progress | None]:
    """Give a function that shows how far the work is, on a terminal only."""
    if as_json or not sys.stderr.isatty():
        yield None
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


_COLOURS = {"stop": "bold red", "warning": "yellow", "note": ""}


def _found(
    checked: Checked, totals: Totals, progress: Progress | None
) -> list[tuple[str, str, str, str, str]]:
    """Return severity, item, row, message and advice of every finding, worst first."""
    from mailmerge.findings import Severity

    found = [(str(f.severity), "", "", f.message, f.advice) for f in checked.list_findings]
    for entry in checked.entries:
        totals.count(entry)
        if entry["cup"] == 1:
            place = str(entry["item"]), str(entry["row"])
            found += [
                (finding["severity"], *place, finding["message"], finding["advice"])
                for finding in entry["findings"]
            ]
        if progress:
            progress(totals.items, checked.items)
    return sorted(found, key=lambda row: Severity(row[0]).rank)


def _print_findings(found: list[tuple[str, str, str, str, str]], totals: Totals) -> None:
    """Print findings as a table, and then the counts."""
    from rich.table import Table

    console = _console()
    if found:
        table = Table(box=None, pad_edge=False, padding=(0, 2, 1, 0))
        for header in ("severity", "item", "row"):
            table.add_column(header, no_wrap=True)
        table.add_column("what was found", ratio=3)
        table.add_column("what to do", ratio=2)
        for severity, item, row, message, advice in found:
            table.add_row(
                _styled(severity, _COLOURS[severity]), item, row, _safe(message), _safe(advice)
            )
        console.print(table)
    console.print(
        f"{_count(totals.items, 'item')}: {totals.ready} ready, {totals.stopped} stopped; "
        f"{_count(totals.warnings, 'warning')}, {_count(totals.notes, 'note')}"
    )


def _styled(text: str, style: str) -> Any:
    from rich.text import Text

    return Text(text, style=style)


def _safe(text: str) -> Any:
    """Return text of a cell so that no control or direction character reaches the terminal."""
    visible = "".join(c if c.isprintable() else f"<U+{ord(c):04X}>" for c in text)
    return _styled(visible, "")


def _table(rows: list[dict[str, Any]], as_json: bool, closing: str = "") -> None:
    if as_json:
        typer.echo(json.dumps(rows, ensure_ascii=False, indent=1))
        return
    from rich.table import Table

    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0))
    for key in rows[0] if rows else ():
        table.add_column(key.replace("_mm", " mm"), no_wrap=key == "name")
    for row in rows:
        table.add_row(*(_safe(str(value)) for value in row.values()))
    console = _console()
    console.print(table)
    if closing:
        console.print(closing)
