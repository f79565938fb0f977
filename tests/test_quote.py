"""Money, against examples worked by hand; spares, against scipy; the papers, against poppler."""

from __future__ import annotations

import itertools
import json
import math
import re
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from draws import drawn
from hypothesis import given, settings, strategies as st
from outside import (
    assert_nothing_is_cut_off,
    facts_of,
    file_of_the_test_machine,
    refused,
    run,
    said,
    text_of,
)
from scipy.special import bdtr
from shop import MONDAY, Shop, done, keep_recipe

from mailmerge.deeds import forgetting, making
from mailmerge.findings import InputError
from mailmerge.items.record import Kind
from mailmerge.proofs.paper_size import PaperSize
from mailmerge.shelves import validated
from mailmerge.workshop.money.quote import Money, Priced, minutes_each, priced, scaled
from mailmerge.workshop.money.spares import HOPELESS, chance, spares_for
from mailmerge.workshop.papers.quote_paper import Offer, write_quote
from mailmerge.workshop.shop.shop import Shop as Business, ShopFile, open_shop
from mailmerge.workshop.timing.tally import MANY, Log, Spoilage, Tally, read_log

CUP = Kind("Tumbler", "navy")

BY_HAND: dict[str, Any] = {
    "minutes": {"setup": 30, "loading": 4, "handling": 6},
    "rates": {"labour": "30", "machine": "6"},
    "price": {
        "blank": "10",
        "consumables": "0.50",
        "packaging": "1.50",
        "fixed_fees": "5",
        "fees": "5 %",
        "margin": "25 %",
        "tax": "20 %",
    },
}
"""Ten cups of twelve minutes, no blank spoiled:

blanks 10 x 10 = 100; machine 120 min at 6 = 12; labour 30 + 10 x 10 = 130 min at 30 = 65;
consumables 5; packaging 15; fixed fees 5: 202 in all. 20.20 a cup, of which 70 % remain: 28.857.
2.5 % of that are 0.72, so it is rounded up to halves: 29.00.
"""

NOTHING_SPOILED = Spoilage(Decimal(0), "for this test")


def business(**changes: Any) -> Business:
    values = {**BY_HAND, **{key: BY_HAND.get(key, {}) | new for key, new in changes.items()}}
    return Business(Path(), validated(ShopFile, values, "test"), True)


def of(shop: Business, cups: int = 10, minutes: str = "12", spoiled: str = "0") -> Priced:
    spoilage = Spoilage(Decimal(spoiled), "for this test")
    return priced(shop, {CUP: cups}, Decimal(minutes), spoilage)


def test_a_quote_worked_by_hand() -> None:
    found = of(business())
    assert [cost.amount for cost in found.costs] == [
        Decimal(each) for each in ("100.00", "12.00", "65.00", "5.00", "15.00", "5.00")
    ]
    assert found.cost == Decimal("202.00")
    assert found.each == Decimal("29.00")
    assert found.net == Decimal("290.00")
    assert found.tax == Decimal("58.00")
    assert found.total == Decimal("348.00")
    assert (found.deposit, found.balance) == (Decimal("174.00"), Decimal("174.00"))
    assert found.fees == Decimal("14.50")
    assert found.left == Decimal("73.50")  # 290 - 202 - 14.50
    assert found.margin.quantize(Decimal("0.1")) == Decimal("25.3")


def test_prices_that_are_told_with_tax_worked_by_hand() -> None:
    # 28.857 x 1.2 = 34.629; halves: 35.00 with tax. 350 / 1.2 = 291.67 without.
    found = of(business(price={"tax_included": True}))
    assert found.each == Decimal("35.00")
    assert found.total == Decimal("350.00")
    assert found.net == Decimal("291.67")
    assert found.tax == Decimal("58.33")


