"""What to charge for an order. Money is Decimal throughout, and never a float.

The price of a cup, without tax, is what is left of it once fees and margin are off: with costs K of
the whole order, n cups, fees f and a margin m as shares of the price, and a step's reduction r,

    price = K / n / (1 - f - m) (1 - r),

rounded up to a price that one would say aloud. So a margin is what remains of the price, not what
is put on top of the costs. There are no tax rules of any country here: the rate is the user's.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal

from babel.dates import format_date
from babel.numbers import format_currency, get_currency_precision

from mailmerge.findings import InputError
from mailmerge.items.record import Kind
from mailmerge.shelves import known_as
from mailmerge.workshop.money import words
from mailmerge.workshop.money.spares import spares_for
from mailmerge.workshop.shop.shop import Shop
from mailmerge.workshop.timing.batch import Batch
from mailmerge.workshop.timing.tally import Spoilage

_PERCENT = Decimal(100)
_HOUR = Decimal(60)
_ALOUD = Decimal("0.025")
"""No more of a price than this is given to making it round."""


@dataclass(frozen=True)
class Cost:
    """One of the costs of an order."""

    what: str
    how: str
    """The sum in words."""
    amount: Decimal
    source: str
    """Where its numbers come from."""


@dataclass(frozen=True)
class Priced:
    """What so many cups cost and what they are sold for."""

    quantity: int
    spares: int
    costs: tuple[Cost, ...]
    off: Decimal
    """Percent off, of the quantity's step."""
    each: Decimal
    """The price of a cup as it is told: with tax if the shop includes it."""
    net: Decimal
    tax: Decimal
    total: Decimal
    """With tax: what the client pays."""
    deposit: Decimal
    fees: Decimal
    """What goes off the price in percent."""

    @property
    def cost(self) -> Decimal:
        """All costs together, fees in percent not among them."""
        return sum((cost.amount for cost in self.costs), Decimal(0))

    @property
    def left(self) -> Decimal:
        """What is left once everything is paid."""
        return self.net - self.cost - self.fees

    @property
    def margin(self) -> Decimal:
        """The same in percent of the price without tax."""
        return self.left / self.net * _PERCENT if self.net else Decimal(0)

    @property
    def balance(self) -> Decimal:
        """What the client pays after the deposit."""
        return self.total - self.deposit


class Money:
    """Amounts of one currency: how they are rounded and written."""

    def __init__(self, shop: Shop) -> None:
        business = shop.values.shop
        self._currency, self._locale = business.currency, business.locale
        self.unit = Decimal(1).scaleb(-get_currency_precision(self._currency))
        """The smallest amount there is."""

    def rounded(self, amount: Decimal) -> Decimal:
        """Return an amount in whole smallest units, halves up."""
        return amount.quantize(self.unit, ROUND_HALF_UP)

    def aloud(self, amount: Decimal, step: Decimal | None = None) -> Decimal:
        """Return an amount rounded up to one that people would say aloud.

        To whole multiples of ``step``, by default of the largest of 1, 2 and 5 times a power of ten
        that is at most 2.5 % of it: 23.17 becomes 23.50, 2317 becomes 2350.
        """
        if amount <= 0:
            return self.rounded(amount)
        step = max(step or self._round_step(amount * _ALOUD), self.unit)
        told = (amount / step).to_integral_value(ROUND_CEILING) * step
        return told.quantize(self.unit, ROUND_CEILING)

    @staticmethod
    def _round_step(limit: Decimal) -> Decimal:
        ten = Decimal(1).scaleb(limit.adjusted())
        return max(factor * ten for factor in (1, 2, 5) if factor * ten <= limit)

    def written(self, amount: Decimal) -> str:
        """Return an amount with its currency, as the shop's language writes it."""
        return str(format_currency(amount, self._currency, locale=self._locale))

    def written_in(self, amount: Decimal, currency: str) -> str:
        """Return an amount of another currency: the shop's may have been another one."""
        return str(format_currency(amount, currency, locale=self._locale))

    def day(self, day: dt.date) -> str:
        """Return a day as the shop's language writes it, mostly in numbers."""
        return str(format_date(day, "medium", locale=self._locale))


def priced(
    shop: Shop, kinds: Mapping[Kind, int], minutes_each: Decimal, spoilage: Spoilage
) -> Priced:
    """Return what an order costs and is sold for.

    Parameters
    ----------
    kinds
        How many cups there are of each blank and coat.
    minutes_each
        At the machine for a cup, on average.

    Raises
    ------
    InputError
        No cup is wanted.
    """
    quantity = sum(kinds.values())
    if quantity < 1:
        raise InputError(words.NO_CUPS)
    money, price = Money(shop), shop.values.price
    spares = spares_for(kinds, spoilage.rate)
    costs = _costs(shop, money, kinds, spares, minutes_each)
    share = (_PERCENT - price.fees - price.margin) / _PERCENT
    off = max((s.off for s in price.step if s.from_ <= quantity), default=Decimal(0))
    cost = sum((each.amount for each in costs), Decimal(0))
    each = cost / quantity / share * (_PERCENT - off) / _PERCENT
    with_tax = (_PERCENT + price.tax) / _PERCENT
    if price.tax_included:
        told = money.aloud(each * with_tax, price.round_to)
        total = told * quantity
        net = money.rounded(total / with_tax)
    else:
        told = money.aloud(each, price.round_to)
        net = told * quantity
        total = net + money.rounded(net * price.tax / _PERCENT)
    return Priced(
        quantity=quantity,
        spares=sum(spares.values()),
        costs=costs,
        off=off,
        each=told,
        net=net,
        tax=total - net,
        total=total,
        deposit=money.rounded(total * price.deposit / _PERCENT),
        fees=money.rounded(net * price.fees / _PERCENT),
    )


