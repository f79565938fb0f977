"""Client: the pack, what came back, what is open, and what people want changed."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from starlette.responses import Response, StreamingResponse

from mailmerge.deeds import client as deeds, making, trying
from mailmerge.deeds.arranging import arrange, arranged, languages
from mailmerge.deeds.client import MAX_BYTES, Accept, Answered, Message
from mailmerge.deeds.copies import Kept, copies, go_back
from mailmerge.deeds.interrupted import Press
from mailmerge.deeds.known import lent_list
from mailmerge.deeds.letters import Part, letters_apart
from mailmerge.deeds.sending import wrapped
from mailmerge.deeds.status import Record, Standing, history, opinions, waits_for
from mailmerge.deeds.talk import pack_page, reminders, talk
from mailmerge.deeds.trying import Outcome, preview
from mailmerge.desk import words
from mailmerge.desk.asking import Asked, get, is_number, post
from mailmerge.desk.work import Pressed, about_item, about_question
from mailmerge.findings import InputError

_APART = (
    "sandbox allow-scripts; default-src 'none'; img-src data:; style-src 'unsafe-inline'; "
    "script-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
"""What the client's page may do here: it runs apart from the desk, and reaches nothing of it."""


@dataclass(frozen=True)
class Change:
    """A text as it is and as somebody wants it, letter by letter."""

    field: str
    now: tuple[Part, ...]
    then: tuple[Part, ...]


@dataclass(frozen=True)
class Wish:
    """What one person wants of a cup."""

    by: str
    words: str
    texts: Mapping[str, str]
    """As they want them, by field; empty where that is not known."""
    changes: tuple[Change, ...]


def wishes_for(record: Record) -> Iterator[Wish]:
    """Yield what people want of a cup, each with the letters that would change."""
    for objection in record.said.objections:
        texts = {f: t for f, t in objection.wanted.items() if f in record.about}
        changes = (Change(f, *letters_apart(record.about[f], text)) for f, text in texts.items())
        yield Wish(objection.said_by, objection.words, texts, tuple(changes))


def client(asked: Asked) -> Response:
    """Show where the talk with the client stands."""
    if asked.is_making and not asked.glance.has_cups:
        return asked.page("client_none.html", told="", kept=())
    try:
        found = talk(asked.folder)
    except InputError as error:
        return asked.page("client_none.html", told=str(error), kept=_records(asked))
    return asked.page(
        "client.html",
        talk=found,
        # What somebody wants changed stands above it, and waits for the maker first.
        open=[each for each in found.open if not each.record.wish],
        wishes=[(record, tuple(wishes_for(record))) for record in found.wishes],
        by_number={record.number: record for record in asked.glance.records},
        reminders=reminders(asked.folder),
        arranged=arranged(asked.folder),
        languages=languages(),
        opinions=opinions,
        today=dt.date.today(),
        most=MAX_BYTES,
        is_packing=words.MAKING_PACK in asked.doing,
    )


def one(asked: Asked) -> Response:
    """Show one cup: what was said about it, and when."""
    record = _record(asked, asked.parts["number"])
    return asked.page(
        "client_one.html",
        record=record,
        wishes=tuple(wishes_for(record)),
        opinions=opinions,
        waits_for=waits_for(record),
        history=history(record, has_seals=False),
        corrected=[
            each
            for each in {c.field: c for c in record.corrections}.values()
            if record.about.get(each.field) == each.text != each.was
        ],
        people=arranged(asked.folder).client.people,
        today=dt.date.today(),
    )


def _record(asked: Asked, number: int) -> Record:
    found = next((each for each in asked.glance.records if each.number == number), None)
    if found is None:
        raise InputError(words.no_such_cup(number))
    return found


# The pack


def pack(asked: Asked) -> Response:
    """Make the pack, for whom and in the language that the form says."""
    _see_free(asked)
    form = asked.form
    arrange(
        asked.folder,
        people=[name for name in map(str.strip, form.get("people", "").splitlines()) if name],
        needs="all" if form.get("needs") == "all" else "one",
        language=form.get("language"),
        saw=form.get("saw"),
    )
    then = asked.at("client")
    asked.begin(
        words.MAKING_PACK, deeds.proof,
        then=then, everything="everything" in form,
    )  # fmt: skip
    return asked.on(then)


