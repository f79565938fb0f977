"""What people write around an answer that says nothing about it: greetings, thanks, signatures.

The lists are short on purpose. What they do not know is asked about; a question costs a minute.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from rapidfuzz.distance import Levenshtein

from mailmerge.answers import ticks
from mailmerge.answers.politeness import (
    after_addressed,
    after_greeting,
    after_phrases,
    are_approval,
    bare,
)
from mailmerge.guests.exchanged import is_usual_first, is_usual_last
from mailmerge.guests.forms import GROUPS_OF
from mailmerge.guests.names import is_particle, is_title, plain
from mailmerge.guests.roles import is_played
from mailmerge.ledger.matching import alike

_ABOUT_CUPS_WORDS = """
no not none don't do never stop wait hold wrong error mistake cancel change instead cup cups item
items mug without missing except only but spelled spelt smaller larger leave out remove delete
cancelled canceled rejected declined refused revised postponed tomorrow typo misspelt misspelled
nope
nah correction corrections corrected number two three four five six seven eight nine eleven twelve
abgelehnt korrektur nummer zwei drei vier fünf sechs sieben acht neun elf zwölf
refusé correction numéro deux trois quatre cinq sept huit neuf onze douze
rechazado corrección número dos tres cuatro cinco seis siete ocho nueve once doce
odrzucone poprawka numer dwa trzy cztery pięć sześć siedem osiem dziewięć
gwrthodwyd cywiriad rhif tri pedwar pump chwech saith wyth naw
nobody ring call ask twice double ps p.s pps nb n.b urgent yet late again is are was should must
maybe perhaps possibly probably nearly almost hardly hopefully unsure sure unclear
vielleicht möglicherweise wahrscheinlich fast beinahe kaum unsicher unklar
peut-être probablement presque quizá quizás casi może prawie efallai ربما تقريبا تقريباً
nicht kein keine keinen nein nie stop stopp halt wartet warte warten falsch fehler statt becher
ohne ändern änderung außer aber nur storno ist soll
non ne pas jamais arrêtez arrêter attendez attendre faux fausse erreur gobelet gobelets tasse sans
changer sauf mais annuler est
nunca pare paren espere espera esperen error vaso vasos taza sin cambiar excepto pero cancelar es
nie nigdy czekaj czekać poczekaj źle błąd kubek kubki bez zmienić oprócz ale tylko anulować jest
nid dim peidiwch stopiwch aros arhoswch anghywir gwall cwpan cwpanau heb newid ond
لا ليس لم لن غير قف توقف توقفوا انتظر انتظروا خطأ خاطئ كأس الكأس كوب بدون تغيير لكن إلا فقط إلغاء"""
"""What asks for something, though it is written as names are."""

_OF_SENTENCES_WORDS = """
please make use put take add need needs want wants could can would like give keep it its it's them
they this that these those we you your our i'm all every each with too also bigger larger smaller
more less engrave engraved spell spelling big small large letter letters capital capitals
bitte macht machen nehmt nehmen schreibt schreiben gebt gravieren wir ihr sie ich es das dies diese
alle jede jeder mehr weniger größer kleiner auch sehr braucht brauchen
veuillez plaît faites faire mettez mettre prenez gravez nous je il elle ils elles ce cette ces tout
toutes tous avec plus moins aussi très
favor hagan haga pongan ponga usen graben nosotros ustedes yo ella ellos esto este estos todo todos
todas más menos también muy
proszę prosimy zróbcie dajcie weźcie użyjcie ja ono oni wszystko wszystkie każdy większe mniejsze
też bardzo więcej mniej
gwnewch rhowch ysgrifennwch nhw hwn hon rhain popeth pob gyda mwy llai hefyd iawn
نريد أريد اكتبوا اجعلوا استخدموا نحن أنا هذا هذه كلها جميعها أكبر أصغر أكثر أقل أيضا"""
"""What sentences are made of, and names hardly ever: capitals alone make no signature."""

_OF_LOOKS_WORDS = """
gold golden silver copper bronze black white red blue green burgundy yellow pink grey bold italic
script font handle rim base centre center left right top bottom front back first second third last
schwarz weiß rot blau grün silbern fett kursiv henkel links rechts oben unten erste zweite dritte
or argent noir blanc rouge bleu vert gras italique anse gauche droite premier deuxième troisième
oro plata negro blanco rojo azul verde asa izquierda derecha primero segundo tercero
złoto srebro czarny biały czerwony niebieski zielony lewo prawo pierwszy drugi trzeci
aur arian du gwyn coch glas gwyrdd chwith dde cyntaf ail trydydd"""
"""How a cup may look, and which one of several: names of people as well, but not alone."""

_DEVICE_WORDS = """
my mein meinem mon mi moim mojego fy de desde mit dem der von for on z ze o
iphone ipad iphone'a ipada phone smartphone smartfona telefonu telefon handy mobile mobil
mobiltelefon téléphone portable móvil teléfono ffôn tablet device gerät android samsung
galaxy huawei xiaomi redmi pixel nokia sony outlook mail yahoo gmail gmx aol ios app gesendet
ال الـ هاتفي جهاز جهازي"""

_OF_FILES_WORDS = """
list lists answers answer proofs proof page copy kopie von copie de copia kopia copi in filled
signed back returned re new neu final version form attachment att untitled and our my the of
liste lista antworten antwort anhang réponses réponse rempli respuestas rellenado odpowiedzi
ateb atebion rhestr قائمة إجابات نسخة
january february march april may june july august september october november december
jan feb mar apr jun jul aug sep oct nov dec"""
"""What files that come back are called."""

_JOINING = frozenset(("the", "of", "and", "&", "und", "y", "i", "a"))
_OF_TWO = frozenset(("and", "&", "+", "und", "et", "e", "y", "i", "a", "og", "och"))
"""What stands between the names of two people."""

_POST_WORDS = """
secretary chair chairman chairwoman chairperson treasurer director manager assistant office
orchestra conductor president organiser organizer committee client administrator coordinator
librarian vice-chair vice-president
vorsitzende vorsitzender schriftführer schriftführerin kassenwart kassenwartin kassiererin kassierer
geschäftsführer geschäftsführerin orchestermanagerin präsident präsidentin schatzmeister
schatzmeisterin trésorier trésorière président présidente directeur directrice presidente presidenta
tesorero tesorera directora prezes skarbnik dyrektor dyrektorka przewodniczący przewodnicząca
cadeirydd trysorydd cyfarwyddwr
sekretariat sekretärin sekretär büro vorstand leitung assistenz secrétaire secrétariat bureau
secretaria secretario oficina sekretarz sekretarka biuro ysgrifennydd swyddfa"""
"""What people write of themselves behind their name."""

_FIRST_NAMES_WORDS = """
katharina kathrin katrin katja kathi anke anja heike silke antje ulrike ute birgit petra sabine
susanne claudia andrea monika renate ingrid gisela jürgen klaus uwe jörg holger torsten thorsten
stefan matthias andreas michael wolfgang dieter günter hans heinz manfred bernd ralf jens sven lars
hélène anouk amélie céline chloé élodie émilie françoise geneviève isabelle jacqueline juliette
margaux mathilde aurélie benoît cédric étienne fabien françois frédéric gaëlle gérard guillaume
jérôme laurent léa loïc luc mathieu nicolas olivier pascal philippe pierre rené sébastien sylvie
thierry véronique yves maría josé josefa ángel begoña concepción cristina elena inés iñaki javier
joaquín jorge josefina lucía luis manuel mercedes montserrat nuria pablo pilar raquel rocío rubén
sergio sofía álvaro agnieszka andrzej barbara beata bożena dorota elżbieta ewa grażyna grzegorz
halina jacek jadwiga jan janusz jerzy joanna jolanta katarzyna krystyna krzysztof łukasz maciej
magdalena małgorzata marcin marek mariusz michał paweł piotr rafał stanisław teresa tomasz urszula
wojciech zbigniew zofia angharad aled alun bethan branwen bronwen carys catrin cerys dafydd dewi
dilys eirlys eleri elin eluned emrys ffion geraint gethin glenys gruffydd gwen gwyneth heledd huw
hywel iestyn ieuan iwan llinos llŷr lowri mair meinir meleri mererid meurig myfanwy nerys nia
owain rhian rhiannon rhodri rhys sioned siân tegwen tomos ahmed fatima khadija leila mohammed
muhammad nadia omar rashid salma sara yasmin youssef yusuf"""
"""First names of the pack's languages that are rare elsewhere. From memory."""

