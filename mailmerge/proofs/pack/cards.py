"""What a proof pack holds: one card for each guest's cups, and nothing that is not the client's."""

from __future__ import annotations

import io
from collections.abc import Mapping
from dataclasses import dataclass

from PIL import Image

from mailmerge.proofs.pack import words
from mailmerge.proofs.pack.languages import ENGLISH, Language


@dataclass(frozen=True, slots=True)
class Text:
    """A text that is engraved, to be checked letter by letter."""

    field: str
    """Its name in the list, or ``""`` for words of the order."""
    label: str
    text: str
    """As it is written."""
    notes: tuple[str, ...]
    """What is unusual about its letters as they are engraved, in words."""
    engraved: tuple[str, ...] = ()
    """The lines that it stands in as they are engraved, in their capitals; empty where all are as
    it is written."""

    @property
    def lines(self) -> tuple[str, ...]:
        """The lines that it stands in, as they are engraved."""
        return self.engraved or (self.text,)


@dataclass(frozen=True)
class Card:
    """The cups of one guest that look alike."""

    seals: Mapping[int, str]
    """The seal of each item."""
    number: str
    """Of the item, or from the first to the last one."""
    name: str
    texts: tuple[Text, ...]
    details: tuple[tuple[str, str], ...]
    """(label, value): the side, the coat, how many cups."""
    cup: bytes
    """The first cup as a whole, a PNG."""
    faces: tuple[bytes, ...]
    """Its faces close by, PNGs; empty for a cup that exists already."""
    file: str
    """The name of its picture's file, without ending."""
    settled: str = ""
    """What was answered already, in words; ``""`` if it is open."""
    question: tuple[tuple[str, str], ...] = ()
    """(who, what they want) of those who have spoken about it, where it is still to be settled;
    whoever wants nothing says that it is right."""

    def asked(self, language: Language) -> tuple[str, ...]:
        """Return what was said about it in words, and the question what it shall be."""
        said = (words.opinion(language, who, wanted) for who, wanted in self.question)
        return (*said, words.what_shall_it_be(language)) if self.question else ()

    def alternative(self, language: Language) -> str:
        """Return the picture in words, for whoever does not see it."""
        texts = [(text.label, line) for text in self.texts for line in text.lines if line]
        return words.picture(language, self.number, texts)


@dataclass(frozen=True)
class Sender:
    """Who a pack comes from."""

    name: str = ""
    reach: tuple[str, ...] = ()
    """Where they are and how they are reached, in rows."""


NOBODY = Sender()


@dataclass(frozen=True)
class Pack:
    """A proof pack."""

    order: str
    id: str
    title: str
    cards: tuple[Card, ...]
    not_ready: tuple[str, ...]
    """Names of guests whose cups are not ready to be shown."""
    language: Language = ENGLISH
    """What its labels, notes and details are in, and all that is said beside them."""
    sender: Sender = NOBODY
    people: tuple[str, ...] = ()
    """Who is asked; whoever answers, where nobody is named."""

    @property
    def open(self) -> int:
        """How many cups wait for an answer; a card may be of several."""
        return sum(len(card.seals) for card in self.cards if not card.settled)


def within(picture: bytes, width: int, height: int) -> Image.Image:
    """Return a picture in colours, no larger than this many px.

    Hamming's window takes half the time of Lanczos', and to the eye it is as sharp.
    """
    with Image.open(io.BytesIO(picture)) as opened:
        image = opened.convert("RGB")
    image.thumbnail((width, height), Image.Resampling.HAMMING)
    return image
