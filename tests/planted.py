"""Lists with faults planted in them, each with what must be said of it.

A list has some twenty guests of one language whose names give no finding, roles that several of
them have, and a few faulty rows between them. All people are invented; the dice are seeded, so a
fault that is found missing can be looked at again.
"""

from __future__ import annotations

import csv
import datetime as dt
import random
import unicodedata
from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from openpyxl import Workbook

from mailmerge.checks.cells import check_cells
from mailmerge.checks.company import check_company
from mailmerge.checks.spelling import check_spelling
from mailmerge.findings import Finding, Severity
from mailmerge.guests import open_list

WHOLE = frozenset(("name", "role"))
"""What most layouts engrave."""


@dataclass(frozen=True)
class Language:
    """Names and roles as one language has them; none of them stands in the program's own words."""

    firsts: tuple[str, ...]
    lasts: tuple[str, ...]
    roles: tuple[str, ...]


def _language(firsts: str, lasts: str, roles: str) -> Language:
    return Language(tuple(firsts.split()), tuple(lasts.split(",")), tuple(roles.split(",")))


LANGUAGES = {
    "en": _language(
        "Marigold Tobias Rosalind Everett Beatrix Quentin Imogen Rupert Harriet Dashiell Winifred "
        "Osbert Clementine Percival Lavinia Barnaby Tabitha Crispin",
        "Underhay,McAllister,Featherstone,Okafor,Penhaligon,Brathwaite,O'Grady,Thistlewood,Larkin,"
        "Abernathy,Wainwright,Sorensen,Castellan,Yarrow,Pemberton,Drummond,Hollis,Quayle",
        "Bassoon,Trumpet,Marshal,Librarian,Treasurer",
    ),
    "de": _language(
        "Hannelore Jürgen Annegret Wolfram Friederike Götz Ingeborg Lothar Sieglinde Ruprecht "
        "Mechthild Burkhard Walburga Dietmar Gudrun Eckehard Roswitha Volker",
        "von der Heide,Großkopf,Müllenhoff,Zu Rhein,Öttinger,Brandauer,Schlüter,Kestenholz,"
        "Wagenknecht,Fürbringer,Achternbusch,Lindemann,Pfisterer,Rosenlöcher,Stubbe,Vogelsang,"
        "Wiegand,Zumsteg",
        "Fagott,Trompete,Schriftführerin,Kassenwart,Bratsche",
    ),
    "fr": _language(
        "Bérénice Théophile Anaïs Gaspard Solène Lucien Maëlle Octave Ghislaine Fulbert Noémie "
        "Aurélien Clothilde Baptiste Marjolaine Yannick Apolline Thibault",
        "d'Aubigny,de La Fontaine,Montclair,Lefèvre,Chauvigny,Beaupré,Garnier,Thévenot,Ménard,"
        "Roussillon,Delacroix,Pouliot,Sauvageau,Vaillancourt,Bissonnette,Charlebois,Quesnel,Amyot",
        "Basson,Trompette,Archiviste,Trésorière,Hautbois",
    ),
    "es": _language(
        "Ximena Rodrigo Begoña Íñigo Rocío Leandro Macarena Fermín Azucena Gonzalo Milagros Tadeo "
        "Nieves Evaristo Paloma Casimiro Encarna Baltasar",
        "de la Vega,Ibáñez,Quintanilla,Peñalver,Zubiría,Arrizabalaga,Montenegro,Villalobos,"
        ""
        "Echevarría,Salvatierra,Carrasco,Ordóñez,Belmonte,Aldecoa,Urrutia,Mondragón,Galván,Lizarraga",
        "Fagot,Trompeta,Archivera,Tesorero,Viola",
    ),
    "it": _language(
        "Ginevra Ludovico Fiammetta Ruggero Ornella Baldassarre Allegra Fulvio Mirella Ercole "
        "Costanza Rinaldo Loredana Tancredi Serafina Ottavio Viola Leandro",
        "Dell'Acqua,Di Stefano,Bellandi,Castagneto,Montefiori,Zambelli,Pellegrino,Quaranta,"
        "Ravagnani,Sant'Agata,Tagliaferri,Vespignani,Brancaleone,Guarnieri,Lombardini,Orsetti,"
        "Fiorentino,Scarpellini",
        "Fagotto,Tromba,Archivista,Tesoriere,Violino",
    ),
    "nl": _language(
        "Willemijn Sander Machteld Joost Liesbeth Gijsbert Hendrikje Floris Aleida Wouter Geertrui "
        "Diederik Fenna Ruben Tjitske Koenraad Neeltje Evert",
        "van der Velde,ter Braak,van den Berg,Achterberg,Hoogstraten,Kuipers,Veenstra,de Wit,"
        "Brouwer,Slootweg,Terpstra,Wiersma,Nijhuis,Zijlstra,Oosterhuis,Molenaar,Dijkgraaf,Cats",
        "Fagot,Trompet,Penningmeester,Bibliothecaris,Altviool",
    ),
    "nordic": _language(
        "Solveig Torbjörn Åslaug Håkon Sæunn Øystein Ragnhild Eskil Þórdís Gunnar Ylva Bjarne "
        "Sigrid "
        "Leif Astrid Knut Hjördís Vidar",
        "Sæther,Lindqvist,Ødegaard,Guðmundsdóttir,Åkerblom,Brekke,Nordahl,Haugland,Sjöberg,"
        "Kjeldsen,Ravn,Tørnquist,Eyþórsson,Dahlgren,Fosse,Granlund,Holmboe,Ueland",
        "Fagott,Trumpet,Kasserer,Bratsj,Notarkivar",
    ),
    "pl": _language(
        "Bożena Łukasz Grażyna Zbigniew Jadwiga Mieczysław Wisława Bogusław Żaneta Radosław Danuta "
        "Przemysław Halina Sławomir Urszula Kazimierz Teodora Witold",
        "Śmigielski,Wójcik,Dąbrowska,Źródło,Krzyżanowski,Żuraw,Pawłowska,Mazurkiewicz,Gołębiewski,"
        "Rybak,Czerniak,Stępień,Walczak,Bielak,Głowacka,Nowicki,Jurek,Ostrowska",
        "Fagot,Trąbka,Bibliotekarz,Skarbnik,Altówka",
    ),
    "tr": _language(
        "Gülsüm Tarık Nurşen Orhan Şebnem Volkan Pınar Çağatay Özge Kürşat Zübeyde Umut Feyza "
        "Bülent Songül Serhat Nuray Cüneyt",
        "Karagöz,Şahin,Öztürk,Yıldırım,Çelebi,Kılıç,Gündoğdu,Bayraktar,Tekin,Ünal,Erdoğan,Aksoy,"
        "Korkmaz,Doğan,Uysal,Baykal,Soylu,Tunç",
        "Fagot,Trompet,Kütüphaneci,Sayman,Viyola",
    ),
    "cy": _language(
        "Людмила Ярослав Галина Остап Варвара Тимофей Зинаида Прохор Ульяна Святослав Римма "
        "Геннадий Фёкла Борис Любовь Игнат Эвелина Жанна",
        "Соколова,Гриненко,Юрченко,Бондарь,Шмидт,Филатов,Дьяченко,Журавлёва,Эйдельман,Щербина,"
        "Ильина,Лебедь,Пуговкин,Цветаев,Яблочков,Зимин,Ильинский,Гордеев",
        "Фагот,Труба,Архивариус,Казначей,Альт",
    ),
    "el": _language(
        "Ευανθία Λεωνίδας Χρυσάνθη Θεμιστοκλής Δέσποινα Φίλιππος Ιφιγένεια Στυλιανός Πηνελόπη "
        "Γεράσιμος Ζηνοβία Ξενοφών Ασπασία Περικλής Ουρανία Δημοσθένης Καλλιόπη Λάμπρος",
        ""
        "Παππάς,Σταυρίδης,Ψαράς,Ξανθάκη,Φωτιάδης,Γαλανός,Λιάπης,Δελής,Ζήσης,Θεοδώρου,Ράλλη,Σαββίδης,"
        "Φλώρος,Χαλκιάς,Ωραιόπουλος,Λεβέντη,Δράκος,Γρίβας",
        "Φαγκότο,Τρομπέτα,Ταμίας,Βιόλα,Γραμματέας",
    ),
}  # fmt: skip


