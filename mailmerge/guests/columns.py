"""Which column is which: the words that clients write above them."""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import islice

from mailmerge.findings import InputError, Unsettled
from mailmerge.guests import words
from mailmerge.guests.hands import Hand
from mailmerge.guests.tables import Row, Sheet, Table

FIELDS = (
    "name", "first", "last", "role", "hand", "quantity", "side", "blank", "coat", "motif",
    "language", "note",
)  # fmt: skip
"""The fields that a list may have; ``[columns]`` of an order can add more of any name."""

_WORDS: dict[str, str] = {
    "name": """
        name, names, full name, guest, guests, guest name, name of guest, guest names, player,
        member, recipient, name on cup, name for cup, name to engrave, name to be engraved,
        engraved name, engraving, attendee, attendees, participant, participants, invitee,
        invitees, person, people, team member, employee, student, player name, member name,
        Namen, Gast, Gäste, Teilnehmer, Teilnehmerin, Gravur, vollständiger Name,
        Vor- und Nachname, Name         Vorname, Vorname Nachname, Mitglied, Spieler, nom, noms,
        invité, invités, invitée, nom         complet, nom et prénom, prénom et nom, gravure,
        nombre, nombres, invitado, invitados, nombre completo, nombre y apellidos,
        nombre y apellido, asistente, participante, nome, nomi, ospite, ospiti, invitato,
        nome completo, nome e cognome, cognome e nome, partecipante, naam, gasten, deelnemer,
        volledige naam, genodigde, convidado, convidados, namn, navn, gäst, gäster, gjest,
        gjester, gæst, gæster, deltagare, deltaker, deltager, fullständigt namn, fullt navn,
        fulde navn, nimi, koko nimi, vieras, vieraat, osallistuja, imię i nazwisko,
        nazwisko i imię, gość, goście, uczestnik, jméno, jméno a příjmení, host, hosté,
        účastník, név, teljes név, vendég, isim, ad, ad soyad, adı soyadı, guest s name,
        attendee name, participant name, invitee name, names to engrave, text to engrave,
        inscription, first and last name, first last name, first last, first name last name,
        surname first name, last name first name, Nachname Vorname, Vorname Name, prénom nom,
        nom         prénom, nombre apellidos, apellidos nombre, nome cognome, cognome nome,
        voornaam         achternaam, misafir, konuk, katılımcı, имя, фио, гость, your name, who,
        personne, personnes, persona, personas, persoon, personen, pessoa, pessoas, osoba, osoby,
        henkilö, személy, kişi, человек, άτομο, musician, musicians, Musiker,
        Musikerin, musicien, músico, musicista, text on cup,
        text on the cup, personalisation, personalization, nume, ime, vardas, όνομα,
        pupil, pupils, pupil name, scholar, child, children, choir member, Schüler, Schülerin,
        élève, élèves, alumno, alumna, alumnos, allievo, allieva, leerling, aluno, aluna, elev,
        elever, uczeń, žák, tanuló, öğrenci, oppilas, ученик, spillere, jugador, joueur, speler,
        jogador, giocatore, spelare, spiller, zawodnik, hráč, játékos, oyuncu, pelaaja, игрок,
        μαθητής, παίκτης,
        ονοματεπώνυμο, 姓名, 名前, 氏名, 이름, الاسم, שם, meno, meno a priezvisko,
        priezvisko a meno, vārds uzvārds, vārds un uzvārds, vardas pavardė, vardas ir pavardė,
        nimi ja perekonnanimi, ees ja perekonnanimi, ime i prezime, ime in priimek,
        prezime i ime, nume și prenume, nume prenume, numele, име, име и фамилия, ім'я,
        прізвище та ім'я, піб, emri, emri dhe mbiemri, nafn, fullt nafn, ainm, enw, enw llawn,
        izena, izen abizenak, nom i cognoms, nom cognoms, convidat, convidats, tên, họ tên,
        họ và tên, họ và tên khách, khách mời, ชื่อ, ชื่อ สกุล, ชื่อ นามสกุล, ชื่อแขก, nama,
        nama lengkap, nama tamu, tamu, नाम, নাম, نام, نام و نام خانوادگی, اسم, الاسم الكامل,
        اسم الضيف, الضيف, שם מלא, שם האורח, אורח, お名前, ゲスト名, ゲスト, 招待客, 嘉宾, 宾客,
        来宾, 客人, 名字, 성명, 성함, 손님, 게스트, viesis, svečias, külaline, hosť, hostia,
        oaspete, invitat, invitați, gostja, gosti, гості, гости, участник, участници, участники,
        музыкант, καλεσμένος, συμμετέχων, μουσικός""",
    "first": """
        nome próprio, primeiro nome, egennavn, tilltalsnamn, kutsumanimi, first, first name,
        first names, given name, given names, forename, christian name,
        fname, Vorname, Vornamen, Rufname, prenume, prénom, prénoms, nombre de pila,
        nome di battesimo, voornaam, fornavn, förnamn, etunimi, imię, křestní jméno, keresztnév,
        adı, 名, krstné meno, vārds, eesnimi, ім'я особисте, prenumele, skírnafn, tên gọi,
        nama depan, enw cyntaf, ชื่อต้น, שם פרטי, الاسم الأول, 下の名前""",
    "last": """
        last, last name, lname, prezime, surname, family name, second name, Nachname,
        Familienname, Zuname, nom de famille, apellido, apellidos, cognome, achternaam,
        familienaam, sobrenome, apelido, efternavn, efternamn, etternavn, sukunimi, nazwisko,
        příjmení, vezetéknév, soyad, soyadı, soyisim, фамилия, επώνυμο, 姓, priezvisko, uzvārds,
        pavardė, perekonnanimi, perenimi, priimek, nume de familie, прізвище, mbiemri,
        eftirnafn, sloinne, cyfenw, abizena, abizenak, cognoms, họ, นามสกุล, nama belakang,
        نام خانوادگی, اسم العائلة, שם משפחה, 苗字, 성""",
    "role": """
        role, part, title, position, instrument, job, job title, function, what they do,
        what he         does, what she does, what they play, what he plays,
        what she plays, plays, second line, occupation, profession, duty,
        voice, Rolle, Funktion, Stimme, Aufgabe, Beruf, Titel, rôle, fonction, poste, métier,
        titre, pupitre, voix, rol, papel, cargo, función, instrumento, puesto, título, voz,
        ruolo, funzione, strumento, mansione, titolo, voce, functie, taak, função, roll, stämma,
        funksjon, stemme, tittel, rooli, tehtävä, soitin, rola, funkcja, stanowisko, funkce,
        nástroj, szerep, hangszer, beosztás, görev, enstrüman, çalgı, должность, роль,
        инструмент, Funktie, functia, funcție, rolul, instrumentul, uloga, instrumentas,
        pareigos, loma, zanimanje, glazbalo, ammatti, szólam, szerepkör, rol op het podium,
        taakomschrijving, úloha, funkcia, pozícia, nástroj v orchestri, amats, instruments,
        pienākumi, loma orķestrī, vaidmuo, roll orkestris, pill, ametikoht, amet, vloga,
        glasbilo, inštrument, rol în orchestră, rolul în orchestră, post, роля, інструмент,
        посада, партія, роль в оркестре, roli, instrumenti, hlutverk, hljóðfæri, ról, uirlis,
        rôl, offeryn, eginkizuna, tresna, càrrec, vai trò, nhạc cụ, chức vụ, chức danh, vị trí,
        ตำแหน่ง, หน้าที่, บทบาท, เครื่องดนตรี, peran, posisi, jabatan, alat musik, भूमिका, نقش,
        ساز, الآلة, الوظيفة, כלי, כלי נגינה, 職種, 職名, 职务, 乐器 声部, 직책, 직위, their job,
        their role, their instrument, his job, her job, role part, part role, role or part,
        role or instrument, instrument or role, instrument part, part or instrument,
        job or role, ρόλος, όργανο, θέση, 役割, パート, 楽器, 担当, 角色, 职位, 乐器, 역할,
        파트, 악기, الدور, תפקיד""",
    "hand": """
        hand, handed, handedness, holding hand, left right, left or right, right or left, l r, l
        or r, left handed, left hand, left hander, lefty, lefties, which hand, Händigkeit,
        Linkshänder, links rechts, links oder rechts, welche Hand, main, gaucher, gauche ou
        droite, latéralité, mano, zurdo, zurda, izquierda o derecha, mancino, linkshandig, mão,
        canhoto, vänsterhänt, hånd, venstrehendt, kæthåndet, käsi, kätisyys, vasenkätinen, ręka,
        leworęczny, ruka, levák, el, solak, right handed, right hand, right hander, righty,
        Rechtshänder, droitier, diestro, diestra, destrimano, rechtshandig, destro, högerhänt,
        høyrehendt, højrehåndet, oikeakätinen, praworęczny, pravák, sağlak, llaw, اليد""",
    "quantity": """
        quantity, qty, how many, number of cups, no of cups, cups, pieces, pcs, count, amount,
        Anzahl, Menge, Stück, Stückzahl, wie viele, quantité, combien, nombre de tasses,
        cantidad, unidades, cuántos, cuántas, quantità, pezzi, quanti, aantal, stuks, quantidade,
        qtd, antal, antall, määrä, kpl, lukumäärä, ilość, sztuk, liczba, počet, kusů, množství,
        mennyiség, darab, adet, miktar, количество""",
    "side": "side, face, which side, Seite, côté, lado, lato, zijde, sida, strana, strona, oldal",
    "blank": """
        blank, cup, mug, tumbler, kind of cup, type of cup, which cup, cup type, which mug,
        Becher, Tasse, welcher Becher, tasse, gobelet, taza, vaso, tazza, beker, mok, caneca,
        copo, mugg, krus, muki, kubek, hrnek, bögre, kupa, bardak, cwpan, الكوب""",
    "coat": """
        coat, colour, color, cup colour, cup color, colour of cup, color of cup, coat colour,
        coating, finish, Farbe, Becherfarbe, couleur, colore, kleur, cor, färg, farge, farve,
        väri, kolor, barva, szín, renk, цвет, lliw, اللون""",
    "motif": """
        motif, motifs, motive, ornament, emblem, which motif, motif on cup, Motiv, Motive, Ornament,
        motivo, motivos, motivi, motief, motiv, motyw, ornement, adorno, ornamento, motiff,
        الزخرفة""",
    "language": """
        language, lang, mother tongue, language tag, Sprache, langue, idioma, lingua, taal,
        språk, sprog, kieli, język, jazyk, nyelv, dil, язык""",
    "note": """
        note, notes, remark, remarks, comment, comments, special requests, Bemerkung,
        Bemerkungen, Anmerkung, Anmerkungen, Notiz, Notizen, Hinweis, Kommentar, remarque,
        remarques, commentaire, commentaires, nota, notas, observaciones, comentarios,
        osservazioni, opmerking, opmerkingen, observações, anmärkning, merknad, bemærkning,
        huomautus, uwagi, poznámka, poznámky, megjegyzés, not, notlar, примечание""",
}
"""What clients write above their columns. Common practice, from memory, in many languages."""
_PERHAPS_WORDS = {
    "name": """
        engrave, text 1, line 1, first line, top line, upper line, line one, text line 1,
        zeile 1, erste zeile, text oben, ligne 1, première ligne, línea 1, primera línea,
        riga 1, prima riga, regel 1, eerste regel, linha 1, rad 1, linje 1, řádek 1, wiersz 1,
        1 sor, satır 1, rivi 1, what to engrave, engrave this, on the cup, cup says, cup text,
        who it is for, for whom, whose cup""",
    "role": """
        seat, chair, section, sections, group, ensemble, choir, division, department,
        seat in section,
        Sektion, Gruppe, Register, Pult, Abteilung, Satz, section d'orchestre, groupe, sección,
        grupo, atril, sezione, gruppo, fila, sectie, groep, afdeling, naipe, seção, secção,
        sektion, grupp, seksjon, gruppe, jaosto, ryhmä, sekcja, grupa, sekce, skupina, szekció,
        csoport, secția, secțiune, partida, bölüm, grup, секция, группа, партия, τμήμα, ομάδα,
        line 2, text 2, line two, bottom line, lower line, text line 2, under the name,
        below the name, beneath the name, under name, below name, text below,
        text below the name, zeile 2, zweite zeile, unter dem namen, unterzeile, text unten,
        ligne 2, deuxième ligne, sous le nom, línea 2, segunda línea, debajo del nombre, riga 2,
        seconda riga, sotto il nome, regel 2, tweede regel, onder de naam, linha 2,
        abaixo do nome, rad 2, under namnet, linje 2, under navnet, řádek 2, pod jménem,
        wiersz 2, pod nazwiskiem, 2 sor, a név alatt, satır 2, ismin altında, rivi 2,
        nimen alla, под именем, κάτω από το όνομα""",
}
"""What stands above names and roles where no other column holds them. From memory."""
_LAST_FIRST = """
    last first, surname first name, last name first name, Nachname Vorname, Name Vorname, nom
    prénom, nom et prénom, apellidos nombre, cognome nome, cognome e nome, nazwisko i imię, фио"""
