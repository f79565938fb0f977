"""Commands that make an order: start, check, merge, keep its sizes."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from mailmerge.cli.app import app
from mailmerge.cli.changes import (
    GoneOption,
    JobsOption,
    SameOption,
    changes_entry,
    choices_of,
    recalled,
    say_changes,
    settled_choices,
    settled_with,
)
from mailmerge.cli.common import (
    DEFAULT_BLANK,
    READY,
    STOPPED,
    BlankOption,
    CoatOption,
    JsonOption,
    LayoutOption,
    MachineOption,
    OrderArgument,
    SheetOption,
    TitleOption,
    counted,
    default_out,
    is_order,
    new_console,
    open_any,
    safe,
    styled,
    watching,
)
from mailmerge.findings import InputError
from mailmerge.progress import told

if TYPE_CHECKING:
    from mailmerge.merge import Checked, Totals
    from mailmerge.orders import Design
    from mailmerge.progress import Watch


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
    machine: MachineOption = None,
    jobs: JobsOption = 0,
    same: SameOption = None,
    gone: GoneOption = None,
    as_json: JsonOption = False,
) -> None:
    """Write one artwork SVG and one proof PNG for every cup of an order.

    An order remembers: numbers stay with guests, and only what has changed is made again. With
    --out everything is written elsewhere, and nothing is put on record.
    """
    from mailmerge import merge as engine
    from mailmerge.items import ARTWORK, MAKER, PROOFS
    from mailmerge.ledger.ledger import open_ledger
    from mailmerge.ledger.tray import MERGED, PACK, PAPERS, TO_ENGRAVE
    from mailmerge.orders.order import ORDER_FILE

    opened = open_any(order, blank, layout, coat, sheet, title, machine)
    choices = choices_of(same, gone)
    folder = out if out is not None else default_out(order)
    on_record = is_order(order) and out is None
    if on_record and order.is_file() and order.name != ORDER_FILE:
        raise InputError(
            f"{order}: only {ORDER_FILE} is merged on record; give it a folder of its own, or say "
            f"where to write with --out"
        )
    if out is not None and is_order(order):
        own = order if order.is_dir() else order.parent
        for name in (MERGED, PACK, TO_ENGRAVE, PAPERS):
            if out.resolve().is_relative_to((own / name).resolve()):
                raise InputError(
                    f"{out}: is the order's own folder for what is on record, want another one, or "
                    f"no --out"
                )
    if (same or gone) and not is_order(order):
        raise InputError(f"{order}: --same and --gone go with an order")
    cores = jobs or engine.cores()
    if on_record:
        with open_ledger(opened.design.folder, missing="make") as ledger:
            choices = settled_choices(opened, ledger, choices, as_json)
            with watching("making items", as_json) as watch:
                merged = engine.update(opened, ledger, cores, watch, choices)
    else:
        remembered = settled_with(choices, as_json, lambda said: recalled(order, opened, said))
        with watching("making items", as_json) as watch:
            merged = engine.merge(opened, folder, cores, watch, remembered)
    totals, changes = merged.totals, merged.changes
    if as_json:
        told: dict[str, Any] = {"out": str(folder), "totals": totals.__dict__}
        if on_record:
            told["changes"] = changes_entry(changes)
        typer.echo(json.dumps(told, ensure_ascii=False))
    else:
        typer.echo(
            f"{counted(totals.items, 'item')} for {counted(merged.survey.guests, 'guest')}: "
            f"{totals.ready} ready, {totals.stopped} stopped; "
            f"{counted(totals.warnings, 'warning')}, {counted(totals.notes, 'note')}"
        )
        if on_record:
            say_changes(changes)
        typer.echo(f"artwork:  {folder / ARTWORK}")
        typer.echo(f"proofs:   {folder / PROOFS}")
        typer.echo(f"loading:  {folder / MAKER}")
        typer.echo(f"findings: {folder / engine.FINDINGS}")
        if totals.stopped:
            typer.echo("Stopped items have no artwork; their proofs say why.")
        if not is_order(order):
            _say_defaults(blank, layout, machine)
    raise typer.Exit(STOPPED if totals.stopped else READY)


def _say_defaults(blank: str | None, layout: str | None, machine: str | None) -> None:
    """Name what a bare list was given where the call does not say it."""
    from mailmerge.workshop.shop.shop import open_shop

    shop = open_shop()
    business = shop.values.shop
    taken = [f"blank {DEFAULT_BLANK} (a default)"] if blank is None else []
    for key, given in (("layout", layout), ("machine", machine)):
        if given is None:
            whose = "a default" if shop.source(f"shop.{key}") == "default" else "as shop.toml says"
            taken.append(f"{key} {getattr(business, key)} ({whose})")
    if taken:
        typer.echo(f"taken: {', '.join(taken)}")


@app.command()
def check(
    order: OrderArgument,
    blank: BlankOption = None,
    layout: LayoutOption = None,
    coat: CoatOption = None,
    sheet: SheetOption = None,
    title: TitleOption = None,
    machine: MachineOption = None,
    as_json: JsonOption = False,
) -> None:
    """Go through an order without writing anything, and list the findings, worst first."""
    from mailmerge import merge as engine
    from mailmerge.ledger.matching import NO_CHOICES

    opened = open_any(order, blank, layout, coat, sheet, title, machine)
    checked = engine.check(opened, recalled(order, opened, NO_CHOICES))
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
        with watching("checking items", as_json) as watch:
            found = _found(checked, totals, watch)
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
    layout: Annotated[
        str | None, typer.Option(help="A layout of the library [default: the shop's].")
    ] = None,
    coat: Annotated[str | None, typer.Option(help="The blank's coat [default: its first].")] = None,
    sheet: Annotated[str | None, typer.Option(help="The workbook's sheet.")] = None,
    machine: Annotated[
        str | None, typer.Option(help="A machine of the library [default: the shop's].")
    ] = None,
) -> None:
    """Start an order: a folder with the list and an order.toml to fill in."""
    from mailmerge.orders import new_order, open_order
    from mailmerge.workshop.shop.shop import open_shop

    shop = open_shop()
    business = shop.values.shop
    file, question = new_order(
        folder,
        list_file,
        title,
        sheet,
        blank,
        layout or shop.named("layouts"),
        coat,
        machine or shop.named("machines"),
    )
    typer.echo(f"started {file}")
    for key, given in (("layout", layout), ("machine", machine)):
        if given is None:
            source = shop.source(f"shop.{key}")
            where = "as shop.toml says" if source == "shop.toml" else "a default"
            typer.echo(f"  {key}: {getattr(business, key)} ({where})")
    if question is not None:
        raise InputError(f"{question} (the place for it is ready in {file})")
    opened = open_order(file)
    for field, header in opened.guests.columns.titles.items():
        typer.echo(f'  {field}: column "{header}"')
    typer.echo(f"next: mailmerge check {folder}")


@app.command("keep-sizes")
def keep_sizes(
    order: Annotated[Path, typer.Argument(help="An order's folder, or its order.toml.")],
) -> None:
    """Write the letter heights that an order has settled on into its order.toml.

    Guests who are added later are then set at the size of the cups that are engraved already.
    """
    from mailmerge import merge as engine
    from mailmerge.ledger.matching import NO_CHOICES
    from mailmerge.orders import keep_sizes as keep
    from mailmerge.orders import open_order

    opened = open_order(order)
    remembered = recalled(order, opened, NO_CHOICES)
    design = engine.settled(remembered.order if remembered else opened)
    if not design.sizes.settled:
        raise InputError(
            f'{order}: the layout "{design.layout.name}" shares no sizes, want sizing = "set" or '
            f'"role" on one of its lines'
        )
    file = keep(order, design)
    typer.echo(f"kept in {file}:")
    _print_sizes(design)


def _print_sizes(design: Design) -> None:
    for size in design.sizes.settled:
        line = design.layout.line[size.line - 1]
        role = f", {size.role}" if size.role else ""
        members = "kept from before" if size.kept else f"for {size.members}"
        typer.echo(f"  {line.text}{role}: letter height {size.letter_height:.2f} mm, {members}")


_COLOURS = {"stop": "bold red", "warning": "yellow", "note": ""}


def _found(
    checked: Checked, totals: Totals, watch: Watch
) -> list[tuple[str, str, str, str, str, str]]:
    """Return severity, item, row, name, message and advice of every finding, worst first."""
    from mailmerge.findings import Severity

    found = [(str(f.severity), "", "", "", f.message, f.advice) for f in checked.list_findings]
    for entry in checked.entries:
        totals.count(entry)
        if entry["cup"] == 1:
            place = str(entry["item"]), str(entry["row"]), str(entry["guest"]["name"])
            found += [
                (finding["severity"], *place, finding["message"], finding["advice"])
                for finding in entry["findings"]
            ]
        told(watch, totals.items, checked.items)
    return sorted(found, key=lambda row: Severity(row[0]).rank)


def _print_findings(found: list[tuple[str, str, str, str, str, str]], totals: Totals) -> None:
    """Print findings as a table, and then the counts."""
    from rich.table import Table

    console = new_console()
    if found:
        table = Table(box=None, pad_edge=False, padding=(0, 2, 1, 0))
        for header in ("severity", "item", "row"):
            table.add_column(header, no_wrap=True)
        table.add_column("name", ratio=1)
        table.add_column("what was found", ratio=3)
        table.add_column("what to do", ratio=2)
        for severity, item, row, name, message, advice in found:
            table.add_row(
                styled(severity, _COLOURS[severity]),
                item,
                row,
                safe(name),
                safe(message),
                safe(advice),
            )
        console.print(table)
    console.print(
        f"{counted(totals.items, 'item')}: {totals.ready} ready, {totals.stopped} stopped; "
        f"{counted(totals.warnings, 'warning')}, {counted(totals.notes, 'note')}"
    )
