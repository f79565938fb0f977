"""Letters that are easily missed when a name is checked, in words: "Zoe with two dots on the e"."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from itertools import groupby

from mailmerge.guests.names import clusters
from mailmerge.proofs.pack import words
from mailmerge.proofs.pack.languages import ENGLISH, Language

_RIGHT_TO_LEFT = ("R", "AL")


def notes_on(text: str, language: Language = ENGLISH) -> tuple[str, ...]:
    """Return what is unusual about the letters of a text, in sentences.

    There is one for each word with some, and one for all words in a row of another alphabet.
    """
    notes = (
        note
        for script, words_of_it in groupby(text.split(), _other_script)
        for note in _notes(script, [*words_of_it], language)
    )
    return tuple(dict.fromkeys(filter(None, notes)))


def _notes(script: str, words_of_it: list[str], language: Language) -> Iterator[str]:
    if not script:
        yield from (_note(word, language) for word in words_of_it)
    elif not language.is_written_in(script):
        text = " ".join(words_of_it)
        letters = unicodedata.normalize("NFD", text)
        first = next(char for char in letters if _script(char) == script)
        right_to_left = unicodedata.bidirectional(first) in _RIGHT_TO_LEFT
        yield words.other_letters(language, text, script, right_to_left)


def _other_script(word: str) -> str:
    """Return the alphabet of the first letter of a word that is not Latin; ``""`` if all are."""
    scripts = (_script(char) for char in unicodedata.normalize("NFD", word) if char.isalpha())
    return next((script for script in scripts if script not in ("Latin", "Modifier")), "")


def _script(letter: str) -> str:
    """Return the alphabet that a letter's name in Unicode begins with."""
    return unicodedata.name(letter, "UNNAMED").split()[0].replace("CJK", "HAN").title()


def _note(word: str, language: Language) -> str:
    """Return what is unusual about a word in Latin letters."""
    if not any(char.isalpha() for char in word):
        return ""  # a number, a date: there is no letter to be missed
    bare = ""
    found: list[str] = []
    for at, cluster in enumerate(clusters(word)):
        decomposed = unicodedata.normalize("NFD", cluster)
        letter, marks = decomposed[0], decomposed[1:]
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
