from __future__ import annotations

from pathlib import Path

import pytest
from conftest import LayoutOf, found_in, guest_named
from fontTools.ttLib import TTFont
from hypothesis import given, strategies as st

from mailmerge.artwork import compose
from mailmerge.blanks import Blank
from mailmerge.checks import check_languages, check_words
from mailmerge.checks.cells import check_cells
from mailmerge.checks.spelling import check_spelling
from mailmerge.findings import Causes, Finding, Severity
from mailmerge.guests import Change, Guest, Remark, Trouble, open_list
from mailmerge.guests.names import is_dotted
from mailmerge.lettering import open_font

NAME = frozenset({"name"})


def codes(text: str, field: str = "name") -> set[str]:
    guest = guest_named(text) if field == "name" else guest_named("Jo Ek", text)
    return {finding.code for finding in check_spelling(guest, frozenset({field}))}


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("Zoë O'Hara", set()),
        ("Anne-Marie de la Cruz", set()),
        ("Nguyễn Thị Ánh", set()),
        ("JJ", set()),  # initials
        ("Li", set()),
        ("李美玲", set()),  # no case to get wrong
        ("X Æ", set()),
        ("Martin Luther King Jr.", set()),
        ("Tom & Ana", {"several-people"}),
        ("HANNELORE WEISS", {"all-capitals"}),
        ("pádraig o'dea", {"all-lower-case", "reads-as-remark"}),  # nobody's name at hand
        ("anna berg", {"all-lower-case"}),
        ("Zoë 2", {"digits"}),
        ("zoe@example.org", {"all-lower-case", "e-mail"}),
        ("Marta (bass)", {"role-in-name"}),
        ("Marta - bass", {"role-in-name"}),
        ("Marta / bass", {"role-in-name"}),
        ("Lind, Zoë", {"comma-in-name"}),
        ("Pаvel", {"mixed-alphabets"}),  # the second letter is Cyrillic U+0430
        ("Marta 🎻", {"emoji"}),
        (
            "£ukasz",
            {"odd-sign", "all-lower-case", "wrong-code-page"},
        ),  # what Windows-1250 read as Windows-1252 gives
        ("Martin Luther King, Jr.", set()),
        ("Total", {"not-a-name"}),
        ("TBA", {"not-a-name"}),
        ("佐藤さくら", set()),  # Japanese mixes its scripts by rule
    ],
)
def test_doubtful_names(name: str, expected: set[str]) -> None:
    assert codes(name) == expected


def test_roles_are_read_less_strictly() -> None:
    assert codes("TIMPANI", "role") == set()
    assert codes("Violin II (desk 3)", "role") == set()
    assert codes("Viоlin", "role") == {"mixed-alphabets"}  # Cyrillic о


def test_columns_of_the_clients_own_are_read_too() -> None:
    guest = guest_named("Jo Ek", "Horn", table="4\u202e")
    found = check_cells(guest, frozenset({"name", "table"}))
    assert [(f.code, f.field) for f in found] == [("direction-override", "table")]


def test_a_form_of_address_is_no_role() -> None:
    assert codes("Mr.", "role") == {"form-of-address"}


def test_mixed_alphabets_follow_the_confusables_of_the_standard() -> None:
    # UTS #39 lists Cyrillic а, е, о, р, с, х as confusable with Latin a, e, o, p, c, x.
    for confusable in "аеорсх":
        assert codes(f"Lin{confusable}") == {"mixed-alphabets"}


def test_a_suggestion_shows_what_it_would_be() -> None:
    found = check_spelling(guest_named("pádraig o'dea"), NAME)
    (finding,) = [each for each in found if each.code == "all-lower-case"]
    assert '"Pádraig O\'Dea"' in finding.advice


def test_only_engraved_fields_are_judged() -> None:
    guest = Guest(2, {"name": "JO LIND EK", "first": "JO", "last": "", "role": "Vi\u202eola"})
    assert check_spelling(guest, frozenset()) == []


@given(st.text(max_size=60), st.text(max_size=30))
def test_no_text_breaks_the_checks(name: str, role: str) -> None:
    for finding in check_spelling(guest_named(name, role), frozenset({"name", "role", "first"})):
        assert finding.severity in (Severity.WARNING, Severity.STOP)
        assert finding.advice


def item_findings(
    blank: Blank, layout_of: LayoutOf, guest: Guest, same: tuple[int, ...] = (), **line: object
) -> list[Finding]:
    layout = layout_of({"text": "{name}"} | line)
    composition = compose(layout, blank, guest, {}, Path())
    return found_in(guest, composition, blank, NAME, same)