class Unclosed(str):
    """A text of which only the first quotation mark is in the file."""

    __slots__ = ()


Person = tuple[str, str]
"""First name and last name."""


@dataclass(frozen=True)
class Fault:
    """Rows to plant, and what must be said of them."""

    kind: str
    rows: tuple[tuple[object, ...], ...]
    """Cells of each row, under the headings Name and Role."""
    codes: frozenset[str]
    """One of these at least, on each row."""
    stops: bool = False
    """Whether one of them must be a stop."""
    engraved: frozenset[str] = WHOLE
    only: str = ""
    """The one kind of file in which it can be."""
    is_last: bool = False
    """Whether all that follows it in its list is lost, too."""
    told: tuple[int, int | None] = (0, None)
    """From which of its rows, and up to which, it must be told."""
    beside: tuple[tuple[object, ...], ...] = ()
    """Rows without fault that it needs in its list."""


@dataclass
class Planted:
    """One list with its faults, and the rows on which they stand."""

    name: str
    rows: list[tuple[object, ...]]
    ending: str
    faults: list[tuple[Fault, tuple[int, ...]]] = field(default_factory=list)


def _codes(words: str) -> frozenset[str]:
    return frozenset(words.split())


Make = Callable[[random.Random, Language, Person, str], Iterator[Fault]]


def _of(kind: str, cells: object, role: object, codes: str, **more: object) -> Fault:
    return Fault(kind, ((cells, role),), _codes(codes), **more)  # type: ignore[arg-type]


def _shape(dice: random.Random, lang: Language, who: Person, role: str) -> Iterator[Fault]:
    first, last = who
    yield Fault("row too wide", ((last, first, role),), _codes("row-too-wide"), True, only=".csv")
    yield Fault("row too short", ((f"{first} {last}",),), _codes("role-missing"), only=".csv")
    yield Fault("header again", (("Name", "Role"),), _codes("header-again"), True)
    yield Fault(
        "second table",
        (("Role", "Name"), (role, f"{first} {last}")),
        _codes("below-other-header"), True, is_last=True, told=(1, None),
    )  # fmt: skip
    others = dice.sample(lang.firsts, 2)
    yield Fault(
        "quotation mark not closed",
        ((Unclosed(f"{first} {last}"), role), *((f"{other} {last}", role) for other in others)),
        _codes("quote-open"), True, only=".csv", is_last=True, told=(0, 1),
    )  # fmt: skip


