"""Commands about a batch: how long it takes, its papers, its price, and the shop itself."""

from __future__ import annotations

import datetime as dt
import sys
from decimal import Decimal
from typing import TYPE_CHECKING, Annotated, Any

import typer

from mailmerge.cli import words
from mailmerge.cli.app import WORKSHOP, command
from mailmerge.cli.common import (
    FolderArgument,
    JsonOption,
    PaperOption,
    print_json,
    print_table,
    say_not_logged,
    watching,
)
from mailmerge.findings import InputError, shown
from mailmerge.units import format_minutes, parse_minutes

if TYPE_CHECKING:
    from mailmerge.deeds.papers import Priced, Quoted
    from mailmerge.deeds.shop import ShopValues
    from mailmerge.deeds.timing import Batch, Job, Overhead, Plan, Timed


@command(WORKSHOP, "time gala", 'time gala --from "2026-12-05 09:00"', name="time")
def time_of(
    order: FolderArgument,
    start: Annotated[
        str, typer.Option("--from", help='When you begin: "2026-12-05 09:00" [default: now].')
    ] = "",
    as_json: JsonOption = False,
) -> None:
    """Work out when the remaining cups will be done."""
    from mailmerge.deeds import timing

    begin = _begin(start)
    with watching(words.WORKING_OUT, as_json) as watch:
        timed = timing.time(order, begin, watch)
    if not timed.batch.jobs:
        typer.echo(words.NOTHING_LEFT)
    elif as_json:
        print_json(_time_entry(timed))
    else:
        print_table([_time_row(job, timed.plan) for job in timed.batch.jobs], False)
        typer.echo("")
        _say_time(timed)


def _begin(start: str) -> dt.datetime | None:
    try:
        return dt.datetime.fromisoformat(start) if start else None
    except ValueError:
        raise InputError(words.bad_start(start)) from None


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


def _say_time(timed: Timed) -> None:
    _say_settings(timed.batch)
    if timed.batch.machine.acceleration is None:
        typer.echo(words.NO_ACCELERATION)
    _say_overhead(timed.batch.overhead)
    if timed.plan is not None:
        _say_plan(timed, timed.plan)


def _say_plan(timed: Timed, plan: Plan) -> None:
    from mailmerge.deeds.papers import day_and_time

    cups, by_hand = len(timed.batch.seconds), timed.minutes
    parts = (by_hand.setup, by_hand.loading, by_hand.handling, timed.waiting)
    typer.echo(words.together(cups, timed.seconds, *parts, timed.together))
    if timed.defaults:
        typer.echo(words.defaults(timed.defaults))
    typer.echo(words.done_on(day_and_time(plan.setup.start), day_and_time(plan.done)))
    if plan.past_closing:
        typer.echo(words.past_closing(plan.past_closing))
    if timed.due:
        typer.echo(words.due(timed.due, timed.in_time))


def _say_settings(batch: Batch) -> None:
    """Print what every blank and coat is engraved with, and what is not known."""
    for kind, job in batch.choices.items():
        if job.choice:
            typer.echo(words.kind_settings(kind.in_words, job.choice.in_words))
        if job.choice and job.limit:
            typer.echo(words.speed_limited(job.choice.settings.speed, job.limit))
    if batch.without_settings:
        typer.echo(words.without_settings(batch.without_settings, batch.machine.name))
    if batch.without_artwork:
        said = words.stopped_by_mean if batch.seconds else words.all_stopped
        typer.echo(said(batch.without_artwork))


def _say_overhead(overhead: Overhead) -> None:
    from mailmerge.deeds.timing import ENOUGH

    if not overhead.cups:
        typer.echo(words.by_profile(ENOUGH))
        return
    errors = (overhead.median_error, overhead.worst_error)
    typer.echo(words.by_clock(overhead.cups, overhead.share, overhead.seconds, *errors))


def _time_entry(timed: Timed) -> dict[str, Any]:
    plan, overhead = timed.plan, timed.batch.overhead
    return {
        "machine": timed.batch.machine.name,
        "items": [
            {
                "item": job.record.number,
                "name": job.record.name,
                "seconds": None if job.seconds is None else round(job.seconds, 1),
                "is_mean_of_others": job.engraving is None and job.seconds is not None,
                "lines": job.engraving.lines if job.engraving else None,
                "tried": job.choice is not None and job.choice.is_tried,
            }
            for job in timed.batch.jobs
        ],
        "seconds": round(timed.seconds, 1),
        "overhead": {
            "seconds_a_line": round(overhead.seconds, 5),
            "timed_cups": overhead.cups,
            "median_error": overhead.median_error if overhead.cups else None,
            "worst_error": overhead.worst_error if overhead.cups else None,
        },
        "begin": plan.setup.start.isoformat() if plan else None,
        "done": plan.done.isoformat(timespec="minutes") if plan else None,
        "due": timed.due.isoformat() if timed.due else None,
        "in_time": timed.in_time,
    }


@command(WORKSHOP, "log gala 7 --minutes 9:40", name="log")
def log_time(
    order: FolderArgument,
    item: Annotated[str, typer.Argument(metavar="ITEM", help="An item's number, or its file.")],
    minutes: Annotated[
        str, typer.Option(help="By the clock, without loading: 7:25 (min:s) or 7.4.")
    ] = "",
) -> None:
    """Record how long the machine really took for a cup.

    Estimates learn from it.
    """
    from mailmerge.deeds import timing

    if not minutes:
        raise InputError(words.MINUTES_MISSING)
    try:
        took = parse_minutes(minutes) * 60
    except ValueError as error:
        raise InputError(words.bad_option("--minutes", error)) from None
    with watching(words.MAKING_ITEMS) as watch:
        done = timing.log(order, item, took, watch)
    say_not_logged(done.not_logged)
    number, name = done.job.record.number, done.job.record.name
    typer.echo(words.logged(number, name, took, done.worked_out, done.settings))
    _say_overhead(done.overhead)