_OF_FIRMS_WORDS = """
friends choir philharmonic symphony ensemble quartet society association foundation ltd limited plc
inc llc gmbh ag ev e.v kg verein chor philharmoniker stiftung gesellschaft orchester sarl sa
orchestre
chœur société fondation association orquesta coro sociedad fundación asociación orkiestra chór
fundacja
stowarzyszenie filharmonia cerddorfa côr cymdeithas university school college hall theatre church
hotel
events concert concerts konzert konzerte festival players singers opera philharmonie brass
universität schule theater université école théâtre universidad escuela teatro szkoła
teatr"""
"""What orchestras, firms and houses are called, beside a name of their own."""

_ABOUT_CUPS, _OF_SENTENCES, _OF_LOOKS, _FIRST_NAMES, _OF_FIRMS, _DEVICE, _OF_FILES = (
    frozenset(words.casefold().split())
    for words in (
        _ABOUT_CUPS_WORDS,
        _OF_SENTENCES_WORDS,
        _OF_LOOKS_WORDS,
        _FIRST_NAMES_WORDS,
        _OF_FIRMS_WORDS,
        _DEVICE_WORDS,
        _OF_FILES_WORDS,
    )
)

_SENT_FROM = re.compile(
    r"(?:sent (?:from|via|with)|get outlook for|gesendet (?:von|mit)|von meine[mr]|"
    r"envoyé (?:de|depuis|à partir de)|enviado (?:desde|de)|wysłan[eoy]? z|anfonwyd (?:o|oddi ar)|"
    r"أُ?رسلت من|مُ?رسل من|تم الإرسال من)\b(.{0,60})"
)
_QUOTED_FROM = re.compile(
    r"(?:on|am|le|el|w dniu|dnia|ar|في)\b(?=.{0,80}(?:\d{4}|\d:\d\d)).{3,200}"
    r"\b(?:wrote|schrieb\b.{0,80}|a écrit|escribió|"
    r"pisze|napisał|napisała|napisał\(a\)|ysgrifennodd\b.{0,80}|كتب|كتبت)\s*:"
)
_SENDER = re.compile(r"(?<=\d:\d\d),? [^,;.:!?<>]{1,50} <[^<>\s]+@[^<>\s]+>(?= [^\d<>]{3,16}:$)")
"""Who is quoted, between the time and the verb: a workshop's own name may speak of cups."""
_ORIGINAL = re.compile(
    r"-*\s*(?:original message|forwarded message|begin forwarded message|ursprüngliche nachricht|"
    r"weitergeleitete nachricht|message d.origine|message transféré|mensaje original|"
    r"mensaje reenviado|wiadomość oryginalna|neges wreiddiol|الرسالة الأصلية)\s*:?\s*-*"
)
_HEADER = re.compile(
    r"(?:from|sent|to|cc|date|von|gesendet|an|datum|de|envoyé|à|enviado|para|fecha|od|wysłano|do|"
    r"data|oddi wrth|anfonwyd|at|dyddiad|من|إلى|تاريخ|التاريخ)\s*:.{1,200}"
    r"|(?:subject|betreff|objet|asunto|temat|pwnc|الموضوع)\s*:\s*(?:re|aw|sv|tr|odp|rv|رد)\s*:.{1,200}"
)
_BY_PHONE = (
    r"(?:(?:t|m|tel|phone|mobile|mob|cell|telefon|handy|mobil|tél|téléphone|portable|teléfono|móvil|kom"
    r"|ffôn|symudol|هاتف|جوال)\b[\s.:]*[+(]?(?=(?:\D*\d){6})[\d\s()/.-]{6,25}"
    r"|(?:\+|\(?0)(?=(?:\D*\d){6})(?=\D*(?:\d\D+)*\d\d)[\d\s()/.-]{6,25}|\d{7,15})"
)
"""A telephone; digits alone are one only where they begin as one, or are too many for a cup's."""
_REACHED = re.compile(rf"{_BY_PHONE}|\S+@\S+\.\w+|(?:https?://|www\.)\S+")
_STREET = re.compile(
    r"\b(?:road|rd|street|lane|avenue|ave|square|terrace|gardens|rue|boulevard|bd|quai|chemin|impasse"
    r"|allée|calle|avenida|avda|plaza|paseo|ul|ulica|al|aleja|plac|stryd|heol|ffordd|lôn|شارع)\b"
    r"|\w{3}(?:straße|strasse|str|weg|platz|allee|gasse)\b"
)
_POSTCODE = re.compile(
    r"\b[a-z]{1,2}\d[a-z\d]? ?\d[a-z]{2}\b"
    r"|\b(?:(?:[a-z]{1,2}-)?\d{5}|\d\d-\d{3})(?= [^\W\d_]{3})"
)
"""Of the United Kingdom; of five digits before a town, as in Germany, France and Spain; of Poland.

From memory.
"""
_POSTS = frozenset(_POST_WORDS.split())
_POST_IN_BRACKETS = re.compile(rf"\((?:{'|'.join(sorted(_POSTS))})\)", re.IGNORECASE)
_TITLE_IN_BRACKETS = re.compile(
    r"\s*\((?:ms|mrs|mr|miss|mx|dr|frau|herr|mme|m|sra?|pani?)\.?\)$", re.IGNORECASE
)
_BESIDE_A_NAME = re.compile(
    rf"(?:[\s,(]|\b)*(?:{_BY_PHONE}|\d{{1,2}}\.\d{{1,2}}\.\d{{4}}"
    r"|\d{1,2}\.? [^\W\d_]{3,9}\.? \d{4}|\S+@\S+\.\w+)$",
    re.IGNORECASE,
)
"""A telephone, a date or an address at the end of a text, behind a name."""

