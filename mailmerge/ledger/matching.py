"""Which row of the list is which guest of the order: numbers stay with people, not with rows.

Rows may have been added, removed, sorted and corrected since the last merge. What can be told for
sure is told, by the whole row, by name and role, by the name, then by the row that it stands in;
what cannot is a question, and never a guess: a wrong match gives somebody's cup to somebody else.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence

import numpy as np
from rapidfuzz import fuzz, process

from mailmerge.findings import InputError
from mailmerge.guests import fold
from mailmerge.ledger import words
from mailmerge.ledger.who import Choices, Found, Known, Match, Matching, Question, Unsure

_SAME_ROW = 70.0
"""A name in the row of another is taken for its correction if they are so alike, in per cent.

Own judgement, as the next one: "Mathew" and "Matthew" are 92 alike, "Ann" and "Anna" 86, "Berg"
and "Holm" 0.
"""

_ELSEWHERE = 80.0
"""A name so like one that has left its row is asked about."""

_AT_ONCE = 128
"""Names that are compared with all others at a time: with 10,000 in 10 MB."""


_Key = Callable[[Mapping[str, str]], Hashable]


def _whole(fields: Mapping[str, str]) -> Hashable:
    return tuple(sorted(fields.items()))


def _name_and_role(fields: Mapping[str, str]) -> Hashable:
    return fields["name"], fields["role"]


def _name(fields: Mapping[str, str]) -> Hashable:
    return fold(fields["name"])


def alike(one: str, other: str) -> float:
    """Return how alike two texts are, from 0 to 100, without case, accents and order of words."""
    return float(fuzz.ratio(_in_order(one), _in_order(other)))


def _in_order(text: str) -> str:
    """Return a text with its words in alphabetical order, without case and accents."""
    return " ".join(sorted(_plain(text).split()))


def _plain(text: str) -> str:
    return " ".join(fold(word) for word in text.split())


class _Table:
    """Guests and rows that have not found each other yet."""

    def __init__(self, known: Iterable[Known], found: Iterable[Found]) -> None:
        self.known = {each.guest: each for each in known if not each.gone}
        self.found = {each.row: each for each in found}
        self.stayed: list[Match] = []
        self.questions: dict[int, Question] = {}

    def take(self, known: Known, found: Found, how: str) -> None:
        self.stayed.append(Match(known, found, how))
        self.known.pop(known.guest, None)
        del self.found[found.row]

    def groups(self, key: _Key) -> Iterable[tuple[list[Known], list[Found]]]:
        """Return the guests and the rows that share a key, each in the order of their rows."""
        rows: dict[Hashable, list[Found]] = {}
        for found in self.found.values():
            rows.setdefault(key(found.fields), []).append(found)
        guests: dict[Hashable, list[Known]] = {}
        for known in sorted(self.known.values(), key=lambda each: each.row):
            guests.setdefault(key(known.fields), []).append(known)
        return [(group, rows[at]) for at, group in guests.items() if at in rows]

    def ask(self, known: Known, rows: Iterable[Found]) -> None:
        self.questions.setdefault(known.guest, Question(known, tuple(rows)))


def match(known: Sequence[Known], found: Sequence[Found], choices: Choices) -> Matching:
    """Find every guest's row.

    Raises
    ------
    Unsure
        Somebody could be in several rows, or a row could be somebody or not.
    InputError
        The maker's choices name an item or a row that there is not.
    """
    table = _Table(known, found)
    gone = _as_said(table, known, choices)
    ways: tuple[tuple[str, _Key], ...] = (
        ("the whole row", _whole), ("name and role", _name_and_role),
    )  # fmt: skip
    for how, key in ways:
        for guests, rows in table.groups(key):
            by_row = {each.row: each for each in rows}
            if len(guests) > len(rows) and len({each.mark for each in guests}) > 1:
                for each in guests:  # one has left, and it matters which
                    table.ask(each, rows)
                continue
            for each in guests:
                if each.row in by_row:
                    table.take(each, by_row.pop(each.row), how)
            guests = [each for each in guests if each.guest in table.known]
            alone = len(guests) == len(by_row) == 1
            if alone or key is _whole:  # rows that say the very same may change places
                for each, row in zip(guests, list(by_row.values()), strict=False):
                    table.take(each, row, how)
            elif guests and by_row:
                for each in guests:
                    table.ask(each, by_row.values())
    for guests, rows in table.groups(_name):
        is_asked = guests[0].guest in table.questions
        if len(guests) == len(rows) == 1 and guests[0].fields["name"] and not is_asked:
            table.take(guests[0], rows[0], "name")
    _by_row(table)
    _elsewhere(table)
    if table.questions and not choices.unsure_are_gone:
        raise Unsure(list(table.questions.values()))
    taken = {each.known.guest for each in table.stayed}
    for each in [each for each in known if each.gone and each.guest not in taken]:
        said = _name_and_role(each.fields)
        again = [found for found in table.found.values() if _name_and_role(found.fields) == said]
        if len(again) == 1:
            table.take(each, again[0], "name and role, back again")
    return Matching(
        tuple(sorted(table.stayed, key=lambda each: each.found.row)),
        tuple(sorted(table.found.values(), key=lambda each: each.row)),
        (*gone, *table.known.values()),
    )


def _as_said(table: _Table, known: Sequence[Known], choices: Choices) -> list[Known]:
    """Carry out the maker's choices; return the guests who are gone."""
    of_item = {number: each for each in known for number in each.items}
    for number, row in choices.same.items():
        if number not in of_item:
            raise InputError(words.same_without_item(number, row))
        if row not in table.found:
            raise InputError(words.same_without_row(number, row))
        guest = of_item[number].guest
        if any(each.known.guest == guest for each in table.stayed):
            raise InputError(words.same_guest_twice(number, row))
        table.take(of_item[number], table.found[row], "your word")
    gone: dict[int, Known] = {}
    for number in sorted(choices.gone):
        if number not in of_item:
            raise InputError(words.gone_without_item(number))
        guest = of_item[number].guest
        if guest not in table.known and guest not in gone:
            raise InputError(words.gone_already(number))
        gone[guest] = table.known.pop(guest, of_item[number])
    return list(gone.values())