def test_a_quantity_step_worked_by_hand() -> None:
    steps = {"step": [{"from": 5, "off": "4 %"}, {"from": 10, "off": "10 %"}]}
    # 28.857 x 0.9 = 25.971: 26.00. From five cups on 4 %, below that nothing.
    assert of(business(price=steps)).each == Decimal("26.00")
    assert of(business(price=steps)).off == 10
    assert of(business(price=steps), 9).off == 4
    assert of(business(price=steps), 4).off == 0


def test_spares_are_paid_for_worked_by_hand() -> None:
    # Ten cups at 4 %: two spares (P(Bin(12, 0.04) <= 2) = 0.99, P(Bin(11, 0.04) <= 1) = 0.93).
    found = of(business(), spoiled="4")
    assert found.spares == 2
    assert found.costs[0].amount == Decimal("120.00")
    assert "(10 + 2 spare) x 10" in found.costs[0].how


def test_a_deposit_and_the_rest_are_the_whole() -> None:
    for cups, deposit in itertools.product((1, 3, 7, 11), ("33.3 %", "50 %", "0", "100 %")):
        found = of(business(price={"deposit": deposit, "round_to": "0.01"}), cups, "7.77")
        assert found.deposit + found.balance == found.total
        assert found.net + found.tax == found.total


@pytest.mark.parametrize(
    ("exact", "told"),
    [
        ("23.17", "23.50"),
        ("8.13", "8.20"),
        ("47.90", "48"),
        ("112.30", "114"),
        ("2317", "2350"),
        ("29.00", "29"),
        ("0.87", "0.88"),
        ("0.001", "0.01"),
        ("0", "0"),
        ("99.99", "100"),
        ("40.00", "40"),
        ("40.01", "41"),
        ("39.10", "39.50"),
        ("40.50", "41"),
    ],
)
def test_a_price_one_would_say_aloud(exact: str, told: str) -> None:
    """By hand: steps of 1, 2 or 5 times a power of ten, the largest up to 2.5 % of the price."""
    assert Money(business()).aloud(Decimal(exact)) == Decimal(told)


@given(st.decimals("0.01", "99999", places=4))
def test_rounding_only_adds_and_never_more_than_a_step(exact: Decimal) -> None:
    told = Money(business()).aloud(exact)
    assert exact <= told <= exact * Decimal("1.025") + Decimal("0.01")


def test_money_of_other_places() -> None:
    yen = business(shop={"currency": "JPY", "locale": "ja_JP"}, price={"tax": "10 %"})
    found = of(yen)
    assert found.each == found.each.to_integral()  # there is no smaller unit than a yen
    assert found.tax == found.tax.to_integral()
    assert Money(yen).written(Decimal(2350)) == "¥2,350" or "2,350" in Money(yen).written(
        Decimal(2350)
    )
    euro = business(shop={"currency": "eur", "locale": "de-DE"})
    assert Money(euro).written(Decimal("1209.5")) == "1.209,50\xa0€"  # CLDR, de
    dinar = business(shop={"currency": "KWD"})
    assert Money(dinar).unit == Decimal("0.001")  # ISO 4217: three decimals


def test_halves_of_the_smallest_unit_are_rounded_up_exactly() -> None:
    """A float would make 0.12 of 0.125, and 1.00 of 1.005."""
    money = Money(business())
    for exact, told in (
        ("0.125", "0.13"),
        ("1.005", "1.01"),
        ("2.675", "2.68"),
        ("-0.125", "-0.13"),
    ):
        found = money.rounded(Decimal(exact))
        assert (found, type(found)) == (Decimal(told), Decimal)


def test_a_step_finer_than_the_currency_does_not_round_down() -> None:
    assert Money(business()).aloud(Decimal("23.171"), Decimal("0.001")) == Decimal("23.18")
    yen = Money(business(shop={"currency": "JPY"}))
    assert yen.aloud(Decimal("2317.2"), Decimal("0.5")) == Decimal(2318)


