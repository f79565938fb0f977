"""The engine: runs an order from its list to the files, one item at a time, on all cores.

The list streams: what is kept for an item is its file names, never its pictures. With a ledger only
what has changed is made, and what is on record and what is on disk change together.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from mailmerge import provenance
from mailmerge.artwork import Own, is_shared, own_heights, settle
from mailmerge.checks import (
    check_drawings,
    check_fonts,
    check_languages,
    check_list,
    check_words,
)
from mailmerge.files import Root, Stage
from mailmerge.findings import Causes, Finding, InputError
from mailmerge.guests import Guest, GuestList, Survey
from mailmerge.items import Entry, Item, Totals, make_item, scene_of
from mailmerge.items.record import OrderEntry
from mailmerge.ledger.ledger import Ledger, LedgerChange
from mailmerge.ledger.recall import (
    Recall,
    digits_for,
    engraved_texts,
    put_matching,
    recall,
    sizes_on_record,
)
from mailmerge.ledger.release import UpToDate
from mailmerge.ledger.standing import Correction, Standing
from mailmerge.ledger.tray import MERGED, TO_ENGRAVE, changing, withdraw
from mailmerge.ledger.who import NO_CHOICES, Choices, Match, Matching, Unsure
from mailmerge.merge import words
from mailmerge.merge.making import Done, fingerprint_of, tasks
from mailmerge.merge.pool import carried_out
from mailmerge.merge.report import REPORT, files_named_in, order_entry, report_on
from mailmerge.orders import Design, Order
from mailmerge.orders.said import inputs_digest
from mailmerge.progress import Watch, told, unwatched
from mailmerge.proofs import Scene


def items_of(
    guests: GuestList,
    survey: Survey,
    numbers: Mapping[int, tuple[int, ...]] | None = None,
    digits: int | None = None,
    own: Mapping[int, tuple[Own, ...]] | None = None,
) -> Iterator[Item]:
    """Pass over the items: every guest as many times as cups are wanted.

    Parameters
    ----------
    numbers
        The items of each row, one for each cup; without them they are counted.
    digits
        Of a number in file names, at least.
    own
        How single items are set differently.
    """
    own = own or {}
    digits = digits or digits_for(survey)
    following = 1
    for guest in guests.guests():
        remarks = survey.remarks(guest)
        given = numbers[guest.row] if numbers is not None else ()
        for copy in range(1, guest.quantity + 1):
            number = given[copy - 1] if given else following
            following += 1
            yield Item(number, copy, guest, remarks, digits, own.get(number, ()))


def surveyed(order: Order) -> Survey:
    """Return the survey of the order's list.

    Raises
    ------
    InputError
        The list holds no guests.
    """
    survey = order.guests.survey()
    if survey.guests == 0:
        guests = order.guests
        raise InputError(words.no_guests(guests.path, guests.sheet.name, guests.columns.header_row))
    return survey


def found_in_list(order: Order, survey: Survey) -> tuple[Finding, ...]:
    """Return what is to be said about an order's list as a whole, and about its layout."""
    design = order.design
    return (
        *check_list(order.guests, survey),
        *check_fonts(design.layout, design.folder),
        *check_drawings(design.drawn, design.folder),
        *check_words(design.layout, design.words, order.guests.path.stem),
        *check_languages(design.layout, design.words, survey.dotted),
    )


def settled(order: Order) -> Design:
    """Return the order's design with the sizes that its sets settle on, in one pass of the list."""
    design = order.design
    if not is_shared(design.layout):
        return design
    own = (height for guest in order.guests.guests() for height in heights_in(design, guest))
    return replace(design, sizes=settle(design.layout, own, design.sizes))


def heights_in(design: Design, guest: Guest) -> Iterator[tuple[int, str, float]]:
    """Pass over the largest letter heights of a guest's lines, see :func:`own_heights`."""
    blank = design.cup_for(guest.fields)[0]
    layout = design.layout_for(guest.fields)[0]
    return own_heights(layout, blank, guest, design.words, design.folder)


