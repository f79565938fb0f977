"""The quote for the client: one page, and nothing of what it costs the shop."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from mailmerge.artwork.layout import Layout, fields_of
from mailmerge.findings import InputError
from mailmerge.guests.columns import label_of
from mailmerge.proofs.palette import INK, SOFT
from mailmerge.proofs.paper import MARGIN, Colour, Paper, PaperSize
from mailmerge.workshop.quote import Money, Priced
from mailmerge.workshop.run import Kind
from mailmerge.workshop.shop import Shop

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


def engraved_in_words(layout: Layout) -> str:
    """Return what a layout engraves on each cup, in words for a client."""
    fields = dict.fromkeys(f for line in layout.line for f in fields_of(line.text))
    words = [label_of(f.removeprefix("order.")).lower() for f in fields]
    listed = f"{', '.join(words[:-1])} and {words[-1]}" if len(words) > 1 else "".join(words)
    return f"Engraved with {listed}." if listed else "Engraved as the proof shows."


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
            raise InputError("the quote does not fit on one page; want fewer quantities")
    paper.filled(draw=True)
    return paper.written()


class _Quote(Paper):
    """A quote on paper."""

    def __init__(self, offer: Offer, shop: Shop, size: PaperSize) -> None:
        self.offer, self.shop = offer, shop
        self.scale, self.is_drawn = 1.0, False
        self.money = Money(shop)
        super().__init__(size, f"Quote: {offer.title}", offer.made)

    def foot(self) -> str:
        """Return nothing: it is one page, and its head says whose it is."""
        return ""

    def filled(self, draw: bool) -> float:
        """Write the page, or only find out; return where it ends."""
        self.is_drawn = draw
        offer, money, price = self.offer, self.money, self.shop.values.price
        business, priced = self.shop.values.shop, offer.priced
        y = MARGIN
        if business.name:
            y = self._text(business.name, y, 14)
        for row in business.address:
            y = self._text(row, y, 9.5, SOFT)
        y = self._text("Quote", max(y + 10 * self.scale, 38.0 * self.scale), 26)
        y = self._text(offer.title, y + 1, 15)
        made = offer.made.date()
        valid = made + dt.timedelta(days=price.valid_days)
        dates = f"{money.day(made)}, valid until {money.day(valid)}"
        if offer.due:
            dates += f". Ready by {money.day(offer.due)}"
        y = self._text(dates, y + 1, 10, SOFT) + 8 * self.scale
        for (blank, coat), count in offer.kinds.items():
            y = self._row(f"{blank}, {coat}", f"{count}", y)
        y = self._text(offer.engraved, y + 1, 10, SOFT) + 6 * self.scale
        with_tax = f" (with {price.tax_name})" if price.tax_included and price.tax else ""
        y = self._row(f"A cup, engraved{with_tax}", money.written(priced.each), y)
        cups = f"{priced.quantity} cup{'' if priced.quantity == 1 else 's'}"
        y = self._row(cups, money.written(priced.each * priced.quantity), y)
        if price.tax:
            word = f"{price.tax_name}, {price.tax:f} %"
            word = f"of which {word}" if price.tax_included else word
            y = self._row(word, money.written(priced.tax), y)
        y = self._row("Total", money.written(priced.total), y, 14)
        if priced.deposit:
            y = self._row("Deposit, with your order", money.written(priced.deposit), y + 4)
            y = self._row("The rest, when the cups are ready", money.written(priced.balance), y)
        if offer.others:
            y = self._others(y + 8 * self.scale)
        promise = (
            "You get a proof of every cup to look at, letter by letter. Only what you have "
            "confirmed is engraved."
        )
        return self._text(promise, y + 8 * self.scale, 10, SOFT)

    def _text(self, words: str, y: float, size: float, colour: Colour = INK) -> float:
        return self.words(words, MARGIN, y, self.epw, size * self.scale, colour, self.is_drawn)

    def _row(self, words: str, amount: str, y: float, size: float = 11.5) -> float:
        """Write a line with an amount at its end, and a rule below it."""
        size *= self.scale
        end = self.words(words, MARGIN, y, self.epw - _AMOUNT, size, draw=self.is_drawn)
        if self.is_drawn:
            self.type(size)
            self.set_xy(self.w - MARGIN - _AMOUNT, y)
            self.fitted(amount, _AMOUNT, align="R")
            rule = end + 1.5 * self.scale
            self.line(MARGIN, rule, self.w - MARGIN, rule)
        return end + 3.5 * self.scale

    def _others(self, y: float) -> float:
        y = self._text("Other quantities", y, 12) + 2
        tax = self.shop.values.price
        more = f", with {tax.tax_name}" if tax.tax else ""
        for priced in self.offer.others:
            words = f"{priced.quantity} cups, {self.money.written(priced.each)} each"
            y = self._row(words, f"{self.money.written(priced.total)}{more}", y, 10.5)
        return y
