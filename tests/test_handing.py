"""Handing cups over, and being paid: what is on record, what is refused, what is still open."""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path

import pytest
from outside import file_of_the_test_machine, run
from shop import Shop, keep_recipe

from mailmerge.deeds import bench, forgetting, handing, paying
from mailmerge.deeds.paying import Account, Payment, Sum
from mailmerge.deeds.status import Status, history, last_word, status
from mailmerge.findings import InputError
from mailmerge.ledger.ledger import LEDGER
from mailmerge.ledger.standing import Standing

YESTERDAY = dt.date.today() - dt.timedelta(days=1)
TOMORROW = dt.date.today() + dt.timedelta(days=1)
TO = "Anouk Visser, secretary"


@pytest.fixture
def done(packed: Shop) -> Shop:
    """Return a workshop with two cups of an order engraved and a third one released."""
    packed.confirm(1, 2, 3)
    packed.release()
    packed.engraved(1, 2)
    return packed


def stands(shop: Shop) -> Status:
    found = status(shop.folder)
    assert isinstance(found, Status)
    return found


def test_a_cup_is_here_from_the_machine_until_somebody_takes_it(done: Shop) -> None:
    assert [record.number for record in stands(done).here] == [1, 2]
    came = handing.hand_over(done.folder, ["2"], f"  {TO} ", YESTERDAY)
    assert [record.number for record in came.here] == [1]
    found = stands(done)
    assert [record.number for record in found.here] == [1]
    second = next(record for record in found.records if record.number == 2)
    assert second.handed is not None
    assert (second.handed.to, second.handed.day) == (TO, YESTERDAY.isoformat())
    assert second.standing is Standing.ENGRAVED
    assert last_word(second) == f"handed over to {TO} on {YESTERDAY}"
    assert history(second)[-1][1] == last_word(second)


def test_all_means_what_is_engraved_and_here(done: Shop) -> None:
    handing.hand_over(done.folder, ["1"], TO)
    came = handing.hand_over(done.folder, None, "courier")
    assert [record.number for record in came.records] == [2]
    assert not came.here
    with pytest.raises(InputError, match="No cup of this order is engraved and still here"):
        handing.hand_over(done.folder, None, "courier")


@pytest.mark.parametrize(
    ("items", "to", "on", "said"),
    [
        (["3"], TO, None, "is not engraved: it is released"),
        (["1", "4"], TO, None, "is not engraved: it is waiting"),
        (["1", "77"], TO, None, "There is no cup 77"),
        (["1"], "   ", None, "Say who has them"),
        (["1"], "x" * 201, None, "at most 200 characters"),
        (["1"], TO, TOMORROW, "is still to come"),
    ],
)
def test_what_cannot_be_handed_over_is_refused_whole(
    done: Shop, items: list[str], to: str, on: dt.date | None, said: str
) -> None:
    with pytest.raises(InputError, match=said):
        handing.hand_over(done.folder, items, to, on)
    assert [record.number for record in stands(done).here] == [1, 2]


def test_what_somebody_has_is_not_handed_over_twice(done: Shop) -> None:
    handing.hand_over(done.folder, ["1"], TO)
    with pytest.raises(InputError, match=f"was handed over to {TO}"):
        handing.hand_over(done.folder, ["1", "2"], "courier")
    assert [record.number for record in stands(done).here] == [2]
    handing.hand_back(done.folder, ["1"])
    handing.hand_over(done.folder, ["1", "2"], "courier")
    assert {r.handed.to for r in stands(done).records if r.handed} == {"courier"}
    with pytest.raises(InputError, match=r"Cup 3 .* was not handed over"):
        handing.hand_back(done.folder, ["1", "3"])
    assert stands(done).records[0].handed


def test_a_cup_that_is_made_anew_is_here_again(done: Shop) -> None:
    """It came back broken: what was handed over is not the cup that there is now."""
    handing.hand_over(done.folder, ["1"], TO)
    done.spoiled(1)
    assert stands(done).records[0].handed is None
    done.release()
    done.engraved(1)
    assert stands(done).records[0].is_here
    handing.hand_over(done.folder, ["1"], "Ina Holm")
    first = stands(done).records[0]
    assert first.handed is not None
    assert first.handed.to == "Ina Holm"


def test_what_was_never_engraved_was_never_handed_over(done: Shop) -> None:
    handing.hand_over(done.folder, ["1"], TO)
    bench.mistaken(done.folder, ["1"])
    assert stands(done).records[0].handed is None
    assert stands(done).records[0].standing is Standing.RELEASED


