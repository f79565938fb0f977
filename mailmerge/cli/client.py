"""Commands between the proofs and the client's yes: show, take answers, confirm, look."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

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
)
from mailmerge.findings import InputError, shown
from mailmerge.units import counted, numbers_in_words

if TYPE_CHECKING:
    from mailmerge.deeds.client import Accept, Answered, Message, Proofed, Said
    from mailmerge.deeds.status import Forgotten, Record, Status


@command(CLIENT, "proof gala", "proof gala --all --paper Letter")
def proof(
    order: FolderArgument,
    everything: Annotated[
        bool, typer.Option("--all", help="Show what is answered already, too.")
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
    if made.packed is None:
        typer.echo("Nothing is open: everything that can be shown has its answer.")
        for record, why in made.held:
            typer.echo(f"  {named([record])}: {why}")
        raise typer.Exit(STOPPED if made.held else READY)
    _say_packed(made)
    raise typer.Exit(STOPPED if made.is_stopped else READY)


def _say_packed(made: Proofed) -> None:
    assert made.packed is not None
    pack, sizes = made.packed.pack, made.packed.sizes
    typer.echo(f"proof pack {pack.id}: {counted(len(pack.cards), 'card')}, {pack.open} to answer")
    for name, size in sizes.items():
        told = f" ({made.paper.in_words})" if name.endswith(".pdf") else ""
        typer.echo(f"  {_size(size):>9}  {made.folder / name}{told}")
    typer.echo(f"  {_size(sum(sizes.values())):>9}  together, without {made.pictures}")
    if pack.not_ready:
        typer.echo(f"not in it, because stopped or to be changed: {', '.join(pack.not_ready)}")
    typer.echo(f"when the answers come back: mailmerge answers {made.folder.parent} FILE")


def _size(size: int) -> str:
    return f"{size / 1e6:.1f} MB" if size >= 100_000 else f"{size / 1e3:.1f} kB"


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
            metavar="FILE", help="What came back; without it or with -, a text on standard input."
        ),
    ] = None,
    accept: Annotated[
        list[str] | None,
        typer.Option(
            metavar="ITEM", help="Put the wanted text on record; all: wherever it is known."
        ),
    ] = None,
    text: Annotated[
        list[str] | None,
        typer.Option(metavar="FIELD=TEXT", help="With --accept: the new text of this item."),
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
    raise typer.Exit(STOPPED if done.taken and done.taken.refused else READY)


def _wishes(accept: list[str] | None, texts: dict[str, str], by: str) -> Accept | None:
    from mailmerge.deeds.client import Accept

    words = [word for text in accept or () for word in text.replace(",", " ").split()]
    for word in words:
        if not word.isdecimal() and word.casefold() != "all":
            raise InputError(f"--accept {shown(word)}: want the number of an item, or all")
    numbers = tuple(int(word) for word in words if word.isdecimal())
    if numbers and len(numbers) < len(words):
        raise InputError("--accept: want item numbers, or all, found both")
    if texts and len(numbers) != 1:
        raise InputError("--text goes with --accept and the number of a single item")
    return Accept(numbers or None, texts, by) if words else None


def _texts(given: list[str] | None) -> dict[str, str]:
    texts: dict[str, str] = {}
    for each in given or ():
        field, found, text = each.partition("=")
        if not found or not text.strip():
            raise InputError(f'--text {shown(each)}: want FIELD=TEXT, such as "name=Zoë Lind"')
        texts[field.strip()] = text
    return texts


def _came(file: Path | None) -> Path | Message:
    """Return what came back: a file, or the text on standard input."""
    from mailmerge.deeds.client import MAX_BYTES, Message

    if file is not None and str(file) != "-":
        return file
    if sys.stdin.isatty():
        raise InputError("want the FILE that came back, or its text on standard input")
    data = sys.stdin.buffer.read(MAX_BYTES + 1)
    return Message(data.decode("utf-8", errors="replace"), "standard input")


def _say_taken(done: Answered) -> None:
    assert done.came is not None
    assert done.taken is not None
    taken = done.taken
    right = [each.item for each in taken.taken if each.verdict == "yes"]
    wishes = [each for each in taken.taken if each.verdict == "change"]
    by = f" from {shown(done.came.said_by)[1:-1]}" if done.came.said_by else ""
    typer.echo(
        f"{counted(len(done.came.said), 'answer')}{by}: {len(right)} right"
        + (f" ({numbers_in_words(right)})" if right else "")
        + f", {len(wishes)} to change, {len(taken.again)} known already, "
        f"{len(taken.refused)} refused"
    )
    for each in wishes:
        record = done.records[each.item]
        said = f" {shown(each.words)}" if each.words else ""
        typer.echo(f"  {each.item}, {shown(record.name)[1:-1]}:{said}")
        _say_proposal(done.folder, record)
    for each, why in taken.refused:
        name = shown(done.records[each.item].name)[1:-1]
        asked = f"; it asked for a change: {_wish_in_words(each)}" if each.verdict != "yes" else ""
        typer.echo(f"  not taken: {each.item}, {name}: {why}{asked}")
    if done.unanswered:
        typer.echo(f"still unanswered: {numbers_in_words(done.unanswered)}")
    if done.withdrawn:
        typer.echo(f"  taken back out of to-engrave: {numbers_in_words(list(done.withdrawn))}")


def _wish_in_words(said: Said) -> str:
    texts = [f"{name}: {shown(text)}" for name, text in (said.texts or {}).items()]
    return ", ".join([*([shown(said.words)] if said.words else []), *texts]) or "no words"


def _say_proposal(folder: Path, record: Record) -> None:
    wish = record.wish
    if wish is None:
        return
    if record.standing == "engraved":
        typer.echo(
            f"    it is engraved already; to make it again: mailmerge spoiled {folder} "
            f"{record.number}"
        )
    if wish.wanted:
        new = ", ".join(f"{field}: {shown(text)}" for field, text in wish.wanted.items())
        typer.echo(f"    proposed: {new}; mailmerge answers {folder} --accept {record.number}")
    else:
        texts = " or ".join(f'--text "{name}=…"' for name in record.about)
        typer.echo(
            f"    which text is wanted is not clear: mailmerge answers {folder} --accept "
            f"{record.number} {texts}; or take the row out of the list; or, if it stays as it is, "
            f"mailmerge confirm"
        )


def _say_accepted(done: Answered) -> None:
    if done.merged is None:
        typer.echo("No wish is open whose text is known.")
        return
    for new in done.new_texts:
        typer.echo(f"{numbers_in_words(list(new.numbers))}: {new.field} is now {shown(new.text)}")
    say_if_changed(done.merged.changes)
    if done.engraved:
        words = " ".join(map(str, done.engraved))
        typer.echo(
            f"engraved already with the old text: {numbers_in_words(list(done.engraved))}; to make "
            f"them again: mailmerge spoiled {done.folder} {words}"
        )
    typer.echo(f"to show what is open: mailmerge proof {done.folder}")


@command(CLIENT, 'confirm gala 3 7 12 --by "phone, 5 Dec"')
def confirm(
    order: FolderArgument,
    items: ItemsArgument = None,
    by: Annotated[str, typer.Option(help='How and when, such as "phone, 5 Dec".')] = "",
) -> None:
    """Record a yes that came by phone or in person."""
    from mailmerge.deeds import client

    done = client.confirm(order, items or (), by)
    typer.echo(f"confirmed: {named(done.records)}")
    if done.unseen:
        typer.echo(
            f"  in no proof pack as they are now, so see that the client has seen the proof: "
            f"{numbers_in_words(list(done.unseen))}"
        )


@command(CLIENT, "status gala", "status gala --json")
def status(order: FolderArgument, as_json: JsonOption = False) -> None:
    """Show where every cup stands, and who said what, when."""
    from mailmerge.deeds.status import Forgotten
    from mailmerge.deeds.status import status as stands

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
        "items": [_item(record) for record in found.records],
        "totals": {**found.totals, "blanks_spoiled": found.spoiled},
    }


def _say_status(found: Status) -> None:
    print_table([_row(record) for record in found.records], False)
    typer.echo("")
    _say_history(found)
    counts = ", ".join(f"{count} {word}" for word, count in found.totals.items())
    typer.echo(f"{found.title}: {counts}")
    if found.spoiled:
        typer.echo(f"blanks spoiled: {found.spoiled}")
    if found.missing:
        typer.echo(
            f"Released, but not in the folder as they should be: "
            f"{numbers_in_words(list(found.missing))}; mend it with: mailmerge merge {found.folder}"
        )
    if not found.is_engine_current:
        typer.echo(f"The program was updated since the last merge: mailmerge merge {found.folder}")
    if not found.is_current:
        typer.echo(
            f"The list or order.toml has changed since the last merge: mailmerge merge "
            f"{found.folder}"
        )


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
            }
            for a in record.answers
        ],
        "corrections": [
            {"at": c.at, "by": c.said_by, "field": c.field, "was": c.was, "text": c.text,
             "words": c.words}
            for c in record.corrections
        ],
        "events": [
            {"at": e.at, "what": e.what, "seal": e.seal, "reason": e.reason} for e in record.events
        ],
    }  # fmt: skip


def _say_history(found: Status) -> None:
    """Print who has said what, when: whatever is more than a plain yes."""
    from mailmerge.deeds.status import history

    console = new_console()
    for record in found.records:
        if told := history(record):
            console.print(safe(f"item {record.number}, {record.name}"))
            for at, words in told:
                console.print(safe(f"  {at}  {words}"))


def _say_forgotten(found: Forgotten, as_json: bool) -> None:
    kept: dict[str, Any] = found.kept
    if as_json:
        print_json({"forgotten": kept})
        return
    typer.echo(f"This order was forgotten on {str(kept['at'])[:10]}. What is kept:")
    standing = ", ".join(f"{count} {word}" for word, count in kept["by standing"].items())
    typer.echo(
        f"  {counted(kept['items'], 'item')}: {standing}; {counted(kept['answers'], 'answer')}, "
        f"{counted(kept['corrections'], 'correction')}, {kept['engraved']} engraved"
    )
    for blank, count in kept["blanks spoiled"].items():
        typer.echo(f"  spoiled: {count} of {blank}")
