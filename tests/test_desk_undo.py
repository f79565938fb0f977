"""Every deed of the desk can be undone, or its page says before it is done what stays."""

from __future__ import annotations

import inspect
import re
from pathlib import Path
from typing import NamedTuple

import pytest
from starlette.routing import Route

from mailmerge import desk
from mailmerge.desk import app, words
from mailmerge.desk.asking import _POSTED, Page
from mailmerge.desk.values import changed

TEMPLATES = Path(desk.__file__).parent / "templates"


class Offered(NamedTuple):
    """It offers to take back what was done, as soon as it is."""

    by: str
    """The form that takes it back."""


class Back(NamedTuple):
    """Another form takes it back; a page has that one wherever something was done so."""

    by: str
    template: str
    button: str
    """What is on it, by its name in the desk's words."""


class Told(NamedTuple):
    """The page of its form says beforehand what stays, or that it can be gone back to."""

    template: str
    sentence: str
    """By its name in the desk's words."""


class Nothing(NamedTuple):
    """It changes nothing that anybody had."""

    why: str


DEEDS = {
    "/orders/begin": Nothing("a list is read and shown; an order begins after that"),
    "/begin/{laid}": Told("begin.html", "BEGIN_STAYS"),
    "/orders/open": Back("/orders/{key}/leave-out", "orders.html", "LEAVE_OUT"),
    "/orders/{key}/leave-out": Offered("/orders/open"),
    "/orders/{key}/about": Offered("/orders/{key}/about"),
    "/orders/{key}/make": Told("cups.html", "CHANGED_SINCE"),
    "/orders/{key}/progress/answer": Told("work.html", "NOTHING_DONE_YET"),
    "/orders/{key}/progress/go-on": Nothing("each press has its own way back, as it had before"),
    "/orders/{key}/progress/leave": Told("work.html", "LEFT_FOR_GOOD"),
    "/orders/{key}/progress/off": Nothing("the order is as it was before the work began"),
    "/orders/{key}/progress/seen": Nothing("somebody has read a message"),
    "/orders/{key}/list/correct": Back("/orders/{key}/list/take-back", "guests.html", "TAKE_BACK"),
    "/orders/{key}/list/take-back": Back("/orders/{key}/list/correct", "guests.html", "PUT_SO"),
    "/orders/{key}/list/mean": Back("/orders/{key}/list/mean", "guests.html", "TAKE_BACK"),
    "/orders/{key}/list/split": Told("guests.html", "TWO_PEOPLE_HOW"),
    "/orders/{key}/list/newer": Told("guests.html", "NEWER_LIST_HOW"),
    "/orders/{key}/list/former": Told("newer.html", "TAKE_LIST_HOW"),
    "/orders/{key}/list/newer/{laid}": Told("newer.html", "TAKE_LIST_HOW"),
    "/orders/{key}/cups/{number:int}/take": Offered("/orders/{key}/cups/{number:int}/take"),
    "/orders/{key}/cups/{number:int}/as-the-others": Offered(
        "/orders/{key}/cups/{number:int}/take"
    ),
    "/orders/{key}/cups/blank": Offered("/orders/{key}/cups/blank"),
    "/orders/{key}/cups/measure": Told("measured_part.html", "KEEP_BLANK_HOW"),
    "/orders/{key}/cups/layout": Offered("/orders/{key}/cups/layout"),
    "/orders/{key}/cups/motif": Offered("/orders/{key}/cups/motif"),
    "/orders/{key}/cups/layout/keep": Offered("/orders/{key}/cups/layout"),
    "/orders/{key}/client/pack": Told("client_aside.html", "PACK_STAYS"),
    "/orders/{key}/client/came": Told("client_aside.html", "STAYS_ON_RECORD"),
    "/orders/{key}/client/accept": Told("talk.html", "STANDS_ON_RECORD"),
    "/orders/{key}/client/decide": Told("talk.html", "LEAVE_IT_HOW"),
    "/orders/{key}/client/confirm": Told("client.html", "CANNOT_UNDO_YES"),
    "/orders/{key}/client/settle": Told("talk.html", "SETTLED_STAYS"),
    "/orders/{key}/client/records/back": Told("client_records.html", "EARLIER_RECORDS_HOW"),
    "/orders/{key}/bench/release": Told("bench.html", "RELEASE_HOW"),
    "/orders/{key}/bench/{number:int}/start": Back(
        "/orders/{key}/bench/stop", "bench.html", "STOP_CLOCK"
    ),
    "/orders/{key}/bench/stop": Told("bench.html", "CLOCK_STAYS"),
    "/orders/{key}/bench/{number:int}/engraved": Offered(
        "/orders/{key}/bench/{number:int}/mistaken"
    ),
    "/orders/{key}/bench/{number:int}/spoiled": Offered(
        "/orders/{key}/bench/{number:int}/mistaken"
    ),
    "/orders/{key}/bench/{number:int}/mistaken": Back(
        "/orders/{key}/bench/{number:int}/engraved", "bench.html", "ENGRAVED"
    ),
    "/orders/{key}/bill/numbers": Offered("/orders/{key}/bill/numbers"),
    "/orders/{key}/bill/agree": Told("bill.html", "AGREED_HOW"),
    "/orders/{key}/bill/paid": Offered("/orders/{key}/bill/paid/back"),
    "/orders/{key}/bill/paid/back": Back("/orders/{key}/bill/paid", "bill.html", "PUT_PAID"),
    "/orders/{key}/bill/quote": Nothing("a paper is written of what is on record"),
    "/orders/{key}/bill/run-sheet": Nothing("a paper is written of what is on record"),
    "/shop/values": Offered("/shop/values"),
    "/shop/machines": Offered("/shop/machines"),
    "/shop/recipes/keep": Offered("/shop/recipes/drop"),
    "/shop/recipes/drop": Offered("/shop/recipes/restore"),
    "/shop/recipes/restore": Back("/shop/recipes/drop", "recipes.html", "TAKE_OUT"),
    "/shop/cards/make": Offered("/shop/cards/drop"),
    "/shop/cards/drop": Offered("/shop/cards/restore"),
    "/shop/cards/restore": Back("/shop/cards/drop", "test_card.html", "CARD_AWAY"),
    "/shop/cards/{name}/keep": Offered("/shop/recipes/drop"),
}


