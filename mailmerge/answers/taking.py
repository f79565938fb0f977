"""The client's answers: what they do to the order, and the maker's own word for them."""

from __future__ import annotations

import datetime as dt
import json
import re
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass

from mailmerge.answers import words
from mailmerge.answers.proposals import fields_like, proposed
from mailmerge.answers.said import Answers, Said, Unclear
from mailmerge.files import digest_of
from mailmerge.findings import InputError
from mailmerge.guests.cleaning import clean
from mailmerge.guests.reading import MAX_TEXT
from mailmerge.ledger.conversation import Answer, person_of
from mailmerge.ledger.ledger import LedgerChange, now
from mailmerge.ledger.standing import Correction, OpenQuestion, Record, Standing


@dataclass(frozen=True)
class Taken:
    """What became of answers; all of them are on record."""

    taken: tuple[Said, ...]
    """Count for the artwork as it is now."""
    again: tuple[Said, ...]
    """Were on record already."""
    kept: tuple[tuple[Said, str], ...]
    """Are on record and change nothing now, and why."""
    asked: tuple[OpenQuestion, ...] = ()
    """What came with them and was not understood: open until somebody settles it."""


def take(change: LedgerChange, answers: Answers) -> Taken:
    """Put answers on record, each for the artwork that was seen; inside a change of the change."""
    digest = _digest_of(answers)
    has_come = change.has_come(digest)
    unclear = _not_asked_yet(change, answers, has_come)
    said = () if has_come else answers.said
    if not has_come or unclear:
        arrival = change.put_arrival(
            answers.way, answers.said_by, _past(answers.said_at), answers.pack, answers.page,
            answers.saving, digest,
        )  # fmt: skip
        _put_answers(change, arrival, said, answers)
        numbers = {
            change.put_question(arrival, each.items, each.place, each.words, each.fields)
            for each in unclear
        }
    else:
        numbers = set()
    after = {record.number: record for record in change.records()}
    why = {each.item: _kept(each, after[each.item]) for each in said}
    return Taken(
        tuple(each for each in said if not why[each.item]),
        answers.said if has_come else (),
        tuple((each, why[each.item]) for each in said if why[each.item]),
        tuple(each for each in change.questions() if each.number in numbers),
    )


def _put_answers(
    change: LedgerChange, arrival: int, said: Iterable[Said], answers: Answers
) -> None:
    shown = change.texts_in(answers.pack)
    for each in said:
        wanted = _wanted(each, shown[each.item]) if answers.is_exact else {}
        change.put_answer(
            each.item,
            arrival,
            Answer(
                seal=each.seal, verdict=each.verdict, words=each.words,
                wanted=wanted, about=shown[each.item],
                said_by=answers.said_by, way=answers.way, said_at="", at="",
            ),
        )  # fmt: skip


def _not_asked_yet(change: LedgerChange, answers: Answers, has_come: bool) -> list[Unclear]:
    """Return what is to be asked: nothing that the same person's list, or message, has asked.

    A list is filled in further and comes again, and a program quotes the same mail again. What
    somebody writes in another message is new, even in the same words, as is what somebody else
    writes in their list. Of a message of words alone, or a list without a name, nobody can tell, so
    that only what is still open is not asked about once more.
    """
    people = change.asked.people
    who = person_of(answers.said_by, people)
    if who or (has_come and answers.said):
        asked = [
            (items, place, said)
            for by, items, place, said in change.asked_about(answers.pack)
            if person_of(by, people) == who
        ]
    else:
        asked = [
            (list(each.items), each.place, each.words)
            for each in change.questions()
            if not each.said_by
        ]
    is_new = answers.way != "workbook" and answers.said and not has_come
    return [
        each for each in answers.unclear
        if (is_new and each.place != words.QUOTED)
        or (sorted(each.items), each.place, each.words) not in asked
    ]  # fmt: skip


def _digest_of(answers: Answers) -> str:
    """Return a digest of all that answers say.

    A page's saving may come twice, as a file and as a text.
    """
    way = (answers.page, answers.saving) if answers.page else (answers.way, answers.said_at)
    said = [
        (s.item, s.seal, s.verdict, s.words, sorted((s.texts or {}).items()))
        for s in sorted(answers.said, key=lambda said: said.item)
    ]
    return digest_of(json.dumps([answers.pack, answers.said_by, way, said]).encode())


