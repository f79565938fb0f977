"""What somebody said about the items of a proof pack, whichever way it came."""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from mailmerge.answers import words
from mailmerge.findings import InputError
from mailmerge.ledger.ledger import Ledger

MAX_BYTES = 2_000_000
"""Answers to ten thousand items, with remarks, take less."""

ID = "[0-9A-Z]{4}-[0-9A-Z]{4}"
"""What a pack and a page are known by, as a pattern."""


@dataclass(frozen=True)
class Said:
    """What somebody said about one item."""

    item: int
    seal: str
    """Of the artwork that was seen."""
    verdict: Literal["yes", "change"]
    words: str = ""
    texts: Mapping[str, str] | None = None
    """New texts by field, where they were given."""


@dataclass(frozen=True)
class Unclear:
    """Something that came back and is not understood: a question for the maker."""

    items: tuple[int, ...]
    """Those that it may concern."""
    place: str
    """Where it stood, in words."""
    words: str
    """All that stood there, never cut."""
    fields: Mapping[str, str] = field(default_factory=dict)
    """Texts of the guest that it may be about, by field."""


@dataclass(frozen=True)
class Answers:
    """Everything that came back at once."""

    way: str
    """``file``, ``text`` or ``workbook``."""
    said_by: str
    said_at: str
    """When it was saved, by the clock of the page that saved it; ``""`` if that is not known."""
    said: tuple[Said, ...]
    pack: str
    """The proof pack that was looked at."""
    page: str = ""
    """The page that it was said on: one for each person and pack; ``""`` where it was none."""
    saving: int = 0
    """Of that page's savings, from 1 on; of two the later one counts. 0 where there is no page."""
    unclear: tuple[Unclear, ...] = ()
    """What came with it and was not understood."""
    beside: str = ""
    """What stands above and below the answers in a message, greetings and all."""
    left_out: tuple[int, ...] = ()
    """Items of the list that was sent whose rows are not in the one that came back."""
    is_exact: bool = True
    """Whether its words are sure to the last blank; else new texts are not proposed."""


_JOINERS = "\u200c\u200d"
"""Part of the spelling in some scripts."""


def cleaned(text: str) -> str:
    """Return words on one line, without control and direction characters."""
    printable = "".join(c for c in text if c.isprintable() or c.isspace() or c in _JOINERS)
    return " ".join(printable.split())


def cleaned_answers(answers: Answers) -> Answers:
    """Return answers whose words are cleaned, and none of them cut."""
    said = tuple(map(_cleaned_answer, answers.said))
    return replace(
        answers, said_by=cleaned(answers.said_by), said_at=answers.said_at[:40], said=said
    )


def _cleaned_answer(said: Said) -> Said:
    texts = {name: cleaned(text) for name, text in (said.texts or {}).items()}
    return replace(said, words=cleaned(said.words), texts=texts)


def check_shown(ledger: Ledger, where: str, answers: Answers) -> None:
    """See that the pack, one of this order, showed these items, seals and fields, each item once.

    Raises
    ------
    InputError
        It did not.
    """
    pack = answers.pack
    seen = ledger.shown_in(pack)
    if not seen:
        raise InputError(words.unknown_pack(where, pack))
    about = ledger.texts_in(pack)
    numbers: set[int] = set()
    for each in answers.said:
        if each.item not in seen:
            raise InputError(words.not_in_pack(where, each.item, pack))
        if each.seal != seen[each.item]:
            raise InputError(words.other_seal(where, each.item, each.seal, pack, seen[each.item]))
        if each.item in numbers:
            raise InputError(words.answered_twice(where, each.item))
        numbers.add(each.item)
        if strange := (each.texts or {}).keys() - about[each.item].keys():
            raise InputError(words.no_such_field(where, each.item, min(strange), about[each.item]))


_PLAIN = str.maketrans(
    {
        "‘": "'", "’": "'", "‚": "'", "‹": "'", "›": "'", "“": '"', "”": '"', "„": '"', "«": '"',
        "»": '"', "–": "-", "—": "-", "…": "...",
    }
)  # fmt: skip
_BLANKS = re.compile(r"[\s\x00-\x1f\x7f-\x9f\ufeff]+")
_UNSEEN = ("Cf", "Cc")


def exactly(text: str) -> str:
    """Return a text as it is."""
    return text


def latest(found: Sequence[Answers]) -> list[Answers]:
    """Return answers without those that a later saving of their page takes the place of."""
    return [each for each in found if not any(_replaces(other, each) for other in found)]


def _replaces(later: Answers, earlier: Answers) -> bool:
    about = {each.item for each in later.said}
    return (
        later.page != ""
        and (later.pack, later.page) == (earlier.pack, earlier.page)
        and later.saving > earlier.saving
        and about.issuperset(each.item for each in earlier.said)
    )


def spaced(text: str) -> str:
    """Return a text in the form NFC, and every run of blanks as one."""
    return _BLANKS.sub(" ", unicodedata.normalize("NFC", text)).strip(" ")


def squashed(text: str) -> str:
    """Return what programs for messages leave alone: no blanks, plain quotes and dashes."""
    plain = unicodedata.normalize("NFC", text).translate(_PLAIN)
    return "".join(c for c in plain if not c.isspace() and unicodedata.category(c) not in _UNSEEN)


def fnv_1a(text: str) -> str:
    """Return FNV-1a of 32 bits (Fowler, Noll, Vo; RFC 9923) of a text in UTF-8, in hex."""
    code = 0x811C9DC5
    for byte in text.encode("utf-8", "surrogatepass"):
        code = ((code ^ byte) * 0x01000193) & 0xFFFFFFFF
    return f"{code:08x}"


def check_of(answers: Answers, read: Callable[[str], str] = exactly) -> str:
    """Return the check code of answers: FNV-1a over them as JSON without blanks.

    It finds what was lost or changed on the way; it is no signature. The page computes the same.
    What is covered is this array, the answers in the order in which they stand and the texts by
    field, so that no sign within a part can stand for the border of another::

        [pack, page, saving, by, at, [[item, verdict, words, [[field, text], ...]], ...]]

    Parameters
    ----------
    read
        How words are read. A file is covered :func:`exactly`, for no program changes it. A text has
        two codes: the first one over words that are :func:`squashed` agrees after any mail
        program, and the second one over words that are :func:`spaced` where none has changed a
        blank or a sign.
    """
    said = [
        [
            s.item,
            s.verdict,
            read(s.words),
            [[f, read(t)] for f, t in sorted((s.texts or {}).items())],
        ]
        for s in answers.said
    ]
    by, at = read(answers.said_by), read(answers.said_at)
    covered = [answers.pack, answers.page, answers.saving, by, at, said]
    return fnv_1a(json.dumps(covered, ensure_ascii=False, separators=(",", ":")))


def first_check_of(answers: Answers) -> str:
    """Return the check code of a text of the first version: it had no page."""
    rows = [answers.pack]
    for each in answers.said:
        texts = [f"{field}={squashed(text)}" for field, text in sorted((each.texts or {}).items())]
        rows.append("|".join([str(each.item), each.verdict, squashed(each.words), *texts]))
    return fnv_1a("\n".join(rows))