def minutes_of(batch: Batch) -> Decimal:
    """Return the minutes at the machine for a cup of a batch, on average.

    Raises
    ------
    InputError
        Nobody can say how long one takes.
    """
    if batch.without_settings:
        raise InputError(words.times_not_known(batch.without_settings, batch.machine.name))
    if not batch.seconds:
        raise InputError(words.ALL_STOPPED)
    return minutes_each(list(batch.seconds.values()))


def minutes_each(seconds: Sequence[float]) -> Decimal:
    """Return the mean of several times at the machine, in minutes, to a hundredth."""
    mean = Decimal(str(round(sum(seconds) / len(seconds), 3))) / _HOUR
    return mean.quantize(Decimal("0.01"), ROUND_HALF_UP)


def _costs(
    shop: Shop,
    money: Money,
    kinds: Mapping[Kind, int],
    spares: Mapping[Kind, int],
    minutes_each: Decimal,
) -> tuple[Cost, ...]:
    price, rates, minutes = shop.values.price, shop.values.rates, shop.values.minutes
    quantity = sum(kinds.values())
    own = _blank_prices(shop)
    costs = []
    for kind, cups in kinds.items():
        called = kind.blank.casefold()
        amount, known = own.get(called, price.blank), called in own
        costs.append(
            Cost(
                words.kind(kind.blank, kind.coat),
                words.blanks_and_spares(cups, spares[kind], amount),
                money.rounded(amount * (cups + spares[kind])),
                "shop.toml" if known else shop.source("price.blank"),
            )
        )
    at_machine = minutes_each * quantity
    setup, loading, handling = (
        Decimal(str(each)) for each in (minutes.setup, minutes.loading, minutes.handling)
    )
    by_cup = loading + handling
    by_hand = setup + quantity * by_cup
    labour = [shop.source(f"minutes.{key}") for key in ("setup", "loading", "handling")]
    labour.append(shop.source("rates.labour"))
    costs += [
        Cost(
            words.MACHINE,
            words.machine_time(quantity, float(minutes_each) * 60, rates.machine),
            money.rounded(at_machine / _HOUR * rates.machine),
            shop.source("rates.machine"),
        ),
        Cost(
            words.LABOUR,
            words.hand_time(setup, quantity, by_cup, rates.labour),
            money.rounded(by_hand / _HOUR * rates.labour),
            words.sources(sorted(set(labour), reverse=True)),
        ),
        Cost(
            words.CONSUMABLES,
            words.each(quantity, price.consumables),
            money.rounded(quantity * price.consumables),
            shop.source("price.consumables"),
        ),
        Cost(
            words.PACKAGING,
            words.each(quantity, price.packaging),
            money.rounded(quantity * price.packaging),
            shop.source("price.packaging"),
        ),
        Cost(
            words.FIXED_FEES,
            words.FOR_THE_ORDER,
            money.rounded(price.fixed_fees),
            shop.source("price.fixed_fees"),
        ),
    ]
    return tuple(costs)


def _blank_prices(shop: Shop) -> dict[str, Decimal]:
    """Return the shop's prices by what a blank is called, without case.

    ``shop.toml`` may also name a blank as the library does.
    """
    names = known_as("blanks")
    return {
        names.get(name.casefold(), name.casefold()): amount
        for name, amount in shop.values.price.blanks.items()
    }


def unknown_blanks(shop: Shop, kinds: Iterable[Kind]) -> list[str]:
    """Return names in the shop's prices that are neither the library's nor the order's blanks."""
    names = known_as("blanks")
    known = {*names, *names.values(), *(kind.blank.casefold() for kind in kinds)}
    return [name for name in shop.values.price.blanks if name.casefold() not in known]


def scaled(kinds: Mapping[Kind, int], quantity: int) -> dict[Kind, int]:
    """Return so many cups in the same proportions: whole parts first, then the largest rests."""
    total = sum(kinds.values())
    shares = {kind: Decimal(cups * quantity) / total for kind, cups in kinds.items()}
    found = {kind: int(share) for kind, share in shares.items()}
    rest = quantity - sum(found.values())
    for kind in sorted(shares, key=lambda kind: found[kind] - shares[kind])[:rest]:
        found[kind] += 1
    return {kind: cups for kind, cups in found.items() if cups}
