"""Cups: every cup as a picture, those that need a hand first."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any
from urllib.parse import urlencode

from starlette.responses import Response

from mailmerge import deeds
from mailmerge.deeds.status import Record, Standing, history, waits_for
from mailmerge.desk import words
from mailmerge.desk.asking import Asked, Undo, get, is_number, post
from mailmerge.desk.finding import plain, stretch
from mailmerge.desk.work import Pressed, about_item
from mailmerge.findings import InputError, Severity
from mailmerge.units import parse_length

if TYPE_CHECKING:
    from mailmerge.deeds.cut import Picture
    from mailmerge.deeds.trying import Change, Outcome, Own, TooLong


@dataclass(frozen=True)
class Shelf:
    """The cups of an order in the order in which they are looked at, and which of them are."""

    show: str
    """``hand`` for those that need one, a standing, or ``""`` for all."""
    name: str
    """What was searched for."""
    all_of_them: tuple[Record, ...]

    @property
    def records(self) -> list[Record]:
        """Those that are looked at."""
        wanted = plain(self.name)
        return [
            each
            for each in self.all_of_them
            if self._is_of(each, self.show) and wanted in plain(_told(each))
        ]

    @property
    def choices(self) -> dict[str, int]:
        """How many cups there are of each choice that has any, all of them first."""
        found = {
            choice: sum(self._is_of(each, choice) for each in self.all_of_them)
            for choice in ("", "hand", *Standing)
        }
        return {choice: count for choice, count in found.items() if count or not choice}

    @property
    def query(self) -> str:
        """What an address ends with, so that it looks at the same cups; ``""`` for all."""
        asked = {"show": self.show, "name": self.name}
        told = urlencode({key: text for key, text in asked.items() if text})
        return f"?{told}" if told else ""

    def choosing(self, choice: str) -> str:
        """Return what an address ends with that looks at others."""
        return Shelf(choice, self.name, ()).query

    def beside(self, number: int) -> tuple[Record | None, Record | None]:
        """Return the cups before and after one; of all, where it is not one of those shown."""
        records = self.records
        if number not in [each.number for each in records]:
            records = list(self.all_of_them)
        at = [each.number for each in records].index(number)
        after = records[at + 1] if at + 1 < len(records) else None
        return (records[at - 1] if at else None), after

    def _is_of(self, record: Record, choice: str) -> bool:
        if choice == "hand":
            return _need(record) < _RANK[Severity.NOTE]
        return choice in ("", record.standing)


def _told(record: Record) -> str:
    return " ".join([str(record.number), record.name, *record.about.values()])


def _need(record: Record) -> int:
    """Return how much a cup needs a hand, least first."""
    if record.standing in _AT_ONCE:
        return _RANK[Severity.STOP]
    if record.standing is Standing.ENGRAVED:  # nothing helps it now
        return len(_RANK)
    worst = [_RANK[found.severity] for found in record.entry.findings]
    return min(worst, default=len(_RANK))


_RANK = {Severity.STOP: 0, Severity.WARNING: 1, Severity.NOTE: 2}
_AT_ONCE = (Standing.STOPPED, Standing.TO_CHANGE, Standing.DISAGREE, Standing.IN_QUESTION)


def _shelf(asked: Asked) -> Shelf:
    records = sorted(asked.glance.records, key=lambda each: (_need(each), each.number))
    return Shelf(asked.query.get("show", ""), asked.query.get("name", ""), tuple(records))


def cups(asked: Asked) -> Response:
    """Show the cups, a stretch of them at a time."""
    shelf = _shelf(asked)
    shown = stretch(shelf.records, asked.start)
    ready = sum(each.standing is not Standing.STOPPED for each in shelf.all_of_them)
    return asked.page("cups.html", shelf=shelf, shown=shown, ready=ready)


def cup(asked: Asked) -> Response:
    """Show one cup, large."""
    record, shelf = _record(asked), _shelf(asked)
    before, after = shelf.beside(record.number)
    pressed = asked.pressed(about_item(record.number))
    asked.desk.warm.begin(deeds.trying.get_ready, asked.folder)
    return asked.page(
        "cup.html",
        record=record,
        shelf=shelf,
        before=before,
        after=after,
        waits=waits_for(record),
        told=history(record, has_seals=False),
        pressed=pressed,
        is_pressed=(is_pressed := not all(work.is_refused for _, work in pressed)),
        # One that was taken is made now: after it others may lead out, or none has to.
        has_ways=not is_pressed and (record.standing is Standing.STOPPED or _is_out_of_set(record)),
    )


def _is_out_of_set(record: Record) -> bool:
    return not record.own and not all(line.in_set for line in record.entry.lines)


def ways(asked: Asked) -> Response:
    """Show what could be done about a cup, each way as a picture that is made when it is seen."""
    record = _record(asked)
    found = asked.desk.warm.call(deeds.trying.ways_out, asked.folder, record.number)
    shown = [(way, _query(way.change)) for way in found]
    lines = asked.desk.warm.call(deeds.trying.too_long, asked.folder, record.number)
    offered = deeds.offered.layouts_for(asked.folder) if lines else ()
    layout = next((each.name for each in offered if each.is_taken), "")
    smaller = [(line, _with_least(layout, line) if layout else "") for line in lines]
    return asked.page("ways.html", record=record, ways=shown, smaller=smaller)


def _with_least(layout: str, line: TooLong) -> str:
    """Return what a layout is asked for with, so that its least letter height lets a line in."""
    key = f"line.{line.number}.letter_height.min"
    return urlencode({"layout": layout, key: f"{line.fits_at:g} mm"})


def change(asked: Asked) -> Response:
    """Show what may be a cup's own: words, and how each line is set."""
    record = _record(asked)
    lines = asked.desk.warm.call(deeds.trying.settable, asked.folder, record.number)
    return asked.page("change.html", record=record, lines=lines)


