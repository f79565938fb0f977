"""Commands between the proofs and the last cup: show, take answers, release, keep count, forget."""

from __future__ import annotations

import json
import sys
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from mailmerge.cli.app import app
from mailmerge.cli.changes import (
    GoneOption,
    JobsOption,
    SameOption,
    choices_of,
    say_changes,
    settled_choices,
    settled_with,
)
from mailmerge.cli.common import (
    READY,
    STOPPED,
    FolderArgument,
    ItemsArgument,
    JsonOption,
    PaperOption,
    chosen_in,
    count_in_shop,
    counted,
    folder_of,
    new_console,
    paper_of,
    print_table,
    safe,
    watching,
)
from mailmerge.findings import InputError, shown
from mailmerge.progress import unwatched
from mailmerge.units import numbers_in_words

if TYPE_CHECKING:
    from collections.abc import Iterable

    from mailmerge.answers.incoming import Answers, Said
    from mailmerge.answers.taking import Taken
    from mailmerge.ledger.ledger import Ledger
    from mailmerge.ledger.matching import Choices
    from mailmerge.ledger.standing import Answer, Record
    from mailmerge.merge import Changes, Merged


def _named(records: Iterable[Record]) -> str:
    """Return items with their names, to be read aloud."""
    return ", ".join(f"{each.number} {shown(each.name)[1:-1]}" for each in records) or "none"


def _updated(folder: Path, ledger: Ledger, jobs: int, choices: Choices) -> Merged:
    """Bring an order up to date before anything is shown."""
    from mailmerge import merge as engine
    from mailmerge.ledger.forgetting import refuse_forgotten
    from mailmerge.orders import open_order

    refuse_forgotten(ledger)
    opened = open_order(folder)
    choices = settled_choices(opened, ledger, choices, False)
    with watching("making items", False) as watch:
        return engine.update(opened, ledger, jobs or engine.cores(), watch, choices)


def _say_if_changed(changes: Changes) -> None:
    if changes.new or changes.changed or changes.gone or changes.mended:
        say_changes(changes)


@app.command()
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
    """Make the folder that goes to the client: a page to tick, a PDF, a list, and pictures."""
    from mailmerge.answers.packs import PICTURES, write_pack
    from mailmerge.ledger.ledger import open_ledger
    from mailmerge.ledger.tray import PACK, changing
    from mailmerge.workshop.shop.shop import open_shop

    folder = folder_of(order)
    pages, words = paper_of(open_shop(), paper)
    with open_ledger(folder, missing="make") as ledger:
        merged = _updated(folder, ledger, jobs, choices_of(same, gone))
        with changing(ledger) as change:
            packed = write_pack(change, everything, pages)
        records = ledger.records()
    _say_if_changed(merged.changes)
    if packed is None:
        held = [r for r in records if r.standing in ("stopped", "to change")]
        typer.echo("Nothing is open: everything that can be shown has its answer.")
        for record in held:
            typer.echo(f"  {_named([record])}: {_waits_for(record)}")
        raise typer.Exit(STOPPED if held else READY)
    pack = packed.pack
    typer.echo(f"proof pack {pack.id}: {counted(len(pack.cards), 'card')}, {pack.open} to answer")
    for name, size in packed.sizes.items():
        told = f" ({words})" if name.endswith(".pdf") else ""
        typer.echo(f"  {_size(size):>9}  {folder / PACK / name}{told}")
    typer.echo(
        f"  {_size(sum(packed.sizes.values())):>9}  together, without {folder / PACK / PICTURES}"
    )
    if pack.not_ready:
        typer.echo(f"not in it, because stopped or to be changed: {', '.join(pack.not_ready)}")
    typer.echo(f"when the answers come back: mailmerge answers {folder} FILE")
    raise typer.Exit(STOPPED if merged.totals.stopped else READY)


def _size(size: int) -> str:
    return f"{size / 1e6:.1f} MB" if size >= 100_000 else f"{size / 1e3:.1f} kB"