def _values(dice: random.Random, _lang: Language, _who: Person, role: str) -> Iterator[Fault]:
    day = dt.date(2026, dice.randint(1, 12), dice.randint(1, 28))
    number = dice.choice([dice.randint(40_000, 47_000), round(dice.random() * 90, 3)])
    said = day.strftime(dice.choice(["%Y-%m-%d", "%d.%m.%Y", "%d/%m/%y", "%d-%b", "%b-%y"]))
    for text in (said, "1e5", str(number), "FALSE", "#NAME?", "#DIV/0!", "=B7", "Err:502"):
        yield _of("value in a text file", text, role, "name-is-date name-is-number name-is-truth "
                  "name-is-error name-is-formula", stops=True, only=".csv")  # fmt: skip
    for cell in (day, number, dice.choice([True, False]), "#REF!", "=A3&B3"):
        yield _of("value in a workbook", cell, role, "name-is-date name-is-number name-is-truth "
                  "name-is-error name-no-value name-is-formula",
                  stops=True, only=".xlsx")  # fmt: skip


NOBODY = (
    "Pending", "Vacant", "Unassigned", "Cancelled", "Withdrawn", "No show", "Declined",
    "Awaiting name", "Missing", "Name pending", "Left blank", "Nobody yet", "Not coming",
    "Someone", "Name to come", "Do not engrave", "Illegible", "Not sure yet", "Whoever comes",
    "To be advised", "See e-mail", "Dummy", "Open seat", "No name", "Platzhalter", "Abgesagt",
    "Steht noch aus", "noch nicht bekannt", "Entfällt", "Kein Name", "wie besprochen",
    "Noch unklar", "bitte nachfragen", "À préciser", "En attente", "Annulé", "pas encore connu",
    "Sans nom", "Absente", "voir liste", "Pendiente", "Vacante", "por asignar", "Sin nombre",
    "aún no se sabe", "Cancelado", "In attesa", "da assegnare", "Annullato", "senza nome",
    "non ancora noto", "Afgemeld", "Vervalt", "nog niet bekend", "zonder naam", "A determinar",
    "Pendente", "sem nome", "ainda não sei", "Saknas", "ej klart", "Mangler", "ikke klar ennå",
    "uten navn", "Do ustalenia", "nieobecny", "jeszcze nie wiadomo", "bude upřesněno",
    "bez jména", "Ei tiedossa", "İptal", "Boş", "henüz belli değil", "isimsiz", "Уточняется",
    "не указано", "Отсутствует", "без имени", "Εκκρεμεί", "δεν ξέρουμε ακόμα", "χωρίς όνομα",
)  # fmt: skip
SOMEBODY = (
    "Bouncer", "Florist", "Chauffeur", "Bartender", "Fiancée", "Grandma", "Groomsman",
    "Bridesmaid", "Neighbour", "Intern", "Understudy", "Pianist", "Soundman", "Nephew",
    "Big sister", "The twins", "friend of Imogen", "Rupert's wife", "Imogen's date",
    "wife of Rupert", "Date", "Toddlers", "Bookkeeper", "Nachbar", "Praktikant",
    "Floristin", "Trauzeuge", "Freundin von Lothar", "Verlobte", "Cousine", "Tante",
    "Grand-mère", "Voisin", "Serveuse", "Fiancé", "ami de Lucien", "la femme de Gaspard",
    "Stagiaire", "Abuela", "Vecino", "Novia", "Camarera", "amigo de Tadeo",
    "la hermana de Rocío", "Nonna", "Vicino", "Fidanzata", "amico di Fulvio", "Cameriere",
    "Buurman", "Verloofde", "vriend van Joost", "Stagiair", "Avó", "Namorada", "Vizinho",
    "Visitor", "Deputy", "Stand-In", "Accompanist", "Gift", "Raffle Prize", "Ehemann", "Besucher",
    "Suppléante", "Visiteur", "Sustituto", "Regalo", "Sostituta", "Vervanger", "Ersättare",
    "Zastępca", "Náhrada", "Helyettes", "Yedek", "Запасной", "来宾", "손님",
    "Granne", "Mormor", "Nabo", "Kæreste", "kompis til Leif", "Babcia", "Sąsiad", "Narzeczona",
    "Babička", "Soused", "Isoäiti", "Naapuri", "Komşu", "Nişanlı", "Сосед", "Бабушка", "подруга",
    "Γείτονας", "Γιαγιά",
)  # fmt: skip
IN_PART = (
    "{0} n/a", "n/a {1}", "{0} TBA", "k.A. {1}", "{0} Unbekannt", "{0} Desconocido", "Unknown {1}",
    "Reserved Chair", "{0} Reserviert", "Additional Player", "Fourth Horn", "Spare Mug",
    "Vacant Place", "New Cellist", "Unknown Trumpeter", "Deputy Oboe", "Sound Crew",
    "Our Accompanist", "Prize Mug", "{0}s Dad", "Mystery Player", "Zweites Horn Dritter Platz",
    "Voornaam Achternaam", "Jméno Příjmení", "Erika Mustermann", "Joe Bloggs", "Plus Guest",
)  # fmt: skip
PERHAPS = ("Infant {1}", "Begleitung {1}", "Acompañante {1}", "{0} Partner", "{0} Spare")
"""What somebody may be called, however unlikely it is: told, and never stopped for sure."""
BESIDE = ("x {0}", "{0} NEW", "{0} right handed", "{0} c/o Vogel", "{0} Linkshänder", "{0} LEFTY")
AROUND = (
    "Dear {0}", "Hello {0} {1}", "Kind regards", "Hartelijke groet", "Distinti saluti",
    "Dziękuję", "Type Name Here", "Ihr Name hier", "Familie {1}", "{0} {1} plus one",
    "{0} {1} & wife", "+ partner", "Oui", "Nej",
)  # fmt: skip
ROLES_THAT_ARE_NONE = (
    "tbs", "N.N.", "none yet", "nothing", "see list", "pending", "not sure", "//", "***", "12",
    "...", "1899-12-30", "=C4", "#VALUE!", "n.b.", "to follow", "no idea", "don't know",
    "as last year", "egal", "weiß nicht", "noch unklar", "nichts", "ohne", "wird nachgereicht",
    "rien", "sans", "pas encore", "à préciser", "nada", "sin", "pendiente", "niente", "senza",
    "in attesa", "niets", "geen idee", "nog niet", "nada ainda", "inget", "vet ikke", "nic",
    "nvt", "entfällt", "any", "sans objet", "bez", "nie wiem", "ei ole",
    "belli değil", "boş", "не знаю", "пусто", "δεν ξέρω", "κανένα",
)  # fmt: skip


