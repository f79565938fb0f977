"""What people say about a cup, in whatever order it comes: who is heard, and what lets a cup out.

The rules are those of ``ledger/conversation``. Clocks of other devices sort nothing.
"""

from __future__ import annotations

import datetime as dt

import pytest
from shop import GUESTS, Shop

from mailmerge.answers.incoming import Said
from mailmerge.deeds import client
from mailmerge.deeds.status import last_word, status, waits_for
from mailmerge.findings import InputError
from mailmerge.ledger.conversation import ANYBODY, Answer, Asked, Conversation, Decision, person_of

NOW, THEN = "1111-1111-1111", "2222-2222-2222"
"""Seals: of the artwork as it is now, and as it was."""

TEXTS = {NOW: {"name": "Matthew Klein"}, THEN: {"name": "Mathew Klein"}}


def said(
    number: int, who: str, verdict: str, seal: str = NOW, pack: int = 1, **more: object
) -> Answer:
    """Return a word of somebody, by default from the first pack and come in before the second."""
    values = {
        "after": max(pack, 1),
        "wanted": {},
        "words": "not so" if verdict != "yes" else "",
    } | more
    return Answer(
        seal=seal, verdict=verdict, about=TEXTS[seal], said_by=who, way="file",
        said_at="", at="", number=number, pack=pack, **values,
    )  # fmt: skip


def talk(
    *answers: Answer, decisions: tuple[Decision, ...] = (), asked: Asked = ANYBODY
) -> Conversation:
    return Conversation(answers, decisions, NOW, TEXTS[NOW], asked)


def test_nobody_elses_yes_closes_an_objection() -> None:
    for second in ("Ben", "", "Anna Reed's brother"):
        found = talk(said(1, "Anna", "change"), said(2, second, "yes", pack=2))
        assert not found.has_yes, second
        assert found.disagree


@pytest.mark.parametrize(
    ("yes", "closes"),
    [
        ({"pack": 2}, True),
        ({"pack": 1}, False),  # she may have said it before
        ({"pack": 0, "after": 2}, False),  # by telephone: it is the maker who must decide
        ({"pack": 2, "seal": THEN}, False),  # to other artwork
    ],
)
def test_a_person_takes_an_objection_back_after_having_seen_it(
    yes: dict[str, object], closes: bool
) -> None:
    found = talk(said(1, "Anna", "change"), said(2, "anna ", "yes", **yes))  # type: ignore[arg-type]
    assert found.has_yes == closes
    assert bool(found.objections) != closes


def test_a_pack_that_was_made_before_an_objection_came_in_has_not_shown_it() -> None:
    found = talk(said(1, "Anna", "change", after=2), said(2, "Anna", "yes", pack=2))
    assert not found.has_yes
    assert talk(said(1, "Anna", "change", after=2), said(2, "Anna", "yes", pack=3)).has_yes


def test_who_says_no_name_takes_nothing_back() -> None:
    assert not talk(said(1, "", "change"), said(2, "", "yes", pack=2)).has_yes


def test_an_objection_that_comes_late_counts_whatever_was_said_before() -> None:
    for first in (
        said(1, "Anna", "yes"),
        said(1, "Anna", "yes", pack=0, after=1),
        said(1, "Ben", "yes"),
    ):
        assert not talk(first, said(2, "Anna", "change")).has_yes


def test_a_later_saving_of_a_page_takes_the_place_of_the_earlier_one() -> None:
    assert talk(said(1, "Anna", "change", is_overtaken=True), said(2, "Anna", "yes")).has_yes
    found = talk(said(1, "Anna", "yes", is_overtaken=True), said(2, "Anna", "change"))
    assert not found.has_yes
    assert not talk(said(1, "Anna", "yes", is_overtaken=True)).has_yes


def test_an_objection_is_met_by_another_text_and_that_wants_a_yes() -> None:
    objection = said(1, "Anna", "change", THEN, wanted={"name": "Matthew Klein"})
    assert not talk(objection).objections
    assert not talk(objection).has_yes
    assert talk(objection, said(2, "Ben", "yes", pack=2)).has_yes


