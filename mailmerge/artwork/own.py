"""What is a single cup's own: how one of its lines is set, where that differs from its set."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Own:
    """How one line of a single cup is set; what is not said is as on the other cups."""

    line: int
    """Number of the line in the layout, from 1."""
    letter_height: float | None = None
    """In mm, within what the layout allows."""
    rows: tuple[str, ...] = ()
    """The text on its rows, as it is engraved. They hold as long as the text is that one."""
    font: str = ""
    """A family's name, or the path of a font file."""

    @property
    def says_anything(self) -> bool:
        """Whether it differs from the set at all."""
        return bool(self.letter_height or self.rows or self.font)


def own_of(number: int, own: Iterable[Own]) -> Own:
    """Return what is said about a line; nothing, where nothing is."""
    return next((each for each in own if each.line == number), Own(number))


def on_one_row(rows: Iterable[str]) -> str:
    """Return the text that stands on some rows: a hyphen at a row's end joins it to the next."""
    return "".join(r if r.endswith(("-", "‐")) else f"{r} " for r in rows).rstrip()
