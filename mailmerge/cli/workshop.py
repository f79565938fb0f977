"""Commands about a batch: how long it takes, its papers, its price, and the shop itself."""

from __future__ import annotations

import datetime as dt
import json
import sys
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from mailmerge.cli.app import app
from mailmerge.cli.common import (
    FolderArgument,
    JsonOption,
    PaperOption,
    chosen_in,
    count_in_shop,
    counted,
    folder_of,
    paper_of,
    print_table,
    watching,
)
from mailmerge.findings import InputError, nearest, shown
from mailmerge.units import format_minutes, numbers_in_words

if TYPE_CHECKING:
    from mailmerge.ledger.ledger import Ledger
    from mailmerge.orders import Order
    from mailmerge.workshop.money.quote import Money, Priced
    from mailmerge.workshop.shop.shop import Shop
    from mailmerge.workshop.timing.batch import Batch, Job
    from mailmerge.workshop.timing.estimate import Plan

RUN_SHEET, QUOTE = "run-sheet.pdf", "quote.pdf"


def _open_current(folder: Path, ledger: Ledger) -> Order:
    """Open an order of which everything on record is as its files say; merge it if it never was.

    Raises
    ------
    InputError
        It was forgotten, or something was changed since the last merge.
    """
    from mailmerge.ledger.forgetting import refuse_forgotten
    from mailmerge.merge import cores, outdated, update
    from mailmerge.orders import open_order

    refuse_forgotten(ledger)
    order = open_order(folder)
    if ledger.next_number() == 1:
        with watching("making items", False) as watch:
            update(order, ledger, cores(), watch)
        order = open_order(folder)
    if stale := outdated(order, ledger):
        raise InputError(
            f"{folder}: what the artwork is made from has changed since the last merge (items "
            f"{numbers_in_words(stale)}); first: mailmerge merge {folder}"
        )
    return order


def _now() -> dt.datetime:
    """Return the time by the clock in the shop, to the minute."""
    return dt.datetime.now().replace(second=0, microsecond=0)


@app.command("time")
def time_of(
    order: FolderArgument,
    start: Annotated[
        str, typer.Option("--from", help='When you begin: "2026-12-05 09:00" [default: now].')
    ] = "",
    as_json: JsonOption = False,
) -> None:
    """Say how long the cups that are still to be engraved take, and when they are all done."""
    from mailmerge.ledger.ledger import open_ledger
    from mailmerge.workshop.shop.shop import open_shop
    from mailmerge.workshop.timing.batch import batch_of, still_to_engrave
    from mailmerge.workshop.timing.estimate import plan_of
    from mailmerge.workshop.timing.tally import read_log

    folder, shop = folder_of(order), open_shop()
    try:
        begin = dt.datetime.fromisoformat(start) if start else _now()
        if begin.tzinfo or not 2000 <= begin.year < 3000:
            raise ValueError
    except ValueError:
        raise InputError(
            f'--from {shown(start)}: want a time by the clock in the shop, such as "2026-12-05 '
            f'09:00"'
        ) from None
    with open_ledger(folder, missing="make") as ledger:
        opened = _open_current(folder, ledger)
        log = read_log(shop, ledger)
        batch = batch_of(folder, still_to_engrave(ledger), opened.design.machine, shop, log)
    if not batch.jobs:
        typer.echo("Nothing is left to be engraved.")
        return
    plan = plan_of(shop, batch.seconds, begin) if batch.seconds else None
    if as_json:
        typer.echo(json.dumps(_time_entry(opened, batch, plan), ensure_ascii=False, indent=1))
        return
    print_table([_time_row(job, plan) for job in batch.jobs], False)
    typer.echo("")
    _say_time(opened, batch, plan, shop)


def _time_row(job: Job, plan: Plan | None) -> dict[str, Any]:
    record = job.record
    slot = plan.cups.get(record.number) if plan else None
    minutes = "not known" if job.seconds is None else format_minutes(job.seconds)
    return {
        "item": record.number,
        "name": shown(record.name, 32)[1:-1],
        "standing": str(record.standing),
        "min:s": minutes if job.engraving or job.seconds is None else f"about {minutes}",
        "at the machine": f"{slot.start:%a %d %b, %H:%M}" if slot else "–",
    }