"""Of those above names, the ones that put the last name first."""

_LEFT = """
    left links linksh gauch izquier zurd sinistr mancin esquerd canhot vänster venstre kæthånd vasen
    lewo levák solak"""
_RIGHT = """
    right recht droit derech diestr destr direit höger høyre højre oikea prawo pravák sağlak"""
"""How words for left and right begin, in headings above the hand."""

_LABELS = {"first": "First name", "last": "Last name"}


def label_of(field: str) -> str:
    """Return what a field is called where people read it."""
    return _LABELS.get(field, field.replace("_", " ").capitalize())


HEADER_WITHIN = 30
"""The header is looked for in this many rows; titles and addresses above it are shorter."""

_LONGEST_HEADER = 200


@dataclass(frozen=True)
class Columns:
    """Where the fields stand: the header's row number, and the column (from 0) of each field."""

    header_row: int
    of: Mapping[str, int]
    titles: Mapping[str, str]
    """What the list calls each field."""
    unused: tuple[str, ...] = ()
    """Headers that were not taken for any field."""
    width: int = 0
    """How many cells the header has, blank ones at its end left out."""
    least_width: int = 0
    """A row of delimited text with fewer cells has lost some; 0 in a workbook."""
    hand_asked: Hand | None = None
    """The hand that a yes means; None where the header names both or none."""
    hidden: tuple[str, ...] = ()
    """Headers of those that are used and hidden."""
    numbering: int | None = None
    """The column that numbers the rows, if its header says so."""
    unnamed: tuple[int, ...] = ()
    """Columns between others whose header is blank."""

    @property
    def has_name(self) -> bool:
        """Whether there is a name, whole or in parts."""
        return bool({"name", "first", "last"} & set(self.of))


