"""What people write around an answer that says nothing about it: greetings, thanks, signatures.

The lists are short on purpose. What they do not know is asked about; a question costs a minute.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from rapidfuzz.distance import Levenshtein

from mailmerge.answers import ticks
from mailmerge.guests.exchanged import is_usual_first, is_usual_last
from mailmerge.guests.names import is_particle, is_title
from mailmerge.guests.roles import is_played
from mailmerge.ledger.matching import alike

_GREETINGS = """
hi|hello|hey|dear|good morning|good afternoon|good evening|good day
hallo|guten tag|guten morgen|guten abend|liebe|lieber|liebes|sehr geehrte|sehr geehrter|moin|servus
bonjour|bonsoir|salut|cher|chère|chers|chères
hola|buenos días|buenas tardes|buenas noches|estimado|estimada|estimados|querido|querida
dzień dobry|dobry wieczór|cześć|witam|szanowna|szanowny|szanowni|droga|drogi
helo|annwyl|bore da|prynhawn da|noswaith dda
مرحبا|مرحباً|أهلا|أهلاً|السلام عليكم|صباح الخير|مساء الخير|عزيزي|عزيزتي|السيد|السيدة"""
"""A name, a title or a word of :data:`_GREETED` may follow."""

_PHRASES = """
thanks|thank you|thank you very much|thanks a lot|many thanks|thanks again|thank you so much
here they are|here you are|here are my answers|here are our answers|please find my answers below
please find attached|see attached|please see attached|attached|here you go|find attached
please find our answers below|many thanks for everything|have a nice day|have a nice weekend
have a good weekend|have a lovely weekend|thank you very much and have a nice weekend
schönes wochenende|ein schönes wochenende|anbei|anbei die antworten|bon week-end
my answers|our answers|see below|they are below|here is the list
vielen dank|danke|danke schön|herzlichen dank|hier sind unsere antworten|hier sind meine antworten
anbei unsere antworten|anbei meine antworten|anbei die liste|unsere antworten|meine antworten
merci|merci beaucoup|un grand merci|voici nos réponses|voici mes réponses|nos réponses|mes réponses
gracias|muchas gracias|aquí están nuestras respuestas|aquí están mis respuestas
dziękuję|dziękujemy|dzięki|oto nasze odpowiedzi|oto moje odpowiedzi
diolch|diolch yn fawr|dyma ein hatebion|dyma fy atebion
شكرا|شكراً|شكرا جزيلا|شكراً جزيلاً|هذه إجاباتنا|هذه إجاباتي"""

_CLOSINGS = """
best|best wishes|best regards|kind regards|regards|warm regards|warmly|cheers|yours|sincerely
yours sincerely|yours faithfully|all the best|with best wishes|with kind regards|bye
mit freundlichen grüßen|mit freundlichem gruß|viele grüße|liebe grüße|beste grüße|herzliche grüße
freundliche grüße|schöne grüße|gruß|grüße|lg|vg|mfg|xx
cordialement|bien cordialement|bien à vous|à bientôt|amicalement|sincères salutations
saludos|un saludo|saludos cordiales|atentamente|un abrazo|cordialmente
pozdrawiam|pozdrawiamy|pozdrowienia|z poważaniem|serdecznie pozdrawiam
cofion|cofion gorau|cofion cynnes|yn gywir|dymuniadau gorau|hwyl
مع التحية|مع خالص التحية|تحياتي|أطيب التحيات|مع أطيب التحيات|وتفضلوا بقبول فائق الاحترام"""
"""The name of whoever writes, and how to reach them, may follow."""

_GREETED_WORDS = """
all team everyone everybody there and both ms mr mrs dr
zusammen alle und damen herren frau herr
tous toutes et madame monsieur
todos todas y señora señor
wszystkim i pani pan państwo
pawb a syr
وبركاته ورحمة الله بكم جميعا جميعاً"""

_ABOUT_CUPS_WORDS = """
no not none don't do never stop wait hold wrong error mistake cancel change instead cup cups item
items mug without missing except only but spelled spelt smaller larger leave out remove delete
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
orchestra conductor president organiser organizer committee client
sekretariat sekretärin sekretär büro vorstand leitung assistenz secrétaire secrétariat bureau
secretaria secretario oficina sekretarz sekretarka biuro ysgrifennydd swyddfa"""
"""What people write of themselves behind their name."""

_GREETED, _ABOUT_CUPS, _OF_SENTENCES, _DEVICE, _OF_FILES = (
    frozenset(words.casefold().split())
    for words in (
        _GREETED_WORDS,
        _ABOUT_CUPS_WORDS,
        _OF_SENTENCES_WORDS,
        _DEVICE_WORDS,
        _OF_FILES_WORDS,
    )
)

_SENT_FROM = re.compile(
    r"(?:sent from|get outlook for|gesendet (?:von|mit)|von meinem|envoyé (?:de|à partir de)|"
    r"enviado (?:desde|de)|wysłane? z|anfonwyd o|أُ?رسلت من|مُ?رسل من)\b(.{0,60})"
)
_QUOTED_FROM = re.compile(
    r"(?:on|am|le|el|w dniu|dnia|ar|في)\b(?=.{0,80}(?:\d{4}|\d:\d\d)).{3,200}"
    r"\b(?:wrote|schrieb\b.{0,80}|a écrit|escribió|"
    r"pisze|napisał|napisała|napisał\(a\)|ysgrifennodd\b.{0,80}|كتب|كتبت)\s*:"
)
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
_REACHED = re.compile(
    r"[+(]?[\d\s()/.-]{6,25}"  # a telephone
    r"|\S+@\S+\.\w+"
    r"|(?:https?://|www\.)\S+"
    r"|(?:tel|phone|mobile|mob|telefon|handy|tél|teléfono|ffôn|هاتف)\b[\s.:]*[+(]?[\d\s()/.-]{6,25}"
)
_POSTS = frozenset(_POST_WORDS.split())
_POST_IN_BRACKETS = re.compile(rf"\((?:{'|'.join(sorted(_POSTS))})\)", re.IGNORECASE)
_BESIDE_A_NAME = re.compile(
    r"(?:[\s,(]|\b)*(?:(?:tel|phone|mobile|mob|telefon|handy|tél|teléfono|ffôn)\b[\s.:]*)?"
    r"(?:[+(]?(?=(?:\D*\d){6})[\d\s()/.-]{6,25}|\d{1,2}\.? [^\W\d_]{3,9}\.? \d{4}|\S+@\S+\.\w+)$",
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


def _set_of(text: str) -> frozenset[str]:
    phrases = (phrase for row in text.split("\n") for phrase in row.split("|"))
    return frozenset(phrase.casefold() for phrase in phrases if phrase)


_GREETING, _PHRASE, _CLOSING = map(_set_of, (_GREETINGS, _PHRASES, _CLOSINGS))


def is_plain_name(text: str) -> bool:
    """Whether a text is nothing but who somebody is: names, a post, how to reach them, a date.

    What is written as words are, with a small letter, is a name only where many people bear it.
    """
    if "\n" in text.strip() or len(text.split()) > _MOST_WORDS:
        return False
    named = _BESIDE_A_NAME.sub(",", _POST_IN_BRACKETS.sub(",", text))
    pieces = [piece for each in named.split(",") if (piece := each.strip())]
    return bool(pieces) and all(map(_is_name, pieces[:1])) and all(map(_is_said_of, pieces[1:]))


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
    lines: Iterable[str], said_by: str, texts: Iterable[str] = (), is_all_right: bool = False
) -> bool:
    """Whether lines around answers hold more than courtesies, signatures and heads of quotes.

    Parameters
    ----------
    said_by
        Who sends them: that name says nothing more, wherever it stands.
    texts
        What stands on the cups. A signature that is like one of them may be a correction.
    is_all_right
        Whether the answers say yes to everything: to say so again is nothing more.
    """
    rows = [" ".join(line.split()) for line in lines]
    own = frozenset(said_by.casefold().split())
    on_cups = {word for text in texts for word in text.casefold().split()} - own - _JOINING
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
        for piece in pieces:
            if piece.casefold() in _CLOSING | _PHRASE or (may_agree and ticks.is_all_right(piece)):
                signed += 1
            elif _is_of(piece, own) or _is_greeting(piece):
                continue
            elif not signed or signed > _MOST_SIGNED or not _signs(piece, own, on_cups):
                return True
            else:
                signed += 1
    return False


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


def _pieces(row: str) -> Iterator[str]:
    if _REACHED.fullmatch(row.casefold()):
        yield row
        return
    for piece in re.split(r"[.,!:;؟،]+(?:\s+|$)", row):
        if piece := piece.strip(" -–—*_.!"):
            yield piece


def _is_about_the_message(row: str, rows: list[str], at: int) -> bool:
    low = row.casefold()
    if match := _SENT_FROM.fullmatch(low):
        return all(map(_is_of_a_device, match[1].strip(" .").split()))
    if _is_about_cups(low.split()):
        return False
    if _QUOTED_FROM.fullmatch(low) or _ORIGINAL.fullmatch(low):
        return True
    near = [_HEADER.fullmatch(each.casefold()) for each in rows[max(0, at - 3) : at + 4]]
    return bool(_HEADER.fullmatch(low)) and sum(map(bool, near)) >= 3


def _is_of_a_device(word: str) -> bool:
    return word in _DEVICE or re.fullmatch(r"[a-z]{0,2}\d{1,3}[a-z]{0,5}", word) is not None


def _is_of(piece: str, own: frozenset[str]) -> bool:
    """Whether a text is the giver's name, or a part of it."""
    return own.issuperset(piece.casefold().split())


