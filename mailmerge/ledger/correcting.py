"""Texts that the maker puts in the place of the list's, and taking them back."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from mailmerge.findings import InputError
from mailmerge.guests import Guest, corrected
from mailmerge.guests.cleaning import clean
from mailmerge.guests.reading import MAX_TEXT
from mailmerge.ledger import words
from mailmerge.ledger.ledger import Ledger, LedgerChange, now
from mailmerge.ledger.standing import Correction

Texts = Mapping[str, str]

_NEVER_BLANK = ("name", "first", "last")


@dataclass(frozen=True)
class Wanted:
    """New texts for the guest of an item."""

    item: int
    texts: Texts
    """By field."""
    saw: Texts
    """What each field said when somebody decided; a field that is not named is not compared."""


def texts_now(ledger: Ledger) -> dict[int, tuple[int, dict[str, str]]]:
    """Return guest and texts of every item that is wanted, corrected texts in their places."""
    corrections = ledger.corrections()
    found: dict[int, tuple[int, dict[str, str]]] = {}
    for known in ledger.guests():
        if known.gone:
            continue
        latest = {each.field: each for each in corrections.get(known.guest, ())}
        held = {
            name: each.text
            for name, each in latest.items()
            if known.fields.get(name, "") == each.was and not each.is_taken_back
        }
        texts = (
            dict(corrected(Guest(known.row, known.fields), held).fields)
            if held
            else {**known.fields}
        )
        found |= dict.fromkeys(known.items, (known.guest, texts))
    return found


def see_correctable(
    ledger: Ledger, wanted: Iterable[Wanted], fields: frozenset[str]
) -> dict[tuple[int, str], str]:
    """Return the new texts by guest and field, if they can be put on record.

    Parameters
    ----------
    fields
        Those that the list has.

    Raises
    ------
    InputError
        An item or field is not there, a text is none or as it is already, somebody has changed it
        since it was seen, or two cups of a guest would get different texts.
    """
    now_of = texts_now(ledger)
    found: dict[tuple[int, str], str] = {}
    for each in wanted:
        if each.item not in now_of:
            raise InputError(words.no_guest_of(each.item))
        guest, texts = now_of[each.item]
        for name, typed in each.texts.items():
            text = _checked(each, name, typed, texts, fields)
            if found.setdefault((guest, name), text) != text:
                raise InputError(words.two_texts_for(each.item, text, found[guest, name]))
    return found


def _checked(wanted: Wanted, name: str, typed: str, texts: Texts, fields: frozenset[str]) -> str:
    if name not in fields:
        raise InputError(words.no_such_field(name, sorted(fields)))
    text, was = clean(name, " ".join(typed.split()))[0], texts.get(name, "")
    if name in wanted.saw and wanted.saw[name] != was:
        raise InputError(words.changed_since_seen(wanted.item, name, wanted.saw[name], was))
    if not text and name in _NEVER_BLANK:
        raise InputError(words.never_blank(name))
    if len(text) > MAX_TEXT:
        raise InputError(words.longer_than(name, len(text), MAX_TEXT))
    if text == was:
        raise InputError(words.says_so_already(wanted.item, name, text))
    return text


def put(change: LedgerChange, texts: Mapping[tuple[int, str], str], said_by: str) -> None:
    """Put new texts on record, by guest and field; inside a change of the change."""
    own = {known.guest: known.fields for known in change.guests()}
    before = change.corrections()
    for (guest, name), text in texts.items():
        was = own[guest].get(name, "")
        if name in ("first", "last") and any(c.field == "name" for c in before.get(guest, ())):
            # A whole name that was corrected would stand over its parts.
            whole = own[guest].get("name", "")
            change.put_correction(guest, Correction("name", whole, whole, "", said_by, now()))
        change.put_correction(guest, Correction(name, was, text, "", said_by, now()))


def see_taken_back(ledger: Ledger, item: int, name: str) -> tuple[int, str]:
    """Return the guest of an item, and what the list says in a field that was corrected.

    Raises
    ------
    InputError
        There is no such item, or nothing was corrected there.
    """
    now_of = texts_now(ledger)
    if item not in now_of:
        raise InputError(words.no_guest_of(item))
    guest, texts = now_of[item]
    own = next(known.fields for known in ledger.guests() if known.guest == guest)
    if texts.get(name, "") == own.get(name, ""):
        raise InputError(words.nothing_corrected(item, name))
    return guest, own.get(name, "")
