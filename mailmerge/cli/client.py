"""Commands between the proofs and the client's yes: show, take answers, confirm, look."""

from __future__ import annotations

import datetime as dt
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from mailmerge.cli import words
from mailmerge.cli.app import CLIENT, command
from mailmerge.cli.changes import (
    GoneOption,
    JobsOption,
    SameOption,
    choices_of,
    say_if_changed,
    settled,
)
from mailmerge.cli.common import (
    READY,
    STOPPED,
    FolderArgument,
    ItemsArgument,
    JsonOption,
    PaperOption,
    named,
    new_console,
    print_json,
    print_table,
    safe,
    say_causes,
    say_tray,
)
from mailmerge.cli.handing import say_account
from mailmerge.findings import InputError
from mailmerge.units import numbers_as_typed

if TYPE_CHECKING:
    from mailmerge.deeds.client import Accept, Answered, Message, Proofed
    from mailmerge.deeds.paying import Sum
    from mailmerge.deeds.status import Account, Forgotten, OpenQuestion, Record, Status


@command(CLIENT, "proof gala", "proof gala --all --paper Letter")
def proof(
    order: FolderArgument,
    everything: Annotated[
        bool, typer.Option("--all", help="Also show what is answered already.")
    ] = False,
    paper: PaperOption = None,
    jobs: JobsOption = 0,
    same: SameOption = None,
    gone: GoneOption = None,
) -> None:
    """Make the proof pack to send to the client.

    The pack is a folder with a page to tick, a PDF, a list to fill in, and the pictures. Send
    whichever the client likes best.
    """
    from mailmerge.deeds import client

    made = settled(
        lambda choices, watch: client.proof(order, everything, paper, choices, jobs, watch),
        choices_of(same, gone),
    )
    say_if_changed(made.changes)
    say_causes(made.causes)
    if made.packed is None:
        _say_what_stands(made, order)
        raise typer.Exit(STOPPED if made.held else READY)
    _say_packed(made)
    raise typer.Exit(STOPPED if made.is_stopped else READY)


def _say_what_stands(made: Proofed, order: Path) -> None:
    typer.echo(words.NOTHING_NEW_TO_SHOW if made.held else words.NOTHING_OPEN)
    for record, why in made.held:
        typer.echo(words.held(named([record]), why))
        if record.wish:
            typer.echo(words.decide_or_accept(order, record.number))
    if any(record.wish for record, _ in made.held):
        typer.echo(words.shown_again(order))


def _say_packed(made: Proofed) -> None:
    assert made.packed is not None
    pack, sizes = made.packed.pack, made.packed.sizes
    typer.echo(words.proof_pack(pack.id, len(pack.cards), pack.open))
    for name, size in sizes.items():
        paper = made.paper.in_words if name.endswith(".pdf") else ""
        typer.echo(words.pack_file(size, made.folder / name, paper))
    typer.echo(words.pack_together(sum(sizes.values()), made.pictures))
    if pack.not_ready:
        typer.echo(words.not_in_pack(pack.not_ready))
    if missing := pack.language.missing:
        typer.echo(words.untranslated(pack.language.tag, len(missing)))
    typer.echo(words.answers_next(made.folder.parent))


@command(CLIENT, "wrap gala", "wrap gala --out outbox")
def wrap(
    order: FolderArgument,
    out: Annotated[
        Path | None, typer.Option(help="A file or a folder [default: this folder].")
    ] = None,
) -> None:
    """Make one file out of the proof pack, to send it."""
    from mailmerge.deeds import sending

    typer.echo(words.written_file(sending.wrap(order, out)))


@command(CLIENT, "remind gala")
def remind(order: FolderArgument) -> None:
    """Write texts that remind the client of what is still open.

    They are in the language of the proof pack. Copy them into a message; nothing is sent.
    """
    from mailmerge.deeds import talk

    told = talk.reminders(order)
    typer.echo(words.between_reminders([each.text for each in told]), nl=False)
    if not told:
        typer.echo(words.NOTHING_TO_REMIND)


