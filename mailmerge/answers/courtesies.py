"""What people write around an answer that says nothing about it: greetings, thanks, signatures.

The lists are short on purpose. What they do not know is asked about; a question costs a minute.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

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
please find our answers below|my answers|our answers|see below|they are below
vielen dank|danke|danke schön|herzlichen dank|hier sind unsere antworten|hier sind meine antworten
anbei unsere antworten|anbei meine antworten|unsere antworten|meine antworten
merci|merci beaucoup|un grand merci|voici nos réponses|voici mes réponses|nos réponses|mes réponses
gracias|muchas gracias|aquí están nuestras respuestas|aquí están mis respuestas
dziękuję|dziękujemy|dzięki|oto nasze odpowiedzi|oto moje odpowiedzi
diolch|diolch yn fawr|dyma ein hatebion|dyma fy atebion
شكرا|شكراً|شكرا جزيلا|شكراً جزيلاً|هذه إجاباتنا|هذه إجاباتي"""

_CLOSINGS = """
best|best wishes|best regards|kind regards|regards|warm regards|warmly|cheers|yours|sincerely
yours sincerely|yours faithfully|all the best|with best wishes|with kind regards|bye
mit freundlichen grüßen|mit freundlichem gruß|viele grüße|liebe grüße|beste grüße|herzliche grüße
freundliche grüße|schöne grüße|gruß|grüße|lg|vg|mfg
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

_GREETED = frozenset(_GREETED_WORDS.casefold().split())

_SENT_FROM = re.compile(
    r"(?:sent from|get outlook for|gesendet von|von meinem|envoyé de|enviado desde|wysłano z|"
    r"anfonwyd o|أرسلت من|مرسل من)\b.{0,40}"
)
_QUOTED_FROM = re.compile(
    r"(?:on|am|le|el|w dniu|dnia|ar|في)\b.{3,200}\b(?:wrote|schrieb\b.{0,80}|a écrit|escribió|"
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
_MOST_SIGNED = 8
"""Lines of a signature that are taken for one."""


def _set_of(text: str) -> frozenset[str]:
    phrases = (phrase for row in text.split("\n") for phrase in row.split("|"))
    return frozenset(phrase.casefold() for phrase in phrases if phrase)


_GREETING, _PHRASE, _CLOSING = map(_set_of, (_GREETINGS, _PHRASES, _CLOSINGS))


def is_plain_name(text: str) -> bool:
    """Whether a text can be nothing but people's names: few words, no figures, no sentence."""
    words = text.split()
    if not 0 < len(words) <= 6 or re.search(r"[\d,;:!?()/=\"“”„]|\.$|\.\s\S{3,}\s\S+\s\S", text):
        return False
    if len(words) <= 3 and all(each[0].isalpha() for each in words):
        return True
    return all(each[0].isalpha() and (not each.islower() or len(each) <= 3) for each in words)


def says_more(lines: Iterable[str], said_by: str) -> bool:
    """Whether lines around answers hold more than courtesies, signatures and heads of quotes.

    Parameters
    ----------
    said_by
        Who sends them: that name says nothing more, wherever it stands.
    """
    rows = [" ".join(line.split()) for line in lines]
    is_signed = False
    for at, row in enumerate(rows):
        if re.fullmatch(r"[-–—_]{2,}", row):
            if row == "--":  # RFC 3676, 4.3: what follows is a signature
                return len(rows) - at - 1 > _MOST_SIGNED
            continue
        if _is_about_the_message(row, rows, at):
            continue
        for piece in _pieces(row):
            if piece.casefold() in _CLOSING:
                is_signed = True
            elif not (_is_courtesy(piece, said_by) or (is_signed and _signs(piece))):
                return True
    return False


def _pieces(row: str) -> Iterator[str]:
    if _REACHED.fullmatch(row.casefold()):
        yield row
        return
    for piece in re.split(r"[.,!:;؟،]+(?:\s+|$)", row):
        if piece := piece.strip(" -–—*_.!"):
            yield piece


def _is_about_the_message(row: str, rows: list[str], at: int) -> bool:
    low = row.casefold()
    if _QUOTED_FROM.fullmatch(low) or _ORIGINAL.fullmatch(low) or _SENT_FROM.fullmatch(low):
        return True
    near = [_HEADER.fullmatch(each.casefold()) for each in rows[max(0, at - 3) : at + 4]]
    return bool(_HEADER.fullmatch(low)) and sum(map(bool, near)) >= 3


def _is_courtesy(piece: str, said_by: str) -> bool:
    low = piece.casefold()
    if low in _PHRASE or low == said_by.casefold() or not any(c.isalnum() for c in piece):
        return True
    words = piece.split()
    for length in (3, 2, 1):
        if " ".join(words[:length]).casefold() in _GREETING:
            return len(words) - length <= 4 and all(map(_is_greeted, words[length:]))
    return False


def _is_greeted(word: str) -> bool:
    return word.casefold().strip(".") in _GREETED or (word.isalpha() and not word.islower())


def _signs(piece: str) -> bool:
    is_name = len(piece.split()) <= 4 and all(map(_is_greeted, piece.replace(".", "").split()))
    return is_name or _REACHED.fullmatch(piece.casefold()) is not None