def test_the_account_is_what_was_agreed_less_what_was_paid() -> None:
    """Worked by hand: 861.50 less 400 and 200.25 leaves 261.25."""
    agreed = Sum(Decimal("861.50"), "EUR")

    def payment(amount: str, currency: str = "EUR") -> Payment:
        return Payment(1, "rest", Sum(Decimal(amount), currency), "cash", YESTERDAY)

    account = Account(agreed, (payment("400"), payment("200.25"), payment("50", "GBP")))
    assert account.open == Sum(Decimal("261.25"), "EUR")
    assert Account(None, (payment("400"),)).open is None
    assert Account(agreed, (payment("900"),)).open == Sum(Decimal("-38.50"), "EUR")


def test_what_is_paid_stands_beside_what_was_agreed(done: Shop) -> None:
    assert (
        run("agree", done.folder, "861.50").stdout
        == "Agreed: €861.50, with tax.\nStill open: €861.50.\n"
    )
    paid = run("paid", done.folder, "400", "--deposit", "--way", "transfer", "--on", YESTERDAY)
    assert paid.stdout.splitlines()[1:] == [
        f"Payment 1, deposit: €400.00 by transfer on {YESTERDAY}.",
        "Still open: €461.50.",
    ]
    run("paid", done.folder, "461.50", "--rest", "--way", "cash")
    told = run("status", done.folder).stdout
    assert "Paid in full." in told
    assert f"Payment 1, deposit: €400.00 by transfer on {YESTERDAY}." in told
    account = json.loads(run("status", done.folder, "--json").stdout)["account"]
    assert account["agreed"] == {"amount": "861.50", "currency": "EUR"}
    assert account["open"] == {"amount": "0.00", "currency": "EUR"}
    assert [each["part"] for each in account["payments"]] == ["deposit", "rest"]
    back = run("paid", done.folder, "--mistaken", "2").stdout
    assert "Still open: €461.50." in back
    assert "Payment 2" not in back


def test_a_later_agreement_takes_the_place_of_the_first(done: Shop) -> None:
    paying.agree(done.folder, "100")
    paying.pay(done.folder, "120", "deposit", "cash")
    assert "More was paid than agreed: €20.00." in run("agree", done.folder, "100").stdout
    assert paying.agree(done.folder, "150").open == Sum(Decimal(30), "EUR")


def test_the_price_that_is_agreed_is_the_quotes_by_default(done: Shop, tmp_path: Path) -> None:
    machine = file_of_the_test_machine(tmp_path)
    keep_recipe(machine=machine, coat="black", power=50, speed=100)
    quoted = json.loads(run("quote", done.folder, "--json").stdout)["priced"][0]
    agreed = paying.agree(done.folder).agreed
    assert agreed is not None
    assert agreed.amount == Decimal(str(quoted["total"]))


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda at: paying.pay(at, "0", "rest", "cash"), "cannot be paid"),
        (lambda at: paying.pay(at, "1.005", "rest", "cash"), "in steps of 0.01"),
        (lambda at: paying.pay(at, "-3", "rest", "cash"), "paid: "),
        (lambda at: paying.pay(at, "a lot", "rest", "cash"), "paid: "),
        (lambda at: paying.pay(at, "10", "rest", " "), "Say how it was paid"),
        (lambda at: paying.pay(at, "10", "rest", "x" * 61), "at most 60"),
        (lambda at: paying.pay(at, "10", "rest", "cash", TOMORROW), "still to come"),
        (lambda at: paying.agree(at, "1e3"), "agree: "),
        (lambda at: paying.take_payment_back(at, 4), "no payment 4"),
    ],
)
def test_what_nobody_can_pay_is_refused(
    done: Shop, call: Callable[[Path], object], said: str
) -> None:
    with pytest.raises(InputError, match=said):
        call(done.folder)
    assert paying.account(done.folder).is_empty


def test_the_command_says_who_has_what_and_what_is_here(done: Shop) -> None:
    told = run("handed-over", done.folder, "1", "--to", TO, "--on", YESTERDAY)
    assert told.returncode == 0
    assert f"Handed over to {TO} on {YESTERDAY}: 1" in told.stdout
    assert "1 finished cup still here: 2" in told.stdout
    assert "1 finished cup still here: 2" in run("status", done.folder).stdout
    entry = json.loads(run("status", done.folder, "--json").stdout)
    assert entry["totals"]["here"] == 1
    assert entry["items"][0]["handed_over"]["to"] == TO
    back = run("handed-over", done.folder, "1", "--mistaken")
    assert "2 finished cups still here" in back.stdout
    assert run("handed-over", done.folder, "--to", TO).returncode == 2
    assert run("paid", done.folder).returncode == 2


def test_forgetting_takes_who_has_cups_and_what_was_paid(done: Shop) -> None:
    handing.hand_over(done.folder, ["1"], "Zebedee Quill")
    paying.agree(done.folder, "100")
    paying.pay(done.folder, "40", "deposit", "cheque of Zebedee Quill")
    forgetting.forget(done.folder, True, True)
    left = (done.folder / LEDGER).read_bytes()
    assert b"Zebedee" not in left
    assert b"cheque" not in left
