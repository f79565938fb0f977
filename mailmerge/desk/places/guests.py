"""List: the client's rows as they came, what was found beside them, and ways out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import partial
from typing import Any
from urllib.parse import urlencode

from starlette.responses import Response

from mailmerge.deeds import beginning, listing, making, newer
from mailmerge.deeds.listing import Listed, ListedRow, Wanted
from mailmerge.deeds.questions import Choices, Question
from mailmerge.deeds.status import Standing
from mailmerge.desk import words
from mailmerge.desk.asking import Asked, get, is_number, post
from mailmerge.desk.finding import plain, stretch
from mailmerge.desk.work import Deed, Pressed, Work, about_item, about_text
from mailmerge.findings import InputError


def rows(asked: Asked) -> Response:
    """Show the list, a stretch at a time: what needs a hand first, or all rows as they came."""
    found = listing.listed(asked.folder)
    engraved = {r.number for r in asked.glance.records if r.standing is Standing.ENGRAVED}
    in_need = sorted(
        (row for row in found.rows if row.worst < _NOTE and not _exist(row, engraved)),
        key=lambda row: row.worst,
    )
    put_right = [row for row in found.rows if (row.corrections or row.meant) and row not in in_need]
    is_all, name = asked.query.get("show") == "all", asked.query.get("name", "")
    looked_at = [row for row in (found.rows if is_all else in_need) if plain(name) in _told(row)]
    return asked.page(
        "guests.html",
        found=found,
        shown=stretch(looked_at, asked.start),
        put_right=() if is_all else put_right,
        in_need=len(in_need),
        guests=sum(row.fate == "guests" for row in found.rows),
        cups=len(asked.glance.records) if found.is_current else sum(map(_cups, found.rows)),
        is_all=is_all,
        name=name,
        pressed=partial(pressed, asked),
        together=tuple(_together(asked, found)),
        former=newer.former_lists(asked.folder),
        laid=beginning.laid_lists(asked.order.key),
    )


def _together(
    asked: Asked, found: Listed
) -> Iterator[tuple[str, list[tuple[ListedRow, Mapping[str, str]]]]]:
    """Yield what can be put right in several rows at once: its code, and each row's new texts."""
    for each in found.together:
        both = zip(each.rows, each.texts, strict=True)
        left = [(row, texts) for row, texts in both if not pressed(asked, row)]
        if len(left) > 1:
            yield each.code, left


def _exist(row: ListedRow, engraved: set[int]) -> bool:
    """Whether all cups of a row exist: nothing helps them now."""
    return bool(row.items) and engraved.issuperset(row.items)


def _cups(row: ListedRow) -> int:
    if row.fate != "guests":
        return 0
    told = row.texts.get("quantity", "")
    return len(row.items) or (int(told) if is_number(told) else 1)


def pressed(asked: Asked, row: ListedRow) -> list[tuple[Pressed, Work]]:
    """Return what was pressed in a row and is to come, or was refused."""
    texts = {*row.texts.values(), *row.meant}
    return asked.pressed(*map(about_item, row.items), *map(about_text, texts))


def _told(row: ListedRow) -> str:
    return plain(" ".join([str(row.number), *row.cells, *row.texts.values()]))


_NOTE = 2
"""The weight of what needs no hand."""


def correct(asked: Asked) -> Response:
    """Put other texts in the place of the list's."""
    numbers = asked.several.get("item", ())
    if not numbers or not all(is_number(number) for number in numbers):
        raise InputError(words.NOTHING_NEW)
    wanted = [each for each in (_wanted(asked, number) for number in numbers) if each.texts]
    if not wanted:
        raise InputError(words.NOTHING_NEW)
    listing.see_correctable(asked.folder, wanted)
    pressed = [Pressed(about_item(each.item), words.way(each.texts)) for each in wanted]
    return _begin(
        asked, pressed, listing.correct, wanted=wanted, by=words.AT_DESK, several="wanted"
    )


def _begin(
    asked: Asked, pressed: Iterable[Pressed], deed: Deed, *given: object, **named: Any
) -> Response:
    """Let the cups be made so, and go on at the row, which says what was pressed."""
    then = _here(asked)
    asked.begin(
        words.CORRECTING, deed, *given, then=then, pressed=pressed,
        **named,
    )  # fmt: skip
    return asked.on(then)


def _wanted(asked: Asked, number: str) -> Wanted:
    """Return what a form says about a guest: each field beside what was seen of it."""
    text, saw = f"text-{number}-", f"saw-{number}-"
    seen = {name.removeprefix(saw): was for name, was in asked.form.items() if name.startswith(saw)}
    texts = {
        name.removeprefix(text): now for name, now in asked.form.items() if name.startswith(text)
    }
    new = {name: now for name, now in texts.items() if now != seen.get(name)}
    return Wanted(int(number), new, {name: seen[name] for name in new if name in seen})


def split(asked: Asked) -> Response:
    """Give each of two people in one row a cup."""
    number, form = asked.form.get("item", ""), asked.form
    if not is_number(number):
        raise InputError(words.NOTHING_NEW)
    names = form.get("one", ""), form.get("other", "")
    listing.see_split(asked.folder, int(number), names, form.get("saw"))
    pressed = [Pressed(about_item(int(number)), words.a_cup_each(names))]
    return _begin(asked, pressed, listing.split, int(number), names, words.AT_DESK, form.get("saw"))


