"""Pictures of blanks, of what lies on a machine, and of fonts; and of cups on record."""

from __future__ import annotations

import io
from collections.abc import Mapping, Sequence
from functools import lru_cache
from pathlib import Path

from mailmerge.artwork import read_drawing
from mailmerge.artwork.ornaments import Shelved
from mailmerge.blanks import VISIBLE_ANGLE, angle_of, face_of
from mailmerge.deeds import words
from mailmerge.deeds.choosing import Held, ShelvedBlank, blanks, installed_font
from mailmerge.deeds.cut import Picture, cup_picture, large_picture, loading_picture
from mailmerge.files import write_file
from mailmerge.findings import InputError
from mailmerge.guests import Hand
from mailmerge.lettering import Outline, Style, shaped
from mailmerge.lettering.outline import joined
from mailmerge.proofs import (
    Load,
    draw_letters,
    draw_lying,
    draw_to_scale,
    sheet_of_ornaments,
    width_to_scale,
)
from mailmerge.shelves import shelf

__all__ = [
    "Picture",
    "blank_picture",
    "cup_picture",
    "font_picture",
    "large_picture",
    "loading_picture",
    "lying_picture",
    "ornament_sheet",
    "write_pictures",
]


def blank_picture(shelved: ShelvedBlank) -> Picture:
    """Return a bare blank to scale, and its wall unrolled with its zones and faces.

    Those of all blanks that the shop has are to one scale.
    """
    return _to_scale(shelved, max(width_to_scale(each.blank) for each in blanks().blanks))


@lru_cache(maxsize=64)
def _to_scale(shelved: ShelvedBlank, widest: float) -> Picture:
    """Return a picture of a blank in room for one that is so wide, in mm."""
    blank = shelved.blank
    faces = tuple(
        face_of(blank, angle_of(who, Hand.RIGHT), VISIBLE_ANGLE) for who, _ in shelved.faces
    )
    drawn = draw_to_scale(blank, blank.coat[0], faces, widest)
    return Picture(drawn.png(), words.blank_to_scale(blank.name))


@lru_cache(maxsize=32)
def lying_picture(held: Held) -> Picture:
    """Return how a blank lies on a machine: from above, and into its mouth.

    Raises
    ------
    InputError
        The machine cannot take it.
    """
    if not held.is_held:
        raise InputError(words.not_held(held.machine.name, held.blank.blank.name))
    blank = held.blank.blank
    face = face_of(blank, angle_of("opposite", Hand.RIGHT), VISIBLE_ANGLE)
    load = Load(blank, blank.coat[0], held.loading, held.machine.name, (face,))
    saved = io.BytesIO()
    draw_lying(load).save(saved, "PNG", compress_level=3)
    return Picture(saved.getvalue(), words.blank_lies(blank.name, held.machine.name))


_SAMPLES = ("Rosalind & Zoë, 1927", "سلمى خليل", "רות לוי", "มาลี ศรีสุข")
"""One for each alphabet that a font of the library is for."""

MOST_TEXTS, LONGEST_TEXT = 4, 80
"""Rows of a font's picture, and characters of a row."""


@lru_cache(maxsize=256)
def font_picture(family: str, texts: tuple[str, ...] = ()) -> Picture:
    """Return an installed font, seen in its own letters.

    Parameters
    ----------
    texts
        To be set in it, at most :data:`MOST_TEXTS` of them; by default its own name and a sample
        of each alphabet that it has. For one that it cannot set stands which letters it lacks.

    Raises
    ------
    InputError
        There is no such font: a path is none.
    """
    style = Style((installed_font(family),))
    own = [text for text in (family, *_SAMPLES) if not shaped(style, text).missing]
    shown = [text[:LONGEST_TEXT] for text in texts if text.strip()][:MOST_TEXTS]
    return Picture(draw_letters(style, shown or own).png(), words.font_in_letters(family))


def ornament_sheet(ornaments: Sequence[Shelved], file: Path) -> Path:
    """Draw ornaments of the library by kind and subject into a file, .svg or .png; return it.

    Raises
    ------
    InputError
        The file's name ends otherwise, or it cannot be written.
    """
    kind = file.suffix.lower()
    if kind not in (".svg", ".png"):
        raise InputError(words.no_kind_of_sheet(file))
    groups: dict[str, list[tuple[str, Outline]]] = {}
    for each in ornaments:
        outline = read_drawing(shelf("ornaments")[each.name]).outline
        if each.kind == "border":  # seen as it goes on
            repeats = (outline.moved(1.0, False, at * outline.box.width, 0.0) for at in range(3))
            outline = joined(list(repeats))
        groups.setdefault(f"{each.kind}: {each.subject}", []).append((each.name, outline))
    sheet = sheet_of_ornaments(groups)
    write_file(file, sheet.svg if kind == ".svg" else sheet.png)
    return file


def write_pictures(folder: Path, pictures: Mapping[str, Picture]) -> tuple[Path, ...]:
    """Write pictures into a folder, by their names; return their files.

    Raises
    ------
    InputError
        They cannot be written.
    """
    files = {folder / f"{name}.png": picture.png for name, picture in pictures.items()}
    for file, png in files.items():
        write_file(file, png)
    return tuple(files)
