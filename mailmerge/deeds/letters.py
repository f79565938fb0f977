"""Two texts side by side: which letters of each the other does not have there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from difflib import SequenceMatcher

from mailmerge.guests.names import clusters

__all__ = ["Part", "letters_apart"]


@dataclass(frozen=True, slots=True)
class Part:
    """Letters of a text that follow each other."""

    text: str
    differs: bool
    """Whether the other text has others there, or none."""


def letters_apart(one: str, other: str) -> tuple[tuple[Part, ...], tuple[Part, ...]]:
    """Return two texts in parts, those that differ marked; each one's parts make up the whole text.

    Letters are compared as people see them, with their marks (UAX #29), so that no accent is
    marked without its letter.
    """
    mine, theirs = clusters(one), clusters(other)
    steps = SequenceMatcher(None, mine, theirs, autojunk=False).get_opcodes()
    left = [Part("".join(mine[a:b]), how != "equal") for how, a, b, _, _ in steps if b > a]
    right = [Part("".join(theirs[c:d]), how != "equal") for how, _, _, c, d in steps if d > c]
    return tuple(_joined(left)), tuple(_joined(right))


def _joined(parts: list[Part]) -> Iterator[Part]:
    """Yield parts with neighbours of the same kind as one."""
    held: Part | None = None
    for part in parts:
        if held and held.differs == part.differs:
            held = Part(held.text + part.text, part.differs)
            continue
        if held:
            yield held
        held = part
    if held:
        yield held