_MOST_WORDS = 12
_MOST_SIGNED = 12
"""Parts of a signature that are taken for one."""

_RULE = re.compile(r"[-–—_=*#]+|~{3,}")
"""One or two tildes around words strike them out, where a program knows no other way."""

_FRIENDLY = re.compile(
    "[🙂😊😀😃😄😁☺😉🤗👍👌👏🙌🙏❤💙💚💛💜🧡🤍💐🌹🌷✨🎉🎊🥂🍾🎶🎵🎻🎺]"
    "[\ufe0f\U0001f3fb-\U0001f3ff]*|(?<!\\S)[:;]-?\\)+(?!\\S)|(?<!\\S)<3(?!\\S)"
)
_LIKE_A_CUP = 80.0
"""A name that is so like a word on a cup, in per cent, may be a correction. Own judgement."""


def is_plain_name(text: str) -> bool:
    """Whether a text is nothing but who somebody is: names, a post, how to reach them, a date.

    What is written as words are, with a small letter, is a name only where many people bear it.
    """
    if "\n" in text.strip() or len(text.split()) > _MOST_WORDS:
        return False
    named = _BESIDE_A_NAME.sub(",", _POST_IN_BRACKETS.sub(",", text))
    pieces = [piece for each in named.split(",") if (piece := each.strip())]
    return bool(pieces) and all(map(_is_name, pieces[:1])) and all(map(_is_said_of, pieces[1:]))