def _words(dice: random.Random, _lang: Language, who: Person, role: str) -> Iterator[Fault]:
    doubt = "not-a-name stands-for-somebody reads-as-remark"
    for word in dice.sample(NOBODY, 3):
        yield _of("no name", word, role, doubt, stops=True)
    for word in dice.sample(SOMEBODY, 3):
        yield _of("somebody without a name", word, role, doubt, stops=True)
    for form in dice.sample(IN_PART, 2):
        told = f"{doubt} several-people"  # Plus Guest
        yield _of("no name in part", form.format(*who), role, told, stops=True)
    around = dice.choice(AROUND).format(*who)
    yield _of("a letter's words, a companion", around, role, f"{doubt} several-people", stops=True)
    yield _of("no name in part, perhaps", dice.choice(PERHAPS).format(*who), role, doubt)
    yield _of("remark beside a name", dice.choice(BESIDE).format(" ".join(who)), role,
              "reads-as-remark odd-capitals")  # fmt: skip
    for word in dice.sample(ROLES_THAT_ARE_NONE, 2):
        yield _of("role that is none", " ".join(who), word, "not-a-role remark-in-role "
                  "role-is-date role-is-formula role-is-error role-no-value")  # fmt: skip
    yield _of("title alone", dice.choice(("Mr.", "Prof. Dr.", "Frau", "Madame", "Ing.", "Dr.med.",
              "Mr & Mrs", "Sig.ra", "Señora", "Rev. Dr.")), role,
              "title-only several-people stands-for-somebody", stops=True)  # fmt: skip
    several = ("2x", "x 3", "3 pcs", "4 Stück", "5 people", "+ 2", "2 adults", "two seats", "1 + 1",
               "2 Personen", "3 personnes", "2 cups")  # fmt: skip
    yield _of("quantity", dice.choice(several), role, "several-people digits name-is-number "
              "stands-for-somebody not-a-name reads-as-remark name-is-formula",
              stops=True)  # fmt: skip
    yield _of("number that counts", dice.choice(COUNTS), role, "not-a-name stands-for-somebody",
              stops=True)  # fmt: skip
    yield _of("address or number", dice.choice(ADDRESSES).format(*who), role,
              "e-mail web-address telephone name-is-number", stops=True)  # fmt: skip
    yield _of("quantity", f"{' '.join(who)} {dice.choice(('x2', '(2)', '2x', '+1', '- 2 cups'))}",
              role, "several-people digits role-in-name")  # fmt: skip
    heads = ("=== {} ===", "{}:", "-- {}", "* {}s", "{}S:", "~ {} ~", "[{}]", "{} ({})")
    yield _of("heading", dice.choice(heads).format(role, 4), "", "heading", stops=True)


ALONE = ("Stage Manager", ("Stage Manger", "Stagemanager", "Stage manager", "Stage Managers"))
SPLIT = [("Harriet", "Dunmore"), ("Oscar", "Bellamy"), ("Ines", "Carvalho"), ("Felix", "Brandt"),
         ("Nadia", "Kowalczyk"), ("Theo", "Marchetti"), ("Ruth", "Abelson"),
         ("Mateo", "Salcedo")]  # fmt: skip


def _roles(dice: random.Random, _lang: Language, who: Person, role: str) -> Iterator[Fault]:
    at = dice.randrange(1, len(role) - 2)
    slips = [role[:at] + role[at + 1] + role[at] + role[at + 2 :], role[:at] + role[at + 1 :],
             role[:at] + role[at] + role[at:], role[:at] + "q" + role[at + 1 :]]  # fmt: skip
    slip = dice.choice([s for s in slips if s != role])
    yield _of("near miss of a role", " ".join(who), slip, "role-alike mixed-alphabets")
    yield Fault("slip at one other with the role", ((" ".join(who), dice.choice(ALONE[1])),),
                _codes("role-alike"),
                beside=(("Ottoline Quillfeather", ALONE[0]),))  # fmt: skip
    yield _of("plural of a role", " ".join(who), role + "s", "role-alike")
    yield Fault("first and last name in two columns",
                tuple((first, last) for first, last in dice.sample(SPLIT, 4)),
                _codes("name-in-two"))  # fmt: skip
    yield _of("name and role exchanged", role, " ".join(who), "name-is-role", stops=False)
    yield _of("blank role", " ".join(who), "", "role-missing")
    remark = ("(old one is broken)", "[was not here last year]", "(please ask)", "- ask her again",
              "(new since May, ask)", "?", "(maybe)", "(see mail, not sure)", "!!", "(neu, bitte)",
              "(pas sûr)", "/ or perhaps another", "(ask Petra)", "- tbc")  # fmt: skip
    yield _of("role with a remark", " ".join(who), f"{role} {dice.choice(remark)}",
              "remark-in-role not-a-role")  # fmt: skip
    remark = ("(please check)", "(spelling?)", "- late", "?", "(new)", "see mail", "(bitte prüfen)",
              "with two n", "*", "!", "(orthographe à vérifier)", "not sure", "/ ask Petra", "tbc",
              "(cancelled)", "- kommt nicht", "(vegan)", "nuts allergy")  # fmt: skip
    yield _of("name with a remark", f"{' '.join(who)} {dice.choice(remark)}", role,
              "role-in-name stray-sign reads-as-remark not-a-name odd-sign "
              "odd-capitals nickname")  # fmt: skip