def _say_time(order: Order, batch: Batch, plan: Plan | None, shop: Shop) -> None:
    from mailmerge.workshop.papers.run_sheet import day_and_time
    from mailmerge.workshop.timing.estimate import defaults_of_time

    _say_settings(batch)
    if batch.machine.acceleration is None:
        typer.echo(
            "the machine's profile has no acceleration: its run-up is left out, so it takes longer"
        )
    _say_overhead(batch)
    if plan is None:
        return
    minutes = shop.values.minutes
    cups, total = len(batch.seconds), sum(batch.seconds.values())
    together = plan.minutes + minutes.handling
    parts = total / 60 + minutes.setup + cups * minutes.loading + minutes.handling
    waiting = f", {together - parts:.0f} min waiting for hands" if together - parts >= 0.5 else ""
    typer.echo(
        f"{counted(cups, 'cup')}: {format_minutes(total)} at the machine, {minutes.setup:g} min to "
        f"set up, {cups} x {minutes.loading:g} min to load and unload, {minutes.handling:g} min "
        f"for the last one{waiting}: {format_minutes(together * 60)} together"
    )
    if defaults := defaults_of_time(shop):
        typer.echo(f"defaults: {', '.join(defaults)} (mailmerge shop)")
    typer.echo(f"begun on {day_and_time(plan.setup.start)} it is done on {day_and_time(plan.done)}")
    if plan.past_closing:
        typer.echo(
            f"items {numbers_in_words(list(plan.past_closing))} take longer than the shop is open "
            f"at a time; never leave them alone"
        )
    if order.due:
        day = f"{order.due.day} {order.due:%B %Y}"
        ready = plan.is_ready_by(order.due)
        typer.echo(f"due on {day}: {'in time' if ready else 'TOO LATE'}")


def _say_settings(batch: Batch) -> None:
    """Print what every blank and coat is engraved with, and what is not known."""
    for kind, job in batch.choices.items():
        if job.choice:
            typer.echo(f"{kind}: {job.choice.in_words}")
        if job.choice and job.limit:
            typer.echo(
                f"  {job.choice.settings.speed:g} mm/s is more than the {job.limit:g} mm/s that "
                f"the machine's profile allows along the lines, which is what counts"
            )
    if batch.without_settings:
        typer.echo(
            f"settings are not known for items {numbers_in_words(batch.without_settings)}: no "
            f"recipe for the coat on {batch.machine.name}, and its profile does not say what its "
            f"beam is; first: mailmerge keep-recipe"
        )
    if batch.without_artwork:
        words = "with the mean of the others" if batch.seconds else "and so are all others"
        typer.echo(f"stopped, {words}: items {numbers_in_words(batch.without_artwork)}")


def _say_overhead(batch: Batch) -> None:
    from mailmerge.workshop.timing.estimate import ENOUGH

    overhead = batch.overhead
    if not overhead.cups:
        typer.echo(
            f"worked out from the machine's profile; from {ENOUGH} timed cups on (mailmerge log) "
            f"it goes by the clock"
        )
        return
    share = overhead.share
    way = "longer" if share >= 0 else "shorter"
    typer.echo(
        f"by the clock of {overhead.cups} cups your machine takes about {abs(share):.0%} {way} "
        f"than its profile says ({overhead.seconds * 1000:+.0f} ms a line). Each of them, foretold "
        f"from the others, was off by {overhead.median_error:.1%} in the median and "
        f"{overhead.worst_error:.1%} at worst"
    )


