"""Where an item stands: the rules of release, as functions of what is on record.

They are the heart of the order. Nothing else decides whether a cup may be engraved.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property

from pydantic import ValidationError

from mailmerge.artwork import Own
from mailmerge.findings import InputError
from mailmerge.items import Entry
from mailmerge.ledger import words
from mailmerge.ledger.conversation import ANYBODY, Answer, Asked, Conversation, Decision


class Standing(StrEnum):
    """Where an item stands, in the order of its way through the workshop."""

    WAITING = "waiting"
    """For the client's answer to the artwork as it is now."""
    TO_CHANGE = "to change"
    """The client wants another text."""
    DISAGREE = "they disagree"
    """Several people speak for the client, and say different things."""
    IN_QUESTION = "in question"
    """Something came back that may concern it, and nobody has settled it yet."""
    STOPPED = "stopped"
    """There is no artwork: see its findings."""
    CONFIRMED = "confirmed"
    """The client has said yes to exactly this artwork, or somebody took it on without one."""
    RELEASED = "released"
    """Its file lies in the folder to engrave from."""
    ENGRAVED = "engraved"
    """Its cup exists, whether its guest is in the list or not."""
    SPOILED = "spoiled"
    """A blank was lost on it; it is in the next release again."""
    GONE = "gone"
    """No longer in the list."""


def entry_in(text: str, item: int) -> Entry:
    """Return an item in ``report.json`` as the ledger has kept it.

    Raises
    ------
    InputError
        It is damaged: SQLite has no sums over its pages.
    """
    try:
        return Entry.model_validate_json(text)
    except ValidationError:
        raise InputError(words.entry_damaged(item)) from None


@dataclass(frozen=True, slots=True)
class Correction:
    """A text that takes the place of the list's, as long as the list says what it said then."""

    field: str
    was: str
    text: str
    words: str
    said_by: str
    at: str

    @property
    def is_taken_back(self) -> bool:
        """Whether it says that the list's own text holds again."""
        return self.text == self.was


@dataclass(frozen=True, slots=True)
class SetApart:
    """How a line of one cup was set differently from its set, or as the others again."""

    own: Own
    text: str
    """Of the line, in the layout."""
    said_by: str
    at: str


@dataclass(frozen=True, slots=True)
class OpenQuestion:
    """Something that came back and was not understood: a row, a remark, a name in another place."""

    number: int
    items: tuple[int, ...]
    """Those that it may concern; empty where it concerns none that there is."""
    place: str
    """Where it stood, in words."""
    words: str
    fields: Mapping[str, str]
    """Texts of the guest that it may be about, by field."""
    said_by: str
    """Who sent it."""
    at: str


@dataclass(frozen=True, slots=True)
class Settlement:
    """What was decided about a question."""

    question: OpenQuestion
    outcome: str
    """Why, or what was done."""
    said_by: str
    at: str


@dataclass(frozen=True, slots=True)
class Addition:
    """A guest without a row of their own: who came late, or whose row holds somebody else, too."""

    number: int
    guest: int | None
    """Who it is, once a merge has made a cup."""
    fields: Mapping[str, str]
    beside: int | None = None
    """Whose row holds them, too; None for who came late."""


@dataclass(frozen=True, slots=True)
class Event:
    """What became of an item: ``released``, ``withdrawn``, ``engraved`` or ``spoiled``."""

    what: str
    seal: str
    place: int | None
    reason: str
    at: str
    after: int = 0
    """The number of the last word that was on record then."""


@dataclass(frozen=True, slots=True)
class Handover:
    """Who has taken a finished cup with them."""

    to: str
    day: str
    """ISO 8601."""
    at: str
    """When it was put on record."""


@dataclass(frozen=True, slots=True)
class Timing:
    """How long the machine took for an item."""

    seal: str
    """Of the artwork that was engraved."""
    machine: str
    """The name of its profile."""
    motion: str
    """A digest of how the profile says that it moves."""
    lines: int
    """Of all passes together."""
    worked_out: float
    """Seconds, by profile and settings alone."""
    took: float
    """Seconds, by the clock."""
    at: str