def test_there_is_no_float_in_a_price() -> None:
    found = of(business(price={"blank": 10.1, "packaging": 0.1}))
    assert found.costs[0].amount == Decimal("101.00")
    for value in (found.each, found.net, found.tax, found.total, found.deposit, found.fees):
        assert type(value) is Decimal
        assert value == value.quantize(Decimal("0.01"))


def test_every_number_says_where_it_comes_from() -> None:
    shop = Business(Path(), validated(ShopFile, {"rates": {"labour": 30}}, "test"), True)
    found = {cost.what: cost.source for cost in of(shop).costs}
    assert found["Labour"] == "shop.toml and default"
    assert found["Machine"] == found["Packaging"] == "default"
    own = business(price={"blanks": {"tumbler": "11.25"}})
    first = of(own).costs[0]
    assert (first.amount, first.source) == (Decimal("112.50"), "shop.toml")


def test_the_mix_of_cups_is_kept_in_other_quantities() -> None:
    kinds = {Kind("A", "x"): 20, Kind("B", "x"): 10, Kind("B", "y"): 1}
    assert scaled(kinds, 31) == kinds
    assert scaled(kinds, 62) == {kind: 2 * cups for kind, cups in kinds.items()}
    assert scaled(kinds, 12) == {Kind("A", "x"): 8, Kind("B", "x"): 4}  # 7.7, 3.9, 0.4
    for quantity in range(1, 60):
        assert sum(scaled(kinds, quantity).values()) == quantity


def test_minutes_of_a_cup_are_the_mean() -> None:
    assert minutes_each([600.0, 900.0]) == Decimal("12.50")
    assert minutes_each([600.3]) == Decimal("10.01")  # 10.005: not to whole seconds, halves up


@pytest.mark.parametrize(
    ("values", "words"),
    [
        (
            {"price": {"fees": "50 %", "margin": "50 %"}},
            "price: Found fees of 50 % and a margin of 50 %. .* below 95 %",
        ),
        ({"price": {"margin": "-3 %"}}, 'price.margin: Found "-3 %". Give a percentage'),
        (
            {"price": {"blank": "12,50"}},
            r'price.blank: Found "12,50"\..* Write a decimal comma as a point',
        ),
        ({"price": {"blank": -1}}, 'price.blank: Found "-1". Give an amount'),
        (
            {"price": {"step": [{"from": 9, "off": 1}, {"from": 5, "off": 2}]}},
            "price: Found steps from 9, 5 cups. .* the smaller number of cups first",
        ),
        ({"price": {"round_to": 0}}, "price: Found 0 for round_to. Enter more than 0"),
        ({"shop": {"currency": "EURO"}}, 'shop.currency: Found "EURO". .* ISO 4217'),
        (
            {"shop": {"locale": "xx_YY"}},
            'shop.locale: Found "xx_YY". Enter a language and a country',
        ),
        ({"shop": {"paper": "A5"}}, "shop.paper"),
        ({"shop": {"spoilage": "60 %"}}, "shop.spoilage: Found 60 %. Enter less than 50 %"),
        ({"rate": {"labour": 3}}, 'unknown key "rate". Did you mean "rates"'),
        ({"minutes": {"loading": "a while"}}, 'minutes.loading: Found "a while". Give a time'),
    ],
)
def test_what_is_wrong_in_a_shop_is_named(values: dict[str, Any], words: str) -> None:
    with pytest.raises(InputError, match=words):
        validated(ShopFile, values, "shop.toml")


# Spares


@pytest.mark.parametrize("rate", [0.01, 0.04, 0.1, 0.25, 0.49])
@pytest.mark.parametrize("cups", [1, 2, 12, 40, 300])
def test_spares_are_the_fewest_that_are_enough(cups: int, rate: float) -> None:
    """scipy.special.bdtr: the smallest k with P(Binomial(n + k, p) <= k) >= 0.95."""
    spares = spares_for({CUP: cups}, rate)[CUP]
    assert bdtr(spares, cups + spares, rate) >= 0.95
    if spares:
        assert bdtr(spares - 1, cups + spares - 1, rate) < 0.95