def _twice(dice: random.Random, _lang: Language, who: Person, role: str) -> Iterator[Fault]:
    first, last = who
    name = f"{first} {last}"
    others = [(name, "same again"), (name.upper(), "in capitals"), (f"{last} {first}", "turned"),
              (f"{last}, {first}", "with a comma"), (f"Dr. {name}", "with a title"),
              (f"{name}.", "with a full stop"), (f"{name} jun.", "with a suffix")]  # fmt: skip
    plain = name.translate(
        str.maketrans("üöäøåéèêíóáñçşğıłżźśąęãõæðþ", "uoaoaeeeioancsgilzzsaeaoadt")
    )
    if plain != name:
        others.append((plain, "without its accents"))
    if "'" in name:
        others.append((name.replace("'", "’"), "with another apostrophe"))
        others.append((name.replace("'", ""), "without its apostrophe"))
    if " " in last:
        others.append((f"{first} {last.replace(' ', '-')}", "with a hyphen"))
        others.append((f"{first} {last.title()}", "with other capitals"))
    at = dice.randrange(1, len(first) - 2)
    slip = first[:at] + first[at + 1] + first[at] + first[at + 2 :]
    if slip != first:
        others.append((f"{slip} {last}", "two letters exchanged"))
    others.append((f"{first[:at]}{first[at]}{first[at:]} {last}", "a letter twice"))
    others.append((last.split()[-1] if " " not in last else last, "the last name alone"))
    others.append((f"{first} B. {last}", "with a middle initial"))
    others.append((f"{first} {last}-Quist", "with a second last name"))
    others.append((f"{first[0]}. {last}", "with an initial"))
    for other, how in dice.sample(others, 4):
        both = ((name, role), (other, role))
        yield Fault(f"twice: {how}", both, _codes("duplicate name-alike"))
    for one, other in dice.sample(SHORT, 1):
        both = ((f"{one} {last}", role), (f"{other} {last}", role))
        yield Fault("twice: a short form", both, _codes("name-alike"))
    yield _of("one person's word twice", f"{name} {last}", role, "word-doubled")


SHORT = [("Leonard", "Len"), ("Kathryn", "Catherine"), ("Steven", "Stephen"), ("Sofia", "Zofia"),
         ("Frederik", "Frederic"), ("Johannes", "Hannes"), ("Aleksey", "Alexei"),
         ("Kathleen", "Kath"), ("Wilhelmina", "Mina"), ("Archibald", "Archie"),
         ("Sebastian", "Seb"), ("Florence", "Flo"), ("Nathaniel", "Nate"), ("Dominique", "Dom"),
         ("Konstantin", "Kostya"), ("Katharina", "Kathi"), ("Maximilian", "Max"),
         ("Franz", "Franzl"), ("Beatrice", "Bea"), ("Concepción", "Concha"), ("Vincenzo", "Enzo"),
         ("Zachary", "Zach"), ("Cassandra", "Cass"), ("Valentina", "Vale"), ("Gabrielle", "Gaby"),
         ("Joshua", "Josh"), ("Tobias", "Toby"), ("Ekaterina", "Katya")]  # fmt: skip


def _letters(dice: random.Random, lang: Language, who: Person, role: str) -> Iterator[Fault]:
    first, last = who
    name = f"{first} {last}"
    other = dice.choice([each for each in lang.firsts if each != first])
    joined = ("{0} & {1} {2}", "{0} and {1} {2}", "{0} {2} / {1}", "{0}, {1} {2}", "{0} {2} + {1}",
              "{0} {2}; {1} {2}", "{0} und {1} {2}", "{0} et {1}", "{0} y {1} {2}", "{0} og {1}",
              "{0} {2}, {1} {2}", "{0} i {1} {2}", "{0} e {1} {2}", "{0} ve {1}", "{0} и {1} {2}",
              "{0} och {1} {2}", "{0} & Co", "{0} {2}\n{1} {2}", "{0} {2} with {1}", "{0} u. {1}",
              "{0} {2} mit {1}", "{0} {2} plus {1}", "Mr and Mrs {2}", "{0}&{1}", "{0} {2} (+ {1})",
              "{0} {2} and family", "{0} {2} + guest", "Fam. {2}", "{0} {2} avec {1}")  # fmt: skip
    for form in dice.sample(joined, 3):
        yield _of("two people", form.format(first, other, last.split()[-1]), role, "several-people "
                  "lines-in-cell comma-in-name stray-sign reads-as-remark "
                  "role-in-name")  # fmt: skip
    low = last.split()[-1]
    cases = (f"{first[0].lower()}{first[1:].upper()} {last}", f"{first.lower()} {last}",
             f"{first[:2].upper()}{first[2:]} {last}", f"{first} {low.upper()}",
             f"{first.upper()} {low.lower()}", f"{first} {low.lower()}", f"{first[:-1]}"
             f"{first[-1].upper()} {last}",
             name.swapcase(), name.lower(), name.upper())  # fmt: skip
    for case in dice.sample(cases, 3):
        yield _of("capitals", case, role, "odd-capitals all-capitals all-lower-case words-joined")
    signs = (f"{name},", f"“{name}”", f"- {name}", f"{name} -", f"@{first}", f"{first} {last};",
             f"{first} “{other}” {last}", f"{first} '{other}' {last}", f"{first} ({other}) {last}",
             f"{first}{low}" if low[0].isupper() else f"{name},", f"{first}, {last},", f"’{name}’",
             f"{first} .{last}", f"{first}_{low}", f"({name})", f"{first} {last}\\", f"<{name}>",
             f"{first[0]}@{first[2:]} {last}" if first[1] == "a" else f"{name}|", f"~{name}~",
             f"{name}…", f"{name} --", f"1. {name}", f"a) {name}", f"• {name}",
             f"{first}  . {last}",
             f"{first}..{last}", f"{name}%", f"{name} *", f"={name}")  # fmt: skip
    for signed in dice.sample(signs, 4):
        yield _of("punctuation", signed, role, "stray-sign nickname words-joined odd-sign heading "
                  "digits comma-in-name name-is-formula role-in-name odd-capitals")  # fmt: skip