def is_whole_name(text: str) -> bool:
    """Whether a text is the name of one person, with a usual first name and another beside it.

    A first name alone may be meant for somebody who is there, and other words with capitals may be
    a remark.
    """
    words = [word for word in text.split() if not is_title(word)]
    return len(words) > 1 and is_plain_name(text) and any(map(_is_first_name, words))


def names(text: str, other: str) -> bool:
    """Whether a word of a text is a name out of another one, or a spelling or short form of it."""
    said = {plain(word) for word in re.findall(r"[^\W\d_]{2,}", text) if not word.islower()}
    known = {plain(word) for word in re.findall(r"[^\W\d_]{2,}", other)}
    return any(_is_of(word, name) for word in said for name in known)


def _is_of(word: str, name: str) -> bool:
    groups = GROUPS_OF.get(word, frozenset()) & GROUPS_OF.get(name, frozenset())
    return bool(groups) or _is_nearly(word, name)


def _is_said_of(piece: str) -> bool:
    return piece.casefold() in _POSTS or _is_name(piece)


def _is_name(piece: str) -> bool:
    words = piece.split()
    parts = {part for word in words for part in re.split("[-–—]", word)}
    if len(words) > 6 or _is_about_cups(parts | {*words}) or _says_of_a_name(parts):
        return False
    return all(_is_of_a_name(word, at) for at, word in enumerate(words))


def _says_of_a_name(words: Iterable[str]) -> bool:
    said = (word for word in words if word.islower() or not is_usual_first(word.casefold()))
    return not _OF_SENTENCES.isdisjoint(word.casefold().strip(".") for word in said)