def letter_of(column: int) -> str:
    """Return a spreadsheet's letters for a column counted from 0: A, B … Z, AA."""
    letters = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


_IN_BRACKETS = re.compile(r"\(.*?\)|\[.*?\]")


@lru_cache(maxsize=8192)
def _normal(header: str) -> str:
    """Return a header without case, accents, signs and remarks in brackets."""
    text = _IN_BRACKETS.sub(" ", header[:_LONGEST_HEADER])
    if not text.isascii():
        text = unicodedata.normalize("NFKD", text).casefold()
        text = "".join(char for char in text if not unicodedata.combining(char))
    return " ".join(re.findall(r"[^\W_]+", text.casefold()))


_SURNAME_LEADS = {_normal(word) for word in _LAST_FIRST.split(",")}
_LEFT_STARTS, _RIGHT_STARTS = (tuple(map(_normal, row.split())) for row in (_LEFT, _RIGHT))


def is_last_name_first(header: str) -> bool:
    """Whether a header says that each name begins with the last name."""
    return _normal(header) in _SURNAME_LEADS


def hand_asked(header: str) -> Hand | None:
    """Return the hand that a yes below a header means: ``Lefty?``; None for ``Left or right``."""
    words_of = _normal(header).split()
    is_left = any(word.startswith(_LEFT_STARTS) for word in words_of)
    is_right = any(word.startswith(_RIGHT_STARTS) for word in words_of)
    if is_left == is_right:
        return None
    return Hand.LEFT if is_left else Hand.RIGHT


