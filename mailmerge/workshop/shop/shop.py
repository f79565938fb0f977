"""The shop: ``shop.toml`` in a folder of its own, with what holds for every order.

Nothing needs it. Whoever has none works with defaults, and whatever shows a number that comes from
one says so (:meth:`Shop.said`).
"""

from __future__ import annotations

import os
import tomllib
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Annotated, Literal

import platformdirs
from babel import Locale, UnknownLocaleError
from babel.numbers import is_currency
from pydantic import AfterValidator, BaseModel, BeforeValidator, Field, model_validator

from mailmerge.findings import NOT_THERE, InputError, WrongValue
from mailmerge.machines import DEFAULT_MACHINE
from mailmerge.proofs.paper_size import PaperSize
from mailmerge.shelves import (
    Kind,
    Length,
    LengthOrZero,
    Model,
    Percent,
    find,
    one_line,
    read_toml,
    validated,
)
from mailmerge.units import parse_amount, parse_minutes
from mailmerge.workshop.shop import words
from mailmerge.workshop.shop.hours import Hours

SHOP_FILE = "shop.toml"
ELSEWHERE = "MAILMERGE_SHOP"
"""The environment's variable that names another folder for the shop."""

RECIPES: Kind = "recipes"
LOG = "log"
CARDS = "test-cards"
DROPPED = "dropped"
"""Folders of the shop's folder; what was taken out of the others lies in the last."""

DEFAULT_LAYOUT = "name-over-role"


def _currency(code: str) -> str:
    if not is_currency(code.upper()):
        raise ValueError(words.no_currency(code))
    return code.upper()


def _locale(tag: str) -> str:
    try:
        return str(Locale.parse(tag.replace("-", "_")))
    except (UnknownLocaleError, ValueError):
        raise ValueError(words.no_locale(tag)) from None


def _less_than_half(percent: Decimal) -> Decimal:
    if percent >= 50:
        raise ValueError(words.too_much_spoilage(percent))
    return percent


Amount = Annotated[Decimal, BeforeValidator(parse_amount)]
Minutes = Annotated[float, BeforeValidator(parse_minutes)]
Words = Annotated[str, Field(max_length=400), AfterValidator(one_line)]


class Business(Model):
    """The ``[shop]`` table."""

    name: Words = ""
    address: tuple[Words, ...] = ()
    """Its rows, for papers: where it is, and how it is reached."""
    currency: Annotated[str, AfterValidator(_currency)] = "EUR"
    locale: Annotated[str, AfterValidator(_locale)] = "en_GB"
    """How amounts and days are written on papers."""
    paper: PaperSize = "A4"
    machine: Words = DEFAULT_MACHINE
    """What a new order gets that names none."""
    layout: Words = DEFAULT_LAYOUT
    spoilage: Annotated[Percent, AfterValidator(_less_than_half)] = Decimal(4)
    """How many of a hundred blanks are lost, until the shop's log knows better."""


class WorkMinutes(Model):
    """The ``[minutes]`` table."""

    setup: Minutes = 30.0
    """For an order: its list, proofs, settings and a test piece."""
    loading: Minutes = 4.0
    """For a cup at the machine: load, focus, trace, unload."""
    handling: Minutes = 4.0
    """For a cup besides: unpack, handle off and on, clean, look, pack."""


class Rates(Model):
    """The ``[rates]`` table: what an hour costs."""

    labour: Amount = Decimal(25)
    machine: Amount = Decimal(15)
    """With its power, its wear, and whoever stays beside it: it never runs alone."""


class Step(Model):
    """A ``[[price.step]]``: from so many cups on, each is cheaper."""

    from_: Annotated[int, Field(alias="from", ge=2)]
    off: Percent


class Pricing(Model):
    """The ``[price]`` table."""

    blank: Amount = Decimal(12)
    """What a blank costs that is not among ``blanks``."""
    blanks: dict[str, Amount] = Field(default_factory=dict)
    """By the blank's name."""
    consumables: Amount = Decimal("0.50")
    """For each cup: vinegar, cloths, tape, lens wipes."""
    packaging: Amount = Decimal("1.50")
    """For each cup."""
    fixed_fees: Amount = Decimal(0)
    """For each order: carriage in, a stall, a listing."""
    fees: Percent = Decimal(0)
    """Of what the client pays, without tax: of a market place, of paying by card."""
    margin: Percent = Decimal(30)
    """What is left of the price, without tax, once everything is paid."""
    step: tuple[Step, ...] = ()
    round_to: Amount | None = None
    """Prices are whole multiples of it; by default of what one would say aloud."""
    deposit: Percent = Decimal(50)
    tax: Percent = Decimal(0)
    tax_name: Words = "tax"
    tax_included: bool = False
    """Whether the price of a cup is told with its tax, as to people who buy for themselves."""
    valid_days: Annotated[int, Field(ge=1, le=365)] = 30

    @model_validator(mode="after")
    def _leaves_something(self) -> Pricing:
        if self.fees + self.margin >= 95:
            raise ValueError(words.nothing_left_of_price(self.fees, self.margin))
        starts = [step.from_ for step in self.step]
        if starts != sorted(set(starts)):
            raise ValueError(words.steps_out_of_order(starts))
        if self.round_to == 0:
            raise ValueError(words.ROUND_TO_NOTHING)
        return self


