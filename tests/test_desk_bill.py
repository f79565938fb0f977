"""The bill: every number as the deed says, the shop's numbers changed and put back, the papers."""

from __future__ import annotations

import html
import re
from pathlib import Path

import pytest
from desks import Visitor
from outside import file_of_the_test_machine
from shop import Shop, keep_recipe

from mailmerge.deeds import papers, paying, shop as deeds
from mailmerge.desk.places import bill
from mailmerge.findings import InputError
from mailmerge.workshop.timing import worked_out

SHOP = """# mine
[rates]
labour = "31.70"  # since spring
"""


@pytest.fixture
def timed(shop: Shop, tmp_path: Path, shop_folder: Path) -> Shop:
    keep_recipe(machine=file_of_the_test_machine(tmp_path), coat="black", power=50, speed=100)
    (shop_folder / "shop.toml").write_text(SHOP, encoding="utf-8")
    return shop


def _shown(visitor: Visitor, *parts: object) -> str:
    return html.unescape(visitor.asks(*parts).text)


def test_every_number_is_the_deeds(timed: Shop) -> None:
    page = _shown(Visitor(timed.folder), "bill?quantities=12,48")
    price = papers.price(timed.folder, (12, 48))
    for cost in price.main.costs:
        assert cost.what in page
        assert price.money.written(cost.amount) in page
    for each in (price.main, *price.table):
        for amount in (each.total, each.each, each.left):
            assert price.money.written(amount) in page
    assert "nothing off for this quantity" in page
    assert '<th scope="row">Tax</th>' in page


def test_what_is_wrong_is_said_in_one_line(timed: Shop) -> None:
    visitor = Visitor(timed.folder)
    answer = visitor.asks("bill?quantities=a dozen")
    assert answer.status_code == 422
    assert "Quantities: Found" in html.unescape(answer.text)
    assert visitor.sends("bill", "numbers", **{"rates.labour": "much"}).status_code == 422
    timed.list([{"Name": "Somebody Else", "Role": "Horn"}])
    assert "changed since" in _shown(visitor, "bill")


def test_the_shops_numbers_are_changed_and_put_back(timed: Shop, shop_folder: Path) -> None:
    visitor = Visitor(timed.folder)
    page = visitor.sends("bill", "numbers", **{"rates.labour": "40", "price.margin": "25 %"}).text
    text = (shop_folder / "shop.toml").read_text(encoding="utf-8")
    assert text.startswith("# mine\n")
    assert "# since spring" in text
    values = {each.key: (each.value, each.source) for each in deeds.shop().values}
    assert values["rates.labour"] == ("40", "shop.toml")
    assert values["price.margin"] == ("25 %", "shop.toml")
    undo = dict(re.findall(r'<input type="hidden" name="([a-z]+[.][a-z]+)" value="([^"]*)">', page))
    assert undo == {"rates.labour": "31.70", "price.margin": ""}
    visitor.sends("bill", "numbers", **undo)
    values = {each.key: (each.value, each.source) for each in deeds.shop().values}
    assert values["rates.labour"] == ("31.70", "shop.toml")
    assert values["price.margin"] == ("30 %", "default")


@pytest.mark.usefixtures("timed")
def test_a_shop_that_would_be_wrong_stays_as_it_was(shop_folder: Path) -> None:
    before = (shop_folder / "shop.toml").read_bytes()
    wrong = [{"rates.labor": "3"}, {"price.margin": "94 %", "price.fees": "3 %"},
             {"shop.machine": "no-such-machine"}, {"hours.monday": "noon"}]  # fmt: skip
    for answers in wrong:
        with pytest.raises(InputError):
            deeds.change_shop(answers)
        assert (shop_folder / "shop.toml").read_bytes() == before
    deeds.change_shop({"price.margin": "94 %"})
    with pytest.raises(InputError):  # each is usable alone; together they are not
        deeds.change_shop({"price.fees": "3 %"})


@pytest.mark.long
def test_papers_are_written_and_shown(timed: Shop) -> None:
    visitor = Visitor(timed.folder)
    quote = visitor.sends("bill", "quote")
    assert quote.headers["content-type"] == "application/pdf"
    assert quote.content == (timed.folder / "papers" / "quote.pdf").read_bytes()
    visitor.sends("bill", "run-sheet")
    assert visitor.waits().state == "refused"  # nothing is released
    assert "Nothing is released" in _shown(visitor, "bill")
    assert "Run sheet of" not in _shown(visitor, "bill")
    timed.confirm(1)
    timed.release(1)
    assert visitor.sends("bill", "run-sheet").headers["content-type"].startswith("text/html")
    work = visitor.waits()
    assert (work.state, work.total) == ("done", 1)
    (address,) = re.findall(r'href="([^"]*run-sheet.pdf)"', _shown(visitor, "bill"))
    sheet = visitor.client.get(address)
    assert sheet.headers["content-type"] == "application/pdf"
    assert sheet.content == (timed.folder / "papers" / "run-sheet.pdf").read_bytes()


@pytest.mark.long
def test_times_of_many_cups_are_worked_out_once_while_the_page_says_so(
    timed: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The page does not wait; what the other process has counted is not counted here again."""
    monkeypatch.setattr(bill, "_AT_ONCE", 0)
    monkeypatch.setattr(worked_out, "_kept", {})
    visitor = Visitor(timed.folder)
    assert "The times are being worked out" in visitor.asks("bill").text
    assert visitor.waits().state == "done"
    with monkeypatch.context() as patched:
        patched.setattr(worked_out, "engraving_of", _never)
        shown = _shown(visitor, "bill")
        found = papers.price(timed.folder)
        assert found.money.written(found.main.total) in shown
    monkeypatch.setattr(worked_out, "_kept", {})
    assert papers.price(timed.folder).batch.seconds == found.batch.seconds


def _never(*_: object) -> None:
    raise AssertionError("it was worked out before")


def test_what_was_agreed_and_paid_stands_on_the_bill_and_is_taken_back(timed: Shop) -> None:
    visitor = Visitor(timed.folder)
    assert visitor.sends("bill", "agree", amount="861.50").is_success
    paid = {"amount": "400", "part": "deposit", "way": "transfer", "day": "2026-11-20"}
    answer = visitor.sends("bill", "paid", **paid)
    page = html.unescape(answer.text)
    account = paying.account(timed.folder)
    assert account.open is not None
    assert f"Still open: {paying.written(account.open)}." in page
    assert "Deposit: €400.00, transfer, 2026-11-20" in page
    assert paying.written(account.open) == "€461.50"
    number = str(account.payments[0].number)
    assert visitor.sends("bill", "paid", "back", payment=number).is_success
    assert not paying.account(timed.folder).payments
    assert "Still open: €861.50." in _shown(visitor, "bill")


@pytest.mark.parametrize(
    ("form", "said"),
    [
        ({"amount": "much", "way": "cash"}, "paid: "),
        ({"amount": "4", "way": ""}, "Say how it was paid"),
        ({"amount": "4", "way": "cash", "day": "soon"}, "This is no day"),
        ({"amount": "4", "way": "cash", "day": "2999-01-01"}, "still to come"),
    ],
)
def test_no_payment_is_put_down_that_is_none(timed: Shop, form: dict[str, str], said: str) -> None:
    answer = Visitor(timed.folder).sends("bill", "paid", **form)
    assert answer.status_code == 422
    assert said in html.unescape(answer.text)
    assert paying.account(timed.folder).is_empty
