"""What the rows of a list say about each other; names of people are invented or from a census."""

from __future__ import annotations

import random

import names
import pytest
from conftest import Samples
from faker import Faker

from mailmerge.guests.company import MOST, Company, Remark, parts_of

ROLES = ["Violin", "Violin", "Violin", "Horn", "Horn", "Viola", "Viola", "Cello"]


def company_of(*rows: tuple[str, str]) -> Company:
    """Return a list whose rows are numbered from 2."""
    company = Company()
    for number, (name, role) in enumerate(rows, start=2):
        company.add(number, name, role)
    return company


def players(count: int = 8) -> list[tuple[str, str]]:
    """Return guests who have nothing to do with each other."""
    people = ["Ada Kern", "Ben Moor", "Cleo Ward", "Dirk Holm", "Edda Frei", "Finn Rask",
              "Gale Pool", "Hanna Stern"]  # fmt: skip
    return list(zip(people, ROLES, strict=True))[:count]


def kinds(company: Company, row: int) -> list[str]:
    return [remark.kind for remark in company.remarks().get(row, [])]


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Maren O'Dea", "Maren O’Dea"),
        ("Maren O'Dea", "Maren ODea"),
        ("Anne-Marie Voss", "Anne Marie Voss"),
        ("Anne-Marie Voss", "Annemarie Voss"),
        ("Søren Ålund", "Soren Alund"),
        ("Yıldız Kaya", "Yildiz Kaya"),
        ("Maren Hale", "Hale Maren"),
        ("Maren Hale", "Hale, Maren"),
        ("Maren Hale", "Dr. Maren Hale"),
        ("Maren Hale", "Maren Hale."),
        ("Maren Hale", "Maren Hale Jr."),
        ("Jon Smith", "Jon Smiht"),
        ("Rosalind Underhay", "Rosalind Underhy"),
        ("Rosalind Underhay", "Rosallind Underhay"),
        ("Ann Pell", "Ann Pel"),
        ("Ann Moore", "Ann Moor"),
        ("Robert Hale", "Bob Hale"),
        ("Ulrike Hale", "Uli Hale"),
        ("Cornelia Hale", "Conny Hale"),
        ("Christopher Hale", "Kit Hale"),
        ("Theodora Hale", "Dora Hale"),
        ("Władysław Hale", "Władek Hale"),
        ("Elizabeth Moor", "Liz Moor"),
        ("Sebastian Moor", "Seb Moor"),
        ("Maren Voss", "M. Voss"),
        ("Daniel Peterson", "Peterson"),
        ("Kathryn Lamb", "Catherine Lamb"),
        ("Catherine Lamb", "Kate Lamb"),
        ("Antonia Lamb", "Toni Lamb"),
        ("Christopher Lamb", "Kristofer Lamb"),
        ("Kristoffer Lamb", "Chris Lamb"),
        ("Γεώργιος Λάσκος", "Γιώργος Λάσκος"),
        ("Александр Белых", "Саша Белых"),
        ("Екатерина Белых", "Катя Белых"),
        ("István Rácz", "Pista Rácz"),
        ("Jonas Đurić", "Jonas Djurić"),
        ("Jörg Möller", "Joerg Moeller"),
        ("Alice B. Reed", "Alice Reed"),
        ("Rosa Maria Conti", "Rosa Conti"),
        ("Sigrid Berg", "Sigrid Berg-Lund"),
        ("Nadia Rahman", "Nadia Rahmann"),
        ("Frederik Marsh", "Frederic Marsh"),
        ("Mara Jane Toll", "Mara J. Toll"),
    ],
)
def test_one_person_written_in_two_ways_is_told_on_both_rows(one: str, other: str) -> None:
    company = company_of(*players(), (one, "Horn"), (other, "Horn"))
    found = company.remarks()
    assert found[10] == [Remark("alike", (11,), other)]
    assert found[11] == [Remark("alike", (10,), one)]
    assert set(found) == {10, 11}


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Paul Kern", "Paula Kern"),
        ("Daniel Roth", "Daniela Roth"),
        ("Jan Nowak", "Jana Nowak"),
        ("Piotr Kowalski", "Piotra Kowalska"),
        ("Barry Moor", "Larry Moor"),
        ("Tim Moor", "Tom Moor"),
        ("Anna Moor", "Anne Moor"),
        ("Robert Hale", "Bob Ward"),
        ("Maria Voss", "Maren Voss"),
        ("Dan Moor", "Danielle Moor"),
        ("Carl Moor", "Carlotta Moor"),
        ("Anna Lind", "Hanna Lind"),
        ("Hanna Lind", "Johanna Lind"),
        ("Alice B. Reed", "Alice C. Reed"),
        ("Alice Jane Reed", "Alice B. Reed"),
        ("Rajesh Kumar", "Rakesh Kumar"),
        ("Marina Koch", "Martina Koch"),
        ("Rosalind Moor", "Rose Moor"),
        ("Tobias St. John", "John Avery"),
    ],
)
def test_two_people_with_names_much_alike_are_two(one: str, other: str) -> None:
    assert company_of(*players(), (one, "Horn"), (other, "Horn")).remarks() == {}