@app.command()
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
    """Take in what the client has answered: a saved file, a pasted text, or the list filled in."""
    from mailmerge import merge as engine
    from mailmerge.answers.taking import accept as accept_wishes
    from mailmerge.answers.taking import take
    from mailmerge.ledger.forgetting import refuse_forgotten
    from mailmerge.ledger.ledger import open_ledger
    from mailmerge.ledger.tray import changing, withdraw
    from mailmerge.orders import open_order

    folder = folder_of(order)
    numbers, everything = _accepted(accept)
    texts = _texts(text)
    if texts and len(numbers) != 1:
        raise InputError("--text goes with --accept and the number of a single item")
    with open_ledger(folder) as ledger:
        refuse_forgotten(ledger)
        found = _read(ledger, file) if file is not None or not accept else None
        opened = open_order(folder) if accept else None

        def change(choices: Choices) -> _Answered:
            """Do all of it or, where anything is not as wanted, nothing."""
            done = _Answered()
            with changing(ledger) as change:
                if found is not None:
                    done.taken = take(change, found)
                if opened is not None:
                    chosen = None if everything else numbers
                    done.accepted = accept_wishes(change, chosen, texts, by)
                done.withdrawn = withdraw(change)
                if opened is not None and done.accepted:
                    cores = jobs or engine.cores()
                    done.merged = engine.bring_up_to_date(opened, change, cores, unwatched, choices)
            return done

        done = settled_with(choices_of(same, gone), False, change)
        records = {record.number: record for record in ledger.records()}
    if found is not None and done.taken is not None:
        _say_taken(folder, records, found, done.taken, done.withdrawn)
    if accept:
        _say_accepted(folder, records, done)
    raise typer.Exit(STOPPED if done.taken and done.taken.refused else READY)


@dataclass
class _Answered:
    """What taking answers and accepting wishes came to."""

    taken: Taken | None = None
    accepted: list[tuple[Record, dict[str, str]]] = field(default_factory=list)
    withdrawn: list[int] = field(default_factory=list)
    merged: Merged | None = None


def _say_accepted(folder: Path, records: dict[int, Record], done: _Answered) -> None:
    if not done.accepted:
        typer.echo("No wish is open whose text is known.")
        return
    engraved: list[int] = []
    for record, new in done.accepted:
        cups = [each for each in records.values() if each.guest == record.guest]
        engraved += [each.number for each in cups if each.standing == "engraved"]
        for name, said in new.items():
            if any(each.about.get(name) != said for each in cups):
                continue  # the list says a third thing; that is told below
            numbers = numbers_in_words([each.number for each in cups])
            typer.echo(f"{numbers}: {name} is now {shown(said)}")
    if done.merged is not None:
        _say_if_changed(done.merged.changes)
    if engraved:
        words = " ".join(map(str, dict.fromkeys(engraved)))
        typer.echo(
            f"engraved already with the old text: {numbers_in_words(list(set(engraved)))}; to make "
            f"them again: mailmerge spoiled {folder} {words}"
        )
    typer.echo(f"to show what is open: mailmerge proof {folder}")


def _accepted(accept: list[str] | None) -> tuple[list[int], bool]:
    words = [word for text in accept or () for word in text.replace(",", " ").split()]
    for word in words:
        if not word.isdecimal() and word.casefold() != "all":
            raise InputError(f"--accept {shown(word)}: want the number of an item, or all")
    numbers = [int(word) for word in words if word.isdecimal()]
    if numbers and len(numbers) < len(words):
        raise InputError("--accept: want item numbers, or all, found both")
    return numbers, bool(words) and not numbers


def _texts(given: list[str] | None) -> dict[str, str]:
    texts: dict[str, str] = {}
    for each in given or ():
        field, found, text = each.partition("=")
        if not found or not text.strip():
            raise InputError(f'--text {shown(each)}: want FIELD=TEXT, such as "name=Zoë Lind"')
        texts[field.strip()] = text
    return texts


