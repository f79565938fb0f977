"""How long work says how far it is, and how it is called off: one callback for both."""

from __future__ import annotations

from collections.abc import Callable

Watch = Callable[[int, int], bool]
"""Called with the number of items that are done and of all; returns whether to go on."""


class CalledOff(Exception):
    """Somebody has called the work off; nothing was changed."""


def unwatched(_done: int, _total: int) -> bool:
    """Go on: for work that nobody looks at."""
    return True


def told(watch: Watch, done: int, total: int) -> None:
    """Say how far the work is.

    Raises
    ------
    CalledOff
        It is not to go on.
    """
    if not watch(done, total):
        raise CalledOff
