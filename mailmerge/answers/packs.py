"""Proof packs of an order: which cards go in, and the folder that is sent."""

from __future__ import annotations

import datetime as dt
import hashlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path, PurePosixPath

from mailmerge.answers import words
from mailmerge.files import Stage
from mailmerge.findings import InputError
from mailmerge.guests.names import slug
from mailmerge.ledger.ledger import LedgerChange, readable
from mailmerge.ledger.standing import Record, Standing, is_open
from mailmerge.ledger.tray import MERGED, PACK
from mailmerge.proofs.pack import (
    Card,
    Pack,
    Text,
    draw_sheets,
    write_checklist,
    write_page,
    write_paper,
)
from mailmerge.proofs.pack import words as pack_words
from mailmerge.proofs.pack.languages import ENGLISH, Language
from mailmerge.proofs.pack.letters import notes_on
from mailmerge.proofs.paper import PaperSize

PICTURES = "pictures"


@dataclass(frozen=True)
class Packed:
    """A proof pack that was written."""

    pack: Pack
    folder: Path
    sizes: dict[str, int]
    """Bytes by file name, the single pictures not among them."""


def pack_id(order: str, number: int, shown: Mapping[int, str]) -> str:
    """Return what a pack is known by: eight characters.

    The same items with the same seals are another pack where something was said in between: who
    answers it may have seen what was said.
    """
    rows = "\n".join([f"{order} {number}", *(f"{item} {shown[item]}" for item in sorted(shown))])
    return readable(int.from_bytes(hashlib.sha256(rows.encode()).digest()[:5]))


def write_pack(
    change: LedgerChange,
    everything: bool = False,
    size: PaperSize = "A4",
    language: Language = ENGLISH,
) -> Packed | None:
    """Write the proof pack of what is open into the order's folder; inside a change.

    Parameters
    ----------
    everything
        Whether what was answered already is shown as well.

    Returns
    -------
    Packed or None
        None where there is nothing to show.

    Raises
    ------
    InputError
        A proof is missing, or the folder cannot be written.
    """
    records = [each for each in change.records() if not each.gone]
    held = (Standing.STOPPED, Standing.TO_CHANGE)
    later = [r for r in records if r.standing in held and not (is_open(r) or _again(r, everything))]
    chosen = [r for r in records if r not in later and (everything or is_open(r))]
    if not chosen:
        return None
    shown = {r.number: r.seal for r in chosen if r.seal}
    number = _number_of(change, shown)
    is_mixed = len({r.entry.blank for r in records}) > 1
    pack = Pack(
        order=change.order_id,
        id=pack_id(change.order_id, number, shown),
        title=change.fact("title") or "",
        cards=tuple(_cards(change.folder, chosen, is_mixed, language)),
        not_ready=tuple(dict.fromkeys(r.name for r in later)),
        language=language,
    )
    folder = change.folder / PACK
    stage = Stage(change.root.at(PACK))
    stage.open_up()
    try:
        listed = write_checklist(pack)
        sizes = {name: len(data) for name, data in _files(pack, listed, stage, size)}
        pictures = {f"{PICTURES}/{card.file}" for card in pack.cards}
        for card in pack.cards:
            stage.write(f"{PICTURES}/{card.file}", card.proof)
        earlier = set(json.loads(change.fact("pack files") or "[]"))
        stage.settle(earlier - set(sizes) - pictures)
    except BaseException:
        stage.give_up()
        raise
    change.put_pack(pack.id, number, [r for r in chosen if r.seal], listed)
    change.set_fact("pack files", json.dumps(sorted({*sizes, *pictures})))
    change.set_fact("pack stage", stage.token)
    return Packed(pack, folder, sizes)


def _again(record: Record, everything: bool) -> bool:
    """Whether a cup that is to be changed is shown as it is: who said so may take it back."""
    return everything and record.standing is Standing.TO_CHANGE


def _number_of(change: LedgerChange, shown: Mapping[int, str]) -> int:
    """Return the number of a pack: the last one's, where it shows the same and nobody answered."""
    last, number = change.newest_pack()
    if number and change.shown_in(last) == shown and not change.has_heard_since(number):
        return number
    return number + 1


def _files(pack: Pack, listed: bytes, stage: Stage, size: PaperSize) -> Iterable[tuple[str, bytes]]:
    """Write the pack's files but for the single pictures, and pass them on."""
    stem = slug(pack.title, "order")
    sheets = list(draw_sheets(pack))
    for name, data in (
        (f"{stem}-proofs.html", write_page(pack)),
        (f"{stem}-proofs.pdf", write_paper(pack, size)),
        (f"{stem}-list.xlsx", listed),
        *(
            (f"{stem}-contact-sheet{f'-{at}' if len(sheets) > 1 else ''}.png", sheet)
            for at, sheet in enumerate(sheets, start=1)
        ),
    ):
        stage.write(name, data)
        yield name, data


def _cards(
    folder: Path, records: list[Record], is_mixed: bool, language: Language
) -> Iterable[Card]:
    def looks(record: Record) -> object:
        entry = record.entry
        return (
            record.guest, is_open(record), sorted(record.about.items()), entry.side,
            entry.blank, entry.coat,
        )  # fmt: skip

    for _, group in groupby(records, looks):
        yield _card(folder, list(group), is_mixed, language)


def _card(folder: Path, cups: list[Record], is_mixed: bool, language: Language) -> Card:
    first, last = cups[0], cups[-1]
    entry = first.entry
    path = folder / MERGED / entry.proof
    try:
        proof = path.read_bytes()
    except OSError as error:
        raise InputError(words.proof_unreadable(path, error.strerror or error)) from None
    texts = [
        Text(field, pack_words.field_label(language, field), text, notes_on(text, language))
        for field, text in first.about.items()
    ]
    texts.sort(key=lambda text: (text.field != "name", [*first.about].index(text.field)))
    texts += [
        Text("", pack_words.also_on_the_cup(language), line.text, notes_on(line.text, language))
        for line in entry.lines
        if line.text and (line.field is None or line.field.startswith("order."))
    ]
    stem = PurePosixPath(entry.proof).name
    number = stem.partition("-")[0]
    details = [
        (pack_words.side(language), pack_words.faces(language, entry.side)),
        (pack_words.colour(language), entry.coat),
    ]
    if is_mixed:
        details.append((pack_words.cup(language), entry.blank))
    if entry.held_by:
        held_by = pack_words.held_by(language), pack_words.hand(language, entry.held_by)
        details.insert(1, held_by)
    if len(cups) > 1:
        numbers = [PurePosixPath(r.entry.proof).name.partition("-")[0] for r in cups]
        is_run = last.number - first.number == len(cups) - 1
        number = (
            pack_words.number_range(language, number, numbers[-1]) if is_run else ", ".join(numbers)
        )
        details.append((pack_words.how_many(language), pack_words.cups(language, len(cups))))
    return Card(
        seals={each.number: each.seal for each in cups if each.seal},
        number=number,
        name=first.name,
        texts=tuple(texts),
        details=tuple(details),
        proof=proof,
        file=stem,
        settled="" if is_open(first) else _settled(first, language),
    )


def _settled(record: Record, language: Language) -> str:
    if record.yes:
        said = dt.datetime.fromisoformat(record.yes.said_at or record.yes.at)
        return pack_words.confirmed_on(language, said)
    return pack_words.is_engraved(language)
