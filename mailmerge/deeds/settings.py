"""Settings for a coat: the test card that finds them, and recipes that keep them."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from mailmerge.blanks import VISIBLE_ANGLE, Blank, angle_of, face_of
from mailmerge.deeds import words
from mailmerge.files import write_file
from mailmerge.findings import Finding, InputError, Severity, nearest
from mailmerge.guests import Hand
from mailmerge.items.record import Kind
from mailmerge.machines import Machine
from mailmerge.proofs.paper_size import PaperSize
from mailmerge.shelves import load, validated
from mailmerge.workshop.papers.card_key import KEY_PAPER, key_paper
from mailmerge.workshop.settings.card import (
    SettingsCard,
    card_for,
    card_svg,
    check_card,
    grid_of,
    safe_settings,
)
from mailmerge.workshop.settings.key import KEY, key_csv, read_cell
from mailmerge.workshop.settings.recipes import (
    Recipe,
    Settings,
    StartingPoint,
    coats_known,
    keep,
    kept_recipes,
    recipes_that_hold,
    starting_points,
)
from mailmerge.workshop.shop.shop import RECIPES, ChosenPaper, open_shop

__all__ = ["Settings", "coats_known", "keep_cell", "keep_recipe", "make_test_card", "recipes"]

CARD = "test-card.svg"


@dataclass(frozen=True)
class Recipes:
    """What the shop has kept, and where the library begins."""

    folder: Path
    kept: tuple[tuple[str, Recipe, bool], ...]
    """Name, recipe, and whether it holds; newest first."""
    starting_points: Mapping[str, StartingPoint]

    def blank_of(self, recipe: Recipe) -> str:
        """Return what to call the blank of a recipe; ``""`` for any.

        Two that are called the same are told apart by the beginning of their identities.
        """
        named = recipe.blank or ""
        same = {each.blank_identity for _, each, _ in self.kept if each.blank == recipe.blank}
        if len(same) == 1 or not recipe.blank_identity:
            return named
        return words.blank_with_identity(named, recipe.blank_identity[:4])


def recipes() -> Recipes:
    """List the shop's own recipes, and the library's starting points.

    Raises
    ------
    InputError
        A recipe's file is wrong.
    """
    shop = open_shop()
    holding = recipes_that_hold(shop)
    kept = [(path.stem, recipe, path in holding) for path, recipe in reversed(kept_recipes(shop))]
    return Recipes(shop.folder / RECIPES, tuple(kept), starting_points())


@dataclass(frozen=True)
class Written:
    """A test card that was written."""

    files: tuple[Path, ...]
    """Its artwork, its key as a table, and its key on paper, in this order."""
    paper: ChosenPaper
    card: SettingsCard
    machine_from: str
    """Where its machine comes from, if the call does not say; else ``""``."""
    findings: tuple[Finding, ...]


def make_test_card(
    folder: Path,
    blank: str,
    power: Sequence[Decimal],
    speed: Sequence[Decimal],
    passes: Sequence[Decimal] = (Decimal(1),),
    interval: float | None = None,
    coat: str | None = None,
    machine: str | None = None,
    face: str = "opposite",
    size: PaperSize | None = None,
) -> Written:
    """Write artwork for a test piece: a grid of settings, with a key that says which is which.

    Parameters
    ----------
    folder
        To write into.
    blank, machine
        Names of the library, or .toml files; no machine for the shop's.
    power
        In percent.
    speed
        In mm/s.
    interval
        From line to line, in mm; None for the beam's spot.
    coat
        None for the blank's first.

    Raises
    ------
    InputError
        A value is none that can be set, the card does not fit the face or the machine, or the
        folder holds a key already.
    """
    shop = open_shop()
    cup = load(Blank, "blanks", blank, Path())
    beam = load(Machine, "machines", machine or shop.named("machines"), Path())
    chosen = cup.coat_named(coat) if coat else cup.coat[0]
    try:
        place = face_of(cup, angle_of(face, Hand.RIGHT), VISIBLE_ANGLE)
    except ValueError as error:
        raise InputError(words.bad_option("--face", error)) from None
    grid = grid_of(list(power), list(speed), list(passes), interval or beam.spot)
    safe, where = safe_settings(shop, beam, Kind(cup.name, chosen.name, cup.identity), grid)
    card = card_for(cup, chosen, beam, place, grid, len(power), safe, where)
    findings = tuple(check_card(card))
    for finding in findings:
        if finding.severity is Severity.STOP:
            raise InputError(words.stopped_card(finding))
    if (folder / KEY).exists():
        raise InputError(words.key_exists(folder / KEY))
    paper = shop.paper(size)
    files = {
        CARD: card_svg(card),
        KEY: key_csv(card),
        KEY_PAPER: key_paper(card, paper.size, dt.datetime.now().astimezone()),
    }
    for name, data in files.items():
        write_file(folder / name, data)
    source = "" if machine else shop.source("shop.machine")
    return Written(tuple(folder / name for name in files), paper, card, source, findings)


@dataclass(frozen=True)
class Kept:
    """A recipe that was kept."""

    file: Path
    recipe: Recipe
    doubt: str
    """What to see to where no blank of the library has this coat; else ``""``."""


def keep_cell(
    card: Path, cell: str, outcome: str, remarks: str = "", day: dt.date | None = None
) -> Kept:
    """Keep the settings of a test card's cell that came out well.

    Parameters
    ----------
    card
        The card's folder, or its key.
    day
        On which it was tried; None for today.

    Raises
    ------
    InputError
        The card has no such cell, or nothing is said of how it came out.
    """
    won = read_cell(card, cell)
    values: dict[str, object] = {
        "machine": won.machine,
        "coat": won.coat,
        "colour": won.colour,
        "blank": won.blank,
        "blank_identity": won.blank_identity or None,
        **won.settings.model_dump(),
    }
    return _kept(values, outcome, remarks, day)


def keep_recipe(
    settings: Mapping[str, str],
    coat: str,
    blank: str | None,
    outcome: str,
    machine: str | None = None,
    colour: str | None = None,
    remarks: str = "",
    day: dt.date | None = None,
) -> Kept:
    """Keep settings that came out well.

    Parameters
    ----------
    settings
        Power, speed, passes and interval as people type them.
    blank
        That it was tried on: a name of the library or a .toml file; None where it does not matter.
    machine
        Likewise; None for the shop's.
    day
        On which it was tried; None for today.

    Raises
    ------
    InputError
        A value is wrong, or nothing is said of how it came out.
    """
    tried_on = load(Blank, "blanks", blank, Path()) if blank else None
    wanted = machine or open_shop().named("machines")
    values: dict[str, object] = {
        **settings,
        "coat": coat,
        "colour": colour,
        "machine": load(Machine, "machines", wanted, Path()).name,
        "blank": tried_on and tried_on.name,
        "blank_identity": tried_on and tried_on.identity,
    }
    return _kept(values, outcome, remarks, day)


def _kept(values: Mapping[str, object], outcome: str, remarks: str, day: dt.date | None) -> Kept:
    if not outcome.strip():
        raise InputError(words.OUTCOME_MISSING)
    told = {"date": day or dt.date.today(), "outcome": outcome, "remarks": remarks}
    recipe = validated(Recipe, {**values, **told}, "the recipe")
    return Kept(keep(open_shop(), recipe), recipe, _doubt_about(recipe.coat))


def _doubt_about(coat: str) -> str:
    known = coats_known()
    if coat.casefold() in {each.casefold() for each in known}:
        return ""
    return words.coat_of_no_blank(coat, nearest(coat, known))
