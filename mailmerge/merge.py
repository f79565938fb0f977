"""The engine: runs an order from its list to the files, one item at a time, on all cores.

The list streams: what is kept for an item is its file names, never its pictures. With a ledger only
what has changed is made, and what is on record and what is on disk change together.
"""

from __future__ import annotations

import csv
import json
import multiprocessing
import os
import re
import signal
import threading
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from itertools import islice
from pathlib import Path
from types import FrameType

from mailmerge.artwork import is_shared, own_heights, settle
from mailmerge.artwork.layout import fields_of
from mailmerge.blanks import Blank, Coat
from mailmerge.checks import check_fonts, check_list, check_words
from mailmerge.files import Stage, digest_of, escaped, is_file_with
from mailmerge.findings import Finding, InputError, Severity
from mailmerge.guests import GuestList, Survey
from mailmerge.items import (
    ARTWORK,
    MAKER,
    PROOFS,
    Entry,
    Item,
    artwork_folder,
    finding_entry,
    make_item,
)
from mailmerge.orders import Design, Order
from mailmerge.orders.ledger import Ledger
from mailmerge.orders.matching import NO_CHOICES, Choices, Match, Matching
from mailmerge.orders.recall import (
    Recall,
    digits_for,
    engraved_texts,
    inputs_digest,
    put_matching,
    recall,
    sizes_on_record,
)
from mailmerge.orders.release import MERGED, changing, withdraw
from mailmerge.orders.standing import Correction

REPORT, FINDINGS = "report.json", "findings.csv"

_CHUNK = 8
"""Items that a worker takes at a time."""

_ALONE = 12
"""Fewer items than this are made without starting other processes."""

Progress = Callable[[int, int], None]
"""Called with the number of items that are done and of all items."""


@dataclass
class Totals:
    """Counts over a whole order."""

    guests: int = 0
    items: int = 0
    ready: int = 0
    stopped: int = 0
    stops: int = 0
    warnings: int = 0
    notes: int = 0

    def count(self, entry: Entry) -> None:
        """Add one item."""
        self.items += 1
        if entry["status"] == "ready":
            self.ready += 1
        else:
            self.stopped += 1
        if entry["cup"] == 1:  # the findings of a guest's other cups are the same
            for finding in entry["findings"]:
                self.count_finding(finding["severity"])

    def count_finding(self, severity: str) -> None:
        """Add one finding."""
        match severity:
            case Severity.STOP:
                self.stops += 1
            case Severity.WARNING:
                self.warnings += 1
            case _:
                self.notes += 1


def items_of(
    guests: GuestList,
    survey: Survey,
    numbers: Mapping[int, tuple[int, ...]] | None = None,
    digits: int | None = None,
) -> Iterator[Item]:
    """Pass over the items: every guest as many times as cups are wanted.

    Parameters
    ----------
    numbers
        The items of each row, one for each cup; without them they are counted.
    digits
        Of a number in file names, at least.
    """
    digits = digits or digits_for(survey)
    following = 1
    for guest in guests.guests():
        same_name = survey.same_name(guest)
        given = numbers[guest.row] if numbers is not None else ()
        for copy in range(1, guest.quantity + 1):
            number = given[copy - 1] if given else following
            following += 1
            yield Item(number, copy, guest, same_name, digits)


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
        raise InputError(
            f'{guests.path}: sheet "{guests.sheet.name}" holds no guests below its header in row '
            f"{guests.columns.header_row}, want at least one (if all cups of an order are "
            f"cancelled: mailmerge merge ORDER --gone all)"
        )
    return survey


def _found_in_list(order: Order, survey: Survey) -> tuple[Finding, ...]:
    design = order.design
    return (
        *check_list(order.guests, survey),
        *check_fonts(design.layout, design.folder),
        *check_words(design.layout, design.words),
    )


