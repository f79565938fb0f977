"""Looks: which blank and coat, measured how, and which layout; below Cups."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial
from typing import Any, Literal
from urllib.parse import urlencode

from starlette.responses import Response

from mailmerge.deeds.arranging import arrange, arranged, seen
from mailmerge.deeds.choosing import fonts, ornaments
from mailmerge.deeds.drafts import KINDS, OPEN, draft, with_another
from mailmerge.deeds.layouts import (
    TriedLayout,
    fields_for,
    get_ready,
    keep_layout,
    suiting,
    try_layout,
)
from mailmerge.deeds.line_fonts import font_picture, fonts_for, try_font
from mailmerge.deeds.measuring import keep_measured, measured_so_far
from mailmerge.deeds.offered import Blank, Layout, OfferedBlank, blanks_for, layouts_for
from mailmerge.deeds.pictures import Picture
from mailmerge.desk import words
from mailmerge.desk.asking import Asked, Undo, get, post
from mailmerge.findings import InputError
from mailmerge.units import format_length


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
        return [(words.AROUND_WALL, told(blank.page_width)), *found]
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
    was = next((each.blank for each in offered if each.is_taken), None)
    arrange(asked.folder, blank=wanted or None, coat=coat, saw=asked.form.get("saw"))
    # One that stood in the order's own file has got a name by now.
    again = next((each.name for each in blanks_for(asked.folder) if each.blank == was), "")
    back = {"blank": again, "coat": before.coat, "saw": seen(asked.folder)}
    here = asked.at("cups", "blank")
    undo = Undo(words.UNDO_CHANGE, here, back) if was else None
    return asked.on(here, words.blank_taken(chosen.blank.name, coat), undo)


# Measuring


def measure(asked: Asked) -> Response:
    """Show a form for a blank's measures, with a drawing that says where each is taken."""
    return asked.page("measure.html", **_measured(asked))


def drawn(asked: Asked) -> Response:
    """Show the drawing of a blank as far as it is measured."""
    return asked.page("measured.html", **_measured(asked))


def _measured(asked: Asked) -> dict[str, Any]:
    so_far = measured_so_far(asked.folder, asked.query)
    typed = {field.key: field.typed for field in so_far.fields}
    return {"so_far": so_far, "typed": typed, "told": partial(_told, so_far.drawn)}


def keep_blank(asked: Asked) -> Response:
    """Keep a measured blank, for this order or for all."""
    where: Literal["order", "shop"] = "shop" if asked.form.get("where") == "shop" else "order"
    kept = keep_measured(asked.folder, asked.form, where)
    return asked.on(asked.at("cups", "blank"), words.blank_kept(kept.blank.name))


# Layouts


def layouts(asked: Asked) -> Response:
    """Show what each layout makes of the order's own names."""
    asked.desk.warm.begin(get_ready, asked.folder)
    return asked.page(
        "layouts.html",
        layouts=layouts_for(asked.folder),
        amiss=suiting(asked.folder),
        motifs=[each.name for each in ornaments(kind="motif")],
        now=arranged(asked.folder),
    )


def take_layout(asked: Asked) -> Response:
    """Let the order be made with another layout."""
    offered, wanted = layouts_for(asked.folder), asked.form.get("layout", "")
    chosen = next((each for each in offered if each.name == wanted), None)
    if chosen is None:
        raise InputError(words.NO_SUCH_LAYOUT)
    was = _taken(asked)
    arrange(asked.folder, layout=wanted or None, saw=asked.form.get("saw"))
    return asked.on(
        asked.at("cups", "layout"), words.layout_taken(chosen.layout.name), _back(asked, was)
    )


def take_motif(asked: Asked) -> Response:
    """Put another drawing into the slots of the order's layout."""
    was, motif = arranged(asked.folder).motif, asked.form.get("motif", "")
    arrange(asked.folder, motif=motif, saw=asked.form.get("saw"))
    back = {"motif": was, "saw": seen(asked.folder)}
    undo = Undo(words.UNDO_CHANGE, asked.at("cups", "motif"), back)
    return asked.on(asked.at("cups", "layout"), words.motif_taken(motif), undo)


def _taken(asked: Asked) -> Layout | None:
    return next((each.layout for each in layouts_for(asked.folder) if each.is_taken), None)


def _back(asked: Asked, was: Layout | None) -> Undo | None:
    """Return how to take the layout back that the order had.

    One that stood in the order's own file has got a name by now.
    """
    again = next((each.name for each in layouts_for(asked.folder) if each.layout == was), "")
    if not again:
        return None
    fields = {"layout": again, "saw": seen(asked.folder)}
    return Undo(words.UNDO_CHANGE, asked.at("cups", "layout"), fields)


@dataclass(frozen=True, slots=True)
class Changed:
    """A layout as a page changes it."""

    base: str
    said: Mapping[str, str]

    @property
    def query(self) -> str:
        """What an address ends with that is about this."""
        return urlencode({"layout": self.base, **self.said})


_KEYS = re.compile(
    r"(?:face|visible_angle|stacking|line|ornament|border"
    r"|line\.\d\d?(?:\.(?:text|font|weight|letter_height\.max|letter_height\.min|sizing|lines|gap"
    r"|case|tracking|monogram|face|height|arc\.radius|arc\.bow|ring\.height|ring\.fill|ring\.repeat))?"
    r"|ornament\.\d\d?(?:\.(?:drawing|motif|line|place|width|height|gap|mirrored))?"
    r"|border\.\d\d?(?:\.(?:drawing|motif|height|size|gap))?)"
)
"""What a page may say of a layout."""