def _is_about_cups(words: Iterable[str]) -> bool:
    return any(word.casefold().strip(".,;:!?'’\"") in _ABOUT_CUPS for word in words)


def _is_greeting(piece: str) -> bool:
    words = piece.split()
    for length in (3, 2, 1):
        if " ".join(words[:length]).casefold() in _GREETING:
            named = words[length:]
            return len(named) <= 4 and all(map(_is_greeted, named)) and not _is_about_cups(named)
    return False


def _is_greeted(word: str) -> bool:
    return word.casefold().strip(".") in _GREETED or (word.isalpha() and not word.islower())


def _signs(piece: str, own: frozenset[str], on_cups: Iterable[str]) -> bool:
    """Whether a text tells who writes or how to reach them: a name, a firm, a street, a town."""
    if _REACHED.fullmatch(piece.casefold()):
        return True
    words = piece.split()
    if len(words) > 5 or _is_about_cups(words) or all(w[0].isdigit() for w in words):
        return False
    new = [word.casefold() for word in words if word.casefold() not in own]
    if not _OF_SENTENCES.isdisjoint(new) or _tells_a_role(words):
        return False
    named = [word for word in new if not is_title(word)]
    if len(named) == 1 and any(_is_nearly(named[0], known) for known in on_cups):
        return False  # a name alone may be how one on a cup is spelled
    if any(alike(word, known) >= _LIKE_A_CUP for word in new for known in on_cups):
        return False
    return all(_is_greeted(word) or _begins_large(word) for word in words)


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
