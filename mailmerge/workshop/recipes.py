"""Recipes: the settings that engrave a coat well on a machine, found on a test piece and kept."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path
from typing import Annotated

import tomlkit
from pydantic import AfterValidator, Field

from mailmerge.blanks.model import Colour
from mailmerge.files import write_file
from mailmerge.guests.names import slug
from mailmerge.machines import Beam, Machine
from mailmerge.shelves import (
    Length,
    Model,
    Name,
    Percent,
    Rate,
    one_line,
    read_toml,
    shelf,
    validated,
)
from mailmerge.shelves import load as load_template
from mailmerge.units import format_mm
from mailmerge.workshop.shop import RECIPES, Shop

Remark = Annotated[str, Field(max_length=2000), AfterValidator(one_line)]


class Settings(Model):
    """What is set at the machine."""

    power: Annotated[Percent, Field(gt=0)]
    speed: Rate
    """Of the head along a line, in mm/s."""
    passes: Annotated[int, Field(ge=1, le=50)] = 1
    interval: Length
    """From line to line, in mm."""

    @property
    def in_words(self) -> str:
        """The settings on one line."""
        passes = f"{self.passes} pass{'' if self.passes == 1 else 'es'}"
        return (
            f"power {self.power:f} %, {self.speed:g} mm/s, {passes}, lines "
            f"{format_mm(self.interval, 3)} apart"
        )


class Recipe(Settings):
    """Settings that somebody has tried for a coat on a machine."""

    machine: Name
    """The name of its profile."""
    coat: Name
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


def kept_recipes(shop: Shop) -> Iterator[tuple[Path, Recipe]]:
    """Yield the shop's own recipes with their files.

    Raises
    ------
    InputError
        A file is wrong: the text names it, the key, what was found and what is wanted.
    """
    for path in sorted((shop.folder / RECIPES).glob("*.toml")):
        yield path, validated(Recipe, read_toml(path), str(path))


def recipe_for(shop: Shop, machine: Machine, coat: str) -> Recipe | StartingPoint | None:
    """Return what a coat is engraved with on a machine.

    The newest recipe that the shop has kept for both, of the same day the one kept last; else the
    library's starting point for the machine's beam; None where its profile does not say which.

    Raises
    ------
    InputError
        A recipe's file is wrong.
    """
    same = [
        (recipe.date, path.stat().st_mtime_ns, recipe)
        for path, recipe in kept_recipes(shop)
        if recipe.machine.casefold() == machine.name.casefold()
        and recipe.coat.casefold() == coat.casefold()
    ]
    if same:
        return max(same, key=lambda found: found[:2])[2]
    return next((s for s in starting_points().values() if s.beam == machine.beam), None)


def keep(shop: Shop, recipe: Recipe) -> Path:
    """Write a recipe into the shop's folder, beside those that are there; return its file.

    Raises
    ------
    InputError
        It cannot be written.
    """
    stem = f"{slug(recipe.machine, 'machine')}-{slug(recipe.coat, 'coat')}-{recipe.date}"
    folder = shop.folder / RECIPES
    number, path = 1, folder / f"{stem}.toml"
    while path.exists():
        number += 1
        path = folder / f"{stem}-{number}.toml"
    document = tomlkit.document()
    document.add(tomlkit.comment("Found on a test piece; the newest for a machine and coat holds."))
    document["machine"] = recipe.machine
    document["coat"] = recipe.coat
    if recipe.colour:
        document["colour"] = recipe.colour
    document["power"] = f"{recipe.power:f} %"
    document["speed"] = f"{recipe.speed:g} mm/s"
    document["passes"] = recipe.passes
    document["interval"] = format_mm(recipe.interval, 4)
    document["date"] = recipe.date
    document["outcome"] = recipe.outcome
    document["remarks"] = recipe.remarks
    write_file(path, tomlkit.dumps(document).encode())
    return path