def take_back(asked: Asked) -> Response:
    """Let the list's own text hold again."""
    number, field = asked.form.get("item", ""), asked.form.get("field", "")
    if not is_number(number):
        raise InputError(words.NOTHING_NEW)
    pressed = [Pressed(about_item(int(number)), words.as_in_list(asked.form.get("was", "")))]
    return _begin(asked, pressed, listing.take_back, int(number), field, words.AT_DESK)


def mean(asked: Asked) -> Response:
    """Say that a text is meant just so, or take that back."""
    text = asked.form.get("text", "")
    is_back = "back" in asked.form
    (listing.mean_no_longer if is_back else listing.mean_so)(asked.folder, text)
    says = words.is_meant_no_longer(text) if is_back else words.is_meant_so(text)
    return _begin(asked, [Pressed(about_text(text), says)], making.merge)


def lay_by(asked: Asked) -> Response:
    """Take in a newer version of the list, and show what has changed."""
    upload = asked.upload("list")
    return _lie(asked, upload.name, upload.data)


def to_fill_in(asked: Asked) -> Response:
    """Give out a form for the list, to be sent to the client."""
    from mailmerge.deeds import form

    kind = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
    saved = {"Content-Disposition": f'attachment; filename="{form.FORM}"'}
    return Response(form.form_to_send(asked.folder), media_type=kind, headers=saved)


def former(asked: Asked) -> Response:
    """Show what has changed since a former list, before it is taken again."""
    name = asked.form.get("name", "")
    data = newer.former_list(asked.folder, name)
    return _lie(asked, name.partition(" ")[2], data)


def _lie(asked: Asked, name: str, data: bytes) -> Response:
    """Keep a list until it is taken, and go on where it is compared."""
    key = beginning.lay_by(name, data, asked.order.key)
    return asked.on(asked.at("list", "newer", key))


def compare(asked: Asked) -> Response:
    """Show guest by guest what a newer list would change, or ask who is who."""
    key = asked.parts["laid"]
    file = beginning.laid(key, asked.order.key)
    found = newer.compare_list(asked.folder, file, _choices(asked.query))
    values = {"key": key, "file": file.name, "choices": _said(asked.query)}
    if isinstance(found, Question):
        ways = [(option.words, urlencode(_as_fields(option.answer))) for option in found.options]
        return asked.page("newer.html", question=found, ways=ways, found=None, **values)
    return asked.page("newer.html", question=None, ways=(), found=found, **values)


def take(asked: Asked) -> Response:
    """Take a newer list, or leave it."""
    key, form = asked.parts["laid"], asked.form
    if "leave" in form:
        beginning.let_go(key, asked.order.key)
        return asked.on(asked.at("list"), words.LIST_LEFT)
    found = newer.compare_list(asked.folder, beginning.laid(key, asked.order.key), _choices(form))
    if isinstance(found, Question) or found.seen != form.get("saw"):
        raise InputError(words.COMPARED_ANEW)
    then = asked.at("list")
    asked.begin(
        words.TAKING_LIST, newer.take_laid_list, key,
        choices=found.choices, saw=found.seen, then=then,
    )  # fmt: skip
    return asked.on(then)


def _choices(said: Mapping[str, str]) -> Choices:
    """Return what a page says about guests who could be several."""
    pairs = [each.partition(":") for each in said.get("same", "").split(",") if each]
    gone = [each for each in said.get("gone", "").split(",") if each]
    if not all(is_number(a) and is_number(b) for a, _, b in pairs) or not all(
        is_number(each) for each in gone
    ):
        raise InputError(words.COMPARED_ANEW)
    return Choices({int(a): int(b) for a, _, b in pairs}, frozenset(map(int, gone)))


def _as_fields(choices: Choices) -> dict[str, str]:
    same = ",".join(f"{item}:{row}" for item, row in choices.same.items())
    return {"same": same, "gone": ",".join(map(str, sorted(choices.gone)))}


def _said(query: Mapping[str, str]) -> dict[str, str]:
    return {name: query.get(name, "") for name in ("same", "gone")}


def _here(asked: Asked) -> str:
    seen = {name: asked.form[name] for name in ("show", "name", "start") if asked.form.get(name)}
    row = asked.form.get("row", "")
    at = f"#row-{row}" if is_number(row) else ""
    return asked.at("list") + (f"?{urlencode(seen)}" if seen else "") + at


ROUTES = [
    get("/orders/{key}/list", rows),
    get("/orders/{key}/list/form.xlsx", to_fill_in),
    post("/orders/{key}/list/correct", correct),
    post("/orders/{key}/list/split", split),
    post("/orders/{key}/list/take-back", take_back),
    post("/orders/{key}/list/mean", mean),
    post("/orders/{key}/list/newer", lay_by),
    post("/orders/{key}/list/former", former),
    get("/orders/{key}/list/newer/{laid}", compare),
    post("/orders/{key}/list/newer/{laid}", take),
]
