"""How the commands bring an order up to date: questions about guests, and what has changed."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, TypeVar

import typer

from mailmerge.findings import InputError, shown
from mailmerge.units import numbers_in_words

if TYPE_CHECKING:
    from mailmerge.ledger.ledger import Ledger
    from mailmerge.ledger.matching import Choices, Question
    from mailmerge.ledger.recall import Recall
    from mailmerge.merge import Changes
    from mailmerge.orders import Order

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

Result = TypeVar("Result")


def choices_of(same: list[str] | None, gone: list[str] | None) -> Choices:
    """Return what the options say about guests.

    Raises
    ------
    InputError
        An option is not of the wanted form.
    """
    from mailmerge.ledger.matching import Choices

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


def settled_with(choices: Choices, as_json: bool, call: Callable[[Choices], Result]) -> Result:
    """Make a call; where it is not sure who is who, ask on a terminal and make it again.

    Raises
    ------
    Unsure
        There is no terminal to ask on.
    """
    from mailmerge.ledger.matching import Unsure

    while True:
        try:
            return call(choices)
        except Unsure as unsure:
            if as_json or not (sys.stdin.isatty() and sys.stderr.isatty()):
                raise
            choices = _asked(unsure.questions[0], choices)


def settled_choices(order: Order, ledger: Ledger, choices: Choices, as_json: bool) -> Choices:
    """Ask who is who where that is not sure, before any work; return what was said."""
    from mailmerge.ledger.recall import recall

    def tried(said: Choices) -> Choices:
        recall(order, ledger, said)
        return said

    return settled_with(choices, as_json, tried)


def _asked(question: Question, choices: Choices) -> Choices:
    from mailmerge.ledger.matching import Choices

    rows = [found.row for found in question.rows]
    number = question.known.items[0]
    wanted = "y for yes" if len(rows) == 1 else f"the row ({', '.join(map(str, rows))})"
    typer.echo(f"\nThe list has changed: {question}", err=True)
    while True:
        try:
            said = typer.prompt(f"{wanted}, or n if this guest is in the list no more", err=True)
        except typer.Abort:
            typer.echo("\nNothing was changed.", err=True)
            raise
        said = said.strip().casefold()
        if said in ("n", "no"):
            return Choices(choices.same, choices.gone | {number}, choices.unsure_are_gone)
        if said in ("y", "yes") and len(rows) == 1:
            said = str(rows[0])
        if said.isdecimal() and int(said) in rows:
            same = {**choices.same, number: int(said)}
            return Choices(same, choices.gone, choices.unsure_are_gone)
        typer.echo(f"Want {wanted}, or n.", err=True)


def recalled(path: Path, order: Order, choices: Choices) -> Recall | None:
    """Return an order with its memory laid over it; None for a bare list or a first merge."""
    from mailmerge.cli.common import is_order
    from mailmerge.ledger.ledger import LEDGER, open_ledger
    from mailmerge.ledger.recall import recall

    if not is_order(path) or not (order.design.folder / LEDGER).exists():
        return None
    with open_ledger(order.design.folder) as ledger:
        return recall(order, ledger, choices)


def say_changes(changes: Changes) -> None:
    """Print what a merge did to an order, and how guests were found where that is not plain."""
    parts = [
        f"{len(numbers)} {word} ({numbers_in_words(numbers)})" if numbers else f"0 {word}"
        for word, numbers in (
            ("new", changes.new), ("changed", changes.changed), ("gone", changes.gone),
        )
    ]  # fmt: skip
    typer.echo(f"since the last merge: {', '.join(parts)}, {changes.as_before} as before")
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
        "matched": [
            {"items": list(m.known.items), "row": m.found.row, "how": m.how}
            for m in changes.matched
        ],
    }