def _is_of_a_name(word: str, at: int) -> bool:
    """Whether a word can stand in a name; what begins small is one that is known."""
    low = word.casefold()
    if (at and low in _OF_TWO) or is_particle(word) or is_title(word):
        return True
    is_dotted = word.endswith(".") and not re.fullmatch(r"(?:[^\W\d_]{1,2}\.-?)+", word)
    if is_dotted or not word[0].isalpha() or re.search(r"[\d;:!?()/=\"“”„]", word):
        return False
    return not word.islower() or is_usual_first(low) or (at > 0 and is_usual_last(low))


def says_more(
    lines: Iterable[str],
    known: Iterable[str],
    texts: Iterable[str] = (),
    is_all_right: bool = False,
) -> bool:
    """Whether lines around answers hold more than courtesies, signatures and heads of quotes.

    Parameters
    ----------
    known
        Who sends them, and who is asked: their names say nothing more, wherever they stand.
    texts
        What stands on the cups. A signature that is like one of them may be a correction.
    is_all_right
        Whether the answers say yes to everything: to say so again is nothing more.
    """
    rows = [" ".join(line.split()) for line in lines]
    people = _People(known, texts)
    signed = 0
    for at, row in enumerate(rows):
        if _RULE.fullmatch(row):
            signed += row == "--"  # RFC 3676, 4.3: what follows is a signature
            continue
        if _is_about_the_message(row, rows, at):
            continue
        friendly = _FRIENDLY.sub(" ", row).strip()
        pieces = [*_pieces(friendly)]
        if friendly and not pieces:
            return True  # signs alone
        may_agree = is_all_right and "؟" not in row
        is_greeted = at == 0 and len(pieces) == 1 and row.endswith(",")  # by the name alone
        for piece in pieces:
            rest = after_phrases(piece.split())
            if rest == [] or (may_agree and _approves(piece)):
                signed += 1
            elif people.are_greeted(piece):
                is_greeted = True
            elif people.are_named(piece) or (is_greeted and people.may_be_greeted(piece)):
                is_greeted = False
            elif (rest or 0 < signed <= _MOST_SIGNED) and people.sign(" ".join(rest or [piece])):
                signed += 1
            else:
                return True
    return False


def _approves(piece: str) -> bool:
    return ticks.is_all_right(piece) or are_approval(piece.strip("¡").split())


def says_all_is_right(line: str) -> bool:
    """Whether a part of a line says that everything is right."""
    return any(map(ticks.is_all_right, _pieces(" ".join(line.split()))))


_PASSED_ON = re.compile(r"(?:(?:re|aw|sv|tr|odp|rv|رد|fwd?|wg|i)\s*:\s*)*")
_OF_A_PACK = re.compile(r"(.*): [0-9a-z]{4}-[0-9a-z]{4}\b(.*)")


def is_usual_subject(subject: str, title: str) -> bool:
    """Whether a mail's subject is that of an answer, or the one that the page gives it.

    Parameters
    ----------
    title
        Of the order: the page writes it before the pack. Beside these two nothing is usual.
    """
    low = " ".join(subject.casefold().split())
    said = _PASSED_ON.sub("", low, count=1)
    known = " ".join(title.casefold().split())
    if own := _OF_A_PACK.fullmatch(said):
        return own[1] in ("", known) and not own[2]
    return not low or (said != low and (said == known or not _is_about_cups(said.split())))


def asks_in_its_name(name: str, title: str) -> bool:
    """Whether a file's name holds a word that asks for something, and that the title lacks."""
    said, known = ({*re.findall(r"[^\W\d_]+", each.casefold())} for each in (name, title))
    return _is_about_cups(said - known)


def is_usual_file_name(name: str, known: Iterable[str]) -> bool:
    """Whether a file's name holds nothing but words that are known, and what files are called."""
    said, own = (
        {*re.findall(r"[^\W\d_]{2,}", text.casefold())}
        for text in (name.rpartition(".")[0] or name, " ".join(known))
    )
    return said <= own | _OF_FILES


_SHORTENED = re.compile(
    r"(?i)\b(dr|prof|mr|mrs|ms|st|ul|al|tel|tél|str|sr|sra|fam|ing|mgr|inż|mme|mlle|dipl|[^\W\d_])\.(?=\s)"
)
"""What ends in a full stop, and no sentence with it."""


