"""Findings about names and roles as text: doubtful, but perhaps right, so never changed."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator

from fontTools import unicodedata as scripts

from mailmerge.findings import Finding, Severity, shown
from mailmerge.guests import Guest
from mailmerge.guests.names import titled

_E_MAIL = re.compile(r"\S+@\S+\.\S+")
_IN_BRACKETS = re.compile(r"^(?P<name>.*\S)\s*[(\[{](?P<role>[^)\]}]+)[)\]}]\s*$")
_AFTER_DASH = re.compile(r"^(?P<name>.*\S)\s+[-–—/|:]\s+(?P<role>\S.*)$")
_DIRECTION = re.compile("[\u202a-\u202e\u2066-\u2069]")
_WORDS = re.compile(r"[^\W\d_]+")
_NAME_SIGNS = frozenset(" -'’‘`.,·&‐‑ʼʻ־״׳()[]{}/|:–—@+\"“”„")
_SUFFIX = re.compile(r",\s*(jr|sr|[ivx]+|phd|md)\.?$", re.IGNORECASE)
_INITIALS = 3
"""Capitals up to this many letters are taken for initials: JJ, MTB."""


def check_spelling(guest: Guest, engraved: frozenset[str]) -> list[Finding]:
    """Return the suggestions about the guest's engraved texts."""
    troubled = {trouble.field for trouble in guest.troubles}
    found: list[Finding] = []
    if "role" in engraved and guest.fields["role"].casefold().rstrip(".") in _ADDRESSES:
        found.append(
            _warning(
                "form-of-address",
                "role",
                f"the role is a form of address: {shown(guest.fields['role'])}",
                "Another column may hold the role; say which under [columns] in order.toml.",
            )
        )
    if engraved & {"name", "first", "last"} and not troubled & {"name", "first", "last"}:
        found += _name(guest.name, guest.fields.get("language", ""))
    for field in sorted(engraved & set(guest.fields) - troubled):
        found += _any_text(field, guest.fields[field])
    return _once(found)


_NO_NAMES = frozenset(
    ("total", "totals", "sum", "subtotal", "grand total", "tba", "tbc", "tbd", "to be announced",
     "n/a", "na", "none", "nobody", "guest", "plus one", "+1", "x", "?", "??", "-")
)  # fmt: skip
_ADDRESSES = frozenset(("mr", "mrs", "ms", "miss", "mx", "dr", "prof", "sir", "madam"))


def _warning(code: str, field: str, message: str, advice: str) -> Finding:
    return Finding(code, Severity.WARNING, field, message, advice)


def _once(found: list[Finding]) -> list[Finding]:
    """Leave out what the first name repeats of the whole one."""
    whole = {finding.code for finding in found if finding.field == "name"}
    return [f for f in found if f.field not in ("first", "last") or f.code not in whole]


def _name(name: str, language: str) -> Iterator[Finding]:
    letters = [char for char in name if char.isalpha()]
    cased = [char for char in letters if char.lower() != char.upper()]
    if len(cased) > _INITIALS and all(char.isupper() for char in cased):
        yield _warning(
            "all-capitals",
            "name",
            f"the name is all in capitals: {shown(name)}",
            f"Ask whether it should be {shown(titled(name, language))}.",
        )
    elif len(cased) > 1 and all(char.islower() for char in cased):
        yield _warning(
            "all-lower-case",
            "name",
            f"the name is all in small letters: {shown(name)}",
            f"Ask whether it should be {shown(titled(name, language))}.",
        )
    if _E_MAIL.search(name):
        yield _warning(
            "e-mail",
            "name",
            f"the name holds an e-mail address: {shown(name)}",
            "Ask for the name that should be engraved.",
        )
    elif any(char.isdigit() for char in name):
        yield _warning(
            "digits",
            "name",
            f"the name holds digits: {shown(name)}",
            "Ask whether the number belongs to the name.",
        )
    if match := _IN_BRACKETS.match(name) or _AFTER_DASH.match(name):
        yield _warning(
            "role-in-name",
            "name",
            f"something other than a name seems to stand with it: {shown(match['role'])}",
            f"If the name is {shown(match['name'])}, move the rest into its own column.",
        )
    if name.casefold().rstrip(":. ") in _NO_NAMES:
        yield _warning(
            "not-a-name",
            "name",
            f"this does not look like somebody's name: {shown(name)}",
            "Take the row out of the list, or put the name in.",
        )
    if re.search(r"\S,\s*\S", name) and not _SUFFIX.search(name):
        last, _, first = name.partition(",")
        yield _warning(
            "comma-in-name",
            "name",
            f"the name holds a comma: {shown(name)}",
            f"Ask whether it should be {shown(f'{first.strip()} {last.strip()}')}.",
        )


def _any_text(field: str, text: str) -> Iterator[Finding]:
    if overrides := sorted(set(_DIRECTION.findall(text))):
        codes = ", ".join(f"U+{ord(char):04X}" for char in overrides)
        yield Finding(
            "direction-override",
            Severity.STOP,
            field,
            f"the {field} holds invisible signs that turn its direction ({codes}): it shows "
            f"otherwise than it would be engraved",
            "Type the text again from the keyboard, without pasting.",
        )
    if emoji := [char for char in text if _is_emoji(char)]:
        codes = ", ".join(f"{char} (U+{ord(char):04X})" for char in dict.fromkeys(emoji))
        yield _warning(
            "emoji",
            field,
            f"the {field} holds a picture character: {codes}",
            "Ask for the text without it; a letter font has no such outline.",
        )
    for word in _WORDS.findall(text):
        used = dict.fromkeys(
            name for char in word if (name := scripts.script(char)) not in ("Zyyy", "Zinh")
        )
        if len(used) > 1 and not set(used) <= {"Hani", "Hira", "Kana"}:
            listed = " and ".join(scripts.script_name(name) for name in used)
            odd = _odd_letters(word, list(used))
            yield _warning(
                "mixed-alphabets",
                field,
                f"the word {shown(word)} mixes letters of {listed}: {odd}",
                "Letters of two alphabets may look alike. Type the word again in one of them.",
            )
    signs = [
        char
        for char in dict.fromkeys(text)
        if unicodedata.category(char)[0] in "PSN"
        and char not in _NAME_SIGNS
        and not char.isdigit()
        and not _is_emoji(char)
    ]
    if signs and field != "role":
        yield _warning(
            "odd-sign",
            field,
            f"the {field} holds a sign that names rarely have: {' '.join(signs)}",
            "Compare it with how its owner writes it; it may be a letter read wrongly.",
        )


def _odd_letters(word: str, used: list[str]) -> str:
    """Return the letters of the rarer alphabet, with code points, to find them by."""
    by_script = {name: [c for c in word if scripts.script(c) == name] for name in used}
    rarer = min(by_script, key=lambda name: len(by_script[name]))
    return ", ".join(f"{char} is U+{ord(char):04X}" for char in dict.fromkeys(by_script[rarer]))


def _is_emoji(char: str) -> bool:
    code = ord(char)
    return 0x1F000 <= code <= 0x1FAFF or (0x2600 <= code <= 0x27BF) or 0xFE00 <= code <= 0xFE0F
