from .making import (
    ARTWORK,
    MAKER,
    PROOFS,
    Item,
    Made,
    Sketch,
    artwork_folder,
    composition_of,
    make_item,
    scene_of,
    sketch_item,
)
from .record import SCHEMA, Entry, Totals

__all__ = [
    "ARTWORK",
    "MAKER",
    "PROOFS",
    "SCHEMA",
    "Entry",
    "Item",
    "Made",
    "Sketch",
    "Totals",
    "artwork_folder",
    "composition_of",
    "make_item",
    "scene_of",
    "sketch_item",
]
