"""Recipes: the settings that engrave a coat well on a machine, found on a test piece and kept."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Annotated, Literal

import tomlkit
from pydantic import AfterValidator, Field

from mailmerge.blanks import Blank
from mailmerge.blanks.model import Colour
from mailmerge.files import Root
from mailmerge.findings import InputError
from mailmerge.guests.names import slug
from mailmerge.items.record import Kind
from mailmerge.machines import Beam, Machine
from mailmerge.shelves import (
    Length,
    Model,
    Name,
    Percent,
    Rate,
    known_as,
    load as load_template,
    one_line,
    read_toml,
    shelf,
    validated,
)
from mailmerge.units import format_mm
from mailmerge.workshop.settings import words
from mailmerge.workshop.shop.shop import RECIPES, Shop

FINEST, WIDEST = 0.005, 2.0
"""Millimetres from line to line; beyond it is a slip of the pen."""

Remark = Annotated[str, Field(max_length=2000), AfterValidator(one_line)]


def _of_a_beam(interval: float) -> float:
    if not FINEST <= interval <= WIDEST:
        raise ValueError(words.interval_out_of_bounds(interval, FINEST, WIDEST))
    return interval


class Settings(Model):
    """What is set at the machine."""

    power: Annotated[Percent, Field(gt=0)]
    speed: Rate
    """Of the head along a line, in mm/s."""
    passes: Annotated[int, Field(ge=1, le=50)] = 1
    interval: Annotated[Length, AfterValidator(_of_a_beam)]
    """From line to line, in mm."""

    @property
    def in_words(self) -> str:
        """The settings on one line."""
        return words.settings(self.power, self.speed, self.passes, self.interval)


class Recipe(Settings):
    """Settings that somebody has tried for a coat on a machine."""

    machine: Name
    """The name of its profile."""
    coat: Name
    blank: Name | None = None
    """The name of the blank it was tried on, or the library's name for it; None where that does
    not matter."""
    blank_identity: Annotated[str, Field(pattern=r"^b[0-9a-f]{15}$")] | None = None
    """Which blank of that name it was (see :attr:`mailmerge.blanks.Blank.identity`)."""
    colour: Colour | None = None
    date: dt.date
    outcome: Remark
    """How it came out."""
    remarks: Remark = ""


class StartingPoint(Settings):
    """Settings to begin a test piece with; of the library, and tried by nobody on this machine."""

    name: Name
    note: str
    beam: Beam


def starting_points() -> dict[str, StartingPoint]:
    """Return the library's starting points, by name."""
    return {name: load_template(StartingPoint, "recipes", name, Path()) for name in shelf(RECIPES)}


def kept_recipes(shop: Shop) -> list[tuple[Path, Recipe]]:
    """Return the shop's own recipes with their files, oldest first.

    Of those of one day the one that was kept last comes last, by the number in its file's name.

    Raises
    ------
    InputError
        A file is wrong: the text names it, the key, what was found and what is wanted.
    """
    found = []
    for path in sorted((shop.folder / RECIPES).glob("*.toml")):
        recipe = validated(Recipe, read_toml(path), str(path))
        if recipe.date > dt.date.today():
            raise InputError(words.tried_in_future(f"{path}: date", recipe.date))
        number = _NUMBERED.search(path.stem)
        found.append((recipe.date, int(number[1]) if number else 1, path.name, path, recipe))
    return [(path, recipe) for *_, path, recipe in sorted(found, key=lambda each: each[:3])]


_NUMBERED = re.compile(r"\d{4}-\d\d-\d\d-(\d{1,6})$")


@dataclass(frozen=True)
class Choice:
    """The settings that a cup is engraved with, and how far they can be trusted."""

    settings: Settings
    is_tried: bool
    """Whether somebody has tried them on this coat, blank and machine."""
    origin: str
    """Where they come from, in words."""

    @property
    def in_words(self) -> str:
        """The settings, and where they come from."""
        return words.with_origin(self.settings.in_words, self.origin)


