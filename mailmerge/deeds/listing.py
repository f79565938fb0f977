"""The client's list as it came: what was found in it, ways out, and texts put in its place.

The client's file is never changed. A correction stands on the order's record and can
be taken back.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from mailmerge import merge as engine
from mailmerge.checks import Way, check_texts, two_in, ways
from mailmerge.deeds import words
from mailmerge.deeds.opening import folder_of, opened, order_ledger
from mailmerge.deeds.questions import NO_CHOICES, Choices, Question, or_question
from mailmerge.findings import Finding, InputError
from mailmerge.guests import Guest, RowCount, Survey
from mailmerge.ledger import correcting
from mailmerge.ledger.correcting import Wanted
from mailmerge.ledger.ledger import LEDGER, Ledger, LedgerChange
from mailmerge.ledger.recall import Recall, recall
from mailmerge.ledger.standing import Correction, Record
from mailmerge.ledger.tray import changing
from mailmerge.ledger.who import Unsure
from mailmerge.merge import Changes, Merged
from mailmerge.orders import Order, editing, open_order
from mailmerge.orders.said import inputs_digest
from mailmerge.progress import Watch, unwatched

__all__ = [
    "Beside",
    "Listed",
    "ListedFinding",
    "ListedRow",
    "Wanted",
    "Way",
    "correct",
    "listed",
    "mean_no_longer",
    "mean_so",
    "see_correctable",
    "see_split",
    "split",
    "take_back",
]


@dataclass(frozen=True, slots=True)
class ListedFinding:
    """What was found about a guest, and the ways out that help."""

    finding: Finding
    ways: tuple[Way, ...]


@dataclass(frozen=True)
class Beside:
    """A second guest of a row."""

    name: str
    items: tuple[int, ...]


@dataclass(frozen=True)
class ListedRow:
    """A row of the list, and what is to be said about it."""

    number: int
    fate: str
    """``guests``, ``hidden``, ``none_wanted`` or ``unread``."""
    cells: tuple[str, ...]
    """As they came."""
    items: tuple[int, ...]
    """Of its guest; none before the first merge."""
    texts: Mapping[str, str]
    """As they are engraved, by field: corrected texts in the place of the list's."""
    findings: tuple[ListedFinding, ...]
    """Worst first."""
    corrections: tuple[Correction, ...]
    """Those that hold."""
    meant: tuple[str, ...]
    """Texts of it that somebody has said are meant just so."""
    two: tuple[str, str] | None
    """The two people that its name seems to hold; None where it seems to be one."""
    beside: tuple[Beside, ...]
    """Who has a cup because somebody has said that the row holds them, too."""

    @property
    def worst(self) -> int:
        """How much its worst finding weighs: 0 for a stop, 3 for nothing."""
        return min((each.finding.severity.rank for each in self.findings), default=3)


@dataclass(frozen=True)
class Together:
    """One kind of finding that several rows have, each with a plain way out."""

    code: str
    rows: tuple[ListedRow, ...]
    texts: tuple[Mapping[str, str], ...]
    """The new texts of each."""


@dataclass(frozen=True)
class Listed:
    """An order's list."""

    file: str
    headings: tuple[str, ...]
    fields: tuple[str, ...]
    """Of each heading; ``""`` for one that is not used."""
    known: tuple[str, ...]
    """All fields that can be corrected."""
    rows: tuple[ListedRow, ...]
    findings: tuple[Finding, ...]
    """Of the list as a whole, worst first."""
    count: RowCount
    is_current: bool
    """Whether the cups are made of the list as it is now."""
    question: str
    """Why nobody can tell which row is whose; ``""`` if one can."""

    @property
    def together(self) -> tuple[Together, ...]:
        """What can be put right in several rows at once."""
        by_code: dict[str, list[tuple[ListedRow, Mapping[str, str]]]] = defaultdict(list)
        for row in self.rows:
            for each in row.findings:
                if each.ways and each.ways[0].texts and row.items and each.finding.code in _PLAIN:
                    by_code[each.finding.code].append((row, each.ways[0].texts))
        return tuple(
            Together(code, tuple(row for row, _ in found), tuple(texts for _, texts in found))
            for code, found in by_code.items()
            if len(found) > 1
        )


_PLAIN = frozenset(("all-capitals", "all-lower-case", "comma-in-name", "wrong-code-page"))
"""Codes whose first way out is hardly ever wrong, so that it is offered for several rows."""


def listed(order: Path) -> Listed:
    """Show the client's list as it came, with what was found and what could be done about it.

    Raises
    ------
    InputError
        The order is wrong.
    """
    folder = folder_of(order)
    loaded = opened(folder)
    recalled, records, is_current, question = _on_record(folder, loaded)
    order_now = recalled.order if recalled else loaded
    survey = order_now.guests.survey()
    rows = _rows(order_now, survey, recalled, records if is_current else (), _beside(folder))
    found = engine.found_in_list(order_now, survey)
    guests = order_now.guests
    header = next(
        (row for fate, row in guests.told_apart() if row.number == guests.columns.header_row), None
    )
    field_at = {at: name for name, at in guests.columns.of.items()}
    headings = tuple(" ".join(cell.text.split()) for cell in header.cells) if header else ()
    return Listed(
        guests.path.name,
        headings,
        tuple(field_at.get(at, "") for at in range(len(headings))),
        guests.known_fields,
        rows,
        tuple(sorted(found, key=lambda each: each.severity.rank)),
        survey.count,
        is_current,
        question,
    )