@command(
    CLIENT,
    "answers gala answers.json",
    "answers gala < message.txt",
    "answers gala --accept all",
    'answers gala --accept 7 --text "name=Zoë Lind" --by "phone, 3 Dec"',
)
def answers(
    order: FolderArgument,
    file: Annotated[
        Path | None,
        typer.Argument(
            metavar="FILE",
            help="What came back. Without it, or with -, the text on standard input.",
        ),
    ] = None,
    accept: Annotated[
        list[str] | None,
        typer.Option(
            metavar="ITEM", help="Record the wanted text of this item; all: wherever it is known."
        ),
    ] = None,
    text: Annotated[
        list[str] | None,
        typer.Option(
            metavar="FIELD=TEXT",
            help="With --accept: the new text of this item; TEXT alone if its field is plain.",
        ),
    ] = None,
    by: Annotated[str, typer.Option(help="With --accept: who said so.")] = "",
    jobs: JobsOption = 0,
    same: SameOption = None,
    gone: GoneOption = None,
) -> None:
    """Take in what the client sends back.

    That is the saved answers file, the text of a message, or the list with its column filled in.
    """
    from mailmerge.deeds import client

    wishes = _wishes(accept, _texts(text), by)
    came = _came(file) if file is not None or wishes is None else None
    done = settled(
        lambda choices, watch: client.answers(order, came, wishes, choices, jobs, watch),
        choices_of(same, gone),
    )
    if done.taken is not None:
        _say_taken(done)
    if wishes is not None:
        _say_accepted(done)
    taken = done.taken
    is_to_be_seen_to = taken and (taken.kept or taken.asked or done.disagreed)
    raise typer.Exit(STOPPED if is_to_be_seen_to else READY)


def _wishes(accept: list[str] | None, texts: dict[str, str], by: str) -> Accept | None:
    from mailmerge.deeds.client import Accept

    said = [word for text in accept or () for word in text.replace(",", " ").split()]
    named = [word for word in said if word.casefold() != "all"]
    for word in named:
        if not numbers_as_typed(word):
            raise InputError(words.bad_accept(word))
    numbers = tuple(number for word in named for number in numbers_as_typed(word))
    if named and len(named) < len(said):
        raise InputError(words.ACCEPT_ITEMS_OR_ALL)
    if texts and len(numbers) != 1:
        raise InputError(words.TEXT_NEEDS_ONE_ITEM)
    return Accept(numbers or None, texts, by) if said else None


def _texts(given: list[str] | None) -> dict[str, str]:
    texts: dict[str, str] = {}
    for each in given or ():
        field, found, text = each.partition("=") if "=" in each else ("", "", each)
        if not text.strip() or (found and not field.strip()):
            raise InputError(words.bad_text(each))
        texts[field.strip()] = text
    return texts


def _came(file: Path | None) -> Path | Message:
    """Return what came back: a file, or the text on standard input."""
    from mailmerge.deeds.client import MAX_BYTES, Message

    if file is not None and str(file) != "-":
        return file
    if sys.stdin.isatty():
        raise InputError(words.ANSWERS_MISSING)
    data = sys.stdin.buffer.read(MAX_BYTES + 1)
    return Message(data.decode("utf-8", errors="replace"), words.STANDARD_INPUT)


def _say_taken(done: Answered) -> None:
    from mailmerge.deeds.status import waits_for

    assert done.came is not None
    assert done.taken is not None
    taken = done.taken
    right = [each.item for each in taken.taken if each.verdict == "yes"]
    wishes = [each for each in taken.taken if each.verdict == "change"]
    came, again, kept = done.came, len(taken.again), len(taken.kept)
    typer.echo(words.answers(len(came.said), came.said_by, right, len(wishes), again, kept))
    for each in wishes:
        record = done.records[each.item]
        typer.echo(words.wish(each.item, record.name, each.words))
        if not came.is_exact:
            typer.echo(words.NOT_EXACT)
        _say_proposal(done.folder, record)
    for each, why in taken.kept:
        name = done.records[each.item].name
        if each.verdict == "yes":
            typer.echo(words.yes_not_counted(each.item, name, why))
        else:
            wanted = words.wanted(each.words, each.texts or {})
            typer.echo(words.wish_not_counted(each.item, name, why, wanted))
    for record in done.disagreed:
        typer.echo(words.still_open(named([record]), waits_for(record)))
        typer.echo(words.decide_or_accept(done.folder, record.number))
    if came.beside and not came.unclear:
        typer.echo(words.beside_the_answers(came.beside))
    if came.left_out:
        typer.echo(words.left_out(came.left_out))
    if taken.asked:
        typer.echo(words.asked_now(len(taken.asked), done.held))
        _say_questions(done.folder, taken.asked)
    if done.unanswered:
        typer.echo(words.unanswered(done.unanswered))
    if done.withdrawn:
        typer.echo(words.taken_back(done.withdrawn))
    if done.to_stop is not None:
        typer.echo(words.stop_the_machine(done.to_stop))


def _say_proposal(folder: Path, record: Record) -> None:
    wish = record.wish
    if wish is None:
        return
    if record.standing == "engraved":
        typer.echo(words.engraved_already(folder, record.number))
    if wish.wanted:
        typer.echo(words.proposal(wish.wanted, folder, record.number))
    else:
        typer.echo(words.unclear(record.about, folder, record.number))