def seen(asked: Asked) -> Response:
    """Return the page that goes to the client, as it is, apart from the desk."""
    headers = {
        "Content-Security-Policy": _APART,
        # A page that is kept apart may not ask for more apartness: a browser shows it not at all.
        "Cross-Origin-Opener-Policy": "unsafe-none",
    }
    return Response(pack_page(asked.folder), media_type="text/html", headers=headers)


def save(asked: Asked) -> Response:
    """Return the pack as one file."""
    found = wrapped(asked.folder)
    headers = {"Content-Disposition": f'attachment; filename="{found.name}"'}
    return StreamingResponse(found.parts, media_type="application/zip", headers=headers)


# What came back


def came(asked: Asked) -> Response:
    """Take in a file that came back, or a message."""
    _see_free(asked)
    if "file" in asked.files:
        upload = asked.upload("file")
        if len(upload.data) > MAX_BYTES:
            raise InputError(words.too_large(MAX_BYTES))
        with lent_list(upload.name, upload.data) as file:
            taken = deeds.answers(asked.folder, file)
    elif text := asked.form.get("text"):
        if len(text.encode()) > MAX_BYTES:
            raise InputError(words.too_large(MAX_BYTES))
        taken = deeds.answers(asked.folder, Message(text, words.PASTED))
    else:
        raise InputError(words.NOTHING_CAME)
    return asked.on(f"{asked.at('client', 'came')}?of={asked.desk.lay(taken)}")


def what_came(asked: Asked) -> Response:
    """Show what was understood of what came back."""
    taken = asked.desk.laid(asked.query.get("of", ""))
    if not isinstance(taken, Answered):
        return asked.on(asked.at("client"))
    return asked.page("client_came.html", taken=taken, waits_for=waits_for)


# Wishes, a yes by telephone, questions


def accept(asked: Asked) -> Response:
    """Put other texts on a cup, and make it again."""
    saw = _chosen(asked)
    record = _record(asked, next(iter(saw), 0))
    typed = {
        name.removeprefix("text."): text
        for name, text in asked.form.items()
        if name.startswith("text.")
    }
    texts = {field: text for field, text in typed.items() if text != record.about.get(field)}
    if not texts:
        raise InputError(words.NOTHING_TYPED)
    wishes = Accept((record.number,), texts, asked.form.get("by", ""), saw)
    then = asked.at("client")
    pressed = [Pressed(about_item(record.number), words.way(texts))]
    asked.begin(words.making_again(record.name), deeds.accept, wishes, then=then, pressed=pressed)
    return asked.on(then)


def decide(asked: Asked) -> Response:
    """Leave a cup as it is, though somebody wants it changed."""
    form, saw, then = asked.form, _chosen(asked), asked.at("client")
    decided = asked.in_turn(
        words.STAYS_SO, map(about_item, saw), deeds.decide, [*map(str, saw)], form.get("by", ""),
        form.get("because", ""), saw, then=then,
    )  # fmt: skip
    if decided is None:
        return asked.on(then, words.COMES_IN_TURN)
    told = [words.stays(record.name, waits_for(record)) for record in decided]
    return asked.on(then, " ".join(told))


def confirm(asked: Asked) -> Response:
    """Put a yes on record that came another way."""
    saw, then = _chosen(asked), asked.at("client")
    done = asked.in_turn(
        words.YES_COMES, map(about_item, saw), deeds.confirm, [*map(str, saw)],
        asked.form.get("by", ""), _said_on(asked), saw, then=then,
    )  # fmt: skip
    if done is None:
        return asked.on(then, words.COMES_IN_TURN)
    names = [record.name for record in done.records]
    return asked.on(then, words.confirmed(names, len(done.unseen)))


