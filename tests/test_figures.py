"""Quantities that are far off the others, and numberings with a gap."""

from __future__ import annotations

from pathlib import Path

import pytest

from mailmerge.checks.cells import check_quantity
from mailmerge.checks.listing import check_list
from mailmerge.guests import GuestList, open_list


def opened(tmp_path: Path, header: str, rows: list[str]) -> GuestList:
    path = tmp_path / "list.csv"
    path.write_text("\n".join([header, *rows, ""]))
    return open_list(path, None, {})


@pytest.mark.parametrize(
    ("quantities", "told"),
    [
        ([1] * 9 + [400], [400]),
        ([1, 1, 12], [12]),
        ([2] * 20 + [19], []),
        ([2] * 20 + [20, 300], [20, 300]),
        ([1] * 9 + [9], []),
        ([1] * 6 + [12] * 4, []),  # a table of patrons, and no slip
        ([40] * 8, []),
        ([1, 400], []),  # nobody can say which of the two is usual
    ],
)
def test_a_quantity_far_off_the_others(
    tmp_path: Path, quantities: list[int], told: list[int]
) -> None:
    rows = [f"Guest {chr(65 + at)},{quantity}" for at, quantity in enumerate(quantities)]
    guests = opened(tmp_path, "Name,Quantity", rows)
    survey = guests.survey()
    found = [
        (guest.quantity, finding.message)
        for guest in guests.guests()
        for finding in check_quantity(guest, survey.remarks(guest))
    ]
    assert [quantity for quantity, _ in found] == told
    assert all(f"{quantity} cups" in message for quantity, message in found)


@pytest.mark.parametrize(
    ("header", "numbers", "missing"),
    [
        ("No", [*range(1, 18), 19, 20], "18"),
        ("#", [3, 1, 2, 6, 5, 7, 8], "4"),  # the list was sorted by name
        ("lfd. Nr.", ["1.", "2.", "4.", "5.", "6."], "3"),
        ("No", range(1, 20), ""),
        ("Table", [1, 2, 3, 5, 6, 7, 8], ""),
        ("No", [1, 1, 2, 3, 5, 6, 7], ""),  # of a table, or of a house
        ("No", [1, 2, 3, 3, 5], "4; 3 stands there twice"),
        ("No", [4, 19, 22, 31, 57, 60], ""),
        ("No", [1, 2, "x", 4, 5, 6, 7], ""),
    ],
)
def test_a_numbering_with_a_gap(
    tmp_path: Path, header: str, numbers: list[object], missing: str
) -> None:
    rows = [f"{number},Guest {chr(65 + at)}" for at, number in enumerate(numbers)]
    guests = opened(tmp_path, f"{header},Name", rows)
    told = [f.message for f in check_list(guests, guests.survey()) if f.code == "number-missing"]
    assert told == ([f"The list numbers its rows, and leaves out {missing}."] if missing else [])