def test_few_real_people_are_taken_for_each_other(samples: Samples) -> None:
    """Lists, a third of whose last names are shared by families, as at a party."""
    random.seed(20261127)
    guests = alarms = 0
    lists = samples(15, 60)
    for _ in range(lists):
        families = [names.get_last_name() for _ in range(20)]
        people = {
            f"{names.get_first_name()} "
            f"{random.choice(families) if random.random() < 0.6 else names.get_last_name()}"
            for _ in range(80)
        }
        company = company_of(*((name, random.choice(ROLES)) for name in people))
        guests += len(people)
        alarms += len(company.remarks())
    assert guests > 75 * lists
    assert alarms < 0.01 * guests


@pytest.mark.parametrize("role", ["Voilin", "Violn", "Viiolin", "violon"])
def test_a_slip_in_a_role_that_others_have(role: str) -> None:
    company = company_of(*players(), ("Ida Quist", role), ("Jo Rasmussen", "Violin"))
    assert company.remarks() == {10: [Remark("role-alike", (), "Violin")]}


@pytest.mark.parametrize("role", ["Violinist", "Viol", "Viola 2"])
def test_a_role_of_another_kind_is_no_slip(role: str) -> None:
    assert company_of(*players(), ("Ida Quist", role)).remarks() == {}


@pytest.mark.parametrize(
    ("other", "role"),
    [
        ("Cello", "Celo"), ("Oboe", "Obeo"), ("Tuba", "Tubba"), ("Bassoon", "Basoon"),
        ("Horn", "Horn."), ("Harp", "Harb"), ("Flute", "Flutes"), ("Clarinet", "Clarine"),
        ("Double Bass", "Doublebass"), ("French Horn", "French-Horn"), ("Piano", "piano"),
        ("Stage Manager", "Stage Manger"), ("Prompter", "Prompters"),
    ],
)  # fmt: skip
def test_a_slip_is_told_where_one_guest_alone_has_the_role(other: str, role: str) -> None:
    company = company_of(("Ada Kern", other), ("Ben Moor", role), ("Cleo Ward", "Viola"))
    assert company.remarks() == {3: [Remark("role-alike", (), other)]}


def test_a_small_l_where_a_numeral_belongs() -> None:
    rows = [*players(), ("Ida Quist", "Violin II"), ("Jo Moe", "Violin Il")]
    assert company_of(*rows).remarks() == {11: [Remark("role-alike", (), "Violin II")]}


def test_real_roles_that_are_near_each_other_flood_nothing() -> None:
    """Jobs as the package ``faker`` has them, and instruments with desks and parts."""
    maker = Faker("en_US", providers=["faker.providers.person", "faker.providers.job"])
    maker.seed_instance(5)
    alarms = 0
    for _ in range(20):
        rows = [(maker.unique.name(), maker.job()) for _ in range(60)]
        alarms += sum(r.kind == "role-alike" for found in company_of(*rows).remarks().values()
                      for r in found)  # fmt: skip
    assert alarms < 0.01 * 1200
    parts = ("Violin I;Violin II;Viola;Violin;Violist;Violinist;Flute 1;Flute 2;Flutes 3;Bass;Alto;"
             "Cello;Oboe I;Oboe II;Basso;Tenor;Geiger;Geigerin;Solist;Solistin;Alt;Violine;Horn 1;"
             "Horn 3;Trompete;Trompette;Trumpet;Flauto;Flauta;Leader;Reader")  # fmt: skip
    company = company_of(*((maker.unique.name(), part) for part in parts.split(";")))
    assert not [r for found in company.remarks().values() for r in found if r.kind == "role-alike"]