class Labels(Model):
    """The ``[labels]`` table: a sheet of labels, measured; lengths in mm.

    By default three by eight on A4, as large as they go: common practice.
    """

    columns: Annotated[int, Field(ge=1, le=20)] = 3
    rows: Annotated[int, Field(ge=1, le=60)] = 8
    width: Length = 70.0
    height: Length = 37.0
    left: LengthOrZero = 0.0
    """From the sheet's left edge to the first label."""
    top: LengthOrZero = 0.5
    across: LengthOrZero = 0.0
    """Between two labels beside each other."""
    down: LengthOrZero = 0.0
    """Between two labels below each other."""

    @model_validator(mode="after")
    def _can_be_read(self) -> Labels:
        if self.width < 30 or self.height < 15:
            raise ValueError(words.label_too_small(self.width, self.height))
        return self


class ShopFile(Model):
    """The whole of ``shop.toml``."""

    shop: Business = Business()
    hours: Hours = Hours()
    minutes: WorkMinutes = WorkMinutes()
    rates: Rates = Rates()
    price: Pricing = Pricing()
    labels: Labels = Labels()


@dataclass(frozen=True, slots=True)
class ChosenPaper:
    """The size of a PDF's pages, and whose choice it was."""

    size: PaperSize
    in_words: str
    """The size; with where it comes from, if it was not asked for."""


@dataclass(frozen=True)
class Shop:
    """A shop's folder, and what its ``shop.toml`` says."""

    folder: Path
    values: ShopFile
    is_set_up: bool
    """Whether there is a ``shop.toml``."""

    @property
    def file(self) -> Path:
        """Where ``shop.toml`` is, or would be."""
        return self.folder / SHOP_FILE

    def named(self, kind: Literal["machines", "layouts"]) -> str:
        """Return the machine or layout for new orders: a name of the library, or a path.

        A relative path in ``shop.toml`` starts at the shop's folder.

        Raises
        ------
        InputError
            It is not there.
        """
        key = kind.removesuffix("s")
        wanted = str(getattr(self.values.shop, key))
        try:
            path = find(kind, wanted, self.folder)
        except InputError as error:
            told = words.wrong_template(self.file, f"shop.{key}", error)
            raise WrongValue(told, f"shop.{key}", str(error), NOT_THERE) from None
        return str(path.absolute()) if wanted.endswith(".toml") else wanted

    def paper(self, wanted: PaperSize | None) -> ChosenPaper:
        """Return the size of a PDF's pages: the wanted one, else the shop's."""
        if wanted:
            return ChosenPaper(wanted, wanted)
        size = self.values.shop.paper
        said = words.paper_of_shop if self.says("shop.paper") else words.paper_by_default
        return ChosenPaper(size, said(size))

    def says(self, key: str) -> bool:
        """Whether ``shop.toml`` itself gives a value, such as ``rates.labour``."""
        model: BaseModel = self.values
        *tables, last = key.split(".")
        for table in tables:
            if table not in model.model_fields_set:
                return False
            model = getattr(model, table)
        return last in model.model_fields_set

    def source(self, key: str) -> Literal["shop.toml", "default"]:
        """Return where a value comes from."""
        return "shop.toml" if self.says(key) else "default"


def shop_folder() -> Path:
    """Return the shop's folder: where :data:`ELSEWHERE` says, else where the system keeps data.

    Raises
    ------
    InputError
        It begins with the home of somebody whom the system does not know.
    """
    if given := os.environ.get(ELSEWHERE):
        try:
            return Path(given).expanduser()
        except RuntimeError:
            raise InputError(words.nobodys_home(ELSEWHERE, given)) from None
    return platformdirs.user_data_path("mailmerge-artwork", appauthor=False)


def open_shop() -> Shop:
    """Open the shop; without a ``shop.toml`` it has defaults.

    Raises
    ------
    InputError
        ``shop.toml`` is wrong: the text names the key, what was found and what is wanted; or the
        folder is a file.
    """
    folder = shop_folder()
    if folder.exists() and not folder.is_dir():
        raise InputError(words.no_folder(folder))
    file = folder / SHOP_FILE
    if not file.exists():
        return Shop(folder, ShopFile(), False)
    return Shop(folder, validated(ShopFile, read_toml(file), str(file)), True)


def shop_of(folder: Path, text: str) -> Shop:
    """Return the shop as its file would make it.

    Raises
    ------
    InputError
        The text is wrong.
    """
    file = folder / SHOP_FILE
    shop = Shop(folder, validated(ShopFile, tomllib.loads(text), str(file)), True)
    shop.named("machines")
    shop.named("layouts")
    return shop
