"""Numbers stay with guests: rows may be added, removed, sorted and corrected."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, strategies as st

from mailmerge.findings import InputError
from mailmerge.ledger.matching import match
from mailmerge.ledger.who import Choices, Found, Known, Unsure


def fields(name: str, role: str = "", **more: str) -> dict[str, str]:
    first, _, last = name.partition(" ")
    return {"name": name, "first": first, "last": last, "role": role, **more}


def known(*guests: tuple[int, str, str], gone: bool = False) -> list[Known]:
    """Guests as (row, name, role); the guest is 100 + its item, items count from 1."""
    return [
        Known(100 + at, row, fields(name, role), (at,), gone)
        for at, (row, name, role) in enumerate(guests, start=1)
    ]


def found(*rows: tuple[int, str, str]) -> list[Found]:
    return [Found(row, fields(name, role)) for row, name, role in rows]


def places(
    guests: list[Known], rows: list[Found], choices: Choices | None = None
) -> dict[int, tuple[int, str]]:
    """Return row and way by item."""
    matching = match(guests, rows, choices or Choices())
    return {each.known.items[0]: (each.found.row, each.how) for each in matching.stayed}


THREE = known((2, "Anna Berg", "Violin"), (3, "Bo Dahl", "Horn"), (4, "Carla Ek", "Viola"))


def test_sorting_a_list_moves_no_number() -> None:
    rows = found((2, "Carla Ek", "Viola"), (3, "Anna Berg", "Violin"), (4, "Bo Dahl", "Horn"))
    assert places(THREE, rows) == {
        1: (3, "the whole row"), 2: (4, "the whole row"), 3: (2, "the whole row"),
    }  # fmt: skip


def test_rows_added_and_removed() -> None:
    rows = found((2, "Nils Ny", "Oboe"), (3, "Anna Berg", "Violin"), (4, "Carla Ek", "Viola"))
    matching = match(THREE, rows, Choices(gone=frozenset({2})))
    assert [each.row for each in matching.new] == [2]
    assert [each.items for each in matching.gone] == [(2,)]


def test_a_corrected_name_keeps_its_number_by_its_row() -> None:
    rows = found((2, "Anna Bergh", "Violin"), (3, "Bo Dahl", "Horn"), (4, "Carla Ek", "Viola"))
    assert places(THREE, rows)[1] == (2, "row")


def test_a_new_role_keeps_its_number_by_the_name_wherever_it_stands() -> None:
    rows = found((2, "Bo Dahl", "Horn"), (3, "Carla Ek", "Viola"), (4, "Anna Berg", "Cello"))
    assert places(THREE, rows)[1] == (4, "name")


def test_accents_and_capitals_are_the_same_name() -> None:
    rows = found((2, "ANNA BÉRG", "Cello"), (3, "Bo Dahl", "Horn"), (4, "Carla Ek", "Viola"))
    assert places(THREE, rows)[1] == (2, "name")


@pytest.mark.parametrize(
    ("before", "after"),
    [
        # The first row is as like the second guest as the second row, the second time the first
        # guest as like the second row: but they have found each other by then.
        (("Mathew Lind", "Matthew Lint"), ("Matthew Lind", "Matthew Lim")),
        (("Johanna Lindt", "Johan Lina"), ("Johanna Lindtt", "Johanna Lin")),
    ],
)
def test_who_has_found_a_row_is_nobodys_rival_any_more(
    before: tuple[str, str], after: tuple[str, str]
) -> None:
    guests = known(*((row, name, "Violin") for row, name in enumerate(before, start=2)))
    rows = found(*((row, name, "Viola") for row, name in enumerate(after, start=2)))
    assert places(guests, rows) == {1: (2, "row"), 2: (3, "row")}


def test_somebody_else_in_the_same_row_is_asked_about() -> None:
    rows = found((2, "Olga Holm", "Violin"), (3, "Bo Dahl", "Horn"), (4, "Carla Ek", "Viola"))
    with pytest.raises(Unsure) as unsure:
        match(THREE, rows, Choices())
    (question,) = unsure.value.questions
    assert question.known.items == (1,)
    assert [each.row for each in question.rows] == [2]
    assert "Is the guest of item 1 (Anna Berg, Violin) now in row 2 (Olga Holm, Violin)?" in str(
        unsure.value
    )
    assert places(THREE, rows, Choices(same={1: 2}))[1] == (2, "your word")
    said = match(THREE, rows, Choices(gone=frozenset({1})))
    assert [each.row for each in said.new] == [2]
    assert [each.row for each in match(THREE, rows, Choices(unsure_are_gone=True)).new] == [2]


def test_a_corrected_name_in_a_sorted_list_is_asked_about() -> None:
    rows = found((2, "Bo Dahl", "Horn"), (3, "Carla Ek", "Viola"), (4, "Anna Bergh", "Violin"))
    with pytest.raises(Unsure) as unsure:
        match(THREE, rows, Choices())
    assert [each.row for each in unsure.value.questions[0].rows] == [4]


def test_one_of_two_with_the_same_name_and_role_who_has_left_is_asked_about() -> None:
    guests = [
        Known(1, 2, fields("Jo Ek", "Viola", hand="l"), (1,), False),
        Known(2, 3, fields("Jo Ek", "Viola", hand="r"), (2,), False),
    ]
    with pytest.raises(Unsure):
        match(guests, [Found(9, fields("Jo Ek", "Viola", hand="both"))], Choices())
    # Where the whole row tells them apart, or nothing can, nobody needs to be asked.
    assert places(guests, [Found(9, fields("Jo Ek", "Viola", hand="r"))]) == {
        2: (9, "the whole row")
    }
    twins = known((2, "Jo Ek", "Viola"), (3, "Jo Ek", "Viola"))
    assert len(places(twins, found((7, "Jo Ek", "Viola"), (8, "Jo Ek", "Viola")))) == 2


def test_who_comes_back_gets_the_old_number() -> None:
    rows = found((2, "Anna Berg", "Violin"))
    gone = known((2, "Anna Berg", "Violin"), gone=True)
    assert places(gone, rows) == {1: (2, "name and role, back again")}


def made(guests: list[Known], *items: int) -> list[Known]:
    return [replace(each, is_made=each.items[0] in items) for each in guests]


@pytest.mark.parametrize(
    ("before", "after"),
    [
        (["Anna Berg", "Anne Berg"], ["Anne Bergh", "Anna Bergh"]),  # each is more like the other
        (["Emma Johnson", "Bo Dahl"], ["Ella Johnson", "Bo Dahl"]),  # a sister
        (["Jane Smith", "John Smith"], ["Jon Smith", "Jane Smyth"]),
    ],
)
def test_a_like_name_in_the_same_row_is_asked_about_where_it_is_not_plain(
    before: list[str], after: list[str]
) -> None:
    guests = [
        replace(each, said="yes")
        for each in known(*((row, name, "Horn") for row, name in enumerate(before, start=2)))
    ]
    with pytest.raises(Unsure):
        match(guests, found(*((r, name, "Horn") for r, name in enumerate(after, 2))), Choices())


def test_before_anything_is_at_stake_a_shared_word_in_the_same_row_is_enough() -> None:
    (guest,) = known((2, "Maximiliana Hohenlohe-Bartenstein-Jagstberg", "Harp"))
    rows = found((2, "Maximiliana Hohenlohe", "Harp"))
    assert places([guest], rows) == {1: (2, "row")}
    with pytest.raises(Unsure):
        match([replace(guest, said="yes")], rows, Choices())
    with pytest.raises(Unsure):
        match([guest], found((2, "Olga Holm", "Harp")), Choices())


def test_a_corrected_name_of_a_cup_that_exists_is_asked_about() -> None:
    rows = found((2, "Anna Bergh", "Violin"), (3, "Bo Dahl", "Horn"), (4, "Carla Ek", "Viola"))
    with pytest.raises(Unsure):
        match(made(THREE, 1), rows, Choices())
    assert places(made(THREE, 2), rows)[1] == (2, "row")


def test_which_of_two_the_same_has_left_is_asked_where_a_cup_exists() -> None:
    twins = known((2, "Jo Ek", "Viola"), (4, "Jo Ek", "Viola"))
    with pytest.raises(Unsure):
        match(made(twins, 2), found((2, "Jo Ek", "Viola")), Choices())
    left = match(made(twins, 2), found((2, "Jo Ek", "Viola")), Choices(gone=frozenset({1})))
    assert [each.known.items for each in left.stayed] == [(2,)]
    assert len(match(twins, found((2, "Jo Ek", "Viola")), Choices()).gone) == 1


def test_which_of_two_the_same_has_left_is_asked_where_they_said_different_things() -> None:
    one, other = known((2, "Jo Ek", "Viola"), (4, "Jo Ek", "Viola"))
    said = [replace(one, said="yes"), replace(other, said="change")]
    with pytest.raises(Unsure):
        match(said, found((2, "Jo Ek", "Viola")), Choices())


def test_nobody_is_said_to_be_in_two_rows() -> None:
    guests = [Known(1, 2, fields("Anna Berg", "Violin"), (1, 2), False)]
    rows = found((2, "Zed Quux", "Violin"), (3, "Yan Moe", "Violin"))
    with pytest.raises(InputError, match="for whom you named another row"):
        match(guests, rows, Choices(same={1: 2, 2: 3}))
    gone = known((2, "Bo Dahl", "Horn"), gone=True)
    rows = found((4, "Bo Dahl", "Horn"), (5, "Robert Dahl", "Horn"))
    matching = match(gone, rows, Choices(same={1: 5}))
    assert [each.found.row for each in matching.stayed] == [5]
    assert [each.row for each in matching.new] == [4]


@pytest.mark.parametrize(
    ("choices", "said"),
    [
        (Choices(same={9: 2}), "This order has no item 9"),
        (Choices(same={1: 77}), "No guest stands in row 77"),
        (Choices(same={1: 2, 2: 2}), "named twice"),
        (Choices(gone=frozenset({9})), "This order has no item 9"),
    ],
)
def test_choices_that_do_not_fit_are_refused(choices: Choices, said: str) -> None:
    with pytest.raises(InputError, match=said):
        match(THREE, found((2, "Anna Berg", "Violin")), choices)


NAMES = st.sampled_from(
    [
        f"{first} {last}"
        for first in ("Ann", "Anna", "Bo", "Zoë")
        for last in ("Ek", "Berg", "Bergh")
    ]
)
GUESTS = st.lists(st.tuples(NAMES, st.sampled_from(["Horn", "Viola"])), max_size=8)


@given(GUESTS, st.randoms(use_true_random=False))
def test_any_order_of_the_same_rows_is_the_same_people(
    people: list[tuple[str, str]], random: object
) -> None:
    guests = known(*((row, *who) for row, who in enumerate(people, start=2)))
    mixed = list(people)
    random.shuffle(mixed)  # type: ignore[attr-defined]
    matching = match(guests, found(*((r, *who) for r, who in enumerate(mixed, 2))), Choices())
    assert (matching.new, matching.gone) == ((), ())
    for each in matching.stayed:
        assert each.known.fields == each.found.fields


@given(GUESTS, GUESTS)
def test_nobody_is_matched_twice_and_nobody_is_lost(
    before: list[tuple[str, str]], after: list[tuple[str, str]]
) -> None:
    guests = known(*((row, *who) for row, who in enumerate(before, start=2)))
    rows = found(*((row, *who) for row, who in enumerate(after, start=2)))
    try:
        matching = match(guests, rows, Choices())
    except Unsure:
        matching = match(guests, rows, Choices(unsure_are_gone=True))
    assert sorted(
        [each.known.guest for each in matching.stayed] + [each.guest for each in matching.gone]
    ) == [each.guest for each in guests]
    assert sorted(
        [each.found.row for each in matching.stayed] + [each.row for each in matching.new]
    ) == [each.row for each in rows]
    for each in matching.stayed:  # never a guess: the name says it, or the row and a like name
        same_name = each.known.fields["name"] == each.found.fields["name"]
        assert same_name or each.known.row == each.found.row


@given(GUESTS, GUESTS)
def test_nobody_is_asked_for_while_every_row_says_what_it_said(
    before: list[tuple[str, str]], after: list[tuple[str, str]]
) -> None:
    """So that an order with an open question is never up to date, whatever the answer is."""
    guests = known(*((row, *who) for row, who in enumerate(before, start=2)))
    rows = found(*((row, *who) for row, who in enumerate(after, start=2)))
    try:
        match(guests, rows, Choices())
    except Unsure:
        assert Counter(before) - Counter(after)
