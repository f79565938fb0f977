"""Between the proofs and the client's yes: show, take answers, accept wishes, confirm."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

from mailmerge import merge as engine
from mailmerge.answers import settling, taking
from mailmerge.answers.incoming import read_answers, read_pasted
from mailmerge.answers.packs import PICTURES, Envelope, Packed, write_pack
from mailmerge.answers.said import MAX_BYTES, Answers, Said
from mailmerge.answers.taking import Taken
from mailmerge.deeds import words
from mailmerge.deeds.naming import items_named
from mailmerge.deeds.opening import folder_of, order_ledger
from mailmerge.deeds.questions import NO_CHOICES, Choices, Question, or_question
from mailmerge.deeds.status import waits_for
from mailmerge.findings import Causes, InputError
from mailmerge.ledger.ledger import Ledger, LedgerChange
from mailmerge.ledger.standing import OpenQuestion, Record, Standing, is_open
from mailmerge.ledger.tray import PACK, changing, withdraw
from mailmerge.merge import Changes, Merged
from mailmerge.orders import open_order
from mailmerge.progress import Watch, unwatched
from mailmerge.proofs.pack import Sender
from mailmerge.proofs.pack.languages import Language
from mailmerge.proofs.paper_size import PaperSize
from mailmerge.workshop.shop.shop import ChosenPaper, open_shop

__all__ = [
    "MAX_BYTES",
    "Accept",
    "Message",
    "Said",
    "Saw",
    "accept",
    "answers",
    "confirm",
    "decide",
    "end_of",
    "proof",
    "settle",
]


@dataclass(frozen=True)
class Proofed:
    """A proof pack, or why there is none."""

    folder: Path
    packed: Packed | None
    """None where nothing is open."""
    pictures: Path
    paper: ChosenPaper
    changes: Changes
    """What bringing the order up to date came to."""
    causes: Causes
    """Of stops, and of warnings about the whole list; the first of them."""
    held: tuple[tuple[Record, str], ...]
    """Items that cannot be shown, and what they wait for."""
    is_stopped: bool
    """Whether any item is stopped."""


def proof(
    order: Path,
    everything: bool = False,
    size: PaperSize | None = None,
    choices: Choices = NO_CHOICES,
    jobs: int = 0,
    watch: Watch = unwatched,
) -> Proofed | Question[Choices]:
    """Make the folder that goes to the client: a page to tick, a PDF, a list, and pictures.

    Parameters
    ----------
    everything
        Show what is answered already, too.
    size
        Of the PDF's pages; None for the shop's.

    Raises
    ------
    CalledOff
        By ``watch``; nothing has changed.
    InputError
        The order is wrong, or a file cannot be written.
    """
    folder, shop = folder_of(order), open_shop()
    paper, business = shop.paper(size), shop.values.shop
    sender = Sender(business.name, business.address)

    def shown() -> Proofed:
        with order_ledger(folder, missing="make") as ledger:
            # First, and as a change of its own: the pack shows what lies in its place.
            opened = open_order(folder)
            merged = engine.update(opened, ledger, jobs or engine.cores(), watch, choices)
            envelope = Envelope(
                sender, opened.client.people, Language(opened.client.language), paper.size
            )
            with changing(ledger) as change:
                scenes = partial(engine.scenes_of, opened)
                packed = write_pack(change, scenes, everything, envelope, watch)
            held = [r for r in ledger.records() if r.standing in _HELD]
        return Proofed(
            folder / PACK,
            packed,
            folder / PACK / PICTURES,
            paper,
            merged.changes,
            merged.causes,
            tuple((record, waits_for(record)) for record in held),
            merged.totals.stopped > 0,
        )

    return or_question(shown, choices)


_HELD = (Standing.STOPPED, Standing.TO_CHANGE, Standing.IN_QUESTION)


Saw = Mapping[int, str]
"""What somebody has looked at before deciding about it: ``Record.heard``, by item."""

NOTHING_SEEN: Saw = {}


def _see_as_seen(change: LedgerChange, saw: Saw) -> None:
    """See that items are as somebody has seen them.

    Raises
    ------
    InputError
        One was changed since, or something was said about it.
    """
    if not saw:
        return
    for record in change.records():
        if saw.get(record.number, record.heard) != record.heard:
            raise InputError(
                words.is_not_as_seen(record.number, record.name, record.standing, record.about)
            )


@dataclass(frozen=True, slots=True)
class Message:
    """A text that came back, and where it came from, in words."""

    text: str
    where: str


@dataclass(frozen=True, slots=True)
class Accept:
    """Which wishes are put in the place of the list's texts."""

    items: tuple[int, ...] | None
    """None for all whose text is known."""
    texts: Mapping[str, str] = field(default_factory=dict)
    """The new text by field, of a single item."""
    by: str = ""
    """Who said so."""
    saw: Mapping[int, str] = field(default_factory=dict)
    """The items as somebody has seen them; see :data:`Saw`."""


