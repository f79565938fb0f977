"""Questions about what came back, settled one by one by the maker's own word."""

from __future__ import annotations

from collections.abc import Mapping

from mailmerge.answers import words
from mailmerge.findings import InputError
from mailmerge.guests.cleaning import clean
from mailmerge.guests.reading import MAX_TEXT
from mailmerge.ledger.ledger import LedgerChange
from mailmerge.ledger.standing import OpenQuestion


def settle(
    change: LedgerChange, number: int, said_by: str, reason: str, as_guest: bool
) -> OpenQuestion:
    """Put on record what was decided about an open question; inside a change of the change.

    Parameters
    ----------
    as_guest
        Whether it tells a guest who came late: they are in the list from the next merge on.

    Raises
    ------
    InputError
        There is no such open question, or it tells no guest; nothing is put on record then.
    """
    open_ones = {each.number: each for each in change.questions()}
    if number not in open_ones:
        raise InputError(words.no_open_question(number, sorted(open_ones)))
    question = open_ones[number]
    if as_guest:
        change.put_addition(number, _guest_in(question))
        change.set_fact("inputs", "")  # the list says more than at the last merge
    change.settle_question(number, reason, said_by)
    return question


def _guest_in(question: OpenQuestion) -> Mapping[str, str]:
    fields = {field: clean(field, text)[0] for field, text in question.fields.items()}
    if not any(fields.get(field) for field in ("name", "first", "last")):
        raise InputError(words.tells_no_guest(question.number, question.words))
    for field, text in fields.items():
        if len(text) > MAX_TEXT:
            raise InputError(words.guest_too_long(question.number, field, len(text), MAX_TEXT))
    return fields
