"""What a client's words mean for the text: a proposal for the maker to accept, never more.

"Mathew with one t" means that of the words engraved the one most like "Mathew" shall be "Mathew".
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from mailmerge.ledger.matching import alike

_LIKE = 65.0
"""Own judgement: a word is meant for one that is so like it, in per cent."""

_QUOTED = re.compile(r"[\"“„«‹]([^\"“”„«»‹›]{1,200})[\"”“»›]|(?<!\w)['‘]([^'‘’]{2,200})['’](?!\w)")
_WORD = re.compile(r"[^\W\d_][\w'’.-]*[^\W_]|[^\W\d_]")


def proposed(about: Mapping[str, str], words: str) -> dict[str, str]:
    """Return the new texts by field that a client's words ask for; empty where it is not plain.

    Parameters
    ----------
    about
        The texts that were seen, by field.
    words
        What the client wrote about them.
    """
    quoted = [next(filter(None, found)).strip() for found in _QUOTED.findall(words)]
    candidates = [text for text in quoted if text not in about.values()] or [words]
    for text in candidates:
        for field, now in about.items():
            if now.strip() and text != now and _is_whole(text, now):
                return {field: text}
    found: dict[str, str] = {}
    for text in candidates:
        for field, now in about.items():
            if (new := _one_word(now, text)) and new != now:
                found[field] = new
    return found if len(found) == 1 else {}


def fields_like(about: Mapping[str, str], text: str) -> list[str]:
    """Return the fields whose text is like a new one as a whole."""
    return [field for field, now in about.items() if now.strip() and _is_whole(text, now)]


def _is_whole(text: str, now: str) -> bool:
    """Whether a text stands for the whole of another: as many words, and nearly the same ones."""
    return len(text.split()) == len(now.split()) and alike(text, now) >= _LIKE


def _one_word(now: str, text: str) -> str:
    """Return ``now`` with its one word changed that ``text`` spells another way; else ``""``."""
    have = _WORD.findall(now)
    pairs: dict[str, str] = {}
    for word in _WORD.findall(text):
        if word in have or not (word[:1].isupper() or not word[:1].isalpha() or now.islower()):
            continue  # an ordinary word of the sentence
        near = [known for known in have if len(known) > 1 and alike(word, known) >= _LIKE]
        if len(near) == 1 and pairs.setdefault(near[0], word) != word:
            return ""
    if len(pairs) != 1:
        return ""
    ((old, new),) = pairs.items()
    if f" {now} ".count(old) != 1:
        return ""
    return now.replace(old, new)