def _say_accepted(done: Answered) -> None:
    if done.merged is None:
        typer.echo(words.NO_WISH_OPEN)
        _say_still_open(done.folder, [each for each in done.records.values() if each.wish])
        return
    for new in done.new_texts:
        typer.echo(words.new_text(new.numbers, new.field, new.text))
    say_if_changed(done.merged.changes)
    if done.engraved:
        typer.echo(words.engraved_with_old_text(done.engraved, done.folder))
    typer.echo(words.proof_next(done.folder))


@command(
    CLIENT,
    'confirm gala 3 7 12 --by "Ms Roth, phone"',
    'confirm gala 3 --by "Ms Roth, phone" --on "2026-11-24 09:30"',
)
def confirm(
    order: FolderArgument,
    items: ItemsArgument = None,
    by: Annotated[str, typer.Option(help='Who said yes, and how, such as "Ms Roth, phone".')] = "",
    on: Annotated[
        str | None,
        typer.Option(help="When it was said, such as 2026-12-05T09:30 [default: now]."),
    ] = None,
) -> None:
    """Record a yes that came by phone or in person.

    It closes no wish for a change: answer that with a new text, or decide.
    """
    from mailmerge.deeds import client

    done = client.confirm(order, items or (), by, _when(on))
    typer.echo(words.confirmed(named(done.records)))
    _say_still_open(order, done.records)
    if done.unseen:
        typer.echo(words.unseen(done.unseen))


def _when(on: str | None) -> dt.datetime | None:
    try:
        return dt.datetime.fromisoformat(on) if on is not None else None
    except ValueError:
        raise InputError(words.bad_time("--on", on or "")) from None


def _say_still_open(order: Path, records: Iterable[Record]) -> None:
    from mailmerge.deeds.status import waits_for

    for record in records:
        if record.wish or record.questions:
            typer.echo(words.still_open(named([record]), waits_for(record)))
        if record.wish:
            typer.echo(words.decide_or_accept(order, record.number))


@command(CLIENT, 'decide gala 7 --by "Ina Holm" --because "Both agreed on the phone: as it is"')
def decide(
    order: FolderArgument,
    items: ItemsArgument = None,
    by: Annotated[str, typer.Option(help="Who decides.")] = "",
    because: Annotated[str, typer.Option(help="Why. It goes on record.")] = "",
) -> None:
    """Leave a cup as it is, though somebody wants it changed.

    Only you can do that, and under your name. The cup still needs a yes.
    """
    from mailmerge.deeds import client
    from mailmerge.deeds.status import waits_for

    for record in client.decide(order, items or (), by, because):
        typer.echo(words.decided(named([record]), waits_for(record)))


@command(
    CLIENT,
    'settle gala 1 --by "Ina Holm" --because "Asked on the phone: item 7 only"',
    'settle gala 2 --guest --by "Ina Holm" --because "Ms Roth ordered one more cup"',
)
def settle(
    order: FolderArgument,
    question: Annotated[int, typer.Argument(help="The number of the question.")],
    by: Annotated[str, typer.Option(help="Who settles it.")] = "",
    because: Annotated[
        str, typer.Option(help="What you did, or why nothing is to be done. It goes on record.")
    ] = "",
    guest: Annotated[
        bool, typer.Option("--guest", help="It is a guest who came late: make them a cup.")
    ] = False,
) -> None:
    """Settle a question about something that came back and was not understood.

    Until then, the cups that it may concern are not released.
    """
    from mailmerge.deeds import client
    from mailmerge.deeds.status import waits_for

    done = client.settle(order, question, by, because, guest)
    typer.echo(words.settled(done.question.number))
    for record in done.records:
        typer.echo(words.settled_item(named([record]), waits_for(record)))
    if done.is_guest:
        typer.echo(words.guest_next(done.folder))


@command(CLIENT, "status gala", "status gala --json", looks=False)
def status(order: FolderArgument, as_json: JsonOption = False) -> None:
    """Show where every cup stands, and who said what, when."""
    from mailmerge.deeds.status import Forgotten, status as stands

    found = stands(order)
    if isinstance(found, Forgotten):
        _say_forgotten(found, as_json)
    elif as_json:
        print_json(_status_entry(found))
    else:
        _say_status(found)


def _status_entry(found: Status) -> dict[str, Any]:
    return {
        "order": {
            "id": found.order_id,
            "title": found.title,
            "up_to_date": found.is_current,
            "engine_up_to_date": found.is_engine_current,
        },
        "questions": [
            {
                "question": each.number,
                "items": list(each.items),
                "place": each.place,
                "words": each.words,
                "fields": dict(each.fields),
                "by": each.said_by,
                "at": each.at,
            }
            for each in found.questions
        ],
        "tray": {
            "not_on_record": found.tray.strangers,
            "missing": found.tray.missing,
            "stop_the_machine_for": found.tray.to_stop,
            "amiss": found.tray.amiss,
            "list_is_gone": found.tray.is_unlisted,
        },
        "changed_twice": found.marked,
        "items": [_item(record) for record in found.records],
        "totals": {**found.totals, "blanks_spoiled": found.spoiled, "here": len(found.here)},
        "account": _account(found.account),
    }