def settle(asked: Asked) -> Response:
    """Settle a question and go on where its cups wait; a guest who came late gets one at once."""
    form, as_guest, then = asked.form, "as_guest" in asked.form, asked.at("client")
    number = _number(form.get("question", ""))
    done = asked.in_turn(
        words.AS_GUEST if as_guest else words.SETTLED_SO, [about_question(number)], deeds.settle,
        number, form.get("by", ""), form.get("because", ""), as_guest, then=then,
    )  # fmt: skip
    if as_guest:
        again = Press(words.MAKING_CUPS, asked.at("make"), {})
        asked.begin(words.MAKING_CUPS, making.merge, then=then, sent=again)
    if done is None:
        return asked.on(then, words.COMES_IN_TURN)
    if as_guest:
        return asked.on(then, words.question_settled(number))
    # Nothing was kept at hand since: what the question has held stands otherwise now.
    ready = sum(r.standing in (Standing.CONFIRMED, Standing.SPOILED) for r in asked.glance.records)
    is_last = asked.glance.status is not None and not asked.glance.status.questions
    told = words.question_settled(number, ready)
    return asked.on(asked.at("bench") if ready and is_last else then, told)


def wished(asked: Asked) -> Response:
    """Return the picture of a cup as it would be with other texts."""
    found = _tried(asked)
    headers = {"Cache-Control": "private, max-age=3600"}
    return Response(found.picture.png, media_type="image/png", headers=headers)


def tried(asked: Asked) -> Response:
    """Show a cup with texts that somebody is typing, and what is to be said about it."""
    found = _tried(asked)
    return asked.page("client_tried.html", found=found, picture=asked.desk.lay(found))


def tried_picture(asked: Asked) -> Response:
    """Return the picture of a cup that was tried."""
    found = asked.desk.laid(asked.parts["name"])
    if not isinstance(found, Outcome):
        raise InputError(words.LONG_GONE)
    return Response(found.picture.png, media_type="image/png")


def _tried(asked: Asked) -> Outcome:
    """Return what a cup would be with the texts that the address tells of."""
    of_texts = "text."
    texts = {
        name.removeprefix(of_texts): text
        for name, text in asked.query.items()
        if name.startswith(of_texts)
    }
    return asked.desk.warm.call(preview, asked.folder, asked.parts["number"], trying.Change(texts))


def _see_free(asked: Asked) -> None:
    """See that what follows a change can begin, before anything is changed."""
    work = asked.desk.works.of(asked.order.key)
    if work is not None and work.is_at_work:
        raise InputError(words.at_work_already(work.doing))


def _chosen(asked: Asked) -> dict[int, str]:
    """Return the cups that a form is about, and each as its page showed it: ``7:...``."""
    told = [text.partition(":") for text in asked.several.get("item", ())]
    return {_number(number): heard for number, _, heard in told}


def _number(text: str) -> int:
    if not is_number(text):
        raise InputError(words.NO_SUCH_CHOICE)
    return int(text)


def _said_on(asked: Asked) -> dt.datetime | None:
    text = asked.form.get("on", "")
    try:
        return deeds.end_of(dt.date.fromisoformat(text)) if text else None
    except ValueError:
        raise InputError(words.no_day(text)) from None


# Earlier records


def records(asked: Asked) -> Response:
    """Show the records that the order can go on with."""
    status = asked.glance.status
    is_amiss = status is None or bool(status.tray.amiss)
    return asked.page("client_records.html", kept=_records(asked), is_amiss=is_amiss)


def back(asked: Asked) -> Response:
    """Go on with a record that is chosen."""
    _see_free(asked)
    done = go_back(asked.folder, asked.form.get("name", ""))
    return asked.on(asked.at("client"), words.went_back(done.to is not None, len(done.aside)))


def _records(asked: Asked) -> list[Kept]:
    try:
        return copies(asked.folder)
    except InputError:
        return []


ROUTES = [
    get("/orders/{key}/client", client),
    post("/orders/{key}/client/pack", pack),
    get("/orders/{key}/client/pack/page", seen),
    get("/orders/{key}/client/pack/file", save),
    post("/orders/{key}/client/came", came),
    get("/orders/{key}/client/came", what_came),
    post("/orders/{key}/client/accept", accept),
    post("/orders/{key}/client/decide", decide),
    post("/orders/{key}/client/confirm", confirm),
    post("/orders/{key}/client/settle", settle),
    get("/orders/{key}/client/records", records),
    post("/orders/{key}/client/records/back", back),
    get("/orders/{key}/client/{number:int}", one),
    get("/orders/{key}/client/{number:int}/as.png", wished),
    get("/orders/{key}/client/{number:int}/tried", tried),
    get("/orders/{key}/client/tried/{name}.png", tried_picture),
]
