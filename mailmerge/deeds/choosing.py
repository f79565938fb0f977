"""What there is to choose from: blanks, layouts, machines and fonts, also as judged for a list."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from mailmerge import candidates
from mailmerge.artwork import Layout
from mailmerge.artwork.ornaments import KINDS, SUBJECTS, Shelved, catalogue
from mailmerge.blanks import Blank
from mailmerge.blanks.measuring import faces_in_words
from mailmerge.candidates import Candidate
from mailmerge.checks import check_blank
from mailmerge.deeds import words
from mailmerge.deeds.offered import blanks_of_shop
from mailmerge.deeds.opening import NOTHING_GIVEN, Given, opened
from mailmerge.files import write_file
from mailmerge.findings import Finding, InputError, Severity, nearest
from mailmerge.lettering import Font, families, licence_of, nearest_weight, open_font
from mailmerge.machines import Loading, Machine, load_on
from mailmerge.orders import Order
from mailmerge.progress import Watch, told, unwatched
from mailmerge.shelves import in_library, load, shelf, templates
from mailmerge.workshop.shop.shop import open_shop

__all__ = [
    "Blank",
    "Candidate",
    "Given",
    "Held",
    "Machine",
    "ShelvedBlank",
    "blank_called",
    "blanks",
    "fonts",
    "installed_font",
    "judge_fonts",
    "layouts",
    "machine_with",
    "machines",
    "machines_with",
    "ornaments",
    "specimen",
    "telling_names",
]


@dataclass(frozen=True)
class ShelvedBlank:
    """A blank of the library, or one of the shop's own."""

    name: str
    """No other blank has it, and it is no path."""
    blank: Blank
    faces: tuple[tuple[str, float], ...]
    """Who sees it, and its usable width in mm; what the drinker sees comes first."""
    wanted: str
    """What an order's file or a command calls it: a name of the library, or a path."""

    @property
    def is_own(self) -> bool:
        """Whether it is the shop's own, and not the library's."""
        return self.name != self.wanted

    @property
    def face_mm(self) -> float:
        """Usable width of the face that the drinker sees."""
        return self.faces[0][1]


@dataclass(frozen=True)
class Blanks:
    """The blanks that the shop has, and where the files of the library's lie."""

    folder: Path
    blanks: tuple[ShelvedBlank, ...]
    """Its own ones come first."""


def blanks() -> Blanks:
    """List the shop's own blanks, and the library's: typical sizes, to be measured on your cup."""
    own = [
        ShelvedBlank(f"own-{Path(file).stem}", blank, tuple(faces_in_words(blank)), file)
        for file, blank in blanks_of_shop()
    ]
    return Blanks(templates() / "blanks", (*own, *_of_library()))


@cache
def _of_library() -> tuple[ShelvedBlank, ...]:
    found = {name: load(Blank, "blanks", name, Path()) for name in shelf("blanks")}
    return tuple(
        ShelvedBlank(name, blank, tuple(faces_in_words(blank)), name)
        for name, blank in found.items()
    )


def blank_called(name: str) -> ShelvedBlank:
    """Return a blank of the library or of the shop's own, by its name among :func:`blanks`.

    Raises
    ------
    InputError
        There is none of that name.
    """
    found = {each.name: each for each in blanks().blanks}
    if name not in found:
        in_library("blanks", name)
    return found[name]


def layouts() -> dict[str, Layout]:
    """List the layouts of the library, by name."""
    return {name: load(Layout, "layouts", name, Path()) for name in shelf("layouts")}


def ornaments(kind: str = "", subject: str = "") -> tuple[Shelved, ...]:
    """List the ornaments of the library, those of a kind or a subject alone if one is named.

    Raises
    ------
    InputError
        There is no such kind or subject.
    """
    for found, known in ((kind, KINDS), (subject, SUBJECTS)):
        if found and found not in known:
            raise InputError(words.no_such_ornaments(found, known))
    return tuple(
        each for each in catalogue() if kind in ("", each.kind) and subject in ("", each.subject)
    )


@dataclass(frozen=True)
class Machines:
    """The library's machine profiles by name, and where their files lie."""

    folder: Path
    machines: dict[str, Machine]


def machines() -> Machines:
    """List the machine profiles of the library: typical ones, to be measured on your own."""
    found = {name: load(Machine, "machines", name, Path()) for name in shelf("machines")}
    return Machines(templates() / "machines", found)


