"""What may be changed about a guest's text without asking: nothing that is a letter.

Four things only, each told to the maker with the text before and after: letters that arrived in
the wrong encoding (where ftfy is certain), canonical composition (UAX #15, form NFC), characters
that show nothing, and stray blanks.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

import ftfy
from fontTools import unicodedata as scripts

_JOINERS = "\u200c\u200d"
"""Zero-width non-joiner and joiner: part of the spelling in some scripts, stray in all others."""

_JOINING_SCRIPTS = {
    "Arab", "Syrc", "Mong", "Nkoo", "Deva", "Beng", "Guru", "Gujr", "Orya", "Taml", "Telu",
    "Knda", "Mlym", "Sinh", "Khmr", "Mymr",
}  # fmt: skip

_INVISIBLE = re.compile(
    "[\u00ad\u034f\u061c\u115f\u1160\u17b4\u17b5\u180e\u200b\u200e\u200f\u2060-\u2064\ufeff]"
)
"""Soft hyphen, zero-width blanks and marks. Direction overrides stay: they are a finding."""

_CONTROL = re.compile("[\x00-\x08\x0e-\x1f\x7f-\x84\x86-\x9f]")
_BLANKS = re.compile(r"\s+")
_PLAIN = re.compile(r"[!-~]+(?: [!-~]+)*")


@dataclass(frozen=True, slots=True)
class Change:
    """Something that cleaning did to the text of one field."""

    field: str
    kind: str
    """``encoding``, ``composition``, ``invisible`` or ``blanks``."""
    before: str
    after: str


def clean(field: str, text: str) -> tuple[str, tuple[Change, ...]]:
    """Return the text of a cell without what cannot be meant, and what was changed, in order."""
    if not text or _PLAIN.fullmatch(text):
        return text, ()
    changes: list[Change] = []
    for kind, step in _STEPS:
        after = step(text)
        if after != text:
            changes.append(Change(field, kind, text, after))
            text = after
    return text, tuple(changes)


def _without_invisible(text: str) -> str:
    text = _CONTROL.sub("", _INVISIBLE.sub("", text))
    if not any(joiner in text for joiner in _JOINERS):
        return text
    return "".join(
        char
        for at, char in enumerate(text)
        if char not in _JOINERS
        or (at > 0 and scripts.script(_base_before(text, at)) in _JOINING_SCRIPTS)
        or (at > 0 and ord(text[at - 1]) >= 0x2600)  # inside an emoji, which is a finding anyway
    )


def _base_before(text: str, at: int) -> str:
    while at > 1 and unicodedata.combining(text[at - 1]):
        at -= 1
    return text[at - 1]


_STEPS = (
    ("encoding", ftfy.fix_encoding),
    ("composition", lambda text: unicodedata.normalize("NFC", text)),
    ("invisible", _without_invisible),
    ("blanks", lambda text: _BLANKS.sub(" ", text).strip()),
)