def taken(order: Order, recalled: Recall | None) -> tuple[Order, Survey, Iterator[Item]]:
    """Return an order as it is remembered, its survey, and a pass over its items."""
    if recalled is None:
        survey = surveyed(order)
        return order, survey, items_of(order.guests, survey)
    order = recalled.order
    survey = order.guests.survey() if recalled.may_be_empty else surveyed(order)
    numbers, digits = recalled.numbers, recalled.digits
    return order, survey, items_of(order.guests, survey, numbers, digits, recalled.own)


@dataclass(frozen=True)
class Checked:
    """An order that was gone through without writing anything; ``entries`` streams."""

    order: OrderEntry
    list_findings: tuple[Finding, ...]
    items: int
    entries: Iterator[Entry]


def check(order: Order, recalled: Recall | None = None) -> Checked:
    """Go through an order as :func:`merge` does, but write nothing and draw nothing.

    Raises
    ------
    InputError
        The list holds no guests.
    """
    order, survey, items = taken(order, recalled)
    design = settled(order)
    found = found_in_list(order, survey)
    entries = (make_item(design, item, picture=False).entry for item in items)
    return Checked(order_entry(order, design, survey.count, found), found, survey.items, entries)


@dataclass
class Changes:
    """What a merge did to an order, by item numbers."""

    new: list[int] = field(default_factory=list)
    changed: list[int] = field(default_factory=list)
    """Their artwork is another one, or came or went with a stop."""
    gone: list[int] = field(default_factory=list)
    as_before: int = 0
    engraved: list[int] = field(default_factory=list)
    """Changed or gone, although their cups exist."""
    mended: list[int] = field(default_factory=list)
    """Their files had been changed or removed by somebody else, and were made again."""
    withdrawn: list[int] = field(default_factory=list)
    """They were released, and taken back out of the folder to engrave from."""
    ask_again: list[int] = field(default_factory=list)
    """Confirmed before, and not as they are now: the yes was to other artwork."""
    made: int = 0
    """How many items were made; the others were as the files and the ledger say."""
    matched: tuple[Match, ...] = ()
    """Guests who were not found by their whole row, or by name and role."""
    set_aside: tuple[tuple[int, Correction], ...] = ()
    """Corrections, with their rows, that the list has overtaken."""
    found: list[tuple[int, Finding]] = field(default_factory=list)
    """What was not found at the last merge: about items that are as before, and about all of them
    where the program was updated."""


@dataclass(frozen=True)
class Merged:
    """What a merge came to."""

    totals: Totals
    causes: Causes
    """Of stops, and of warnings about the whole list; the first of them."""
    survey: Survey
    changes: Changes


def merge(
    order: Order,
    out: Path,
    jobs: int,
    watch: Watch = unwatched,
    recalled: Recall | None = None,
) -> Merged:
    """Make every item of an order and put artwork, proofs, report and findings into ``out``.

    All files take their places together once the last one is there. Files of an earlier merge that
    this one does not know are taken away: an old name must not lie among the new ones.

    Parameters
    ----------
    jobs
        Processes to use, 1 or more.
    watch
        Called after every item; may call the merge off.
    recalled
        What the order remembers; without it items are numbered as the list goes.

    Raises
    ------
    CalledOff
        By ``watch``; nothing has changed.
    InputError
        The list holds no guests, or ``out`` cannot be written.
    """
    root = Root(out)
    Stage.resume(root, None)
    merged = _staged(order, Stage(root), jobs, watch, recalled, None, {})
    Stage.resume(root, None)
    return merged