def settled(order: Order) -> Design:
    """Return the order's design with the sizes that its sets settle on, in one pass of the list."""
    design = order.design
    if not is_shared(design.layout):
        return design
    own = (
        height
        for guest in order.guests.guests()
        for height in own_heights(
            design.layout, design.cup_for(guest.fields)[0], guest, design.words, design.folder
        )
    )
    return replace(design, sizes=settle(design.layout, own, design.sizes))


def _taken(order: Order, recalled: Recall | None) -> tuple[Order, Survey, Iterator[Item]]:
    """Return an order as it is remembered, its survey, and a pass over its items."""
    if recalled is None:
        survey = surveyed(order)
        return order, survey, items_of(order.guests, survey)
    order = recalled.order
    survey = order.guests.survey() if recalled.may_be_empty else surveyed(order)
    return order, survey, items_of(order.guests, survey, recalled.numbers, recalled.digits)


@dataclass(frozen=True)
class Checked:
    """An order that was gone through without writing anything; ``entries`` streams."""

    order: Entry
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
    order, survey, items = _taken(order, recalled)
    design = settled(order)
    found = _found_in_list(order, survey)
    entries = (make_item(design, item, picture=False).entry for item in items)
    return Checked(order_entry(order, design, found), found, survey.items, entries)


def order_entry(order: Order, design: Design, found: tuple[Finding, ...]) -> Entry:
    """Return the ``order`` part of the report; ``design`` with its sizes settled."""
    return {
        "title": design.title,
        "list": str(order.guests.path.name),
        "sheet": order.guests.sheet.name,
        "columns": dict(order.guests.columns.titles),
        "blank": design.blank.name,
        "wall": wall_entry(design.blank),
        "coat": design.coat.name,
        "layout": design.layout.name,
        "machine": design.machine.name,
        "spot_mm": design.machine.spot,
        "sizes": [
            {
                "line": size.line,
                "field": next(iter(fields_of(design.layout.line[size.line - 1].text)), None),
                "role": size.role or None,
                "letter_height_mm": round(size.letter_height, 2),
                "members": size.members,
                "outliers": size.outliers,
                "kept": size.kept,
            }
            for size in design.sizes.settled
        ],
        "due": order.due.isoformat() if order.due else None,
        "findings": [finding_entry(finding) for finding in found],
    }


def wall_entry(blank: Blank) -> Entry:
    """Return a blank's wall for the report; heights are along the wall but for ``upright``."""
    if blank.is_flat:
        return {"width_mm": round(blank.page_width, 3), "height_mm": round(blank.height, 3)}
    return {
        "set_circumference_mm": round(blank.page_width, 3),
        "mouth_circumference_mm": round(blank.circumference_at(blank.height), 3),
        "base_circumference_mm": round(blank.circumference_at(0.0), 3),
        "slant_mm": round(blank.height, 3),
        "upright_mm": round(blank.upright_height, 3),
        "tilt_deg": round(blank.tilt, 3),
    }


class _Groups:
    """Counts the items of each blank and coat, in the order in which they come up."""

    def __init__(self, design: Design) -> None:
        self.design = design
        self.found: dict[tuple[Blank, Coat], Entry] = {}

    def count(self, entry: Entry) -> None:
        """Add one item."""
        blank, coat, _ = self.design.cup_for(entry["guest"])
        group = self.found.setdefault(
            (blank, coat),
            {
                "blank": blank.name,
                "coat": coat.name,
                "wall": wall_entry(blank),
                "artwork": artwork_folder(self.design, blank, coat),
                "items": 0,
                "ready": 0,
            },
        )
        group["items"] += 1
        group["ready"] += entry["status"] == "ready"


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
    made: int = 0
    """How many items were made; the others were as the files and the ledger say."""
    matched: tuple[Match, ...] = ()
    """Guests who were not found by their whole row, or by name and role."""
    set_aside: tuple[tuple[int, Correction], ...] = ()
    """Corrections, with their rows, that the list has overtaken."""


@dataclass(frozen=True)
class Merged:
    """What a merge came to."""

    totals: Totals
    survey: Survey
    changes: Changes


