"""Findings about a guest that only the other rows of the list bring to light."""

from __future__ import annotations

from collections.abc import Iterator

from mailmerge.checks import words
from mailmerge.findings import Finding, Severity
from mailmerge.guests import Remark


def check_company(remarks: tuple[Remark, ...], engraved: frozenset[str]) -> Iterator[Finding]:
    """Yield what the other rows say about a guest, as far as it is engraved."""
    warning = Severity.WARNING
    for remark in remarks:
        match remark.kind:
            case "same":
                yield Finding("duplicate", warning, "name", *words.duplicate(remark.rows))
            case "alike":
                said = words.alike(remark.rows, remark.other)
                yield Finding("name-alike", warning, "name", *said)
            case "one-word":
                yield Finding("one-word", warning, "name", *words.ONE_WORD)
            case "letter":
                yield Finding("not-a-name", Severity.STOP, "name", *words.letter_alone(remark.own))
            case "split":
                yield Finding("name-in-two", warning, "name", *words.name_in_two(remark.other))
            case "turned":
                yield Finding("name-turned", warning, "name", *words.NAME_TURNED)
            case "name-signs":
                said = words.mixed_signs("name", remark.other, remark.rows)
                yield Finding("mixed-signs", warning, "name", *said)
            case "role-signs" if "role" in engraved:
                said = words.mixed_signs("role", remark.other, remark.rows)
                yield Finding("mixed-signs", warning, "role", *said)
            case "role-none" if "role" in engraved:
                yield Finding("not-a-role", warning, "role", *words.not_a_role(remark.other))
            case "heading":
                yield Finding(
                    "heading", Severity.STOP, "name", *words.heading_without_role(remark.own)
                )
            case "role-goes-on" if "role" in engraved:
                said = words.role_goes_on(remark.own, remark.other)
                yield Finding("remark-in-role", warning, "role", *said)
            case "role-missing" if "role" in engraved:
                yield Finding("role-missing", warning, "role", *words.ROLE_MISSING)
            case "role-alike" if "role" in engraved:
                yield Finding("role-alike", warning, "role", *words.role_alike(remark.other))
            case "role-foreign" if "role" in engraved:
                said = words.role_foreign(remark.other)
                yield Finding("role-in-other-language", warning, "role", *said)
            case "name-is-role":
                yield Finding("name-is-role", warning, "name", *words.name_is_role(remark.other))
            case "role-within":
                yield Finding("role-in-name", warning, "name", *words.role_within(remark.other))
            case "code-page":
                said = words.code_page_of_others(remark.other)
                yield Finding("wrong-code-page", warning, "name", *said)
            case "page-of-list":
                text = words.page_of_list(remark.other, remark.own)
                yield Finding("wrong-code-page", Severity.STOP, "name", *text)
            case "foreign":
                yield Finding("look-alike", warning, "name", *words.look_alike(remark.other))