@command(WORKSHOP, "quote gala", "quote gala --quantity 12,24,48")
def quote(
    order: FolderArgument,
    quantity: Annotated[str, typer.Option(help="Other quantities, for a table: 12,24,48.")] = "",
    paper: PaperOption = None,
    as_json: JsonOption = False,
) -> None:
    """Work out a price, and write the quote.

    The quote is a page for the client. What it costs you is shown on the screen alone.
    """
    from mailmerge.deeds import papers

    wanted = papers.quantities_in(quantity)
    with watching(words.WORKING_OUT, as_json) as watch:
        done = papers.quote(order, wanted, paper, watch)
    if as_json:
        priced = [_priced_entry(each) for each in (done.main, *done.table)]
        print_json({"quote": str(done.file), "priced": priced})
        return
    _say_priced(done)
    for name, meant in done.unknown:
        typer.echo(words.unknown_blank(name, meant))
    if done.table:
        _say_table(done)
    typer.echo(words.quote_written(done.file, done.paper.in_words))


def _plain(done: Quoted, amount: Decimal) -> str:
    """Return an amount for a terminal: with plain blanks where its language has others."""
    return " ".join(done.money.written(amount).split())


def _say_priced(done: Quoted) -> None:
    print_table(_cost_rows(done), False)
    typer.echo("")
    shop, business, price = done.shop, done.shop.values.shop, done.shop.values.price
    typer.echo(
        words.money(
            (business.currency, shop.source("shop.currency")),
            (business.locale, shop.source("shop.locale")),
            (price.valid_days, shop.source("price.valid_days")),
        )
    )
    typer.echo(words.spares(done.spoilage.percent, done.spoilage.source))
    _say_overhead(done.batch.overhead)
    _say_settings(done.batch)
    if done.main.left <= 0:
        typer.echo(words.NOTHING_LEFT_FOR_YOU)
    typer.echo(words.NO_TAX_RULES)


def _cost_rows(done: Quoted) -> list[dict[str, str]]:
    """Return costs and price as rows of a table, each with where its numbers come from."""
    main, shop, price = done.main, done.shop, done.shop.values.price
    step = f", {main.off:f} % off from this quantity on" if main.off else ""
    wanted = f"{main.margin:.1f} % of the price; wanted {price.margin:f} %"
    rows = [
        *((c.what, c.how, c.amount, c.source) for c in main.costs),
        ("All costs", f"{main.quantity} cups", main.cost, ""),
        ("A cup", f"as it is told{step}", main.each, ""),
        ("Without tax", f"{main.quantity} cups", main.net, ""),
        (price.tax_name, f"{price.tax:f} %", main.tax, shop.source("price.tax")),
        ("The client pays", "", main.total, ""),
        ("Deposit", f"{price.deposit:f} %", main.deposit, shop.source("price.deposit")),
        ("Fees", f"{price.fees:f} % of the price", main.fees, shop.source("price.fees")),
        ("Left for you", wanted, main.left, shop.source("price.margin")),
    ]
    return [
        {"for you": what, "how": how, "amount": _plain(done, amount), "from": source}
        for what, how, amount, source in rows
    ]


def _say_table(done: Quoted) -> None:
    typer.echo("")
    print_table(
        [
            {
                "cups": p.quantity,
                "spares": p.spares,
                "costs": _plain(done, p.cost),
                "a cup": _plain(done, p.each),
                "off": f"{p.off:f} %",
                "client pays": _plain(done, p.total),
                "left": _plain(done, p.left),
                "margin": f"{p.margin:.1f} %",
            }
            for p in sorted((done.main, *done.table), key=lambda p: p.quantity)
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


@command(WORKSHOP, "shop", "shop --set rates.labour=31", name="shop")
def set_up_shop(
    given: Annotated[
        list[str] | None,
        typer.Option("--set", metavar="KEY=VALUE", help="Change a value. No value: the default."),
    ] = None,
    as_json: JsonOption = False,
) -> None:
    """Set up the shop: name, money, hours, rates.

    Everything has a default.
    """
    from mailmerge.deeds import shop as deeds

    if given:
        if wrong := next((each for each in given if "=" not in each), None):
            raise InputError(words.bad_shop_value(wrong))
        answers = dict(each.split("=", 1) for each in given)
        typer.echo(words.shop_written(deeds.change_shop(answers)))
        return
    known = deeds.shop()
    if as_json:
        print_json([{"key": v.key, "value": v.value, "from": v.source} for v in known.values])
    elif known.is_set_up:
        typer.echo(words.shop_is_set_up(known.file))
        for value in known.values:
            typer.echo(words.shop_value(value.key, value.value))
    elif not sys.stdin.isatty():
        raise InputError(words.no_terminal(known.file))
    else:
        typer.echo(words.shop_written(deeds.set_up_shop(_asked(known))))


def _asked(known: ShopValues) -> dict[str, str]:
    """Ask for everything, each until the answer is usable."""
    from mailmerge.deeds.shop import check_shop

    typer.echo(words.HOLDS_FOR_EVERY_ORDER)
    answers: dict[str, str] = {}
    for value in known.values:
        while True:
            said = typer.prompt(value.words, default=value.value, show_default=True)
            answers[value.key] = str(said).strip()
            try:
                check_shop(answers)
                break
            except InputError as error:
                typer.echo(words.answer_refused(error))
    return answers