@pytest.mark.parametrize(
    ("slip", "role"), [("Flut", "Flute"), ("Trompet", "Trumpet"), ("Klarinet", "Clarinet")]
)
def test_a_role_of_another_language_that_is_a_letter_away(slip: str, role: str) -> None:
    """Where it is rarer: two players of the other language are no slip beside one."""
    rows = [*players(), ("Ida Quist", role), ("Jo Moe", role), ("Ulf Berg", slip)]
    expected = "role-foreign" if slip == "Klarinet" else "role-alike"
    assert kinds(company_of(*rows), 12) == [expected]
    assert kinds(company_of(*rows, ("Kim Dahl", slip)), 12) == ["role-foreign"]


@pytest.mark.parametrize("role", ["Viool", "Fagot", "2nd Fagot", "Geige", "Violine", "Труба"])
def test_a_role_of_another_language_than_those_of_the_others(role: str) -> None:
    assert kinds(company_of(*players(), ("Ida Quist", role)), 10) == ["role-foreign"]


@pytest.mark.parametrize("role", ["Cor Anglais", "Tuba", "2nd Horn", "Librarian", "Bass Clarinet"])
def test_what_a_language_has_too_is_of_no_other_one(role: str) -> None:
    assert company_of(*players(), ("Ida Quist", role)).remarks() == {}


def test_a_list_in_several_languages_has_none() -> None:
    rows = [(f"{letter}. Kern", role) for letter, role in zip("ABCDE", ("Geige", "Fagott", "Harfe",
            "Posaune", "Trompete"), strict=True)]  # fmt: skip
    found = company_of(*players(), *rows).remarks()
    assert not [one for remarks in found.values() for one in remarks if one.kind == "role-foreign"]


@pytest.mark.parametrize("name", ["Koper", "Cuerdas", "Low Brass", "~ Bläser ~", "Духовые"])
def test_a_section_without_a_role_is_a_heading(name: str) -> None:
    rows = company_of(*players(), (name, "")).remarks()
    assert [remark.kind for remark in rows[10]] == ["heading"]


def test_desks_and_parts_are_no_slips() -> None:
    rows = [(f"{letter}. Guest", "Violin 1") for letter in "ABCDEF"]
    company = company_of(*players(), *rows, ("Ida Quist", "Violin 2"), ("Jo Moe", "Violin II"))
    assert [remark for found in company.remarks().values() for remark in found] == []


@pytest.mark.parametrize("name", ["Violins", "Horns:", "--- Violin ---", "VIOLIN", "* Violas"])
def test_a_role_without_a_role_is_a_heading(name: str) -> None:
    assert kinds(company_of(*players(), (name, "")), 10) == ["heading"]


def test_one_blank_role_among_many_is_told_and_many_are_not() -> None:
    assert kinds(company_of(*players(), ("Ida Quist", "")), 10) == ["role-missing"]
    nobody = [(name, "") for name, _ in players()]
    assert company_of(*nobody).remarks() == {}
    assert company_of(*players(4), *nobody[4:]).remarks() == {}


def test_a_name_in_the_roles_place() -> None:
    company = company_of(*players(), ("Violin", "Ida Quist"), ("Viola", "Viola"))
    assert company.remarks() == {10: [Remark("name-is-role", (), "Violin")]}


@pytest.mark.parametrize("word", ["Мах", "Соре", "ΑΝΝΑ"])
def test_letters_that_only_look_latin(word: str) -> None:
    assert kinds(company_of(*players(), (f"{word} Quist", "Horn")), 10) == ["foreign"]
    greek = [("Άννα Παππά", "Horn"), ("ΑΝΝΑ ΝΙΚΟΥ", "Horn")] * 4
    assert not [
        r for rs in company_of(*greek).remarks().values() for r in rs if r.kind == "foreign"
    ]


