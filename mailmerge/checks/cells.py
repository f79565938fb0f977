"""Findings about cells as the list holds them: what cannot be taken, what was cleaned."""

from __future__ import annotations

import re
from collections.abc import Iterator

from mailmerge.blanks import angle_of
from mailmerge.checks import words
from mailmerge.findings import Finding, Severity
from mailmerge.guests import Guest, Remark, Trouble

_CLEANED = {
    "encoding": words.encoding_mended,
    "composition": words.accents_joined,
    "invisible": words.invisible_removed,
    "blanks": words.spaces_removed,
}


def check_cells(guest: Guest, engraved: frozenset[str]) -> list[Finding]:
    """Return the findings about a guest's cells.

    Cells with trouble stop the item only where it matters: in fields that are engraved, and in
    hand, side and quantity; a row that is in disorder always does.
    """
    found = [
        _trouble(trouble)
        for trouble in guest.troubles
        if trouble.kind == "comment"
        or trouble.field in engraved | {"row", "hand", "side", "quantity", "blank", "coat"}
        or (trouble.field in ("first", "last", "name") and engraved & {"name", "first", "last"})
    ]
    if not guest.name and not any(trouble.field == "name" for trouble in guest.troubles):
        found.append(Finding("name-blank", Severity.STOP, "name", *words.NAME_BLANK))
    if side := guest.fields.get("side", ""):
        try:
            angle_of(side, guest.hand)
        except ValueError:
            found.append(Finding("side-unclear", Severity.STOP, "side", *words.side_unclear(side)))
    found += _directions(guest, engraved)
    found += [
        Finding(
            f"cleaned-{change.kind}",
            Severity.NOTE,
            change.field,
            *_CLEANED[change.kind](change.before, change.after),
        )
        for change in guest.changes
    ]
    return found


_DIRECTION = re.compile("[\u202a-\u202e\u2066-\u2069]")


def _directions(guest: Guest, engraved: frozenset[str]) -> Iterator[Finding]:
    """Yield texts with signs that turn their letters around: they are seen otherwise than set."""
    troubled = {trouble.field for trouble in guest.troubles}
    for field in sorted(engraved & set(guest.fields) - troubled):
        if found := sorted(set(_DIRECTION.findall(guest.fields[field]))):
            codes = ", ".join(f"U+{ord(char):04X}" for char in found)
            said = words.direction_override(field, codes)
            yield Finding("direction-override", Severity.STOP, field, *said)


def _trouble(trouble: Trouble) -> Finding:
    field = trouble.field
    found = trouble.found
    stop = Severity.STOP
    match trouble.kind:
        case "date":
            return Finding(f"{field}-is-date", stop, field, *words.is_date(field, found))
        case "no-value":
            return Finding(f"{field}-no-value", stop, field, *words.no_value(field))
        case "example":
            return Finding("example-left", stop, field, *words.example_left(field, found))
        case "length":
            return Finding(f"{field}-is-endless", stop, field, *words.is_endless(field, found))
        case "merged":
            said = words.merged_cell(field, found)
            return Finding("merged-cell", Severity.WARNING, field, *said)
        case "header":
            return Finding("header-again", stop, None, *words.HEADER_AGAIN)
        case "below-header":
            return Finding("below-other-header", stop, None, *words.BELOW_OTHER_HEADER)
        case "swallowed":
            return Finding("quote-open", stop, None, *words.quote_open(found))
        case "wider":
            return Finding("row-too-wide", stop, None, *words.row_too_wide(found))
        case "beside":
            return Finding("beside-the-table", Severity.WARNING, None, *words.beside_table(found))
        case "narrower":
            said = words.row_too_short(found, trouble.known)
            return Finding("row-too-short", Severity.WARNING, None, *said)
        case "struck" if field == "row":
            return Finding("struck-out", stop, None, *words.row_struck(found))
        case "struck":
            return Finding("struck-out", stop, field, *words.struck(field, found))
        case "partly-struck":
            said = words.partly_struck(field, found, trouble.known)
            return Finding("partly-struck", stop, field, *said)
        case "unseen":
            return Finding("not-to-be-seen", stop, field, *words.unseen(field, found))
        case "replaced":
            said = words.replaced(field, found, trouble.known)
            return Finding("not-to-be-seen", stop, field, *said)
        case "comment":
            at = None if field == "row" else field
            return Finding("comment", Severity.WARNING, at, *words.comment(found))
        case "two-lines":
            said = words.name_on_two_lines(field, found)
            return Finding("lines-in-cell", Severity.WARNING, field, *said)
        case "lines":
            severity = Severity.WARNING if field == "role" else stop
            return Finding("lines-in-cell", severity, field, *words.lines_in_cell(field, found))
        case "shown":
            said = words.shown_otherwise(field, found, trouble.known)
            return Finding("shown-otherwise", Severity.WARNING, field, *said)
        case "number":
            return Finding(f"{field}-is-number", stop, field, *words.is_number(field, found))
        case "truth":
            return Finding(f"{field}-is-truth", stop, field, *words.is_truth(field, found))
        case "formula":
            return Finding(f"{field}-is-formula", stop, field, *words.is_formula(field, found))
        case "merge-field":
            said = words.is_merge_field(field, found)
            return Finding(f"{field}-is-merge-field", stop, field, *said)
        case "error":
            return Finding(f"{field}-is-error", stop, field, *words.is_error(field, found))
        case "unknown":
            said = words.kind_unclear(field, found, trouble.known)
            return Finding(f"{field}-unclear", stop, field, *said)
        case "motif" if not found:
            return Finding("motif-missing", Severity.WARNING, field, *words.MOTIF_MISSING)
        case "motif":
            said = words.motif_unclear(found, trouble.known)
            return Finding("motif-unclear", stop, field, *said)
        case "coat":
            said = words.coat_unclear(trouble.of, found, trouble.known)
            return Finding("coat-unclear", stop, field, *said)
        case "hand":
            said = words.hand_unclear(found) if found else words.HAND_BLANK
            return Finding("hand-unclear", stop, field, *said)
        case "quantity":
            return Finding("quantity-unclear", stop, field, *words.quantity_unclear(found))
    raise AssertionError(f"a trouble without a finding: {trouble.kind}")


def check_quantity(guest: Guest, remarks: tuple[Remark, ...]) -> Iterator[Finding]:
    """Yield that a guest wants far more cups than the others."""
    for remark in remarks:
        if remark.kind == "far-off":
            said = words.quantity_far_off(guest.quantity, int(remark.other))
            yield Finding("quantity-far-off", Severity.WARNING, "quantity", *said)


def check_exchanged(remarks: tuple[Remark, ...]) -> Iterator[Finding]:
    """Yield that first and last name of a guest seem to stand in each other's column."""
    if any(remark.kind == "exchanged" for remark in remarks):
        yield Finding("names-exchanged", Severity.WARNING, "name", *words.NAMES_EXCHANGED)