def tried(asked: Asked) -> Response:
    """Show what a change would come to."""
    record, wanted, outcome = _tried(asked)
    return asked.page(
        "tried.html", record=record, outcome=outcome, fields=_fields(wanted), query=_query(wanted)
    )


def tried_picture(asked: Asked) -> Response:
    """Return the picture of what a change would come to."""
    _, _, outcome = _tried(asked)
    return Response(outcome.picture.png, media_type="image/png")


def _tried(asked: Asked) -> tuple[Record, Change, Outcome]:
    record = _record(asked)
    wanted = _change(asked.query, record)
    return (
        record,
        wanted,
        asked.desk.warm.call(deeds.trying.preview, asked.folder, record.number, wanted),
    )


def take(asked: Asked) -> Response:
    """Put a change on record, and make the cup so."""
    record = _record(asked)
    wanted = _change(asked.form, record)
    if wanted.own:
        return _set(asked, record, wanted.own[-1])
    return _correct(asked, record, wanted.texts)


def _correct(asked: Asked, record: Record, texts: Mapping[str, str]) -> Response:
    new = {field: text for field, text in texts.items() if text != record.about[field]}
    if not new:
        raise InputError(words.NOTHING_DIFFERENT)
    saw = {f: asked.form[f"saw-{f}"] for f in new if f"saw-{f}" in asked.form}
    wanted = [deeds.listing.Wanted(record.number, new, saw)]
    deeds.listing.see_correctable(asked.folder, wanted)
    _begin(
        asked,
        words.way(new),
        deeds.listing.correct,
        wanted=wanted,
        by=words.AT_DESK,
        several="wanted",
    )
    former = {f"text-{field}": record.about[field] for field in new}
    return _on(asked, words.new_words(new.values()), "take", former)


def _set(asked: Asked, record: Record, own: Own) -> Response:
    number, saw = record.number, asked.form.get("saw")
    deeds.apart.see_settable(asked.folder, number, own, saw)
    says = words.own_of(own.letter_height, own.rows, own.font)
    _begin(asked, says, deeds.apart.set_differently, number, own, words.AT_DESK, saw)
    return _on(asked, words.SET_APART, *_back_to(record, own.line))


def as_the_others(asked: Asked) -> Response:
    """Take back what is a cup's own."""
    record = _record(asked)
    _begin(
        asked, words.AS_THE_OTHERS_NOW, deeds.apart.set_as_the_others, record.number, words.AT_DESK
    )
    lines = [each.own.line for each in record.own]
    undo = _back_to(record, lines[0]) if len(lines) == 1 else ()
    return _on(asked, words.AS_THE_OTHERS_NOW, *undo)


def _back_to(record: Record, line: int) -> tuple[str, dict[str, str]]:
    """Return where a form is sent, and its fields, that sets a line as it is on record now."""
    former = next((each.own for each in record.own if each.own.line == line), None)
    return (
        ("take", _fields(deeds.trying.Change(own=(former,)))) if former else ("as-the-others", {})
    )