def merge(
    order: Order,
    out: Path,
    jobs: int,
    progress: Progress | None = None,
    recalled: Recall | None = None,
) -> Merged:
    """Make every item of an order and put artwork, proofs, report and findings into ``out``.

    All files take their places together once the last one is there. Files of an earlier merge that
    this one does not know are taken away: an old name must not lie among the new ones.

    Parameters
    ----------
    jobs
        Processes to use, 1 or more.
    progress
        Called after every item.
    recalled
        What the order remembers; without it items are numbered as the list goes.

    Raises
    ------
    InputError
        The list holds no guests, or ``out`` cannot be written.
    """
    Stage.resume(out, None)
    merged = _staged(order, Stage(out), jobs, progress, recalled, None, {})
    Stage.resume(out, None)
    return merged


def update(
    order: Order,
    ledger: Ledger,
    jobs: int,
    progress: Progress | None = None,
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
    InputError
        The list holds no guests, the folder cannot be written, or the order is being changed.
    """
    with changing(ledger):
        return bring_up_to_date(order, ledger, jobs, progress, choices)


def bring_up_to_date(
    order: Order,
    ledger: Ledger,
    jobs: int,
    progress: Progress | None = None,
    choices: Choices = NO_CHOICES,
) -> Merged:
    """Do what :func:`update` does as a part of a larger change."""
    recalled = recall(order, ledger, choices)
    guests_of = put_matching(ledger, recalled)
    plain = ("the whole row", "name and role")
    odd = tuple(each for each in recalled.matching.stayed if each.how not in plain)
    recalled = replace(recalled, matching=Matching(odd, (), ()))  # the rows' texts may go
    before = {record.number for record in ledger.records(True) if record.is_engraved}
    stage = Stage(ledger.folder / MERGED)
    merged = _staged(order, stage, jobs, progress, recalled, ledger, guests_of)
    changes = merged.changes
    changes.matched, changes.set_aside = odd, recalled.set_aside
    changes.gone = list(recalled.gone)
    changes.withdrawn = withdraw(ledger)
    changes.engraved = sorted(before & {*changes.changed, *changes.gone})
    return merged


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
    order, _, items = _taken(order, recalled)
    design = settled(order)
    stale = list(recalled.gone)
    for item in items:
        made = ledger.made(item.number)
        if made is None or made[0] != _fingerprint(design, item):
            stale.append(item.number)
    return sorted(stale)


def _staged(
    order: Order,
    stage: Stage,
    jobs: int,
    progress: Progress | None,
    recalled: Recall | None,
    ledger: Ledger | None,
    guests_of: Mapping[int, int],
) -> Merged:
    """Make what is to be made, put it on its way, and on record where there is a ledger."""
    order, survey, items = _taken(order, recalled)
    design = settled(order)
    found = _found_in_list(order, survey)
    totals, groups, changes = Totals(guests=survey.guests), _Groups(design), Changes()
    earlier = _files_named_in(stage.root / REPORT) | (ledger.files() if ledger else set())
    written: set[str] = set()
    stage.open_up()
    try:
        with (
            stage.text_file(REPORT) as report,
            stage.text_file(FINDINGS, encoding="utf-8-sig") as table,
            _between_items() as may_stop,
        ):
            rows = csv.writer(table)
            rows.writerow(FINDINGS_HEADER)
            for finding in found:
                totals.count_finding(finding.severity)
                rows.writerow(_findings_row(None, finding_entry(finding)))
            report.write('{"order": ' + _json(order_entry(order, design, found)) + ',\n"items": [')
            tasks = _tasks(design, items, ledger, stage)
            for task in _carried_out(design, tasks, stage, jobs, survey):
                entry = task.entry
                report.write((",\n" if totals.items else "\n") + _json(entry))
                for each in entry["findings"]:
                    rows.writerow(_findings_row(entry, each))
                totals.count(entry)
                groups.count(entry)
                written.update(task.digests)
                _count_change(changes, task)
                if ledger is not None:
                    about = engraved_texts(task.item.guest, design.engraved)
                    ledger.put_item(
                        task.item.number, guests_of[task.item.guest.row], task.item.copy,
                        entry["seal"], about, entry, task.digests, task.fingerprint,
                    )  # fmt: skip
                if progress:
                    progress(totals.items, survey.items)
                may_stop()
            report.write('\n],\n"groups": ' + _json(list(groups.found.values())))
            report.write(',\n"totals": ' + _json(totals.__dict__) + "}\n")
        if ledger is not None and recalled is not None:
            ledger.put_gone(recalled.gone)
            ledger.set_fact("stage", stage.token)
            if recalled.digits is None:
                ledger.set_fact("digits", str(digits_for(survey)))
            ledger.set_fact("sizes", _json(sizes_on_record(design)))
            ledger.set_fact("title", design.title)
            ledger.set_fact("inputs", inputs_digest(ledger.folder))
        stage.settle(earlier - written)
    except BaseException:
        stage.give_up()
        raise
    return Merged(totals, survey, changes)


@dataclass
class _Task:
    """An item to be made, or one that is as it was."""

    item: Item
    fingerprint: str
    before: Entry | None
    """The item as the last merge left it."""
    entry: Entry
    """Empty until it is made."""
    digests: dict[str, str]
    """SHA-256 by the names of its files."""
    was_kept: bool = False
    was_touched: bool = False
    """Whether its files are not what the ledger says although nothing of ours has changed."""


def _tasks(
    design: Design, items: Iterable[Item], ledger: Ledger | None, stage: Stage
) -> Iterator[_Task]:
    """Pass over the items, each with what is known about it."""
    for item in items:
        if ledger is None:
            yield _Task(item, "", None, {}, {})
            continue
        fingerprint = _fingerprint(design, item)
        made = ledger.made(item.number)
        if made is None:
            yield _Task(item, fingerprint, None, {}, {})
            continue
        known, before, digests = made
        if known != fingerprint:
            yield _Task(item, fingerprint, before, {}, {})
        elif all(is_file_with(stage.root / name, digest) for name, digest in digests.items()):
            yield _Task(item, known, before, {**before, "row": item.guest.row}, digests, True)
        else:
            yield _Task(item, fingerprint, before, {}, {}, was_touched=True)


def _fingerprint(design: Design, item: Item) -> str:
    """Return a digest of everything that an item's files are made from.

    Of the row that the guest stands in nothing is in it: sorting a list changes no cup.
    """
    guest = item.guest
    parts = (
        design.fingerprint, item.number, item.copy, item.digits, dict(guest.fields), guest.hand,
        guest.quantity, repr(guest.changes), repr(guest.troubles), item.same_name,
    )  # fmt: skip
    return digest_of(json.dumps(parts).encode())


def _count_change(changes: Changes, task: _Task) -> None:
    number = task.item.number
    changes.made += not task.was_kept
    if task.before is None:
        changes.new.append(number)
    elif _look(task.before) != _look(task.entry):
        changes.changed.append(number)
    else:
        changes.as_before += 1
        if task.was_touched:
            changes.mended.append(number)


def _look(entry: Entry) -> object:
    """Return what changes when an item is another one: its seal, or the texts of a stopped one."""
    return entry["seal"] or [line["text"] for line in entry["lines"]]


def _carried_out(
    design: Design, tasks: Iterator[_Task], stage: Stage, jobs: int, survey: Survey
) -> Iterator[_Task]:
    """Make and stage what is to be made, in the list's order, whoever makes it."""
    if jobs == 1 or survey.items < _ALONE:
        for task in tasks:
            if not task.was_kept:
                task.entry, task.digests = _make_and_stage(design, task.item, stage)
            yield task
        return
    try:
        with ProcessPoolExecutor(jobs, initializer=_start_worker, initargs=(design, stage)) as pool:
            waiting: deque[tuple[list[_Task], Future[list[_Result]] | None]] = deque()
            try:
                while True:
                    # Few chunks ahead of the slowest: the list streams, it is not gathered.
                    while len(waiting) < 3 * jobs and (chunk := list(islice(tasks, _CHUNK))):
                        items = [task.item for task in chunk if not task.was_kept]
                        waiting.append((chunk, pool.submit(_make_chunk, items) if items else None))
                    if not waiting:
                        return
                    chunk, future = waiting.popleft()
                    results = iter(future.result() if future else ())
                    for task in chunk:
                        if not task.was_kept:
                            task.entry, task.digests = next(results)
                        yield task
            finally:
                for _, future in waiting:
                    if future:
                        future.cancel()
    except BrokenProcessPool:
        raise InputError(
            "a worker process was ended from outside (is the memory full?); try --jobs 1"
        ) from None


_Result = tuple[Entry, dict[str, str]]

_worker: tuple[Design, Stage] | None = None


def _start_worker(design: Design, stage: Stage) -> None:
    global _worker
    _worker = design, stage
    threading.Thread(target=_end_with_parent, daemon=True).start()
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the process that waits for this one answers it


def _end_with_parent() -> None:
    """End this worker when the process that started it has been killed."""
    parent = multiprocessing.parent_process()
    assert parent is not None
    parent.join()
    os._exit(1)


def _make_chunk(items: list[Item]) -> list[_Result]:
    assert _worker is not None
    design, stage = _worker
    return [_make_and_stage(design, item, stage) for item in items]


def _make_and_stage(design: Design, item: Item, stage: Stage) -> _Result:
    made = make_item(design, item, picture=True)
    digests = {}
    for name, data in (
        (made.entry["artwork"], made.artwork), (made.entry["proof"], made.proof),
        (made.entry["maker_copy"], made.maker_copy),
    ):  # fmt: skip
        if data is not None:
            stage.write(name, data)
            digests[name] = digest_of(data)
    return made.entry, digests


@contextmanager
def _between_items() -> Iterator[Callable[[], None]]:
    """Hold an interrupt from the keyboard back until an item is whole; give what lets it in."""
    if threading.current_thread() is not threading.main_thread():
        yield lambda: None
        return
    pressed = False

    def note(_signal: int, _frame: FrameType | None) -> None:
        nonlocal pressed
        pressed = True

    def may_stop() -> None:
        if pressed:
            raise KeyboardInterrupt

    before = signal.signal(signal.SIGINT, note)
    try:
        yield may_stop
    finally:
        signal.signal(signal.SIGINT, before)


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False)


