"""A newer version of the client's list: compared guest by guest before it is taken.

The list that it follows is kept with its day, so that it can be taken again.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from pathlib import Path

from mailmerge.deeds import making, words
from mailmerge.deeds.known import key_of
from mailmerge.deeds.laid import MAX_BYTES, laid, let_go
from mailmerge.deeds.making import Merge
from mailmerge.deeds.opening import folder_of, order_ledger
from mailmerge.deeds.questions import NO_CHOICES, Choices, Question, or_question
from mailmerge.files import Root, digest_of, read_file
from mailmerge.findings import InputError
from mailmerge.guests.names import clusters
from mailmerge.ledger.ledger import Ledger
from mailmerge.ledger.recall import recall
from mailmerge.ledger.standing import Correction
from mailmerge.ledger.tray import FORMER_LISTS
from mailmerge.ledger.who import Match
from mailmerge.orders import Order, editing
from mailmerge.orders.order import order_of
from mailmerge.orders.said import ORDER_FILE, inputs_digest, list_of
from mailmerge.progress import Watch, unwatched
from mailmerge.shelves import read_toml

__all__ = [
    "Changed",
    "Compared",
    "FormerList",
    "Part",
    "compare_list",
    "former_list",
    "former_lists",
    "take_laid_list",
    "take_list",
]


@dataclass(frozen=True, slots=True)
class Part:
    """A piece of a text, and whether the other text differs there."""

    text: str
    differs: bool


@dataclass(frozen=True)
class NewText:
    """A text that is another one in the newer list."""

    field: str
    was: tuple[Part, ...]
    now: tuple[Part, ...]


@dataclass(frozen=True)
class Changed:
    """A guest whom the newer list tells otherwise."""

    name: str
    items: tuple[int, ...]
    row: int
    texts: tuple[NewText, ...]
    is_made: bool
    """Whether a cup of theirs was released or engraved."""


@dataclass(frozen=True)
class Someone:
    """A guest who is new, or gone."""

    name: str
    items: tuple[int, ...]
    """None of one who was never in the list before."""
    row: int
    texts: Mapping[str, str]
    is_made: bool = False


@dataclass(frozen=True)
class Compared:
    """What a newer list would change."""

    new: tuple[Someone, ...]
    changed: tuple[Changed, ...]
    gone: tuple[Someone, ...]
    as_before: int
    """Guests."""
    set_aside: tuple[tuple[int, Correction], ...]
    """Corrections, with their rows, that would not hold any more."""
    choices: Choices
    """What was said about guests who could be several."""
    seen: str
    """A digest of both lists, to tell whether anything has changed since."""

    @property
    def is_same(self) -> bool:
        """Whether it would change nothing."""
        return not (self.new or self.changed or self.gone)


def compare_list(
    order: Path, list_file: Path, choices: Choices = NO_CHOICES
) -> Compared | Question[Choices]:
    """Show guest by guest what a newer list would change; nothing is changed.

    In an order that was never merged every guest is new: it may have begun with a form.

    Parameters
    ----------
    choices
        What was said about guests who cannot be matched for sure.

    Raises
    ------
    InputError
        The list cannot be read as the order's file says.
    """
    folder = folder_of(order)
    data = read_file(list_file, MAX_BYTES)
    with order_ledger(folder, missing="make") as ledger:
        newer = _with_list(folder, list_file)
        return or_question(lambda: _compared(newer, ledger, choices, data), choices)


def _with_list(folder: Path, list_file: Path) -> Order:
    """Return an order as it would be with another list."""
    file = folder / ORDER_FILE
    tables = dict(read_toml(file))
    tables["order"] = {**tables.get("order", {}), "list": str(list_file.absolute())}
    try:
        return order_of(file, tables)
    except InputError as error:
        raise InputError(str(error).replace(str(list_file.absolute()), list_file.name)) from None


def _compared(order: Order, ledger: Ledger, choices: Choices, data: bytes) -> Compared:
    recalled = recall(order, ledger, choices)
    matching = recalled.matching
    fields = [each for each in order.guests.known_fields if each in order.guests.columns.of]
    stayed = [each for each in matching.stayed if not each.known.gone]
    back = [each for each in matching.stayed if each.known.gone]
    changed = [(each, _new_texts(each, fields)) for each in stayed]
    return Compared(
        (
            *(Someone(f.fields["name"], (), f.row, _told(f.fields, fields)) for f in matching.new),
            *(_back(each, fields) for each in back),
        ),
        tuple(
            Changed(
                match.known.fields["name"], match.known.items, match.found.row, texts,
                match.known.is_made,
            )
            for match, texts in changed
            if texts
        ),
        tuple(
            Someone(k.fields["name"], k.items, k.row, _told(k.fields, fields), k.is_made)
            for k in matching.gone
        ),
        sum(not texts for _, texts in changed),
        recalled.set_aside,
        choices,
        digest_of((inputs_digest(ledger.folder) + digest_of(data)).encode()),
    )  # fmt: skip


def _back(match: Match, fields: Sequence[str]) -> Someone:
    """Return a guest who was gone and is in the list again, with the numbers of old."""
    found, known = match.found, match.known
    return Someone(
        found.fields["name"], known.items, found.row, _told(found.fields, fields), known.is_made
    )


def _told(texts: Mapping[str, str], fields: Sequence[str]) -> dict[str, str]:
    return {field: texts[field] for field in fields if texts.get(field)}


def _new_texts(match: Match, fields: Sequence[str]) -> tuple[NewText, ...]:
    was, now = match.known.fields, match.found.fields
    names = [each for each in (*fields, *was.keys() - {*fields, "name", "first", "last"})
             if was.get(each, "") != now.get(each, "")]  # fmt: skip
    return tuple(NewText(name, *differing(was.get(name, ""), now.get(name, ""))) for name in names)


def differing(was: str, now: str) -> tuple[tuple[Part, ...], tuple[Part, ...]]:
    """Return two texts in parts, each with whether the other differs there; accents stay whole."""
    old, new = clusters(was), clusters(now)
    steps = SequenceMatcher(None, old, new, autojunk=False).get_opcodes()
    return (
        tuple(Part("".join(old[a:b]), tag != "equal") for tag, a, b, _, _ in steps if b > a),
        tuple(Part("".join(new[c:d]), tag != "equal") for tag, _, _, c, d in steps if d > c),
    )


def take_list(
    order: Path,
    list_file: Path,
    choices: Choices = NO_CHOICES,
    saw: str = "",
    jobs: int = 0,
    watch: Watch = unwatched,
) -> Merge | Question[Choices]:
    """Take a newer list in the place of the order's, and merge.

    The former list is kept with its day.

    Parameters
    ----------
    choices
        What was said about guests who cannot be matched for sure.
    saw
        What :func:`compare_list` has shown, as its ``seen``; ``""`` for whatever it is.

    Raises
    ------
    CalledOff
        By ``watch``; the order has its former list.
    InputError
        The list cannot be read as the order's file says, either list has changed since it was
        compared, or a file cannot be written; the order has its former list then.
    """
    folder = folder_of(order)
    compared = compare_list(folder, list_file, choices)
    if isinstance(compared, Question):
        return compared
    if saw and saw != compared.seen:
        raise InputError(words.CHANGED_SINCE_COMPARED)
    change = _Exchange(folder, list_file)
    try:
        change.carry_out()
        made = making.merge(folder, choices=choices, jobs=jobs, watch=watch)
    except BaseException:
        change.take_back()
        raise
    if isinstance(made, Question):
        change.take_back()
        return made
    change.finish()
    return made


def take_laid_list(
    order: Path,
    key: str,
    choices: Choices = NO_CHOICES,
    saw: str = "",
    jobs: int = 0,
    watch: Watch = unwatched,
) -> Merge | Question[Choices]:
    """Take a newer list that was laid by: see :func:`take_list`.

    Parameters
    ----------
    key
        Of the list that was laid by; once it is taken it is not kept there any more.

    Raises
    ------
    CalledOff
        By ``watch``; the order has its former list.
    InputError
        As by :func:`take_list`, or there is no such list.
    """
    of = key_of(folder_of(order).resolve())
    taken = take_list(order, laid(key, of), choices, saw, jobs, watch)
    if not isinstance(taken, Question):
        let_go(key, of)
    return taken


class _Exchange:
    """One list in the place of another, in an order's folder: all of it can be taken back.

    The former list is copied first, and the new one is renamed into its place whole; whenever this
    is cut off, the order's file names a list that is there.
    """

    def __init__(self, folder: Path, list_file: Path) -> None:
        self._root, self._folder = Root(folder), folder
        self._new = read_file(list_file, MAX_BYTES)
        self._order = read_file(folder / ORDER_FILE)
        before = list_of(folder)
        assert before is not None  # the order could be opened
        self._before, self._old = before, read_file(before, MAX_BYTES)
        is_within = before.parent.resolve() == folder.resolve()
        is_same_kind = before.suffix.lower() == list_file.suffix.lower()
        self._is_in_place = is_within and is_same_kind
        stem = before.stem if is_within else list_file.stem
        self._name = before.name if self._is_in_place else self._free(stem, list_file.suffix)
        self._is_left = is_within and not self._is_in_place
        self._former = f"{FORMER_LISTS}/{dt.datetime.now():%Y-%m-%dT%H-%M-%S} {before.name}"

    def _free(self, stem: str, suffix: str) -> str:
        number = 1
        name = f"{stem}{suffix}"
        while (self._folder / name).exists():
            number += 1
            name = f"{stem}-{number}{suffix}"
        return name

    def carry_out(self) -> None:
        """Keep the former list, and put the new one into its place."""
        self._root.write(self._former, self._old)
        self._root.write(self._name, self._new)
        if not self._is_in_place:
            editing.edit(self._folder, {"order": {"list": self._name}})

    def take_back(self) -> None:
        """Put everything as it was."""
        if self._is_in_place:
            self._root.write(self._name, self._old)
        else:
            self._root.write(ORDER_FILE, self._order)
            self._root.remove(self._name)
        self._root.remove(self._former)
        if not any((self._folder / FORMER_LISTS).iterdir()):
            self._root.clear(FORMER_LISTS)

    def finish(self) -> None:
        """Take away a former list that lies beside the new one: it is kept with its day."""
        if self._is_left:
            self._root.remove(self._before.name)


@dataclass(frozen=True, slots=True)
class FormerList:
    """A list that an order had before."""

    name: str
    """Of its file."""
    called: str
    """As the client's file was called."""
    until: dt.datetime
    """When another one took its place."""


def former_lists(order: Path) -> tuple[FormerList, ...]:
    """Return the lists that an order had before, the latest first."""
    folder = folder_of(order) / FORMER_LISTS
    found = []
    for path in sorted(folder.iterdir(), reverse=True) if folder.is_dir() else ():
        day, _, called = path.name.partition(" ")
        try:
            until = dt.datetime.strptime(day, "%Y-%m-%dT%H-%M-%S")
        except ValueError:
            continue  # somebody else has put it there
        found.append(FormerList(path.name, called, until))
    return tuple(found)


def former_list(order: Path, name: str) -> bytes:
    """Return a list that an order had before.

    Raises
    ------
    InputError
        There is none called so.
    """
    if name not in {each.name for each in former_lists(order)}:
        raise InputError(words.no_former_list(name))
    return read_file(folder_of(order) / FORMER_LISTS / name, MAX_BYTES)
