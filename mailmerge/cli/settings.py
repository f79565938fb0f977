"""Commands that find settings and keep them: recipes, the test card."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mailmerge.cli.app import app
from mailmerge.cli.common import JsonOption, PaperOption, paper_of, print_table
from mailmerge.findings import InputError, nearest, shown

if TYPE_CHECKING:
    from mailmerge.workshop.settings.recipes import Settings
    from mailmerge.workshop.shop.shop import Shop

CARD = "test-card.svg"


@app.command()
def recipes(as_json: JsonOption = False) -> None:
    """List the shop's own recipes, and the library's starting points."""
    from mailmerge.workshop.settings.recipes import kept_recipes, recipes_that_hold, starting_points
    from mailmerge.workshop.shop.shop import RECIPES, open_shop

    shop = open_shop()
    holding = recipes_that_hold(shop)
    rows = []
    for path, recipe in reversed(kept_recipes(shop)):
        rows.append(
            {
                "name": path.stem,
                "machine": recipe.machine,
                "coat": recipe.coat,
                "blank": recipe.blank or "any",
                **_columns(recipe),
                "date": str(recipe.date),
                "holds": "yes" if path in holding else "",
                "outcome": recipe.outcome,
            }
        )
    for name, start in starting_points().items():
        rows.append(
            {
                "name": name,
                "machine": f"any {start.beam}",
                "coat": "any",
                "blank": "any",
                **_columns(start),
                "date": "–",
                "holds": "",
                "outcome": f"a starting point, not tried: {start.name}",
            }
        )
    print_table(
        rows,
        as_json,
        "Starting points are for a test card and for nothing else: coats differ, and so do "
        f"machines. The shop's own recipes lie in {shop.folder / RECIPES}; the newest for a "
        "machine and a coat holds.",
    )


def _columns(settings: Settings) -> dict[str, str]:
    return {
        "power %": f"{settings.power:f}",
        "speed mm/s": f"{settings.speed:g}",
        "passes": str(settings.passes),
        "interval_mm": f"{settings.interval:g}",
    }


@app.command("test-card")
def card_of_settings(
    blank: Annotated[str, typer.Option(help="A blank of the library, or a .toml file.")],
    power: Annotated[str, typer.Option(help="In %: 20..80x5 for five values, or 20,40,60.")],
    speed: Annotated[str, typer.Option(help="In mm/s, likewise.")],
    machine: Annotated[
        str | None,
        typer.Option(help="A machine of the library, or a .toml file [default: the shop's]."),
    ] = None,
    passes: Annotated[str, typer.Option(help="Likewise.")] = "1",
    interval: Annotated[
        str, typer.Option(help="From line to line [default: the beam's spot].")
    ] = "",
    coat: Annotated[str | None, typer.Option(help="The blank's coat [default: its first].")] = None,
    face: Annotated[str, typer.Option(help="Where on the wall.")] = "opposite",
    out: Annotated[Path, typer.Option(help="Folder to write.")] = Path("test-card"),
    paper: PaperOption = None,
) -> None:
    """Write artwork for a test piece: a grid of settings, with a key that says which is which."""
    from mailmerge.blanks import Blank, angle_of, face_of
    from mailmerge.files import write_file
    from mailmerge.findings import Severity
    from mailmerge.guests import Hand
    from mailmerge.machines import Machine
    from mailmerge.shelves import load
    from mailmerge.units import parse_length
    from mailmerge.workshop.papers.card_key import KEY_PAPER, key_paper
    from mailmerge.workshop.settings.card import (
        card_for,
        card_svg,
        check_card,
        grid_of,
        safe_settings,
        values_of,
    )
    from mailmerge.workshop.settings.key import KEY, key_csv
    from mailmerge.workshop.shop.shop import open_shop

    shop = open_shop()
    cup = load(Blank, "blanks", blank, Path())
    beam = load(Machine, "machines", machine or shop.named("machines"), Path())
    chosen = cup.coat_named(coat) if coat else cup.coat[0]
    try:
        apart = parse_length(interval) if interval else beam.spot
        place = face_of(cup, angle_of(face, Hand.RIGHT), 120)
    except ValueError as error:
        raise InputError(f"{'--interval' if interval else '--face'}: {error}") from None
    across = values_of(power, "--power")
    down, times = values_of(speed, "--speed"), values_of(passes, "--passes")
    grid = grid_of(across, down, times, apart)
    safe, where = safe_settings(shop, beam, chosen.name, cup.name, grid)
    card = card_for(cup, chosen, beam, place, grid, len(across), safe, where)
    for finding in check_card(card):
        if finding.severity is Severity.STOP:
            raise InputError(f"{finding.message}. {finding.advice}")
        typer.echo(f"{finding.severity}: {finding.message}. {finding.advice}")
    if (out / KEY).exists():
        raise InputError(
            f"{out / KEY}: is the key of a card already, perhaps of one that was engraved; it is "
            f"left as it is, want another folder (--out)"
        )
    size, words = paper_of(shop, paper)
    for name, data in (
        (CARD, card_svg(card)),
        (KEY, key_csv(card)),
        (KEY_PAPER, key_paper(card, size, dt.datetime.now().astimezone())),
    ):
        write_file(out / name, data)
        typer.echo(f"  {out / name}{f' ({words})' if name == KEY_PAPER else ''}")
    typer.echo(
        f"{len(card.cells)} cells, {card.columns} across and {card.rows} down, on {cup.name}, "
        f"{chosen.name}, for {beam.name}{'' if machine else _from_shop(shop)}"
    )
    typer.echo(f"labels, in black: {safe.in_words} ({where})")
    typer.echo(f"when you know the best cell: mailmerge keep-recipe {out} CELL --outcome WORDS")


def _from_shop(shop: Shop) -> str:
    return f" ({shop.source('shop.machine')})"


@app.command("keep-recipe")
def keep_recipe(
    card: Annotated[
        Path | None, typer.Argument(help="A test card's folder, or its key.csv.")
    ] = None,
    cell: Annotated[str | None, typer.Argument(help="The cell that came out best: C4.")] = None,
    outcome: Annotated[str, typer.Option(help="How it came out.")] = "",
    remarks: Annotated[str, typer.Option(help="What else is to be known.")] = "",
    machine: Annotated[
        str | None, typer.Option(help="Without a card: a machine of the library, or a .toml file.")
    ] = None,
    coat: Annotated[str, typer.Option(help="Without a card: the coat's name.")] = "",
    colour: Annotated[str | None, typer.Option(help="Without a card: its colour.")] = None,
    blank: Annotated[
        str | None,
        typer.Option(help="Without a card: the blank it was tried on; any: it does not matter."),
    ] = None,
    power: Annotated[str, typer.Option(help="Without a card: in %.")] = "",
    speed: Annotated[str, typer.Option(help="Without a card: in mm/s.")] = "",
    passes: Annotated[str, typer.Option(help="Without a card.")] = "",
    interval: Annotated[str, typer.Option(help="Without a card: from line to line.")] = "",
    date: Annotated[str, typer.Option(help="When it was tried [default: today].")] = "",
) -> None:
    """Keep settings that came out well, in the shop's folder: a cell of a test card, or by hand."""
    from mailmerge.blanks import Blank
    from mailmerge.machines import Machine
    from mailmerge.shelves import load, validated
    from mailmerge.workshop.settings.key import read_cell
    from mailmerge.workshop.settings.recipes import Recipe, coats_known, keep
    from mailmerge.workshop.shop.shop import open_shop

    by_hand = {
        "coat": coat, "power": power, "speed": speed, "passes": passes, "interval": interval,
    }  # fmt: skip
    if card is not None:
        if used := [f"--{key}" for key, value in by_hand.items() if value]:
            raise InputError(f"{', '.join(used)}: the card's cell says it; want one or the other")
        if machine or colour or blank:
            raise InputError("--machine, --colour and --blank: the card's cell says it")
        if cell is None:
            raise InputError("want the name of the cell that came out best, such as C4")
        won = read_cell(card, cell)
        values: dict[str, object] = {
            "machine": won.machine, "coat": won.coat, "colour": won.colour, "blank": won.blank,
            **won.settings.model_dump(),
        }  # fmt: skip
    else:
        given = {**by_hand, "blank": blank}
        if lacking := [f"--{key}" for key, value in given.items() if not value]:
            raise InputError(
                f"want a test card's folder and a cell, or all of it by hand; missing: "
                f"{', '.join(lacking)}"
            )
        wanted = machine or open_shop().named("machines")
        values = {
            **by_hand,
            "machine": load(Machine, "machines", wanted, Path()).name,
            "colour": colour,
            "blank": None
            if (blank or "").casefold() == "any"
            else load(Blank, "blanks", blank or "", Path()).name,
        }
    if not outcome.strip():
        raise InputError('want --outcome with how it came out, such as --outcome "even, no halo"')
    try:
        day = dt.date.fromisoformat(date) if date else dt.date.today()
    except ValueError:
        raise InputError(f"--date {shown(date)}: want a day such as 2026-12-05") from None
    if day > dt.date.today():
        raise InputError(f"--date: found {day}, which is still to come; want the day it was tried")
    recipe = validated(
        Recipe, {**values, "date": day, "outcome": outcome, "remarks": remarks}, "the recipe"
    )
    known = coats_known()
    path = keep(open_shop(), recipe)
    typer.echo(f"kept: {recipe.coat} on {recipe.machine}: {recipe.in_words}")
    typer.echo(f"  {path}")
    if recipe.coat.casefold() not in {coat.casefold() for coat in known}:
        meant = nearest(recipe.coat, known) or "."
        typer.echo(
            f"  no blank of the library comes in {shown(recipe.coat)}{meant} "
            f"The recipe holds for cups whose coat is called just so"
        )