@dataclass(frozen=True)
class NewText:
    """A text that is on record now in the place of the list's."""

    numbers: tuple[int, ...]
    field: str
    text: str


@dataclass(frozen=True)
class Answered:
    """What taking answers and accepting wishes came to."""

    folder: Path
    came: Answers | None
    """What was read; None where only wishes were accepted."""
    taken: Taken | None
    withdrawn: tuple[int, ...]
    """Taken back out of the folder to engrave from."""
    to_stop: int | None
    """The one of them that is on the machine; None if none is."""
    new_texts: tuple[NewText, ...]
    engraved: tuple[int, ...]
    """Engraved already with the old text."""
    merged: Merged | None
    """None where no wish was accepted."""
    records: Mapping[int, Record]
    """Every item, as it stands now."""

    @property
    def disagreed(self) -> list[Record]:
        """Items about which people say different things, of those that were answered now."""
        now = {each.item for each in self.came.said} if self.came else set()
        return [
            each for each in self.records.values()
            if each.number in now and each.standing is Standing.DISAGREE
        ]  # fmt: skip

    @property
    def held(self) -> list[int]:
        """Items that wait for what was asked now: no cup that exists or is gone."""
        asked = {item for each in self.taken.asked for item in each.items} if self.taken else set()
        over = (Standing.GONE, Standing.ENGRAVED)
        return [n for n in sorted(asked) if self.records[n].standing not in over]

    @property
    def unanswered(self) -> list[int]:
        """Items that still wait for an answer."""
        return [each.number for each in self.records.values() if is_open(each)]


def answers(
    order: Path,
    came: Path | Message | None,
    wishes: Accept | None = None,
    choices: Choices = NO_CHOICES,
    jobs: int = 0,
    watch: Watch = unwatched,
) -> Answered | Question[Choices]:
    """Take in what the client has answered, and accept wishes: all of it or nothing.

    Parameters
    ----------
    came
        A saved file, a text, or the list filled in; None to accept wishes alone.
    wishes
        What is put on record at once.

    Raises
    ------
    CalledOff
        By ``watch``; nothing has changed.
    InputError
        What came back is not whole or of another order, or a wish cannot be accepted.
    """
    if wishes and wishes.texts and len(wishes.items or ()) != 1:
        raise InputError(words.TEXT_NEEDS_ONE_ITEM)
    folder = folder_of(order)

    def answered() -> Answered:
        with order_ledger(folder) as ledger:
            found = _read(ledger, came) if came is not None else None
            with changing(ledger) as change:
                taken = taking.take(change, found) if found else None
                accepted = _accepted(change, wishes)
                withdrawn = withdraw(change)
                merged = None
                if accepted:
                    merged = engine.bring_up_to_date(
                        open_order(folder), change, jobs or engine.cores(), watch, choices
                    )
            records = {record.number: record for record in ledger.records()}
            on_machine, _ = ledger.on_machine or (0, "")
        return Answered(
            folder,
            found,
            taken,
            tuple(withdrawn),
            on_machine if on_machine in withdrawn else None,
            tuple(_new_texts(accepted, records)),
            tuple(_engraved_before(accepted, records)),
            merged,
            records,
        )

    return or_question(answered, choices)


def accept(
    order: Path,
    wishes: Accept,
    choices: Choices = NO_CHOICES,
    jobs: int = 0,
    watch: Watch = unwatched,
) -> Answered | Question[Choices]:
    """Put wished texts in the place of the list's, and make these cups again.

    Raises
    ------
    CalledOff
        By ``watch``; nothing has changed.
    InputError
        An item has no wish, or its text is not known.
    """
    return answers(order, None, wishes, choices, jobs, watch)


_Accepted = list[tuple[Record, dict[str, str]]]


def _accepted(change: LedgerChange, wishes: Accept | None) -> _Accepted:
    if wishes is None:
        return []
    _see_as_seen(change, wishes.saw)
    return taking.accept(change, wishes.items, wishes.texts, wishes.by)


def _cups_of(guest: int, records: Mapping[int, Record]) -> list[Record]:
    return [each for each in records.values() if each.guest == guest]


def _new_texts(accepted: _Accepted, records: Mapping[int, Record]) -> list[NewText]:
    """Return what was accepted and holds; where the list says a third thing, it does not."""
    return [
        NewText(tuple(cup.number for cup in cups), name, text)
        for record, texts in accepted
        for cups in [_cups_of(record.guest, records)]
        for name, text in texts.items()
        if all(cup.about.get(name) == text for cup in cups)
    ]


def _engraved_before(accepted: _Accepted, records: Mapping[int, Record]) -> list[int]:
    cups = [cup for record, _ in accepted for cup in _cups_of(record.guest, records)]
    return sorted({cup.number for cup in cups if cup.standing is Standing.ENGRAVED})