def _pieces(row: str) -> Iterator[str]:
    if _REACHED.fullmatch(row.casefold()):
        yield row
        return
    for piece in re.split(r"[.,!:;؟،]+(?:\s+|$)", _SHORTENED.sub(r"\1", row)):
        if piece := piece.strip(" -–—*_.!"):
            yield piece


def _is_about_the_message(row: str, rows: list[str], at: int) -> bool:
    low = row.casefold()
    if match := _SENT_FROM.fullmatch(low):
        return all(map(_is_of_a_device, match[1].strip(" .").split()))
    if _is_about_cups(_SENDER.sub(" ", low).split()):
        return False
    if _QUOTED_FROM.fullmatch(low) or _ORIGINAL.fullmatch(low):
        return True
    near = [_HEADER.fullmatch(each.casefold()) for each in rows[max(0, at - 3) : at + 4]]
    return bool(_HEADER.fullmatch(low)) and sum(map(bool, near)) >= 3


def _is_of_a_device(said: str) -> bool:
    word = said.replace("’", "'")
    return word in _DEVICE or re.fullmatch(r"[a-z]{0,2}\d{1,3}[a-z]{0,5}", word) is not None


def _is_about_cups(words: Iterable[str]) -> bool:
    return any(word.casefold().strip(".,;:!?'’\"") in _ABOUT_CUPS for word in words)


class _People:
    """Who may sign or be greeted in a message, of the people known and the words on the cups."""

    def __init__(self, known: Iterable[str], texts: Iterable[str]) -> None:
        names = [re.findall(r"[^\W\d_]+(?:['’-][^\W\d_]+)*", name) for name in known]
        self._known = {bare(word) for words in names for word in words}
        self._initials = {part for words in names for part in _initials(words)}
        self._on_cups = {
            word for text in texts for word in text.casefold().split() if not self._knows(word)
        } - _JOINING

    def are_named(self, text: str) -> bool:
        """Whether a text is the name of people who are known, a part of it, or its initials."""
        is_of_initials = re.sub(r"[\s.]", "", text).casefold() in self._initials
        return is_of_initials or all(map(self._knows, text.split()))

    def are_greeted(self, piece: str) -> bool:
        """Whether a text greets somebody, with thanks or wishes at its end, or none."""
        words = piece.split()
        named = after_greeting(words)
        if named is None:
            return any(map(_is_saluted, words)) and after_addressed(words) == []
        rest = named
        while (later := self._after_one(rest)) is not None:
            rest = later[1:] if len(later) > 1 and later[0].casefold() in _OF_TWO else later
        return not rest or after_phrases(rest) == []

    def _after_one(self, named: Sequence[str]) -> Sequence[str] | None:
        """Return what follows a name, a title or words for all; None where none of them begins."""
        rest = after_addressed(named)
        return named[1:] if rest is None and named and self._is_name(named[0]) else rest

    def may_be_greeted(self, piece: str) -> bool:
        """Whether a text is a first name, and none that may stand on a cup."""
        return piece[0].isupper() and is_usual_first(piece.casefold()) and not self._corrects(piece)

    def sign(self, piece: str) -> bool:
        """Whether a text tells who writes or how to reach them: a name, a firm, a street, a town.

        In scripts without capitals any word can look so: there it is a name that is known.
        """
        piece = _TITLE_IN_BRACKETS.sub("", piece)
        if _REACHED.fullmatch(piece.casefold()):
            return not _is_about_cups(re.findall(r"[^\W\d_]+", piece.rpartition(".")[0]))
        if self.are_named(piece):
            return True
        words = piece.split()
        if len(words) > 6 or _is_about_cups(words) or not _is_place_if_any(piece):
            return False
        new = [word for word in words if not self._knows(word)]
        if not _OF_SENTENCES.isdisjoint(map(str.casefold, new)) or _tells_a_role(words):
            return False
        if _tells_a_look(new) or self._corrects(piece):
            return False
        is_written_so = all(
            is_title(word) or is_particle(word) or _begins_large(word) or _is_street(word)
            for word in new
        )
        is_somebody = self._tells_who(words) or _has_place(piece)
        begins = words[0][0].isupper() or words[0][0].isdigit() or _is_street(words[0])
        return is_written_so and is_somebody and (begins or self._knows(words[0]))

    def _tells_who(self, words: Sequence[str]) -> bool:
        """Whether one of several words is a usual first name, of a name that is known, or a firm's.

        Capitals alone make no name: ``Cancelled`` has one as well.
        """
        return any(
            self._knows(word)
            or self._is_short(word)
            or (_is_first_name(word) and word.casefold() not in _OF_LOOKS)
            or word.casefold().strip(".") in _POSTS | _OF_FIRMS
            or (len(words) > 1 and (is_title(word) or re.fullmatch(r"[^\W\d_]\.?", word)))
            for word in words
            if not word.islower()
        )

    def _is_short(self, word: str) -> bool:
        """Whether a word is short for a name: Kathi for Katharina, KR for somebody called Roth.

        A single letter may be anybody's, but for the cross of what is wrong.
        """
        low = bare(word)
        if word.isupper() and len(word) <= 3:
            is_last = any(name.startswith(low[-1]) for name in self._known)
            return word != "X" if len(word) == 1 else is_last
        return len(low) > 3 and any(name.startswith(low[:3]) for name in self._known)

    def _knows(self, word: str) -> bool:
        return bare(word.strip(".")) in self._known

    def _is_name(self, word: str) -> bool:
        if self._knows(word) or (is_title(word) and word[0].isupper()):
            return True
        if self._corrects(word):
            return False
        low = {word.casefold()}
        is_word = _is_about_cups(low) or not (_OF_SENTENCES | _OF_LOOKS).isdisjoint(low)
        return (
            re.fullmatch(r"[^\W\d_][^\W\d_’'.-]*", word) is not None
            and word[0].isupper()
            and not is_word
        )

    def _corrects(self, piece: str) -> bool:
        """Whether a text may tell how one on a cup is spelled."""
        new = [word.casefold() for word in piece.split() if not self._knows(word)]
        named = [word for word in new if not is_title(word)]
        if len(named) == 1 and any(_is_nearly(named[0], known) for known in self._on_cups):
            return True
        return any(alike(word, known) >= _LIKE_A_CUP for word in new for known in self._on_cups)