def test_one_word_where_others_have_two() -> None:
    assert kinds(company_of(*players(), ("Bouncer", "Horn")), 10) == ["one-word"]
    assert kinds(company_of(*players(), ("Wanda T.", "Horn")), 10) == ["one-word"]
    assert kinds(company_of(*players(), ("W. Thorsby", "Horn")), 10) == ["one-word"]
    assert company_of(*players(), ("W. H. Thorsby", "Horn")).remarks() == {}
    assert company_of(*players(), ("李美玲", "Horn")).remarks() == {}
    first_names = [(name.split()[0], role) for name, role in players()]
    assert company_of(*first_names).remarks() == {}
    some = [("Bo", "Horn"), ("Ine", "Horn"), ("Ulla", "Horn"), ("Yan", "Horn")]
    assert company_of(*players(), *some).remarks() == {}


@pytest.mark.parametrize("good", [2, 8])
def test_first_and_last_names_in_the_columns_of_name_and_role(good: int) -> None:
    people = [("Harriet", "Dunmore"), ("Oscar", "Bellamy"), ("Ines", "Carvalho"),
              ("Felix", "Brandt")]  # fmt: skip
    found = company_of(*players(good), *people).remarks()
    assert set(found) == {*range(good + 2, good + 6)}
    assert {remark.kind for said in found.values() for remark in said} == {"split"}
    roles = ("Trumpet", "Conductor", "Harp", "Bassoon")
    first_names = [(name, role) for (name, _), role in zip(people, roles, strict=True)]
    assert company_of(*first_names).remarks() == {}


def test_a_list_of_three_is_judged_as_well() -> None:
    rows = [("Maren Dale", "Horn"), ("Violin", "Otto Reed"), ("Mia Falk", "Cello")]
    assert kinds(company_of(*rows), 3) == ["name-is-role"]
    assert kinds(company_of(*rows[::2], ("Otto Reed", "")), 4) == ["role-missing"]
    assert kinds(company_of(*rows[::2], ("Otto", "Viola")), 4) == ["one-word"]


def test_first_and_last_name_exchanged() -> None:
    rows = [*players(), ("Kern Brix", "Horn"), ("Jo Quist", "Horn")]
    assert company_of(*rows).remarks() == {}
    assert kinds(company_of(*rows, ("Rask Gale", "Horn")), 12) == ["turned"]
    # Last names that are rare, before a first name that is a last one as well, and one said twice.
    for name in (
        "Yang Yang",
        "Deon Bruno",
        "Thierry Arnold",
        "Aziz Otto",
        "R. V. Rao",
        "Szűcs Ildikó",
    ):
        assert company_of(*players(), (name, "Horn")).remarks() == {}


@pytest.mark.parametrize(("usual", "odd"), [("'", "’"), ("’", "'"), ("-", "‐"), ("-", "–")])
def test_apostrophes_and_hyphens_of_two_kinds(usual: str, odd: str) -> None:
    rows = [(f"{first} O{usual}Dea", "Horn") for first in ("Ida", "Jo")]
    company = company_of(*players(), *rows, (f"Max L{odd}Orme", "Horn"))
    assert company.remarks() == {12: [Remark("name-signs", (), usual)]}
    assert company_of(*players(), *rows).remarks() == {}


def test_where_two_kinds_are_as_many_each_names_the_other() -> None:
    company = company_of(*players(), ("Ida O'Dea", "Horn"), ("Max L’Orme", "Horn"))
    (said,) = (remark for found in company.remarks().values() for remark in found)
    assert said.kind == "name-signs"
    assert said.rows in [(10,), (11,)]


@pytest.mark.parametrize(
    ("one", "other"), [("Ana Pereira", "Anna Pereira"), ("St. John Avery", "Saint John Avery")]
)
def test_a_doubled_letter_or_a_short_saint_is_the_same_person(one: str, other: str) -> None:
    company = company_of(*players(), (one, "Horn"), (other, "Horn"))
    assert kinds(company, 10) == kinds(company, 11) == ["alike"]