def test_a_yes_to_other_artwork_retires_the_earlier_ones() -> None:
    assert talk(said(1, "Anna", "yes")).has_yes
    assert not talk(said(1, "Anna", "yes"), said(2, "Ben", "yes", THEN, pack=2)).has_yes
    # What comes late answers an older pack; it retires nothing that was said to a newer one.
    late = said(2, "Anna", "yes", THEN, pack=1)
    assert talk(said(1, "Anna", "yes", pack=2), late).has_yes
    assert talk(said(1, "Anna", "yes", pack=0, after=1), late).has_yes
    # A page that was made before a call to other artwork may have been ticked before it, too.
    call = said(1, "Anna", "yes", THEN, pack=0, after=1)
    assert not talk(call, said(2, "Anna", "yes")).has_yes
    assert talk(call, said(2, "Anna", "yes", pack=2)).has_yes
    # Of two calls the later one counts.
    assert talk(call, said(2, "Anna", "yes", pack=0, after=1)).has_yes
    # A yes that does not count retires none.
    asked = Asked(("Anna",))
    assert talk(said(1, "Anna", "yes"), said(2, "Ina", "yes", THEN, pack=2), asked=asked).has_yes


def test_an_objection_to_other_artwork_asks_again_unless_this_is_what_it_wants() -> None:
    yes = said(1, "Anna", "yes")
    for wanted, counts in (({}, False), ({"name": "Mat Klein"}, False), (TEXTS[NOW], True)):
        found = talk(yes, said(2, "Ben", "change", THEN, wanted=wanted))
        assert found.has_yes == counts, wanted
        assert not found.objections
        assert talk(
            yes, said(2, "Ben", "change", THEN, wanted=wanted), said(3, "Cy", "yes", pack=2)
        ).has_yes


def test_a_yes_that_may_be_older_than_an_objection_to_other_artwork_does_not_count() -> None:
    """The page of pack 1 was ticked at some time; the objection to what pack 2 showed is known."""
    objection = said(1, "Ben", "change", THEN, pack=2, wanted={"name": "Mat Klein"})
    assert not talk(objection, said(2, "Anna", "yes", pack=1)).has_yes
    assert talk(objection, said(2, "Anna", "yes", pack=3)).has_yes
    assert talk(objection, said(2, "Anna", "yes", pack=0, after=2)).has_yes


def test_what_a_page_has_overtaken_itself_takes_nothing_back() -> None:
    first = said(1, "Anna", "change", wanted={"name": "Mat Klein"})
    for verdict in ("yes", "change"):
        gone = said(2, "Anna", verdict, pack=2, is_overtaken=True, wanted={"name": "M. Klein"})
        later = said(3, "Anna", "change", pack=2, wanted={"role": "Horn"})
        assert first in talk(first, gone, later).objections


def test_a_decision_does_not_make_a_yes_newer_that_may_be_older() -> None:
    decided = (Decision(1, "Ina", "as agreed", ""),)
    objection = said(1, "Anna", "change")
    assert not talk(objection, said(2, "Anna", "yes"), decisions=decided).has_yes
    assert talk(objection, said(2, "Anna", "yes", pack=0, after=1), decisions=decided).has_yes
    assert talk(objection, said(2, "Anna", "yes", pack=2), decisions=decided).has_yes


def test_a_wish_for_another_text_takes_none_back() -> None:
    name, role = {"name": "Mat Klein"}, {"role": "Horn"}
    for wanted, left in ((role, 2), (name, 1), (name | role, 1)):
        first = said(1, "Anna", "change", wanted=name)
        later = said(2, "Anna", "change", wanted=wanted, pack=2)
        assert len(talk(first, later).objections) == left, wanted


def test_a_yes_that_its_own_person_took_back_does_not_come_back_with_a_decision() -> None:
    both = (said(1, "Anna", "yes"), said(2, "Anna", "change"))
    assert not talk(*both, decisions=(Decision(2, "Ina", "as agreed", ""),)).has_yes


def test_the_makers_decision_closes_what_was_said_before_it() -> None:
    decided = (Decision(1, "Ina", "as agreed", ""),)
    before, after = said(1, "Anna", "change"), said(3, "Anna", "change")
    yes = said(2, "Ben", "yes")
    assert talk(before, yes, decisions=decided).has_yes
    assert not talk(before, decisions=decided).has_yes  # it is no yes itself
    assert not talk(before, yes, after, decisions=decided).has_yes


