"""How the commands bring an order up to date: questions about guests, and what has changed."""

from __future__ import annotations

import sys
from collections.abc import Callable
from itertools import islice
from typing import TYPE_CHECKING, Annotated, Any, TypeVar

import typer

from mailmerge.cli import words
from mailmerge.cli.common import watching
from mailmerge.findings import InputError, by_cause
from mailmerge.voice import is_noted_on_terminal

if TYPE_CHECKING:
    from mailmerge.deeds import Watch
    from mailmerge.deeds.making import Changes
    from mailmerge.deeds.questions import Choices, Question

JobsOption = Annotated[int, typer.Option(min=0, help="Processes to use; 0 means all cores.")]
SameOption = Annotated[
    list[str] | None,
    typer.Option(
        metavar="ITEM=ROW", help="The guest of this item now stands in this row of the list."
    ),
]
GoneOption = Annotated[
    list[str] | None,
    typer.Option(
        metavar="ITEM",
        help="The guest of this item is no longer in the list; all: every guest that is not found.",
    ),
]

AnswerT = TypeVar("AnswerT")
Result = TypeVar("Result")


def choices_of(same: list[str] | None, gone: list[str] | None) -> Choices:
    """Return what the options say about guests.

    Raises
    ------
    InputError
        An option is not of the wanted form.
    """
    from mailmerge.deeds.questions import Choices

    pairs: dict[int, int] = {}
    for text in same or ():
        item, _, row = text.partition("=")
        if not (_is_number(item) and _is_number(row)) or int(item) in pairs:
            raise InputError(words.bad_same(text))
        pairs[int(item)] = int(row)
    said = [text.strip().casefold() for text in gone or ()]
    for text in said:
        if not _is_number(text) and text != "all":
            raise InputError(words.bad_gone(text))
    return Choices(pairs, frozenset(int(t) for t in said if t != "all"), "all" in said)


def _is_number(text: str) -> bool:
    """Whether a text is the number of an item or a row, which have seven digits at most."""
    return text.isdecimal() and len(text) < 10


def settled(
    deed: Callable[[Choices, Watch], Result | Question[Choices]],
    choices: Choices,
    as_json: bool = False,
) -> Result:
    """Do a deed; where it asks who is who, ask on a terminal and do it again.

    Raises
    ------
    InputError
        There is no terminal to ask on.
    """
    from mailmerge.deeds.questions import Question

    while True:
        with watching(words.MAKING_ITEMS, as_json) as watch:
            result = deed(choices, watch)
        if not isinstance(result, Question):
            return result
        if as_json or not is_anybody_there():
            raise InputError(result.refusal)
        choices = asked(result)


def is_anybody_there() -> bool:
    """Whether there is a terminal to ask on."""
    return sys.stdin.isatty() and is_noted_on_terminal()


def asked(question: Question[AnswerT]) -> AnswerT:
    """Ask a question on the terminal until one of its options is typed; y is the only one's."""
    by_key = {option.key: option.answer for option in question.options}
    *places, left = question.options
    if len(places) == 1:
        by_key |= dict.fromkeys(("y", "yes"), places[0].answer)
    by_key["no"] = left.answer
    rows = [option.key for option in places]
    typer.echo(f"\n{question.words}", err=True)
    while True:
        said = typer.prompt(words.how_to_answer(rows, left.key, left.words), err=True)
        if (said := said.strip().casefold()) in by_key:
            return by_key[said]
        typer.echo(words.answer_again(rows, left.key), err=True)


def say_if_changed(changes: Changes) -> None:
    """Print what a merge did to an order, if it did anything."""
    if changes.new or changes.changed or changes.gone or changes.mended or changes.found:
        say_changes(changes)


def say_changes(changes: Changes) -> None:
    """Print what a merge did to an order, and how guests were found where that is not plain."""
    typer.echo(
        words.since_last_merge(changes.new, changes.changed, changes.gone, changes.as_before)
    )
    _say_matched(changes)
    _say_found(changes)
    if changes.mended:
        typer.echo(words.made_again(changes.mended))
    gone = [number for number in changes.withdrawn if number in changes.gone]
    if gone:
        typer.echo(words.taken_out_gone(gone))
    if again := [number for number in changes.withdrawn if number not in gone]:
        typer.echo(words.taken_out_changed(again))
    if changes.ask_again:
        typer.echo(words.ask_again(changes.ask_again))
    if changes.engraved:
        typer.echo(words.engraved_differently(changes.engraved))


def _say_matched(changes: Changes) -> None:
    for each in changes.matched:
        known, found = each.known, each.found
        typer.echo(words.found_in_row(known.items, found.row, each.how, known.fields, found.fields))
    for row, correction in changes.set_aside:
        typer.echo(words.correction_overtaken(row, correction.text, correction.was))


_MOST = 12
"""Findings that are told one by one."""


def _say_found(changes: Changes) -> None:
    """Print what is found now about items that are as before: a newer program sees more."""
    causes = by_cause((finding, number) for number, finding in changes.found)
    for finding, numbers in islice(causes.items(), _MOST):
        typer.echo(words.new_finding(numbers, finding))
    if (more := len(causes) - _MOST) > 0:
        typer.echo(words.more_findings(more))


def changes_entry(changes: Changes) -> dict[str, Any]:
    """Return what a merge did to an order, for programs."""
    return {
        "new": changes.new,
        "changed": changes.changed,
        "gone": changes.gone,
        "as_before": changes.as_before,
        "mended": changes.mended,
        "withdrawn": changes.withdrawn,
        "engraved": changes.engraved,
        "ask_again": changes.ask_again,
        "found": [
            {"item": number, "severity": f.severity, "code": f.code, "message": f.message}
            for number, f in changes.found
        ],
        "matched": [
            {"items": list(m.known.items), "row": m.found.row, "how": m.how}
            for m in changes.matched
        ],
    }