@pytest.mark.parametrize(
    "pair",
    [
        "Amira Haddad|Ameera Haddad", "Nora Vance|Norah Vance", "Geoffrey Poole|Jeffrey Poole",
        "Stephanie Marsh|Stefanie Marsh", "Khalid Nasser|Khaled Nasser", "Zainab Ak|Zaynab Ak",
        "Rebekah Stone|Becky Stone", "Susannah Grieve|Susie Grieve", "Frederick Lamb|Fredrik Lamb",
        "Olga Benitez|Olga Benites", "Ida Rehmann|Ida Rehmanm", "Lena Dorfer|Lena Forfer",
        "Erich Stadler|Erik Stadler", "Ella Maier|Ella Meyer",
    ],
)  # fmt: skip
def test_spellings_of_one_sound_are_the_same_person(pair: str) -> None:
    one, other = pair.split("|")
    company = company_of(*players(), (one, "Horn"), (other, "Horn"))
    assert "alike" in kinds(company, 10)
    assert "alike" in kinds(company, 11)


@pytest.mark.parametrize(
    "pair",
    [
        "Gary Frost|Mary Frost", "Mary Frost|Marie Frost", "Denis Marsh|Denise Marsh",
        "Paweł Zielinski|Paweł Zielinska",
        "Ida Weller|Ida Heller", "Martin Haas|Martina Haas", "Anton Falk|Antonia Falk",
        "Kai Lund|Kim Lund",
    ],
)  # fmt: skip
def test_brothers_and_sisters_are_two(pair: str) -> None:
    one, other = pair.split("|")
    company = company_of(*players(), (one, "Horn"), (other, "Horn"))
    assert [kinds(company, row) for row in (10, 11)] == [[], []]


def test_names_of_india_are_words_with_their_vowel_signs() -> None:
    """Vowel signs are marks, and no letters: they end no word."""
    whole = ["सुनीता जोशी", "विक्रम सिंह", "रोहित वर्मा", "কবিতা সেন", "கவிதா முருகன்", "లలిత దేవి"]
    company = company_of(*((name, "Horn") for name in [*whole, "मीनाक्षी"]))
    assert company.remarks() == {2 + len(whole): [Remark("one-word")]}


def test_who_has_only_half_a_name_or_a_letter_for_one() -> None:
    for name, kind in (("г-н Орлов", "one-word"), ("Орлов И. П.", "one-word"), ("B", "letter")):
        assert kinds(company_of(*players(), (name, "Horn")), 10) == [kind]
    assert company_of(*players(), ("Brian Neto", "Horn")).remarks() == {}


def test_a_role_that_lacks_the_blank_before_its_number() -> None:
    rows = [*players(), ("Ida Dale", "Violin1")]
    assert "role-alike" in kinds(company_of(*rows), 10)


LISTS_OF_A_LANGUAGE = {
    "pt": "Violino Viola Violoncelo Contrabaixo Flauta Oboé Clarinete Fagote Trompa Trompete",
    "hu": "Hegedű Brácsa Gordonka Nagybőgő Fuvola Oboa Klarinét Fagott Kürt Trombita",
    "sv": "Violin Altviolin Cello Kontrabas Flöjt Oboe Klarinett Fagott Valthorn Trumpet",
    "da": "Violin Bratsch Cello Kontrabas Fløjte Obo Klarinet Fagot Horn Trompet",
}


@pytest.mark.parametrize("language", LISTS_OF_A_LANGUAGE)
def test_the_instruments_of_a_lists_own_language_are_not_foreign(language: str) -> None:
    people = [name for name, _ in players()]
    roles = LISTS_OF_A_LANGUAGE[language].split()
    rows = list(zip(people * 2, (roles * 2)[: 2 * len(people)], strict=True))
    found = company_of(*rows).remarks()
    assert not any(r.kind == "role-foreign" for remarks in found.values() for r in remarks)


