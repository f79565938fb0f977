"""Setting a single cup differently from its set, and as the others again."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

from mailmerge import merge as engine
from mailmerge.artwork import Line, Own
from mailmerge.artwork.own import on_one_row
from mailmerge.deeds import words
from mailmerge.deeds.opening import folder_of, order_ledger
from mailmerge.deeds.questions import NO_CHOICES, Choices, Question, or_question
from mailmerge.findings import InputError
from mailmerge.items import Entry
from mailmerge.ledger.ledger import LedgerChange, now
from mailmerge.ledger.recall import recall
from mailmerge.ledger.standing import Record, SetApart
from mailmerge.ledger.tray import changing
from mailmerge.merge import AtHand, Changes
from mailmerge.orders import Order, open_order
from mailmerge.progress import Watch, unwatched

__all__ = ["Own", "see_settable", "set_as_the_others", "set_differently"]

_MOST_ROWS = 3


@dataclass(frozen=True)
class Apart:
    """How a cup is set now."""

    record: Record
    own: tuple[Own, ...]
    """What is its own; empty where it is set as the others."""
    changes: Changes
    """What the order's other cups came to at the same time, if their list had changed."""


def set_differently(
    order: Path,
    number: int,
    own: Own,
    by: str = "",
    saw: str | None = None,
    choices: Choices = NO_CHOICES,
    jobs: int = 0,
    watch: Watch = unwatched,
) -> Apart | Question[Choices]:
    """Set a line of one cup differently from its set, and make that cup again.

    The size that its set shares stays, and so does every other cup. A yes to the cup as it was does
    not count for it as it is then.

    Parameters
    ----------
    own
        All that is the cup's own in that line, in the place of what was.
    by
        Who said so.
    saw
        The seal of the cup that was looked at, or ``""`` for a stopped one; None if nobody says.

    Raises
    ------
    CalledOff
        By ``watch``; nothing has changed.
    InputError
        There is no such cup, line or font, the cup exists already or was changed meanwhile, or it
        cannot be set so: the text says what can. Nothing has changed then.
    """

    def put(change: LedgerChange, record: Record, loaded: Order) -> None:
        line = _line(loaded, own)
        others = [each.own for each in record.own if each.own.line != own.line]
        at_hand = AtHand(loaded, recall(loaded, change, choices))
        if at_hand.item(number) is None:
            raise InputError(words.no_such_item(number))
        tried = at_hand.tried(number, {}, (*others, own))
        _see_that_it_is_so(tried.sketch.entry, _at(loaded, tried.sketch.entry, own), own)
        change.put_apart(number, SetApart(own, line.text, by, now()))

    return _changed(order, number, put, saw, choices, jobs, watch)


def set_as_the_others(
    order: Path,
    number: int,
    by: str = "",
    saw: str | None = None,
    choices: Choices = NO_CHOICES,
    jobs: int = 0,
    watch: Watch = unwatched,
) -> Apart | Question[Choices]:
    """Take back whatever is a cup's own, and make it again as the others of its set.

    Parameters as for :func:`set_differently`.

    Raises
    ------
    CalledOff
        By ``watch``; nothing has changed.
    InputError
        There is no such cup, it has nothing of its own, or it exists already.
    """

    def put(change: LedgerChange, record: Record, _: Order) -> None:
        if not record.own:
            raise InputError(words.set_as_others_already(number))
        for each in record.own:
            change.put_apart(number, SetApart(Own(each.own.line), each.text, by, now()))

    return _changed(order, number, put, saw, choices, jobs, watch)


def see_settable(order: Path, number: int, own: Own, saw: str | None = None) -> None:
    """See that a cup may be set so, as far as can be told without making it; nothing is changed.

    Parameters as for :func:`set_differently`.

    Raises
    ------
    InputError
        There is no such cup, line or font, or the cup exists already or was changed meanwhile.
    """
    folder = folder_of(order)
    with order_ledger(folder) as ledger:
        _record(ledger.records(), number, saw)
    _line(open_order(folder), own)


def _changed(
    order: Path,
    number: int,
    put: Callable[[LedgerChange, Record, Order], None],
    saw: str | None,
    choices: Choices,
    jobs: int,
    watch: Watch,
) -> Apart | Question[Choices]:
    folder = folder_of(order)

    def changed() -> Apart:
        with order_ledger(folder) as ledger:
            with changing(ledger) as change:
                loaded = open_order(folder)
                put(change, _record(change.records(), number, saw), loaded)
                merged = engine.bring_up_to_date(
                    loaded, change, jobs or engine.cores(), watch, choices
                )
            record = next(each for each in ledger.records() if each.number == number)
        return Apart(record, tuple(each.own for each in record.own), merged.changes)

    return or_question(changed, choices)


def _record(records: Iterable[Record], number: int, saw: str | None) -> Record:
    found = next((each for each in records if each.number == number and not each.gone), None)
    if found is None:
        raise InputError(words.no_such_item(number))
    if found.is_engraved:
        raise InputError(words.cup_exists(number))
    if saw is not None and saw != (found.seal or ""):
        lines = [] if found.entry.status == "stopped" else found.entry.lines
        raise InputError(
            words.cup_has_changed(number, [(line.text, line.letter_height_mm) for line in lines])
        )
    return found


def _line(order: Order, own: Own) -> Line:
    """Return the layout's line that is meant, where it can be set so at all."""
    lines = order.design.layout.line
    if not 1 <= own.line <= len(lines):
        raise InputError(words.no_such_line(own.line, len(lines)))
    line = lines[own.line - 1]
    least, most = line.letter_height.min, line.letter_height.max
    if own.letter_height is not None and not least <= own.letter_height <= most:
        raise InputError(words.height_outside_layout(own.letter_height, least, most))
    if own.rows and (line.arc or line.ring or line.monogram):
        raise InputError(words.stands_on_one_row(own.line))
    if len(own.rows) > _MOST_ROWS:
        raise InputError(words.too_many_rows(len(own.rows), _MOST_ROWS))
    if not own.says_anything:
        raise InputError(words.NOTHING_SET)
    if own.font:
        line.in_font(own.font, order.design.folder).check_style(order.design.folder)
    return line


def _at(order: Order, entry: Entry, own: Own) -> int:
    """Return at which place of an item's lines the one that is meant stands."""
    filled = [
        number
        for number, line in enumerate(order.design.layout.line, start=1)
        if line.filled({**entry.texts, **order.design.words}) is not None
    ]
    if own.line not in filled:
        raise InputError(words.line_is_empty(own.line))
    return filled.index(own.line)


def _see_that_it_is_so(entry: Entry, at: int, own: Own) -> None:
    """See that a cup would come out as it was said.

    Raises
    ------
    InputError
        Its line does not fit so, or says something else.
    """
    line = entry.lines[at]
    if own.rows and line.rows != own.rows:
        raise InputError(words.other_words(on_one_row(own.rows), line.text))
    stop = entry.stop
    if own.letter_height is not None and (
        abs(line.letter_height_mm - own.letter_height) > 0.005
        or (stop is not None and stop.code.endswith("-too-long"))
    ):
        raise InputError(words.does_not_fit_so(own.letter_height, own.rows or line.rows))
    if own.font and stop is not None and stop.code in ("letter-missing", "mark-misplaced"):
        raise InputError(stop.message)
