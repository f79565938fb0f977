"""Findings about cells as the list holds them: what cannot be taken, what was cleaned."""

from __future__ import annotations

from mailmerge.blanks import angle_of
from mailmerge.findings import Finding, Severity, shown
from mailmerge.guests import Guest, Trouble

_CLEANED = {
    "encoding": "letters in the wrong encoding were mended",
    "composition": "accents were joined to their letters (Unicode NFC)",
    "invisible": "characters that show nothing were taken out",
    "blanks": "stray blanks were taken out",
}


def check_cells(guest: Guest, engraved: frozenset[str]) -> list[Finding]:
    """Return the findings about a guest's cells.

    Cells with trouble stop the item only where it matters: in fields that are engraved, and in
    hand, side and quantity.
    """
    found = [
        _trouble(trouble)
        for trouble in guest.troubles
        if trouble.field in engraved | {"hand", "side", "quantity", "blank", "coat"}
        or (trouble.field in ("first", "last", "name") and engraved & {"name", "first", "last"})
    ]
    if not guest.name and not any(trouble.field == "name" for trouble in guest.troubles):
        found.append(
            Finding(
                "name-blank",
                Severity.STOP,
                "name",
                "the row holds no name",
                "Put the name in, or take the row out of the list.",
            )
        )
    if side := guest.fields.get("side", ""):
        try:
            angle_of(side, guest.hand)
        except ValueError as error:
            found.append(
                Finding(
                    "side-unclear",
                    Severity.STOP,
                    "side",
                    f"the side is unclear: {error}",
                    "Correct it, or leave it blank for the layout's own face.",
                )
            )
    found += [
        Finding(
            f"cleaned-{change.kind}",
            Severity.NOTE,
            change.field,
            f"{_CLEANED[change.kind]}: {shown(change.before)} became {shown(change.after)}",
            "Nothing to do if the second is what was meant.",
        )
        for change in guest.changes
    ]
    return found


def _trouble(trouble: Trouble) -> Finding:
    field = trouble.field
    match trouble.kind:
        case "date":
            return Finding(
                f"{field}-is-date",
                Severity.STOP,
                field,
                f"the {field} is a date: {trouble.found}; the spreadsheet has taken what was "
                f"typed for one",
                "Ask what was meant, set the cell's format to text and type it again.",
            )
        case "no-value":
            return Finding(
                f"{field}-no-value",
                Severity.STOP,
                field,
                f"the {field} is a formula whose result is not stored in the file",
                "Open the list in a spreadsheet program and save it again, or type the text.",
            )
        case "length":
            return Finding(
                f"{field}-is-endless",
                Severity.STOP,
                field,
                f"the {field} has more than {len(trouble.found)} characters: "
                f"{shown(trouble.found)}",
                "Something else has got into this cell; ask for the text to engrave.",
            )
        case "error":
            return Finding(
                f"{field}-is-error",
                Severity.STOP,
                field,
                f"the {field} is a spreadsheet error: {shown(trouble.found)}",
                "Mend the formula in the list, or type the text.",
            )
        case "unknown":
            return Finding(
                f"{field}-unclear",
                Severity.STOP,
                field,
                f"the {field} is unclear: found {shown(trouble.found)} (known: {trouble.known})",
                "Correct it in the list, or leave it blank for the order's own. Words of your own "
                "for blanks go under [blanks] in order.toml.",
            )
        case "hand":
            return Finding(
                "hand-unclear",
                Severity.STOP,
                field,
                f"the hand is unclear: found {shown(trouble.found)}, want left, right, l, r or "
                f"blank (right)",
                "Ask which hand holds the cup: it decides on which side the name stands.",
            )
        case "quantity":
            return Finding(
                "quantity-unclear",
                Severity.STOP,
                field,
                f"the quantity is unclear: found {shown(trouble.found)}, want a whole number up "
                f"to 999 or blank (1)",
                "Ask how many cups are wanted.",
            )
    raise AssertionError(f"a trouble without a finding: {trouble.kind}")