def posted() -> dict[str, Page]:
    """Return all forms of the desk: where each is sent, and the page that answers it."""
    routes = [*(route for place in app.FIRST for route in place.ROUTES), *app._rest()]
    pages = {id(route): page for route, page in _POSTED}
    return {
        route.path: pages[id(route)]
        for route in routes
        if isinstance(route, Route) and "POST" in (route.methods or ())
    }


def test_every_deed_has_its_way_back_or_says_what_stays() -> None:
    assert set(DEEDS) == set(posted()), "a new deed needs its line here"


@pytest.mark.parametrize("path", sorted(DEEDS))
def test_the_way_back_is_there(path: str) -> None:
    deed, pages = DEEDS[path], posted()
    if isinstance(deed, Told):
        sentence = getattr(words, deed.sentence)
        assert sentence.endswith(".")
        assert f"words.{deed.sentence} " in (TEMPLATES / deed.template).read_text(encoding="utf-8")
    elif isinstance(deed, Back):
        assert deed.by in pages
        text = (TEMPLATES / deed.template).read_text(encoding="utf-8")
        last = deed.by.rpartition("/")[2]
        (form, *_) = [
            each for each in re.findall(r"<form.*?</form>", text, re.DOTALL)
            if f"words.{deed.button}" in each and re.search(rf'{last}["/]', each)
        ]  # fmt: skip
        assert 'method="post"' in form
    elif isinstance(deed, Offered):
        assert deed.by in pages
        assert offers(pages[path])


def offers(page: Page) -> bool:
    """Whether a page, or what it calls in its own module, offers to take something back."""
    module = inspect.getmodule(page)
    seen, to_see = set(), [page]
    while to_see:
        source = inspect.getsource(to_see.pop())
        if "Undo(" in source or changed.__name__ + "(" in source:
            return True
        called = [getattr(module, name, None) for name in re.findall(r"\b(_\w+)\(", source)]
        to_see += [each for each in called if inspect.isfunction(each) and each not in seen]
        seen.update(to_see)
    return False
