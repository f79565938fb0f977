"""Commands that find settings and keep them: recipes, the test card."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, TypeVar

import typer

from mailmerge.cli import words
from mailmerge.cli.app import WORKSHOP, command
from mailmerge.cli.common import JsonOption, PaperOption, print_table
from mailmerge.findings import InputError
from mailmerge.units import parse_length, parse_values

if TYPE_CHECKING:
    from mailmerge.deeds.settings import Kept, Settings

Value = TypeVar("Value")


DropOption = Annotated[str, typer.Option("--drop", help="Take this one out of the shop.")]
RestoreOption = Annotated[
    str, typer.Option("--restore", help="Put this one back that was taken out.")
]


@command(WORKSHOP, "recipes")
def recipes(
    as_json: JsonOption = False, drop: DropOption = "", restore: RestoreOption = ""
) -> None:
    """List your recipes, and the starting points of the library.

    One that was taken out counts no more. It can be put back.
    """
    from mailmerge.deeds import cards, settings

    if drop or restore:
        _moved(drop, cards.drop_recipe, restore, cards.restore_recipe)
        return
    known = settings.recipes()
    rows = [
        {
            "name": name,
            "machine": recipe.machine,
            "coat": recipe.coat,
            "blank": known.blank_of(recipe) or "any",
            **_columns(recipe),
            "date": str(recipe.date),
            "holds": "yes" if holds else "",
            "outcome": recipe.outcome,
        }
        for name, recipe, holds in known.kept
    ]
    rows += [
        {
            "name": name,
            "machine": f"any {start.beam}",
            "coat": "any",
            "blank": "any",
            **_columns(start),
            "date": "–",
            "holds": "",
            "outcome": words.starting_point(start.name),
        }
        for name, start in known.starting_points.items()
    ]
    print_table(rows, as_json, words.about_recipes(known.folder))


def _moved(
    drop: str, dropping: Callable[[str], None], restore: str, restoring: Callable[[str], None]
) -> None:
    if drop:
        dropping(drop)
        typer.echo(words.dropped(drop))
    if restore:
        restoring(restore)
        typer.echo(words.restored(restore))


@command(WORKSHOP, "test-cards", name="test-cards")
def shop_cards(drop: DropOption = "", restore: RestoreOption = "") -> None:
    """List the test cards that the shop keeps, such as those of the desk."""
    from mailmerge.deeds import cards

    if drop or restore:
        _moved(drop, cards.drop_card, restore, cards.restore_card)
        return
    rows = [
        {
            "name": card.name,
            "machine": card.machine,
            "coat": card.coat,
            "blank": card.blank,
            "cells": str(sum(map(len, card.rows))),
            "kept": ", ".join(cell.name for cell in card.kept) or "–",
            "folder": str(card.folder),
        }
        for card in cards.cards()
    ]
    if rows:
        print_table(rows, False)
    else:
        typer.echo(words.NO_CARDS)


def _columns(settings: Settings) -> dict[str, str]:
    return {
        "power %": f"{settings.power:f}",
        "speed mm/s": f"{settings.speed:g}",
        "passes": str(settings.passes),
        "interval_mm": f"{settings.interval:g}",
    }


@command(
    WORKSHOP,
    "test-card --blank handled-tumbler-40oz --coat burgundy --power 20..80x5 --speed 100..300x4",
    name="test-card",
)
def card_of_settings(
    blank: Annotated[str, typer.Option(help="A blank of the library, or a .toml file.")],
    power: Annotated[str, typer.Option(help="In %: 20..80x5 for five values, or 20,40,60.")],
    speed: Annotated[str, typer.Option(help="In mm/s: 100..300x4 for four values, or 100,200.")],
    machine: Annotated[
        str | None,
        typer.Option(help="A machine of the library, or a .toml file [default: the shop's]."),
    ] = None,
    passes: Annotated[str, typer.Option(help="How many passes: 1..3x3, or 1,2.")] = "1",
    interval: Annotated[
        str, typer.Option(help="From line to line [default: the beam's spot].")
    ] = "",
    coat: Annotated[str | None, typer.Option(help="The blank's coat [default: its first].")] = None,
    face: Annotated[
        str, typer.Option(help="Which face of the wall to put the card on.")
    ] = "opposite",
    out: Annotated[Path, typer.Option(help="Folder to write.")] = Path("test-card"),
    paper: PaperOption = None,
) -> None:
    """Write a test card that finds the settings for a coat.

    The card is a grid of settings for a test piece. Its key says which cell is which.
    """
    from mailmerge.deeds import settings

    written = settings.make_test_card(
        out,
        blank,
        _read("--power", power, parse_values),
        _read("--speed", speed, parse_values),
        _read("--passes", passes, parse_values),
        _read("--interval", interval, parse_length) if interval else None,
        coat,
        machine,
        face,
        paper,
    )
    card = written.card
    for finding in written.findings:
        typer.echo(words.card_finding(finding))
    for file in written.files:
        paper_in_words = written.paper.in_words if file.suffix == ".pdf" else ""
        typer.echo(words.written_file(file, paper_in_words))
    what = (card.blank.name, card.coat.name, card.machine.name, written.machine_from)
    typer.echo(words.card(len(card.cells), card.columns, card.rows, *what))
    typer.echo(words.card_labels(card.safe.in_words, card.origin))
    typer.echo(words.keep_recipe_next(out))


def _read(option: str, text: str, reader: Callable[[str], Value]) -> Value:
    try:
        return reader(text)
    except ValueError as error:
        raise InputError(words.bad_option(option, error)) from None


@command(
    WORKSHOP,
    'keep-recipe test-card C4 --outcome "even, no halo"',
    "keep-recipe --coat navy --blank any --power 45 --speed 220 --passes 1 --interval 0.08 "
    '--outcome "clean"',
    name="keep-recipe",
)
def keep_recipe(
    card: Annotated[
        Path | None, typer.Argument(help="A test card's folder, or its key.csv.")
    ] = None,
    cell: Annotated[str | None, typer.Argument(help="The cell that came out best: C4.")] = None,
    outcome: Annotated[str, typer.Option(help="How it came out.")] = "",
    remarks: Annotated[str, typer.Option(help="What else is worth knowing.")] = "",
    machine: Annotated[
        str | None, typer.Option(help="Without a card: a machine of the library, or a .toml file.")
    ] = None,
    coat: Annotated[str, typer.Option(help="Without a card: the coat's name.")] = "",
    colour: Annotated[str | None, typer.Option(help="Without a card: its colour.")] = None,
    blank: Annotated[
        str | None,
        typer.Option(help="Without a card: the blank it was tried on; any if it does not matter."),
    ] = None,
    power: Annotated[str, typer.Option(help="Without a card: in %.")] = "",
    speed: Annotated[str, typer.Option(help="Without a card: in mm/s.")] = "",
    passes: Annotated[str, typer.Option(help="Without a card: how many passes.")] = "",
    interval: Annotated[str, typer.Option(help="Without a card: from line to line.")] = "",
    date: Annotated[str, typer.Option(help="When it was tried [default: today].")] = "",
) -> None:
    """Keep settings that came out well.

    Name the best cell of a test card, or type the settings by hand.
    """
    from mailmerge.deeds import settings

    by_hand = {"power": power, "speed": speed, "passes": passes, "interval": interval}
    day = _day(date)
    if card is not None:
        _refuse_beside_a_card({**by_hand, "coat": coat}, machine or colour or blank)
        if cell is None:
            raise InputError(words.CELL_MISSING)
        kept = settings.keep_cell(card, cell, outcome, remarks, day)
    else:
        given = {**by_hand, "coat": coat, "blank": blank}
        if lacking := [f"--{key}" for key, value in given.items() if not value]:
            raise InputError(words.recipe_incomplete(lacking))
        tried_on = None if (blank or "").casefold() == "any" else blank
        kept = settings.keep_recipe(by_hand, coat, tried_on, outcome, machine, colour, remarks, day)
    _say_kept(kept)


def _refuse_beside_a_card(by_hand: dict[str, str], rest: str | None) -> None:
    if used := [f"--{key}" for key, value in by_hand.items() if value]:
        raise InputError(words.cell_says_it(used))
    if rest:
        raise InputError(words.CELL_SAYS_THE_REST)


def _day(text: str) -> dt.date | None:
    try:
        return dt.date.fromisoformat(text) if text else None
    except ValueError:
        raise InputError(words.bad_day(text)) from None


def _say_kept(kept: Kept) -> None:
    recipe = kept.recipe
    typer.echo(words.recipe_kept(recipe.coat, recipe.machine, recipe.in_words))
    typer.echo(words.written_file(kept.file))
    if kept.doubt:
        typer.echo(words.doubt(kept.doubt))
