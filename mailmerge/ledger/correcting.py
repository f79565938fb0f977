"""Texts that the maker puts in the place of the list's, and taking them back."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from mailmerge.findings import InputError
from mailmerge.guests import Guest, corrected
from mailmerge.guests.cleaning import clean
from mailmerge.guests.reading import MAX_TEXT, quantity_of
from mailmerge.ledger import words
from mailmerge.ledger.ledger import Ledger, LedgerChange, now
from mailmerge.ledger.standing import Correction
from mailmerge.voice import hidden_in

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
    if hidden_in(text):
        raise InputError(words.holds_hidden_signs(name, text))
    if text == was:
        raise InputError(words.says_so_already(wanted.item, name, text))
    return text


@dataclass(frozen=True)
class Apart:
    """Two people of one row, each with texts of their own."""

    guest: int
    """Whose row it is."""
    texts: Texts
    """New texts of that guest, by field."""
    other: Texts
    """All texts of the second one."""


def see_apart(
    ledger: Ledger, item: int, names: tuple[str, str], saw: str | None, fields: frozenset[str]
) -> Apart:
    """Return what each of two people in one row would have on a cup of their own.

    The second one has all that the row says but the name. Two cups for the row are one for each.

    Parameters
    ----------
    saw
        The name that somebody decided about; None if nobody says.
    fields
        Those that the list has.

    Raises
    ------
    InputError
        There is no such item, its row was split already, a name is none, both are the same, or the
        name was changed since it was seen.
    """
    seen = {} if saw is None else {"name": saw}
    first, second = (
        see_correctable(ledger, [Wanted(item, {"name": name}, seen)], fields) for name in names
    )
    ((guest, _), one), other = next(iter(first.items())), next(iter(second.values()))
    if one.casefold() == other.casefold():
        raise InputError(words.one_person_twice(one))
    if any(each.beside == guest for each in ledger.additions()):
        raise InputError(words.split_already(item))
    texts = {"name": one}
    own = {f: text for f, text in texts_now(ledger)[item][1].items() if f not in ("first", "last")}
    if quantity_of(own.get("quantity", "")) == len(names):
        texts["quantity"] = own["quantity"] = "1"
    return Apart(guest, texts, {**own, "name": other})


def put_apart(change: LedgerChange, apart: Apart, said_by: str) -> dict[tuple[int, str], str]:
    """Put on record that a row holds two people; return the new texts by guest and field."""
    texts = {(apart.guest, name): text for name, text in apart.texts.items()}
    put(change, texts, said_by)
    change.put_beside(apart.guest, apart.other)
    return texts


def put_together(change: LedgerChange, guest: int, said_by: str) -> dict[tuple[int, str], str]:
    """Let a row that was split hold one guest again; return the list's own quantity, if it changes.

    Nothing happens to a row that was not split.
    """
    beside = [each for each in change.additions() if each.beside == guest]
    for each in beside:
        change.end_addition(each.number)
    latest = [each for each in change.corrections().get(guest, ()) if each.field == "quantity"]
    if not beside or not latest or latest[-1].is_taken_back:
        return {}
    texts = {(guest, "quantity"): latest[-1].was}
    put(change, texts, said_by)
    return texts


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
