"""List on the desk: rows as they came, ways out that help, texts put in place and taken back."""

from __future__ import annotations

import html
import re

import outside
import pytest
from conftest import guest_named
from desks import Visitor, holding
from shop import Shop
from typer.testing import CliRunner

from mailmerge.checks import check_texts, two_in, ways
from mailmerge.cli import app
from mailmerge.deeds import form, listing, making
from mailmerge.deeds.listing import Listed, ListedRow, Wanted
from mailmerge.deeds.questions import Question
from mailmerge.findings import InputError
from mailmerge.ledger.ledger import open_ledger

LIST = [
    {"Name": "HANNELORE WEISS", "Role": "Horn", "Hand": "perhaps", "Cups": "1", "Table": "4"},
    {"Name": "bo dahl", "Role": "Oboe", "Hand": "right", "Cups": "2", "Table": "5"},
    {"Name": "ann berg", "Role": "Viola", "Hand": "", "Cups": "", "Table": "6"},
]
ENGRAVED = frozenset(("name", "role"))


@pytest.fixture
def visitor(shop: Shop) -> Visitor:
    shop.list(LIST)
    made = making.merge(shop.folder, choices=making.Choices(unsure_are_gone=True), jobs=1)
    assert not isinstance(made, Question)
    return Visitor(shop.folder)


def rows_of(shop: Shop) -> dict[str, ListedRow]:
    return {row.cells[0]: row for row in found_in(shop).rows}


def found_in(shop: Shop) -> Listed:
    return listing.listed(shop.folder)


def codes(row: ListedRow) -> list[str]:
    """Return what was found in a row's texts; how they stand on the cup is another matter."""
    found = [each.finding.code for each in row.findings if each.finding.severity != "note"]
    return [code for code in found if code in ("hand-unclear", "all-capitals", "all-lower-case")]


def names(shop: Shop) -> dict[int, str]:
    return {n: record.name for n, record in shop.records().items() if not record.gone}


def test_rows_stand_there_as_they_came_with_their_findings(shop: Shop, visitor: Visitor) -> None:
    page = visitor.client.get(visitor.at("list") + "?show=all").text
    for row in LIST:
        for text in filter(None, row.values()):
            assert f">{html.escape(text)}</dd>" in page
    listed = found_in(shop)
    assert listed.headings == ("Name", "Role", "Hand", "Cups", "Table")
    assert codes(rows_of(shop)["HANNELORE WEISS"]) == ["hand-unclear", "all-capitals"]
    needed = visitor.asks("list").text
    order = [needed.index(f'id="row-{number}"') for number in (2, 3, 4)]
    assert order == sorted(order)  # the stop first, then the doubts as the list has them
    for each in rows_of(shop)["HANNELORE WEISS"].findings:
        assert each.finding.message in html.unescape(needed)


@pytest.mark.long
def test_a_way_out_is_one_press_and_can_be_taken_back(shop: Shop, visitor: Visitor) -> None:
    before = (shop.folder / "list.csv").read_bytes()
    (item,) = rows_of(shop)["HANNELORE WEISS"].items
    page = visitor.asks("list").text
    assert re.search(r"<button[^>]*>Hannelore Weiss</button>", page)
    field = f"{item}-name"
    typed = {f"saw-{field}": "HANNELORE WEISS", f"text-{field}": "Hannelore Weiss"}
    visitor.sends("list", "correct", item=str(item), **typed)
    assert visitor.waits().state == "done"
    assert names(shop)[item] == "Hannelore Weiss"
    assert codes(rows_of(shop)["HANNELORE WEISS"]) == ["hand-unclear"]
    page = visitor.asks("list").text
    assert re.search(r"<s[^>]*>HANNELORE WEISS</s> → <strong[^>]*>Hannelore Weiss</strong>", page)
    (correction,) = rows_of(shop)["HANNELORE WEISS"].corrections
    assert (correction.was, correction.text) == ("HANNELORE WEISS", "Hannelore Weiss")
    assert (shop.folder / "list.csv").read_bytes() == before
    visitor.sends("list", "take-back", item=str(item), field="name")
    assert visitor.waits().state == "done"
    assert names(shop)[item] == "HANNELORE WEISS"
    assert rows_of(shop)["HANNELORE WEISS"].corrections == ()
    told = [(c.was, c.text) for c in shop.records()[item].corrections]
    assert told == [("HANNELORE WEISS", "Hannelore Weiss"), ("HANNELORE WEISS",) * 2]
    with pytest.raises(InputError, match="nothing to take back"):
        listing.take_back(shop.folder, item, "name", "me")


