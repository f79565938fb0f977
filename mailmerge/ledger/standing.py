"""Where an item stands: the rules of release, as functions of what is on record.

They are the heart of the order. Nothing else decides whether a cup may be engraved.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property

from mailmerge.items import Entry


class Standing(StrEnum):
    """Where an item stands, in the order of its way through the workshop."""

    WAITING = "waiting"
    """For the client's answer to the artwork as it is now."""
    TO_CHANGE = "to change"
    """The client wants another text."""
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


@dataclass(frozen=True, slots=True)
class Answer:
    """What the client, or whoever speaks for them, said about an item."""

    seal: str
    """Of the artwork that was seen."""
    verdict: str
    """``yes`` or ``change``."""
    words: str
    wanted: Mapping[str, str]
    """New texts by field, as far as they are known."""
    about: Mapping[str, str]
    """The texts that were seen, by field."""
    said_by: str
    way: str
    """How it came in: ``file``, ``text``, ``workbook`` or ``confirm``."""
    said_at: str
    """When it was said, by the clock of whoever said it; ``""`` if that is not known."""
    at: str
    """When it was put on record."""


@dataclass(frozen=True, slots=True)
class Correction:
    """A text that takes the place of the list's, as long as the list says what it said then."""

    field: str
    was: str
    text: str
    words: str
    said_by: str
    at: str


@dataclass(frozen=True, slots=True)
class Event:
    """What became of an item: ``released``, ``withdrawn``, ``engraved`` or ``spoiled``."""

    what: str
    seal: str
    place: int | None
    reason: str
    at: str


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

    @cached_property
    def entry(self) -> Entry:
        """The item in ``report.json``."""
        return Entry.model_validate_json(self.report)

    @property
    def artwork(self) -> str:
        """The name of its artwork's file; ``""`` while it is stopped."""
        return self.entry.artwork or ""

    @property
    def artwork_digest(self) -> str:
        """The SHA-256 of that file, as it was made."""
        return self.digests.get(self.artwork, "")

    @property
    def name(self) -> str:
        """The guest's name, as it is engraved now."""
        return self.entry.name

    @property
    def wish(self) -> Answer | None:
        """What the client wants changed and nobody has changed yet.

        A wish is met when a text that it was about is another one now, and withdrawn by a later
        yes to the same texts. Other artwork of the same text leaves it open, and so does a
        change of another text, where it is known which one is wanted.
        """
        for answer in reversed(self.answers):
            if answer.verdict == "yes" and (answer.seal == self.seal or answer.about == self.about):
                return None
            if answer.verdict == "change" and not self._is_met(answer):
                return answer
        return None

    def _is_met(self, wish: Answer) -> bool:
        fields = wish.wanted or wish.about
        return any(self.about.get(f, wish.about.get(f)) != wish.about.get(f) for f in fields)

    @property
    def yes(self) -> Answer | None:
        """The client's yes to the artwork as it is now."""
        if self.wish:
            return None
        said = (a for a in reversed(self.answers) if a.verdict == "yes" and a.seal == self.seal)
        return next(said, None)

    @property
    def waived(self) -> Event | None:
        """The release of the artwork as it is now that somebody took on without a yes."""
        if self.wish:
            return None
        taken = (
            e for e in reversed(self.events)
            if e.what == "released" and e.reason and e.seal == self.seal
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
    def changed_since_engraved(self) -> bool:
        """Whether the cup that was engraved differs from the artwork as it is now."""
        return self.is_engraved and self.events[-1].seal != self.seal

    @property
    def standing(self) -> Standing:
        """Where the item stands."""
        last = self.events[-1] if self.events else None
        if self.is_engraved:
            return Standing.ENGRAVED
        if self.gone:
            return Standing.GONE
        if self.seal is None:
            return Standing.STOPPED
        if self.wish:
            return Standing.TO_CHANGE
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
    if wish := record.wish:
        # It is about something else than a text that is still there (a hand, a colour): whether it
        # is met, only the client can say who sees the new artwork.
        return wish.seal != record.seal and not any(f in record.about for f in wish.wanted)
    return record.yes is None