def test_all_who_are_asked_must_say_yes_where_the_order_wants_all() -> None:
    both, one = Asked(("Anna Reed", "Ben Cole"), all=True), Asked(("Anna Reed", "Ben Cole"))
    anna, ben = said(1, "anna reed", "yes"), said(2, "Ben Cole, by phone", "yes", pack=0, after=1)
    assert talk(anna, asked=one).has_yes
    assert talk(anna, asked=both).missing == ("Ben Cole",)
    assert not talk(anna, asked=both).has_yes
    assert talk(anna, ben, asked=both).has_yes
    assert not talk(said(1, "Carl", "yes"), asked=one).has_yes
    assert talk(asked=one).missing == ("Anna Reed", "Ben Cole")
    assert not talk(anna, ben, said(3, "Carl", "change"), asked=both).has_yes  # anybody may object


def test_two_wishes_that_differ_are_a_disagreement_and_the_same_one_twice_is_not() -> None:
    t, th = {"name": "Mathew Klein"}, {"name": "Matthew Kline"}
    assert talk(said(1, "Anna", "change", wanted=t), said(2, "Ben", "change", wanted=th)).disagree
    same = (said(1, "Anna", "change", wanted=t), said(2, "Ben", "change", wanted=t, words="one t"))
    assert not talk(*same).disagree
    assert not talk(said(1, "Anna", "change", wanted=t), said(2, "Anna", "change")).disagree


def test_who_somebody_is() -> None:
    people = ("Anna", "Anna Reed", "Ben (Bo) Cole")
    for words, who in (
        ("ANNA  REED, phone, 5 Dec", "Anna Reed"),
        ("Anna (in person)", "Anna"),
        ("ben (bo) cole; phone", "Ben (Bo) Cole"),
        ("Anna Reed-Smith", "anna reed-smith"),
        ("Anna's sister", "anna's sister"),
        ("Anna. No, Bob", "anna. no, bob"),
        (" ", ""),
    ):
        assert person_of(words, people) == who
    assert person_of("Reed, Anna") != person_of("Reed, Bo")
    assert person_of("Zoe\u0308") == person_of("ZO\u00cb")


# On record


def test_two_people_who_say_different_things_are_told_and_hold_the_release(packed: Shop) -> None:
    seals = {n: record.seal or "" for n, record in packed.records().items()}
    packed.answer(Said(1, seals[1], "change", "Anne, with an e"), by="Anna Reed")
    packed.answer(*(Said(n, seals[n], "yes") for n in seals), by="Ben Cole")
    assert packed.standing()[1] == "they disagree"
    done = packed.release()
    assert [record.number for record in done.released] == [2, 3, 4, 5]
    again = packed.pack()
    assert again is not None
    (card,) = again.pack.cards
    assert card.seals.keys() == {1}
    packed.decide(1)
    assert packed.standing()[1] == "confirmed"


def test_of_two_wishes_the_maker_says_which_one_it_shall_be(packed: Shop) -> None:
    seal = packed.records()[1].seal or ""
    packed.answer(Said(1, seal, "change", "", {"name": "Anne Berg"}), by="Anna Reed")
    packed.answer(Said(1, seal, "change", "", {"name": "Anna Bergh"}), by="Ben Cole")
    with pytest.raises(InputError, match=r"Anna Reed: \"Anne Berg\"; Ben Cole: \"Anna Bergh\"\)"):
        packed.accept(1)
    packed.accept(1, name="Anna Bergh")
    assert packed.standing()[1] == "waiting"


def test_who_objected_may_take_it_back_in_the_next_pack(packed: Shop) -> None:
    seal = packed.records()[1].seal or ""
    packed.answer(Said(1, seal, "change", "not so"), by="Anna Reed")
    packed.confirm(1)
    assert packed.standing()[1] == "they disagree"
    again = packed.pack()
    assert again is not None
    packed.answer(Said(1, seal, "yes"), by="Anna Reed", pack=again.pack.id)
    assert packed.standing()[1] == "confirmed"


