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
    "[\u00ad\u034f\u061c\u115f\u1160\u17b4\u17b5\u180b-\u180f\u200b\u200e\u200f\u2060-\u2065"
    "\u206a-\u206f\ufe00-\ufe0f\ufeff\ufff0-\ufff8\U0001bca0-\U0001bca3\U0001d173-\U0001d17a"
    "\U000e0000-\U000e0fff]"
)
"""All that shows nothing of itself: Default_Ignorable_Code_Point of Unicode 15.

But for the two joiners, direction overrides (they are a finding), and Hangul fillers, which are
blanks.
"""

_VARIANTS = re.compile("[\u180b-\u180d\u180f\ufe00-\ufe0f\U000e0100-\U000e01ef]")
"""Variation selectors. They choose a form of the letter before them where that has several."""

_WITH_VARIANTS = {"Hani", "Mong", "Mymr", "Phag"}
"""Scripts whose letters have several forms (StandardizedVariants.txt, and the IVD for Han)."""

_CONTROL = re.compile("[\x00-\x08\x0e-\x1f\x7f-\x84\x86-\x9f]")
_BLANKS = re.compile("[\\s\u3164\uffa0]+")
"""Blanks, and the fillers of Hangul, which look like them."""
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
    text = _CONTROL.sub("", text)
    return "".join(char for at, char in enumerate(text) if _is_spelling(char, text, at))


def _is_spelling(char: str, text: str, at: int) -> bool:
    """Whether a character belongs to a text's spelling: it shows something, or changes a letter."""
    is_joiner = char in _JOINERS
    if not is_joiner and not _INVISIBLE.match(char):
        return True
    if at == 0 or not (is_joiner or _VARIANTS.match(char)):
        return False
    scripts_of = _JOINING_SCRIPTS if is_joiner else _WITH_VARIANTS
    # Inside an emoji they stay too: it is a finding anyway.
    return scripts.script(_base_before(text, at)) in scripts_of or _ends_emoji(text[at - 1])


def _ends_emoji(char: str) -> bool:
    return ord(char) >= 0x2600 and (unicodedata.category(char) in ("So", "Sk") or char == "\ufe0f")


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