def _time_entry(order: Order, batch: Batch, plan: Plan | None) -> dict[str, Any]:
    overhead = batch.overhead
    return {
        "machine": batch.machine.name,
        "items": [
            {
                "item": job.record.number,
                "name": job.record.name,
                "seconds": None if job.seconds is None else round(job.seconds, 1),
                "is_mean_of_others": job.engraving is None and job.seconds is not None,
                "lines": job.engraving.lines if job.engraving else None,
                "tried": job.choice is not None and job.choice.is_tried,
            }
            for job in batch.jobs
        ],
        "seconds": round(sum(batch.seconds.values()), 1),
        "overhead": {
            "seconds_a_line": round(overhead.seconds, 5),
            "timed_cups": overhead.cups,
            "median_error": overhead.median_error if overhead.cups else None,
            "worst_error": overhead.worst_error if overhead.cups else None,
        },
        "begin": plan.setup.start.isoformat() if plan else None,
        "done": plan.done.isoformat(timespec="minutes") if plan else None,
        "due": order.due.isoformat() if order.due else None,
        "in_time": plan.is_ready_by(order.due) if plan and order.due else None,
    }


@app.command("log")
def log_time(
    order: FolderArgument,
    item: Annotated[str, typer.Argument(metavar="ITEM", help="An item's number, or its file.")],
    minutes: Annotated[
        str, typer.Option(help="By the clock, without loading: 12:08 (min:s) or 12.5.")
    ] = "",
) -> None:
    """Put on record how long the machine really took for a cup: estimates learn from it."""
    from mailmerge.ledger.ledger import open_ledger
    from mailmerge.ledger.tray import changing
    from mailmerge.units import parse_minutes
    from mailmerge.workshop.shop.shop import open_shop
    from mailmerge.workshop.timing.batch import batch_of
    from mailmerge.workshop.timing.clock import put_time
    from mailmerge.workshop.timing.tally import read_log

    folder, shop = folder_of(order), open_shop()
    if not minutes:
        raise InputError("want --minutes with the time by the clock, such as --minutes 12:08")
    try:
        took = parse_minutes(minutes) * 60
        if not took:
            raise ValueError(f'found "{minutes}", want more than 0')
    except ValueError as error:
        raise InputError(f"--minutes: {error}") from None
    with open_ledger(folder) as ledger:
        opened = _open_current(folder, ledger)
        (number,) = chosen_in(ledger, [item])
        machine = opened.design.machine
        with changing(ledger) as change:
            job = put_time(change, machine, shop, number, took)
        count_in_shop(ledger)
        batch = batch_of(folder, [job.record], machine, shop, read_log(shop, ledger))
    assert job.engraving is not None
    assert job.choice is not None
    typer.echo(
        f"item {number}, {shown(job.record.name)[1:-1]}: {format_minutes(took)} by the clock; the "
        f"profile alone says {format_minutes(job.engraving.seconds)} with {job.choice.in_words}"
    )
    _say_overhead(batch)


@app.command("run-sheet")
def run_sheet(order: FolderArgument, paper: PaperOption = None) -> None:
    """Write the paper for the machine: cautions, what to lay out, and a line for each cup."""
    from mailmerge.files import write_file
    from mailmerge.ledger.ledger import open_ledger
    from mailmerge.ledger.tray import PAPERS
    from mailmerge.workshop.papers.run import run_of
    from mailmerge.workshop.papers.run_sheet import day_and_time, write_run_sheet
    from mailmerge.workshop.shop.shop import open_shop
    from mailmerge.workshop.timing.estimate import defaults_of_time
    from mailmerge.workshop.timing.tally import read_log

    folder, shop = folder_of(order), open_shop()
    with open_ledger(folder) as ledger:
        opened = _open_current(folder, ledger)
        run = run_of(ledger, opened, shop, read_log(shop, ledger), _now())
    target = folder / PAPERS / RUN_SHEET
    size, words = paper_of(shop, paper)
    write_file(target, write_run_sheet(run, size))
    typer.echo(f"run {run.mark}: {counted(len(run.cups), 'cup')} on {run.machine}")
    typer.echo(f"  {target} ({words})")
    for pile in run.piles:
        typer.echo(
            f"  lay out {pile.cups + pile.spares} of {pile.blank}, {pile.coat}: {pile.cups} and "
            f"{counted(pile.spares, 'spare')}; {pile.settings_in_words}"
        )
    typer.echo(f"  spares for {run.spoilage.percent:.1f} % spoiled: {run.spoilage.source}")
    if run.plan:
        defaults = defaults_of_time(shop)
        told = f" (defaults: {', '.join(defaults)})" if defaults else ""
        typer.echo(f"  begun now it is done on {day_and_time(run.plan.done)}{told}")