def test_findings_come_worst_first(blank: Blank, layout_of: LayoutOf) -> None:
    guest = Guest(
        2, {"name": "HHHH", "first": "", "last": "", "role": ""},
        changes=(Change("name", "blanks", " HHHH", "HHHH"),),
        troubles=(Trouble("hand", "hand", "both"),),
    )  # fmt: skip
    found = item_findings(blank, layout_of, guest, (Remark("same", (9,)),))
    assert [finding.severity for finding in found] == ["stop", "warning", "warning", "note"]
    assert '" HHHH" became "HHHH"' in found[-1].message
    assert "row 9" in next(f for f in found if f.code == "duplicate").message


def test_too_long_says_the_numbers(blank: Blank, layout_of: LayoutOf) -> None:
    found = item_findings(
        blank, layout_of, guest_named("HHHHHH HHHHHH HHHHHH"),
        letter_height={"max": "14 mm", "min": "9 mm"},
    )  # fmt: skip
    finding = next(f for f in found if f.code == "name-too-long")
    # The sums are in test_compose: 6.19 as it is, 9.45 on two lines or without the middle name.
    assert (
        "fits at a letter height of 6.2 mm, but the least is 9 mm. The room for it is 100 mm wide"
        in finding.message
    )
    assert "on two lines 9.4 mm; without the middle name 9.4 mm" in finding.advice


def test_a_missing_letter_names_its_code_point(blank: Blank, layout_of: LayoutOf) -> None:
    found = item_findings(blank, layout_of, guest_named("Hé"))
    finding = next(f for f in found if f.code == "letter-missing")
    assert finding.severity is Severity.STOP
    assert "é (U+00E9 LATIN SMALL LETTER E WITH ACUTE)" in finding.message


@pytest.mark.parametrize(
    ("trouble", "code"),
    [
        (Trouble("name", "date", "2026-05-01"), "name-is-date"),
        (Trouble("name", "no-value", ""), "name-no-value"),
        (Trouble("name", "error", "#N/A"), "name-is-error"),
        (Trouble("name", "length", "x" * 300), "name-is-endless"),
        (Trouble("quantity", "quantity", "few"), "quantity-unclear"),
        (Trouble("hand", "hand", "both"), "hand-unclear"),
    ],
)
def test_cells_that_cannot_be_taken_stop_the_item(
    blank: Blank, layout_of: LayoutOf, trouble: Trouble, code: str
) -> None:
    guest = Guest(2, {"name": "HH", "first": "", "last": "", "role": ""}, troubles=(trouble,))
    stops = [f.code for f in item_findings(blank, layout_of, guest) if f.severity == "stop"]
    assert stops == [code]


def test_blank_names_and_strange_sides_stop(blank: Blank, layout_of: LayoutOf) -> None:
    assert "name-blank" in [f.code for f in item_findings(blank, layout_of, guest_named(""))]
    odd = guest_named("HH", side="front")
    assert "side-unclear" in [f.code for f in item_findings(blank, layout_of, odd)]
    on_handle = guest_named("HH", side="5")
    assert "face-on-handle" in [f.code for f in item_findings(blank, layout_of, on_handle)]


def test_a_name_that_is_lacking_is_told_once_and_whatever_else_is_wrong(
    blank: Blank, layout_of: LayoutOf
) -> None:
    def stops(*troubles: Trouble) -> set[str]:
        guest = Guest(2, {"name": "", "first": "", "last": "", "role": ""}, troubles=troubles)
        return {f.code for f in item_findings(blank, layout_of, guest) if f.severity == "stop"}

    assert stops() == {"name-blank"}
    assert stops(Trouble("hand", "hand", "both")) == {"name-blank", "hand-unclear"}
    assert stops(Trouble("name", "date", "2026-05-01")) == {"name-is-date"}


def test_a_guest_for_whom_the_layout_holds_nothing_is_stopped(
    blank: Blank, layout_of: LayoutOf
) -> None:
    found = item_findings(blank, layout_of, guest_named("HH"), text="{role}")
    assert [f.code for f in found if f.severity == "stop"] == ["nothing-to-engrave"]


@pytest.mark.parametrize("char", "☀➿\ufe00\ufe0f🀀🫿")
def test_both_ends_of_each_range_of_picture_characters(char: str) -> None:
    """Their blocks and the variation selectors (Unicode's Blocks.txt, from memory)."""
    assert "emoji" in codes(f"Marta {char}")


@pytest.mark.parametrize("char", "\u25ff\u27c0")
def test_signs_beside_those_ranges_are_none(char: str) -> None:
    assert "emoji" not in codes(f"Marta {char}")