def _read(ledger: Ledger, file: Path | None) -> Answers:
    from mailmerge.answers.incoming import MAX_BYTES, read_answers, read_text

    if file is not None and str(file) != "-":
        return read_answers(ledger, file)
    if sys.stdin.isatty():
        raise InputError("want the FILE that came back, or its text on standard input")
    data = sys.stdin.buffer.read(MAX_BYTES + 1)
    return read_text(ledger, "standard input", data.decode("utf-8", errors="replace"))


def _say_taken(
    folder: Path, records: dict[int, Record], found: Answers, taken: Taken, back: list[int]
) -> None:
    from mailmerge.ledger.standing import is_open

    right = [each.item for each in taken.taken if each.verdict == "yes"]
    wishes = [each for each in taken.taken if each.verdict == "change"]
    by = f" from {shown(found.said_by)[1:-1]}" if found.said_by else ""
    typer.echo(
        f"{counted(len(found.said), 'answer')}{by}: {len(right)} right"
        + (f" ({numbers_in_words(right)})" if right else "")
        + f", {len(wishes)} to change, {len(taken.again)} known already, "
        f"{len(taken.refused)} refused"
    )
    for each in wishes:
        record = records[each.item]
        said = f" {shown(each.words)}" if each.words else ""
        typer.echo(f"  {each.item}, {shown(record.name)[1:-1]}:{said}")
        _say_proposal(folder, record)
    for each, why in taken.refused:
        name = shown(records[each.item].name)[1:-1]
        asked = f"; it asked for a change: {_wish_in_words(each)}" if each.verdict != "yes" else ""
        typer.echo(f"  not taken: {each.item}, {name}: {why}{asked}")
    open_still = [record for record in records.values() if is_open(record)]
    if open_still:
        typer.echo(f"still unanswered: {numbers_in_words([each.number for each in open_still])}")
    if back:
        typer.echo(f"  taken back out of to-engrave: {numbers_in_words(back)}")


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


@app.command()
def confirm(
    order: FolderArgument,
    items: ItemsArgument = None,
    by: Annotated[str, typer.Option(help='How and when, such as "phone, 5 Dec".')] = "",
) -> None:
    """Put a client's yes on record that came another way, such as by telephone."""
    from mailmerge.answers.taking import confirm as put_yes
    from mailmerge.ledger.forgetting import refuse_forgotten
    from mailmerge.ledger.ledger import open_ledger
    from mailmerge.ledger.tray import changing

    if not items:
        raise InputError("want the numbers of the items that are right, such as 3 7 12")
    if not by.strip():
        raise InputError('want --by with who said yes, and how, such as --by "phone, 5 Dec"')
    with open_ledger(folder_of(order)) as ledger:
        refuse_forgotten(ledger)
        numbers = chosen_in(ledger, items)
        with changing(ledger) as change:
            unseen = put_yes(change, numbers, " ".join(by.split()))
        records = {record.number: record for record in ledger.records()}
    typer.echo(f"confirmed: {_named(records[number] for number in dict.fromkeys(numbers))}")
    if unseen:
        typer.echo(
            f"  in no proof pack as they are now, so see that the client has seen the proof: "
            f"{numbers_in_words([record.number for record in unseen])}"
        )


