"""What an order can be made of: the library's blanks and layouts, and one's own beside them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Literal, TypeVar

from mailmerge.artwork import Layout
from mailmerge.blanks import VISIBLE_ANGLE, Blank, Coat, angle_of, face_of
from mailmerge.deeds import words
from mailmerge.deeds.opening import folder_of
from mailmerge.findings import InputError
from mailmerge.guests import Hand
from mailmerge.orders.said import ORDER_FILE, named_in
from mailmerge.proofs.plan import Plan, plan_of
from mailmerge.shelves import Model, read_toml, shelf, validated
from mailmerge.workshop.shop.shop import shop_folder

__all__ = [
    "Blank",
    "Coat",
    "Layout",
    "Offered",
    "OfferedBlank",
    "blanks_for",
    "blanks_of_shop",
    "blanks_to_begin_with",
    "layout_file",
    "layouts_for",
]

ModelT = TypeVar("ModelT", bound=Model)
Shelf = Literal["blanks", "layouts"]


@dataclass(frozen=True)
class Offered:
    """Something that an order can be made of."""

    name: str
    """What the order's file calls it; ``""`` for what stands in that file itself."""
    is_own: bool
    """Whether it is the shop's or the order's own, and not the library's."""
    is_taken: bool
    """Whether the order is made of it."""


@dataclass(frozen=True)
class OfferedBlank(Offered):
    """A blank to choose."""

    blank: Blank

    @property
    def plan(self) -> Plan:
        """The blank to scale."""
        return plan_of(self.blank)

    @property
    def face_mm(self) -> float:
        """Usable width in mm of the face that the drinker sees."""
        return face_of(self.blank, angle_of("drinker", Hand.RIGHT), VISIBLE_ANGLE).usable_width


@dataclass(frozen=True)
class OfferedLayout(Offered):
    """A layout to choose."""

    layout: Layout


def blanks_for(order: Path) -> tuple[OfferedBlank, ...]:
    """Return the blanks to choose from for an order: the one taken first, then one's own.

    Own ones are the files of blanks in the order's folder and in ``blanks`` of the shop's.

    Raises
    ------
    InputError
        There is no such order.
    """
    found = [OfferedBlank(*each) for each in _offered(Blank, "blanks", "band", folder_of(order))]
    return tuple(sorted(found, key=_rank))


def blanks_to_begin_with() -> tuple[OfferedBlank, ...]:
    """Return the blanks that a new order can be made of: the shop's own ones, then the library's.

    Own ones are the files of blanks in ``blanks`` of the shop's folder.
    """
    found = [OfferedBlank(*each) for each in _offered(Blank, "blanks", "band", None)]
    return tuple(sorted(found, key=_rank))


def blanks_of_shop() -> tuple[tuple[str, Blank], ...]:
    """Return the shop's own blanks, each with its file: those in ``blanks`` of its folder."""
    return tuple(_usable(Blank, "blanks", _files_of_shop("blanks", "band")))


def layouts_for(order: Path) -> tuple[OfferedLayout, ...]:
    """Return the layouts to choose from for an order, likewise.

    Raises
    ------
    InputError
        There is no such order.
    """
    found = [OfferedLayout(*each) for each in _offered(Layout, "layouts", "line", folder_of(order))]
    return tuple(sorted(found, key=_rank))


def _rank(offered: Offered) -> tuple[bool, bool]:
    return not offered.is_taken, not offered.is_own


def layout_file(order: Path, name: str) -> Path:
    """Return the file of a layout to choose from, by what the order's file would call it.

    Raises
    ------
    InputError
        There is no such layout, or no such order.
    """
    folder = folder_of(order)
    found = _files("layouts", "line", folder).get(name)
    if found is None:
        raise InputError(words.no_such_layout(name))
    return found


def _offered(
    model: type[ModelT], kind: Shelf, key: str, folder: Path | None
) -> Iterator[tuple[str, bool, bool, ModelT]]:
    """Pass over what there is: its name, whether it is one's own and is taken, and itself.

    Without an order's folder that is what a new one can be made of.
    """
    taken = named_in(folder, kind) if folder else None
    library = shelf(kind)
    for name, value in _usable(model, kind, _files(kind, key, folder)):
        yield name, name not in library, name == taken, value


def _usable(
    model: type[ModelT], kind: Shelf, files: Mapping[str, Path]
) -> Iterator[tuple[str, ModelT]]:
    """Pass over what files hold, each with what an order's file would call it."""
    for name, path in files.items():
        try:
            tables = read_toml(path)
            if not name:
                tables = tables.get(kind.removesuffix("s"), {})
            yield name, validated(model, tables, str(path))
        except InputError:
            continue  # whoever opens the order is told


def _files(kind: Shelf, key: str, folder: Path | None) -> dict[str, Path]:
    """Return the files to choose from, by what an order's file calls each.

    That is ``""`` for what stands in that file itself.
    """
    of_order = _files_of_order(kind, key, folder) if folder else {}
    return of_order | _files_of_shop(kind, key) | shelf(kind)


def _files_of_shop(kind: Shelf, key: str) -> dict[str, Path]:
    return {str(path): path for path in _files_with(key, shop_folder() / kind)}


def _files_of_order(kind: Shelf, key: str, folder: Path) -> dict[str, Path]:
    """Return the files in an order's folder, and the one that it is made of wherever that lies."""
    taken = named_in(folder, kind)
    found = {} if taken else {"": folder / ORDER_FILE}
    found |= {path.name: path for path in _files_with(key, folder)}
    if taken.endswith(".toml"):
        found.setdefault(taken, folder / taken)
    return found


def _files_with(key: str, folder: Path) -> Iterator[Path]:
    """Pass over the TOML files of a folder that have a key."""
    for path in sorted(folder.glob("*.toml")):
        try:
            if key in read_toml(path):
                yield path
        except InputError:
            continue
