"""The library's drawings by what people call them, and what an order fills its slots with."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Annotated, Literal, get_args

from pydantic import BeforeValidator, Field
from rapidfuzz import fuzz, process

from mailmerge.artwork import words
from mailmerge.findings import InputError
from mailmerge.shelves import Model, Name, read_toml, shelf, templates, validated

Kind = Literal["motif", "divider", "corner", "frame", "wreath", "border"]
"""A motif stands by itself, a divider between lines; corners come in fours; a frame or a wreath has
room in its middle; a border is one repeat of what goes around."""

Subject = Literal[
    "sports", "music", "trades", "plants", "animals", "seasons", "travel", "food", "sea", "stars",
    "plain",
]  # fmt: skip

KINDS: tuple[Kind, ...] = get_args(Kind)
SUBJECTS: tuple[Subject, ...] = get_args(Subject)

CATALOGUE = "ornaments.toml"
"""Beside the drawings: which kind and subject each is of, and what else people call it."""


def _listed(text: object) -> object:
    if not isinstance(text, str):
        return text
    return [part for part in (each.strip() for each in text.split(",")) if part]


Words = Annotated[tuple[Name, ...], BeforeValidator(_listed)]
_BySubject = dict[Subject, dict[Annotated[str, Field(pattern="[a-z][a-z0-9-]*")], Words]]


class _Catalogue(Model):
    """The file :data:`CATALOGUE`: by kind, by subject and by name, other words with commas."""

    motif: _BySubject = Field(default_factory=dict)
    divider: _BySubject = Field(default_factory=dict)
    corner: _BySubject = Field(default_factory=dict)
    frame: _BySubject = Field(default_factory=dict)
    wreath: _BySubject = Field(default_factory=dict)
    border: _BySubject = Field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Shelved:
    """A drawing of the library."""

    name: str
    kind: Kind
    subject: Subject
    words: tuple[str, ...]
    """What else people call it."""


@cache
def catalogue() -> tuple[Shelved, ...]:
    """Return the library's drawings by kind and subject, in the order of their file.

    Raises
    ------
    InputError
        The file is wrong, or names a drawing that is not there.
    """
    file = templates() / "ornaments" / CATALOGUE
    tables, there = validated(_Catalogue, read_toml(file), str(file)), shelf("ornaments")
    by_kind: dict[Kind, _BySubject] = {
        "motif": tables.motif, "divider": tables.divider, "corner": tables.corner,
        "frame": tables.frame, "wreath": tables.wreath, "border": tables.border,
    }  # fmt: skip
    found = tuple(
        Shelved(name, kind, subject, others)
        for kind, subjects in by_kind.items()
        for subject, drawings in subjects.items()
        for name, others in drawings.items()
    )
    for each in found:
        if each.name not in there:
            raise InputError(words.motif_file_is_missing(file, each.name))
    return found


def folded(word: str) -> str:
    """Return a word without case, accents, blanks, hyphens and the s of a plural."""
    plain = unicodedata.normalize("NFKD", word).casefold()
    return re.sub(r"[^\w]|_|[\u0300-\u036f]", "", plain).removesuffix("s")


@cache
def _by_word() -> dict[str, str]:
    found = {folded(each.name): each.name for each in catalogue()}
    return {folded(word): each.name for each in catalogue() for word in each.words} | found


def drawing_called(word: str) -> str:
    """Return a drawing's name by one of its words; the path of an .svg file as it is.

    Raises
    ------
    InputError
        No drawing is called so; the nearest one is suggested.
    """
    if word.lower().endswith(".svg"):
        return word
    found = NO_MOTIFS.called(word)
    if not found:
        raise InputError(words.no_such_motif(word, NO_MOTIFS.nearest(word)))
    return found


_LIKE = 60
"""Words that are less alike, of 100, are not suggested. Own judgement."""


@dataclass(frozen=True)
class Motifs:
    """What an order fills the slots of its layout with."""

    usual: str = ""
    """For all who have none of their own: the drawing's name, or the path of an .svg file."""
    own: Mapping[str, str] = field(default_factory=dict)
    """The same by the order's own words, as :func:`folded` has them."""

    def called(self, word: str) -> str:
        """Return the drawing that a word means, or ``""``; a path is no word."""
        key = folded(word)
        return self.own.get(key) or _by_word().get(key, "")

    def nearest(self, word: str) -> str:
        """Return the word for a drawing that is most like another word, or ``""``."""
        known = {key: key for key in self.own} | _by_word()
        found = process.extractOne(
            folded(word), known.keys(), scorer=fuzz.ratio, score_cutoff=_LIKE
        )
        return known[found[0]] if found else ""

    @property
    def drawings(self) -> set[str]:
        """All that may stand in a slot, by name or path."""
        return {*self.own.values(), *(each.name for each in catalogue())}


NO_MOTIFS = Motifs()