_FIELD_OF = {
    _normal(word).replace(" ", ""): field
    for field, row in _WORDS.items()
    for word in row.split(",")
}
_PERHAPS = {
    field: frozenset(_normal(word).replace(" ", "") for word in row.split(","))
    for field, row in _PERHAPS_WORDS.items()
}
_WHOSE = re.compile(
    r"(?:names?|namen?|noms?|nombres?|nome|nomi|naam|namn|navn) (?:of|des|der|de|del|du|van|di|dei)"
    r" (?:(?:the|la|los|las|les|het|each|every|l) )?(?P<who>\w+)"
)
"""A heading that says whose name it is: NAME OF PLAYER, Name des Gastes."""
_OF_WHOM = re.compile(r"(?P<who>\w+?) ?s (?:full )?names?")
"""Player's name, pupils' names."""
_GENITIVES = {"gastes": "gast", "musikers": "musiker", "spielers": "spieler"}


@lru_cache(maxsize=8192)
def is_heading_of(text: str, field: str) -> bool:
    """Whether a text is a heading that stands above a field."""
    return _field_of(text) == field


def _field_of(header: str) -> str | None:
    """Return the field that a heading stands for; first_name, FirstName and First name are one."""
    normal = _normal(header)
    field = _FIELD_OF.get(normal.replace(" ", ""))
    if field is None and (match := _WHOSE.fullmatch(normal) or _OF_WHOM.fullmatch(normal)):
        who = match["who"]
        is_person = _FIELD_OF.get(_GENITIVES.get(who, who)) == "name"
        return "name" if is_person else None
    return field or _field_of_both(header)