def _by_row(table: _Table) -> None:
    """Match what is left by the row, where it is plain; ask where it is not.

    It is plain where every word of the name is like the one before (one of them, before anybody has
    said yes), nobody else's name is as like, and no cup exists that could become somebody else's.
    """
    by_row = [(k, table.found[k.row]) for k in table.known.values() if k.row in table.found]
    for known, found, like_old, like_new in _compared(table, by_row):
        old, new = known.fields, found.fields
        if not (old["name"] and new["name"]):
            same = old["name"] == new["name"] or old["role"] == new["role"]
            rivals: list[Found] = []
        else:
            same = _word_by_word(old["name"], new["name"]) >= _SAME_ROW
            if not known.is_at_stake:
                same = same or bool({*_plain(old["name"]).split()} & {*_plain(new["name"]).split()})
            rivals = [f for f in like_old if f is not found and f.row in table.found]
            same = same and not any(k is not known and k.guest in table.known for k in like_new)
        if same and not rivals and not known.is_made and known.guest not in table.questions:
            table.take(known, found, "row")
        else:
            table.ask(known, [found, *rivals])


def _compared(
    table: _Table, by_row: Sequence[tuple[Known, Found]]
) -> Iterator[tuple[Known, Found, list[Found], list[Known]]]:
    """Pass over guests and their rows, with all rows and all guests whose name is no less like.

    The rows are those whose name is as like the guest's as that of their own row or more, the
    guests those whose name is so like the row's. Both are as the table was at the start.
    """
    rows, guests = [*table.found.values()], [*table.known.values()]
    row_names = [_in_order(each.fields["name"]) for each in rows]
    guest_names = [_in_order(each.fields["name"]) for each in guests]
    for start in range(0, len(by_row), _AT_ONCE):
        some = by_row[start : start + _AT_ONCE]
        old = [_in_order(known.fields["name"]) for known, _ in some]
        new = [_in_order(found.fields["name"]) for _, found in some]
        here = process.cpdist(old, new, scorer=fuzz.ratio, dtype=np.float64)[:, None]
        to_rows = process.cdist(old, row_names, scorer=fuzz.ratio, dtype=np.float64) >= here
        to_guests = process.cdist(new, guest_names, scorer=fuzz.ratio, dtype=np.float64) >= here
        for (known, found), of_rows, of_guests in zip(some, to_rows, to_guests, strict=True):
            like_old = [rows[at] for at in np.flatnonzero(of_rows)]
            yield known, found, like_old, [guests[at] for at in np.flatnonzero(of_guests)]


def _word_by_word(one: str, other: str) -> float:
    """Return how alike the least alike words of two names are; of names of as many words."""
    pairs = list(zip(_plain(one).split(), _plain(other).split(), strict=False))
    if len(one.split()) != len(other.split()):
        return alike(one, other)
    return min((float(fuzz.ratio(*pair)) for pair in pairs), default=100.0)


def _elsewhere(table: _Table) -> None:
    """Ask about guests whose row is taken or blank, and whose name is nearly that of another."""
    names = {row: _plain(found.fields["name"]) for row, found in table.found.items()}
    for known in list(table.known.values()):
        name = _plain(known.fields["name"])
        if known.guest in table.questions or not name:
            continue
        near = process.extract(
            name, names, scorer=fuzz.token_sort_ratio, score_cutoff=_ELSEWHERE, limit=4
        )
        if near:
            table.ask(known, [table.found[row] for _, _, row in near])
