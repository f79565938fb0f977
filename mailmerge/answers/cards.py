"""The cards of a proof pack, out of what is on record and the artwork that lies beside it."""

from __future__ import annotations

import datetime as dt
import io
import unicodedata
from collections.abc import Callable, Collection, Iterator, Mapping
from itertools import groupby
from pathlib import Path, PurePosixPath

from PIL import Image

from mailmerge.answers import words
from mailmerge.findings import InputError
from mailmerge.guests.names import upper
from mailmerge.items.record import Entry, LineEntry
from mailmerge.ledger.conversation import Answer
from mailmerge.ledger.ledger import Ledger
from mailmerge.ledger.standing import Record, is_open
from mailmerge.ledger.tray import MERGED
from mailmerge.proofs import Scene, draw_cup
from mailmerge.proofs.measures import CUP_PICTURE
from mailmerge.proofs.pack import Card, Text, words as pack_words
from mailmerge.proofs.pack.closeup import draw_closeups
from mailmerge.proofs.pack.languages import Language
from mailmerge.proofs.pack.letters import notes_on

Scenes = Callable[[Ledger, Collection[int]], Mapping[int, Scene]]
"""Tells what the pictures of items look at, of an order that is up to date."""


def cards_of(
    ledger: Ledger, records: list[Record], scenes: Scenes, is_mixed: bool, language: Language
) -> tuple[Card, ...]:
    """Return the cards of items, one for each guest's cups that look alike.

    Parameters
    ----------
    is_mixed
        Whether the order holds cups of several kinds.

    Raises
    ------
    InputError
        An artwork or a proof is missing.
    """

    def looks(record: Record) -> object:
        entry = record.entry
        return (
            record.guest, is_open(record), sorted(record.about.items()), entry.side,
            entry.blank, entry.coat, _question(record),
        )  # fmt: skip

    alike = [list(group) for _, group in groupby(records, looks)]
    # A cup that exists is shown as it was made, whatever the order would make today.
    drawn = scenes(ledger, {cups[0].number for cups in alike if not cups[0].is_engraved})
    return tuple(
        _card(ledger.folder, cups, drawn.get(cups[0].number), is_mixed, language) for cups in alike
    )


def _card(
    folder: Path, cups: list[Record], scene: Scene | None, is_mixed: bool, language: Language
) -> Card:
    first = cups[0]
    numbers = [PurePosixPath(each.entry.proof).name.partition("-")[0] for each in cups]
    is_run = cups[-1].number - first.number == len(cups) - 1 > 0
    cup, faces = _pictures(folder / MERGED, first.entry, scene)
    return Card(
        seals={each.number: each.seal for each in cups if each.seal},
        number=pack_words.number_range(language, numbers[0], numbers[-1])
        if is_run
        else ", ".join(numbers),
        name=first.name,
        texts=tuple(_texts(first, language)),
        details=tuple(_details(first.entry, len(cups), is_mixed, language)),
        cup=cup,
        faces=faces,
        file=PurePosixPath(first.entry.proof).stem,
        settled=_settled(first, language),
        question=_question(first),
    )


def _pictures(merged: Path, entry: Entry, scene: Scene | None) -> tuple[bytes, tuple[bytes, ...]]:
    """Return a cup and its faces close by, as PNGs; without a scene, the cup of its proof alone."""
    if scene is None or entry.artwork is None:
        with Image.open(io.BytesIO(_read(merged / entry.proof))) as proof:
            saved = io.BytesIO()
            proof.crop(CUP_PICTURE).save(saved, "PNG")
        return saved.getvalue(), ()
    artwork = _read(merged / entry.artwork)
    faces = tuple(face.png() for face in draw_closeups(artwork, scene))
    return draw_cup(artwork, scene).png(), faces


def _read(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as error:
        raise InputError(words.picture_unreadable(path, error.strerror or error)) from None


def _texts(record: Record, language: Language) -> Iterator[Text]:
    """Yield the texts of an item: the name, the guest's others, and those of the order."""
    lines = [line for line in record.entry.lines if line.text]
    told: set[str] = set()

    def noted(text: str, engraved: tuple[str, ...]) -> tuple[str, ...]:
        found = [*_in_capitals(text, engraved, language)]
        found += [note for each in engraved or (text,) for note in notes_on(each, language)]
        new = [note for note in dict.fromkeys(found) if note not in told]
        told.update(new)
        return tuple(new)

    for field in sorted(record.about, key=lambda field: field != "name"):
        text = record.about[field]
        engraved = tuple(dict.fromkeys(line.text for line in lines if field in line.fields))
        engraved = () if engraved == (text,) else engraved
        label = pack_words.field_label(language, field)
        yield Text(field, label, text, noted(text, engraved), engraved)
    label = pack_words.also_on_the_cup(language)
    for line in lines:
        if not _is_of_guest(line):
            yield Text("", label, line.text, noted(line.text, ()))


def _is_of_guest(line: LineEntry) -> bool:
    fields = line.fields or ((line.field,) if line.field else ())
    return any(not field.startswith("order.") for field in fields)


def _in_capitals(text: str, engraved: tuple[str, ...], language: Language) -> Iterator[str]:
    """Yield which letters of a text are engraved as others than their plain capitals: ß as SS."""
    on_cup = "".join(engraved)
    for letter in dict.fromkeys(unicodedata.normalize("NFC", text)):
        for capital in dict.fromkeys((upper(letter), upper(letter, "tr"))):
            is_plain = _bare(capital).lower() == _bare(letter).lower()
            if engraved and not is_plain and letter not in on_cup and capital in on_cup:
                yield pack_words.engraved_as(language, letter, capital)


def _bare(text: str) -> str:
    return unicodedata.normalize("NFD", text)


def _details(
    entry: Entry, count: int, is_mixed: bool, language: Language
) -> Iterator[tuple[str, str]]:
    yield pack_words.side(language), pack_words.faces(language, entry.side)
    if entry.held_by:
        yield pack_words.held_by(language), pack_words.hand(language, entry.held_by)
    yield pack_words.colour(language), entry.coat
    if is_mixed:
        yield pack_words.cup(language), entry.blank
    if count > 1:
        yield pack_words.how_many(language), pack_words.cups(language, count)


def _settled(record: Record, language: Language) -> str:
    if record.yes:
        said = dt.datetime.fromisoformat(record.yes.said_at or record.yes.at)
        return pack_words.confirmed_on(language, said)
    return pack_words.is_engraved(language) if record.is_engraved else ""


def _question(record: Record) -> tuple[tuple[str, str], ...]:
    """Return what people have said about an item that somebody wants changed."""
    if record.wish is None:
        return ()
    return tuple((each.said_by, _wanted(each)) for each in record.said.opinions)


def _wanted(answer: Answer) -> str:
    return " / ".join(filter(None, (answer.words, *answer.wanted.values())))