def _changed(asked: Asked, values: Mapping[str, str]) -> Changed:
    """Return what a page says of a layout; fonts and drawings are those to choose from alone."""
    base = values.get("layout", "")
    said = {key: text for key, text in values.items() if _KEYS.fullmatch(key)}
    drawings = _drawings(asked, base)
    known = {"font": _fonts(asked, base), "drawing": drawings, "motif": [OPEN, *drawings]}
    for key, text in said.items():
        choices = known.get(key.rpartition(".")[2])
        if choices is not None and text and text not in choices:
            raise InputError(words.not_to_choose_from(text))
    if (more := values.get("add", "")) in KINDS:
        said = dict(with_another(asked.folder, base, said, more))
    return Changed(base, said)


def _fonts(asked: Asked, base: str) -> list[str]:
    began = draft(asked.folder, base).tables
    own = (line["font"] for line in began["line"])
    return list(dict.fromkeys([*own, *(font.name for font in fonts())]))


def _drawings(asked: Asked, base: str) -> list[str]:
    began = draft(asked.folder, base).tables
    own = [
        each[key]
        for kind in ("ornament", "border")
        for each in began.get(kind, [])
        for key in ("drawing", "motif")
        if each.get(key, OPEN) != OPEN
    ]
    return list(dict.fromkeys([*own, *(each.name for each in ornaments())]))


def change_layout(asked: Asked) -> Response:
    """Show a layout to be changed."""
    changed = _changed(asked, asked.query)
    now = draft(asked.folder, changed.base, changed.said)
    values = _tried(asked, changed)
    if values["tried"] is not None:
        about = asked.folder, changed.base, changed.said
        lines = range(1, len(now.tables["line"]) + 1)
        each = [(*about, line, font.name) for line in lines for font in fonts()]
        asked.desk.warm.begin_each(try_font, each)
    return asked.page(
        "layout.html",
        now=now,
        value=partial(_value, now.tables),
        fonts=_fonts(asked, changed.base),
        drawings=_drawings(asked, changed.base),
        open_slot=OPEN,
        fields=fields_for(asked.folder),
        **values,
    )


def _value(tables: Mapping[str, Any], key: str) -> str:
    """Return what a layout says by a key, as one would type it."""
    here: Any = tables
    for part in key.split("."):
        here = here[int(part) - 1] if part.isdecimal() else here.get(part, "")
        if here == "":
            return ""
    return str(here).lower() if isinstance(here, bool) else str(here)


def _tried(asked: Asked, changed: Changed) -> dict[str, Any]:
    """Return what a layout would come to, or why it would be none, for a page."""
    tried, told = None, ""
    try:
        tried = asked.desk.warm.call(try_layout, asked.folder, changed.base, changed.said)
    except InputError as error:
        told = words.told(error)
    return {"changed": changed, "tried": tried, "told": told, "saw": seen(asked.folder)}


def tried_layout(asked: Asked) -> Response:
    """Show what a changed layout would come to."""
    return asked.page("tried_layout.html", **_tried(asked, _changed(asked, asked.query)))


def layout_picture(asked: Asked) -> Response:
    """Return a cup as it would be with a layout."""
    changed, which = _changed(asked, asked.query), asked.query.get("which", "0")
    if which not in ("0", "1", "2"):
        raise InputError(words.NO_SUCH_PICTURE)
    tried: TriedLayout = asked.desk.warm.call(
        try_layout, asked.folder, changed.base, changed.said, int(which)
    )
    if not tried.cups:
        raise InputError(words.NO_SUCH_PICTURE)
    return Response(tried.cups[0].picture.png, media_type="image/png")


def fonts_of_line(asked: Asked) -> Response:
    """Show the fonts for a line, each in its own letters."""
    changed, number = _changed(asked, asked.query), _number(asked)
    return asked.page(
        "fonts.html",
        changed=changed,
        number=number,
        choices=asked.desk.warm.call(fonts_for, asked.folder, changed.base, changed.said, number),
    )


def font_letters(asked: Asked) -> Response:
    """Return a picture of a font's letters."""
    changed, font = _changed(asked, asked.query), asked.query.get("font", "")
    if font not in _fonts(asked, changed.base):
        raise InputError(words.not_to_choose_from(font))
    found: Picture = asked.desk.warm.call(
        font_picture, asked.folder, changed.base, changed.said, _number(asked), font
    )
    return Response(found.png, media_type="image/png")


def _number(asked: Asked) -> int:
    text = asked.query.get("of", "1")
    return int(text) if text.isdecimal() and len(text) < 3 else 0


def keep(asked: Asked) -> Response:
    """Keep a changed layout as one's own, and make the order with it."""
    changed, form = _changed(asked, asked.form), asked.form
    was = _taken(asked)
    where: Literal["order", "shop"] = "shop" if form.get("where") == "shop" else "order"
    name = form.get("name", "")
    keep_layout(asked.folder, name, changed.base, changed.said, where, saw=form.get("saw"))
    here = asked.at("cups", "layout")
    return asked.on(here, words.layout_kept(name), _back(asked, was))


ROUTES = [
    get("/orders/{key}/cups/blank", blank),
    post("/orders/{key}/cups/blank", take_blank),
    get("/orders/{key}/cups/measure", measure),
    get("/orders/{key}/cups/measure/drawn", drawn),
    post("/orders/{key}/cups/measure", keep_blank),
    get("/orders/{key}/cups/layout", layouts),
    post("/orders/{key}/cups/layout", take_layout),
    post("/orders/{key}/cups/motif", take_motif),
    get("/orders/{key}/cups/layout/change", change_layout),
    get("/orders/{key}/cups/layout/tried", tried_layout),
    get("/orders/{key}/cups/layout/cup.png", layout_picture),
    get("/orders/{key}/cups/layout/fonts", fonts_of_line),
    get("/orders/{key}/cups/layout/font.png", font_letters),
    post("/orders/{key}/cups/layout/keep", keep),
]
