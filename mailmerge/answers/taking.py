"""The client's answers: what they do to the order, and the maker's own word for them."""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Mapping
from dataclasses import dataclass

from mailmerge.answers import words
from mailmerge.answers.incoming import Answers, Said
from mailmerge.answers.proposals import fields_like, proposed
from mailmerge.findings import InputError
from mailmerge.guests.cleaning import clean
from mailmerge.guests.reading import MAX_TEXT
from mailmerge.ledger.ledger import Ledger, LedgerChange, now
from mailmerge.ledger.standing import Answer, Correction, Record, Standing


@dataclass(frozen=True)
class Taken:
    """What became of answers."""

    taken: tuple[Said, ...]
    again: tuple[Said, ...]
    """Were on record already."""
    refused: tuple[tuple[Said, str], ...]
    """Were not taken, and why."""


def take(change: LedgerChange, answers: Answers) -> Taken:
    """Put answers on record, each for the artwork that was seen; inside a change of the change."""
    records = {record.number: record for record in change.records()}
    taken: list[Said] = []
    again: list[Said] = []
    refused: list[tuple[Said, str]] = []
    said_at = _past(answers.said_at)
    for each in answers.said:
        record = records[each.item]
        if _is_known(each, said_at, record):
            again.append(each)
        elif record.gone:
            refused.append((each, words.GUEST_IS_GONE))
        elif record.seal is None:
            refused.append((each, words.IS_STOPPED))
        elif each.seal != record.seal and not _still_objects(change, each, record):
            refused.append((each, words.ARTWORK_HAS_CHANGED))
        elif said_at and any(_is_later(known, said_at) for known in record.answers):
            if each.verdict == "yes" and record.yes:
                again.append(each)
            else:
                refused.append((each, words.SAID_EARLIER))
        else:
            wanted = _wanted(each, record)
            change.put_answer(
                each.item,
                Answer(
                    seal=each.seal, verdict=each.verdict, words=each.words, wanted=wanted,
                    about=record.about, said_by=answers.said_by, way=answers.way,
                    said_at=said_at, at=now(),
                ),
            )  # fmt: skip
            taken.append(each)
    return Taken(tuple(taken), tuple(again), tuple(refused))


def _still_objects(ledger: Ledger, said: Said, record: Record) -> bool:
    """Whether an answer to earlier artwork objects to texts that are still the same."""
    return said.verdict == "change" and ledger.texts_shown(said.item, said.seal) == record.about


def _wanted(said: Said, record: Record) -> dict[str, str]:
    """Return the new texts that an answer asks for, as far as they can be told."""
    texts = {
        field: clean(field, text)[0]
        for field, text in (said.texts or {}).items()
        if field in record.about
    }
    texts = {field: text for field, text in texts.items() if text and text != record.about[field]}
    return texts or (proposed(record.about, said.words) if said.verdict == "change" else {})


def _is_known(said: Said, said_at: str, record: Record) -> bool:
    """Whether an answer is on record: the very one by its time, else only as the last word."""
    if said.verdict == "yes" and not said_at:
        # The same list taken in once more must not overrule an objection that came since.
        return any(a.verdict == "yes" and a.seal == said.seal for a in record.answers)
    new = (said.seal, said.verdict, said.words, said_at)
    if said_at:
        return any(new == (a.seal, a.verdict, a.words, a.said_at) for a in record.answers)
    return any(
        (*new, _wanted(said, record)) == (a.seal, a.verdict, a.words, a.said_at, dict(a.wanted))
        for a in record.answers[-1:]
    )


def _is_later(known: Answer, said_at: str) -> bool:
    return bool(known.said_at) and dt.datetime.fromisoformat(
        known.said_at
    ) > dt.datetime.fromisoformat(said_at)


def _past(said_at: str) -> str:
    """Return when something was said, as it is put on record; ``""`` where it cannot be told.

    A clock that is wrong must not put an answer after all those that follow it.
    """
    present = dt.datetime.fromisoformat(now())
    try:
        said = dt.datetime.fromisoformat(said_at)
        said = min(said if said.tzinfo else said.astimezone(), present)
        return said.astimezone(present.tzinfo).isoformat(timespec="seconds")
    except (ValueError, OverflowError):  # no time, or one at an end of the calendar
        return ""


