"""Pictures of cups as they are on record, cut out of their proofs: nothing is drawn."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from mailmerge.deeds import words
from mailmerge.deeds.folder import folder_of
from mailmerge.files import read_file
from mailmerge.findings import InputError
from mailmerge.items.record import Entry
from mailmerge.ledger.tray import MERGED
from mailmerge.proofs.measures import CUP_PICTURE, HEIGHT as PROOF_HEIGHT, LOAD_VIEWS
from mailmerge.proofs.png import part_of

__all__ = ["Picture", "cup_picture", "large_picture", "loading_picture"]


@dataclass(frozen=True, slots=True)
class Picture:
    """A PNG, and what it is to be called where it is looked at."""

    png: bytes
    in_words: str


def cup_picture(order: Path, entry: Entry) -> Picture:
    """Return a cup alone, cut out of its proof.

    Raises
    ------
    InputError
        The proof cannot be read.
    """
    png = _part(_read(order, entry.proof), CUP_PICTURE, entry.proof)
    return Picture(png, words.cup_of(entry.name))


def large_picture(order: Path, entry: Entry) -> Picture:
    """Return the whole proof of a cup.

    Raises
    ------
    InputError
        It cannot be read.
    """
    return Picture(_read(order, entry.proof), words.proof_of(entry.name))


def loading_picture(order: Path, entry: Entry) -> Picture:
    """Return how a cup lies on its machine: from above, and into its mouth.

    Raises
    ------
    InputError
        It is stopped and has none, or it cannot be read.
    """
    if entry.maker_copy is None:
        raise InputError(words.no_loading_picture(entry.item))
    left, top, right, bottom = LOAD_VIEWS
    box = (left, PROOF_HEIGHT + top, right, PROOF_HEIGHT + bottom)
    png = _part(_read(order, entry.maker_copy), box, entry.maker_copy)
    return Picture(png, words.loading_of(entry.name))


def _part(data: bytes, box: tuple[int, int, int, int], name: str) -> bytes:
    try:
        return part_of(data, box)
    except ValueError:
        raise InputError(words.picture_damaged(name)) from None


def _read(order: Path, name: str) -> bytes:
    return read_file(folder_of(order) / MERGED / name)
