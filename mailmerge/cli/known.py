"""Commands around an order: what a list is recognised as, and which orders the desk shows."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from mailmerge.cli import words
from mailmerge.cli.app import MAKE, command
from mailmerge.cli.common import FolderArgument, JsonOption, SheetOption, print_table


@command(MAKE, "recognise guests.xlsx", "recognise guests.xlsx --sheet Evening --row 3")
def recognise(
    list_file: Annotated[Path, typer.Argument(metavar="LIST", help="The client's guest list.")],
    sheet: SheetOption = None,
    row: Annotated[
        int, typer.Option(min=0, help="The row of the headings [default: as recognised].")
    ] = 0,
    as_json: JsonOption = False,
) -> None:
    """Show what is recognised in a list.

    Nothing is written, and no order begins.
    """
    from mailmerge.deeds.beginning import recognise as read

    found = read(list_file, sheet or "", row)
    seen = found.seen
    rows = [
        {
            "column": each.letter,
            "heading": each.heading,
            "field": each.field or "-",
            "values": " | ".join(each.values),
        }
        for each in seen.columns
    ]
    told = words.recognised(seen.sheet, seen.header_row, found.guests, found.cups, seen.doubt)
    print_table(rows, as_json, told)


@command(MAKE, "known")
def known(as_json: JsonOption = False) -> None:
    """List the orders that the desk shows, by the day that they are due."""
    from mailmerge.deeds.known import known_orders

    rows = [
        {
            "order": each.title,
            "due": str(each.due) if each.due else "open",
            "folder": str(each.folder),
            "amiss": each.amiss,
        }
        for each in known_orders()
    ]
    print_table(rows, as_json, words.orders_known(len(rows)))


@command(MAKE, "leave-out gala", name="leave-out")
def leave_out(order: FolderArgument) -> None:
    """Take an order off the desk's page of orders.

    Nothing in its folder changes. Open its folder at the desk to see it again.
    """
    from mailmerge.deeds.known import leave_out_order

    typer.echo(words.left_out_of_desk(leave_out_order(order)))