def _on_record(folder: Path, loaded: Order) -> tuple[Recall | None, tuple[Record, ...], bool, str]:
    """Return what is on record, if anything is, whether it is up to date, and what is unsure."""
    if not (folder / LEDGER).exists():
        return None, (), False, ""
    with order_ledger(folder, missing="make") as ledger:
        is_current = ledger.fact("inputs") == inputs_digest(folder)
        records = tuple(ledger.records())
        try:
            return recall(loaded, ledger, NO_CHOICES), records, is_current, ""
        except Unsure as unsure:
            return None, records, False, words.who_is_who(unsure.questions[0])


def _beside(folder: Path) -> dict[int, tuple[Beside, ...]]:
    """Return by row who has a cup because that row holds them, too."""
    if not (folder / LEDGER).exists():
        return {}
    found: dict[int, tuple[Beside, ...]] = {}
    with order_ledger(folder, missing="make") as ledger:
        known = {each.guest: each for each in ledger.guests()}
        for each in ledger.additions():
            if each.beside is not None and each.guest is not None:
                row = known[each.beside].row
                second = Beside(each.fields["name"], known[each.guest].items)
                found[row] = (*found.get(row, ()), second)
    return found


def _rows(
    order: Order,
    survey: Survey,
    recalled: Recall | None,
    records: Iterable[Record],
    beside: Mapping[int, tuple[Beside, ...]],
) -> tuple[ListedRow, ...]:
    found_of = {
        record.entry.row: record.entry.findings
        for record in records
        if not record.gone and record.cup == 1
    }
    guests = {guest.row: guest for guest in order.guests.guests()}
    held = recalled.held if recalled else {}
    asked, engraved = order.guests.columns.hand_asked, order.design.engraved
    rows = []
    for fate, row in order.guests.told_apart():
        if fate in ("header", "blank"):
            continue
        guest = guests.get(row.number)
        findings: tuple[ListedFinding, ...] = ()
        if guest is not None:
            said = found_of.get(row.number)
            found = check_texts(guest, engraved, survey.remarks(guest)) if said is None else said
            blank, *_ = order.design.cup_for(guest.fields)
            coats = tuple(coat.name for coat in blank.coat)
            findings = tuple(
                ListedFinding(each, ways(guest, each, engraved, survey.remarks, asked, coats))
                for each in found
            )
        rows.append(
            ListedRow(
                row.number,
                fate if guest is not None or fate != "guests" else "none_wanted",
                tuple(cell.text.strip() for cell in row.cells),
                recalled.numbers.get(row.number, ()) if recalled else (),
                dict(guest.fields) if guest else {},
                findings,
                held.get(row.number, ()),
                tuple(_meant(guest, order.guests.as_written)) if guest else (),
                two_in(guest.name) if guest else None,
                beside.get(row.number, ()),
            )
        )
    return tuple(rows)


def _meant(guest: Guest, texts: tuple[str, ...]) -> list[str]:
    return [text for text in texts if text in guest.fields.values()]


@dataclass(frozen=True)
class Corrected:
    """What putting texts in the place of the list's came to."""

    folder: Path
    texts: Mapping[tuple[int, ...], Mapping[str, str]]
    """The new texts by field, by the items of each guest."""
    changes: Changes


def correct(
    order: Path,
    wanted: Iterable[Wanted],
    by: str,
    choices: Choices = NO_CHOICES,
    jobs: int = 0,
    watch: Watch = unwatched,
) -> Corrected | Question[Choices]:
    """Put texts in the place of the list's, on record, and make these cups again.

    The client's file stays as it is. A newer list that says something else again counts more.

    Parameters
    ----------
    wanted
        New texts by items, and what was seen of the old ones.
    by
        Who says so.

    Raises
    ------
    CalledOff
        By ``watch``; nothing has changed.
    InputError
        An item or field is not there, a text is none, as it is already, or was changed meanwhile.
    """
    wanted = tuple(wanted)
    folder, by = folder_of(order), " ".join(by.split())
    if not by:
        raise InputError(words.WHO_CORRECTS)

    def put(change: LedgerChange) -> dict[tuple[int, str], str]:
        texts = correcting.see_correctable(change, wanted, _fields(folder))
        correcting.put(change, texts, by)
        return texts

    return or_question(lambda: _made_again(folder, put, choices, jobs, watch), choices)