_BETWEEN = re.compile(
    r"\s*[/&+|]\s*|\s+(?:and|or|und|oder|et|ou|y|o|e|en|of|och|og|eller|i|a|ja|és|ir|un|și|ve|и|і|та|"
    r"и/или|или|και|in)\s+",
    re.IGNORECASE,
)


def _field_of_both(header: str) -> str | None:
    """Return the field of a heading of two that say the same, or that name both parts of a name.

    Role / instrument; имя и фамилия.
    """
    found = {_FIELD_OF.get(_normal(part).replace(" ", "")) for part in _BETWEEN.split(header)}
    if len(found) == 1:
        return found.pop()
    return "name" if found in ({"first", "last"}, {"name", "last"}) else None


def recognised(headers: Sequence[str]) -> list[tuple[str, int]]:
    """Return (field, column) for every header that is one of the words clients use."""
    named = ((_field_of(text), column) for column, text in enumerate(headers))
    found = [(field, column) for field, column in named if field]
    return [*found, *_perhaps(headers, {field for field, _ in found})]


def _perhaps(headers: Sequence[str], taken: Container[str]) -> Iterator[tuple[str, int]]:
    """Yield the columns that hold names or roles only where no other ones do.

    First and last names are names, too; of several such columns, nobody knows which it is.
    """
    normal = [_normal(text).replace(" ", "") for text in headers]
    has_name = any(field in taken for field in ("name", "first", "last"))
    for field, words_of in _PERHAPS.items():
        at = [column for column, text in enumerate(normal) if text in words_of]
        if len(at) == 1 and field not in taken and not (field == "name" and has_name):
            yield field, at[0]


def match_columns(table: Table, sheet: Sheet, override: Mapping[str, str]) -> Columns | None:
    """Return the columns of a sheet, or None where no row of its top names a guest.

    The header is the row with the most columns that we know, the first of equals.

    Parameters
    ----------
    override
        ``[columns]`` of the order: field to header, where the words do not match or a list has
        columns of its own. ``""`` for a field that no column holds, whatever it is called.

    Raises
    ------
    InputError
        Two columns could be the same field, or a header of ``override`` is not there.
    """
    top = list(islice(sheet.rows(), HEADER_WITHIN))
    if any(override.values()):
        return _overridden(table, sheet, top, override)
    candidates = [(_meant(row, override), row) for row in top]
    candidates = [
        (found, row) for found, row in candidates if {"name", "first", "last"} & dict(found).keys()
    ]
    if not candidates:
        return None
    found, row = max(candidates, key=lambda candidate: len(dict(candidate[0])))
    return _columns(table, sheet, row, found)