_FILE_NAME = re.compile(
    rf'"((?:{ARTWORK}/(?:[a-z0-9-]+/)?\d{{3,}}-[a-z0-9-]+\.svg'
    rf'|(?:{PROOFS}|{MAKER})/\d{{3,}}-[a-z0-9-]+\.png))"'
)


def _files_named_in(path: Path) -> set[str]:
    """Return the files that an earlier report of ours names; nothing else is ever taken away."""
    if not path.is_file():
        return set()
    with path.open(encoding="utf-8", errors="replace") as file:
        return {name for line in file for name in _FILE_NAME.findall(line)}


FINDINGS_HEADER = (
    "item", "row", "name", "severity", "code", "field", "message", "advice", "proof",
)  # fmt: skip


def _findings_row(entry: Entry | None, finding: Entry) -> list[str]:
    cells = [
        entry["item"] if entry else "",
        entry["row"] if entry else "",
        entry["guest"]["name"] if entry else "",
        finding["severity"],
        finding["code"],
        finding["field"] or "",
        finding["message"],
        finding["advice"],
        entry["proof"] if entry else "",
    ]
    return [escaped(str(cell)) for cell in cells]


def cores() -> int:
    """Return how many cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return max(1, len(os.sched_getaffinity(0)))
    return os.cpu_count() or 1