def test_a_hand_and_a_number_of_cups_are_put_right_as_well(shop: Shop, visitor: Visitor) -> None:
    del visitor
    row, other = rows_of(shop)["HANNELORE WEISS"], rows_of(shop)["bo dahl"]
    (hands,) = [each.ways for each in row.findings if each.finding.code == "hand-unclear"]
    assert [dict(way.texts) for way in hands] == [{"hand": "left"}, {"hand": "right"}]
    wanted = [
        Wanted(row.items[0], {"hand": "left"}, {"hand": "perhaps"}),
        Wanted(other.items[0], {"quantity": "3"}, {}),
    ]
    assert not isinstance(listing.correct(shop.folder, wanted, "me", jobs=1), Question)
    record = shop.records()[row.items[0]]
    assert record.entry.guest["hand"] == "left"
    assert record.seal is not None
    cups = rows_of(shop)["bo dahl"].items
    assert len(cups) == 3
    assert cups[:2] == other.items  # the cups that were there keep their numbers


def test_what_others_have_changed_meanwhile_is_told_and_stays(shop: Shop, visitor: Visitor) -> None:
    (item,) = rows_of(shop)["HANNELORE WEISS"].items
    mine = Wanted(item, {"name": "Hannelore Weiß"}, {"name": "HANNELORE WEISS"})
    listing.correct(shop.folder, [mine], "a colleague", jobs=1)
    field = f"{item}-name"
    typed = {f"saw-{field}": "HANNELORE WEISS", f"text-{field}": "Anna"}
    refused = visitor.sends("list", "correct", item=str(item), **typed)
    assert refused.status_code == 422
    told = html.unescape(refused.text)
    assert '"HANNELORE WEISS" when you looked' in told
    assert 'It is "Hannelore Weiß" now' in told
    assert names(shop)[item] == "Hannelore Weiß"


@pytest.mark.parametrize(
    ("field", "text", "told"),
    [
        ("name", "", "cannot be blank"),
        ("name", "HANNELORE WEISS", "already"),
        ("name", "x" * 301, "301 characters"),
        ("name", "Anna \u202eKlein", "holds a sign that nobody sees"),
        ("seal", "abc", "The list has no seal"),
    ],
)
def test_a_text_that_cannot_be_is_refused(
    shop: Shop, visitor: Visitor, field: str, text: str, told: str
) -> None:
    del visitor
    (item,) = rows_of(shop)["HANNELORE WEISS"].items
    with pytest.raises(InputError, match=told):
        listing.correct(shop.folder, [Wanted(item, {field: text}, {})], "me", jobs=1)
    assert shop.records()[item].corrections == ()


@pytest.mark.long
def test_several_rows_are_put_right_at_once(shop: Shop, visitor: Visitor) -> None:
    (together,) = found_in(shop).together
    assert together.code == "all-lower-case"
    fields = {}
    for row, texts in zip(together.rows, together.texts, strict=True):
        fields[f"saw-{row.items[0]}-name"] = row.texts["name"]
        fields[f"text-{row.items[0]}-name"] = texts["name"]
    numbers = [str(row.items[0]) for row in together.rows]
    visitor.client.post(visitor.at("list", "correct"), data={"item": numbers, **fields})
    assert visitor.waits().state == "done"
    assert {"Bo Dahl", "Ann Berg"} <= {*names(shop).values()}
    assert found_in(shop).together == ()