@given(st.integers(1, 400), st.integers(0, 60), st.floats(0.001, 0.9))
def test_the_chance_is_that_of_the_binomial_distribution(
    cups: int, spares: int, rate: float
) -> None:
    expected = bdtr(spares, cups + spares, rate)
    assert math.exp(chance(cups, spares, rate)) == pytest.approx(expected, rel=1e-9, abs=1e-12)


@settings(max_examples=drawn(15, 40), deadline=None)
@given(st.lists(st.integers(1, 30), min_size=2, max_size=3), st.floats(0.01, 0.15))
def test_no_fewer_spares_are_enough_for_several_piles(cups: list[int], rate: float) -> None:
    """Every other way to share out one spare less fails, by scipy."""
    piles = dict(enumerate(cups))
    found = spares_for(piles, rate)

    def all_enough(spares: tuple[int, ...]) -> float:
        return math.prod(float(bdtr(k, n + k, rate)) for k, n in zip(spares, cups, strict=True))

    assert all_enough(tuple(found.values())) >= 0.95
    fewer = sum(found.values()) - 1
    for shares in itertools.product(range(fewer + 1), repeat=len(cups)):
        if sum(shares) == fewer:
            assert all_enough(shares) < 0.95


def test_large_orders_and_hopeless_shops() -> None:
    found = spares_for({CUP: 10_000}, 0.04)[CUP]
    assert bdtr(found, 10_000 + found, 0.04) >= 0.95
    assert bdtr(found - 1, 10_000 + found - 1, 0.04) < 0.95
    for rate in (HOPELESS, 0.999, 1.0):
        with pytest.raises(
            InputError, match=r"% of blanks are spoiled, .* Find out why before you buy more"
        ):
            spares_for({CUP: 3}, rate)


def test_no_blank_is_ever_spoiled_needs_no_spare() -> None:
    assert spares_for({CUP: 40}, 0.0) == {CUP: 0}


# The shop's log


def test_the_shops_own_spoilage_holds_from_thirty_blanks_on() -> None:
    shop = Business(Path(), validated(ShopFile, {"shop": {"spoilage": "7 %"}}, "test"), True)
    few = Log((Tally(order="AAAA-2222", engraved=MANY - 2, spoiled=1),))
    assert few.spoilage(shop).percent == 7
    assert (
        "as shop.toml says, until the shop's log holds 30 blanks; it holds 29"
        in few.spoilage(shop).source
    )
    many = Log((*few.tallies, Tally(order="BBBB-2222", engraved=60, spoiled=11)))
    assert many.spoilage(shop).percent == 12  # 12 of 100
    assert many.spoilage(shop).source == "12 of the last 100 blanks on the shop's log"
    exactly = Log((Tally(order="AAAA-2222", engraved=MANY - 3, spoiled=3),))
    assert exactly.spoilage(shop).percent == 10
    lucky = Log((Tally(order="AAAA-2222", engraved=50, spoiled=0),))
    assert lucky.spoilage(shop).percent == 2
    assert lucky.spoilage(shop).source == "0 of the last 50 blanks on the shop's log, counted as 1"


def test_engraved_and_spoiled_cups_come_onto_the_shops_log(shop: Shop, shop_folder: Path) -> None:
    shop.yes(1, 2, 3)
    shop.release()
    assert shop.engraved(1, 2).not_logged == ""
    lost = shop.spoiled(2, 3)
    assert (lost.blanks_lost, lost.not_logged) == (2, "")

    def counts() -> tuple[int, int]:
        (tally,) = read_log(open_shop()).tallies
        return tally.engraved, tally.spoiled

    assert counts() == (1, 2)
    # An order has one count, however often it is written, and nobody's name is in it.
    shop.release()
    shop.engraved()
    assert counts() == (3, 2)
    (file,) = (shop_folder / "log").iterdir()
    text = file.read_text(encoding="utf-8")
    assert not any(name in text for name in ("Anna", "Bo", "Carla", "concert"))