@dataclass(frozen=True)
class MachinesToBeginWith:
    """What a new order can be for."""

    called: dict[str, str]
    """The library's machines by name, each with what it is called; :data:`OWN` for the shop's."""
    usual: str
    """That of them which is taken where nobody says."""
    is_said: bool
    """Whether the shop says which is its own."""


def machines_to_begin_with() -> MachinesToBeginWith:
    """Return the machines that a new order can be for, the shop's first.

    Raises
    ------
    InputError
        The shop's own profile cannot be read.
    """
    shop = open_shop()
    usual, is_said = shop.named("machines"), shop.source("shop.machine") != "default"
    called = {name: machine.name for name, machine in machines().machines.items()}
    if usual not in called:
        own = load(Machine, "machines", usual, Path()).name
        return MachinesToBeginWith({OWN: own, **called}, OWN, is_said)
    return MachinesToBeginWith({usual: called.pop(usual), **called}, usual, is_said)


@dataclass(frozen=True)
class Held:
    """A machine with a blank on it."""

    name: str
    """In the library; :data:`OWN` for a profile of the shop's own."""
    machine: Machine
    is_for_new_orders: bool
    blank: ShelvedBlank
    loading: Loading
    findings: tuple[Finding, ...]
    """What is to be said about this blank on it, whatever is engraved, worst first."""

    @property
    def is_held(self) -> bool:
        """Whether it can take the blank at all."""
        return not any(each.severity is Severity.STOP for each in self.findings)


OWN = "own"
"""What a machine is called that a file of the shop's own describes."""


def machines_with(blank: str = "") -> tuple[Held, ...]:
    """Return each machine of the library with a blank on it; the shop's for new orders first.

    Parameters
    ----------
    blank
        Its name among :func:`blanks`; by default one that the machine takes, with a handle if it
        can be.

    Raises
    ------
    InputError
        There is no such blank, or the shop's own machine is not there.
    """
    chosen = (blank_called(blank),) if blank else ()
    others = chosen or tuple(sorted(blanks().blanks, key=lambda each: not each.blank.handles))
    usual = open_shop().named("machines")
    known = dict(machines().machines)
    if usual not in known:
        known = {OWN: load(Machine, "machines", usual, Path()), **known}
    found = [_held(name, machine, name in (usual, OWN), others) for name, machine in known.items()]
    return tuple(sorted(found, key=lambda each: not each.is_for_new_orders))


def machine_with(name: str, blank: str) -> Held:
    """Return one of :func:`machines_with` by its name.

    Raises
    ------
    InputError
        There is no such machine or blank.
    """
    found = {each.name: each for each in machines_with(blank)}
    if name not in found:
        in_library("machines", name)
    return found[name]


def _held(name: str, machine: Machine, is_usual: bool, blanks: Sequence[ShelvedBlank]) -> Held:
    """Return a machine with the first blank that it takes, or simply the first."""
    tried = []
    for each in blanks:
        loading = load_on(each.blank, machine)
        findings = tuple(check_blank(each.blank, machine, loading))
        tried.append(Held(name, machine, is_usual, each, loading, findings))
        if tried[-1].is_held:
            break
    return tried[-1] if tried[-1].is_held else tried[0]


@dataclass(frozen=True, slots=True)
class InstalledFont:
    """A font family that is installed."""

    name: str
    weights: str
    """In words."""
    licence: str
    copyright: str
    """As its file says it."""


def fonts() -> list[InstalledFont]:
    """List the installed font families."""
    found = []
    for family in families():
        weights = ", ".join(map(str, family.weights))
        if family.is_variable and family.weight_range:
            weights = f"{family.weight_range[0]} to {family.weight_range[1]}"
        name = str(family.name)
        own = licence_of(installed_font(name)).copyright
        found.append(InstalledFont(name, weights, str(family.license), own))
    return found


def installed_font(family: str) -> Font:
    """Return an installed font by its family's name; a path is none.

    Raises
    ------
    InputError
        There is none of that name; the nearest one is suggested.
    """
    known = candidates.installed()
    if family not in known:
        raise InputError(words.no_installed_font(family, nearest(family, known)))
    return open_font(family, nearest_weight(family, 400), Path())


def telling_names(order: Path) -> tuple[str, ...]:
    """Return the names of an order to look at fonts by: shortest, longest and trickiest.

    The shortest is one that the order's own layout can set.

    Raises
    ------
    InputError
        The order is wrong.
    """
    loaded = opened(order, NOTHING_GIVEN)
    named = [guest for guest in loaded.guests.guests() if guest.name]
    if not named:
        return ()
    return tuple(guest.name for guest in candidates.telling_names(named, [loaded.design]))


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