@pytest.mark.long
def test_rows_are_put_right_one_after_the_other_without_waiting(
    shop: Shop, visitor: Visitor
) -> None:
    """Each press is taken at once, its row says what will stand there, one call does the rest."""
    wanted = {"HANNELORE WEISS": "Hannelore Weiss", "bo dahl": "Bo Dahl", "ann berg": "Ann Berg"}
    items = {was: rows_of(shop)[was].items[0] for was in wanted}
    for was, now in wanted.items():
        field = f"{items[was]}-name"
        texts = {f"saw-{field}": was, f"text-{field}": now}
        answer = visitor.sends("list", "correct", item=str(items[was]), **texts)
        assert answer.status_code == 200
    row = re.search(r'id="row-4".*', visitor.asks("list").text, re.DOTALL)
    if visitor.desk.works.is_busy(visitor.at().split("/")[2]):
        assert row is not None
        assert '<strong dir="auto">Ann Berg</strong>' in row[0]
        assert re.search("is being made|waits for its turn", row[0])
    assert visitor.waits().state == "done"
    assert set(wanted.values()) <= {*names(shop).values()}


@pytest.mark.long
def test_a_refused_press_is_told_in_its_row_and_the_others_go_on(
    shop: Shop, visitor: Visitor
) -> None:
    (item,) = rows_of(shop)["HANNELORE WEISS"].items
    (other,) = rows_of(shop)["ann berg"].items
    assert visitor.known is not None
    works = visitor.desk.works
    with holding(visitor):
        for now in ("Hannelore Weiss", "Hanne Weiss"):
            field = f"{item}-name"
            texts = {f"saw-{field}": "HANNELORE WEISS", f"text-{field}": now}
            assert visitor.sends("list", "correct", item=str(item), **texts).status_code == 200
        visitor.sends("list", "correct", item=str(other), **{f"text-{other}-name": "Ann Berg"})
        (waiting,) = works.waiting(visitor.known.key)  # all in one call
        assert [each.says for each in waiting.pressed][2] == "Ann Berg"
    visitor.waits()
    assert names(shop)[item] == "Hannelore Weiss"
    assert names(shop)[other] == "Ann Berg"
    page = html.unescape(visitor.asks("list").text)
    row = page[page.index('id="row-2"') : page.index('id="row-3"')]
    assert "Hanne Weiss" in row
    assert '"HANNELORE WEISS" when you looked' in row
    (refused,) = works.refused(visitor.known.key)
    visitor.sends("progress", "seen", work=refused.name)
    assert "when you looked" not in html.unescape(visitor.asks("list").text)


@pytest.mark.long
def test_a_text_that_is_meant_so_is_doubted_no_more(shop: Shop, visitor: Visitor) -> None:
    page = visitor.sends("list", "mean", text="bo dahl").text
    assert visitor.waits().state == "done"
    assert "“bo dahl” is meant just so</strong>" in page  # in its row, while the cup is made again
    page = visitor.asks("list").text
    assert "Put right" in page  # it needs no hand any more, and can still be taken back
    assert codes(rows_of(shop)["bo dahl"]) == []
    assert rows_of(shop)["bo dahl"].meant == ("bo dahl",)
    visitor.sends("list", "mean", text="bo dahl", back="1")
    assert visitor.waits().state == "done"
    assert codes(rows_of(shop)["bo dahl"]) == ["all-lower-case"]
    assert "as_written" not in (shop.folder / "order.toml").read_text(encoding="utf-8")
    for text, told in (("nobody at all", "No guest"), ("", "No guest")):
        with pytest.raises(InputError, match=told):
            listing.mean_so(shop.folder, text)