@app.command()
def quote(
    order: FolderArgument,
    quantity: Annotated[str, typer.Option(help="Other quantities, for a table: 12,24,48.")] = "",
    paper: PaperOption = None,
    as_json: JsonOption = False,
) -> None:
    """Work out what to charge: a page for the client, and for you what it costs."""
    from mailmerge.files import write_file
    from mailmerge.ledger.ledger import open_ledger
    from mailmerge.ledger.tray import PAPERS
    from mailmerge.workshop.money.quote import minutes_of, priced, scaled, unknown_blanks
    from mailmerge.workshop.papers.quote_paper import Offer, engraved_in_words, write_quote
    from mailmerge.workshop.shop.shop import open_shop
    from mailmerge.workshop.timing.batch import batch_of, piles_of
    from mailmerge.workshop.timing.tally import read_log

    folder, shop = folder_of(order), open_shop()
    others = _quantities(quantity)
    with open_ledger(folder, missing="make") as ledger:
        opened = _open_current(folder, ledger)
        log = read_log(shop, ledger)
        records = [record for record in ledger.records() if not record.gone]
        number = ledger.order_id
        batch = batch_of(folder, records, opened.design.machine, shop, log)
    kinds, spoilage = piles_of(records), log.spoilage(shop)
    each = minutes_of(batch)
    main = priced(shop, kinds, each, spoilage)
    table = tuple(priced(shop, scaled(kinds, other), each, spoilage) for other in others)
    offer = Offer(
        opened.design.title,
        kinds,
        engraved_in_words(opened.design.layout),
        main,
        table,
        opened.due,
        dt.datetime.now().astimezone(),
        number,
    )
    target = folder / PAPERS / QUOTE
    size, words = paper_of(shop, paper)
    write_file(target, write_quote(offer, shop, size))
    if as_json:
        told = {"quote": str(target), "priced": [_priced_entry(p) for p in (main, *table)]}
        typer.echo(json.dumps(told, ensure_ascii=False, indent=1))
        return
    _say_priced(shop, main, batch, f"{spoilage.percent:.1f} %, {spoilage.source}")
    for name in unknown_blanks(shop, kinds):
        typer.echo(
            f"shop.toml: price.blanks: {shown(name)} is no blank of the library or of this order"
            f"{nearest(name, [blank for blank, _ in kinds])}"
        )
    if table:
        _say_table(shop, (main, *table))
    typer.echo(f"for the client, without any of the costs: {target} ({words})")


def _quantities(text: str) -> list[int]:
    found = []
    for part in filter(None, (part.strip() for part in text.split(","))):
        if not part.isascii() or not part.isdecimal() or not 1 <= int(part) <= 10_000:
            raise InputError(
                f"--quantity: found {shown(part)}, want whole numbers up to "
                f"10,000, such as 12,24,48"
            )
        found.append(int(part))
    return sorted(set(found))


def _plain(money: Money, amount: Decimal) -> str:
    """Return an amount for a terminal: with plain blanks where its language has others."""
    return " ".join(money.written(amount).split())


