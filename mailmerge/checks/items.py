"""All findings about one item, worst first."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from mailmerge.artwork import Composition
from mailmerge.blanks import Blank
from mailmerge.checks.beam import check_beam
from mailmerge.checks.cells import check_cells, check_exchanged, check_quantity
from mailmerge.checks.company import check_company
from mailmerge.checks.lines import check_lines
from mailmerge.checks.loading import check_loading
from mailmerge.checks.spelling import check_spelling
from mailmerge.findings import Finding, Severity
from mailmerge.guests import Guest, Remark
from mailmerge.machines import Loading, Machine


def check_item(
    guest: Guest,
    composition: Composition,
    blank: Blank,
    machine: Machine,
    loading: Loading,
    engraved: frozenset[str],
    remarks: tuple[Remark, ...],
) -> tuple[Finding, ...]:
    """Return what is to be said about a guest and the design made for it, worst first.

    Parameters
    ----------
    engraved
        The list's fields that the layout uses: only their text is judged as text to engrave.
    remarks
        What the other rows of the list say about the guest.
    """
    found = [
        *_of_texts(guest, engraved, remarks),
        *check_lines(guest, composition, blank),
        *check_beam(composition, machine),
        *check_loading(composition, blank, machine, loading),
    ]
    return tuple(sorted(found, key=lambda finding: finding.severity.rank))


def check_texts(
    guest: Guest, engraved: frozenset[str], remarks: tuple[Remark, ...]
) -> tuple[Finding, ...]:
    """Return what is to be said about a guest's texts alone, worst first."""
    found = _of_texts(guest, engraved, remarks)
    return tuple(sorted(found, key=lambda finding: finding.severity.rank))


def _of_texts(
    guest: Guest, engraved: frozenset[str], remarks: tuple[Remark, ...]
) -> Iterator[Finding]:
    yield from check_cells(guest, engraved)
    yield from _doubts(guest, engraved, remarks)
    yield from check_quantity(guest, remarks)


def _doubts(
    guest: Guest, engraved: frozenset[str], remarks: tuple[Remark, ...]
) -> Iterator[Finding]:
    """Yield what is doubtful about the meaning of texts, but for those that are meant just so."""
    found = (
        *check_spelling(guest, engraved),
        *check_exchanged(remarks),
        *check_company(remarks, engraved),
    )
    if any(remark.kind == "one-word" for remark in remarks):
        found = tuple(_sure_of_nobody(each) for each in found)
    stopped = {(each.code, each.field) for each in found if each.severity is Severity.STOP}
    for each in found:
        is_said = each.severity is not Severity.STOP and (each.code, each.field) in stopped
        if each.field not in guest.meant and not is_said:
            yield each


def _sure_of_nobody(found: Finding) -> Finding:
    """Return as a stop that a word is no name: it stands alone where the others have whole names.

    Reserve is a rare last name, and nobody gives only that one.
    """
    if found.code in ("not-a-name", "stands-for-somebody"):
        return replace(found, severity=Severity.STOP)
    return found


_NAME = frozenset(("name",))


def check_name(guest: Guest, remarks: tuple[Remark, ...]) -> list[Finding]:
    """Return what stops a row from being a guest: its name is none, or the row is in disorder."""
    found = [*check_cells(guest, _NAME), *_doubts(guest, _NAME, remarks)]
    return [
        f
        for f in found
        if f.severity is Severity.STOP and f.field in (None, "name", "first", "last")
    ]
