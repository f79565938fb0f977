"""Letters that are easily missed when a name is checked, in words: "Zoe with two dots on the e".

Names of marks follow what people call them, not what Unicode does.
"""

from __future__ import annotations

import unicodedata

from mailmerge.guests.names import clusters
from mailmerge.proofs.pack import words

_MARKS = {
    "\u0300": "a stroke falling to the right on the {}",
    "\u0301": "a stroke rising to the right on the {}",
    "\u0302": "a roof on the {}",
    "\u0303": "a tilde on the {}",
    "\u0304": "a bar over the {}",
    "\u0306": "a bowl over the {}",
    "\u0307": "a dot over the {}",
    "\u0308": "two dots on the {}",
    "\u0309": "a small hook on top of the {}",
    "\u030a": "a ring on the {}",
    "\u030b": "two rising strokes on the {}",
    "\u030c": "a small v on the {}",
    "\u030f": "two falling strokes on the {}",
    "\u031b": "a horn on the {}",
    "\u0323": "a dot under the {}",
    "\u0326": "a comma under the {}",
    "\u0327": "a hook under the {}",
    "\u0328": "a tail under the {}",
    "\u0331": "a bar under the {}",
}

_LETTERS = {
    "ð": ("d", "an eth (ð)"), "Ð": ("D", "a capital eth (Ð)"),
    "þ": ("th", "a thorn (þ)"), "Þ": ("Th", "a capital thorn (Þ)"),
    "ø": ("o", "a stroke through the o"), "Ø": ("O", "a stroke through the O"),
    "ł": ("l", "a stroke through the l"), "Ł": ("L", "a stroke through the L"),
    "đ": ("d", "a bar through the d"), "Đ": ("D", "a bar through the D"),
    "ħ": ("h", "a bar through the h"), "Ħ": ("H", "a bar through the H"),
    "ß": ("ss", "a sharp s (ß)"), "ẞ": ("SS", "a capital sharp s (ẞ)"),
    "æ": ("ae", "a and e joined (æ)"), "Æ": ("AE", "A and E joined (Æ)"),
    "œ": ("oe", "o and e joined (œ)"), "Œ": ("OE", "O and E joined (Œ)"),
    "ı": ("i", "an i without a dot"),
    "ŋ": ("ng", "an eng (ŋ)"), "Ŋ": ("Ng", "a capital eng (Ŋ)"),
    "ə": ("e", "a schwa (ə)"), "Ə": ("E", "a capital schwa (Ə)"),
}  # fmt: skip

_SIGNS = {
    "'": "an apostrophe", "’": "an apostrophe", "‘": "an opening quotation mark",
    "ʻ": "an okina", "-": "a hyphen", "‐": "a hyphen", "–": "a dash", "—": "a long dash",
    "&": "an and sign (&)", "/": "a slash", "(": "brackets", "@": "an at sign",
    "+": "a plus sign", "·": "a dot in the middle",
}  # fmt: skip

_RIGHT_TO_LEFT = ("R", "AL")


def notes_on(text: str) -> tuple[str, ...]:
    """Return what is unusual about the letters of a text: a sentence for each word with some."""
    return tuple(dict.fromkeys(note for word in text.split() if (note := _note(word))))


def _note(word: str) -> str:
    if not any(char.isalpha() for char in word):
        return ""  # a number, a date: there is no letter to be missed
    bare = ""
    found: list[str] = []
    for at, cluster in enumerate(clusters(word)):
        decomposed = unicodedata.normalize("NFD", cluster)
        letter, marks = decomposed[0], decomposed[1:]
        script = unicodedata.name(letter, "UNNAMED").split()[0]
        if letter.isalpha() and script not in ("LATIN", "MODIFIER"):
            right_to_left = unicodedata.bidirectional(letter) in _RIGHT_TO_LEFT
            return words.other_letters(word, script.title(), right_to_left)
        if letter in _LETTERS:
            plain, named = _LETTERS[letter]
            bare += plain
            found.append(named)
        else:
            bare += letter
            if letter in _SIGNS:
                found.append(_SIGNS[letter])
            elif letter.isdigit():
                found.append(words.digit(letter))
            elif not letter.isalpha() and letter not in ".,":
                found.append(words.sign(letter))
            elif letter.isupper() and at and word[at - 1 : at].islower():
                found.append(words.capital_inside(letter))
        found += [_MARKS.get(mark, words.OTHER_MARK).format(bare[-1:]) for mark in marks]
    if not found:
        return ""
    return words.unusual_letters(word, bare, list(dict.fromkeys(found)))
