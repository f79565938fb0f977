"""What the program has to say: findings about items, and the one error for a wrong input.

A finding is data and travels with its item to the report. An :class:`InputError` ends the call:
the order itself cannot be read or carried out.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from enum import StrEnum
from typing import Any, TypeVar

from mailmerge.voice import bounded, visible


class Severity(StrEnum):
    """How much a finding weighs, worst first."""

    STOP = "stop"
    """The item gets no artwork until somebody has mended the cause."""
    WARNING = "warning"
    """The item is made, but somebody should look before a blank is spent on it."""
    NOTE = "note"
    """Something was done or seen that is probably right."""

    @property
    def rank(self) -> int:
        """0 for the worst; findings sort by it."""
        return list(Severity).index(self)


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that the check says about an item or about the whole list.

    ``field`` is the column or layout field that it is about, where there is one; ``message`` says
    what was found, ``advice`` what to do about it, both in whole sentences. ``rows`` are those of
    the list that a finding about the whole list is about; of an item's own it has none.
    """

    code: str
    severity: Severity
    field: str | None
    message: str
    advice: str
    rows: tuple[int, ...] = ()


About = TypeVar("About")


def by_cause(found: Iterable[tuple[Finding, About]]) -> dict[Finding, list[About]]:
    """Gather what each finding is about, in the order in which findings first come up.

    What is found alike has one cause: forty guests who ask for a coat that the blank lacks.
    """
    gathered: dict[Finding, list[About]] = {}
    for finding, about in found:
        gathered.setdefault(finding, []).append(about)
    return gathered


@dataclass(slots=True)
class Cause:
    """A finding, and those whom it is about."""

    finding: Finding
    count: int = 0
    """How many guests it is about; 0 for one about the whole list."""
    items: list[int] = field(default_factory=list)
    """Those of the first guests, as rows and names."""
    rows: list[int] = field(default_factory=list)
    names: list[str] = field(default_factory=list)


class Causes:
    """Gathers findings by their cause while items come.

    Parameters
    ----------
    severities
        What is gathered about single guests; of the whole list, warnings as well.
    most
        So many causes of a severity are kept, and so many guests of each; None for all.
    """

    def __init__(
        self, severities: Iterable[Severity] = Severity, most: tuple[int, int] | None = None
    ) -> None:
        self._severities, self._most = frozenset(severities), most
        self._of: dict[Severity, dict[Finding, Cause]] = {each: {} for each in Severity}
        self.left_out = 0
        """How many findings have a cause that is not kept."""

    def add(self, finding: Finding, item: int, row: int, name: str) -> None:
        """Take in what was found about a guest."""
        if finding.severity not in self._severities or not (cause := self._cause(finding)):
            return
        cause.count += 1
        if self._most is None or cause.count <= self._most[1]:
            cause.items.append(item)
            cause.rows.append(row)
            cause.names.append(name)

    def add_of_list(self, finding: Finding) -> None:
        """Take in what was found about the whole list."""
        if finding.severity in self._severities | {Severity.WARNING} and (
            cause := self._cause(finding)
        ):
            cause.rows = list(finding.rows)

    def _cause(self, finding: Finding) -> Cause | None:
        """Return the cause that a finding belongs to; None where there are too many."""
        known = self._of[finding.severity]
        if finding not in known and self._most is not None and len(known) >= self._most[0]:
            self.left_out += 1
            return None
        return known.setdefault(finding, Cause(finding))

    def worst_first(self) -> list[Cause]:
        """Return the causes, each once."""
        return [cause for of in self._of.values() for cause in of.values()]


LONGEST = 480
"""Characters of an error; what stands in front of it makes a line no longer than any may be."""


class InputError(Exception):
    """The call or one of its files is wrong; the text says where, what was found, what is needed.

    The text is one line of at most :data:`LONGEST` characters, whatever the input held.
    """

    def __init__(self, message: str) -> None:
        super().__init__(bounded(visible(" ".join(message.split())), LONGEST))

    def __reduce__(self) -> tuple[Any, ...]:
        """Let it be told in another process, with all that it holds."""
        return _as_it_was, (type(self), str(self), self.__dict__)


def _as_it_was(kind: type[InputError], message: str, held: Mapping[str, Any]) -> InputError:
    error = kind.__new__(kind, message)
    error.__dict__.update(held)
    return error


class BeingChanged(InputError):
    """Somebody else changes an order at this moment; what was wanted can be done afterwards."""


class WrongValue(InputError):
    """A value that a file or a page holds is wrong.

    Parameters
    ----------
    message
        For whoever reads files: where it is, in the words of the file.
    key
        Where it is, with dots and numbers from 1 (``line.2.letter_height.max``), for whoever shows
        that under another name; ``""`` for the whole.
    why
        What was found and what is wanted, without the key.
    rule
        Which rule it breaks, where that is about several keys.
    """

    def __init__(self, message: str, key: str, why: str, rule: str = "") -> None:
        super().__init__(message)
        self.key, self.why, self.rule = key, why, rule


NOT_THERE = "not there"
"""The rule that what a value names has to be there."""


class RuleBroken(ValueError):
    """Values of several keys do not go together.

    Parameters
    ----------
    rule
        Which rule that breaks.
    key
        Which of the keys has to change, if it is one, as in :class:`WrongValue`.
    """

    def __init__(self, rule: str, message: str, key: str = "") -> None:
        super().__init__(message)
        self.rule, self.key = rule, key


class Unsettled(InputError):
    """The guest list leaves a question open that its order can answer.

    Parameters
    ----------
    about
        ``sheet``, or the field whose column is not known.
    choices
        The names of sheets or the headers that may be the answer; none where nothing can be chosen.
    """

    def __init__(self, message: str, about: str, choices: Iterable[str] = ()) -> None:
        super().__init__(message)
        self.about = about
        self.choices = tuple(choices)


def nearest(word: str, known: Iterable[str]) -> str:
    """Return ``Did you mean "…"?`` for the known word closest to ``word``, or nothing.

    An :class:`InputError` closes the gap that nothing leaves between two sentences.
    """
    by_folded = {name.casefold(): name for name in known}
    close = get_close_matches(word.casefold(), by_folded, n=1, cutoff=0.6)
    return f'Did you mean "{by_folded[close[0]]}"?' if close else ""


def shown(text: str, limit: int = 60) -> str:
    """Return ``text`` fit for a line of a message: quoted, on one line, not longer than ``limit``.

    Control and direction characters are shown as their code points, so that what is printed
    cannot reorder or hide the rest of the line.
    """
    visible = "".join(
        char if char.isprintable() else f"<U+{ord(char):04X}>" for char in text[: limit + 1]
    )
    return f'"{visible[:limit]}…"' if len(visible) > limit else f'"{visible}"'


def whole(text: str) -> str:
    """Return what somebody said as :func:`shown` does, but never cut: the point may come last."""
    return shown(text, len(text))


def with_values(header: str, values: Iterable[str]) -> str:
    """Return a header with the first texts below it, such as ``"Cup" (navy, white)``."""
    told = ", ".join(shown(value, 30)[1:-1] for value in values)
    return f"{shown(header)} ({told})" if told else shown(header)
