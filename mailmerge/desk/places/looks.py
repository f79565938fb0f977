"""Looks: which blank and coat, measured how, and which layout; below Cups."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial

from starlette.responses import Response

from mailmerge.deeds.arranging import arrange, arranged
from mailmerge.deeds.offered import Blank, OfferedBlank, blanks_for
from mailmerge.desk import words
from mailmerge.desk.asking import Asked, Undo, get, post
from mailmerge.findings import InputError
from mailmerge.units import format_length

TAKES: Mapping[str, int] = {}


def blank(asked: Asked) -> Response:
    """Show the blanks to choose from, all to one scale."""
    found, now = blanks_for(asked.folder), arranged(asked.folder)
    return asked.page(
        "blank.html",
        blanks=found,
        taken=next((each for each in found if each.is_taken), None),
        now=now,
        box=_common_box(found),
        colour_of=lambda each: _colour(each, now.coat if each.is_taken else ""),
        measures=_measures,
        size_of=_size,
    )


def _colour(offered: OfferedBlank, coat: str) -> str:
    """Return the colour of a coat of a blank; of its first one, where it does not have it."""
    coats = offered.blank.coat
    return next((each.colour for each in coats if each.name == coat), coats[0].colour)


def _told(blank: Blank, length: float) -> str:
    return format_length(length, blank.inches)


def _size(blank: Blank) -> str:
    width, height = _told(blank, blank.page_width), _told(blank, blank.height)
    return words.size_of_flat(width, height) if blank.is_flat else words.size_of(width, height)


def _measures(offered: OfferedBlank) -> list[tuple[str, str]]:
    """Return what a blank's measures are called, and how long they are."""
    blank = offered.blank
    told = partial(_told, blank)
    band = words.from_to(told(blank.band.from_), told(blank.band.to))
    found = [(words.WALL_HEIGHT, told(blank.height)), (words.BAND_HEIGHT, band),
             (words.DRINKERS_FACE, told(offered.face_mm))]  # fmt: skip
    if blank.is_flat:
        return [(words.ACROSS_FLAT, told(blank.page_width)), *found]
    free = words.FREE_AT_ZERO if blank.handles else words.FREE_AT_SEAM
    found.append((free, told(2 * blank.zones[0].edge)))
    if blank.taper is None:
        return [(words.AROUND, told(blank.page_width)), *found]
    ends = blank.circumference_at(blank.height), blank.circumference_at(0.0)
    return [(words.AROUND_MOUTH_BASE, " / ".join(map(told, ends))), *found]


def _common_box(blanks: tuple[OfferedBlank, ...]) -> tuple[float, float]:
    """Return half the width and the height in mm of a box that holds every cup."""
    cups = [each.plan.cup for each in blanks]
    half = max(max(-cup.left, cup.left + cup.width) for cup in cups)
    return half + 2, max(cup.height for cup in cups) + 4


def take_blank(asked: Asked) -> Response:
    """Let the order be made of another blank, or in another coat."""
    before, offered = arranged(asked.folder), blanks_for(asked.folder)
    wanted, coat = asked.form.get("blank", ""), asked.form.get("coat", "")
    chosen = next((each for each in offered if each.name == wanted), None)
    if chosen is None:
        raise InputError(words.NO_SUCH_BLANK)
    was = next((each.name for each in offered if each.is_taken), None)
    arrange(asked.folder, blank=wanted or None, coat=coat, saw=asked.form.get("saw"))
    back = {"blank": was, "coat": before.coat, "saw": arranged(asked.folder).digest} if was else {}
    here = asked.at("cups", "blank")
    undo = Undo(words.UNDO_CHANGE, here, back) if back else None
    return asked.on(here, words.blank_taken(chosen.blank.name, coat), undo)


ROUTES = [
    get("/orders/{key}/cups/blank", blank),
    post("/orders/{key}/cups/blank", take_blank),
]