def test_a_shops_log_that_cannot_be_written_does_not_undo_the_record(
    shop: Shop, shop_folder: Path
) -> None:
    shop.yes(1, 2)
    shop.release()
    (shop_folder / "log").write_text("in the way")
    became = shop.engraved(1)
    assert str(shop_folder / "log") in became.not_logged
    assert [(each.number, str(each.standing)) for each in became.records] == [(1, "engraved")]
    assert shop.standing()[1] == "engraved"
    command = run("engraved", shop.folder, 2)
    assert command.returncode == 0
    assert "This is on record in the order, but not on the shop's log: " in command.stderr
    assert shop.standing()[2] == "engraved"


def test_a_damaged_log_is_named(shop: Shop, shop_folder: Path) -> None:
    (shop_folder / "log").mkdir(parents=True)
    for text, words in (
        ("{", r"x\.json: This is not a file of the shop's log"),
        ("[" * 100_000, r"x\.json: This is not a file of the shop's log"),
        (
            '{"order": "AAAA-2222", "engraved": 1' + "0" * 300 + ', "spoiled": 0}',
            "engraved: Found a number that is",
        ),
        ('{"engraved": 1}', '"order" is missing'),
        (
            '{"order": "AAAA-2222", "engraved": -1, "spoiled": 0}',
            "engraved: Found -1. Give 0 or more",
        ),
    ):
        (shop_folder / "log" / "x.json").write_text(text)
        with pytest.raises(InputError, match=words):
            shop.time()


# The quote on paper, and the command


@pytest.fixture
def ready(shop: Shop, tmp_path: Path) -> Shop:
    machine = file_of_the_test_machine(tmp_path)
    keep_recipe(machine=machine, coat="black", power=50, speed=100)
    return shop


SHOP = """
[shop]
name = "Cups by the Quay"
address = ["1 Quay Street", "Millport"]
[rates]
labour = "31.70"
[price]
blank = "13.37"
fees = "3 %"
tax = "21 %"
tax_name = "VAT"
"""


@pytest.mark.outside("pdftotext")
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_client_sees_the_price_and_none_of_the_costs(
    ready: Shop, shop_folder: Path, paper: PaperSize
) -> None:
    (shop_folder / "shop.toml").write_text(SHOP, encoding="utf-8")
    quoted = ready.quote(48, 12, 24, 12, size=paper)
    path = quoted.file
    assert path == ready.folder / "papers" / "quote.pdf"
    text = text_of(path, "-layout")
    main = quoted.main
    assert main.quantity == 5
    assert [other.quantity for other in quoted.table] == [12, 24, 48]
    for amount in (main.each, main.net, main.tax, main.total, main.deposit):
        assert f"€{amount:,.2f}" in text
    for other in quoted.table:
        assert f"{other.quantity} cups, €{other.each:,.2f} each" in text
    for words in (
        "Cups by the Quay",
        "1 Quay Street",
        "Spring concert",
        "VAT, 21 %",
        "name and role",
    ):
        assert words in text
    for secret in (
        "margin",
        "labour",
        "Machine",
        "spare",
        "31.70",
        "13.37",
        "fees",
        str(main.cost),
        str(main.left),
    ):
        assert secret.casefold() not in text.casefold()
    facts = facts_of(path)
    assert ("A4" if paper == "A4" else "letter") in facts
    assert "Pages:           1" in facts
    assert_nothing_is_cut_off(path)


