"""What was agreed and what was paid. No invoices and no tax rules: it says what is still open."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from pathlib import Path

from mailmerge.deeds import words
from mailmerge.deeds.opening import folder_of, order_ledger
from mailmerge.findings import InputError
from mailmerge.ledger.money import Account, Part, Payment, Sum
from mailmerge.progress import Watch, unwatched
from mailmerge.units import parse_amount
from mailmerge.workshop.money.quote import Money
from mailmerge.workshop.shop.shop import open_shop

__all__ = [
    "Account",
    "Part",
    "Payment",
    "Sum",
    "account",
    "agree",
    "pay",
    "take_payment_back",
    "written",
]

MOST_WORDS = 60
"""Longest way of paying, in characters."""


def account(order: Path) -> Account:
    """Return what was agreed and paid.

    Raises
    ------
    InputError
        There is no such order, or nothing was merged yet.
    """
    with order_ledger(folder_of(order)) as ledger:
        return ledger.account


def written(amount: Sum) -> str:
    """Return a sum as the shop's language writes it."""
    return Money(open_shop()).written_in(amount.amount, amount.currency)


def agree(order: Path, amount: str = "", watch: Watch = unwatched) -> Account:
    """Put on record what the order is to cost, with tax.

    Parameters
    ----------
    amount
        In the shop's currency; ``""`` for what the quote comes to now.

    Raises
    ------
    InputError
        It is no amount, or the quote cannot be worked out; nothing is on record then.
    """
    folder, currency = folder_of(order), open_shop().values.shop.currency
    total = _amount(amount, "agree") if amount else _quoted(folder, watch)
    with order_ledger(folder) as ledger, ledger.writing() as change:
        change.put_agreement(Sum(total, currency))
        return change.account


def pay(order: Path, amount: str, part: Part, way: str, on: dt.date | None = None) -> Account:
    """Put on record what the client has paid.

    Parameters
    ----------
    amount
        In the shop's currency.
    way
        How: cash, transfer, card.
    on
        The day; None for today.

    Raises
    ------
    InputError
        It is no amount or nothing, the way is not said, or the day is to come; nothing is on
        record then.
    """
    how, day = " ".join(way.split()), on or dt.date.today()
    paid = _amount(amount, "paid")
    if not how or len(how) > MOST_WORDS:
        raise InputError(words.paid_how(MOST_WORDS))
    if day > dt.date.today():
        raise InputError(words.day_to_come(day))
    with order_ledger(folder_of(order)) as ledger, ledger.writing() as change:
        change.put_payment(part, Sum(paid, open_shop().values.shop.currency), how, day)
        return change.account


def take_payment_back(order: Path, number: int) -> Account:
    """Put on record that a payment was put down by mistake.

    Raises
    ------
    InputError
        There is no such payment.
    """
    with order_ledger(folder_of(order)) as ledger, ledger.writing() as change:
        known = [each.number for each in change.account.payments]
        if number not in known:
            raise InputError(words.no_such_payment(number, known))
        change.take_payment_back(number)
        return change.account


def _amount(text: str, what: str) -> Decimal:
    try:
        amount = parse_amount(text)
    except ValueError as error:
        raise InputError(words.no_amount(what, error)) from None
    unit = Money(open_shop()).unit
    if amount <= 0 or amount != amount.quantize(unit):
        raise InputError(words.amount_of_nothing(what, text, unit))
    return amount


def _quoted(folder: Path, watch: Watch) -> Decimal:
    from mailmerge.deeds.papers import price

    return price(folder, watch=watch).main.total