def _meant(row: Row, override: Mapping[str, str]) -> list[tuple[str, int]]:
    """Return (field, column) for a row's headers, but for fields that no column holds."""
    found = recognised([cell.text for cell in row.cells])
    return [(field, at) for field, at in found if field not in override]


def _columns(table: Table, sheet: Sheet, row: Row, found: list[tuple[str, int]]) -> Columns:
    of: dict[str, int] = {}
    for field, column in found:
        if field in of:
            both = (of[field], column)
            one, other = (words.column(row.cell(c).text, letter_of(c)) for c in both)
            where = words.place(table.path, sheet.name, row.number)
            headers = _unlike(row.cell(c).text for c in both)
            raise Unsettled(words.two_columns(where, field, one, other), field, headers)
        of[field] = column
    titles = {field: row.cell(column).text.strip() for field, column in of.items()}
    unused = tuple(
        " ".join(cell.text.split())
        for column, cell in enumerate(row.cells)
        if cell.text.strip() and column not in of.values()
    )
    filled = [at for at, cell in enumerate(row.cells, start=1) if cell.text.strip()]
    width = max(filled, default=0)
    hidden = tuple(titles[field] for field, at in of.items() if at in sheet.hidden_columns)
    least = min(width, sheet.usual_width)
    asked = hand_asked(titles.get("hand", ""))
    numbering = next(
        (at for at, cell in enumerate(row.cells) if at not in of.values() and _numbers(cell.text)),
        None,
    )
    unnamed = tuple(at for at, cell in enumerate(row.cells[:width]) if not cell.text.strip()
                    and not cell.merged and at not in of.values())  # fmt: skip
    return Columns(row.number, of, titles, unused, width, least, asked, hidden, numbering, unnamed)


_NUMBERINGS = frozenset(
    [
        "no",
        "nr",
        "n",
        "num",
        "number",
        "numero",
        "num",
        "nummer",
        "numer",
        "cislo",
        "lfd",
        "pos",
        "sr",
    ]
)


def _numbers(header: str) -> bool:
    """Whether a header stands above a numbering: #, No., lfd. Nr."""
    return header.strip() == "#" or (
        bool(header.strip()) and {*_normal(header).split()} <= _NUMBERINGS
    )


def is_header(row: Row, columns: Columns) -> bool | None:
    """Return whether a row below the header is the same once more; None for one with other columns.

    False for a guest: nobody is called by two headings.
    """
    if not _may_be_header(row, columns):
        return False
    known = recognised([cell.text for cell in row.cells])
    same = [field for field, at in columns.of.items()
            if row.cell(at).text.strip()
            and _normal(row.cell(at).text) == _normal(columns.titles[field])]  # fmt: skip
    if len(same) >= 2 or (same and len(columns.of) == 1):
        return True
    fields = {field for field, _ in known}
    if len(fields) >= 2 and fields & {"name", "first", "last"}:
        return None if any(columns.of.get(field) != at for field, at in known) else True
    return False


def _may_be_header(row: Row, columns: Columns) -> bool:
    """Whether enough cells of a row are headings.

    From its end, where those stand that are as in other rows: the rest need not be looked at once
    they are too few.
    """
    wanted = 1 if len(columns.of) == 1 else 2
    texts = [cell.text for cell in row.cells if cell.text.strip()]
    titles = set(map(_normal, columns.titles.values()))
    while len(texts) >= wanted > 0:
        text = texts.pop()
        wanted -= _field_of(text) is not None or _normal(text) in titles
    return wanted == 0


