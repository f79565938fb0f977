"""Trying a change on one cup: what a merge would make of it, without a merge.

An order is kept at hand: its items, and the letter heights that each guest's lines allow. Another
text for one guest then settles the sizes of the whole order by sorting numbers, and one item is
made. Nothing is written.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Collection, Iterator, Mapping
from copy import copy
from dataclasses import dataclass, replace
from itertools import chain

from mailmerge.artwork import Composition, Layout, Own, Settled, Sizes, is_shared, settle
from mailmerge.guests import Guest
from mailmerge.guests.cleaning import clean
from mailmerge.items import Item, Sketch, composition_of, scene_of, sketch_item
from mailmerge.ledger.recall import Recall
from mailmerge.merge.engine import heights_in, taken
from mailmerge.orders import Design, Order
from mailmerge.proofs import Scene

_KEPT = 64
"""Changed cups that are kept: a page asks for one's numbers, and then for its picture."""


@dataclass(frozen=True)
class Tried:
    """What a change would come to."""

    sketch: Sketch
    moved: tuple[tuple[Settled, float], ...]
    """The sets whose letters would have another height on all cups: as they are, and that (mm)."""


class AtHand:
    """An order in memory."""

    def __init__(self, order: Order, recalled: Recall | None) -> None:
        self.order, self._survey, items = taken(order, recalled)
        self._items = {item.number: item for item in items}
        self._set(self.order.design)

    def _set(self, design: Design) -> None:
        """Settle the sizes of a design for all guests."""
        self._kept_sizes = design.sizes
        self._heights: dict[int, tuple[tuple[int, str, float], ...]] = {}
        if is_shared(design.layout):
            for guest in self.guests:
                self._heights[guest.row] = tuple(heights_in(design, guest))
        self.design = self._settled(design, self._heights)
        self._tried: OrderedDict[object, Tried] = OrderedDict()

    def only(self, rows: Collection[int]) -> AtHand:
        """Return the order as it would be if the guests of these rows were all of them."""
        other = copy(self)
        other._items = {n: item for n, item in self._items.items() if item.guest.row in rows}
        other._set(self.order.design)
        return other

    def with_layout(self, layout: Layout) -> AtHand:
        """Return the order as it would be with another layout, and nothing else changed.

        The sizes of cups that exist hold for lines that say the same; so does what is a single
        cup's own.
        """
        other, before = copy(self), self.order.design
        same = {
            number
            for number, (one, two) in enumerate(
                zip(before.layout.line, layout.line, strict=False), start=1
            )
            if one.text == two.text and one.sizing == two.sizing
        }
        other._items = {
            number: replace(item, own=tuple(own for own in item.own if own.line in same))
            for number, item in self._items.items()
        }
        held = Sizes(tuple(each for each in before.sizes.settled if each.line in same))
        other._set(replace(before, layout=layout, sizes=held))
        return other

    @property
    def guests(self) -> list[Guest]:
        """Its guests, in the list's order."""
        return [item.guest for item in self._items.values() if item.copy == 1]

    @property
    def too_long(self) -> int:
        """How many guests have a line that does not fit at its least letter height."""
        lines = self.design.layout.line
        return sum(
            any(height < lines[number - 1].letter_height.min for number, _, height in heights)
            for heights in self._heights.values()
        )

    def first_of(self, row: int) -> int:
        """Return the number of the first item of a guest."""
        return next(n for n, item in self._items.items() if item.guest.row == row)

    @property
    def numbers(self) -> list[int]:
        """The numbers of its items, in the list's order."""
        return list(self._items)

    def item(self, number: int) -> Item | None:
        """Return an item as it is; None if there is no such."""
        return self._items.get(number)

    def composition(self, number: int) -> Composition:
        """Return how an item is set."""
        return composition_of(self.design, self._items[number])

    def scene(self, number: int) -> Scene:
        """Return what an item's pictures look at."""
        return scene_of(self.design, self._items[number])

    def tried(self, number: int, texts: Mapping[str, str], own: tuple[Own, ...] | None) -> Tried:
        """Make an item with a change, or take it out of what was made of late.

        Parameters
        ----------
        texts
            Other texts of its guest by field, cleaned as cells are.
        own
            How it is set; None for how it is now.

        Raises
        ------
        InputError
            There is no such font.
        """
        key = number, tuple(sorted(texts.items())), own
        if key not in self._tried:
            self._tried[key] = self._make(number, texts, own)
            while len(self._tried) > _KEPT:
                self._tried.popitem(last=False)
        self._tried.move_to_end(key)
        return self._tried[key]

    def _make(self, number: int, texts: Mapping[str, str], own: tuple[Own, ...] | None) -> Tried:
        item = self._items[number]
        guest = item.guest
        cleaned = {field: clean(field, text)[0] for field, text in texts.items()}
        changed = {f: text for f, text in cleaned.items() if text != guest.fields.get(f, "")}
        if changed:
            guest = self.order.guests.with_texts(guest, changed)
        item = replace(
            item,
            guest=guest,
            remarks=self._survey.remarks(guest),
            own=item.own if own is None else own,
        )
        design = self._design_with(guest) if changed else self.design
        return Tried(sketch_item(design, item), tuple(self._moved(design)))

    def _design_with(self, guest: Guest) -> Design:
        """Return the design that the order would have with another text of a guest's."""
        if not self._heights:
            return self.design
        heights = {**self._heights, guest.row: tuple(heights_in(self.design, guest))}
        return self._settled(self.design, heights)

    def _settled(
        self, design: Design, heights: Mapping[int, tuple[tuple[int, str, float], ...]]
    ) -> Design:
        own = chain.from_iterable(heights.values())
        return replace(design, sizes=settle(design.layout, own, self._kept_sizes))

    def _moved(self, design: Design) -> Iterator[tuple[Settled, float]]:
        now = {(size.line, size.role): size.letter_height for size in design.sizes.settled}
        for size in self.design.sizes.settled:
            height = now.get((size.line, size.role), size.letter_height)
            if height != size.letter_height:
                yield size, height
