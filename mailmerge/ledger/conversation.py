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
        A name. After the name of somebody who is asked, a comma, semicolon or bracket may say how:
        "Anna Reed, by phone".
    people
        The names of those who are asked.

    Returns
    -------
    str
        One of ``people`` where it is that name, else the whole of it without its case; ``""`` for
        nobody.
    """
    plain = _plain(said_by)
    named = {_plain(name): name for name in people}
    for begin in sorted(named, key=len, reverse=True):
        if plain == begin or (
            plain.startswith(begin) and re.match(r" ?[,;(]", plain[len(begin) :])
        ):
            return named[begin]
    return plain


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

    def is_later_than(self, other: Answer) -> bool:
        """Whether it is sure that this was said after another answer.

        What answers a pack was said after it was made, and perhaps at once.
        """
        if self.pack:
            return self.pack > (other.pack or other.after)
        return other.number < self.number or 0 < other.pack <= self.after


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
        person takes it back after having seen it on record (in a later pack, or in a later saving
        of the same page), or until the maker decides. Nobody else's yes closes it, and no word
        that may be older does. The new text waits for its own yes: see :attr:`yeses`.
        """
        return tuple(
            a for a in self.answers
            if a.verdict == "change" and not self._is_met(a) and self._holds(a)
        )  # fmt: skip

    def _is_met(self, objection: Answer) -> bool:
        return _differ(objection, self.about, objection.about)

    def _holds(self, objection: Answer) -> bool:
        """Whether neither its own person nor the maker has closed an objection."""
        if objection.is_overtaken:
            return False
        if any(objection.number <= decision.up_to for decision in self.decisions):
            return False
        return not any(self._takes_back(later, objection) for later in self.answers)

    def _takes_back(self, later: Answer, objection: Answer) -> bool:
        """Whether a word of the same person takes the place of an objection that it knew."""
        who = self.who(objection)
        is_about_it = later.verdict == "yes" or (
            bool(objection.wanted) and objection.wanted.keys() <= later.wanted.keys()
        )
        return (
            who != ""
            and not later.is_overtaken
            and is_about_it
            and self.who(later) == who
            and later.pack > objection.after
            and not _differ(objection, later.about, objection.about)
        )

    @cached_property
    def yeses(self) -> tuple[Answer, ...]:
        """Return every yes that counts for the artwork as it is now, oldest first.

        A yes to other artwork retires those that may be older. So does an objection that is heard
        after them, unless the artwork is just what it asks for; and whoever objects to the
        artwork itself takes their own yes back, though the maker may decide against it.
        """
        if self.seal is None:
            return ()
        others = [
            a for a in self.answers
            if a.verdict == "yes" and a.seal != self.seal and self._counts(a)
        ]  # fmt: skip
        return tuple(
            a for a in self.answers
            if a.verdict == "yes" and a.seal == self.seal and not a.is_overtaken
            and self._counts(a)
            and all(a.is_later_than(other) for other in others)
            and not self._is_asked_again(a)
        )  # fmt: skip

    def _is_asked_again(self, yes: Answer) -> bool:
        return any(
            self._speaks_against(o, yes)
            for o in self.answers
            if o.verdict == "change" and not o.is_overtaken
        )

    def _speaks_against(self, objection: Answer, yes: Answer) -> bool:
        if self._is_met(objection):
            is_against = self.asks_anew(objection)
        else:
            who = self.who(yes)
            is_against = who != "" and self.who(objection) == who
        is_answered = yes.number > objection.number and yes.is_later_than(objection)
        return is_against and not (is_answered and objection not in self.objections)

    def asks_anew(self, objection: Answer) -> bool:
        """Whether an objection to other artwork leaves open if this is what its person wants."""
        is_it = bool(objection.wanted) and all(
            self.about.get(field, text) == text for field, text in objection.wanted.items()
        )
        return not is_it and self._holds(objection)

    def has_moved_on(self, word: int) -> bool:
        """Whether, after a word, other artwork was confirmed or something else asked for.

        Then what was taken on without a yes at that time must be taken on anew.
        """
        return any(
            a.number > word
            and not a.is_overtaken
            and (
                a.seal != self.seal and self._counts(a) if a.verdict == "yes"
                else self._is_met(a) and self.asks_anew(a)
            )
            for a in self.answers
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