def choice_for(
    shop: Shop, machine: Machine, kind: Kind, on: dt.date | None = None
) -> Choice | None:
    """Return what a coat of a blank is engraved with on a machine.

    The shop's newest recipe for all three; else its newest one for machine and coat, which on
    another blank is not taken for tried, for "black" may be steel here and wood there; else the
    library's starting point for the machine's beam. None where its profile does not say which.

    A blank is the same one if its file says the same. A recipe that knows no more than a blank's
    name, as those of older versions do, is not taken for tried either.

    Parameters
    ----------
    on
        The day for which it is asked: what was kept later does not count. By default today.

    Raises
    ------
    InputError
        A recipe's file is wrong.
    """
    same = [
        recipe for _, recipe in kept_recipes(shop)
        if _called("machines", recipe.machine) == machine.name.casefold()
        and recipe.coat.casefold() == kind.coat.casefold()
        and (on is None or recipe.date <= on)
    ]  # fmt: skip
    own = [r for r in same if r.blank is None or kind.identity in _identities(r)]
    if own:
        recipe = own[-1]
        return Choice(recipe, True, words.kept(recipe.date, recipe.outcome, recipe.remarks))
    if same:
        recipe = same[-1]
        return Choice(recipe, False, _doubt(recipe, kind))
    for start in starting_points().values():
        if start.beam == machine.beam:
            return Choice(start, False, words.starting_point(start.name))
    return None


def _identities(recipe: Recipe) -> set[str]:
    """Return which blank a recipe was tried on: none where its name alone is known.

    The library's name for a blank will do, for nothing else is called so.
    """
    if recipe.blank_identity:
        return {recipe.blank_identity}
    library = shelf("blanks")
    named = (recipe.blank or "").casefold()
    return {_in_library(named).identity} if named in library else set()


@cache
def _in_library(name: str) -> Blank:
    return load_template(Blank, "blanks", name, Path())


def _doubt(recipe: Recipe, kind: Kind) -> str:
    """Say why a recipe for the same coat and machine is not taken for tried."""
    assert recipe.blank is not None
    if _called("blanks", recipe.blank) != _called("blanks", kind.blank):
        return words.kept_for_other_blank(recipe.date, recipe.blank)
    if recipe.blank_identity is None:
        return words.kept_for_a_name(recipe.date, recipe.blank)
    return words.kept_for_other_of_that_name(recipe.date, recipe.blank)


def _called(kind: Literal["blanks", "machines"], name: str) -> str:
    """Return what a blank or machine is called, without case; the library's name will do."""
    return known_as(kind).get(name.casefold(), name.casefold())


def recipes_that_hold(shop: Shop) -> set[Path]:
    """Return the files of the recipes that hold: for each machine, coat and blank the newest.

    One for any blank takes the place of all that are older.

    Raises
    ------
    InputError
        A recipe's file is wrong.
    """
    newest: dict[tuple[str, str], dict[str, Path]] = {}
    for path, recipe in kept_recipes(shop):
        kind = _called("machines", recipe.machine), recipe.coat.casefold()
        if recipe.blank is None:
            newest[kind] = {"": path}
        else:
            which = next(iter(_identities(recipe)), _called("blanks", recipe.blank))
            newest.setdefault(kind, {})[which] = path
    return {path for paths in newest.values() for path in paths.values()}


def coats_known() -> list[str]:
    """Return the names of all coats that the library's blanks come in."""
    blanks = [load_template(Blank, "blanks", name, Path()) for name in shelf("blanks")]
    return sorted({coat.name for blank in blanks for coat in blank.coat})


def keep(shop: Shop, recipe: Recipe) -> Path:
    """Write a recipe into the shop's folder, beside those that are there; return its file.

    Raises
    ------
    InputError
        Its day is still to come, or it cannot be written.
    """
    if recipe.date > dt.date.today():
        raise InputError(words.tried_in_future("date", recipe.date))
    stem = f"{slug(recipe.machine, 'machine')}-{slug(recipe.coat, 'coat')}-{recipe.date}"
    document = tomlkit.document()
    document.add(tomlkit.comment(words.RECIPE_HEAD))
    document["machine"] = recipe.machine
    document["coat"] = recipe.coat
    if recipe.blank:
        document["blank"] = recipe.blank
    if recipe.blank_identity:
        document["blank_identity"] = recipe.blank_identity
    if recipe.colour:
        document["colour"] = recipe.colour
    document["power"] = f"{recipe.power:f} %"
    document["speed"] = f"{recipe.speed:g} mm/s"
    document["passes"] = recipe.passes
    document["interval"] = format_mm(recipe.interval, 4)
    document["date"] = recipe.date
    document["outcome"] = recipe.outcome
    document["remarks"] = recipe.remarks
    return _written(Root(shop.folder, RECIPES), stem, tomlkit.dumps(document).encode())


def _written(root: Root, stem: str, data: bytes) -> Path:
    """Write a file under the first name that nobody has, and return it."""
    name, number = f"{stem}.toml", 1
    while not root.write_new(name, data):
        number += 1
        name = f"{stem}-{number}.toml"
    return root.path / name