def _kept(said: Said, record: Record) -> str:
    """Return why an answer that is on record changes nothing now; ``""`` where it counts."""
    if record.gone:
        return words.GUEST_IS_GONE
    if record.seal is None:
        return words.IS_STOPPED
    mine = record.answers[-1]
    if mine.is_overtaken:
        return words.SAVED_AGAIN
    if said.verdict == "change":
        if mine in record.said.objections:
            return ""
        is_decided = any(mine.number <= each.up_to for each in record.said.decisions)
        return words.DECIDED_ALREADY if is_decided else words.ARTWORK_HAS_CHANGED
    if said.seal != record.seal:
        return words.ARTWORK_HAS_CHANGED
    if mine in record.said.yeses:
        return ""
    who = record.said.who(mine)
    if who and any(record.said.who(each) == who for each in record.said.objections):
        return words.STILL_OBJECTS
    if record.asked.people and who not in record.asked.people:
        several = [name for name in record.asked.people if _is_named_in(name, mine.said_by)]
        if len(several) > 1:
            return words.signed_for_several(several)
        return words.not_asked(record.asked.people)
    return words.OTHER_WORD_SINCE


def _is_named_in(name: str, said_by: str) -> bool:
    """Whether a name stands among others: "Ms Roth and Mr Beck"."""
    return f" {name.casefold()} " in f" {re.sub(r'[,;&+/ ]+', ' ', said_by.casefold())} "


def _wanted(said: Said, about: Mapping[str, str]) -> dict[str, str]:
    """Return the new texts that an answer asks for, as far as they can be told."""
    texts = {
        field: clean(field, text)[0] for field, text in (said.texts or {}).items() if field in about
    }
    texts = {field: text for field, text in texts.items() if text and text != about[field]}
    return texts or (proposed(about, said.words) if said.verdict == "change" else {})


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


def confirm(
    change: LedgerChange, numbers: Collection[int], said_by: str, on: dt.datetime | None = None
) -> list[Record]:
    """Put a yes on record that came another way, such as by telephone; inside a change.

    Parameters
    ----------
    said_by
        Who said so: one of those whom the order asks, where it names them.
    on
        When it was said, after a proof pack had shown the items as they are now; None for now.

    Returns
    -------
    list of Record
        The items that no proof pack has shown as they are now.

    Raises
    ------
    InputError
        An item is not known, gone or stopped, it was said in the future, or by nobody who is asked;
        nothing is put on record then.
    """
    records = {record.number: record for record in change.records()}
    for number in numbers:
        record = records.get(number)
        if record is None:
            raise InputError(words.not_in_order(number))
        if record.standing in (Standing.GONE, Standing.STOPPED):
            raise InputError(words.nothing_to_confirm(number, record.standing))
    people = change.asked.people
    if people and person_of(said_by, people) not in people:
        raise InputError(words.who_said_yes(said_by, people))
    said_at = now() if on is None else on.astimezone().isoformat(timespec="seconds")
    if dt.datetime.fromisoformat(said_at) > dt.datetime.fromisoformat(now()):
        raise InputError(words.said_in_the_future(said_at))
    if on is not None:
        for number in numbers:
            seal = records[number].seal or ""
            if not change.was_shown(number, seal, said_at):
                raise InputError(words.not_shown_then(number, said_at))
    arrival = change.put_arrival("confirm", said_by, said_at)
    unseen = []
    for number in dict.fromkeys(numbers):
        record = records[number]
        assert record.seal is not None
        change.put_answer(
            number,
            arrival,
            Answer(
                seal=record.seal, verdict="yes", words="", wanted={}, about=record.about,
                said_by=said_by, way="confirm", said_at=said_at, at="",
            ),
        )  # fmt: skip
        if not change.was_shown(number, record.seal):
            unseen.append(record)
    return unseen


def decide(change: LedgerChange, numbers: Collection[int], said_by: str, reason: str) -> None:
    """Close what is said against items, by the maker's own word; inside a change of the change.

    Raises
    ------
    InputError
        An item is not known, or nothing is said against it; nothing is put on record then.
    """
    records = {record.number: record for record in change.records()}
    for number in numbers:
        record = records.get(number)
        if record is None or record.gone:
            raise InputError(words.not_in_order(number))
        if record.wish is None:
            raise InputError(words.nothing_to_decide(number, record.standing))
    for number in dict.fromkeys(numbers):
        change.put_decision(number, said_by, reason)


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


def _see_one_wish(record: Record) -> None:
    """See that people who want an item changed want the same.

    Raises
    ------
    InputError
        They do not.
    """
    wishes = {wish.said_by: wish.wanted for wish in record.said.objections}
    if any(wanted != record.said.objections[-1].wanted for wanted in wishes.values()):
        raise InputError(words.which_wish(record.number, wishes))


def _is_plain(record: Record) -> bool:
    """Whether it is known which text is wanted, and nobody says otherwise."""
    wish = record.wish
    return wish is not None and bool(wish.wanted) and not record.said.disagree


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
        numbers = [n for n, record in records.items() if _is_plain(record)]
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
            _see_one_wish(record)
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
