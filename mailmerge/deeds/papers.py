"""Papers about a batch: the run sheet for the machine, the quote for the client."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Literal

from mailmerge.deeds import words
from mailmerge.deeds.opening import current, folder_of, order_ledger
from mailmerge.deeds.timing import now_in_shop
from mailmerge.files import Root, read_file
from mailmerge.findings import InputError, nearest
from mailmerge.ledger.tray import PAPERS
from mailmerge.progress import Watch, unwatched
from mailmerge.proofs.paper_size import PaperSize
from mailmerge.workshop.money.quote import Money, Priced, minutes_of, priced, scaled, unknown_blanks
from mailmerge.workshop.papers.quote_paper import Offer, engraved_in_words, write_quote
from mailmerge.workshop.papers.run import Run, run_of
from mailmerge.workshop.papers.run_sheet import write_run_sheet
from mailmerge.workshop.papers.words import day_and_time
from mailmerge.workshop.shop.shop import ChosenPaper, Shop, open_shop
from mailmerge.workshop.timing.batch import Batch, batch_of, piles_of
from mailmerge.workshop.timing.estimate import defaults_of_time
from mailmerge.workshop.timing.tally import Spoilage, read_log

__all__ = [
    "Money",
    "Price",
    "Priced",
    "RunSheet",
    "Shop",
    "day_and_time",
    "paper_of",
    "price",
    "quote",
    "run_sheet",
    "run_sheet_file",
    "written_at",
]

Paper = Literal["run-sheet.pdf", "quote.pdf"]
"""A paper in an order's folder."""

RUN_SHEET: Paper = "run-sheet.pdf"
QUOTE: Paper = "quote.pdf"

MOST = 10_000
"""Cups that a quote is worked out for."""


@dataclass(frozen=True)
class RunSheet:
    """A run sheet that was written."""

    file: Path
    paper: ChosenPaper
    run: Run
    defaults: tuple[str, ...]
    """Which of its plan's numbers are defaults, in words."""


def run_sheet(
    order: Path,
    size: PaperSize | None = None,
    watch: Watch = unwatched,
    begin: dt.datetime | None = None,
) -> RunSheet:
    """Write the paper for the machine: cautions, what to lay out, and a line for each cup.

    Parameters
    ----------
    begin
        When the run begins, by the clock in the shop; None for now.

    Raises
    ------
    InputError
        Nothing is released, a file is not as it was made, or the order has changed since the last
        merge.
    """
    folder, shop = folder_of(order), open_shop()
    with order_ledger(folder) as ledger:
        loaded = current(ledger, watch)
        run = run_of(ledger, loaded, shop, read_log(shop, ledger), begin or now_in_shop(), watch)
    file, paper = folder / PAPERS / RUN_SHEET, shop.paper(size)
    Root(folder).write(f"{PAPERS}/{RUN_SHEET}", write_run_sheet(run, paper.size))
    return RunSheet(file, paper, run, tuple(defaults_of_time(shop)))


def run_sheet_file(order: Path, watch: Watch = unwatched) -> Path:
    """Write the run sheet as :func:`run_sheet` does; return its file, and no pictures."""
    return run_sheet(order, watch=watch).file


@dataclass(frozen=True)
class Price:
    """What an order costs you, and what to charge for it."""

    shop: Shop
    money: Money
    main: Priced
    """For the order as it is."""
    table: tuple[Priced, ...]
    """For other quantities."""
    batch: Batch
    spoilage: Spoilage
    unknown: tuple[tuple[str, str], ...]
    """Names in the shop's prices that no blank has, and the nearest one, in words."""
    offer: Offer
    """What a client is told of it."""


@dataclass(frozen=True)
class Quoted(Price):
    """A quote that was written, and what it costs you."""

    file: Path
    paper: ChosenPaper


def quantities_in(text: str) -> list[int]:
    """Return the numbers of cups that somebody has typed, with commas between.

    Raises
    ------
    InputError
        One of them is no number.
    """
    found = []
    for part in filter(None, (part.strip() for part in text.split(","))):
        if not part.isascii() or not part.isdecimal() or len(part) > 9:
            raise InputError(words.bad_quantity(part))
        found.append(int(part))
    return found


def price(order: Path, quantities: Sequence[int] = (), watch: Watch = unwatched) -> Price:
    """Work out what an order costs you and what to charge; nothing is written but a first merge.

    Parameters
    ----------
    quantities
        Other numbers of cups, for a table.

    Raises
    ------
    CalledOff
        By ``watch``, before anything was merged.
    InputError
        The order has changed since the last merge, nobody can say how long a cup takes, or a
        quantity is out of bounds.
    """
    for wanted in quantities:
        if not 1 <= wanted <= MOST:
            raise InputError(words.quantity_out_of_bounds(wanted, MOST))
    folder, shop = folder_of(order), open_shop()
    with order_ledger(folder, missing="make") as ledger:
        loaded = current(ledger, watch)
        log = read_log(shop, ledger)
        records = [record for record in ledger.records() if not record.gone]
        number = ledger.order_id
        batch = batch_of(folder, records, loaded.design.machine, shop, log, watch=watch)
    kinds, spoilage, each = piles_of(records), log.spoilage(shop), minutes_of(batch)
    main = priced(shop, kinds, each, spoilage)
    table = tuple(
        priced(shop, scaled(kinds, other), each, spoilage) for other in sorted(set(quantities))
    )
    offer = Offer(
        loaded.design.title,
        kinds,
        engraved_in_words(loaded.design.layout),
        main,
        table,
        loaded.due,
        dt.datetime.now().astimezone(),
        number,
    )
    names = [kind.blank for kind in kinds]
    unknown = tuple((name, nearest(name, names)) for name in unknown_blanks(shop, kinds))
    return Price(shop, Money(shop), main, table, batch, spoilage, unknown, offer)


def quote(
    order: Path,
    quantities: Sequence[int] = (),
    size: PaperSize | None = None,
    watch: Watch = unwatched,
) -> Quoted:
    """Work out what to charge: a page for the client, and for you what it costs.

    Parameters
    ----------
    quantities
        Other numbers of cups, for a table.

    Raises
    ------
    CalledOff
        By ``watch``, before anything was merged.
    InputError
        As :func:`price`, or the quote cannot be written.
    """
    found = price(order, quantities, watch)
    folder, paper = folder_of(order), found.shop.paper(size)
    Root(folder).write(f"{PAPERS}/{QUOTE}", write_quote(found.offer, found.shop, paper.size))
    values = {field.name: getattr(found, field.name) for field in fields(found)}
    return Quoted(**values, file=folder / PAPERS / QUOTE, paper=paper)


def written_at(order: Path, name: Paper) -> dt.datetime | None:
    """Return when a paper was written, by this computer's clock; None if it was not."""
    file = folder_of(order) / PAPERS / name
    return dt.datetime.fromtimestamp(file.stat().st_mtime) if file.is_file() else None


def paper_of(order: Path, name: Paper) -> bytes:
    """Return a paper that was written.

    Raises
    ------
    InputError
        It was not.
    """
    return read_file(folder_of(order) / PAPERS / name)
