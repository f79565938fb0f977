"""Proof packs of an order: which cards go in, and the folder that is sent."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from mailmerge.answers.cards import Scenes, cards_of
from mailmerge.files import Stage
from mailmerge.guests.names import slug
from mailmerge.ledger.ledger import LedgerChange, readable
from mailmerge.ledger.standing import Record, Standing, is_open
from mailmerge.ledger.tray import PACK
from mailmerge.progress import Watch, told, unwatched
from mailmerge.proofs.pack import Pack, Sender
from mailmerge.proofs.pack.cards import NOBODY
from mailmerge.proofs.pack.checklist import write_checklist
from mailmerge.proofs.pack.languages import ENGLISH, Language
from mailmerge.proofs.pack.page import write_page
from mailmerge.proofs.pack.printed import write_paper
from mailmerge.proofs.pack.sheet import draw_picture, draw_sheets
from mailmerge.proofs.paper_size import PaperSize

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
    answers it may have seen what was said. They are another one, too, where its list is not the
    same, as in another language: a list that comes back is compared with the one that was sent.
    """
    rows = "\n".join([f"{order} {number}", *(f"{item} {shown[item]}" for item in sorted(shown))])
    return readable(int.from_bytes(hashlib.sha256(rows.encode()).digest()[:5]))


@dataclass(frozen=True)
class Envelope:
    """Who a pack comes from, whom it asks, and how it is written."""

    sender: Sender = NOBODY
    people: tuple[str, ...] = ()
    """Who is asked; whoever answers, where nobody is named."""
    language: Language = ENGLISH
    paper: PaperSize = "A4"


PLAIN = Envelope()


def write_pack(
    change: LedgerChange,
    scenes: Scenes,
    everything: bool = False,
    envelope: Envelope = PLAIN,
    watch: Watch = unwatched,
) -> Packed | None:
    """Write the proof pack of what is open into the order's folder; inside a change.

    Parameters
    ----------
    scenes
        Tells what the pictures of items look at; the order is up to date.
    everything
        Whether what was answered already is shown as well.

    Returns
    -------
    Packed or None
        None where there is nothing to show.

    Raises
    ------
    CalledOff
        By ``watch``; nothing has changed.
    InputError
        An artwork or a proof is missing, or the folder cannot be written.
    """
    records = [each for each in change.records() if not each.gone]
    held = (Standing.STOPPED, Standing.TO_CHANGE)
    later = [r for r in records if r.standing in held and not (is_open(r) or _again(r, everything))]
    chosen = [r for r in records if r not in later and (everything or is_open(r))]
    if not chosen:
        return None
    told(watch, 0, len(chosen))
    shown = {r.number: r.seal for r in chosen if r.seal}
    is_mixed = len({r.entry.blank for r in records}) > 1
    last, number = change.newest_pack()
    pack = Pack(
        order=change.order_id,
        id=last,
        title=change.fact("title") or "",
        cards=cards_of(change, chosen, scenes, is_mixed, envelope.language),
        not_ready=tuple(dict.fromkeys(r.name for r in later)),
        language=envelope.language,
        sender=envelope.sender,
        people=envelope.people,
    )
    listed = write_checklist(pack)
    if listed != change.list_sent(last) or change.has_heard_since(number):
        number += 1
        pack = replace(pack, id=pack_id(change.order_id, number, shown))
        listed = write_checklist(pack)
    folder = change.folder / PACK
    stage = Stage(change.root.at(PACK))
    stage.open_up()
    try:
        sizes: dict[str, int] = {}
        for name, data in _files(pack, listed, envelope.paper):
            stage.write(name, data)
            sizes[name] = len(data)
            told(watch, 0, len(chosen))
        pictures = {f"{PICTURES}/{card.file}.jpg" for card in pack.cards}
        drawn = 0
        for card in pack.cards:
            stage.write(f"{PICTURES}/{card.file}.jpg", draw_picture(pack, card))
            drawn += len(card.seals)
            told(watch, drawn, len(chosen))
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


def _files(pack: Pack, listed: bytes, size: PaperSize) -> Iterator[tuple[str, bytes]]:
    """Draw the pack's files but for the single pictures, one after the other."""
    stem = slug(pack.title, "order")
    yield f"{stem}-proofs.html", write_page(pack)
    yield f"{stem}-proofs.pdf", write_paper(pack, size)
    yield f"{stem}-list.xlsx", listed
    sheets = list(draw_sheets(pack))
    for at, sheet in enumerate(sheets, start=1):
        yield f"{stem}-contact-sheet{f'-{at}' if len(sheets) > 1 else ''}.png", sheet