def _account(found: Account) -> dict[str, Any]:
    def told(amount: Sum | None) -> dict[str, str] | None:
        return {"amount": str(amount.amount), "currency": amount.currency} if amount else None

    payments = [
        {"payment": p.number, "part": p.part, "paid": told(p.paid), "way": p.way, "day": str(p.day)}
        for p in found.payments
    ]
    return {"agreed": told(found.agreed), "payments": payments, "open": told(found.open)}


def _say_status(found: Status) -> None:
    print_table([_row(record) for record in found.records], False)
    typer.echo("")
    _say_history(found)
    _say_questions(found.folder, found.questions)
    typer.echo(words.title_line(found.title, found.totals))
    if found.spoiled:
        typer.echo(words.blanks_spoiled(found.spoiled))
    if found.here or any(record.handed for record in found.records):
        here = named(found.here[: words.MOST_HERE])
        typer.echo(words.still_here(len(found.here), here))
    if not found.account.is_empty:
        say_account(found.account)
    say_tray(found.tray, found.folder, beside=False)
    if found.tray.amiss:
        typer.echo(words.amiss(found.tray.amiss))
    if found.marked:
        typer.echo(words.changed_twice(found.marked))
    if found.copies:
        typer.echo(words.copies_kept(len(found.copies), found.copies[0].at, found.folder))
    if not found.is_engine_current:
        typer.echo(words.program_updated(found.folder))
    if not found.is_current:
        typer.echo(words.list_changed(found.folder))


def _say_questions(folder: Path, questions: Sequence[OpenQuestion]) -> None:
    for each in questions:
        typer.echo(words.open_question(each.number, each.place, each.said_by, each.words))
    if questions:
        guest = next((each for each in questions if each.fields), None)
        told = guest or questions[0]
        typer.echo(words.settle_next(folder, told.number, guest is not None))


def _row(record: Record) -> dict[str, Any]:
    from mailmerge.deeds.status import last_word

    about = [text for field, text in record.about.items() if field != "name" and text]
    return {
        "item": record.number,
        "name": record.name,
        "text": ", ".join(about),
        "standing": str(record.standing),
        "last word": last_word(record),
    }


def _item(record: Record) -> dict[str, Any]:
    return {
        "item": record.number,
        "row": record.entry.row,
        "cup": record.cup,
        "name": record.name,
        "texts": dict(record.about),
        "blank": record.entry.blank,
        "coat": record.entry.coat,
        "standing": str(record.standing),
        "seal": record.seal,
        "wanted": dict(record.wish.wanted) if record.wish else None,
        "answers": [
            {
                "at": a.at, "said_at": a.said_at, "by": a.said_by, "way": a.way, "seal": a.seal,
                "answer": a.verdict, "words": a.words, "wanted": dict(a.wanted),
                "counts": a in record.said.opinions,
            }
            for a in record.answers
        ],
        "handed_over": (
            {"to": record.handed.to, "day": record.handed.day, "at": record.handed.at}
            if record.handed else None
        ),
        "corrections": [
            {"at": c.at, "by": c.said_by, "field": c.field, "was": c.was, "text": c.text,
             "words": c.words}
            for c in record.corrections
        ],
        "decisions": [
            {"at": d.at, "by": d.said_by, "reason": d.reason} for d in record.decisions
        ],
        "settled": [
            {"at": s.at, "by": s.said_by, "question": s.question.number, "place": s.question.place,
             "words": s.question.words, "outcome": s.outcome}
            for s in record.settled
        ],
        "missing": list(record.said.missing),
        "events": [
            {"at": e.at, "what": e.what, "seal": e.seal, "reason": e.reason} for e in record.events
        ],
    }  # fmt: skip


def _say_history(found: Status) -> None:
    """Print who has said what, when: whatever is more than a plain yes."""
    from mailmerge.deeds.status import history, is_plain

    console = new_console()
    for record in found.records:
        if not is_plain(record) and (told := history(record)):
            console.print(safe(words.history_of(record.number, record.name)))
            for at, said in told:
                console.print(safe(words.history_line(at, said)))


def _say_forgotten(found: Forgotten, as_json: bool) -> None:
    kept: dict[str, Any] = found.kept
    if as_json:
        print_json({"forgotten": kept})
        return
    typer.echo(words.forgotten_on(str(kept["at"])[:10]))
    counts = (kept["answers"], kept["corrections"], kept["engraved"])
    typer.echo(words.kept_counts(kept["items"], kept["by standing"], *counts))
    for blank, count in kept["blanks spoiled"].items():
        typer.echo(words.kept_spoiled(count, blank))