def _on(
    asked: Asked, said: str, place: str = "", fields: Mapping[str, str] | None = None
) -> Response:
    """Go on at the cup; where there is a place that takes the change back, offer that."""
    here = asked.at("cups", asked.parts["number"])
    undo = Undo(words.TAKE_BACK, f"{here}/{place}", fields or {}) if place else None
    return asked.on(here, said, undo)


def _begin(
    asked: Asked, says: str, deed: Callable[..., object], *given: object, **named: Any
) -> None:
    number = asked.parts["number"]
    asked.begin(
        words.CORRECTING, deed, *given,
        then=asked.at("cups", number), pressed=[Pressed(about_item(number), says)], **named,
    )  # fmt: skip


def _change(said: Mapping[str, str], record: Record) -> Change:
    """Return the change that an address or a form tells of.

    Raises
    ------
    InputError
        A number is none.
    """
    texts = {f: said[f"text-{f}"] for f in record.about if f"text-{f}" in said}
    if not is_number(said.get("line", "")):
        return deeds.trying.Change(texts)
    rows = tuple(row.strip() for row in said.get("rows", "").splitlines() if row.strip())
    own = deeds.trying.Own(
        int(said["line"]), _height(said.get("height", "")), rows, said.get("font", "")
    )
    others = tuple(each.own for each in record.own if each.own.line != own.line)
    return deeds.trying.Change(texts, (*others, own))


def _height(text: str) -> float | None:
    if not text:
        return None
    try:
        return parse_length(text)
    except ValueError as error:
        raise InputError(str(error)) from None


def _fields(change: Change) -> dict[str, str]:
    """Return the fields that tell of a change."""
    fields = {f"text-{field}": text for field, text in change.texts.items()}
    for own in (change.own or ())[-1:]:
        height = f"{own.letter_height:g}" if own.letter_height else ""
        told = {"line": str(own.line), "height": height, "rows": "\n".join(own.rows),
                "font": own.font}  # fmt: skip
        fields |= {name: text for name, text in told.items() if text}
    return fields


def _query(change: Change) -> str:
    return f"?{urlencode(_fields(change))}"


def make(asked: Asked) -> Response:
    """Make the cups, or those that have changed."""
    then = asked.at("cups")
    asked.begin(words.MAKING_CUPS, deeds.making.merge, then=then)
    return asked.on(then)


def picture(asked: Asked) -> Response:
    """Return a picture of a cup; a browser keeps it as long as the cup looks so."""
    record, kind = _record(asked), asked.parts["kind"]
    found = _picture(asked, record, kind)
    kept = "private, max-age=31536000, immutable"
    is_meant = asked.parts["looks"] == record.looks
    return Response(
        found.png,
        media_type="image/png",
        headers={"Cache-Control": kept if is_meant else "no-store"},
    )


def _picture(asked: Asked, record: Record, kind: str) -> Picture:
    entry = record.entry
    match kind:
        case "cup":
            return deeds.cut.cup_picture(asked.folder, entry)
        case "proof":
            return deeds.cut.large_picture(asked.folder, entry)
        case "loading":
            return deeds.cut.loading_picture(asked.folder, entry)
        case "face":
            return asked.desk.warm.call(deeds.trying.close_by, asked.folder, entry, 0)
    raise InputError(words.NO_SUCH_PICTURE)


def _record(asked: Asked) -> Record:
    wanted = asked.parts["number"]
    found = next((each for each in asked.glance.records if each.number == wanted), None)
    if found is None:
        raise InputError(words.no_such_cup(wanted))
    return found


# What a picture looks like stands in its address, so that it can be kept for ever.
PICTURES = get("/orders/{key}/cups/{number:int}/{kind}-{looks}.png", picture)

ROUTES = [
    get("/orders/{key}/cups", cups),
    get("/orders/{key}/cups/{number:int}", cup),
    PICTURES,
    get("/orders/{key}/cups/{number:int}/ways", ways),
    get("/orders/{key}/cups/{number:int}/change", change),
    get("/orders/{key}/cups/{number:int}/try", tried),
    get("/orders/{key}/cups/{number:int}/try.png", tried_picture),
    post("/orders/{key}/cups/{number:int}/take", take),
    post("/orders/{key}/cups/{number:int}/as-the-others", as_the_others),
    post("/orders/{key}/make", make),
]