def _is_latin(text: str) -> bool:
    return all(unicodedata.name(char).startswith("LATIN") for char in text)


def _alphabets(dice: random.Random, _lang: Language, who: Person, role: str) -> Iterator[Fault]:
    first, last = who
    if not _is_latin(first):
        return
    word = dice.choice(("Роза", "ТОМ", "Еvа", "Вера", "Аnа", "ΖΟΕ", "ΝΙΝΑ", "СОРНІЕ", "Оtto",
                        "ΚΑΤΕ", "МАТТ", "Ноrа", "Ѕаsһа", "Сара", "ΒΕΝ"))  # fmt: skip
    yield _of("look-alike letters", f"{word} {last}", role, "look-alike mixed-alphabets")
    slip = dice.choice(("lsabel", "lrene", "lngeborg", "lda", "McLntyre", "Mclnnes", "lvan"))
    if slip != "McLntyre":
        yield _of("l for I", f"{slip} {last}", role, "l-for-i odd-capitals")
    turkish = dice.choice(("Ayþegül Þimþek", "Iþýk Kaya", "Gülþen Doðan", "Çaðla Yýlmaz",
                           "Barýþ Çýnar", "Þükrü Öztürk", "Aslý Aydýn", "Nurþen Yýldýrým",
                           "Ýbrahim Kýlýç", "Tuðba Güneþ", "Oðuzhan Er",
                           "Ýsmet Kara", "Ýrem Ak", "Berk Doðan"))  # fmt: skip
    yield _of("Turkish in another code page", turkish, role, "wrong-code-page")


def _apostrophes(dice: random.Random, lang: Language, who: Person, role: str) -> Iterator[Fault]:
    first, _ = who
    if not _is_latin(first):
        return
    one, other = dice.sample(("'", "’"), 2)
    names = ("O{}Rourke", "D{}Amico", "O{}Malley", "L{}Estrange")
    usual = tuple((f"{f} {n.format(one)}", role) for f, n in
                  zip(dice.sample(lang.firsts, 3), names, strict=False))  # fmt: skip
    odd = ((f"{first} {names[3].format(other)}", role),)
    yield Fault("mixed apostrophes", odd, _codes("mixed-signs"), beside=usual)
    dash = dice.choice("‐–‑")
    usual = tuple((f"{f} {n}", role) for f, n in zip(dice.sample(lang.firsts, 3),
                  ("Ash-Corbin", "Bell-Orme", "Moss-Eddy"), strict=False))  # fmt: skip
    odd = ((f"{first} Pike{dash}Rowe", role),)
    yield Fault("mixed hyphens", odd, _codes("mixed-signs"), beside=usual)


COUNTS = ("Total: 31", "Sum 24", "Grand total 56", "Table 12", "Row 3", "Page 4 of 9",
          "Seite 3 von 7", "Gesamt: 44", "Tisch 8", "Anzahl Gäste: 30", "Total invités 40",
          "Table n° 6", "Mesa 3", "Total personas: 22", "Tavolo 5", "Totale 18", "Tafel 2",
          "Totaal: 25", "Bord 4", "Razem 33", "Stół 7", "Celkem 21", "Итого: 19", "Стол 2",
          "Σύνολο 15",
          "Toplam 27", "Masa 9")  # fmt: skip
ADDRESSES = ("{0}@example.org", "{0} {1} post@example.net", "mailto:box@example.com",
             "https://example.org/list", "www.example.de", "{0} {1} www.example.fr",
             "example.com/page", "+49 30 1234567", "0049 171 5550123", "{0} {1} (020 7946 0018)",
             "555-0142", "{0} {1} tel. +33 1 55 01 02 03", "06 12 34 56 78")  # fmt: skip