@pytest.mark.parametrize("odd", ["‘", "ʼ", "´"])
def test_rarer_apostrophes_and_dashes_of_two_kinds(odd: str) -> None:
    rows = [(f"{first} O'Dea", "Horn – leader") for first in ("Ida", "Jo")]
    company = company_of(*players(), *rows, (f"Max L{odd}Orme", "Horn — leader"))
    assert {r.kind for r in company.remarks()[12]} >= {"name-signs", "role-signs"}


def test_turkish_letters_are_misread_in_one_row_as_in_another() -> None:
    rows = [("Ayþe Þahin", "Horn"), ("Buðra Er", "Horn"), ("Guðrún Ýmisdóttir", "Horn")]
    assert company_of(*players(), *rows).remarks() == {11: [Remark("code-page", (), "Buğra Er")]}
    assert company_of(*players(), *rows[1:]).remarks() == {}


def test_a_role_of_signs_and_a_role_spelled_otherwise() -> None:
    assert kinds(company_of(*players(), ("Ida Quist", "//")), 10) == ["role-none"]
    assert kinds(company_of(*players(), ("Ida Quist", "VIOLIN")), 10) == ["role-alike"]
    numbered = [(name, str(number)) for number, (name, _) in enumerate(players())]
    assert company_of(*numbered).remarks() == {}


def test_a_role_at_the_end_of_a_name() -> None:
    assert kinds(company_of(*players(), ("Ida Quist Horn", "Horn")), 10) == ["role-within"]
    assert company_of(*players(), ("Viola Quist", "Horn")).remarks() == {}


def test_a_last_name_that_is_led_is_no_role() -> None:
    assert company_of(*players(), ("Vincent Van Horn", "Viola")).remarks() == {}


def test_the_spelling_with_usual_capitals_is_the_right_one_of_two() -> None:
    found = company_of(("Ada Kern", "hARP"), ("Ben Moor", "Harp"), ("Cleo Ward", "Viola"))
    assert found.remarks() == {2: [Remark("role-alike", (), "Harp")]}


def test_a_last_name_that_leads_by_custom_is_not_turned() -> None:
    rows = [*players(), ("Bo Li", "Horn"), ("Na Holm", "Viola")]
    assert company_of(*rows, ("Li Na", "Cello")).remarks() == {}


def test_words_of_a_name() -> None:
    assert parts_of("Dr. Zoë van der Straße-Łuk, Jr.") == (
        "zoe", "van", "der", "strasse", "luk",
    )  # fmt: skip
    assert parts_of("Hale, Maren") == ("maren", "hale")
    assert parts_of("Prof.") == ("prof",)


def test_a_list_beyond_all_parties_is_not_compared() -> None:
    company = company_of(*((f"Guest {number}", "Horn") for number in range(MOST)))
    company.add(MOST + 2, "Jon Smiht", "")
    assert company.remarks() == {}
    assert len(company.names) == MOST


@pytest.mark.parametrize(
    "rest",
    [", late", " / no longer coming", " NEW", " - pays herself", " (left-handed)", " brings cake"],
)
def test_a_remark_after_a_role_that_others_have_is_told(rest: str) -> None:
    company = company_of(*players(), ("Maren Hale", f"Violin{rest}"))
    assert kinds(company, 10) == ["role-goes-on"]


@pytest.mark.parametrize(
    "rest", [" II", " 2", " (2nd desk)", " II (leader)", " / Piccolo", " in Bb", ", principal"]
)
def test_what_tells_players_apart_is_no_remark(rest: str) -> None:
    assert kinds(company_of(*players(), ("Maren Hale", f"Violin{rest}")), 10) == []


def test_what_several_roles_go_on_with_is_no_remark() -> None:
    both = [("Maren Hale", "Violin (upstairs)"), ("Otto Falk", "Horn (upstairs)")]
    company = company_of(*players(), *both)
    assert kinds(company, 10) == kinds(company, 11) == []


def test_a_remark_after_a_known_role_is_told_where_a_sign_parts_them() -> None:
    assert kinds(company_of(*players(), ("Maren Hale", "Harp, late")), 10) == ["role-goes-on"]
    assert kinds(company_of(*players(), ("Maren Hale", "Piano tuner")), 10) == []