@dataclass(frozen=True)
class Record:
    """Everything that the ledger knows about an item."""

    number: int
    guest: int
    cup: int
    gone: bool
    seal: str | None
    about: Mapping[str, str]
    """The texts that the artwork engraves now, by field."""
    report: str = field(repr=False)
    """The item in ``report.json``, as JSON: there are thousands, and few are looked into."""
    digests: Mapping[str, str]
    answers: tuple[Answer, ...] = ()
    events: tuple[Event, ...] = ()
    corrections: tuple[Correction, ...] = ()
    decisions: tuple[Decision, ...] = ()
    questions: tuple[OpenQuestion, ...] = ()
    """Those that may concern it."""
    settled: tuple[Settlement, ...] = ()
    """Of those that may have concerned it."""
    asked: Asked = ANYBODY
    apart: tuple[SetApart, ...] = ()
    """How lines of this cup alone were set, oldest first."""
    handed: Handover | None = None
    """Who has the cup that there is now; None while it is here."""

    @cached_property
    def entry(self) -> Entry:
        """The item in ``report.json``."""
        return entry_in(self.report, self.number)

    @property
    def own(self) -> tuple[SetApart, ...]:
        """How this cup is set differently now."""
        latest = {each.own.line: each for each in self.apart}
        return tuple(each for each in latest.values() if each.own.says_anything)

    @property
    def artwork(self) -> str:
        """The name of its artwork's file; ``""`` while it is stopped."""
        return next((name for name in self.digests if name.endswith(".svg")), "")

    @property
    def artwork_digest(self) -> str:
        """The SHA-256 of that file, as it was made."""
        return self.digests.get(self.artwork, "")

    @property
    def looks(self) -> str:
        """A digest of what its files hold: the same as long as its pictures look the same."""
        told = "".join(f"{name} {self.digests[name]} " for name in sorted(self.digests))
        return hashlib.sha256((told or self.report).encode()).hexdigest()[:16]

    @property
    def heard(self) -> str:
        """A digest of its artwork and all that was said and done about it so far.

        Who has looked at it says so by this; see :data:`mailmerge.deeds.client.Saw`.
        """
        last = self.answers[-1].number if self.answers else 0
        told = (
            self.seal, sorted(self.about.items()), last, len(self.decisions), len(self.events),
            len(self.corrections), [each.number for each in self.questions], self.gone,
        )  # fmt: skip
        return hashlib.sha256(repr(told).encode()).hexdigest()[:16]

    @property
    def handled(self) -> str:
        """A digest of where it stands, and of everything that became of it at the bench.

        Who stands at the machine says by this what they have before them. Another yes changes
        nothing of it; see :attr:`heard` for all that was said.
        """
        told = (str(self.standing), self.seal, [(e.what, e.place, e.at) for e in self.events])
        return hashlib.sha256(repr(told).encode()).hexdigest()[:16]

    @property
    def name(self) -> str:
        """The guest's name, as it is engraved now."""
        return self.entry.name

    @cached_property
    def said(self) -> Conversation:
        """What was said about the artwork as it is now, and what of it counts."""
        return Conversation(self.answers, self.decisions, self.seal, self.about, self.asked)

    @property
    def wish(self) -> Answer | None:
        """What the client wants changed and nobody has changed yet: the latest of it."""
        return self.said.objections[-1] if self.said.objections else None

    @property
    def yes(self) -> Answer | None:
        """The client's yes to the artwork as it is now: the last one that was wanted."""
        return self.said.yeses[-1] if self.said.has_yes else None

    @property
    def waived(self) -> Event | None:
        """The release of the artwork as it is now that somebody took on without a yes."""
        if self.wish:
            return None
        taken = (
            e for e in reversed(self.events)
            if e.what == "released" and e.reason and e.seal == self.seal
            and not self.said.has_moved_on(e.after)
        )  # fmt: skip
        return next(taken, None)

    @property
    def spoiled(self) -> int:
        """How many blanks were lost on it."""
        return sum(event.what == "spoiled" for event in self.events)

    @property
    def is_engraved(self) -> bool:
        """Whether its cup exists."""
        return bool(self.events) and self.events[-1].what == "engraved"

    @property
    def is_here(self) -> bool:
        """Whether its cup exists and waits to be handed over."""
        return self.is_engraved and self.handed is None

    @property
    def changed_since_engraved(self) -> bool:
        """Whether the cup that was engraved differs from the artwork as it is now."""
        return self.is_engraved and self.events[-1].seal != self.seal

    @cached_property
    def standing(self) -> Standing:
        """Where the item stands."""
        last = self.events[-1] if self.events else None
        if self.is_engraved:
            return Standing.ENGRAVED
        if self.gone:
            return Standing.GONE
        if self.seal is None:
            return Standing.STOPPED
        if self.said.disagree:
            return Standing.DISAGREE
        if self.wish:
            return Standing.TO_CHANGE
        if self.questions:
            return Standing.IN_QUESTION
        if not (self.yes or self.waived):
            return Standing.WAITING
        if last and last.what == "released" and last.seal == self.seal:
            return Standing.RELEASED
        if last and last.what == "spoiled":
            return Standing.SPOILED
        return Standing.CONFIRMED


def is_open(record: Record) -> bool:
    """Whether an item waits for an answer to artwork that can be shown."""
    if record.standing in (Standing.GONE, Standing.ENGRAVED, Standing.STOPPED):
        return False
    if record.standing is Standing.DISAGREE:
        return True
    if wish := record.wish:
        # It is about something else than a text that is still there (a hand, a colour): whether it
        # is met, only the client can say who sees the new artwork.
        return wish.seal != record.seal and not any(f in record.about for f in wish.wanted)
    return record.yes is None