PAGES = (
    ("cp1250", "Bedřich Kořán; Vlasta Škodová Nečasová; Zdeněk Hřebačka; Wiesław Mędrek; "
     "Lesław Gałka; Halina Pióro-Ćwiek; Gergő Kőhalmi; Etele Győrffy; Zlatko Perišić; "
     "Mirna Knežević; Rok Mlinarič; Čeněk Růža; Grzegorz Węgrzyn; Bořivoj Tříska; "
     "Ľubica Koreňová; Dorin Ţîrlea"),
    ("iso8859-2", "Bedřich Škorpil; Wojciech Święty; Kinga Źródło; Bogusław Łęga"),
    ("cp1251", "Вадим Рябов; Полина Жукова; Фёдор Цыплаков"),
    ("koi8-r", "Вадим Рябов; Полина Жукова"),
    ("cp1253", "Νικόλαος Μελάς; Σοφία Ρήγα"),
    ("mac_roman", "Günter Schäfer; Désirée Bonté; Íñigo Peña; Kåre Bråten"),
    ("cp850", "Günter Schäfer; Désirée Bonté; Bjørg Bråten"),
    ("cp437", "Günter Schäfer; Désirée Bonté"),
)  # fmt: skip
"""Names by the code page in which somebody saved them."""
CODES = ("Zo&euml; {1}", "Andr&#233; {1}", "Andr&#xe9; {1}", "Andr=C3=A9 {1}", "Andr%C3%A9 {1}",
         "Andr\\u00e9 {1}", "{0} &amp; Co", "Bj=F8rn=20{1}", "{0}&nbsp;{1}")  # fmt: skip
AFTER_ROLE = ("{}, ill", "{} / moved away", "{} URGENT", "{} – brings her own", "{} [leaves early]",
              "{} x3", "2x {}", "{} 2 pcs", "{}, kommt spät", "{} (nur Samstag)", "{} - malade",
              "{}: llega tarde", "{} / parte presto", "{} thinks twice")  # fmt: skip
CUT = (("Kim Bell", "Kim Bel"), ("Jo Wynn", "Jo Wyn"), ("Lea Kopp", "Lea Kop"),
       ("Ian Dodd", "Ian Dod"), ("Nia Clark", "Nia Clarke"),
       ("Uwe Graff", "Uwe Graf"), ("Eli Penn", "Eli Pen"))  # fmt: skip
JOINED = ("Hana a Luboš", "Hana Bílá a Luboš Bílý", "Rhys ac Elen", "Maja in Tine", "Dan și Oana",
          "Joke en Piet", "Joke Vos en Piet Bakker", "Núria i Pol", "Gino e Bice", "Lina og Odd",
          "Mari ja Jukka", "Éva és Imre", "Rasa ir Tadas", "Dace un Juris", "Олена та Тарас",
          "Αλέκα και Σπύρος", "Arta dhe Agim", "Naz ile Can", "Ola i Kuba", "Ines + Rui",
          "Otto u. Lisl", "Svea & Nils", "Maite eta Jon", "王芳和李强", "سلمى و كريم")  # fmt: skip


def _misread(dice: random.Random, _lang: Language, who: Person, role: str) -> Iterator[Fault]:
    page, row = dice.choice(PAGES)
    name = dice.choice([each.strip() for each in row.split(";")])
    data = name.encode(page)
    read = "".join(chr(b) if b in b"\x81\x8d\x8f\x90\x9d" else bytes([b]).decode("cp1252")
                   for b in data)  # fmt: skip
    yield _of("wrong code page", read, role, "wrong-code-page")
    yield _of(
        "letters in code", dice.choice(CODES).format(*who), role, "wrong-code-page", stops=True
    )
    yield _of("remark after a role", " ".join(who), dice.choice(AFTER_ROLE).format(role),
              "remark-in-role")  # fmt: skip
    yield Fault("cut last name", tuple((name, role) for name in dice.choice(CUT)),
                _codes("name-alike"))  # fmt: skip
    yield _of("two people, one joiner", dice.choice(JOINED), role, "several-people")
    word = dice.choice(("Quillfeather", "Zwolle", "Thornbury", "Kestrelman"))
    turned = f"{word} {dice.choice(('Rosa', 'Victor', 'Clara'))}"
    yield Fault("last name in front", ((turned, role),), _codes("name-turned"),
                beside=((f"Oda {word}", role),))  # fmt: skip


FIRST = frozenset(("first",))


def _firsts(dice: random.Random, lang: Language, who: Person, role: str) -> Iterator[Fault]:
    first, last = who
    low = last.split()[-1]
    other = dice.choice([each for each in lang.firsts if each != first])
    forms = ("Uncle {0}", "Tante {0}", "Captain {2}", "Maestro {2}", "Don {0} {2}", "El {2}",
             "M. {0} {2}", "Pan {0} {2}", "von {2} {0}",
             "Dr. {2}", "Mrs. {2}", "The {2} Family", "{0} & {1}", "J. {2}", "Frau {2}", "Mme {2}",
             "Signora {2}", "Familie {2}", "{0} and {1} {2}", "M {2}", "R.J. {2}", "Prof. Dr. {2}",
             "Famille {2}", "Señor {2}", "{0} + {1}", "Mr. & Mrs. {0} {2}", "pan {2}", "Dhr. {2}",
             "Herr Dr. {2}", "Familia {2}", "Team {2}", "{0}/{1}", "The {2}s",
             "A. {0} {2}")  # fmt: skip
    for form in dice.sample(forms, 2):
        name = form.format(first, other, low)
        told = "first-unsure several-people"  # a family is stopped as one
        yield _of("first name unsure", name, role, told, engraved=FIRST)


MAKERS: tuple[Make, ...] = (
    _shape, _values, _words, _roles, _twice, _letters, _alphabets, _apostrophes, _firsts, _misread,
)  # fmt: skip


