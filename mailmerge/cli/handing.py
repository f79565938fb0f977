"""Commands at the end of an order: hand the cups over, and be paid for them."""

from __future__ import annotations

import datetime as dt
from typing import Annotated, Any

import typer

from mailmerge.cli import words
from mailmerge.cli.app import HAND_OVER, command
from mailmerge.cli.common import FolderArgument, ItemsArgument, PaperOption, named, watching
from mailmerge.findings import InputError

DayOption = Annotated[
    dt.datetime | None, typer.Option("--on", formats=["%Y-%m-%d"], help="The day [default: today].")
]


@command(
    HAND_OVER, 'handed-over gala 3-7 --to "Anouk, secretary"',
    'handed-over gala --all --to "courier"', "handed-over gala 4 --mistaken", name="handed-over",
)  # fmt: skip
def handed_over(
    order: FolderArgument,
    items: ItemsArgument = None,
    to: Annotated[str, typer.Option(help="Who has taken them.")] = "",
    on: DayOption = None,
    everything: Annotated[
        bool, typer.Option("--all", help="Everything that is engraved and still here.")
    ] = False,
    mistaken: Annotated[bool, typer.Option(help="They were not handed over, or are back.")] = False,
) -> None:
    """Record who has taken finished cups.

    What is still here stands in: mailmerge status
    """
    from mailmerge.deeds import handing

    if bool(items) == everything or (mistaken and everything):
        raise InputError(words.ITEMS_OR_ALL)
    if mistaken:
        done = handing.hand_back(order, items or ())
        typer.echo(words.handed_back(named(done.records)))
    else:
        done = handing.hand_over(order, items, to, on.date() if on else None)
        typer.echo(words.handed_over(named(done.records), done.records[0].handed))
    typer.echo(words.still_here(len(done.here), named(done.here[: words.MOST_HERE])))


@command(HAND_OVER, "labels gala", "labels gala 3-7 --start 5", name="labels")
def labels(
    order: FolderArgument,
    items: ItemsArgument = None,
    start: Annotated[int, typer.Option(help="The first label that is left on a used sheet.")] = 1,
    paper: PaperOption = None,
) -> None:
    """Write labels for the boxes.

    The shop's file says how its sheets are: [labels] in shop.toml.
    """
    from mailmerge.deeds import parcels

    _say_written(parcels.labels(order, items or (), start, paper))


@command(HAND_OVER, "packing-list gala", "packing-list gala --by Table", name="packing-list")
def packing_list(
    order: FolderArgument,
    by: Annotated[str, typer.Option(help="A column of the list to pack by.")] = "",
    paper: PaperOption = None,
) -> None:
    """Write the list to pack by, with boxes to tick."""
    from mailmerge.deeds import parcels

    _say_written(parcels.packing_list(order, by, paper))


@command(HAND_OVER, "care-cards gala", name="care-cards")
def care_cards(
    order: FolderArgument, items: ItemsArgument = None, paper: PaperOption = None
) -> None:
    """Write a card for each guest: how the cup is cared for."""
    from mailmerge.deeds import parcels

    _say_written(parcels.care_cards(order, items or (), paper))


def _say_written(done: Any) -> None:
    typer.echo(words.paper_written(done.file, done.cups, done.paper.in_words))


@command(HAND_OVER, "agree gala", "agree gala 861.50")
def agree(
    order: FolderArgument,
    amount: Annotated[
        str, typer.Argument(help="The price with tax [default: what the quote comes to].")
    ] = "",
) -> None:
    """Record the price that was agreed."""
    from mailmerge.deeds import paying

    with watching(words.WORKING_OUT) as watch:
        found = paying.agree(order, amount, watch)
    say_account(found)


@command(
    HAND_OVER, "paid gala 400 --deposit --way transfer --on 2026-11-20",
    "paid gala 461.50 --rest --way cash", "paid gala --mistaken 1",
)  # fmt: skip
def paid(
    order: FolderArgument,
    amount: Annotated[str, typer.Argument(help="In the shop's currency.")] = "",
    is_deposit: Annotated[
        bool, typer.Option("--deposit/--rest", help="Which part of the price it is.")
    ] = True,
    way: Annotated[str, typer.Option(help="How: cash, transfer, card.")] = "",
    on: DayOption = None,
    mistaken: Annotated[
        int | None, typer.Option(metavar="NUMBER", help="Take a payment off the record.")
    ] = None,
) -> None:
    """Record what the client has paid.

    No invoice and no tax rules: it says what is still open of the price that was agreed.
    """
    from mailmerge.deeds import paying

    if (mistaken is None) == (not amount):
        raise InputError(words.AMOUNT_OR_MISTAKEN)
    if mistaken is not None:
        say_account(paying.take_payment_back(order, mistaken))
        return
    part: paying.Part = "deposit" if is_deposit else "rest"
    say_account(paying.pay(order, amount, part, way, on.date() if on else None))


def say_account(account: Any) -> None:
    """Say what was agreed, what was paid, and what is open."""
    from mailmerge.deeds.paying import written

    if account.agreed:
        typer.echo(words.agreed(written(account.agreed)))
    for each in account.payments:
        typer.echo(words.was_paid(each.number, each.part, written(each.paid), each.way, each.day))
    if account.open:
        typer.echo(words.open_sum(written(account.open), account.open.amount))