def split(
    order: Path,
    item: int,
    names: tuple[str, str] | None,
    by: str,
    saw: str | None = None,
    choices: Choices = NO_CHOICES,
    jobs: int = 0,
    watch: Watch = unwatched,
) -> Corrected | Question[Choices]:
    """Give each of two people in one row a cup of their own, on record.

    The client's file stays as it is. Taking back the row's name makes one guest of it again.

    Parameters
    ----------
    names
        Of both; None for those that the row's name seems to hold.
    by
        Who says so.
    saw
        The name of the row that was looked at; None if nobody says.

    Raises
    ------
    CalledOff
        By ``watch``; nothing has changed.
    InputError
        There is no such item, its row was split already, a name is none or was changed meanwhile,
        or nobody can tell who the two are.
    """
    folder, by = folder_of(order), " ".join(by.split())
    if not by:
        raise InputError(words.WHO_CORRECTS)

    def put(change: LedgerChange) -> dict[tuple[int, str], str]:
        apart = correcting.see_apart(
            change, item, names or _two(change, item), saw, _fields(folder)
        )
        return correcting.put_apart(change, apart, by)

    return or_question(lambda: _made_again(folder, put, choices, jobs, watch), choices)


def see_split(order: Path, item: int, names: tuple[str, str], saw: str | None) -> None:
    """See that a row can be split; nothing is changed.

    Raises
    ------
    InputError
        As by :func:`split`.
    """
    folder = folder_of(order)
    with order_ledger(folder) as ledger:
        correcting.see_apart(ledger, item, names, saw, _fields(folder))


def _two(ledger: Ledger, item: int) -> tuple[str, str]:
    now_of = correcting.texts_now(ledger)
    name = now_of[item][1].get("name", "") if item in now_of else ""
    found = two_in(name)
    if item in now_of and found is None:
        raise InputError(words.say_both_names(name))
    return found or ("", "")


def take_back(
    order: Path,
    item: int,
    field: str,
    by: str,
    choices: Choices = NO_CHOICES,
    jobs: int = 0,
    watch: Watch = unwatched,
) -> Corrected | Question[Choices]:
    """Let the list's own text hold again, on record, and make the guest's cups again.

    With the name of a row that was split, its second guest goes.

    Parameters
    ----------
    field
        Whose text was corrected.
    by
        Who says so.

    Raises
    ------
    CalledOff
        By ``watch``; nothing has changed.
    InputError
        There is no such item, or nothing was corrected there.
    """
    folder, by = folder_of(order), " ".join(by.split())
    if not by:
        raise InputError(words.WHO_CORRECTS)

    def put(change: LedgerChange) -> dict[tuple[int, str], str]:
        guest, text = correcting.see_taken_back(change, item, field)
        correcting.put(change, {(guest, field): text}, by)
        own = correcting.put_together(change, guest, by) if field == "name" else {}
        return {(guest, field): text, **own}

    return or_question(lambda: _made_again(folder, put, choices, jobs, watch), choices)


def see_correctable(order: Path, wanted: Iterable[Wanted]) -> None:
    """See that texts can be put in the place of the list's; nothing is changed.

    Raises
    ------
    InputError
        As by :func:`correct`.
    """
    folder = folder_of(order)
    with order_ledger(folder) as ledger:
        correcting.see_correctable(ledger, wanted, _fields(folder))


def _fields(folder: Path) -> frozenset[str]:
    return frozenset(open_order(folder).guests.known_fields)


def _made_again(
    folder: Path,
    put: Callable[[LedgerChange], Mapping[tuple[int, str], str]],
    choices: Choices,
    jobs: int,
    watch: Watch,
) -> Corrected:
    with order_ledger(folder) as ledger, changing(ledger) as change:
        texts = put(change)
        merged: Merged = engine.bring_up_to_date(
            open_order(folder), change, jobs or engine.cores(), watch, choices
        )
        items = {known.guest: known.items for known in change.guests()}
    by_items: dict[tuple[int, ...], dict[str, str]] = defaultdict(dict)
    for (guest, name), text in texts.items():
        by_items[items[guest]][name] = text
    return Corrected(folder, by_items, merged.changes)


def mean_so(order: Path, text: str) -> Path:
    """Say that a text of the list is meant just so, whatever it looks like.

    It stands in the order's file, and holds from the next merge on.

    Raises
    ------
    InputError
        No guest has just this text, or it is said already; nothing has changed then.
    """
    folder = folder_of(order)
    loaded = opened(folder)
    said = _said_so(folder)
    text = " ".join(text.split())
    if text in said:
        raise InputError(words.meant_already(text))
    if not text or not any(text in guest.fields.values() for guest in loaded.guests.guests()):
        raise InputError(words.nobody_says(text))
    return editing.edit(folder, {"order": {"as_written": [*said, text]}})


def mean_no_longer(order: Path, text: str) -> Path:
    """Take back that a text is meant just so.

    Raises
    ------
    InputError
        It was not said; nothing has changed then.
    """
    folder = folder_of(order)
    said = _said_so(folder)
    if text not in said:
        raise InputError(words.not_meant(text))
    left = [each for each in said if each != text]
    return editing.edit(folder, {"order": {"as_written": left or None}})


def _said_so(folder: Path) -> list[str]:
    return list(open_order(folder).guests.as_written)
