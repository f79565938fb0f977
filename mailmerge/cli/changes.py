"""How the commands bring an order up to date: questions about guests, and what has changed."""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import TYPE_CHECKING, Annotated, Any, TypeVar

import typer

from mailmerge.cli.common import watching
from mailmerge.findings import InputError, shown
from mailmerge.units import numbers_in_words

if TYPE_CHECKING:
    from mailmerge.deeds import Watch
    from mailmerge.deeds.making import Changes
    from mailmerge.deeds.questions import Choices, Question

JobsOption = Annotated[int, typer.Option(min=0, help="Processes to use; 0 means all cores.")]
SameOption = Annotated[
    list[str] | None,
    typer.Option(metavar="ITEM=ROW", help="This item's guest stands in this row of the list now."),
]
GoneOption = Annotated[
    list[str] | None,
    typer.Option(
        metavar="ITEM", help="This item's guest is in the list no more; all: whoever is not sure."
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
        if not (item.isdecimal() and row.isdecimal()) or int(item) in pairs:
            raise InputError(f"--same {shown(text)}: want ITEM=ROW, such as 7=12, each item once")
        pairs[int(item)] = int(row)
    words = [text.strip().casefold() for text in gone or ()]
    for text in words:
        if not text.isdecimal() and text != "all":
            raise InputError(f"--gone {shown(text)}: want the number of an item, or all")
    return Choices(pairs, frozenset(int(t) for t in words if t != "all"), "all" in words)


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
        with watching("making items", as_json) as watch:
            result = deed(choices, watch)
        if not isinstance(result, Question):
            return result
        if as_json or not (sys.stdin.isatty() and sys.stderr.isatty()):
            raise InputError(result.refusal)
        choices = _asked(result)


def _asked(question: Question[AnswerT]) -> AnswerT:
    """Ask a question on the terminal until one of its options is typed; y is the only one's."""
    by_key = {option.key: option.answer for option in question.options}
    *places, left = question.options
    if len(places) == 1:
        by_key |= dict.fromkeys(("y", "yes"), places[0].answer)
    by_key["no"] = left.answer
    keys = ", ".join(option.key for option in places)
    wanted = "y for yes" if len(places) == 1 else f"the row ({keys})"
    typer.echo(f"\n{question.words}", err=True)
    while True:
        try:
            said = typer.prompt(f"{wanted}, or {left.key} if {left.words}", err=True)
        except typer.Abort:
            typer.echo("\nNothing was changed.", err=True)
            raise
        if (said := said.strip().casefold()) in by_key:
            return by_key[said]
        typer.echo(f"Want {wanted}, or {left.key}.", err=True)


def say_if_changed(changes: Changes) -> None:
    """Print what a merge did to an order, if it did anything."""
    if changes.new or changes.changed or changes.gone or changes.mended or changes.found:
        say_changes(changes)


def say_changes(changes: Changes) -> None:
    """Print what a merge did to an order, and how guests were found where that is not plain."""
    parts = [
        f"{len(numbers)} {word} ({numbers_in_words(numbers)})" if numbers else f"0 {word}"
        for word, numbers in (
            ("new", changes.new), ("changed", changes.changed), ("gone", changes.gone),
        )
    ]  # fmt: skip
    typer.echo(f"since the last merge: {', '.join(parts)}, {changes.as_before} as before")
    _say_matched(changes)
    _say_found(changes)
    if changes.mended:
        typer.echo(
            f"  made again, because their files had been changed or removed: "
            f"{numbers_in_words(changes.mended)}"
        )
    gone = [number for number in changes.withdrawn if number in changes.gone]
    if gone:
        typer.echo(f"  taken out of to-engrave, no longer in the list: {numbers_in_words(gone)}")
    if again := [number for number in changes.withdrawn if number not in gone]:
        typer.echo(
            f"  taken out of to-engrave, they need another release: {numbers_in_words(again)}"
        )
    if changes.engraved:
        typer.echo(
            f"  engraved already, so these cups are not what the list says now: "
            f"{numbers_in_words(changes.engraved)}"
        )


def _say_matched(changes: Changes) -> None:
    for each in changes.matched:
        was, now = (
            ", ".join(shown(fields[f])[1:-1] for f in ("name", "role") if fields.get(f))
            for fields in (each.known.fields, each.found.fields)
        )
        numbers = ", ".join(map(str, each.known.items))
        typer.echo(f"  item {numbers}: found in row {each.found.row} by {each.how}: {was} -> {now}")
    for row, correction in changes.set_aside:
        typer.echo(
            f"  row {row}: the correction {shown(correction.text)} was made for "
            f"{shown(correction.was)}; the list says something else now, and that is taken"
        )


_MOST = 12
"""Findings that are told one by one."""


def _say_found(changes: Changes) -> None:
    """Print what is found now about items that are as before: a newer program sees more."""
    for number, finding in changes.found[:_MOST]:
        typer.echo(
            f"  new since the last merge: item {number}: {finding.severity}: {finding.message}"
        )
    if (more := len(changes.found) - _MOST) > 0:
        typer.echo(f"  and {more} more; mailmerge check lists them all")


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
        "found": [
            {"item": number, "severity": f.severity, "code": f.code, "message": f.message}
            for number, f in changes.found
        ],
        "matched": [
            {"items": list(m.known.items), "row": m.found.row, "how": m.how}
            for m in changes.matched
        ],
    }