def planted(seed: int, rounds: int) -> Iterator[Planted]:
    """Yield lists: of each language, in both kinds of files, a few faults in each.

    Every fault of a maker stands in a list with faults of other makers; two of one maker would
    judge each other.
    """
    dice = random.Random(seed)
    for number in range(rounds):
        for name, lang in LANGUAGES.items():
            made = [_faults(make, dice, lang) for make in MAKERS]
            for at in range(max(map(len, made))):
                chosen = [faults[at] for faults in made if at < len(faults)]
                endings = [fault.only or dice.choice((".csv", ".xlsx")) for fault in chosen]
                for ending in sorted(set(endings)):
                    mine = [f for f, e in zip(chosen, endings, strict=True) if e == ending]
                    yield _list(f"{name}-{number}-{at}{ending}", mine, dice, lang, ending)


def _faults(make: Make, dice: random.Random, lang: Language) -> list[Fault]:
    """Return the faults of one maker; its person is in no list but by them."""
    at = dice.randrange(len(lang.firsts))
    role = lang.roles[dice.randrange(3)]
    return list(make(dice, _without(lang, at), (lang.firsts[at], lang.lasts[at]), role))


def _without(lang: Language, at: int) -> Language:
    firsts = tuple(first for n, first in enumerate(lang.firsts) if n != at)
    return Language(firsts, lang.lasts, lang.roles)


def _list(
    name: str, faults: list[Fault], dice: random.Random, lang: Language, ending: str
) -> Planted:
    said = " ".join(str(cell) for fault in faults for row in fault.rows for cell in row).casefold()
    firsts = [first for first in lang.firsts if first.casefold() not in said]
    lasts = [last for last in lang.lasts if last.split()[-1].casefold() not in said]
    if any(fault.kind == "mixed apostrophes" for fault in faults):
        lasts = [last for last in lasts if "'" not in last]
    dice.shuffle(firsts)
    dice.shuffle(lasts)
    people = [f"{firsts[n % len(firsts)]} {lasts[n % len(lasts)]}" for n in range(20)]
    people = list(dict.fromkeys(people))
    rows: list[tuple[object, ...]] = [(who, lang.roles[n % 3]) for n, who in enumerate(people)]
    plan = Planted(name, rows, ending)
    blocks = [(dice.randrange(1, len(rows)), fault) for fault in faults if not fault.is_last]
    for at, fault in sorted(blocks, key=lambda block: -block[0]):
        rows[at:at] = [*fault.beside, *fault.rows]
    for fault in faults:
        if fault.is_last:
            rows += fault.rows
    for fault in faults:  # by identity: two may look alike
        first = next(n for n in range(len(rows)) if rows[n] is fault.rows[0])
        numbers = tuple(range(first + 2, first + 2 + len(fault.rows)))
        plan.faults.append((fault, numbers))
    return plan


def written(plan: Planted, folder: Path) -> Path:
    """Write a list as its kind of file."""
    path = folder / plan.name
    if plan.ending == ".xlsx":
        book = Workbook()
        sheet = book.active
        assert sheet is not None
        for row in (("Name", "Role"), *plan.rows):
            sheet.append(row)
        for cells in sheet.iter_rows():
            for cell in cells:
                if isinstance(cell.value, str) and cell.value[:1] == "=" and " " in cell.value:
                    cell.data_type = "s"  # typed as a text, not as a formula
        book.save(path)
        return path
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        for cells in (("Name", "Role"), *plan.rows):
            if isinstance(cells[0], Unclosed):
                file.write(f'"{cells[0]},{cells[1]}\r\n')
            else:
                writer.writerow(cells)
    return path


def judged(path: Path, engraved: frozenset[str] = WHOLE) -> dict[int, list[Finding]]:
    """Return the findings about a list's texts by row, of every row that is a guest."""
    guests = open_list(path, None, {})
    survey = guests.survey()
    return {
        guest.row: [
            *check_cells(guest, engraved),
            *check_spelling(guest, engraved),
            *check_company(survey.remarks(guest), engraved),
        ]
        for guest in guests.guests()
    }


@dataclass
class Outcome:
    """What came of the faults, by kind, and what was said of guests without fault."""

    planted: dict[str, int] = field(default_factory=lambda: defaultdict(int))
    missed: dict[str, list[str]] = field(default_factory=lambda: defaultdict(list))
    false: list[str] = field(default_factory=list)
    clean: int = 0


def outcome(plans: Iterator[Planted], folder: Path) -> Outcome:
    """Judge lists, and compare with what was planted in them."""
    found = Outcome()
    for plan in plans:
        path = written(plan, folder)
        engraved = frozenset().union(*(fault.engraved for fault, _ in plan.faults))
        said = judged(path, engraved)
        faulty = {row for _, rows in plan.faults for row in rows}
        for fault, rows in plan.faults:
            found.planted[fault.kind] += 1
            for row in rows[slice(*fault.told)]:
                if not _is_told(said.get(row, []), fault):
                    codes = ", ".join(f"{f.code} ({f.severity.value})" for f in said.get(row, []))
                    cells = plan.rows[row - 2]
                    found.missed[fault.kind].append(f"{plan.name}:{row} {cells}: {codes or '-'}")
                    break
        for row, findings in said.items():
            if row not in faulty:
                found.clean += 1
                found.false += [f"{plan.name}:{row} {plan.rows[row - 2]}: {f.code} {f.message}"
                                for f in findings]  # fmt: skip
    return found


def _is_told(findings: list[Finding], fault: Fault) -> bool:
    least = (Severity.STOP,) if fault.stops else (Severity.STOP, Severity.WARNING)
    return any(finding.code in fault.codes and finding.severity in least for finding in findings)