@pytest.mark.long
def test_the_same_pack_is_the_same_until_somebody_answers(packed: Shop) -> None:
    first, same = packed.pack(), packed.pack()
    assert first is not None
    assert same is not None
    assert first.pack.id == same.pack.id
    packed.answer(Said(1, packed.records()[1].seal or "", "change", "?"), by="Anna")
    after = packed.pack(everything=True)
    assert after is not None
    assert after.pack.id != first.pack.id


def test_a_list_that_comes_back_after_an_objection_does_not_close_it(packed: Shop) -> None:
    seals = {n: record.seal or "" for n, record in packed.records().items()}
    packed.answer(Said(1, seals[1], "change", "not so"), by="Anna")
    everything = [Said(n, seals[n], "yes") for n in seals]
    taken = packed.answer(*everything, by="Anna", way="workbook")
    assert [each.item for each, _ in taken.kept] == [1]
    assert packed.standing()[1] == "to change"
    assert packed.answer(*everything, by="Anna", way="workbook").again == tuple(everything)


def test_an_objection_saved_before_a_call_and_arriving_after_it_holds(packed: Shop) -> None:
    seal = packed.records()[1].seal or ""
    packed.confirm(1)
    packed.release(1)
    assert packed.to_engrave().keys() == {1}
    packed.answer(Said(1, seal, "change", "not so"), by="Anna", at="2026-11-20T11:30:00+00:00")
    assert packed.standing()[1] == "they disagree"
    assert packed.to_engrave() == {}


def test_a_yes_to_an_older_text_does_not_come_back_with_the_text(packed: Shop) -> None:
    packed.yes(1)
    packed.list([{"Name": "Anne Berg", "Role": "Violin"}, *GUESTS[1:]])
    packed.merge()
    packed.yes(1)
    packed.list(GUESTS)
    packed.merge()
    assert packed.standing()[1] == "waiting"
    assert packed.release().released == ()


def test_a_text_that_changes_and_comes_back_unanswered_keeps_its_yes(packed: Shop) -> None:
    packed.yes(1)
    packed.list([{"Name": "Anne Berg", "Role": "Violin"}, *GUESTS[1:]])
    packed.merge()
    packed.list(GUESTS)
    packed.merge()
    assert packed.standing()[1] == "confirmed"


def test_two_savings_of_one_page_may_come_in_any_order(packed: Shop) -> None:
    seal = packed.records()[1].seal or ""
    change, yes = Said(1, seal, "change", "not so"), Said(1, seal, "yes")
    packed.answer(yes, by="Anna", page="PAGE-0001", saving=2)
    packed.answer(change, by="Anna", page="PAGE-0001", saving=1)
    assert packed.standing()[1] == "confirmed"
    packed.answer(yes, by="Anna", page="PAGE-0002", saving=1)
    packed.answer(change, by="Anna", page="PAGE-0002", saving=2)
    assert packed.standing()[1] == "to change"
    taken = packed.answer(change, by="Anna", page="PAGE-0002", saving=2, way="text")
    assert len(taken.again) == 1  # the file and the text of one saving


def test_the_same_words_saved_once_more_are_the_same_word(packed: Shop) -> None:
    """Saving 2 is sent for another cup, and carries what saving 1 has said about this one."""
    seals = {n: record.seal or "" for n, record in packed.records().items()}
    change, other = Said(1, seals[1], "change", "not so"), Said(2, seals[2], "yes")
    packed.answer(change, by="Anna", page="PAGE-0001", saving=1)
    packed.decide(1)
    packed.confirm(1)
    taken = packed.answer(change, other, by="Anna", page="PAGE-0001", saving=2)
    assert packed.standing()[1] == "confirmed"
    ((_, why),) = taken.kept
    assert why.startswith("The same words were saved before, and you have decided about them.")
    packed.answer(Said(1, seals[1], "change", "no!"), by="Anna", page="PAGE-0001", saving=3)
    assert packed.standing()[1] == "they disagree"