@app.command()
def status(order: FolderArgument, as_json: JsonOption = False) -> None:
    """Show an order at a glance: where every item stands, and who has said what, when."""
    from mailmerge.ledger.forgetting import FORGOTTEN
    from mailmerge.ledger.ledger import open_ledger
    from mailmerge.ledger.recall import inputs_digest
    from mailmerge.ledger.tray import missing

    folder = folder_of(order)
    with open_ledger(folder) as ledger:
        records, title = ledger.records(), ledger.fact("title") or ""
        kept, order_id = ledger.fact(FORGOTTEN), ledger.order_id
        is_current = ledger.fact("inputs") == inputs_digest(folder)
    if kept is not None:
        _say_forgotten(json.loads(kept), as_json)
        return
    totals: dict[str, int] = {}
    for record in records:
        totals[str(record.standing)] = totals.get(str(record.standing), 0) + 1
    spoiled = sum(record.spoiled for record in records)
    if as_json:
        told = {
            "order": {"id": order_id, "title": title, "up_to_date": is_current},
            "items": [_item(record) for record in records],
            "totals": {**totals, "blanks_spoiled": spoiled},
        }
        typer.echo(json.dumps(told, ensure_ascii=False, indent=1))
        return
    print_table([_row(record) for record in records], False)
    typer.echo("")
    _say_history(records)
    typer.echo(f"{title}: " + ", ".join(f"{count} {word}" for word, count in totals.items()))
    if spoiled:
        typer.echo(f"blanks spoiled: {spoiled}")
    if lost := [record.number for record in records if missing(folder, record)]:
        typer.echo(
            f"Released, but not in the folder as they should be: {numbers_in_words(lost)}; mend it "
            f"with: mailmerge merge {folder}"
        )
    if not is_current:
        typer.echo(
            f"The list or order.toml has changed since the last merge: mailmerge merge {folder}"
        )


def _day(at: str) -> str:
    return at[:16].replace("T", " ")


def _row(record: Record) -> dict[str, Any]:
    note = ""
    if record.wish:
        note = _wanted_in_words(record.wish)
    elif record.standing == "stopped":
        note = next(f["message"] for f in record.entry["findings"] if f["severity"] == "stop")
    elif record.is_engraved and record.gone:
        note = "no longer in the list"
    elif record.changed_since_engraved:
        note = f"the list says something else now; spoiled {record.number} makes it again"
    elif record.waived and not record.yes:
        note = f"without a yes: {record.waived.reason}"
    elif record.yes:
        said = record.yes
        note = f"yes{', ' + said.said_by if said.said_by else ''}, {_day(said.at)}"
    if record.spoiled:
        note += f"{'; ' if note else ''}{counted(record.spoiled, 'blank')} spoiled"
    about = [text for field, text in record.about.items() if field != "name" and text]
    return {
        "item": record.number,
        "name": record.name,
        "text": ", ".join(about),
        "standing": str(record.standing),
        "last word": note,
    }


def _wanted_in_words(wish: Answer) -> str:
    texts = [f"{name}: {shown(text)}" for name, text in wish.wanted.items()]
    return ", ".join([*([shown(wish.words)] if wish.words else []), *texts]) or "another text"