def test_a_newer_list_that_says_a_third_thing_counts_more(shop: Shop, visitor: Visitor) -> None:
    """The list may follow a correction, or overtake it; a correction taken back never comes up."""
    del visitor
    (item,) = rows_of(shop)["HANNELORE WEISS"].items
    listing.correct(shop.folder, [Wanted(item, {"name": "Hannelore Weiss"}, {})], "me", jobs=1)
    shop.list([{**LIST[0], "Name": "Hannelore Weiss"}, *LIST[1:]])
    shop.merge()
    assert rows_of(shop)["Hannelore Weiss"].corrections == ()
    listing.correct(shop.folder, [Wanted(item, {"name": "Hanne Weiss"}, {})], "me", jobs=1)
    listing.take_back(shop.folder, item, "name", "me", jobs=1)
    shop.list([{**LIST[0], "Name": "Hannelore Weisz"}, *LIST[1:]])
    merged = shop.merge()
    assert merged.changes is not None
    assert merged.changes.set_aside == ()
    assert names(shop)[item] == "Hannelore Weisz"


@pytest.mark.parametrize(
    ("name", "code", "outcomes"),
    [
        # "Pаvel" holds a Cyrillic а; the "François" was read as Windows-1252 (common practice).
        ("Pаvel Sorokin", "mixed-alphabets", ["Pavel Sorokin"]),
        # Letters without a Latin look-alike stay: to change the others alone would not help.
        ("Pавел Sorokin", "mixed-alphabets", []),
        ("Weiss, Hannelore", "comma-in-name", ["Hannelore Weiss"]),
        ("Tomás (bass)", "role-in-name", ["Tomás"]),
        ("Marta Oduya 🎻", "emoji", ["Marta Oduya"]),
        ("MarenHale Berg", "words-joined", ["Maren Hale Berg"]),
    ],
)
def test_ways_help_and_say_what_comes_of_them(name: str, code: str, outcomes: list[str]) -> None:
    guest = guest_named(name, "Horn")
    finding = next(f for f in check_texts(guest, ENGRAVED, ()) if f.code == code)
    found = ways(guest, finding, ENGRAVED, lambda _: (), None, ())
    assert [way.texts["name"] for way in found if way.texts] == outcomes


def test_a_way_that_would_not_help_is_not_offered() -> None:
    """A total stays a total in other capitals, and what stands on the cup is not mended here."""
    guest = guest_named("TBA", "Horn")
    for finding in check_texts(guest, ENGRAVED, ()):
        for way in ways(guest, finding, ENGRAVED, lambda _: (), None, ()):
            assert not way.texts


def test_the_command_does_what_the_page_does(shop: Shop, visitor: Visitor) -> None:
    del visitor
    (item,) = rows_of(shop)["HANNELORE WEISS"].items
    code, said = command("correct", shop.folder, item, "name=Hannelore Weiss", "--by", "Ina")
    assert code == 0
    assert "Hannelore Weiss" in said
    assert names(shop)[item] == "Hannelore Weiss"
    assert command("take-back", shop.folder, item, "name", "--by", "Ina")[0] == 0
    assert names(shop)[item] == "HANNELORE WEISS"
    assert command("meant", shop.folder, "bo dahl")[0] == 0
    assert rows_of(shop)["bo dahl"].meant == ("bo dahl",)
    for refused in (("Hannelore",), ("name=A", "name=B"), ("=A",)):
        with pytest.raises(InputError, match="Give FIELD=TEXT"):
            command("correct", shop.folder, item, *refused, "--by", "Ina")
    code, said = command("correct", shop.folder, item, "name=Anna")
    assert (code, "--by" in said) == (2, True)


def command(*call: object) -> tuple[int, str]:
    result = CliRunner().invoke(app, [*map(str, call)])
    if isinstance(result.exception, InputError):
        raise result.exception
    return result.exit_code, result.output


# Two people in one row


TWO = [
    {"Name": "Ann & Bo Berg", "Role": "Horn", "Hand": "left", "Cups": "2", "Table": "4"},
    {"Name": "Cleo Dahl", "Role": "Oboe", "Hand": "", "Cups": "", "Table": "5"},
]


