"""What is doubtful about a name as a name; each case is one that a list has had."""

from __future__ import annotations

import random
from importlib import import_module
from pathlib import Path

import names
import pytest
from conftest import Samples

from mailmerge.checks.naming import NOBODYS, check_name
from mailmerge.checks.spelling import check_spelling
from mailmerge.findings import Severity
from mailmerge.guests import Guest
from mailmerge.guests.cleaning import Change
from mailmerge.guests.exchanged import leaning
from mailmerge.guests.names import initials, part

ENGRAVED = frozenset({"name", "role"})


def codes(name: str, role: str = "") -> set[str]:
    guest = Guest(2, {"name": name, "first": "", "last": "", "role": role})
    return {finding.code for finding in check_spelling(guest, ENGRAVED)}


DOUBTS = [
    ("not-a-name", "Unknown; TBC; n/a; ?; see above; Total; Total:; Test; Thank you so much; "
     "Unbekannt; Inconnue; À confirmer; Vedi sopra; Ninguno; Onbekend; Okänd; Brak; Итого"),
    ("heading", "--- Brass ---; Violins:; *** Strings ***; === 2nd desk; • Horns; # Tenors"),
    ("stands-for-somebody", "Child; Reserved; Spare; Photographer; guest of Anna; Gast von Bo; "
     "Invité de Luc; Ospite di Rosa; Plus One; Guest 2; Enfant; Niño; Bambino; Kind; "
     "Group A; Ring bearer's uncle; My wife; mein Bruder; Brass Section; "
     "Strings; Family; Begleitung; Convidada; Gość; Misafir"),
    ("several-people", "Anna & Bo; Anna and Bo Hale; Mr and Mrs Hale; Anna und Bo; Anna et Luc; "
     "Ana y Luis; Anna/Bo; Anna + Bo; Anna +1; +2; The Hales; Family Hale; Familie Berg; "
     "The Smith Family; Bo Hale and family; Tom Berg & Ilse Dam"),
    ("odd-capitals", "mAREN Hale; MAren Hale; MaREN Hale; maren Dunmore; Hendrik BROWNING; "
     "Maren dunmore"),
    ("stray-sign", "Hale,; \"Maren Hale\"; -Maren Hale; @Maren; M@ren Hale; Maren Hale -; "
     "Mar3n Hale; Maren , Hale; 'Maren'; *Maren"),
    ("nickname", "Robert \"Bob\" Hale; Robert “Bob” Hale; Robert (Bob) Hale"),
    ("words-joined", "RosalindUnderhay; MarenHale Dunmore"),
    ("word-doubled", "Zelda Zelda; Daniel Peterson Peterson"),
    ("word-doubled", "Pickering Pickering; Olivier Olivier"),
    ("several-people", "Ruth Vane plus one; + guest; plus guest; Nora Tolliver & son; "
     "Familie Brandt; Fam. Achterberg; Rodzina Nowak; Julia Ortiz y acompañante; "
     "Paolo Conti e famiglia; Perheen Virtanen"),
    ("not-a-name", "Your Name Here; Name Goes Here; Ihr Name hier; Votre nom ici; "
     "Yes; No; Nein; Sí"),
    ("stands-for-somebody", "bus driver; Bus Driver; osoba towarzysząca; refakatçi; medföljande"),
    ("reads-as-remark", "Dear Clarissa Tolliver; Hi Clarissa; Liebe Ute; Bonjour Océane; "
     "Caro Bruno; "
     "Cordialement; Un saludo; Cordiali saluti; Met vriendelijke groet; Med vänliga hälsningar; "
     "Proszę o potwierdzenie; Mulțumesc frumos; Ευχαριστώ πολύ; Por favor, antes del viernes; "
     "More to come next week; The last three are not certain yet"),
    ("nickname", "Sylvia [Harry] Denholm; Sylvia {Harry} Denholm"),
    ("stray-sign", "Monica O`Dea; Cordelia O''Dea; Duncan Norwood--Vane; Rupert Morland;"),
    ("words-joined", "TerenceAnne Crosby"),
    ("odd-capitals", "j. R. Holloway; Norman Fenwick-vane"),
    ("l-for-i", "Mclntosh; Sara Mclntyre; lan Hale; lngrid Moe"),
    ("wrong-code-page", "Ayþe Þahin; Yýldýz Kaya; Gülay Aydýn; Oðuz Oðlu"),
    ("reads-as-remark", "Not sure yet; noch nicht bekannt; Maren Hale please check; Regards Petra"),
    ("title-only", "Dr.; Mrs.; Prof. Dr."),
    ("not-a-name", "Maren n/a; n/a Dunmore; Maren TBC; k. A. Dunmore; Maren ??; TBA Dunmore"),
    ("stands-for-somebody", "Maren Unbekannt; Unknown Dunmore; Reserved Chair; Baby Dunmore; "
     "Additional Person; Fourth Trumpet; New Clarinettist; Sub. Viola; Sound Crew; The Organist; "
     "Marens Mum; Prize Mug; Soloist Mug; Gast Dunmore; Kind Dunmore; Cellist; "
     "Begleitperson Dunmore; Maren Invitée; Zweite Geige; Dritter Platz; Nouveau Violon; "
     "Visitor; Gift; Épouse; Vervanger; Náhrada; Участник; 来宾"),
    ("reads-as-remark", "x Maren Dunmore; Maren Dunmore LEFTY; Maren Dunmore right-handed; "
     "Maren Dunmore c/o Petra Falk; Maren Dunmore neu; Maren Dunmore gauchère"),
    ("several-people", "Maren Dunmore • Otto Falk; The Brothers Dunmore; Geschwister Falk"),
    ("wrong-code-page", "Ýsmail Demir; Ýrem Kara; Orhan Doðan; Tuðba Er"),
    ("stray-sign", "Maren O' Dea; D’ Angelo Rossi"),
    ("nickname", "\"Gigi\" Dunmore; “Bo” Falk"),
    ("odd-capitals", "Mary-jane Dunmore; Anna-maria Falk"),
    ("not-a-name", "Grand total: 48; Page 2 of 3; Seite 1 von 2; Table 5; 48 guests; Итого 12"),
    ("several-people", "2x Maren Dunmore; Maren x2 Dunmore; Maren Dunmore 2 pcs; Petr a Jana; "
     "Jana Nováková a Petr Novák; Huw ac Siân; Ana in Marko; Ion și Maria; Anna en Bert; "
     "Anna Rossi e Bruno Bianchi; Jaan ja Mari; Kati és Béla; Jonas ir Ona; Ilze un Jānis; "
     "Мария и Иван; Ünal ile Ayşe; Anna Berta Carla Dora"),
    ("odd-capitals", "AlBert Falk; ElIas Falk"),
    ("word-doubled", "Otto Otto"),
    ("wrong-code-page", "Fran&ccedil;ois Falk; Ren&#233;e Falk; Ren=C3=A9e Falk; Ren%C3%A9e Falk; "
     "Ren\\u00e9e Falk; Dvoøák; Wa³êsa; Ìîñêâà"),
    ("stray-sign", "Jean- Paul Sarre"),
    ("reads-as-remark", "Lea Falk a.k.a. Lee"),
    ("l-for-i", "Rhona McLntyre; Rhona MacLntosh"),
    ("telephone", "+44 20 7946 0958; Maren 0171 2345678; 555-0199"),
    ("web-address", "www.example.org; Maren https://example.org; example.org"),
    ("odd-sign", "\u0251nna Falk; Mar\u026a Falk"),
    ("stands-for-somebody", "Plus-one; Page-turner"),
    ("several-people", "Ehepaar Falk; Eheleute Dunmore; Państwo Wrona; Manželé Zelení; "
     "i coniugi Falco; Los Vega; Les Moreau; De Bakkers; Sr. y Sra. Pinto; M. et Mme Falque; "
     "Petra Falk Otto Falk"),
    ("stray-sign", "Mari@ Falk; Maren Falk'; Maren Falk”; Maren Falk\"; Maren 'Falk; Ma(r)en Falk"),
    ("l-for-i", "Rhona Maclntosh; Rhona Maclver"),
    ("odd-capitals", "Maren de LA Cruz; Maren von DER Heide; Maren DE Souza"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("code", "name"), [(code, name) for code, row in DOUBTS for name in row.split("; ")]
)
def test_what_is_doubtful_about_a_name_is_said(code: str, name: str) -> None:
    assert code in codes(name)


def test_what_is_nobody_is_stopped_and_said_once() -> None:
    for name in ("Unknown", "total", "--- Brass ---"):
        guest = Guest(2, {"name": name, "first": name, "last": "", "role": "Horn"})
        (finding,) = check_spelling(guest, ENGRAVED)
        assert finding.severity is Severity.STOP


@pytest.mark.parametrize("name", ["Dr. Hale", "Maren & Tom", "J. Hale"])
def test_an_unsure_first_name_matters_only_where_it_is_engraved(name: str) -> None:
    first = {"name": name, "first": part(name).first, "last": "", "role": ""}
    guest = Guest(2, first)

    def said(*engraved: str) -> set[str]:
        return {finding.code for finding in check_spelling(guest, frozenset(engraved))}

    assert "first-unsure" in said("first")
    assert ("initials-unsure" in said("name", "initials")) == (name != "J. Hale")
    assert not {"first-unsure", "initials-unsure"} & said("name")


@pytest.mark.parametrize(
    ("name", "codes_said"),
    [
        ("Aunt Erna", {"first-unsure", "initials-unsure"}),
        ("Sister Berta", {"first-unsure", "initials-unsure"}),
        ("Don Carlos Ruiz", {"first-unsure", "initials-unsure"}),
        ("Pan Marek Zielony", {"first-unsure", "initials-unsure"}),
        ("M. Luc Beaupré", {"first-unsure", "initials-unsure"}),
        ("El Moreno", {"first-unsure", "initials-unsure"}),
        ("von Berg Lothar", {"first-unsure", "initials-unsure"}),
        ("Dunmore Rosalind", {"first-unsure"}),
        ("Opa Heinz", {"first-unsure", "initials-unsure"}),
        ("Coach Miller", {"first-unsure", "initials-unsure"}),
        ("JR Holloway", {"first-unsure"}),
        ("Doña Carmen", {"first-unsure", "initials-unsure"}),
        ("Major Tom", {"first-unsure", "initials-unsure"}),
        ("Bay Demir", {"first-unsure", "initials-unsure"}),
        ("Konzertmeisterin Falk", {"first-unsure", "initials-unsure"}),
        ("Don Whitfield", set()),
        ("Captain Maren Hale", set()),
        ("Maren Heather", set()),
        ("Ph.D. Maren Hale", set()),
        ("Van Morrison", set()),
    ],
)  # fmt: skip
def test_which_first_names_are_unsure(name: str, codes_said: set[str]) -> None:
    guest = Guest(2, {"name": name, "first": part(name).first, "last": "", "role": ""})
    engraved = frozenset(["first", "initials"])
    assert {finding.code for finding in check_spelling(guest, engraved)} == codes_said


@pytest.mark.parametrize(
    ("name", "letters"),
    [("Ph.D. Maren Hale", "MH"), ("Dr. med. Maren Hale", "MH"), ("Dr Dr h.c. Otto Falk", "OF"),
     ("Captain Otto Falk", "OF"), ("Herr Doktor Otto Falk", "OF"), ("Prof. em. Otto Falk", "OF")],
)  # fmt: skip
def test_titles_and_degrees_have_no_initials(name: str, letters: str) -> None:
    assert initials(name) == letters


def test_a_title_in_the_column_of_first_names() -> None:
    guest = Guest(2, {"name": "Dr. Maren Hale", "first": "Dr. Maren", "last": "Hale", "role": ""})
    (finding,) = check_spelling(guest, frozenset(["first"]))
    assert finding.code == "first-unsure"


GOOD = """
Zoë Lindqvist; Saoirse Ní Bhriain; Nguyễn Thị Ánh Tuyết; Łukasz Śmigielski; McKenzie MacLeod;
Guðrún Þórðardóttir; Théo d'Aubigny; Noor van der Heijden; Maria de la Cruz; José Ortega y Gasset;
Ana Costa e Silva; D'Angelo Russo; Jean-Luc Marchand; Paolo Dell'Acqua; 's Gravensande Willem;
IJsbrand Kok; J.R.R. Moen; JJ Holm; Martin Holm III; Þóra Ýr Eyþórsdóttir; Hafþór Júlíus; Alþór
Sveinn; Steinþór Öfjörð; bin Rashid Al Maktoum; Abd al-Rahman; Mary-Jane O'Neill-Smith; 李美玲;
Αλέξανδρος Παππάς; سارة الخطيب; דוד כהן; Ian Lloyd; Llewellyn Lloyd; Yo-Yo Lin; Dr. Anna Berg;
Sammy Moe Jr.; DeShawn LaRue; VanDyke Poole; FitzGerald Ella; Sun Yat-sen; Ng Wei; Bo Li; Nanna
Øland; Anna Maria; True Hansen; May Berg; Null Holm; Christian Guest; Rosa Child; Tom Reserve;
Özgür Yılmaz; Ilse De Wit; Jean Lord; Gregory Lord; Brent die Bont; Traudl auch Schlauchin; Sem
van de Darnau; Viola Cook; Viola Singer; Dr. med. Ingrid Falk; Dr Dr h.c. Otto Falk; Rose Baker;
Min-jung Kim; Ali-zadeh Leyla; Anna New; Ýr Jónsdóttir; Ýmir Bjarnason; X Æ; St John Falk;
Mirëlinda Hoxha; Arbër Këlmendi; Ëngjëll Çela; Guðmundur Hansen; Guðbjörg Olsen; Heiðmar Lund;
Friðbert Hansen; Auðbjörg Lund; Gemma Ó Sé; Ingrid Bø; Aida M'Bow; Awa N’Diaye; Ja'Marr Falk;
De'Andre Falk; Брайан О'Коннор; Siti binti Ahmad; Nur binte Salleh; Maria dela Cruz; Maria delos
Santos; Rita Register; Marco diCarlo; Thandi kaMaseko; Rhiannon ferch Owain; Owain ab Ifor; Noor
ul Haq; Siti bte Rahmat; Máire nic Giolla; Jan vd Berg; Ria uit den Bogaard; Franjo Tuđman; Ivan
Nađ; Caro Emerson; Lieve Dekker; Gentile Rossi; Costa e Silva; JoAnn MacDonald; Mi-kyung Park;
LaToya van Dyck; Nay Si; Aino Kääriäinen; Seija Räihä; Stella Smith–Jones; Đỗ Thế Vinh; Đỗ Minh;
იზა მჟავანაძე
"""


@pytest.mark.parametrize("name", [name.strip() for name in GOOD.replace("\n", " ").split(";")])
def test_nothing_is_said_about_names_that_are_right(name: str) -> None:
    assert codes(name) == set()


def test_names_of_a_census_give_hardly_an_alarm(samples: Samples) -> None:
    """From the lists inside the package ``names``; none is copied here."""
    random.seed(20261127)
    count = samples(1000, 3000)
    alarms = sum(1 for _ in range(count) if list(check_name(names.get_full_name(), "")))
    assert alarms < 0.002 * count


@pytest.mark.parametrize(
    "role",
    [
        "n/a",
        "TBC",
        "t.b.d.",
        "?",
        "-",
        "0",
        "null",
        "TRUE",
        "None",
        "siehe oben",
        "nvt",
        "Entfällt",
        "any",
        "nan",
        "missing",
        "-na-",
        "(none)",
        "N/V",
        "ja",
        "later",
        "various",
        "Instrument",
        "insert role",
        "volgt",
        "άγνωστο",
        "Your part here",
    ],
)
def test_a_role_that_is_none(role: str) -> None:
    assert "not-a-role" in codes("Maren Hale", role)


@pytest.mark.parametrize(
    ("cell", "is_two"),
    [("Hugo\nClara", True), ("Hugo Falk\nClara Falk", True), ("Hugo\nFalk", False),
     ("Hugo\nThomas", False)],
)  # fmt: skip
def test_two_people_on_two_lines_of_a_cell(cell: str, is_two: bool) -> None:
    name = " ".join(cell.split())
    changes = (Change("name", "blanks", cell, name),)
    guest = Guest(2, {"name": name, "first": "", "last": "", "role": ""}, changes=changes)
    found = {finding.code for finding in check_spelling(guest, ENGRAVED)}
    assert ("several-people" in found) == is_two


def test_a_form_of_address_in_a_role() -> None:
    assert codes("Maren Hale", "Pan") == {"form-of-address"}


@pytest.mark.parametrize(
    "role", ["Captain", "Coach", "Prefect", "Chair", "Secretary", "Treasurer", "Vice-Captain"]
)
def test_an_office_is_a_role(role: str) -> None:
    assert codes("Maren Hale", role) == set()


STOPPED = """Familie Brandt; The Holden family; Ruth Vane plus one; Your Name Here; Yes;
Dear Clarissa; Cordialement; Met vriendelijke groet; More to come next week; + guest; bus driver"""


@pytest.mark.parametrize("name", [" ".join(name.split()) for name in STOPPED.split(";")])
def test_what_can_be_on_nobodys_cup_is_stopped(name: str) -> None:
    found = check_name(name, "")
    assert Severity.STOP in {finding.severity for finding in found}


@pytest.mark.parametrize("last", ["St. John", "Saint John"])
def test_a_saint_in_a_last_name_is_no_first_name(last: str) -> None:
    guest = Guest(2, {"name": f"Tobias {last}", "first": "Tobias", "last": last, "role": ""})
    assert check_spelling(guest, frozenset({"first"})) == []
    assert leaning("Tobias", last) >= 0


def test_a_remark_in_a_role() -> None:
    assert codes("Maren Hale", "Horn;") == {"remark-in-role"}
    assert codes("Maren Hale", "Flute, I think") == {"remark-in-role"}
    assert codes("Maren Hale", "Piano!!! URGENT") == {"remark-in-role"}
    assert codes("Maren Hale", "Violin (new cup, old one broke)") == {"remark-in-role"}
    assert codes("Maren Hale", "Horn (please ask)") == {"remark-in-role"}
    for role in ("plays violin, I think", "was Violin, now Viola", "coming on Saturday only"):
        assert codes("Maren Hale", role) == {"remark-in-role"}
    assert codes("Maren Hale", "žádný") == {"not-a-role"}
    for role in ("Horn - phone him", "Tuba see mail", "Harp (left-handed)", "Viola, confirm"):
        assert codes("Maren Hale", role) == {"remark-in-role"}
    assert codes("Maren Hale", "Violin (leader)") == set()


@pytest.mark.parametrize("name", ['"', "'", ".", ",", "—", "…", "..", "( )"])
def test_signs_alone_are_nobody(name: str) -> None:
    assert [(f.code, str(f.severity)) for f in check_name(name, "")] == [("not-a-name", "stop")]


@pytest.mark.parametrize(
    ("name", "is_told"),
    [("Hugo Lamb.", True), ("Hugo Lambert.", True), ("Ines Ruizmann.", True), ("Hugo Lamb", False),
     ("Owen Reed Jr.", False), ("Greta M.", False)],
)  # fmt: skip
def test_a_full_stop_after_a_name(name: str, is_told: bool) -> None:
    assert ("stray-sign" in {f.code for f in check_name(name, "")}) == is_told


@pytest.mark.parametrize(
    "name",
    ["José Ortega y Gasset López", "Maria Costa e Silva", "Joan Puig i Cadafalch",
     "Thomas à Kempis", "Maria in der Au", "María Del Carmen Vera", "DeShawn LaRue",
     "Eva Kind", "Cesar Pareja", "Ana Sobrino", "Miguel Sans", "Nino Caruso", "M.de Vries",
     "Anna-Maria Rosa Berg"],
)  # fmt: skip
def test_names_that_look_like_something_else_are_left_alone(name: str) -> None:
    assert codes(name) == set()


AS_WORDS = (
    "Page break; Summer concert; Waiting for reply; See Anna's mail; Teacher's aide; last year; "
    "Rader utan betydelse; Tylko dla gości; Nur bei Bedarf"
)


@pytest.mark.parametrize("name", AS_WORDS.split("; "))
def test_words_that_are_written_small_may_be_no_name(name: str) -> None:
    """By their letters alone: none of these words is in a table."""
    assert NOBODYS & codes(name)


@pytest.mark.parametrize("name", ["Anna berg", "Hendrik browning", "anna berg"])
def test_a_name_typed_small_is_still_a_name(name: str) -> None:
    assert not NOBODYS & codes(name)


def test_a_strange_name_typed_small_is_told_as_that_too() -> None:
    assert codes("mechthild achternbusch") == {"reads-as-remark", "all-lower-case"}


SLIPS = [
    ("odd-capitals", "o'Brien Sean; Ben Hart-cole; Jean-luc Weston; Mary ANN Poole; DR Ruth Bo"),
    ("stray-sign", "'Stephen Padilla; Laura King); Luke H a l e; J.P.Morgan Ames; St.John Avery"),
    ("several-people", "Sigg. Conti; Messrs Hale; דוד ושרה כהן; Lena plus guest"),
    ("stands-for-somebody", "Stimmgruppe Alt; Notenhelferin; Bläservorstand"),
    ("wrong-code-page", "Gülþah Dað"),
]  # fmt: skip


@pytest.mark.parametrize(("code", "name"), [(c, n) for c, all_ in SLIPS for n in all_.split("; ")])
def test_slips_in_small_signs_are_told(code: str, name: str) -> None:
    assert code in codes(name)


@pytest.mark.parametrize(
    "name",
    ["Mi-kyung Kim", "Young-ho Lee", "Mary Ann Poole", "Anna Berg MD", "'t Hooft Gerard",
     "J. R. Moen", "ורד וייס כהן", "Tom de la Rue", "Kim JR", "Peter O. Falk"],
)  # fmt: skip
def test_what_is_like_such_a_slip_is_left_alone(name: str) -> None:
    assert codes(name) == set()


@pytest.mark.parametrize(
    ("name", "severity"), [("Year 4", "stop"), ("1. Geigen", "stop"), ("Maren Hale 2", "warning")]
)
def test_digits_stop_where_no_word_is_anybodys(name: str, severity: str) -> None:
    guest = Guest(2, {"name": name, "first": "", "last": "", "role": ""})
    assert severity in {str(f.severity) for f in check_spelling(guest, ENGRAVED)}


@pytest.mark.parametrize(
    "name",
    ["Baron Karl von Ott", "Dom João Lima", "Graf Anton von Ott", "Haji Ahmad Rahim",
     "Master Tom Lister", "Gräfin Ott", "Comtesse Bianchi", "Jonkheer Jan Smit"],
)  # fmt: skip
def test_what_nobles_are_called_is_no_first_name(name: str) -> None:
    guest = Guest(2, {"name": name, "first": part(name).first, "last": "", "role": ""})
    assert "first-unsure" in {f.code for f in check_spelling(guest, frozenset(["first"]))}


NOBODY = (
    "[name]; (blank); <name>; see note; siehe Notiz; dito; testing 123; test1; тест; δοκιμή; "
    "T.B.D.; Prueba; Zkouška; Somme; Sous-total; Összeg; Сумма; @maren_plays; @maren; "
    "Second violins; Erste Geigen; Many thanks, Ilse; Vielen Dank, Ilse; Danke, Petra; "
    "last updated Tuesday; Teenager; Bride; Gatecrasher; Choir; Sopranos; Altos; Woodwinds; "
    "Cuivres; Holzbläser; Holzblaeser; Violini; Violons; Press; Presse; Nurse; Barkeeper; "
    "Organiser; Kameramann; Sponsors; VIPs; see Anna; copy of row 4; delete me; will advise; n/k; "
    "Vakant; ½; #12; № 5; 5th; IV.; Test Person; Foo Bar; Technik; Ehrengast; Smyczki; "
    "Струнные; The Choir"
)


@pytest.mark.parametrize("name", NOBODY.split("; "))
def test_what_is_nobody_is_told_without_any_other_row(name: str) -> None:
    """As in a list of first names only, where one word is no sign of anything."""
    found = list(check_name(name, ""))
    assert NOBODYS & {finding.code for finding in found}
    bearable = {"Press", "Nurse"}  # rare last names of the census
    assert (Severity.STOP in {finding.severity for finding in found}) == (name not in bearable)


def test_no_first_name_is_stopped() -> None:
    """Those in the packages ``names`` and ``faker``, none of which is copied here."""
    of_census = {word.title() for key in ("first:male", "first:female")
                 for word in Path(names.FILES[key]).read_text().split()[::4]}  # fmt: skip
    found: set[str] = set()
    for locale in ("en_US", "de_DE", "fr_FR", "es_ES", "it_IT", "nl_NL", "sv_SE", "is_IS", "pl_PL",
                   "hu_HU", "tr_TR", "id_ID", "ru_RU", "el_GR"):  # fmt: skip
        found.update(import_module(f"faker.providers.person.{locale}").Provider.first_names)
    firsts = {*of_census, *found}
    said = [(name, found) for name in firsts for found in check_name(name, "")]
    stopped = {name for name, found in said if found.severity is Severity.STOP}
    told = {name for name, found in said if found.code in NOBODYS}
    assert stopped <= {"Sayın", "Sayin"}  # a form of address
    assert len(told) < 0.002 * len(firsts)


@pytest.mark.parametrize(
    "name",
    ["Oscar Total", "Anna Strings", "Sam Spare", "Ray Strings", "JoAnn Falk", "MaryBeth Falk",
     "Ffion ffoulkes", "Les Brown", "Rhona Maclean", "Rhona MacLeod", "Gerard 't Hooft",
     "Jan De Vries", "De Vries", "Fiene van Hoevel en van Zwindrecht", "Juan García Ana",
     "Hannah Abu Sana", "Ana López García López"],
)  # fmt: skip
def test_people_are_called_so(name: str) -> None:
    assert not list(check_name(name, ""))


@pytest.mark.parametrize("name", ["Blank", "Test", "Merci", "Maren and guest", "Maren +1", "Dr."])
def test_what_stands_for_somebody_stops_in_all_its_kinds(name: str) -> None:
    assert Severity.STOP in {finding.severity for finding in check_name(name, "")}


def test_a_first_name_that_is_a_word_for_nobody_is_only_a_doubt() -> None:
    (finding,) = check_name("Page", "")
    assert (finding.code, finding.severity) == ("not-a-name", Severity.WARNING)


@pytest.mark.parametrize(
    ("name", "severity"),
    [("Guest Carpenter", "warning"), ("Sarah Partner", "warning"),
     ("Dr. Sarah Anne Partner", "warning"), ("Sieglinde Extra", "warning"),
     ("Viola Little", "warning"), ("Baby Falk", "warning"), ("Kid Carson", "warning"),
     ("Kate Band", "warning"),
     ("Ray Unknown", "stop"), ("Sarah Reserved", "stop"), ("Unknown Carpenter", "stop"),
     ("Marens Partner", "stop"), ("Second Horn", "stop"),
     ("Brass Section", "stop")],
)  # fmt: skip
def test_words_for_somebody_that_may_be_a_name_are_a_doubt(name: str, severity: str) -> None:
    """Nobody is stopped whose last name is a word; common practice, from memory."""
    (finding,) = check_name(name, "")
    assert (finding.code, str(finding.severity)) == ("stands-for-somebody", severity)


@pytest.mark.parametrize("name", ["N'DIAYe Awa", "Ja'mARR Falk", "JA'Marr Falk"])
def test_capitals_beside_an_apostrophe_are_odd_where_a_slip_is(name: str) -> None:
    assert "odd-capitals" in codes(name)


FILLED_IN = (
    "2 people so far; Sent from my phone; Stand: 3. Mai; qwerty; aaa; Day 2; Room B; ~ Strings ~; "
    "LOW BRASS; who?; ID-00412; 12 kg; halle.example/list; Please put them on the table; "
    "無名; 欠席; 合計 12名; ゲスト3; 총 12명; שם האורח; לא מגיע; "
    "أشخاص: 12; لن يحضر; ไม่มา; không đi; "
    "Επισκέπτης 3; soția lui Dan; manželka Petra; gelmeyecek; Zeynep'in eşi; Stygininkai"
)


@pytest.mark.parametrize("name", FILLED_IN.split("; "))
def test_what_fills_a_row_in_any_script_is_stopped(name: str) -> None:
    guest = Guest(2, {"name": name, "first": "", "last": "", "role": ""})
    found = check_spelling(guest, ENGRAVED)
    assert Severity.STOP in {finding.severity for finding in found}


@pytest.mark.parametrize(
    "name",
    ["Skip Quillfeather", "Pao Vang", "Võ Văn Kiệt", "Esi Mensah", "Trần Văn Hùng", "Đặng Ngọc Lan",
     "Þangbrandur Jónsson", "Þengill Ari", "Min-young Kim", "Ramón y Cajal Soto", "Low Kia Song",
     "Gestur Ari", "أم كلثوم", "Tamu Nazari", "Zeynep Eşiyok"],
)  # fmt: skip
def test_names_that_share_letters_with_such_words_are_left_alone(name: str) -> None:
    assert codes(name) == set()


def test_a_syllable_of_vietnamese_is_read_as_it_is() -> None:
    assert codes("Maren Hale", "Kèn") == set()


@pytest.mark.parametrize(
    ("code", "name"),
    [
        ("stray-sign", "Ulrike Sommer q"),
        ("stray-sign", "Desmond Achebe v."),
        ("reads-as-remark", "Olá Teresa"),
        ("word-doubled", "Otto Otto Falk"),
    ],
)
def test_a_slip_at_the_edge_of_a_name_is_told(code: str, name: str) -> None:
    assert code in codes(name)


@pytest.mark.parametrize(
    "name",
    ["C. C. Winter", "W. W. Jacobs", "Ola Nordahl", "Muthoni wa Njoroge", "Zanele ka Dube",
     "Malcolm X", "Kofi B"],
)  # fmt: skip
def test_initials_and_particles_are_no_slip(name: str) -> None:
    assert codes(name) == set()


OFFICES = {
    "en": "Groundskeeper; Linesman; Form tutor; Head girl; Timekeeper",
    "de": "Torwart; Klassensprecherin; Kassenprüfer; Notenwart; Maskottchen",
    "fr": "Trésorière; Entraîneur; Surveillante; Proviseur; Marraine",
    "es": "Entrenadora; Tesorero; Árbitra; Utillero; Mascota",
    "pl": "Skarbnik; Bramkarz; Wychowawczyni; Prezes; Uczennica",
    "cy": "Trysorydd; Hyfforddwr; Prifathrawes; Cadeirydd; Eilydd",
    "ar": "مدرب; أمين الصندوق; متطوعة; حارس المرمى; نائب الرئيس",
    "others": "Allenatrice; Penningmeester; Dommer; Předseda; Puheenjohtaja; Казначей; Öğretmen",
}


@pytest.mark.parametrize("name", [name for line in OFFICES.values() for name in line.split("; ")])
def test_an_office_is_nobodys_name(name: str) -> None:
    """Also in a list of first names, where a word alone is usual."""
    assert "stands-for-somebody" in codes(name)


@pytest.mark.parametrize(
    ("code", "name"),
    [
        ("stands-for-somebody", "Córka Darka"),
        ("stands-for-somebody", "Žena Tomáše"),
        ("stands-for-somebody", "Сын Марины"),
        ("stands-for-somebody", "Chwaer Gareth"),
        ("stands-for-somebody", "أخت سلمى"),
        ("several-people", "حسن وابنته"),
        ("several-people", "ليلى وعائلتها"),
        ("several-people", "יוסף ואשתו"),
    ],
)
def test_kin_beside_a_name_are_told(code: str, name: str) -> None:
    assert code in codes(name)


@pytest.mark.parametrize("name", ["Zona Gale", "Rita Keeper", "Otto Lehrer", "Mark Judge"])
def test_who_is_called_as_an_office_or_kin_is_left_alone(name: str) -> None:
    assert codes(name) == set()