def update(
    order: Order,
    ledger: Ledger,
    jobs: int,
    watch: Watch = unwatched,
    choices: Choices = NO_CHOICES,
) -> Merged:
    """Bring an order's own folder and its ledger up to date with its list: only what has changed.

    Numbers stay with guests. What is on record and what is on disk change together: whatever
    happens in between, the next call finds the order either as it was or as it is to be.

    Parameters
    ----------
    choices
        What the maker has said about guests that could not be matched for sure.

    Raises
    ------
    Unsure
        It is not sure which row is whose; nothing was done.
    CalledOff
        By ``watch``; nothing has changed.
    InputError
        The list holds no guests, the folder cannot be written, or the order is being changed.
    """
    with changing(ledger) as change:
        return bring_up_to_date(order, change, jobs, watch, choices)


def bring_up_to_date(
    order: Order,
    change: LedgerChange,
    jobs: int,
    watch: Watch = unwatched,
    choices: Choices = NO_CHOICES,
) -> Merged:
    """Do what :func:`update` does as a part of a larger change."""
    change.put_asked(order.client.people, order.client.needs)
    recalled = recall(order, change, choices)
    guests_of = put_matching(change, recalled)
    plain = ("the whole row", "name and role")
    odd = tuple(each for each in recalled.matching.stayed if each.how not in plain)
    recalled = replace(recalled, matching=Matching(odd, (), ()))  # the rows' texts may go
    before = {record.number for record in change.records(True) if record.is_engraved}
    confirmed = {record.number for record in change.records() if record.standing in _CONFIRMED}
    stage = Stage(change.root.at(MERGED))
    merged = _staged(order, stage, jobs, watch, recalled, change, guests_of)
    changes = merged.changes
    changes.matched, changes.set_aside = odd, recalled.set_aside
    changes.gone = list(recalled.gone)
    changes.withdrawn = withdraw(change)
    changes.engraved = sorted(before & {*changes.changed, *changes.gone})
    changes.ask_again = [
        record.number
        for record in change.records()
        if record.number in confirmed and record.standing not in _CONFIRMED and not record.gone
    ]
    return merged


_CONFIRMED = (Standing.CONFIRMED, Standing.RELEASED)


def outdated(order: Order, ledger: Ledger) -> list[int]:
    """Return the items that :func:`update` would make, make anew, or let go; nothing is made.

    Raises
    ------
    Unsure
        It is not sure which row is whose.
    InputError
        The list holds no guests.
    """
    recalled = recall(order, ledger, NO_CHOICES)
    design, items = _design_and_items(order, recalled)
    stale = list(recalled.gone)
    for item in items:
        made = ledger.made(item.number)
        if made is None or made.fingerprint != fingerprint_of(design, item):
            stale.append(item.number)
    return sorted(stale)


def scenes_of(order: Order, ledger: Ledger, numbers: Collection[int]) -> dict[int, Scene]:
    """Return what the pictures of items look at, by item, of an order that is up to date."""
    design, items = _design_and_items(order, recall(order, ledger, NO_CHOICES))
    return {item.number: scene_of(design, item) for item in items if item.number in numbers}


def _design_and_items(order: Order, recalled: Recall) -> tuple[Design, Iterator[Item]]:
    order, _, items = taken(order, recalled)
    return settled(order), items


def see_up_to_date(order: Order, ledger: Ledger) -> None:
    """See that everything on record is as the order's files say now.

    Raises
    ------
    InputError
        Something has changed since the last merge; the text says which items, and which of them
        lie in the folder to engrave from.
    """
    try:
        stale = outdated(order, ledger)
    except Unsure as unsure:
        # Where somebody must be asked for, rows no longer say what they said: whatever the answer
        # is, some item has changed or is gone. So the merge asks, which can do something about it.
        asked = sorted(n for question in unsure.questions for n in question.known.items)
        raise _out_of_date(ledger, asked, words.who_is_who_open) from None
    if stale:
        why = words.inputs_changed if ledger.is_of_this_engine else words.program_updated
        raise _out_of_date(ledger, stale, why)


def _out_of_date(
    ledger: Ledger,
    stale: Sequence[int],
    why: Callable[[Path, Sequence[int], Sequence[int], str], str],
) -> InputError:
    released = [r.number for r in ledger.records(True) if r.standing is Standing.RELEASED]
    lying = sorted({*stale} & {*released})
    return InputError(why(ledger.folder, stale, lying, TO_ENGRAVE))