def test_a_name_with_a_last_name_of_others_in_front_is_told_as_turned() -> None:
    company = company_of(
        *players(), ("Rosalind Quillfeather", "Horn"), ("Quillfeather Otto", "Horn")
    )
    assert kinds(company, 11) == ["turned"]
    both_are_first_names = company_of(*players(), ("Peter James", "Horn"), ("James Thomas", "Horn"))
    assert kinds(both_are_first_names, 11) == []


@pytest.mark.parametrize("signs", ["?", "...", "######", "—", "〃", "-/-"])
def test_a_name_of_signs_alone_leaves_the_rest_of_the_list_to_be_judged(signs: str) -> None:
    company = company_of(*players(), (signs, "Horn"), ("Wanda", "Horn"))
    assert kinds(company, 10) == []
    assert kinds(company, 11) == ["one-word"]


@pytest.mark.parametrize(
    ("role", "meant"),
    [("Vi0lin", "Violin"), ("V1ola", "Viola"), ("Hrn", "Horn"), ("Vln", "Violin")],
)
def test_a_role_with_a_figure_in_it_or_without_its_vowels_is_told(role: str, meant: str) -> None:
    rows = company_of(*players(), ("Maren Hale", role)).remarks()
    assert [(remark.kind, remark.other) for remark in rows[10]] == [("role-alike", meant)]


@pytest.mark.parametrize("role", ["VIP", "DJ", "Vl", "B3"])
def test_what_is_short_for_no_role_or_for_two_is_no_slip(role: str) -> None:
    assert kinds(company_of(*players(), ("Maren Hale", role)), 10) == []


def test_a_last_name_of_one_letter_with_a_mark_is_whole() -> None:
    company = company_of(*players(), ("Zoë Å", "Horn"), ("Lia A.", "Horn"))
    assert "one-word" not in kinds(company, 10)
    assert "one-word" in kinds(company, 11)


def test_a_list_read_in_the_wrong_page_is_told_of_every_name_that_reads_otherwise() -> None:
    names_read = [
        "Ma³gorzata Dêbska",
        "El¿bieta Wójcik",
        "Pawe³ ¯ak",
        "Wêgier Jan",
        "Ko³odziejak Ida",
    ]
    company = company_of(*players(), *[(name, "Horn") for name in names_read])
    said = [
        r for remarks in company.remarks().values() for r in remarks if r.kind == "page-of-list"
    ]
    assert [remark.own for remark in said] == ["cp1250"] * 5
    assert said[0].other == "Małgorzata Dębska"
    alone = company_of(*players(), ("Pawe³ Zak", "Horn"), ("Iðunn Þórsdóttir", "Horn"))
    assert "page-of-list" not in kinds(alone, 10) + kinds(alone, 11)


@pytest.mark.parametrize(
    "name", ["Schmidt Anja", "Wagner Andreas", "Jansen Pieter", "Moore Emma", "Johansson Anders"]
)
def test_one_name_turned_is_told_as_names_alone_tell(name: str) -> None:
    assert kinds(company_of(*players(), (name, "Horn")), 10) == ["turned"]


def test_a_list_that_puts_last_names_first_has_turned_none() -> None:
    names_of_all = ["Schmidt Anja", "Wagner Andreas", "Jansen Pieter", "Moore Emma", "Koch Lena"]
    company = company_of(*((name, "Horn") for name in names_of_all))
    assert "turned" not in {kind for row in range(2, 7) for kind in kinds(company, row)}


@pytest.mark.parametrize(
    ("one", "other"),
    [("Jan van der Berg", "Jan vd Berg"), ("Maren Hale", "Maren H."), ("Ada de Wit", "Ada Wit")],
)
def test_a_particle_or_a_last_name_cut_short_is_the_same_person(one: str, other: str) -> None:
    company = company_of(*players(), (one, "Horn"), (other, "Viola"))
    assert "alike" in kinds(company, 10)
    assert "alike" in kinds(company, 11)


def test_an_apostrophe_before_the_s_of_a_role_is_a_slip() -> None:
    company = company_of(*players(), ("Maren Hale", "Violin's"))
    assert kinds(company, 10) == ["role-alike"]