def test_words_of_the_order_that_are_engraved_and_not_there(layout_of: LayoutOf) -> None:
    layout = layout_of({"text": "{name}"}, {"text": "{order.title}, {order.due}"})
    blank_words = {"order.title": "", "order.due": "", "order.subtitle": ""}
    said = list(check_words(layout, blank_words, "players"))
    assert [(each.code, each.field) for each in said] == [
        ("order-words-blank", "order.title"), ("order-words-blank", "order.due"),
    ]  # fmt: skip
    assert ["due = " in each.advice for each in said] == [False, True]
    about = {"order.title": "Gala", "order.due": "12 December"}
    assert not list(check_words(layout, about, "players"))


@pytest.mark.parametrize(
    "title", ["TBC", "?", "Untitled", "title", "#REF!", "2026-12-12", "Players", "n/a", "to follow"]
)
def test_a_title_that_only_stands_for_one_is_told_where_it_is_engraved(
    title: str, layout_of: LayoutOf
) -> None:
    about = {"order.title": title, "order.due": "2026-12-12", "order.subtitle": title}
    layout = layout_of({"text": "{name}"}, {"text": "{order.title}, {order.due}"})
    (said,) = check_words(layout, about, "players")
    assert (said.code, said.field) == ("order-words-stand-in", "order.title")
    assert not list(check_words(layout_of({"text": "{name}"}), about, "players"))


def test_a_break_is_noted(blank: Blank, layout_of: LayoutOf) -> None:
    found = item_findings(blank, layout_of, guest_named("HHHHHHHHH-HHHHHHHHH"), lines=2)
    assert [f.code for f in found if f.severity == "note"] == ["on-two-lines"]


def test_letters_of_another_font_are_told(blank: Blank, layout_of: LayoutOf) -> None:
    line = {"font": "Great Vibes", "fallback": ["Noto Sans"]}
    found = item_findings(blank, layout_of, guest_named("Zoë Παππά"), **line)
    (lent,) = (finding for finding in found if finding.code == "font-lent")
    assert (lent.severity, lent.field) == ("note", "name")
    own = TTFont(open_font("Great Vibes", 400, Path()).path).getBestCmap()
    others = " ".join(char for char in "Παπά" if ord(char) not in own)
    assert len(others) > 1
    assert f"They come from another font: Noto Sans for {others}." in lent.message


@pytest.mark.parametrize(
    ("line", "name", "severity"),
    [
        ({"case": "upper"}, "Işıl Inan", "note"),  # I is the capital of ı in any language
        ({"case": "upper"}, "Işıl Demir", "warning"),
        ({"case": "upper"}, "Elena Rossi", ""),
        ({"case": "upper", "language": "tr"}, "Işıl Demir", ""),
        ({"case": "upper", "language": "Turkish"}, "Işıl Demir", ""),
        ({}, "Işıl Demir", ""),
        ({"case": "upper"}, "Ayşe Çelik", "warning"),
        ({"case": "upper"}, "Ayşe Kar", ""),  # no i
        ({"case": "title"}, "ışıl inan", "warning"),
        ({"monogram": "even"}, "İnci Ak", ""),  # a capital already
        ({"monogram": "even"}, "inci Akşın", "warning"),
        ({"monogram": "even"}, "Yıldız Ak", ""),  # Y and A are no i
    ],
)
def test_capitals_of_a_dotless_i_without_a_language(
    line: dict[str, object], name: str, severity: str, layout_of: LayoutOf
) -> None:
    layout = layout_of({"text": "{name}", **line})
    guests = [guest for guest in (guest_named(name),) if is_dotted(name)]
    found = list(check_languages(layout, {}, guests))
    assert [(f.code, str(f.severity)) for f in found] == (
        [("language-missing", severity)] if severity else []
    )
    assert all(f.rows == (guests[0].row,) for f in found)
    spoken = [guest_named(name, language="de")]
    assert not list(check_languages(layout, {}, spoken))


def test_a_missing_language_is_said_once_with_its_rows(layout_of: LayoutOf, tmp_path: Path) -> None:
    path = tmp_path / "players.csv"
    path.write_text("Name\nAyşe Çelik\nAnna Rossi\nIşıl Demir\n", encoding="utf-8")
    survey = open_list(path, None, {}).survey()
    assert [guest.row for guest in survey.dotted] == [2, 4]
    layout = layout_of({"text": "{name}", "case": "upper"})
    (said,) = check_languages(layout, {}, survey.dotted)
    causes = Causes()
    causes.add_of_list(said)
    assert [cause.rows for cause in causes.worst_first()] == [list(said.rows)] != [[]]
    assert "rows 2, 4" in said.message
    assert "AYŞE ÇELIK" in said.message
    assert "AYŞE ÇELİK" in said.message


def test_a_language_that_there_is_not() -> None:
    def said(language: str) -> set[str]:
        guest = guest_named("Jo Ek", language=language)
        return {finding.code for finding in check_spelling(guest, NAME)}

    assert said("Klingonish") == {"language-unclear"}
    assert said("") == said("tr") == said("türkçe") == set()
