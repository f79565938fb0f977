"""Ways out of what was found in a guest's texts, each tried before it is offered.

A way is another text, or that the text is meant just so. None is a guess that anybody has to
believe: it is shown with its outcome, and a person takes it. What would leave the finding as it is
is never offered.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field

from mailmerge.checks.items import check_texts
from mailmerge.checks.naming import read_otherwise, with_capital_i
from mailmerge.checks.spelling import without_role
from mailmerge.findings import Finding, Severity
from mailmerge.guests import Guest, Hand, Remark, corrected, meant_so
from mailmerge.guests.codepages import decoded
from mailmerge.guests.names import titled, turned

Texts = Mapping[str, str]

_MOST_COATS = 8


@dataclass(frozen=True, slots=True)
class Way:
    """One way out of a finding."""

    texts: Texts = field(default_factory=dict)
    """New texts by field; none where the text stays."""
    meant: str = ""
    """The text that is meant just so."""


def ways(
    guest: Guest,
    finding: Finding,
    engraved: frozenset[str],
    remarks_of: Callable[[Guest], tuple[Remark, ...]],
    asked: Hand | None,
    coats: tuple[str, ...],
) -> tuple[Way, ...]:
    """Return the ways out of a finding about a guest's texts, the likeliest first.

    Parameters
    ----------
    remarks_of
        Tells what the other rows say about a guest.
    asked
        The hand that a yes means in the list.
    coats
        Those that the guest's blank comes in.
    """
    if finding.severity is Severity.NOTE or finding.field is None:
        return ()

    of_texts = check_texts(guest, engraved, remarks_of(guest))
    if finding not in of_texts:
        return ()  # it is about how the text stands on the cup
    before = {each.code for each in of_texts}

    def helps(other: Guest) -> bool:
        """Whether it is not found any more, and no stop came in its place."""
        found = check_texts(other, engraved, remarks_of(other))
        same = (each.code == finding.code and each.field == finding.field for each in found)
        stops = {each.code for each in found if each.severity is Severity.STOP}
        return not any(same) and stops <= before

    offered: list[Texts] = []
    for texts in _texts(guest, finding, coats):
        if texts not in offered and helps(corrected(guest, texts, asked)):
            offered.append(texts)
    found = [Way(texts) for texts in offered]
    if finding.field in _MAY_BE_MEANT:
        text = guest.fields.get(finding.field, "")
        if text and helps(meant_so(guest, (text,))):
            found.append(Way(meant=text))
    return tuple(found)


_MAY_BE_MEANT = ("name", "first", "last", "role")


def _texts(guest: Guest, finding: Finding, coats: tuple[str, ...]) -> Iterator[Texts]:
    about = finding.field or ""
    now = guest.fields.get(about, "")
    for text in _OF[finding.code](now) if finding.code in _OF else ():
        if text != now and (text or about == "role"):
            yield {about: text}
    match finding.code:
        case "hand-unclear":
            yield {"hand": "left"}
            yield {"hand": "right"}
        case "quantity-unclear" | "quantity-far-off":
            yield from ({"quantity": each} for each in (*re.findall(r"\d{1,3}", now)[:2], "1"))
        case "coat-unclear":
            yield from ({"coat": coat} for coat in coats[:_MOST_COATS])
        case "names-exchanged" if guest.fields["first"] and guest.fields["last"]:
            yield {"first": guest.fields["last"], "last": guest.fields["first"]}
        case "role-in-name" if not guest.fields["role"]:
            name = without_role(now)
            yield {"name": name, "role": now.removeprefix(name).strip(" ()[]-–—,:")}


_LOOKS_LATIN = str.maketrans("аеорсухіјѕАВЕКМНОРСТУХІЈЅ", "aeopcyxijsABEKMHOPCTYXIJS")
"""Cyrillic letters that look as Latin ones do. From memory."""


def _in_latin(text: str) -> str:
    return text.translate(_LOOKS_LATIN)


def _without_signs(text: str) -> str:
    """Return a text without whatever is neither letter nor one of a name's signs."""
    kept = (char for char in text if unicodedata.category(char)[0] in "LMZPN")
    return " ".join("".join(kept).split())


def _parted(name: str) -> str:
    """Return a name with a blank before each capital that follows a small letter."""
    return re.sub(r"(?<=[^\W\d_A-Z])(?=[A-Z][^\W\d_]{2})", " ", name)


def _word_by_word(name: str) -> str:
    """Return a name with the usual capitals in each word that has none, or nothing else."""
    words = name.split()
    plain = [w if w[:1].isupper() and w[1:].islower() else titled(w.lower()) for w in words]
    return " ".join(plain)


_OF: Mapping[str, Callable[[str], tuple[str, ...]]] = {
    "all-capitals": lambda now: (titled(now),),
    "all-lower-case": lambda now: (titled(now),),
    "odd-capitals": lambda now: (_word_by_word(now), titled(now.lower())),
    "comma-in-name": lambda now: (turned(now),),
    "wrong-code-page": lambda now: (decoded(now), read_otherwise(now)),
    "l-for-i": lambda now: (with_capital_i(now),),
    "words-joined": lambda now: (_parted(now),),
    "stray-sign": lambda now: (now.strip(" .,;:!?*\"'“”„‘’«»"),),
    "role-in-name": lambda now: (without_role(now),),
    "mixed-alphabets": lambda now: (_in_latin(now),),
    "look-alike": lambda now: (_in_latin(now),),
    "emoji": lambda now: (_without_signs(now),),
    "not-a-role": lambda _: ("",),
    "remark-in-role": lambda _: ("",),
}
"""Texts to try, by the code of what was found."""
