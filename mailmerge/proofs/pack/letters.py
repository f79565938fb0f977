"""Letters that are easily missed when a name is checked, in words: "Zoe with two dots on the e"."""

from __future__ import annotations

import unicodedata

from mailmerge.guests.names import clusters
from mailmerge.proofs.pack import words
from mailmerge.proofs.pack.languages import ENGLISH, Language

_RIGHT_TO_LEFT = ("R", "AL")


def notes_on(text: str, language: Language = ENGLISH) -> tuple[str, ...]:
    """Return what is unusual about the letters of a text: a sentence for each word with some."""
    notes = (_note(word, language) for word in text.split())
    return tuple(dict.fromkeys(note for note in notes if note))


def _note(word: str, language: Language) -> str:
    if not any(char.isalpha() for char in word):
        return ""  # a number, a date: there is no letter to be missed
    bare = ""
    found: list[str] = []
    for at, cluster in enumerate(clusters(word)):
        decomposed = unicodedata.normalize("NFD", cluster)
        letter, marks = decomposed[0], decomposed[1:]
        script = unicodedata.name(letter, "UNNAMED").split()[0].replace("CJK", "HAN")
        if letter.isalpha() and script not in ("LATIN", "MODIFIER"):
            if language.is_written_in(script.title()):
                return ""
            right_to_left = unicodedata.bidirectional(letter) in _RIGHT_TO_LEFT
            return words.other_letters(language, word, script.title(), right_to_left)
        if letter in words.LETTERS:
            plain, named = words.LETTERS[letter]
            bare += plain
            found.append(language.gettext(named))
        else:
            bare += letter
            if letter in words.SIGNS:
                found.append(language.gettext(words.SIGNS[letter]))
            elif letter.isdigit():
                found.append(words.digit(language, letter))
            elif not letter.isalpha() and letter not in ".,":
                found.append(words.sign(language, letter))
            elif letter.isupper() and at and word[at - 1 : at].islower():
                found.append(words.capital_inside(language, letter))
        found += [words.mark(language, mark, bare[-1:]) for mark in marks]
    if not found:
        return ""
    return words.unusual_letters(language, word, bare, list(dict.fromkeys(found)))