def _overridden(
    table: Table, sheet: Sheet, top: Sequence[Row], override: Mapping[str, str]
) -> Columns | None:
    wanted = {_normal(header): field for field, header in override.items() if header}

    def present(row: Row) -> int:
        return len({_normal(cell.text) for cell in row.cells} & wanted.keys())

    header = max(top, key=present, default=None)
    if header is None or present(header) == 0:
        return None
    names = [cell.text for cell in header.cells]
    at: dict[str, list[int]] = {}
    for column, name in enumerate(names):
        at.setdefault(_normal(name), []).append(column)
    for word, field in wanted.items():
        if len(at.get(word, [])) != 1:
            where = words.place(table.path, sheet.name, header.number)
            known = [name.strip() for name in names if name.strip()]
            said = words.same_columns if word in at else words.no_such_column
            raise InputError(said(where, field, override[field], known))
    fixed = [(field, at[word][0]) for word, field in wanted.items()]
    taken = {column for _, column in fixed}
    free = [
        (field, column)
        for field, column in recognised(names)
        if field not in override and column not in taken
    ]
    return _columns(table, sheet, header, fixed + free)


def choose_sheet(
    table: Table, wanted: str | None, override: Mapping[str, str]
) -> tuple[Sheet, Columns]:
    """Return the sheet that holds the guests: the one named, else the only one with a name column.

    Raises
    ------
    InputError
        There is no such sheet, none has a name column, or several have.
    """
    sheets = table.sheets
    names = [sheet.name for sheet in sheets]
    if wanted is not None:
        sheets = tuple(sheet for sheet in sheets if sheet.name == wanted)
        if not sheets:
            raise InputError(words.no_such_sheet(table.path, wanted, names))
    matched = [(sheet, match_columns(table, sheet, override)) for sheet in sheets]
    with_name = [(sheet, found) for sheet, found in matched if found and found.has_name]
    if len(with_name) == 1:
        return with_name[0]
    if with_name:
        several = [sheet.name for sheet, _ in with_name]
        raise Unsettled(words.several_sheets(table.path, several), "sheet", several)
    tops = ((sheet, row) for sheet in sheets for row in islice(sheet.rows(), HEADER_WITHIN))
    rows = [(sheet, texts) for sheet, row in tops if (texts := _texts(row))]
    first = rows[0][1][:8] if rows else []
    if override and not any(found for _, found in matched):
        raise InputError(words.none_of_columns(table.path, override, HEADER_WITHIN, first))
    searched = [sheet.name for sheet in sheets]
    if not rows:
        raise Unsettled(words.no_name_column(table.path, HEADER_WITHIN, searched, {}), "name")
    sheet, widest = max(rows, key=lambda row: len(row[1]))  # a title above a header is narrower
    below = first_values(sheet, widest)
    seen = {header: below.get(header, ()) for header in widest[:8]}
    raise Unsettled(
        words.no_name_column(table.path, HEADER_WITHIN, searched, seen),
        "name",
        _unlike(widest),
    )


def _texts(row: Row) -> list[str]:
    return [text for cell in row.cells if (text := " ".join(cell.text.split()))]


def _unlike(headers: Iterable[str]) -> list[str]:
    """Return the headers that ``[columns]`` of an order can tell from each other."""
    headers = [" ".join(header.split()) for header in headers]
    count = Counter(map(_normal, headers))
    return [header for header in headers if _normal(header) and count[_normal(header)] == 1]


_VALUES_SHOWN = 2
_LONGEST_VALUE = 30


def first_values(sheet: Sheet, headers: Iterable[str]) -> dict[str, tuple[str, ...]]:
    """Return the first different texts below headers, as far as they stand near the top."""
    wanted = set(headers)
    found: dict[str, tuple[str, ...]] = {}
    at: dict[str, int] = {}
    for row in islice(sheet.rows(), HEADER_WITHIN):
        texts = [" ".join(cell.text.split()) for cell in row.cells]
        if not at:
            at = {text: column for column, text in enumerate(texts) if text in wanted}
            at = at if len(at) == len(wanted) else {}
            continue
        for header, column in at.items():
            text = texts[column][:_LONGEST_VALUE] if column < len(texts) else ""
            known = found.setdefault(header, ())
            if text and text not in known and len(known) < _VALUES_SHOWN:
                found[header] = (*known, text)
    return found
