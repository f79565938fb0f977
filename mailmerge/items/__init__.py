"""One item: composed, loaded, checked, written and drawn in memory, and the record of it."""

from mailmerge.items.making import (
    ARTWORK,
    MAKER,
    PROOFS,
    Item,
    Made,
    artwork_folder,
    make_item,
    scene_of,
)
from mailmerge.items.record import SCHEMA, Entry, Totals

__all__ = [
    "ARTWORK",
    "MAKER",
    "PROOFS",
    "SCHEMA",
    "Entry",
    "Item",
    "Made",
    "Totals",
    "artwork_folder",
    "make_item",
    "scene_of",
]