def confirm(change: LedgerChange, numbers: Collection[int], said_by: str) -> list[Record]:
    """Put a yes on record that came another way, such as by telephone; inside a change.

    Returns
    -------
    list of Record
        The items that no proof pack has shown as they are now.

    Raises
    ------
    InputError
        An item is not known, gone or stopped; nothing is put on record then.
    """
    records = {record.number: record for record in change.records()}
    for number in numbers:
        record = records.get(number)
        if record is None:
            raise InputError(words.not_in_order(number))
        if record.standing in (Standing.GONE, Standing.STOPPED):
            raise InputError(words.nothing_to_confirm(number, record.standing))
    unseen = []
    for number in dict.fromkeys(numbers):
        record = records[number]
        assert record.seal is not None
        at = now()
        change.put_answer(
            number,
            Answer(
                seal=record.seal, verdict="yes", words="", wanted={}, about=record.about,
                said_by=said_by, way="confirm", said_at=at, at=at,
            ),
        )  # fmt: skip
        if not change.was_shown(number, record.seal):
            unseen.append(record)
    return unseen


def _with_fields(texts: Mapping[str, str], record: Record) -> Mapping[str, str]:
    """Return texts by field; one without a field goes where only one field can be meant.

    That is the only one engraved, or the only one that the client's wish is about or whose text is
    like it.

    Raises
    ------
    InputError
        Several fields can be meant, or none.
    """
    if "" not in texts:
        return texts
    wanted = record.wish.wanted if record.wish else {}
    meant = {*wanted, *fields_like(record.about, texts[""])} or {*record.about}
    if len(meant) != 1 or meant & texts.keys():
        raise InputError(words.which_field(record.number, texts[""], record.about))
    (only,) = meant
    return {field or only: text for field, text in texts.items()}


def accept(
    change: LedgerChange, numbers: Collection[int] | None, texts: Mapping[str, str], said_by: str
) -> list[tuple[Record, dict[str, str]]]:
    """Put the texts that clients want in the place of the list's; inside a change of the change.

    Parameters
    ----------
    numbers
        The items; None for all with a wish whose text is known.
    texts
        The new texts by field, where the wish does not tell them, for a single item. A text whose
        field is ``""`` goes where only one field can be meant.

    Returns
    -------
    list of (Record, dict)
        Each item, and its new texts by field.

    Raises
    ------
    InputError
        An item has no wish or its text is not known; nothing is put on record then.
    """
    records = {record.number: record for record in change.records()}
    if numbers is None:
        numbers = [n for n, record in records.items() if record.wish and record.wish.wanted]
    accepted: list[tuple[Record, dict[str, str]]] = []
    for number in dict.fromkeys(numbers):
        record = records.get(number)
        if record is None or record.gone:
            raise InputError(words.not_in_order(number))
        texts = _with_fields(texts, record)
        for field in texts:
            if field not in record.about:
                raise InputError(words.no_such_text(field, number, record.about))
        wanted = {field: clean(field, text)[0] for field, text in texts.items()}
        for field, text in wanted.items():
            if not text:
                raise InputError(words.no_letters(field))
            if len(text) > MAX_TEXT:
                raise InputError(words.text_too_long(field, len(text), MAX_TEXT))
            if text == record.about[field]:
                raise InputError(words.same_text(number, field, text))
        if not wanted and record.wish is None:
            raise InputError(words.no_wish(number, record.standing))
        if not wanted and record.wish:
            wanted = {f: t for f, t in record.wish.wanted.items() if f in record.about}
        if not wanted:
            remark = record.wish.words if record.wish else ""
            raise InputError(words.unclear_wish(number, remark))
        accepted.append((record, wanted))
    agreed: dict[tuple[int, str], str] = {}
    for record, wanted in accepted:
        for field, text in wanted.items():
            if agreed.setdefault((record.guest, field), text) != text:
                other = agreed[record.guest, field]
                raise InputError(words.two_texts(record.number, text, other))
    of_list = {known.guest: known.fields for known in change.guests()}
    for record, wanted in accepted:
        for field, text in wanted.items():
            if agreed.pop((record.guest, field), None) is None:
                continue  # on record by another cup of the same guest
            change.put_correction(
                record.guest,
                Correction(
                    field=field,
                    was=of_list[record.guest].get(field, ""),
                    text=text,
                    words=record.wish.words if record.wish else "",
                    said_by=said_by or (record.wish.said_by if record.wish else ""),
                    at=now(),
                ),
            )
    return accepted