def _initials(words: Sequence[str]) -> set[str]:
    """Return the first letter of a name and those of all its words, in a script with capitals."""
    first = "".join(word[0] for word in words if not is_title(word)).casefold()
    return {first[0], first} if first and first.upper() != first else set()


def _is_first_name(word: str) -> bool:
    low = word.casefold()
    return is_usual_first(low) or not _FIRST_NAMES.isdisjoint(low.split("-"))


def _is_saluted(word: str) -> bool:
    return is_title(word) or word.casefold() in ("mesdames", "messieurs", "ladies", "gentlemen")


def _is_street(word: str) -> bool:
    return _STREET.fullmatch(word.casefold().rstrip(".")) is not None


def _has_place(piece: str) -> bool:
    """Whether a text holds a postcode, or a street that has a number or ends it."""
    low = piece.casefold()
    street = _STREET.search(low)
    is_in_street = street is not None and (street.end() == len(low) or any(map(str.isdigit, low)))
    return _POSTCODE.search(low) is not None or is_in_street


def _is_place_if_any(piece: str) -> bool:
    """Whether a text's numbers, if it has any, are those of an address."""
    low = piece.casefold()
    without = _POSTCODE.sub("", low)
    numbers = [word for word in without.split() if any(map(str.isdigit, word))]
    is_house = len(numbers) <= 1 and all(re.fullmatch(r"\d{1,4}[a-z]?", each) for each in numbers)
    return not numbers or (is_house and _STREET.search(without) is not None)


def _tells_a_look(words: Iterable[str]) -> bool:
    """Whether words tell how a cup looks, and no usual first name stands with them."""
    low = [word.casefold() for word in words]
    return not _OF_LOOKS.isdisjoint(low) and not any(
        is_usual_first(word) for word in low if word not in _OF_LOOKS
    )


def _tells_a_role(words: Iterable[str]) -> bool:
    """Whether words are instruments and nothing more: what a cup should say, perhaps."""
    low = [word.casefold() for word in words]
    return all(is_played(word) and not is_usual_first(word) for word in low)


def _is_nearly(word: str, known: str) -> bool:
    """Whether two words are a letter apart, or two where both are long."""
    most = 2 if min(len(word), len(known)) > 4 else 1
    return min(len(word), len(known)) > 1 and Levenshtein.distance(word, known) <= most


def _begins_large(word: str) -> bool:
    is_number = re.fullmatch(r"\d[\w/-]{0,7}", word) is not None
    return word[0].isupper() or is_number or word in _JOINING
