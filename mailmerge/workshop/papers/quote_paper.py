"""The quote for the client: one page, and nothing of what it costs the shop."""

from __future__ import annotations

import datetime as dt
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from mailmerge.artwork.layout import Layout, fields_of
from mailmerge.findings import InputError
from mailmerge.guests.columns import label_of
from mailmerge.items.record import Kind
from mailmerge.proofs.palette import INK, SOFT
from mailmerge.proofs.paper import MARGIN, Colour, Paper
from mailmerge.proofs.paper_size import PaperSize
from mailmerge.proofs.text import plain
from mailmerge.workshop.money.quote import Money, Priced
from mailmerge.workshop.papers import words
from mailmerge.workshop.shop.shop import Shop

_AMOUNT = 55.0
"""Room for an amount, in mm."""
_SMALLEST = 0.5


@dataclass(frozen=True)
class Offer:
    """What a client is offered."""

    title: str
    kinds: Mapping[Kind, int]
    engraved: str
    """What is engraved on each cup, in words."""
    priced: Priced
    others: tuple[Priced, ...]
    """Other quantities."""
    due: dt.date | None
    made: dt.datetime
    number: str
    """What the order is known by."""


def engraved_in_words(layout: Layout) -> str:
    """Return what a layout engraves on each cup, in words for a client."""
    fields = dict.fromkeys(f for line in layout.line for f in fields_of(line.text))
    labels = [label_of(f.removeprefix("order.")).lower() for f in fields]
    return words.engraved_with(labels) if labels else words.ENGRAVED_AS_SHOWN


def write_quote(offer: Offer, shop: Shop, size: PaperSize) -> bytes:
    """Return the quote as the bytes of a PDF of one page, set smaller where that takes it.

    Raises
    ------
    InputError
        There is more to say than a page can hold in letters that can be read.
    """
    paper = _Quote(offer, shop, size)
    while paper.filled(draw=False) > paper.h - MARGIN:
        paper.scale *= 0.95
        if paper.scale < _SMALLEST:
            paper.written()  # or its font files stay open
            raise InputError(words.TOO_MUCH_FOR_A_PAGE)
    paper.filled(draw=True)
    return paper.written()


class _Quote(Paper):
    """A quote on paper."""

    def __init__(self, offer: Offer, shop: Shop, size: PaperSize) -> None:
        self.offer, self.shop = offer, shop
        self.scale, self.is_drawn = 1.0, False
        self.money = Money(shop)
        super().__init__(size, words.quote_title(offer.title), offer.made)

    def foot(self) -> str:
        """Return nothing: it is one page, and its head says whose it is."""
        return ""

    def filled(self, draw: bool) -> float:
        """Write the page, or only find out; return where it ends."""
        self.is_drawn = draw
        offer, price = self.offer, self.shop.values.price
        business, priced = self.shop.values.shop, offer.priced
        y = MARGIN
        day, written = self._day, self._amount
        if business.name:
            y = self._text(business.name, y, 14)
        for row in business.address:
            y = self._text(row, y, 9.5, SOFT)
        y = self._text(words.QUOTE, max(y + 10 * self.scale, 38.0 * self.scale), 26)
        y = self._text(offer.title, y + 1, 15)
        made = offer.made.date()
        valid = made + dt.timedelta(days=price.valid_days)
        needed_by = day(offer.due) if offer.due else ""
        dates = words.quote_dates(day(made), day(valid), needed_by, offer.number)
        y = self._text(dates, y + 1, 10, SOFT) + 8 * self.scale
        for kind, count in offer.kinds.items():
            # The library calls typical sizes a class; to a client that says nothing.
            y = self._row(words.kind(kind.blank.removesuffix(" class"), kind.coat), f"{count}", y)
        y = self._text(offer.engraved, y + 1, 10, SOFT) + 6 * self.scale
        is_included = price.tax_included and price.tax
        one_cup = words.one_cup_with_tax(price.tax_name) if is_included else words.ONE_CUP
        y = self._row(one_cup, written(priced.each), y)
        if price.tax and not price.tax_included:
            y = self._row(words.cups(priced.quantity), written(priced.net), y)
            y = self._row(words.tax(price.tax_name, price.tax), written(priced.tax), y)
        y = self._row(words.total(priced.quantity), written(priced.total), y, 14)
        if is_included:
            y = self._row(words.tax_included(price.tax_name, price.tax), written(priced.tax), y)
        if priced.deposit:
            y = self._row(words.DEPOSIT, written(priced.deposit), y + 4)
            y = self._row(words.BALANCE, written(priced.balance), y)
        if offer.others:
            y = self._others(y + 8 * self.scale)
        y = self._text(words.PROMISE, y + 8 * self.scale, 10, SOFT) + 14 * self.scale
        half = (self.epw - 10) / 2
        if self.is_drawn:
            self.line(MARGIN, y, MARGIN + half, y)
            self.line(MARGIN + half + 10, y, self.w - MARGIN, y)
        self.words(words.AGREED_ON, MARGIN, y + 1, half, 8.5, SOFT, self.is_drawn)
        return self.words(words.NAME, MARGIN + half + 10, y + 1, half, 8.5, SOFT, self.is_drawn)

    def _text(self, text: str, y: float, size: float, colour: Colour = INK) -> float:
        return self.words(text, MARGIN, y, self.epw, size * self.scale, colour, self.is_drawn)

    def _row(self, text: str, amount: str, y: float, size: float = 11.5) -> float:
        """Write a line with an amount at its end, and a rule below it."""
        size *= self.scale
        end = self.words(text, MARGIN, y, self.epw - _AMOUNT, size, draw=self.is_drawn)
        if self.is_drawn:
            self.type(size)
            self.set_xy(self.w - MARGIN - _AMOUNT, y)
            self.fitted(amount, _AMOUNT, align="R")
            rule = end + 1.5 * self.scale
            self.line(MARGIN, rule, self.w - MARGIN, rule)
        return end + 3.5 * self.scale

    def _others(self, y: float) -> float:
        y = self._text(words.OTHER_QUANTITIES, y, 12) + 2
        price = self.shop.values.price
        for priced in self.offer.others:
            each = self._amount(priced.each)
            if price.tax:
                text = words.other_quantity_with_tax(priced.quantity, each, price.tax_name)
            else:
                text = words.other_quantity(priced.quantity, each)
            y = self._row(text, self._amount(priced.total), y, 10.5)
        return y

    def _day(self, day: dt.date) -> str:
        """Return a day as the shop's language writes it, or as the standard does.

        ISO 8601 stands in where our type lacks the letters, or they run from right to left.
        """
        text = self.money.day(day)
        return text if self._is_plain(text) else day.isoformat()

    def _amount(self, amount: Decimal) -> str:
        """Return an amount as the shop's language writes it, or with the currency's code."""
        text = self.money.written(amount)
        return text if self._is_plain(text) else f"{self.shop.values.shop.currency} {amount:,f}"

    @staticmethod
    def _is_plain(text: str) -> bool:
        backwards = any(unicodedata.bidirectional(char) in ("R", "AL", "AN") for char in text)
        return not backwards and plain(text, 400) == text