@pytest.mark.long
@pytest.mark.outside("pdftoppm")
def test_a_quote_with_everything_still_is_one_page(tmp_path: Path) -> None:
    """Many kinds, long names, quantities, tax: smaller, but whole."""
    shop = business(shop={"name": "W" * 90, "address": ["A long street 17"] * 5})
    kinds = {Kind(f"A blank with a long name, {n} oz class", "burgundy"): 3 for n in range(9)}

    def offer(quantities: range) -> Offer:
        main = priced(shop, kinds, Decimal(12), NOTHING_SPOILED)
        others = [priced(shop, scaled(kinds, n), Decimal(12), NOTHING_SPOILED) for n in quantities]
        title = "A very long title of a party " * 6
        return Offer(
            title, kinds, "Engraved.", main, tuple(others), MONDAY.date(), MONDAY, "AAAA-2222"
        )

    path = tmp_path / "quote.pdf"
    path.write_bytes(write_quote(offer(range(30, 38)), shop, "Letter"))
    assert "Pages:           1" in facts_of(path)
    text = text_of(path)
    assert "37 cups" in text
    assert "Only what you have confirmed is engraved" in " ".join(text.split())
    assert_nothing_is_cut_off(path)
    with pytest.raises(InputError, match=r"does not fit on one page\. Ask for fewer quantities"):
        write_quote(offer(range(30, 130)), shop, "A4")


def test_the_maker_is_told_where_the_numbers_come_from(ready: Shop) -> None:
    quoted = ready.quote(12, 24)
    assert {cost.what: cost.source for cost in quoted.main.costs}["Labour"] == "default"
    assert quoted.main.left > 0
    assert quoted.spoilage.percent == 4
    assert quoted.main.spares == spares_for({CUP: 5}, 0.04)[CUP]
    assert (quoted.batch.without_settings, len(quoted.batch.seconds)) == ([], 5)
    assert quoted.shop.is_set_up is False
    assert open_shop().is_set_up is False


def test_a_price_may_leave_nothing(ready: Shop, shop_folder: Path) -> None:
    (shop_folder / "shop.toml").write_text(NOTHING_LEFT)
    main = ready.quote().main
    assert main.off == 60
    assert main.left < 0


NOTHING_LEFT = '[price]\nmargin = "10 %"\n[[price.step]]\nfrom = 2\noff = "60 %"\n'


def test_counts_outlive_an_order_whose_log_could_not_be_written(
    shop: Shop, shop_folder: Path
) -> None:
    shop.yes(1, 2)
    shop.release()
    (shop_folder / "log").write_text("in the way")
    assert shop.engraved().not_logged
    (shop_folder / "log").unlink()
    forgetting.forget(shop.folder, is_sure=True)
    assert sum(tally.engraved for tally in read_log(open_shop()).tallies) == 2


def test_a_quote_needs_no_merge_first(tmp_path: Path) -> None:
    names = tmp_path / "names.csv"
    names.write_text("Name,Role\nAnn Holm,Viola\nBo Ek,Horn\n", encoding="utf-8")
    started = done(making.new(tmp_path / "order", names))
    quoted = Shop.at(started.file.parent).quote()
    assert quoted.main.quantity == 2
    assert quoted.file.is_file()


def test_a_price_for_a_blank_that_nobody_knows_is_told(ready: Shop, shop_folder: Path) -> None:
    (shop_folder / "shop.toml").write_text(UNKNOWN_BLANK)
    quoted = ready.quote()
    assert quoted.unknown == (("Test cupp", 'Did you mean "Test cup"?'),)
    blanks = quoted.main.costs[0]
    assert blanks.how.endswith(" x 5")
    assert blanks.amount == 5 * (5 + quoted.main.spares)


UNKNOWN_BLANK = '[price.blanks]\n"Test cupp" = 3\nhandled-tumbler-40oz = 4\n"test cup" = 5\n'


def test_a_blank_may_be_named_as_the_library_does() -> None:
    shop = business(price={"blanks": {"Handled-Tumbler-40oz": "14.50"}})
    kinds = {Kind("Handled tumbler, 40 oz class", "navy"): 2}
    assert priced(shop, kinds, Decimal(12), NOTHING_SPOILED).costs[0].amount == Decimal("29.00")