def _read(ledger: Ledger, came: Path | Message) -> Answers:
    own = _own_addresses()
    if isinstance(came, Message):
        return read_pasted(ledger, came.where, came.text, own)
    return read_answers(ledger, came, own)


def _own_addresses() -> tuple[str, ...]:
    """Return the shop's addresses for mail: what a message quotes of theirs is known."""
    rows = open_shop().values.shop.address
    return tuple(word.strip("<>,;") for row in rows for word in row.split() if "@" in word)


@dataclass(frozen=True)
class Confirmed:
    """A yes that was put on record."""

    records: tuple[Record, ...]
    unseen: tuple[int, ...]
    """Items that no proof pack has shown as they are now."""


def confirm(
    order: Path,
    items: Sequence[str],
    by: str,
    on: dt.datetime | None = None,
    saw: Saw = NOTHING_SEEN,
) -> Confirmed:
    """Put a client's yes on record that came another way, such as by telephone.

    It closes no wish for a change: see :func:`decide`.

    Parameters
    ----------
    items
        Numbers, names of files to engrave, or codes of a run sheet.
    by
        Who said yes, and how.
    on
        When it was said; None for now.
    saw
        The items as somebody has seen them.

    Raises
    ------
    InputError
        An item is not known, gone or stopped, or not as it was seen; nobody is named or nobody who
        is asked, or it was said in the future; nothing is on record then.
    """
    if not items:
        raise InputError(words.CONFIRM_NEEDS_ITEMS)
    by = " ".join(by.split())
    if not by:
        raise InputError(words.CONFIRM_NEEDS_BY)
    with order_ledger(folder_of(order)) as ledger:
        numbers = items_named(ledger, items)
        with changing(ledger) as change:
            _see_as_seen(change, saw)
            unseen = taking.confirm(change, numbers, by, on)
        records = {record.number: record for record in ledger.records()}
    return Confirmed(
        tuple(records[number] for number in dict.fromkeys(numbers)),
        tuple(record.number for record in unseen),
    )


def end_of(day: dt.date) -> dt.datetime | None:
    """Return when something was said of which only the day is known: None, for now, if it is today.

    It is the day's end, so that a pack that was made on that day counts as seen.
    """
    if day == dt.date.today():
        return None
    return dt.datetime.combine(day, dt.time(23, 59, 59))


def decide(
    order: Path, items: Sequence[str], by: str, reason: str, saw: Saw = NOTHING_SEEN
) -> tuple[Record, ...]:
    """Close what people want changed about items, by the maker's own word; return how they stand.

    The cup stays as it is shown. It still needs a yes, unless somebody else has said it.

    Parameters
    ----------
    items
        Numbers, names of files to engrave, or codes of a run sheet.
    by
        Who decides.
    reason
        Why, on record.
    saw
        The items as somebody has seen them: what was said since is not decided unread.

    Raises
    ------
    InputError
        An item is not known or not as it was seen, nobody wants it changed, or name or reason is
        missing; nothing is on record then.
    """
    by, reason = " ".join(by.split()), " ".join(reason.split())
    if not (items and by and reason):
        raise InputError(words.DECIDE_NEEDS)
    with order_ledger(folder_of(order)) as ledger:
        numbers = items_named(ledger, items)
        with changing(ledger) as change:
            _see_as_seen(change, saw)
            taking.decide(change, numbers, by, reason)
        records = {record.number: record for record in ledger.records()}
    return tuple(records[number] for number in dict.fromkeys(numbers))


@dataclass(frozen=True)
class Settled:
    """A question that is settled."""

    folder: Path
    question: OpenQuestion
    records: tuple[Record, ...]
    """Those that it may have concerned, as they stand now."""
    is_guest: bool
    """Whether it is a guest from the next merge on."""


def settle(order: Path, question: int, by: str, reason: str, as_guest: bool = False) -> Settled:
    """Settle an open question about something that came back.

    Parameters
    ----------
    question
        Its number.
    by
        Who settles it.
    reason
        What was done, or why nothing is, on record.
    as_guest
        Whether it tells a guest who came late: the order's list holds them from the next merge on,
        and as soon as the list itself does, it is the same guest.

    Raises
    ------
    InputError
        There is no such open question, it tells no guest, or name or reason is missing; nothing is
        on record then.
    """
    by, reason = " ".join(by.split()), " ".join(reason.split())
    if not (by and reason):
        raise InputError(words.SETTLE_NEEDS)
    folder = folder_of(order)
    with order_ledger(folder) as ledger:
        with changing(ledger) as change:
            settled = settling.settle(change, question, by, reason, as_guest)
        records = {record.number: record for record in ledger.records()}
    about = tuple(records[number] for number in settled.items)
    return Settled(folder, settled, about, as_guest)
