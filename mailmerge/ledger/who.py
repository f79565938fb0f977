"""Guests on record, rows of a list, and what is to be asked or was said about who is who.

Plain values: :mod:`~mailmerge.ledger.matching` finds who is who.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from mailmerge.findings import InputError
from mailmerge.ledger import words

_ASKED_AT_ONCE = 12


@dataclass(frozen=True, slots=True)
class Known:
    """A guest as the last merge left it."""

    guest: int
    row: int
    fields: Mapping[str, str]
    """The list's own texts, not what has been corrected since."""
    items: tuple[int, ...]
    gone: bool
    is_made: bool = False
    """Whether a cup of theirs was released or engraved."""
    is_corrected: bool = False
    """Whether a text of theirs was corrected."""
    said: str = ""
    """What the client has said last about a cup of theirs: ``yes``, ``change``, or nothing."""

    @property
    def is_at_stake(self) -> bool:
        """Whether a wrong match would do more than give a number to somebody else."""
        return self.is_made or self.is_corrected or bool(self.said)

    @property
    def mark(self) -> tuple[bool, bool, str]:
        """What tells guests apart whose rows say the very same."""
        return self.is_made, self.is_corrected, self.said


@dataclass(frozen=True, slots=True)
class Found:
    """A row of the list as it is now."""

    row: int
    fields: Mapping[str, str]
    amiss: str = ""
    """What stops the row from being anybody's, in words, where a question is about it."""


@dataclass(frozen=True, slots=True)
class Match:
    """A row and the guest that it is, and how one can tell."""

    known: Known
    found: Found
    how: str


@dataclass(frozen=True, slots=True)
class Question:
    """A guest who may be in one of several rows, or in none."""

    known: Known
    rows: tuple[Found, ...]

    def __str__(self) -> str:
        rows = [(found.row, found.fields, found.amiss) for found in self.rows[:4]]
        return words.who_is_where(self.known.items, self.known.fields, rows)


class Unsure(InputError):
    """It cannot be told for sure who is who; ``questions`` holds what to ask."""

    def __init__(self, questions: Sequence[Question]) -> None:
        self.questions = tuple(questions)
        asked, more = questions[:_ASKED_AT_ONCE], len(questions) - _ASKED_AT_ONCE
        first = questions[0]
        super().__init__(words.unsure(asked, more, first.known.items[0], first.rows[0].row))


@dataclass(frozen=True)
class Choices:
    """What the maker has said about questions that were asked."""

    same: Mapping[int, int] = field(default_factory=dict)
    """Row by item."""
    gone: frozenset[int] = frozenset()
    """Items whose guests are in the list no more."""
    unsure_are_gone: bool = False


NO_CHOICES = Choices()


@dataclass(frozen=True)
class Matching:
    """Everybody's place: who stayed, which rows are new, who is gone."""

    stayed: tuple[Match, ...]
    new: tuple[Found, ...]
    gone: tuple[Known, ...]
