"""What was agreed and what was paid: sums on an order's record, and no bookkeeping."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

Part = Literal["deposit", "rest"]
"""Which part of the price a payment is."""


@dataclass(frozen=True, slots=True)
class Sum:
    """An amount with its currency (ISO 4217): the shop's may be another one next year."""

    amount: Decimal
    currency: str


@dataclass(frozen=True, slots=True)
class Payment:
    """Something that the client has paid."""

    number: int
    part: Part
    paid: Sum
    way: str
    day: dt.date


@dataclass(frozen=True, slots=True)
class Account:
    """What an order is to cost, and what was paid of it."""

    agreed: Sum | None
    payments: tuple[Payment, ...]

    @property
    def open(self) -> Sum | None:
        """What is still to be paid, below 0 if too much was; None where nothing was agreed.

        What was paid in another currency is not counted: nobody has said what it is worth.
        """
        if self.agreed is None:
            return None
        of_it = [p.paid.amount for p in self.payments if p.paid.currency == self.agreed.currency]
        return Sum(self.agreed.amount - sum(of_it, Decimal(0)), self.agreed.currency)

    @property
    def is_empty(self) -> bool:
        """Whether nothing was agreed or paid."""
        return self.agreed is None and not self.payments
