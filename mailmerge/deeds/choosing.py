"""What there is to choose from: blanks, layouts, machines and fonts, also as judged for a list."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from mailmerge import candidates
from mailmerge.artwork import Layout, read_drawing
from mailmerge.blanks import VISIBLE_ANGLE, Blank, angle_of, face_of
from mailmerge.candidates import Candidate
from mailmerge.deeds.opening import NOTHING_GIVEN, Given, opened
from mailmerge.files import write_file
from mailmerge.guests import Hand
from mailmerge.lettering import families
from mailmerge.machines import Machine
from mailmerge.orders import Order
from mailmerge.progress import Watch, told, unwatched
from mailmerge.shelves import load, shelf, templates

__all__ = [
    "Blank",
    "Candidate",
    "Given",
    "ShelvedBlank",
    "blanks",
    "fonts",
    "judge_fonts",
    "layouts",
    "machines",
    "ornaments",
    "specimen",
]


@dataclass(frozen=True)
class ShelvedBlank:
    """A blank of the library."""

    name: str
    blank: Blank
    face_mm: float
    """Usable width of the face that the drinker sees."""


@dataclass(frozen=True)
class Blanks:
    """The library's blanks, and where their files lie."""

    folder: Path
    blanks: tuple[ShelvedBlank, ...]


def blanks() -> Blanks:
    """List the blanks of the library: typical sizes, to be measured on your own cup."""
    found = []
    for name in shelf("blanks"):
        blank = load(Blank, "blanks", name, Path())
        face = face_of(blank, angle_of("drinker", Hand.RIGHT), VISIBLE_ANGLE)
        found.append(ShelvedBlank(name, blank, face.usable_width))
    return Blanks(templates() / "blanks", tuple(found))


def layouts() -> dict[str, Layout]:
    """List the layouts of the library, by name."""
    return {name: load(Layout, "layouts", name, Path()) for name in shelf("layouts")}


def ornaments() -> dict[str, float]:
    """List the ornaments of the library, by name, each with its width over its height."""
    boxes = {name: read_drawing(path).outline.box for name, path in shelf("ornaments").items()}
    return {name: box.width / box.height for name, box in boxes.items()}


@dataclass(frozen=True)
class Machines:
    """The library's machine profiles by name, and where their files lie."""

    folder: Path
    machines: dict[str, Machine]


def machines() -> Machines:
    """List the machine profiles of the library: typical ones, to be measured on your own."""
    found = {name: load(Machine, "machines", name, Path()) for name in shelf("machines")}
    return Machines(templates() / "machines", found)


@dataclass(frozen=True, slots=True)
class InstalledFont:
    """A font family that is installed."""

    name: str
    weights: str
    """In words."""
    licence: str


def fonts() -> list[InstalledFont]:
    """List the installed font families."""
    found = []
    for family in families():
        weights = ", ".join(map(str, family.weights))
        if family.is_variable and family.weight_range:
            weights = f"{family.weight_range[0]} to {family.weight_range[1]}"
        found.append(InstalledFont(str(family.name), weights, str(family.license)))
    return found


@dataclass(frozen=True)
class JudgedFonts:
    """What each font would mean for a list, on an order's blank and layout."""

    candidates: tuple[Candidate, ...]
    layout: str
    blank: str


def judge_fonts(
    order: Path,
    given: Given = NOTHING_GIVEN,
    wanted: Sequence[str] = (),
    watch: Watch = unwatched,
) -> JudgedFonts:
    """Judge fonts for an order or a bare list: what each lacks, and how large it would be.

    Parameters
    ----------
    wanted
        Families, or paths of font files; none for all that are installed.

    Raises
    ------
    CalledOff
        By ``watch``.
    InputError
        The order is wrong, or a font is not there.
    """
    loaded = opened(order, given)
    names = list(wanted) or candidates.installed()
    found: list[Candidate] = []
    for candidate in candidates.judged(loaded, names):
        found.append(candidate)
        told(watch, len(found), len(names))
    design = loaded.design
    return JudgedFonts(tuple(found), design.layout.name, design.blank.name)


def specimen(
    order: Path,
    given: Given = NOTHING_GIVEN,
    wanted: Sequence[str] = (),
    file: Path | None = None,
) -> Path:
    """Draw an order's shortest, longest and trickiest names in several fonts; return the picture.

    Parameters
    ----------
    wanted
        Families, or paths of font files; none for those that lack nothing.
    file
        To write; None for ``specimen.png`` beside the list, or in the order's folder.

    Raises
    ------
    InputError
        The order is wrong, a font is not there, or there are too many.
    """
    loaded = opened(order, given)
    names = list(wanted) or _best_for(loaded)
    picture = candidates.specimen(loaded, names)
    folder = order if order.is_dir() else order.parent
    target = file or folder / "specimen.png"
    write_file(target, picture)
    return target


def _best_for(loaded: Order) -> list[str]:
    """Return the first installed fonts that lack no letter of the list, or simply the first."""
    installed = candidates.installed()
    complete = [c.family for c in candidates.judged(loaded, installed) if not c.lacks]
    return (complete or installed)[: candidates.MOST]