def test_what_was_taken_on_without_a_yes_is_not_taken_on_for_good(packed: Shop) -> None:
    packed.release(1, reason="in a hurry")
    packed.list([{**GUESTS[0], "Role": "Violin II"}, *GUESTS[1:]])
    packed.merge()
    packed.confirm(1)
    packed.list(GUESTS)
    packed.merge()
    assert packed.standing()[1] == "waiting"
    packed.release(1, reason="all the same")
    assert packed.to_engrave().keys() == {1}


def test_what_comes_for_a_guest_who_is_gone_is_kept(packed: Shop) -> None:
    seal = packed.records()[5].seal or ""
    packed.list(GUESTS[:4])
    packed.merge()
    taken = packed.answer(Said(5, seal, "change", "with a v"), by="Anna", pack=_first_pack(packed))
    assert [why for _, why in taken.kept] == ["The guest is no longer in the list."]
    packed.list(GUESTS)
    packed.merge()
    assert packed.standing()[5] == "to change"


def _first_pack(shop: Shop) -> str:
    with shop.changing() as change:
        return change.newest_pack()[0]


def test_whose_yes_is_wanted_is_read_anew_at_each_release(packed: Shop) -> None:
    packed.confirm(1)
    order = packed.folder / "order.toml"
    plain = order.read_text(encoding="utf-8")
    asked = '\n[client]\npeople = ["Anna Reed", "Ben Cole"]\nneeds = "all"\n'
    order.write_text(plain + asked.replace("all", "one"), encoding="utf-8")
    assert packed.release().released == ()
    (first, *_) = status(packed.folder).records  # type: ignore[union-attr]
    assert last_word(first) == "not yet: Anna Reed or Ben Cole"
    assert waits_for(first).startswith("It waits for the yes of Anna Reed or Ben Cole to")
    order.write_text(plain + asked, encoding="utf-8")
    assert packed.release().released == ()
    (first, *_) = status(packed.folder).records  # type: ignore[union-attr]
    assert last_word(first) == "not yet: Anna Reed and Ben Cole"
    with pytest.raises(
        InputError, match=r'asks for the yes of Anna Reed and Ben Cole\. Found "phone'
    ):
        packed.confirm(1)
    client.confirm(packed.folder, ["1"], "Anna Reed, phone")
    assert packed.release().released == ()
    (first, *_) = status(packed.folder).records  # type: ignore[union-attr]
    assert last_word(first) == "yes, Anna Reed, phone; not yet: Ben Cole"
    assert waits_for(first).startswith("It waits for the yes of Ben Cole to")
    client.confirm(packed.folder, ["1"], "ben cole")
    assert [record.number for record in packed.release().released] == [1]


def test_when_a_yes_was_said_by_telephone(packed: Shop) -> None:
    now = dt.datetime.now().astimezone().replace(microsecond=0)
    client.confirm(packed.folder, ["1"], "Anna", now)
    (yes,) = packed.records()[1].answers
    assert dt.datetime.fromisoformat(yes.said_at) == now
    # It cannot have been to artwork that nobody had shown.
    with pytest.raises(
        InputError, match="No proof pack had shown item 1 as it is now by 2026-11-20"
    ):
        client.confirm(packed.folder, ["1", "2"], "Anna", dt.datetime(2026, 11, 20, 9, 0))
    packed.list([{**GUESTS[0], "Role": "Violin II"}, *GUESTS[1:]])
    packed.merge()
    with pytest.raises(InputError, match="No proof pack had shown item 1"):
        client.confirm(packed.folder, ["1"], "Anna", now)
    assert packed.standing() == dict.fromkeys(range(1, 6), "waiting")
    with pytest.raises(InputError, match="is in the future"):
        client.confirm(packed.folder, ["1"], "Anna", dt.datetime(2999, 1, 1))


def test_a_decision_needs_a_name_a_reason_and_something_to_decide(packed: Shop) -> None:
    with pytest.raises(InputError, match="Nobody asks for a change"):
        packed.decide(1)
    packed.wish(1, "not so")
    for by, why in (("", "as agreed"), ("Ina", " ")):
        with pytest.raises(InputError, match="who decides, and why"):
            client.decide(packed.folder, ["1"], by, why)
    packed.decide(1)
    assert packed.standing()[1] == "waiting"
