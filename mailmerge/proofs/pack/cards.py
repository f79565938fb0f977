"""What a proof pack holds: one card for each guest's cups, and nothing that is not the client's."""

from __future__ import annotations

import io
from collections.abc import Mapping
from dataclasses import dataclass

from PIL import Image

from mailmerge.proofs.pack import words
from mailmerge.proofs.pack.languages import ENGLISH, Language
from mailmerge.proofs.stage import CUP_PICTURE


@dataclass(frozen=True, slots=True)
class Text:
    """A text that is engraved, to be checked letter by letter."""

    field: str
    """Its name in the list, or ``""`` for words of the order."""
    label: str
    text: str
    notes: tuple[str, ...]
    """What is unusual about its letters, in words."""


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
    proof: bytes
    """The first item's proof, a PNG."""
    file: str
    """Its file name."""
    settled: str = ""
    """What was answered already, in words; ``""`` if it is open."""

    def cup(self, width: int, height: int) -> Image.Image:
        """Return the cup out of the proof, no larger than this many px."""
        with Image.open(io.BytesIO(self.proof)) as proof:
            picture = proof.crop(CUP_PICTURE).convert("RGB")
        picture.thumbnail((width, height), Image.Resampling.LANCZOS)
        return picture

    def alternative(self, language: Language) -> str:
        """Return the picture in words, for whoever does not see it."""
        texts = [(text.label, text.text) for text in self.texts if text.text]
        return words.picture(language, self.number, texts)


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

    @property
    def open(self) -> int:
        """How many cards wait for an answer."""
        return sum(not card.settled for card in self.cards)