@pytest.mark.outside("pdftotext")
@pytest.mark.parametrize(
    ("locale", "currency", "found"),
    [
        ("de_DE", "EUR", ["30.11.2026", "€"]),
        ("ja_JP", "JPY", ["2026/11/30", "JPY "]),
        ("ar_EG", "EGP", ["2026-11-30", "EGP "]),
        ("hi_IN", "INR", ["2026", "₹"]),
        ("en_US", "USD", ["Nov 30, 2026", "$"]),
    ],
)
def test_a_quote_in_any_language_can_be_read(
    tmp_path: Path, locale: str, currency: str, found: list[str]
) -> None:
    shop = business(shop={"locale": locale, "currency": currency})
    main = priced(shop, {CUP: 1}, Decimal(12), NOTHING_SPOILED)
    offer = Offer("Concert", {CUP: 1}, "Engraved.", main, (main,), None, MONDAY, "AAAA-2222")
    path = tmp_path / "quote.pdf"
    path.write_bytes(write_quote(offer, shop, "A4"))
    text = text_of(path)
    assert "[U+" not in text
    for words in (*found, "Total for 1 cup", "1 cup, ", "Order AAAA-2222"):
        assert words in text
    assert "1 cups" not in text


@pytest.mark.parametrize("quantity", [0, -3, 10_001, 20_000])
def test_quantities_that_are_none_are_refused(ready: Shop, quantity: int) -> None:
    with pytest.raises(InputError, match=f"Found {quantity} cups. .* from 1 to 10,000"):
        ready.quote(12, quantity)
    assert not (ready.folder / "papers" / "quote.pdf").exists()


def test_a_quote_without_settings_says_what_is_lacking(shop: Shop) -> None:
    with pytest.raises(
        InputError, match=r"not known .* for items 1-5\. .* on Test machine, .* keep-recipe"
    ):
        shop.quote()
    assert not (shop.folder / "papers" / "quote.pdf").exists()


# What the command says


def test_the_command_shows_the_maker_all_of_it(ready: Shop, shop_folder: Path) -> None:
    call = ("quote", ready.folder, "--quantity", "12,24")
    words = said(*call)
    for told in (
        "All costs",
        "Labour",
        "default",
        "Left for you",
        "No tax rules are built in",
        "Spares allow for 4.0 %",
        "client pays",
        f"{Path('papers') / 'quote.pdf'} (A4, a default)",
    ):
        assert told in words
    assert "NOTHING IS LEFT" not in words
    (shop_folder / "shop.toml").write_text(NOTHING_LEFT + UNKNOWN_BLANK)
    words = said(*call)
    assert "AT THIS PRICE NOTHING IS LEFT" in words
    assert 'price.blanks: "Test cupp" is no blank of the library or of this order. Did you' in words
    assert "handled-tumbler" not in words


def test_the_command_tells_programs_all_of_it(ready: Shop) -> None:
    told = json.loads(said("quote", ready.folder, "--quantity", "24,12", "--json"))
    quoted = ready.quote(12, 24)
    assert set(told) == {"quote", "priced"}
    assert told["quote"] == str(quoted.file)
    for entry, each in zip(told["priced"], (quoted.main, *quoted.table), strict=True):
        exact = {
            key: str(getattr(each, key))
            for key in ("cost", "off", "each", "net", "tax", "total", "deposit", "balance", "fees")
        }
        assert entry == exact | {
            "quantity": each.quantity,
            "spares": each.spares,
            "left": str(each.left),
            "margin": f"{each.margin:.2f}",
            "costs": [
                {"what": c.what, "how": c.how, "amount": str(c.amount), "from": c.source}
                for c in each.costs
            ],
        }


@pytest.mark.parametrize("quantity", ["0", "a", "-3", "1.5", "12,,x", "20000", "١٢"])
def test_the_command_refuses_quantities_that_are_none(ready: Shop, quantity: str) -> None:
    said = refused("quote", ready.folder, f"--quantity={quantity}")
    assert re.search(r"Quantities: Found .*whole numbers|Found \d+ cups\. .*from 1 to 10,000", said)
    assert not (ready.folder / "papers" / "quote.pdf").exists()
