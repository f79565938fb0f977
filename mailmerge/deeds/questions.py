"""What a deed must know before it can go on, with the choices that there are."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Generic, TypeVar

from mailmerge.deeds import words
from mailmerge.ledger.who import NO_CHOICES, Choices, Question as WhoIsWho, Unsure

__all__ = ["NO_CHOICES", "Choices", "Option", "Question", "or_question"]

AnswerT = TypeVar("AnswerT")
Result = TypeVar("Result")


@dataclass(frozen=True, slots=True)
class Option(Generic[AnswerT]):
    """One way to answer a question."""

    key: str
    """Short, to be typed."""
    words: str
    answer: AnswerT
    """What the deed is called with again."""


@dataclass(frozen=True, slots=True)
class Question(Generic[AnswerT]):
    """A question and its choices; nothing has been done yet."""

    words: str
    options: tuple[Option[AnswerT], ...]
    refusal: str
    """What to say where nobody can be asked: everything that is open, and how to answer it."""


def or_question(call: Callable[[], Result], choices: Choices) -> Result | Question[Choices]:
    """Make a call; where it is not sure who is who, return the first question instead.

    Parameters
    ----------
    choices
        What has been said already; the options add to it.
    """
    try:
        return call()
    except Unsure as unsure:
        first = unsure.questions[0]
        return Question(words.who_is_who(first), tuple(_options(first, choices)), str(unsure))


def _options(question: WhoIsWho, choices: Choices) -> list[Option[Choices]]:
    number = question.known.items[0]
    options = [
        Option(
            str(found.row),
            words.in_row(found.row, found.fields),
            replace(choices, same={**choices.same, number: found.row}),
        )
        for found in question.rows
    ]
    left = replace(choices, gone=choices.gone | {number})
    return [*options, Option("n", words.no_longer_in_list(question.known.fields), left)]