def _item(record: Record) -> dict[str, Any]:
    return {
        "item": record.number,
        "row": record.entry["row"],
        "cup": record.cup,
        "name": record.name,
        "texts": dict(record.about),
        "blank": record.entry["blank"],
        "coat": record.entry["coat"],
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


def _say_history(records: Iterable[Record]) -> None:
    """Print who has said what, when: whatever is more than a plain yes."""
    console = new_console()
    for record in records:
        if all(a.verdict == "yes" for a in record.answers) and not record.corrections:
            continue
        told: list[tuple[str, str]] = []
        for a in record.answers:
            said = "yes" if a.verdict == "yes" else f"to change: {_wanted_in_words(a)}"
            told.append((a.at, f"{a.said_by or 'the client'} ({a.way}): {said}, seal {a.seal}"))
        for c in record.corrections:
            by = f", {c.said_by}" if c.said_by else ""
            told.append((c.at, f"put on record{by}: {c.field} {shown(c.was)} -> {shown(c.text)}"))
        told += [(e.at, e.what + (f": {e.reason}" if e.reason else "")) for e in record.events]
        console.print(safe(f"item {record.number}, {record.name}"))
        for at, words in sorted(told, key=lambda each: each[0]):
            console.print(safe(f"  {_day(at)}  {words}"))


def _say_forgotten(kept: dict[str, Any], as_json: bool) -> None:
    if as_json:
        typer.echo(json.dumps({"forgotten": kept}, ensure_ascii=False, indent=1))
        return
    typer.echo(f"This order was forgotten on {str(kept['at'])[:10]}. What is kept:")
    standing = ", ".join(f"{count} {word}" for word, count in kept["by standing"].items())
    typer.echo(
        f"  {counted(kept['items'], 'item')}: {standing}; {counted(kept['answers'], 'answer')}, "
        f"{counted(kept['corrections'], 'correction')}, {kept['engraved']} engraved"
    )
    for blank, count in kept["blanks spoiled"].items():
        typer.echo(f"  spoiled: {count} of {blank}")


@app.command()
def release(
    order: FolderArgument,
    items: ItemsArgument = None,
    without_yes: Annotated[
        str,
        typer.Option(
            metavar="REASON",
            help="Release what still waits, too: why, which goes on the run sheet.",
        ),
    ] = "",
) -> None:
    """Copy what is confirmed, unchanged and without a stop into the folder to engrave from."""
    from mailmerge.ledger.ledger import open_ledger
    from mailmerge.ledger.release import release as put_out
    from mailmerge.ledger.tray import TO_ENGRAVE, changing, place_of
    from mailmerge.merge import outdated
    from mailmerge.orders import open_order

    folder = folder_of(order)
    if without_yes and not without_yes.strip():
        raise InputError("want a reason after --without-yes; it goes on the run sheet")
    with open_ledger(folder) as ledger, changing(ledger) as change:
        if stale := outdated(open_order(folder), ledger):
            lying = [r.number for r in ledger.records(True) if r.standing == "released"]
            affected = sorted({*stale} & {*lying})
            beware = (
                f", of which {numbers_in_words(affected)} lie in {TO_ENGRAVE}" if affected else ""
            )
            raise InputError(
                f"{folder}: what the artwork is made from has changed since the last merge (items "
                f"{numbers_in_words(stale)}{beware}); nothing was released, first: mailmerge merge "
                f"{folder}"
            )
        done = put_out(change, chosen_in(ledger, items) or None, without_yes)
    typer.echo(f"released: {counted(len(done.released), 'item')} into {folder / TO_ENGRAVE}")
    for record in done.released:
        typer.echo(f"  {place_of(record)}  {record.entry['blank']}, {record.entry['coat']}")
    for record, why in done.refused:
        typer.echo(f"  refused: item {record.number}: {why}")
    if done.waiting:
        typer.echo("not released:")
        for record in done.waiting:
            typer.echo(f"  {record.number}, {shown(record.name)[1:-1]}: {_waits_for(record)}")
    if done.released:
        typer.echo(f"the paper for the machine, with its cautions: mailmerge run-sheet {folder}")
    raise typer.Exit(STOPPED if done.refused or done.waiting else READY)


def _waits_for(record: Record) -> str:
    match str(record.standing):
        case "waiting":
            return "waits for the client's yes to its artwork as it is now"
        case "to change":
            words = record.wish.words if record.wish else ""
            return f"the client wants it changed: {shown(words)}"
        case "stopped":
            stop = next(f for f in record.entry["findings"] if f["severity"] == "stop")
            return f"stopped: {stop['message']}"
        case "gone":
            return "no longer in the list"
        case "engraved" if not record.changed_since_engraved:
            return "engraved already"
        case "engraved":
            return "engraved, and changed since: spoiled makes it again"
        case standing:
            return standing


@app.command()
def engraved(
    order: FolderArgument,
    items: ItemsArgument = None,
    everything: Annotated[bool, typer.Option("--all", help="Everything that is released.")] = False,
) -> None:
    """Put on record that released items are engraved; their files leave the folder."""
    from mailmerge.ledger.ledger import open_ledger
    from mailmerge.ledger.release import engraved as put_engraved
    from mailmerge.ledger.tray import changing

    if bool(items) == everything:
        raise InputError("want item numbers, or --all for everything that is released")
    with open_ledger(folder_of(order)) as ledger:
        with changing(ledger) as change:
            done = put_engraved(change, chosen_in(ledger, items) or None)
        count_in_shop(ledger)
    typer.echo(f"engraved: {_named(done)}")


@app.command()
def spoiled(
    order: FolderArgument,
    items: ItemsArgument = None,
    reason: Annotated[str, typer.Option(help="What went wrong.")] = "",
) -> None:
    """Put on record that a blank was lost on items: they are in the next release again."""
    from mailmerge.ledger.ledger import open_ledger
    from mailmerge.ledger.release import spoiled as put_spoiled
    from mailmerge.ledger.tray import changing

    if not items:
        raise InputError("want the numbers of the items whose blanks were lost, such as 7")
    folder = folder_of(order)
    with open_ledger(folder) as ledger:
        with changing(ledger) as change:
            done = put_spoiled(change, chosen_in(ledger, items), " ".join(reason.split()))
        count_in_shop(ledger)
        records = {record.number: record for record in ledger.records()}
    lost = sum(record.spoiled for record in records.values())
    typer.echo(f"spoiled: {_named(done)}; {counted(lost, 'blank')} lost in this order")
    after = [records[record.number] for record in done]
    if ready := [each for each in after if each.standing == "spoiled"]:
        typer.echo(f"in the next release: {_named(ready)}: mailmerge release {folder}")
    for each in after:
        if each.standing != "spoiled":
            typer.echo(f"not in the next release: {_named([each])}: {_waits_for(each)}")


@app.command()
def forget(
    order: FolderArgument,
    yes: Annotated[bool, typer.Option("--yes", help="Do not ask.")] = False,
    leave_others: Annotated[
        bool, typer.Option("--leave-others", help="Go on though files of your own hold names.")
    ] = False,
) -> None:
    """Take names, pictures and answers out of an order's folder, and search whether any is left.

    The list in the folder goes too. Counts stay.
    """
    from mailmerge.ledger.forgetting import FORGOTTEN, names_of, others, ours, search
    from mailmerge.ledger.forgetting import forget as forget_all
    from mailmerge.ledger.ledger import open_ledger
    from mailmerge.orders.order import list_of

    folder = folder_of(order)
    with open_ledger(folder) as ledger:
        if ledger.fact(FORGOTTEN):
            ledger.shrink()  # for one that was cut off before its last step
            raise InputError(
                f"{folder}: this order was forgotten already; its names are known no more, so "
                f"nothing can be searched for"
            )
        names = names_of(ledger)
        listed_in = list_of(folder)
        is_outside = listed_in is not None and listed_in.exists() and listed_in not in ours(folder)
        outside = listed_in if is_outside else None
        found = others(folder, search(folder, names))
        if found.traces and not leave_others:
            listed = "; ".join(
                f"{trace.path.relative_to(folder)} ({shown(trace.name)})"
                for trace in found.traces[:12]
            )
            raise InputError(
                f"{folder}: nothing was removed yet, because files of your own hold names as well: "
                f"{listed}. Delete them, move them or take the names out, or say --leave-others"
            )
        if not yes:
            if not sys.stdin.isatty():
                raise InputError("want --yes: what is forgotten cannot be brought back")
            for path in ours(folder):
                typer.echo(f"  goes: {path}")
            typer.confirm("Names, pictures and answers cannot be brought back. Go on?", abort=True)
        count_in_shop(ledger)
        forget_all(ledger)
    left = search(folder, names)
    for trace in left.traces:
        typer.echo(f"still there: {trace.path}: {shown(trace.name)}")
    if outside:
        typer.echo(f"outside of the folder, and not touched: {outside}")
    for path in left.unread:
        typer.echo(f"not a file that this can look into, look yourself: {path}")
    if not left.traces:
        typer.echo(
            f"Forgotten. {counted(left.files, 'file')} of {folder} searched for "
            f"{counted(names.count, 'name')}: none is left"
            + (" in those that can be read." if left.unread else ".")
        )
    raise typer.Exit(STOPPED if left.traces or left.unread or outside else READY)
