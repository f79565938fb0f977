"""What an order can be made of: the library's blanks and layouts, and one's own beside them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Literal, TypeVar

from mailmerge.artwork import Layout
from mailmerge.blanks import VISIBLE_ANGLE, Blank, angle_of, face_of
from mailmerge.deeds.opening import folder_of
from mailmerge.findings import InputError
from mailmerge.guests import Hand
from mailmerge.orders.order import ORDER_FILE, named_in
from mailmerge.proofs.plan import Plan, plan_of
from mailmerge.shelves import Model, load, read_toml, shelf, validated
from mailmerge.workshop.shop.shop import shop_folder

__all__ = ["Blank", "Layout", "Offered", "OfferedBlank", "blanks_for", "layouts_for"]

ModelT = TypeVar("ModelT", bound=Model)


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


def _offered(
    model: type[ModelT], kind: Literal["blanks", "layouts"], key: str, folder: Path
) -> Iterator[tuple[str, bool, bool, ModelT]]:
    """Pass over what there is: its name, whether it is one's own and is taken, and itself."""
    file, taken = folder / ORDER_FILE, named_in(folder, kind)
    if not taken:  # it stands in the order's file
        table = read_toml(file).get(kind.removesuffix("s"), {})
        yield "", True, True, validated(model, table, str(file))
    own = {path.name: path for path in _files_with(key, folder)}
    own |= {str(path): path for path in _files_with(key, shop_folder() / kind)}
    if taken.endswith(".toml"):
        own.setdefault(taken, folder / taken)
    for name, path in own.items():
        try:
            yield name, True, name == taken, validated(model, read_toml(path), str(path))
        except InputError:
            continue  # whoever opens the order is told
    for name in shelf(kind):
        yield name, False, name == taken, load(model, kind, name, folder)


def _files_with(key: str, folder: Path) -> Iterator[Path]:
    """Pass over the TOML files of a folder that have a key."""
    for path in sorted(folder.glob("*.toml")):
        try:
            if key in read_toml(path):
                yield path
        except InputError:
            continue
