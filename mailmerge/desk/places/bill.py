"""Bill: time, spares, what to charge, with the origin of every number; and the papers."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from starlette.responses import Response

from mailmerge.deeds import papers, paying, timing
from mailmerge.deeds.papers import Price
from mailmerge.deeds.shop import shop
from mailmerge.desk import words
from mailmerge.desk.asking import Asked, Undo, get, is_number, post
from mailmerge.desk.values import changed
from mailmerge.findings import InputError
from mailmerge.units import format_minutes

_USED = ("rates.", "minutes.", "price.", "shop.spoilage")
"""Which of the shop's values a price comes from."""


@dataclass(frozen=True, slots=True)
class Row:
    """A number of a bill, and where it comes from."""

    what: str
    how: str
    amount: str
    source: str
    is_sum: bool = False


def bill(asked: Asked) -> Response:
    """Show what an order costs and what to charge."""
    if not asked.glance.has_cups:
        amiss = words.COME_WITH_CUPS if asked.is_making else words.MAKE_FIRST
        return asked.page("bill.html", price=None, amiss=amiss, later=False, account=None)
    paid: dict[str, Any] = {"account": paying.account(asked.folder), "written": paying.written,
            "today": dt.date.today()}  # fmt: skip
    wanted = papers.quantities_in(asked.query.get("quantities", ""))
    try:
        if _is_being_worked_out(asked):
            return asked.page("bill.html", price=None, amiss=words.TIMES_FIRST, later=True, **paid)
        price = papers.price(asked.folder, wanted)
        timed = timing.time(asked.folder)
    except InputError as error:
        return asked.page(
            "bill.html", price=None, amiss=words.on_page(str(error), asked.folder), later=False,
            **paid,
        )  # fmt: skip
    return asked.page(
        "bill.html",
        price=price,
        amiss="",
        rows=_rows(price),
        table=sorted((price.main, *price.table), key=lambda each: each.quantity),
        amount=price.money.written,
        quantities=", ".join(map(str, wanted)),
        timed=timed,
        sheet=papers.written_at(asked.folder, papers.RUN_SHEET),
        done=papers.day_and_time(timed.plan.done) if timed.plan else "",
        at_machine=format_minutes(timed.seconds),
        values=[each for each in shop().values if each.key.startswith(_USED)],
        **paid,
    )


_AT_ONCE = 60
"""Cups whose times are worked out while the page waits, in about half a second."""


def _is_being_worked_out(asked: Asked) -> bool:
    """Whether it takes long to say how long the cups take; then that is begun."""
    work = asked.desk.works.of(asked.order.key)
    if work is not None and isinstance(work.result, timing.WorkedOut):
        timing.take_in(work.result)
    if timing.to_work_out(asked.folder) <= _AT_ONCE or (work and work.state == "refused"):
        return False
    if work is None or not work.is_at_work:
        asked.desk.works.begin(
            asked.order.key, words.WORKING_OUT_TIMES, timing.work_out, asked.folder,
            then=asked.at("bill"),
        )  # fmt: skip
    return True


def _rows(price: Price) -> list[Row]:
    """Return costs and price, each with where its numbers come from."""
    main, own, values = price.main, price.shop, price.shop.values.price

    def row(what: str, how: str, amount: Decimal, source: str = "", is_sum: bool = False) -> Row:
        return Row(what, how, price.money.written(amount), source, is_sum)

    return [
        *(row(c.what, c.how, c.amount, c.source) for c in main.costs),
        row(words.ALL_COSTS, words.cups(main.quantity), main.cost, is_sum=True),
        row(words.A_CUP, words.percent_off(main.off), main.each),
        row(words.WITHOUT_TAX, words.cups(main.quantity), main.net),
        row(values.tax_name, words.percent(values.tax), main.tax, own.source("price.tax")),
        row(words.CLIENT_PAYS, "", main.total, is_sum=True),
        row(words.DEPOSIT, words.percent(values.deposit), main.deposit,
            own.source("price.deposit")),
        row(words.FEES, words.percent(values.fees), main.fees, own.source("price.fees")),
        row(words.LEFT_FOR_YOU, words.margin(main.margin, values.margin), main.left,
            own.source("price.margin"), is_sum=True),
    ]  # fmt: skip


def change(asked: Asked) -> Response:
    """Let the shop say other numbers; they hold for every order."""
    return changed(asked, asked.at("bill"), asked.at("bill", "numbers"))


def agree(asked: Asked) -> Response:
    """Put down the price that was agreed."""
    then, amount = asked.at("bill"), asked.form.get("amount", "")
    if not amount.strip():
        raise InputError(words.AMOUNT_MISSING)
    done = asked.in_turn(words.AGREED, [], paying.agree, amount, then=then)
    return asked.on(then, words.PUT_DOWN if done else words.COMES_IN_TURN)


def pay(asked: Asked) -> Response:
    """Put down what the client has paid."""
    then, form = asked.at("bill"), asked.form
    part: paying.Part = "rest" if form.get("part") == "rest" else "deposit"
    done = asked.in_turn(
        words.WAS_PAID, [], paying.pay, form.get("amount", ""), part, form.get("way", ""),
        _day(form.get("day", "")), then=then,
    )  # fmt: skip
    if done is None:
        return asked.on(then, words.COMES_IN_TURN)
    last = {"payment": str(done.payments[-1].number)}
    return asked.on(then, words.PUT_DOWN, Undo(words.UNDO, asked.at("bill", "paid", "back"), last))


def _day(typed: str) -> dt.date | None:
    try:
        return dt.date.fromisoformat(typed) if typed else None
    except ValueError:
        raise InputError(words.no_day(typed)) from None


def pay_back(asked: Asked) -> Response:
    """Take a payment off the record: it was put down by mistake."""
    then, number = asked.at("bill"), asked.form.get("payment", "")
    if not is_number(number):
        raise InputError(words.NOTHING_NEW)
    done = asked.in_turn(words.WAS_NOT_PAID, [], paying.take_payment_back, int(number), then=then)
    return asked.on(then, words.TAKEN_OFF if done else words.COMES_IN_TURN)


def quote(asked: Asked) -> Response:
    """Write the quote, and show it."""
    papers.quote(asked.folder, papers.quantities_in(asked.form.get("quantities", "")))
    return _paper(asked, papers.QUOTE)


def run_sheet(asked: Asked) -> Response:
    """Let the run sheet be written: every cup is drawn for it, which takes a while."""
    then = asked.at("bill")
    asked.begin(words.WRITING_RUN_SHEET, papers.run_sheet_file, then=then)
    return asked.on(then)


def written_run_sheet(asked: Asked) -> Response:
    """Show the run sheet that was written last."""
    return _paper(asked, papers.RUN_SHEET)


def _paper(asked: Asked, name: papers.Paper) -> Response:
    shown = {"Content-Disposition": f'inline; filename="{name}"'}
    return Response(
        papers.paper_of(asked.folder, name), media_type="application/pdf", headers=shown
    )


ROUTES = [
    get("/orders/{key}/bill", bill),
    post("/orders/{key}/bill/numbers", change),
    post("/orders/{key}/bill/agree", agree),
    post("/orders/{key}/bill/paid", pay),
    post("/orders/{key}/bill/paid/back", pay_back),
    post("/orders/{key}/bill/quote", quote),
    post("/orders/{key}/bill/run-sheet", run_sheet),
    get("/orders/{key}/bill/run-sheet.pdf", written_run_sheet),
]
