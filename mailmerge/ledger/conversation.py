"""What people have said about an item, and what of it counts: rules of release, as functions.

Every word is on record; nothing here throws one away. Clocks of other devices sort nothing: a word
is later than another where it answers a later proof pack, where its page says so (which counts its
own savings), or where it came in later.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property


def person_of(said_by: str, people: tuple[str, ...] = ()) -> str:
    """Return who it is that said something: what words of one person have in common.

    Parameters
    ----------
    said_by
        A name; what follows a comma, a semicolon or a bracket ("Anna Reed, by phone") says how.
    people
        The names of those who are asked.

    Returns
    -------
    str
        One of ``people`` where the words begin with that name, else the name without its case;
        ``""`` for nobody.
    """
    plain = _plain(said_by)
    for name in people:
        if re.match(rf"{re.escape(_plain(name))}(?!\w)", plain):
            return name
    return re.split(r"[,;(]", plain, maxsplit=1)[0].strip()


def _plain(name: str) -> str:
    return " ".join(unicodedata.normalize("NFC", name).casefold().split())


@dataclass(frozen=True, slots=True)
class Asked:
    """Whose yes an order wants."""

    people: tuple[str, ...] = ()
    """Empty: whoever speaks for the client."""
    all: bool = False
    """Whether each of them must say yes; else one of them is enough."""


ANYBODY = Asked()


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
    number: int = 0
    """In the order in which words came in."""
    pack: int = 0
    """The number of the proof pack that it answers; 0 for a word that came another way."""
    after: int = 0
    """The number of the newest proof pack when it came in."""
    is_overtaken: bool = False
    """Whether a later saving of the same page takes its place."""
    was_current: bool = True
    """Whether, when it came in, the artwork was still the one that was seen."""

    @property
    def rank(self) -> tuple[int, int]:
        """Return what sorts yeses: the pack, and in it the order in which they came.

        One that came too late, when the artwork had changed already, is the earliest of its pack.
        """
        return self.pack or self.after, self.number if self.was_current else 0


@dataclass(frozen=True, slots=True)
class Decision:
    """The maker's word over what is said against an item."""

    up_to: int
    """The number of the last word that it is about."""
    said_by: str
    reason: str
    at: str


@dataclass(frozen=True)
class Conversation:
    """What was said about an item, against its artwork as it is now."""

    answers: tuple[Answer, ...]
    """Oldest first."""
    decisions: tuple[Decision, ...]
    seal: str | None
    """Of the artwork as it is now; None while there is none."""
    about: Mapping[str, str]
    """The texts that the artwork engraves now, by field."""
    asked: Asked = ANYBODY

    def who(self, answer: Answer) -> str:
        """Return who it is that gave an answer; see :func:`person_of`."""
        return person_of(answer.said_by, self.asked.people)

    @cached_property
    def objections(self) -> tuple[Answer, ...]:
        """What people want changed and what nothing has closed, oldest first.

        An objection stays open until the text that it is about is another one, until the same
        person says something else after having seen it on record (in a later pack, or in a later
        saving of the same page), or until the maker decides. Nobody else's yes closes it, and no
        word that may be older does.
        """
        return tuple(a for a in self.answers if a.verdict == "change" and self._is_open(a))

    def _is_open(self, objection: Answer) -> bool:
        if objection.is_overtaken or self._is_met(objection):
            return False
        if any(objection.number <= decision.up_to for decision in self.decisions):
            return False
        return not any(self._takes_back(later, objection) for later in self.answers)

    def _is_met(self, objection: Answer) -> bool:
        return _differ(objection, self.about, objection.about)

    def _takes_back(self, later: Answer, objection: Answer) -> bool:
        """Whether a word of the same person takes the place of an objection that it knew."""
        who = self.who(objection)
        return (
            who != ""
            and self.who(later) == who
            and later.pack > objection.after
            and not _differ(objection, later.about, objection.about)
        )

    @cached_property
    def yeses(self) -> tuple[Answer, ...]:
        """Return every yes that counts for the artwork as it is now, oldest first.

        A yes to other artwork retires those before it. Somebody who objects has not said yes,
        whatever came before or at the same time.
        """
        if self.seal is None:
            return ()
        said = [a for a in self.answers if a.verdict == "yes"]
        others = max((a.rank for a in said if a.seal != self.seal), default=(-1, 0))
        against = {self.who(objection) for objection in self.objections} - {""}
        return tuple(
            a for a in said
            if a.seal == self.seal and not a.is_overtaken and a.rank > others
            and self.who(a) not in against and self._counts(a)
        )  # fmt: skip

    def _counts(self, answer: Answer) -> bool:
        return not self.asked.people or self.who(answer) in self.asked.people

    @property
    def missing(self) -> tuple[str, ...]:
        """Return whose yes is still wanted, of those whom the order names."""
        said = {self.who(a) for a in self.yeses}
        if said and not self.asked.all:
            return ()
        return tuple(name for name in self.asked.people if name not in said)

    @property
    def has_yes(self) -> bool:
        """Whether the artwork as it is now has the yes that is wanted, and nothing against it."""
        return bool(self.yeses) and not self.objections and not self.missing

    @property
    def disagree(self) -> bool:
        """Whether people say different things about the artwork as it is now."""
        wishes = {str(sorted(o.wanted.items()) or _plain(o.words)) for o in self.objections}
        speakers = {self.who(o) for o in self.objections}
        return bool(self.objections) and (
            bool(self.yeses) or (len(wishes) > 1 and len(speakers) > 1)
        )

    @property
    def opinions(self) -> tuple[Answer, ...]:
        """Return what counts for and against the artwork as it is now, oldest first."""
        return tuple(sorted((*self.objections, *self.yeses), key=lambda a: a.number))


def _differ(objection: Answer, texts: Mapping[str, str], others: Mapping[str, str]) -> bool:
    """Whether the texts that an objection is about differ; a text that is gone does not."""
    fields = objection.wanted or objection.about
    return any(texts.get(f, others.get(f)) != others.get(f) for f in fields)