def _say_priced(shop: Shop, main: Priced, batch: Batch, spoilage: str) -> None:
    from mailmerge.workshop.money.quote import Money

    money, price = Money(shop), shop.values.price
    rows = [
        {"for you": c.what, "how": c.how, "amount": _plain(money, c.amount), "from": c.source}
        for c in main.costs
    ]

    def row(what: str, how: str, amount: Decimal, source: str = "") -> None:
        rows.append({"for you": what, "how": how, "amount": money.written(amount), "from": source})

    row("All costs", f"{main.quantity} cups", main.cost)
    step = f", {main.off:f} % off from this quantity on" if main.off else ""
    row("A cup", f"as it is told{step}", main.each)
    row("Without tax", f"{main.quantity} cups", main.net)
    row(price.tax_name, f"{price.tax:f} %", main.tax, shop.source("price.tax"))
    row("The client pays", "", main.total)
    row("Deposit", f"{price.deposit:f} %", main.deposit, shop.source("price.deposit"))
    row("Fees", f"{price.fees:f} % of the price", main.fees, shop.source("price.fees"))
    wanted = f"{main.margin:.1f} % of the price; wanted {price.margin:f} %"
    row("Left for you", wanted, main.left, shop.source("price.margin"))
    print_table(rows, False)
    typer.echo("")
    business = shop.values.shop
    price = shop.values.price
    typer.echo(
        f"in {business.currency} ({shop.source('shop.currency')}), written as in {business.locale} "
        f"({shop.source('shop.locale')}), valid for {price.valid_days} days "
        f"({shop.source('price.valid_days')})"
    )
    typer.echo(f"spares for {spoilage}")
    _say_overhead(batch)
    _say_settings(batch)
    if main.left <= 0:
        typer.echo("AT THIS PRICE NOTHING IS LEFT: the quantity's step takes more than the margin")
    typer.echo("No tax rules are built in: the rate is yours, in shop.toml.")


def _say_table(shop: Shop, rows: tuple[Priced, ...]) -> None:
    from mailmerge.workshop.money.quote import Money

    money = Money(shop)
    typer.echo("")
    print_table(
        [
            {
                "cups": p.quantity,
                "spares": p.spares,
                "costs": _plain(money, p.cost),
                "a cup": _plain(money, p.each),
                "off": f"{p.off:f} %",
                "client pays": _plain(money, p.total),
                "left": _plain(money, p.left),
                "margin": f"{p.margin:.1f} %",
            }
            for p in sorted(rows, key=lambda p: p.quantity)
        ],
        False,
    )
    typer.echo("")


def _priced_entry(priced: Priced) -> dict[str, Any]:
    """Return a price for programs: amounts as text, for they are exact."""
    return {
        "quantity": priced.quantity,
        "spares": priced.spares,
        "costs": [
            {"what": c.what, "how": c.how, "amount": str(c.amount), "from": c.source}
            for c in priced.costs
        ],
        **{
            key: str(getattr(priced, key))
            for key in (
                "cost", "off", "each", "net", "tax", "total", "deposit", "balance", "fees", "left",
            )
        },
        "margin": f"{priced.margin:.2f}",
    }  # fmt: skip


@app.command("shop")
def set_up_shop() -> None:
    """Say once what holds for every order: name, money, hours, rates. All of it has defaults."""
    from mailmerge.files import write_file
    from mailmerge.workshop.shop.setup import QUESTIONS, check_answers, shop_toml
    from mailmerge.workshop.shop.shop import open_shop

    shop = open_shop()
    if shop.is_set_up:
        typer.echo(f"The shop is set up; to change anything, edit {shop.file}")
        for question in QUESTIONS:
            typer.echo(f"  {question.key}: {question.said_by(shop)}")
        return
    if not sys.stdin.isatty():
        raise InputError(
            f"{shop.file}: is not there yet, and there is no terminal to ask on; call this on one, "
            f"or write the file yourself (the README shows it). Nothing else needs it"
        )
    typer.echo("What holds for every order. Enter takes what is in brackets.")
    answers: dict[str, str] = {}
    for question in QUESTIONS:
        while True:
            said = typer.prompt(question.words, default=question.said_by(shop), show_default=True)
            answers[question.key] = str(said).strip()
            try:
                check_answers(shop, answers)
                break
            except InputError as error:
                typer.echo(f"  {error}")
    write_file(shop.file, shop_toml(answers).encode())
    typer.echo(f"written: {shop.file}")
