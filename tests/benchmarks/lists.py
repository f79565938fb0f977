"""How well lists are judged: ``python -m pytest -o addopts= -s tests/benchmarks/lists.py``.

Not part of the test command; it prints, and asserts nothing. Recall is that of planted faults of
other dice than the test's; false alarms are those on the names of all locales of the package
``faker``, as each layout of the library engraves them.
"""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
from planted import outcome, planted
from test_names import real_names

from mailmerge.artwork import Layout
from mailmerge.artwork.layout import fields_of
from mailmerge.checks.company import check_company
from mailmerge.checks.spelling import check_spelling
from mailmerge.guests import Guest
from mailmerge.guests.company import Company
from mailmerge.guests.names import part
from mailmerge.shelves import load, shelf

IN_A_LIST = 60
"""Names that are judged together."""


def test_recall(tmp_path: Path) -> None:
    found = outcome(planted(8, 2), tmp_path)
    print()
    for kind, count in sorted(found.planted.items()):
        missed = found.missed.get(kind, [])
        print(f"{kind:32} {count:5} planted {1 - len(missed) / count:7.1%} told")
        print(*(f"    {text}" for text in missed), sep="\n", end="\n" if missed else "")
    missed_of_all = sum(map(len, found.missed.values()))
    count = sum(found.planted.values())
    print(f"{'all':32} {count:5} planted {1 - missed_of_all / count:7.1%} told")
    print(f"{len(found.false)} findings on {found.clean} guests without fault")


@pytest.fixture(scope="module")
def guests() -> list[Guest]:
    named = []
    for row, (_, name) in enumerate(real_names(45), start=2):
        first, last, _ = part(name)
        named.append(Guest(row, {"name": name, "first": first, "last": last, "role": "Horn"}))
    return named


@pytest.mark.parametrize("name", sorted(shelf("layouts")))
def test_false_alarms(name: str, guests: list[Guest]) -> None:
    layout = load(Layout, "layouts", name, Path())
    engraved = {field for line in layout.line for field in fields_of(line.text)}
    engraved |= {"initials"} if any(line.monogram for line in layout.line) else set()
    codes: Counter[str] = Counter()
    alarmed = 0
    for start in range(0, len(guests), IN_A_LIST):
        company = Company()
        some = guests[start : start + IN_A_LIST]
        for guest in some:
            company.add(guest.row, guest.name, "Horn")
        remarks = company.remarks()
        for guest in some:
            found = [
                *check_spelling(guest, frozenset(engraved)),
                *check_company(tuple(remarks.get(guest.row, ())), frozenset(engraved)),
            ]
            said = [finding.code for finding in found]
            alarmed += bool(said)
            codes.update(said)
    share = alarmed / len(guests)
    print(f"\n{name:20} {alarmed:4} of {len(guests)} names ({share:.2%}): {dict(codes)}")
