"""The talk with the client at a glance: what is open and since when, and what to remind them of."""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path

from mailmerge.deeds import words
from mailmerge.deeds.opening import folder_of, order_ledger
from mailmerge.files import read_file
from mailmerge.findings import InputError
from mailmerge.ledger.ledger import Ledger
from mailmerge.ledger.standing import OpenQuestion, Record, Standing, is_open
from mailmerge.ledger.tray import PACK
from mailmerge.orders import open_order
from mailmerge.proofs.pack import words as pack_words
from mailmerge.proofs.pack.languages import Language
from mailmerge.workshop.shop.shop import open_shop

__all__ = ["Open", "Reminder", "Sent", "Talk", "pack_page", "reminders", "talk"]


@dataclass(frozen=True)
class Sent:
    """The newest proof pack of an order."""

    name: str
    """What it is known by."""
    made: dt.datetime
    shown: Mapping[int, str]
    """The seal of every item that it shows."""
    sizes: Mapping[str, int]
    """Bytes of its files that lie in the order's folder, by name."""

    @property
    def page(self) -> str:
        """The name of its page; ``""`` where it does not lie there."""
        return next((name for name in self.sizes if name.endswith(".html")), "")

    def shows(self, record: Record) -> bool:
        """Whether it shows an item as it is now."""
        return record.seal is not None and self.shown.get(record.number) == record.seal


@dataclass(frozen=True)
class Open:
    """An item that waits for an answer."""

    record: Record
    since: dt.datetime | None
    """When a proof pack first showed it as it is now; None where none has."""

    @property
    def people(self) -> tuple[str, ...]:
        """Whose answer is missing; empty where nobody is named."""
        return self.record.said.missing


@dataclass(frozen=True)
class Talk:
    """Where the talk with the client stands."""

    folder: Path
    sent: Sent | None
    """None where no proof pack was made yet."""
    open: tuple[Open, ...]
    wishes: tuple[Record, ...]
    """Items that somebody wants changed, also where people disagree or the cup exists already."""
    questions: tuple[OpenQuestion, ...]
    held: tuple[Record, ...]
    """Items that no pack can show, because they are stopped."""
    answered: tuple[Record, ...]
    """Items with the yes that is wanted, or that were taken on without one, or are engraved.

    A question may hold them all the same."""

    @property
    def in_question(self) -> tuple[Record, ...]:
        """Items that were answered, and are held by a question."""
        return tuple(r for r in self.answered if r.standing is Standing.IN_QUESTION)

    @property
    def unseen(self) -> tuple[Record, ...]:
        """Open items that the newest pack does not show as they are now."""
        sent = self.sent
        return tuple(o.record for o in self.open if sent is None or not sent.shows(o.record))


def talk(order: Path) -> Talk:
    """Show where the talk with the client stands.

    Raises
    ------
    InputError
        There is no such order, or nothing was merged yet.
    """
    folder = folder_of(order)
    with order_ledger(folder) as ledger:
        records = [record for record in ledger.records() if not record.gone]
        shown = ledger.first_shown()
        first = {r.number: _time(shown.get((r.number, r.seal or ""))) for r in records}
        return Talk(
            folder,
            _sent(ledger),
            tuple(Open(r, first[r.number]) for r in records if is_open(r)),
            tuple(r for r in records if r.wish),
            tuple(ledger.questions()),
            tuple(r for r in records if r.standing is Standing.STOPPED),
            tuple(r for r in records if _is_answered(r)),
        )


_ANSWERED = (Standing.CONFIRMED, Standing.RELEASED, Standing.ENGRAVED, Standing.SPOILED)


def _is_answered(record: Record) -> bool:
    is_asked = record.standing is Standing.IN_QUESTION
    return record.standing in _ANSWERED or (is_asked and bool(record.yes or record.waived))


def _time(at: str | None) -> dt.datetime | None:
    return dt.datetime.fromisoformat(at) if at else None


def _sent(ledger: Ledger) -> Sent | None:
    name, _ = ledger.newest_pack()
    if not name:
        return None
    made = dt.datetime.fromisoformat(ledger.pack_made(name))
    return Sent(name, made, ledger.shown_in(name), _sizes(ledger))


def _sizes(ledger: Ledger) -> dict[str, int]:
    """Return the files of the newest pack that lie there; what is a link is none."""
    pack = ledger.root.at(PACK)
    paths = {name: pack.own(name) for name in json.loads(ledger.fact("pack files") or "[]")}
    return {name: path.stat().st_size for name, path in paths.items() if path.is_file()}


def pack_page(order: Path) -> bytes:
    """Return the page of the newest proof pack, as it goes to the client.

    Raises
    ------
    InputError
        No pack was made yet, or its page does not lie there any more.
    """
    found = talk(order)
    if found.sent is None or not found.sent.page:
        raise InputError(words.no_pack(found.folder))
    return read_file(found.folder / PACK / found.sent.page)


@dataclass(frozen=True, slots=True)
class Reminder:
    """A text that reminds of what is open; it is copied, and never sent by the program."""

    person: str
    """Who is reminded; ``""`` where everybody is."""
    items: tuple[int, ...]
    text: str
    """In the pack's language."""


def reminders(order: Path) -> tuple[Reminder, ...]:
    """Return texts to remind of what the newest proof pack shows and nobody has answered.

    Where each of several people has to say yes, there is one for each whose yes is missing.

    Raises
    ------
    InputError
        There is no such order, or nothing was merged yet.
    """
    found = talk(order)
    if found.sent is None:
        return ()
    opened = open_order(found.folder)
    language = Language(opened.client.language)
    waiting = [each for each in found.open if found.sent.shows(each.record)]
    asked = {each.record.asked for each in waiting}
    people = opened.client.people if any(each.all for each in asked) else ("",)
    told = []
    for person in people:
        mine = [o.record for o in waiting if not person or not o.people or person in o.people]
        if mine:
            greeted = [person] if person else [*opened.client.people]
            text = _reminder(language, found.sent, opened.design.title, greeted, mine)
            told.append(Reminder(person, tuple(record.number for record in mine), text))
    return tuple(told)


def _reminder(
    language: Language, sent: Sent, title: str, people: list[str], records: list[Record]
) -> str:
    pack = f"{pack_words.sheet(language, sent.name, 1, 1)} · {language.day(sent.made.date())}"
    business = open_shop().values.shop.name
    parts = [
        *([f"{language.listed(people)},"] if people else []),
        f"{pack_words.please_check_order(language, title)}\n{pack}",
        pack_words.still_needed(language),
        "\n".join(_cups(language, records)),
        pack_words.open_the_page(language),
        pack_words.only_what_is_confirmed(language),
        *([business] if business else []),
    ]
    return "\n\n".join(parts) + "\n"


def _cups(language: Language, records: Iterable[Record]) -> Iterable[str]:
    for _, same in groupby(records, lambda record: (record.guest, record.name)):
        cups = [*same]
        numbers = ", ".join(str(cup.number) for cup in cups)
        label = pack_words.cup_numbers(language, numbers, len(cups))
        yield pack_words.detail(language, label, cups[0].name)