def seen_up_to_date(order: Order, change: LedgerChange) -> UpToDate:
    """Return the proof that everything on record is as the order's files say now.

    Raises
    ------
    InputError
        It is not; see :func:`see_up_to_date`.
    """
    see_up_to_date(order, change)
    change.put_asked(order.client.people, order.client.needs)  # it shapes no item
    return UpToDate(change)


def _staged(
    order: Order,
    stage: Stage,
    jobs: int,
    watch: Watch,
    recalled: Recall | None,
    change: LedgerChange | None,
    guests_of: Mapping[int, int],
) -> Merged:
    """Make what is to be made, put it on its way, and on record where there is a change."""
    order, survey, items = taken(order, recalled)
    design = settled(order)
    found = found_in_list(order, survey)
    changes = Changes()
    is_updated = change is not None and not change.is_of_this_engine
    earlier = files_named_in(stage.root.path / REPORT) | (change.files() if change else set())
    written: set[str] = set()
    stage.open_up()
    try:
        with report_on(stage, order, design, found, survey.count) as report:
            to_do = tasks(design, items, change, stage)
            for done in carried_out(design, to_do, stage, jobs, survey):
                report.add(done.entry)
                written.update(done.digests)
                _count_change(changes, done, is_updated)
                if change is not None:
                    _put_on_record(change, design, done, guests_of)
                told(watch, report.totals.items, survey.items)
        if change is not None and recalled is not None:
            change.put_gone(recalled.gone)
            change.set_fact("stage", stage.token)
            if recalled.digits is None:
                change.set_fact("digits", str(digits_for(survey)))
            change.set_fact("sizes", json.dumps(sizes_on_record(design)))
            change.set_fact("title", design.title)
            change.set_fact("inputs", inputs_digest(change.folder))
            change.set_fact("engine", provenance.engine_mark())
        stage.settle(earlier - written)
    except BaseException:
        stage.give_up()
        raise
    return Merged(report.totals, report.causes, survey, changes)


def _put_on_record(
    change: LedgerChange, design: Design, done: Done, guests_of: Mapping[int, int]
) -> None:
    item = done.task.item
    change.put_item(
        guests_of[item.guest.row],
        done.entry,
        engraved_texts(item.guest, design.engraved),
        done.digests,
        done.task.fingerprint,
    )


def _count_change(changes: Changes, done: Done, is_updated: bool) -> None:
    task, number, before = done.task, done.entry.item, done.task.before
    changes.made += not task.is_kept
    if before is None:
        changes.new.append(number)
        return
    is_changed = _look(before.entry) != _look(done.entry)
    if is_changed:
        changes.changed.append(number)
    else:
        changes.as_before += 1
        if task.was_touched:
            changes.mended.append(number)
    # The findings of a guest's other cups are the same.
    if done.entry.cup == 1 and (is_updated or not is_changed):
        new = _found_anew(before.entry.findings, done.entry.findings)
        changes.found += ((number, finding) for finding in new)


def _found_anew(before: tuple[Finding, ...], now: tuple[Finding, ...]) -> Iterator[Finding]:
    """Pass over the findings that were not there before.

    One that is said in other words now is not new: an update that only rewords its messages would
    tell all of them again, and what is new would be lost among them.
    """
    reworded = Counter(map(_kind, (each for each in before if each not in now)))
    for finding in now:
        if finding in before:
            continue
        kind = _kind(finding)
        if reworded[kind]:
            reworded[kind] -= 1
        else:
            yield finding


def _kind(finding: Finding) -> tuple[str, str, str | None]:
    return finding.code, finding.severity, finding.field


def _look(entry: Entry) -> object:
    """Return what changes when an item is another one: its seal, or the texts of a stopped one."""
    return entry.seal or [line.text for line in entry.lines]
