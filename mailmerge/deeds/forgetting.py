"""Forgetting an order: its names, pictures and answers go, and it is searched for what is left."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from mailmerge.deeds import words
from mailmerge.deeds.bench import count_in_shop
from mailmerge.deeds.interrupted import let_go
from mailmerge.deeds.known import key_of
from mailmerge.deeds.laid import let_all_go
from mailmerge.deeds.opening import folder_of
from mailmerge.deeds.questions import Option, Question
from mailmerge.ledger.forgetting import Trace, forget as forget_all, ours, search, searched
from mailmerge.ledger.ledger import open_ledger

__all__ = ["forget"]


@dataclass(frozen=True)
class Forgot:
    """What forgetting an order came to."""

    folder: Path
    traces: tuple[Trace, ...]
    """Names that are still there."""
    unread: tuple[Path, ...]
    """Files that cannot be searched."""
    outside: Path | None
    """The order's list, where it lies outside of its folder and was not touched."""
    linked: tuple[Path, ...]
    """Links in the folder, which were left alone with all that they lead to."""
    files: int
    names: int
    """How many files were searched, for how many names."""
    not_logged: str
    """Why the order's counts are not on the shop's log; ``""`` if they are."""

    @property
    def is_clean(self) -> bool:
        """Whether nothing is left that a name could be in."""
        return not (self.traces or self.unread or self.outside or self.linked)


def forget(
    order: Path, is_sure: bool = False, leave_others: bool = False
) -> Forgot | Question[bool]:
    """Take names, pictures and answers out of an order's folder; counts stay.

    Parameters
    ----------
    is_sure
        Whether it was asked; it cannot be undone.
    leave_others
        Whether files that are not ours may go on holding names.

    Raises
    ------
    InputError
        Files that are not ours hold names and may not, the order was forgotten already, or a file
        cannot be removed.
    """
    folder = folder_of(order)
    with open_ledger(folder) as ledger:
        before = searched(ledger, leave_others)
        if not is_sure:
            return Question(
                words.forget_all(folder / name for name in ours(folder)),
                (Option("y", words.FORGET_THEM, True),),
                words.YES_MISSING,
            )
        not_logged = count_in_shop(ledger)
        linked = forget_all(before)
        let_go(key_of(folder.resolve()))
        let_all_go(key_of(folder.resolve()))
        left = search(ledger, before.names)
    return Forgot(
        folder,
        left.traces,
        left.unread,
        before.outside,
        tuple(linked),
        left.files,
        before.names.count,
        not_logged,
    )