@pytest.mark.parametrize(
    ("name", "two"),
    [
        ("Ann & Bo Berg", ("Ann Berg", "Bo Berg")),
        ("Ann Lund and Bo Dahl", ("Ann Lund", "Bo Dahl")),
        ("Ann + Bo", ("Ann", "Bo")),
        ("Karl und Eva von Weber", ("Karl von Weber", "Eva von Weber")),
        ("Ann, Bo & Cy Berg", None),
        ("José Ortega y Gasset", None),
        ("Ann Berg", None),
        ("", None),
    ],
)
def test_who_the_two_people_of_a_name_are(name: str, two: tuple[str, str] | None) -> None:
    assert two_in(name) == two


@pytest.mark.long
def test_two_people_in_one_row_get_a_cup_each_and_are_one_again(
    shop: Shop, visitor: Visitor
) -> None:
    shop.list(TWO)
    making.merge(shop.folder, choices=making.Choices(unsure_are_gone=True), jobs=1)
    came = (shop.folder / "list.csv").read_bytes()
    row = rows_of(shop)["Ann & Bo Berg"]
    item, before = row.items[0], names(shop)
    assert row.two == ("Ann Berg", "Bo Berg")
    assert 'value="Bo Berg"' in visitor.asks("list").text
    form = {"item": str(item), "one": "Ann Berg", "other": "Bo Berg"}
    stale = visitor.sends("list", "split", **form, saw="Ann Berg & Co")
    assert stale.status_code == 422
    assert visitor.sends("list", "split", **{**form, "other": "ann berg"}).status_code == 422
    assert names(shop) == before

    assert visitor.sends("list", "split", **form, saw="Ann & Bo Berg").status_code == 200
    assert visitor.waits().state == "done"
    assert sorted(names(shop).values()) == ["Ann Berg", "Bo Berg", "Cleo Dahl"]
    assert names(shop)[item] == "Ann Berg"
    (second,) = [r for r in shop.records().values() if r.name == "Bo Berg"]
    assert second.about["role"] == "Horn"
    with open_ledger(shop.folder) as ledger:
        (held,) = ledger.additions()
    assert (held.fields["hand"], held.fields["quantity"]) == ("left", "1")
    assert (shop.folder / "list.csv").read_bytes() == came
    shown = html.unescape(visitor.client.get(visitor.at("list") + "?show=all").text)
    assert re.search(r"Two cups: <strong[^>]*>Ann Berg</strong>, <strong[^>]*>Bo Berg<", shown)
    again = outside.refused("split", shop.folder, str(item), "A", "B", "--by", "me")
    assert "holds two people already" in again

    outside.said("take-back", shop.folder, str(item), "name", "--by", "me")
    assert names(shop)[item] == "Ann & Bo Berg"
    assert sorted(names(shop).values()) == sorted(before.values()), "two cups, as the list says"
    assert not rows_of(shop)["Ann & Bo Berg"].beside


def test_the_command_line_splits_a_row_by_what_it_tells(shop: Shop) -> None:
    shop.list([{**TWO[0], "Cups": ""}, TWO[1]])
    shop.merge()
    assert "Ann Berg" in outside.said("split", shop.folder, "1", "--by", "me")
    assert sorted(names(shop).values()) == ["Ann Berg", "Bo Berg", "Cleo Dahl"]
    assert "Give both names" in outside.refused("split", shop.folder, "2", "--by", "me")


def test_a_form_for_the_list_is_saved_from_the_page(shop: Shop, visitor: Visitor) -> None:
    assert visitor.at("list", "form.xlsx") in visitor.asks("list").text
    answer = visitor.asks("list", "form.xlsx")
    assert answer.headers["content-disposition"] == 'attachment; filename="guest-list.xlsx"'
    assert answer.content == form.form_to_send(shop.folder)
    assert not (shop.folder / "guest-list.xlsx").exists()
